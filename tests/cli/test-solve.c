/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <math.h>
#include <string.h>

#define HEADER "phase,ingredient,percent\n"
#define LIP_OIL \
  HEADER "Hot,castor-oil,63.0\nHot,polyamide-3,1.5\nCool,sunflower-oil,balance\n" \
         "Colour,red-iron-oxide-in-castor-oil,0.5\nLast,tocopherol,1.0\n"

/* Share of a material in "lines"; the sum of all if @id is NULL. */
static double
percent_of (JsonObject *answer,
            const char *id)
{
  JsonArray *lines = json_object_get_array_member (answer, "lines");
  double percent = 0;

  for (guint i = 0; i < json_array_get_length (lines); i++)
    {
      JsonObject *line = json_array_get_object_element (lines, i);

      if (id == NULL || g_str_equal (json_object_get_string_member (line, "ingredient"), id))
        percent += json_object_get_double_member (line, "percent");
    }
  return percent;
}

static void
assert_near (double value,
             double expected,
             double relative)
{
  if (!(fabs (value / expected - 1) <= relative))
    g_error ("%g is not near %g", value, expected);
}

/* --- solve ----------------------------------------------------------------- */

/* What is written reads back and evaluates to the target. */
static void
test_reached (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  g_autofree char *out = g_build_filename (cli_folder (), "solved.oleograph", NULL);
  g_auto (CliRun) run = cli_run ("solve", file, "--target", "900", "--temperature", "32",
                                 "--shear-rate", "100",
                                 "--vary", "polyamide-3", "--vary", "castor-oil", "--at-most",
                                     "castor-oil=80",
                                 "--at-least", "polyamide-3=1", "-o", out, "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  g_auto (CliRun) check = cli_run ("evaluate", out, "--temperature", "32", "--shear-rate", "100",
                                   "--json", NULL);
  g_autoptr (JsonObject) evaluated = cli_json (&check);
  JsonArray *points = json_object_get_array_member (evaluated, "viscosity");
  JsonArray *answers = json_object_get_array_member (root, "answers");

  cli_assert_status (&run, 0);
  g_assert_true (json_object_get_boolean_member (root, "reached"));
  assert_near (cli_number (json_object_get_object_member (root, "viscosity"), "value"), 900, 0.001);
  assert_near (cli_number (json_array_get_object_element (points, 0), "value"), 900, 0.001);
  assert_near (percent_of (root, NULL), 100, 1e-9);
  g_assert_cmpuint (json_array_get_length (answers), >, 1);
  for (guint i = 0; i < json_array_get_length (answers); i++)
    {
      JsonObject *answer = json_array_get_object_element (answers, i);

      assert_near (cli_number (json_object_get_object_member (answer, "viscosity"), "value"), 900,
                   0.001);
      g_assert_cmpfloat (percent_of (answer, "castor-oil"), <=, 80);
      g_assert_cmpfloat (percent_of (answer, "polyamide-3"), >=, 1);
      g_assert_cmpfloat (percent_of (answer, "tocopherol"), ==, 1);
    }
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "effects")), >, 5);
}

static void
test_out_of_reach (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  g_auto (CliRun) run = cli_run ("solve", file, "--target", "100000", "--vary", "polyamide-3",
                                 "--at-most",
                                 "polyamide-3=2.5", "--json", NULL);
  g_auto (CliRun) text = cli_run ("solve", file, "--target", "100000", "--vary", "polyamide-3",
                                  "--at-most",
                                  "polyamide-3=2.5", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonObject *limit = json_object_get_object_member (root, "limit");

  cli_assert_status (&run, 2);
  cli_assert_status (&text, 2);
  g_assert_false (json_object_get_boolean_member (root, "reached"));
  g_assert_cmpstr (json_object_get_string_member (limit, "ingredient"), ==, "polyamide-3");
  g_assert_cmpstr (json_object_get_string_member (limit, "bound"), ==, "at-most");
  g_assert_cmpfloat (cli_number (limit, "percent"), ==, 2.5);
  g_assert_cmpfloat (percent_of (root, "polyamide-3"), ==, 2.5);
  assert_near (cli_number (root, "nearest"),
               cli_number (json_object_get_object_member (root, "viscosity"), "value"), 1e-12);
  cli_assert_has (text.out, "at most 2.5 %");
}

/* The bound of a balance line needs no --vary. */
static void
test_balance_bound (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  g_auto (CliRun) run = cli_run ("solve", file, "--target", "5000", "--vary", "castor-oil",
                                 "--at-least",
                                 "sunflower-oil=20", "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonObject *limit = json_object_get_object_member (root, "limit");

  cli_assert_status (&run, 2);
  g_assert_cmpstr (json_object_get_string_member (limit, "ingredient"), ==, "sunflower-oil");
  g_assert_cmpstr (json_object_get_string_member (limit, "bound"), ==, "at-least");
  g_assert_cmpfloat (percent_of (root, "sunflower-oil"), ==, 20);
}

static void
test_body (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  g_auto (CliRun) run = cli_run ("solve", file, "--body", "syrupy", "--vary", "Castor oil",
                                 "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  cli_assert_status (&run, 0);
  g_assert_cmpstr (json_object_get_string_member (root, "body"), ==, "syrupy");
}

/* Without a price the answers say that they are ranked otherwise. */
static void
test_without_prices (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  g_autofree char *home = g_strdup_printf ("XDG_DATA_HOME=%s", cli_folder ());
  const char *const variables[] = { home, NULL };
  const char *const arguments[] = { "solve", file, "--target", "900", "--vary", "castor-oil",
                                    "--least", "cost",
                                    "--json", NULL };
  g_auto (CliRun) run = cli_run_with (variables, arguments);
  g_autoptr (JsonObject) root = cli_json (&run);

  cli_assert_status (&run, 0);
  g_assert_cmpstr (json_object_get_string_member (root, "least"), ==, "change");
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "unpriced")), ==, 2);
}

/* Stock and prices come from a ledger. */
static void
test_ledger (void)
{
  static const char *const lots[][3] = { { "castor-oil", "L1", "9" },
                                         { "sunflower-oil", "L2", "4" },
                                         { "polyamide-3", "L3", "120" },
                                             { "tocopherol", "L4", "60" } };
  g_autofree char *file = cli_file ("plain.csv", HEADER "Hot,castor-oil,63.0\nHot,polyamide-3,1.5\n"
                                                        "Cool,sunflower-oil,balance\n");
  g_autofree char *ledger = g_build_filename (cli_folder (), "ledger.sqlite", NULL);
  g_autoptr (JsonObject) solved = NULL;
  g_autoptr (JsonObject) drafted = NULL;
  double cost = 0;

  for (guint i = 0; i < G_N_ELEMENTS (lots); i++)
    {
      g_auto (CliRun) run = cli_run ("ledger", "receive", lots[i][0], "--lot", lots[i][1],
                                     "--grams", "1000", "--price", lots[i][2], "--currency", "EUR",
                                     "--ledger", ledger, NULL);

      cli_assert_status (&run, 0);
    }
  {
    g_auto (CliRun) run = cli_run ("solve", file, "--target", "900", "--vary", "castor-oil",
                                   "--vary", "polyamide-3", "--least", "cost", "--ledger", ledger,
                                   "--json", NULL);
    g_auto (CliRun) draft = cli_run ("draft", "--product", "lip-applicator", "--stocked",
                                     "--ledger", ledger, "--json", NULL);

    cli_assert_status (&run, 0);
    cli_assert_status (&draft, 0);
    solved = cli_json (&run);
    drafted = cli_json (&draft);
  }
  for (guint i = 0; i < G_N_ELEMENTS (lots); i++)
    cost += percent_of (solved, lots[i][0]) / 100 * g_ascii_strtod (lots[i][2], NULL);
  g_assert_cmpstr (json_object_get_string_member (solved, "least"), ==, "cost");
  assert_near (cli_number (solved, "cost_per_kg"), cost, 1e-9);
  g_assert_true (json_object_get_boolean_member (drafted, "met"));
  g_assert_cmpfloat (percent_of (drafted, "jojoba-oil"), ==, 0);
  g_assert_cmpfloat (percent_of (drafted, "castor-oil"), >, 0);
}

static void
test_usage (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  const char *const wrong[][10] = {
    { "solve", file, "--vary", "castor-oil", NULL },
    { "solve", file, "--target", "900", "--body", "thin", "--vary", "castor-oil", NULL },
    { "solve", file, "--target", "900", NULL },
    { "solve", file, "--target", "0", "--vary", "castor-oil", NULL },
    { "solve", file, "--target", "nan", "--vary", "castor-oil", NULL },
    { "solve", file, "--target", "900", "--vary", "olive-oil", NULL },
    { "solve", file, "--target", "900", "--vary", "castor-oil", "--at-most", "castor-oil", NULL },
    { "solve", file, "--target", "900", "--vary", "castor-oil", "--at-most", "castor-oil=101",
      NULL },
    { "solve", file, "--target", "900", "--vary", "castor-oil", "--at-most", "polyamide-3=3",
      NULL },
    { "solve", file, "--target", "900", "--vary", "castor-oil", "--at-least", "castor-oil=99.9",
      NULL },
    { "solve", file, "--body", "gooey", "--vary", "castor-oil", NULL },
    { "solve", file, "--body", "thin", "--temperature", "30", "--vary", "castor-oil", NULL },
    { "solve", file, "--target", "900", "--vary", "castor-oil", "--least", "effort", NULL },
    { "draft", "--product", "soup", NULL },
    { "draft", "--body", "gooey", NULL },
    { "draft", "--most", "0", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_auto (CliRun) run = cli_run_with (NULL, wrong[i]);

      if (run.status != 1)
        g_error ("case %u: status %d\n%s", i, run.status, run.err);
      g_assert_cmpstr (run.out, ==, "");
    }
}

/* --- levers ---------------------------------------------------------------- */

static void
test_levers (void)
{
  g_autofree char *file = cli_file ("lip.csv", LIP_OIL);
  g_auto (CliRun) run = cli_run ("levers", file, "--json", NULL);
  g_auto (CliRun) text = cli_run ("levers", file, NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonArray *levers = json_object_get_array_member (root, "levers");
  JsonObject *first = json_array_get_object_element (levers, 0);

  cli_assert_status (&run, 0);
  g_assert_cmpuint (json_array_get_length (levers), ==, 5);
  g_assert_cmpstr (json_object_get_string_member (first, "ingredient"), ==, "polyamide-3");
  g_assert_cmpfloat (cli_number (first, "poured_percent_per_point"), >, 0);
  g_assert_cmpfloat (cli_number (first, "lots_low80_percent"), <, 0);
  cli_assert_has (text.out, "Polyamide-3");
}

/* --- draft ----------------------------------------------------------------- */

static void
test_draft (void)
{
  g_autofree char *out = g_build_filename (cli_folder (), "draft.oleograph", NULL);
  g_auto (CliRun) run = cli_run ("draft", "--product", "lip-applicator", "--body", "substantial",
                                 "--without", "nut",
                                 "--tint", "--most", "6", "-o", out, "--json", NULL);
  g_auto (CliRun) text = cli_run ("draft", "--product", "body", NULL);
  g_auto (CliRun) check = cli_run ("evaluate", out, "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  g_autoptr (JsonObject) evaluated = cli_json (&check);
  JsonArray *lines = json_object_get_array_member (root, "lines");

  cli_assert_status (&run, 0);
  cli_assert_status (&text, 0);
  g_assert_true (json_object_get_boolean_member (root, "met"));
  g_assert_cmpstr (json_object_get_string_member (root, "body"), ==, "substantial");
  g_assert_cmpuint (json_array_get_length (lines), <=, 6);
  for (guint i = 0; i < json_array_get_length (lines); i++)
    {
      JsonObject *line = json_array_get_object_element (lines, i);

      g_assert_cmpuint (strlen (json_object_get_string_member (line, "reason")), >, 10);
    }
  assert_near (percent_of (root, NULL), 100, 1e-9);
  g_assert_cmpfloat (cli_number (evaluated, "total_percent"), ==, 100);
  cli_assert_has (text.out, "Body oil: Thin");
}

static void
test_draft_stock (void)
{
  g_autofree char *home = g_strdup_printf ("XDG_DATA_HOME=%s", cli_folder ());
  const char *const variables[] = { home, NULL };
  g_auto (CliRun) run = cli_run_with (variables,
                                      (const char *const[]) { "draft", "--stocked", NULL });

  cli_assert_status (&run, 1);
  cli_assert_has (run.err, "ledger");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/solve/reached", test_reached);
  g_test_add_func ("/cli/solve/out-of-reach", test_out_of_reach);
  g_test_add_func ("/cli/solve/balance-bound", test_balance_bound);
  g_test_add_func ("/cli/solve/body", test_body);
  g_test_add_func ("/cli/solve/without-prices", test_without_prices);
  g_test_add_func ("/cli/solve/ledger", test_ledger);
  g_test_add_func ("/cli/solve/usage", test_usage);
  g_test_add_func ("/cli/levers", test_levers);
  g_test_add_func ("/cli/draft", test_draft);
  g_test_add_func ("/cli/draft/stock", test_draft_stock);

  return cli_finish ();
}
