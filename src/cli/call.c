/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/call.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/amount-text.h"
#include "core/base/error.h"
#include "core/base/number-text.h"
#include "core/recipe/bench.h"
#include "core/recipe/recipe-table.h"
#include "core/recipe/versions.h"
#include "model/ledger.h"
#include "model/library.h"

G_DEFINE_QUARK (og-cli-error-quark, og_cli_error)

static OgExit
exit_from_ledger (int code)
{
  switch ((OgLedgerError) code)
    {
    case OG_LEDGER_ERROR_SHORTAGE:
      return OG_EXIT_FOUND;
    case OG_LEDGER_ERROR_NOT_FOUND:
    case OG_LEDGER_ERROR_VALUE:
    case OG_LEDGER_ERROR_EXISTS:
    case OG_LEDGER_ERROR_STATE:
      return OG_EXIT_USAGE;
    case OG_LEDGER_ERROR_INTERNAL:
      return OG_EXIT_INTERNAL;
    case OG_LEDGER_ERROR_NOT_A_LEDGER:
    case OG_LEDGER_ERROR_NEWER_VERSION:
    case OG_LEDGER_ERROR_DAMAGED:
    case OG_LEDGER_ERROR_BUSY:
    case OG_LEDGER_ERROR_READ_ONLY:
    case OG_LEDGER_ERROR_FULL:
    case OG_LEDGER_ERROR_ACCESS:
    default:
      return OG_EXIT_FILE;
    }
}

OgExit
og_exit_from_error (const GError *error)
{
  if (error->domain == G_OPTION_ERROR
      || error->domain == OG_PROFILE_ERROR
      || error->domain == OG_RECIPE_ERROR
      || error->domain == OG_SOLVE_ERROR
      || error->domain == OG_BENCH_ERROR
      || error->domain == OG_BATCH_ERROR
      || g_error_matches (error, OG_CLI_ERROR, OG_CLI_ERROR_USAGE))
    return OG_EXIT_USAGE;

  if (error->domain == OG_CLI_ERROR
      || error->domain == OG_CATALOG_ERROR
      || error->domain == OG_TABLE_ERROR
      || error->domain == OG_STORAGE_ERROR
      || error->domain == G_FILE_ERROR
      || error->domain == G_IO_ERROR)
    return OG_EXIT_FILE;

  return error->domain == OG_LEDGER_ERROR ? exit_from_ledger (error->code) : OG_EXIT_INTERNAL;
}

void
og_call_clear (OgCall *call)
{
  g_clear_pointer (&call->arguments, g_strfreev);
  g_clear_pointer (&call->files, g_strfreev);
  g_clear_pointer (&call->version, g_free);
  if (call->out != NULL)
    g_string_free (g_steal_pointer (&call->out), TRUE);
}

static void
put_help (OgCall         *call,
          GOptionContext *context)
{
  g_autofree char *help = g_option_context_get_help (context, TRUE, NULL);

  g_string_append (call->out, help);
}

gboolean
og_call_parse (OgCall              *call,
               const GOptionEntry  *entries,
               guint                least,
               guint                most,
               GError             **error)
{
  gboolean help = FALSE;
  const GOptionEntry common[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &call->json, N_("Write JSON for programs"), NULL },
    { "help", 'h', 0, G_OPTION_ARG_NONE, &help, N_("Show this help"), NULL },
    { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &call->files, NULL, NULL },
    G_OPTION_ENTRY_NULL
  };
  const GOptionEntry of_version[] = {
    { "version", 0, 0, G_OPTION_ARG_FILENAME, &call->version,
      N_("The recipe as it was kept under this name"), N_("NAME") },
    G_OPTION_ENTRY_NULL
  };
  g_autofree char *usage = g_strdup_printf ("%s %s", call->verb->name, call->verb->parameters);
  g_autoptr (GOptionContext) context = g_option_context_new (usage);
  guint n_files;

  g_option_context_set_summary (context, _(call->verb->summary));
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_set_help_enabled (context, FALSE);
  if (entries != NULL)
    g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  if (call->verb->of_version)
    g_option_context_add_main_entries (context, of_version, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, common, GETTEXT_PACKAGE);
  if (!g_option_context_parse_strv (context, &call->arguments, error))
    return FALSE;

  if (help)
    {
      put_help (call, context);
      return FALSE;
    }

  n_files = call->files != NULL ? g_strv_length (call->files) : 0;
  if (n_files < least)
    return og_call_refuse (error, _("an argument is missing; the usage is: oleograph-cli %s"),
                           usage);
  if (n_files > most)
    return og_call_refuse (error,
                           _("“%s” is one argument too many; the usage is: oleograph-cli %s"),
                           call->files[most], usage);

  return TRUE;
}

gboolean
og_call_refuse (GError     **error,
                const char  *format,
                ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, OG_CLI_ERROR, OG_CLI_ERROR_USAGE, text);

  return FALSE;
}

char *
og_call_list_words (guint         n,
                    const char *(*word) (guint index))
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", word (i));

  return g_string_free (list, FALSE);
}

gboolean
og_call_check_text (const char  *option,
                    const char  *text,
                    GError     **error)
{
  return text == NULL || g_utf8_validate (text, -1, NULL)
         || og_call_refuse (error, _("%s: the text is not UTF-8"), option);
}

static void
refuse_range (const char  *option,
              const char  *text,
              double       low,
              double       high,
              GError     **error)
{
  g_autofree char *low_text = og_number_as_given (low);
  g_autofree char *high_text = og_number_as_given (high);

  og_call_refuse (error, _("%s: “%s” is outside %s … %s"), option, text, low_text, high_text);
}

gboolean
og_call_read_number (const char  *option,
                     const char  *text,
                     double      *number,
                     GError     **error)
{
  g_autoptr (OgSaying) problem = og_amount_read (text, '.', number, NULL);

  /* Translators: the first %s is an option of the command line, the second a sentence */
  return problem == NULL || og_call_refuse (error, _("%s: %s"), option, og_saying_text (problem));
}

GArray *
og_call_parse_numbers (const char  *option,
                       char       **texts,
                       double       low,
                       double       high,
                       GError     **error)
{
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      double number;

      if (!og_call_check_text (option, texts[i], error)
          || !og_call_read_number (option, texts[i], &number, error))
        return NULL;
      if (number < low || number > high)
        {
          refuse_range (option, texts[i], low, high, error);
          return NULL;
        }
      g_array_append_val (numbers, number);
    }

  return g_steal_pointer (&numbers);
}

gboolean
og_call_parse_number (const char  *option,
                      const char  *text,
                      double       low,
                      double       high,
                      double      *number,
                      GError     **error)
{
  char *texts[] = { (char *) text, NULL };
  g_autoptr (GArray) numbers = NULL;

  if (text == NULL)
    return TRUE;
  numbers = og_call_parse_numbers (option, texts, low, high, error);
  if (numbers == NULL)
    return FALSE;
  *number = g_array_index (numbers, double, 0);

  return TRUE;
}

OgCatalog *
og_call_load_catalog (GError **error)
{
  g_autoptr (GError) own_fault = NULL;
  g_autoptr (OgCatalog) library = og_library_load (&own_fault, error);

  /* a limit of the reader's own must not be passed over in silence */
  if (own_fault != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&own_fault));
      return NULL;
    }
  return g_steal_pointer (&library);
}

gboolean
og_call_open_shelf (const char  *ledger_path,
                    OgShelf    **shelf,
                    GError     **error)
{
  g_autofree char *path
    = ledger_path != NULL ? g_strdup (ledger_path) : og_ledger_default_path ();
  g_autoptr (OgLedger) ledger = NULL;

  *shelf = NULL;
  if (ledger_path == NULL && !g_file_test (path, G_FILE_TEST_EXISTS))
    return TRUE;
  ledger = og_ledger_open (path, OG_LEDGER_READ_ONLY, NULL, error);
  if (ledger == NULL)
    return FALSE;
  *shelf = og_ledger_get_shelf (ledger, error);

  return *shelf != NULL;
}

void
og_recipe_clear (OgRecipe *recipe)
{
  g_clear_pointer (&recipe->formula, og_formula_free);
  g_clear_pointer (&recipe->catalog, og_catalog_unref);
}

gboolean
og_recipe_read (OgRecipe    *recipe,
                const char  *path,
                GError     **error)
{
  g_autoptr (OgCatalog) library = og_call_load_catalog (error);

  if (library == NULL)
    return FALSE;

  recipe->formula = og_recipe_load (path, library, error);
  if (recipe->formula == NULL)
    return FALSE;
  recipe->catalog = og_catalog_new_overlay (library, recipe->formula->materials);

  return TRUE;
}

static char *
list_versions (const GPtrArray *versions)
{
  GString *list = g_string_new (NULL);

  for (guint i = 0; i < versions->len; i++)
    g_string_append_printf (list, "%s“%s”", i > 0 ? ", " : "",
                            ((const OgVersion *) g_ptr_array_index (versions, i))->name);

  return g_string_free (list, FALSE);
}

gboolean
og_recipe_has_version (const OgRecipe  *recipe,
                       const char      *path,
                       const char      *version,
                       GError         **error)
{
  const GPtrArray *versions = recipe->formula->versions;
  g_autofree char *shown = g_filename_display_name (path);
  g_autofree char *known = NULL;

  if (!og_call_check_text ("--version", version, error))
    return FALSE;
  if (og_versions_find (versions, version, NULL) != NULL)
    return TRUE;
  if (versions->len == 0)
    return og_call_refuse (error, _("--version: %s keeps no versions"), shown);
  known = list_versions (versions);

  return og_call_refuse (error, _("--version: %s has no “%s”; its versions are: %s"), shown, version, known);
}

gboolean
og_recipe_go_back (OgRecipe    *recipe,
                   const char  *path,
                   const char  *version,
                   GError     **error)
{
  OgFormula *formula;
  OgCatalog *catalog;

  if (version == NULL)
    return TRUE;
  if (!og_recipe_has_version (recipe, path, version, error))
    return FALSE;

  formula = og_version_restore (og_versions_find (recipe->formula->versions, version, NULL),
                                recipe->formula);
  catalog = og_catalog_new_overlay (recipe->catalog, formula->materials);
  og_recipe_clear (recipe);
  *recipe = (OgRecipe) { formula, catalog };

  return TRUE;
}

gboolean
og_call_read_recipe (const OgCall  *call,
                     OgRecipe      *recipe,
                     const char    *path,
                     GError       **error)
{
  return og_recipe_read (recipe, path, error)
         && og_recipe_go_back (recipe, path, call->version, error);
}

JsonBuilder *
og_call_begin_json (void)
{
  JsonBuilder *builder = json_builder_new ();

  json_builder_begin_object (builder);

  return builder;
}

void
og_call_end_json (OgCall      *call,
                  JsonBuilder *builder)
{
  g_autoptr (JsonNode) root = NULL;

  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  og_call_put_json (call, root);
}

void
og_call_put_json (OgCall   *call,
                  JsonNode *root)
{
  g_autofree char *text = json_to_string (root, TRUE);

  g_string_append (call->out, text);
  g_string_append_c (call->out, '\n');
}

void
og_json_add_number (JsonBuilder *builder,
                    const char  *name,
                    double       value)
{
  json_builder_set_member_name (builder, name);
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
og_json_add_string (JsonBuilder *builder,
                    const char  *name,
                    const char  *text)
{
  json_builder_set_member_name (builder, name);
  if (text != NULL)
    json_builder_add_string_value (builder, text);
  else
    json_builder_add_null_value (builder);
}

void
og_json_add_whole (JsonBuilder *builder,
                   const char  *name,
                   gint64       value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, value);
}

void
og_json_begin_array (JsonBuilder *builder,
                     const char  *name)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
}

void
og_json_begin_object (JsonBuilder *builder,
                      const char  *name)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_object (builder);
}

void
og_json_add_strings (JsonBuilder       *builder,
                     const char        *name,
                     const char *const *texts)
{
  og_json_begin_array (builder, name);
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    json_builder_add_string_value (builder, texts[i]);
  json_builder_end_array (builder);
}

void
og_json_add_estimate_member (JsonBuilder      *builder,
                             const char       *name,
                             const OgEstimate *estimate)
{
  og_json_begin_object (builder, name);
  og_json_add_number (builder, "value", estimate->value);
  og_json_add_number (builder, "low80", estimate->low80);
  og_json_add_number (builder, "high80", estimate->high80);
  json_builder_end_object (builder);
}

void
og_json_add_boolean (JsonBuilder *builder,
                     const char  *name,
                     gboolean     value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_boolean_value (builder, value);
}
