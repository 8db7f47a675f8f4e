/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/recipe-limits.h"
#include "core/recipe/storage.h"
#include "core/recipe/versions.h"
#include "helpers.h"
#include "model/side-by-side.h"

static const OgVersion *
version (OgDocument *document,
         const char *name)
{
  return og_versions_find (og_document_get_formula (document)->versions, name, NULL);
}

static gboolean
keep (OgDocument *document,
      const char *name,
      const char *note)
{
  GDate date;

  g_date_set_dmy (&date, 30, 11, 2026);
  return og_document_keep_version (document, name, note, &date);
}

static OgPpm
amount_of (OgDocument *document,
           const char *ingredient_id)
{
  return og_formula_find_ingredient (og_document_get_formula (document), ingredient_id)->amount;
}

static void
set_amount (OgDocument *document,
            const char *ingredient_id,
            OgPpm       amount)
{
  const OgFormula *formula = og_document_get_formula (document);

  g_assert_true (og_document_set_line_ppm (document,
                                           og_formula_find_ingredient (formula, ingredient_id)->id,
                                           amount));
}

static void
test_life (void)
{
  g_autoptr (OgDocument) document = test_filled_document ();
  g_autofree char *start = test_serialise (document);
  g_autofree char *end = NULL;
  g_autofree char *proposed = og_document_propose_version_name (document);

  g_assert_cmpstr (proposed, ==, "Version 1");
  g_assert_true (keep (document, "One", "the start"));
  g_assert_cmpstr (og_document_get_undo_label (document), ==, "Keep version “One”");
  set_amount (document, "beeswax", 70000);
  og_document_set_title (document, "Firmer");
  g_assert_true (keep (document, "Two", ""));

  g_assert_true (og_document_go_back (document, "One"));
  g_assert_cmpstr (og_document_get_undo_label (document), ==, "Go back to “One”");
  g_assert_cmpint (amount_of (document, "beeswax"), ==, 50000);
  g_assert_cmpstr (og_document_get_title (document), ==, "");
  g_assert_cmpuint (og_document_get_formula (document)->versions->len, ==, 2);
  og_document_undo (document);
  g_assert_cmpint (amount_of (document, "beeswax"), ==, 70000);
  g_assert_cmpstr (og_document_get_title (document), ==, "Firmer");
  og_document_redo (document);
  g_assert_false (og_document_go_back (document, "One"));

  g_assert_true (og_document_set_version_name (document, "One", "Start", "softer"));
  g_assert_null (version (document, "One"));
  g_assert_cmpstr (version (document, "Start")->note, ==, "softer");
  g_assert_true (og_document_get_formula (document)->versions->pdata[0] == version (document, "Start"));
  g_assert_true (og_document_set_version_name (document, "Start", "Start", ""));
  g_assert_true (og_document_remove_version (document, "Two"));
  g_assert_null (version (document, "Two"));
  og_document_undo (document);
  g_assert_nonnull (version (document, "Two"));

  while (og_document_get_modified (document))
    og_document_undo (document);
  end = test_serialise (document);
  g_assert_cmpstr (end, ==, start);
}

static void
test_refusals (void)
{
  g_autoptr (OgDocument) document = test_filled_document ();
  g_autofree char *longest = g_strnfill (OG_RECIPE_MAX_VERSION_NOTE + 1, 'n');

  g_assert_true (keep (document, "One", ""));
  g_assert_true (keep (document, "Two", ""));
  og_document_mark_saved (document);
  g_assert_false (keep (document, "One", ""));
  g_assert_false (keep (document, "", ""));
  g_assert_false (keep (document, " Three", ""));
  g_assert_false (keep (document, "Three", longest));
  g_assert_false (og_document_go_back (document, "Three"));
  g_assert_false (og_document_go_back (document, "One"));
  g_assert_false (og_document_remove_version (document, "Three"));
  g_assert_false (og_document_set_version_name (document, "Three", "Four", ""));
  g_assert_false (og_document_set_version_name (document, "One", "Two", ""));
  g_assert_false (og_document_set_version_name (document, "One", "", ""));
  g_assert_false (og_document_set_version_name (document, "One", "One", ""));
  g_assert_false (og_document_get_modified (document));

  for (guint i = 2; i < OG_RECIPE_MAX_VERSIONS; i++)
    {
      g_autofree char *name = og_document_propose_version_name (document);

      g_assert_true (keep (document, name, ""));
    }
  g_assert_false (keep (document, "One more", ""));
}

/* What is kept goes with the recipe as a file, however large its notes: half of what a file holds. */
static void
test_size (void)
{
  g_autoptr (OgDocument) document = test_filled_document ();
  g_autofree char *notes = g_strnfill (OG_RECIPE_MAX_TYPED_TEXT, 'n');
  g_autoptr (GBytes) bytes = NULL;
  guint n = 0;

  og_document_set_notes (document, notes);
  for (;; n++)
    {
      g_autofree char *name = og_document_propose_version_name (document);

      if (!keep (document, name, ""))
        break;
    }
  g_assert_cmpuint (n, >, 25);
  g_assert_cmpuint (n, <, 34);
  bytes = og_storage_serialise (og_document_get_formula (document));
  g_assert_cmpuint (g_bytes_get_size (bytes), <=, 32 * 1024 * 1024);
}

/* Readings belong to all versions; a replaced recipe keeps its own versions. */
static void
test_common (void)
{
  g_autoptr (OgDocument) document = test_filled_document ();
  g_autoptr (OgFormula) other = og_formula_new ();
  const OgFormula *formula;

  g_assert_true (keep (document, "One", ""));
  g_assert_true (og_document_add_measurement (document, test_recipe_reading (document, 700)));
  set_amount (document, "beeswax", 70000);
  g_assert_true (og_document_go_back (document, "One"));
  formula = og_document_get_formula (document);
  g_assert_cmpuint (formula->measurements->len, ==, 1);
  g_assert_true (og_measurement_is_of (formula->measurements->pdata[0], version (document, "One")->recipe));

  og_formula_add_line (other, og_formula_add_phase (other, "A", 80, 0), "castor-oil", OG_PPM_WHOLE, 0);
  g_assert_true (og_document_replace (document, g_steal_pointer (&other), "Take over"));
  g_assert_nonnull (version (document, "One"));
  g_assert_true (og_document_go_back (document, "One"));
  g_assert_cmpint (amount_of (document, "beeswax"), ==, 50000);
}

static void
count (guint *n)
{
  (*n)++;
}

static const char *
name_beside (OgSideBySide *beside,
             guint         index)
{
  const OgComparison *comparison = og_side_by_side_get_comparison (beside);

  return ((const OgCompared *) g_ptr_array_index (comparison->recipes, index))->name;
}

static void
test_beside (void)
{
  g_autoptr (OgDocument) document = test_filled_document ();
  OgSideBySide *beside = og_side_by_side_of (document);
  guint n_changes = 0;

  g_assert_true (og_side_by_side_of (document) == beside);
  g_assert_null (og_side_by_side_get_comparison (beside));
  g_signal_connect_swapped (beside, "changed", G_CALLBACK (count), &n_changes);
  for (guint i = 0; i < 4; i++)
    {
      g_autofree char *name = og_document_propose_version_name (document);

      set_amount (document, "beeswax", 50000 + 1000 * (OgPpm) i + 1);
      g_assert_true (keep (document, name, ""));
    }
  test_run_idle ();
  n_changes = 0;
  g_assert_false (og_side_by_side_set_beside (beside, "nobody kept this", TRUE));
  g_assert_true (og_side_by_side_set_beside (beside, "Version 2", TRUE));
  g_assert_true (og_side_by_side_set_beside (beside, "Version 2", TRUE));
  g_assert_true (og_side_by_side_set_beside (beside, "Version 1", TRUE));
  g_assert_true (og_side_by_side_set_beside (beside, "Version 4", TRUE));
  g_assert_false (og_side_by_side_set_beside (beside, "Version 3", TRUE));
  g_assert_cmpuint (n_changes, ==, 3);
  g_assert_cmpuint (og_side_by_side_get_comparison (beside)->recipes->len, ==, 4);
  g_assert_cmpstr (name_beside (beside, 1), ==, "Version 2");

  /* a renamed version stays, a removed one goes, and both go back with undo */
  g_assert_true (og_document_set_version_name (document, "Version 2", "Best", ""));
  g_assert_true (og_side_by_side_is_beside (beside, "Best"));
  g_assert_true (og_document_remove_version (document, "Version 1"));
  g_assert_cmpuint (og_side_by_side_get_n (beside), ==, 2);
  og_document_undo (document);
  og_document_undo (document);
  g_assert_true (og_side_by_side_is_beside (beside, "Version 2"));

  /* what is compared follows the recipe */
  n_changes = 0;
  g_assert_true (og_document_go_back (document, "Version 2"));
  test_run_idle ();
  g_assert_cmpuint (n_changes, ==, 1);
  g_assert_cmpfloat (((const OgCompared *) og_side_by_side_get_comparison (beside)->recipes->pdata[1])
                       ->ratios[OG_COMPARISON_POUR].value, ==, 1.0);
  g_assert_true (og_side_by_side_set_beside (beside, "Version 2", FALSE));
  g_assert_true (og_side_by_side_set_beside (beside, "Version 4", FALSE));
  g_assert_null (og_side_by_side_get_comparison (beside));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/document-versions/life", test_life);
  g_test_add_func ("/document-versions/refusals", test_refusals);
  g_test_add_func ("/document-versions/size", test_size);
  g_test_add_func ("/document-versions/common", test_common);
  g_test_add_func ("/document-versions/beside", test_beside);

  return g_test_run ();
}
