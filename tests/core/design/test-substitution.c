/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution.h"
#include "core/predict/solvents.h"

#include "common/fixture.h"

#include <string.h>

#include "core/base/error.h"
#include "core/predict/belief.h"
#include "core/recipe/recipe-limits.h"

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
      /* A rescaled agent keeps the body that was, as nearly as it can be weighed. */
      if (og_suggestion_get_part (suggestion, 0)->amount != 15000)
        g_assert_cmpfloat (fabs (log (suggestion->viscosity_ratio.value)), <, 0.05);
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
  g_clear_error (&error);
  g_assert_null (og_substitute (formula, catalog, (const char *[]) { "sunflower-oil", "tocopherol", NULL }, NULL,
                                &error));
  g_assert_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_DIFFERENT_JOBS);
}

static const OgSuggestion *
suggestion_at (const GPtrArray *suggestions,
               guint            index)
{
  g_assert_cmpuint (suggestions->len, >, index);
  return g_ptr_array_index (suggestions, index);
}

static const char *
part_id (const OgSuggestion *suggestion,
         guint               index)
{
  return og_suggestion_get_part (suggestion, index)->ingredient->id;
}

static gboolean
has_part (const OgSuggestion *suggestion,
          const char         *id)
{
  for (guint i = 0; i < suggestion->parts->len; i++)
    if (g_str_equal (part_id (suggestion, i), id))
      return TRUE;
  return FALSE;
}

static gboolean
suggests (const GPtrArray *suggestions,
          const char      *id)
{
  for (guint i = 0; i < suggestions->len; i++)
    if (has_part (g_ptr_array_index (suggestions, i), id))
      return TRUE;
  return FALSE;
}

/* Fraction of a material once mixtures are taken apart. */
static double
content_of (const OgFormula *formula,
            const OgCatalog *of,
            const char      *id)
{
  g_autoptr (GPtrArray) contents = og_formula_contents (formula, of);

  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (g_str_equal (content->ingredient_id, id))
        return content->fraction;
    }
  return 0.0;
}

static OgIngredient *
own_material (const char *json)
{
  g_autoptr (JsonNode) node = json_from_string (json, NULL);
  g_autoptr (GError) error = NULL;
  OgIngredient *material;

  g_assert_nonnull (node);
  material = og_ingredient_new_from_json (json_node_get_object (node), NULL, NULL, &error);
  g_assert_no_error (error);
  return material;
}

static OgCatalog *
with_material (const char *json)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);

  g_ptr_array_add (own, own_material (json));
  return og_catalog_new_overlay (catalog, own);
}

/* --- blends --- */

/* Never more parts than asked for, none below a twentieth of what is replaced, and together as much;
 * each proven; a larger choice is never farther. */
static void
test_parts (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  double last = INFINITY;

  for (guint k = 1; k <= OG_SUBSTITUTION_MOST_PARTS; k++)
    {
      const OgSubstitutionOptions options = { .most_parts = k, .most = 6 };
      g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "castor-oil", &options);
      double nearer = 0.0;

      g_assert_cmpuint (suggestions->len, ==, 6);
      for (guint i = 0; i < suggestions->len; i++)
        {
          const OgSuggestion *suggestion = suggestion_at (suggestions, i);
          gint64 sum = 0;

          g_assert_cmpuint (suggestion->parts->len, >=, 1);
          g_assert_cmpuint (suggestion->parts->len, <=, k);
          for (guint p = 0; p < suggestion->parts->len; p++)
            {
              const OgPpm amount = og_suggestion_get_part (suggestion, p)->amount;

              if (p > 0)
                g_assert_cmpint (amount, <=, og_suggestion_get_part (suggestion, p - 1)->amount + 1);
              g_assert_cmpint (amount, >=, 630000 / 20 - 1);
              sum += amount;
            }
          g_assert_cmpint (sum, ==, 630000);
          g_assert_true (suggestion->optimal);
          g_assert_cmpfloat (suggestion->bound, ==, suggestion->distance);
          g_assert_cmpfloat (suggestion->distance, >=, nearer);
          nearer = suggestion->distance;
        }
      g_assert_cmpfloat (suggestion_at (suggestions, 0)->distance, <=, last + 1e-9);
      last = suggestion_at (suggestions, 0)->distance;
    }
}

/* An oil made of 40 % high-oleic and 60 % ordinary sunflower oil (profiles of the library) is found
 * again in these shares: acids are additive by mass. */
static void
test_reproduction (void)
{
  g_autoptr (GString) json = g_string_new ("{\"id\":\"quay-oil\",\"name\":\"Quay oil\",\"kind\":\"oil\",\"roles\":[\"base\"],"
                                           "\"uses\":[\"lip\"],\"tags\":[],\"profile\":{\"unit\":\"wt % of fatty acids\","
                                           "\"source\":\"invented\",\"quality\":\"estimated\",\"acids\":{");
  const OgIngredient *oleic = og_catalog_get (catalog, "sunflower-oil-high-oleic");
  const OgIngredient *linoleic = og_catalog_get (catalog, "sunflower-oil");
  g_autoptr (OgProfile) profile = og_profile_new ();
  OgSubstitutionWeights weights = { { 0 } };
  const OgSubstitutionOptions options = { .most_parts = 2, .most = 1, .weights = &weights };
  g_autoptr (OgCatalog) more = NULL;
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (GPtrArray) suggestions = NULL;
  g_autoptr (GError) error = NULL;
  const OgSuggestion *best;

  og_profile_blend (profile, oleic->profile, 0.4);
  og_profile_blend (profile, linoleic->profile, 0.6);
  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);
      g_autofree char *code = og_acid_to_code (share->acid);

      g_string_append_printf (json, "%s\"%s\":{\"value\":%.6f}", i > 0 ? "," : "", code, share->pct);
    }
  g_string_append (json, "}}}");
  more = with_material (json->str);
  formula = fixture_recipe (HEADER "A,quay-oil,80\nA,castor-oil,20\n", more);
  weights.weight[OG_TRAIT_ACIDS] = 1.0;
  weights.weight[OG_TRAIT_OXIDISABILITY] = 1.0;
  weights.weight[OG_TRAIT_VISCOSITY] = 1.0;
  suggestions = og_substitute (formula, more, (const char *[]) { "quay-oil", NULL }, &options, &error);
  g_assert_no_error (error);
  best = suggestion_at (suggestions, 0);
  g_assert_cmpfloat (best->distance, <, 0.01);
  g_assert_cmpuint (best->parts->len, ==, 2);
  g_assert_cmpstr (part_id (best, 0), ==, "sunflower-oil");
  g_assert_cmpstr (part_id (best, 1), ==, "sunflower-oil-high-oleic");
  assert_within (og_suggestion_get_part (best, 0)->amount, 480000.0, 0.01);
  assert_within (best->viscosity_ratio.value, 1.0, 0.01);
}

/* Castor oil is about ten times as viscous at 25 C as ordinary seed oils: 650 to 700 against 60 to
 * 70 mPa.s (handbook figures, recalled). */
/* Castor oil parts again from hydrocarbons and silicones, lesquerella oil is a hydroxy oil too
 * (common practice, no source). */
static void
test_liquids_that_part (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,40\n");
  g_autoptr (OgFormula) alone = recipe (HEADER "A,jojoba-oil,20\nA,castor-oil,80\n");
  const OgSubstitutionOptions options = { .most_parts = 3, .most = 12 };
  g_autoptr (GPtrArray) blends = suggestions_for (formula, "castor-oil", &options);
  g_autoptr (GPtrArray) oils = suggestions_for (alone, "jojoba-oil", &options);

  for (guint i = 0; i < blends->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (blends, i);

      for (guint a = 1; a < suggestion->parts->len; a++)
        for (guint b = 0; b < a; b++)
          g_assert_true (og_liquids_mix (og_suggestion_get_part (suggestion, a)->ingredient,
                                         og_suggestion_get_part (suggestion, b)->ingredient));
    }
  g_assert_cmpuint (oils->len, >, 0);
  for (guint i = 0; i < oils->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (oils, i);

      for (guint a = 0; a < suggestion->parts->len; a++)
        {
          const OgKind kind = og_suggestion_get_part (suggestion, a)->ingredient->kind;

          g_assert_true (kind != OG_KIND_HYDROCARBON && kind != OG_KIND_SILICONE);
        }
    }
}

static void
test_castor (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,100\n");
  const OgSubstitutionOptions options = { .most = 500 };
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "castor-oil", &options);
  static const char *const ordinary[] = { "olive-oil", "sweet-almond-oil", "sunflower-oil-high-oleic" };

  for (guint o = 0; o < G_N_ELEMENTS (ordinary); o++)
    {
      g_assert_true (suggests (suggestions, ordinary[o]));
      for (guint i = 0; i < suggestions->len; i++)
        if (has_part (suggestion_at (suggestions, i), ordinary[o]))
          {
            g_assert_cmpfloat (suggestion_at (suggestions, i)->viscosity_ratio.value, >, 1.0 / 12.0);
            g_assert_cmpfloat (suggestion_at (suggestions, i)->viscosity_ratio.value, <, 1.0 / 8.5);
          }
    }
}

static gpointer
search_in_thread (gpointer formula)
{
  const OgSubstitutionOptions options = { .most_parts = 3, .most = 5 };

  return suggestions_for (formula, "sunflower-oil", &options);
}

/* Also in another thread, at the same time. */
static void
test_same_twice (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  GThread *thread = g_thread_new ("search", search_in_thread, formula);
  g_autoptr (GPtrArray) one = search_in_thread (formula);
  g_autoptr (GPtrArray) other = g_thread_join (thread);

  g_assert_cmpuint (one->len, ==, other->len);
  for (guint i = 0; i < one->len; i++)
    {
      const OgSuggestion *a = suggestion_at (one, i), *b = suggestion_at (other, i);

      g_assert_cmpfloat (a->distance, ==, b->distance);
      g_assert_cmpfloat (a->viscosity_ratio.value, ==, b->viscosity_ratio.value);
      g_assert_cmpuint (a->parts->len, ==, b->parts->len);
      for (guint p = 0; p < a->parts->len; p++)
        {
          g_assert_cmpstr (part_id (a, p), ==, part_id (b, p));
          g_assert_cmpint (og_suggestion_get_part (a, p)->amount, ==, og_suggestion_get_part (b, p)->amount);
        }
      g_assert_cmpuint (a->reasons->len, ==, b->reasons->len);
      for (guint r = 0; r < a->reasons->len; r++)
        g_assert_true (og_saying_equal (g_ptr_array_index (a->reasons, r), g_ptr_array_index (b->reasons, r)));
    }
}

static gboolean
stop_at_once (double   done,
              double   best,
              double   bound,
              gpointer user_data)
{
  g_assert_cmpfloat (bound, <=, best);
  *(guint *) user_data += 1;
  return FALSE;
}

static void
test_stopped (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  guint calls = 0;
  const OgSubstitutionOptions whole = { .most_parts = 3, .most = 1 };
  const OgSubstitutionOptions options
      = { .most_parts = 3, .most = 1, .progress = stop_at_once, .progress_data = &calls };
  g_autoptr (GPtrArray) best = suggestions_for (formula, "sunflower-oil", &whole);
  g_autoptr (GPtrArray) stopped = suggestions_for (formula, "sunflower-oil", &options);
  const OgSuggestion *suggestion = suggestion_at (stopped, 0);

  g_assert_cmpuint (calls, ==, 1);
  g_assert_false (suggestion->optimal);
  g_assert_cmpfloat (suggestion->bound, <, suggestion->distance);
  g_assert_cmpfloat (suggestion->bound, <=, suggestion_at (best, 0)->distance + 1e-6);
  g_assert_cmpfloat (suggestion->distance, >=, suggestion_at (best, 0)->distance - 1e-6);
}

/* --- what may not come --- */

static void
test_excluded_in_mixture (void)
{
  g_autoptr (OgCatalog) more = with_material (
      "{\"id\":\"quay-red\",\"name\":\"Quay red\",\"kind\":\"dispersion\",\"roles\":[\"colour\"],\"uses\":[\"lip\",\"skin\"],"
      "\"tags\":[],\"composition\":[{\"ingredient\":\"red-iron-oxide\",\"pct\":50},"
      "{\"ingredient\":\"sweet-almond-oil\",\"pct\":50}]}");
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  const char *const ids[] = { "red-iron-oxide-in-castor-oil", NULL };
  static const char *const nut[] = { "nut", NULL }, *const almond[] = { "sweet-almond-oil", NULL };
  const OgSubstitutionOptions any = { .most = 200 };
  const OgSubstitutionOptions no_tag = { .most = 200, .without_tags = nut, .most_parts = 2 };
  const OgSubstitutionOptions no_id = { .most = 200, .without_ids = almond, .most_parts = 2 };
  g_autoptr (GPtrArray) all = og_substitute (formula, more, ids, &any, NULL);
  g_autoptr (GPtrArray) without_tag = og_substitute (formula, more, ids, &no_tag, NULL);
  g_autoptr (GPtrArray) without_id = og_substitute (formula, more, ids, &no_id, NULL);

  g_assert_true (suggests (all, "quay-red"));
  g_assert_cmpuint (without_tag->len, >, 0);
  g_assert_false (suggests (without_tag, "quay-red"));
  g_assert_cmpuint (without_id->len, >, 0);
  g_assert_false (suggests (without_id, "quay-red"));
}

/* Heat-shy oils do not come where the pot is hot; nothing not allowed on lips comes into a lip oil. */
static void
test_heat_and_market (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,sunflower-oil,99\nB,manganese-violet,1\n");
  OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  static const char *const us[] = { "us", NULL };
  OgSubstitutionOptions options = { .most = 500 };
  g_autoptr (GPtrArray) cold = suggestions_for (formula, "sunflower-oil", &options), hot = NULL;
  g_autoptr (GPtrArray) anywhere = NULL, there = NULL, body = NULL;

  g_assert_true (suggests (cold, "hemp-seed-oil"));
  phase->temperature_c = 80.0;
  hot = suggestions_for (formula, "sunflower-oil", &options);
  g_assert_false (suggests (hot, "hemp-seed-oil"));
  g_assert_true (suggests (hot, "soybean-oil"));
  for (guint i = 0; i < hot->len; i++)
    {
      const OgFigure *most
          = &og_suggestion_get_part (suggestion_at (hot, i), 0)->ingredient->figures[OG_FIGURE_MAX_HEAT_C];

      g_assert_false (og_figure_is_known (most) && most->value < 80.0);
    }

  formula->product = OG_PRODUCT_SKIN_ROLL_ON;
  options.markets = us;
  body = suggestions_for (formula, "manganese-violet", &options);
  g_assert_true (suggests (body, "ultramarine-violet"));
  formula->product = OG_PRODUCT_UNSAID;
  there = suggestions_for (formula, "manganese-violet", &options);
  g_assert_cmpuint (there->len, >, 0);
  for (guint i = 0; i < there->len; i++)
    g_assert_false (og_ingredient_has_tag (og_suggestion_get_part (suggestion_at (there, i), 0)->ingredient,
                                           "not-for-lips-us"));
}

/* --- stock and price --- */

static OgShelf *
shelf_of (const OgShelfItem *items,
          guint              n)
{
  OgShelf *shelf = og_shelf_new ();

  for (guint i = 0; i < n; i++)
    og_shelf_put (shelf, &items[i]);
  return shelf;
}

static void
test_stock (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,sunflower-oil,50\nA,castor-oil,40\nA,corn-oil,10\n");
  const OgShelfItem items[] = {
    { (char *) "soybean-oil", 30.0, NAN, NULL, 0 }, { (char *) "grapeseed-oil", 22.0, NAN, NULL, 0 },
    { (char *) "olive-oil", 500.0, NAN, NULL, 0 },  { (char *) "corn-oil", 10.0, NAN, NULL, 0 },
    { (char *) "safflower-oil", 0.0, NAN, NULL, 0 },
  };
  g_autoptr (OgShelf) shelf = shelf_of (items, G_N_ELEMENTS (items));
  const OgSubstitutionOptions single = { .shelf = shelf, .stocked = TRUE };
  const OgSubstitutionOptions several = { .shelf = shelf, .stocked = TRUE, .most_parts = 3, .most = 20 };
  g_autoptr (GPtrArray) one = suggestions_for (formula, "sunflower-oil", &single);
  g_autoptr (GPtrArray) more = suggestions_for (formula, "sunflower-oil", &several);
  gboolean both = FALSE;

  /* 50 g are needed of the 100 g batch: only one of them is there in that amount; all corn oil is used */
  g_assert_cmpuint (one->len, ==, 1);
  g_assert_cmpstr (part_id (suggestion_at (one, 0), 0), ==, "olive-oil");
  g_assert_false (suggests (more, "corn-oil"));
  g_assert_false (suggests (more, "safflower-oil"));
  for (guint i = 0; i < more->len; i++)
    {
      const OgSuggestion *suggestion = suggestion_at (more, i);

      for (guint p = 0; p < suggestion->parts->len; p++)
        {
          const OgSuggestedPart *part = og_suggestion_get_part (suggestion, p);

          g_assert_cmpfloat (og_ppm_to_g (part->amount, formula->batch_g), <=,
                             og_shelf_get (shelf, part->ingredient->id)->stock_g + 1e-3);
        }
      both = both || (has_part (suggestion, "soybean-oil") && has_part (suggestion, "grapeseed-oil"));
    }
  g_assert_true (both);
}

static void
test_price (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,sunflower-oil,50\nA,castor-oil,50\n");
  const OgShelfItem items[] = {
    { (char *) "sunflower-oil", 0.0, 10.0, (char *) "EUR", 0 },
    { (char *) "soybean-oil", 0.0, 40.0, (char *) "EUR", 0 },
    { (char *) "corn-oil", 0.0, 4.0, (char *) "EUR", 0 },
    { (char *) "grapeseed-oil", 0.0, 1.0, (char *) "USD", 0 },
  };
  g_autoptr (OgShelf) shelf = shelf_of (items, G_N_ELEMENTS (items));
  OgSubstitutionWeights cheaper;
  const OgSubstitutionOptions ordinary = { .shelf = shelf, .most = 100 };
  const OgSubstitutionOptions saving = { .shelf = shelf, .weights = &cheaper, .most = 100 };
  g_autoptr (GPtrArray) likeness = suggestions_for (formula, "sunflower-oil", &ordinary), price = NULL;

  og_substitution_weights_init (&cheaper, OG_SUBSTITUTION_CHEAPER);
  price = suggestions_for (formula, "sunflower-oil", &saving);
  g_assert_cmpstr (part_id (suggestion_at (likeness, 0), 0), !=, "corn-oil");
  g_assert_cmpstr (part_id (suggestion_at (price, 0), 0), ==, "corn-oil");
  g_assert_cmpfloat (fabs (suggestion_at (price, 0)->price_change_per_kg - 0.5 * (4.0 - 10.0)), <, 1e-9);
  g_assert_cmpstr (suggestion_at (price, 0)->currency, ==, "EUR");
  for (guint i = 0; i < price->len; i++)
    if (has_part (suggestion_at (price, i), "grapeseed-oil"))
      g_assert_true (isnan (suggestion_at (price, i)->price_change_per_kg));
}

/* --- grades and readings --- */

static const OgSuggestion *
find_single (const GPtrArray *suggestions,
             const char      *id)
{
  for (guint i = 0; i < suggestions->len; i++)
    if (has_part (g_ptr_array_index (suggestions, i), id))
      return g_ptr_array_index (suggestions, i);
  g_error ("%s is not among the suggestions", id);
}

static OgBelief *
belief_in (const OgCatalog *of,
           const char      *material_id,
           double           mpa_s)
{
  g_autoptr (GPtrArray) readings = g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);
  OgMeasurement *reading = og_measurement_new ();

  reading->id = (g_free (reading->id), g_strdup ("m1"));
  reading->material_id = (g_free (reading->material_id), g_strdup (material_id));
  reading->reading.method = OG_METHOD_ROTATIONAL;
  reading->reading.temperature_c = 25.0;
  reading->reading.mpa_s = mpa_s;
  reading->reading.shear_rate_1_s = 10.0;
  reading->reduced = (OgReduced) { mpa_s, 0.03, 10.0, NAN };
  g_ptr_array_add (readings, reading);
  return og_belief_learn (readings, of);
}

/* Two lots that only their name tells apart are not equal before a reading says so. */
static void
test_grade (void)
{
  g_autoptr (OgIngredient) lot = NULL;
  g_autoptr (JsonNode) node
      = json_from_string ("{\"id\":\"lot-7\",\"name\":\"Castor oil, lot 7\",\"derived_from\":\"castor-oil\"}", NULL);
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (OgCatalog) more = NULL;
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  const char *const ids[] = { "castor-oil", NULL };
  g_autoptr (GPtrArray) before = NULL, after = NULL;
  g_autoptr (OgBelief) belief = NULL;
  OgSubstitutionOptions options = { 0 };
  const OgSuggestion *unread, *read;

  lot = og_ingredient_new_from_json (json_node_get_object (node), NULL,
                                     (OgIngredient *) og_catalog_get (catalog, "castor-oil"), NULL);
  g_assert_nonnull (lot);
  g_ptr_array_add (own, og_ingredient_ref (lot));
  more = og_catalog_new_overlay (catalog, own);
  before = og_substitute (formula, more, ids, &options, NULL);
  unread = suggestion_at (before, 0);
  g_assert_cmpstr (part_id (unread, 0), ==, "lot-7");
  g_assert_cmpfloat (unread->distance, >, 0.02);
  g_assert_nonnull (strstr (og_saying_text (g_ptr_array_index (unread->reasons, 0)), "Castor oil, lot 7"));

  belief = belief_in (more, "lot-7", 670.0);
  options.belief = belief;
  after = og_substitute (formula, more, ids, &options, NULL);
  read = find_single (after, "lot-7");
  g_assert_cmpfloat (read->distance, <, unread->distance - 0.02);
}

/* An unknown trait is never equal: an oil without refractive index stands behind its twin with one. */
static void
test_unknown (void)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  static const char known[]
      = "{\"id\":\"twin-known\",\"name\":\"Twin one\",\"kind\":\"oil\",\"roles\":[\"base\"],\"uses\":[\"lip\",\"skin\"],\"tags\":[],"
        "\"figures\":{\"refractive_index\":{\"value\":1.474,\"unit\":\"1\",\"at_c\":25,\"source\":\"invented\","
        "\"quality\":\"estimated\"}},\"profile\":{\"unit\":\"wt % of fatty acids\",\"source\":\"invented\","
        "\"quality\":\"estimated\",\"acids\":{\"C18:1\":{\"value\":30},\"C18:2\":{\"value\":70}}}}";
  static const char unknown[]
      = "{\"id\":\"twin-unknown\",\"name\":\"Twin two\",\"kind\":\"oil\",\"roles\":[\"base\"],\"uses\":[\"lip\",\"skin\"],\"tags\":[],"
        "\"profile\":{\"unit\":\"wt % of fatty acids\",\"source\":\"invented\","
        "\"quality\":\"estimated\",\"acids\":{\"C18:1\":{\"value\":30},\"C18:2\":{\"value\":70}}}}";
  g_autoptr (OgCatalog) more = NULL;
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);
  const OgSubstitutionOptions options = { .most = 500 };
  g_autoptr (GPtrArray) suggestions = NULL;
  const OgSuggestion *with, *without;
  gboolean said = FALSE;

  g_ptr_array_add (own, own_material (known));
  g_ptr_array_add (own, own_material (unknown));
  more = og_catalog_new_overlay (catalog, own);
  suggestions = og_substitute (formula, more, (const char *[]) { "sunflower-oil", NULL }, &options, NULL);
  with = find_single (suggestions, "twin-known");
  without = find_single (suggestions, "twin-unknown");
  g_assert_cmpfloat (without->distance, >, with->distance + 0.02);
  for (guint i = 0; i < without->reasons->len; i++)
    said = said || strstr (og_saying_text (g_ptr_array_index (without->reasons, i)), "Not known") != NULL;
  g_assert_true (said);
}

/* --- roles --- */

static void
check_content_kept (const OgFormula *formula,
                    OgCatalog       *of,
                    const char      *id,
                    const char      *new_id,
                    const char      *counted_id,
                    guint            n_carriers)
{
  const OgSubstitutionOptions options = { .most = 200 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) suggestions
      = og_substitute (formula, of, (const char *[]) { id, NULL }, &options, &error);
  g_autoptr (OgFormula) changed = NULL;
  const OgSuggestion *suggestion;

  g_assert_no_error (error);
  suggestion = find_single (suggestions, new_id);
  changed = og_substitution_apply (formula, suggestion);
  g_assert_cmpuint (suggestion->carriers->len, ==, n_carriers);
  g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
  g_assert_cmpfloat (fabs (content_of (changed, of, counted_id) - content_of (formula, of, counted_id)), <, 2e-6);
}

static void
test_pigment_kept (void)
{
  g_autoptr (OgFormula) ground = recipe (LIP_OIL);
  g_autoptr (OgFormula) dry = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,balance\nB,red-iron-oxide,2\n");
  g_autoptr (OgFormula) no_own = recipe (HEADER "A,olive-oil,60\nA,sunflower-oil,balance\nB,red-iron-oxide,2\n");
  g_autoptr (OgFormula) unbalanced = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,38\nB,red-iron-oxide,2\n");
  const OgSubstitutionOptions options = { .most = 200 };
  g_autoptr (GPtrArray) suggestions = suggestions_for (dry, "red-iron-oxide", &options);
  g_autoptr (OgFormula) changed
      = og_substitution_apply (dry, find_single (suggestions, "red-iron-oxide-in-castor-oil"));

  check_content_kept (ground, catalog, "red-iron-oxide-in-castor-oil", "red-iron-oxide", "red-iron-oxide", 1);
  check_content_kept (ground, catalog, "red-iron-oxide-in-castor-oil", "red-iron-oxide-in-jojoba-oil",
                      "red-iron-oxide", 2);
  check_content_kept (dry, catalog, "red-iron-oxide", "red-iron-oxide-in-castor-oil", "red-iron-oxide", 1);
  check_content_kept (no_own, catalog, "red-iron-oxide", "red-iron-oxide-in-castor-oil", "red-iron-oxide", 1);
  check_content_kept (unbalanced, catalog, "red-iron-oxide", "red-iron-oxide-in-castor-oil", "red-iron-oxide", 1);
  /* half of the dispersion is castor oil: 2 % of it leave the castor line, all other lines stay */
  g_assert_cmpint (og_formula_find_ingredient (changed, "castor-oil")->amount, ==, 580000);
  g_assert_cmpint (og_formula_find_ingredient (changed, "red-iron-oxide-in-castor-oil")->amount, ==, 40000);
  g_assert_cmpint (og_formula_find_ingredient (changed, "sunflower-oil")->amount, ==, 380000);
}

/* Nothing below 0 or above 100 %, and what was whole stays so. */
static void
assert_within_whole (const OgFormula              *formula,
                     const char *const            *ids,
                     const OgSubstitutionOptions  *options,
                     guint                         least)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) suggestions = og_substitute (formula, catalog, ids, options, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (suggestions->len, >=, least);
  for (guint i = 0; i < suggestions->len; i++)
    {
      g_autoptr (OgFormula) changed = og_substitution_apply (formula, suggestion_at (suggestions, i));

      g_assert_true (og_formula_is_within_limits (changed));
      if (og_formula_total (formula) == OG_PPM_WHOLE)
        g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
    }
}

static void
test_within_whole (void)
{
  static const char *const pigment[] = { "red-iron-oxide", NULL };
  static const char *const agent[] = { "polyamide-3", NULL };
  static const char *const both[] = { "castor-oil", "sunflower-oil", NULL };
  const char *const tables[] = {
    HEADER "A,castor-oil,balance\nA,red-iron-oxide,5\n",
    HEADER "A,castor-oil,95\nA,red-iron-oxide,5\n",
    HEADER "A,castor-oil,balance\nA,red-iron-oxide,60\n",
    HEADER "A,castor-oil,40\nA,red-iron-oxide,60\n",
    HEADER "A,castor-oil,balance\nA,sunflower-oil,30\nA,red-iron-oxide,45\n",
    HEADER "A,castor-oil,10\nA,sunflower-oil,15\nA,red-iron-oxide,75\n",
  };
  const OgSubstitutionOptions singles = { .most = 100 };
  const OgSubstitutionOptions mixtures = { .most = 20, .most_parts = 3 };
  g_autoptr (OgFormula) two = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,40\n");
  g_autoptr (OgFormula) crowded = recipe (HEADER "A,castor-oil,balance\nA,polyamide-3,90\nA,red-iron-oxide,5\n");

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autoptr (OgFormula) formula = recipe (tables[i]);

      /* no substitute is usual at far more than its usual most */
      assert_within_whole (formula, pigment, &singles, i < 2 ? 1 : 0);
      assert_within_whole (formula, pigment, &mixtures, i < 2 ? 1 : 0);
    }
  assert_within_whole (crowded, agent, &singles, 0);
  og_formula_find_ingredient (two, "sunflower-oil")->amount = 600000;
  assert_within_whole (two, both, &singles, 0);
  assert_within_whole (two, both, &mixtures, 1);
  assert_within_whole (two, (const char *[]) { "castor-oil", NULL }, &singles, 1);
}

static void
test_active_kept (void)
{
  g_autoptr (OgCatalog) more = with_material (
      "{\"id\":\"quay-tocopherol\",\"name\":\"Quay tocopherol\",\"kind\":\"antioxidant\",\"roles\":[\"antioxidant\"],"
      "\"uses\":[\"lip\",\"skin\"],\"tags\":[],\"composition\":[{\"ingredient\":\"tocopherol\",\"pct\":70},"
      "{\"ingredient\":\"sunflower-oil\",\"pct\":30}]}");
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,39.65\nB,tocopherol,0.35\n");
  const OgSubstitutionOptions options = { .most = 50 };
  g_autoptr (GPtrArray) suggestions
      = og_substitute (formula, more, (const char *[]) { "tocopherol", NULL }, &options, NULL);
  const OgSuggestion *unstated = find_single (suggestions, "mixed-tocopherols");
  gboolean said = FALSE;

  check_content_kept (formula, more, "tocopherol", "quay-tocopherol", "tocopherol", 1);
  g_assert_cmpint (og_suggestion_get_part (find_single (suggestions, "quay-tocopherol"), 0)->amount, ==, 5000);
  g_assert_cmpint (og_suggestion_get_part (unstated, 0)->amount, ==, 3500);
  for (guint i = 0; i < unstated->reasons->len; i++)
    said = said || strstr (og_saying_text (g_ptr_array_index (unstated->reasons, i)), "not stated") != NULL;
  g_assert_true (said);
}

/* Gelling agents, one or two: poured as before within 5 %, to the last digit that can be weighed, unless no share
 * can do it. */
static void
test_body_kept (void)
{
  g_autoptr (OgFormula) formula = recipe (LIP_OIL);

  for (guint k = 1; k <= 2; k++)
    {
      const OgSubstitutionOptions options = { .most_parts = k, .most = 40 };
      g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "polyamide-3", &options);
      guint kept = 0;

      for (guint i = 0; i < suggestions->len; i++)
        {
          const OgSuggestion *suggestion = suggestion_at (suggestions, i);

          if (g_str_has_prefix (og_saying_text (g_ptr_array_index (suggestion->reasons, 0)), "No usual share"))
            continue;
          g_assert_cmpfloat (fabs (log (suggestion->viscosity_ratio.value)), <, 0.05);
          g_assert_cmpfloat (suggestion->viscosity_ratio.low80, <, suggestion->viscosity_ratio.value);
          kept++;
        }
      g_assert_cmpuint (kept, >, suggestions->len / 2);
    }
}

/* --- applying --- */

static guint
find_line_position (const OgFormulaPhase *phase,
                    const char           *id)
{
  for (guint l = 0; l < phase->lines->len; l++)
    if (g_str_equal (((OgFormulaLine *) g_ptr_array_index (phase->lines, l))->ingredient_id, id))
      return l;
  g_error ("%s is not in the phase", id);
}

static void
test_apply_parts (void)
{
  g_autoptr (OgFormula) formula
      = recipe (HEADER "A,olive-oil,10\nA,castor-oil,40\nA,jojoba-oil,10\nB,castor-oil,20\nB,sunflower-oil,20\n");
  g_autoptr (OgSuggestion) suggestion
      = og_suggestion_new ((const char *[]) { "castor-oil", "jojoba-oil", NULL });
  OgFormulaLine *castor = og_formula_find_ingredient (formula, "castor-oil");
  g_autoptr (OgFormula) changed = NULL;
  const OgFormulaPhase *first, *second;
  const OgFormulaLine *line;

  castor->held = TRUE;
  castor->note = g_strdup ("slowly");
  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "sunflower-oil"), 420000);
  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "olive-oil"), 210000);
  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "meadowfoam-seed-oil"), 70000);
  changed = og_substitution_apply (formula, suggestion);
  first = g_ptr_array_index (changed->phases, 0);
  second = g_ptr_array_index (changed->phases, 1);

  /* 50 of the 70 % stood in the first phase, 20 in the second */
  g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
  g_assert_cmpuint (first->lines->len, ==, 3);
  line = g_ptr_array_index (first->lines, find_line_position (first, "sunflower-oil"));
  g_assert_cmpint (line->amount, ==, 300000);
  g_assert_cmpuint (line->id, ==, castor->id);
  g_assert_true (line->held);
  g_assert_cmpstr (line->note, ==, "slowly");
  g_assert_cmpuint (find_line_position (first, "sunflower-oil"), ==, 1);
  g_assert_cmpuint (find_line_position (first, "meadowfoam-seed-oil"), ==, 2);
  line = g_ptr_array_index (first->lines, find_line_position (first, "olive-oil"));
  g_assert_cmpint (line->amount, ==, 100000 + 150000);
  /* where the first part stands already, the second takes the place */
  g_assert_cmpuint (second->lines->len, ==, 3);
  line = g_ptr_array_index (second->lines, find_line_position (second, "sunflower-oil"));
  g_assert_cmpint (line->amount, ==, 200000 + 120000);
  line = g_ptr_array_index (second->lines, find_line_position (second, "olive-oil"));
  g_assert_cmpint (line->amount, ==, 60000);
}

/* A replaced balance line: what comes first balances from now on. */
static void
test_apply_to_balance (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,castor-oil,60\nA,sunflower-oil,balance\nA,olive-oil,5\n");
  g_autoptr (OgSuggestion) suggestion = og_suggestion_new ((const char *[]) { "sunflower-oil", NULL });
  g_autoptr (OgFormula) changed = NULL;

  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "soybean-oil"), 200000);
  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "corn-oil"), 150000);
  changed = og_substitution_apply (formula, suggestion);
  g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);
  g_assert_cmpuint (og_formula_find_ingredient (changed, "soybean-oil")->balance_share, ==, 1);
  g_assert_cmpint (og_formula_find_ingredient (changed, "soybean-oil")->amount, ==, 200000);
  g_assert_cmpuint (og_formula_find_ingredient (changed, "corn-oil")->balance_share, ==, 0);

  /* the only new material stands in the phase already: that line balances */
  g_clear_pointer (&changed, og_formula_free);
  g_array_set_size (suggestion->parts, 0);
  og_suggestion_add_part (suggestion, og_catalog_get (catalog, "olive-oil"), 350000);
  changed = og_substitution_apply (formula, suggestion);
  g_assert_cmpuint (og_formula_get_n_lines (changed), ==, 2);
  g_assert_cmpint (og_formula_find_ingredient (changed, "olive-oil")->amount, ==, 400000);
  g_assert_cmpuint (og_formula_find_ingredient (changed, "olive-oil")->balance_share, ==, 1);
}

/* Several materials at once: the target is their mixture, so a mixture of them in other shares is near. */
static void
test_several (void)
{
  g_autoptr (OgFormula) formula = recipe (HEADER "A,sunflower-oil,30\nA,sunflower-oil-high-oleic,30\nA,castor-oil,40\n");
  const char *const both[] = { "sunflower-oil", "sunflower-oil-high-oleic", NULL };
  const char *const mixed[] = { "sunflower-oil", "no-such-oil", NULL };
  const OgSubstitutionOptions options = { .most = 1 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) suggestions = og_substitute (formula, catalog, both, &options, &error);
  g_autoptr (OgFormula) changed = NULL;
  const OgSuggestion *best;
  double oleic, linoleic;

  g_assert_no_error (error);
  best = suggestion_at (suggestions, 0);
  g_assert_cmpint (og_suggestion_get_part (best, 0)->amount, ==, 600000);
  oleic = og_profile_get (og_suggestion_get_part (best, 0)->ingredient->profile, (OgAcid) { 18, 1, 0 });
  linoleic = og_profile_get (og_suggestion_get_part (best, 0)->ingredient->profile, (OgAcid) { 18, 2, 0 });
  /* half of each sunflower oil holds about 51 % of oleic and 38 % of linoleic acid */
  g_assert_cmpfloat (oleic, >, 40.0);
  g_assert_cmpfloat (linoleic, >, 28.0);
  changed = og_substitution_apply (formula, best);
  g_assert_cmpuint (og_formula_get_n_lines (changed), ==, 2);
  g_assert_cmpint (og_formula_total (changed), ==, OG_PPM_WHOLE);

  g_assert_null (og_substitute (formula, catalog, mixed, &options, &error));
  g_assert_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_UNKNOWN_INGREDIENT);
}

static void
test_words (void)
{
  for (int i = 0; i < OG_N_SUBSTITUTION_INTENTS; i++)
    {
      OgSubstitutionIntent intent;
      OgSubstitutionWeights weights;

      g_assert_true (og_substitution_intent_from_nick (og_substitution_intent_to_nick ((OgSubstitutionIntent) i), &intent));
      g_assert_cmpint (intent, ==, i);
      g_assert_cmpstr (og_substitution_intent_get_name (intent), !=, "");
      og_substitution_weights_init (&weights, intent);
      for (int t = 0; t < OG_N_TRAITS; t++)
        g_assert_cmpfloat (weights.weight[t], >=, 0.0);
    }
  for (int t = 0; t < OG_N_TRAITS; t++)
    {
      OgTrait trait;

      g_assert_true (og_trait_from_nick (og_trait_to_nick ((OgTrait) t), &trait));
      g_assert_cmpint (trait, ==, t);
      g_assert_cmpfloat (og_trait_get_noticed (trait), >, 0.0);
    }
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
  g_test_add_func ("/substitution/parts", test_parts);
  g_test_add_func ("/substitution/reproduction", test_reproduction);
  g_test_add_func ("/substitution/castor", test_castor);
  g_test_add_func ("/substitution/liquids-that-part", test_liquids_that_part);
  g_test_add_func ("/substitution/same-twice", test_same_twice);
  g_test_add_func ("/substitution/stopped", test_stopped);
  g_test_add_func ("/substitution/excluded-in-mixture", test_excluded_in_mixture);
  g_test_add_func ("/substitution/heat-and-market", test_heat_and_market);
  g_test_add_func ("/substitution/stock", test_stock);
  g_test_add_func ("/substitution/price", test_price);
  g_test_add_func ("/substitution/grade", test_grade);
  g_test_add_func ("/substitution/unknown", test_unknown);
  g_test_add_func ("/substitution/pigment-kept", test_pigment_kept);
  g_test_add_func ("/substitution/within-whole", test_within_whole);
  g_test_add_func ("/substitution/active-kept", test_active_kept);
  g_test_add_func ("/substitution/body-kept", test_body_kept);
  g_test_add_func ("/substitution/apply-parts", test_apply_parts);
  g_test_add_func ("/substitution/apply-to-balance", test_apply_to_balance);
  g_test_add_func ("/substitution/several", test_several);
  g_test_add_func ("/substitution/words", test_words);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
