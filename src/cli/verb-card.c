/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/findings.h"
#include "cli/verbs.h"
#include "draw/export.h"

OgExit
og_verb_card (OgCall  *call,
              GError **error)
{
  g_autofree char *path = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path,
      N_("File to write: .pdf, .png, .svg, .html, .md, .csv or .json"), N_("OUT") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgResult) result = NULL;
  OgExportFormat format;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (path == NULL || !og_export_format_from_path (path, &format))
    {
      g_set_error_literal (error, OG_CLI_ERROR, OG_CLI_ERROR_USAGE,
                           _("-o needs a file that ends in .pdf, .png, .svg, .html, .md, .csv or .json"));
      return OG_EXIT_USAGE;
    }
  if (!og_recipe_read (&recipe, call->files[0], error))
    return OG_EXIT_FILE;

  result = og_evaluate (recipe.formula, recipe.catalog, &(OgConditions) { .curves = TRUE });
  if (!og_export_card (recipe.formula, result, path, format, error))
    return OG_EXIT_FILE;

  return og_findings_status (result->findings);
}
