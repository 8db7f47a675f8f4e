/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/text-table.h"
#include "cli/verbs.h"

static void
add_figure (JsonBuilder    *builder,
            const char     *name,
            const OgFigure *figure)
{
  json_builder_set_member_name (builder, name);
  if (!og_figure_is_known (figure))
    {
      json_builder_add_null_value (builder);
      return;
    }

  json_builder_begin_object (builder);
  og_json_add_number (builder, "value", figure->value);
  og_json_add_number (builder, "low", figure->low);
  og_json_add_number (builder, "high", figure->high);
  og_json_add_number (builder, "at_c", figure->at_c);
  og_json_add_string (builder, "unit", figure->unit);
  og_json_add_string (builder, "quality", og_quality_to_nick (figure->quality));
  og_json_add_string (builder, "source", figure->source);
  og_json_add_string (builder, "note", figure->note);
  json_builder_end_object (builder);
}

static void
add_profile (JsonBuilder        *builder,
             const OgIngredient *ingredient)
{
  json_builder_set_member_name (builder, "profile");
  if (ingredient->profile == NULL)
    {
      json_builder_add_null_value (builder);
      return;
    }

  json_builder_begin_object (builder);
  og_json_add_string (builder, "unit", "wt % of fatty acids");
  og_json_add_string (builder, "quality", og_quality_to_nick (ingredient->profile_quality));
  og_json_add_string (builder, "source", ingredient->profile_source);
  og_json_add_string (builder, "note", ingredient->profile_note);
  og_json_begin_object (builder, "acids");
  for (guint i = 0; i < ingredient->profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (ingredient->profile->shares, OgAcidShare, i);
      g_autofree char *code = og_acid_to_code (share->acid);

      og_json_begin_object (builder, code);
      og_json_add_number (builder, "value", share->pct);
      og_json_add_number (builder, "low", share->low_pct);
      og_json_add_number (builder, "high", share->high_pct);
      json_builder_end_object (builder);
    }
  json_builder_end_object (builder);
  json_builder_end_object (builder);
}

static void
add_viscosity (JsonBuilder        *builder,
               const OgIngredient *ingredient)
{
  og_json_begin_array (builder, "viscosity");
  for (guint i = 0; i < ingredient->viscosity->len; i++)
    {
      const OgViscosityDatum *datum = &g_array_index (ingredient->viscosity, OgViscosityDatum, i);

      json_builder_begin_object (builder);
      og_json_add_number (builder, "temperature_c", datum->temperature_c);
      og_json_add_number (builder, "value", datum->value);
      og_json_add_string (builder, "unit", datum->kinematic ? "mm2/s" : "mPa.s");
      og_json_add_string (builder, "quality", og_quality_to_nick (datum->quality));
      og_json_add_string (builder, "source", datum->source);
      og_json_add_string (builder, "note", datum->note);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_composition (JsonBuilder        *builder,
                 const OgIngredient *ingredient)
{
  og_json_begin_array (builder, "composition");
  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", part->ingredient_id);
      og_json_add_number (builder, "percent", part->pct);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* @match: (nullable): how it answers the search, if there was one */
static void
add_ingredient (JsonBuilder        *builder,
                const OgIngredient *ingredient,
                const char         *match)
{
  json_builder_begin_object (builder);
  if (match != NULL)
    og_json_add_string (builder, "match", match);
  og_json_add_string (builder, "id", ingredient->id);
  og_json_add_string (builder, "name", ingredient->name);
  og_json_add_string (builder, "inci", ingredient->inci);
  og_json_add_string (builder, "cas", ingredient->cas);
  og_json_add_string (builder, "kind", og_kind_to_nick (ingredient->kind));
  og_json_add_strings (builder, "tags", (const char *const *) ingredient->tags);
  og_json_add_strings (builder, "aliases", (const char *const *) ingredient->aliases);
  og_json_add_strings (builder, "roles", (const char *const *) ingredient->roles);
  og_json_add_strings (builder, "uses", (const char *const *) ingredient->uses);
  og_json_add_strings (builder, "cautions", (const char *const *) ingredient->cautions);
  og_json_add_string (builder, "notes", ingredient->notes);
  og_json_begin_object (builder, "figures");
  for (int id = 0; id < OG_N_FIGURES; id++)
    add_figure (builder, og_figure_id_to_nick ((OgFigureId) id), &ingredient->figures[id]);
  json_builder_end_object (builder);
  add_profile (builder, ingredient);
  add_viscosity (builder, ingredient);
  add_composition (builder, ingredient);
  json_builder_end_object (builder);
}

static const char *const match_nicks[] = {
  [OG_MATCH_NEAR] = "near",   [OG_MATCH_INSIDE] = "inside", [OG_MATCH_BEGINNINGS] = "beginnings",
  [OG_MATCH_WORDS] = "words", [OG_MATCH_BEGINS] = "begins", [OG_MATCH_EXACT] = "exact",
};

static void
put_json (OgCall       *call,
          const GArray *found,
          gboolean      searched)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_begin_array (builder, "ingredients");
  for (guint i = 0; i < found->len; i++)
    {
      const OgHit *hit = &g_array_index (found, OgHit, i);

      add_ingredient (builder, hit->ingredient, searched ? match_nicks[hit->match] : NULL);
    }
  json_builder_end_array (builder);
  og_call_end_json (call, builder);
}

static void
put_table (OgCall       *call,
           const GArray *found)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("llll");

  og_text_table_add (table, (const char *[]) { _("Id"), _("Name"), _("Kind"), _("INCI name") });
  for (guint i = 0; i < found->len; i++)
    {
      const OgIngredient *ingredient = g_array_index (found, OgHit, i).ingredient;

      og_text_table_add (table, (const char *[]) { ingredient->id, ingredient->name,
                                                   og_kind_get_name (ingredient->kind),
                                                   ingredient->inci != NULL ? ingredient->inci : _("unknown") });
    }
  og_text_table_put (table, 0, call->out);
  g_string_append_printf (call->out, g_dngettext (GETTEXT_PACKAGE, "%u material", "%u materials", found->len),
                          found->len);
  g_string_append_c (call->out, '\n');
}

static const char *
kind_word (guint index)
{
  return og_kind_to_nick ((OgKind) index);
}

static gboolean
parse_kind (const char  *nick,
            OgKind      *kind,
            GError     **error)
{
  g_autofree char *known = NULL;

  if (og_kind_from_nick (nick, kind))
    return TRUE;

  known = og_call_list_words (OG_N_KINDS, kind_word);
  return og_call_refuse (error, _("--kind: “%s” is none of: %s"), nick, known);
}

static void
keep_kind (GArray *found,
           OgKind  kind)
{
  for (guint i = found->len; i > 0; i--)
    if (g_array_index (found, OgHit, i - 1).ingredient->kind != kind)
      g_array_remove_index (found, i - 1);
}

OgExit
og_verb_ingredients (OgCall  *call,
                     GError **error)
{
  g_autofree char *words = NULL;
  g_autofree char *kind_nick = NULL;
  const GOptionEntry entries[] = {
    { "search", 's', 0, G_OPTION_ARG_FILENAME, &words,
      N_("Words that must all occur in names, numbers, kind, role or tags; the best answer first"), N_("TEXT") },
    { "kind", 'k', 0, G_OPTION_ARG_FILENAME, &kind_nick,
      N_("Only this kind, such as oil or gelling-agent"), N_("KIND") },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (OgCatalog) catalog = NULL;
  g_autoptr (GArray) found = NULL;
  OgKind kind = OG_KIND_OIL;

  if (!og_call_parse (call, entries, 0, 0, error))
    return OG_EXIT_DONE;
  if (!og_call_check_text ("--search", words, error) || !og_call_check_text ("--kind", kind_nick, error))
    return OG_EXIT_USAGE;
  if (kind_nick != NULL && !parse_kind (kind_nick, &kind, error))
    return OG_EXIT_USAGE;

  catalog = og_call_load_catalog (error);
  if (catalog == NULL)
    return OG_EXIT_FILE;

  found = og_catalog_search (catalog, words);
  if (kind_nick != NULL)
    keep_kind (found, kind);

  if (og_hits_are_near (found))
    g_printerr (_("oleograph-cli: nothing is called “%s”; what is near it follows\n"), words);
  if (call->json)
    put_json (call, found, words != NULL);
  else
    put_table (call, found);

  return OG_EXIT_DONE;
}
