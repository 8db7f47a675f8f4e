/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verbs that plan the work: exit statuses, field names, options. Recipes are invented. */
#include "run-cli.h"

#include <math.h>
#include <string.h>

#define HEADER "phase,ingredient,percent,add_temperature_c\n"

static const char lip_oil[] = HEADER
  "Melt,castor-oil,63.0,\nMelt,polyamide-3,1.5,\nOils,sunflower-oil,34.0,90\n"
  "Colour,red-iron-oxide-in-castor-oil,0.5,\nLast,tocopherol,1.0,\n";

/* Common practice, no source: a light isoparaffin that flashes at about 45 °C is never heated. */
static const char fierce[] = HEADER "Melt,isododecane,50,80\nMelt,castor-oil,50,80\n";

static const char near_flash[] = HEADER
  "Melt,isopropyl-myristate,50,125\nMelt,castor-oil,50,125\n";

static JsonObject *
run_json (int                expected,
          const char *const *arguments)
{
  g_auto (CliRun) run = cli_run_with (NULL, arguments);

  cli_assert_status (&run, expected);
  g_assert_cmpstr (run.err, ==, "");
  return cli_json (&run);
}

static JsonObject *
element (JsonObject *object,
         const char *name,
         guint       index)
{
  return json_array_get_object_element (json_object_get_array_member (object, name), index);
}

static gboolean
has_finding (JsonObject *root,
             const char *code)
{
  JsonArray *findings = json_object_get_array_member (root, "findings");

  for (guint i = 0; i < json_array_get_length (findings); i++)
    {
      JsonObject *finding = json_array_get_object_element (findings, i);

      if (strcmp (json_object_get_string_member (finding, "code"), code) == 0)
        return TRUE;
    }
  return FALSE;
}

/* First step of the kind. */
static JsonObject *
find_step (JsonObject *root,
           const char *act)
{
  JsonArray *steps = json_object_get_array_member (root, "steps");

  for (guint i = 0; i < json_array_get_length (steps); i++)
    {
      JsonObject *step = json_array_get_object_element (steps, i);

      if (strcmp (json_object_get_string_member (step, "act"), act) == 0)
        return step;
    }
  g_error ("no step %s", act);
  return NULL;
}

static void
assert_usage (const char *const *arguments)
{
  g_auto (CliRun) run = cli_run_with (NULL, arguments);

  cli_assert_status (&run, 1);
  g_assert_cmpstr (run.out, ==, "");
}

/* --- stove --------------------------------------------------------------- */

static void
test_stove_fields (void)
{
  static const char *const names[] = { "batch_g", "room_c", "hottest_c", "refused", "vessel", "cooling_rate_1_min",
                                       "cooling_minutes", "steps", "series", "findings" };
  g_autofree char *path = cli_file ("lip.csv", lip_oil);
  g_autoptr (JsonObject) root = run_json (0, (const char *[]) { "stove", path, "--json", NULL });
  JsonObject *add = find_step (root, "add");

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    g_assert_true (json_object_has_member (root, names[i]));
  g_assert_cmpfloat (cli_number (add, "added_g"), ==, 34);
  g_assert_cmpfloat (cli_number (add, "before_c"), ==, 90);
  g_assert_cmpfloat (cli_number (add, "sets_c"), ==, 70);
  g_assert_cmpfloat (cli_number (element (root, "series", 0), "minutes"), ==, 0);
  g_assert_true (has_finding (root, "stove-heat-source"));
}

static void
test_stove_refuses (void)
{
  g_autofree char *path = cli_file ("fierce.csv", fierce);
  g_auto (CliRun) told = cli_run ("stove", path, NULL);
  g_autoptr (JsonObject) refused = run_json (2, (const char *[]) { "stove", path, "--json", NULL });
  g_autoptr (JsonObject) forced = run_json (0, (const char *[]) { "stove", path, "--override", "--json", NULL });

  g_assert_true (json_object_get_boolean_member (refused, "refused"));
  g_assert_false (json_object_get_boolean_member (forced, "refused"));
  g_assert_true (has_finding (forced, "stove-flash"));
  cli_assert_status (&told, 2);
  cli_assert_has (told.out, "Not to be done like this");
}

/* 27 K below a flash point of 152 °C (recalled, in the library) is nearer than any of the four lets
 * pass: they share one margin, which is no less than the 20 K of common practice (no source). */
static void
test_one_margin (void)
{
  g_autofree char *path = cli_file ("near.csv", near_flash);
  g_autofree char *card = g_build_filename (cli_folder (), "near.md", NULL);
  g_auto (CliRun) checked = cli_run ("check", path, NULL);
  g_auto (CliRun) planned = cli_run ("stove", path, NULL);
  g_auto (CliRun) written = cli_run ("card", path, "-o", card, NULL);
  g_autofree char *text = NULL;

  cli_assert_status (&checked, 2);
  cli_assert_status (&planned, 2);
  cli_assert_status (&written, 2);
  cli_assert_has (checked.out, "comes near its flash point");
  cli_assert_has (planned.out, "Not to be done like this");
  g_assert_true (g_file_get_contents (card, &text, NULL, NULL));
  cli_assert_has (text, "catch fire from about 152 °C: stay 30 °C below");
}

/* A reading of the pot itself replaces the usual vessel. */
static void
test_stove_cooled (void)
{
  g_autofree char *path = cli_file ("cooled.csv", lip_oil);
  g_autoptr (JsonObject) slow = run_json (0, (const char *[]) { "stove", path, "--cooled", "90,60,60", "--json", NULL });
  g_autoptr (JsonObject) fast = run_json (0, (const char *[]) { "stove", path, "--cooled", "90,60,10", "--json", NULL });
  double ratio = cli_number (json_object_get_object_member (slow, "cooling_minutes"), "value")
                 / cli_number (json_object_get_object_member (fast, "cooling_minutes"), "value");

  g_assert_cmpfloat_with_epsilon (ratio, 6, 1e-9);
}

static void
test_stove_text (void)
{
  g_autofree char *path = cli_file ("text.csv", lip_oil);
  g_auto (CliRun) run = cli_run ("stove", path, "--batch-g", "20", "--vessel", "steel", "--vessel-ml", "100",
                                 "--room", "20", "--still", NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "a batch of 20 g");
  cli_assert_has (run.out, "100 ml");
  cli_assert_has (run.out, "hot in");
}

/* The proposal taken is a recipe whose plan goes in with that oil and gets there. */
static void
test_stove_split (void)
{
  g_autofree char *path = cli_file ("split.csv", "phase,ingredient,percent,add_temperature_c\n"
                                    "A,castor-oil,88,110\nA,polyamide-3,2,110\nB,squalane,10,85\n");
  g_autofree char *made = g_build_filename (cli_folder (), "split.oleograph", NULL);
  g_autoptr (JsonObject) before = run_json (0, (const char *[]) { "stove", path, "--json", NULL });
  JsonObject *cool = find_step (before, "cool"), *oil = json_object_get_object_member (cool, "cool_oil");
  g_auto (CliRun) text = cli_run ("stove", path, NULL);
  g_autoptr (JsonObject) written
      = run_json (0, (const char *[]) { "stove", path, "--split", "5", "-o", made, "--json", NULL });
  g_autoptr (JsonObject) after = run_json (0, (const char *[]) { "stove", made, "--json", NULL });
  JsonObject *add = find_step (after, "add");

  cli_assert_has (text.out, "--split 5 splits");
  cli_assert_has (text.out, "kept back");
  g_assert_cmpstr (json_object_get_string_member (oil, "name"), ==, "Castor oil");
  g_assert_cmpfloat_with_epsilon (cli_number (oil, "percent"), 88 * cli_number (oil, "share_of_line"), 1e-9);
  g_assert_cmpfloat_with_epsilon (cli_number (add, "added_g"), cli_number (oil, "g"), 1e-9);
  g_assert_cmpfloat_with_epsilon (cli_number (add, "after_c"), 85, 1);
  g_assert_cmpfloat_with_epsilon (cli_number (find_step (written, "add"), "after_c"), cli_number (add, "after_c"), 1e-9);
  assert_usage ((const char *[]) { "stove", path, "--split", "1", NULL });
  assert_usage ((const char *[]) { "stove", path, "--split", "99", NULL });
  assert_usage ((const char *[]) { "stove", path, "--split", "4.5", NULL });
  assert_usage ((const char *[]) { "stove", path, "--output", made, NULL });
}

static void
test_stove_usage (void)
{
  g_autofree char *path = cli_file ("usage.csv", lip_oil);

  assert_usage ((const char *[]) { "stove", NULL });
  assert_usage ((const char *[]) { "stove", path, "--vessel", "wood", NULL });
  assert_usage ((const char *[]) { "stove", path, "--cooled", "90,60", NULL });
  assert_usage ((const char *[]) { "stove", path, "--room", "warm", NULL });
  assert_usage ((const char *[]) { "stove", path, "--batch-g", "0", NULL });
}

/* --- batch --------------------------------------------------------------- */

static void
test_batch_fields (void)
{
  static const char *const names[] = { "batch_g", "rounded_g", "weighings", "containers", "cost", "buy", "findings",
                                       "pour_mpa_s", "pour_as_weighed_mpa_s", "density_20_g_ml" };
  g_autofree char *path = cli_file ("batch.csv", lip_oil);
  g_autoptr (JsonObject) root = run_json (0, (const char *[]) { "batch", path, "--grams", "250", "--balance",
                                                                "bench,0.01,500", "--json", NULL });

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    g_assert_true (json_object_has_member (root, names[i]));
  g_assert_cmpfloat (cli_number (root, "batch_g"), ==, 250);
  g_assert_cmpfloat (cli_number (root, "rounded_g"), ==, 250);
  g_assert_cmpfloat (cli_number (element (root, "weighings", 0), "g"), ==, 157.5);
  /* half of 0.01 g in 3.75 g */
  g_assert_cmpfloat_with_epsilon (cli_number (element (root, "weighings", 1), "error_percent"), 0.1333, 1e-4);
}

/* 12 containers of 10 ml, 2 g and 5 % lost: (12 x 10 ml x density + 2 g)/0.95. */
static void
test_batch_containers (void)
{
  g_autofree char *path = cli_file ("containers.csv", lip_oil);
  g_autoptr (JsonObject) root = run_json (0, (const char *[]) { "batch", path, "--containers", "12", "--nominal", "10",
                                                                "--capacity-ml", "13", "--applicator-ml", "1",
                                                                "--loss-g", "2", "--loss-pct", "5", "--json", NULL });
  JsonObject *containers = json_object_get_object_member (root, "containers");
  double density = cli_number (root, "density_20_g_ml");

  g_assert_cmpfloat_with_epsilon (cli_number (root, "batch_g"), (120 * density + 2) / 0.95, 1e-9);
  g_assert_cmpfloat (cli_number (containers, "count"), ==, 12);
  g_assert_cmpfloat_with_epsilon (cli_number (containers, "t1"), 9.1, 1e-9);
  g_assert_cmpfloat_with_epsilon (cli_number (containers, "t2"), 8.2, 1e-9);
}

static void
test_batch_overflow (void)
{
  g_autofree char *path = cli_file ("overflow.csv", lip_oil);
  g_autoptr (JsonObject) root = run_json (2, (const char *[]) { "batch", path, "--containers", "1", "--nominal", "10",
                                                                "--capacity-ml", "10.5", "--applicator-ml", "1",
                                                                "--json", NULL });

  g_assert_true (has_finding (root, "batch-overflow"));
}

static void
test_batch_filled (void)
{
  g_autofree char *path = cli_file ("filled.csv", lip_oil);
  g_autofree char *list = cli_file ("weights.txt", "15.1\n15.0\n14.95\n15.05\n");
  g_autofree char *light = cli_file ("light.txt", "15.1; 14.1\n");
  const char *const good[] = { "batch", path, "--nominal", "10", "--unit", "g", "--filled", list, "--tare", "5", "--json",
                               NULL };
  const char *const bad[] = { "batch", path, "--nominal", "10", "--unit", "g", "--filled", light, "--tare", "5", "--json",
                              NULL };
  g_autoptr (JsonObject) pass = run_json (0, good);
  g_autoptr (JsonObject) fail = run_json (2, bad);

  /* mean of 10.1, 10.0, 9.95, 10.05 */
  g_assert_cmpfloat_with_epsilon (cli_number (json_object_get_object_member (pass, "filled"), "mean"), 10.025, 1e-9);
  g_assert_cmpstr (json_object_get_string_member (json_object_get_object_member (fail, "filled"), "packer"), ==, "fail");
}

/* 157.5 g of castor oil: 100 g + 100 g for 8, or 250 g for 7. */
static void
test_batch_packs (void)
{
  g_autofree char *path = cli_file ("packs.csv", lip_oil);
  g_autoptr (JsonObject) root = run_json (0, (const char *[]) { "batch", path, "--grams", "250", "--pack",
                                                                "castor-oil,100,4,EUR", "--pack", "castor-oil,250,7,EUR",
                                                                "--pack", "castor-oil,50,3,USD", "--json", NULL });
  JsonObject *euro = element (root, "buy", 0);
  JsonObject *dollar = element (root, "buy", 1);

  g_assert_cmpfloat (cli_number (euro, "price"), ==, 7);
  g_assert_cmpfloat_with_epsilon (cli_number (euro, "left_g"), 92.5, 1e-9);
  g_assert_cmpfloat (cli_number (dollar, "price"), ==, 12);
}

/* A stock that does not reach is a shortage, whatever the batch is otherwise. */
static void
test_batch_shortage (void)
{
  g_autofree char *recipe = cli_file ("short.csv", "phase,ingredient,percent\nA,castor-oil,60\nA,squalane,40\n");
  g_autofree char *ledger = g_build_filename (cli_folder (), "short.sqlite", NULL);
  g_auto (CliRun) castor
      = cli_run ("ledger", "receive", "castor-oil", "--lot", "A", "--grams", "70", "--ledger", ledger, NULL);
  g_auto (CliRun) squalane
      = cli_run ("ledger", "receive", "squalane", "--lot", "A", "--grams", "50", "--ledger", ledger, NULL);
  g_auto (CliRun) enough = cli_run ("batch", recipe, "--grams", "100", "--ledger", ledger, NULL);
  g_auto (CliRun) lacking = cli_run ("batch", recipe, "--grams", "120", "--ledger", ledger, NULL);

  cli_assert_status (&castor, 0);
  cli_assert_status (&squalane, 0);
  cli_assert_status (&enough, 0);
  cli_assert_status (&lacking, 2);
  cli_assert_has (lacking.out, "needs 72 g, and 70 g");
}

static void
test_batch_usage (void)
{
  g_autofree char *path = cli_file ("usage2.csv", lip_oil);
  g_auto (CliRun) missing = cli_run ("batch", path, "--ledger", "/nowhere/at/all.ledger", NULL);

  assert_usage ((const char *[]) { "batch", NULL });
  assert_usage ((const char *[]) { "batch", path, "--grams", "1", "--ml", "1", NULL });
  assert_usage ((const char *[]) { "batch", path, "--grams", "0", NULL });
  assert_usage ((const char *[]) { "batch", path, "--containers", "3", NULL });
  assert_usage ((const char *[]) { "batch", path, "--balance", "bench,0.01", NULL });
  assert_usage ((const char *[]) { "batch", path, "--balance", "bench,1,2", NULL });
  assert_usage ((const char *[]) { "batch", path, "--pack", "moonshine,1,1,EUR", NULL });
  assert_usage ((const char *[]) { "batch", path, "--filled", "10,11", NULL });
  assert_usage ((const char *[]) { "batch", path, "--nominal", "5", "--capacity-ml", "2", "--applicator-ml", "3", NULL });
  cli_assert_status (&missing, 3);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cli/stove/fields", test_stove_fields);
  g_test_add_func ("/cli/stove/refuses", test_stove_refuses);
  g_test_add_func ("/cli/stove/one-margin", test_one_margin);
  g_test_add_func ("/cli/stove/cooled", test_stove_cooled);
  g_test_add_func ("/cli/stove/text", test_stove_text);
  g_test_add_func ("/cli/stove/split", test_stove_split);
  g_test_add_func ("/cli/stove/usage", test_stove_usage);
  g_test_add_func ("/cli/batch/fields", test_batch_fields);
  g_test_add_func ("/cli/batch/containers", test_batch_containers);
  g_test_add_func ("/cli/batch/overflow", test_batch_overflow);
  g_test_add_func ("/cli/batch/filled", test_batch_filled);
  g_test_add_func ("/cli/batch/packs", test_batch_packs);
  g_test_add_func ("/cli/batch/shortage", test_batch_shortage);
  g_test_add_func ("/cli/batch/usage", test_batch_usage);
  return cli_finish ();
}
