/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/dates.h"
#include "core/recipe/versions.h"

static guint
count_trials (const OgFormula *formula,
              const OgFormula *version)
{
  guint n = 0;

  for (guint i = 0; i < formula->measurements->len; i++)
    n += og_measurement_is_of (g_ptr_array_index (formula->measurements, i), version) ? 1 : 0;

  return n;
}

static void
put_json (OgCall          *call,
          const OgFormula *formula)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_add_string (builder, "title", formula->title);
  og_json_begin_array (builder, "versions");
  for (guint i = 0; i < formula->versions->len; i++)
    {
      const OgVersion *version = g_ptr_array_index (formula->versions, i);
      g_autofree char *date = og_date_to_text (&version->date);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "name", version->name);
      og_json_add_string (builder, "note", version->note);
      og_json_add_string (builder, "date", date);
      og_json_add_string (builder, "title", version->recipe->title);
      og_json_add_whole (builder, "lines", og_formula_get_n_lines (version->recipe));
      og_json_add_whole (builder, "trials", count_trials (formula, version->recipe));
      og_json_add_boolean (builder, "as_it_stands", og_version_is_now (version, formula));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_call_end_json (call, builder);
}

static void
put_text (OgCall          *call,
          const OgFormula *formula)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("llrrl");

  og_text_put_wrapped ("", formula->title, call->out);
  if (formula->versions->len == 0)
    {
      og_text_put_wrapped ("  ", _("No version is kept."), call->out);
      return;
    }

  og_text_table_add (table, (const char *[]) { _("Version"), _("Kept"), _("Lines"), _("Readings"), _("Note") });
  for (guint i = 0; i < formula->versions->len; i++)
    {
      const OgVersion *version = g_ptr_array_index (formula->versions, i);
      g_autofree char *date = og_date_to_text (&version->date);
      g_autofree char *lines = g_strdup_printf ("%u", og_formula_get_n_lines (version->recipe));
      g_autofree char *trials = g_strdup_printf ("%u", count_trials (formula, version->recipe));
      g_autofree char *note = g_strdelimit (g_strdup (version->note), "\n\r", ' ');

      og_text_table_add (table, (const char *[]) { version->name, date, lines, trials, note });
    }
  og_text_table_put (table, 2, call->out);
}

OgExit
og_verb_versions (OgCall  *call,
                  GError **error)
{
  g_auto (OgRecipe) recipe = { NULL, NULL };

  if (!og_call_parse (call, NULL, 1, 1, error))
    return OG_EXIT_DONE;
  if (!og_recipe_read (&recipe, call->files[0], error))
    return OG_EXIT_FILE;

  if (call->json)
    put_json (call, recipe.formula);
  else
    put_text (call, recipe.formula);

  return OG_EXIT_DONE;
}
