/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <gio/gio.h>
#include <string.h>
#include <sys/stat.h>

static void
test_no_verb (void)
{
  g_auto (CliRun) run = cli_run_with (NULL, (const char *[]) { NULL });

  cli_assert_status (&run, 1);
  g_assert_cmpstr (run.out, ==, "");
  cli_assert_has (run.err, "evaluate");
}

static void
test_unknown_verb (void)
{
  static const char *const names[] = { "brew", "Evaluate", "", "--frobnicate" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_auto (CliRun) run = cli_run_with (NULL, (const char *[]) { names[i], NULL });

      cli_assert_status (&run, 1);
      g_assert_cmpstr (run.out, ==, "");
      cli_assert_has (run.err, "ingredients, oil, evaluate, substitute, ");
    }
}

static void
test_version_and_help (void)
{
  g_auto (CliRun) version = cli_run ("--version", NULL);
  g_auto (CliRun) help = cli_run ("--help", NULL);
  g_auto (CliRun) help_verb = cli_run ("help", NULL);
  g_auto (CliRun) nonsense = cli_run ("help", "nonsense", NULL);

  cli_assert_status (&version, 0);
  g_assert_true (g_str_has_prefix (version.out, "oleograph-cli "));
  cli_assert_status (&help, 0);
  g_assert_cmpstr (help.out, ==, help_verb.out);
  cli_assert_has (help.out, "substitute");
  cli_assert_has (help.out, "wrong usage");
  cli_assert_status (&nonsense, 1);
}

static void
test_help_of_verbs (void)
{
  static const struct
  {
    const char *verb;
    const char *option;
  } verbs[] = {
    { "ingredients", "--search" }, { "oil", "--profile" }, { "evaluate", "--shear-rate" }, { "substitute", "--without" },
    { "card", "--output" },        { "chart", "--axis" },  { "check", "--exposure" },
    { "measure", "--cup" },        { "compare", "--bench-log" },
    { "stove", "--cooled" },       { "batch", "--balance" },
    { "declare", "--shades" },     { "keep", "--plan" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_auto (CliRun) by_verb = cli_run ("help", verbs[i].verb, NULL);
      g_auto (CliRun) by_option = cli_run (verbs[i].verb, "--help", NULL);

      cli_assert_status (&by_verb, 0);
      cli_assert_status (&by_option, 0);
      g_assert_cmpstr (by_verb.out, ==, by_option.out);
      cli_assert_has (by_verb.out, verbs[i].option);
      g_assert_cmpstr (by_verb.err, ==, "");
    }
}

static void
assert_wrong_usage (const char *const *arguments)
{
  g_auto (CliRun) run = cli_run_with (NULL, arguments);
  g_autofree char *line = g_strjoinv (" ", (char **) arguments);

  if (run.status != 1 || *run.out != '\0' || *run.err == '\0')
    g_error ("“%s”: status %d, output “%s”, message “%s”", line, run.status, run.out, run.err);
}

static void
test_wrong_options (void)
{
  g_autofree char *file = cli_file ("plain.csv", "phase,ingredient,percent\nA,castor-oil,100\n");
  g_autofree char *out = g_build_filename (cli_folder (), "card.pdf", NULL);

  assert_wrong_usage ((const char *[]) { "evaluate", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, file, NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--colour", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--temperature", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--temperature", "warm", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--temperature", "nan", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--temperature", "1e308", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--shear-rate", "0", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--shear-rate", "-1", NULL });
  assert_wrong_usage ((const char *[]) { "evaluate", file, "--shear-rate", "inf", NULL });
  assert_wrong_usage ((const char *[]) { "substitute", file, NULL });
  assert_wrong_usage ((const char *[]) { "substitute", file, "--for", "moonshine", NULL });
  assert_wrong_usage ((const char *[]) { "substitute", file, "--for", "jojoba-oil", NULL });
  assert_wrong_usage ((const char *[]) { "substitute", "--for", "castor-oil", NULL });
  assert_wrong_usage ((const char *[]) { "card", file, NULL });
  assert_wrong_usage ((const char *[]) { "card", file, "-o", "card.docx", NULL });
  assert_wrong_usage ((const char *[]) { "card", file, "-o", "card", NULL });
  assert_wrong_usage ((const char *[]) { "card", "-o", out, NULL });
  assert_wrong_usage ((const char *[]) { "chart", file, "-o", "chart.md", NULL });
  assert_wrong_usage ((const char *[]) { "chart", file, "-o", "chart.svg", "--axis", "pressure", NULL });
  assert_wrong_usage ((const char *[]) { "chart", file, "-o", "chart.svg", "--with", file, "--with", file, "--with", file,
                                         "--with", file, "--with", file, NULL });
  assert_wrong_usage ((const char *[]) { "ingredients", "--kind", "potion", NULL });
  assert_wrong_usage ((const char *[]) { "ingredients", "castor", NULL });
  assert_wrong_usage ((const char *[]) { "ingredients", "--search", "\xff\xfe", NULL });
  assert_wrong_usage ((const char *[]) { "check", file, file, NULL });
}

static void
test_wrong_oils (void)
{
  assert_wrong_usage ((const char *[]) { "oil", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=x", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=-5", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=0", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=nan", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C999:1=100", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "oleic=100", "--temperature", "25", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", "--temperature", "hot", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", "--temperature", "25C", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", "--temperature", "", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", "--temperature", "-20.1", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", "--temperature", "200.1", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "--profile", "C18:1=100", "--temperature", "25", "--temperature", "nan", NULL });
  assert_wrong_usage ((const char *[]) { "oil", "file", "--profile", "C18:1=100", "--temperature", "25", NULL });
}

/* A pipe that nobody writes to must not be waited for, nor a device without end be read: the test would not end. */
static void
test_no_ordinary_files (void)
{
  g_autofree char *pipe = g_build_filename (cli_folder (), "pipe", NULL);
  g_autofree char *recipe = cli_file ("recipe.csv", "phase,ingredient,percent\nA,castor-oil,100\n");
  const char *const inputs[] = { pipe, "/dev/zero" };

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (inputs); i++)
    {
      const char *input = inputs[i];
      const char *const calls[][10] = {
        { "evaluate", input },
        { "check", input },
        { "check", "--rules", input, recipe },
        { "compare", recipe, input },
        { "batch", recipe, "--filled", input, "--tare", "1" },
        { "batch", recipe, "--ledger", input },
        { "evaluate", recipe, "--bench-log", input },
        { "measure", input, "--list" },
        { "measure", "--bench-log", input, "--list" },
        { "ledger", "stock", "--ledger", input },
        { "ledger", "receive", "castor-oil", "--lot", "A", "--grams", "1", "--ledger", input },
        { "ledger", "import", input },
      };

      for (guint j = 0; j < G_N_ELEMENTS (calls); j++)
        {
          g_auto (CliRun) run = cli_run_with (NULL, calls[j]);

          cli_assert_status (&run, 3);
          cli_assert_has (run.err, "not an ordinary file");
        }
    }
}

/* "-" is the standard input, which may be a pipe. */
static void
test_standard_input (void)
{
  const char *const argv[] = { g_getenv ("OLEOGRAPH_CLI"), "evaluate", "-", "--json", NULL };
  g_autoptr (GError) error = NULL;
  g_autoptr (GSubprocess) program = g_subprocess_newv (
      argv, G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_SILENCE, &error);
  g_autofree char *out = NULL;

  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (program, "phase,ingredient,percent\nA,castor-oil,100\n", NULL, &out, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (g_subprocess_get_exit_status (program), ==, 0);
  cli_assert_has (out, "viscosity");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cli/usage/no-verb", test_no_verb);
  g_test_add_func ("/cli/usage/unknown-verb", test_unknown_verb);
  g_test_add_func ("/cli/usage/version-and-help", test_version_and_help);
  g_test_add_func ("/cli/usage/help-of-verbs", test_help_of_verbs);
  g_test_add_func ("/cli/usage/wrong-options", test_wrong_options);
  g_test_add_func ("/cli/usage/wrong-oils", test_wrong_oils);

  g_test_add_func ("/cli/usage/no-ordinary-files", test_no_ordinary_files);
  g_test_add_func ("/cli/usage/standard-input", test_standard_input);

  return cli_finish ();
}
