/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/blend-private.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <string.h>

#include "core/base/conditions.h"
#include "core/base/physics.h"

/* Of a pigment without a density, between mica and iron oxide; judgement. */
#define ASSUMED_SOLID_DENSITY_G_ML 3.0

/* Interaction of unlike liquids: ln eta gains w_i w_j G with G = 0 and this standard deviation.
 * The published rules differ by 13 % for an equal blend of unlike oils (quarter of G), hence
 * 0.5. */
#define INTERACTION_SD 0.5

/* Conjugated acids thicken far beyond every published relation: a tung-type oil reads about 4
 * times what its ordinary twin does (Rescorla & Carnahan 1936). Judgement. */
#define CONJUGATED_SD 0.7

#define LEAST_VARIANCE 1e-12 /* keeps a root real where rounding takes it below 0 */

static const char *const class_nick[OG_N_LIQUID_CLASSES]
    = { "triglyceride", "ester", "hydrocarbon", "silicone", "other" };

static guint
add_variable (OgBlend    *blend,
              const char *prefix,
              const char *name,
              const char *suffix)
{
  g_ptr_array_add (blend->variables, g_strconcat (prefix, name, suffix, NULL));
  return blend->variables->len - 1;
}

static void
liquid_clear (gpointer data)
{
  OgBlendLiquid *liquid = data;

  g_clear_pointer (&liquid->chains, og_chains_free);
}

static OgLiquidClass
class_of (const OgIngredient *ingredient)
{
  switch (ingredient->kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
      return OG_LIQUID_TRIGLYCERIDE;
    case OG_KIND_ESTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ALCOHOL:
      return OG_LIQUID_ESTER;
    case OG_KIND_HYDROCARBON:
      return OG_LIQUID_HYDROCARBON;
    case OG_KIND_SILICONE:
      return OG_LIQUID_SILICONE;
    case OG_KIND_GELLING_AGENT:
      return OG_LIQUID_HYDROCARBON; /* those that are liquids are polymers of isobutene */
    case OG_KIND_WAX:
    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
    case OG_KIND_PEARL:
    case OG_KIND_POWDER:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
    case OG_N_KINDS:
    default:
      return OG_LIQUID_OTHER;
    }
}

/* Points of the user's own win over the prediction from the acids; those of the library entered
 * its fit. */
static gboolean
is_predicted_from_acids (const OgIngredient *ingredient)
{
  return og_ingredient_is_triglyceride (ingredient) && !ingredient->own_viscosity;
}

static gboolean
is_agent (const OgIngredient *ingredient)
{
  return ingredient->gelling.family != OG_GEL_NONE
         && ingredient->gelling.family != OG_GEL_VISCOUS_LIQUID;
}

static void
narrow_validity (OgBlend *blend,
                 double   low_c,
                 double   high_c)
{
  blend->low_c = fmax (blend->low_c, low_c);
  blend->high_c = fmin (blend->high_c, high_c);
}

static void
add_liquid (OgBlend            *blend,
            const OgIngredient *ingredient,
            const char         *id,
            double              fraction)
{
  OgBlendLiquid liquid = { .ingredient = ingredient, .id = id, .fraction = fraction };

  if (ingredient == NULL)
    {
      liquid.class = OG_LIQUID_OTHER;
      liquid.law = (OgViscosityLaw) { .type = OG_LAW_UNKNOWN, .a = 4.1, .sd = 2.0, .low_c = NAN, .high_c = NAN };
      liquid.variable = add_variable (blend, "liquid/", id, "");
    }
  else if (is_predicted_from_acids (ingredient))
    {
      liquid.class = OG_LIQUID_TRIGLYCERIDE;
      liquid.chains = og_chains_new (ingredient->profile);
      liquid.chains_sd = og_ingredient_has_tag (ingredient, "conjugated") ? CONJUGATED_SD : 0.0;
      liquid.variable = add_variable (blend, "oil/", id, "/sample");
      add_variable (blend, "oil/", id, "/slope");
      add_variable (blend, "oil/", id, "/acids");
      if (fraction > 0.0)
        narrow_validity (blend, liquid.chains->hydroxy > 0.1 ? blend->parameters->hydroxy_low_c
                                                             : blend->parameters->low_c,
                         blend->parameters->high_c);
    }
  else
    {
      liquid.class = class_of (ingredient);
      og_viscosity_law_fit (ingredient, &liquid.law);
      liquid.variable = add_variable (blend, "liquid/", id, "");
      if (isfinite (liquid.law.low_c) && fraction > 0.02)
        narrow_validity (blend, liquid.law.low_c, liquid.law.high_c);
    }
  g_array_append_val (blend->liquids, liquid);
  blend->liquid_fraction += fraction;
}

static void
add_agent (OgBlend            *blend,
           const OgIngredient *ingredient,
           double              fraction)
{
  OgBlendAgent agent = { .ingredient = ingredient, .fraction = fraction };

  og_gellant_init (&agent.gellant, ingredient, blend->parameters);
  g_array_append_val (blend->agents, agent);
}

static void
add_solid (OgBlend            *blend,
           const OgIngredient *ingredient,
           double              fraction)
{
  double density = og_ingredient_density (ingredient, OG_TEMPERATURE_TABLE_C);

  if (!isfinite (density))
    density = ASSUMED_SOLID_DENSITY_G_ML;
  blend->solid_fraction += fraction;
  blend->solid_volume_ml_g += fraction / density;
}

static int
compare_doubts (gconstpointer a,
                gconstpointer b)
{
  double difference = ((const OgBlendDoubt *) b)->fraction - ((const OgBlendDoubt *) a)->fraction;

  return (difference > 0.0) - (difference < 0.0);
}

static void
collect_doubts (OgBlend *blend)
{
  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const OgBlendLiquid *liquid = &g_array_index (blend->liquids, OgBlendLiquid, i);

      if (liquid->chains == NULL && liquid->law.type == OG_LAW_UNKNOWN && liquid->fraction > 0.0)
        {
          OgBlendDoubt doubt = { liquid->ingredient, liquid->id, liquid->fraction / blend->liquid_fraction };

          g_array_append_val (blend->doubts, doubt);
        }
    }
  g_array_sort (blend->doubts, compare_doubts);
}

static void
measure_liquid_density (OgBlend *blend)
{
  double volume = 0.0;

  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const OgBlendLiquid *liquid = &g_array_index (blend->liquids, OgBlendLiquid, i);
      double density
          = liquid->ingredient != NULL ? og_ingredient_density (liquid->ingredient, OG_TEMPERATURE_TABLE_C) : NAN;

      volume += liquid->fraction / (isfinite (density) ? density : OG_ASSUMED_DENSITY_G_ML);
    }
  blend->liquid_density_g_ml = volume > 0.0 ? blend->liquid_fraction / volume : OG_ASSUMED_DENSITY_G_ML;
}

/* The agent that has come furthest to its gel point. */
static void
choose_main_agent (OgBlend *blend)
{
  double furthest = -1.0;

  for (guint i = 0; i < blend->agents->len; i++)
    {
      const OgBlendAgent *agent = &g_array_index (blend->agents, OgBlendAgent, i);
      double reach = agent->fraction / agent->gellant.gel_point;

      if (reach > furthest)
        {
          furthest = reach;
          blend->main_agent = i;
          blend->main_share = blend->main_base = agent->fraction;
        }
    }
}

static void
add_shared_variables (OgBlend *blend)
{
  static const char *const knob_nick[OG_N_GEL_KNOBS]
      = { "/point", "/strength", "/thickening", "/association", "/exponent", "/temperature" };

  blend->hydroxy_variable = add_variable (blend, "hydroxy-blend", "", "");
  for (int i = 0; i < OG_N_LIQUID_CLASSES; i++)
    for (int j = i + 1; j < OG_N_LIQUID_CLASSES; j++)
      {
        g_autofree char *pair = g_strconcat (class_nick[i], "+", class_nick[j], NULL);

        blend->pair_variable[i][j] = add_variable (blend, "pair/", pair, "");
      }

  blend->first_agent_variable = add_variable (blend, "joint-network", "", "");
  for (guint i = 0; i < blend->agents->len; i++)
    {
      const OgBlendAgent *agent = &g_array_index (blend->agents, OgBlendAgent, i);

      for (int k = 0; k < OG_N_GEL_KNOBS; k++)
        add_variable (blend, "agent/", agent->ingredient->id, knob_nick[k]);
    }
}

static OgBlend *
blend_alloc (const OgParameters *parameters)
{
  OgBlend *blend = g_new0 (OgBlend, 1);

  blend->parameters = og_parameters_ref ((OgParameters *) parameters);
  blend->liquids = g_array_new (FALSE, TRUE, sizeof (OgBlendLiquid));
  g_array_set_clear_func (blend->liquids, liquid_clear);
  blend->agents = g_array_new (FALSE, TRUE, sizeof (OgBlendAgent));
  blend->doubts = g_array_new (FALSE, TRUE, sizeof (OgBlendDoubt));
  blend->variables = g_ptr_array_new_with_free_func (g_free);
  blend->low_c = -INFINITY;
  blend->high_c = INFINITY;
  for (int i = 0; i < OG_N_GLOBALS; i++)
    {
      g_autofree char *number = g_strdup_printf ("%d", i);

      add_variable (blend, "triglyceride/", number, "");
    }
  return blend;
}

static void
blend_finish (OgBlend *blend)
{
  add_shared_variables (blend);
  measure_liquid_density (blend);
  choose_main_agent (blend);
  collect_doubts (blend);
  blend->liquid.gradient = g_new0 (double, blend->variables->len);
  blend->agent_mean = g_new0 (double, og_blend_n_agent_variables (blend));
}

guint
og_blend_n_agent_variables (const OgBlend *blend)
{
  return blend->variables->len - blend->first_agent_variable;
}

static double
agent_covariance (const OgBlend *blend,
                  guint          i,
                  guint          j)
{
  const int *in_belief = blend->in_belief + blend->first_agent_variable;

  if (in_belief[i] < 0 || in_belief[j] < 0)
    return i == j;
  return og_belief_get_covariance (blend->belief, (guint) in_belief[i], (guint) in_belief[j]);
}

/* Where rounding has left the covariance without a Cholesky factor, what the variables know of each
 * other is dropped. */
static void
factor_covariance (OgBlend *blend)
{
  guint n = og_blend_n_agent_variables (blend);
  gsl_matrix_view covariance = gsl_matrix_view_array (blend->agent_factor, n, n);
  gboolean factored;

  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      blend->agent_factor[i * n + j] = agent_covariance (blend, i, j);
  factored = gsl_linalg_cholesky_decomp1 (&covariance.matrix) == GSL_SUCCESS;
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      if (j > i || (!factored && j < i))
        blend->agent_factor[i * n + j] = 0.0;
      else if (!factored)
        blend->agent_factor[i * n + i] = sqrt (fmax (LEAST_VARIANCE, agent_covariance (blend, i, i)));
}

/* Mean and Cholesky factor of what is known about the agent variables. */
static void
learn_agents (OgBlend *blend)
{
  guint n = og_blend_n_agent_variables (blend);
  const int *in_belief = blend->in_belief + blend->first_agent_variable;

  blend->agent_factor = g_new0 (double, n * n);
  for (guint i = 0; i < n; i++)
    if (in_belief[i] >= 0)
      {
        blend->agent_mean[i] = og_belief_get_mean (blend->belief, (guint) in_belief[i]);
        blend->agents_learned = TRUE;
      }
  factor_covariance (blend);
}

void
og_blend_set_belief (OgBlend  *blend,
                     OgBelief *belief)
{
  guint n = blend->variables->len;

  g_return_if_fail (blend->belief == NULL);

  blend->belief = og_belief_ref (belief);
  blend->in_belief = g_new (int, n);
  for (guint i = 0; i < n; i++)
    blend->in_belief[i] = og_belief_find (belief, g_ptr_array_index (blend->variables, i));
  learn_agents (blend);
}

OgBlend *
og_blend_new (GPtrArray          *contents,
              const OgParameters *parameters)
{
  OgBlend *blend;

  g_return_val_if_fail (contents != NULL, NULL);
  g_return_val_if_fail (parameters != NULL, NULL);

  blend = blend_alloc (parameters);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient == NULL)
        add_liquid (blend, NULL, content->ingredient_id, content->fraction);
      else if (is_agent (content->ingredient))
        add_agent (blend, content->ingredient, content->fraction);
      else if (og_ingredient_is_suspended (content->ingredient))
        add_solid (blend, content->ingredient, content->fraction);
      else
        add_liquid (blend, content->ingredient, content->ingredient->id, content->fraction);
    }
  blend_finish (blend);
  return blend;
}

OgBlend *
og_blend_new_for_profile (const OgProfile    *profile,
                          const OgParameters *parameters)
{
  OgBlend *blend = blend_alloc (parameters);
  OgBlendLiquid liquid = { .id = "profile", .fraction = 1.0, .class = OG_LIQUID_TRIGLYCERIDE };

  liquid.chains = og_chains_new (profile);
  liquid.variable = add_variable (blend, "oil/profile", "", "/sample");
  add_variable (blend, "oil/profile", "", "/slope");
  add_variable (blend, "oil/profile", "", "/acids");
  g_array_append_val (blend->liquids, liquid);
  blend->liquid_fraction = 1.0;
  blend_finish (blend);
  return blend;
}

gboolean
og_blend_is_learned (const OgBlend *blend)
{
  if (blend->belief == NULL)
    return FALSE;
  for (guint i = OG_N_GLOBALS; i < blend->hydroxy_variable; i++)
    if (blend->in_belief[i] >= 0)
      return TRUE;
  return blend->agents_learned;
}

void
og_blend_free (OgBlend *blend)
{
  if (blend == NULL)
    return;
  if (blend->nodes != NULL)
    {
      g_free (blend->nodes->xi);
      g_free (blend->nodes->knobs);
      g_free (blend->nodes);
    }
  g_clear_pointer (&blend->belief, og_belief_unref);
  g_free (blend->in_belief);
  g_free (blend->agent_mean);
  g_free (blend->agent_factor);
  g_free (blend->liquid.gradient);
  g_array_unref (blend->liquids);
  g_array_unref (blend->agents);
  g_array_unref (blend->doubts);
  g_ptr_array_unref (blend->variables);
  og_parameters_unref (blend->parameters);
  g_free (blend);
}

gboolean
og_blend_flows (const OgBlend *blend)
{
  return blend->liquid_fraction > 0.0;
}

guint
og_blend_get_n_agents (const OgBlend *blend)
{
  return blend->agents->len;
}

/* Factor on everything but the main agent. */
static double
rest_scale (const OgBlend *blend)
{
  if (blend->agents->len == 0 || blend->main_base >= 1.0)
    return 1.0;
  return (1.0 - blend->main_share) / (1.0 - blend->main_base);
}

/* Mass fraction of agent @index in oil and agents. */
static double
agent_in_oil (const OgBlend *blend,
              guint          index)
{
  const OgBlendAgent *agent = &g_array_index (blend->agents, OgBlendAgent, index);
  double scale = rest_scale (blend);
  double share = index == blend->main_agent ? blend->main_share : agent->fraction * scale;

  return share / (1.0 - blend->solid_fraction * scale);
}

static OgBlendAgent *
main_agent (const OgBlend *blend)
{
  if (blend->agents->len == 0)
    return NULL;
  return &g_array_index (blend->agents, OgBlendAgent, blend->main_agent);
}

const char *
og_blend_get_main_agent (const OgBlend *blend)
{
  const OgBlendAgent *agent = main_agent (blend);

  return agent != NULL ? agent->ingredient->id : NULL;
}

guint
og_blend_get_main_index (const OgBlend *blend)
{
  return blend->main_agent;
}

const OgGellant *
og_blend_get_main_gellant (const OgBlend *blend)
{
  const OgBlendAgent *agent = main_agent (blend);

  return agent != NULL ? &agent->gellant : NULL;
}

void
og_blend_describe_agent (const OgBlend *blend,
                         guint          index,
                         OgAgentState  *state)
{
  const OgBlendAgent *agent = &g_array_index (blend->agents, OgBlendAgent, index);
  double w = agent_in_oil (blend, index);
  OgGelKnobs knobs;
  OgGelResponse response;

  og_gellant_turn (&agent->gellant, blend->agent_mean + 1 + index * OG_N_GEL_KNOBS, &knobs);
  og_gellant_respond (&agent->gellant, w, OG_TEMPERATURE_ROOM_C, blend->liquid_density_g_ml, &knobs, &response);
  *state = (OgAgentState) {
    .ingredient_id = g_strdup (agent->ingredient->id),
    .share_pct = 100.0 * agent->fraction,
    .gel_point_pct = 100.0 * agent->gellant.gel_point * knobs.factor[OG_GEL_KNOB_POINT],
    .clears_c = og_gellant_clears_c (&agent->gellant, w),
    .sets_c = og_gellant_sets_c (&agent->gellant, w),
    .network = response.network,
  };
}

double
og_blend_get_gel_point (const OgBlend *blend)
{
  const OgBlendAgent *agent = main_agent (blend);
  OgGelKnobs knobs;

  if (agent == NULL)
    return NAN;
  og_gellant_turn (&agent->gellant, blend->agent_mean + 1 + blend->main_agent * OG_N_GEL_KNOBS, &knobs);
  return agent->gellant.gel_point * knobs.factor[OG_GEL_KNOB_POINT];
}

double
og_blend_get_built_share (const OgBlend *blend)
{
  return blend->main_base;
}

void
og_blend_set_main_share (OgBlend *blend,
                         double   share)
{
  g_return_if_fail (blend->agents->len > 0);
  g_return_if_fail (share >= 0.0 && (share < 1.0 || share == blend->main_base));

  if (share == blend->main_share)
    return;
  blend->main_share = share;
  if (blend->nodes != NULL)
    blend->nodes->ready = FALSE;
}

/* Krieger-Dougherty factor of the suspended powders. */
double
og_blend_suspension (const OgBlend *blend)
{
  double scale = rest_scale (blend);
  double solid_ml = blend->solid_volume_ml_g * scale;
  double carrier_ml = (1.0 - blend->solid_fraction * scale) / blend->liquid_density_g_ml;

  return solid_ml > 0.0 ? og_krieger_dougherty (solid_ml / (solid_ml + carrier_ml)) : 1.0;
}

/* Adds the triglycerides: log rule over chain-mole fractions in their pool of mass fraction
 * @pool. */
static void
add_triglycerides (OgBlend *blend,
                   double   t_k,
                   double   pool_fraction)
{
  OgBlendLiquidState *state = &blend->liquid;
  const OgParameters *parameters = blend->parameters;
  double u = og_reciprocal_temperature (t_k);
  double pool_mol = 0.0, pool_hydroxy = 0.0, own_interaction = 0.0;
  double weight = pool_fraction / blend->liquid_fraction;

  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const OgBlendLiquid *liquid = &g_array_index (blend->liquids, OgBlendLiquid, i);

      if (liquid->chains != NULL)
        pool_mol += liquid->fraction * liquid->chains->mol_per_g;
    }
  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const OgBlendLiquid *liquid = &g_array_index (blend->liquids, OgBlendLiquid, i);
      double gradient[OG_N_GLOBALS];
      double x, share;

      if (liquid->chains == NULL || liquid->fraction <= 0.0)
        continue;
      x = liquid->fraction * liquid->chains->mol_per_g / pool_mol;
      share = weight * x;
      state->ln_eta += share * og_chains_ln_viscosity (liquid->chains, parameters, t_k, gradient);
      for (int k = 0; k < OG_N_GLOBALS; k++)
        state->gradient[k] += share * gradient[k];
      state->gradient[liquid->variable] = share * parameters->sample_sd;
      state->gradient[liquid->variable + 1] = share * parameters->sample_slope_sd * u;
      state->gradient[liquid->variable + 2]
          = share * hypot (liquid->chains_sd, og_chains_spread (liquid->chains, t_k));
      pool_hydroxy += x * liquid->chains->hydroxy;
      own_interaction += x * liquid->chains->hydroxy * (1.0 - liquid->chains->hydroxy);
    }
  state->gradient[blend->hydroxy_variable]
      = weight * INTERACTION_SD * (pool_hydroxy * (1.0 - pool_hydroxy) - own_interaction);
}

static void
add_other_liquids (OgBlend *blend,
                   double   temperature_c,
                   double   class_fraction[OG_N_LIQUID_CLASSES])
{
  OgBlendLiquidState *state = &blend->liquid;

  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const OgBlendLiquid *liquid = &g_array_index (blend->liquids, OgBlendLiquid, i);
      double share = liquid->fraction / blend->liquid_fraction;

      class_fraction[liquid->class] += share;
      if (liquid->chains != NULL || share <= 0.0)
        continue;
      state->ln_eta += share * og_viscosity_law_ln (&liquid->law, temperature_c);
      state->gradient[liquid->variable] = share * og_viscosity_law_sd (&liquid->law, temperature_c);
    }
}

/* Mean and variance of ln eta over what is believed of the liquid's variables. */
static void
weigh_lessons (OgBlend *blend)
{
  OgBlendLiquidState *state = &blend->liquid;

  state->lesson = state->variance = 0.0;
  for (guint i = 0; i < blend->first_agent_variable; i++)
    {
      int at = blend->in_belief != NULL ? blend->in_belief[i] : -1;

      if (state->gradient[i] == 0.0)
        continue;
      if (at < 0)
        {
          state->variance += state->gradient[i] * state->gradient[i];
          continue;
        }
      state->lesson += state->gradient[i] * og_belief_get_mean (blend->belief, (guint) at);
      for (guint j = 0; j < blend->first_agent_variable; j++)
        if (blend->in_belief[j] >= 0)
          state->variance += state->gradient[i] * state->gradient[j]
                             * og_belief_get_covariance (blend->belief, (guint) at,
                                                         (guint) blend->in_belief[j]);
    }
}

void
og_blend_prepare_liquid (OgBlend *blend,
                double   temperature_c)
{
  OgBlendLiquidState *state = &blend->liquid;
  double class_fraction[OG_N_LIQUID_CLASSES] = { 0.0 };
  double pool = 0.0;

  if (state->ready && state->temperature_c == temperature_c)
    return;
  memset (state->gradient, 0, blend->variables->len * sizeof (double));
  state->ln_eta = 0.0;
  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const OgBlendLiquid *liquid = &g_array_index (blend->liquids, OgBlendLiquid, i);

      if (liquid->chains != NULL)
        pool += liquid->fraction;
    }
  if (pool > 0.0)
    add_triglycerides (blend, og_kelvin (temperature_c), pool);
  add_other_liquids (blend, temperature_c, class_fraction);
  for (int i = 0; i < OG_N_LIQUID_CLASSES; i++)
    for (int j = i + 1; j < OG_N_LIQUID_CLASSES; j++)
      state->gradient[blend->pair_variable[i][j]]
          = INTERACTION_SD * class_fraction[i] * class_fraction[j];

  weigh_lessons (blend);
  state->temperature_c = temperature_c;
  state->ready = TRUE;
}

/* All agents together for one setting of their constants. */
void
og_blend_respond (const OgBlend    *blend,
             double            temperature_c,
             const OgGelKnobs *knobs,
             double            joint,
             OgGelResponse    *total)
{
  double network = 0.0, yield_variance = 0.0;
  guint active = 0;

  *total = (OgGelResponse) { .thickening = 1.0 };
  for (guint i = 0; i < blend->agents->len; i++)
    {
      const OgBlendAgent *agent = &g_array_index (blend->agents, OgBlendAgent, i);
      OgGelResponse one;

      og_gellant_respond (&agent->gellant, agent_in_oil (blend, i), temperature_c,
                          blend->liquid_density_g_ml, &knobs[i], &one);
      total->thickening *= one.thickening;
      total->association += one.association;
      total->yield_pa += one.yield_pa;
      yield_variance += one.yield_pa * one.yield_ln_sd * one.yield_pa * one.yield_ln_sd;
      total->flow_index += one.network * one.flow_index;
      network += one.network;
      active += one.network > 0.0;
    }
  if (total->yield_pa > 0.0)
    total->yield_ln_sd = sqrt (yield_variance) / total->yield_pa;
  total->network = network;
  total->flow_index = network > 0.0 ? total->flow_index / network : 0.5;
  if (active > 1)
    {
      total->association *= joint;
      total->yield_pa *= joint;
    }
}

void
og_blend_respond_to (const OgBlend *blend,
                     double         temperature_c,
                     const double  *z,
                     OgGelResponse *total)
{
  const double *turn = z != NULL ? z : blend->agent_mean;
  g_autofree OgGelKnobs *knobs = g_new (OgGelKnobs, blend->agents->len);

  for (guint i = 0; i < blend->agents->len; i++)
    og_gellant_turn (&g_array_index (blend->agents, OgBlendAgent, i).gellant,
                     turn + 1 + i * OG_N_GEL_KNOBS, &knobs[i]);
  og_blend_respond (blend, temperature_c, knobs, exp (OG_JOINT_NETWORK_SD * turn[0]), total);
}

double
og_blend_ln_viscosity (OgBlend      *blend,
                       double        temperature_c,
                       double        shear_rate_1_s,
                       const double *z)
{
  double ln_liquid, eta_0;
  OgGelResponse total;

  g_return_val_if_fail (og_blend_flows (blend), NAN);

  og_blend_prepare_liquid (blend, temperature_c);
  ln_liquid = blend->liquid.ln_eta;
  if (z == NULL)
    ln_liquid += blend->liquid.lesson;
  else
    for (guint i = 0; i < blend->first_agent_variable; i++)
      ln_liquid += blend->liquid.gradient[i] * z[i];
  eta_0 = exp (ln_liquid) * og_blend_suspension (blend);
  if (blend->agents->len == 0)
    return log (eta_0);

  og_blend_respond_to (blend, temperature_c, z != NULL ? z + blend->first_agent_variable : NULL, &total);
  return log (og_gel_flow (eta_0 * total.thickening, total.association, total.yield_pa,
                           total.flow_index, shear_rate_1_s));
}

double
og_blend_typical_yield (const OgBlend *blend,
                        double         temperature_c)
{
  OgGelResponse total;

  if (!og_blend_flows (blend))
    return NAN;
  og_blend_respond_to (blend, temperature_c, NULL, &total);
  return total.yield_pa;
}

guint
og_blend_get_n_variables (const OgBlend *blend)
{
  return blend->variables->len;
}

const char *
og_blend_get_variable (const OgBlend *blend,
                       guint          index)
{
  g_return_val_if_fail (index < blend->variables->len, NULL);

  return g_ptr_array_index (blend->variables, index);
}

const GArray *
og_blend_get_doubts (const OgBlend *blend)
{
  return blend->doubts;
}

void
og_blend_get_validity (const OgBlend *blend,
                       double        *low_c,
                       double        *high_c)
{
  *low_c = isfinite (blend->low_c) ? blend->low_c : NAN;
  *high_c = isfinite (blend->high_c) ? blend->high_c : NAN;
}

double
og_blend_get_liquid_density (const OgBlend *blend)
{
  return blend->liquid_density_g_ml;
}
