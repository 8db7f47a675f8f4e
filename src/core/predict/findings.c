/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/findings.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/finding.h"
#include "core/base/number-text.h"
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

#define COMMON_PRACTICE _("Common practice, no published source")

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
     const char *source,
     char       *text)
{
  OgFinding *finding = og_finding_new (severity, code, NULL, source);

  finding->text = text;
  finding->line_id = line_id;
  g_ptr_array_add (result->findings, finding);
}

static void
check_total (const Context *context)
{
  gint64 total = context->result->total_ppm;
  g_autofree char *difference
    = og_number_significant (fabs ((double) (total - OG_PPM_WHOLE)) / OG_PPM_PER_PERCENT, 4);

  if (og_formula_get_n_lines (context->formula) == 0 || total == OG_PPM_WHOLE)
    return;
  if (total < OG_PPM_WHOLE)
    add (context->result, OG_SEVERITY_BLOCKING, "total", 0, NULL,
         g_strdup_printf (_("The recipe is %s %% short of 100 %%. The figures take it as it stands."),
                          difference));
  else
    add (context->result, OG_SEVERITY_BLOCKING, "total", 0, NULL,
         g_strdup_printf (_("The recipe is %s %% over 100 %%. The figures take it as it stands."),
                          difference));
}

static void
check_doubts (const Context *context)
{
  const GArray *doubts = og_blend_get_doubts (context->blend);

  for (guint i = 0; i < doubts->len; i++)
    {
      const OgBlendDoubt *doubt = &g_array_index (doubts, OgBlendDoubt, i);
      const char *name = doubt->ingredient != NULL ? doubt->ingredient->name : doubt->ingredient_id;
      g_autofree char *pct = og_number_fixed (100.0 * doubt->fraction, 1);

      if (doubt->fraction < NOTICEABLE_DOUBT)
        continue;
      add (context->result, doubt->fraction < LARGE_DOUBT ? OG_SEVERITY_NOTE : OG_SEVERITY_CAUTION,
           "viscosity-unknown", 0, NULL,
           g_strdup_printf (_("The viscosity of %s is unknown. Its share of %s %% of the liquid is "
                              "taken as a guess for its kind and the band is wider for it; a bench value "
                              "would settle it."),
                            name, pct));
    }
}

static void
check_validity (const Context *context)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;
  double low_c, high_c;

  og_blend_get_validity (context->blend, &low_c, &high_c);
  low = og_number_fixed (low_c, 0);
  high = og_number_fixed (high_c, 0);
  if (isfinite (low_c) && (OG_TEMPERATURE_ROOM_C < low_c || OG_TEMPERATURE_ROOM_C > high_c))
    add (context->result, OG_SEVERITY_NOTE, "extrapolated", 0, NULL,
         g_strdup_printf (_("25 °C lies outside the temperatures the data cover (%s to %s °C)."), low,
                          high));
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
    add (context->result, OG_SEVERITY_NOTE, "agent-guessed", 0, agent->gelling.gel_point_pct.source,
         g_strdup_printf (_("How %s thickens is a starting guess, good to a factor only. One bench "
                            "value of your own lot narrows it."),
                          agent->name));
  if (og_blend_get_n_agents (context->blend) > 1)
    add (context->result, OG_SEVERITY_NOTE, "joint-network", 0, NULL,
         g_strdup (_("Several gelling agents: their effects are added, and the band is wider because "
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
    add (context->result, OG_SEVERITY_CAUTION, "solvent", line_id, COMMON_PRACTICE,
         g_strdup_printf (_("%s does not dissolve or swell in %s, the main liquid here; the predicted body "
                            "will not be reached."),
                          ingredient->name, medium));
  else if (fit == OG_SOLVENT_LIMITED)
    add (context->result, OG_SEVERITY_NOTE, "solvent", line_id, COMMON_PRACTICE,
         g_strdup_printf (_("%s suits %s, the main liquid here, only within limits; try a small batch."),
                          ingredient->name, medium));
}

static void
check_usual_level (const Context       *context,
                   const OgIngredient  *ingredient,
                   const OgFormulaLine *line)
{
  const OgFigure *usual = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];
  double pct = og_ppm_to_pct (line->amount);
  g_autofree char *amount = og_number_significant (pct, 3);
  g_autofree char *most = og_number_significant (usual->value, 3);

  if (og_figure_is_known (usual) && pct > usual->value)
    add (context->result, OG_SEVERITY_CAUTION, "above-usual", line->id, usual->source,
         g_strdup_printf (_("%s at %s %% is above its usual %s %%. Check your local rules and the "
                            "supplier's advice."),
                          ingredient->name, amount, most));
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
  g_autofree char *pot = og_number_fixed (pot_c, 0);
  g_autofree char *limit_text = og_number_fixed (limit->value, 0);
  g_autofree char *flash_text = og_number_fixed (flash->value, 0);
  g_autofree char *smoke_text = og_number_fixed (smoke->value, 0);
  g_autofree char *clear = og_number_fixed (dissolves->value, 0);

  if (!isfinite (pot_c))
    return;
  if (og_figure_is_known (flash) && pot_c > flash->value - OG_FLASH_MARGIN_K)
    add (context->result, OG_SEVERITY_BLOCKING, "near-flash-point", line->id, flash->source,
         g_strdup_printf (_("%s at %s °C comes near its flash point of %s °C. Lower the temperature."),
                          ingredient->name, pot, flash_text));
  else if (og_figure_is_known (smoke) && pot_c > smoke->value - OG_SMOKE_MARGIN_K)
    add (context->result, OG_SEVERITY_BLOCKING, "above-smoke-point", line->id, smoke->source,
         g_strdup_printf (_("%s at %s °C comes near its smoke point of %s °C. Lower the temperature."),
                          ingredient->name, pot, smoke_text));
  if (og_figure_is_known (limit) && pot_c > limit->value)
    add (context->result, OG_SEVERITY_CAUTION, "too-hot", line->id, limit->source,
         g_strdup_printf (_("%s is heat-shy: add it below %s °C, not at %s °C."), ingredient->name,
                          limit_text, pot));
  if (og_figure_is_known (dissolves) && line->amount > 0 && pot_c < dissolves->value)
    add (context->result, OG_SEVERITY_CAUTION, "not-hot-enough", line->id, dissolves->source,
         g_strdup_printf (_("%s needs about %s °C to clear; %s °C is not enough."), ingredient->name,
                          clear, pot));
}

static void
check_settling (const Context *context)
{
  for (guint i = 0; i < context->result->settling->len; i++)
    {
      const OgSettling *settling = &g_array_index (context->result->settling, OgSettling, i);
      g_autofree char *speed = og_number_significant (settling->speed_mm_day, 2);

      if (settling->held || !(settling->speed_mm_day > NOTICEABLE_FALL_MM_DAY))
        continue;
      add (context->result, OG_SEVERITY_NOTE, "settles", 0,
           _("Stokes' law with a usual particle size (judgement)"),
           g_strdup_printf (_("%s sinks about %s mm a day at rest: shake before use, or give the oil "
                              "more body."),
                            settling->ingredient->name, speed));
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
      g_autofree char *surprise = og_number_fixed (fabs (lesson->surprise), 1);

      if (!lesson->contradicts || !concerns (context, lesson))
        continue;
      add (context->result, OG_SEVERITY_CAUTION, "reading-contradicts", 0, NULL,
           g_strdup_printf (lesson->used
                                ? _("Reading %s lies %s standard deviations from the prediction; it was accepted "
                                    "and has moved the figures.")
                                : _("Reading %s lies %s standard deviations from the prediction and is not used: check "
                                    "the reading, the lot and the temperature, then accept it or take it out."),
                            lesson->measurement_id, surprise));
    }
}

static void
check_liquid_model (const Context      *context,
                    const OgIngredient *ingredient,
                    double              fraction,
                    guint               line_id)
{
  const OgFigure *melting = &ingredient->figures[OG_FIGURE_MELTING_C];
  g_autofree char *melts = og_number_fixed (melting->value, 0);

  if (ingredient->kind == OG_KIND_BUTTER && fraction > NOTICEABLE_BUTTER && og_figure_is_known (melting)
      && melting->value > OG_TEMPERATURE_ROOM_C)
    add (context->result, OG_SEVERITY_CAUTION, "may-crystallise", line_id, melting->source,
         g_strdup_printf (_("%s melts at about %s °C. At room temperature it may crystallise and thicken "
                            "or grain the oil; the figures are those of the melt."),
                          ingredient->name, melts));
  if (og_ingredient_has_tag (ingredient, "conjugated") && fraction > 0.02)
    add (context->result, OG_SEVERITY_CAUTION, "conjugated-acids", line_id, NULL,
         g_strdup_printf (_("%s holds conjugated acids, which no published relation covers: its viscosity is "
                            "probably higher than predicted, and the band is wide."),
                          ingredient->name));
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
           g_strdup_printf (_("“%s” is not in the catalog: nothing is known about it."),
                            line->ingredient_id));
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
      g_autofree char *temperature = og_number_fixed (phase->temperature_c, 0);

      if (isfinite (phase->temperature_c) && phase->temperature_c > OG_HOT_OIL_C)
        add (context->result, OG_SEVERITY_CAUTION, "hot-oil", 0, COMMON_PRACTICE,
             g_strdup_printf (_("%s: oil at %s °C burns at a splash. Dry tools, no water near the pot, lid and "
                                "fire blanket at hand, never leave it."),
                              phase->name, temperature));
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
