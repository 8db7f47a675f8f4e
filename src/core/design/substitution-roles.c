/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#include <glib/gi18n-lib.h>

#include "core/base/saying.h"

#define CARRIER_STEP_PPM 10 /* 0.001 %, as colours are weighed */

static void
add_reason (OgSuggestion *suggestion,
            OgSaying     *reason)
{
  g_ptr_array_add (suggestion->reasons, reason);
}

/* --- carriers --- */

static gboolean
is_carrier (const OgReplacement *replacement,
            const OgIngredient  *held)
{
  if (held == NULL)
    return FALSE;
  if (replacement->job == OG_JOB_COLOUR)
    return held->kind != OG_KIND_COLOUR && !og_ingredient_is_suspended (held);
  return replacement->job == OG_JOB_ANTIOXIDANT && !og_ingredient_has_role (held, "antioxidant");
}

static void
add_carrier (GArray             *moves,
             const OgIngredient *ingredient,
             double              ppm)
{
  OgCarrierMove move = { ingredient, CARRIER_STEP_PPM * (OgPpm) lround (ppm / CARRIER_STEP_PPM), FALSE };

  for (guint i = 0; i < moves->len; i++)
    {
      OgCarrierMove *known = &g_array_index (moves, OgCarrierMove, i);

      if (known->ingredient == ingredient)
        {
          known->change += move.change;
          return;
        }
    }
  g_array_append_val (moves, move);
}

static void
add_carriers_of (const OgReplacement *replacement,
                 const OgIngredient  *ingredient,
                 double               ppm,
                 OgSuggestion        *suggestion)
{
  gboolean stated;

  og_job_potency (replacement->job, ingredient, replacement->catalog, &stated);
  for (guint i = 0; stated && i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (replacement->catalog, part->ingredient_id);

      if (is_carrier (replacement, held))
        add_carrier (suggestion->carriers, held, ppm * part->pct / 100.0);
    }
}

typedef struct
{
  const OgCarrierMove *move;
  gboolean found;    /* a line of its own that can take the change */
  gboolean balanced; /* some line is a balance line */
} Taking;

static void
look_for_line (OgFormulaPhase *phase,
               OgFormulaLine  *line,
               gpointer        user_data)
{
  Taking *taking = user_data;

  taking->balanced = taking->balanced || line->balance_share > 0;
  if (!taking->found && line->balance_share == 0
      && g_str_equal (line->ingredient_id, taking->move->ingredient->id))
    taking->found = line->amount + taking->move->change >= 0;
}

static const char *
carrier_message (const OgCarrierMove *move,
                 gboolean             balanced)
{
  if (move->own_line)
    return move->change > 0 ? N_("%s %% of %s that came along goes to its own line.")
                            : N_("%s %% of %s comes along and is taken from its own line.");
  if (balanced)
    return move->change > 0 ? N_("The balance makes up for %s %% of %s that came along.")
                            : N_("The balance makes room for %s %% of %s that comes along.");
  return move->change > 0 ? N_("The largest oil makes up for %s %% of %s that came along.")
                          : N_("The largest oil makes room for %s %% of %s that comes along.");
}

void
og_replacement_move_carriers (const OgReplacement *replacement,
                              OgSuggestion        *suggestion)
{
  for (guint i = 0; i < replacement->old->len; i++)
    {
      const OgComponent *old = &g_array_index (replacement->old, OgComponent, i);

      add_carriers_of (replacement, old->ingredient, replacement->counted * old->share / old->potency, suggestion);
    }
  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      const OgSuggestedPart *part = og_suggestion_get_part (suggestion, i);

      add_carriers_of (replacement, part->ingredient, -(double) part->amount, suggestion);
    }
  for (guint i = suggestion->carriers->len; i-- > 0;)
    {
      OgCarrierMove *move = &g_array_index (suggestion->carriers, OgCarrierMove, i);
      Taking taking = { .move = move };

      if (move->change == 0)
        {
          g_array_remove_index (suggestion->carriers, i);
          continue;
        }
      og_formula_foreach_line (replacement->formula, look_for_line, &taking);
      move->own_line = taking.found;
      add_reason (suggestion, og_saying_new (carrier_message (move, taking.balanced),
                                             og_word_fixed (og_ppm_to_pct (ABS (move->change)), 2),
                                             og_word_text (move->ingredient->name)));
    }
}

static void
explain_counted (const OgReplacement *replacement,
                 OgSuggestion        *suggestion)
{
  gboolean all_stated = TRUE, any_mixture = suggestion->carriers->len > 0;

  for (guint i = 0; i < replacement->old->len + suggestion->parts->len; i++)
    {
      const OgIngredient *ingredient
          = i < replacement->old->len
                ? g_array_index (replacement->old, OgComponent, i).ingredient
                : og_suggestion_get_part (suggestion, i - replacement->old->len)->ingredient;
      gboolean stated;

      og_job_potency (replacement->job, ingredient, replacement->catalog, &stated);
      all_stated = all_stated && stated;
      any_mixture = any_mixture || ingredient->composition->len > 0;
    }
  if (!all_stated)
    add_reason (suggestion, og_saying_plain (replacement->job == OG_JOB_COLOUR
                                                 ? N_("How much of it is pigment is not stated: the amount is kept.")
                                                 : N_("How much of it is active is not stated: the amount is kept.")));
  else if (any_mixture)
    add_reason (suggestion, og_saying_new (replacement->job == OG_JOB_COLOUR
                                               ? N_("%s %% of pigment, as before.")
                                               : N_("%s %% of active substance, as before."),
                                           og_word_fixed (100.0 * replacement->counted / OG_PPM_WHOLE, 2)));
}

/* --- the whole --- */

/* Of what is no colour and no liquid the usual most is enough: more is no better, and may be forbidden. */
static void
hold_to_usual (const OgReplacement *replacement,
               const OgComponent   *component,
               OgSuggestedPart     *part)
{
  const OgPpm most = og_replacement_usual_room (replacement, component->ingredient);

  if (part->amount <= most)
    return;
  part->amount = most;
}

static void
explain_held (const OgReplacement *replacement,
              OgSuggestion        *suggestion)
{
  const double wanted = 100.0 * replacement->counted / OG_PPM_WHOLE;

  if (suggestion->parts->len == 1)
    add_reason (suggestion, og_saying_new (N_("Held to its usual most: %s %% instead of %s %%."),
                                           og_word_trimmed (og_ppm_to_pct (og_suggestion_get_part (suggestion, 0)->amount), 3),
                                           og_word_trimmed (wanted, 3)));
  else
    add_reason (suggestion, og_saying_plain (N_("Held to the usual most of each.")));
}

static gboolean
is_additive (const OgReplacement *replacement)
{
  return replacement->job == OG_JOB_ANTIOXIDANT || replacement->job == OG_JOB_VITAMIN
         || replacement->job == OG_JOB_FLAVOUR || replacement->job == OG_JOB_FILLER || replacement->job == OG_JOB_NONE;
}

gboolean
og_replacement_fill (const OgReplacement      *replacement,
                     const OgComponent *const *components,
                     const double             *shares,
                     guint                     n,
                     OgSuggestion             *suggestion)
{
  const gboolean additive = is_additive (replacement);
  gboolean held = FALSE;

  for (guint i = 0; i < n; i++)
    {
      OgSuggestedPart *part;
      OgPpm wanted;

      og_suggestion_add_part (suggestion, components[i]->ingredient,
                              og_weighable (replacement->counted * shares[i] / components[i]->potency, TRUE));
      part = &g_array_index (suggestion->parts, OgSuggestedPart, i);
      wanted = part->amount;
      if (additive)
        hold_to_usual (replacement, components[i], part);
      held = held || part->amount < wanted;
      if (part->amount <= 0)
        return FALSE;
    }
  if (replacement->job == OG_JOB_COLOUR || replacement->job == OG_JOB_ANTIOXIDANT)
    {
      og_replacement_move_carriers (replacement, suggestion);
      if (!held)
        explain_counted (replacement, suggestion);
    }
  if (held)
    explain_held (replacement, suggestion);
  return TRUE;
}
