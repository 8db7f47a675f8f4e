/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Bench advice is common practice, no source, unless a check says otherwise. The materials are
 * invented, so that each rule is met by one number.
 */
#include <math.h>
#include <string.h>

#include "core/make/process.h"
#include "core/recipe/recipe-table.h"

#define FIGURE(value) "{ \"value\": " value ", \"unit\": \"C\", \"source\": \"s\", " \
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
  MATERIAL ("shy-oil", "oil", FIGURES ("max_heat_c", "60")) ","
  MATERIAL ("smoky-oil", "oil", FIGURES ("smoke_point_c", "115")) ","
  MATERIAL ("light-ester", "ester", FIGURES ("flash_point_c", "120")) ","
  MATERIAL ("agent", "gelling-agent",
            GELLING ("physical-polymer-gel",
                     ", \"dissolves_c\": " FIGURE ("110") ", \"sets_c\": " FIGURE ("70"))) ","
  MATERIAL ("mild-agent", "gelling-agent",
            GELLING ("physical-polymer-gel",
                     ", \"dissolves_c\": " FIGURE ("85") ", \"sets_c\": " FIGURE ("50"))) ","
  MATERIAL ("fierce-agent", "gelling-agent",
            GELLING ("physical-polymer-gel", ", \"dissolves_c\": " FIGURE ("150"))) ","
  MATERIAL ("dark-agent", "gelling-agent", GELLING ("physical-polymer-gel", "")) ","
  MATERIAL ("wax", "wax", FIGURES ("melting_c", "60")) ","
  MATERIAL ("dark-wax", "wax", "") ","
  MATERIAL ("dust", "colour", "") ","
  MATERIAL ("jar", "dispersion", "") ","
  MATERIAL ("saver", "antioxidant", "") ","
  MATERIAL ("scent", "essential-oil", "")
  "] }";

static OgCatalog *catalog;

static void
set_up_catalog (void)
{
  g_autoptr (GError) error = NULL;

  catalog = og_catalog_new_from_json (materials, -1, "materials", NULL, &error);
  g_assert_no_error (error);
}

/* Steps of a recipe of 100 g with the body said. */
static GPtrArray *
steps_with_body (const char *rows,
                 OgBody      body)
{
  g_autofree char *text = g_strconcat ("phase,ingredient,percent,add_temperature_c\n", rows, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = og_recipe_table_parse (text, -1, "x", catalog, &error);
  OgResult result = { .catalog = catalog, .body = body };

  g_assert_no_error (error);
  return og_process_steps (formula, &result);
}

static GPtrArray *
steps_of (const char *rows)
{
  return steps_with_body (rows, OG_BODY_SUBSTANTIAL);
}

static const char *
text_at (GPtrArray *steps,
         guint      index)
{
  return og_saying_text (((OgStep *) g_ptr_array_index (steps, index))->text);
}

/* First step whose text holds @words; fails if there is none. */
static guint
find (GPtrArray  *steps,
      const char *words)
{
  for (guint i = 0; i < steps->len; i++)
    {
      if (strstr (text_at (steps, i), words) != NULL)
        return i;
    }
  g_error ("no step says “%s”", words);
  return 0;
}

static gboolean
says (GPtrArray  *steps,
      const char *words)
{
  for (guint i = 0; i < steps->len; i++)
    {
      if (strstr (text_at (steps, i), words) != NULL)
        return TRUE;
    }
  return FALSE;
}

static gboolean
cautions (GPtrArray  *steps,
          const char *words)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const OgStep *step = g_ptr_array_index (steps, i);

      if (step->caution != NULL && strstr (og_saying_text (step->caution), words) != NULL)
        return TRUE;
    }
  return FALSE;
}

static double
temperature_at (GPtrArray *steps,
                guint      index)
{
  return ((OgStep *) g_ptr_array_index (steps, index))->temperature_c;
}

static const char *
caution_at (GPtrArray *steps,
            guint      index)
{
  const char *caution = og_saying_text (((OgStep *) g_ptr_array_index (steps, index))->caution);

  return caution != NULL ? caution : "";
}

static void
assert_holds (const char *text,
              const char *words)
{
  if (strstr (text, words) == NULL)
    g_error ("“%s” does not say “%s”", text, words);
}

/* --- order --------------------------------------------------------------- */

static void
test_order (void)
{
  g_autoptr (GPtrArray) steps = steps_of ("Heated,oil,58.5,110\nHeated,agent,1.5,110\n"
                                          "Oils,light-ester,38.5,80\nColour,jar,0.5,80\n"
                                          "End,saver,1,38\n");
  guint jar = find (steps, "Stir the jar"), weigh = find (steps, "weigh out");
  guint warm = find (steps, "about 110 °C"), clear = find (steps, "nothing solid is left of agent");
  guint oils = find (steps, "Stir in slowly: light-ester (38.5 g)");
  guint colour = find (steps, "Stir in slowly: jar (0.5 g)"), wrist = find (steps, "inner wrist");
  guint end = find (steps, "Stir in slowly: saver (1 g)");
  guint fill = find (steps, "room under the neck");
  guint judge = find (steps, "hours at room temperature");

  g_assert_cmpuint (jar, <, weigh);
  g_assert_cmpuint (weigh, <, warm);
  g_assert_cmpuint (warm, <, clear);
  g_assert_cmpuint (clear, <, oils);
  g_assert_cmpuint (oils, <, colour);
  g_assert_cmpuint (colour, <, wrist);
  g_assert_cmpuint (wrist, <, end);
  g_assert_cmpuint (end, <, fill);
  g_assert_cmpuint (fill, <, judge);
  assert_holds (text_at (steps, weigh), "100 g");
  assert_holds (text_at (steps, wrist), "35 to 40 °C");
  assert_holds (caution_at (steps, fill), "Stir between fillings");
  g_assert_true (says (steps, "follow your local rules"));
  g_assert_cmpfloat (temperature_at (steps, warm), ==, 110);
  g_assert_cmpfloat (temperature_at (steps, oils), ==, 80);
  g_assert_cmpfloat (temperature_at (steps, end), ==, 38);
  g_assert_true (isnan (temperature_at (steps, weigh)));
}

/* Without temperatures the agent sets the heat, and what heat harms waits for the end. */
static void
test_silent_recipe (void)
{
  g_autoptr (GPtrArray) steps = steps_of ("All,oil,96.5,\nAll,scent,1,\nAll,agent,1.5,\n"
                                          "All,saver,1,\n");
  guint begin = find (steps, "heat-proof beaker"), warm = find (steps, "Warm the pot");
  guint end = find (steps, "Stir in slowly");

  assert_holds (text_at (steps, begin), "oil (96.5 g), agent (1.5 g)");
  g_assert_cmpfloat (temperature_at (steps, warm), ==, 110);
  assert_holds (text_at (steps, end), "scent (1 g), saver (1 g)");
  g_assert_cmpfloat_with_epsilon (temperature_at (steps, end), 37.5, 2.5);
}

static void
test_cold_recipe (void)
{
  g_autoptr (GPtrArray) steps = steps_of ("All,oil,99,\nAll,saver,1,\nAll,wax,0,\n");

  g_assert_false (says (steps, "Warm"));
  g_assert_false (says (steps, "cool"));
  g_assert_false (says (steps, "wax"));
  g_assert_true (says (steps, "stir together: oil (99 g), saver (1 g)"));
}

static void
test_empty_recipe (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgResult result = { .catalog = catalog };
  g_autoptr (GPtrArray) steps = og_process_steps (formula, &result);

  g_assert_cmpuint (steps->len, ==, 0);
}

static void
test_unknown_ingredient (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgResult result = { .catalog = catalog };
  g_autoptr (GPtrArray) steps = NULL;

  og_formula_add_line (formula, og_formula_add_phase (formula, "All", NAN, 0), "lost", 1000000, 0);
  steps = og_process_steps (formula, &result);
  g_assert_true (says (steps, "stir together: lost (100 g)"));
}

/* --- heat ---------------------------------------------------------------- */

/* A water bath at the boil leaves the oil at about 98 °C at best. */
static void
test_heat_source (void)
{
  g_autoptr (GPtrArray) mild = steps_of ("A,oil,98,\nA,mild-agent,2,\n");
  g_autoptr (GPtrArray) hot = steps_of ("A,oil,98,\nA,agent,2,\n");
  g_autoptr (GPtrArray) fierce = steps_of ("A,oil,98,\nA,fierce-agent,2,\n");

  g_assert_false (cautions (mild, "98 °C"));
  g_assert_false (cautions (mild, "steam"));
  g_assert_true (cautions (hot, "98 °C: use direct gentle heat or an oven"));
  g_assert_true (cautions (hot, "steam"));
  g_assert_false (cautions (hot, "above 130 °C"));
  g_assert_true (cautions (fierce, "above 130 °C"));
}

static void
test_wax (void)
{
  g_autoptr (GPtrArray) steps = steps_of ("A,oil,90,\nA,wax,10,\n");

  g_assert_cmpfloat (temperature_at (steps, find (steps, "Warm the pot")), ==, 65);
  g_assert_true (says (steps, "nothing solid is left of wax"));
}

static void
test_unknown_temperatures (void)
{
  g_autoptr (GPtrArray) agent = steps_of ("A,oil,60,\nA,dark-agent,2,\nB,oil,38,\n");
  g_autoptr (GPtrArray) wax = steps_of ("A,oil,90,\nA,dark-wax,10,\nB,saver,0,\n");
  guint clear = find (agent, "watch for clearness");

  assert_holds (text_at (agent, clear), "is not known");
  g_assert_true (isnan (temperature_at (agent, clear)));
  g_assert_true (cautions (agent, "temperature at which dark-agent sets is not known"));
  g_assert_true (says (wax, "watch for clearness"));
  g_assert_true (says (agent, "inner wrist"));
  for (guint i = 0; i < agent->len; i++)
    {
      g_assert_null (strstr (text_at (agent, i), "nan"));
      g_assert_null (strstr (caution_at (agent, i), "nan"));
    }
}

static void
test_too_cool (void)
{
  g_autoptr (GPtrArray) cool = steps_of ("A,oil,98,80\nA,agent,2,80\n");
  g_autoptr (GPtrArray) hot = steps_of ("A,oil,98,115\nA,agent,2,115\n");

  g_assert_true (cautions (cool, "The recipe says 80 °C, but agent may need about 110 °C"));
  g_assert_false (cautions (hot, "The recipe says"));
}

static void
test_limits (void)
{
  g_autoptr (GPtrArray) shy = steps_of ("A,shy-oil,50,70\nA,oil,50,70\n");
  g_autoptr (GPtrArray) careful = steps_of ("A,oil,50,70\nB,shy-oil,50,55\n");
  g_autoptr (GPtrArray) smoky = steps_of ("A,smoky-oil,98,\nA,agent,2,\n");
  g_autoptr (GPtrArray) flash = steps_of ("A,light-ester,98,\nA,agent,2,\n");
  g_autoptr (GPtrArray) far = steps_of ("A,light-ester,98,\nA,mild-agent,2,\n");

  g_assert_true (cautions (shy, "shy-oil should not get warmer than about 60 °C"));
  g_assert_false (cautions (careful, "should not get warmer"));
  g_assert_true (cautions (smoky, "smoky-oil begins to smoke at about 115 °C"));
  g_assert_true (cautions (flash, "light-ester can catch fire from about 120 °C"));
  g_assert_true (cautions (flash, "local rules for flammable liquids"));
  g_assert_false (cautions (far, "catch fire"));
}

static void
test_hot_saver (void)
{
  g_autoptr (GPtrArray) hot = steps_of ("A,oil,99,80\nA,saver,1,80\n");
  g_autoptr (GPtrArray) late = steps_of ("A,oil,99,80\nB,saver,1,40\n");

  g_assert_true (cautions (hot, "Heat wears out saver"));
  g_assert_false (cautions (late, "Heat wears out"));
}

/* --- chill --------------------------------------------------------------- */

/* By hand: 20 g of oil and agent at 110 °C hold 41.5 J/K, the glass below them (21 g at
 * 0.87 J/(g K)) 18 J/K, 80 g of oil at 25 °C 164 J/K: (59.5 x 110 + 164 x 25) / 223.5 = 47.6 °C.
 * To end 5 K above setting the oil must bring 164 x (75 - t) = 59.5 x (110 - 75): t = 62.3 °C. */
static void
test_chill (void)
{
  g_autoptr (GPtrArray) heavy = steps_of ("A,oil,18,110\nA,agent,2,110\nB,oil,80,110\n");
  g_autoptr (GPtrArray) light = steps_of ("A,oil,78,110\nA,agent,2,110\nB,oil,20,110\n");
  g_autoptr (GPtrArray) plain = steps_of ("A,oil,20,110\nB,oil,80,110\n");
  guint add = find (heavy, "Stir in slowly");

  assert_holds (caution_at (heavy, add), "chill the pot to about 48 °C");
  assert_holds (caution_at (heavy, add), "below about 70 °C, where agent sets");
  assert_holds (caution_at (heavy, add), "warm it to about 62 °C");
  g_assert_false (cautions (light, "chill"));
  g_assert_false (cautions (plain, "chill"));
}

/* The pot goes on from where the addition left it. By hand: 104.5 J/K of oil and 29.6 J/K of glass
 * at 100 °C, 100.5 J/K of oil at 25 °C: (134.1 x 100 + 100.5 x 25) / 234.6 = 67.9 °C. */
static void
test_mixed_temperature (void)
{
  g_autoptr (GPtrArray) steps = steps_of ("A,oil,50,100\nB,oil,49,\nC,jar,1,\n");

  g_assert_cmpfloat_with_epsilon (temperature_at (steps, find (steps, "Stir in slowly: jar")),
                                  67.9, 0.5);
}

static void
test_below_setting (void)
{
  g_autoptr (GPtrArray) much = steps_of ("A,oil,58,110\nA,agent,2,110\nB,oil,40,50\n");
  g_autoptr (GPtrArray) little = steps_of ("A,oil,97,110\nA,agent,2,110\nB,saver,1,38\n");

  g_assert_true (cautions (much, "below about 70 °C, where agent sets; so much oil may leave "
                           "lumps"));
  g_assert_false (cautions (little, "sets"));
}

/* A body that stands is filled, and given its scent, while it still flows. */
static void
test_standing_body (void)
{
  g_autoptr (GPtrArray) silent = steps_with_body ("A,oil,93,\nA,agent,6,\nB,saver,1,\n",
                                                  OG_BODY_SET);
  g_autoptr (GPtrArray) stated = steps_with_body ("A,oil,93,110\nA,agent,6,110\nB,saver,1,38\n",
                                                  OG_BODY_SET);

  g_assert_cmpfloat (temperature_at (silent, find (silent, "Stir in slowly: saver")), ==, 75);
  g_assert_cmpfloat (temperature_at (silent, find (silent, "Fill while it still flows")), >=, 70);
  g_assert_false (cautions (silent, "has set by then"));
  g_assert_true (cautions (stated, "The body has set by then, at about 70 °C"));
}

/* --- powders ------------------------------------------------------------- */

static void
test_powder (void)
{
  g_autoptr (GPtrArray) dusty = steps_of ("A,oil,99,\nB,dust,1,\n");
  g_autoptr (GPtrArray) clean = steps_of ("A,oil,99,\nB,jar,1,\n");

  g_assert_true (cautions (dusty, "dust mask"));
  g_assert_true (says (dusty, "rub it until no lump is left: dust"));
  g_assert_false (cautions (clean, "dust mask"));
  g_assert_false (says (clean, "lump"));
}

/* --- as a whole ---------------------------------------------------------- */

static void
test_check_example (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "files", "good",
                                                 "check-example.csv", NULL);
  g_autoptr (OgCatalog) library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (OgResult) result = NULL;
  g_autoptr (GPtrArray) steps = NULL;
  g_autoptr (GPtrArray) again = NULL;

  g_assert_no_error (error);
  formula = og_recipe_load (path, library, &error);
  g_assert_no_error (error);
  formula->batch_g = 20;
  result = og_evaluate (formula, library, NULL);
  steps = og_process_steps (formula, result);
  again = og_process_steps (formula, result);

  g_assert_true (says (steps, "a batch of 20 g"));
  g_assert_true (says (steps, "Castor oil (12.6 g), Polyamide-3 (0.3 g)"));
  g_assert_true (says (steps, "Sunflower oil (6.8 g)"));
  g_assert_true (says (steps, "Red iron oxide in castor oil (0.1 g)"));
  g_assert_true (says (steps, "Tocopherol (0.2 g)"));
  g_assert_cmpuint (steps->len, ==, again->len);
  for (guint i = 0; i < steps->len; i++)
    g_assert_cmpstr (text_at (steps, i), ==, text_at (again, i));
}

/* Every step names a phase of the recipe, or none, and is a sentence. */
static void
test_form (void)
{
  g_autoptr (GPtrArray) steps = steps_of ("A,oil,50,110\nA,agent,2,110\nA,dust,1,60\nB,wax,10,\n"
                                          "B,jar,1,\nC,scent,1,\nC,light-ester,35,20\n");

  g_assert_cmpuint (steps->len, >, 8);
  for (guint i = 0; i < steps->len; i++)
    {
      const OgStep *step = g_ptr_array_index (steps, i);

      g_assert_true (step->phase_id == 0 || step->phase_id == 1 || step->phase_id == 5
                     || step->phase_id == 8);
      g_assert_true (g_ascii_isupper (text_at (steps, i)[0]));
      g_assert_true (g_str_has_suffix (text_at (steps, i), "."));
      g_assert_true (step->caution == NULL || g_str_has_suffix (caution_at (steps, i), "."));
      g_assert_true (g_utf8_validate (text_at (steps, i), -1, NULL));
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  set_up_catalog ();
  g_test_add_func ("/process/order", test_order);
  g_test_add_func ("/process/silent-recipe", test_silent_recipe);
  g_test_add_func ("/process/cold-recipe", test_cold_recipe);
  g_test_add_func ("/process/empty-recipe", test_empty_recipe);
  g_test_add_func ("/process/unknown-ingredient", test_unknown_ingredient);
  g_test_add_func ("/process/heat-source", test_heat_source);
  g_test_add_func ("/process/wax", test_wax);
  g_test_add_func ("/process/unknown-temperatures", test_unknown_temperatures);
  g_test_add_func ("/process/too-cool", test_too_cool);
  g_test_add_func ("/process/limits", test_limits);
  g_test_add_func ("/process/hot-saver", test_hot_saver);
  g_test_add_func ("/process/chill", test_chill);
  g_test_add_func ("/process/mixed-temperature", test_mixed_temperature);
  g_test_add_func ("/process/below-setting", test_below_setting);
  g_test_add_func ("/process/standing-body", test_standing_body);
  g_test_add_func ("/process/powder", test_powder);
  g_test_add_func ("/process/check-example", test_check_example);
  g_test_add_func ("/process/form", test_form);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
