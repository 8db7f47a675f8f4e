/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

#include "common/fixture.h"
#include "core/make/cooling.h"

#define ROUNDS 2000

static OgCatalog *catalog;

static void
capacity_of (const char     *id,
             OgHeatCapacity *capacity)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, id);

  g_assert_nonnull (ingredient);
  og_heat_capacity_init (capacity, ingredient, catalog);
}

/* --- materials ----------------------------------------------------------- */

/* Vegetable oils: 1.9 to 2.2 kJ/(kg K) between 20 and 100 °C, rising in a straight line (recalled; the
 * rise: Fasina & Colley 2008, abstract). */
static void
test_oils (void)
{
  static const char *const ids[] = { "sunflower-oil", "soybean-oil", "olive-oil", "canola-oil" };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      OgHeatCapacity capacity;

      capacity_of (ids[i], &capacity);
      g_assert_cmpfloat (og_heat_capacity_at (&capacity, 20), >=, 1.9);
      g_assert_cmpfloat (og_heat_capacity_at (&capacity, 100), <=, 2.25);
      g_assert_cmpfloat (
          og_heat_capacity_at (&capacity, 100), >, og_heat_capacity_at (&capacity, 20));
    }
}

/* Choi & Okos 1986 with its quadratic term, recalled: the line may leave it by 3 % up to 110 °C. */
static void
test_fat_line (void)
{
  OgHeatCapacity capacity;

  capacity_of ("sunflower-oil", &capacity);
  g_assert_true (capacity.by_kind);
  for (double t = 0; t <= 110; t += 10)
    assert_within (og_heat_capacity_at (&capacity, t), 1.9842 + 1.4733e-3 * t - 4.8008e-6 * t * t,
                   0.03);
}

/* Cragoe 1929 in its own units, Btu/(lb F): (0.388 + 0.00045 F)/sqrt (d); recalled. */
static void
test_petroleum (void)
{
  const OgIngredient *oil = og_catalog_get (catalog, "mineral-oil");
  double fahrenheit[] = { 77, 150, 212 };
  OgHeatCapacity capacity;

  capacity_of ("mineral-oil", &capacity);
  for (guint i = 0; i < G_N_ELEMENTS (fahrenheit); i++)
    assert_within (og_heat_capacity_at (&capacity, (fahrenheit[i] - 32) / 1.8),
                   4.1868 * (0.388 + 0.00045 * fahrenheit[i])
                     / sqrt (og_ingredient_density (oil, 15.6)),
                   0.005);
}

/* Molar heat capacities at 25 °C (CRC Handbook, recalled) over molar masses. */
static void
test_minerals (void)
{
  static const struct
  {
    const char *id;
    double      j_mol_k, g_mol;
  } minerals[] = {
    { "red-iron-oxide", 103.9, 159.69 }, { "titanium-dioxide", 55.0, 79.87 },
    { "zinc-oxide", 40.3, 81.38 },       { "talc", 321.8, 379.27 },
    { "n-hexadecane", 501.5, 226.45 },   { "squalane", 886, 422.83 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (minerals); i++)
    {
      OgHeatCapacity capacity;

      capacity_of (minerals[i].id, &capacity);
      g_assert_cmpint (capacity.quality, ==, OG_QUALITY_RECALLED);
      assert_within (og_heat_capacity_at (&capacity, 25), minerals[i].j_mol_k / minerals[i].g_mol,
                     0.01);
    }
}

/* A grind is as warm as its parts: by mass. */
static void
test_mixture (void)
{
  const OgIngredient *grind = og_catalog_get (catalog, "red-iron-oxide-in-castor-oil");
  OgHeatCapacity whole, solid, oil;
  double share = g_array_index (grind->composition, OgPart, 0).pct / 100;
  const char *first = g_array_index (grind->composition, OgPart, 0).ingredient_id;
  const char *second = g_array_index (grind->composition, OgPart, 1).ingredient_id;

  capacity_of (grind->id, &whole);
  capacity_of (first, &solid);
  capacity_of (second, &oil);
  g_assert_cmpfloat_with_epsilon (og_heat_capacity_at (&whole, 60),
                                  share * og_heat_capacity_at (&solid, 60)
                                    + (1 - share) * og_heat_capacity_at (&oil, 60),
                                  1e-12);
}

static void
test_fusion (void)
{
  double melts_c;

  /* candelilla: 129 J/g, Dassanayake et al. 2009, abstract */
  g_assert_cmpfloat (og_heat_of_fusion (og_catalog_get (catalog, "candelilla-wax"), &melts_c), ==,
                     129);
  g_assert_cmpfloat_with_epsilon (melts_c, 70, 3);
  /* known to melt, not how much heat that takes */
  g_assert_true (isnan (og_heat_of_fusion (og_catalog_get (catalog, "shea-butter"), &melts_c)));
  g_assert_cmpfloat (og_heat_of_fusion (og_catalog_get (catalog, "castor-oil"), &melts_c), ==, 0);
  g_assert_true (isnan (melts_c));
  g_assert_cmpfloat (og_heat_of_fusion (og_catalog_get (catalog, "mica"), &melts_c), ==, 0);
  g_assert_cmpfloat (og_heat_of_fusion (NULL, &melts_c), ==, 0);
}

/* --- bodies -------------------------------------------------------------- */

/* Worked: 1 kg of oil at 2.0 kJ/(kg K) gives 100 kJ between 75 and 25 °C. */
static void
test_heat (void)
{
  OgHeatCapacity oil = { 2.0, 0, OG_QUALITY_ESTIMATED, FALSE };
  g_auto (OgHeatBody) body = { 0 };

  og_heat_body_add (&body, &oil, 1000);
  g_assert_cmpfloat_with_epsilon (og_heat_body_heat (&body, 75, 25), -100e3, 1e-6);
}

/* Equal oils meet at the mean; with a rising heat capacity a little above it, where
 * c0 T + c1 T^2/2 is the mean of both. */
static void
test_equal_oils (void)
{
  OgHeatCapacity level = { 2.0, 0, OG_QUALITY_ESTIMATED, FALSE };
  OgHeatCapacity rising = { 2.0, 0.0025, OG_QUALITY_ESTIMATED, FALSE };
  g_auto (OgHeatBody) a = { 0 };
  g_auto (OgHeatBody) b = { 0 };
  double t, c0 = 2.0 - 25 * 0.0025;

  og_heat_body_add (&a, &level, 100);
  g_assert_cmpfloat_with_epsilon (og_heat_mix (&a, 95, &a, 25), 60, 1e-9);
  /* 20 g at 110 °C and 80 g at 25 °C: (20 x 110 + 80 x 25)/100 */
  og_heat_body_clear (&a);
  og_heat_body_init (&a);
  og_heat_body_add (&a, &level, 20);
  og_heat_body_add (&b, &level, 80);
  g_assert_cmpfloat_with_epsilon (og_heat_mix (&a, 110, &b, 25), 42, 1e-9);

  og_heat_body_init (&a);
  og_heat_body_add (&a, &rising, 100);
  t = og_heat_mix (&a, 100, &a, 20);
  g_assert_cmpfloat_with_epsilon (c0 * t + 0.0025 * t * t / 2,
                                  (c0 * 120 + 0.0025 * (100 * 100 + 20 * 20) / 2) / 2, 1e-9);
  g_assert_cmpfloat (t, >, 60);
  g_assert_cmpfloat (t, <, 61.5);
}

/* By hand: 100 g of oil (2 J/(g K)) at 90 °C, 10 g of wax (2 J/(g K), 200 J/g at 60 °C) at 20 °C:
 * 200 (90 - T) = 20 (T - 20) + 2000, T = 74.545...; 30 g of wax cannot all melt: 60 °C. */
static void
test_melting (void)
{
  OgHeatCapacity level = { 2.0, 0, OG_QUALITY_ESTIMATED, FALSE };
  g_auto (OgHeatBody) oil = { 0 };
  g_auto (OgHeatBody) little = { 0 };
  g_auto (OgHeatBody) much = { 0 };

  og_heat_body_add (&oil, &level, 100);
  og_heat_body_add (&little, &level, 10);
  og_heat_body_add_melt (&little, 60, 2000);
  og_heat_body_add (&much, &level, 30);
  og_heat_body_add_melt (&much, 60, 6000);
  g_assert_cmpfloat_with_epsilon (og_heat_mix (&oil, 90, &little, 20), 16400.0 / 220, 1e-9);
  g_assert_cmpfloat (og_heat_mix (&oil, 90, &much, 20), ==, 60);
}

static void
random_body (GRand      *rand,
             OgHeatBody *body)
{
  int n = g_rand_int_range (rand, 1, 5);

  for (int i = 0; i < n; i++)
    {
      OgHeatCapacity capacity = { g_rand_double_range (rand, 0.5, 2.5),
                                  g_rand_double_range (rand, 0, 0.004),
                                  OG_QUALITY_ESTIMATED,
                                  FALSE };
      double g = g_rand_double_range (rand, 0.1, 500);

      og_heat_body_add (body, &capacity, g);
      if (g_rand_int_range (rand, 0, 3) == 0)
        og_heat_body_add_melt (body, g_rand_double_range (rand, 30, 110),
                               g * g_rand_double_range (rand, 50, 250));
    }
}

/* Heat that melts exactly at @temperature_c in the body. */
static double
melting_at (const OgHeatBody *body,
            double            temperature_c)
{
  return og_heat_body_heat (body, temperature_c, nextafter (temperature_c, INFINITY));
}

/* What one gives the other takes; within melting, up to the heat of what melts there. */
static void
test_energy_conserved (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint melting = 0;

  for (guint i = 0; i < ROUNDS; i++)
    {
      g_auto (OgHeatBody) pot = { 0 };
      g_auto (OgHeatBody) added = { 0 };
      double pot_c = g_rand_double_range (rand, 20, 160),
             added_c = g_rand_double_range (rand, -10, 100);
      double meet, error, tolerance;

      random_body (rand, &pot);
      random_body (rand, &added);
      meet = og_heat_mix (&pot, pot_c, &added, added_c);
      error = og_heat_body_heat (&pot, pot_c, meet) + og_heat_body_heat (&added, added_c, meet);
      tolerance
          = 1e-9 * (og_heat_body_capacity (&pot, 100) + og_heat_body_capacity (&added, 100)) * 100;
      g_assert_cmpfloat (meet, >=, fmin (pot_c, added_c) - 1e-9);
      g_assert_cmpfloat (meet, <=, fmax (pot_c, added_c) + 1e-9);
      if (fabs (error) > tolerance)
        {
          melting++;
          g_assert_cmpfloat (error, <, tolerance);
          g_assert_cmpfloat (
              -error, <=, melting_at (&pot, meet) + melting_at (&added, meet) + tolerance);
        }
    }
  g_assert_cmpuint (melting, <, ROUNDS / 2);
}

static double
capacity_at (double   temperature_c,
             gpointer body)
{
  return og_heat_body_capacity (body, temperature_c);
}

/* Sensible heat against numerical integration (GSL). */
static void
test_heat_integral (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);

  for (guint i = 0; i < 50; i++)
    {
      g_auto (OgHeatBody) body = { 0 };
      OgHeatCapacity capacity = { g_rand_double_range (rand, 0.5, 2.5),
                                  g_rand_double_range (rand, 0, 0.004),
                                  OG_QUALITY_ESTIMATED,
                                  FALSE };
      double from_c = g_rand_double_range (rand, 0, 100), to_c = g_rand_double_range (rand, 0, 150);
      gsl_function function = { capacity_at, &body };
      double integral, error;
      gsize n;

      og_heat_body_add (&body, &capacity, 100);
      gsl_integration_qng (&function, from_c, to_c, 1e-9, 1e-12, &integral, &error, &n);
      g_assert_cmpfloat_with_epsilon (og_heat_body_heat (&body, from_c, to_c), integral, 1e-6);
    }
}

/* Both are reverses of mixing. */
static void
test_reverses (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (guint i = 0; i < ROUNDS; i++)
    {
      OgHeatCapacity capacity = { g_rand_double_range (rand, 0.5, 2.5),
                                  g_rand_double_range (rand, 0, 0.004),
                                  OG_QUALITY_ESTIMATED,
                                  FALSE };
      g_auto (OgHeatBody) pot = { 0 };
      g_auto (OgHeatBody) added = { 0 };
      double pot_c = g_rand_double_range (rand, 80, 130),
             target_c = g_rand_double_range (rand, 40, 75);
      double warm_c;

      og_heat_body_add (&pot, &capacity, g_rand_double_range (rand, 1, 500));
      og_heat_body_add (&added, &capacity, g_rand_double_range (rand, 20, 500));
      warm_c = og_heat_warm_first (&pot, pot_c, &added, target_c);
      /* a large pot cannot be cooled so far by something that is not colder than ice */
      if (warm_c > -50)
        g_assert_cmpfloat_with_epsilon (og_heat_mix (&pot, pot_c, &added, warm_c), target_c, 1e-6);
    }
}

/* --- cooling ------------------------------------------------------------- */

/* A 250 ml low-form beaker weighs about 100 g, a 600 ml one about 190 g (laboratory catalogues,
 * recalled). */
static void
test_vessel (void)
{
  OgVessel vessel;

  og_vessel_init (&vessel, OG_VESSEL_GLASS, 250);
  assert_within (vessel.mass_g, 100, 0.2);
  og_vessel_init (&vessel, OG_VESSEL_GLASS, 600);
  assert_within (vessel.mass_g, 190, 0.2);
  g_assert_cmpfloat (og_vessel_wet_g (&vessel, 300), <, vessel.mass_g);
  g_assert_cmpfloat_with_epsilon (og_vessel_wet_g (&vessel, 600), vessel.mass_g, 1e-9);
  /* three quarters full at most */
  g_assert_cmpfloat (og_vessel_usual_size (75), ==, 100);
  g_assert_cmpfloat (og_vessel_usual_size (76), ==, 150);
}

static int
newton (double        t,
        const double  y[],
        double        dydt[],
        void         *user_data)
{
  const double *k_and_room = user_data;

  dydt[0] = -k_and_room[0] * (y[0] - k_and_room[1]);
  return GSL_SUCCESS;
}

/* Closed form against an integration of the differential equation. */
static void
test_newton (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (guint i = 0; i < 50; i++)
    {
      double k_and_room[2]
          = { g_rand_double_range (rand, 0.005, 0.2), g_rand_double_range (rand, 5, 30) };
      double from_c = g_rand_double_range (rand, 60, 150),
             minutes = g_rand_double_range (rand, 1, 60);
      gsl_odeiv2_system system = { newton, NULL, 1, k_and_room };
      gsl_odeiv2_driver *driver
          = gsl_odeiv2_driver_alloc_y_new (&system, gsl_odeiv2_step_rk8pd, 1e-3, 1e-10, 1e-10);
      double t = 0, y = from_c, closed;

      g_assert_cmpint (gsl_odeiv2_driver_apply (driver, &t, minutes, &y), ==, GSL_SUCCESS);
      closed = og_cooling_temperature (k_and_room[0], from_c, minutes, k_and_room[1]);
      g_assert_cmpfloat_with_epsilon (closed, y, 1e-6);
      g_assert_cmpfloat_with_epsilon (
          og_cooling_minutes (k_and_room[0], from_c, closed, k_and_room[1]), minutes, 1e-6);
      gsl_odeiv2_driver_free (driver);
    }
  g_assert_cmpfloat (og_cooling_minutes (0.02, 80, 90, 20), ==, 0);
  g_assert_true (isinf (og_cooling_minutes (0.02, 80, 20, 20)));
  g_assert_true (isnan (og_cooling_minutes (NAN, 80, 20, 20)));
}

typedef struct
{
  const OgHeatBody *content;
  const OgVessel   *vessel;
  double            ml, w_k, room_c;
} Pot;

/* The same pot with a heat capacity that changes on the way. */
static int
with_capacity (double        t,
               const double  y[],
               double        dydt[],
               void         *user_data)
{
  const Pot *pot = user_data;
  OgHeatCapacity wall;
  double j_k;

  og_vessel_heat_capacity (pot->vessel, &wall);
  j_k = og_heat_body_capacity (pot->content, y[0])
        + og_vessel_wet_g (pot->vessel, pot->ml) * og_heat_capacity_at (&wall, y[0]);
  dydt[0] = -60 * pot->w_k * (y[0] - pot->room_c) / j_k;
  return GSL_SUCCESS;
}

/* Taking the heat capacity at the mean temperature costs less than 2 % of the time. */
static void
test_rate (void)
{
  OgHeatCapacity oil;
  g_auto (OgHeatBody) content = { 0 };
  OgVessel vessel;
  OgCooling cooling;
  OgEstimate k;
  Pot pot = { &content, &vessel, 217, 0, 22 };
  gsl_odeiv2_system system = { with_capacity, NULL, 1, &pot };
  gsl_odeiv2_driver *driver;
  double t = 0, y = 110;

  capacity_of ("sunflower-oil", &oil);
  og_heat_body_add (&content, &oil, 200);
  og_vessel_init (&vessel, OG_VESSEL_GLASS, 400);
  og_cooling_init (&cooling, OG_VESSEL_GLASS, TRUE);
  pot.w_k = 11e-4 * og_vessel_surface_cm2 (&vessel, pot.ml);
  k = og_cooling_rate (&cooling, &vessel, &content, pot.ml, (110 + 40) / 2.0);
  driver = gsl_odeiv2_driver_alloc_y_new (&system, gsl_odeiv2_step_rk8pd, 1e-3, 1e-10, 1e-10);
  g_assert_cmpint (
      gsl_odeiv2_driver_apply (driver, &t, og_cooling_minutes (k.value, 110, 40, 22), &y),
      ==,
      GSL_SUCCESS);
  g_assert_cmpfloat_with_epsilon (og_cooling_minutes (k.value, 110, y, 22),
                                  og_cooling_minutes (k.value, 110, 40, 22),
                                  0.02 * og_cooling_minutes (k.value, 110, 40, 22));
  g_assert_cmpfloat (k.low80, <, k.value);
  g_assert_cmpfloat (k.value, <, k.high80);
  gsl_odeiv2_driver_free (driver);
}

/* A pot that cools as predicted gives its own constants back, also for another filling. */
static void
test_calibration (void)
{
  OgHeatCapacity oil;
  g_auto (OgHeatBody) content = { 0 };
  g_auto (OgHeatBody) half = { 0 };
  OgVessel vessel;
  OgCooling usual, own;
  double k, to_c, expected;

  capacity_of ("castor-oil", &oil);
  og_heat_body_add (&content, &oil, 300);
  og_heat_body_add (&half, &oil, 150);
  og_vessel_init (&vessel, OG_VESSEL_STEEL, 500);
  og_cooling_init (&usual, OG_VESSEL_STEEL, TRUE);
  /* mean of 90 and to_c enters k: iterate to the consistent pair */
  to_c = 60;
  for (guint i = 0; i < 50; i++)
    {
      k = og_cooling_rate (&usual, &vessel, &content, 313, (90 + to_c) / 2).value;
      to_c = og_cooling_temperature (k, 90, 30, 21);
    }
  g_assert_true (og_cooling_calibrate (&own, &vessel, &content, 313, 90, to_c, 30, 21));
  g_assert_true (own.calibrated);
  assert_within (own.transfer_w_m2_k.value, usual.transfer_w_m2_k.value, 1e-9);
  g_assert_cmpfloat (own.transfer_w_m2_k.low80, <, own.transfer_w_m2_k.value);
  g_assert_cmpfloat (own.transfer_w_m2_k.high80, >, own.transfer_w_m2_k.value);
  g_assert_cmpfloat (own.transfer_w_m2_k.high80 / own.transfer_w_m2_k.low80, <, 16.0 / 7.0);
  expected = og_cooling_rate (&usual, &vessel, &half, 156, 60).value;
  assert_within (og_cooling_rate (&own, &vessel, &half, 156, 60).value, expected, 1e-9);
  /* half as much oil loses its heat through more than half the surface */
  g_assert_cmpfloat (expected, >, k);

  g_assert_false (og_cooling_calibrate (&own, &vessel, &content, 313, 60, 90, 30, 21));
  g_assert_false (og_cooling_calibrate (&own, &vessel, &content, 313, 90, 20, 30, 21));
  g_assert_false (og_cooling_calibrate (&own, &vessel, &content, 313, 90, 60, 0, 21));
  g_assert_false (og_cooling_calibrate (&own, &vessel, &content, 313, 90, 60, NAN, 21));
}

/* Common practice, no source: 200 g of hot oil in a beaker come from 80 to 40 °C in half an hour to
 * two hours, and slower standing still. */
static void
test_usual_minutes (void)
{
  OgHeatCapacity oil;
  g_auto (OgHeatBody) content = { 0 };
  OgVessel vessel;
  OgCooling cooling, still;
  double minutes;

  capacity_of ("castor-oil", &oil);
  og_heat_body_add (&content, &oil, 200);
  og_vessel_init (&vessel, OG_VESSEL_GLASS, 400);
  og_cooling_init (&cooling, OG_VESSEL_GLASS, TRUE);
  og_cooling_init (&still, OG_VESSEL_GLASS, FALSE);
  minutes = og_cooling_minutes (
      og_cooling_rate (&cooling, &vessel, &content, 210, 60).value, 80, 40, 22);
  g_assert_cmpfloat (minutes, >, 30);
  g_assert_cmpfloat (minutes, <, 120);
  g_assert_cmpfloat (og_cooling_rate (&still, &vessel, &content, 210, 60).value, <,
                     og_cooling_rate (&cooling, &vessel, &content, 210, 60).value);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/heat/oils", test_oils);
  g_test_add_func ("/heat/fat-line", test_fat_line);
  g_test_add_func ("/heat/petroleum", test_petroleum);
  g_test_add_func ("/heat/minerals", test_minerals);
  g_test_add_func ("/heat/mixture", test_mixture);
  g_test_add_func ("/heat/fusion", test_fusion);
  g_test_add_func ("/heat/heat", test_heat);
  g_test_add_func ("/heat/equal-oils", test_equal_oils);
  g_test_add_func ("/heat/melting", test_melting);
  g_test_add_func ("/heat/energy-conserved", test_energy_conserved);
  g_test_add_func ("/heat/integral", test_heat_integral);
  g_test_add_func ("/heat/reverses", test_reverses);
  g_test_add_func ("/cooling/vessel", test_vessel);
  g_test_add_func ("/cooling/newton", test_newton);
  g_test_add_func ("/cooling/rate", test_rate);
  g_test_add_func ("/cooling/calibration", test_calibration);
  g_test_add_func ("/cooling/usual-minutes", test_usual_minutes);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
