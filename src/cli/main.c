/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/init.h"

static const OgVerb verbs[] = {
  { "ingredients", "[--search TEXT] [--kind KIND]",
    N_("List the materials of the library"), og_verb_ingredients },
  { "oil", "--profile ACIDS --temperature C…",
    N_("Predict an oil from its fatty acids"), og_verb_oil },
  { "evaluate", "FILE [--temperature C]… [--shear-rate G]…",
    N_("Predict viscosity and properties of a recipe"), og_verb_evaluate, TRUE },
  { "substitute", "FILE --for ID… [--parts K]",
    N_("Find what can stand in for a material of a recipe"), og_verb_substitute, TRUE },
  { "solve", "FILE (--target MPA_S | --body WORD) --vary ID…",
    N_("Find the amounts that reach a viscosity or a body"), og_verb_solve, TRUE },
  { "levers", "FILE",
    N_("Tell what each line and its lots do to the body"), og_verb_levers, TRUE },
  { "draft", "--product PRODUCT [--body WORD] [--without TAG]…",
    N_("Draft a first recipe from a brief"), og_verb_draft },
  { "stove", "FILE [--room C] [--vessel-ml ML] [--cooled T1,T2,MINUTES]",
    N_("Plan the work at the stove: temperatures, minutes, cautions"), og_verb_stove, TRUE },
  { "batch", "FILE [--grams G | --ml ML | --containers N] [--balance NAME,D,CAPACITY]…",
    N_("Plan a batch: weights, containers, net content, cost"), og_verb_batch, TRUE },
  { "keep", "FILE [--temperature C]… [--ledger FILE] [--plan YYYY-MM-DD]",
    N_("Estimate how long a recipe keeps, and plan stability tests"), og_verb_keep, TRUE },
  { "declare", "FILE --market eu|us [--shades ID,ID] [--nano ID]… [--label OUT]",
    N_("List the ingredients as a label has to, and sketch the label"), og_verb_declare, TRUE },
  { "card", "FILE -o OUT.{pdf,png,svg,html,md,csv,json}",
    N_("Write the recipe card"), og_verb_card, TRUE },
  { "chart", "FILE -o OUT.{png,svg,pdf} [--axis AXIS] [--with FILE]…",
    N_("Draw the viscosity chart"), og_verb_chart },
  { "measure", "[FILE] --method METHOD --temperature C…",
    N_("Record a reading from the bench and what it teaches"), og_verb_measure },
  { "compare", "FILE FILE… | FILE --version NAME…",
    N_("Set two to four recipes, or versions of one, side by side"), og_verb_compare },
  { "versions", "FILE",
    N_("List the versions that a recipe keeps"), og_verb_versions },
  { "ledger", "SUBJECT [ARGUMENT]…",
    N_("Keep stock, lots and batch records of the workshop"), og_verb_ledger },
  { "check", "[FILE]",
    N_("Check a recipe, or the library itself"), og_verb_check, TRUE },
};

static const OgVerb *
find_verb (const char *name)
{
  for (size_t i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      if (strcmp (verbs[i].name, name) == 0)
        return &verbs[i];
    }

  return NULL;
}

static char *
list_verbs (void)
{
  const char *names[G_N_ELEMENTS (verbs) + 2] = { NULL };

  for (size_t i = 0; i < G_N_ELEMENTS (verbs); i++)
    names[i] = verbs[i].name;
  names[G_N_ELEMENTS (verbs)] = "help";

  return g_strjoinv (", ", (char **) names);
}

static void
put_overview (GString *out)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("ll");

  g_string_append_printf (out, "%s\n  oleograph-cli %s\n\n", _("Usage:"), _("VERB [OPTION…]"));
  og_text_table_add (table, (const char *[]) { _("Verb"), _("What it does") });
  for (size_t i = 0; i < G_N_ELEMENTS (verbs); i++)
    og_text_table_add (table, (const char *[]) { verbs[i].name, _(verbs[i].summary) });
  og_text_table_add (table, (const char *[]) { "help", _("Show the options of a verb: help VERB") });
  og_text_table_put (table, 2, out);
  g_string_append_printf (out, "\n%s\n  0 %s\n  1 %s\n  2 %s\n  3 %s\n  4 %s\n",
                          _("Exit status:"),
                          _("done"),
                          _("wrong usage"),
                          _("done, but a limit or a blocking caution was found"),
                          _("a file cannot be read or written"),
                          _("internal error"));
}

static OgExit
run_verb (const char  *name,
          char       **arguments,
          GString     *out,
          GError     **error)
{
  const OgVerb *verb = find_verb (name);
  g_auto (OgCall) call = { .verb = verb };
  OgExit status;

  if (verb == NULL)
    {
      g_autofree char *known = list_verbs ();

      og_call_refuse (error, _("“%s” is not a verb; the verbs are: %s"), name, known);
      return OG_EXIT_USAGE;
    }

  call.arguments = g_strdupv (arguments);
  call.out = g_string_new (NULL);
  status = verb->run (&call, error);
  g_string_append_len (out, call.out->str, (gssize) call.out->len);

  return status;
}

static OgExit
run (char    **arguments,
     GString  *out,
     GError  **error)
{
  const char *first = arguments[0];

  if (first == NULL)
    {
      g_autofree char *known = list_verbs ();

      og_call_refuse (error, _("a verb is missing; the verbs are: %s"), known);
      return OG_EXIT_USAGE;
    }
  if (strcmp (first, "--version") == 0)
    {
      g_string_append (out, "oleograph-cli " OG_VERSION "\n");
      return OG_EXIT_DONE;
    }
  if (strcmp (first, "--help") == 0 || strcmp (first, "-h") == 0
      || (strcmp (first, "help") == 0 && arguments[1] == NULL))
    {
      put_overview (out);
      return OG_EXIT_DONE;
    }
  if (strcmp (first, "help") == 0)
    return run_verb (arguments[1], (char *[]) { arguments[1], (char *) "--help", NULL }, out, error);

  return run_verb (first, arguments, out, error);
}

static gboolean
write_out (const GString  *out,
           GError        **error)
{
  if (fwrite (out->str, 1, out->len, stdout) == out->len && fflush (stdout) == 0)
    return TRUE;

  g_set_error (error, OG_CLI_ERROR, OG_CLI_ERROR_OUTPUT, _("standard output: %s"), g_strerror (errno));
  return FALSE;
}

static void
set_up_locale (void)
{
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  gboolean from_build = program != NULL && g_str_has_prefix (program, OG_BUILD_ROOT G_DIR_SEPARATOR_S);

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, from_build ? OG_BUILD_LOCALEDIR : LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  OgExit status;

  /* a reader that goes away is an error of writing, not the end of the program */
  signal (SIGPIPE, SIG_IGN);
  g_set_prgname ("oleograph-cli");
  set_up_locale ();
  og_core_init ();

  status = run (argc > 0 ? argv + 1 : argv, out, &error);
  if (error == NULL)
    write_out (out, &error);
  if (error != NULL)
    {
      fprintf (stderr, "oleograph-cli: %s\n", error->message);
      status = og_exit_from_error (error);
    }

  return (int) status;
}
