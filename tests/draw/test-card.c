/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <locale.h>
#include <math.h>
#include <string.h>

#include "draw/export.h"
#include "fixtures.h"
#include "recipes.h"

static OgCatalog *catalog;

static char *
markdown_of (const OgFormula *formula)
{
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (OgCard) card = og_card_new (formula, result);

  return og_card_to_markdown (card);
}

static guint
count (const char *text,
       const char *part)
{
  guint n = 0;

  for (const char *p = strstr (text, part); p != NULL; p = strstr (p + strlen (part), part))
    n++;

  return n;
}

/* Shares and grams by hand: 200 g at 42, 55.25 (what is left), 2.25 and 0.5 %. INCI names: as the catalog cites them. */
static void
test_markdown_table (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autofree char *text = markdown_of (formula);

  g_assert_true (g_str_has_prefix (text, "# Affluent µ-office fluid\n\nFor the ferry's office staff\n\n**"));
  test_assert_has (text, "## Recipe for 200 g\n\n| Ingredient | INCI | wt % | g | Remarks |\n|---|---|---:|---:|---|\n"
                         "| **Melt** | | | | 110 °C |\n"
                         "| Castor oil | Ricinus Communis (Castor) Seed Oil | 42.00 | 84.00 | held |\n"
                         "| Sunflower oil, high oleic | Helianthus Annuus (Sunflower) Seed Oil | 55.25 | 110.50 | "
                         "makes up to 100 % |\n");
  test_assert_has (text, "| Polyamide-3 | | 2.25 | 4.50 | |\n");
  test_assert_has (text, "| **Last** | | | | |\n");
  test_assert_has (text, " 0.50 | 1.00 | |\n| **Total** | | 100.00 | 200.00 | |\n");
  g_assert_true (g_str_has_suffix (text, "\n"));
}

static void
test_markdown_sections (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autofree char *text = markdown_of (formula);

  test_assert_has (text, " when poured at 25 °C, 80 % between ");
  test_assert_has (text, "target of 300–1\u202f200 mPa·s.");
  test_assert_has (text, "\n## Making it\n\n1. ");
  test_assert_has (text, "> **Caution:** ");
  test_assert_has (text, "\n## Fatty acids and figures\n");
  test_assert_has (text, "| Iodine value | ");
  test_assert_has (text, "| Saponification value | ");
  test_assert_has (text, "| Density at 25 °C | 0.9");
  test_assert_has (text, "\n### Instead of Castor oil (42 wt %)\n\n- **");
  test_assert_has (text, "\n### Instead of Polyamide-3 (2.25 wt %)\n\n- **");
  test_assert_has (text, "\n## Cautions\n");
  test_assert_has (text, "Check your local rules");
  /* no clock: nothing on the card looks like a date */
  g_assert_false (g_regex_match_simple ("20[0-9][0-9]-[0-9][0-9]|[0-9][0-9]:[0-9][0-9]", text, 0, 0));
  test_assert_has_not (text, "nan");
  test_assert_has_not (text, "inf ");
}

static void
set_text (char      **member,
          const char *text)
{
  g_free (*member);
  *member = g_strdup (text);
}

static OgFormula *
hostile_recipe (void)
{
  OgFormula *formula = test_recipe_new (catalog);
  OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  OgFormulaLine *line = g_ptr_array_index (phase->lines, 0);

  set_text (&formula->title, "A <script>alert(1)</script> & *bold* | [x](y)\nsecond");
  set_text (&formula->purpose, "# not a heading\n- not a list\n1. not a step\n<b>not bold</b>\n\n`code` _x_ ~y~ $z$");
  set_text (&formula->notes, "first line\n\n+ plus\n=== rule\n2024. is a year\n3.5 stays");
  set_text (&phase->name, "Melt | more *stars*");
  set_text (&line->note, "pipe | and\nline break & <i>");
  og_formula_add_line (formula, phase, "no <such> *material* | \"here\"", 0, G_MAXUINT);

  return formula;
}

static void
test_markdown_escapes (void)
{
  g_autoptr (OgFormula) formula = hostile_recipe ();
  g_autofree char *text = markdown_of (formula);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  guint rows = 0;

  g_assert_true (g_str_has_prefix (text, "# A &lt;script&gt;alert(1)&lt;/script&gt; &amp; \\*bold\\* \\| "
                                         "\\[x\\](y) second\n\n"));
  test_assert_has (text, "\n\\# not a heading\n\n\\- not a list\n\n1\\. not a step\n\n&lt;b&gt;not bold&lt;/b&gt;\n\n"
                         "\\`code\\` \\_x\\_ \\~y\\~ \\$z\\$\n\n");
  test_assert_has (text, "\n\\+ plus\n\n\\=== rule\n\n2024\\. is a year\n\n3.5 stays\n");
  test_assert_has (text, "| **Melt \\| more \\*stars\\*** | | | | 110 °C |\n");
  test_assert_has (text, "| held; pipe \\| and line break &amp; &lt;i&gt; |\n");
  test_assert_has (text, "| no &lt;such&gt; \\*material\\* \\| \"here\" | | 0.00 | 0.00 | |\n");
  test_assert_has_not (text, "<");
  for (guint i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], "| ") && strstr (lines[i], " | ") != NULL)
      {
        guint bars = count (lines[i], "|") - count (lines[i], "\\|");

        g_assert_true (bars == 6 || bars == 3);
        rows++;
      }
  g_assert_cmpuint (rows, >, 12);
}

static void
test_html_escapes (void)
{
  g_autoptr (OgFormula) formula = hostile_recipe ();
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (OgCard) card = og_card_new (formula, result);
  g_autofree char *text = og_card_to_html (card);

  g_assert_true (g_str_has_prefix (text, "<!DOCTYPE html>\n<html>\n"));
  test_assert_has (text, "<title>A &lt;script&gt;alert(1)&lt;/script&gt; &amp; *bold*");
  test_assert_has (text, "<th scope=\"rowgroup\" colspan=\"3\">Melt | more *stars*</th><th>110 °C</th>");
  test_assert_has (text, "no &lt;such&gt; *material* | &quot;here&quot;");
  test_assert_has (text, "<td class=\"n\">42.00</td><td class=\"n\">84.00</td>");
  test_assert_has (text, "src=\"data:image/svg+xml;base64,");
  test_assert_has_not (text, "<script");
  test_assert_has_not (text, "<b>");
  test_assert_has_not (text, "<i>");
  test_assert_has_not (text, "http:");
  g_assert_cmpuint (count (text, "<tr"), ==, count (text, "</tr>"));
  g_assert_cmpuint (count (text, "<li>"), ==, count (text, "</li>"));
  g_assert_cmpuint (count (text, "<p"), ==, count (text, "</p>"));
}

static void
test_broken_utf8 (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = NULL;
  g_autoptr (OgCard) card = NULL;
  g_autofree char *markdown = NULL;
  g_autofree char *html = NULL;
  OgDrawStyle style;

  set_text (&formula->title, "bad \xff\xfe bytes");
  set_text (&formula->notes, "more \xc3( of them");
  result = test_evaluate (formula, catalog);
  card = og_card_new (formula, result);
  og_draw_style_paper (&style);
  markdown = og_card_to_markdown (card);
  html = og_card_to_html (card);
  g_assert_true (g_utf8_validate (markdown, -1, NULL));
  g_assert_true (g_utf8_validate (html, -1, NULL));
  g_assert_cmpuint (og_card_paginate (card, 595, 842, &style), >, 0);
}

static void
test_empty_recipe (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  g_autofree char *text = markdown_of (formula);

  test_assert_has (text, "There is nothing in this recipe yet.");
  test_assert_has (text, "| Iodine value | unknown |");
  test_assert_has_not (text, "| Ingredient |");
  test_assert_has_not (text, "nan");
  test_assert_has_not (text, "-0");
}

static void
test_not_whole (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "Only", NAN, G_MAXUINT);
  g_autofree char *text = NULL;

  og_formula_add_line (formula, phase, "castor-oil", 900000, G_MAXUINT);
  text = markdown_of (formula);
  test_assert_has (text, "| **Total** | | 90.0 | 90.00 | not 100 % |");
}

/* --- pages --- */

static char *
pdf_text_of (const OgFormula *formula,
             guint           *n_pages)
{
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (OgCard) card = og_card_new (formula, result);
  g_autoptr (GError) error = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "card.pdf", NULL);
  OgDrawStyle style;
  char *text;

  og_draw_style_paper (&style);
  *n_pages = og_card_paginate (card, 595, 842, &style);
  og_export_card (formula, result, path, OG_EXPORT_PDF, &error);
  g_assert_no_error (error);
  text = test_pdf_to_text (path);
  test_folder_remove (folder);

  return text;
}

static void
test_pdf_text (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  guint n_pages;
  g_autofree char *text = pdf_text_of (formula, &n_pages);

  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  g_assert_cmpuint (count (text, "\f"), ==, n_pages);
  /* letters that fonts join into one shape must come out as letters */
  test_assert_has (text, "Affluent µ-office fluid");
  test_assert_has (text, "For the ferry's office staff");
  test_assert_has (text, "110 °C");
  test_assert_has (text, "mPa·s");
  test_assert_has (text, "g I₂ per 100 g");
  test_assert_has (text, "page 1 of ");
  test_assert_has (text, "Castor oil");
  test_assert_has (text, "Ricinus Communis (Castor) Seed Oil");
}

static void
test_long_recipe (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new_long (300);
  guint n_pages;
  g_autofree char *text = pdf_text_of (formula, &n_pages);
  g_auto (GStrv) pages = NULL;

  /* 300 lines of two text lines each do not fit on fewer than 9 pages, nor need they more than 25 */
  g_assert_cmpuint (n_pages, >=, 9);
  g_assert_cmpuint (n_pages, <=, 25);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }

  pages = g_strsplit (text, "\f", -1);
  g_assert_cmpuint (g_strv_length (pages), ==, n_pages + 1);
  for (guint i = 0; i < n_pages; i++)
    {
      g_autofree char *footer = g_strdup_printf ("page %u of %u", i + 1, n_pages);

      test_assert_has (pages[i], footer);
    }
  for (guint i = 1; i <= 300; i++)
    {
      g_autofree char *remark = g_strdup_printf ("remark-%04u", i);

      g_assert_cmpuint (count (text, remark), ==, 1);
    }
  /* a phase stands on the page of its first line, and every page of the table has column titles */
  for (guint i = 0; i < 30; i++)
    {
      g_autofree char *phase = g_strdup_printf ("Stage %03u", i + 1);
      g_autofree char *remark = g_strdup_printf ("remark-%04u", 10 * i + 1);

      for (guint p = 0; p < n_pages; p++)
        {
          g_assert_cmpint (strstr (pages[p], phase) != NULL, ==, strstr (pages[p], remark) != NULL);
          if (strstr (pages[p], remark) != NULL)
            test_assert_has (pages[p], "Remarks");
        }
    }
}

static void
test_long_texts (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  OgFormulaLine *line = g_ptr_array_index (phase->lines, 0);
  g_autoptr (GString) notes = g_string_new (NULL);
  g_autofree char *word = g_strnfill (20000, 'w');
  g_autofree char *text = NULL;
  guint n_pages;

  for (guint i = 0; i < 4000; i++)
    g_string_append (notes, "some words ");
  g_string_append (notes, "finis");
  set_text (&formula->notes, notes->str);
  set_text (&line->note, notes->str);
  set_text (&phase->name, word);
  set_text (&formula->title, word);
  text = pdf_text_of (formula, &n_pages);
  g_assert_cmpuint (n_pages, >, 5);
  g_assert_cmpuint (n_pages, <, 40);
  if (text == NULL)
    {
      g_test_skip ("pdftotext is not installed");
      return;
    }
  g_assert_cmpuint (count (text, "finis"), ==, 1);
  g_assert_cmpuint (count (text, "\f"), ==, n_pages);
}

/* Nothing is painted outside the margins, on no page and at no page size. */
static void
test_pages_keep_margins (void)
{
  static const double sizes[][2] = { { 595, 842 }, { 842, 595 }, { 420, 595 }, { 298, 420 }, { 1224, 792 } };
  g_autoptr (OgFormula) formula = hostile_recipe ();
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);

  for (guint i = 0; i < 2 * G_N_ELEMENTS (sizes); i++)
    {
      int width = (int) sizes[i / 2][0], height = (int) sizes[i / 2][1];
      g_autoptr (OgCard) card = og_card_new (formula, result);
      OgDrawStyle style;
      guint n_pages;

      og_draw_style_paper (&style);
      style.rtl = i % 2 == 1;
      n_pages = og_card_paginate (card, width, height, &style);
      for (guint page = 0; page < n_pages; page++)
        {
          cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
          cairo_t *cr = cairo_create (surface);

          og_card_draw_page (card, cr, page);
          g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
          cairo_destroy (cr);
          cairo_surface_flush (surface);
          if (g_test_verbose ())
            {
              g_autofree char *name = g_strdup_printf ("page-%dx%d-%d-%u.png", width, height, style.rtl, page);

              cairo_surface_write_to_png (surface, name);
            }
          test_assert_border (surface, 16, 0xffffff);
          g_assert_cmpuint (test_count_ink (surface, 0xffffff), >, 300);
          cairo_surface_destroy (surface);
        }
    }
}

/* Each material looked at takes a search, and a long recipe would take half a minute: the largest will do, and the card
 * says that there are others. */
static void
test_substitutions_of_the_largest (void)
{
  static const char *const oils[] = { "castor-oil", "sunflower-oil", "olive-oil", "canola-oil", "jojoba-oil" };
  g_autoptr (OgFormula) formula = og_formula_new ();
  g_autoptr (OgFormula) small = test_recipe_new (catalog);
  OgFormulaPhase *phase = og_formula_add_phase (formula, "A", NAN, G_MAXUINT);
  g_autofree char *text = NULL;
  g_autofree char *small_text = markdown_of (small);

  for (guint i = 0; i < G_N_ELEMENTS (oils); i++)
    og_formula_add_line (formula, phase, oils[i], OG_PPM_WHOLE / 5, G_MAXUINT);
  text = markdown_of (formula);
  g_assert_cmpuint (count (text, "Instead of "), ==, 3);
  test_assert_has (text, "Only the largest were looked at; 2 more oils and agents were not.");
  g_assert_null (strstr (small_text, "Only the largest"));
  test_assert_has (small_text, "What is lost: ");
}

int
main (int   argc,
      char *argv[])
{
  int status;

  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  catalog = test_catalog_load ();
  g_test_add_func ("/card/markdown-table", test_markdown_table);
  g_test_add_func ("/card/markdown-sections", test_markdown_sections);
  g_test_add_func ("/card/markdown-escapes", test_markdown_escapes);
  g_test_add_func ("/card/html-escapes", test_html_escapes);
  g_test_add_func ("/card/broken-utf8", test_broken_utf8);
  g_test_add_func ("/card/empty-recipe", test_empty_recipe);
  g_test_add_func ("/card/not-whole", test_not_whole);
  g_test_add_func ("/card/pdf-text", test_pdf_text);
  g_test_add_func ("/card/long-recipe", test_long_recipe);
  g_test_add_func ("/card/substitutions-of-the-largest", test_substitutions_of_the_largest);
  g_test_add_func ("/card/long-texts", test_long_texts);
  g_test_add_func ("/card/pages-keep-margins", test_pages_keep_margins);
  status = g_test_run ();
  og_catalog_unref (catalog);

  return status;
}
