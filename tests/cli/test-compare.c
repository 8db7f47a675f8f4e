/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <math.h>

#define HEADER "phase,ingredient,percent\n"

static const char *const states[] = { "rest", "pour", "rub" };

static JsonObject *
recipe (JsonObject *root,
        guint       index)
{
  return json_array_get_object_element (json_object_get_array_member (root, "recipes"), index);
}

static JsonObject *
viscosity (JsonObject *root,
           guint       index,
           guint       state)
{
  return json_array_get_object_element (
    json_object_get_array_member (recipe (root, index), "viscosity"), state);
}

/* Of the recipe after the first, counted from 0. */
static JsonObject *
ratio (JsonObject *root,
       guint       index,
       guint       state)
{
  JsonArray *ratios = json_object_get_array_member (root, "ratios");

  return json_object_get_object_member (json_array_get_object_element (ratios, index),
                                        states[state]);
}

static JsonObject *
compare (const char *first,
         const char *second)
{
  g_auto (CliRun) run = cli_run ("compare", first, second, "--json", NULL);

  cli_assert_status (&run, 0);
  return cli_json (&run);
}

static void
test_fields (void)
{
  static const char *const names[] = { "file", "title", "body", "viscosity", "density_g_ml",
                                       "iodine_value", "findings" };
  g_autofree char *a = cli_file ("a.csv", HEADER "A,castor-oil,100\n");
  g_autofree char *b = cli_file ("b.csv", HEADER "A,castor-oil,60\nA,sunflower-oil,40\n");
  g_autofree char *c = cli_file ("c.csv", HEADER "A,sunflower-oil,100\n");
  g_auto (CliRun) run = cli_run ("compare", a, "--json", b, c, NULL);
  g_auto (CliRun) single = cli_run ("evaluate", b, "--json", NULL);
  g_autoptr (JsonObject) root = cli_json (&run);
  g_autoptr (JsonObject) alone = cli_json (&single);
  JsonArray *ratios = json_object_get_array_member (root, "ratios");
  JsonArray *points = json_object_get_array_member (alone, "viscosity");

  cli_assert_status (&run, 0);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "recipes")), ==, 3);
  g_assert_cmpuint (json_array_get_length (ratios), ==, 2);
  for (guint i = 0; i < 3; i++)
    {
      for (guint n = 0; n < G_N_ELEMENTS (names); n++)
        g_assert_true (json_object_has_member (recipe (root, i), names[n]));
      g_assert_cmpfloat (cli_number (viscosity (root, 1, i), "value"), ==,
                         cli_number (json_array_get_object_element (points, i), "value"));
    }
  g_assert_cmpstr (json_object_get_string_member (recipe (root, 2), "file"), ==, c);
  g_assert_cmpstr (json_object_get_string_member (json_array_get_object_element (ratios, 0),
                                                  "file"), ==, b);
}

/*
 * Common practice, no source: an ordinary oil is about ten times thinner than castor oil at 25 C.
 * Without an agent the ratio is the quotient of the values.
 */
static void
test_quotient (void)
{
  g_autofree char *a = cli_file ("castor.csv", HEADER "A,castor-oil,100\n");
  g_autofree char *b = cli_file ("sunflower.csv", HEADER "A,sunflower-oil,100\n");
  g_autoptr (JsonObject) root = compare (b, a);
  double value = cli_number (ratio (root, 0, 1), "value");

  g_assert_cmpfloat (value, >, 8);
  g_assert_cmpfloat (value, <, 15);
  g_assert_cmpfloat_with_epsilon (value, cli_number (viscosity (root, 1, 1), "value")
                                         / cli_number (viscosity (root, 0, 1), "value"), 1e-6);
}

static void
test_itself (void)
{
  g_autofree char *path
    = cli_file ("itself.csv", HEADER "A,castor-oil,60\nA,sunflower-oil,38\nA,polyamide-3,2\n");
  g_autoptr (JsonObject) root = compare (path, path);

  for (guint s = 0; s < G_N_ELEMENTS (states); s++)
    {
      g_assert_cmpfloat (cli_number (ratio (root, 0, s), "value"), ==, 1);
      g_assert_cmpfloat (cli_number (ratio (root, 0, s), "low80"), ==, 1);
      g_assert_cmpfloat (cli_number (ratio (root, 0, s), "high80"), ==, 1);
    }
}

/* Independent errors add in squares; shared ones cancel, so the band is narrower than that. */
static void
test_shared_agent (void)
{
  g_autofree char *a
    = cli_file ("less.csv", HEADER "A,castor-oil,60\nA,sunflower-oil,38.5\nA,polyamide-3,1.5\n");
  g_autofree char *b
    = cli_file ("more.csv", HEADER "A,castor-oil,60\nA,sunflower-oil,38\nA,polyamide-3,2\n");
  g_autoptr (JsonObject) root = compare (a, b);

  for (guint s = 0; s < G_N_ELEMENTS (states); s++)
    {
      double apart = hypot (cli_band_width (viscosity (root, 0, s)), cli_band_width (viscosity (root, 1, s)));

      g_assert_cmpfloat (cli_number (ratio (root, 0, s), "value"), >, 1);
      g_assert_cmpfloat (cli_band_width (ratio (root, 0, s)), >, 0);
      g_assert_cmpfloat (cli_band_width (ratio (root, 0, s)), <, 0.7 * apart);
    }
}

/* Squalane and castor oil have no error in common: then nothing cancels. */
static void
test_nothing_shared (void)
{
  g_autofree char *a = cli_file ("thick.csv", HEADER "A,castor-oil,100\n");
  g_autofree char *b = cli_file ("thin.csv", HEADER "A,squalane,100\n");
  g_autoptr (JsonObject) root = compare (a, b);
  double apart = hypot (cli_band_width (viscosity (root, 0, 1)), cli_band_width (viscosity (root, 1, 1)));

  g_assert_cmpfloat_with_epsilon (cli_band_width (ratio (root, 0, 1)) / apart, 1, 0.02);
}

static void
test_learns (void)
{
  g_autofree char *a = cli_file ("plain.csv", HEADER "A,castor-oil,90\nA,squalane,10\n");
  g_autofree char *b = cli_file ("slip.csv", HEADER "A,castor-oil,10\nA,squalane,90\n");
  g_autofree char *log = g_build_filename (cli_folder (), "log.json", NULL);
  g_autoptr (JsonObject) unread = compare (a, b);
  g_auto (CliRun) measured
    = cli_run ("measure", "--material", "castor-oil", "--bench-log", log, "--method", "rotational",
               "--mpa-s", "700", "--temperature", "25", "--shear-rate", "10", NULL);
  g_auto (CliRun) run = cli_run ("compare", a, b, "--json", "--bench-log", log, NULL);
  g_auto (CliRun) text = cli_run ("compare", a, b, "--bench-log", log, NULL);
  g_autoptr (JsonObject) read = cli_json (&run);

  cli_assert_status (&measured, 0);
  cli_assert_status (&run, 0);
  g_assert_cmpfloat (cli_band_width (ratio (read, 0, 1)), <, cli_band_width (ratio (unread, 0, 1)));
  g_assert_true (json_object_has_member (recipe (read, 0), "prior_pour"));
  g_assert_false (json_object_has_member (recipe (unread, 0), "prior_pour"));
  cli_assert_has (text.out, "1 reading");
}

/* A recipe of an oil of its own, of this density; @readings: what was measured of it */
#define OWN(density, readings) \
  "{\"batch_g\": 100, \"format\": \"oleograph-document\", \"materials\": [{\"id\": \"own-oil\"," \
  " \"derived_from\": \"castor-oil\", \"name\": \"Own oil\", \"figures\": {\"density_g_ml\":" \
  " {\"value\": " density ", \"unit\": \"g/ml\", \"at_c\": 25, \"quality\": \"measured\"," \
  " \"source\": \"bench\"}}}], \"measurements\": [" readings "], \"notes\": \"\"," \
  " \"phases\": [{\"id\": 1, \"name\": \"A\", \"lines\": [{\"id\": 2," \
  " \"ingredient\": \"own-oil\", \"amount\": 1000000}]}], \"purpose\": \"\"," \
  " \"title\": \"T\", \"version\": 1}\n"
#define READING \
  "{\"id\": \"m1\", \"material\": \"own-oil\", \"method\": \"rotational\", \"mpa_s\": 700," \
  " \"temperature_c\": 25}"

/* Readings teach all recipes, so an id must mean the same in all of them. */
static void
test_own_materials (void)
{
  g_autofree char *a = cli_file ("own-a.oleograph", OWN ("0.95", ""));
  g_autofree char *b = cli_file ("own-b.oleograph", OWN ("0.95", ""));
  g_autofree char *c = cli_file ("own-c.oleograph", OWN ("0.96", ""));
  g_autofree char *m = cli_file ("own-m.oleograph", OWN ("0.96", READING));
  g_autoptr (JsonObject) same = compare (a, b);
  g_autoptr (JsonObject) changed = compare (a, c);
  g_autoptr (JsonObject) taught = compare (c, m);
  g_auto (CliRun) refused = cli_run ("compare", a, m, NULL);

  g_assert_cmpfloat (cli_number (ratio (same, 0, 1), "value"), ==, 1);
  g_assert_cmpfloat_with_epsilon (cli_number (recipe (changed, 1), "density_g_ml"), 0.96, 1e-9);
  g_assert_true (json_object_has_member (recipe (taught, 0), "prior_pour"));
  g_assert_cmpfloat (cli_number (viscosity (taught, 0, 1), "value"), ==,
                     cli_number (viscosity (taught, 1, 1), "value"));
  cli_assert_status (&refused, 1);
  cli_assert_has (refused.err, "own-oil");
}

static void
test_unknown (void)
{
  g_autofree char *a = cli_file ("oil.csv", HEADER "A,castor-oil,100\n");
  g_autofree char *b = cli_file ("dust.csv", HEADER "A,red-iron-oxide,100\n");
  g_auto (CliRun) run = cli_run ("compare", a, b, "--json", NULL);
  g_auto (CliRun) text = cli_run ("compare", a, b, NULL);
  g_autoptr (JsonObject) root = cli_json (&run);

  g_assert_true (json_object_get_null_member (ratio (root, 0, 1), "value"));
  g_assert_true (json_object_get_null_member (ratio (root, 0, 1), "low80"));
  cli_assert_has (text.out, "unknown");
}

static void
test_text (void)
{
  g_autofree char *a = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "demo",
                                         "harbour-gloss.oleograph", NULL);
  g_autofree char *b = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "demo",
                                         "slipway-body-oil.oleograph", NULL);
  g_auto (CliRun) run = cli_run ("compare", a, b, NULL);

  cli_assert_status (&run, 0);
  cli_assert_has (run.out, "Harbour gloss");
  cli_assert_has (run.out, "Slipway body oil");
  cli_assert_has (run.out, "Iodine value");
  cli_assert_has (run.out, "errors cancel in a ratio");
}

static void
test_statuses (void)
{
  g_autofree char *path = cli_file ("one.csv", HEADER "A,castor-oil,100\n");
  g_autofree char *unfinished
    = cli_file ("unfinished.oleograph",
                "{\"batch_g\": 100, \"format\": \"oleograph-document\", \"materials\": [],"
                " \"notes\": \"\", \"phases\": [{\"id\": 1, \"name\": \"A\","
                " \"lines\": [{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": 900000}]}],"
                " \"purpose\": \"\", \"title\": \"T\", \"version\": 1}\n");
  g_auto (CliRun) one = cli_run ("compare", path, NULL);
  g_auto (CliRun) five = cli_run ("compare", path, path, path, path, path, NULL);
  g_auto (CliRun) missing = cli_run ("compare", path, "/nonexistent/recipe.csv", NULL);
  g_auto (CliRun) no_log = cli_run ("compare", path, path, "-b", "/nonexistent/log.json", NULL);
  g_auto (CliRun) blocked = cli_run ("compare", path, unfinished, "--json", NULL);

  cli_assert_status (&one, 1);
  cli_assert_status (&five, 1);
  cli_assert_status (&missing, 3);
  cli_assert_status (&no_log, 3);
  g_assert_cmpstr (no_log.out, ==, "");
  cli_assert_status (&blocked, 2);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/compare/fields", test_fields);
  g_test_add_func ("/cli/compare/quotient", test_quotient);
  g_test_add_func ("/cli/compare/itself", test_itself);
  g_test_add_func ("/cli/compare/shared-agent", test_shared_agent);
  g_test_add_func ("/cli/compare/nothing-shared", test_nothing_shared);
  g_test_add_func ("/cli/compare/learns", test_learns);
  g_test_add_func ("/cli/compare/own-materials", test_own_materials);
  g_test_add_func ("/cli/compare/unknown", test_unknown);
  g_test_add_func ("/cli/compare/text", test_text);
  g_test_add_func ("/cli/compare/statuses", test_statuses);

  return cli_finish ();
}
