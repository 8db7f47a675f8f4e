/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "core/material/catalog.h"
#include "core/predict/settling.h"

static OgCatalog *library;

static void
set_up_library (void)
{
  g_autoptr (GError) error = NULL;

  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);
}

static double
constant (double   shear_rate_1_s,
          gpointer user_data)
{
  return *(double *) user_data;
}

/* Within half a unit of the last digit printed. */
static void
assert_rounds_to (double value,
                  double printed,
                  double unit)
{
  g_assert_cmpfloat_with_epsilon (value, printed, unit / 2 * 1.0001);
}

/*
 * Stokes' law and the rate 3v/d, worked by hand; the stress that holds a particle from Y = 0.143
 * (Beris et al. 1985, J. Fluid Mech. 158:219, recalled).
 */
static void
test_table (void)
{
  static const struct
  {
    double diameter_um, difference_kg_m3, mpa_s;
    double mm_day, mm_day_unit, rate_1_s, rate_unit, hold_pa, hold_unit;
  } rows[] = {
    { 0.5, 3200, 50, 0.75, 0.01, 0.052, 0.001, 0.0008, 0.0001 },
    { 5, 3200, 50, 75, 1, 0.52, 0.01, 0.0075, 0.0001 },
    { 20, 2000, 50, 753, 1, 1.3, 0.1, 0.019, 0.001 },
    { 20, 2000, 700, 54, 1, 0.093, 0.001, 0.019, 0.001 },
    { 50, 2000, 700, 336, 1, 0.23, 0.01, 0.047, 0.001 },
    { 50, 2000, 5000, 47, 1, 0.033, 0.001, 0.047, 0.001 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double mpa_s = rows[i].mpa_s, rate = NAN;
      double speed = og_settling_speed (rows[i].diameter_um, rows[i].difference_kg_m3, constant,
                                        &mpa_s, &rate);

      g_test_message ("row %u: %g mm/day, %g 1/s", i, speed, rate);
      assert_rounds_to (speed, rows[i].mm_day, rows[i].mm_day_unit);
      assert_rounds_to (rate, rows[i].rate_1_s, rows[i].rate_unit);
      assert_rounds_to (og_settling_hold_pa (rows[i].diameter_um, rows[i].difference_kg_m3),
                        rows[i].hold_pa, rows[i].hold_unit);
    }
}

/* --- liquids whose viscosity depends on the rate ------------------------- */

typedef struct
{
  double mpa_s;   /* at 1 1/s, or of the plastic liquid above its yield stress */
  double index;
  double yield_pa;
} Liquid;

static double
power_law (double   shear_rate_1_s,
           gpointer user_data)
{
  const Liquid *liquid = user_data;

  return liquid->mpa_s * pow (shear_rate_1_s, liquid->index - 1);
}

/* Closed form: v^n = d^2 drho g/(18 K) (d/3)^(n-1). */
static void
test_power_law (void)
{
  for (double index = 0.2; index < 1.3; index += 0.1)
    {
      Liquid liquid = { 2000, index, 0 };
      double d = 20e-6, rate = NAN;
      double v = pow (d * d * 2000 * 9.80665 / (18 * 2.0) * pow (d / 3, index - 1), 1 / index);
      double speed = og_settling_speed (20, 2000, power_law, &liquid, &rate);

      g_assert_cmpfloat_with_epsilon (speed / (v * 1000 * 86400), 1, 1e-6);
      g_assert_cmpfloat_with_epsilon (rate / (3 * v / d), 1, 1e-6);
    }
}

static double
plastic (double   shear_rate_1_s,
         gpointer user_data)
{
  const Liquid *liquid = user_data;

  return liquid->mpa_s + 1000 * liquid->yield_pa / shear_rate_1_s;
}

/*
 * The stress eta 3v/d is d drho g/6; what the yield stress leaves of it drives the plastic
 * viscosity.
 */
static void
test_plastic (void)
{
  double stress_pa = 20e-6 * 2000 * 9.80665 / 6;
  Liquid liquid = { 300, 1, stress_pa / 4 };
  double rate = NAN;
  double speed = og_settling_speed (20, 2000, plastic, &liquid, &rate);

  g_assert_cmpfloat_with_epsilon (rate / (stress_pa * 0.75 / 0.3), 1, 1e-6);
  g_assert_cmpfloat_with_epsilon (speed / (rate * 20e-6 / 3 * 1000 * 86400), 1, 1e-9);

  liquid.yield_pa = stress_pa * 1.01;
  g_assert_cmpfloat (og_settling_speed (20, 2000, plastic, &liquid, &rate), ==, 0);
  g_assert_cmpfloat (rate, ==, 0);
}

static double
unknown_between (double   shear_rate_1_s,
                 gpointer user_data)
{
  return shear_rate_1_s > 1e-3 && shear_rate_1_s < 1e3 ? NAN : 50;
}

static void
test_edges (void)
{
  double mpa_s = 50, rate = -1;

  /* What is lighter than the liquid rises as fast as it would fall if it were as much heavier. */
  g_assert_cmpfloat (og_settling_speed (20, -600, constant, &mpa_s, NULL), ==,
                     -og_settling_speed (20, 600, constant, &mpa_s, NULL));
  g_assert_cmpfloat (og_settling_hold_pa (20, -600), ==, og_settling_hold_pa (20, 600));
  g_assert_cmpfloat (og_settling_speed (20, 0, constant, &mpa_s, &rate), ==, 0);
  g_assert_cmpfloat (rate, ==, 0);

  /* Unknown is unknown. */
  g_assert_true (isnan (og_settling_speed (20, NAN, constant, &mpa_s, &rate)));
  g_assert_true (isnan (rate));
  g_assert_true (isnan (og_settling_speed (NAN, 2000, constant, &mpa_s, NULL)));
  g_assert_true (isnan (og_settling_speed (20, 2000, unknown_between, NULL, NULL)));
  mpa_s = NAN;
  g_assert_true (isnan (og_settling_speed (20, 2000, constant, &mpa_s, NULL)));
  mpa_s = 0;
  g_assert_true (isnan (og_settling_speed (20, 2000, constant, &mpa_s, NULL)));
  g_assert_true (isnan (og_settling_hold_pa (20, NAN)));
}

/* --- recipes ------------------------------------------------------------- */

static GPtrArray *
contents_of (const char *const *ids)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "", NAN, G_MAXUINT);

  for (guint i = 0; ids[i] != NULL; i++)
    og_formula_add_line (formula, phase, ids[i], 10000, G_MAXUINT);
  return og_formula_contents (formula, library);
}

static const OgIngredient *
first_of_kind (OgKind kind)
{
  for (guint i = 0; i < og_catalog_get_n_items (library); i++)
    {
      const OgIngredient *item = og_catalog_get_item (library, i);

      if (item->kind == kind && !isnan (og_ingredient_density (item, 25)))
        return item;
    }
  return NULL;
}

static void
test_recipe (void)
{
  const OgIngredient *pearl = first_of_kind (OG_KIND_PEARL);
  const char *ids[] = {
    "castor-oil", "red-iron-oxide-in-castor-oil", "no-such-material", pearl->id, NULL
  };
  g_autoptr (GPtrArray) contents = contents_of (ids);
  double mpa_s = 50;
  g_autoptr (GArray) list = og_settling_list (contents, 0.96, 0, constant, &mpa_s);
  const OgSettling *fast, *slow;

  /* The colour of the dispersion and the pearl; oils and unknown materials do not settle. */
  g_assert_cmpuint (list->len, ==, 2);
  fast = &g_array_index (list, OgSettling, 0);
  slow = &g_array_index (list, OgSettling, 1);
  g_assert_true (fast->ingredient == pearl);
  g_assert_cmpstr (slow->ingredient->id, ==, "red-iron-oxide");
  g_assert_cmpfloat (fast->diameter_um, ==, og_settling_diameter (OG_KIND_PEARL));
  g_assert_cmpfloat (fast->fraction, ==, 0.01);
  g_assert_cmpfloat_with_epsilon (slow->density_difference_kg_m3,
                                  (og_ingredient_density (slow->ingredient, 25) - 0.96) * 1000,
                                  1e-6);
  g_assert_cmpfloat (fast->speed_mm_day, ==,
                     og_settling_speed (fast->diameter_um, fast->density_difference_kg_m3, constant,
                                        &mpa_s, NULL));
  g_assert_cmpfloat (fast->speed_mm_day, >, slow->speed_mm_day);
  g_assert_false (fast->held);
  g_assert_false (slow->held);
}

/* Five times the stress that holds a resting particle: common practice, no source. */
static void
test_held (void)
{
  const char *ids[] = { first_of_kind (OG_KIND_PEARL)->id, NULL };
  g_autoptr (GPtrArray) contents = contents_of (ids);
  double mpa_s = 50, hold_pa = 0;
  static const struct { double times; gboolean held; } cases[] = {
    { 0, FALSE }, { 1, FALSE }, { 4.99, FALSE }, { 5.01, TRUE }, { 100, TRUE }, { NAN, FALSE }
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GArray) list = og_settling_list (contents, 0.96, cases[i].times * hold_pa,
                                                  constant, &mpa_s);

      g_assert_cmpint (g_array_index (list, OgSettling, 0).held, ==, cases[i].held);
      hold_pa = g_array_index (list, OgSettling, 0).hold_pa;
    }
}

static void
test_unknown_density (void)
{
  const char *ids[] = { first_of_kind (OG_KIND_PEARL)->id, "red-iron-oxide", NULL };
  g_autoptr (GPtrArray) contents = contents_of (ids);
  double mpa_s = 50;
  g_autoptr (GArray) list = og_settling_list (contents, NAN, 10, constant, &mpa_s);

  g_assert_cmpuint (list->len, ==, 2);
  for (guint i = 0; i < list->len; i++)
    {
      const OgSettling *item = &g_array_index (list, OgSettling, i);

      g_assert_true (isnan (item->speed_mm_day));
      g_assert_true (isnan (item->hold_pa));
      g_assert_false (item->held);
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  set_up_library ();
  g_test_add_func ("/settling/table", test_table);
  g_test_add_func ("/settling/power-law", test_power_law);
  g_test_add_func ("/settling/plastic", test_plastic);
  g_test_add_func ("/settling/edges", test_edges);
  g_test_add_func ("/settling/recipe", test_recipe);
  g_test_add_func ("/settling/held", test_held);
  g_test_add_func ("/settling/unknown-density", test_unknown_density);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
