/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

#include "core/material/product.h"

G_BEGIN_DECLS

/**
 * og_package_from_json:
 * @package: (out): filled from `nominal`, `unit` ("ml" or "g"), `capacity_ml`, `applicator_ml`, each
 * of which may be left out
 *
 * Returns: %FALSE with %OG_STORAGE_ERROR_VALUE; the message has neither file nor line
 */
gboolean    og_package_from_json   (JsonObject        *object,
                                    OgPackage         *package,
                                    GError           **error);
/** Returns: (transfer full) */
JsonObject *og_package_to_json     (const OgPackage   *package);
/** Returns: (transfer full): %NULL with %OG_STORAGE_ERROR_VALUE, as above */
OgCostLine *og_cost_line_from_json (JsonObject        *object,
                                    GError           **error);
/** Returns: (transfer full) */
JsonObject *og_cost_line_to_json   (const OgCostLine  *line);

G_END_DECLS
