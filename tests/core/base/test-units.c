/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_const_mksa.h>

#include "core/base/physics.h"
#include "core/base/statistics.h"
#include "core/base/units.h"

/* Conversions between units: arithmetic, no outside source needed. */
static void
test_pct (void)
{
  static const struct
  {
    double pct;
    OgPpm  ppm;
  } cases[] = {
    { 0.0, 0 },
    { 100.0, OG_PPM_WHOLE },
    { 33.3333, 333333 },
    { 0.0001, 1 },
    { 0.00005, 1 },
    { 0.00004, 0 },
    { 12.3, 123000 },
    { 99.99995, OG_PPM_WHOLE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      OgPpm ppm = -1;

      g_assert_true (og_pct_to_ppm (cases[i].pct, &ppm));
      g_assert_cmpint (ppm, ==, cases[i].ppm);
    }
  g_assert_cmpfloat_with_epsilon (og_ppm_to_pct (123456), 12.3456, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_ppm_to_fraction (500000), 0.5, 1e-15);
  g_assert_cmpfloat_with_epsilon (og_ppm_to_g (250000, 80.0), 20.0, 1e-12);
}

static void
test_pct_refused (void)
{
  static const double cases[] = { -1e-9, 100.0000001, NAN, INFINITY, -INFINITY, 1e300 };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      OgPpm ppm = 42;

      g_assert_false (og_pct_to_ppm (cases[i], &ppm));
      g_assert_cmpint (ppm, ==, 42);
    }
}

/* Every share with four decimals survives the way to the file and back. */
static void
test_pct_round_trip (void)
{
  for (OgPpm ppm = 0; ppm <= OG_PPM_WHOLE; ppm += 7)
    {
      OgPpm back = -1;

      g_assert_true (og_pct_to_ppm (og_ppm_to_pct (ppm), &back));
      g_assert_cmpint (back, ==, ppm);
    }
}

static void
test_grams (void)
{
  OgPpm ppm = 42;

  g_assert_true (og_g_to_ppm (12.5, 50.0, &ppm));
  g_assert_cmpint (ppm, ==, 250000);
  g_assert_true (og_g_to_ppm (1.0, 3.0, &ppm));
  g_assert_cmpint (ppm, ==, 333333);
  g_assert_true (og_g_to_ppm (0.0, 3.0, &ppm));
  g_assert_cmpint (ppm, ==, 0);

  ppm = 42;
  g_assert_false (og_g_to_ppm (3.1, 3.0, &ppm));
  g_assert_false (og_g_to_ppm (-0.1, 3.0, &ppm));
  g_assert_false (og_g_to_ppm (1.0, 0.0, &ppm));
  g_assert_false (og_g_to_ppm (0.0, 0.0, &ppm));
  g_assert_false (og_g_to_ppm (-1.0, -3.0, &ppm));
  g_assert_false (og_g_to_ppm (NAN, 3.0, &ppm));
  g_assert_false (og_g_to_ppm (1.0, INFINITY, &ppm));
  g_assert_false (og_g_to_ppm (INFINITY, INFINITY, &ppm));
  g_assert_cmpint (ppm, ==, 42);
}

static void
test_numbers (void)
{
  static const struct
  {
    const char *text;
    double      value;
  } cases[] = {
    { "0", 0.0 },
    { "12.5", 12.5 },
    { "12,5", 12.5 },
    { "  12,5\t", 12.5 },
    { "\r\n3\n", 3.0 },
    { "-0.25", -0.25 },
    { "+7", 7.0 },
    { ".5", 0.5 },
    { ",5", 0.5 },
    { "5.", 5.0 },
    { "1e5", 1e5 },
    { "1,5E-3", 1.5e-3 },
    { "2e+2", 200.0 },
    { "007", 7.0 },
    { "1,234", 1.234 },
    { "1e-400", 0.0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double value = NAN;

      g_test_message ("“%s”", cases[i].text);
      g_assert_true (og_parse_number (cases[i].text, &value));
      g_assert_cmpfloat (value, ==, cases[i].value);
    }
}

static void
test_numbers_refused (void)
{
  static const char *const cases[] = {
    "", " ", ".", ",", "-", "+", "e5", "1e", "1e+", "1 2", "1.2.3", "1,2,3", "1,234.5", "1.234,5",
    "1'000", "12 %", "12g", "0x10", "0x1p4", "nan", "NaN", "inf", "Infinity", "-inf", "1e400",
    "-1e400", "--1", "1-", "٣", "½", ("1\xc2\xa0" "000"), "1_000", "1e5.5", "\xff",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double value = 42.0;

      g_test_message ("case %" G_GSIZE_FORMAT, i);
      g_assert_false (og_parse_number (cases[i], &value));
      g_assert_cmpfloat (value, ==, 42.0);
    }
}

/* The quantile as GSL computes it; the gas constant of GSL is that of CODATA 2006, 8.314472(15). */
static void
test_constants (void)
{
  g_assert_cmpfloat_with_epsilon (OG_HALF_BAND_SD, gsl_cdf_ugaussian_Pinv (0.9), 1e-15);
  g_assert_cmpfloat_with_epsilon (OG_GAS_CONSTANT_J_MOL_K, GSL_CONST_MKSA_MOLAR_GAS, 15e-6);
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/units/pct", test_pct);
  g_test_add_func ("/units/pct-refused", test_pct_refused);
  g_test_add_func ("/units/pct-round-trip", test_pct_round_trip);
  g_test_add_func ("/units/grams", test_grams);
  g_test_add_func ("/units/numbers", test_numbers);
  g_test_add_func ("/units/constants", test_constants);
  g_test_add_func ("/units/numbers-refused", test_numbers_refused);

  return g_test_run ();
}
