/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/substitution.h"

#include "common/fixture.h"

#include "core/error.h"

#define HEADER FIXTURE_HEADER
#define LIP_OIL \
  HEADER "Hot,castor-oil,63.0\nHot,polyamide-3,1.5\nCool,sunflower-oil,balance\n" \
         "Colour,red-iron-oxide-in-castor-oil,0.5\nLast,tocopherol,1.0\n"

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  return fixture_recipe (table, catalog);
}

static GPtrArray *
suggestions_for (const OgFormula             *formula,
                 const char                  *id,
                 const OgSubstitutionOptions *options)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *suggestions = og_substitute (formula, catalog, (const char *[]) { id, NULL }, options, &error);

  g_assert_no_error (error);
  return suggestions;
}

static void
test_nearest_first (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  static const char *const ids[]
      = { "castor-oil", "sunflower-oil", "polyamide-3", "red-iron-oxide-in-castor-oil", "tocopherol" };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      g_autoptr (GPtrArray) suggestions = suggestions_for (formula, ids[i], NULL);
      double last = 0.0;

      g_assert_cmpuint (suggestions->len, >, 2);
      for (guint j = 0; j < suggestions->len; j++)
        {
          const OgSuggestion *suggestion = g_ptr_array_index (suggestions, j);

          g_assert_cmpstr (og_suggestion_get_part (suggestion, 0)->ingredient->id, !=, ids[i]);
          g_assert_cmpfloat (suggestion->distance, >=, last);
          g_assert_cmpuint (suggestion->reasons->len, >, 0);
          last = suggestion->distance;
        }
    }
}

/* Sunflower oil rich in linoleic acid is nearer to safflower, soya, maize or grape seed than to
 * any oleic oil: so say the acid ranges of Codex CXS 210 (C18:2 48 to 83 % for the former kinds,
 * recalled). */
static void
test_like_oils (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "sunflower-oil", NULL);

  for (guint i = 0; i < 5; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);

      g_assert_cmpfloat (og_profile_get (og_suggestion_get_part (suggestion, 0)->ingredient->profile, (OgAcid) { 18, 2, 0 }), >, 45.0);
      g_assert_cmpfloat (suggestion->viscosity_ratio.value, >, 0.9);
      g_assert_cmpfloat (suggestion->viscosity_ratio.value, <, 1.1);
    }
}

static void
test_exclusion (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,sweet-almond-oil,90\nA,beeswax,10\n");
  static const char *const without[] = { "nut", "animal-derived", NULL };
  OgSubstitutionOptions options = { .without_tags = without, .most = 200 };
  g_autoptr (GPtrArray) oils = suggestions_for (formula, "sweet-almond-oil", &options);
  g_autoptr (GPtrArray) waxes = suggestions_for (formula, "beeswax", &options);

  for (guint i = 0; i < oils->len; i++)
    g_assert_false (og_ingredient_has_tag (og_suggestion_get_part (g_ptr_array_index (oils, i), 0)->ingredient, "nut"));
  for (guint i = 0; i < waxes->len; i++)
    g_assert_false (
        og_ingredient_has_tag (og_suggestion_get_part (g_ptr_array_index (waxes, i), 0)->ingredient, "animal-derived"));
}

static void
test_apply (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "polyamide-3", NULL);

  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);
      g_autoptr (OgFormula) changed = og_substitution_apply (formula, suggestion);

      g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
      g_assert_null (og_formula_find_ingredient (changed, "polyamide-3"));
      g_assert_cmpint (og_formula_find_ingredient (changed, og_suggestion_get_part (suggestion, 0)->ingredient->id)->amount, ==,
                       og_suggestion_get_part (suggestion, 0)->amount);
      /* A rescaled agent keeps the body that was. */
      if (og_suggestion_get_part (suggestion, 0)->amount != 15000)
        g_assert_cmpfloat (fabs (log (suggestion->viscosity_ratio.value)), <, 0.01);
    }
}

/* Without a balance line the other lines make room, in proportion. */
static void
test_apply_without_balance (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,38\nA,polyamide-3,2\n");
  g_autoptr (OgSuggestion) suggestion = og_suggestion_new ((const char *[]) { "polyamide-3", NULL });
  g_autoptr (OgFormula) changed = NULL;

  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "dextrin-palmitate"), 50000);
  changed = og_substitution_apply (formula, suggestion);

  g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
  g_assert_cmpint (og_formula_find_ingredient (changed, "dextrin-palmitate")->amount, ==, 50000);
  g_assert_cmpint (og_formula_find_ingredient (changed, "castor-oil")->amount, ==, 581633);
}

static void
test_errors (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  g_autoptr (GError) error = NULL;

  g_assert_null (og_substitute (formula, catalog, (const char *[]) { "olive-oil", NULL }, NULL, &error));
  g_assert_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE);
  g_clear_error (&error);
  g_assert_null (og_substitute (formula, catalog, (const char *[]) { "no-such-oil", NULL }, NULL, &error));
  g_assert_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_UNKNOWN_INGREDIENT);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/substitution/nearest-first", test_nearest_first);
  g_test_add_func ("/substitution/like-oils", test_like_oils);
  g_test_add_func ("/substitution/exclusion", test_exclusion);
  g_test_add_func ("/substitution/apply", test_apply);
  g_test_add_func ("/substitution/apply-without-balance", test_apply_without_balance);
  g_test_add_func ("/substitution/errors", test_errors);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
