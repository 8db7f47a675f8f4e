/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#include "core/base/finding.h"
#include "core/predict/settling.h"
#include "core/recipe/recipe-table.h"
#include "draw/export.h"
#include "fixtures.h"
#include "recipes.h"

static OgCatalog *catalog;

static const struct
{
  const char    *suffix;
  OgExportFormat format;
  const char    *start; /* first bytes of such a file */
} formats[] = {
  { "pdf", OG_EXPORT_PDF, "%PDF-1." },
  { "png", OG_EXPORT_PNG, "\x89PNG\r\n\x1a\n" },
  { "svg", OG_EXPORT_SVG, "<?xml version=\"1.0\"" },
  { "html", OG_EXPORT_HTML, "<!DOCTYPE html>" },
  { "md", OG_EXPORT_MARKDOWN, "# Affluent" },
  { "csv", OG_EXPORT_CSV, "phase,ingredient,percent" },
  { "json", OG_EXPORT_JSON, "{" },
};

static void
test_suffixes (void)
{
  OgExportFormat format;

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_autofree char *path = g_strdup_printf ("/some.folder/card.%s", formats[i].suffix);
      g_autofree char *loud = g_ascii_strup (path, -1);

      g_assert_true (og_export_format_from_path (path, &format));
      g_assert_cmpint (format, ==, formats[i].format);
      g_assert_true (og_export_format_from_path (loud, &format));
      g_assert_cmpint (format, ==, formats[i].format);
    }
  g_assert_false (og_export_format_from_path ("card", &format));
  g_assert_false (og_export_format_from_path ("card.docx", &format));
  g_assert_false (og_export_format_from_path ("folder.pdf/card", &format));
  g_assert_false (og_export_format_from_path ("cardpdf", &format));
}

static void
test_formats (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  char *folder = test_folder_new ();

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/card.%s", folder, formats[i].suffix);
      g_autofree char *bytes = NULL;
      g_autofree char *again = NULL;
      g_autoptr (GError) error = NULL;
      gsize length, length_again;

      g_assert_true (og_export_card (formula, result, path, formats[i].format, &error));
      g_assert_no_error (error);
      g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
      g_assert_cmpuint (length, >, 100);
      g_assert_cmpmem (bytes, strlen (formats[i].start), formats[i].start, strlen (formats[i].start));
      g_assert_cmpuint (test_folder_count (folder), ==, i + 1);

      /* no clock in it: a second later the bytes are the same (element names of the SVG writer count on) */
      if (formats[i].format != OG_EXPORT_PDF)
        continue;
      g_usleep (1100000);
      g_assert_true (og_export_card (formula, result, path, formats[i].format, NULL));
      g_assert_true (g_file_get_contents (path, &again, &length_again, NULL));
      g_assert_cmpmem (bytes, length, again, length_again);
    }
  test_folder_remove (folder);
}

static void
test_csv_reads_back (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgFormula) back = NULL;
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (GError) error = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "card.csv", NULL);
  g_autofree char *text = NULL;

  g_assert_true (og_export_card (formula, result, path, OG_EXPORT_CSV, &error));
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  back = og_recipe_table_parse (text, -1, path, catalog, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (og_formula_get_n_lines (back), ==, 4);
  g_assert_cmpint (og_formula_total (back), ==, OG_PPM_WHOLE);
  test_folder_remove (folder);
}

static void
test_json_card (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "card.json", NULL);
  JsonObject *root, *evaluation;

  g_assert_true (og_export_card (formula, result, path, OG_EXPORT_JSON, &error));
  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  root = json_node_get_object (json_parser_get_root (parser));
  g_assert_cmpuint (json_object_get_size (root), ==, 3);
  g_assert_cmpstr (json_object_get_string_member (root, "format"), ==, "oleograph-card");
  g_assert_cmpstr (json_object_get_string_member (json_object_get_object_member (root, "recipe"), "title"), ==,
                   "Affluent µ-office fluid");
  evaluation = json_object_get_object_member (root, "evaluation");
  g_assert_cmpfloat (json_object_get_double_member (evaluation, "total_percent"), ==, 100);
  g_assert_cmpstr (json_object_get_string_member (evaluation, "body"), ==, og_body_to_nick (result->body));
  test_folder_remove (folder);
}

static OgFinding *
finding_new (OgSeverity  severity,
             const char *source)
{
  OgFinding *finding = g_new0 (OgFinding, 1);

  finding->severity = severity;
  finding->code = "some-code";
  finding->text = og_saying_verbatim ("A sentence with \"quotes\".");
  finding->source = og_saying_verbatim (source);

  return finding;
}

static double
number_in (JsonObject *object,
           const char *path)
{
  g_auto (GStrv) names = g_strsplit (path, "/", -1);
  guint i;

  for (i = 0; names[i + 1] != NULL; i++)
    object = json_object_get_object_member (object, names[i]);

  return json_object_get_double_member (object, names[i]);
}

/* Members as the command line promises them; numbers invented. */
static void
test_result_json (void)
{
  static const OgViscosityPoint points[] = {
    { 25, 10, { 850, 400, 1800 } },
    { 40, 1000, { NAN, NAN, NAN } },
  };
  static const char *const members[] = {
    "total_percent", "density_g_ml", "profile", "iodine_value", "saponification_value", "refractive_index",
    "viscosity", "yield_stress_pa", "gel_probability", "agents", "settling", "body", "body_text", "indices",
    "natural_origin", "tint", "findings",
  };
  g_autoptr (OgProfile) profile = og_profile_parse ("C16:0=10,C18:1=60,C18:1-OH=30", NULL);
  g_autoptr (GArray) viscosity = g_array_new (FALSE, FALSE, sizeof (OgViscosityPoint));
  g_autoptr (GPtrArray) findings = og_finding_list_new ();
  g_autoptr (GPtrArray) contents = g_ptr_array_new ();
  g_autoptr (GArray) agents = g_array_new (FALSE, FALSE, sizeof (OgAgentState));
  g_autoptr (GArray) settling = g_array_new (FALSE, FALSE, sizeof (OgSettling));
  OgAgentState agent = { (char *) "some-agent", 2.25, 3, NAN, 60, 0 };
  OgSettling grain = { .ingredient = og_catalog_get (catalog, "castor-oil"), .speed_mm_day = 1.5, .held = TRUE };
  g_autoptr (OgSaying) body = og_saying_verbatim ("Substantial");
  OgResult result = {
    .total_ppm = 995000,
    .profile = profile,
    .density_g_ml = 0.93,
    .iodine_value = 84.5,
    .saponification_value = NAN,
    .refractive_index = INFINITY,
    .cox = 1.5,
    .oxidisability = 0.25,
    .peroxidisability = NAN,
    .yield_stress_pa = { 12, 4, 60 },
    .body = OG_BODY_SUBSTANTIAL,
    .body_text = body,
    .gel_probability = 0.25,
    .agents = agents,
    .settling = settling,
    .viscosity = viscosity,
    .findings = findings,
    .contents = contents,
  };
  g_autoptr (JsonNode) node = NULL;
  g_autofree char *text = NULL;
  JsonObject *root, *point, *finding;

  g_array_append_val (agents, agent);
  g_array_append_val (settling, grain);
  g_array_append_vals (viscosity, points, G_N_ELEMENTS (points));
  g_ptr_array_add (findings, finding_new (OG_SEVERITY_BLOCKING, "a source"));
  g_ptr_array_add (findings, finding_new (OG_SEVERITY_NOTE, NULL));
  node = og_result_to_json (&result);
  text = json_to_string (node, FALSE);
  g_assert_null (strstr (text, "nan"));
  g_assert_null (strstr (text, "inf,"));

  root = json_node_get_object (node);
  g_assert_cmpuint (json_object_get_size (root), ==, G_N_ELEMENTS (members));
  for (guint i = 0; i < G_N_ELEMENTS (members); i++)
    g_assert_true (json_object_has_member (root, members[i]));
  g_assert_cmpfloat (number_in (root, "total_percent"), ==, 99.5);
  g_assert_cmpfloat (number_in (root, "density_g_ml"), ==, 0.93);
  g_assert_cmpfloat_with_epsilon (number_in (root, "profile/C16:0"), 10, 1e-9);
  g_assert_cmpfloat_with_epsilon (number_in (root, "profile/C18:1-OH"), 30, 1e-9);
  g_assert_cmpfloat (number_in (root, "iodine_value"), ==, 84.5);
  g_assert_true (json_object_get_null_member (root, "saponification_value"));
  g_assert_true (json_object_get_null_member (root, "refractive_index"));
  g_assert_cmpfloat (number_in (root, "yield_stress_pa/value"), ==, 12);
  g_assert_cmpfloat (number_in (root, "yield_stress_pa/low80"), ==, 4);
  g_assert_cmpfloat (number_in (root, "yield_stress_pa/high80"), ==, 60);
  g_assert_cmpfloat (number_in (root, "gel_probability"), ==, 0.25);
  point = json_array_get_object_element (json_object_get_array_member (root, "agents"), 0);
  g_assert_cmpstr (json_object_get_string_member (point, "ingredient"), ==, "some-agent");
  g_assert_cmpfloat (number_in (point, "share_percent"), ==, 2.25);
  g_assert_cmpfloat (number_in (point, "sets_c"), ==, 60);
  g_assert_true (json_object_get_null_member (point, "clears_c"));
  point = json_array_get_object_element (json_object_get_array_member (root, "settling"), 0);
  g_assert_cmpstr (json_object_get_string_member (point, "ingredient"), ==, "castor-oil");
  g_assert_cmpfloat (number_in (point, "speed_mm_day"), ==, 1.5);
  g_assert_true (json_object_get_boolean_member (point, "held"));
  g_assert_cmpfloat (number_in (root, "indices/cox"), ==, 1.5);
  g_assert_cmpfloat (number_in (root, "indices/oxidisability"), ==, 0.25);
  g_assert_true (json_object_get_null_member (json_object_get_object_member (root, "indices"), "peroxidisability"));
  g_assert_cmpstr (json_object_get_string_member (root, "body"), ==, "substantial");

  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "viscosity")), ==, 2);
  point = json_array_get_object_element (json_object_get_array_member (root, "viscosity"), 0);
  g_assert_cmpuint (json_object_get_size (point), ==, 5);
  g_assert_cmpfloat (number_in (point, "temperature_c"), ==, 25);
  g_assert_cmpfloat (number_in (point, "shear_rate_1_s"), ==, 10);
  g_assert_cmpfloat (number_in (point, "value"), ==, 850);
  g_assert_cmpfloat (number_in (point, "low80"), ==, 400);
  g_assert_cmpfloat (number_in (point, "high80"), ==, 1800);
  point = json_array_get_object_element (json_object_get_array_member (root, "viscosity"), 1);
  g_assert_true (json_object_get_null_member (point, "value"));

  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (root, "findings")), ==, 2);
  finding = json_array_get_object_element (json_object_get_array_member (root, "findings"), 0);
  g_assert_cmpstr (json_object_get_string_member (finding, "severity"), ==, "blocking");
  g_assert_cmpstr (json_object_get_string_member (finding, "code"), ==, "some-code");
  g_assert_cmpstr (json_object_get_string_member (finding, "text"), ==, "A sentence with \"quotes\".");
  g_assert_cmpstr (json_object_get_string_member (finding, "source"), ==, "a source");
  finding = json_array_get_object_element (json_object_get_array_member (root, "findings"), 1);
  g_assert_true (json_object_get_null_member (finding, "source"));
}

static void
test_charts (void)
{
  g_autoptr (OgCurve) curve = test_curve_new (OG_CURVE_AGENT_PCT, 61, 0, 6, 60, 6000, 2);
  OgChart chart = test_chart (curve);
  char *folder = test_folder_new ();
  cairo_surface_t *image;

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/chart.%s", folder, formats[i].suffix);
      g_autofree char *bytes = NULL;
      g_autoptr (GError) error = NULL;
      gsize length;

      if (i >= 3)
        {
          g_assert_false (og_export_chart (&chart, path, formats[i].format, &error));
          g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED);
          continue;
        }
      g_assert_true (og_export_chart (&chart, path, formats[i].format, &error));
      g_assert_no_error (error);
      g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
      g_assert_cmpmem (bytes, strlen (formats[i].start), formats[i].start, strlen (formats[i].start));
      if (formats[i].format == OG_EXPORT_PNG)
        {
          image = cairo_image_surface_create_from_png (path);
          g_assert_cmpint (cairo_image_surface_get_width (image), ==, 1800);
          g_assert_cmpint (cairo_image_surface_get_height (image), ==, 1200);
          test_assert_border (image, 4, 0xffffff);
          cairo_surface_destroy (image);
        }
    }
  g_assert_cmpuint (test_folder_count (folder), ==, 3);
  test_folder_remove (folder);
}

/* --- what can go wrong --- */

static void
test_no_folder (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  char *folder = test_folder_new ();

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/not-there/card.%s", folder, formats[i].suffix);
      g_autoptr (GError) error = NULL;

      g_assert_false (og_export_card (formula, result, path, formats[i].format, &error));
      g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
      g_assert_nonnull (strstr (error->message, path));
      g_assert_nonnull (strstr (error->message, "there is no such folder"));
      g_assert_cmpuint (test_folder_count (folder), ==, 0);
    }
  test_folder_remove (folder);
}

static void
test_folder_in_place (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (GError) error = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "card.md", NULL);

  g_assert_cmpint (g_mkdir (path, 0700), ==, 0);
  g_assert_false (og_export_card (formula, result, path, OG_EXPORT_MARKDOWN, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_ISDIR);
  g_assert_cmpuint (test_folder_count (folder), ==, 1);
  test_folder_remove (folder);
}

static void
test_read_only_folder (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (GError) error = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "card.md", NULL);

  if (geteuid () == 0)
    g_test_skip ("permissions do not bind the superuser");
  else
    {
      g_assert_cmpint (g_chmod (folder, 0500), ==, 0);
      g_assert_false (og_export_card (formula, result, path, OG_EXPORT_MARKDOWN, &error));
      g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_ACCES);
      g_assert_cmpint (g_chmod (folder, 0700), ==, 0);
      g_assert_cmpuint (test_folder_count (folder), ==, 0);
    }
  test_folder_remove (folder);
}

/* A limit on the file size stands for a full disk: writing fails part of the way. */
static void
test_disk_full (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  char *folder = test_folder_new ();
  struct rlimit usual, tight;
  void (*handler) (int) = signal (SIGXFSZ, SIG_IGN);

  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &usual), ==, 0);
  tight = usual;
  tight.rlim_cur = 64;
  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/card.%s", folder, formats[i].suffix);
      g_autofree char *bytes = NULL;
      g_autoptr (GError) error = NULL;
      gboolean done;

      g_assert_true (g_file_set_contents (path, "the version before", -1, NULL));
      g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &tight), ==, 0);
      done = og_export_card (formula, result, path, formats[i].format, &error);
      g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &usual), ==, 0);
      g_assert_false (done);
      g_assert_nonnull (error);
      g_assert_nonnull (strstr (error->message, path));
      g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
      g_assert_cmpstr (bytes, ==, "the version before");
      g_assert_cmpuint (test_folder_count (folder), ==, i + 1);
    }
  signal (SIGXFSZ, handler);
  test_folder_remove (folder);
}

static void
test_symbolic_link (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new (catalog);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "real.md", NULL);
  g_autofree char *link = g_build_filename (folder, "link.md", NULL);
  g_autofree char *bytes = NULL;

  g_assert_true (g_file_set_contents (path, "before", -1, NULL));
  g_assert_cmpint (symlink (path, link), ==, 0);
  g_assert_true (og_export_card (formula, result, link, OG_EXPORT_MARKDOWN, NULL));
  g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
  g_assert_true (g_file_get_contents (path, &bytes, NULL, NULL));
  g_assert_true (g_str_has_prefix (bytes, "# Affluent"));
  test_folder_remove (folder);
}

static void
test_long_picture (void)
{
  g_autoptr (OgFormula) formula = test_recipe_new_long (300);
  g_autoptr (OgFormula) endless = test_recipe_new_long (900);
  g_autoptr (OgResult) result = test_evaluate (formula, catalog);
  g_autoptr (GError) error = NULL;
  char *folder = test_folder_new ();
  g_autofree char *path = g_build_filename (folder, "card.png", NULL);
  cairo_surface_t *image;

  g_assert_true (og_export_card (formula, result, path, OG_EXPORT_PNG, &error));
  g_assert_no_error (error);
  image = cairo_image_surface_create_from_png (path);
  g_assert_cmpint (cairo_surface_status (image), ==, CAIRO_STATUS_SUCCESS);
  g_assert_cmpint (cairo_image_surface_get_height (image), >, 10000);
  g_assert_cmpint (cairo_image_surface_get_height (image), <=, 32001);
  cairo_surface_destroy (image);

  {
    g_autoptr (OgResult) long_result = test_evaluate (endless, catalog);

    /* either it fits at a smaller scale, or the user is told what to do instead */
    if (!og_export_card (endless, long_result, path, OG_EXPORT_PNG, &error))
      {
        g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED);
        g_assert_nonnull (strstr (error->message, "PDF"));
      }
  }
  test_folder_remove (folder);
}

int
main (int   argc,
      char *argv[])
{
  int status;

  setlocale (LC_ALL, "C.UTF-8");
  g_test_init (&argc, &argv, NULL);
  catalog = test_catalog_load ();
  g_test_add_func ("/export/suffixes", test_suffixes);
  g_test_add_func ("/export/formats", test_formats);
  g_test_add_func ("/export/csv-reads-back", test_csv_reads_back);
  g_test_add_func ("/export/json-card", test_json_card);
  g_test_add_func ("/export/result-json", test_result_json);
  g_test_add_func ("/export/charts", test_charts);
  g_test_add_func ("/export/no-folder", test_no_folder);
  g_test_add_func ("/export/folder-in-place", test_folder_in_place);
  g_test_add_func ("/export/read-only-folder", test_read_only_folder);
  g_test_add_func ("/export/disk-full", test_disk_full);
  g_test_add_func ("/export/symbolic-link", test_symbolic_link);
  g_test_add_func ("/export/long-picture", test_long_picture);
  status = g_test_run ();
  og_catalog_unref (catalog);

  return status;
}
