/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"

G_BEGIN_DECLS

/** Returns: (transfer full): folder of the reader's own rules files, which need not exist */
char      *og_own_rules_dir (void);

/**
 * og_library_load:
 * @own_fault: (out) (optional): what is wrong with the reader's own rules; they are left out then
 *
 * The library of og_data_dir() with the reader's own rules, every `*.json` of og_own_rules_dir() in
 * name order, on top.
 *
 * Returns: (transfer full): or %NULL with an #OgCatalogError or a #GFileError
 */
OgCatalog *og_library_load  (GError **own_fault,
                             GError **error);

G_END_DECLS
