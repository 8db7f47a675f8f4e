/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/readings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/substitution.h"
#include "draw/numbers.h"

static double
change_pct (const OgSuggestion *suggestion)
{
  return 100 * (suggestion->viscosity_ratio.value - 1);
}

static void
add_suggestion (JsonBuilder        *builder,
                const OgSuggestion *suggestion)
{
  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "parts");
  json_builder_begin_array (builder);
  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      const OgSuggestedPart *part = og_suggestion_get_part (suggestion, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", part->ingredient->id);
      og_json_add_number (builder, "percent", og_ppm_to_pct (part->amount));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_json_add_number (builder, "distance", suggestion->distance);
  og_json_add_number (builder, "viscosity_change_percent", change_pct (suggestion));
  json_builder_set_member_name (builder, "reasons");
  json_builder_begin_array (builder);
  for (guint i = 0; i < suggestion->reasons->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (suggestion->reasons, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
put_json (OgCall          *call,
          const GPtrArray *suggestions)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "suggestions");
  json_builder_begin_array (builder);
  for (guint i = 0; i < suggestions->len; i++)
    add_suggestion (builder, g_ptr_array_index (suggestions, i));
  json_builder_end_array (builder);
  /* every material that can play the role was compared, so none nearer is left out */
  json_builder_set_member_name (builder, "optimal");
  json_builder_add_boolean_value (builder, TRUE);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  og_call_put_json (call, root);
}

static char *
change_text (const OgSuggestion *suggestion)
{
  double pct = change_pct (suggestion);
  g_autofree char *number = og_number_fixed (pct, 0);

  if (!isfinite (pct))
    return g_steal_pointer (&number);

  return g_strdup_printf (pct > 0 ? "+%s" : "%s", number);
}

static void
put_text (OgCall             *call,
          const OgIngredient *replaced,
          const GPtrArray    *suggestions)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("llrrr");

  if (suggestions->len == 0)
    {
      g_string_append_printf (call->out, _("Nothing in the library can stand in for %s."), replaced->name);
      g_string_append_c (call->out, '\n');
      return;
    }

  g_string_append_printf (call->out, _("Instead of %s, nearest first:"), replaced->name);
  g_string_append (call->out, "\n\n");
  og_text_table_add (table, (const char *[]) { _("Id"), _("Material"), _("wt %"), _("Distance"), _("Viscosity %") });
  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);
      const OgSuggestedPart *part = og_suggestion_get_part (suggestion, 0);
      g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (part->amount), 4);
      g_autofree char *distance = og_number_fixed (suggestion->distance, 2);
      g_autofree char *change = change_text (suggestion);

      og_text_table_add (table, (const char *[]) { part->ingredient->id, part->ingredient->name,
                                                   pct, distance, change });
    }
  og_text_table_put (table, 2, call->out);

  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);

      g_autofree char *title = og_suggestion_get_title (suggestion);

      g_string_append_printf (call->out, "\n%s\n", title);
      for (guint r = 0; r < suggestion->reasons->len; r++)
        og_text_put_wrapped ("  • ", g_ptr_array_index (suggestion->reasons, r), call->out);
    }
}

static const OgIngredient *
resolve_replaced (const OgRecipe  *recipe,
                  const char      *text,
                  GError         **error)
{
  g_autoptr (GError) unresolved = NULL;
  const OgIngredient *ingredient = og_catalog_resolve (recipe->catalog, text, &unresolved);

  if (ingredient == NULL)
    g_set_error (error, OG_CLI_ERROR, OG_CLI_ERROR_USAGE, "--for: %s", unresolved->message);

  return ingredient;
}

static gboolean
check_texts (const char  *replaced,
             char       **without,
             GError     **error)
{
  if (replaced == NULL)
    {
      g_set_error_literal (error, OG_CLI_ERROR, OG_CLI_ERROR_USAGE, _("--for is needed: the material to replace"));
      return FALSE;
    }
  if (!og_call_check_text ("--for", replaced, error))
    return FALSE;
  for (guint i = 0; without != NULL && without[i] != NULL; i++)
    {
      if (!og_call_check_text ("--without", without[i], error))
        return FALSE;
    }

  return TRUE;
}

OgExit
og_verb_substitute (OgCall  *call,
                    GError **error)
{
  g_autofree char *replaced_text = NULL;
  g_autofree char *log_path = NULL;
  g_auto (GStrv) without = NULL;
  const GOptionEntry entries[] = {
    { "for", 'f', 0, G_OPTION_ARG_FILENAME, &replaced_text,
      N_("Material of the recipe that is to be replaced"), N_("ID") },
    { "without", 'w', 0, G_OPTION_ARG_FILENAME_ARRAY, &without,
      N_("Leave out materials with this tag, such as nut or palm; may be given several times"), N_("TAG") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (GPtrArray) suggestions = NULL;
  const OgIngredient *replaced;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!check_texts (replaced_text, without, error))
    return OG_EXIT_USAGE;
  if (!og_recipe_read (&recipe, call->files[0], error)
      || !og_readings_learn (&recipe, log_path, &belief, error))
    return OG_EXIT_FILE;
  replaced = resolve_replaced (&recipe, replaced_text, error);
  if (replaced == NULL)
    return OG_EXIT_USAGE;

  suggestions = og_substitute (recipe.formula, recipe.catalog,
                               (const char *[]) { replaced->id, NULL },
                               &(OgSubstitutionOptions) {
                                 .without_tags = (const char *const *) without,
                                 .belief = belief,
                               },
                               error);
  if (suggestions == NULL)
    return OG_EXIT_USAGE;

  if (call->json)
    put_json (call, suggestions);
  else
    put_text (call, replaced, suggestions);

  return OG_EXIT_DONE;
}
