/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Medians of processor time of the core's heavy jobs, one TAP point each. `meson test --benchmark` holds them to the budget; the
 * argument "smoke" allows ten times as much, for busy machines and instrumented builds.
 */

#include "config.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <string.h>
#include <time.h>

#include "common/fixture.h"
#include "core/design/draft.h"
#include "core/design/solve.h"
#include "core/design/substitution.h"
#include "core/predict/blend.h"

#define N_LINES 40
#define N_DRAWS 10000
#define N_RECIPES 1000

static OgCatalog *catalog;
static double slack = 1.0;

typedef void (*Job) (gconstpointer data);

static double
median_ms (Job           job,
           gconstpointer data,
           guint         repeats)
{
  g_autofree double *ms = g_new (double, repeats);

  job (data);
  for (guint i = 0; i < repeats; i++)
    {
      clock_t start = clock ();

      job (data);
      ms[i] = 1000.0 * (double) (clock () - start) / CLOCKS_PER_SEC;
    }
  gsl_sort (ms, 1, repeats);
  return gsl_stats_median_from_sorted_data (ms, 1, repeats);
}

static void
hold_to (const char *what,
         double      ms,
         double      budget_ms)
{
  g_test_message ("%s: %.2f ms, budget %.0f ms", what, ms, budget_ms);
  if (ms > slack * budget_ms)
    g_error ("%s took %.2f ms; the budget is %.0f ms", what, ms, budget_ms);
}

/* Forty lines: a gelling agent, a colour and many oils. */
static OgFormula *
long_recipe (void)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "All", 95.0, G_MAXUINT);
  guint n = 2;

  og_formula_add_line (formula, phase, "polyamide-3", 20000, G_MAXUINT);
  og_formula_add_line (formula, phase, "red-iron-oxide-in-castor-oil", 10000, G_MAXUINT);
  for (guint i = 0; i < og_catalog_get_n_items (catalog) && n < N_LINES; i++)
    {
      const OgIngredient *material = og_catalog_get_item (catalog, i);

      if (!og_ingredient_is_triglyceride (material))
        continue;
      og_formula_add_line (formula, phase, material->id, 20000, G_MAXUINT)->balance_share
          = ++n == N_LINES;
    }
  g_assert_cmpint (og_formula_balance (formula), ==, OG_PPM_WHOLE);
  return formula;
}

static void
evaluate_all (gconstpointer formula)
{
  OgConditions conditions = { .curves = TRUE };

  og_result_unref (og_evaluate (formula, catalog, &conditions));
}

static void
test_edit (void)
{
  g_autoptr (OgFormula) formula = long_recipe ();

  hold_to ("everything recomputed, 40 lines", median_ms (evaluate_all, formula, 21), 2.0);
}

static void
evaluate_many (gconstpointer formula)
{
  for (int i = 0; i < N_RECIPES; i++)
    og_result_unref (og_evaluate (formula, catalog, NULL));
}

static void
test_many (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);

  hold_to ("1 000 recipes evaluated", median_ms (evaluate_many, formula, 5), 1000.0);
}

static void
draw_many (gconstpointer data)
{
  g_autoptr (GPtrArray) contents = og_formula_contents (data, catalog);
  g_autoptr (OgBlend) blend = og_blend_new (contents, og_catalog_get_parameters (catalog));
  guint n = og_blend_get_n_variables (blend);
  g_autofree double *z = g_new (double, n);
  g_autofree double *ln_eta = g_new (double, N_DRAWS);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  for (guint d = 0; d < N_DRAWS; d++)
    {
      for (guint i = 0; i < n; i++)
        z[i] = gsl_ran_gaussian_ziggurat (rng, 1.0);
      ln_eta[d] = og_blend_ln_viscosity (blend, 25.0, OG_SHEAR_POUR, z);
    }
  gsl_sort (ln_eta, 1, N_DRAWS);
  gsl_rng_free (rng);
}

static void
test_draws (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);

  hold_to ("band by 10 000 draws", median_ms (draw_many, formula, 5), 100.0);
}

static void
substitute_one (gconstpointer formula)
{
  g_ptr_array_unref (og_substitute (formula, catalog, (const char *[]) { "sunflower-oil", NULL }, NULL, NULL));
}

static void
test_substitute (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);

  hold_to ("one-for-one replacements from the whole library", median_ms (substitute_one, formula, 11),
           50.0);
}

static void
solve_three (gconstpointer formula)
{
  static const char *const ids[] = { "castor-oil", "polyamide-3", "tocopherol" };
  OgSolveRange ranges[G_N_ELEMENTS (ids)];
  OgSolveRequest request = { .target = { OG_BODY_UNKNOWN, 900.0, 25.0, OG_SHEAR_POUR },
                             .ranges = ranges, .n_ranges = G_N_ELEMENTS (ids) };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    og_solve_range_init (&ranges[i], formula, ids[i], NULL);
  og_solve_report_free (og_solve (formula, catalog, &request, NULL));
}

static void
test_solve (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);

  og_formula_find_ingredient (formula, "sunflower-oil")->balance_share = 1;
  hold_to ("solved for a viscosity, three lines vary", median_ms (solve_three, formula, 21), 50.0);
}

static void
draft_one (gconstpointer data)
{
  OgBrief brief = { .product = OG_PRODUCT_LIP_APPLICATOR, .tint = TRUE, .scent = TRUE };

  og_draft_free (og_draft (&brief, catalog, NULL));
}

static void
test_draft (void)
{
  hold_to ("draft from a brief", median_ms (draft_one, NULL, 7), 100.0);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  if (argc > 1 && strcmp (argv[1], "smoke") == 0)
    slack = 10.0;
  catalog = fixture_catalog ();

  g_test_add_func ("/bench/edit", test_edit);
  g_test_add_func ("/bench/many", test_many);
  g_test_add_func ("/bench/draws", test_draws);
  g_test_add_func ("/bench/substitute", test_substitute);
  g_test_add_func ("/bench/solve", test_solve);
  g_test_add_func ("/bench/draft", test_draft);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
