/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/draft.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/error.h"
#include "core/base/finding.h"
#include "core/base/practice.h"
#include "core/design/draft-private.h"
#include "core/design/soundness.h"
#include "core/material/chemistry.h"
#include "core/predict/solvents.h"

#define ROUGH_PPM 1000           /* amounts of a draft are told to 0.1 % */
#define FINE_PPM 500             /* those of small parts to 0.05 % */
#define SMALL_FRACTION 0.05 /* mass fraction below which a part is told finely; judgement */
#define CLASS_ROUNDING 0.002 /* mass fraction by which rounded amounts may pass the bound of their class */
#define MOST_PLANS 5 /* tried until one reaches the body: keeps a draft quick */
#define INNER_PART 0.2           /* of a word's width left free at either end while solving */
#define COLOUR_C 60.0 /* hottest pot that takes a colour ground in oil; judgement */
#define ABOVE_CLEARING_K 5.0 /* over the temperature at which the agent clears; judgement */
#define ABOVE_SETTING_K 10.0 /* over the temperature at which the agent sets; judgement */

/* --- the draft as a value -------------------------------------------------- */

static void
reason_clear (gpointer data)
{
  og_saying_unref (((OgDraftReason *) data)->text);
}

static void
phase_clear (gpointer data)
{
  OgDraftPhase *phase = data;

  og_saying_unref (phase->name);
  og_saying_unref (phase->note);
}

static OgDraft *
draft_new (void)
{
  OgDraft *draft = g_new0 (OgDraft, 1);

  draft->formula = og_formula_new ();
  draft->phases = g_array_new (FALSE, FALSE, sizeof (OgDraftPhase));
  g_array_set_clear_func (draft->phases, phase_clear);
  draft->reasons = g_array_new (FALSE, FALSE, sizeof (OgDraftReason));
  g_array_set_clear_func (draft->reasons, reason_clear);
  draft->findings = og_finding_list_new ();
  return draft;
}

void
og_draft_free (OgDraft *draft)
{
  if (draft == NULL)
    return;
  og_formula_free (draft->formula);
  og_saying_unref (draft->title);
  og_saying_unref (draft->notes);
  g_array_unref (draft->phases);
  g_array_unref (draft->reasons);
  g_ptr_array_unref (draft->findings);
  g_free (draft);
}

const OgSaying *
og_draft_get_reason (const OgDraft *draft,
                     guint          line_id)
{
  g_return_val_if_fail (draft != NULL, NULL);

  for (guint i = 0; i < draft->reasons->len; i++)
    {
      const OgDraftReason *reason = &g_array_index (draft->reasons, OgDraftReason, i);

      if (reason->line_id == line_id)
        return reason->text;
    }
  return NULL;
}

static void
find (OgDraft    *draft,
      OgSeverity  severity,
      const char *code,
      OgSaying   *text)
{
  og_finding_list_add (draft->findings, severity, code, 0, og_common_practice_new (), text);
}

/* --- the order of work ----------------------------------------------------- */

/* Temperatures of the pot, from hot to cool. */
typedef struct
{
  double hot_c, cool_c, colour_c, last_c;
} Temperatures;

static double
up_to_five (double temperature_c)
{
  return 5.0 * ceil (temperature_c / 5.0);
}

static const OgPick *
find_agent (const GArray *picks)
{
  for (guint i = 0; i < picks->len; i++)
    if (g_array_index (picks, OgPick, i).part == OG_PART_AGENT)
      return &g_array_index (picks, OgPick, i);
  return NULL;
}

/* The agent is cleared in hot oil, cooler oil brings the pot down but not below where it sets;
 * what is heat-shy follows barely warm, or just before a gel sets. */
static Temperatures
choose_temperatures (const OgMarketplace *market,
                     const GArray        *picks)
{
  const OgPick *agent = find_agent (picks);
  double clears_c = agent != NULL ? og_agent_clears_c (agent->ingredient) : NAN;
  double sets_c = NAN;
  Temperatures at = { OG_TEMPERATURE_ROOM_C, OG_TEMPERATURE_ROOM_C, OG_TEMPERATURE_ROOM_C,
                      OG_TEMPERATURE_ROOM_C };

  if (!isfinite (clears_c))
    return at;
  if (og_figure_is_known (&agent->ingredient->gelling.sets_c))
    sets_c = agent->ingredient->gelling.sets_c.value;
  at.hot_c = up_to_five (clears_c + ABOVE_CLEARING_K);
  at.cool_c = isfinite (sets_c) ? up_to_five (sets_c + ABOVE_SETTING_K) : at.hot_c - 20.0;
  at.cool_c = fmin (at.cool_c, at.hot_c - 5.0);
  at.colour_c = fmin (at.cool_c, COLOUR_C);
  at.last_c = fmin (at.colour_c, OG_WRIST_HIGH_C);
  if (og_body_is_set (market->body) && isfinite (sets_c))
    {
      at.colour_c = at.cool_c;
      at.last_c = fmin (at.cool_c, up_to_five (sets_c));
    }
  return at;
}

/* The oil that takes the agent: the most viscous of those that bear the heat. */
static void
choose_thick_oil (GArray *picks)
{
  const OgPick *agent = find_agent (picks);
  double clears_c = agent != NULL ? og_agent_clears_c (agent->ingredient) : NAN;
  OgPick *best = NULL;

  if (agent == NULL)
    return;
  for (guint i = 0; i < picks->len; i++)
    {
      OgPick *pick = &g_array_index (picks, OgPick, i);

      if (pick->part != OG_PART_OIL
          || (isfinite (clears_c)
              && !og_ingredient_takes_heat (pick->ingredient, clears_c + 2.0 * ABOVE_CLEARING_K)))
        continue;
      if (best == NULL || pick->ln_eta > best->ln_eta)
        best = pick;
    }
  if (best != NULL)
    best->part = OG_PART_THICK_OIL;
}

/* --- phases and lines ------------------------------------------------------ */

static OgFormulaPhase *
add_phase (OgFormula *formula,
           double     temperature_c)
{
  return og_formula_add_phase (formula, "", temperature_c, G_MAXUINT);
}

static void
add_part (OgFormula      *formula,
          OgFormulaPhase *phase,
          const GArray   *picks,
          OgDraftPart     part)
{
  for (guint i = 0; i < picks->len; i++)
    {
      const OgPick *pick = &g_array_index (picks, OgPick, i);
      double step = pick->fraction < SMALL_FRACTION ? FINE_PPM : ROUGH_PPM;
      double ppm = step * round (pick->fraction * OG_PPM_WHOLE / step);

      if (pick->part == part)
        og_formula_add_line (formula, phase, pick->ingredient->id,
                             (OgPpm) CLAMP (ppm, ceil (pick->low * OG_PPM_WHOLE),
                                            floor (pick->high * OG_PPM_WHOLE)),
                             G_MAXUINT);
    }
}

static gboolean
has_part (const GArray *picks,
          OgDraftPart   part)
{
  for (guint i = 0; i < picks->len; i++)
    if (g_array_index (picks, OgPick, i).part == part)
      return TRUE;
  return FALSE;
}

static void
add_phases (OgFormula          *formula,
            const GArray       *picks,
            const Temperatures *at)
{
  OgFormulaPhase *phase;

  if (has_part (picks, OG_PART_AGENT))
    {
      phase = add_phase (formula, at->hot_c);
      add_part (formula, phase, picks, OG_PART_THICK_OIL);
      add_part (formula, phase, picks, OG_PART_AGENT);
    }
  if (has_part (picks, OG_PART_OIL))
    add_part (formula, add_phase (formula, at->cool_c), picks, OG_PART_OIL);
  if (has_part (picks, OG_PART_COLOUR))
    add_part (formula, add_phase (formula, at->colour_c), picks, OG_PART_COLOUR);
  if (has_part (picks, OG_PART_SCENT) || has_part (picks, OG_PART_ANTIOXIDANT))
    {
      phase = add_phase (formula, at->last_c);
      add_part (formula, phase, picks, OG_PART_SCENT);
      add_part (formula, phase, picks, OG_PART_ANTIOXIDANT);
    }
}

/* The largest oil makes up to 100 %, those brought in cooler first. */
static OgFormulaLine *
largest_oil (const OgFormula *formula,
             const GArray    *picks)
{
  OgFormulaLine *best = NULL;

  for (int thick = 0; thick < 2 && best == NULL; thick++)
    for (guint i = 0; i < picks->len; i++)
      {
        const OgPick *pick = &g_array_index (picks, OgPick, i);
        OgFormulaLine *line = og_formula_find_ingredient (formula, pick->ingredient->id);

        if (pick->part == (thick ? OG_PART_THICK_OIL : OG_PART_OIL)
            && (best == NULL || line->amount > best->amount))
          best = line;
      }
  return best;
}

static OgFormula *
formula_from (const OgMarketplace *market,
              GArray              *picks)
{
  OgFormula *formula = og_formula_new ();
  Temperatures at;

  choose_thick_oil (picks);
  at = choose_temperatures (market, picks);
  formula->product = market->brief->product;
  add_phases (formula, picks, &at);
  largest_oil (formula, picks)->balance_share = 1;
  og_formula_balance (formula);
  return formula;
}

/* --- amounts --------------------------------------------------------------- */

/* What @pick may be at most beside the others of its class, so that they keep within the bounds of the trade. */
static double
most_in_class (const OgMarketplace *market,
               const GArray        *picks,
               const OgPick        *pick)
{
  double most = pick->high;

  for (int class = 0; class < OG_N_DRAFT_CLASSES; class++)
    {
      double sum = 0.0;

      if (!og_draft_class_holds ((OgDraftClass) class, pick->ingredient))
        continue;
      for (guint i = 0; i < picks->len; i++)
        if (og_draft_class_holds ((OgDraftClass) class, g_array_index (picks, OgPick, i).ingredient))
          sum += g_array_index (picks, OgPick, i).fraction;
      if (sum > 0.0)
        most = fmin (most, og_marketplace_most_of_class (market, (OgDraftClass) class) * pick->fraction / sum);
    }
  return fmax (most, pick->low);
}

static void
add_ranges (const OgMarketplace *market,
            const OgFormula     *formula,
            const GArray        *picks,
            GArray              *ranges)
{
  for (guint i = 0; i < picks->len; i++)
    {
      const OgPick *pick = &g_array_index (picks, OgPick, i);
      OgSolveRange range = {
        .line_id = og_formula_find_ingredient (formula, pick->ingredient->id)->id,
        .low = (OgPpm) ceil (pick->low * OG_PPM_WHOLE),
        .high = (OgPpm) floor (most_in_class (market, picks, pick) * OG_PPM_WHOLE),
      };

      if (pick->part == OG_PART_AGENT || pick->part == OG_PART_OIL
          || pick->part == OG_PART_THICK_OIL)
        g_array_append_val (ranges, range);
    }
}

/* The word's bounds drawn in, so that the draft ends up well inside. */
static void
draw_in (OgBodyBounds *bounds,
         OgBody        body)
{
  int word = (int) body - OG_BODY_DRY;
  int set = body == OG_BODY_SET ? OG_BODY_BOUND_SET : OG_BODY_BOUND_SOFT_SET;
  int low = og_body_is_set (body) ? set : word - 1;
  gboolean open_high = body == OG_BODY_HEAVY || body == OG_BODY_SET;
  gboolean open_low = body == OG_BODY_DRY;
  double width = open_high || open_low ? 1.0 : log (bounds->from[low + 1] / bounds->from[low]);

  if (!open_high)
    bounds->from[low + 1] *= exp (-INNER_PART * width);
  if (!open_low)
    bounds->from[low] *= exp (INNER_PART * width);
}

static OgSolveAnswer *
nth_answer (const OgSolveReport *report,
            guint                i)
{
  return g_ptr_array_index (report->answers, i);
}

static OgSolveReport *
solve_body (const OgMarketplace *market,
            const OgFormula     *formula,
            const GArray        *ranges,
            gboolean             well_inside,
            GError             **error)
{
  g_autoptr (OgFormula) start = og_formula_copy (formula);
  OgSolveRequest request = {
    .target = { .body = market->body },
    .ranges = (const OgSolveRange *) (const void *) ranges->data,
    .n_ranges = ranges->len,
    .aim = market->brief->cheap ? OG_SOLVE_LEAST_COST : OG_SOLVE_LEAST_CHANGE,
    .shelf = market->brief->shelf,
    .most = 1,
    .progress = market->brief->progress,
    .user_data = market->brief->user_data,
  };
  OgSolveReport *report;

  if (well_inside)
    draw_in (&start->body_bounds, market->body);
  report = og_solve (start, market->catalog, &request, error);
  for (guint i = 0; report != NULL && i < report->answers->len; i++)
    nth_answer (report, i)->formula->body_bounds = formula->body_bounds;
  return report;
}

static OgBody
body_of (const OgMarketplace *market,
         const OgFormula     *formula)
{
  g_autoptr (OgResult) result = og_evaluate (formula, market->catalog, NULL);

  return result->body;
}

/* Amounts a cook can weigh, as long as the body stays. */
static OgFormula *
round_amounts (const OgMarketplace *market,
               const OgFormula     *exact,
               const GArray        *picks)
{
  OgFormula *formula = og_formula_copy (exact);

  for (guint i = 0; i < picks->len; i++)
    {
      const OgPick *pick = &g_array_index (picks, OgPick, i);
      OgFormulaLine *line = og_formula_find_ingredient (formula, pick->ingredient->id);
      double step = line->amount < SMALL_FRACTION * OG_PPM_WHOLE ? FINE_PPM : ROUGH_PPM;
      double ppm = step * round (line->amount / step);

      line->amount = (OgPpm) CLAMP (ppm, ceil (pick->low * OG_PPM_WHOLE),
                                    floor (pick->high * OG_PPM_WHOLE));
    }
  if (og_formula_balance (formula) == OG_PPM_WHOLE
      && body_of (market, formula) == body_of (market, exact))
    return formula;
  og_formula_free (formula);
  return og_formula_copy (exact);
}

/* TRUE if the draft keeps within the bounds of the trade, the program's own check, and its own stove plan. */
static gboolean
is_sound (const OgMarketplace *market,
          const OgFormula     *formula)
{
  g_autoptr (OgResult) result = og_evaluate (formula, market->catalog, NULL);
  g_autoptr (OgSoundness) soundness = og_soundness_new (formula, result);

  for (int class = 0; class < OG_N_DRAFT_CLASSES; class++)
    {
      double sum = 0.0;

      for (guint i = 0; i < result->contents->len; i++)
        {
          const OgContent *content = g_ptr_array_index (result->contents, i);

          if (og_draft_class_holds ((OgDraftClass) class, content->ingredient))
            sum += content->fraction;
        }
      if (sum > og_marketplace_most_of_class (market, (OgDraftClass) class) + CLASS_ROUNDING)
        return FALSE;
    }
  return og_soundness_holds (soundness, NULL);
}

/* One plan carried out. Returns: (transfer full) (nullable): the recipe, with @reached telling
 * whether it has the body; %NULL if it is not to be made */
static OgFormula *
carry_out (const OgMarketplace  *market,
           GArray               *picks,
           gboolean             *reached,
           GError              **error)
{
  g_autoptr (OgFormula) formula = formula_from (market, picks);
  g_autoptr (GArray) ranges = g_array_new (FALSE, FALSE, sizeof (OgSolveRange));
  g_autoptr (GError) inner = NULL;
  OgFormula *best = NULL;

  *reached = FALSE;
  add_ranges (market, formula, picks, ranges);
  for (int well_inside = 1; well_inside >= 0 && !*reached; well_inside--)
    {
      g_autoptr (OgSolveReport) report = solve_body (market, formula, ranges, well_inside, &inner);

      if (g_error_matches (inner, OG_SOLVE_ERROR, OG_SOLVE_ERROR_STOPPED))
        {
          og_formula_free (best);
          g_propagate_error (error, g_steal_pointer (&inner));
          return NULL;
        }
      g_clear_error (&inner);
      g_clear_pointer (&best, og_formula_free);
      best = og_formula_copy (report != NULL ? nth_answer (report, 0)->formula : formula);
      *reached = body_of (market, best) == market->body;
    }
  formula = (og_formula_free (formula), g_steal_pointer (&best));
  best = round_amounts (market, formula, picks);
  if (is_sound (market, best))
    return best;
  og_formula_free (best);
  *reached = FALSE;
  return NULL;
}

/* --- small parts ----------------------------------------------------------- */

static void
add_small (GArray       *picks,
           const GArray *choices,
           OgDraftPart   part)
{
  const OgChoice *choice;
  OgPick pick;

  if (choices->len == 0)
    return;
  choice = &g_array_index (choices, OgChoice, 0);
  pick = (OgPick) { choice->ingredient, part, sqrt (choice->low * choice->high), choice->low,
                    choice->high, 0.0 };
  g_array_append_val (picks, pick);
}

/* What the brief asks for beside oils and agent, the dearest to it last. */
static GArray *
small_parts (OgDraft             *draft,
             const OgMarketplace *market)
{
  GArray *picks = g_array_new (FALSE, FALSE, sizeof (OgPick));

  add_small (picks, market->antioxidants, OG_PART_ANTIOXIDANT);
  if (market->brief->scent)
    add_small (picks, market->scents, OG_PART_SCENT);
  if (market->brief->tint)
    add_small (picks, market->colours, OG_PART_COLOUR);
  if (market->antioxidants->len == 0)
    find (draft, OG_SEVERITY_CAUTION, "draft-no-antioxidant",
          og_saying_plain (N_("No antioxidant that may be used was found: the oil keeps less long.")));
  if (market->brief->scent && market->scents->len == 0)
    find (draft, OG_SEVERITY_CAUTION, "draft-no-scent",
          og_saying_plain (N_("Nothing that may be used gives it a scent or flavour.")));
  if (market->brief->tint && market->colours->len == 0)
    find (draft, OG_SEVERITY_CAUTION, "draft-no-colour",
          og_saying_plain (N_("No colour ground in oil that may be used was found.")));
  return picks;
}

/* --- words ----------------------------------------------------------------- */

static const char *
oxidation_message (const OgIngredient *oil)
{
  double cox = oil->profile != NULL ? og_profile_cox (oil->profile) : 0.0;

  if (cox < 1.0)
    return N_("It hardly oxidises.");
  if (cox < 4.0)
    return N_("It oxidises slowly.");
  return N_("It oxidises fairly fast: keep it fresh, cool and dark.");
}

static const char *
oil_message (const OgMarketplace *market,
             const OgPick        *pick)
{
  if (pick->part == OG_PART_THICK_OIL)
    return N_("%s is the most viscous of the oils that bear the heat, so the agent is cleared in it.");
  if (!og_body_is_set (market->body) && pick->ln_eta < og_body_middle (&market->bounds, market->body))
    return N_("%s thins the blend to the body wanted.");
  if (og_ingredient_has_role (pick->ingredient, "gloss"))
    return N_("%s gives body and gloss.");
  return N_("%s gives the blend its body.");
}

static OgSaying *
reason_for_oil (const OgMarketplace *market,
                const OgPick        *pick)
{
  g_autoptr (OgSaying) job = og_saying_new (oil_message (market, pick), og_word_text (pick->ingredient->name));

  /* Translators: two sentences, one after the other. */
  return og_saying_new (N_("%s %s"), og_word_saying (job), og_word_label (oxidation_message (pick->ingredient)));
}

static OgSaying *
reason_for_agent (const OgMarketplace *market,
                  const OgIngredient  *agent)
{
  return og_saying_new (og_body_is_set (market->body)
                            ? N_("%s holds the oil in a network above its gel point; up to %s %% is usual.")
                            : N_("%s thickens the oil without setting it; up to %s %% is usual."),
                        og_word_text (agent->name),
                        og_word_significant (agent->figures[OG_FIGURE_USUAL_HIGH_PCT].value, 3));
}

static OgSaying *
reason_for (const OgMarketplace *market,
            const OgPick        *pick)
{
  const OgWord name = og_word_text (pick->ingredient->name);

  switch (pick->part)
    {
    case OG_PART_AGENT:
      return reason_for_agent (market, pick->ingredient);
    case OG_PART_COLOUR:
      return og_saying_new (N_("%s tints; ground in oil already, it needs no mill and makes no dust."), name);
    case OG_PART_ANTIOXIDANT:
      return og_saying_new (N_("%s slows rancidity; it goes in last, when the oil is barely warm."), name);
    case OG_PART_SCENT:
      return og_saying_new (N_("%s is heat-shy and goes in near the end; check its limits and your local rules."),
                            name);
    case OG_PART_THICK_OIL:
    case OG_PART_OIL:
    case OG_N_PARTS:
    default:
      return reason_for_oil (market, pick);
    }
}

static const char *
hot_note (double hot_c)
{
  if (hot_c <= OG_TEMPERATURE_ROOM_C)
    return N_("Stir the thickener into the oil in small portions, then work it in with high shear. "
              "Wear a dust mask while weighing.");
  if (hot_c > OG_WATER_BATH_C)
    return N_("A water bath does not get this hot: direct gentle heat with constant stirring, or an "
              "oven, until the oil is clear. Hot oil burns; never leave it.");
  return N_("Warm in a water bath and stir until the oil is clear.");
}

/* @part: of its first line */
static OgDraftPhase
describe_phase (const OgFormulaPhase *phase,
                OgDraftPart           part,
                gboolean              has_agent)
{
  const char *name, *note = NULL;

  switch (part)
    {
    case OG_PART_AGENT:
    case OG_PART_THICK_OIL:
      name = phase->temperature_c > OG_TEMPERATURE_ROOM_C ? N_("Hot oil and agent") : N_("Oil and thickener");
      note = hot_note (phase->temperature_c);
      break;
    case OG_PART_OIL:
      name = has_agent ? N_("Cooler oil") : N_("Oils");
      if (has_agent)
        note = N_("Bring the oil in slowly, so that the agent does not set at the cold stream.");
      break;
    case OG_PART_COLOUR:
      name = N_("Colour");
      break;
    case OG_PART_SCENT:
    case OG_PART_ANTIOXIDANT:
    case OG_N_PARTS:
    default:
      name = N_("Last");
      break;
    }
  return (OgDraftPhase) { phase->id, og_saying_plain (name), note != NULL ? og_saying_plain (note) : NULL };
}

static const OgPick *
pick_of (const GArray *picks,
         const char   *ingredient_id)
{
  for (guint i = 0; i < picks->len; i++)
    if (g_str_equal (g_array_index (picks, OgPick, i).ingredient->id, ingredient_id))
      return &g_array_index (picks, OgPick, i);
  return NULL;
}

static void
explain_phase (OgDraft              *draft,
               const OgMarketplace  *market,
               const GArray         *picks,
               const OgFormulaPhase *phase)
{
  const OgFormulaLine *first = g_ptr_array_index (phase->lines, 0);
  OgDraftPhase described = describe_phase (phase, pick_of (picks, first->ingredient_id)->part,
                                           has_part (picks, OG_PART_AGENT));

  g_array_append_val (draft->phases, described);
  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);
      OgDraftReason reason = { line->id, reason_for (market, pick_of (picks, line->ingredient_id)) };

      g_array_append_val (draft->reasons, reason);
    }
}

static void
explain (OgDraft             *draft,
         const OgMarketplace *market,
         const GArray        *picks)
{
  /* Translators: product, body, as in “Body oil: thin” */
  draft->title = og_saying_new (N_("%s: %s"),
                                market->brief->product == OG_PRODUCT_UNSAID ? og_word_label (N_("Oil"))
                                                                            : og_product_word (market->brief->product),
                                og_body_word (market->body));
  draft->notes = og_saying_plain (N_("A first draft, computed and not yet made. Try a small batch, record its "
                                     "viscosity, and check your local rules."));
  for (guint i = 0; i < draft->formula->phases->len; i++)
    explain_phase (draft, market, picks, g_ptr_array_index (draft->formula->phases, i));
}

static void
set_target (OgFormula           *formula,
            const OgMarketplace *market)
{
  const OgBodyBounds *bounds = &market->bounds;
  int word = (int) market->body - OG_BODY_DRY;

  if (word > 0 && market->body < OG_BODY_HEAVY)
    {
      formula->target_low_mpa_s = bounds->from[word - 1];
      formula->target_high_mpa_s = bounds->from[word];
    }
}

/* --- what could not be met ------------------------------------------------- */

static const char *
left_out_message (OgDraftPart part)
{
  switch (part)
    {
    case OG_PART_COLOUR:
      return N_("So few materials leave no room for a colour.");
    case OG_PART_SCENT:
      return N_("So few materials leave no room for a scent or flavour.");
    case OG_PART_ANTIOXIDANT:
    case OG_PART_AGENT:
    case OG_PART_THICK_OIL:
    case OG_PART_OIL:
    case OG_N_PARTS:
    default:
      return N_("So few materials leave no room for an antioxidant: the oil keeps less long.");
    }
}

static void
tell_missed (OgDraft             *draft,
             const OgMarketplace *market)
{
  OgBody body = body_of (market, draft->formula);
  gboolean thinner = body < market->body;

  if (market->agents->len == 0 && thinner)
    find (draft, OG_SEVERITY_BLOCKING, "draft-nothing-thickens",
          og_saying_plain (market->brief->stocked_only ? N_("Nothing in stock that may be used thickens oil.")
                                                       : N_("Nothing that may be used thickens oil.")));
  /* Translators: the body wanted, the body reached */
  find (draft, OG_SEVERITY_BLOCKING, "draft-body-missed",
        og_saying_new (N_("The body wanted, %s, is not reached; this is the nearest: %s."),
                       og_body_word (market->body), og_body_word (body)));
}

static void
tell_use (OgDraft             *draft,
          const OgMarketplace *market)
{
  OgProduct product = market->brief->product;

  if ((product == OG_PRODUCT_LIP_ROLL_ON || product == OG_PRODUCT_SKIN_ROLL_ON)
      && market->body >= OG_BODY_HEAVY)
    find (draft, OG_SEVERITY_CAUTION, "draft-ball",
          og_saying_plain (N_("A ball hardly turns in so much body.")));
  if (product == OG_PRODUCT_LIP_APPLICATOR && market->body == OG_BODY_SET)
    find (draft, OG_SEVERITY_CAUTION, "draft-wand",
          og_saying_plain (N_("A wand does not take up what has set.")));
}

static void
tell_prices (OgDraft             *draft,
             const OgMarketplace *market,
             const GArray        *picks)
{
  g_autoptr (GPtrArray) names = og_sayings_new ();
  g_autoptr (OgSaying) list = NULL;

  for (guint i = 0; i < picks->len && market->brief->cheap; i++)
    {
      const OgIngredient *ingredient = g_array_index (picks, OgPick, i).ingredient;
      const OgShelfItem *item = og_shelf_get (market->brief->shelf, ingredient->id);

      if (item == NULL || !isfinite (item->price_per_kg))
        g_ptr_array_add (names, og_saying_verbatim (ingredient->name));
    }
  if (names->len == 0)
    return;
  list = og_saying_list (N_(", "), g_steal_pointer (&names));
  find (draft, OG_SEVERITY_NOTE, "draft-no-price",
        og_saying_new (N_("No price is known for: %s. Whether they are cheap cannot be said."),
                       og_word_saying (list)));
}

static void
tell_shortage (OgDraft            *draft,
               const OgIngredient *ingredient,
               double              stock_g,
               double              needed_g)
{
  find (draft, OG_SEVERITY_CAUTION, "draft-short",
        og_saying_new (N_("%s: %s g are in stock, a batch of %s g needs %s g."), og_word_text (ingredient->name),
                       og_word_significant (stock_g, 3), og_word_significant (draft->formula->batch_g, 3),
                       og_word_significant (needed_g, 3)));
}

/* How far the stock goes is for the batch to say; that it does not last for one is told here. */
static void
tell_stock (OgDraft             *draft,
            const OgMarketplace *market,
            const GArray        *picks)
{
  for (guint i = 0; i < picks->len && market->brief->stocked_only; i++)
    {
      const OgIngredient *ingredient = g_array_index (picks, OgPick, i).ingredient;
      const OgShelfItem *item = og_shelf_get (market->brief->shelf, ingredient->id);
      OgPpm amount = og_formula_find_ingredient (draft->formula, ingredient->id)->amount;
      double needed_g = og_ppm_to_g (amount, draft->formula->batch_g);

      if (item->stock_g < needed_g)
        tell_shortage (draft, ingredient, item->stock_g, needed_g);
    }
}

/* --- all together ---------------------------------------------------------- */

/* TRUE if what the colour is ground in mixes with all oils taken. */
static gboolean
carrier_mixes (const OgMarketplace *market,
               const OgIngredient  *colour,
               const GArray        *picks)
{
  for (guint c = 0; c < colour->composition->len; c++)
    {
      const OgPart *part = &g_array_index (colour->composition, OgPart, c);
      const OgIngredient *carrier = og_catalog_get (market->catalog, part->ingredient_id);

      for (guint i = 0; carrier != NULL && i < picks->len; i++)
        if (g_array_index (picks, OgPick, i).part == OG_PART_OIL
            && !og_liquids_mix (carrier, g_array_index (picks, OgPick, i).ingredient))
          return FALSE;
    }
  return TRUE;
}

static void
suit_colour (const OgMarketplace *market,
             GArray              *picks)
{
  for (guint i = 0; i < picks->len; i++)
    {
      OgPick *pick = &g_array_index (picks, OgPick, i);

      for (guint c = 0; c < market->colours->len && pick->part == OG_PART_COLOUR; c++)
        {
          const OgIngredient *colour = g_array_index (market->colours, OgChoice, c).ingredient;

          if (!carrier_mixes (market, colour, picks))
            continue;
          pick->ingredient = colour;
          break;
        }
    }
}

static GArray *
joined (const GArray *plan,
        const GArray *small,
        guint         first)
{
  GArray *picks = g_array_new (FALSE, FALSE, sizeof (OgPick));

  g_array_append_vals (picks, plan->data, plan->len);
  for (guint i = first; i < small->len; i++)
    g_array_append_val (picks, g_array_index (small, OgPick, i));
  return picks;
}

/* Plans without the first @dropped small parts. Fills @draft with the first that reaches the body,
 * or the first of all. Returns: (transfer full) (nullable): what it holds */
static GArray *
try_plans (OgDraft             *draft,
           const OgMarketplace *market,
           const GArray        *small,
           guint                dropped,
           gboolean            *reached,
           GError             **error)
{
  guint n_small = small->len - dropped;
  guint most = market->brief->most > 0 ? market->brief->most : G_MAXINT;
  double extras = 0.0;
  g_autoptr (GPtrArray) plans = NULL;
  GArray *held = NULL;

  if (most <= n_small)
    return NULL;
  for (guint i = dropped; i < small->len; i++)
    extras += g_array_index (small, OgPick, i).fraction;
  plans = og_marketplace_plan (market, most - n_small, extras);
  for (guint i = 0; i < MIN (plans->len, MOST_PLANS) && !*reached; i++)
    {
      GArray *picks = joined (((OgPlan *) g_ptr_array_index (plans, i))->picks, small, dropped);
      OgFormula *formula;

      suit_colour (market, picks);
      formula = carry_out (market, picks, reached, error);

      if (formula != NULL && (*reached || held == NULL))
        {
          og_formula_free (draft->formula);
          draft->formula = formula;
          g_clear_pointer (&held, g_array_unref);
          held = picks;
          continue;
        }
      g_clear_pointer (&formula, og_formula_free);
      g_array_unref (picks);
      if (error != NULL && *error != NULL)
        break;
    }
  return held;
}

static void
finish (OgDraft             *draft,
        const OgMarketplace *market,
        const GArray        *picks,
        const GArray        *small,
        gboolean             reached)
{
  for (guint i = 0; i < small->len; i++)
    if (!has_part (picks, g_array_index (small, OgPick, i).part))
      find (draft, OG_SEVERITY_CAUTION, "draft-left-out",
            og_saying_plain (left_out_message (g_array_index (small, OgPick, i).part)));
  set_target (draft->formula, market);
  explain (draft, market, picks);
  if (!reached)
    tell_missed (draft, market);
  draft->met = reached && draft->findings->len == 0;
  tell_use (draft, market);
  tell_stock (draft, market, picks);
  tell_prices (draft, market, picks);
}

OgDraft *
og_draft (const OgBrief  *brief,
          OgCatalog      *catalog,
          GError        **error)
{
  g_autoptr (OgDraft) draft = draft_new ();
  g_autoptr (GError) stopped = NULL;
  g_autoptr (GArray) small = NULL;
  g_autoptr (GArray) picks = NULL;
  OgMarketplace market;
  gboolean reached = FALSE;

  g_return_val_if_fail (brief != NULL && catalog != NULL, NULL);

  og_marketplace_init (&market, brief, catalog);
  small = small_parts (draft, &market);
  for (guint dropped = 0; dropped <= small->len && !reached && stopped == NULL; dropped++)
    {
      GArray *held = try_plans (draft, &market, small, dropped, &reached, &stopped);

      if (held == NULL)
        continue;
      g_clear_pointer (&picks, g_array_unref);
      picks = held;
    }
  if (picks != NULL && stopped == NULL)
    finish (draft, &market, picks, small, reached);
  else if (stopped == NULL && market.liquids->len > 0)
    find (draft, OG_SEVERITY_BLOCKING, "draft-unsound",
          og_saying_plain (N_("What may be used makes nothing that keeps within the bounds of the trade and passes "
                              "the program's own check and stove plan.")));
  else if (stopped == NULL)
    find (draft, OG_SEVERITY_BLOCKING, "draft-no-oil",
          og_saying_plain (brief->stocked_only
                               ? N_("Nothing in stock that may be used is an oil of known viscosity.")
                               : N_("Nothing that may be used is an oil of known viscosity.")));
  og_marketplace_clear (&market);
  if (stopped != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&stopped));
      return NULL;
    }
  return g_steal_pointer (&draft);
}
