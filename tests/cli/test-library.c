/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <glib/gstdio.h>
#include <string.h>

static JsonArray *
list (JsonObject *root)
{
  g_assert_true (json_object_has_member (root, "ingredients"));
  return json_object_get_array_member (root, "ingredients");
}

static JsonObject *
find (JsonObject *root,
      const char *id)
{
  JsonArray *all = list (root);

  for (guint i = 0; i < json_array_get_length (all); i++)
    {
      JsonObject *ingredient = json_array_get_object_element (all, i);

      if (strcmp (json_object_get_string_member (ingredient, "id"), id) == 0)
        return ingredient;
    }

  return NULL;
}

static gboolean
has_tag (JsonObject *ingredient,
         const char *tag)
{
  JsonArray *tags = json_object_get_array_member (ingredient, "tags");

  for (guint i = 0; i < json_array_get_length (tags); i++)
    {
      if (strcmp (json_array_get_string_element (tags, i), tag) == 0)
        return TRUE;
    }

  return FALSE;
}

static void
test_fields (void)
{
  static const char *const names[] = { "id", "name", "inci", "cas", "kind", "tags", "figures", "profile" };
  g_auto (CliRun) run = cli_run ("ingredients", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonObject *figures;
  JsonObject *density;

  cli_assert_status (&run, 0);
  g_assert_cmpuint (json_array_get_length (list (root)), >=, 120);
  for (guint i = 0; i < json_array_get_length (list (root)); i++)
    {
      for (guint n = 0; n < G_N_ELEMENTS (names); n++)
        g_assert_true (json_object_has_member (json_array_get_object_element (list (root), i), names[n]));
    }

  /* CAS 8001-79-4 is castor oil: common knowledge of the trade, no source */
  g_assert_cmpstr (json_object_get_string_member (find (root, "castor-oil"), "cas"), ==, "8001-79-4");
  figures = json_object_get_object_member (find (root, "castor-oil"), "figures");
  density = json_object_get_object_member (figures, "density_g_ml");
  g_assert_cmpstr (json_object_get_string_member (density, "unit"), ==, "g/ml");
  g_assert_true (json_object_has_member (density, "quality"));
  g_assert_cmpuint (strlen (json_object_get_string_member (density, "source")), >, 0);
}

static void
test_contract_ids (void)
{
  static const char *const ids[] = { "castor-oil", "sunflower-oil-high-oleic", "sweet-almond-oil", "polyamide-3", "tocopherol" };
  g_auto (CliRun) run = cli_run ("ingredients", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    g_assert_nonnull (find (root, ids[i]));
  g_assert_true (has_tag (find (root, "sweet-almond-oil"), "nut"));
  g_assert_false (has_tag (find (root, "castor-oil"), "nut"));
}

static void
test_unknown_is_null (void)
{
  g_auto (CliRun) run = cli_run ("ingredients", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  guint n_unknown = 0;

  for (guint i = 0; i < json_array_get_length (list (root)); i++)
    {
      JsonObject *figures = json_object_get_object_member (json_array_get_object_element (list (root), i), "figures");
      g_autoptr (GList) members = json_object_get_values (figures);

      g_assert_cmpuint (g_list_length (members), >, 0);
      for (GList *m = members; m != NULL; m = m->next)
        {
          if (JSON_NODE_HOLDS_NULL (m->data))
            n_unknown++;
          else
            g_assert_true (json_object_has_member (json_node_get_object (m->data), "source"));
        }
    }
  g_assert_cmpuint (n_unknown, >, 0);
}

static void
test_search (void)
{
  g_auto (CliRun) plain = cli_run ("ingredients", "--search", "HIGH oleic sunflower", NULL);
  g_auto (CliRun) first = cli_run ("ingredients", "--json", "--search", "castor", NULL);
  g_auto (CliRun) last = cli_run ("ingredients", "--search", "castor", "--json", NULL);
  g_auto (CliRun) none = cli_run ("ingredients", "--search", "no such thing anywhere", "--json", NULL);
  g_autoptr (JsonObject) found = cli_json (&first);
  g_autoptr (JsonObject) empty = cli_json (&none);

  cli_assert_status (&plain, 0);
  cli_assert_has (plain.out, "sunflower-oil-high-oleic");
  g_assert_null (strstr (plain.out, "castor-oil"));
  g_assert_cmpstr (first.out, ==, last.out);
  g_assert_nonnull (find (found, "castor-oil"));
  g_assert_null (find (found, "olive-oil"));
  cli_assert_status (&none, 0);
  g_assert_cmpuint (json_array_get_length (list (empty)), ==, 0);
}

static void
test_kind (void)
{
  g_auto (CliRun) run = cli_run ("ingredients", "--kind", "gelling-agent", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  cli_assert_status (&run, 0);
  g_assert_nonnull (find (root, "polyamide-3"));
  for (guint i = 0; i < json_array_get_length (list (root)); i++)
    {
      JsonObject *ingredient = json_array_get_object_element (list (root), i);

      g_assert_cmpstr (json_object_get_string_member (ingredient, "kind"), ==, "gelling-agent");
    }
}

static void
assert_near (double value,
             double expected,
             double tolerance)
{
  g_assert_cmpfloat_with_epsilon (value, expected, tolerance);
}

static void
test_oil_indices (void)
{
  g_auto (CliRun) run = cli_run ("oil", "--profile", "C18:1=100", "--temperature", "25", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  cli_assert_status (&run, 0);
  /* AOCS Recommended Practice Cd 1c-85 (recalled): 0.860 g I2/100 g for each wt % of oleic acid in a triglyceride */
  assert_near (cli_number (root, "iodine_value"), 86.0, 0.1);
  /* 3 x 56.105 g KOH for 885.4 g triolein: arithmetic */
  assert_near (cli_number (root, "saponification_value"), 190.1, 0.1);
  /* Cosgrove, Church & Pryor 1987, Lipids 22:299 (recalled): 0.02 for each monoene */
  assert_near (cli_number (root, "oxidisability"), 0.02, 1e-9);
}

static void
test_oil_points (void)
{
  /* profile of a sunflower oil; the profile is renormalised to 100 */
  static const char profile[] = "C16:0=6.1,C18:0=3.3,C18:1=16.9,C18:2=73.7";
  static const char half[] = "C16:0=3.05,C18:0=1.65,C18:1=8.45,C18:2=36.85";
  g_auto (CliRun) run = cli_run ("oil", "--json", "--profile", profile, "--temperature", "60", "--temperature", "20", NULL);
  g_auto (CliRun) scaled = cli_run ("oil", "--temperature", "60", "--profile", half, "--temperature", "20", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  g_autoptr (JsonObject) root_scaled = cli_json (&scaled);
  JsonArray *points = json_object_get_array_member (root, "points");
  JsonObject *warm;
  JsonObject *cool;

  g_assert_cmpuint (json_array_get_length (points), ==, 2);
  warm = json_array_get_object_element (points, 0);
  cool = json_array_get_object_element (points, 1);
  assert_near (cli_number (warm, "temperature_c"), 60, 1e-9);
  assert_near (cli_number (cool, "temperature_c"), 20, 1e-9);
  g_assert_cmpfloat (cli_number (warm, "density_g_ml"), <, cli_number (cool, "density_g_ml"));

  for (guint i = 0; i < 2; i++)
    {
      JsonObject *viscosity = json_object_get_object_member (json_array_get_object_element (points, i), "viscosity_mpa_s");
      JsonObject *same = json_object_get_object_member (
        json_array_get_object_element (json_object_get_array_member (root_scaled, "points"), i), "viscosity_mpa_s");

      g_assert_cmpfloat (cli_number (viscosity, "low80"), <, cli_number (viscosity, "value"));
      g_assert_cmpfloat (cli_number (viscosity, "value"), <, cli_number (viscosity, "high80"));
      assert_near (cli_number (same, "value") / cli_number (viscosity, "value"), 1, 1e-9);
    }
}

/* Goering et al. 1982, Trans. ASAE 25:1472 (through a published transcription): a sunflower oil of this composition has
 * 33.9 mm2/s at 38 C. Laboratories differ by up to a tenth for one kind of oil. */
static void
test_oil_against_measurement (void)
{
  g_auto (CliRun) run = cli_run ("oil", "--profile", "C16:0=6.08,C18:0=3.26,C18:1=16.93,C18:2=73.73", "--temperature", "38",
                                 "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonObject *point = json_array_get_object_element (json_object_get_array_member (root, "points"), 0);
  double measured_mpa_s = 33.9 * cli_number (point, "density_g_ml");

  assert_near (cli_number (json_object_get_object_member (point, "viscosity_mpa_s"), "value") / measured_mpa_s, 1, 0.1);
}

static void
test_oil_text (void)
{
  g_auto (CliRun) run = cli_run ("oil", "--profile", "C18:1=80,C18:2=20", "-t", "25", NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "C18:1");
  cli_assert_has (run.out, "80.0");
  cli_assert_has (run.out, "Iodine value");
}

static void
test_check_library (void)
{
  g_auto (CliRun) text = cli_run ("check", NULL);
  g_auto (CliRun) run = cli_run ("check", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  cli_assert_status (&text, 0);
  cli_assert_has (text.out, "What was checked");
  cli_assert_status (&run, 0);
  g_assert_cmpint (json_object_get_int_member (root, "materials"), >=, 120);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "checked")), >, 0);
  g_assert_true (json_object_has_member (root, "findings"));
}

static void
copy_model_file (const char *name,
                 const char *folder)
{
  g_autofree char *from = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "model", name, NULL);
  g_autofree char *to = g_build_filename (folder, name, NULL);
  g_autofree char *text = NULL;

  g_assert_true (g_file_get_contents (from, &text, NULL, NULL));
  g_assert_true (g_file_set_contents (to, text, -1, NULL));
}

/* A copy of the library in which one thing was replaced. Returns: (transfer full): NAME=VALUE that points to it */
static char *
broken_library (const char *name,
                const char *material)
{
  g_autofree char *folder = g_build_filename (cli_folder (), name, NULL);
  g_autofree char *catalog = g_build_filename (folder, "catalog", NULL);
  g_autofree char *model = g_build_filename (folder, "model", NULL);
  g_autofree char *file = g_build_filename (catalog, "own.json", NULL);
  g_autofree char *text = g_strdup_printf ("{\"format\": \"oleograph-catalog\", \"version\": 1, \"sources\": {\"s\": \"test\"}, "
                                           "\"materials\": [%s]}", material);

  g_assert_cmpint (g_mkdir_with_parents (catalog, 0700), ==, 0);
  g_assert_cmpint (g_mkdir_with_parents (model, 0700), ==, 0);
  copy_model_file ("parameters.json", model);
  copy_model_file ("gelling.json", model);
  g_assert_true (g_file_set_contents (file, text, -1, NULL));

  return g_strdup_printf ("OLEOGRAPH_DATA_DIR=%s", folder);
}

static void
test_check_finds (void)
{
  /* triolein takes up 86 g I2/100 g (see above), far from 10 */
  g_autofree char *variable = broken_library (
    "faulty",
    "{\"id\": \"a-oil\", \"name\": \"A oil\", \"kind\": \"oil\", \"roles\": [\"base\"], \"uses\": [\"skin\"], \"tags\": [],"
    " \"figures\": {\"iodine_value\": {\"value\": 10, \"unit\": \"g I2/100 g\", \"source\": \"s\", \"quality\": \"typical\"}},"
    " \"profile\": {\"unit\": \"wt % of fatty acids\", \"source\": \"s\", \"quality\": \"typical\","
    " \"acids\": {\"C18:1\": {\"value\": 100}}}}");
  g_auto (CliRun) run = cli_run_with ((const char *[]) { variable, NULL }, (const char *[]) { "check", "--json", NULL });
  g_autoptr (JsonObject) root = NULL;
  JsonArray *findings;

  cli_assert_status (&run, 0);
  root = cli_json (&run);
  findings = json_object_get_array_member (root, "findings");
  g_assert_cmpuint (json_array_get_length (findings), ==, 1);
  g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (findings, 0), "code"), ==,
                   "catalog-iodine-value");
}

/* 7732-18-5 is water; the last digit is a check digit */
static void
test_wrong_registry_number (void)
{
  g_autofree char *variable = broken_library (
    "misnumbered",
    "{\"id\": \"w\", \"name\": \"W\", \"cas\": \"7732-18-4\", \"kind\": \"ester\", \"roles\": [\"base\"], \"uses\": [\"skin\"],"
    " \"tags\": [], \"figures\": {\"density_g_ml\": {\"value\": 1, \"at_c\": 20, \"unit\": \"g/ml\", \"source\": \"s\","
    " \"quality\": \"typical\"}}}");
  g_auto (CliRun) run = cli_run_with ((const char *[]) { variable, NULL }, (const char *[]) { "check", NULL });

  cli_assert_status (&run, 3);
  cli_assert_has (run.err, "7732-18-4");
}

static void
test_library_that_is_not_there (void)
{
  g_autofree char *empty = broken_library ("broken", "{\"id\": \"x\"}");
  g_auto (CliRun) missing = cli_run_with ((const char *[]) { "OLEOGRAPH_DATA_DIR=/nonexistent", NULL },
                                          (const char *[]) { "ingredients", NULL });
  g_auto (CliRun) broken = cli_run_with ((const char *[]) { empty, NULL }, (const char *[]) { "ingredients", NULL });

  cli_assert_status (&missing, 3);
  g_assert_cmpstr (missing.out, ==, "");
  cli_assert_status (&broken, 3);
  cli_assert_has (broken.err, "own.json");
}

static void
test_comma_locale (void)
{
  static const char *const plain[] = { "oil", "--profile", "C18:1=80.5,C18:2=19.5", "--temperature", "25.5", NULL };
  static const char *const json[] = { "oil", "--profile", "C18:1=80.5,C18:2=19.5", "--temperature", "25.5", "--json", NULL };
  g_autofree char *path = cli_comma_locale ();
  const char *variables[] = { path, "LC_ALL=de_DE.UTF-8", "LANGUAGE=C", NULL };

  if (path == NULL)
    {
      g_test_skip ("localedef and the German locale source are not there");
      return;
    }

  {
    g_auto (CliRun) text = cli_run_with (variables, plain);
    g_auto (CliRun) data = cli_run_with (variables, json);
    g_auto (CliRun) reference = cli_run_with (NULL, json);

    cli_assert_status (&text, 0);
    cli_assert_has (text.out, "80,5");
    cli_assert_status (&data, 0);
    g_assert_cmpstr (data.out, ==, reference.out);
  }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/ingredients/fields", test_fields);
  g_test_add_func ("/cli/ingredients/contract-ids", test_contract_ids);
  g_test_add_func ("/cli/ingredients/unknown-is-null", test_unknown_is_null);
  g_test_add_func ("/cli/ingredients/search", test_search);
  g_test_add_func ("/cli/ingredients/kind", test_kind);
  g_test_add_func ("/cli/oil/indices", test_oil_indices);
  g_test_add_func ("/cli/oil/points", test_oil_points);
  g_test_add_func ("/cli/oil/against-measurement", test_oil_against_measurement);
  g_test_add_func ("/cli/oil/text", test_oil_text);
  g_test_add_func ("/cli/check/library", test_check_library);
  g_test_add_func ("/cli/check/finds", test_check_finds);
  g_test_add_func ("/cli/check/wrong-registry-number", test_wrong_registry_number);
  g_test_add_func ("/cli/library/not-there", test_library_that_is_not_there);
  g_test_add_func ("/cli/locale/decimal-comma", test_comma_locale);

  return cli_finish ();
}
