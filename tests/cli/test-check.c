/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <string.h>

/* Annex III/325 of Reg. (EC) 1223/2009: BHT at most 0.8 %. */
static const char over_text[] = "phase,ingredient,percent\nA,castor-oil,98.9\nA,bht,0.9\nA,menthol,0.2\n";
static const char kept_text[] = "phase,ingredient,percent\nA,castor-oil,99.2\nA,bht,0.8\n";

static JsonObject *
finding_with (JsonObject *root,
              const char *code,
              const char *jurisdiction)
{
  JsonArray *findings = json_object_get_array_member (root, "findings");

  for (guint i = 0; i < json_array_get_length (findings); i++)
    {
      JsonObject *finding = json_array_get_object_element (findings, i);

      if (g_str_equal (json_object_get_string_member (finding, "code"), code)
          && g_strcmp0 (json_object_get_string_member_with_default (finding, "jurisdiction", NULL),
                        jurisdiction) == 0)
        return finding;
    }
  return NULL;
}

static void
test_limit (void)
{
  g_autofree char *over = cli_file ("over.csv", over_text);
  g_autofree char *kept = cli_file ("kept.csv", kept_text);
  g_auto (CliRun) run = cli_run ("check", over, "--json", NULL);
  g_auto (CliRun) text = cli_run ("check", over, NULL);
  g_auto (CliRun) good = cli_run ("check", kept, NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonObject *finding = finding_with (root, "above-limit", "EU");

  cli_assert_status (&run, 2);
  cli_assert_status (&text, 2);
  cli_assert_status (&good, 0);
  g_assert_nonnull (finding);
  g_assert_cmpstr (json_object_get_string_member (finding, "severity"), ==, "blocking");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (finding, "amount_pct"), 0.9, 1e-9);
  g_assert_cmpfloat (json_object_get_double_member (finding, "limit_pct"), ==, 0.8);
  g_assert_nonnull (strstr (json_object_get_string_member (finding, "cure"), "0.8 %"));
  g_assert_nonnull (strstr (json_object_get_string_member (finding, "reference"), "Annex III/325"));
  g_assert_nonnull (strstr (json_object_get_string_member (root, "advice"), "not legal advice"));
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "rulings")), >, 3);
  cli_assert_has (text.out, "not legal advice");
  cli_assert_has (text.out, "Annex III/325");
}

static void
test_jurisdiction (void)
{
  g_autofree char *over = cli_file ("over.csv", over_text);
  g_auto (CliRun) us = cli_run ("check", over, "--jurisdiction", "US", "--json", NULL);
  g_auto (CliRun) both = cli_run ("check", over, "--jurisdiction", "US, EU", "--json", NULL);
  g_autoptr (JsonObject) us_root = cli_json (&us);
  g_autoptr (JsonObject) both_root = cli_json (&both);

  cli_assert_status (&us, 0);
  cli_assert_status (&both, 2);
  g_assert_null (finding_with (us_root, "above-limit", "EU"));
  g_assert_nonnull (finding_with (both_root, "above-limit", "EU"));
  g_assert_null (finding_with (both_root, "above-limit", "UK"));
}

/* 0.2 % x 123.20 mg/(kg day) x 0.4 = 0.09856; 50 x 0.8 / 0.09856 = 405.8; lips 0.0018. */
static void
test_exposure (void)
{
  g_autofree char *over = cli_file ("over.csv", over_text);
  g_auto (CliRun) run = cli_run ("check", over, "--exposure", "menthol,50,40,80", "--json", NULL);
  g_auto (CliRun) text = cli_run ("check", over, "--exposure", "menthol", NULL);
  g_auto (CliRun) none = cli_run ("check", over, "--exposure", "camphor", NULL);
  g_auto (CliRun) wrong = cli_run ("check", over, "--exposure", "menthol,many", NULL);
  g_auto (CliRun) more = cli_run ("check", over, "--exposure", "menthol,1,2,3,4", NULL);
  g_auto (CliRun) nothing = cli_run ("check", "--exposure", "menthol", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonObject *exposure = json_object_get_object_member (root, "exposure");
  JsonArray *uses = json_object_get_array_member (exposure, "uses");
  JsonObject *lips = json_array_get_object_element (uses, 0);
  JsonObject *skin = json_array_get_object_element (uses, 1);

  g_assert_cmpuint (json_array_get_length (uses), ==, 3);
  g_assert_cmpstr (json_object_get_string_member (lips, "use"), ==, "lips");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (lips, "dose_mg_kg_day"), 0.0018, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (skin, "dose_mg_kg_day"), 0.09856, 1e-9);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (skin, "margin"), 405.8, 0.1);
  cli_assert_has (text.out, "unknown");
  cli_assert_status (&none, 1);
  cli_assert_status (&wrong, 1);
  cli_assert_status (&more, 1);
  cli_assert_status (&nothing, 1);
}

/* 0.2 % x 123.20 mg/(kg day) x 0.4 + 0.0018 = 0.10036; with a NOAEL of 10: 10 x 0.8 / 0.10036 = 79.7, below the 100 of
 * the Notes of Guidance (recalled). */
static void
test_margin (void)
{
  g_autofree char *over = cli_file ("over.csv", over_text);
  g_auto (CliRun) low = cli_run ("check", over, "--exposure", "menthol,10,40,80", "--json", NULL);
  g_auto (CliRun) high = cli_run ("check", over, "--exposure", "menthol,50,40,80", "--json", NULL);
  g_autoptr (JsonObject) low_root = cli_json (&low);
  g_autoptr (JsonObject) high_root = cli_json (&high);

  g_assert_nonnull (finding_with (low_root, "exposure-margin", NULL));
  g_assert_null (finding_with (high_root, "exposure-margin", NULL));
}

#define OWN(pct) \
  "{\"format\": \"oleograph-rules\", \"version\": 1, \"rules\": [{\"id\": \"mine\", \"name\": \"Menthol\"," \
  " \"kind\": \"limit\", \"max_pct\": " pct ", \"match\": {\"id\": [\"menthol\"]}}]}"

static void
test_own_rules (void)
{
  g_autofree char *recipe = cli_file ("mint.csv", "phase,ingredient,percent\nA,castor-oil,99.8\nA,menthol,0.2\n");
  g_autofree char *rules = cli_file ("mine.json", OWN ("0.1"));
  g_autofree char *wrong = cli_file ("wrong.json", OWN ("\"much\""));
  g_auto (CliRun) without = cli_run ("check", recipe, NULL);
  g_auto (CliRun) with = cli_run ("check", recipe, "--rules", rules, NULL);
  g_auto (CliRun) broken = cli_run ("check", recipe, "--rules", wrong, NULL);
  g_auto (CliRun) library = cli_run ("check", "--rules", rules, "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&library);

  cli_assert_status (&without, 0);
  cli_assert_status (&with, 2);
  cli_assert_has (with.out, "your own rule");
  cli_assert_has (with.out, "0.1 %");
  cli_assert_status (&broken, 3);
  cli_assert_has (broken.err, "max_pct");
  cli_assert_status (&library, 0);
  g_assert_cmpint (json_object_get_int_member (json_object_get_object_member (root, "rules"), "own"), ==, 1);
}

/* Rules in the reader's data folder hold without being named; a broken file there is not passed
 * over. */
static void
test_own_folder (void)
{
  g_autofree char *recipe = cli_file ("mint.csv", "phase,ingredient,percent\nA,castor-oil,99.8\nA,menthol,0.2\n");
  g_autofree char *home = g_build_filename (cli_folder (), "share", NULL);
  g_autofree char *folder = g_build_filename (home, "oleograph", "rules", NULL);
  g_autofree char *good = g_build_filename (folder, "a.json", NULL);
  g_autofree char *bad = g_build_filename (folder, "b.json", NULL);
  g_autofree char *variable = g_strdup_printf ("XDG_DATA_HOME=%s", home);

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_assert_true (g_file_set_contents (good, OWN ("0.1"), -1, NULL));
  {
    g_auto (CliRun) run = cli_run_with ((const char *[]) { variable, NULL },
                                        (const char *[]) { "check", recipe, NULL });

    cli_assert_status (&run, 2);
    cli_assert_has (run.out, "your own rule");
  }
  g_assert_true (g_file_set_contents (bad, "[]", -1, NULL));
  {
    g_auto (CliRun) run = cli_run_with ((const char *[]) { variable, NULL },
                                        (const char *[]) { "check", recipe, NULL });

    cli_assert_status (&run, 3);
    cli_assert_has (run.err, "b.json");
  }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/check/limit", test_limit);
  g_test_add_func ("/check/jurisdiction", test_jurisdiction);
  g_test_add_func ("/check/exposure", test_exposure);
  g_test_add_func ("/check/margin", test_margin);
  g_test_add_func ("/check/own-rules", test_own_rules);
  g_test_add_func ("/check/own-folder", test_own_folder);

  return cli_finish ();
}
