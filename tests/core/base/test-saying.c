/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sayings become sentences when they are read: expectations are written out by hand. */
#include <glib.h>
#include <locale.h>
#include <math.h>

#include "core/base/saying.h"

#define THIN "\u202f"
#define MINUS "\u2212"

static void
test_words (void)
{
  g_autoptr (OgSaying) inner = og_saying_new ("%s g", og_word_trimmed (12.50, 3));
  g_autoptr (OgSaying) saying = og_saying_new ("%s: %s, %s of %s at 100 %%, %s, %s", og_word_text ("Castor oil"),
                                               og_word_saying (inner), og_word_count (1200), og_word_viscosity (847),
                                               og_word_signed (-3.14, 1), og_word_fixed (NAN, 2));
  g_autoptr (OgSaying) turned = og_saying_new ("%2$s before %1$s", og_word_given (1.5), og_word_significant (0.123, 2));
  g_autoptr (OgSaying) bands
      = og_saying_new ("%s; %s; %s", og_word_band ((OgEstimate) { 850, 400, 1800 }),
                       og_word_range ((OgEstimate) { 850, 400, 1800 }), og_word_band (OG_ESTIMATE_UNKNOWN));

  g_assert_cmpstr (og_saying_text (saying), ==,
                   "Castor oil: 12.5 g, 1" THIN "200 of 850 at 100 %, " MINUS "3.1, unknown");
  g_assert_cmpstr (og_saying_text (turned), ==, "0.12 before 1.5");
  g_assert_cmpstr (og_saying_text (bands), ==, "80 % between 400 and 1" THIN "800; 400–1" THIN "800; unknown");
  g_assert_null (og_saying_text (NULL));
  g_assert_null (og_saying_verbatim (NULL));
}

static void
test_verbatim_keeps_every_sign (void)
{
  g_autoptr (OgSaying) saying = og_saying_verbatim ("3 %s of 100 %");
  g_autoptr (OgSaying) named = og_saying_new ("“%s”", og_word_text ("%s"));

  g_assert_cmpstr (og_saying_text (saying), ==, "3 %s of 100 %");
  g_assert_cmpstr (og_saying_text (named), ==, "“%s”");
}

/* A message without values is no pattern. */
static void
test_plain_keeps_every_sign (void)
{
  g_autoptr (OgSaying) saying = og_saying_plain ("below 1 % in any order");

  g_assert_cmpstr (og_saying_text (saying), ==, "below 1 % in any order");
}

static void
test_list (void)
{
  GPtrArray *parts = og_sayings_new ();
  g_autoptr (OgSaying) list = NULL;

  g_ptr_array_add (parts, og_saying_plain ("Warm it."));
  g_ptr_array_add (parts, og_saying_new ("Stir %s minutes.", og_word_count (5)));
  list = og_saying_list (" ", parts);
  g_assert_cmpstr (og_saying_text (list), ==, "Warm it. Stir 5 minutes.");
}

static void
test_plural (void)
{
  g_autoptr (OgSaying) one = og_saying_new_plural (NP_ ("%s tube", "%s tubes"), 1, og_word_count (1));
  g_autoptr (OgSaying) many = og_saying_new_plural (NP_ ("%s tube", "%s tubes"), 3, og_word_count (3));

  g_assert_cmpstr (og_saying_text (one), ==, "1 tube");
  g_assert_cmpstr (og_saying_text (many), ==, "3 tubes");
}

/* A saying is made in the core and read in the language of whoever reads it, even if that changes in between. */
static void
test_locale_of_the_reader (void)
{
  g_autofree char *before = g_strdup (setlocale (LC_NUMERIC, NULL));
  g_autoptr (OgSaying) saying = og_saying_new ("%s g", og_word_fixed (12.5, 1));

  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") == NULL)
    {
      g_test_skip ("there is no locale with a decimal comma");
      return;
    }
  g_assert_cmpstr (og_saying_text (saying), ==, "12,5 g");
  setlocale (LC_NUMERIC, before);
}

static void
test_equal (void)
{
  g_autoptr (OgSaying) a = og_saying_new ("%s g", og_word_fixed (NAN, 1));
  g_autoptr (OgSaying) same = og_saying_new ("%s g", og_word_fixed (NAN, 1));
  g_autoptr (OgSaying) other = og_saying_new ("%s g", og_word_fixed (2.0, 1));
  g_autoptr (OgSaying) exact = og_saying_new ("%s g", og_word_significant (12.34, 3));
  g_autoptr (OgSaying) near = og_saying_new ("%s g", og_word_significant (12.31, 3));
  g_autoptr (OgSaying) far = og_saying_new ("%s g", og_word_significant (12.36, 3));
  g_autoptr (OgSaying) band = og_saying_new ("%s", og_word_band ((OgEstimate){ 850, 401, 1800 }));
  g_autoptr (OgSaying) like = og_saying_new ("%s", og_word_band ((OgEstimate){ 860, 399, 1810 }));
  g_autoptr (OgSaying) wider = og_saying_new ("%s", og_word_band ((OgEstimate){ 850, 401, 1900 }));
  g_autoptr (OgSaying) unit = og_saying_new ("%s kg", og_word_fixed (NAN, 1));

  g_assert_true (og_saying_equal (a, same));
  g_assert_false (og_saying_equal (a, other));
  g_assert_false (og_saying_equal (a, unit));
  g_assert_false (og_saying_equal (a, NULL));
  g_assert_true (og_saying_equal (NULL, NULL));
  g_assert_true (og_saying_equal (exact, near));
  g_assert_false (og_saying_equal (exact, far));
  g_assert_true (og_saying_equal (band, like));
  g_assert_false (og_saying_equal (band, wider));
}

int
main (int    argc,
      char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/saying/words", test_words);
  g_test_add_func ("/saying/verbatim", test_verbatim_keeps_every_sign);
  g_test_add_func ("/saying/plain", test_plain_keeps_every_sign);
  g_test_add_func ("/saying/list", test_list);
  g_test_add_func ("/saying/plural", test_plural);
  g_test_add_func ("/saying/locale", test_locale_of_the_reader);
  g_test_add_func ("/saying/equal", test_equal);
  return g_test_run ();
}
