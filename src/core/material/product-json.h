/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/json-read.h"
#include "core/material/product.h"

G_BEGIN_DECLS

/**
 * og_package_read:
 * @package: (out): filled from `nominal`, `unit` ("ml" or "g"), `capacity_ml`, `applicator_ml`, each
 * of which may be left out
 *
 * Returns: %FALSE with the error of @reader
 */
gboolean    og_package_read      (const OgJsonReader  *reader,
                                  OgPackage           *package);
/** Returns: (transfer full) */
JsonObject *og_package_to_json   (const OgPackage     *package);
/** Returns: (transfer full): %NULL with the error of @reader */
OgCostLine *og_cost_line_read    (const OgJsonReader  *reader);
/** Returns: (transfer full) */
JsonObject *og_cost_line_to_json (const OgCostLine    *line);

G_END_DECLS
