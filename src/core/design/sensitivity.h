/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgLever: how strongly one line moves the body at 25 C. NAN where it cannot be said. */
typedef struct
{
  guint       line_id;
  const char *ingredient_id;   /* of the line; lives with the formula */
  double      pour_ln_per_pct; /* d ln eta poured, for one wt % more of the line */
  double      rest_ln_per_pct; /* at rest */
  double      pour_pct;        /* the same as a change in % of the poured viscosity, signed */
  double      rest_pct;
  double      lot_low_pct;     /* change in % of the poured viscosity at the thin end of what 80 % of */
  double      lot_high_pct;    /* lots of the material are like, and at its thick end; NAN for powders
                                * and mixtures */
} OgLever;

/**
 * og_levers:
 * @belief: (nullable): %NULL learns from the measurements of @formula alone
 *
 * What one more wt % of each line does, taken from the balance lines (from the other ones for a
 * balance line), else from all other lines that are not held, in proportion; slopes at the recipe
 * as it stands. What lots do: all uncertain numbers of the material moved together in the most
 * telling direction, OG_HALF_BAND_SD standard deviations out.
 *
 * Returns: (transfer full) (element-type OgLever): strongest of the two effects first
 */
GArray *og_levers (const OgFormula *formula,
                   OgCatalog       *catalog,
                   OgBelief        *belief);

G_END_DECLS
