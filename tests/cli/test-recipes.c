/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <math.h>
#include <string.h>

#include "core/predict/evaluate.h"
#include "core/recipe/storage.h"

/* Common practice, no source: a brushable lip oil, more body than its oils alone, that still flows. */
static const char check_example[] =
  "phase,ingredient,percent\n"
  "Melt,castor-oil,63.0\n"
  "Melt,sunflower-oil,34.0\n"
  "Melt,polyamide-3,1.5\n"
  "Colour,red-iron-oxide-in-castor-oil,0.5\n"
  "Last,tocopherol,1.0\n";

static JsonObject *
evaluate (const char *path)
{
  g_auto (CliRun) run = cli_run ("evaluate", path, "--json", NULL);

  cli_assert_status (&run, 0);
  return cli_json (&run);
}

static JsonObject *
viscosity_at (JsonObject *root,
              guint       index)
{
  return json_array_get_object_element (json_object_get_array_member (root, "viscosity"), index);
}

static void
test_fields (void)
{
  static const char *const names[] = { "total_percent", "density_g_ml", "profile", "iodine_value", "viscosity",
                                       "yield_stress_pa", "findings" };
  g_autofree char *path = cli_file ("fields.csv", check_example);
  g_autoptr (JsonObject) root = evaluate (path);
  JsonArray *viscosity = json_object_get_array_member (root, "viscosity");
  static const double rates[] = { 0.01, 10, 1000 };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    g_assert_true (json_object_has_member (root, names[i]));
  g_assert_cmpfloat (cli_number (root, "total_percent"), ==, 100);

  g_assert_cmpuint (json_array_get_length (viscosity), ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat (cli_number (viscosity_at (root, i), "temperature_c"), ==, 25);
      g_assert_cmpfloat (cli_number (viscosity_at (root, i), "shear_rate_1_s"), ==, rates[i]);
      g_assert_cmpfloat (cli_number (viscosity_at (root, i), "low80"), <, cli_number (viscosity_at (root, i), "value"));
      g_assert_cmpfloat (cli_number (viscosity_at (root, i), "value"), <,
                         cli_number (viscosity_at (root, i), "high80"));
    }
}

static void
test_check_example (void)
{
  g_autofree char *path = cli_file ("lip.csv", check_example);
  g_autofree char *oils = cli_file ("oils.csv",
                                    "phase,ingredient,percent\n"
                                    "Melt,castor-oil,balance 63\n"
                                    "Melt,sunflower-oil,balance 34\n");
  g_autoptr (JsonObject) with = evaluate (path);
  g_autoptr (JsonObject) without = evaluate (oils);
  double rest = cli_number (viscosity_at (with, 0), "value");
  double rub = cli_number (viscosity_at (with, 2), "value");

  g_assert_cmpfloat (rest, >=, 1.3 * cli_number (viscosity_at (without, 0), "value"));
  g_assert_cmpfloat (rest, >, rub);
  g_assert_cmpfloat (cli_number (json_object_get_object_member (with, "yield_stress_pa"), "value"), ==, 0);
}

static void
test_conditions_in_order (void)
{
  g_autofree char *path = cli_file ("order.csv", check_example);
  g_auto (CliRun) after = cli_run ("evaluate", path, "--temperature", "60", "--temperature", "20", "--shear-rate", "100",
                                   "--shear-rate", "1", "--json", NULL);
  g_auto (CliRun) before = cli_run ("evaluate", "--json", "--shear-rate", "100", "--shear-rate=1", "--temperature", "60",
                                    "--temperature=20", path, NULL);
  static const double expected[][2] = { { 60, 100 }, { 60, 1 }, { 20, 100 }, { 20, 1 } };
  g_autoptr (JsonObject) root = cli_json (&after);

  g_assert_cmpstr (after.out, ==, before.out);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "viscosity")), ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      g_assert_cmpfloat (cli_number (viscosity_at (root, i), "temperature_c"), ==, expected[i][0]);
      g_assert_cmpfloat (cli_number (viscosity_at (root, i), "shear_rate_1_s"), ==, expected[i][1]);
    }
  g_assert_cmpfloat (cli_number (viscosity_at (root, 3), "value"), >, cli_number (viscosity_at (root, 1), "value"));
}

static void
test_names_and_zero_lines (void)
{
  g_autofree char *by_id = cli_file ("id.csv", "phase,ingredient,percent\nA,castor-oil,60\nA,sunflower-oil,40\n");
  g_autofree char *by_name = cli_file ("name.csv",
                                       "phase,ingredient,percent\r\n"
                                       "A,Ricinus Communis Seed Oil,balance\r\n"
                                       "A,\"Sunflower oil\",40\r\n"
                                       "B,tocopherol,0\r\n");
  g_autoptr (JsonObject) a = evaluate (by_id);
  g_autoptr (JsonObject) b = evaluate (by_name);

  g_assert_cmpfloat (cli_number (b, "total_percent"), ==, 100);
  g_assert_cmpfloat_with_epsilon (cli_number (viscosity_at (a, 1), "value"),
                                  cli_number (viscosity_at (b, 1), "value"), 1e-6);
}

static void
test_text (void)
{
  g_autofree char *path = cli_file ("text.csv", check_example);
  g_auto (CliRun) run = cli_run ("evaluate", path, NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "Castor oil");
  cli_assert_has (run.out, "at rest");
  cli_assert_has (run.out, "mPa·s");
}

static void
assert_refused (const char *name,
                const char *text,
                const char *told)
{
  static const char *const verbs[] = { "evaluate", "check" };
  g_autofree char *path = cli_file (name, text);

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_auto (CliRun) run = cli_run (verbs[i], path, "--json", NULL);

      if (run.status != 3 || *run.out != '\0')
        g_error ("%s %s: status %d, output “%s”, message “%s”", verbs[i], name, run.status, run.out, run.err);
      cli_assert_has (run.err, name);
      cli_assert_has (run.err, told);
    }
}

#define HEADER "phase,ingredient,percent\n"

static void
test_refused_tables (void)
{
  assert_refused ("empty.csv", "", "");
  assert_refused ("header.csv", "a,b,c\nA,castor-oil,100\n", "header.csv:1");
  assert_refused ("word.csv", HEADER "A,castor-oil,lots\n", "word.csv:2");
  assert_refused ("nan.csv", HEADER "A,castor-oil,nan\n", "nan.csv:2");
  assert_refused ("infinite.csv", HEADER "A,castor-oil,inf\n", "infinite.csv:2");
  assert_refused ("huge.csv", HEADER "A,castor-oil,1e308\n", "huge.csv:2");
  assert_refused ("negative.csv", HEADER "A,castor-oil,110\nA,sunflower-oil,-10\n", "negative.csv:");
  assert_refused ("over.csv", HEADER "A,castor-oil,100.5\n", "over.csv:2");
  assert_refused ("short.csv", HEADER "A,castor-oil,60\nA,sunflower-oil,39\n", "99");
  assert_refused ("long.csv", HEADER "A,castor-oil,60\nA,sunflower-oil,41\n", "101");
  assert_refused ("unknown.csv", HEADER "A,moonshine,100\n", "moonshine");
  assert_refused ("twobalance.csv", HEADER "A,castor-oil,balance\nA,sunflower-oil,balance\n", "twobalance.csv:3");
  assert_refused ("overbalance.csv", HEADER "A,castor-oil,99\nA,olive-oil,2\nA,sunflower-oil,balance\n", "overbalance.csv");
  assert_refused ("quote.csv", HEADER "A,\"castor-oil,100\n", "quote.csv:2");
  assert_refused ("bytes.csv", HEADER "A,castor-oil\xff,100\n", "bytes.csv:2");
}

#define DOCUMENT(version, phases) \
  "{\"batch_g\": 100, \"format\": \"oleograph-document\", \"materials\": [], \"notes\": \"\", \"phases\": [" phases \
  "], \"purpose\": \"\", \"title\": \"T\", \"version\": " version "}\n"
#define PHASE(lines) "{\"id\": 1, \"name\": \"A\", \"lines\": [" lines "]}"

static void
test_refused_documents (void)
{
  g_autofree char *nested = g_strnfill (10000, '[');

  assert_refused ("newer.oleograph", DOCUMENT ("3", ""), "newer");
  assert_refused ("other.oleograph", "{\"format\": \"something else\", \"version\": 1}\n", "");
  assert_refused ("half.oleograph", "{\"format\": \"oleograph-document\", \"version\": 1,\n\"phases\": [", "");
  assert_refused ("nested.oleograph", nested, "");
  assert_refused ("amount.oleograph",
                  DOCUMENT ("1", PHASE ("{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": 1000001}")), "amount");
  assert_refused ("fraction.oleograph",
                  DOCUMENT ("1", PHASE ("{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": 0.5}")), "amount");
  assert_refused ("minus.oleograph",
                  DOCUMENT ("1", PHASE ("{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": -1}")), "amount");
}

static void
test_missing_files (void)
{
  g_auto (CliRun) missing = cli_run ("evaluate", "/nonexistent/recipe.csv", NULL);
  g_auto (CliRun) folder = cli_run ("evaluate", cli_folder (), NULL);

  cli_assert_status (&missing, 3);
  cli_assert_has (missing.err, "recipe.csv");
  cli_assert_status (&folder, 3);
}

/* Documents may be unfinished: they load, and the finding blocks. */
static void
test_unfinished_document (void)
{
  g_autofree char *path = cli_file (
    "unfinished.oleograph", DOCUMENT ("1", PHASE ("{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": 900000}")));
  g_auto (CliRun) check = cli_run ("check", path, "--json", NULL);
  g_auto (CliRun) run = cli_run ("evaluate", path, "--json", NULL);
  g_autoptr (JsonObject) checked = cli_json (&check);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonArray *findings = json_object_get_array_member (checked, "findings");

  cli_assert_status (&check, 2);
  cli_assert_status (&run, 2);
  g_assert_cmpfloat (cli_number (root, "total_percent"), ==, 90);
  g_assert_cmpuint (json_array_get_length (findings), >, 0);
  g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (findings, 0), "severity"), ==, "blocking");
  g_assert_true (json_object_has_member (json_array_get_object_element (findings, 0), "code"));
  g_assert_true (json_object_has_member (json_array_get_object_element (findings, 0), "source"));
}

static void
test_own_material (void)
{
  static const char text[] =
    "{\"batch_g\": 100, \"format\": \"oleograph-document\","
    " \"materials\": [{\"id\": \"castor-lot-7\", \"derived_from\": \"castor-oil\", \"name\": \"Castor oil, lot 7\"}],"
    " \"notes\": \"\", \"phases\": [" PHASE ("{\"id\": 2, \"ingredient\": \"castor-lot-7\", \"amount\": 1000000}") "],"
    " \"purpose\": \"\", \"title\": \"T\", \"version\": 1}\n";
  g_autofree char *path = cli_file ("own.oleograph", text);
  g_autofree char *plain = cli_file ("plain.csv", HEADER "A,castor-oil,100\n");
  g_auto (CliRun) run = cli_run ("evaluate", path, NULL);
  g_autoptr (JsonObject) own = evaluate (path);
  g_autoptr (JsonObject) library = evaluate (plain);

  cli_assert_has (run.out, "Castor oil, lot 7");
  g_assert_cmpfloat (cli_number (own, "iodine_value"), ==, cli_number (library, "iodine_value"));
}

static gboolean
bears_tag (JsonObject *library,
           const char *id,
           const char *tag)
{
  JsonArray *all = json_object_get_array_member (library, "ingredients");

  for (guint i = 0; i < json_array_get_length (all); i++)
    {
      JsonObject *ingredient = json_array_get_object_element (all, i);
      JsonArray *tags = json_object_get_array_member (ingredient, "tags");

      if (strcmp (json_object_get_string_member (ingredient, "id"), id) != 0)
        continue;
      for (guint t = 0; t < json_array_get_length (tags); t++)
        {
          if (strcmp (json_array_get_string_element (tags, t), tag) == 0)
            return TRUE;
        }
      return FALSE;
    }
  g_error ("%s is not in the library", id);
}

static void
test_substitute (void)
{
  g_autofree char *path = cli_file ("almond.csv", HEADER "A,sweet-almond-oil,70\nA,castor-oil,30\n");
  g_auto (CliRun) before = cli_run ("substitute", "--for", "sweet-almond-oil", "--without", "nut", "--without", "soy", "--json",
                                    path, NULL);
  g_auto (CliRun) after = cli_run ("substitute", path, "--json", "--without", "nut", "--without", "soy",
                                   "--for", "Sweet almond oil", NULL);
  g_auto (CliRun) list = cli_run ("ingredients", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&before);
  g_autoptr (JsonObject) library = cli_json (&list);
  JsonArray *suggestions = json_object_get_array_member (root, "suggestions");
  double last = 0;

  cli_assert_status (&before, 0);
  g_assert_cmpstr (before.out, ==, after.out);
  g_assert_true (json_object_get_boolean_member (root, "optimal"));
  g_assert_cmpuint (json_array_get_length (suggestions), >, 0);
  for (guint i = 0; i < json_array_get_length (suggestions); i++)
    {
      JsonObject *suggestion = json_array_get_object_element (suggestions, i);
      JsonArray *parts = json_object_get_array_member (suggestion, "parts");
      JsonObject *part = json_array_get_object_element (parts, 0);
      const char *id = json_object_get_string_member (part, "ingredient");

      g_assert_cmpuint (json_array_get_length (parts), ==, 1);
      g_assert_cmpfloat (cli_number (part, "percent"), ==, 70);
      g_assert_cmpstr (id, !=, "sweet-almond-oil");
      g_assert_false (bears_tag (library, id, "nut"));
      g_assert_false (bears_tag (library, id, "soy"));
      g_assert_cmpfloat (cli_number (suggestion, "distance"), >=, last);
      last = cli_number (suggestion, "distance");
      g_assert_true (json_object_has_member (suggestion, "viscosity_change_percent"));
      g_assert_cmpuint (json_array_get_length (json_object_get_array_member (suggestion, "reasons")), >, 0);
    }
}

static void
test_substitute_text (void)
{
  g_autofree char *path = cli_file ("gloss.csv", check_example);
  g_auto (CliRun) run = cli_run ("substitute", path, "--for", "sunflower-oil", NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "Distance");
}

/* Demos are documents as the program itself would write them, and recipes that nothing stands against. */
static void
test_demos (void)
{
  static const char *const names[] = { "harbour-gloss.oleograph", "slipway-body-oil.oleograph" };
  g_autoptr (GError) error = NULL;
  g_autoptr (OgCatalog) catalog = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);

  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "demo", names[i], NULL);
      g_autofree char *text = NULL;
      gsize length;
      g_autoptr (GBytes) bytes = NULL;
      g_autoptr (GBytes) written = NULL;
      g_autoptr (OgFormula) formula = NULL;
      g_autoptr (OgResult) result = NULL;

      g_assert_true (g_file_get_contents (path, &text, &length, NULL));
      bytes = g_bytes_new (text, length);
      formula = og_storage_parse (bytes, names[i], catalog, &error);
      g_assert_no_error (error);
      written = og_storage_serialise (formula);
      g_assert_cmpmem (g_bytes_get_data (written, NULL), g_bytes_get_size (written), text, length);

      result = og_evaluate (formula, catalog, NULL);
      g_assert_cmpint (result->total_ppm, ==, OG_PPM_WHOLE);
      g_assert_cmpint (og_result_worst (result), <, OG_SEVERITY_BLOCKING);
      g_assert_true (og_estimate_is_known (&result->pour));
      g_assert_cmpfloat (formula->target_low_mpa_s, <, result->pour.value);
      g_assert_cmpfloat (result->pour.value, <, formula->target_high_mpa_s);
    }
}

/* A thousand recipes in one process: more castor oil, always thicker, never without an answer. */
static void
test_thousand_recipes (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgCatalog) catalog = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_autoptr (GTimer) timer = g_timer_new ();
  double last = 0;

  g_assert_no_error (error);
  for (OgPpm i = 0; i <= 1000; i++)
    {
      g_autoptr (OgFormula) formula = og_formula_new ();
      OgFormulaPhase *phase = og_formula_add_phase (formula, "A", NAN, G_MAXUINT);
      g_autoptr (OgResult) result = NULL;

      og_formula_add_line (formula, phase, "castor-oil", 1000 * i, G_MAXUINT);
      og_formula_add_line (formula, phase, "sunflower-oil", OG_PPM_WHOLE - 1000 * i, G_MAXUINT);
      result = og_evaluate (formula, catalog, NULL);
      g_assert_true (isfinite (result->pour.value));
      g_assert_cmpfloat (result->pour.value, >, last);
      last = result->pour.value;
    }
  g_test_message ("1001 recipes in %.2f s", g_timer_elapsed (timer, NULL));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/evaluate/fields", test_fields);
  g_test_add_func ("/cli/evaluate/check-example", test_check_example);
  g_test_add_func ("/cli/evaluate/conditions-in-order", test_conditions_in_order);
  g_test_add_func ("/cli/evaluate/names-and-zero-lines", test_names_and_zero_lines);
  g_test_add_func ("/cli/evaluate/text", test_text);
  g_test_add_func ("/cli/evaluate/refused-tables", test_refused_tables);
  g_test_add_func ("/cli/evaluate/refused-documents", test_refused_documents);
  g_test_add_func ("/cli/evaluate/missing-files", test_missing_files);
  g_test_add_func ("/cli/evaluate/unfinished-document", test_unfinished_document);
  g_test_add_func ("/cli/evaluate/own-material", test_own_material);
  g_test_add_func ("/cli/substitute/json", test_substitute);
  g_test_add_func ("/cli/substitute/text", test_substitute_text);
  g_test_add_func ("/cli/demos", test_demos);
  g_test_add_func ("/cli/thousand-recipes", test_thousand_recipes);

  return cli_finish ();
}
