/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A draft comes from the core without words; its recipe gets them on the way to a document. */
#include "config.h"

#include "model/draft-words.h"

#include <locale.h>

#include "common/fixture.h"
#include "core/recipe/storage.h"

static OgDraft *
draft_of (OgCatalog *catalog,
          OgProduct  product,
          OgBody     body)
{
  const OgBrief brief = { .product = product, .body = body, .scent = TRUE };
  g_autoptr (GError) error = NULL;
  OgDraft *draft = og_draft (&brief, catalog, &error);

  g_assert_no_error (error);
  return draft;
}

static const OgFormulaPhase *
phase_at (const OgDraft *draft,
          guint          index)
{
  return g_ptr_array_index (draft->formula->phases, index);
}

static void
assert_no_words (const OgDraft *draft)
{
  g_autoptr (OgFormula) empty = og_formula_new ();

  g_assert_cmpstr (draft->formula->title, ==, empty->title);
  g_assert_cmpstr (draft->formula->notes, ==, empty->notes);
  for (guint i = 0; i < draft->formula->phases->len; i++)
    {
      g_assert_cmpstr (phase_at (draft, i)->name, ==, "");
      g_assert_null (phase_at (draft, i)->note);
    }
}

static void
test_words (void)
{
  g_autoptr (OgCatalog) catalog = fixture_catalog ();
  g_autoptr (OgDraft) draft = draft_of (catalog, OG_PRODUCT_BODY, OG_BODY_SET);

  g_assert_cmpuint (draft->formula->phases->len, ==, 3);
  g_assert_cmpuint (draft->phases->len, ==, 3);
  assert_no_words (draft);
  og_draft_write_words (draft);
  g_assert_cmpstr (draft->formula->title, ==, "Body oil: Set");
  g_assert_true (g_str_has_prefix (draft->formula->notes, "A first draft, computed and not yet made."));
  g_assert_cmpstr (phase_at (draft, 0)->name, ==, "Hot oil and agent");
  g_assert_nonnull (strstr (phase_at (draft, 0)->note, "water bath"));
  g_assert_cmpstr (phase_at (draft, 1)->name, ==, "Cooler oil");
  g_assert_nonnull (phase_at (draft, 1)->note);
  g_assert_cmpstr (phase_at (draft, 2)->name, ==, "Last");
  g_assert_null (phase_at (draft, 2)->note);
}

/* Whatever the brief, the recipe with its words is a document that is read back the same. */
static void
test_documents (void)
{
  g_autoptr (OgCatalog) catalog = fixture_catalog ();

  for (int body = OG_BODY_DRY; body <= OG_BODY_SET; body++)
    {
      g_autoptr (OgDraft) draft = draft_of (catalog, OG_PRODUCT_UNSAID, (OgBody) body);
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = NULL;
      g_autoptr (OgFormula) again = NULL;

      og_draft_write_words (draft);
      for (guint i = 0; i < draft->formula->phases->len; i++)
        g_assert_cmpstr (phase_at (draft, i)->name, !=, "");
      bytes = og_storage_serialise (draft->formula);
      again = og_storage_parse (bytes, "draft", catalog, &error);
      g_assert_no_error (error);
      g_assert_true (og_formula_equal (again, draft->formula));
    }
}

int
main (int    argc,
      char **argv)
{
  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/draft-words/words", test_words);
  g_test_add_func ("/draft-words/documents", test_documents);
  return g_test_run ();
}
