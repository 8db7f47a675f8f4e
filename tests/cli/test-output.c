/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <fcntl.h>
#include <gio/gio.h>
#include <glib-unix.h>
#include <glib/gstdio.h>
#include <unistd.h>

static char *
demo (const char *name)
{
  return g_build_filename (g_getenv ("OLEOGRAPH_DATA_DIR"), "demo", name, NULL);
}

static char *
in_folder (const char *name)
{
  return g_build_filename (cli_folder (), name, NULL);
}

static char *
read_all (const char *path,
          gsize      *length)
{
  char *text = NULL;
  g_autoptr (GError) error = NULL;

  g_file_get_contents (path, &text, length, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (*length, >, 0);

  return text;
}

static void
test_card_formats (void)
{
  static const struct
  {
    const char *name;
    const char *begins;
    const char *holds;
  } formats[] = {
    { "card.pdf", "%PDF-", NULL },           { "card.png", "\x89PNG\r\n\x1a\n", NULL },
    { "card.svg", "<?xml", "<svg" },         { "card.html", "<!", "Harbour gloss" },
    { "card.md", "# ", "Castor oil" },       { "card.csv", "phase,ingredient,percent", "castor-oil" },
    { "card.json", "{", "\"viscosity\"" },
  };
  g_autofree char *recipe = demo ("harbour-gloss.oleograph");

  for (guint i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      g_autofree char *path = in_folder (formats[i].name);
      g_auto (CliRun) run = cli_run ("card", recipe, "-o", path, NULL);
      gsize length;
      g_autofree char *text = NULL;

      cli_assert_status (&run, 0);
      text = read_all (path, &length);
      if (!g_str_has_prefix (text, formats[i].begins))
        g_error ("%s begins with %.12s", formats[i].name, text);
      if (formats[i].holds != NULL)
        cli_assert_has (text, formats[i].holds);
    }
}

static void
test_card_table_reads_back (void)
{
  g_autofree char *recipe = demo ("harbour-gloss.oleograph");
  g_autofree char *path = in_folder ("back.csv");
  g_auto (CliRun) card = cli_run ("card", "-o", path, recipe, NULL);
  g_auto (CliRun) first = cli_run ("evaluate", recipe, "--json", NULL);
  g_auto (CliRun) again = cli_run ("evaluate", path, "--json", NULL);
  g_autoptr (JsonObject) a = cli_json (&first);
  g_autoptr (JsonObject) b = cli_json (&again);

  cli_assert_status (&card, 0);
  g_assert_cmpfloat (json_object_get_double_member (a, "density_g_ml"), ==, json_object_get_double_member (b, "density_g_ml"));
}

static void
test_chart_formats (void)
{
  static const struct
  {
    const char *name;
    const char *axis;
    const char *begins;
  } charts[] = {
    { "agent.png", "agent", "\x89PNG\r\n\x1a\n" },
    { "temperature.svg", "temperature", "<?xml" },
    { "shear.pdf", "shear", "%PDF-" },
  };
  g_autofree char *recipe = demo ("harbour-gloss.oleograph");
  g_autofree char *other = demo ("slipway-body-oil.oleograph");

  for (guint i = 0; i < G_N_ELEMENTS (charts); i++)
    {
      g_autofree char *path = in_folder (charts[i].name);
      g_auto (CliRun) run = cli_run ("chart", recipe, "--axis", charts[i].axis, "--with", other, "-o", path, NULL);
      gsize length;
      g_autofree char *text = NULL;

      cli_assert_status (&run, 0);
      text = read_all (path, &length);
      g_assert_true (g_str_has_prefix (text, charts[i].begins));
    }
}

static void
test_chart_without_agent (void)
{
  g_autofree char *recipe = demo ("slipway-body-oil.oleograph");
  g_autofree char *by_default = in_folder ("default.svg");
  g_autofree char *temperature = in_folder ("by-temperature.svg");
  g_auto (CliRun) a = cli_run ("chart", recipe, "-o", by_default, NULL);
  g_auto (CliRun) b = cli_run ("chart", recipe, "-o", temperature, "--axis", "temperature", NULL);
  gsize length_a, length_b;
  g_autofree char *text_a = NULL;
  g_autofree char *text_b = NULL;

  cli_assert_status (&a, 0);
  cli_assert_status (&b, 0);
  text_a = read_all (by_default, &length_a);
  text_b = read_all (temperature, &length_b);
  g_assert_cmpuint (length_a, ==, length_b);
}

static void
test_json_tells_what_was_written (void)
{
  g_autofree char *recipe = demo ("slipway-body-oil.oleograph");
  g_autofree char *card = in_folder ("told.md");
  g_autofree char *chart = in_folder ("told.svg");
  g_auto (CliRun) a = cli_run ("card", "--json", recipe, "-o", card, NULL);
  g_auto (CliRun) b = cli_run ("chart", "--json", recipe, "-o", chart, NULL);
  g_autoptr (JsonObject) told_card = cli_json (&a);
  g_autoptr (JsonObject) told_chart = cli_json (&b);

  g_assert_cmpstr (json_object_get_string_member (told_card, "output"), ==, card);
  g_assert_true (json_object_has_member (told_card, "findings"));
  g_assert_cmpstr (json_object_get_string_member (told_chart, "output"), ==, chart);
  g_assert_cmpstr (json_object_get_string_member (told_chart, "axis"), ==, "temperature");
}

static void
assert_unwritable (const char *verb,
                   const char *path)
{
  g_autofree char *recipe = demo ("harbour-gloss.oleograph");
  g_auto (CliRun) run = cli_run (verb, recipe, "-o", path, NULL);

  cli_assert_status (&run, 3);
  g_assert_cmpstr (run.err, !=, "");
}

static void
test_unwritable (void)
{
  g_autofree char *folder = in_folder ("a-folder.pdf");
  g_autofree char *file = cli_file ("a-file", "x");
  g_autofree char *below_file = g_build_filename (file, "chart.png", NULL);

  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  assert_unwritable ("card", "/nonexistent/card.pdf");
  assert_unwritable ("card", "/nonexistent/card.md");
  assert_unwritable ("chart", "/nonexistent/chart.svg");
  assert_unwritable ("chart", below_file);
  assert_unwritable ("card", folder);
}

/* What was there before stays when the new card cannot be written whole. */
static void
test_refused_recipe_leaves_card (void)
{
  g_autofree char *recipe = cli_file ("bad.csv", "phase,ingredient,percent\nA,castor-oil,60\n");
  g_autofree char *card = cli_file ("kept.md", "before\n");
  g_auto (CliRun) run = cli_run ("card", recipe, "-o", card, NULL);
  gsize length;
  g_autofree char *text = read_all (card, &length);

  cli_assert_status (&run, 3);
  g_assert_cmpstr (text, ==, "before\n");
}

static int
run_with_stdout (int               fd,
                 const char *const *arguments)
{
  g_autoptr (GSubprocessLauncher) launcher = g_subprocess_launcher_new (G_SUBPROCESS_FLAGS_STDERR_SILENCE);
  g_autoptr (GSubprocess) process = NULL;
  g_autoptr (GError) error = NULL;

  g_subprocess_launcher_take_stdout_fd (launcher, fd);
  process = g_subprocess_launcher_spawnv (launcher, arguments, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_wait (process, NULL, &error));
  g_assert_no_error (error);

  return g_subprocess_get_if_exited (process) ? g_subprocess_get_exit_status (process) : -1;
}

static void
test_full_disk (void)
{
  const char *const arguments[] = { g_getenv ("OLEOGRAPH_CLI"), "ingredients", NULL };
  const char *const version[] = { g_getenv ("OLEOGRAPH_CLI"), "--version", NULL };

  if (g_access ("/dev/full", W_OK) != 0)
    {
      g_test_skip ("no /dev/full");
      return;
    }

  g_assert_cmpint (run_with_stdout (g_open ("/dev/full", O_WRONLY | O_CLOEXEC), arguments), ==, 3);
  g_assert_cmpint (run_with_stdout (g_open ("/dev/full", O_WRONLY | O_CLOEXEC), version), ==, 3);
}

static void
test_broken_pipe (void)
{
  const char *const arguments[] = { g_getenv ("OLEOGRAPH_CLI"), "ingredients", "--json", NULL };
  int ends[2];

  g_assert_true (g_unix_open_pipe (ends, FD_CLOEXEC, NULL));
  close (ends[0]);
  g_assert_cmpint (run_with_stdout (ends[1], arguments), ==, 3);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/card/formats", test_card_formats);
  g_test_add_func ("/cli/card/table-reads-back", test_card_table_reads_back);
  g_test_add_func ("/cli/card/refused-recipe-leaves-card", test_refused_recipe_leaves_card);
  g_test_add_func ("/cli/chart/formats", test_chart_formats);
  g_test_add_func ("/cli/chart/without-agent", test_chart_without_agent);
  g_test_add_func ("/cli/output/json", test_json_tells_what_was_written);
  g_test_add_func ("/cli/output/unwritable", test_unwritable);
  g_test_add_func ("/cli/output/full-disk", test_full_disk);
  g_test_add_func ("/cli/output/broken-pipe", test_broken_pipe);

  return cli_finish ();
}
