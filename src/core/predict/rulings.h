/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/material/rules.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

typedef enum
{
  OG_VERDICT_WITHIN,  /* or nothing to exceed */
  OG_VERDICT_PERHAPS, /* over only if a constituent lies at the upper end of its range */
  OG_VERDICT_OVER
} OgVerdict;

/** OgRuling: one rule that concerns a recipe, and how the recipe stands to it. */
typedef struct
{
  const OgRule *rule;       /* borrowed from the catalog */
  guint         products;   /* bits 1 << OgProduct for which it holds, of those the recipe may be */
  double        amount_pct; /* wt % of the finished product, as the rule counts it */
  double        high_pct;   /* with every constituent at the upper end of its range */
  OgVerdict     verdict;
  gboolean      declared;   /* nothing of it was taken from a typical composition */
  guint         line_id;    /* the line that brings most of it; of a notice: its line */
  OgSaying     *material;   /* name of what brings it; several names joined by commas */
  double        cure_pct;   /* most of the material of @line_id, wt %, at which the rule is met; NAN: see @cure_scale */
  double        cure_scale; /* where no single line will do: factor on everything that brings it; NAN otherwise */
} OgRuling;

/**
 * og_rulings_find:
 *
 * Every rule of @catalog that concerns @formula: measured ones (limits, declarations) once, with
 * amounts added up over lines, mixtures and constituents; notices once a line. Limits that are kept
 * are among them.
 *
 * Returns: (transfer full) (element-type OgRuling): measured ones in the order of the rules, then
 * notices in the order of lines; frees its elements
 */
GPtrArray  *og_rulings_find        (const OgFormula *formula,
                                    const OgCatalog *catalog);
/** Returns: bits 1 << OgProduct that a recipe of @product may become */
guint       og_product_get_choices (OgProduct        product);
const char *og_verdict_to_nick     (OgVerdict        verdict); /* "within", "perhaps", "over" */

G_END_DECLS
