/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/natural-origin.h"

#include <string.h>

#include "common/fixture.h"

#define EPSILON 1e-9

static OgCatalog *catalog;

static OgCatalog *
with_index (const char *id,
            const char *figure)
{
  g_autofree char *text
      = g_strdup_printf ("{\"id\":\"%s\",\"name\":\"%s\",\"kind\":\"ester\",\"roles\":[\"emollient\"],"
                         "\"uses\":[\"skin\"],\"tags\":[],\"figures\":{\"natural_origin_index\":%s}}",
                         id, id, figure);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GPtrArray) materials
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (GError) error = NULL;
  OgIngredient *ingredient;

  g_assert_true (json_parser_load_from_data (parser, text, -1, NULL));
  ingredient = og_ingredient_new_from_json (json_node_get_object (json_parser_get_root (parser)),
                                            NULL, NULL, &error);
  g_assert_no_error (error);
  g_ptr_array_add (materials, ingredient);

  return og_catalog_new_overlay (catalog, materials);
}

static OgNaturalOrigin *
origin_of (const char      *table,
           const OgCatalog *materials)
{
  g_autoptr (OgFormula) formula = fixture_recipe (table, materials);
  g_autoptr (GPtrArray) contents = og_formula_contents (formula, materials);

  return og_natural_origin_sum (contents);
}

/* ISO 16128-2 by hand: 60 % of index 1, 30 % of 0.9, 10 % of 0 make 87 %. */
static void
test_worked (void)
{
  g_autoptr (OgCatalog) own = with_index (
    "ester", "{\"value\":0.9,\"unit\":\"1\",\"source\":\"supplier\",\"quality\":\"measured\"}");
  g_autoptr (OgNaturalOrigin) origin
      = origin_of (FIXTURE_HEADER "A,castor-oil,60\nA,ester,30\nA,dimethicone-5,10\n", own);
  g_autofree char *text = og_saying_take_text (og_natural_origin_saying (origin));

  g_assert_cmpfloat_with_epsilon (origin->low_pct, 87, EPSILON);
  g_assert_cmpfloat_with_epsilon (origin->high_pct, 87, EPSILON);
  g_assert_cmpuint (origin->unknown_ids->len, ==, 0);
  g_assert_nonnull (strstr (text, "87.0"));
}

static void
test_unknown (void)
{
  g_autoptr (OgNaturalOrigin) origin
      = origin_of (FIXTURE_HEADER "A,castor-oil,90\nA,polyamide-3,2\nA,squalane,8\n", catalog);

  g_assert_cmpfloat_with_epsilon (origin->low_pct, 90, EPSILON);
  g_assert_cmpfloat_with_epsilon (origin->high_pct, 100, EPSILON);
  g_assert_cmpfloat_with_epsilon (origin->unknown_pct, 10, EPSILON);
  g_assert_cmpuint (origin->unknown_ids->len, ==, 2);
  g_assert_cmpstr (g_ptr_array_index (origin->unknown_ids, 0), ==, "squalane");
}

static void
test_range (void)
{
  g_autoptr (OgCatalog) own
      = with_index ("ester", "{\"value\":0.8,\"low\":0.6,\"high\":1,\"unit\":\"1\","
                             "\"source\":\"judgement\",\"quality\":\"estimated\"}");
  g_autoptr (OgNaturalOrigin) origin
      = origin_of (FIXTURE_HEADER "A,ester,50\nA,castor-oil,50\n", own);

  g_assert_cmpfloat_with_epsilon (origin->low_pct, 80, EPSILON);
  g_assert_cmpfloat_with_epsilon (origin->high_pct, 100, EPSILON);
}

/* ISO 16128-2: 0, or above 0.5 up to 1. Shares by molar mass worked by hand from the formulas:
 * isopropyl myristate 211.37 of 270.46, dibutyl sebacate 168.24 of 314.47. */
static void
test_library (void)
{
  static const struct
  {
    const char *id;
    double      index;
  } cases[] = {
    { "castor-oil", 1 },          { "beeswax", 1 },  { "lavender-oil", 1 },
    { "isopropyl-myristate", 0.78 }, { "dibutyl-sebacate", 0.53 }, { "dimethicone-5", 0 },
    { "mineral-oil", 0 },         { "mica", 1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (
      og_catalog_get (catalog, cases[i].id)->figures[OG_FIGURE_NATURAL_ORIGIN_INDEX].value,
      cases[i].index, 0.0051);
  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgFigure *index
          = &og_catalog_get_item (catalog, i)->figures[OG_FIGURE_NATURAL_ORIGIN_INDEX];

      if (og_figure_is_known (index))
        g_assert_true (index->value == 0 || (index->value > 0.5 && index->value <= 1));
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/natural-origin/worked", test_worked);
  g_test_add_func ("/natural-origin/unknown", test_unknown);
  g_test_add_func ("/natural-origin/range", test_range);
  g_test_add_func ("/natural-origin/library", test_library);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
