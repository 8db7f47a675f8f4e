/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <string.h>

#define HEADER "phase,ingredient,percent\n"

static char *slipway; /* a recipe of the corpus: 2.1 % of agent; "First trial" has 1.5 %, "Blend" squalane */

static JsonObject *
element (JsonObject *root,
         const char *member,
         guint       index)
{
  return json_array_get_object_element (json_object_get_array_member (root, member), index);
}

static void
test_list (void)
{
  g_auto (CliRun) run = cli_run ("versions", slipway, "--json", NULL);
  g_auto (CliRun) text = cli_run ("versions", slipway, NULL);
  g_autofree char *plain = cli_file ("plain.csv", HEADER "A,castor-oil,100\n");
  g_auto (CliRun) none = cli_run ("versions", plain, "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  g_autoptr (JsonObject) empty = cli_json (&none);
  JsonObject *first = element (root, "versions", 0);
  JsonObject *second = element (root, "versions", 1);

  cli_assert_status (&run, 0);
  cli_assert_status (&none, 0);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "versions")), ==, 2);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (empty, "versions")), ==, 0);
  g_assert_cmpstr (json_object_get_string_member (first, "name"), ==, "First trial");
  g_assert_cmpstr (json_object_get_string_member (first, "note"), ==, "Ran off the applicator.");
  g_assert_cmpstr (json_object_get_string_member (first, "date"), ==, "2026-03-02");
  g_assert_cmpstr (json_object_get_string_member (second, "note"), ==, "");
  g_assert_cmpstr (json_object_get_string_member (second, "title"), ==, "Slipway, blended");
  g_assert_cmpint (json_object_get_int_member (second, "lines"), ==, 4);
  g_assert_cmpint (json_object_get_int_member (second, "trials"), ==, 0);
  g_assert_false (json_object_get_boolean_member (second, "as_it_stands"));
  cli_assert_has (text.out, "First trial");
  cli_assert_has (text.out, "2026-03-09");
}

/* A version is evaluated as the same recipe in a file of its own would be. */
static void
test_evaluate (void)
{
  g_autofree char *same = cli_file ("same.csv", HEADER "Heated,castor-oil,98.5\nHeated,polyamide-3,1.5\n");
  g_auto (CliRun) version = cli_run ("evaluate", slipway, "--version", "First trial", "--json", NULL);
  g_auto (CliRun) table = cli_run ("evaluate", same, "--json", NULL);
  g_auto (CliRun) now = cli_run ("evaluate", slipway, "--json", NULL);
  g_autoptr (JsonObject) a = cli_json (&version);
  g_autoptr (JsonObject) b = cli_json (&table);
  g_autoptr (JsonObject) c = cli_json (&now);

  cli_assert_status (&version, 0);
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat (cli_number (element (a, "viscosity", i), "value"), ==,
                         cli_number (element (b, "viscosity", i), "value"));
      g_assert_cmpfloat (cli_number (element (a, "viscosity", i), "value"), <,
                         cli_number (element (c, "viscosity", i), "value"));
    }
}

/* Versions of one file are compared as two files with the same recipes would be. */
static void
test_compare (void)
{
  g_autofree char *now = cli_file ("now.csv", HEADER "Heated,castor-oil,97.9\nHeated,polyamide-3,2.1\n");
  g_autofree char *first = cli_file ("first.csv", HEADER "Heated,castor-oil,98.5\nHeated,polyamide-3,1.5\n");
  g_auto (CliRun) run = cli_run ("compare", slipway, "--version", "First trial", "--version", "Blend",
                                 "--json", NULL);
  g_auto (CliRun) files = cli_run ("compare", now, first, "--json", NULL);
  g_auto (CliRun) text = cli_run ("compare", slipway, "--version", "First trial", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  g_autoptr (JsonObject) other = cli_json (&files);
  JsonObject *ratio = json_object_get_object_member (element (root, "ratios", 0), "pour");
  JsonObject *same = json_object_get_object_member (element (other, "ratios", 0), "pour");
  JsonArray *changes = json_object_get_array_member (element (root, "differences", 0), "changes");
  JsonObject *squalane = element (root, "lines", 2);

  cli_assert_status (&run, 0);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "recipes")), ==, 3);
  g_assert_true (json_object_get_null_member (element (root, "recipes", 0), "version"));
  g_assert_cmpstr (json_object_get_string_member (element (root, "recipes", 2), "version"), ==, "Blend");
  g_assert_cmpstr (json_object_get_string_member (element (root, "ratios", 0), "version"), ==, "First trial");
  g_assert_cmpfloat (cli_number (ratio, "value"), ==, cli_number (same, "value"));
  g_assert_cmpfloat (cli_number (ratio, "low80"), ==, cli_number (same, "low80"));
  g_assert_cmpfloat (cli_number (ratio, "high80"), ==, cli_number (same, "high80"));
  g_assert_cmpuint (json_array_get_length (changes), ==, 2);
  g_assert_cmpstr (json_array_get_string_element (changes, 1), ==, "Polyamide-3: less, 1.5 % instead of 2.1 %.");
  g_assert_cmpstr (json_object_get_string_member (squalane, "ingredient"), ==, "squalane");
  g_assert_cmpstr (json_array_get_string_element (json_object_get_array_member (squalane, "change"), 2), ==,
                   "gained");
  g_assert_true (json_array_get_null_element (json_object_get_array_member (squalane, "percent"), 0));
  cli_assert_has (text.out, "First trial");
  cli_assert_has (text.out, "▼ 1.5");
  cli_assert_has (text.out, "less, 1.5 % instead of 2.1 %");
}

static void
test_other_verbs (void)
{
  g_auto (CliRun) declared = cli_run ("declare", slipway, "--market", "eu", "--version", "Blend", NULL);
  g_auto (CliRun) checked = cli_run ("check", slipway, "--version", "Blend", "--json", NULL);
  g_auto (CliRun) stove = cli_run ("stove", slipway, "--version", "Blend", NULL);
  g_auto (CliRun) batch = cli_run ("batch", slipway, "--version", "Blend", "--json", NULL);
  g_autofree char *picture = g_build_filename (cli_folder (), "chart.svg", NULL);
  g_auto (CliRun) chart = cli_run ("chart", slipway, "--version", "Blend", "--axis", "temperature", "-o",
                                   picture, NULL);
  g_autofree char *drawn = NULL;

  cli_assert_has (declared.out, "Squalane");
  g_assert_cmpint (checked.status, !=, 1);
  cli_assert_has (stove.out, "Squalane");
  cli_assert_has (batch.out, "squalane");
  cli_assert_status (&chart, 0);
  g_assert_true (g_file_get_contents (picture, &drawn, NULL, NULL));
  cli_assert_has (drawn, "svg");
}

static void
test_statuses (void)
{
  static const char document[] = "{\"batch_g\": 1, \"format\": \"oleograph-document\", \"phases\": [],"
                                 " \"version\": 2, \"versions\": [{\"name\": \"x\"}]}";
  g_autofree char *plain = cli_file ("none.csv", HEADER "A,castor-oil,100\n");
  g_autofree char *broken = cli_file ("broken.oleograph", document);
  g_auto (CliRun) unknown = cli_run ("evaluate", slipway, "--version", "Second trial", NULL);
  g_auto (CliRun) without = cli_run ("evaluate", plain, "--version", "One", NULL);
  g_auto (CliRun) beside = cli_run ("compare", slipway, "--version", "Second trial", NULL);
  g_auto (CliRun) alone = cli_run ("compare", slipway, NULL);
  g_auto (CliRun) mixed = cli_run ("compare", slipway, plain, "--version", "Blend", NULL);
  g_auto (CliRun) many = cli_run ("compare", slipway, "--version", "Blend", "--version", "Blend", "--version",
                                  "Blend", "--version", "Blend", NULL);
  g_auto (CliRun) bare = cli_run ("check", "--version", "Blend", NULL);
  g_auto (CliRun) unread = cli_run ("versions", broken, NULL);

  cli_assert_status (&unknown, 1);
  cli_assert_has (unknown.err, "“First trial”, “Blend”");
  cli_assert_status (&without, 1);
  cli_assert_has (without.err, "keeps no versions");
  cli_assert_status (&beside, 1);
  cli_assert_status (&alone, 1);
  cli_assert_status (&mixed, 1);
  cli_assert_status (&many, 1);
  cli_assert_status (&bare, 1);
  cli_assert_status (&unread, 3);
  cli_assert_has (unread.err, "versions[0]");
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  slipway = g_test_build_filename (G_TEST_DIST, "data", "files", "good", "versions.oleograph", NULL);

  g_test_add_func ("/cli/versions/list", test_list);
  g_test_add_func ("/cli/versions/evaluate", test_evaluate);
  g_test_add_func ("/cli/versions/compare", test_compare);
  g_test_add_func ("/cli/versions/other-verbs", test_other_verbs);
  g_test_add_func ("/cli/versions/statuses", test_statuses);
  status = cli_finish ();
  g_free (slipway);

  return status;
}
