/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * OgNaturalOrigin: how much of a recipe is of natural origin in the sense of ISO 16128-1:2016 and
 * -2:2017 (definitions recalled). Without water in the recipe the figures with and without it are
 * the same.
 */
typedef struct
{
  double     low_pct;     /* what is not known counted as 0, ranges at their lower end */
  double     high_pct;    /* as 1, and at their upper end */
  double     unknown_pct; /* wt % of materials without an index */
  GPtrArray *unknown_ids; /* of char*: those materials, most first */
} OgNaturalOrigin;

/**
 * og_natural_origin_sum:
 * @contents: (element-type OgContent): mixtures taken apart, see og_formula_contents()
 *
 * Content of natural origin: sum of wt % times index (figure `natural_origin_index`) of every
 * material. Shares are taken as they stand, so that an unfinished recipe stays below 100 %.
 *
 * Returns: (transfer full)
 */
OgNaturalOrigin *og_natural_origin_sum     (const GPtrArray        *contents);
/** Frees @origin with all it holds. */
void             og_natural_origin_free    (OgNaturalOrigin        *origin);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgNaturalOrigin, og_natural_origin_free)
/** Returns: (transfer full): "87.0 % (ISO 16128)", or the range */
OgSaying        *og_natural_origin_saying  (const OgNaturalOrigin  *origin);

G_END_DECLS
