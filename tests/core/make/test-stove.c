/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Bench advice is common practice, no source. The materials are invented, so that each rule is met
 * by one number; heats are compared with the balance written out here, cooling with its closed
 * form.
 */
#include <math.h>
#include <string.h>

#include "common/fixture.h"
#include "common/random-recipe.h"
#include "core/design/draft.h"
#include "core/make/stove.h"
#include "core/predict/gellant.h"
#include "core/recipe/recipe-table.h"

#define FIGURE(value) "{ \"value\": " value ", \"unit\": \"C\", \"source\": \"s\", " \
                      "\"quality\": \"estimated\" }"
#define HEAT(value) "{ \"value\": " value ", \"unit\": \"kJ/(kg K)\", \"source\": \"s\", " \
                    "\"quality\": \"estimated\" }"
#define FUSION(value) "{ \"value\": " value ", \"unit\": \"J/g\", \"source\": \"s\", " \
                      "\"quality\": \"estimated\" }"
#define MATERIAL(id, kind, more) \
  "{ \"id\": \"" id "\", \"name\": \"" id "\", \"kind\": \"" kind "\", \"roles\": [\"base\"], " \
  "\"uses\": [\"lip\"], \"tags\": []" more " }"
#define FIGURES(key, value) ", \"figures\": { \"" key "\": " FIGURE (value) " }"
#define GELLING(family, more) ", \"gelling\": { \"family\": \"" family "\", \"solvents\": {}, " \
                              "\"needs_shear\": false, \"reversible\": true" more " }"

static const char materials[] =
  "{ \"format\": \"oleograph-catalog\", \"version\": 1, \"sources\": { \"s\": \"invented\" },"
  "\"materials\": ["
  MATERIAL ("oil", "oil", "") ","
  MATERIAL ("shy-oil", "oil", FIGURES ("max_heat_c", "40")) ","
  MATERIAL ("smoky-oil", "oil", FIGURES ("smoke_point_c", "115")) ","
  MATERIAL ("light-ester", "ester", FIGURES ("flash_point_c", "120")) ","
  MATERIAL ("agent", "gelling-agent",
            GELLING ("physical-polymer-gel",
                     ", \"dissolves_c\": " FIGURE ("110") ", \"sets_c\": " FIGURE ("70"))) ","
  MATERIAL ("fierce-agent", "gelling-agent",
            GELLING ("physical-polymer-gel", ", \"dissolves_c\": " FIGURE ("150"))) ","
  MATERIAL ("wax", "wax", ", \"figures\": { \"melting_c\": " FIGURE ("60")
            ", \"heat_capacity_kj_kg_k\": " HEAT ("2.2") " }"
            GELLING ("crystal-network",
                     ", \"dissolves_c\": " FIGURE ("62") ", \"sets_c\": " FIGURE ("40")
                     ", \"melting_enthalpy_j_g\": " FUSION ("200"))) ","
  MATERIAL ("cold-wax", "wax", FIGURES ("melting_c", "60")) ","
  MATERIAL ("dark-wax", "wax", "") ","
  MATERIAL ("saver", "antioxidant", "")
  "] }";

static OgCatalog *catalog;

static OgStovePlan *
plan_with (const char         *rows,
           OgBody              body,
           const OgStoveSetup *setup)
{
  g_autofree char *text = g_strconcat ("phase,ingredient,percent,add_temperature_c\n", rows, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = og_recipe_table_parse (text, -1, "x", catalog, &error);
  OgResult result = { .catalog = catalog, .body = body };

  g_assert_no_error (error);
  return og_stove_plan (formula, &result, setup);
}

static OgStovePlan *
plan_of (const char *rows)
{
  return plan_with (rows, OG_BODY_SUBSTANTIAL, NULL);
}

/* The @nth step of the kind, from 0; NULL if there is none. */
static const OgStoveStep *
find (const OgStovePlan *plan,
      OgStoveAct         act,
      guint              nth)
{
  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->act == act && nth-- == 0)
        return step;
    }
  return NULL;
}

static const OgFinding *
finding_in (const GPtrArray *findings,
            const char      *code)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *one = g_ptr_array_index (findings, i);

      if (strcmp (one->code, code) == 0)
        return one;
    }
  return NULL;
}

static const OgFinding *
finding (const OgStovePlan *plan,
         const char        *code)
{
  return finding_in (plan->findings, code);
}

/* --- the balance of heat, written out ------------------------------------ */

/* J of grams of an invented oil, agent or glass between two temperatures: the straight lines that
 * core/heat-capacity.h and core/cooling.h name. */
static double
heat_of (double g,
         double at_25_c,
         double slope,
         double from_c,
         double to_c)
{
  return g
         * ((at_25_c - 25 * slope) * (to_c - from_c) + slope / 2 * (to_c * to_c - from_c * from_c));
}

static double
oil_heat (double g,
          double from_c,
          double to_c)
{
  return heat_of (g, 2.018, 0.00147, from_c, to_c);
}

static double
agent_heat (double g,
            double from_c,
            double to_c)
{
  return heat_of (g, 1.9, 0.0025, from_c, to_c);
}

static double
glass_heat (const OgStovePlan *plan,
            double             pot_g,
            double             from_c,
            double             to_c)
{
  /* invented materials have no density: 0.92 g/ml */
  return heat_of (og_vessel_wet_g (&plan->vessel, pot_g / 0.92), 0.84, 0.001, from_c, to_c);
}

/* 60 g of oil, 2 g of agent at @pot_c, then 38 g of oil from the shelf: what is missing to balance at
 * @meet_c. */
static double
imbalance (const OgStovePlan *plan,
           double             pot_c,
           double             meet_c)
{
  return oil_heat (60, pot_c, meet_c) + agent_heat (2, pot_c, meet_c)
         + glass_heat (plan, 62, pot_c, meet_c) + oil_heat (38, 25, meet_c);
}

/* Warned exactly when the pot would fall below 70 °C, and by how much. */
static void
test_chill_threshold (void)
{
  guint warned = 0;
  double nearest = INFINITY;

  for (double pot_c = 80; pot_c <= 110; pot_c += 0.5)
    {
      g_autofree char *rows
          = g_strdup_printf ("A,oil,60,110\nA,agent,2,110\nB,oil,38,%.1f\n", pot_c);
      g_autoptr (OgStovePlan) plan = plan_of (rows);
      const OgStoveStep *add = find (plan, OG_STOVE_ADD, 0);
      gboolean below;

      g_assert_cmpfloat (fabs (add->before_c - pot_c), <=, 3);
      g_assert_cmpfloat_with_epsilon (imbalance (plan, add->before_c, add->cold_after_c), 0, 1e-6);
      below = add->cold_after_c < 70;
      nearest = fmin (nearest, fabs (add->cold_after_c - 70));
      warned += below;
      g_assert_cmpint (finding (plan, "stove-chill") != NULL, ==, below);
      g_assert_cmpint (
          add->step.caution != NULL && strstr (og_saying_text (add->step.caution), "chill") != NULL, ==, below);
      g_assert_cmpfloat (add->limit_c, ==, 70);
      g_assert_cmpstr (add->limit_name, ==, "agent");
      if (below)
        g_assert_cmpfloat_with_epsilon (add->chill_k, 70 - add->cold_after_c, 1e-9);
      else
        g_assert_true (isnan (add->chill_k));
    }
  g_assert_cmpuint (warned, >, 10);
  g_assert_cmpuint (warned, <, 51);
  g_assert_cmpfloat (nearest, <, 0.2);
}

/* Warmed as it says, the addition leaves the pot 5 K above setting. */
static void
test_warm_first (void)
{
  g_autoptr (OgStovePlan) plan = plan_of ("A,oil,60,110\nA,agent,2,110\nB,oil,38,85\n");
  const OgStoveStep *add = find (plan, OG_STOVE_ADD, 0);

  g_assert_cmpfloat (add->warm_first_c, >, 25);
  g_assert_cmpfloat (add->after_c, ==, 75);
  g_assert_cmpfloat (add->added_c, ==, add->warm_first_c);
  g_assert_cmpfloat_with_epsilon (oil_heat (60, 85, 75) + agent_heat (2, 85, 75)
                                      + glass_heat (plan, 62, 85, 75)
                                      + oil_heat (38, add->warm_first_c, 75),
                                  0,
                                  1e-6);
}

/* 12 % of candelilla in the first charge are 6 % once as much oil has come: it sets cooler then, by
 * the ideal solubility that core/gellant.h names. */
static void
test_dilution (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (OgFormula) formula
      = fixture_recipe ("phase,ingredient,percent,add_temperature_c\nA,castor-oil,44,\n"
                        "A,candelilla-wax,6,\nB,sunflower-oil,50,80\n", library);
  OgResult result = { .catalog = library, .body = OG_BODY_SYRUPY };
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, &result, NULL);
  OgGellant wax;

  og_gellant_init (&wax, og_catalog_get (library, "candelilla-wax"),
                   og_catalog_get_parameters (library));
  g_assert_cmpfloat (og_gellant_sets_c (&wax, 0.12), >, og_gellant_sets_c (&wax, 0.06));
  g_assert_cmpfloat_with_epsilon (find (plan, OG_STOVE_ADD, 0)->limit_c,
                                  og_gellant_sets_c (&wax, 0.06), 1e-9);
}

/* Nothing suits an oil that bears 40 °C and an agent that sets at 70: it is not told to warm the oil. */
static void
test_shy_addition (void)
{
  g_autoptr (OgStovePlan) plan = plan_of ("A,oil,60,110\nA,agent,2,110\nB,shy-oil,38,85\n");
  const OgStoveStep *add = find (plan, OG_STOVE_ADD, 0);

  g_assert_cmpfloat (add->before_c, ==, 40);
  g_assert_true (isnan (add->warm_first_c));
  g_assert_nonnull (strstr (og_saying_text (add->step.caution), "no temperature suits both"));
  g_assert_nonnull (finding (plan, "stove-heat-shy"));
  g_assert_nonnull (finding (plan, "stove-no-temperature"));
}

/* Any single addition of the invented oil, any size: the balance holds. */
static void
test_random_additions (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (83);

  for (guint i = 0; i < 300; i++)
    {
      int first = g_rand_int_range (rand, 1, 100), pot_c = g_rand_int_range (rand, 32, 140);
      g_autofree char *rows
          = g_strdup_printf ("A,oil,%d,%d\nB,oil,%d,%d\n", first, pot_c, 100 - first, pot_c);
      g_autoptr (OgStovePlan) plan = NULL;
      OgStoveSetup setup;
      const OgStoveStep *add;

      og_stove_setup_init (&setup);
      setup.room_c = g_rand_double_range (rand, 5, 29);
      setup.batch_g = exp (g_rand_double_range (rand, 1, 8));
      plan = plan_with (rows, OG_BODY_LIGHT, &setup);
      add = find (plan, OG_STOVE_ADD, 0);
      g_assert_cmpfloat (add->before_c, ==, pot_c);
      g_assert_cmpfloat_with_epsilon (
        oil_heat (setup.batch_g * first / 100, pot_c, add->after_c)
          + glass_heat (plan, setup.batch_g * first / 100, pot_c, add->after_c)
          + oil_heat (setup.batch_g * (100 - first) / 100, setup.room_c, add->after_c),
        0, 1e-6 * setup.batch_g);
    }
}

/* By hand: 10 g of wax take 10 x (2.2 J/(g K) and 200 J/g) from 90 g of oil and the glass at 90 °C. */
static void
test_melting (void)
{
  g_autoptr (OgStovePlan) plan = plan_of ("A,oil,90,90\nB,wax,10,90\n");
  g_autoptr (OgStovePlan) unknown = plan_of ("A,oil,90,90\nB,cold-wax,10,90\n");
  const OgStoveStep *add = find (plan, OG_STOVE_ADD, 0);
  double meet_c = add->cold_after_c;

  g_assert_cmpfloat (meet_c, >, 60);
  g_assert_cmpfloat_with_epsilon (oil_heat (90, 90, meet_c) + glass_heat (plan, 90, 90, meet_c)
                                    + heat_of (10, 2.2, 0.0025, 25, meet_c) + 2000,
                                  0, 1e-6);
  g_assert_null (finding (plan, "stove-fusion-unknown"));
  g_assert_cmpfloat (find (unknown, OG_STOVE_ADD, 0)->cold_after_c, >, meet_c + 5);
  g_assert_nonnull (finding (unknown, "stove-fusion-unknown"));
}

static void
test_heat_needed (void)
{
  g_autoptr (OgStovePlan) plan = plan_of ("A,oil,100,90\n");
  const OgStoveStep *warm = find (plan, OG_STOVE_WARM, 0);

  g_assert_cmpfloat_with_epsilon (
      warm->heat_kj, (oil_heat (100, 25, 90) + glass_heat (plan, 100, 25, 90)) / 1000, 1e-9);
  g_assert_cmpfloat_with_epsilon (warm->minutes.value, 65 / OG_STOVE_WARM_K_MIN, 1e-9);
}

/* --- cooling ------------------------------------------------------------- */

/* A pot that was seen to take 48 minutes from 90 to 60 °C takes them again; half of it less. */
static void
test_cooled_reading (void)
{
  g_autoptr (OgStovePlan) same = NULL;
  g_autoptr (OgStovePlan) half = NULL;
  g_autoptr (OgStovePlan) useless = NULL;
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  setup.cool_to_c = 60;
  setup.vessel_ml = 150;
  setup.cooled = (OgCooled) { 90, 60, 48, NAN, NAN };
  same = plan_with ("A,oil,100,90\n", OG_BODY_LIGHT, &setup);
  g_assert_true (same->cooling.calibrated);
  g_assert_cmpfloat_with_epsilon (find (same, OG_STOVE_COOL, 0)->minutes.value, 48, 1e-6);
  g_assert_cmpfloat_with_epsilon (same->cooling_minutes.value, 48, 1e-6);

  setup.batch_g = 50;
  setup.cooled.batch_g = 100;
  half = plan_with ("A,oil,100,90\n", OG_BODY_LIGHT, &setup);
  g_assert_cmpfloat (half->cooling_minutes.value, <, 45);
  g_assert_cmpfloat (half->cooling_minutes.value, >, 24);

  setup.cooled = (OgCooled) { 60, 90, 48, NAN, NAN };
  useless = plan_with ("A,oil,100,90\n", OG_BODY_LIGHT, &setup);
  g_assert_false (useless->cooling.calibrated);
  g_assert_nonnull (finding (useless, "stove-reading-unusable"));
}

/* ln ((from - room)/(to - room))/k for the range too, several cool phases one after the other. */
static void
test_closed_form (void)
{
  g_autoptr (OgStovePlan) plan = plan_of ("A,oil,90,110\nB,saver,5,80\nC,saver,5,50\n");
  double sum = 0;

  for (guint i = 0; i < 3; i++)
    {
      const OgStoveStep *cool = find (plan, OG_STOVE_COOL, i);
      double log_ratio = log ((cool->before_c - 25) / (cool->after_c - 25));

      g_assert_cmpfloat (cool->minutes.low80, <, cool->minutes.value);
      g_assert_cmpfloat (cool->minutes.value, <, cool->minutes.high80);
      /* 7, 11 and 16 W/(m2 K) */
      assert_within (cool->minutes.low80 * 16, cool->minutes.value * 11, 1e-9);
      assert_within (cool->minutes.high80 * 7, cool->minutes.value * 11, 1e-9);
      g_assert_cmpfloat (log_ratio / cool->minutes.value, >, 0.5 * plan->rate_1_min.value);
      g_assert_cmpfloat (log_ratio / cool->minutes.value, <, 2 * plan->rate_1_min.value);
      sum += cool->minutes.value;
    }
  g_assert_null (find (plan, OG_STOVE_COOL, 3));
  g_assert_cmpfloat_with_epsilon (plan->cooling_minutes.value, sum, 1e-9);
}

static void
test_warm_room (void)
{
  g_autoptr (OgStovePlan) plan = NULL;
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  setup.room_c = 41;
  plan = plan_with ("A,oil,99,90\nB,saver,1,38\n", OG_BODY_LIGHT, &setup);
  g_assert_true (isinf (find (plan, OG_STOVE_COOL, 0)->minutes.value));
  g_assert_nonnull (finding (plan, "stove-room-too-warm"));
}

static void
test_still (void)
{
  g_autoptr (OgStovePlan) stirred = plan_of ("A,oil,100,90\n");
  g_autoptr (OgStovePlan) still = NULL;
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  setup.stirred = FALSE;
  still = plan_with ("A,oil,100,90\n", OG_BODY_LIGHT, &setup);
  assert_within (still->cooling_minutes.value, stirred->cooling_minutes.value / 0.75, 1e-9);
  g_assert_nonnull (strstr (og_saying_text (find (stirred, OG_STOVE_COOL, 0)->step.text), "a third longer"));
  g_assert_nonnull (strstr (og_saying_text (find (still, OG_STOVE_COOL, 0)->step.text), "stands still"));
}

/* --- what the recipe leaves open ----------------------------------------- */

static OgStovePlan *
plan_of_library (OgCatalog          *library,
                 const char         *rows,
                 const OgStoveSetup *setup)
{
  g_autofree char *text = g_strconcat ("phase,ingredient,percent,add_temperature_c\n", rows, NULL);
  g_autoptr (OgFormula) formula = fixture_recipe (text, library);
  OgResult result = { .catalog = library, .body = OG_BODY_SYRUPY };

  return og_stove_plan (formula, &result, setup);
}

static void
assert_text (const OgStoveStep *step,
             const char        *words)
{
  if (strstr (og_saying_text (step->step.text), words) == NULL)
    g_error ("“%s” does not say “%s”", og_saying_text (step->step.text), words);
}

/* A temperature at one line of the phase is that of the others; nothing is heated without an oil around it. */
static void
test_inherited (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  static const char *const recipes[] = {
    "A,polyamide-3,1,\nA,castor-oil,98,110\nA,tocopherol,1,\n",
    "A,polyamide-3,1,110\nA,castor-oil,98,\nA,tocopherol,1,\n",
    "A,castor-oil,98,110\nA,polyamide-3,1,\nB,tocopherol,1,\n",
  };

  for (guint i = 0; i < G_N_ELEMENTS (recipes); i++)
    {
      g_autoptr (OgStovePlan) plan = plan_of_library (library, recipes[i], NULL);
      const OgStoveStep *begin = find (plan, OG_STOVE_BEGIN, 0);

      assert_text (begin, "Polyamide-3 (1 g)");
      assert_text (begin, "Castor oil (98 g)");
      g_assert_null (strstr (og_saying_text (begin->step.text), "Tocopherol"));
      g_assert_cmpfloat (plan->hottest_c, ==, 110);
      g_assert_nonnull (finding (plan, "stove-temperature-inherited"));
      g_assert_nonnull (strstr (og_saying_text (begin->step.caution), "gives no temperature for"));
      g_assert_cmpfloat (find (plan, OG_STOVE_ADD, 0)->before_c, <, 42);
    }
}

static void
test_dry_start (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (OgStovePlan) phase = plan_of_library (library, "A,beeswax,5,85\nB,castor-oil,95,70\n", NULL);
  g_autoptr (OgStovePlan) line = plan_of_library (library, "A,beeswax,5,85\nA,castor-oil,95,70\n", NULL);
  g_autoptr (OgStovePlan) alone = plan_of_library (library, "A,beeswax,50,85\nB,candelilla-wax,50,85\n", NULL);

  assert_text (find (phase, OG_STOVE_BEGIN, 0), "Castor oil (95 g), Beeswax (5 g)");
  assert_text (find (line, OG_STOVE_BEGIN, 0), "Castor oil (95 g), Beeswax (5 g)");
  g_assert_cmpfloat (phase->hottest_c, ==, 85);
  g_assert_nonnull (finding (phase, "stove-dry-start"));
  g_assert_nonnull (finding (line, "stove-dry-start"));
  g_assert_null (finding (alone, "stove-dry-start")); /* no liquid is waited for */
}

/* What wears out or has a limit is told when the reader fills hot, and the pot is not warmed for it. */
static void
test_filled_hot (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  static const char *const recipes[]
      = { "A,castor-oil,97,110\nA,polyamide-3,2,110\nB,tocopherol,1,\n",
          "A,castor-oil,97,110\nA,polyamide-3,2,110\nB,retinyl-palmitate,1,\n" };
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  for (guint i = 0; i < G_N_ELEMENTS (recipes); i++)
    {
      g_autoptr (OgStovePlan) usual = plan_of_library (library, recipes[i], NULL);
      g_autoptr (OgStovePlan) plan = NULL;

      setup.cool_to_c = 150;
      plan = plan_of_library (library, recipes[i], &setup);
      g_assert_cmpfloat (plan->hottest_c, ==, 110);
      g_assert_nonnull (finding (plan, "stove-fill-hotter"));
      g_assert_null (finding (usual, "stove-fill-hotter"));
      if (i == 0)
        g_assert_nonnull (finding (plan, "stove-heat-wears"));
      else
        g_assert_cmpfloat (find (plan, OG_STOVE_ADD, 0)->before_c, ==, 40);
      g_assert_null (finding (usual, "stove-heat-wears"));
    }
}

/* A wax in the pot: grains below its melting point, which is 63.5 °C for beeswax and 70.5 for candelilla (recalled). */
static void
test_wax_chill (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (OgStovePlan) chilled
      = plan_of_library (library, "A,castor-oil,40,80\nA,beeswax,5,80\nB,jojoba-oil,55,80\n", NULL);
  g_autoptr (OgStovePlan) cool
      = plan_of_library (library, "A,castor-oil,60,85\nA,candelilla-wax,6,85\nB,jojoba-oil,34,60\n", NULL);
  g_autoptr (OgStovePlan) fine
      = plan_of_library (library, "A,castor-oil,80,85\nA,beeswax,5,85\nB,jojoba-oil,15,85\n", NULL);
  g_autoptr (OgStovePlan) unknown = plan_of ("A,oil,60,80\nA,dark-wax,5,80\nB,oil,35,80\n");
  const OgStoveStep *add = find (chilled, OG_STOVE_ADD, 0);

  g_assert_cmpfloat (add->cold_after_c, <, 63.5);
  g_assert_cmpfloat (add->after_c, >=, 63.5);
  g_assert_cmpfloat (add->warm_first_c, >, 25);
  g_assert_nonnull (strstr (og_saying_text (add->step.caution), "where Beeswax melts"));
  g_assert_nonnull (strstr (og_saying_text (find (cool, OG_STOVE_ADD, 0)->step.caution), "where Candelilla wax melts"));
  g_assert_null (finding (fine, "stove-wax-chill"));
  g_assert_null (finding (unknown, "stove-wax-chill"));
  g_assert_nonnull (finding (unknown, "stove-setting-unknown"));
}

/* --- steps that do not contradict ---------------------------------------- */

/* The pot cools to what the oil bears, wherever the recipe puts it; where more heat follows, the order is at fault. */
static void
test_shy_waits (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (OgStovePlan) later
      = plan_of_library (library, "A,castor-oil,93,120\nA,polyamide-3,2,120\nB,cranberry-seed-oil,5,120\n", NULL);
  g_autoptr (OgStovePlan) same
      = plan_of_library (library, "A,castor-oil,93,120\nA,polyamide-3,2,120\nA,cranberry-seed-oil,5,120\n", NULL);
  g_autoptr (OgStovePlan) sole
      = plan_of_library (library, "A,cranberry-seed-oil,98,120\nA,polyamide-3,2,120\n", NULL);
  g_autoptr (OgStovePlan) order
      = plan_of_library (library, "A,castor-oil,50,90\nB,cranberry-seed-oil,5,90\nC,polyamide-3,2,120\nC,squalane,43,120\n",
                         NULL);

  g_assert_cmpfloat (find (later, OG_STOVE_ADD, 0)->before_c, ==, 60);
  g_assert_cmpfloat (find (same, OG_STOVE_ADD, 0)->before_c, ==, 60);
  assert_text (find (same, OG_STOVE_ADD, 0), "Cranberry seed oil");
  g_assert_nonnull (strstr (og_saying_text (find (later, OG_STOVE_ADD, 0)->step.caution),
                            "at about 60 °C, not at the 120 °C of the recipe"));
  g_assert_nonnull (strstr (og_saying_text (find (sole, OG_STOVE_WARM, 0)->step.caution), "take another material"));
  g_assert_nonnull (strstr (og_saying_text (find (order, OG_STOVE_ADD, 0)->step.caution), "change the order"));
}

/* What the step does to what it names, and to what is in the pot by then, is what its caution allows, unless the
 * caution says that the recipe has to change. */
static void
assert_step_agrees (const OgStoveStep *step,
                    const OgFormula   *formula,
                    const OgCatalog   *library,
                    GHashTable        *in_pot)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);
  const char *caution = og_saying_text (step->step.caution);
  gboolean change = caution != NULL && (strstr (caution, "change the order") != NULL
                                        || strstr (caution, "no temperature suits") != NULL);

  for (guint i = 0; i < lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (lines, i);
      const OgIngredient *ingredient = og_catalog_get (library, line->ingredient_id);
      gboolean goes_in = (step->act == OG_STOVE_ADD || step->act == OG_STOVE_BEGIN) && ingredient != NULL
                         && line->amount > 0 && strstr (og_saying_text (step->step.text), ingredient->name) != NULL;

      if (goes_in)
        g_hash_table_add (in_pot, (gpointer) ingredient);
      if (ingredient == NULL || !g_hash_table_contains (in_pot, ingredient) || change)
        continue;
      if (goes_in || step->act == OG_STOVE_WARM)
        g_assert_false (fmin (step->step.temperature_c, step->before_c)
                        > ingredient->figures[OG_FIGURE_MAX_HEAT_C].value + 3);
      if (step->act == OG_STOVE_WARM)
        g_assert_false (step->after_c > ingredient->figures[OG_FIGURE_MAX_HEAT_C].value + 1e-9);
      if (goes_in)
        g_assert_false (step->warm_first_c > ingredient->figures[OG_FIGURE_MAX_HEAT_C].value + 1e-9);
    }
}

static gboolean
is_kind (const OgIngredient *ingredient,
         gboolean            solid)
{
  return solid ? ingredient->kind == OG_KIND_WAX || ingredient->kind == OG_KIND_GELLING_AGENT
               : ingredient->kind == OG_KIND_OIL || ingredient->kind == OG_KIND_HYDROCARBON;
}

static gboolean
names_kind (const char      *text,
            const OgFormula *formula,
            const OgCatalog *library,
            gboolean         solid)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);

  for (guint i = 0; i < lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (lines, i);
      const OgIngredient *ingredient = og_catalog_get (library, line->ingredient_id);

      if (ingredient != NULL && line->amount > 0 && is_kind (ingredient, solid)
          && (text == NULL || strstr (text, ingredient->name) != NULL))
        return TRUE;
    }
  return FALSE;
}

static void
assert_plan_agrees (const OgFormula   *formula,
                    OgCatalog         *library,
                    OgBody             body)
{
  OgResult result = { .catalog = library, .body = body };
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, &result, NULL);
  g_autoptr (GHashTable) in_pot = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);
      const char *text = og_saying_text (step->step.text);

      assert_step_agrees (step, formula, library, in_pot);
      if (step->act == OG_STOVE_BEGIN && names_kind (text, formula, library, TRUE)
          && names_kind (NULL, formula, library, FALSE))
        g_assert_true (names_kind (text, formula, library, FALSE));
    }
}

static OgFormula *
recipe_of_all_sorts (GRand *rand)
{
  static const char *const ids[] = { "castor-oil", "sunflower-oil", "cranberry-seed-oil", "walnut-oil", "beeswax",
                                     "polyamide-3", "candelilla-wax", "tocopherol", "retinyl-palmitate",
                                     "isododecane" };
  OgFormula *formula = og_formula_new ();
  int n_phases = g_rand_int_range (rand, 1, 5);

  for (int i = 0; i < n_phases; i++)
    {
      double stated_c = g_rand_boolean (rand) ? NAN : g_rand_int_range (rand, 30, 130);
      OgFormulaPhase *phase = og_formula_add_phase (formula, "P", stated_c, G_MAXUINT);
      int n_lines = g_rand_int_range (rand, 1, 5);

      for (int j = 0; j < n_lines; j++)
        {
          const char *id = ids[g_rand_int_range (rand, 0, G_N_ELEMENTS (ids))];

          if (og_formula_find_ingredient (formula, id) != NULL)
            continue;
          og_formula_add_line (formula, phase, id, g_rand_int_range (rand, 1000, 60000), G_MAXUINT)->add_temperature_c
              = g_rand_int_range (rand, 0, 3) == 0 ? g_rand_int_range (rand, 30, 130) : NAN;
        }
    }
  return formula;
}

static void
test_no_contradiction (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (60);
  static const char *const demos[] = { "harbour-gloss.oleograph", "slipway-body-oil.oleograph" };

  for (guint i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autofree char *path = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "demo", demos[i], NULL);
      g_autoptr (GError) error = NULL;
      g_autoptr (OgFormula) demo = og_recipe_load (path, library, &error);

      g_assert_no_error (error);
      assert_plan_agrees (demo, library, OG_BODY_SYRUPY);
    }
  for (guint i = 0; i < 600; i++)
    {
      g_autoptr (OgFormula) formula = recipe_of_all_sorts (rand);

      assert_plan_agrees (formula, library, (OgBody) g_rand_int_range (rand, 1, 9));
    }
}

/* --- dangers ------------------------------------------------------------- */

static gboolean
refuses (const char *rows,
         gboolean    override)
{
  g_autoptr (OgStovePlan) plan = NULL;
  OgStoveSetup setup;
  const OgFinding *first;

  og_stove_setup_init (&setup);
  setup.override = override;
  plan = plan_with (rows, OG_BODY_LIGHT, &setup);
  first = plan->findings->len > 0 ? g_ptr_array_index (plan->findings, 0) : NULL;
  g_assert_cmpint (plan->refused, ==, first != NULL && first->severity == OG_SEVERITY_BLOCKING);
  return plan->refused;
}

/* Flash point 120 °C less 30 K, smoke point 115 °C less 10 K; a trace is only warned of. */
static void
test_refused (void)
{
  g_assert_false (refuses ("A,light-ester,50,90\nA,oil,50,90\n", FALSE));
  g_assert_true (refuses ("A,light-ester,50,91\nA,oil,50,91\n", FALSE));
  g_assert_false (refuses ("A,light-ester,50,91\nA,oil,50,91\n", TRUE));
  g_assert_false (refuses ("A,light-ester,4,91\nA,oil,96,91\n", FALSE));
  g_assert_true (refuses ("A,oil,50,110\nB,light-ester,50,110\n", FALSE));
  g_assert_false (refuses ("A,smoky-oil,50,105\nA,oil,50,105\n", FALSE));
  g_assert_true (refuses ("A,smoky-oil,50,106\nA,oil,50,106\n", FALSE));
}

static void
test_trace_is_told (void)
{
  g_autoptr (OgStovePlan) plan = plan_of ("A,light-ester,4,91\nA,oil,96,91\n");

  g_assert_cmpint (finding (plan, "stove-flash")->severity, ==, OG_SEVERITY_CAUTION);
}

/* What the check of a recipe blocks, the stove refuses, and no draft or substitute brings it in: at
 * least 20 K below a flash point are common practice (no source). */
static void
assert_one_limit (const char *id,
                  const char *code,
                  double      limit_c,
                  double      practice_k)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (GError) error = NULL;
  g_autoptr (OgCatalog) invented
      = og_catalog_new_from_json (materials, -1, "materials",
                                  (OgParameters *) og_catalog_get_parameters (library), &error);
  int first = 0;

  g_assert_no_error (error);
  for (int c = 60; c <= 130; c++)
    {
      g_autofree char *rows = g_strdup_printf ("phase,ingredient,percent,add_temperature_c\n"
                                               "A,%s,50,%d\nA,oil,50,%d\n", id, c, c);
      g_autoptr (OgFormula) formula = og_recipe_table_parse (rows, -1, "x", invented, &error);
      g_autoptr (OgResult) result = og_evaluate (formula, invented, NULL);
      g_autoptr (OgStovePlan) plan = og_stove_plan (formula, result, NULL);
      gboolean blocked = finding_in (result->findings, code) != NULL;

      g_assert_no_error (error);
      g_assert_cmpint (blocked, ==, plan->refused);
      g_assert_cmpint (blocked, ==, !og_ingredient_takes_heat (og_catalog_get (invented, id), c));
      if (blocked && first == 0)
        first = c;
    }
  g_assert_cmpfloat (first, >, 60);
  g_assert_cmpfloat (first - 1, <=, limit_c - practice_k);
}

static void
test_one_limit (void)
{
  assert_one_limit ("light-ester", "near-flash-point", 120, 20);
  assert_one_limit ("smoky-oil", "above-smoke-point", 115, 0);
}

static void
test_hot_oil (void)
{
  g_autoptr (OgStovePlan) at = plan_of ("A,oil,100,130\n");
  g_autoptr (OgStovePlan) above = plan_of ("A,oil,100,131\n");
  g_autoptr (OgStovePlan) bath = plan_of ("A,oil,100,90\n");
  g_autoptr (OgStovePlan) past_bath = plan_of ("A,oil,100,91\n");
  g_autoptr (OgStovePlan) fierce = plan_of ("A,oil,98,\nA,fierce-agent,2,\n");

  g_assert_null (finding (at, "stove-hot-oil"));
  g_assert_nonnull (finding (above, "stove-hot-oil"));
  g_assert_nonnull (finding (at, "stove-heat-source"));
  g_assert_null (finding (bath, "stove-heat-source"));
  g_assert_nonnull (finding (past_bath, "stove-heat-source"));
  g_assert_cmpfloat (fierce->hottest_c, ==, 150);
}

static void
test_vessel (void)
{
  g_autoptr (OgStovePlan) usual = plan_of ("A,oil,100,90\n");
  g_autoptr (OgStovePlan) small = NULL;
  g_autoptr (OgStovePlan) full = NULL;
  OgStoveSetup setup;

  /* 100 g are 109 ml: three quarters of 150 ml */
  g_assert_cmpfloat (usual->vessel.size_ml, ==, 150);
  og_stove_setup_init (&setup);
  setup.vessel_ml = 100;
  small = plan_with ("A,oil,100,90\n", OG_BODY_LIGHT, &setup);
  g_assert_cmpint (finding (small, "stove-vessel-small")->severity, ==, OG_SEVERITY_BLOCKING);
  g_assert_false (small->refused);
  setup.vessel_ml = 115;
  full = plan_with ("A,oil,100,90\n", OG_BODY_LIGHT, &setup);
  g_assert_nonnull (finding (full, "stove-vessel-full"));
}

static void
test_start_and_end (void)
{
  g_autoptr (OgStovePlan) plan = NULL;
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  setup.start_c = 95;
  setup.cool_to_c = 60;
  plan = plan_with ("A,oil,99,\nB,saver,1,\n", OG_BODY_LIGHT, &setup);
  g_assert_cmpfloat (plan->hottest_c, ==, 95);
  g_assert_cmpfloat (find (plan, OG_STOVE_ADD, 0)->before_c, ==, 60);
  g_assert_cmpfloat_with_epsilon (find (plan, OG_STOVE_FILL, 0)->before_c, 60, 1);

  /* cooler than a body that stands can be filled */
  setup.start_c = NAN;
  g_clear_pointer (&plan, og_stove_plan_free);
  plan = plan_with ("A,oil,94,\nA,agent,6,\n", OG_BODY_SET, &setup);
  g_assert_nonnull (finding (plan, "stove-set"));
}

/* --- series -------------------------------------------------------------- */

static void
test_series (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, library);
  g_autoptr (OgResult) result = og_evaluate (formula, library, NULL);
  g_autoptr (OgResult) at_end = NULL;
  g_autoptr (OgStovePlan) plan = NULL;
  const OgStovePoint *last, *middle;
  double hottest = 0, rate = OG_SHEAR_STIR;
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  setup.with_series = TRUE;
  plan = og_stove_plan (formula, result, &setup);
  g_assert_cmpuint (plan->series->len, >, 15);
  for (guint i = 0; i < plan->series->len; i++)
    {
      const OgStovePoint *point = &g_array_index (plan->series, OgStovePoint, i);

      if (i > 0)
        g_assert_cmpfloat (
            point->minutes, >=, g_array_index (plan->series, OgStovePoint, i - 1).minutes);
      g_assert_cmpuint (point->step, <, plan->steps->len);
      g_assert_true (og_estimate_is_known (&point->viscosity_mpa_s));
      hottest = fmax (hottest, point->temperature_c);
    }
  g_assert_cmpfloat (hottest, ==, plan->hottest_c);
  /* with everything in the pot it is the prediction for the recipe itself */
  last = &g_array_index (plan->series, OgStovePoint, plan->series->len - 1);
  at_end = og_evaluate (formula, library, &(OgConditions) {
                                            .temperatures_c = &last->temperature_c,
                                            .n_temperatures = 1,
                                            .shear_rates_1_s = &rate,
                                            .n_shear_rates = 1,
                                          });
  assert_within (last->viscosity_mpa_s.value,
                 g_array_index (at_end->viscosity, OgViscosityPoint, 0).viscosity_mpa_s.value,
                 1e-6);
  /* thinner hot than at the end */
  middle = &g_array_index (plan->series, OgStovePoint, plan->series->len / 2 - 4);
  g_assert_cmpfloat (last->viscosity_mpa_s.value, >, 5 * middle->viscosity_mpa_s.low80);

  g_clear_pointer (&plan, og_stove_plan_free);
  setup.with_series = FALSE;
  plan = og_stove_plan (formula, result, &setup);
  g_assert_cmpuint (plan->series->len, ==, 0);
}

/* --- as a whole ---------------------------------------------------------- */

static void
test_one_truth (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, library);
  g_autoptr (OgResult) result = og_evaluate (formula, library, NULL);
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, result, NULL);
  g_autoptr (GPtrArray) steps = og_process_steps (formula, result);

  g_assert_cmpuint (steps->len, ==, plan->steps->len);
  for (guint i = 0; i < steps->len; i++)
    {
      const OgStep *step = g_ptr_array_index (steps, i);
      const OgStoveStep *planned = g_ptr_array_index (plan->steps, i);

      g_assert_true (og_saying_equal (step->text, planned->step.text));
      g_assert_true (og_saying_equal (step->caution, planned->step.caution));
    }
  g_assert_nonnull (finding (plan, "stove-cooling-usual"));
}

/* Findings come once each, most severe first. */
static void
test_findings (void)
{
  g_autoptr (OgStovePlan) plan
      = plan_of ("A,light-ester,50,140\nA,oil,20,140\nB,smoky-oil,25,140\nC,shy-oil,5,140\n");
  OgSeverity before = OG_SEVERITY_BLOCKING;

  g_assert_cmpuint (plan->findings->len, >, 4);
  for (guint i = 0; i < plan->findings->len; i++)
    {
      const OgFinding *one = g_ptr_array_index (plan->findings, i);

      g_assert_cmpint (one->severity, <=, before);
      before = one->severity;
      for (guint j = 0; j < i; j++)
        {
          const OgFinding *other = g_ptr_array_index (plan->findings, j);

          g_assert_false (og_saying_equal (one->text, other->text));
        }
    }
}

static void
assert_words (const char *text)
{
  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_assert_true (g_str_has_suffix (text, "."));
  g_assert_null (strstr (text, "nan"));
  g_assert_null (strstr (text, "inf "));
}

/* Whatever a user could write down gets a plan whose sentences are whole and whose mass is the
 * batch's. */
static void
test_any_recipe (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (97);
  g_autoptr (OgCatalog) library = fixture_catalog ();

  for (guint i = 0; i < 400; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, 200000);
      OgResult result = { .catalog = library, .body = (OgBody) g_rand_int_range (rand, 0, 9) };
      g_autoptr (OgStovePlan) plan = NULL;
      OgStoveSetup setup;
      double added_g = 0;

      og_stove_setup_init (&setup);
      setup.with_series = i % 20 == 0;
      setup.room_c = g_rand_double_range (rand, -10, 45);
      plan = og_stove_plan (formula, &result, &setup);
      for (guint j = 0; j < plan->steps->len; j++)
        {
          const OgStoveStep *step = g_ptr_array_index (plan->steps, j);

          assert_words (og_saying_text (step->step.text));
          if (step->step.caution != NULL)
            assert_words (og_saying_text (step->step.caution));
          added_g += isnan (step->added_g) ? 0 : step->added_g;
        }
      for (guint j = 0; j < plan->findings->len; j++)
        assert_words (og_saying_text (((OgFinding *)g_ptr_array_index (plan->findings, j))->text));
      g_assert_cmpfloat_with_epsilon (added_g,
                                      formula->batch_g * (double) og_formula_total (formula) / 1e6,
                                      1e-6 * formula->batch_g);
    }
}

static void
test_empty (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgResult result = { .catalog = catalog };
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, &result, NULL);

  g_assert_cmpuint (plan->steps->len, ==, 0);
  g_assert_cmpuint (plan->findings->len, ==, 0);
  g_assert_false (plan->refused);
}

/* What the program proposes itself is what it can plan without a word about the order. */
static void
test_drafts_agree (void)
{
  g_autoptr (OgCatalog) library = fixture_catalog ();

  for (OgProduct product = OG_PRODUCT_LIP_APPLICATOR; product <= OG_PRODUCT_BODY; product++)
    {
      const OgBrief brief = { .product = product, .tint = TRUE, .scent = TRUE };
      g_autoptr (GError) error = NULL;
      g_autoptr (OgDraft) draft = og_draft (&brief, library, &error);
      g_autoptr (OgResult) result = NULL;
      g_autoptr (OgStovePlan) plan = NULL;

      g_assert_no_error (error);
      result = og_evaluate (draft->formula, library, NULL);
      plan = og_stove_plan (draft->formula, result, NULL);
      assert_plan_agrees (draft->formula, library, result->body);
      g_assert_null (finding (plan, "stove-dry-start"));
    }
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = og_catalog_new_from_json (materials, -1, "materials", NULL, &error);
  g_assert_no_error (error);
  g_test_add_func ("/stove/chill-threshold", test_chill_threshold);
  g_test_add_func ("/stove/warm-first", test_warm_first);
  g_test_add_func ("/stove/dilution", test_dilution);
  g_test_add_func ("/stove/shy-addition", test_shy_addition);
  g_test_add_func ("/stove/random-additions", test_random_additions);
  g_test_add_func ("/stove/melting", test_melting);
  g_test_add_func ("/stove/heat-needed", test_heat_needed);
  g_test_add_func ("/stove/cooled-reading", test_cooled_reading);
  g_test_add_func ("/stove/closed-form", test_closed_form);
  g_test_add_func ("/stove/warm-room", test_warm_room);
  g_test_add_func ("/stove/still", test_still);
  g_test_add_func ("/stove/inherited", test_inherited);
  g_test_add_func ("/stove/dry-start", test_dry_start);
  g_test_add_func ("/stove/filled-hot", test_filled_hot);
  g_test_add_func ("/stove/wax-chill", test_wax_chill);
  g_test_add_func ("/stove/shy-waits", test_shy_waits);
  g_test_add_func ("/stove/no-contradiction", test_no_contradiction);
  g_test_add_func ("/stove/drafts-agree", test_drafts_agree);
  g_test_add_func ("/stove/refused", test_refused);
  g_test_add_func ("/stove/one-limit", test_one_limit);
  g_test_add_func ("/stove/trace-is-told", test_trace_is_told);
  g_test_add_func ("/stove/hot-oil", test_hot_oil);
  g_test_add_func ("/stove/vessel", test_vessel);
  g_test_add_func ("/stove/start-and-end", test_start_and_end);
  g_test_add_func ("/stove/series", test_series);
  g_test_add_func ("/stove/one-truth", test_one_truth);
  g_test_add_func ("/stove/findings", test_findings);
  g_test_add_func ("/stove/any-recipe", test_any_recipe);
  g_test_add_func ("/stove/empty", test_empty);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
