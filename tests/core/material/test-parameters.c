/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/material/parameters.h"

static const char good[] =
  "{'format': 'oleograph-parameters', 'version': 1, 'source': 'made up',"
  " 'correction': [0.1, 0.2, 0.3, 0.4],"
  " 'correction_factor': [[1, 0, 0, 0], [2, 3, 0, 0], [4, 5, 6, 0], [7, 8, 9, 10]],"
  " 'hydroxy': [5, 6, 7], 'hydroxy_factor': [[1, 0, 0], [2, 3, 0], [4, 5, 6]],"
  " 'hydroxy_low_c': 10, 'hydroxy_high_c': 80, 'sample_sd': 0.05, 'sample_slope_sd': 0.01,"
  " 'low_c': 20, 'high_c': 100}";

/* Writes @text, with ' for ", into a file of its own and reads it. */
static OgParameters *
load_text (const char  *text,
           GError     **error)
{
  g_autofree char *folder = g_dir_make_tmp ("oleograph-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "parameters.json", NULL);
  g_autofree char *quoted = g_strdelimit (g_strdup (text), "'", '"');
  OgParameters *parameters;

  g_assert_true (g_file_set_contents (path, quoted, -1, NULL));
  parameters = og_parameters_load (path, error);
  g_remove (path);
  g_rmdir (folder);
  return parameters;
}

static void
test_load (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgParameters) parameters = load_text (good, &error);
  g_autoptr (OgParameters) other = NULL;

  g_assert_no_error (error);
  other = og_parameters_ref (parameters);
  g_assert_cmpfloat (parameters->correction[3], ==, 0.4);
  g_assert_cmpfloat (parameters->correction_factor[3][1], ==, 8.0);
  g_assert_cmpfloat (parameters->correction_factor[1][2], ==, 0.0);
  g_assert_cmpfloat (parameters->hydroxy[2], ==, 7.0);
  g_assert_cmpfloat (parameters->hydroxy_factor[2][0], ==, 4.0);
  g_assert_cmpfloat (parameters->hydroxy_low_c, ==, 10.0);
  g_assert_cmpfloat (parameters->hydroxy_high_c, ==, 80.0);
  g_assert_cmpfloat (parameters->sample_sd, ==, 0.05);
  g_assert_cmpfloat (parameters->sample_slope_sd, ==, 0.01);
  g_assert_cmpfloat (parameters->low_c, ==, 20.0);
  g_assert_cmpfloat (parameters->high_c, ==, 100.0);
  g_assert_cmpstr (parameters->source, ==, "made up");
}

static void
test_refused (void)
{
  /* the good text with one piece replaced */
  static const struct
  {
    const char    *piece;
    const char    *by;
    OgCatalogError code;
    const char    *fragment;
  } cases[] = {
    { "'version': 1", "'version': 2", OG_CATALOG_ERROR_SYNTAX, "oleograph-parameters" },
    { "oleograph-parameters", "oleograph-catalog", OG_CATALOG_ERROR_SYNTAX,
      "oleograph-parameters" },
    { "'low_c': 20,", "'low_c': 20,,", OG_CATALOG_ERROR_SYNTAX, "parameters.json" },
    { "0.1, 0.2", "0.2", OG_CATALOG_ERROR_VALUE, "correction: " },
    { "0.1, 0.2", "0.2, '0.2'", OG_CATALOG_ERROR_VALUE, "correction: " },
    { "0.1, 0.2", "1e999, 0.2", OG_CATALOG_ERROR_SYNTAX, "parameters.json" },
    { "0.1, 0.2", "null, 0.2", OG_CATALOG_ERROR_VALUE, "correction: " },
    { "[2, 3, 0, 0]", "[2, 3, 0]", OG_CATALOG_ERROR_VALUE, "correction_factor: " },
    { "[2, 3, 0, 0]", "[2, 3, 1, 0]", OG_CATALOG_ERROR_VALUE, "above the diagonal" },
    { "[2, 3, 0, 0]", "[2, -3, 0, 0]", OG_CATALOG_ERROR_VALUE, "diagonal" },
    { "[2, 3, 0, 0], ", "", OG_CATALOG_ERROR_VALUE, "correction_factor: " },
    { "'hydroxy': [5, 6, 7]", "'hydroxy': 5", OG_CATALOG_ERROR_VALUE, "hydroxy: " },
    { "'hydroxy_low_c': 10", "'hydroxy_low_c': 80", OG_CATALOG_ERROR_VALUE, "hydroxy_low_c: " },
    { "0.05", "-0.05", OG_CATALOG_ERROR_VALUE, "sample_sd: " },
    { "'sample_slope_sd': 0.01,", "", OG_CATALOG_ERROR_VALUE, "sample_slope_sd: " },
    { "'low_c': 20, 'high_c': 100", "'low_c': 20", OG_CATALOG_ERROR_VALUE, "high_c: " },
    { "'made up'", "12", OG_CATALOG_ERROR_VALUE, "source: " },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GString) text = g_string_new (good);
      g_autoptr (GError) error = NULL;

      g_assert_cmpuint (g_string_replace (text, cases[i].piece, cases[i].by, 1), ==, 1);
      g_test_message ("%s -> %s", cases[i].piece, cases[i].by);
      g_assert_null (load_text (text->str, &error));
      g_assert_error (error, OG_CATALOG_ERROR, (int) cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].fragment));
      g_assert_nonnull (strstr (error->message, "parameters.json"));
    }
}

static void
test_missing (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (og_parameters_load ("/nonexistent/parameters.json", &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
}

/* The installed file, in which one piece is replaced wherever it stands; @by %NULL: nothing is. */
static gboolean
load_gelling (const char    *piece,
              const char    *by,
              OgParameters  *parameters,
              GError       **error)
{
  g_autofree char *installed
      = g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "model", "gelling.json", NULL);
  g_autofree char *folder = g_dir_make_tmp ("oleograph-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "gelling.json", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GString) text = NULL;
  gboolean accepted;

  g_assert_true (g_file_get_contents (installed, &bytes, NULL, NULL));
  g_strdelimit (bytes, "\"", '\'');
  text = g_string_new (bytes);
  if (by != NULL)
    g_assert_cmpuint (g_string_replace (text, piece, by, 1), ==, 1);
  g_strdelimit (text->str, "'", '"');
  g_assert_true (g_file_set_contents (path, text->str, -1, NULL));
  accepted = og_parameters_load_gelling (parameters, path, error);
  g_remove (path);
  g_rmdir (folder);
  return accepted;
}

static void
test_gelling (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgParameters) parameters = load_text (good, &error);
  const OgGelDefaults *particle = &parameters->gelling[OG_GEL_PARTICLE_NETWORK];

  g_assert_no_error (error);
  g_assert_true (isnan (particle->gel_point_pct));
  g_assert_true (isnan (particle->temperature_sd_k));
  g_assert_true (load_gelling (NULL, NULL, parameters, &error));
  g_assert_no_error (error);
  g_assert_true (isnan (parameters->gelling[OG_GEL_NONE].gel_point_pct));
  for (int family = OG_GEL_PHYSICAL_POLYMER; family < OG_N_GEL_FAMILIES; family++)
    {
      g_assert_cmpfloat (parameters->gelling[family].gel_point_pct, >, 0.0);
      g_assert_cmpfloat (parameters->gelling[family].temperature_sd_k, >=, 0.0);
    }
  g_assert_true (load_gelling ("'value': 4,", "'value': 4.5,", parameters, &error));
  g_assert_cmpfloat (parameters->gelling[OG_GEL_PHYSICAL_POLYMER].gel_point_pct, ==, 4.5);
}

/* What data/model/SCHEMA.md forbids. */
static void
test_gelling_refused (void)
{
  static const struct
  {
    const char    *piece;
    const char    *by;
    OgCatalogError code;
    const char    *fragment;
  } cases[] = {
    { "'version': 1", "'version': 2", OG_CATALOG_ERROR_SYNTAX, "oleograph-gelling" },
    { "'sources': {", "'sources': 1, 'more': {", OG_CATALOG_ERROR_VALUE, "sources: " },
    { "'families'", "'family'", OG_CATALOG_ERROR_VALUE, "families: " },
    { "'crystal-network'", "'crystal-net'", OG_CATALOG_ERROR_VALUE, "families.crystal-net: " },
    { "'gel_exponent'", "'exponent'", OG_CATALOG_ERROR_VALUE, "physical-polymer-gel.exponent: " },
    { "'value': 4,", "", OG_CATALOG_ERROR_VALUE, "physical-polymer-gel.gel_point_pct.value: " },
    { "'value': 4,", "'value': '4',", OG_CATALOG_ERROR_VALUE, "gel_point_pct.value: " },
    { "'value': 4,", "'value': 0,", OG_CATALOG_ERROR_VALUE, "0 is outside 0.001 to 100" },
    { "'value': 4,", "'value': 101,", OG_CATALOG_ERROR_VALUE, "101 is outside 0.001 to 100" },
    { "'value': 20,", "'value': -1,", OG_CATALOG_ERROR_VALUE, "yield_at_twice_gel_point_pa.value: " },
    { "'value': 4, 'unit': 'wt %'", "'value': 4, 'unit': 'g'", OG_CATALOG_ERROR_VALUE, "wt %" },
    { "'source': 'judgement'", "'source': 'nobody'", OG_CATALOG_ERROR_REFERENCE, "nobody" },
    { "'quality': 'estimated'", "'quality': 'sure'", OG_CATALOG_ERROR_VALUE, "sure" },
    { "'quality': 'estimated'", "'quality': 'estimated', 'low': 1", OG_CATALOG_ERROR_VALUE, "low" },
  };
  g_autoptr (OgParameters) parameters = load_text (good, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("%s -> %s", cases[i].piece, cases[i].by);
      g_assert_false (load_gelling (cases[i].piece, cases[i].by, parameters, &error));
      g_assert_error (error, OG_CATALOG_ERROR, (int) cases[i].code);
      g_assert_nonnull (strstr (error->message, cases[i].fragment));
      g_assert_nonnull (strstr (error->message, "gelling.json"));
    }
}

int
main (int   argc,
      char *argv[])
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/parameters/load", test_load);
  g_test_add_func ("/parameters/refused", test_refused);
  g_test_add_func ("/parameters/missing", test_missing);
  g_test_add_func ("/parameters/gelling", test_gelling);
  g_test_add_func ("/parameters/gelling-refused", test_gelling_refused);

  return g_test_run ();
}
