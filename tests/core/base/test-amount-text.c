/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What people type for a number. The expectations are worked out by hand; how digits are grouped follows the SI
 * brochure (9th edition, 5.4.4: threes set off by thin spaces, a point or a comma for decimals). */
#include <glib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/base/amount-text.h"
#include "core/base/init.h"

#define THIN "\u202f"

typedef struct
{
  const char *text;
  double      value;
} Good;

static const Good good_for_all[] = {
  { "3.5", 3.5 }, { "3,5", 3.5 }, { " 12.6 ", 12.6 }, { ".5", 0.5 }, { ",5", 0.5 }, { "5.", 5 }, { "0", 0 },
  { "0,125", 0.125 }, { "0.125", 0.125 }, { "1234,567", 1234.567 }, { "1234.567", 1234.567 }, { "1,2345", 1.2345 },
  { "1,00", 1 }, { "10,0000", 10 },
  { "1 000", 1000 }, { "1\u202f000", 1000 }, { "1\u00a0000,5", 1000.5 }, { "12'345", 12345 }, { "12’345.25", 12345.25 },
  { "1,234.5", 1234.5 }, { "1.234,5", 1234.5 }, { "1,234,567", 1234567 }, { "1.234.567", 1234567 },
  { "1.234.567,89", 1234567.89 }, { "1 000,500", 1000.5 },
  { "1e-3", 0.001 }, { "2,5E2", 250 }, { "1e+1", 10 },
  { "0.2/20*100", 1 }, { "0,2 / 20 × 100", 1 }, { "20*0.63", 12.6 }, { "1+2*3", 7 }, { "(1+2)*3", 9 },
  { "100-41-2,2", 56.8 }, { "100−41", 59 }, { "-3", -3 }, { "−3", -3 }, { "+3", 3 }, { "--3", 3 }, { "2*-3", -6 },
  { "10÷4", 2.5 }, { "2·3", 6 }, { "((2))", 2 }, { "7-2-1", 4 }, { "8/4/2", 1 },
};

static void
test_good (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (good_for_all); i++)
    for (const char *mark = ".,"; *mark != '\0'; mark++)
      {
        double value = NAN;
        g_autoptr (OgSaying) problem = og_amount_read (good_for_all[i].text, *mark, &value, NULL);

        if (problem != NULL)
          g_error ("“%s”: %s", good_for_all[i].text, og_saying_text (problem));
        g_assert_cmpfloat_with_epsilon (value, good_for_all[i].value, 1e-9 * MAX (1.0, fabs (value)));
      }
}

/* The writer's own decimal mark before three digits is one; the other mark is asked about. */
static void
test_thousands_or_decimals (void)
{
  static const struct { const char *text; char mark; double value; const char *question; } cases[] = {
    { "1.000", '.', 1, NULL },
    { "1,000", ',', 1, NULL },
    { "1.234", '.', 1.234, NULL },
    { "12,345", ',', 12.345, NULL },
    { "1,000", '.', NAN, "“1,000” can mean 1 or 1" THIN "000: write the number without a mark for thousands." },
    { "1.000", ',', NAN, "“1.000” can mean 1 or 1" THIN "000: write the number without a mark for thousands." },
    { "12,345", '.', NAN,
      "“12,345” can mean 12.345 or 12" THIN "345: write the number without a mark for thousands." },
    { "100-1,500", '.', NAN,
      "“100-1,500” can mean 1.5 or 1" THIN "500: write the number without a mark for thousands." },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double value = NAN;
      g_autoptr (OgSaying) problem = og_amount_read (cases[i].text, cases[i].mark, &value, NULL);

      g_assert_cmpstr (og_saying_text (problem), ==, cases[i].question);
      if (cases[i].question == NULL)
        g_assert_cmpfloat (value, ==, cases[i].value);
      else
        g_assert_true (isnan (value));
    }
}

static void
test_refused (void)
{
  static const struct { const char *text; const char *because; } cases[] = {
    { "", "A number is missing here." }, { "  ", "A number is missing here." },
    { "abc", "is not a number" }, { "1.2.3", "is not a number" }, { "1,2,3", "is not a number" },
    { "1 2", "is not a number" }, { "12 34", "is not a number" }, { "1234 567", "is not a number" },
    { "1,234 567", "is not a number" }, { "0 123", "is not a number" }, { "1.234,567.8", "is not a number" },
    { "0x10", "is not a number" }, { "nan", "is not a number" }, { "inf", "is not a number" },
    { "5 g", "is not a number" }, { "1e", "is not a number" }, { "*3", "is not a number" }, { "3*", "is not a number" },
    { "3)", "is not a number" }, { "()", "is not a number" }, { ".", "is not a number" }, { "1..2", "is not a number" },
    { "(3", "a bracket is not closed" }, { "1/0", "divides by zero" }, { "1/(2-2)", "divides by zero" },
    { "1e999", "too large" }, { "9e307*100", "too large" },
    { "((((((((((((((((((3))))))))))))))))))", "too many brackets" },
    { "\xff", "no text at all" },
  };
  g_autofree char *endless = g_strnfill (5000, '(');
  double value = 7;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (OgSaying) problem = og_amount_read (cases[i].text, '.', &value, NULL);

      if (problem == NULL || strstr (og_saying_text (problem), cases[i].because) == NULL)
        g_error ("“%s”: %s", cases[i].text, problem != NULL ? og_saying_text (problem) : "was read");
    }
  {
    g_autoptr (OgSaying) problem = og_amount_read (endless, '.', &value, NULL);

    g_assert_nonnull (problem);
  }
  g_assert_cmpfloat (value, ==, 7);
}

static void
test_units (void)
{
  static const struct { const char *text; double value; const char *unit; } cases[] = {
    { "12.6 g", 12.6, "g" }, { "3 %", 3, "%" }, { "3%", 3, "%" }, { "2.5kg", 2.5, "kg" }, { "0.2/20*100 %", 1, "%" },
    { "110 °C", 110, "°C" }, { "5", 5, "" }, { "5 e", 5, "e" }, { "1 000 g", 1000, "g" },
  };
  static const struct { const char *unit, *wanted; double factor; } factors[] = {
    { "g", "g", 1 }, { "G", "g", 1 }, { "kg", "g", 1000 }, { "mg", "g", 0.001 }, { "%", "%", 1 }, { "C", "°C", 1 },
    { "Mg", "g", 0 }, { "g", "%", 0 }, { "lb", "g", 0 }, { "", "g", 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *unit = NULL;
      double value = NAN;
      g_autoptr (OgSaying) problem = og_amount_read (cases[i].text, '.', &value, &unit);

      g_assert_null (problem);
      g_assert_cmpfloat_with_epsilon (value, cases[i].value, 1e-12);
      g_assert_cmpstr (unit, ==, cases[i].unit);
    }
  for (guint i = 0; i < G_N_ELEMENTS (factors); i++)
    {
      double factor;
      gboolean fits = og_amount_factor (factors[i].unit, factors[i].wanted, &factor);

      g_assert_cmpint (fits, ==, factors[i].factor > 0);
      if (fits)
        g_assert_cmpfloat (factor, ==, factors[i].factor);
    }
}

/* Whatever stands there, it is read as a finite number or refused with a sentence, and a refused text changes
 * nothing. Made of the signs that a number may hold, so that many of them nearly are one. */
static void
test_any_text (void)
{
  static const char *const pieces[] = { "0", "1", "7", "23", "456", "1000", ".", ",", " ", "'", "\u202f", "+", "-", "−",
                                        "*", "/", "(", ")", "e", "E-2", "%", "g", "x", "é" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260311);
  guint n_read = 0;

  for (guint i = 0; i < 40000; i++)
    {
      g_autoptr (GString) text = g_string_new (NULL);
      double value = -1.25;
      int n = g_rand_int_range (rand, 0, 9);

      while (n-- > 0)
        g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
      {
        g_autofree char *unit = NULL;
        g_autoptr (OgSaying) problem = og_amount_read (text->str, ".,"[i % 2], &value, i % 3 == 0 ? &unit : NULL);

        g_assert_true (isfinite (value));
        if (problem == NULL)
          n_read++;
        else
          {
            g_assert_cmpfloat (value, ==, -1.25);
            g_assert_null (unit);
            g_assert_cmpint (strlen (og_saying_text (problem)), >, 10);
          }
      }
    }
  g_assert_cmpuint (n_read, >, 2000);
}

/* A number that the program writes itself with the reader's mark comes back as it was. */
static void
test_round_trip (void)
{
  for (int i = 0; i < 3000; i++)
    for (const char *mark = ".,"; *mark != '\0'; mark++)
      {
        g_autofree char *text = g_strdup_printf ("%d%c%03d", i / 7, *mark, i % 1000);
        double wanted = i / 7 + i % 1000 / 1000.0;
        double value = NAN;
        g_autoptr (OgSaying) problem = og_amount_read (text, *mark, &value, NULL);

        g_assert_null (problem);
        g_assert_cmpfloat_with_epsilon (value, wanted, 1e-9);
      }
}

int
main (int    argc,
      char **argv)
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  og_core_init ();

  g_test_add_func ("/amount-text/good", test_good);
  g_test_add_func ("/amount-text/thousands-or-decimals", test_thousands_or_decimals);
  g_test_add_func ("/amount-text/refused", test_refused);
  g_test_add_func ("/amount-text/units", test_units);
  g_test_add_func ("/amount-text/any-text", test_any_text);
  g_test_add_func ("/amount-text/round-trip", test_round_trip);

  return g_test_run ();
}
