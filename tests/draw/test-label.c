/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>

#include "core/recipe/recipe-table.h"
#include "draw/label.h"
#include "fixtures.h"
#include "recipes.h"

#define TABLE                                                                                      \
  "phase,ingredient,percent\nA,castor-oil,96.4\nA,tocopherol,0.5\nB,red-iron-oxide,0.1\n"          \
  "B,titanium-dioxide,3.0\n"

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  g_autoptr (GError) error = NULL;
  OgFormula *formula = og_recipe_table_parse (table, -1, "test.csv", catalog, &error);

  g_assert_no_error (error);
  g_free (formula->title);
  formula->title = g_strdup ("Quayside fluid");
  formula->product = OG_PRODUCT_LIP_ROLL_ON;

  return formula;
}

static void
set_warnings (OgFormula  *formula,
              const char *text)
{
  g_free (formula->warnings);
  formula->warnings = g_strdup (text);
}

static OgLabel *
label_of (const OgFormula   *formula,
          OgMarket           market,
          const OgLabelText *text)
{
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgDeclaration) declaration = og_declare (formula, catalog, market, NULL);

  return og_label_new (formula, result, declaration, text);
}

static char *
words_of (const OgFormula   *formula,
          OgMarket           market,
          const OgLabelText *text)
{
  g_autoptr (OgLabel) label = label_of (formula, market, text);

  return og_label_describe (label);
}

/* The points a) to g) of Regulation (EC) 1223/2009, Article 19(1). */
static void
test_points (void)
{
  const OgLabelText said = { "TQ-0417", NULL, "Tern Quay Workshop, Harbour Lane 3", "Ruritania" };
  g_autoptr (OgFormula) formula = recipe (TABLE);
  g_autofree char *full = NULL;
  g_autofree char *bare = NULL;

  formula->package.nominal = 10;
  formula->open_months = 12;
  set_warnings (formula, "Keep out of the eyes.");
  full = words_of (formula, OG_MARKET_EU, &said);
  test_assert_has (full, "Quayside fluid\nLip oil, roll-on\nNet content: 10 ml\n");
  test_assert_has (full, "Ingredients: Ricinus Communis Seed Oil, Tocopherol, CI 77891, CI 77491\n");
  test_assert_has (full, "Keep out of the eyes.\nPeriod after opening: 12 months\nBatch: TQ-0417\n");
  test_assert_has (full, "Responsible person: Tern Quay Workshop, Harbour Lane 3\n");
  test_assert_has (full, "Country of origin: Ruritania\n");
  test_assert_has_not (full, "____");
  test_assert_has_not (full, "not complete");

  bare = words_of (formula, OG_MARKET_EU, NULL);
  test_assert_has (bare, "Batch: ____");
  test_assert_has (bare, "Responsible person: ____");
}

/* Month and year, or day, month and year: Article 19(1)(c), recalled. */
static void
test_best_before (void)
{
  const OgLabelText said = { .best_before = "2027-08" };
  g_autoptr (OgFormula) formula = recipe (TABLE);
  g_autofree char *dated = NULL;
  g_autofree char *silent = words_of (formula, OG_MARKET_EU, NULL);

  formula->open_months = 12;
  dated = words_of (formula, OG_MARKET_EU, &said);
  test_assert_has (dated, "Best used before the end of: 08/2027\n");
  test_assert_has_not (dated, "Period after opening");
  test_assert_has (silent, "Best used before the end of: ____");
}

/* 1 US fl oz = 29.5735 ml, 1 oz = 28.3495 g; down to hundredths: 10/29.5735 = 0.338, 100/28.3495 =
 * 3.527. */
static void
test_us_content (void)
{
  g_autoptr (OgFormula) formula = recipe (TABLE);
  g_autofree char *volume = NULL;
  g_autofree char *mass = NULL;

  formula->package.nominal = 10;
  volume = words_of (formula, OG_MARKET_US, NULL);
  test_assert_has (volume, "Net content: 0.33 fl oz (10 ml)\n");
  test_assert_has (volume, "1/16 inch");
  formula->package.nominal = 100;
  formula->package.unit = OG_NET_G;
  mass = words_of (formula, OG_MARKET_US, NULL);
  test_assert_has (mass, "3.52 oz (100 g)\n");
}

/* Regulation (EC) 1223/2009, Annex III/376. */
static void
test_demanded_warning (void)
{
  g_autoptr (OgFormula) with
      = recipe ("phase,ingredient,percent\nA,castor-oil,99.9\nA,retinyl-palmitate,0.1\n");
  g_autoptr (OgFormula) without = recipe (TABLE);
  g_autofree char *warned = words_of (with, OG_MARKET_EU, NULL);
  g_autofree char *plain = words_of (without, OG_MARKET_EU, NULL);

  test_assert_has (warned, "Contains Vitamin A.");
  test_assert_has_not (plain, "Vitamin A");
}

static void
test_incomplete (void)
{
  g_autoptr (OgFormula) formula
      = recipe ("phase,ingredient,percent\nA,castor-oil,99\nA,fragrance-oil,1\n");
  g_autofree char *words = words_of (formula, OG_MARKET_EU, NULL);

  test_assert_has (words, "not complete");
}

static void
test_files (void)
{
  static const struct
  {
    const char    *name;
    OgExportFormat format;
    const char    *start; /* first bytes of such a file */
  } files[] = {
    { "label.pdf", OG_EXPORT_PDF, "%PDF-1." },
    { "label.png", OG_EXPORT_PNG, "\x89PNG\r\n\x1a\n" },
    { "label.svg", OG_EXPORT_SVG, "<?xml version=\"1.0\"" },
  };
  g_autoptr (OgFormula) formula = recipe (TABLE);
  g_autoptr (OgLabel) label = NULL;
  char *folder = test_folder_new ();

  formula->package.nominal = 10;
  formula->open_months = 6;
  label = label_of (formula, OG_MARKET_EU, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (files); i++)
    {
      g_autofree char *path = g_build_filename (folder, files[i].name, NULL);
      g_autofree char *bytes = NULL;
      g_autofree char *text = NULL;
      g_autoptr (GError) error = NULL;

      g_assert_true (og_export_label (label, path, files[i].format, &error));
      g_assert_no_error (error);
      g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
      g_assert_true (memcmp (bytes, files[i].start, strlen (files[i].start)) == 0);
      text = files[i].format == OG_EXPORT_PDF ? test_pdf_to_text (path) : NULL;
      if (text == NULL)
        continue;
      test_assert_has (text, "Quayside fluid");
      test_assert_has (text, "Ricinus Communis Seed Oil");
      test_assert_has (text, "CI 77891");
      /* a narrow space between letters this bold need not come out as one */
      g_assert_true (strstr (text, "6 M") != NULL || strstr (text, "6M") != NULL);
      test_assert_has (text, "10 ml");
    }
  test_folder_remove (folder);
}

static void
test_refused_format (void)
{
  g_autoptr (OgFormula) formula = recipe (TABLE);
  g_autoptr (OgLabel) label = label_of (formula, OG_MARKET_EU, NULL);
  g_autoptr (GError) error = NULL;

  g_assert_false (og_export_label (label, "label.csv", OG_EXPORT_CSV, &error));
  g_assert_nonnull (error);
}

/* Everything stays within the width and the measured height, in both directions. */
static void
test_keeps_its_place (void)
{
  static const double widths[] = { 90, 200, 340, 800 };
  g_autoptr (OgFormula) formula = recipe (TABLE);
  g_autoptr (OgLabel) label = NULL;

  formula->open_months = 12;
  set_warnings (formula, "bad \xff\xfe bytes <b>& \u0627\u0644\u0632\u064a\u062a more words");
  label = label_of (formula, OG_MARKET_US, NULL);
  for (guint i = 0; i < 2 * G_N_ELEMENTS (widths); i++)
    {
      const int margin = 8;
      double width = widths[i / 2], height;
      cairo_surface_t *surface;
      cairo_t *cr;
      OgDrawStyle style;

      og_draw_style_paper (&style);
      style.rtl = i % 2 == 1;
      height = og_label_measure (label, width, &style);
      surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) width + 2 * margin,
                                            (int) ceil (height) + 2 * margin);
      cr = cairo_create (surface);
      cairo_set_source_rgb (cr, 1, 1, 1);
      cairo_paint (cr);
      cairo_translate (cr, margin, margin);
      og_label_draw (label, cr, width, &style);
      g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
      cairo_destroy (cr);
      cairo_surface_flush (surface);
      test_assert_border (surface, margin - 1, 0xffffff);
      g_assert_cmpuint (test_count_ink (surface, 0xffffff), >, 300);
      cairo_surface_destroy (surface);
    }
}

int
main (int   argc,
      char *argv[])
{
  int status;

  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  catalog = test_catalog_load ();
  g_test_add_func ("/label/points", test_points);
  g_test_add_func ("/label/best-before", test_best_before);
  g_test_add_func ("/label/us-content", test_us_content);
  g_test_add_func ("/label/demanded-warning", test_demanded_warning);
  g_test_add_func ("/label/incomplete", test_incomplete);
  g_test_add_func ("/label/files", test_files);
  g_test_add_func ("/label/refused-format", test_refused_format);
  g_test_add_func ("/label/keeps-its-place", test_keeps_its_place);
  status = g_test_run ();
  og_catalog_unref (catalog);

  return status;
}
