/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "core/recipe/recipe-limits.h"
#include "core/recipe/stability.h"
#include "core/recipe/storage.h"
#include "helpers.h"

/* Whatever a document takes can be saved, and the file is read back as the same recipe. */

static void
assert_reads_back (OgDocument *document)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = og_storage_serialise (og_document_get_formula (document));
  g_autoptr (OgFormula) read = og_storage_parse (bytes, "saved", test_catalog (), &error);

  g_assert_no_error (error);
  g_assert_true (og_formula_equal (read, og_document_get_formula (document)));
}

static double
pick (GRand        *rand,
      const double *values,
      guint         n_values)
{
  return values[g_rand_int_range (rand, 0, (gint32) n_values)];
}

/* On each limit, and next to it on both sides. */
static double
pick_temperature (GRand *rand)
{
  static const double values[] = {
    NAN, INFINITY, -INFINITY, -0.0, 4.9e-324,
    OG_RECIPE_LOWEST_C, OG_RECIPE_LOWEST_TYPED_C, OG_RECIPE_LOWEST_TYPED_C - 1e-9,
    OG_RECIPE_HIGHEST_C, OG_RECIPE_HIGHEST_TYPED_C, OG_RECIPE_HIGHEST_TYPED_C + 1e-9,
    0.1, 1.0 / 3.0
  };

  return pick (rand, values, G_N_ELEMENTS (values));
}

static double
pick_large (GRand  *rand,
            double  limit)
{
  const double values[] = { NAN, INFINITY, -1, 0, 4.9e-324, G_MINDOUBLE, 1.0 / 3.0, 1e15,
                            limit, nextafter (limit, 0), nextafter (limit, INFINITY) };

  return pick (rand, values, G_N_ELEMENTS (values));
}

static char *
pick_text (GRand *rand,
           guint  most)
{
  static const char *const nasty[] = { "", " ", "\"\\/", "\n\t\x01\x7f", "\xe2\x80\xa8",
                                       "\xf4\x8f\xbf\xbf", "\xd8\xb2\xd9\x8a\xd8\xaa" };
  const guint n = (guint) g_rand_int_range (rand, 0, G_N_ELEMENTS (nasty) + 2);

  return n < G_N_ELEMENTS (nasty) ? g_strdup (nasty[n])
                                  : g_strnfill (most + (n - G_N_ELEMENTS (nasty)), 'x');
}

static void
edit_words (GRand      *rand,
            OgDocument *document)
{
  g_autofree char *name = pick_text (rand, OG_RECIPE_MAX_NAME);
  const guint line = test_random_line (rand, document);
  const guint phase = test_random_phase (rand, document);

  switch (g_rand_int_range (rand, 0, 9))
    {
    case 0: og_document_set_title (document, name); break;
    case 1: og_document_set_purpose (document, name); break;
    case 2: og_document_set_notes (document, name); break;
    case 3: og_document_set_warnings (document, name); break;
    case 4: og_document_rename_phase (document, phase, name); break;
    case 5: og_document_set_phase_note (document, phase, name); break;
    case 6: og_document_set_line_note (document, line, name); break;
    case 7: og_document_set_line_ingredient (document, line, name); break;
    default: og_document_add_line (document, name, phase, 0); break;
    }
}

static void
edit_numbers (GRand      *rand,
              OgDocument *document)
{
  static const guint shares[] = { 0, 1, OG_RECIPE_MAX_TYPED_SHARE, OG_RECIPE_MAX_TYPED_SHARE + 1,
                                  OG_RECIPE_MAX_BALANCE_SHARE, G_MAXUINT };
  static const guint months[] = { 0, OG_RECIPE_MAX_MONTHS, OG_RECIPE_MAX_MONTHS + 1, G_MAXUINT };
  static const OgPpm amounts[] = { -1, 0, 1, OG_PPM_WHOLE - 1, OG_PPM_WHOLE, OG_PPM_WHOLE + 1 };
  const guint line = test_random_line (rand, document);
  const guint phase = test_random_phase (rand, document);
  const double large = pick_large (rand, OG_RECIPE_MAX_TARGET_MPA_S);
  OgBodyBounds bounds = og_document_get_formula (document)->body_bounds;

  switch (g_rand_int_range (rand, 0, 8))
    {
    case 0: og_document_set_batch_g (document, pick_large (rand, OG_RECIPE_MAX_BATCH_G)); break;
    case 1: og_document_set_target (document, pick_large (rand, 1e12), large); break;
    case 2: og_document_set_phase_temperature (document, phase, pick_temperature (rand)); break;
    case 3: og_document_set_line_temperature (document, line, pick_temperature (rand)); break;
    case 4:
      og_document_set_line_balance (document, line, shares[g_rand_int_range (rand, 0, 6)]);
      break;
    case 5: og_document_set_open_months (document, months[g_rand_int_range (rand, 0, 4)]); break;
    case 6: og_document_set_line_ppm (document, line, amounts[g_rand_int_range (rand, 0, 6)]); break;
    default:
      bounds.from[g_rand_int_range (rand, 0, OG_N_BODY_BOUNDS)] = large;
      og_document_set_body_bounds (document, &bounds);
      break;
    }
}

static void
edit_costs (GRand      *rand,
            OgDocument *document)
{
  g_autofree char *name = pick_text (rand, 100);
  g_autofree char *currency = pick_text (rand, 3);
  g_autoptr (GPtrArray) costs
    = g_ptr_array_new_with_free_func ((GDestroyNotify) og_cost_line_free);

  g_ptr_array_add (costs, og_cost_line_new (name, pick_large (rand, OG_RECIPE_MAX_PRICE), currency,
                                            (OgCostBasis) g_rand_int_range (rand, 0,
                                                                            OG_N_COST_BASES)));
  og_document_set_costs (document, costs);
}

static GDate
pick_date (GRand *rand)
{
  static const GDateYear years[] = { 1, 2024, OG_RECIPE_LAST_YEAR, OG_RECIPE_LAST_YEAR + 1, 65535 };
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 28, G_DATE_FEBRUARY,
                  years[g_rand_int_range (rand, 0, G_N_ELEMENTS (years))]);

  return date;
}

static void
edit_handover (GRand      *rand,
               OgDocument *document)
{
  g_autofree char *text = pick_text (rand, 100);
  const char *const ids[] = { text, "castor-oil", NULL };
  const GDate date = pick_date (rand);
  OgPackage package = og_document_get_formula (document)->package;

  switch (g_rand_int_range (rand, 0, 5))
    {
    case 0: og_document_set_label (document, ids, ids + 1, TRUE); break;
    case 1: og_document_set_stability_plan (document, &date, OG_RECIPE_MAX_MONTHS); break;
    case 2:
      package.nominal = pick_large (rand, 1e6);
      package.capacity_ml = pick_large (rand, 1e6);
      package.applicator_ml = pick_large (rand, 1e6);
      og_document_set_package (document, &package);
      break;
    case 3:
      og_document_add_stability_result (
        document,
        og_stability_result_new (&date, (OgStabilityTest) 0, (OgStabilityReading) 0,
                                 pick_large (rand, 1e300), text));
      break;
    default: edit_costs (rand, document); break;
    }
}

static void
test_random (void)
{
  static void (*const edits[]) (GRand *, OgDocument *)
    = { edit_words, edit_numbers, edit_handover };
  g_autoptr (GRand) rand = g_rand_new_with_seed (g_test_rand_int ());
  OgDocument *document = test_filled_document ();
  guint n_steps = 0;

  for (guint i = 0; i < 600; i++)
    {
      const guint64 revision = og_document_get_revision (document);

      if (i % 8 == 7)
        test_random_edit (rand, document);
      else
        edits[g_rand_int_range (rand, 0, G_N_ELEMENTS (edits))] (rand, document);
      if (revision == og_document_get_revision (document))
        continue;
      n_steps++;
      assert_reads_back (document);
    }
  g_assert_cmpuint (n_steps, >, 100);
  g_object_unref (document);
}

/* What random edits do not reach. */
static void
test_text (void)
{
  OgDocument *document = test_filled_document ();
  g_autofree char *longest = g_strnfill (OG_RECIPE_MAX_TYPED_TEXT, 'x');
  g_autofree char *longer = g_strnfill (OG_RECIPE_MAX_TYPED_TEXT + 1, 'x');
  const guint line = og_formula_find_ingredient (og_document_get_formula (document),
                                                 "beeswax")->id;

  g_assert_true (og_document_set_notes (document, longest));
  g_assert_true (og_document_set_warnings (document, longest));
  g_assert_true (og_document_set_line_note (document, line, longest));
  g_assert_true (og_document_set_phase_note (document, 1, longest));
  assert_reads_back (document);
  g_assert_false (og_document_set_notes (document, longer));
  g_assert_false (og_document_set_warnings (document, longer));
  g_assert_false (og_document_set_line_note (document, line, longer));
  g_assert_false (og_document_set_phase_note (document, 1, longer));
  g_object_unref (document);
}

/* A file may hold the highest id; no line comes after it. */
static void
test_last_id (void)
{
  OgDocument *document = test_filled_document ();
  OgFormula *formula = og_formula_copy (og_document_get_formula (document));

  og_formula_find_ingredient (formula, "beeswax")->id = OG_RECIPE_MAX_ID - 1;
  formula->next_id = OG_RECIPE_MAX_ID;
  og_document_reset (document, formula);
  assert_reads_back (document);
  g_assert_cmpuint (og_document_add_line (document, "jojoba-oil", 1, 0), ==, OG_RECIPE_MAX_ID);
  assert_reads_back (document);
  g_assert_cmpuint (og_document_add_line (document, "jojoba-oil", 1, 0), ==, 0);
  g_assert_cmpuint (og_document_add_phase (document, NULL, 0), ==, 0);
  assert_reads_back (document);
  g_object_unref (document);
}

/* A whole recipe from elsewhere is held to the same limits. */
static void
test_replace (void)
{
  OgDocument *document = test_filled_document ();
  const guint64 revision = og_document_get_revision (document);
  OgFormula *formula = og_formula_copy (og_document_get_formula (document));

  formula->batch_g = 2 * OG_RECIPE_MAX_BATCH_G;
  g_assert_false (og_document_replace (document, formula, "Replace"));
  formula = og_formula_copy (og_document_get_formula (document));
  og_formula_find_ingredient (formula, "beeswax")->add_temperature_c = OG_RECIPE_HIGHEST_C + 1;
  g_assert_false (og_document_replace (document, formula, "Replace"));
  g_assert_cmpuint (og_document_get_revision (document), ==, revision);
  formula = og_formula_copy (og_document_get_formula (document));
  og_formula_find_ingredient (formula, "beeswax")->add_temperature_c = OG_RECIPE_HIGHEST_C;
  g_assert_true (og_document_replace (document, formula, "Replace"));
  assert_reads_back (document);
  g_object_unref (document);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/limits/random", test_random);
  g_test_add_func ("/limits/text", test_text);
  g_test_add_func ("/limits/last-id", test_last_id);
  g_test_add_func ("/limits/replace", test_replace);

  return g_test_run ();
}
