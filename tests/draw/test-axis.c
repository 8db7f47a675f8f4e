/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <float.h>
#include <locale.h>
#include <math.h>

#include "core/base/number-text.h"
#include "draw/axis.h"
#include "fixtures.h"

#define THIN "\u202f"

/* Worked by hand: the step is the smallest of 1, 2, 5 x 10^n that makes five intervals or fewer of the raw range;
 * logarithmic bounds go to the next 1, 2 or 5 x 10^n outwards. */
static const struct
{
  double   low, high;
  gboolean logarithmic;
  double   nice_low, nice_high;
} nice_cases[] = {
  { 0, 6, FALSE, 0, 6 },
  { 0.3, 9.7, FALSE, 0, 10 },
  { -3, 17, FALSE, -5, 20 },
  { 15, 95, FALSE, 0, 100 },
  { 0.012, 0.047, FALSE, 0.01, 0.05 },
  { 9.7, 0.3, FALSE, 0, 10 },
  { 37, 1640, TRUE, 20, 2000 },
  { 1, 1000, TRUE, 1, 1000 },
  { 0.01, 1000, TRUE, 0.01, 1000 },
  { 0.0021, 0.0049, TRUE, 0.002, 0.005 },
  { 6, 7, TRUE, 5, 10 },
};

static void
test_nice (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (nice_cases); i++)
    {
      OgAxis axis = og_axis_nice (nice_cases[i].low, nice_cases[i].high, nice_cases[i].logarithmic);

      g_assert_cmpfloat_with_epsilon (axis.low, nice_cases[i].nice_low, 1e-12);
      g_assert_cmpfloat_with_epsilon (axis.high, nice_cases[i].nice_high, 1e-9);
      g_assert_true (axis.logarithmic == nice_cases[i].logarithmic);
    }
}

static void
assert_ticks (const OgAxis *axis,
              guint         most,
              const double *major,
              guint         n_major,
              guint         n_all)
{
  g_autoptr (GArray) ticks = og_axis_ticks (axis, most);
  guint found = 0;

  g_assert_cmpuint (ticks->len, ==, n_all);
  for (guint i = 0; i < ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (ticks, OgTick, i);

      if (!tick->major)
        continue;
      g_assert_cmpuint (found, <, n_major);
      g_assert_cmpfloat_with_epsilon (tick->value, major[found], 1e-12 + 1e-9 * fabs (major[found]));
      found++;
    }
  g_assert_cmpuint (found, ==, n_major);
}

static void
test_ticks (void)
{
  static const double whole[] = { 0, 1, 2, 3, 4, 5, 6 };
  static const double tens[] = { 20, 40, 60, 80 };
  static const double decades[] = { 0.01, 0.1, 1, 10, 100, 1000 };
  static const double within[] = { 20, 50, 100, 200, 500, 1000, 2000 };
  static const double two[] = { 100, 1000 };
  static const double thinned[] = { 1e-6, 1e-3, 1, 1e3, 1e6 };

  /* fifths between whole numbers: 6 x 5 + 1; quarters of 20 from 15 to 95: every 5 */
  assert_ticks (&(OgAxis) { 0, 6, FALSE }, 8, whole, 7, 31);
  assert_ticks (&(OgAxis) { 15, 95, FALSE }, 5, tens, 4, 17);
  /* five decades with 1, 2, 5 and the last 1 */
  assert_ticks (&(OgAxis) { 0.01, 1000, TRUE }, 8, decades, 6, 16);
  assert_ticks (&(OgAxis) { 20, 2000, TRUE }, 8, within, 7, 7);
  assert_ticks (&(OgAxis) { 20, 2000, TRUE }, 4, two, 2, 7);
  assert_ticks (&(OgAxis) { 1e-6, 1e7, TRUE }, 5, thinned, 5, 14);
}

static void
check_axis (const OgAxis *axis,
            guint         most)
{
  g_autoptr (GArray) ticks = og_axis_ticks (axis, most);
  double slack = axis->logarithmic ? axis->high * 1e-6 : (axis->high - axis->low) * 1e-6;
  guint major = 0;

  g_assert_true (isfinite (axis->low) && isfinite (axis->high) && axis->high > axis->low);
  for (guint i = 0; i < ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (ticks, OgTick, i);

      g_assert_true (tick->value >= axis->low - slack && tick->value <= axis->high + slack);
      if (i > 0)
        g_assert_cmpfloat (tick->value, >, g_array_index (ticks, OgTick, i - 1).value);
      major += tick->major ? 1 : 0;
    }
  g_assert_cmpuint (major, <=, most);

  for (int i = -2; i <= 12; i++)
    {
      double value = og_axis_unmap (axis, i / 10.0);
      double rounding = axis->logarithmic ? 0 : 4 * DBL_EPSILON * fabs (value) / (axis->high - axis->low);

      g_assert_cmpfloat_with_epsilon (og_axis_map (axis, value), i / 10.0, 1e-9 + rounding);
    }
  g_assert_cmpfloat (og_axis_map (axis, axis->low), ==, 0);
  g_assert_cmpfloat_with_epsilon (og_axis_map (axis, axis->high), 1, 1e-12);
}

static void
test_random_ranges (void)
{
  for (guint i = 0; i < 20000; i++)
    {
      double centre = g_test_rand_double_range (-1, 1) * pow (10, g_test_rand_double_range (-6, 9));
      double reach = pow (10, g_test_rand_double_range (-5, 6));
      double low = pow (10, g_test_rand_double_range (-9, 9));
      double ratio = pow (10, g_test_rand_double_range (0.001, 12));
      OgAxis linear = og_axis_nice (centre - reach, centre + reach, FALSE);
      OgAxis logarithmic = og_axis_nice (low, low * ratio, TRUE);
      guint most = (guint) g_test_rand_int_range (2, 13);

      check_axis (&linear, most);
      check_axis (&logarithmic, most);
      g_assert_cmpfloat (linear.low, <=, centre - reach + 1e-6 * reach);
      g_assert_cmpfloat (linear.high, >=, centre + reach - 1e-6 * reach);
      g_assert_cmpfloat (logarithmic.low, <=, low * (1 + 1e-6));
      g_assert_cmpfloat (logarithmic.high, >=, low * ratio * (1 - 1e-6));
    }
}

static void
test_degenerate (void)
{
  static const double odd[] = { NAN, INFINITY, -INFINITY, 0, 1, -1, 1e308, -1e308, 5e-324, 42 };

  for (guint i = 0; i < G_N_ELEMENTS (odd); i++)
    for (guint j = 0; j < G_N_ELEMENTS (odd); j++)
      for (guint logarithmic = 0; logarithmic < 2; logarithmic++)
        {
          OgAxis axis = og_axis_nice (odd[i], odd[j], logarithmic == 1);

          check_axis (&axis, 6);
          if (logarithmic == 1)
            g_assert_cmpfloat (axis.low, >, 0);
        }
}

static void
test_no_place (void)
{
  OgAxis linear = { 0, 10, FALSE };
  OgAxis logarithmic = { 1, 10, TRUE };

  g_assert_true (isnan (og_axis_map (&linear, NAN)));
  g_assert_true (isnan (og_axis_map (&linear, INFINITY)));
  g_assert_true (isnan (og_axis_map (&logarithmic, 0)));
  g_assert_true (isnan (og_axis_map (&logarithmic, -3)));
}

static void
test_labels (void)
{
  static const struct
  {
    OgAxis      axis;
    double      value;
    const char *text;
  } cases[] = {
    { { 0, 6, FALSE }, 3, "3" },
    { { 0, 6, FALSE }, 2.5, "2.5" },
    { { 0, 0.06, FALSE }, 0.02, "0.02" },
    { { -10, 10, FALSE }, -5, "\u22125" },
    { { -1, 1, FALSE }, 1e-17, "0" },
    { { 0, 20000, FALSE }, 10000, "10" THIN "000" },
    { { 1, 1e6, TRUE }, 10000, "10" THIN "000" },
    { { 1, 1e6, TRUE }, 1e6, "1" THIN "000" THIN "000" },
    { { 0.01, 1000, TRUE }, 0.01, "0.01" },
    { { 1, 1e12, TRUE }, 1e9, "10⁹" },
    { { 1e-9, 1, TRUE }, 1e-6, "10⁻⁶" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = og_axis_label (&cases[i].axis, cases[i].value);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

/* an installed locale with a decimal comma, or one made for the test */
static gboolean
use_comma_locale (const char *folder)
{
  g_autofree char *program = g_find_program_in_path ("localedef");
  g_autofree char *path = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *argv[] = { program, "-i", "de_DE", "-f", "UTF-8", path, NULL };

  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") != NULL || setlocale (LC_NUMERIC, "fr_FR.UTF-8") != NULL)
    return TRUE;
  if (program == NULL ||
      !g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL | G_SPAWN_STDOUT_TO_DEV_NULL,
                     NULL, NULL, NULL, NULL, NULL, NULL))
    return FALSE;

  g_setenv ("LOCPATH", folder, TRUE);
  return setlocale (LC_NUMERIC, "de_DE.UTF-8") != NULL;
}

static void
test_comma_locale (void)
{
  char *folder = test_folder_new ();
  OgAxis axis = { 0, 6, FALSE };

  if (use_comma_locale (folder))
    {
      g_autofree char *trimmed = og_number_trimmed (2.5, 3);
      g_autofree char *whole = og_number_trimmed (2, 3);
      g_autofree char *two = og_number_viscosity (3.44);
      g_autofree char *large = og_number_fixed (12345.678, 1);
      g_autofree char *label = og_axis_label (&axis, 0.5);

      setlocale (LC_NUMERIC, "C");
      g_assert_cmpstr (trimmed, ==, "2,5");
      g_assert_cmpstr (whole, ==, "2");
      g_assert_cmpstr (two, ==, "3,4");
      g_assert_cmpstr (large, ==, "12" THIN "345,7");
      g_assert_cmpstr (label, ==, "0,5");
    }
  else
    g_test_skip ("no locale with a decimal comma is at hand");
  test_folder_remove (folder);
}

int
main (int   argc,
      char *argv[])
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/axis/nice", test_nice);
  g_test_add_func ("/axis/ticks", test_ticks);
  g_test_add_func ("/axis/random-ranges", test_random_ranges);
  g_test_add_func ("/axis/degenerate", test_degenerate);
  g_test_add_func ("/axis/no-place", test_no_place);
  g_test_add_func ("/axis/labels", test_labels);
  g_test_add_func ("/numbers/comma-locale", test_comma_locale);

  return g_test_run ();
}
