/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/design/suggestion-text.h"

#define SAME_BODY 0.1
#define TIMES_FROM 1.95
#define MOST_REASONS 3

static char *
change_text (double value)
{
  const gboolean thinner = value < 1.0;
  const double factor = thinner ? 1.0 / value : value;
  g_autofree char *times = og_number_significant (factor, factor < 10.0 ? 2 : 1);
  g_autofree char *pct = og_number_fixed (fabs (value - 1.0) * 100.0, 0);

  if (factor >= TIMES_FROM)
    return thinner ? g_strdup_printf (_("about %s times thinner"), times)
                   : g_strdup_printf (_("about %s times thicker"), times);
  return thinner ? g_strdup_printf (_("about %s %% thinner"), pct)
                 : g_strdup_printf (_("about %s %% thicker"), pct);
}

char *
og_viscosity_change_to_text (const OgEstimate *ratio)
{
  g_autofree char *change = NULL;
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!og_estimate_is_known (ratio) || ratio->value <= 0.0)
    return g_strdup (_("What it does to the body is unknown"));
  if (ratio->low80 >= 1.0 - SAME_BODY && ratio->high80 <= 1.0 + SAME_BODY)
    return g_strdup (_("The body stays within 10 %"));

  low = og_number_significant (ratio->low80, 2);
  high = og_number_significant (ratio->high80, 2);
  change = fabs (ratio->value - 1.0) < SAME_BODY / 2.0 ? g_strdup (_("about the same body"))
                                                        : change_text (ratio->value);
  if (!isfinite (ratio->low80) || !isfinite (ratio->high80))
    return g_steal_pointer (&change);
  /* Translators: a change in words, then the range of the new viscosity over the old one */
  return g_strdup_printf (_("%s; 80 %% between %s and %s times the viscosity"), change, low, high);
}

char *
og_suggestion_reasons_to_text (const OgSuggestion *suggestion)
{
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  g_auto(GStrv) lines = NULL;

  for (guint i = 0; i < MIN (suggestion->reasons->len, MOST_REASONS); i++)
    g_strv_builder_add (builder, og_saying_text (g_ptr_array_index (suggestion->reasons, i)));
  lines = g_strv_builder_end (builder);
  return g_strjoinv ("\n", lines);
}

/* Of nothing there are no shares: a line of 0 % has the names alone. */
static void
append_part (GString              *text,
             const OgSuggestedPart *part,
             double                whole)
{
  g_autofree char *share = og_number_fixed (100.0 * part->amount / whole, 0);

  if (text->len > 0)
    g_string_append (text, " + ");
  if (whole > 0.0)
    /* Translators: one part of a mixture, "60 % Castor oil" */
    g_string_append_printf (text, _("%s %% %s"), share, part->ingredient->name);
  else
    g_string_append (text, part->ingredient->name);
}

char *
og_suggestion_parts_to_text (const OgSuggestion *suggestion)
{
  g_autoptr(GString) text = g_string_new (NULL);
  const OgSuggestedPart *part = og_suggestion_get_part (suggestion, 0);
  double whole = 0.0;

  if (suggestion->parts->len == 1)
    return g_strdup (part->ingredient->name);
  for (guint i = 0; (part = og_suggestion_get_part (suggestion, i)) != NULL; i++)
    whole += part->amount;
  for (guint i = 0; (part = og_suggestion_get_part (suggestion, i)) != NULL; i++)
    append_part (text, part, whole);
  return g_strdup (text->str);
}

char *
og_suggestion_distance_to_text (const OgSuggestion *suggestion)
{
  g_autofree char *distance = og_number_fixed (suggestion->distance, 2);
  g_autofree char *bound = og_number_fixed (suggestion->bound, 2);

  if (suggestion->optimal)
    /* Translators: %s is a number, 0 for the same material */
    return g_strdup_printf (_("Distance %s, proven the nearest"), distance);
  if (!isfinite (suggestion->bound) || suggestion->bound <= 0.0)
    return g_strdup_printf (_("Distance %s, the nearest found so far"), distance);
  /* Translators: both %s are numbers; the search was stopped before it was certain */
  return g_strdup_printf (_("Distance %s, the nearest found; anything missing is at %s or farther"),
                          distance, bound);
}

char *
og_suggestion_moves_to_text (const OgSuggestion *suggestion)
{
  return og_saying_take_text (og_suggestion_tell_moves (suggestion));
}

char *
og_suggestion_rest_to_text (const OgSuggestion *suggestion)
{
  return og_saying_take_text (og_suggestion_tell_rest (suggestion));
}

char *
og_suggestion_losses_to_text (const OgSuggestion *suggestion)
{
  return og_saying_take_text (og_suggestion_tell_losses (suggestion));
}

char *
og_suggestion_kinds_to_text (const OgSuggestion *suggestion)
{
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  g_auto(GStrv) names = NULL;

  if (suggestion->kinds == 0)
    return NULL;
  for (guint i = 0; i < OG_N_SUGGESTION_KINDS; i++)
    if (suggestion->kinds & 1u << i)
      g_strv_builder_add (builder, og_suggestion_kind_get_name ((OgSuggestionKind) i));
  names = g_strv_builder_end (builder);
  return g_strjoinv (" · ", names);
}
