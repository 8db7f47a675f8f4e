/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "draw/batch-sheet.h"
#include "draw/export.h"
#include "fixtures.h"
#include "recipes.h"

static OgCatalog *catalog;

typedef struct
{
  OgFormula   *formula;
  OgResult    *result;
  GPtrArray   *balances;
  OgBatchPlan *plan;
  OgStovePlan *stove;
} Bench;

static void
set_up (Bench     *bench,
        OgFormula *formula)
{
  g_autoptr (GError) error = NULL;
  OgBatchOptions options;
  OgStoveSetup setup;

  bench->formula = formula;
  bench->result = test_evaluate (formula, catalog);
  bench->balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_ptr_array_add (bench->balances, og_balance_new ("quay scale", 0.01, NAN, 600));
  og_batch_options_init (&options, formula);
  options.balances = bench->balances;
  bench->plan = og_batch_plan_new (formula, bench->result, &options, &error);
  g_assert_no_error (error);
  og_stove_setup_init (&setup);
  bench->stove = og_stove_plan (formula, bench->result, &setup);
}

static void
tear_down (Bench *bench)
{
  og_batch_plan_free (bench->plan);
  og_stove_plan_free (bench->stove);
  g_ptr_array_unref (bench->balances);
  og_result_unref (bench->result);
  og_formula_free (bench->formula);
}

static OgCard *
sheet_of (const Bench *bench)
{
  const OgBatchSheetHead head = { "TQ-014", NULL, NULL };

  return og_batch_sheet_new (bench->formula, bench->result, bench->plan, bench->stove, &head, NULL, 0);
}

/* ISO 22716:2007, recalled: number, planned size, every material with lot and two weights, every
 * step, checks, yield, retained samples, deviations, release. */
static void
test_fields (void)
{
  Bench bench;
  g_autoptr (OgCard) sheet = NULL;
  g_autofree char *text = NULL;

  set_up (&bench, test_recipe_new (catalog));
  sheet = sheet_of (&bench);
  text = og_card_to_markdown (sheet);
  test_assert_has (text, "| TQ-014 |");
  test_assert_has (text, "200 g");
  test_assert_has (text, "| Material | Lot | To weigh, g | Weighed, g | Balance | Initials, time |");
  for (guint i = 0; i < bench.plan->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (bench.plan->lines, i);
      g_autofree char *row = g_strdup_printf ("| %s |  | %.2f |  | quay scale |", line->name,
                                              line->weighing.rounded_g);

      test_assert_has (text, row);
    }
  g_assert_cmpuint (bench.stove->steps->len, >, 0);
  for (guint i = 0; i < bench.stove->steps->len; i++)
    {
      g_autofree char *row = g_strdup_printf ("\n| %u | ", i + 1);

      test_assert_has (text, row);
    }
  test_assert_has (text, "Retained samples");
  test_assert_has (text, "## Deviations");
  test_assert_has (text, "## Release");
  tear_down (&bench);
}

static void
test_lots (void)
{
  Bench bench;
  g_autoptr (OgCard) sheet = NULL;
  g_autofree char *text = NULL;
  OgBatchSheetLot lot = { 0, "TQ | 7" };

  set_up (&bench, test_recipe_new (catalog));
  lot.line_id = ((OgBatchWeighing *) g_ptr_array_index (bench.plan->lines, 0))->line_id;
  sheet = og_batch_sheet_new (bench.formula, bench.result, bench.plan, bench.stove, NULL, &lot, 1);
  text = og_card_to_markdown (sheet);
  test_assert_has (text, "TQ \\| 7");
  g_clear_pointer (&text, g_free);
  text = og_card_to_html (sheet);
  test_assert_has (text, "<td>TQ | 7</td>");
  tear_down (&bench);
}

/* Every page of a long sheet repeats the titles of the table it goes on with. */
static void
test_pages (void)
{
  Bench bench;
  g_autoptr (OgCard) sheet = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "sheet.pdf", NULL);
  guint n_titles = 0;
  OgDrawStyle style;

  set_up (&bench, test_recipe_new_long (120));
  sheet = sheet_of (&bench);
  og_draw_style_paper (&style);
  g_assert_cmpuint (og_card_paginate (sheet, 595, 842, &style), >, 3);
  g_assert_true (og_export_sheet (sheet, path, OG_EXPORT_PDF, &error));
  g_assert_no_error (error);
  text = test_pdf_to_text (path);
  if (text == NULL)
    g_test_skip ("no pdftotext is installed");
  else
    {
      for (const char *p = text; (p = strstr (p, "To weigh, g")) != NULL; p++)
        n_titles++;
      g_assert_cmpuint (n_titles, >, 2);
    }
  g_unlink (path);
  test_folder_remove (folder);
  tear_down (&bench);
}

int
main (int    argc,
      char **argv)
{
  int status;

  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  catalog = test_catalog_load ();
  g_test_add_func ("/batch-sheet/fields", test_fields);
  g_test_add_func ("/batch-sheet/lots", test_lots);
  g_test_add_func ("/batch-sheet/pages", test_pages);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
