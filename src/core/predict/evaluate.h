/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/conditions.h"
#include "core/predict/result.h"

G_BEGIN_DECLS

/** OgConditions: what to evaluate beyond the standard set; zeroed memory asks for nothing more. */
typedef struct
{
  const double *temperatures_c;
  guint         n_temperatures;
  const double *shear_rates_1_s;
  guint         n_shear_rates;
  gboolean      curves; /* fill OgResult.curves */
  struct _OgBelief *belief; /* nullable: what measurements taught; %NULL learns from those of the formula alone */
} OgConditions;

/**
 * og_evaluate:
 * @formula: any recipe, also an unfinished one
 * @catalog: materials and parameters, own materials of @formula included (see
 * og_catalog_new_overlay())
 * @conditions: (nullable)
 *
 * The one entry for all results: pure, no clock, no locale.
 *
 * Returns: (transfer full): never %NULL
 */
OgResult   *og_evaluate           (const OgFormula     *formula,
                                   OgCatalog           *catalog,
                                   const OgConditions  *conditions);

G_END_DECLS
