/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/rules.h"

G_BEGIN_DECLS

/** Frees @rule with all it holds. */
void      og_rule_free            (OgRule       *rule);
/**
 * og_rules_read:
 * @root: a file of data/rules/SCHEMA.md
 *
 * Returns: (transfer full) (element-type OgRule): or %NULL with an #OgCatalogError
 */
GPtrArray *og_rules_read          (JsonNode     *root,
                                   const char   *name,
                                   gboolean      own,
                                   GError      **error);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean  og_rule_kind_from_nick  (const char   *nick,
                                   OgRuleKind   *kind);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean  og_authority_from_nick  (const char   *nick,
                                   OgAuthority  *authority);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean  og_rule_quality_from_nick (const char    *nick,
                                     OgRuleQuality *quality);

G_END_DECLS
