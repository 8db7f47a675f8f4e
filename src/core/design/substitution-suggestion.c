/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution.h"

#include <glib/gi18n-lib.h>

OgSuggestion *
og_suggestion_new (const char *const *ingredient_ids)
{
  OgSuggestion *suggestion = g_new0 (OgSuggestion, 1);

  suggestion->replaced = g_strdupv ((char **) ingredient_ids);
  suggestion->parts = g_array_new (FALSE, FALSE, sizeof (OgSuggestedPart));
  suggestion->carriers = g_array_new (FALSE, FALSE, sizeof (OgCarrierMove));
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
