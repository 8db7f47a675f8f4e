/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/sensitivity.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/predict/blend.h"

#define HEADER FIXTURE_HEADER
#define N_DRAWS 20000

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  return fixture_recipe (table, catalog);
}

static const OgLever *
lever_of (const GArray *levers,
          const char   *id)
{
  for (guint i = 0; i < levers->len; i++)
    if (g_str_equal (g_array_index (levers, OgLever, i).ingredient_id, id))
      return &g_array_index (levers, OgLever, i);
  g_error ("no lever of %s", id);
}

static OgPpm *
amount_of (const OgFormula *formula,
           const char      *id)
{
  return &og_formula_find_ingredient (formula, id)->amount;
}

/* --- slopes ---------------------------------------------------------------- */

/* ln eta of the recipe with a tenth of a per cent moved from one line to another, by the full
 * evaluation. */
static double
ln_moved (const OgFormula *formula,
          const char      *to,
          const char      *from,
          OgPpm            step,
          gboolean         rest)
{
  g_autoptr (OgFormula) moved = og_formula_copy (formula);
  g_autoptr (OgResult) result = NULL;

  *amount_of (moved, to) += step;
  *amount_of (moved, from) -= step;
  result = og_evaluate (moved, catalog, NULL);
  return log (rest ? result->rest.value : result->pour.value);
}

/* Central difference of og_evaluate(), per wt %. */
static void
check_slope (const OgFormula *formula,
             const GArray    *levers,
             const char      *id,
             const char      *from)
{
  const OgLever *lever = lever_of (levers, id);

  for (int rest = 0; rest < 2; rest++)
    {
      double slope = (ln_moved (formula, id, from, 200, rest)
                      - ln_moved (formula, id, from, -200, rest)) / 0.04;
      double told = rest ? lever->rest_ln_per_pct : lever->pour_ln_per_pct;

      g_test_message ("%s: %g, by evaluation %g", id, told, slope);
      g_assert_cmpfloat (fabs (told - slope), <, 2e-3 * fmax (0.05, fabs (slope)));
    }
  assert_within (1.0 + lever->pour_pct / 100.0, exp (lever->pour_ln_per_pct), 1e-9);
}

static void
test_slopes_with_balance (void)
{
  static const char *const ids[]
      = { "castor-oil", "polyamide-3", "tocopherol", "red-iron-oxide-in-castor-oil" };
  g_autoptr (OgFormula) formula
      = recipe (HEADER "Hot,castor-oil,63.0\nHot,polyamide-3,1.5\nCool,sunflower-oil,balance\n"
                       "Colour,red-iron-oxide-in-castor-oil,0.5\nLast,tocopherol,1.0\n");
  g_autoptr (GArray) levers = og_levers (formula, catalog, NULL);

  g_assert_cmpuint (levers->len, ==, 5);
  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    check_slope (formula, levers, ids[i], "sunflower-oil");
}

/* Two lines leave no choice of what makes room. */
static void
test_slopes_without_balance (void)
{
  static const struct
  {
    const char *table;
    const char *a;
    const char *b;
  } cases[] = {
    { HEADER "A,castor-oil,40\nA,olive-oil,60\n", "castor-oil", "olive-oil" },
    { HEADER "A,castor-oil,96\nA,polyamide-3,4\n", "polyamide-3", "castor-oil" },
    { HEADER "A,olive-oil,97\nA,candelilla-wax,3\n", "candelilla-wax", "olive-oil" },
    { HEADER "A,squalane,80\nA,silica-dimethyl-silylate,20\n", "silica-dimethyl-silylate",
      "squalane" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (OgFormula) formula = recipe (cases[i].table);
      g_autoptr (GArray) levers = og_levers (formula, catalog, NULL);

      check_slope (formula, levers, cases[i].a, cases[i].b);
      check_slope (formula, levers, cases[i].b, cases[i].a);
      g_assert_cmpfloat (lever_of (levers, cases[i].a)->pour_pct, >, 0.0);
      g_assert_cmpfloat (lever_of (levers, cases[i].b)->pour_pct, <, 0.0);
    }
}

static void
test_order (void)
{
  g_autoptr (OgFormula) formula = recipe (FIXTURE_LIP_OIL);
  g_autoptr (GArray) levers = og_levers (formula, catalog, NULL);

  g_assert_cmpstr (g_array_index (levers, OgLever, 0).ingredient_id, ==, "polyamide-3");
  for (guint i = 0; i < levers->len; i++)
    {
      const OgLever *lever = &g_array_index (levers, OgLever, i);

      g_assert_true (isfinite (lever->pour_pct));
      g_assert_cmpint (isnan (lever->lot_low_pct), ==,
                       strstr (lever->ingredient_id, "iron") != NULL);
    }
}

/* One line alone has nothing to make room for it. */
static void
test_alone (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,100\n");
  g_autoptr (GArray) levers = og_levers (formula, catalog, NULL);

  g_assert_cmpuint (levers->len, ==, 1);
  g_assert_true (isnan (g_array_index (levers, OgLever, 0).pour_pct));
  g_assert_cmpfloat (g_array_index (levers, OgLever, 0).lot_high_pct, >, 0.0);
}

/* --- lots ------------------------------------------------------------------ */

/* The tenth and ninetieth per cent of draws in which this material alone varies. */
static void
draw_lots (const OgFormula *formula,
           const char      *id,
           double          *low_pct,
           double          *high_pct)
{
  g_autoptr (GPtrArray) contents = og_formula_contents (formula, catalog);
  g_autoptr (OgBlend) blend = og_blend_new (contents, og_catalog_get_parameters (catalog));
  g_autofree char *needle = g_strdup_printf ("/%s", id);
  guint n = og_blend_get_n_variables (blend);
  g_autofree double *z = g_new0 (double, n);
  g_autofree double *ln_eta = g_new (double, N_DRAWS);
  double typical = og_blend_ln_viscosity (blend, 25.0, OG_SHEAR_POUR, z);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  for (guint d = 0; d < N_DRAWS; d++)
    {
      for (guint v = 0; v < n; v++)
        if (strstr (og_blend_get_variable (blend, v), needle) != NULL)
          z[v] = gsl_ran_gaussian (rng, 1.0);
      ln_eta[d] = og_blend_ln_viscosity (blend, 25.0, OG_SHEAR_POUR, z) - typical;
    }
  gsl_rng_free (rng);
  gsl_sort (ln_eta, 1, N_DRAWS);
  *low_pct = 100.0 * expm1 (gsl_stats_quantile_from_sorted_data (ln_eta, 1, N_DRAWS, 0.1));
  *high_pct = 100.0 * expm1 (gsl_stats_quantile_from_sorted_data (ln_eta, 1, N_DRAWS, 0.9));
}

static void
test_lots (void)
{
  static const struct
  {
    const char *table;
    const char *id;
    double tolerance; /* of the ratio: the agent is not linear near its gel point */
  } cases[] = {
    { HEADER "A,castor-oil,40\nA,olive-oil,60\n", "castor-oil", 0.003 },
    { HEADER "A,castor-oil,40\nA,olive-oil,60\n", "olive-oil", 0.003 },
    { HEADER "A,jojoba-oil,70\nA,squalane,30\n", "squalane", 0.003 },
    { HEADER "A,castor-oil,98.5\nA,polyamide-3,1.5\n", "polyamide-3", 0.1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (OgFormula) formula = recipe (cases[i].table);
      g_autoptr (GArray) levers = og_levers (formula, catalog, NULL);
      const OgLever *lever = lever_of (levers, cases[i].id);
      double low_pct, high_pct;

      draw_lots (formula, cases[i].id, &low_pct, &high_pct);
      g_test_message ("%s: %g ... %g %%, by draws %g ... %g %%", cases[i].id, lever->lot_low_pct,
                      lever->lot_high_pct, low_pct, high_pct);
      assert_within (1.0 + lever->lot_low_pct / 100.0, 1.0 + low_pct / 100.0, cases[i].tolerance);
      assert_within (1.0 + lever->lot_high_pct / 100.0, 1.0 + high_pct / 100.0, cases[i].tolerance);
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/sensitivity/slopes-with-balance", test_slopes_with_balance);
  g_test_add_func ("/sensitivity/slopes-without-balance", test_slopes_without_balance);
  g_test_add_func ("/sensitivity/order", test_order);
  g_test_add_func ("/sensitivity/alone", test_alone);
  g_test_add_func ("/sensitivity/lots", test_lots);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
