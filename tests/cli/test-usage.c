/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <string.h>

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

  return cli_finish ();
}
