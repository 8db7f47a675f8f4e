/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib.h>
#include <math.h>

#include "core/base/root.h"

/* GSL's handler is as it comes here: a call that reaches it ends the test. */

static double
less_cosine (double   x,
             gpointer user_data)
{
  return x - cos (x);
}

static double
less_two (double   x,
          gpointer user_data)
{
  return x * x - 2.0;
}

static double
omega (double   x,
       gpointer user_data)
{
  return x * exp (x) - 1.0;
}

static double
thin (double   x,
      gpointer user_data)
{
  return 2.0 - log10 (x);
}

/* Digits from the On-Line Encyclopedia of Integer Sequences: A003957, A002193, A030178. */
static void
test_known_roots (void)
{
  static const struct
  {
    OgRootFunction function;
    double low, high, root;
  } cases[] = {
    { less_cosine, 0.0, 1.0, 0.73908513321516064165 },
    { less_two, 0.0, 2.0, 1.41421356237309504880 },
    { less_two, -2.0, 0.0, -1.41421356237309504880 },
    { less_two, -1.0, 1e6, 1.41421356237309504880 },
    { omega, 0.0, 5.0, 0.56714329040978387299 },
    { thin, 1e-3, 1e12, 100.0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double rough = og_find_root (cases[i].function, NULL, cases[i].low, cases[i].high, 1e-3);
      double fine = og_find_root (cases[i].function, NULL, cases[i].low, cases[i].high, 1e-12);

      g_test_message ("case %" G_GSIZE_FORMAT, i);
      g_assert_cmpfloat (fabs (rough - cases[i].root), <=, 1e-3);
      g_assert_cmpfloat (fabs (fine - cases[i].root), <=, 1e-12 * fmax (1.0, cases[i].root));
    }
}

static double
line (double   x,
      gpointer user_data)
{
  return x - *(double *) user_data;
}

static void
test_root_at_an_end (void)
{
  double at = 3.0;

  g_assert_cmpfloat (og_find_root (line, &at, 3.0, 4.0, 1e-9), ==, 3.0);
  g_assert_cmpfloat (og_find_root (line, &at, 2.0, 3.0, 1e-9), ==, 3.0);
}

/* No tolerance is finer than the numbers are. */
static void
test_large_numbers (void)
{
  double at = 1e15 + 1.0;

  g_assert_cmpfloat (og_find_root (line, &at, 0.0, 3e15, 1e-30), ==, at);
}

static double
sign (double   x,
      gpointer user_data)
{
  return x < 0.25 ? -1.0 : 100.0;
}

static void
test_jump (void)
{
  g_assert_cmpfloat (fabs (og_find_root (sign, NULL, 0.0, 1.0, 1e-9) - 0.25), <=, 1e-9);
}

typedef struct
{
  double at_low, between, at_high;
} Values;

static double
one_of (double   x,
        gpointer user_data)
{
  const Values *values = user_data;

  return x == 0.0 ? values->at_low : x == 1.0 ? values->at_high : values->between;
}

static void
test_unknown (void)
{
  static const Values cases[] = {
    { 1.0, 1.0, 1.0 },       { -1.0, -1.0, -1.0 },       { 1.0, -1.0, 1.0 },
    { NAN, 0.0, 1.0 },       { -1.0, 0.0, NAN },         { NAN, NAN, NAN },
    { -INFINITY, 0.0, 1.0 }, { -1.0, 0.0, INFINITY },    { -INFINITY, 0.0, INFINITY },
    { -1.0, NAN, 1.0 },      { -1.0, INFINITY, 1.0 },    { -1.0, -INFINITY, 1.0 },
    { 1.0, NAN, -1.0 },      { -1e308, INFINITY, 1e308 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Values values = cases[i];

      g_test_message ("case %" G_GSIZE_FORMAT, i);
      g_assert_true (isnan (og_find_root (one_of, &values, 0.0, 1.0, 1e-9)));
    }
}

static void
test_no_bracket (void)
{
  static const double cases[][2] = {
    { 1.0, 0.0 },      { 0.5, 0.5 },       { NAN, 1.0 }, { 0.0, NAN },
    { -INFINITY, 1.0 }, { 0.0, INFINITY }, { -INFINITY, INFINITY },
  };
  double at = 0.5;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_true (isnan (og_find_root (line, &at, cases[i][0], cases[i][1], 1e-9)));
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/find-root/known", test_known_roots);
  g_test_add_func ("/find-root/at-an-end", test_root_at_an_end);
  g_test_add_func ("/find-root/large-numbers", test_large_numbers);
  g_test_add_func ("/find-root/jump", test_jump);
  g_test_add_func ("/find-root/unknown", test_unknown);
  g_test_add_func ("/find-root/no-bracket", test_no_bracket);

  return g_test_run ();
}
