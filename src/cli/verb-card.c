/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/findings.h"
#include "cli/readings.h"
#include "cli/verbs.h"
#include "draw/export.h"

static void
put_json (OgCall          *call,
          const char      *path,
          const GPtrArray *findings)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  g_autofree char *name = g_filename_display_name (path);

  og_json_add_string (builder, "output", name);
  og_findings_add_json (builder, findings);
  og_call_end_json (call, builder);
}

OgExit
og_verb_card (OgCall  *call,
              GError **error)
{
  g_autofree char *path = NULL;
  g_autofree char *log_path = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &path,
      N_("File to write: .pdf, .png, .svg, .html, .md, .csv or .json"), N_("OUT") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (OgResult) result = NULL;
  OgExportFormat format;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (path == NULL || !og_export_format_from_path (path, &format))
    {
      og_call_refuse (error,
                      _("-o needs a file that ends in .pdf, .png, .svg, .html, .md, .csv or .json"));
      return OG_EXIT_USAGE;
    }
  if (!og_call_read_recipe (call, &recipe, call->files[0], error)
      || !og_readings_learn (&recipe, log_path, &belief, error))
    return OG_EXIT_FILE;

  result = og_evaluate (recipe.formula, recipe.catalog,
                        &(OgConditions) { .curves = TRUE, .belief = belief });
  if (!og_export_card (recipe.formula, result, path, format, error))
    return OG_EXIT_FILE;
  if (call->json)
    put_json (call, path, result->findings);

  return og_findings_status (result->findings);
}
