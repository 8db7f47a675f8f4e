/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/findings.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/finding.h"
#include "core/base/practice.h"
#include "core/predict/belief.h"
#include "core/predict/rule-findings.h"
#include "core/predict/settling.h"
#include "core/predict/solvents.h"

/* Share of the liquid from which a guessed viscosity is told; judgement. */
#define NOTICEABLE_DOUBT 0.005
#define LARGE_DOUBT 0.05 /* share of the liquid from which it is a caution; judgement */
#define NOTICEABLE_BUTTER 0.03 /* mass fraction from which a butter may grain the oil; judgement */
#define NOTICEABLE_FALL_MM_DAY 1.0 /* a layer seen within days; judgement */

typedef struct
{
  const OgFormula *formula;
  OgResult *result;
  const OgBlend *blend;
} Context;

static void
add (OgResult   *result,
     OgSeverity  severity,
     const char *code,
     guint       line_id,
     OgSaying   *source,
     OgSaying   *text)
{
  og_finding_list_add (result->findings, severity, code, line_id, source, text);
}

static void
check_total (const Context *context)
{
  gint64 total = context->result->total_ppm;

  if (og_formula_get_n_lines (context->formula) == 0 || total == OG_PPM_WHOLE)
    return;
  if (total < OG_PPM_WHOLE)
    add (context->result, OG_SEVERITY_BLOCKING, "total", 0, NULL,
         og_saying_new (N_ ("The recipe is %s %% short of 100 %%. The figures take it as it stands."),
                        og_word_significant (fabs ((double) (total - OG_PPM_WHOLE)) / OG_PPM_PER_PERCENT, 4)));
  else
    add (context->result, OG_SEVERITY_BLOCKING, "total", 0, NULL,
         og_saying_new (N_ ("The recipe is %s %% over 100 %%. The figures take it as it stands."),
                        og_word_significant (fabs ((double) (total - OG_PPM_WHOLE)) / OG_PPM_PER_PERCENT, 4)));
}

static void
check_doubts (const Context *context)
{
  const GArray *doubts = og_blend_get_doubts (context->blend);

  for (guint i = 0; i < doubts->len; i++)
    {
      const OgBlendDoubt *doubt = &g_array_index (doubts, OgBlendDoubt, i);
      const char *name = doubt->ingredient != NULL ? doubt->ingredient->name : doubt->ingredient_id;

      if (doubt->fraction < NOTICEABLE_DOUBT)
        continue;
      add (context->result, doubt->fraction < LARGE_DOUBT ? OG_SEVERITY_NOTE : OG_SEVERITY_CAUTION, "viscosity-unknown",
           0, NULL,
           og_saying_new (N_ ("The viscosity of %s is unknown. Its share of %s %% of the liquid is "
                              "taken as a guess for its kind and the band is wider for it; a bench value "
                              "would settle it."),
                          og_word_text (name), og_word_fixed (100.0 * doubt->fraction, 1)));
    }
}

static void
check_validity (const Context *context)
{
  double low_c, high_c;

  og_blend_get_validity (context->blend, &low_c, &high_c);
  if (isfinite (low_c) && (OG_TEMPERATURE_ROOM_C < low_c || OG_TEMPERATURE_ROOM_C > high_c))
    add (context->result, OG_SEVERITY_NOTE, "extrapolated", 0, NULL,
         og_saying_new (N_ ("25 °C lies outside the temperatures the data cover (%s to %s °C)."),
                        og_word_fixed (low_c, 0), og_word_fixed (high_c, 0)));
}

/* Whether a reading has told something about the agent. */
static gboolean
knows_agent (const Context *context,
             const char    *id)
{
  g_autofree char *variable = g_strconcat ("agent/", id, "/point", NULL);

  return context->result->belief != NULL && og_belief_find (context->result->belief, variable) >= 0;
}

static void
check_agents (const Context *context)
{
  const OgGellant *gellant = og_blend_get_main_gellant (context->blend);
  const OgIngredient *agent;

  if (gellant == NULL || og_blend_get_built_share (context->blend) <= 0.0)
    return;
  agent = og_catalog_get (context->result->catalog, og_blend_get_main_agent (context->blend));
  if (gellant->guessed && !knows_agent (context, agent->id))
    add (context->result, OG_SEVERITY_NOTE, "agent-guessed", 0,
         og_saying_verbatim (agent->gelling.gel_point_pct.source),
         og_saying_new (N_ ("How %s thickens is a starting guess, good to a factor only. One bench "
                            "value of your own lot narrows it."),
                        og_word_text (agent->name)));
  if (og_blend_get_n_agents (context->blend) > 1)
    add (context->result, OG_SEVERITY_NOTE, "joint-network", 0, NULL,
         og_saying_plain (N_ ("Several gelling agents: their effects are added, and the band is wider because "
                              "agents help or hinder each other.")));
}

static void
check_solvent (const Context      *context,
               const OgIngredient *ingredient,
               guint               line_id)
{
  const char *medium = NULL;
  OgSolventFit fit;

  if (ingredient->gelling.family == OG_GEL_NONE)
    return;
  fit = og_solvent_fit (context->result->contents, &ingredient->gelling, &medium);
  if (fit == OG_SOLVENT_NO)
    add (context->result, OG_SEVERITY_CAUTION, "solvent", line_id, og_common_practice_new (),
         og_saying_new (N_ ("%s does not dissolve or swell in %s, the main liquid here; the predicted body "
                            "will not be reached."),
                        og_word_text (ingredient->name), og_word_label (medium)));
  else if (fit == OG_SOLVENT_LIMITED)
    add (context->result, OG_SEVERITY_NOTE, "solvent", line_id, og_common_practice_new (),
         og_saying_new (N_ ("%s suits %s, the main liquid here, only within limits; try a small batch."),
                        og_word_text (ingredient->name), og_word_label (medium)));
}

static void
check_usual_level (const Context       *context,
                   const OgIngredient  *ingredient,
                   const OgFormulaLine *line)
{
  const OgFigure *usual = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];
  double pct = og_ppm_to_pct (line->amount);

  if (og_figure_is_known (usual) && pct > usual->value)
    add (context->result, OG_SEVERITY_CAUTION, "above-usual", line->id, og_saying_verbatim (usual->source),
         og_saying_new (N_ ("%s at %s %% is above its usual %s %%. Check your local rules and the "
                            "supplier's advice."),
                        og_word_text (ingredient->name), og_word_significant (pct, 3),
                        og_word_significant (usual->value, 3)));
}

static void
check_heat (const Context        *context,
            const OgIngredient   *ingredient,
            const OgFormulaPhase *phase,
            const OgFormulaLine  *line)
{
  double pot_c = isfinite (line->add_temperature_c) ? line->add_temperature_c : phase->temperature_c;
  const OgFigure *limit = &ingredient->figures[OG_FIGURE_MAX_HEAT_C];
  const OgFigure *flash = &ingredient->figures[OG_FIGURE_FLASH_POINT_C];
  const OgFigure *smoke = &ingredient->figures[OG_FIGURE_SMOKE_POINT_C];
  const OgFigure *dissolves = &ingredient->gelling.dissolves_c;

  if (!isfinite (pot_c))
    return;
  if (og_figure_is_known (flash) && pot_c > flash->value - OG_FLASH_MARGIN_K)
    add (context->result, OG_SEVERITY_BLOCKING, "near-flash-point", line->id, og_saying_verbatim (flash->source),
         og_saying_new (N_ ("%s at %s °C comes near its flash point of %s °C. Lower the temperature."),
                        og_word_text (ingredient->name), og_word_fixed (pot_c, 0), og_word_fixed (flash->value, 0)));
  else if (og_figure_is_known (smoke) && pot_c > smoke->value - OG_SMOKE_MARGIN_K)
    add (context->result, OG_SEVERITY_BLOCKING, "above-smoke-point", line->id, og_saying_verbatim (smoke->source),
         og_saying_new (N_ ("%s at %s °C comes near its smoke point of %s °C. Lower the temperature."),
                        og_word_text (ingredient->name), og_word_fixed (pot_c, 0), og_word_fixed (smoke->value, 0)));
  if (og_figure_is_known (limit) && pot_c > limit->value)
    add (context->result, OG_SEVERITY_CAUTION, "too-hot", line->id, og_saying_verbatim (limit->source),
         og_saying_new (N_ ("%s is heat-shy: add it below %s °C, not at %s °C."), og_word_text (ingredient->name),
                        og_word_fixed (limit->value, 0), og_word_fixed (pot_c, 0)));
  if (og_figure_is_known (dissolves) && line->amount > 0 && pot_c < dissolves->value)
    add (context->result, OG_SEVERITY_CAUTION, "not-hot-enough", line->id, og_saying_verbatim (dissolves->source),
         og_saying_new (N_ ("%s needs about %s °C to clear; %s °C is not enough."), og_word_text (ingredient->name),
                        og_word_fixed (dissolves->value, 0), og_word_fixed (pot_c, 0)));
}

static void
check_settling (const Context *context)
{
  for (guint i = 0; i < context->result->settling->len; i++)
    {
      const OgSettling *settling = &g_array_index (context->result->settling, OgSettling, i);

      if (settling->held || !(settling->speed_mm_day > NOTICEABLE_FALL_MM_DAY))
        continue;
      add (context->result, OG_SEVERITY_NOTE, "settles", 0,
           og_saying_plain (N_ ("Stokes' law with a usual particle size (judgement)")),
           og_saying_new (N_ ("%s sinks about %s mm a day at rest: shake before use, or give the oil "
                              "more body."),
                          og_word_text (settling->ingredient->name), og_word_significant (settling->speed_mm_day, 2)));
    }
}

/* A reading of a material that the recipe does not hold is none of its business. */
static gboolean
concerns (const Context  *context,
          const OgLesson *lesson)
{
  if (lesson->material_id == NULL)
    return TRUE;
  for (guint i = 0; i < context->result->contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (context->result->contents, i);

      if (g_str_equal (content->ingredient_id, lesson->material_id))
        return TRUE;
    }
  return FALSE;
}

static void
check_lessons (const Context *context)
{
  const GArray *lessons;

  if (context->result->belief == NULL)
    return;
  lessons = og_belief_get_lessons (context->result->belief);
  for (guint i = 0; i < lessons->len; i++)
    {
      const OgLesson *lesson = &g_array_index (lessons, OgLesson, i);

      if (!lesson->contradicts || !concerns (context, lesson))
        continue;
      add (context->result, OG_SEVERITY_CAUTION, "reading-contradicts", 0, NULL,
           og_saying_new (lesson->used
                              ? N_ ("Reading %s lies %s standard deviations from the prediction; it was accepted "
                                    "and has moved the figures.")
                              : N_ ("Reading %s lies %s standard deviations from the prediction and is not used: check "
                                    "the reading, the lot and the temperature, then accept it or take it out."),
                          og_word_text (lesson->measurement_id), og_word_fixed (fabs (lesson->surprise), 1)));
    }
}

static void
check_liquid_model (const Context      *context,
                    const OgIngredient *ingredient,
                    double              fraction,
                    guint               line_id)
{
  const OgFigure *melting = &ingredient->figures[OG_FIGURE_MELTING_C];

  if (ingredient->kind == OG_KIND_BUTTER && fraction > NOTICEABLE_BUTTER && og_figure_is_known (melting)
      && melting->value > OG_TEMPERATURE_ROOM_C)
    add (context->result, OG_SEVERITY_CAUTION, "may-crystallise", line_id, og_saying_verbatim (melting->source),
         og_saying_new (N_ ("%s melts at about %s °C. At room temperature it may crystallise and thicken "
                            "or grain the oil; the figures are those of the melt."),
                        og_word_text (ingredient->name), og_word_fixed (melting->value, 0)));
  if (og_ingredient_has_tag (ingredient, "conjugated") && fraction > 0.02)
    add (context->result, OG_SEVERITY_CAUTION, "conjugated-acids", line_id, NULL,
         og_saying_new (N_ ("%s holds conjugated acids, which no published relation covers: its viscosity is "
                            "probably higher than predicted, and the band is wide."),
                        og_word_text (ingredient->name)));
}

static void
check_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  const Context *context = user_data;
  const OgIngredient *ingredient = og_catalog_get (context->result->catalog, line->ingredient_id);
  double fraction = og_ppm_to_fraction (line->amount);

  if (ingredient == NULL)
    {
      add (context->result, OG_SEVERITY_BLOCKING, "unknown-ingredient", line->id, NULL,
           og_saying_new (N_ ("“%s” is not in the catalog: nothing is known about it."),
                          og_word_text (line->ingredient_id)));
      return;
    }
  check_solvent (context, ingredient, line->id);
  check_usual_level (context, ingredient, line);
  check_heat (context, ingredient, phase, line);
  check_liquid_model (context, ingredient, fraction, line->id);
}

static void
check_phases (const Context *context)
{
  for (guint i = 0; i < context->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (context->formula->phases, i);

      if (isfinite (phase->temperature_c) && phase->temperature_c > OG_HOT_OIL_C)
        add (context->result, OG_SEVERITY_CAUTION, "hot-oil", 0, og_common_practice_new (),
             og_saying_new (N_ ("%s: oil at %s °C burns at a splash. Dry tools, no water near the pot, lid and "
                                "fire blanket at hand, never leave it."),
                            og_word_text (phase->name), og_word_fixed (phase->temperature_c, 0)));
    }
}

static int
compare_findings (gconstpointer a,
                  gconstpointer b)
{
  const OgFinding *one = *(const OgFinding *const *) a;
  const OgFinding *other = *(const OgFinding *const *) b;

  return (int) other->severity - (int) one->severity;
}

void
og_findings_collect (const OgFormula *formula,
                     OgResult        *result,
                     OgBlend         *blend)
{
  Context context = { formula, result, blend };

  check_total (&context);
  check_doubts (&context);
  check_validity (&context);
  check_agents (&context);
  check_lessons (&context);
  check_settling (&context);
  check_phases (&context);
  og_formula_foreach_line (formula, check_line, &context);
  og_rule_findings_collect (formula, result, blend);
  g_ptr_array_sort (result->findings, compare_findings);
}
