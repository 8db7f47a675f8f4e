/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/evaluate.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/estimate.h"
#include "core/base/finding.h"
#include "core/base/physics.h"
#include "core/predict/belief.h"
#include "core/predict/blend.h"
#include "core/predict/curves.h"
#include "core/predict/findings.h"
#include "core/predict/settling.h"

#define YIELD_THRESHOLD_PA 0.5 /* a yield stress that a drop on the skin shows; judgement */

/* Sums that an average over the materials whose figure is known needs. */
typedef struct
{
  double weight;
  double sum;
} Average;

static void
average_add (Average *average,
             double   weight,
             double   value)
{
  if (!isfinite (value))
    return;
  average->weight += weight;
  average->sum += weight * value;
}

static double
average_get (const Average *average)
{
  return average->weight > 0.0 ? average->sum / average->weight : NAN;
}

/* Lorentz-Lorenz over the volume fractions of what has a refractive index. */
static void
measure_refraction (OgResult *result)
{
  Average polarisation = { 0 };
  double volume = 0.0;

  for (guint i = 0; i < result->contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (result->contents, i);
      const OgFigure *figure;
      double density, part, n;

      if (content->ingredient == NULL || og_ingredient_is_suspended (content->ingredient))
        continue;
      figure = &content->ingredient->figures[OG_FIGURE_REFRACTIVE_INDEX];
      density = og_ingredient_density (content->ingredient, OG_TEMPERATURE_ROOM_C);
      part = content->fraction / (isfinite (density) ? density : OG_ASSUMED_DENSITY_G_ML);
      volume += part;
      if (!og_figure_is_known (figure))
        continue;
      n = figure->value;
      if (isfinite (figure->at_c))
        n += OG_REFRACTION_SLOPE_1_K * (OG_TEMPERATURE_ROOM_C - figure->at_c);
      average_add (&polarisation, part, (n * n - 1.0) / (n * n + 2.0));
    }
  result->refractive_index = NAN;
  if (volume > 0.0 && polarisation.weight >= OG_MOSTLY_KNOWN * volume)
    {
      double r = average_get (&polarisation);

      result->refractive_index = sqrt ((1.0 + 2.0 * r) / (1.0 - r));
    }
}

static void
measure_chemistry (OgResult *result)
{
  Average iodine = { 0 }, saponification = { 0 };

  result->profile = og_profile_new ();
  for (guint i = 0; i < result->contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (result->contents, i);
      const OgIngredient *ingredient = content->ingredient;

      if (ingredient == NULL || og_ingredient_is_suspended (ingredient))
        continue;
      average_add (&iodine, content->fraction, og_ingredient_iodine_value (ingredient));
      average_add (&saponification, content->fraction, og_ingredient_saponification (ingredient));
      if (og_ingredient_is_triglyceride (ingredient) && content->fraction > 0.0)
        {
          og_profile_blend (result->profile, ingredient->profile, content->fraction);
          result->triglyceride_fraction += content->fraction;
        }
    }
  og_profile_normalise (result->profile);
  result->iodine_value = average_get (&iodine);
  result->saponification_value = average_get (&saponification);
  result->cox = result->oxidisability = result->peroxidisability = NAN;
  if (result->profile->shares->len > 0)
    {
      result->cox = result->triglyceride_fraction * og_profile_cox (result->profile);
      result->oxidisability
          = result->triglyceride_fraction * og_profile_oxidisability (result->profile);
      result->peroxidisability
          = result->triglyceride_fraction * og_profile_peroxidisability (result->profile);
    }
}

static OgBody
classify (const OgBodyBounds *bounds,
          double              pour_mpa_s,
          double              yield_pa)
{
  int bound = OG_BODY_BOUND_THIN;

  if (!isfinite (pour_mpa_s))
    return OG_BODY_UNKNOWN;
  if (yield_pa >= bounds->from[OG_BODY_BOUND_SET])
    return OG_BODY_SET;
  if (yield_pa >= bounds->from[OG_BODY_BOUND_SOFT_SET])
    return OG_BODY_SOFT_SET;
  while (bound <= OG_BODY_BOUND_HEAVY && pour_mpa_s >= bounds->from[bound])
    bound++;
  return (OgBody) (OG_BODY_DRY + bound);
}

static OgSaying *
describe (const OgResult *result)
{
  OgWord body = og_body_word (result->body);
  OgWord pour = og_word_viscosity (result->pour.value);
  OgWord rub = og_word_viscosity (result->rub.value);

  if (result->body == OG_BODY_UNKNOWN)
    return og_saying_plain (N_ ("Nothing in the recipe flows yet, so there is no body to predict."));
  if (result->body == OG_BODY_SOFT_SET || result->body == OG_BODY_SET)
    return og_saying_new (N_ ("%s: stands when tilted, and spreads at about %s mPa·s when rubbed."), body, rub);
  if (result->rest.value > 1.2 * result->rub.value)
    return og_saying_new (N_ ("%s: a liquid of about %s mPa·s when poured, thicker at rest (%s) than when "
                              "rubbed (%s)."),
                          body, pour, og_word_viscosity (result->rest.value), rub);
  return og_saying_new (N_ ("%s: a liquid of about %s mPa·s, the same at rest and when rubbed."), body, pour);
}

static void
predict (OgResult           *result,
         const OgFormula    *formula,
         OgBlend            *blend,
         OgBlend            *prior,
         const OgConditions *conditions)
{
  result->rest = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_REST);
  result->pour = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  result->rub = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_RUB);
  result->skin = og_blend_viscosity (blend, OG_TEMPERATURE_SKIN_C, OG_SHEAR_RUB);
  result->liquid = og_blend_liquid (blend, OG_TEMPERATURE_ROOM_C);
  result->yield_stress_pa = og_blend_yield (blend, OG_TEMPERATURE_ROOM_C, YIELD_THRESHOLD_PA,
                                            &result->gel_probability);
  result->prior_pour
      = prior != NULL ? og_blend_viscosity (prior, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR) : result->pour;
  result->body = classify (&formula->body_bounds, result->pour.value, result->yield_stress_pa.value);
  result->body_text = describe (result);

  if (conditions == NULL)
    return;
  for (guint t = 0; t < conditions->n_temperatures; t++)
    for (guint s = 0; s < conditions->n_shear_rates; s++)
      {
        OgViscosityPoint point = {
          .temperature_c = conditions->temperatures_c[t],
          .shear_rate_1_s = conditions->shear_rates_1_s[s],
          .viscosity_mpa_s = og_blend_viscosity (blend, conditions->temperatures_c[t],
                                                 conditions->shear_rates_1_s[s]),
        };

        g_array_append_val (result->viscosity, point);
      }
  if (conditions->curves)
    og_curves_fill (result->curves, blend, prior);
}

static void
mark_clear (gpointer data)
{
  g_free (((OgMark *) data)->measurement_id);
}

/* Share of the agent in what was measured, wt %. */
static double
agent_pct_of (const OgMeasurement *measurement,
              const OgCatalog     *catalog,
              const char          *agent_id)
{
  g_autoptr (GPtrArray) contents = og_measurement_contents (measurement, catalog);

  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (g_strcmp0 (content->ingredient_id, agent_id) == 0)
        return 100.0 * content->fraction;
    }
  return agent_id != NULL ? 0.0 : NAN;
}

static void
collect_marks (OgResult        *result,
               const OgFormula *formula,
               const OgBlend   *blend)
{
  for (guint i = 0; i < formula->measurements->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (formula->measurements, i);
      OgMark mark = {
        .temperature_c = measurement->reading.temperature_c,
        .shear_rate_1_s = measurement->reduced.shear_rate_1_s,
        .mpa_s = measurement->reduced.mpa_s,
        .ln_sd = measurement->reduced.ln_sd,
      };

      if (measurement->material_id != NULL || measurement->set_aside)
        continue;
      mark.measurement_id = g_strdup (measurement->id);
      mark.agent_pct = agent_pct_of (measurement, result->catalog, og_blend_get_main_agent (blend));
      g_array_append_val (result->marks, mark);
    }
}

static void
agent_clear (gpointer data)
{
  g_free (((OgAgentState *) data)->ingredient_id);
}

static void
collect_agents (OgResult      *result,
                const OgBlend *blend)
{
  for (guint i = 0; i < og_blend_get_n_agents (blend); i++)
    {
      OgAgentState state = { 0 };

      og_blend_describe_agent (blend, i, &state);
      g_array_append_val (result->agents, state);
    }
}

/* What a particle at rest feels. */
static double
viscosity_at_rate (double   shear_rate_1_s,
                   gpointer user_data)
{
  OgBlend *blend = user_data;

  if (!og_blend_flows (blend))
    return NAN;
  return exp (og_blend_ln_viscosity (blend, OG_TEMPERATURE_ROOM_C, shear_rate_1_s, NULL));
}

/* The recipe's model, and the same without measurements where there are any. */
static OgBlend *
model_new (OgResult *result,
           gboolean  with_belief)
{
  OgBlend *blend = og_blend_new (result->contents, og_catalog_get_parameters (result->catalog));

  if (with_belief && result->belief != NULL)
    og_blend_set_belief (blend, result->belief);
  return blend;
}

OgResult *
og_evaluate (const OgFormula    *formula,
             OgCatalog          *catalog,
             const OgConditions *conditions)
{
  g_autoptr (OgBlend) blend = NULL;
  g_autoptr (OgBlend) prior = NULL;
  OgResult *result;

  g_return_val_if_fail (formula != NULL, NULL);
  g_return_val_if_fail (catalog != NULL, NULL);

  result = g_new0 (OgResult, 1);
  g_atomic_ref_count_init (&result->ref_count);
  result->catalog = og_catalog_ref (catalog);
  result->total_ppm = og_formula_total (formula);
  result->contents = og_formula_contents (formula, catalog);
  result->viscosity = g_array_new (FALSE, FALSE, sizeof (OgViscosityPoint));
  result->findings = g_ptr_array_new_with_free_func ((GDestroyNotify) og_finding_free);
  result->agents = g_array_new (FALSE, FALSE, sizeof (OgAgentState));
  g_array_set_clear_func (result->agents, agent_clear);
  result->marks = g_array_new (FALSE, FALSE, sizeof (OgMark));
  g_array_set_clear_func (result->marks, mark_clear);
  result->rest = result->pour = result->rub = result->skin = result->liquid = OG_ESTIMATE_UNKNOWN;
  result->yield_stress_pa = OG_ESTIMATE_UNKNOWN;

  result->density_g_ml = og_contents_density (result->contents, OG_TEMPERATURE_ROOM_C,
                                              &result->density_known_fraction);
  measure_refraction (result);
  measure_chemistry (result);
  if (conditions != NULL && conditions->belief != NULL)
    result->belief = og_belief_ref (conditions->belief);
  else if (formula->measurements->len > 0)
    result->belief = og_belief_learn (formula->measurements, catalog);
  blend = model_new (result, TRUE);
  if (og_blend_is_learned (blend))
    prior = model_new (result, FALSE);
  predict (result, formula, blend, prior, conditions);
  collect_agents (result, blend);
  result->settling = og_settling_list (result->contents, og_blend_get_liquid_density (blend),
                                       result->yield_stress_pa.value, viscosity_at_rate, blend);
  collect_marks (result, formula, blend);
  result->rulings = og_rulings_find (formula, catalog);
  og_findings_collect (formula, result, blend);
  return result;
}
