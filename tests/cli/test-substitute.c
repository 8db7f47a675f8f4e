/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "model/ledger.h"
#include "run-cli.h"

#define HEADER "phase,ingredient,percent\n"
#define RECIPE HEADER "Hot,castor-oil,40\nHot,sunflower-oil,45\nCool,jojoba-oil,14.5\nCool,red-iron-oxide-in-castor-oil,0.5\n"

static JsonObject *
suggestion_at (JsonObject *root,
               guint       index)
{
  return json_array_get_object_element (json_object_get_array_member (root, "suggestions"), index);
}

static JsonArray *
parts_of (JsonObject *suggestion)
{
  return json_object_get_array_member (suggestion, "parts");
}

static double
percent_of (JsonArray *parts)
{
  double sum = 0;

  for (guint i = 0; i < json_array_get_length (parts); i++)
    sum += json_object_get_double_member (json_array_get_object_element (parts, i), "percent");

  return sum;
}

static void
test_parts (void)
{
  g_autofree char *path = cli_file ("parts.csv", RECIPE);
  g_auto (CliRun) one = cli_run ("substitute", path, "--for", "sunflower-oil", "--json", NULL);
  g_auto (CliRun) three = cli_run ("substitute", path, "--for", "sunflower-oil", "--parts", "3", "--most", "4", "--json", NULL);
  g_auto (CliRun) both = cli_run ("substitute", path, "--for", "sunflower-oil", "--for", "Castor oil", "--parts", "2",
                                  "--most", "2", "--json", NULL);
  g_autoptr (JsonObject) singles = cli_json (&one);
  g_autoptr (JsonObject) blends = cli_json (&three);
  g_autoptr (JsonObject) together = cli_json (&both);
  JsonArray *list = json_object_get_array_member (blends, "suggestions");

  g_assert_true (json_object_get_boolean_member (blends, "optimal"));
  g_assert_cmpuint (json_array_get_length (list), ==, 4);
  for (guint i = 0; i < json_array_get_length (list); i++)
    {
      JsonObject *suggestion = suggestion_at (blends, i);

      g_assert_cmpuint (json_array_get_length (parts_of (suggestion)), <=, 3);
      g_assert_cmpfloat (fabs (percent_of (parts_of (suggestion)) - 45), <, 1e-9);
      g_assert_cmpfloat (json_object_get_double_member (suggestion, "bound"), <=,
                         json_object_get_double_member (suggestion, "distance"));
    }
  g_assert_cmpfloat (json_object_get_double_member (suggestion_at (blends, 0), "distance"), <,
                     json_object_get_double_member (suggestion_at (singles, 0), "distance"));
  for (guint i = 0; i < 12; i++)
    g_assert_cmpuint (json_array_get_length (parts_of (suggestion_at (singles, i))), ==, 1);
  g_assert_cmpfloat (fabs (percent_of (parts_of (suggestion_at (together, 0))) - 85), <, 1e-9);
}

static void
test_left_out (void)
{
  g_autofree char *path = cli_file ("out.csv", RECIPE);
  g_auto (CliRun) any = cli_run ("substitute", path, "--for", "sunflower-oil", "--json", NULL);
  g_autoptr (JsonObject) before = cli_json (&any);
  const char *first = json_object_get_string_member (
    json_array_get_object_element (parts_of (suggestion_at (before, 0)), 0), "ingredient");
  g_autofree char *quoted = g_strdup_printf ("\"%s\"", first);
  g_auto (CliRun) run = cli_run ("substitute", path, "--for", "sunflower-oil", "--not", first, "--parts", "2", "--json", NULL);

  cli_assert_status (&run, 0);
  g_assert_null (strstr (run.out, quoted));
}

/* What matters decides: other weights, other order. */
static void
test_weights (void)
{
  g_autofree char *path = cli_file ("weights.csv", RECIPE);
  g_auto (CliRun) shine = cli_run ("substitute", path, "--for", "castor-oil", "--intent", "same-shine", "--json", NULL);
  g_auto (CliRun) keeping = cli_run ("substitute", path, "--for", "castor-oil", "--intent", "same-keeping", "--json", NULL);
  g_auto (CliRun) own = cli_run ("substitute", path, "--for", "castor-oil", "--intent", "same-keeping", "--weight",
                                 "gloss=3", "--weight", "iodine=0", "--json", NULL);

  cli_assert_status (&shine, 0);
  cli_assert_status (&own, 0);
  g_assert_cmpstr (shine.out, !=, keeping.out);
  g_assert_cmpstr (own.out, !=, keeping.out);
}

static void
receive (OgLedger   *ledger,
         const char *material_id,
         double      grams,
         double      price,
         const char *currency)
{
  g_autoptr (OgLot) lot = og_lot_new ();
  g_autoptr (GError) error = NULL;

  lot->material_id = g_strdup (material_id);
  lot->material_name = g_strdup (material_id);
  lot->code = g_strdup_printf ("TQ-%s", material_id);
  lot->price = price;
  lot->currency = g_strdup (currency);
  lot->pack_mg = 1000000;
  g_assert_cmpint (og_ledger_receive (ledger, lot, (gint64) (1000 * grams), NULL, &error), >, 0);
  g_assert_no_error (error);
}

/* A recipe table stands for 100 g: 45 g are needed. */
static void
test_stocked (void)
{
  g_autofree char *path = cli_file ("stocked.csv", RECIPE);
  g_autofree char *ledger_path = g_build_filename (cli_folder (), "quay.ledger", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgLedger) ledger = og_ledger_open (ledger_path, OG_LEDGER_DEFAULT, NULL, &error);

  g_assert_no_error (error);
  receive (ledger, "sunflower-oil", 200, 8, "EUR");
  receive (ledger, "olive-oil", 200, 12, "EUR");
  receive (ledger, "soybean-oil", 25, 5, "EUR");
  receive (ledger, "grapeseed-oil", 30, 9, "USD");
  g_clear_object (&ledger);
  {
    g_auto (CliRun) one = cli_run ("substitute", path, "--for", "sunflower-oil", "--stocked", "--ledger", ledger_path, "--json", NULL);
    g_auto (CliRun) two = cli_run ("substitute", path, "--for", "sunflower-oil", "--stocked", "--ledger", ledger_path,
                                   "--parts", "2", "--json", NULL);
    g_auto (CliRun) nowhere = cli_run ("substitute", path, "--for", "sunflower-oil", "--stocked", "--ledger",
                                       "/nowhere/at/all.ledger", NULL);
    g_autoptr (JsonObject) single = cli_json (&one);
    g_autoptr (JsonObject) pair = cli_json (&two);
    JsonObject *olive = suggestion_at (single, 0);

    g_assert_cmpuint (json_array_get_length (json_object_get_array_member (single, "suggestions")), ==, 1);
    g_assert_cmpfloat (fabs (json_object_get_double_member (olive, "price_change_per_kg") - 0.45 * (12 - 8)), <, 1e-9);
    g_assert_cmpstr (json_object_get_string_member (olive, "currency"), ==, "EUR");
    g_assert_cmpuint (json_array_get_length (json_object_get_array_member (pair, "suggestions")), >, 1);
    cli_assert_status (&nowhere, 3);
  }
}

static void
test_wrong_usage (void)
{
  g_autofree char *path = cli_file ("wrong.csv", RECIPE);
  const char *const wrong[][6] = {
    { "--for", "sunflower-oil", "--parts", "0" },
    { "--for", "sunflower-oil", "--parts", "5" },
    { "--for", "sunflower-oil", "--most", "0" },
    { "--for", "sunflower-oil", "--intent", "tastier" },
    { "--for", "sunflower-oil", "--weight", "gloss" },
    { "--for", "sunflower-oil", "--weight", "gloss=-1" },
    { "--for", "sunflower-oil", "--weight", "charm=1" },
    { "--for", "sunflower-oil", "--market", "moon" },
    { "--for", "sunflower-oil", "--not", "moonshine" },
    { "--for", "sunflower-oil", "--for", "red-iron-oxide-in-castor-oil" },
  };
  g_autofree char *data_home = g_strdup_printf ("XDG_DATA_HOME=%s/none", cli_folder ());
  g_auto (CliRun) unledgered
    = cli_run_with ((const char *const[]) { data_home, NULL },
                    (const char *const[]) { "substitute", path, "--for", "sunflower-oil", "--stocked", NULL });

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_auto (CliRun) run = cli_run ("substitute", path, wrong[i][0], wrong[i][1], wrong[i][2], wrong[i][3], NULL);

      cli_assert_status (&run, 1);
      g_assert_cmpstr (run.out, ==, "");
      g_assert_cmpstr (run.err, !=, "");
    }
  cli_assert_status (&unledgered, 1);
  cli_assert_has (unledgered.err, "--ledger");
}

static void
test_text (void)
{
  g_autofree char *path = cli_file ("text.csv", RECIPE);
  g_auto (CliRun) run = cli_run ("substitute", path, "--for", "red-iron-oxide-in-castor-oil", NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "Instead of Red iron oxide in castor oil");
  cli_assert_has (run.out, "0.25 % of Castor oil that came along goes to its own line.");
}

/* Half solids and more: what is left of the balance line for a gelling agent may hold no liquid. */
static void
test_crowded (void)
{
  static const char *const fillers[] = { "titanium-dioxide", "silica-microspheres", "beeswax" };

  for (guint f = 0; f < G_N_ELEMENTS (fillers); f++)
    for (int percent = 10; percent <= 90; percent += 20)
      {
        g_autofree char *table = g_strdup_printf (HEADER "A,castor-oil,balance\nA,%s,%d\nA,polyamide-3,2\n",
                                                  fillers[f], percent);
        g_autofree char *path = cli_file ("crowded.csv", table);
        g_auto (CliRun) swap = cli_run ("substitute", path, "--for", "polyamide-3", "--json", NULL);
        g_auto (CliRun) solve = cli_run ("solve", path, "--target", "100000", "--vary", "polyamide-3", "--json", NULL);
        g_autoptr (JsonObject) root = cli_json (&swap);

        cli_assert_status (&swap, 0);
        g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "suggestions")), >, 0);
        g_assert_cmpint (solve.status, >=, 0);
        g_assert_cmpint (solve.status, <, 4);
      }
}

/* An unknown tag would leave nothing out, in silence. */
static void
test_unknown_tags (void)
{
  g_autofree char *path = cli_file ("tags.csv", RECIPE);
  g_auto (CliRun) near = cli_run ("substitute", path, "--for", "sunflower-oil", "--without", "nutt", NULL);
  g_auto (CliRun) far = cli_run ("draft", "--product", "body", "--without", "xyzzy", NULL);
  g_auto (CliRun) known = cli_run ("substitute", path, "--for", "sunflower-oil", "--without", "phototoxic", "--json", NULL);

  cli_assert_status (&near, 1);
  g_assert_nonnull (strstr (near.err, "nutt"));
  g_assert_nonnull (strstr (near.err, "like it are: nut"));
  cli_assert_status (&far, 1);
  g_assert_nonnull (strstr (far.err, "phototoxic"));
  g_assert_nonnull (strstr (far.err, "volatile"));
  cli_assert_status (&known, 0);
}

static void
assert_plant (JsonObject *suggestion)
{
  JsonArray *kinds = json_object_get_array_member (suggestion, "kinds");
  gboolean plant = FALSE;

  for (guint k = 0; k < json_array_get_length (kinds); k++)
    plant = plant || g_str_equal (json_array_get_string_element (kinds, k), "plant-origin");
  g_assert_true (plant);
}

/* Each says what it is good for, what moves, and what is lost; only plants when asked. */
static void
test_told (void)
{
  g_autofree char *path = cli_file ("told.csv", RECIPE);
  g_auto (CliRun) run = cli_run ("substitute", path, "--for", "castor-oil", "--plant-origin", "--json", NULL);
  g_auto (CliRun) text = cli_run ("substitute", path, "--for", "castor-oil", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  JsonArray *list = json_object_get_array_member (root, "suggestions");

  g_assert_cmpuint (json_array_get_length (list), >, 3);
  for (guint i = 0; i < json_array_get_length (list); i++)
    {
      assert_plant (suggestion_at (root, i));
      g_assert_true (json_object_has_member (suggestion_at (root, i), "losses"));
      g_assert_true (json_object_has_member (suggestion_at (root, i), "moves"));
      g_assert_true (json_object_has_member (suggestion_at (root, i), "rest_after_mpa_s"));
    }
  g_assert_nonnull (strstr (text.out, "At rest %"));
  g_assert_nonnull (strstr (text.out, "What is lost"));
  g_assert_nonnull (strstr (text.out, "Diisostearyl malate"));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cli/substitute/parts", test_parts);
  g_test_add_func ("/cli/substitute/left-out", test_left_out);
  g_test_add_func ("/cli/substitute/weights", test_weights);
  g_test_add_func ("/cli/substitute/stocked", test_stocked);
  g_test_add_func ("/cli/substitute/crowded", test_crowded);
  g_test_add_func ("/cli/substitute/wrong-usage", test_wrong_usage);
  g_test_add_func ("/cli/substitute/words", test_text);
  g_test_add_func ("/cli/substitute/unknown-tags", test_unknown_tags);
  g_test_add_func ("/cli/substitute/told", test_told);

  return cli_finish ();
}
