/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/make/weighing.h"

G_BEGIN_DECLS

/** Key of the settings that holds the balances of the workshop. */
#define OG_BALANCES_KEY "balances"

/**
 * og_balances_load:
 * @settings: (nullable)
 *
 * Returns: (transfer full) (element-type OgBalance): those that make sense, in the order of the
 * settings
 */
GPtrArray *og_balances_load (GSettings       *settings);
/** @balances: (element-type OgBalance) */
void       og_balances_save (GSettings       *settings,
                             const GPtrArray *balances);

G_END_DECLS
