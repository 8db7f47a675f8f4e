/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/readings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "core/design/sensitivity.h"

static void
put_json (OgCall       *call,
          const GArray *levers)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_begin_array (builder, "levers");
  for (guint i = 0; i < levers->len; i++)
    {
      const OgLever *lever = &g_array_index (levers, OgLever, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", lever->ingredient_id);
      og_json_add_number (builder, "poured_percent_per_point", lever->pour_pct);
      og_json_add_number (builder, "rest_percent_per_point", lever->rest_pct);
      og_json_add_number (builder, "lots_low80_percent", lever->lot_low_pct);
      og_json_add_number (builder, "lots_high80_percent", lever->lot_high_pct);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_call_end_json (call, builder);
}

/* With a sign always, so that up and down are seen. */
static char *
signed_text (double pct)
{
  g_autofree char *number = og_number_significant (pct, 2);

  return pct > 0.0 && isfinite (pct) ? g_strconcat ("+", number, NULL) : g_steal_pointer (&number);
}

static void
put_text (OgCall          *call,
          const OgCatalog *catalog,
          const GArray    *levers)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrrrr");

  g_string_append (call->out, _("Change of the viscosity at 25 °C in %, strongest first"));
  g_string_append (call->out, "\n\n");
  og_text_table_add (table,
                     (const char *[]) { _("Material"), _("Poured, +1 wt %"), _("At rest, +1 wt %"),
                                               _("Lots, thin end"), _("thick end") });
  for (guint i = 0; i < levers->len; i++)
    {
      const OgLever *lever = &g_array_index (levers, OgLever, i);
      const OgIngredient *ingredient = og_catalog_get (catalog, lever->ingredient_id);
      g_autofree char *pour = signed_text (lever->pour_pct);
      g_autofree char *rest = signed_text (lever->rest_pct);
      g_autofree char *low = signed_text (lever->lot_low_pct);
      g_autofree char *high = signed_text (lever->lot_high_pct);

      og_text_table_add (table,
                         (const char *[]) { ingredient != NULL ? ingredient->name
                                            : lever->ingredient_id,
                                                   pour, rest, low, high });
    }
  og_text_table_put (table, 2, call->out);
}

OgExit
og_verb_levers (OgCall  *call,
                GError **error)
{
  g_autofree char *log_path = NULL;
  const GOptionEntry entries[] = {
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (GArray) levers = NULL;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error)
      || !og_readings_learn (&recipe, log_path, &belief, error))
    return OG_EXIT_FILE;

  levers = og_levers (recipe.formula, recipe.catalog, belief);
  if (call->json)
    put_json (call, levers);
  else
    put_text (call, recipe.catalog, levers);

  return OG_EXIT_DONE;
}
