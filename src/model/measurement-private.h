/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/bench.h"

G_BEGIN_DECLS

/*
 * Returns: (transfer full): @measurement called @id, exactly as a file gives it back; NULL with an
 * OgBenchError or OgStorageError if none would
 */
OgMeasurement *_og_measurement_as_filed (const OgMeasurement  *measurement,
                                         const char           *id,
                                         GError              **error);

G_END_DECLS
