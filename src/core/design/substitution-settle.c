/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/root.h"
#include "core/base/saying.h"
#include "core/predict/belief.h"
#include "core/predict/solvents.h"

/* Mass fraction where the search for an agent begins: no effect yet. */
#define LOWEST_AGENT_SHARE 1e-4
#define HIGHEST_AGENT_PPM (OG_PPM_WHOLE / 2)
#define NO_LIQUID 100.0   /* ln: thicker than anything that pours */
#define SAME_BODY 0.05    /* ln: nobody sees it in the bottle; a jump over the body does not keep it */
#define BELOW_SETTING_PPM 100 /* 0.01 %, a digit that can be weighed, below the amount that sets */
#define MOST_GUESSED 0.02 /* of the recipe whose viscosity may be a guess beside what was; judgement */
#define MOST_AT_REST_LN 1.1 /* ln: an agent that keeps the pouring may thicken three times at rest; judgement */
/* How far the amount of a new liquid may move from that of the old to keep the body; judgement. */
#define LEAST_OF_LIQUID 0.5
#define MOST_OF_LIQUID 1.25

/* --- amounts --- */

/* Shares of @total: the first, which is the largest, takes the last digit. */
static void
set_amounts (OgSuggestion *suggestion,
             const double *shares,
             OgPpm         total)
{
  OgPpm left = total;

  for (guint i = suggestion->parts->len; i-- > 1;)
    {
      OgSuggestedPart *part = &g_array_index (suggestion->parts, OgSuggestedPart, i);

      part->amount = MIN (left, og_weighable_part (shares[i] * total, total));
      left -= part->amount;
    }
  g_array_index (suggestion->parts, OgSuggestedPart, 0).amount = left;
}

static gboolean
is_liquid_job (const OgReplacement *replacement)
{
  return replacement->job == OG_JOB_LIQUID || replacement->job == OG_JOB_LIQUID_POLYMER;
}

static gboolean
is_part (const OgSuggestion *suggestion,
         const char         *id)
{
  for (guint i = 0; i < suggestion->parts->len; i++)
    if (g_str_equal (og_suggestion_get_part (suggestion, i)->ingredient->id, id))
      return TRUE;
  return FALSE;
}

/* --- who makes room --- */

typedef struct
{
  const OgReplacement *replacement;
  const OgSuggestion *suggestion;
  gint64 missing;         /* what it has to take up, below 0: give */
  gboolean of_parts;      /* lines of the new materials may */
  OgFormulaLine *largest; /* nullable */
} MakingUp;

static gboolean
is_own_carrier (const OgSuggestion *suggestion,
                const char         *id)
{
  for (guint i = 0; i < suggestion->carriers->len; i++)
    {
      const OgCarrierMove *move = &g_array_index (suggestion->carriers, OgCarrierMove, i);

      if (move->own_line && g_str_equal (move->ingredient->id, id))
        return TRUE;
    }
  return FALSE;
}

static void
look_for_largest (OgFormulaPhase *phase,
                  OgFormulaLine  *line,
                  gpointer        user_data)
{
  MakingUp *making = user_data;
  const OgIngredient *ingredient = og_catalog_get (making->replacement->catalog, line->ingredient_id);

  if (line->held || line->balance_share > 0 || ingredient == NULL || og_job_of (ingredient) != OG_JOB_LIQUID
      || is_own_carrier (making->suggestion, line->ingredient_id)
      || (is_part (making->suggestion, line->ingredient_id) && !making->of_parts)
      || (making->missing < 0 && line->amount == 0))
    return;
  if (making->largest == NULL || line->amount > making->largest->amount)
    making->largest = line;
}

/* The largest oil takes up or gives what the recipe lacks of 100 %, then the next; of new oils only where there is
 * no other. */
static gboolean
make_up (const OgReplacement *replacement,
         const OgSuggestion  *suggestion,
         OgFormula           *changed)
{
  MakingUp making = { replacement, suggestion, OG_PPM_WHOLE - og_formula_total (changed), FALSE, NULL };

  while (making.missing != 0)
    {
      making.largest = NULL;
      og_formula_foreach_line (changed, look_for_largest, &making);
      if (making.largest == NULL && (making.of_parts || !is_liquid_job (replacement)))
        return FALSE;
      if (making.largest == NULL)
        {
          making.of_parts = TRUE;
          continue;
        }
      making.largest->amount += (OgPpm) making.missing;
      making.missing = MIN (0, making.largest->amount);
      making.largest->amount = MAX (0, making.largest->amount);
    }
  return TRUE;
}

static void
look_for_excess (OgFormulaPhase *phase,
                 OgFormulaLine  *line,
                 gpointer        user_data)
{
  gboolean *within = user_data;

  *within = *within && line->amount >= 0 && line->amount <= OG_PPM_WHOLE;
}

/* The recipe's own agent, where it may move to keep the body. */
typedef struct
{
  guint line_id; /* 0: none */
  OgPpm now, low, high;
} Agent;

/* Returns: (transfer full) (nullable): the recipe with @suggestion; %NULL if it cannot take it up */
static OgFormula *
try_out (const OgReplacement *replacement,
         const OgSuggestion  *suggestion,
         const Agent         *agent)
{
  g_autoptr (OgFormula) changed = og_substitution_place (replacement->plain, suggestion);
  const gboolean whole = og_formula_total (replacement->plain) == OG_PPM_WHOLE;
  gboolean within = TRUE;

  if (agent != NULL && agent->line_id > 0)
    {
      og_formula_find_line (changed, agent->line_id, NULL, NULL)->amount = agent->now;
      og_formula_balance (changed);
    }
  if (whole && !make_up (replacement, suggestion, changed))
    return NULL;
  og_formula_foreach_line (changed, look_for_excess, &within);
  return within ? g_steal_pointer (&changed) : NULL;
}

/* --- the body stays --- */

/* The recipe as a function of the amount of its agent, or of that of what is new. */
typedef struct
{
  const OgReplacement *replacement;
  OgSuggestion *suggestion;
  const double *shares;
  Agent agent;
  gboolean of_agent;
} BodySearch;

/* A recipe that runs in the bottle is not kept by one that stands there. */
static gboolean
stands (const OgReplacement *replacement,
        OgBlend             *blend)
{
  const double bound_pa = replacement->formula->body_bounds.from[OG_BODY_BOUND_SOFT_SET];
  const double ln_rest = og_blend_ln_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_REST, NULL);

  if (replacement->before->yield_stress_pa.value >= bound_pa)
    return FALSE;
  return og_blend_typical_yield (blend, OG_TEMPERATURE_ROOM_C) >= bound_pa
         || ln_rest - log (replacement->before->rest.value) > MOST_AT_REST_LN;
}

/* ln of the poured viscosity over that before; NAN if the recipe cannot take it up */
static double
body_excess (double   ln_share,
             gpointer user_data)
{
  BodySearch *search = user_data;
  const OgReplacement *replacement = search->replacement;
  const OgPpm amount = (OgPpm) lround (exp (ln_share) * OG_PPM_WHOLE);
  g_autoptr (OgFormula) changed = NULL;
  g_autoptr (GPtrArray) contents = NULL;
  g_autoptr (OgBlend) blend = NULL;

  if (search->of_agent)
    search->agent.now = amount;
  else
    set_amounts (search->suggestion, search->shares, amount);
  changed = try_out (replacement, search->suggestion, &search->agent);
  if (changed == NULL)
    return NAN;
  contents = og_formula_contents (changed, replacement->catalog);
  blend = og_blend_new (contents, og_catalog_get_parameters (replacement->catalog));
  if (replacement->before->belief != NULL)
    og_blend_set_belief (blend, replacement->before->belief);
  if (!og_blend_flows (blend) || (search->of_agent && stands (replacement, blend)))
    return NO_LIQUID;
  return og_blend_ln_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR, NULL)
         - log (replacement->before->pour.value);
}

static double
ln_share_of (OgPpm amount)
{
  return log ((double) MAX (amount, 1) / OG_PPM_WHOLE);
}

/* Returns: amount at which the recipe pours as before, as it can be weighed; 0 if none within the bounds does. Leaves
 * it set. */
static OgPpm
solve_amount (BodySearch *search,
              OgPpm       low,
              OgPpm       high)
{
  double root;
  OgPpm amount;

  if (low >= high)
    return 0;
  root = og_find_root (body_excess, search, ln_share_of (low), ln_share_of (high), 1e-4);
  if (isnan (root))
    return 0;
  amount = og_weighable (exp (root) * OG_PPM_WHOLE, FALSE);
  return amount > 0 && fabs (body_excess (ln_share_of (amount), search)) <= SAME_BODY ? amount : 0;
}

typedef struct
{
  const char *const *ids;
  gint64 room;
  gboolean balanced;
  gboolean fixed; /* a replaced line is held, or balances */
} Room;

static void
add_room (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  Room *room = user_data;
  const gboolean replaced = g_strv_contains (room->ids, line->ingredient_id);

  room->balanced = room->balanced || line->balance_share > 0;
  room->fixed = room->fixed || (replaced && (line->held || line->balance_share > 0));
  if (line->balance_share > 0 || replaced)
    room->room += line->amount;
}

/* What the balance lines and the old agents leave room for, half the recipe where all others make room; within the
 * usual amounts. */
static OgPpm
highest_amount (const OgReplacement *replacement,
                const OgSuggestion  *suggestion,
                const double        *shares)
{
  Room room = { replacement->ids, 0, FALSE, FALSE };
  double most;

  og_formula_foreach_line (replacement->formula, add_room, &room);
  most = room.balanced ? (double) MIN (room.room, HIGHEST_AGENT_PPM) : HIGHEST_AGENT_PPM;
  for (guint i = 0; i < suggestion->parts->len; i++)
    most = fmin (most, og_replacement_usual_room (replacement, og_suggestion_get_part (suggestion, i)->ingredient)
                           / shares[i]);
  return (OgPpm) most;
}

static gboolean
has_body (const OgReplacement *replacement)
{
  return replacement->amount > 0 && og_formula_total (replacement->plain) == OG_PPM_WHOLE
         && og_blend_flows (replacement->blend) && isfinite (replacement->before->pour.value);
}

static OgPpm
solve_new_agent (const OgReplacement *replacement,
                 const double        *shares,
                 OgSuggestion        *suggestion)
{
  BodySearch search = { .replacement = replacement, .suggestion = suggestion, .shares = shares };
  const OgPpm low = (OgPpm) (LOWEST_AGENT_SHARE * OG_PPM_WHOLE);

  return solve_amount (&search, low, highest_amount (replacement, suggestion, shares));
}

gboolean
og_replacement_keeps_body (const OgReplacement *replacement,
                           const OgComponent   *component)
{
  g_autoptr (OgSuggestion) trial = og_suggestion_new (replacement->ids);
  const double whole = 1.0;

  if (replacement->job != OG_JOB_GELLING || !has_body (replacement))
    return TRUE;
  og_suggestion_add_part (trial, component->ingredient, 0);
  return solve_new_agent (replacement, &whole, trial) > 0;
}

static void
keep_by_new_agent (const OgReplacement *replacement,
                   const double        *shares,
                   OgSuggestion        *suggestion)
{
  const OgPpm amount = solve_new_agent (replacement, shares, suggestion);
  const OgPpm most = highest_amount (replacement, suggestion, shares);
  OgSaying *reason;

  if (amount == 0)
    {
      set_amounts (suggestion, shares, og_weighable ((double) MIN (replacement->amount, most), FALSE));
      reason = og_saying_plain (N_("No usual share of it keeps the body by the figures at hand."));
    }
  else
    reason = og_saying_new (N_("%s %% of it pours like %s %% now, by figures that are a starting guess: make a "
                               "small trial."),
                            og_word_fixed (og_ppm_to_pct (amount), 2),
                            og_word_fixed (100.0 * (double) replacement->amount / OG_PPM_WHOLE, 2));
  g_ptr_array_add (suggestion->reasons, reason);
}

typedef struct
{
  const char *id;
  const OgFormulaLine *line; /* nullable */
} Finding;

static void
look_for_free (OgFormulaPhase *phase,
               OgFormulaLine  *line,
               gpointer        user_data)
{
  Finding *finding = user_data;

  if (finding->line == NULL && !line->held && line->balance_share == 0
      && g_str_equal (line->ingredient_id, finding->id))
    finding->line = line;
}

/* The main agent of the recipe between its usual amounts, or where it stands already. */
static Agent
find_agent (const OgReplacement *replacement)
{
  Finding finding = { og_blend_get_main_agent (replacement->blend), NULL };
  const OgIngredient *agent = finding.id != NULL ? og_catalog_get (replacement->catalog, finding.id) : NULL;
  const OgFigure *usual = agent != NULL ? agent->figures : NULL;
  OgPpm low = 0, high = 0;
  gint64 elsewhere;

  if (agent == NULL || og_job_of (agent) != OG_JOB_GELLING || g_strv_contains (replacement->ids, finding.id)
      || !og_figure_is_known (&usual[OG_FIGURE_USUAL_LOW_PCT]) || !og_figure_is_known (&usual[OG_FIGURE_USUAL_HIGH_PCT]))
    return (Agent) { 0 };
  og_formula_foreach_line (replacement->plain, look_for_free, &finding);
  if (finding.line == NULL)
    return (Agent) { 0 };
  og_pct_to_ppm (usual[OG_FIGURE_USUAL_LOW_PCT].value, &low);
  og_pct_to_ppm (usual[OG_FIGURE_USUAL_HIGH_PCT].value, &high);
  elsewhere = og_amount_of (replacement->plain, finding.id) - finding.line->amount;
  return (Agent) { finding.line->id, finding.line->amount, MIN (finding.line->amount, MAX (1, low)),
                   (OgPpm) MAX (finding.line->amount, high - elsewhere) };
}

/* The most of the agent that does not set the recipe, as it can be weighed. */
static OgPpm
below_setting (BodySearch *search,
               OgPpm       low)
{
  const OgPpm high = search->agent.high;
  double root;

  if (low >= high || body_excess (ln_share_of (high), search) < NO_LIQUID)
    return high;
  root = og_find_root (body_excess, search, ln_share_of (low), ln_share_of (high), 1e-4);
  return isnan (root) ? low : MAX (low, og_weighable (exp (root) * OG_PPM_WHOLE - BELOW_SETTING_PPM, FALSE));
}

/* The agent of the recipe goes where the body stays, else to the end that comes nearest. */
static void
keep_by_agent (BodySearch *search)
{
  const OgPpm now = search->agent.now;
  const double excess = body_excess (ln_share_of (now), search);
  OgPpm amount, end;

  if (!isfinite (excess) || fabs (excess) <= SAME_BODY)
    return;
  amount = solve_amount (search, search->agent.low, search->agent.high);
  end = excess < 0.0 ? below_setting (search, now) : search->agent.low;
  if (amount == 0)
    amount = fabs (body_excess (ln_share_of (end), search)) < fabs (excess) ? end : now;
  search->agent.now = amount;
}

/* More or less of the new liquid against the largest other one. */
static void
keep_by_amount (BodySearch *search,
                OgPpm       total)
{
  const OgReplacement *replacement = search->replacement;
  Room room = { replacement->ids, 0, FALSE, FALSE };
  const OgPpm most = MIN (highest_amount (replacement, search->suggestion, search->shares),
                          (OgPpm) (MOST_OF_LIQUID * total));
  OgPpm amount = 0;

  og_formula_foreach_line (replacement->plain, add_room, &room);
  search->of_agent = FALSE;
  if (!room.fixed && fabs (body_excess (ln_share_of (total), search)) > SAME_BODY)
    amount = solve_amount (search, (OgPpm) (LEAST_OF_LIQUID * total), most);
  set_amounts (search->suggestion, search->shares, amount > 0 ? amount : total);
}

static double
guessed_share (const OgBlend *blend)
{
  const GArray *doubts = og_blend_get_doubts (blend);
  double sum = 0.0;

  for (guint i = 0; i < doubts->len; i++)
    sum += g_array_index (doubts, OgBlendDoubt, i).fraction;
  return sum;
}

gboolean
og_replacement_is_guess (const OgReplacement *replacement,
                         const OgBlend       *after)
{
  return guessed_share (after) > guessed_share (replacement->blend) + MOST_GUESSED;
}

/* Nothing moves to keep a body that is a guess. */
static gboolean
knows_body (const OgReplacement *replacement,
            const OgSuggestion  *suggestion)
{
  g_autoptr (OgFormula) changed = try_out (replacement, suggestion, NULL);
  g_autoptr (GPtrArray) contents = NULL;
  g_autoptr (OgBlend) blend = NULL;

  if (changed == NULL)
    return FALSE;
  contents = og_formula_contents (changed, replacement->catalog);
  blend = og_blend_new (contents, og_catalog_get_parameters (replacement->catalog));
  if (replacement->before->belief != NULL)
    og_blend_set_belief (blend, replacement->before->belief);
  return !og_replacement_is_guess (replacement, blend);
}

/* A liquid that makes the recipe's agent fall out does not take the place of one that dissolves it. */
static gboolean
agent_stays_dissolved (const OgReplacement *replacement,
                       const OgFormula     *changed)
{
  g_autoptr (GPtrArray) contents = og_formula_contents (changed, replacement->catalog);
  const char *medium;

  return replacement->context.gelling == NULL || replacement->job == OG_JOB_GELLING
         || og_solvent_fit (contents, replacement->context.gelling, &medium) != OG_SOLVENT_NO
         || og_solvent_fit (replacement->before->contents, replacement->context.gelling, &medium) == OG_SOLVENT_NO;
}

/* --- what moves --- */

typedef struct
{
  const OgReplacement *replacement;
  OgSuggestion *suggestion;
  const OgFormula *placed; /* without moves */
} Recording;

static void
record_line (OgFormulaPhase *phase,
             OgFormulaLine  *line,
             gpointer        user_data)
{
  Recording *recording = user_data;
  const OgFormulaLine *was = og_formula_find_line (recording->replacement->plain, line->id, NULL, NULL);
  const OgFormulaLine *placed = og_formula_find_line (recording->placed, line->id, NULL, NULL);
  const gboolean part = is_part (recording->suggestion, line->ingredient_id);
  const OgPpm before = part ? placed->amount : was->amount;
  const OgLineMove move = { line->id, og_catalog_get (recording->replacement->catalog, line->ingredient_id), before,
                            line->amount, line->balance_share > 0 || placed->amount == line->amount };

  if (before != line->amount && move.ingredient != NULL)
    g_array_append_val (recording->suggestion->moves, move);
}

static void
record_moves (const OgReplacement *replacement,
              OgSuggestion        *suggestion,
              const OgFormula     *changed)
{
  g_autoptr (OgFormula) placed = NULL;

  for (guint i = 0; i < suggestion->parts->len; i++)
    {
      OgSuggestedPart *part = &g_array_index (suggestion->parts, OgSuggestedPart, i);

      part->amount = (OgPpm) (og_amount_of (changed, part->ingredient->id)
                              - og_amount_of (replacement->plain, part->ingredient->id));
    }
  placed = og_substitution_place (replacement->plain, suggestion);
  og_formula_foreach_line (changed, record_line, &(Recording) { replacement, suggestion, placed });
}

gboolean
og_replacement_settle (const OgReplacement *replacement,
                       const double        *shares,
                       OgSuggestion        *suggestion)
{
  const OgPpm total = og_weighable ((double) replacement->amount, FALSE);
  BodySearch search = { .replacement = replacement, .suggestion = suggestion, .shares = shares, .of_agent = TRUE };
  g_autoptr (OgFormula) changed = NULL;

  if (replacement->job == OG_JOB_GELLING && has_body (replacement))
    keep_by_new_agent (replacement, shares, suggestion);
  else if (is_liquid_job (replacement) || replacement->job == OG_JOB_STIFFENER || replacement->job == OG_JOB_GELLING)
    set_amounts (suggestion, shares, total);
  if (is_liquid_job (replacement) && has_body (replacement) && knows_body (replacement, suggestion))
    {
      search.agent = find_agent (replacement);
      if (search.agent.line_id > 0)
        keep_by_agent (&search);
      keep_by_amount (&search, total);
    }
  changed = try_out (replacement, suggestion, &search.agent);
  if (changed == NULL || !agent_stays_dissolved (replacement, changed))
    return FALSE;
  record_moves (replacement, suggestion, changed);
  return TRUE;
}

gboolean
og_replacement_has_room (const OgReplacement *replacement,
                         const OgComponent   *component)
{
  g_autoptr (OgSuggestion) trial = og_suggestion_new (replacement->ids);
  g_autoptr (OgFormula) changed = NULL;

  og_suggestion_add_part (trial, component->ingredient,
                          (OgPpm) MIN (lround (replacement->counted / component->potency), G_MAXINT));
  og_replacement_move_carriers (replacement, trial);
  changed = try_out (replacement, trial, NULL);
  return changed != NULL;
}
