/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers as readers meet them: expectations are written out by hand. */
#include <glib.h>
#include <locale.h>
#include <math.h>

#include "core/base/number-text.h"

#define THIN "\u202f"
#define MINUS "\u2212"

static void
test_numbers (void)
{
  static const struct
  {
    double      mpa_s;
    const char *text;
  } cases[] = {
    { 847, "850" }, { 12345, "12" THIN "000" }, { 3.44, "3.4" }, { 0.0449, "0.045" },
    { 99.6, "100" }, { 1.5e9, "1.5" THIN "×" THIN "10⁹" }, { NAN, "unknown" }, { -INFINITY, "unknown" },
    { 0, "0" }, { 995, "1" THIN "000" }, { 853, "850" }, { 11840, "12" THIN "000" }, { 3.42, "3.4" },
    { 10.4, "10" },
  };
  OgEstimate estimate = { 850, 400, 1800 }, unknown = { NAN, NAN, NAN };
  g_autofree char *band = og_number_band (&estimate);
  g_autofree char *range = og_number_range (&estimate);
  g_autofree char *fixed = og_number_fixed (1234.5, 2);
  g_autofree char *trimmed = og_number_trimmed (60.0, 4);
  g_autofree char *hundred = og_number_trimmed (100, 0);
  g_autofree char *nothing = og_number_trimmed (-0.001, 2);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = og_number_viscosity (cases[i].mpa_s);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
  g_assert_cmpstr (band, ==, "80 % between 400 and 1" THIN "800");
  g_assert_cmpstr (range, ==, "400\u20131" THIN "800");
  g_assert_null (og_number_band (&unknown));
  g_assert_null (og_number_range (&unknown));
  g_assert_cmpstr (fixed, ==, "1" THIN "234.50");
  g_assert_cmpstr (trimmed, ==, "60");
  g_assert_cmpstr (hundred, ==, "100");
  g_assert_cmpstr (nothing, ==, "0");
}

static void
test_given (void)
{
  static const struct
  {
    double      value;
    const char *text;
  } cases[] = {
    { 0.1, "0.1" }, { 17.25, "17.25" }, { 400, "400" }, { -20, MINUS "20" },
    { 1234567, "1" THIN "234" THIN "570" }, { 0.05, "0.05" }, { NAN, "unknown" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = og_number_as_given (cases[i].value);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_signed (void)
{
  g_autofree char *up = og_number_signed (12.4, 0);
  g_autofree char *down = og_number_signed (-3.26, 1);
  g_autofree char *none = og_number_signed (0, 0);
  g_autofree char *unknown = og_number_signed (NAN, 0);
  g_autofree char *endless = og_number_signed (INFINITY, 0);

  g_assert_cmpstr (up, ==, "+12");
  g_assert_cmpstr (down, ==, MINUS "3.3");
  g_assert_cmpstr (none, ==, "0");
  g_assert_cmpstr (unknown, ==, "unknown");
  g_assert_cmpstr (endless, ==, "unknown");
}

int
main (int   argc,
      char *argv[])
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/number-text/predicted", test_numbers);
  g_test_add_func ("/number-text/given", test_given);
  g_test_add_func ("/number-text/signed", test_signed);

  return g_test_run ();
}
