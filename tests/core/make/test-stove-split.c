/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Oil kept back is checked with the plan of the recipe in which somebody did so, split here by hand, and with the
 * balance of heat written out.
 */
#include "core/make/stove-split.h"

#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "core/base/finding.h"
#include "core/design/draft.h"
#include "core/recipe/recipe-table.h"

#define NEAR_K 1.0 /* as a bench thermometer reads */

static OgCatalog *catalog;

typedef struct
{
  guint proposals, coolings, refused;
} Tally;

static OgFormula *
split_by_hand (const OgFormula    *formula,
               const OgStoveSplit *split)
{
  OgFormula *next = og_formula_copy (formula);
  OgFormulaLine *line = og_formula_find_line (next, split->line_id, NULL, NULL);
  guint position = next->phases->len;

  if (split->before_phase_id != 0)
    g_assert_nonnull (og_formula_find_phase (next, split->before_phase_id, &position));
  g_assert_cmpint (split->amount, >, 0);
  g_assert_cmpint (split->amount, <, line->amount);
  assert_within (split->share, (double) split->amount / line->amount, 1e-9);
  line->amount -= split->amount;
  og_formula_add_line (next, og_formula_add_phase (next, "By hand", NAN, position), line->ingredient_id, split->amount,
                       G_MAXUINT);
  return next;
}

static gboolean
has_code (const GPtrArray *findings,
          const char      *code)
{
  for (guint i = 0; i < findings->len; i++)
    if (g_str_equal (((const OgFinding *) g_ptr_array_index (findings, i))->code, code))
      return TRUE;
  return FALSE;
}

/* Where the phase "By hand" goes in. */
static const OgStoveStep *
addition_of (const OgStovePlan *plan,
             const OgFormula   *split)
{
  for (guint i = 0; i < split->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (split->phases, i);

      for (guint j = 0; g_str_equal (phase->name, "By hand") && j < plan->steps->len; j++)
        {
          const OgStoveStep *step = g_ptr_array_index (plan->steps, j);

          if (step->act == OG_STOVE_ADD && step->step.phase_id == phase->id)
            return step;
        }
    }
  return NULL;
}

static void
assert_proposal (const OgFormula    *formula,
                 const OgResult     *result,
                 const OgStoveSetup *setup,
                 const OgStovePlan  *plan,
                 const OgStoveStep  *cool)
{
  g_autoptr (OgFormula) split = split_by_hand (formula, cool->split);
  g_autoptr (OgStovePlan) after = og_stove_plan (split, result, setup);
  g_autoptr (OgSaying) words = og_stove_split_proposal (cool->split);
  const OgStoveStep *add = addition_of (after, split);

  g_assert_nonnull (add);
  g_assert_null (add->step.caution);
  g_assert_cmpfloat_with_epsilon (add->after_c, cool->after_c, NEAR_K);
  assert_within (add->added_g, cool->split->g, 1e-9);
  g_assert_cmpint (og_formula_total (split), ==, og_formula_total (formula));
  g_assert_nonnull (strstr (og_saying_text (words), cool->split->name));
  for (guint i = 0; i < after->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (after->findings, i);

      if (finding->severity != OG_SEVERITY_NOTE)
        g_assert_true (has_code (plan->findings, finding->code));
    }
}

static void
check_recipe (const OgFormula    *formula,
              const OgResult     *result,
              const OgStoveSetup *setup,
              Tally              *tally)
{
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, result, setup);

  og_stove_find_splits (plan, formula, result, setup);
  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      tally->coolings += step->act == OG_STOVE_COOL;
      if (step->split == NULL)
        continue;
      g_assert_cmpint (step->act, ==, OG_STOVE_COOL);
      assert_proposal (formula, result, setup, plan, step);
      tally->proposals++;
    }
}

/* --- many recipes -------------------------------------------------------- */

static const char *const liquids[]
    = { "castor-oil", "sunflower-oil", "squalane", "caprylic-capric-triglyceride", "jojoba-oil", "hemp-seed-oil" };
static const char *const agents[]
    = { "polyamide-3", "polyamide-8", "dextrin-palmitate", "beeswax", "candelilla-wax", "ethylcellulose" };

/* An agent in oil, other oils cooler, what heat harms at last: shares, temperatures, all by lot. */
static OgFormula *
recipe_by_lot (GRand *rand)
{
  OgFormula *formula = og_formula_new ();
  const double hot_c = g_rand_int_range (rand, 85, 125), cool_c = g_rand_int_range (rand, 45, (gint32) hot_c - 5);
  OgFormulaPhase *hot = og_formula_add_phase (formula, "Hot", g_rand_int_range (rand, 0, 5) == 0 ? NAN : hot_c, 0);
  OgFormulaPhase *cool = og_formula_add_phase (formula, "Cool", g_rand_int_range (rand, 0, 8) == 0 ? NAN : cool_c, 1);
  OgPpm agent = g_rand_int_range (rand, 5000, 80000), last = g_rand_int_range (rand, 0, 10000);
  OgPpm first = g_rand_int_range (rand, 100000, 850000), left = OG_PPM_WHOLE - agent - last - first;

  og_formula_add_line (formula, hot, liquids[g_rand_int_range (rand, 0, G_N_ELEMENTS (liquids))], first, 0);
  og_formula_add_line (formula, hot, agents[g_rand_int_range (rand, 0, G_N_ELEMENTS (agents))], agent, 1);
  if (g_rand_boolean (rand))
    {
      og_formula_add_line (formula, hot, liquids[g_rand_int_range (rand, 0, G_N_ELEMENTS (liquids))], left / 2, 0);
      left -= left / 2;
    }
  og_formula_add_line (formula, cool, liquids[g_rand_int_range (rand, 0, G_N_ELEMENTS (liquids))], left, 0);
  if (last > 0)
    og_formula_add_line (formula, og_formula_add_phase (formula, "Last", g_rand_boolean (rand) ? NAN : 40, 2),
                         "tocopherol", last, 0);
  formula->batch_g = exp (g_rand_double_range (rand, log (10), log (5000)));
  return formula;
}

static void
test_by_lot (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2026);
  Tally tally = { 0 };

  for (guint i = 0; i < 150; i++)
    {
      g_autoptr (OgFormula) formula = recipe_by_lot (rand);
      const OgResult result = { .catalog = catalog, .body = (OgBody) g_rand_int_range (rand, 2, 8) };
      OgStoveSetup setup;

      og_stove_setup_init (&setup);
      setup.room_c = g_rand_double_range (rand, 12, 32);
      setup.vessel = (OgVesselKind) g_rand_int_range (rand, 0, OG_N_VESSELS);
      setup.vessel_ml = g_rand_boolean (rand) ? NAN : formula->batch_g * g_rand_double_range (rand, 1.2, 4);
      setup.batch_g = g_rand_boolean (rand) ? NAN : formula->batch_g * g_rand_double_range (rand, 0.5, 3);
      check_recipe (formula, &result, &setup, &tally);
    }
  g_test_message ("%u proposals for %u coolings", tally.proposals, tally.coolings);
  g_assert_cmpuint (tally.proposals, >, 30);
  g_assert_cmpuint (tally.coolings, >, tally.proposals);
}

static void
test_drafts (void)
{
  static const OgProduct products[] = { OG_PRODUCT_LIP_APPLICATOR, OG_PRODUCT_BODY };
  Tally tally = { 0 };

  for (guint i = 0; i < G_N_ELEMENTS (products); i++)
    {
      const OgBrief brief = { .product = products[i], .body = i == 0 ? OG_BODY_SYRUPY : OG_BODY_UNKNOWN };
      g_autoptr (GError) error = NULL;
      g_autoptr (OgDraft) draft = og_draft (&brief, catalog, &error);
      g_autoptr (OgResult) result = NULL;
      OgStoveSetup setup;

      g_assert_no_error (error);
      result = og_evaluate (draft->formula, catalog, NULL);
      og_stove_setup_init (&setup);
      check_recipe (draft->formula, result, &setup, &tally);
    }
}

/* --- one recipe by hand -------------------------------------------------- */

/* Heat of an oil, J: 2.018 + 0.00147 (T - 25) kJ/(kg K), as heat-capacity.h names it. */
static double
oil_heat (double g,
          double from_c,
          double to_c)
{
  return g * ((2.018 - 25 * 0.00147) * (to_c - from_c) + 0.00147 / 2 * (to_c * to_c - from_c * from_c));
}

/* 100 g of oil from 110 to 85 °C: with x of them kept back, (100 - x) give what x take up, and the glass that holds
 * (100 - x) gives its share. Without glass x would be 29.4: the glass needs some more. */
static void
test_by_hand (void)
{
  g_autoptr (OgFormula) formula
      = fixture_recipe ("phase,ingredient,percent,add_temperature_c\nA,castor-oil,99,110\nB,squalane,1,85\n", catalog);
  const OgResult result = { .catalog = catalog, .body = OG_BODY_LIGHT };
  g_autoptr (OgStovePlan) plan = NULL;
  const OgStoveSplit *split = NULL;
  OgStoveSetup setup;
  double kept, bare_g;

  og_stove_setup_init (&setup);
  plan = og_stove_plan (formula, &result, &setup);
  og_stove_find_splits (plan, formula, &result, &setup);
  for (guint i = 0; i < plan->steps->len && split == NULL; i++)
    split = ((const OgStoveStep *) g_ptr_array_index (plan->steps, i))->split;
  g_assert_nonnull (split);
  kept = split->g;
  bare_g = 99 * oil_heat (1, 85, 110) / (oil_heat (1, 85, 110) + oil_heat (1, 25, 85));
  g_assert_cmpstr (split->name, ==, "Castor oil");
  g_assert_cmpfloat (split->from_c, ==, 110);
  g_assert_cmpfloat_with_epsilon (split->reached_c, 85, NEAR_K);
  g_assert_cmpfloat (kept, >, bare_g);
  g_assert_cmpfloat (kept, <, bare_g + 8);
}

/* What was proposed before kept 86 g of 200 back and ended at 73 °C: it left them in the pot as well. */
static void
test_demo (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "demo", "harbour-gloss.oleograph", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = og_recipe_load (path, catalog, &error);
  g_autoptr (OgResult) result = NULL;
  g_autoptr (OgStovePlan) plan = NULL;
  OgStoveSetup setup;
  Tally tally = { 0 };

  g_assert_no_error (error);
  result = og_evaluate (formula, catalog, NULL);
  og_stove_setup_init (&setup);
  check_recipe (formula, result, &setup, &tally);
  g_assert_cmpuint (tally.proposals, >=, 1);
  plan = og_stove_plan (formula, result, &setup);
  og_stove_find_splits (plan, formula, result, &setup);
  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->split == NULL || step->before_c < 100)
        continue;
      g_assert_cmpfloat_with_epsilon (step->split->g, 59, 3);
      return;
    }
  g_assert_not_reached ();
}

/* Nothing is kept back of the only oil that an agent dissolves in, and nothing that would leave lumps. */
static void
test_none (void)
{
  static const char *const recipes[] = {
    "A,polyamide-3,20,115\nA,castor-oil,45,115\nB,squalane,35,72\n",
    "A,castor-oil,97,110\nA,polyamide-3,2,110\nB,tocopherol,1,40\n",
  };

  for (guint i = 0; i < G_N_ELEMENTS (recipes); i++)
    {
      g_autofree char *rows = g_strconcat ("phase,ingredient,percent,add_temperature_c\n", recipes[i], NULL);
      g_autoptr (OgFormula) formula = fixture_recipe (rows, catalog);
      const OgResult result = { .catalog = catalog, .body = OG_BODY_SYRUPY };
      OgStoveSetup setup;
      Tally tally = { 0 };

      og_stove_setup_init (&setup);
      check_recipe (formula, &result, &setup, &tally);
      g_assert_cmpuint (tally.proposals, ==, 0);
      g_assert_cmpuint (tally.coolings, >, 0);
    }
}

static void
test_apply (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe ("phase,ingredient,percent\nA,castor-oil,60\nB,squalane,40\n", catalog);
  const OgFormulaPhase *last = g_ptr_array_index (formula->phases, 1);
  const OgFormulaPhase *first = g_ptr_array_index (formula->phases, 0);
  OgFormulaLine *line = g_ptr_array_index (first->lines, 0);
  const OgStoveSplit split = { .line_id = line->id, .before_phase_id = last->id, .amount = 150000, .name = "Castor" };
  g_autoptr (OgFormula) next = NULL;
  const OgFormulaPhase *cold;

  line->add_temperature_c = 110;
  line->held = TRUE;
  next = og_stove_split_apply (formula, &split, "Cold");
  g_assert_cmpuint (next->phases->len, ==, 3);
  cold = g_ptr_array_index (next->phases, 1);
  g_assert_cmpstr (cold->name, ==, "Cold");
  line = g_ptr_array_index (cold->lines, 0);
  g_assert_cmpint (line->amount, ==, 150000);
  g_assert_true (line->held);
  g_assert_true (isnan (line->add_temperature_c));
  line = og_formula_find_line (next, split.line_id, NULL, NULL);
  g_assert_cmpint (line->amount, ==, 450000);
  g_assert_cmpfloat (line->add_temperature_c, ==, 110);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/stove-split/by-hand", test_by_hand);
  g_test_add_func ("/stove-split/demo", test_demo);
  g_test_add_func ("/stove-split/none", test_none);
  g_test_add_func ("/stove-split/apply", test_apply);
  g_test_add_func ("/stove-split/by-lot", test_by_lot);
  g_test_add_func ("/stove-split/drafts", test_drafts);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
