/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#define LIP_OIL(other) \
  "{\"format\": \"oleograph-document\", \"version\": 1, \"title\": \"T\", \"product\": \"lip-applicator\"," \
  " \"batch_g\": 100, \"notes\": \"\", \"purpose\": \"\", \"materials\": [], \"phases\": [{\"id\": 1, \"name\": \"A\"," \
  " \"lines\": [{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": 990000}," \
  " {\"id\": 3, \"ingredient\": " other ", \"amount\": 10000}]}]}\n"

#include <math.h>
#include <string.h>

#include "core/recipe/storage.h"

/* An invented lip oil; names and shares of the declarations by hand. */
static const char table[] = "phase,ingredient,percent\n"
                            "A,castor-oil,94.0\n"
                            "A,tocopherol,0.5\n"
                            "A,mica,2.5\n"
                            "B,red-iron-oxide-in-castor-oil,2.0\n"
                            "B,titanium-dioxide,1.0\n";

static const char unknown_table[] = "phase,ingredient,percent\n"
                                    "A,linseed-oil,99\n"
                                    "B,fragrance-oil,1\n";

static JsonObject *
run_json (int         status,
          const char *verb,
          const char *path,
          const char *option,
          const char *value)
{
  g_auto (CliRun) run = cli_run (verb, path, "--json", option, value, NULL);

  cli_assert_status (&run, status);
  return cli_json (&run);
}

static void
test_declare_eu (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_autoptr (JsonObject) root = run_json (0, "declare", path, "--market", "eu");
  JsonArray *entries = json_object_get_array_member (root, "entries");
  JsonObject *first = json_array_get_object_element (entries, 0);

  g_assert_cmpstr (json_object_get_string_member (root, "market"), ==, "eu");
  g_assert_cmpstr (json_object_get_string_member (root, "text"), ==,
                   "Ricinus Communis Seed Oil, Mica, Tocopherol, CI 77491, CI 77891");
  g_assert_true (json_object_get_boolean_member (root, "complete"));
  g_assert_cmpuint (json_array_get_length (entries), ==, 5);
  g_assert_cmpstr (json_object_get_string_member (first, "name"), ==, "Ricinus Communis Seed Oil");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (first, "percent"), 95, 1e-9);
  g_assert_cmpstr (json_object_get_string_member (first, "group"), ==, "ordered");
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "notes")), >, 0);
}

static void
test_declare_us (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) run = cli_run ("declare", path, "-m", "us", "--shades",
                                 "black-iron-oxide,red-7-lake", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  cli_assert_status (&run, 0);
  g_assert_cmpstr (json_object_get_string_member (root, "text"), ==,
                   "Ricinus Communis (Castor) Seed Oil, Tocopherol, Mica, Iron Oxides (CI 77491), "
                   "Titanium Dioxide (CI 77891), [May Contain: Iron Oxides (CI 77499), "
                   "Red 7 Lake (CI 15850)]");
}

static void
test_declare_text (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) run = cli_run ("declare", path, "-m", "eu", "--nano", "titanium-dioxide", NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "CI 77891 (nano)");
  cli_assert_has (run.out, "In order of weight");
}

static void
test_incomplete (void)
{
  g_autofree char *path = cli_file ("unknown.csv", unknown_table);
  g_autoptr (JsonObject) eu = run_json (2, "declare", path, "--market", "eu");
  g_autoptr (JsonObject) us = run_json (0, "declare", path, "--market", "us");

  g_assert_false (json_object_get_boolean_member (eu, "complete"));
  g_assert_true (json_object_get_boolean_member (us, "complete"));
}

static void
test_label_file (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_autofree char *out = g_build_filename (cli_folder (), "label.svg", NULL);
  g_autofree char *bytes = NULL;
  g_auto (CliRun) run = cli_run ("declare", path, "-m", "eu", "--label", out, "--batch", "TQ-0417",
                                 "--best-before", "2027-08", NULL);
  g_auto (CliRun) nowhere
      = cli_run ("declare", path, "-m", "eu", "--label", "/no/such/folder/x.svg", NULL);

  cli_assert_status (&run, 0);
  g_assert_true (g_file_get_contents (out, &bytes, NULL, NULL));
  cli_assert_has (bytes, "<svg");
  cli_assert_status (&nowhere, 3);
}

/* Colours that the lists of the US allow for external use only (21 CFR 73.2725, 73.2327; data/rules): a label of a lip
 * oil with one of them, in it or among its shades, is blocked there and not in the EU. */
static void
test_forbidden_colours (void)
{
  g_autofree char *tinted = cli_file ("tinted.oleograph", LIP_OIL ("\"ultramarine-pink\""));
  g_autofree char *plain = cli_file ("plain.oleograph", LIP_OIL ("\"squalane\""));
  g_auto (CliRun) us = cli_run ("declare", tinted, "--market", "us", NULL);
  g_auto (CliRun) eu = cli_run ("declare", tinted, "--market", "eu", NULL);
  g_auto (CliRun) shade
      = cli_run ("declare", plain, "--market", "us", "--shades", "chromium-oxide-greens", NULL);
  g_auto (CliRun) shade_eu
      = cli_run ("declare", plain, "--market", "eu", "--shades", "chromium-oxide-greens", NULL);
  g_auto (CliRun) batch = cli_run ("batch", tinted, "--grams", "20", NULL);

  cli_assert_status (&us, 2);
  cli_assert_has (us.out, "21 CFR 73.2725");
  cli_assert_status (&eu, 0);
  cli_assert_status (&shade, 2);
  cli_assert_has (shade.out, "21 CFR 73.2327");
  cli_assert_status (&shade_eu, 0);
  cli_assert_status (&batch, 2);
  cli_assert_has (batch.out, "21 CFR 73.2725");
}

static void
test_declare_usage (void)
{
  static const char *const wrong[][2] = {
    { "--shades", "no-such-dye" },    { "--nano", "no-such-thing" }, { "--label", "label.csv" },
    { "--best-before", "2027-13" },   { "--best-before", "8/2027" },
  };
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) nowhere = cli_run ("declare", path, NULL);
  g_auto (CliRun) mars = cli_run ("declare", path, "--market", "mars", NULL);

  cli_assert_status (&nowhere, 1);
  cli_assert_status (&mars, 1);
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_auto (CliRun) run = cli_run ("declare", path, "-m", "eu", wrong[i][0], wrong[i][1], NULL);

      cli_assert_status (&run, 1);
      cli_assert_has (run.err, wrong[i][0]);
      g_assert_cmpstr (run.out, ==, "");
    }
}

static void
test_keep (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) run = cli_run ("keep", path, "-t", "15", "-t", "35", "--peroxide",
                                 "castor-oil=12", "--json", NULL);
  g_autoptr (JsonObject) root = NULL;
  JsonArray *temperatures, *guards, *findings;
  JsonObject *room, *warm, *guard;
  gboolean found = FALSE;

  cli_assert_status (&run, 0);
  root = cli_json (&run);
  room = json_object_get_object_member (root, "room");
  temperatures = json_object_get_array_member (root, "temperatures");
  warm = json_array_get_object_element (temperatures, 1);
  g_assert_cmpuint (json_array_get_length (temperatures), ==, 2);
  g_assert_cmpfloat (json_object_get_double_member (warm, "temperature_c"), ==, 35);
  g_assert_cmpfloat (json_object_get_double_member (warm, "high_months"), <,
                     json_object_get_double_member (room, "high_months"));
  guards = json_object_get_array_member (root, "antioxidants");
  guard = json_array_get_object_element (guards, 0);
  g_assert_cmpstr (json_object_get_string_member (guard, "level"), ==, "within");
  findings = json_object_get_array_member (root, "findings");
  for (guint i = 0; i < json_array_get_length (findings); i++)
    found = found
            || strcmp (json_object_get_string_member (json_array_get_object_element (findings, i),
                                                      "code"),
                       "keeping-peroxide")
                 == 0;
  g_assert_true (found);
}

static void
test_plan (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) csv
      = cli_run ("keep", path, "--plan", "2026-03-01", "--months", "6", "--csv", NULL);
  g_auto (CliRun) text = cli_run ("keep", path, "--plan", "2026-03-01", NULL);

  cli_assert_status (&csv, 0);
  g_assert_true (g_str_has_prefix (csv.out, "date,day,test,setting,reading,value,note\n"
                                            "2026-03-01,0,room,"));
  cli_assert_has (csv.out, "\n2026-09-01,184,room,");
  cli_assert_status (&text, 0);
  cli_assert_has (text.out, "8.5 months");
}

/* What the recipe itself plans and what was read so far. */
static void
test_stored_plan (void)
{
  GDate date;
  g_autoptr (OgFormula) formula = og_formula_new ();
  g_autoptr (GBytes) document = NULL;
  g_autofree char *text = NULL;
  g_autofree char *path = NULL;
  g_autoptr (JsonObject) root = NULL;
  JsonObject *result;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 1, G_DATE_MARCH, 2026);
  og_formula_add_line (formula, og_formula_add_phase (formula, "A", NAN, G_MAXUINT), "castor-oil",
                       OG_PPM_WHOLE, G_MAXUINT);
  formula->stability_start = date;
  formula->stability_months = 2;
  g_ptr_array_add (formula->stability_results,
                   og_stability_result_new (&date, OG_STABILITY_ROOM, OG_READING_VISCOSITY_MPA_S,
                                            640, "clear"));
  document = og_storage_serialise (formula);
  text = g_strndup (g_bytes_get_data (document, NULL), g_bytes_get_size (document));
  path = cli_file ("planned.oleograph", text);
  root = run_json (0, "keep", path, "--date", "2026-03-02");
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "plan")), >, 10);
  result = json_array_get_object_element (json_object_get_array_member (root, "results"), 0);
  g_assert_cmpstr (json_object_get_string_member (result, "reading"), ==, "viscosity_mpa_s");
  g_assert_cmpfloat (json_object_get_double_member (result, "value"), ==, 640);
  g_assert_cmpstr (json_object_get_string_member (result, "note"), ==, "clear");
}

static void
test_keep_usage (void)
{
  static const char *const wrong[][2] = {
    { "-t", "500" },
    { "--date", "tomorrow" },
    { "--plan", "2026-02-30" },
    { "--months", "0" },
    { "--csv", "--json" },
    { "--peroxide", "castor-oil" },
    { "--peroxide", "castor-oil=-1" },
    { "--peroxide", "none-such=1" },
  };
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) ledger = cli_run ("keep", path, "--ledger", "/no/such/ledger", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_auto (CliRun) run = cli_run ("keep", path, wrong[i][0], wrong[i][1], NULL);

      cli_assert_status (&run, 1);
      g_assert_cmpstr (run.out, ==, "");
    }
  cli_assert_status (&ledger, 3);
}

static void
test_evaluate (void)
{
  g_autofree char *path = cli_file ("label.csv", table);
  g_auto (CliRun) run = cli_run ("evaluate", path, "--json", NULL);
  g_autoptr (JsonObject) root = NULL;
  JsonObject *origin, *tint;

  cli_assert_status (&run, 0);
  root = cli_json (&run);
  origin = json_object_get_object_member (root, "natural_origin");
  tint = json_object_get_object_member (root, "tint");
  /* all of index 1 but the tocopherol, which may be of either origin */
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (origin, "low_percent"), 99.5,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (origin, "high_percent"), 100,
                                  1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (tint, "pigment_percent"), 2, 1e-9);
  g_assert_true (g_str_has_prefix (json_object_get_string_member (tint, "over_white"), "#"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/declare/eu", test_declare_eu);
  g_test_add_func ("/cli/declare/us", test_declare_us);
  g_test_add_func ("/cli/declare/text", test_declare_text);
  g_test_add_func ("/cli/declare/incomplete", test_incomplete);
  g_test_add_func ("/cli/declare/label-file", test_label_file);
  g_test_add_func ("/cli/declare/forbidden-colours", test_forbidden_colours);
  g_test_add_func ("/cli/declare/usage", test_declare_usage);
  g_test_add_func ("/cli/keep/figures", test_keep);
  g_test_add_func ("/cli/keep/plan", test_plan);
  g_test_add_func ("/cli/keep/stored-plan", test_stored_plan);
  g_test_add_func ("/cli/keep/usage", test_keep_usage);
  g_test_add_func ("/cli/keep/evaluate", test_evaluate);

  return cli_finish ();
}
