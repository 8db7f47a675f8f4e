/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/readings.h"
#include "cli/tags.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "core/design/substitution.h"

#define MOST_SUGGESTIONS 1000
#define HEAVIEST 1000.0

/* What was asked for on the command line. */
typedef struct
{
  char   **replaced;
  char   **without;
  char   **barred;
  char   **markets;
  gboolean stocked;
  gboolean plant;
  int      parts;
  char    *intent;
  char   **weights;
  int      most;
  char    *ledger;
  char    *log;
} Options;

static void
options_clear (Options *options)
{
  g_strfreev (options->replaced);
  g_strfreev (options->without);
  g_strfreev (options->barred);
  g_strfreev (options->markets);
  g_free (options->intent);
  g_strfreev (options->weights);
  g_free (options->ledger);
  g_free (options->log);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* --- output ---------------------------------------------------------------- */

static double
change_pct (const OgSuggestion *suggestion)
{
  return 100 * (suggestion->viscosity_ratio.value - 1);
}

static void
add_parts (JsonBuilder        *builder,
           const OgSuggestion *suggestion)
{
  og_json_begin_array (builder, "parts");
  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      const OgSuggestedPart *part = og_suggestion_get_part (suggestion, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", part->ingredient->id);
      og_json_add_number (builder, "percent", og_ppm_to_pct (part->amount));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);

  og_json_begin_array (builder, "carriers");
  for (guint i = 0; i < suggestion->carriers->len; i++)
    {
      const OgCarrierMove *move = &g_array_index (suggestion->carriers, OgCarrierMove, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", move->ingredient->id);
      og_json_add_number (builder, "change_percent", og_ppm_to_pct (move->change));
      og_json_add_boolean (builder, "own_line", move->own_line);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_moves (JsonBuilder        *builder,
           const OgSuggestion *suggestion)
{
  og_json_begin_array (builder, "moves");
  for (guint i = 0; i < suggestion->moves->len; i++)
    {
      const OgLineMove *move = &g_array_index (suggestion->moves, OgLineMove, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", move->ingredient->id);
      og_json_add_number (builder, "before_percent", og_ppm_to_pct (move->before));
      og_json_add_number (builder, "after_percent", og_ppm_to_pct (move->after));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_sayings (JsonBuilder     *builder,
             const char      *name,
             const GPtrArray *sayings)
{
  og_json_begin_array (builder, name);
  for (guint i = 0; i < sayings->len; i++)
    json_builder_add_string_value (builder, og_saying_text (g_ptr_array_index (sayings, i)));
  json_builder_end_array (builder);
}

static void
add_kinds (JsonBuilder        *builder,
           const OgSuggestion *suggestion)
{
  og_json_begin_array (builder, "kinds");
  for (guint i = 0; i < OG_N_SUGGESTION_KINDS; i++)
    if (suggestion->kinds & 1u << i)
      json_builder_add_string_value (builder, og_suggestion_kind_to_nick ((OgSuggestionKind) i));
  json_builder_end_array (builder);
}

static void
add_suggestion (JsonBuilder        *builder,
                const OgSuggestion *suggestion)
{
  json_builder_begin_object (builder);
  add_parts (builder, suggestion);
  og_json_add_number (builder, "distance", suggestion->distance);
  og_json_add_number (builder, "bound", suggestion->bound);
  og_json_add_boolean (builder, "optimal", suggestion->optimal);
  og_json_add_number (builder, "viscosity_change_percent", change_pct (suggestion));
  og_json_add_estimate_member (builder, "viscosity_ratio", &suggestion->viscosity_ratio);
  og_json_add_number (builder, "iodine_change", suggestion->iodine_change);
  og_json_add_number (builder, "density_change_g_ml", suggestion->density_change_g_ml);
  og_json_add_number (builder, "price_change_per_kg", suggestion->price_change_per_kg);
  og_json_add_string (builder, "currency", suggestion->currency);
  og_json_add_number (builder, "rest_before_mpa_s", suggestion->rest_before_mpa_s);
  og_json_add_number (builder, "rest_after_mpa_s", suggestion->rest_after_mpa_s);
  add_moves (builder, suggestion);
  add_kinds (builder, suggestion);
  add_sayings (builder, "losses", suggestion->losses);
  add_sayings (builder, "reasons", suggestion->reasons);
  json_builder_end_object (builder);
}

/* The search is never stopped here, so that nothing nearer can be left out. */
static void
put_json (OgCall          *call,
          const GPtrArray *suggestions,
          const GPtrArray *left_out)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  gboolean optimal = TRUE;

  og_json_begin_array (builder, "suggestions");
  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);

      add_suggestion (builder, suggestion);
      optimal = optimal && suggestion->optimal;
    }
  json_builder_end_array (builder);
  og_json_add_boolean (builder, "optimal", optimal);
  add_sayings (builder, "left_out", left_out);
  og_call_end_json (call, builder);
}

static char *
change_text (const OgSuggestion *suggestion)
{
  return og_number_signed (change_pct (suggestion), 0);
}

static char *
rest_text (const OgSuggestion *suggestion)
{
  return og_number_signed (100 * (suggestion->rest_after_mpa_s / suggestion->rest_before_mpa_s - 1), 0);
}

static void
put_row (OgTextTable        *table,
         const OgSuggestion *suggestion,
         guint               index)
{
  g_autofree char *distance = og_number_fixed (suggestion->distance, 2);
  g_autofree char *change = change_text (suggestion);
  g_autofree char *rest = rest_text (suggestion);

  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      const OgSuggestedPart *part = og_suggestion_get_part (suggestion, i);
      g_autofree char *number = g_strdup_printf ("%u", index + 1);
      g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (part->amount), 4);

      og_text_table_add (table, (const char *[]) { i == 0 ? number : "", part->ingredient->id,
                                                   part->ingredient->name, pct, i == 0 ? distance : "",
                                                   i == 0 ? change : "",
                                                   i == 0 ? rest : "" });
    }
}

static char *
names_of (const OgRecipe    *recipe,
          const char *const *ids)
{
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  g_auto (GStrv) list = NULL;

  for (guint i = 0; ids[i] != NULL; i++)
    g_strv_builder_add (names, og_catalog_get (recipe->catalog, ids[i])->name);
  list = g_strv_builder_end (names);

  return g_strjoinv (", ", list);
}

/* What it is good for, in one line. */
static void
put_kinds (const OgSuggestion *suggestion,
           GString            *out)
{
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();
  g_auto (GStrv) list = NULL;
  g_autofree char *text = NULL;

  for (guint i = 0; i < OG_N_SUGGESTION_KINDS; i++)
    if (suggestion->kinds & 1u << i)
      g_strv_builder_add (names, og_suggestion_kind_get_name ((OgSuggestionKind) i));
  list = g_strv_builder_end (names);
  text = g_strjoinv (" · ", list);
  if (*text != '\0')
    og_text_put_wrapped ("  ", text, out);
}

static void
put_saying (OgSaying *saying,
            GString  *out)
{
  g_autofree char *text = og_saying_take_text (saying);

  if (text != NULL)
    og_text_put_wrapped ("  • ", text, out);
}

static void
put_suggestion (const OgSuggestion *suggestion,
                guint               number,
                GString            *out)
{
  g_autoptr (OgSaying) title = og_suggestion_get_title (suggestion);

  g_string_append_printf (out, "\n%u  %s\n", number, og_saying_text (title));
  put_kinds (suggestion, out);
  put_saying (og_suggestion_tell_moves (suggestion), out);
  put_saying (og_suggestion_tell_rest (suggestion), out);
  put_saying (og_suggestion_tell_losses (suggestion), out);
  for (guint r = 0; r < suggestion->reasons->len; r++)
    og_text_put_wrapped ("  • ", og_saying_text (g_ptr_array_index (suggestion->reasons, r)), out);
}

static void
put_text (OgCall            *call,
          const OgRecipe    *recipe,
          const char *const *ids,
          const GPtrArray   *suggestions,
          const GPtrArray   *left_out)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rllrrrr");
  g_autofree char *replaced = names_of (recipe, ids);

  if (suggestions->len == 0)
    {
      g_string_append_printf (call->out, _("Nothing in the library can stand in for %s."), replaced);
      g_string_append_c (call->out, '\n');
      return;
    }

  g_string_append_printf (call->out, _("Instead of %s, nearest first:"), replaced);
  g_string_append (call->out, "\n\n");
  og_text_table_add (table, (const char *[]) { "", _("Id"), _("Material"), _("wt %"), _("Distance"),
                                               _("Poured %"), _("At rest %") });
  for (guint i = 0; i < suggestions->len; i++)
    put_row (table, g_ptr_array_index (suggestions, i), i);
  og_text_table_put (table, 2, call->out);

  for (guint i = 0; i < suggestions->len; i++)
    put_suggestion (g_ptr_array_index (suggestions, i), i + 1, call->out);
  if (left_out->len > 0)
    g_string_append_c (call->out, '\n');
  for (guint i = 0; i < left_out->len; i++)
    og_text_put_wrapped ("", og_saying_text (g_ptr_array_index (left_out, i)), call->out);
}

/* --- what is asked for ----------------------------------------------------- */

static gboolean
check_list (const char *option,
            char      **texts,
            GError    **error)
{
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      if (!og_call_check_text (option, texts[i], error))
        return FALSE;
    }

  return TRUE;
}

static gboolean
check_options (const Options *options,
               GError       **error)
{
  if (options->replaced == NULL)
    return og_call_refuse (error, _("--for is needed: the material to replace"));
  if (options->parts < 1 || options->parts > OG_SUBSTITUTION_MOST_PARTS)
    return og_call_refuse (error, _("--parts: it is a number from 1 to %d"),
                           OG_SUBSTITUTION_MOST_PARTS);
  if (options->most < 1 || options->most > MOST_SUGGESTIONS)
    return og_call_refuse (error, _("--most: it is a number from 1 to %d"), MOST_SUGGESTIONS);

  return check_list ("--for", options->replaced, error)
         && check_list ("--without", options->without, error)
         && check_list ("--not", options->barred, error)
         && check_list ("--market", options->markets, error)
         && check_list ("--weight", options->weights, error)
         && og_call_check_text ("--intent", options->intent, error);
}

static gboolean
check_markets (const Options *options,
               GError       **error)
{
  static const char *const known[] = { "eu", "us", NULL };

  for (guint i = 0; options->markets != NULL && options->markets[i] != NULL; i++)
    if (!g_strv_contains (known, options->markets[i]))
      return og_call_refuse (error, _("--market: it is eu or us"));

  return TRUE;
}

static const char *
trait_word (guint index)
{
  return og_trait_to_nick ((OgTrait) index);
}

static gboolean
read_weight (const char            *text,
             OgSubstitutionWeights *weights,
             GError               **error)
{
  const char *equals = strchr (text, '=');
  g_autofree char *nick = equals != NULL ? g_strndup (text, (gsize) (equals - text)) : NULL;
  OgTrait trait;

  if (nick == NULL || !og_trait_from_nick (nick, &trait))
    {
      g_autofree char *known = og_call_list_words (OG_N_TRAITS, trait_word);

      /* Translators: TRAIT and N stand for what the reader fills in; %s are words that are not
       * translated */
      return og_call_refuse (error, _("--weight: it is TRAIT=N, TRAIT one of %s"), known);
    }

  return og_call_parse_number ("--weight", equals + 1, 0, HEAVIEST, &weights->weight[trait], error);
}

static gboolean
read_weights (const Options         *options,
              OgSubstitutionWeights *weights,
              GError               **error)
{
  OgSubstitutionIntent intent = OG_SUBSTITUTION_BALANCED;

  if (options->intent != NULL && !og_substitution_intent_from_nick (options->intent, &intent))
    return og_call_refuse (error, _("--intent: it is one of balanced, same-feel, same-keeping, "
                                    "same-shine, cheaper"));
  og_substitution_weights_init (weights, intent);
  for (guint i = 0; options->weights != NULL && options->weights[i] != NULL; i++)
    {
      if (!read_weight (options->weights[i], weights, error))
        return FALSE;
    }

  return TRUE;
}

/* Returns: (transfer full): ids, or %NULL */
static char **
resolve (const OgRecipe *recipe,
         const char     *option,
         char          **texts,
         GError        **error)
{
  g_autoptr (GStrvBuilder) ids = g_strv_builder_new ();

  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      g_autoptr (GError) unresolved = NULL;
      const OgIngredient *ingredient = og_catalog_resolve (recipe->catalog, texts[i], &unresolved);

      if (ingredient == NULL)
        {
          og_call_refuse (error, "%s: %s", option, unresolved->message);
          return NULL;
        }
      g_strv_builder_add (ids, ingredient->id);
    }

  return g_strv_builder_end (ids);
}

static OgExit
suggest (OgCall         *call,
         const Options  *options,
         const OgRecipe *recipe,
         OgBelief       *belief,
         GError        **error)
{
  g_autoptr (OgShelf) shelf = NULL;
  g_autoptr (GPtrArray) suggestions = NULL;
  g_autoptr (GPtrArray) left_out = NULL;
  g_auto (GStrv) ids = resolve (recipe, "--for", options->replaced, error);
  g_auto (GStrv) barred = ids != NULL ? resolve (recipe, "--not", options->barred, error) : NULL;
  OgSubstitutionWeights weights;

  if (ids == NULL || barred == NULL || !read_weights (options, &weights, error)
      || !og_tags_check (recipe->catalog, "--without", options->without, error))
    return OG_EXIT_USAGE;
  if (!og_call_open_shelf (options->ledger, &shelf, error))
    return OG_EXIT_FILE;
  if (options->stocked && shelf == NULL)
    {
      og_call_refuse (error, _("--stocked: there is no ledger yet that says what is in stock; "
                               "name one with --ledger"));
      return OG_EXIT_USAGE;
    }

  suggestions = og_substitute (recipe->formula, recipe->catalog, (const char *const *) ids,
                               &(OgSubstitutionOptions) {
                                 .without_tags = (const char *const *) options->without,
                                 .without_ids = (const char *const *) barred,
                                 .markets = (const char *const *) options->markets,
                                 .most = (guint) options->most,
                                 .most_parts = (guint) options->parts,
                                 .weights = &weights,
                                 .shelf = shelf,
                                 .stocked = options->stocked,
                                 .from_plants = options->plant,
                                 .belief = belief,
                                 .left_out = &left_out,
                               },
                               error);
  if (suggestions == NULL)
    return OG_EXIT_USAGE;

  if (call->json)
    put_json (call, suggestions, left_out);
  else
    put_text (call, recipe, (const char *const *) ids, suggestions, left_out);

  return OG_EXIT_DONE;
}

OgExit
og_verb_substitute (OgCall  *call,
                    GError **error)
{
  g_auto (Options) options = { .parts = 1, .most = 12 };
  const GOptionEntry entries[] = {
    { "for", 'f', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.replaced,
      N_("Material of the recipe that is to be replaced; several are replaced together"), N_("ID") },
    { "without", 'w', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.without,
      N_("Leave out materials with this tag, such as nut or palm; may be given several times"), N_("TAG") },
    { "not", 'n', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.barred,
      N_("Leave out this material; may be given several times"), N_("ID") },
    { "market", 'm', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.markets,
      N_("For lips, leave out colours that are not allowed there: eu or us"), N_("MARKET") },
    { "stocked", 's', 0, G_OPTION_ARG_NONE, &options.stocked,
      N_("Only what is in stock in the amount that the batch needs"), NULL },
    { "plant-origin", 'p', 0, G_OPTION_ARG_NONE, &options.plant,
      N_("Only what is of plant origin"), NULL },
    { "parts", 'k', 0, G_OPTION_ARG_INT, &options.parts,
      N_("Mix up to this many materials, 1 to 4"), N_("K") },
    { "intent", 'i', 0, G_OPTION_ARG_FILENAME, &options.intent,
      N_("What matters most: balanced, same-feel, same-keeping, same-shine or cheaper"), N_("WORD") },
    { "weight", 'W', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.weights,
      N_("How much one property counts; may be given several times"), N_("TRAIT=N") },
    { "most", 'M', 0, G_OPTION_ARG_INT, &options.most,
      N_("Show at most so many suggestions"), N_("N") },
    { "ledger", 'l', 0, G_OPTION_ARG_FILENAME, &options.ledger,
      N_("Ledger that stock and prices are taken from"), N_("LEDGER") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &options.log,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgBelief) belief = NULL;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!check_options (&options, error) || !check_markets (&options, error))
    return OG_EXIT_USAGE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error)
      || !og_readings_learn (&recipe, options.log, &belief, error))
    return OG_EXIT_FILE;

  return suggest (call, &options, &recipe, belief, error);
}
