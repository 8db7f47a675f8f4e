/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/json-file.h"
#include "core/material/rules.h"

G_BEGIN_DECLS

/** Frees @rule with all it holds. */
void       og_rule_free  (OgRule            *rule);
/**
 * og_rules_read:
 * @file: a file of data/rules/SCHEMA.md
 * @own: whether it holds the rules of the reader
 *
 * Returns: (transfer full) (element-type OgRule): each id once, or %NULL with an #OgCatalogError
 */
GPtrArray *og_rules_read (const OgJsonFile  *file,
                          gboolean           own,
                          GError           **error);

G_END_DECLS
