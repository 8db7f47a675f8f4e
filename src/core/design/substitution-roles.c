/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/root.h"
#include "core/base/saying.h"
#include "core/predict/belief.h"

/* Mass fraction where the search for an agent begins: no effect yet. */
#define LOWEST_AGENT_SHARE 1e-4
#define HIGHEST_AGENT_PPM (OG_PPM_WHOLE / 2)
#define NO_LIQUID 100.0   /* ln: thicker than anything that pours */
#define SAME_BODY 0.05    /* ln: a jump over the body does not keep it */

static void
add_reason (OgSuggestion *suggestion,
            OgSaying     *reason)
{
  g_ptr_array_add (suggestion->reasons, reason);
}

/* --- amounts --- */

/* Shares of @total, to the last millionth. */
static void
set_amounts (OgSuggestion *suggestion,
             const double *shares,
             double        total)
{
  double sum = 0.0;
  gint64 given = 0;

  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      gint64 until;

      sum += shares[i];
      until = i + 1 < suggestion->parts->len ? llround (sum * total) : llround (total);
      g_array_index (suggestion->parts, OgSuggestedPart, i).amount = (OgPpm) (until - given);
      given = until;
    }
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
  OgCarrierMove move = { ingredient, (OgPpm) lround (ppm), FALSE };

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
  return move->change > 0 ? N_("The other lines make up for %s %% of %s that came along.")
                          : N_("The other lines make room for %s %% of %s that comes along.");
}

static void
move_carriers (const OgReplacement *replacement,
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

/* --- gelling agents: the body stays --- */

/* The recipe with the new agents, as a function of their share. */
typedef struct
{
  const OgReplacement *replacement;
  OgSuggestion *trial;
  const double *shares;
  double ln_target;
} BodySearch;

static double
body_excess (double   ln_share,
             gpointer user_data)
{
  BodySearch *search = user_data;
  const OgReplacement *replacement = search->replacement;
  g_autoptr (OgFormula) changed = NULL;
  g_autoptr (GPtrArray) contents = NULL;
  g_autoptr (OgBlend) blend = NULL;

  set_amounts (search->trial, search->shares, exp (ln_share) * OG_PPM_WHOLE);
  changed = og_substitution_apply (replacement->plain, search->trial);
  contents = og_formula_contents (changed, replacement->catalog);
  blend = og_blend_new (contents, og_catalog_get_parameters (replacement->catalog));
  if (replacement->before->belief != NULL)
    og_blend_set_belief (blend, replacement->before->belief);
  if (!og_blend_flows (blend))
    return NO_LIQUID;
  return og_blend_ln_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR, NULL) - search->ln_target;
}

typedef struct
{
  const char *const *ids;
  gint64 room;
  gboolean balanced;
} Room;

static void
add_room (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  Room *room = user_data;

  room->balanced = room->balanced || line->balance_share > 0;
  if (line->balance_share > 0 || g_strv_contains (room->ids, line->ingredient_id))
    room->room += line->amount;
}

/* What the balance lines and the old agents leave room for; half the recipe where all others make
 * room. */
static gint64
highest_share (const OgReplacement *replacement)
{
  Room room = { replacement->ids, 0, FALSE };

  og_formula_foreach_line (replacement->formula, add_room, &room);
  return room.balanced ? MIN (room.room, HIGHEST_AGENT_PPM) : HIGHEST_AGENT_PPM;
}

/* Share of the new agents at which the recipe pours as before; NAN if no share does. Leaves it set. */
static double
solve_agent_share (const OgReplacement *replacement,
                   const double        *shares,
                   OgSuggestion        *suggestion)
{
  const double low = log (LOWEST_AGENT_SHARE);
  const double high = log ((double) highest_share (replacement) / OG_PPM_WHOLE);
  BodySearch search = { replacement, suggestion, shares, log (replacement->before->pour.value) };
  double root;

  if (body_excess (low, &search) > 0.0)
    return NAN;
  root = og_find_root (body_excess, &search, low, high, 1e-4);
  if (isnan (root) || fabs (body_excess (root, &search)) > SAME_BODY)
    return NAN;
  return exp (root);
}

static gboolean
has_body (const OgReplacement *replacement)
{
  return replacement->job == OG_JOB_GELLING && replacement->amount > 0 && og_blend_flows (replacement->blend)
         && isfinite (replacement->before->pour.value);
}

gboolean
og_replacement_keeps_body (const OgReplacement *replacement,
                           const OgComponent   *component)
{
  g_autoptr (OgSuggestion) trial = og_suggestion_new (replacement->ids);
  const double whole = 1.0;

  if (!has_body (replacement))
    return TRUE;
  og_suggestion_add_part (trial, component->ingredient, 0);
  return isfinite (solve_agent_share (replacement, &whole, trial));
}

static void
keep_body (const OgReplacement *replacement,
           const double        *shares,
           OgSuggestion        *suggestion)
{
  const double share = solve_agent_share (replacement, shares, suggestion);

  if (!isfinite (share))
    {
      set_amounts (suggestion, shares, (double) replacement->amount);
      add_reason (suggestion, og_saying_plain (N_("No share of it keeps the body by the figures at hand; the "
                                                  "amount is left as it was.")));
      return;
    }
  add_reason (suggestion, og_saying_new (N_("%s %% of it pours like %s %% now, by figures that are a starting "
                                            "guess: make a small trial."),
                                         og_word_fixed (100.0 * share, 2),
                                         og_word_fixed (100.0 * (double) replacement->amount / OG_PPM_WHOLE, 2)));
}

void
og_replacement_fill (const OgReplacement      *replacement,
                     const OgComponent *const *components,
                     const double             *shares,
                     guint                     n,
                     OgSuggestion             *suggestion)
{
  for (guint i = 0; i < n; i++)
    og_suggestion_add_part (suggestion, components[i]->ingredient,
                            (OgPpm) lround (replacement->counted * shares[i] / components[i]->potency));
  if (has_body (replacement))
    keep_body (replacement, shares, suggestion);
  else if (replacement->job == OG_JOB_COLOUR || replacement->job == OG_JOB_ANTIOXIDANT)
    {
      move_carriers (replacement, suggestion);
      explain_counted (replacement, suggestion);
    }
  else
    set_amounts (suggestion, shares, (double) replacement->amount);
}

/* --- room --- */

static void
look_for_excess (OgFormulaPhase *phase,
                 OgFormulaLine  *line,
                 gpointer        user_data)
{
  gboolean *within = user_data;

  *within = *within && line->amount >= 0 && line->amount <= OG_PPM_WHOLE;
}

gboolean
og_replacement_takes (const OgReplacement *replacement,
                      const OgSuggestion  *suggestion)
{
  g_autoptr (OgFormula) changed = og_substitution_apply (replacement->plain, suggestion);
  gboolean within = TRUE;

  og_formula_foreach_line (changed, look_for_excess, &within);
  return within
         && (og_formula_total (replacement->plain) != OG_PPM_WHOLE || og_formula_total (changed) == OG_PPM_WHOLE);
}

gboolean
og_replacement_has_room (const OgReplacement *replacement,
                         const OgComponent   *component)
{
  g_autoptr (OgSuggestion) trial = og_suggestion_new (replacement->ids);
  const double whole = 1.0;

  og_suggestion_add_part (trial, component->ingredient, 0);
  set_amounts (trial, &whole, replacement->counted / component->potency);
  move_carriers (replacement, trial);
  return og_replacement_takes (replacement, trial);
}
