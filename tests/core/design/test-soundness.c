/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/design/draft.h"
#include "core/design/substitution.h"
#include "core/make/stove.h"
#include "core/predict/evaluate.h"

/* What a formulator would sign: whatever is suggested is used as it stands, and then looked at with the
 * program's own check and its own stove plan. Common practice, no source, where nothing else is said. */

#define WEIGHED_PPM 100 /* 0.01 %: what a scale of the bench tells apart in 20 g (2 mg) */
#define FINELY_PPM 10   /* of colours and actives below 1 %, and of the oil that they bring along */

static OgCatalog *catalog;

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

static const OgSuggestion *
suggestion_at (const GPtrArray *suggestions,
               guint            index)
{
  g_assert_cmpuint (index, <, suggestions->len);
  return g_ptr_array_index (suggestions, index);
}

static const OgIngredient *
part_of (const OgSuggestion *suggestion,
         guint               index)
{
  return og_suggestion_get_part (suggestion, index)->ingredient;
}

static guint
count_blocking (const GPtrArray *findings)
{
  guint n = 0;

  for (guint i = 0; i < findings->len; i++)
    n += ((OgFinding *) g_ptr_array_index (findings, i))->severity == OG_SEVERITY_BLOCKING ? 1 : 0;
  return n;
}

static gint64
amount_of (const OgFormula *formula,
           const char      *id)
{
  gint64 sum = 0;

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);

          sum += g_str_equal (line->ingredient_id, id) ? line->amount : 0;
        }
    }
  return sum;
}

static gboolean
is_weighable (OgPpm amount)
{
  return amount % WEIGHED_PPM == 0 || (amount < 10000 && amount % FINELY_PPM == 0);
}

static gboolean
is_part (const OgSuggestion *suggestion,
         const char         *id)
{
  for (guint i = 0; i < suggestion->parts->len; i++)
    if (g_str_equal (part_of (suggestion, i)->id, id))
      return TRUE;
  return FALSE;
}

/* Colour, active, antioxidant and scent: a formulator set them for another reason than the body. */
static gboolean
is_set_apart (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_COLOUR || ingredient->kind == OG_KIND_DISPERSION
         || ingredient->kind == OG_KIND_PEARL || ingredient->kind == OG_KIND_ANTIOXIDANT
         || ingredient->kind == OG_KIND_ACTIVE || ingredient->kind == OG_KIND_VITAMIN
         || ingredient->kind == OG_KIND_FLAVOUR || ingredient->kind == OG_KIND_ESSENTIAL_OIL
         || ingredient->kind == OG_KIND_POWDER;
}

static void
check_lines (const OgFormula    *before,
             const OgFormula    *after,
             const OgSuggestion *suggestion)
{
  guint odd = 0;

  for (guint p = 0; p < after->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (after->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);
          const OgFormulaLine *was = og_formula_find_line (before, line->id, NULL, NULL);
          const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);

          g_assert_cmpint (line->amount, >=, 0);
          if (!is_part (suggestion, line->ingredient_id) && is_set_apart (ingredient))
            g_assert_cmpint (line->amount, ==, was->amount);
          odd += !is_weighable (line->amount) && (was == NULL || (line->amount - was->amount) % FINELY_PPM != 0) ? 1 : 0;
        }
    }
  /* one line takes the last digit: the recipe before may hold digits that nobody can weigh */
  g_assert_cmpuint (odd, <=, 1);
}

static void
check_usual (const OgFormula    *after,
             const OgSuggestion *suggestion)
{
  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      const OgIngredient *ingredient = part_of (suggestion, i);
      const OgFigure *most = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];

      if (og_figure_is_known (most))
        g_assert_cmpfloat ((double) amount_of (after, ingredient->id), <=, most->value * OG_PPM_PER_PERCENT + 1.0);
    }
}

/* Used as it stands: whole, as promised, allowed, and cooked. */
static void
check_used (const OgFormula    *formula,
            const OgSuggestion *suggestion)
{
  g_autoptr (OgFormula) after = og_substitution_apply (formula, suggestion);
  g_autoptr (OgResult) was = og_evaluate (formula, catalog, NULL);
  g_autoptr (OgResult) is = og_evaluate (after, catalog, NULL);
  g_autoptr (OgStovePlan) plan_before = og_stove_plan (formula, was, NULL);
  g_autoptr (OgStovePlan) plan = og_stove_plan (after, is, NULL);
  g_autoptr (OgSaying) title = og_suggestion_get_title (suggestion);

  g_test_message ("%s", og_saying_text (title));
  g_assert_cmpint (og_formula_total (after), ==, OG_PPM_WHOLE);
  for (guint i = 0; suggestion->replaced[i] != NULL; i++)
    g_assert_null (og_formula_find_ingredient (after, suggestion->replaced[i]));
  if (isfinite (suggestion->viscosity_ratio.value))
    assert_within (is->pour.value / was->pour.value, suggestion->viscosity_ratio.value, 0.01);
  g_assert_cmpuint (count_blocking (is->findings), <=, count_blocking (was->findings));
  g_assert_cmpuint (count_blocking (plan->findings), <=, count_blocking (plan_before->findings));
  g_assert_true (!plan->refused || plan_before->refused);
  check_lines (formula, after, suggestion);
  check_usual (after, suggestion);
}

static void
check_all (const OgFormula             *formula,
           const char                  *id,
           const OgSubstitutionOptions *options)
{
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, id, options);

  g_test_message ("instead of %s: %u", id, suggestions->len);
  for (guint i = 0; i < suggestions->len; i++)
    check_used (formula, suggestion_at (suggestions, i));
}

/* BHT is used at 0.01 to 0.1 %, and the US list of antioxidants for food holds it to 0.02 % of the fat
 * (21 CFR 172.115, recalled): 1 % of it is no stand-in for 1 % of tocopherol. */
static void
test_antioxidant (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "tocopherol", NULL);

  g_assert_cmpuint (suggestions->len, >, 2);
  for (guint i = 0; i < suggestions->len; i++)
    {
      if (g_str_equal (part_of (suggestion_at (suggestions, i), 0)->id, "bht"))
        g_assert_cmpint (og_suggestion_get_part (suggestion_at (suggestions, i), 0)->amount, <=, 1000);
      check_used (formula, suggestion_at (suggestions, i));
    }
}

/* Styrene block copolymers swell in hydrocarbons and stay grains in castor oil (common practice, no
 * source): nothing of that kind thickens a castor oil. */
static void
test_agent_dissolves (void)
{
  g_autoptr (OgFormula) formula
      = fixture_recipe (FIXTURE_HEADER "Hot,castor-oil,95.5\nHot,polyamide-3,3.5\nLast,tocopherol,1.0\n", catalog);
  const OgSubstitutionOptions options = { .most = 60 };
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "polyamide-3", &options);

  g_assert_cmpuint (suggestions->len, >, 0);
  for (guint i = 0; i < suggestions->len; i++)
    {
      g_assert_cmpint (part_of (suggestion_at (suggestions, i), 0)->gelling.castor, !=, OG_SOLVENT_NO);
      check_used (formula, suggestion_at (suggestions, i));
    }
}

/* The body is kept, or the agent did what it can: no more of it is usual, or the oil would stand in the bottle. */
static gboolean
keeps_body (const OgFormula    *formula,
            const OgSuggestion *suggestion)
{
  g_autoptr (OgFormula) after = og_substitution_apply (formula, suggestion);

  return fabs (log (suggestion->viscosity_ratio.value)) < 0.06 || amount_of (after, "polyamide-3") == 50000
         || suggestion->rest_after_mpa_s > 2.0 * suggestion->rest_before_mpa_s;
}

static gboolean
tells (const GPtrArray *sayings,
       const char      *word)
{
  for (guint i = 0; i < sayings->len; i++)
    if (strstr (og_saying_text (g_ptr_array_index (sayings, i)), word) != NULL)
      return TRUE;
  return FALSE;
}

/* A lip oil of castor keeps its body with another oil as far as the agent may rise, and both values of a body that
 * changes are told. The heavy esters of the trade stand in for castor, but the library knows no viscosity of
 * theirs: that is said. */
static void
test_castor (void)
{
  g_autoptr (OgFormula) formula
      = fixture_recipe (FIXTURE_HEADER "Hot,castor-oil,45\nHot,polyamide-3,1.5\nCool,sunflower-oil,balance\n"
                                       "Last,tocopherol,1.0\n", catalog);
  g_autoptr (GPtrArray) left_out = NULL;
  const OgSubstitutionOptions options = { .left_out = &left_out };
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "castor-oil", &options);

  g_assert_cmpuint (suggestions->len, ==, 12);
  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = suggestion_at (suggestions, i);
      g_autoptr (OgSaying) rest = og_suggestion_tell_rest (suggestion);
      g_autoptr (OgSaying) moves = og_suggestion_tell_moves (suggestion);

      check_used (formula, suggestion);
      g_assert_true (keeps_body (formula, suggestion));
      g_assert_nonnull (strstr (og_saying_text (moves), "Polyamide-3"));
      g_assert_nonnull (strstr (og_saying_text (moves), "Sunflower oil"));
      if (suggestion->rest_after_mpa_s > 2.0 * suggestion->rest_before_mpa_s)
        {
          g_assert_nonnull (rest);
          g_assert_true (tells (suggestion->losses, "at rest"));
        }
    }
  g_assert_true (tells (left_out, "Diisostearyl malate"));
}

/* All kinds there are stand among the suggestions: the nearest of each, if no other is of that kind. */
static void
test_kinds (void)
{
  g_autoptr (OgFormula) formula
      = fixture_recipe (FIXTURE_HEADER "Hot,castor-oil,41\nHot,sunflower-oil-high-oleic,balance\nHot,polyamide-3,2.2\n"
                                       "Last,tocopherol,0.45\n", catalog);
  static struct
  {
    char id[32];
    double per_kg;
  } prices[] = { { "castor-oil", 9.0 }, { "canola-oil", 2.0 }, { "sunflower-oil-high-oleic", 4.0 },
                 { "polyamide-3", 40.0 } };
  static char currency[] = "EUR";
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  const OgSubstitutionOptions options = { .most_parts = 2, .shelf = shelf };
  const OgSubstitutionOptions plants = { .from_plants = TRUE, .most = 100 };
  g_autoptr (GPtrArray) suggestions = NULL;
  g_autoptr (GPtrArray) from_plants = suggestions_for (formula, "castor-oil", &plants);
  guint kinds = 0;

  for (guint i = 0; i < G_N_ELEMENTS (prices); i++)
    og_shelf_put (shelf, &(OgShelfItem) { prices[i].id, 500.0, prices[i].per_kg, currency, 0 });
  suggestions = suggestions_for (formula, "castor-oil", &options);
  for (guint i = 0; i < suggestions->len; i++)
    kinds |= suggestion_at (suggestions, i)->kinds;
  g_assert_true (kinds & 1u << OG_SUGGESTION_SAME_BODY);
  g_assert_true (kinds & 1u << OG_SUGGESTION_PLANT);
  g_assert_true (kinds & 1u << OG_SUGGESTION_CHEAPER);
  g_assert_true (kinds & 1u << OG_SUGGESTION_STOCKED);
  g_assert_cmpuint (from_plants->len, >, 5);
  for (guint i = 0; i < from_plants->len; i++)
    g_assert_true (og_ingredient_is_from_plants (part_of (suggestion_at (from_plants, i), 0)));
  g_assert_false (og_ingredient_is_from_plants (og_catalog_get (catalog, "mineral-oil")));
  g_assert_false (og_ingredient_is_from_plants (og_catalog_get (catalog, "lanolin-oil")));
}

/* No two mixtures that share more than half of what they are made of. */
static void
test_no_copies (void)
{
  g_autoptr (OgFormula) formula
      = fixture_recipe (FIXTURE_HEADER "Hot,castor-oil,41\nHot,sunflower-oil-high-oleic,balance\nHot,polyamide-3,2.2\n"
                                       "Cool,squalane,8\nLast,tocopherol,0.45\n", catalog);
  const OgSubstitutionOptions options = { .most_parts = 3, .most = 12 };
  g_autoptr (GPtrArray) suggestions = suggestions_for (formula, "castor-oil", &options);

  g_assert_cmpuint (suggestions->len, >=, 5);
  for (guint i = 0; i < suggestions->len; i++)
    for (guint j = 0; j < i; j++)
      {
        const OgSuggestion *one = suggestion_at (suggestions, i), *other = suggestion_at (suggestions, j);
        double common = 0.0;

        for (guint a = 0; a < one->parts->len; a++)
          for (guint b = 0; b < other->parts->len; b++)
            if (part_of (one, a) == part_of (other, b))
              common += MIN (og_suggestion_get_part (one, a)->amount, og_suggestion_get_part (other, b)->amount);
        g_assert_cmpfloat (common, <, 0.55 * 410000.0);
      }
  check_all (formula, "castor-oil", &options);
}

/* --- anything ---------------------------------------------------------------------------------- */

static const char *const oils[]
    = { "castor-oil", "sunflower-oil", "olive-oil", "jojoba-oil", "caprylic-capric-triglyceride",
        "diisostearyl-malate", "octyldodecanol", "meadowfoam-seed-oil", "squalane" };
static const char *const agents[] = { "polyamide-3", "dextrin-palmitate", "ethylcellulose", "silica-silylate" };
static const char *const small[] = { "tocopherol", "red-iron-oxide-in-castor-oil", "bisabolol", "silver-pearl" };

static OgFormula *
random_recipe (GRand *rand)
{
  g_autoptr (GString) table = g_string_new (FIXTURE_HEADER);
  const guint first = g_rand_int (rand) % G_N_ELEMENTS (oils);
  const guint second = (first + 1 + g_rand_int (rand) % (G_N_ELEMENTS (oils) - 1)) % G_N_ELEMENTS (oils);
  const double agent = g_rand_boolean (rand) ? 0.01 * g_rand_int_range (rand, 100, 300) : 0.0;
  const double extra = 0.01 * g_rand_int_range (rand, 5, 50);
  const double share = 0.0001 * g_rand_int_range (rand, 200000, 700000);
  const double rest = 100.0 - share - agent - extra;

  g_string_append_printf (table, "A,%s,%.4f\n", oils[first], share);
  if (g_rand_boolean (rand))
    g_string_append_printf (table, "A,%s,balance\n", oils[second]);
  else
    g_string_append_printf (table, "A,%s,%.4f\n", oils[second], rest);
  if (agent > 0.0)
    g_string_append_printf (table, "A,%s,%.2f\n", agents[g_rand_int (rand) % G_N_ELEMENTS (agents)], agent);
  g_string_append_printf (table, "B,%s,%.2f\n", small[g_rand_int (rand) % G_N_ELEMENTS (small)], extra);
  g_test_message ("%s", table->str);
  return fixture_recipe (table->str, catalog);
}

static void
check_recipe (const OgFormula *formula,
              guint            most_parts)
{
  const OgSubstitutionOptions options = { .most = 6, .most_parts = most_parts };
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);

          if (g_hash_table_add (seen, line->ingredient_id))
            check_all (formula, line->ingredient_id, &options);
        }
    }
}

static void
test_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (20261130);

  for (guint i = 0; i < 12; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand);

      check_recipe (formula, 1 + i % 2);
    }
}

/* --- drafts ------------------------------------------------------------------------------------ */

/* Most of hydrocarbons that a lip oil or an oil for skin is made of, and of those that feel like glue:
 * common practice, no source. */
#define MOST_HYDROCARBON 0.60
#define MOST_POLYBUTENE 0.30

static gboolean
is_polybutene (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_HYDROCARBON && og_ingredient_has_role (ingredient, "thickener");
}

static void
check_draft (const OgDraft *draft)
{
  g_autoptr (OgResult) result = og_evaluate (draft->formula, catalog, NULL);
  g_autoptr (OgStovePlan) plan = og_stove_plan (draft->formula, result, NULL);
  double hydrocarbon = 0.0, polybutene = 0.0;

  for (guint i = 0; i < result->contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (result->contents, i);

      hydrocarbon += content->ingredient->kind == OG_KIND_HYDROCARBON ? content->fraction : 0.0;
      polybutene += is_polybutene (content->ingredient) ? content->fraction : 0.0;
    }
  g_assert_cmpfloat (hydrocarbon, <=, MOST_HYDROCARBON + 1e-3);
  g_assert_cmpfloat (polybutene, <=, MOST_POLYBUTENE + 1e-3);
  g_assert_cmpuint (count_blocking (result->findings), ==, 0);
  g_assert_cmpuint (count_blocking (plan->findings), ==, 0);
  g_assert_false (plan->refused);
}

static void
test_drafts (void)
{
  static const char *const tags[] = { "palm", NULL };

  for (int product = 0; product < OG_N_PRODUCTS; product++)
    for (int body = OG_BODY_DRY; body <= OG_BODY_SET; body++)
      for (int few = 0; few < 2; few++)
        {
          const OgBrief brief = { .product = (OgProduct) product, .body = (OgBody) body,
                                  .most = few ? 3 : 0, .without_tags = few ? tags : NULL };
          g_autoptr (GError) error = NULL;
          g_autoptr (OgDraft) draft = og_draft (&brief, catalog, &error);

          g_assert_no_error (error);
          g_test_message ("%s, %s", og_product_to_nick (brief.product), og_body_to_nick (brief.body));
          if (og_formula_get_n_lines (draft->formula) > 0)
            check_draft (draft);
        }
}

/* A first draft is used on: its own suggestions hold as well. */
static void
test_draft_used (void)
{
  static const OgProduct products[] = { OG_PRODUCT_LIP_APPLICATOR, OG_PRODUCT_BODY };

  for (guint i = 0; i < G_N_ELEMENTS (products); i++)
    {
      const OgBrief brief = { .product = products[i], .tint = products[i] == OG_PRODUCT_LIP_APPLICATOR };
      g_autoptr (OgDraft) draft = og_draft (&brief, catalog, NULL);

      check_recipe (draft->formula, 1);
    }
}

int
main (int   argc,
      char *argv[])
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/soundness/antioxidant", test_antioxidant);
  g_test_add_func ("/soundness/agent-dissolves", test_agent_dissolves);
  g_test_add_func ("/soundness/castor", test_castor);
  g_test_add_func ("/soundness/kinds", test_kinds);
  g_test_add_func ("/soundness/no-copies", test_no_copies);
  g_test_add_func ("/soundness/random", test_random);
  g_test_add_func ("/soundness/drafts", test_drafts);
  g_test_add_func ("/soundness/draft-used", test_draft_used);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
