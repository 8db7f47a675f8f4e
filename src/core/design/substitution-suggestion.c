/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/nick.h"

#define SAME_REST_LN 0.2 /* ln: at rest as it pours, hardly seen in the bottle; judgement */

static const OgNick kinds[OG_N_SUGGESTION_KINDS] = {
  [OG_SUGGESTION_SAME_PROFILE] = { "same-profile", N_("Same fatty acids") },
  [OG_SUGGESTION_SAME_BODY] = { "same-body", N_("Same body") },
  [OG_SUGGESTION_PLANT] = { "plant-origin", N_("Plant origin") },
  [OG_SUGGESTION_CHEAPER] = { "cheaper", N_("Cheaper") },
  [OG_SUGGESTION_STOCKED] = { "in-stock", N_("In stock") },
};
OG_DEFINE_NICKS (OgSuggestionKind, og_suggestion_kind, kinds)
OG_DEFINE_NAMES (OgSuggestionKind, og_suggestion_kind, kinds)

OgSuggestion *
og_suggestion_new (const char *const *ingredient_ids)
{
  OgSuggestion *suggestion = g_new0 (OgSuggestion, 1);

  suggestion->replaced = g_strdupv ((char **) ingredient_ids);
  suggestion->parts = g_array_new (FALSE, FALSE, sizeof (OgSuggestedPart));
  suggestion->carriers = g_array_new (FALSE, FALSE, sizeof (OgCarrierMove));
  suggestion->moves = g_array_new (FALSE, FALSE, sizeof (OgLineMove));
  suggestion->losses = og_sayings_new ();
  suggestion->rest_before_mpa_s = NAN;
  suggestion->rest_after_mpa_s = NAN;
  suggestion->distance = NAN;
  suggestion->bound = NAN;
  suggestion->viscosity_ratio = (OgEstimate) { NAN, NAN, NAN };
  suggestion->iodine_change = NAN;
  suggestion->density_change_g_ml = NAN;
  suggestion->price_change_per_kg = NAN;
  suggestion->reasons = og_sayings_new ();
  return suggestion;
}

void
og_suggestion_add_part (OgSuggestion      *suggestion,
                        const OgIngredient *ingredient,
                        OgPpm              amount)
{
  const OgSuggestedPart part = { ingredient, amount };

  g_array_append_val (suggestion->parts, part);
}

void
og_suggestion_free (OgSuggestion *suggestion)
{
  g_strfreev (suggestion->replaced);
  g_array_unref (suggestion->parts);
  g_array_unref (suggestion->carriers);
  g_array_unref (suggestion->moves);
  g_ptr_array_unref (suggestion->losses);
  g_free (suggestion->currency);
  g_ptr_array_unref (suggestion->reasons);
  g_free (suggestion);
}

const OgSuggestedPart *
og_suggestion_get_part (const OgSuggestion *suggestion,
                        guint               index)
{
  return index < suggestion->parts->len ? &g_array_index (suggestion->parts, OgSuggestedPart, index)
                                        : NULL;
}

static OgWord
part_word (const OgSuggestion *suggestion,
           guint               index)
{
  return og_word_text (og_suggestion_get_part (suggestion, index)->ingredient->name);
}

OgSaying *
og_suggestion_get_title (const OgSuggestion *suggestion)
{
  const guint n = suggestion->parts->len;
  g_autoptr (GPtrArray) names = NULL;
  g_autoptr (OgSaying) all_but_last = NULL;

  if (n == 0)
    return og_saying_verbatim ("");
  if (n == 1)
    return og_saying_of (part_word (suggestion, 0));
  names = og_sayings_new ();
  for (guint i = 0; i + 1 < n; i++)
    g_ptr_array_add (names, og_saying_of (part_word (suggestion, i)));
  /* Translators: between the names of a list of three or more */
  all_but_last = og_saying_list (N_(", "), g_steal_pointer (&names));
  /* Translators: a list of materials; the first %s is one name or several with commas, the second the last */
  return og_saying_new (N_("%s and %s"), og_word_saying (all_but_last), part_word (suggestion, n - 1));
}

OgSaying *
og_suggestion_tell_moves (const OgSuggestion *suggestion)
{
  g_autoptr (GPtrArray) lines = og_sayings_new ();
  g_autoptr (OgSaying) list = NULL;

  for (guint i = 0; i < suggestion->moves->len; i++)
    {
      const OgLineMove *move = &g_array_index (suggestion->moves, OgLineMove, i);

      /* Translators: material, wt % before, wt % after */
      g_ptr_array_add (lines, og_saying_new (N_("%s %s → %s %%"), og_word_text (move->ingredient->name),
                                             og_word_significant (og_ppm_to_pct (move->before), 4),
                                             og_word_significant (og_ppm_to_pct (move->after), 4)));
    }
  if (lines->len == 0)
    return NULL;
  list = og_saying_list (N_("; "), g_steal_pointer (&lines));
  /* Translators: %s lists lines of the recipe with their amounts before and after */
  return og_saying_new (N_("Changes with it: %s."), og_word_saying (list));
}

OgSaying *
og_suggestion_tell_rest (const OgSuggestion *suggestion)
{
  const double ln_rest = log (suggestion->rest_after_mpa_s / suggestion->rest_before_mpa_s);

  if (!isfinite (ln_rest) || fabs (ln_rest - log (suggestion->viscosity_ratio.value)) < SAME_REST_LN)
    return NULL;
  /* Translators: viscosities before and after */
  return og_saying_new (N_("At rest it changes otherwise than when poured: from %s to %s mPa·s."),
                        og_word_viscosity (suggestion->rest_before_mpa_s),
                        og_word_viscosity (suggestion->rest_after_mpa_s));
}

OgSaying *
og_suggestion_tell_losses (const OgSuggestion *suggestion)
{
  g_autoptr (GPtrArray) losses = NULL;
  g_autoptr (OgSaying) list = NULL;

  if (suggestion->losses->len == 0)
    return og_saying_plain (N_("Nothing is lost that the figures at hand tell."));
  losses = og_sayings_new ();
  for (guint i = 0; i < suggestion->losses->len; i++)
    g_ptr_array_add (losses, og_saying_ref (g_ptr_array_index (suggestion->losses, i)));
  list = og_saying_list (N_("; "), g_steal_pointer (&losses));
  /* Translators: %s lists what gets worse, in small letters: “less shine; turns rancid sooner” */
  return og_saying_new (N_("What is lost: %s."), og_word_saying (list));
}
