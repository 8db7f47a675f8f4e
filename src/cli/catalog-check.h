/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgCatalogCheck: how a catalog stands; the loader has refused what it cannot read before. */
typedef struct
{
  guint      n_by_kind[OG_N_KINDS];                      /* materials */
  guint      n_figures_by_quality[OG_QUALITY_RECALLED + 1]; /* figures, profiles and viscosity points */
  guint      n_rules_by_quality[OG_N_RULE_QUALITIES];    /* limits, prohibitions, declarations, notices */
  guint      n_flowing;           /* materials that are liquid or melt in the pot */
  guint      n_flowing_known;     /* of these, with a known viscosity */
  GPtrArray *findings;            /* of OgFinding, in catalog order */
} OgCatalogCheck;

/**
 * og_catalog_check:
 *
 * Looks for what contradicts itself: names that lead to another material, values that do not fit the fatty acids,
 * gelling agents without a way to gel, colours and constituents that the rules do not know, rules about materials that
 * are not there.
 *
 * Returns: (transfer full)
 */
OgCatalogCheck    *og_catalog_check       (const OgCatalog *catalog);
/** Frees @check with all that it found. */
void               og_catalog_check_free  (OgCatalogCheck  *check);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgCatalogCheck, og_catalog_check_free)
/** Returns: (transfer none): untranslated sentences, NULL-terminated: what og_catalog_check() looks at */
const char *const *og_catalog_check_scope (void);

G_END_DECLS
