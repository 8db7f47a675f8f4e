/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Recipes for property tests: any shape a user could make, from a seeded generator. */

#include <math.h>

#include "core/recipe/formula.h"

/* Plain materials, a mixture, and an id that no catalog knows. */
static const char *const random_ids[] = {
  "castor-oil", "sunflower-oil", "polyamide-3", "tocopherol",
  "red-iron-oxide", "red-iron-oxide-in-castor-oil", "no-such-material",
};

static inline OgPpm
random_amount (GRand *rand,
               OgPpm  most)
{
  /* Often round, sometimes nothing. */
  switch (g_rand_int_range (rand, 0, 4))
    {
    case 0:
      return 0;

    case 1:
      return g_rand_int_range (rand, 0, most / OG_PPM_PER_PERCENT + 1) * OG_PPM_PER_PERCENT;

    default:
      return g_rand_int_range (rand, 0, most + 1);
    }
}

static inline void
random_line (GRand          *rand,
             OgFormula      *formula,
             OgFormulaPhase *phase,
             OgPpm           most)
{
  guint last = g_rand_int_range (rand, 0, 10) == 0 ? G_N_ELEMENTS (random_ids)
                                                   : G_N_ELEMENTS (random_ids) - 1;
  const char *id = random_ids[g_rand_int_range (rand, 0, (gint32) last)];
  OgFormulaLine *line = og_formula_add_line (formula, phase, id, random_amount (rand, most),
                                             (guint) g_rand_int_range (rand, 0, 8));

  line->held = g_rand_int_range (rand, 0, 4) == 0;
  if (g_rand_int_range (rand, 0, 4) == 0)
    line->balance_share = (guint) g_rand_int_range (rand, 1, 8);
  if (g_rand_int_range (rand, 0, 4) == 0)
    line->add_temperature_c = g_rand_int_range (rand, -1000, 4001) / 10.0;
  if (g_rand_int_range (rand, 0, 4) == 0)
    line->note = g_strdup ("stir, “slowly”\nthen wait");
}

static inline double
random_size (GRand  *rand,
             double  most)
{
  return g_rand_boolean (rand) ? NAN : g_rand_double_range (rand, 1e-3, most);
}

static inline void
random_stability (GRand     *rand,
                  OgFormula *formula)
{
  int n_results = g_rand_int_range (rand, 0, 3);

  if (g_rand_boolean (rand))
    g_date_set_julian (&formula->stability_start,
                       (guint32) g_rand_int_range (rand, 730000, 750000));
  formula->stability_months = (guint) g_rand_int_range (rand, 0, 37);
  for (int i = 0; i < n_results; i++)
    {
      GDate date;

      g_date_clear (&date, 1);
      g_date_set_julian (&date, (guint32) g_rand_int_range (rand, 730000, 750000));
      g_ptr_array_add (formula->stability_results,
                       og_stability_result_new (
                         &date, (OgStabilityTest) g_rand_int_range (rand, 0, OG_N_STABILITY_TESTS),
                         OG_READING_VISCOSITY_MPA_S, g_rand_double_range (rand, 1, 1e5),
                         g_rand_boolean (rand) ? "“thicker”" : NULL));
    }
}

static inline void
random_handover (GRand     *rand,
                 OgFormula *formula)
{
  int n_costs = g_rand_int_range (rand, 0, 4);

  formula->product = (OgProduct) g_rand_int_range (rand, 0, OG_N_PRODUCTS);
  formula->package.nominal = random_size (rand, 1e6);
  formula->package.unit = g_rand_boolean (rand) ? OG_NET_ML : OG_NET_G;
  formula->package.capacity_ml = random_size (rand, 1e6);
  formula->package.applicator_ml = random_size (rand, isnan (formula->package.capacity_ml)
                                                        ? 1e6 : formula->package.capacity_ml);
  formula->gather_scents = g_rand_boolean (rand);
  if (g_rand_boolean (rand))
    {
      g_strfreev (formula->nano);
      formula->nano = g_strsplit ("zinc-oxide titanium-dioxide", " ", -1);
    }
  random_stability (rand, formula);
  formula->open_months = (guint) g_rand_int_range (rand, 0, 37);
  for (int i = 0; i < n_costs; i++)
    g_ptr_array_add (formula->costs,
                     og_cost_line_new ("tube “small”", g_rand_double_range (rand, 0, 10), "EUR",
                                       (OgCostBasis) g_rand_int_range (rand, 0, OG_N_COST_BASES)));
}

/* @most: largest amount of a line; small values leave room for balance lines */
static inline OgFormula *
random_recipe (GRand *rand,
               OgPpm  most)
{
  OgFormula *formula = og_formula_new ();
  int n_phases = g_rand_int_range (rand, 0, 6);

  formula->batch_g = g_rand_double_range (rand, 0.001, 1e6);
  random_handover (rand, formula);
  for (int i = 0; i < n_phases; i++)
    {
      g_autofree char *name = g_strdup_printf ("Phase %d", i + 1);
      double temperature_c = g_rand_boolean (rand) ? NAN : g_rand_double_range (rand, -100, 400);
      OgFormulaPhase *phase = og_formula_add_phase (formula, name, temperature_c, G_MAXUINT);
      int n_lines = g_rand_int_range (rand, 0, 13);

      for (int j = 0; j < n_lines; j++)
        random_line (rand, formula, phase, most);
    }
  return formula;
}

static inline void
random_collect (OgFormulaPhase *phase,
                OgFormulaLine  *line,
                gpointer        user_data)
{
  g_ptr_array_add (user_data, line);
}

/* Returns: (transfer container): every line in order */
static inline GPtrArray *
lines_of (const OgFormula *formula)
{
  GPtrArray *lines = g_ptr_array_new ();

  og_formula_foreach_line (formula, random_collect, lines);
  return lines;
}
