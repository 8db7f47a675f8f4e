/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/blend.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_roots.h>

#include "core/triglyceride.h"
#include "core/viscosity-law.h"

#define Q80 1.2815515655446004
#define ROOM_C 25.0
#define ASSUMED_DENSITY_G_ML 0.92
#define ASSUMED_SOLID_DENSITY_G_ML 3.0

/* Interaction of unlike liquids: ln eta gains w_i w_j G with G = 0 and this standard deviation. The published rules
 * differ by 13 % for an equal blend of unlike oils (quarter of G), hence 0.5. */
#define INTERACTION_SD 0.5
/* Two agents in one oil: their joint network is not the sum of both. Judgement. */
#define JOINT_NETWORK_SD 0.5

/* ln eta is far from linear in most constants of an agent near its gel point, so the band is taken over this many fixed
 * quasi-random settings of them. Given a setting, the liquid and the strength of the network are lognormal. */
#define N_NODES 256
#define N_SPREAD 5u
#define LEAST_YIELD_PA 1e-3
#define PHI_STEPS 1024
#define PHI_REACH 6.0
#define SQRT3 1.7320508075688772

/* Conjugated acids thicken far beyond every published relation: a tung-type oil reads about 4 times what its ordinary
 * twin does (Rescorla & Carnahan 1936). Judgement. */
#define CONJUGATED_SD 0.7

typedef enum
{
  CLASS_TRIGLYCERIDE,
  CLASS_ESTER,
  CLASS_HYDROCARBON,
  CLASS_SILICONE,
  CLASS_OTHER,
  N_CLASSES
} LiquidClass;

static const char *const class_nick[N_CLASSES]
    = { "triglyceride", "ester", "hydrocarbon", "silicone", "other" };

typedef struct
{
  const OgIngredient *ingredient; /* NULL for a bare profile or an unknown id */
  const char *id;
  double fraction;   /* of the recipe */
  LiquidClass class;
  OgChains *chains;  /* triglycerides only */
  double chains_sd;  /* beyond what the ranges of the acids say */
  OgViscosityLaw law; /* all others */
  guint variable;    /* first own variable */
} Liquid;

typedef struct
{
  const OgIngredient *ingredient;
  double fraction; /* of the recipe */
  OgGellant gellant;
  guint variable;
} Agent;

/* The liquid at one temperature. */
typedef struct
{
  gboolean ready;
  double temperature_c;
  double ln_eta;
  double variance;
  double *gradient; /* by every variable; 0 for those of the agents */
} LiquidState;

/* The agents' common response at every node, at one temperature and composition. */
typedef struct
{
  gboolean ready;
  double temperature_c;
  OgGelKnobs *knobs;  /* N_NODES x agents */
  double *joint;      /* N_NODES factors on the common network */
  double thickening[N_NODES];
  double association[N_NODES];
  double yield_pa[N_NODES];
  double yield_ln_sd[N_NODES];
  double yield_spread[N_NODES]; /* exp (sqrt 3 sd): the outer Gauss-Hermite points */
  double phi[PHI_STEPS + 1]; /* normal distribution, -PHI_REACH ... PHI_REACH */
} NodeState;

struct _OgBlend
{
  OgParameters *parameters;
  GArray *liquids; /* of Liquid */
  GArray *agents;  /* of Agent */
  GArray *doubts;  /* of OgBlendDoubt */
  GPtrArray *variables;
  guint hydroxy_variable;
  guint pair_variable[N_CLASSES][N_CLASSES];
  guint joint_variable;
  guint first_agent_variable;
  guint main_agent;
  double liquid_fraction, agent_fraction, solid_fraction;
  double solid_volume_ml_g; /* volume of solids in a gram of recipe */
  double liquid_density_g_ml;
  double main_share;   /* of the recipe, as set */
  double main_base;    /* as built */
  double low_c, high_c;
  LiquidState liquid;
  NodeState *nodes; /* NULL until a band is asked for */
};

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
  Liquid *liquid = data;

  g_clear_pointer (&liquid->chains, og_chains_free);
}

static LiquidClass
class_of (const OgIngredient *ingredient)
{
  switch (ingredient->kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
      return CLASS_TRIGLYCERIDE;
    case OG_KIND_ESTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ALCOHOL:
      return CLASS_ESTER;
    case OG_KIND_HYDROCARBON:
      return CLASS_HYDROCARBON;
    case OG_KIND_SILICONE:
      return CLASS_SILICONE;
    case OG_KIND_GELLING_AGENT:
      return CLASS_HYDROCARBON; /* those that are liquids are polymers of isobutene */
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
      return CLASS_OTHER;
    }
}

/* Points of the user's own win over the prediction from the acids; those of the library entered its fit. */
static gboolean
is_predicted_from_acids (const OgIngredient *ingredient)
{
  gboolean own_points = ingredient->derived_from != NULL && ingredient->viscosity->len > 0
                        && json_object_has_member (ingredient->definition, "viscosity");

  return og_ingredient_is_triglyceride (ingredient) && !own_points;
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
  Liquid liquid = { .ingredient = ingredient, .id = id, .fraction = fraction };

  if (ingredient == NULL)
    {
      liquid.class = CLASS_OTHER;
      liquid.law = (OgViscosityLaw) { .type = OG_LAW_UNKNOWN, .a = 4.1, .sd = 2.0, .low_c = NAN, .high_c = NAN };
      liquid.variable = add_variable (blend, "liquid/", id, "");
    }
  else if (is_predicted_from_acids (ingredient))
    {
      liquid.class = CLASS_TRIGLYCERIDE;
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
  Agent agent = { .ingredient = ingredient, .fraction = fraction };

  og_gellant_init (&agent.gellant, ingredient);
  g_array_append_val (blend->agents, agent);
  blend->agent_fraction += fraction;
}

static void
add_solid (OgBlend            *blend,
           const OgIngredient *ingredient,
           double              fraction)
{
  double density = og_ingredient_density (ingredient, ROOM_C);

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
      const Liquid *liquid = &g_array_index (blend->liquids, Liquid, i);

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
      const Liquid *liquid = &g_array_index (blend->liquids, Liquid, i);
      double density
          = liquid->ingredient != NULL ? og_ingredient_density (liquid->ingredient, ROOM_C) : NAN;

      volume += liquid->fraction / (isfinite (density) ? density : ASSUMED_DENSITY_G_ML);
    }
  blend->liquid_density_g_ml = volume > 0.0 ? blend->liquid_fraction / volume : ASSUMED_DENSITY_G_ML;
}

/* The agent that has come furthest to its gel point. */
static void
choose_main_agent (OgBlend *blend)
{
  double furthest = -1.0;

  for (guint i = 0; i < blend->agents->len; i++)
    {
      const Agent *agent = &g_array_index (blend->agents, Agent, i);
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
  for (int i = 0; i < N_CLASSES; i++)
    for (int j = i + 1; j < N_CLASSES; j++)
      {
        g_autofree char *pair = g_strconcat (class_nick[i], "+", class_nick[j], NULL);

        blend->pair_variable[i][j] = add_variable (blend, "pair/", pair, "");
      }
  blend->joint_variable = add_variable (blend, "joint-network", "", "");

  blend->first_agent_variable = blend->variables->len;
  for (guint i = 0; i < blend->agents->len; i++)
    {
      Agent *agent = &g_array_index (blend->agents, Agent, i);

      agent->variable = blend->variables->len;
      for (int k = 0; k < OG_N_GEL_KNOBS; k++)
        add_variable (blend, "agent/", agent->ingredient->id, knob_nick[k]);
    }
}

/* Quasi-random settings of the agents' constants: Sobol points through the normal distribution. */
static void
spread_nodes (OgBlend *blend)
{
  static const OgGelKnob spread[N_SPREAD]
      = { OG_GEL_KNOB_POINT, OG_GEL_KNOB_ASSOCIATION, OG_GEL_KNOB_THICKENING, OG_GEL_KNOB_EXPONENT,
          OG_GEL_KNOB_TEMPERATURE };
  guint n_agents = blend->agents->len;
  guint dimensions = MIN (n_agents * N_SPREAD + 1, 40);
  double point[40];
  NodeState *nodes;
  gsl_qrng *sobol;

  nodes = blend->nodes = g_new0 (NodeState, 1);
  nodes->knobs = g_new (OgGelKnobs, N_NODES * n_agents);
  nodes->joint = g_new (double, N_NODES);
  sobol = gsl_qrng_alloc (gsl_qrng_sobol, dimensions);
  for (guint i = 0; i < N_NODES; i++)
    {
      gsl_qrng_get (sobol, point);
      for (guint a = 0; a < n_agents; a++)
        {
          double z[OG_N_GEL_KNOBS] = { 0.0 };

          for (guint k = 0; k < N_SPREAD; k++)
            if (a * N_SPREAD + k < dimensions - 1)
              z[spread[k]] = gsl_cdf_ugaussian_Pinv (point[a * N_SPREAD + k]);
          og_gellant_turn (&g_array_index (blend->agents, Agent, a).gellant, z,
                           &nodes->knobs[i * n_agents + a]);
        }
      nodes->joint[i] = exp (JOINT_NETWORK_SD * gsl_cdf_ugaussian_Pinv (point[dimensions - 1]));
    }
  gsl_qrng_free (sobol);
  for (int i = 0; i <= PHI_STEPS; i++)
    nodes->phi[i] = gsl_cdf_ugaussian_P (PHI_REACH * (2.0 * i / PHI_STEPS - 1.0));
}

static OgBlend *
blend_alloc (const OgParameters *parameters)
{
  OgBlend *blend = g_new0 (OgBlend, 1);

  blend->parameters = og_parameters_ref ((OgParameters *) parameters);
  blend->liquids = g_array_new (FALSE, TRUE, sizeof (Liquid));
  g_array_set_clear_func (blend->liquids, liquid_clear);
  blend->agents = g_array_new (FALSE, TRUE, sizeof (Agent));
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
  Liquid liquid = { .id = "profile", .fraction = 1.0, .class = CLASS_TRIGLYCERIDE };

  liquid.chains = og_chains_new (profile);
  liquid.variable = add_variable (blend, "oil/profile", "", "/sample");
  add_variable (blend, "oil/profile", "", "/slope");
  add_variable (blend, "oil/profile", "", "/acids");
  g_array_append_val (blend->liquids, liquid);
  blend->liquid_fraction = 1.0;
  blend_finish (blend);
  return blend;
}

void
og_blend_free (OgBlend *blend)
{
  if (blend == NULL)
    return;
  if (blend->nodes != NULL)
    {
      g_free (blend->nodes->knobs);
      g_free (blend->nodes->joint);
      g_free (blend->nodes);
    }
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

static Agent *
main_agent (const OgBlend *blend)
{
  if (blend->agents->len == 0)
    return NULL;
  return &g_array_index (blend->agents, Agent, blend->main_agent);
}

const char *
og_blend_get_main_agent (const OgBlend *blend)
{
  const Agent *agent = main_agent (blend);

  return agent != NULL ? agent->ingredient->id : NULL;
}

const OgGellant *
og_blend_get_main_gellant (const OgBlend *blend)
{
  const Agent *agent = main_agent (blend);

  return agent != NULL ? &agent->gellant : NULL;
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
  g_return_if_fail (share >= 0.0 && share < 1.0);

  if (share == blend->main_share)
    return;
  blend->main_share = share;
  if (blend->nodes != NULL)
    blend->nodes->ready = FALSE;
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
  const Agent *agent = &g_array_index (blend->agents, Agent, index);
  double scale = rest_scale (blend);
  double share = index == blend->main_agent ? blend->main_share : agent->fraction * scale;

  return share / (1.0 - blend->solid_fraction * scale);
}

/* Krieger-Dougherty factor of the suspended powders. */
static double
suspension_factor (const OgBlend *blend)
{
  double scale = rest_scale (blend);
  double solid_ml = blend->solid_volume_ml_g * scale;
  double carrier_ml = (1.0 - blend->solid_fraction * scale) / blend->liquid_density_g_ml;

  return solid_ml > 0.0 ? og_krieger_dougherty (solid_ml / (solid_ml + carrier_ml)) : 1.0;
}

/* Adds the triglycerides: log rule over chain-mole fractions in their pool of mass fraction @pool. */
static void
add_triglycerides (OgBlend *blend,
                   double   t_k,
                   double   pool_fraction)
{
  LiquidState *state = &blend->liquid;
  const OgParameters *parameters = blend->parameters;
  double u = og_reciprocal_temperature (t_k);
  double pool_mol = 0.0, pool_hydroxy = 0.0, own_interaction = 0.0;
  double weight = pool_fraction / blend->liquid_fraction;

  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const Liquid *liquid = &g_array_index (blend->liquids, Liquid, i);

      if (liquid->chains != NULL)
        pool_mol += liquid->fraction * liquid->chains->mol_per_g;
    }
  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const Liquid *liquid = &g_array_index (blend->liquids, Liquid, i);
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
                   double   class_fraction[N_CLASSES])
{
  LiquidState *state = &blend->liquid;

  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const Liquid *liquid = &g_array_index (blend->liquids, Liquid, i);
      double share = liquid->fraction / blend->liquid_fraction;

      class_fraction[liquid->class] += share;
      if (liquid->chains != NULL || share <= 0.0)
        continue;
      state->ln_eta += share * og_viscosity_law_ln (&liquid->law, temperature_c);
      state->gradient[liquid->variable] = share * og_viscosity_law_sd (&liquid->law, temperature_c);
    }
}

static void
prepare_liquid (OgBlend *blend,
                double   temperature_c)
{
  LiquidState *state = &blend->liquid;
  double class_fraction[N_CLASSES] = { 0.0 };
  double pool = 0.0;

  if (state->ready && state->temperature_c == temperature_c)
    return;
  memset (state->gradient, 0, blend->variables->len * sizeof (double));
  state->ln_eta = 0.0;
  for (guint i = 0; i < blend->liquids->len; i++)
    {
      const Liquid *liquid = &g_array_index (blend->liquids, Liquid, i);

      if (liquid->chains != NULL)
        pool += liquid->fraction;
    }
  if (pool > 0.0)
    add_triglycerides (blend, og_kelvin (temperature_c), pool);
  add_other_liquids (blend, temperature_c, class_fraction);
  for (int i = 0; i < N_CLASSES; i++)
    for (int j = i + 1; j < N_CLASSES; j++)
      state->gradient[blend->pair_variable[i][j]]
          = INTERACTION_SD * class_fraction[i] * class_fraction[j];

  state->variance = 0.0;
  for (guint i = 0; i < blend->variables->len; i++)
    state->variance += state->gradient[i] * state->gradient[i];
  state->temperature_c = temperature_c;
  state->ready = TRUE;
}

/* All agents together for one setting of their constants. */
static void
respond_all (const OgBlend    *blend,
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
      const Agent *agent = &g_array_index (blend->agents, Agent, i);
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

/* The typical agents, or those turned by the agent variables of @z. */
static void
respond_to (const OgBlend *blend,
            double         temperature_c,
            const double  *z,
            OgGelResponse *total)
{
  g_autofree OgGelKnobs *knobs = g_new (OgGelKnobs, blend->agents->len);

  for (guint i = 0; i < blend->agents->len; i++)
    {
      const Agent *agent = &g_array_index (blend->agents, Agent, i);

      og_gellant_turn (&agent->gellant, z != NULL ? z + agent->variable : NULL, &knobs[i]);
    }
  respond_all (blend, temperature_c, knobs,
               z != NULL ? exp (JOINT_NETWORK_SD * z[blend->joint_variable]) : 1.0, total);
}

static void
prepare_nodes (OgBlend *blend,
               double   temperature_c)
{
  NodeState *nodes;

  if (blend->nodes == NULL)
    spread_nodes (blend);
  nodes = blend->nodes;
  if (nodes->ready && nodes->temperature_c == temperature_c)
    return;
  for (guint i = 0; i < N_NODES; i++)
    {
      OgGelResponse total;

      respond_all (blend, temperature_c, &nodes->knobs[i * blend->agents->len], nodes->joint[i], &total);
      nodes->thickening[i] = total.thickening;
      nodes->association[i] = total.association;
      nodes->yield_pa[i] = total.yield_pa;
      nodes->yield_ln_sd[i] = total.yield_ln_sd;
      nodes->yield_spread[i] = exp (SQRT3 * total.yield_ln_sd);
    }
  nodes->temperature_c = temperature_c;
  nodes->ready = TRUE;
}

/* A mixture of equally likely normal distributions of ln eta, and its quantiles. */
typedef struct
{
  const double *phi;
  double mean[N_NODES], sd[N_NODES];
  double probability;
} Mixture;

static double
phi_lookup (const double *phi,
            double        z)
{
  double position = (z / PHI_REACH + 1.0) * (PHI_STEPS / 2);
  int i;

  if (position <= 0.0)
    return 0.0;
  if (position >= PHI_STEPS)
    return 1.0;
  i = (int) position;
  return phi[i] + (position - i) * (phi[i + 1] - phi[i]);
}

static double
mixture_excess (double   x,
                gpointer user_data)
{
  const Mixture *mixture = user_data;
  double sum = 0.0;

  for (guint i = 0; i < N_NODES; i++)
    sum += phi_lookup (mixture->phi, (x - mixture->mean[i]) / mixture->sd[i]);
  return sum / N_NODES - mixture->probability;
}

static double
mixture_quantile (Mixture *mixture,
                  double   probability)
{
  gsl_function function = { .function = mixture_excess, .params = mixture };
  gsl_root_fsolver *solver;
  double low = INFINITY, high = -INFINITY, x;

  mixture->probability = probability;
  for (guint i = 0; i < N_NODES; i++)
    {
      double reach = gsl_cdf_ugaussian_Pinv (probability) * mixture->sd[i];

      low = fmin (low, mixture->mean[i] + reach);
      high = fmax (high, mixture->mean[i] + reach);
    }
  if (high - low < 1e-6)
    return 0.5 * (low + high);

  solver = gsl_root_fsolver_alloc (gsl_root_fsolver_brent);
  gsl_root_fsolver_set (solver, &function, low - 1e-9, high + 1e-9);
  do
    gsl_root_fsolver_iterate (solver);
  while (gsl_root_test_interval (gsl_root_fsolver_x_lower (solver), gsl_root_fsolver_x_upper (solver),
                                 1e-3, 0.0)
         == GSL_CONTINUE);
  x = gsl_root_fsolver_root (solver);
  gsl_root_fsolver_free (solver);
  return x;
}

static OgEstimate
estimate_from_normal (double ln_eta,
                      double variance)
{
  double half = Q80 * sqrt (variance);

  return (OgEstimate) { exp (ln_eta), exp (ln_eta - half), exp (ln_eta + half) };
}

static const OgEstimate unknown = { NAN, NAN, NAN };

/* What a rate makes of association and of one pascal of yield stress, mPa.s. */
static void
flow_factors (double  flow_index,
              double  shear_rate_1_s,
              double *association_factor,
              double *yield_factor)
{
  *association_factor = og_gel_flow (1.0, 1.0, 0.0, flow_index, shear_rate_1_s) - 1.0;
  *yield_factor = og_gel_flow (0.0, 0.0, 1.0, flow_index, shear_rate_1_s);
}

/* Mean and standard deviation of ln (floor + structure), both lognormal: linear in the floor, three-point Gauss-Hermite
 * over the structure. */
static void
match_moments (double  floor,
               double  floor_sd,
               double  structure,
               double  spread,
               double *mean,
               double *sd)
{
  double low, middle, high, share, m, variance;

  if (structure <= 0.0)
    {
      *mean = log (floor);
      *sd = fmax (1e-6, floor_sd);
      return;
    }
  low = log (floor + structure / spread);
  middle = log (floor + structure);
  high = log (floor + structure * spread);
  share = floor / (floor + structure);
  m = (low + 4.0 * middle + high) / 6.0;
  variance = ((low - m) * (low - m) + 4.0 * (middle - m) * (middle - m) + (high - m) * (high - m)) / 6.0;

  *mean = m;
  *sd = fmax (1e-6, sqrt (variance + share * floor_sd * share * floor_sd));
}

OgEstimate
og_blend_viscosity (OgBlend *blend,
                    double   temperature_c,
                    double   shear_rate_1_s)
{
  double eta_0, association_factor, yield_factor, typical;
  OgGelResponse response;
  Mixture mixture;
  OgEstimate estimate;

  if (!og_blend_flows (blend))
    return unknown;
  prepare_liquid (blend, temperature_c);
  typical = og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, NULL);
  if (blend->agents->len == 0)
    return estimate_from_normal (typical, blend->liquid.variance);

  prepare_nodes (blend, temperature_c);
  respond_to (blend, temperature_c, NULL, &response);
  flow_factors (response.flow_index, shear_rate_1_s, &association_factor, &yield_factor);
  eta_0 = exp (blend->liquid.ln_eta) * suspension_factor (blend);
  mixture.phi = blend->nodes->phi;
  for (guint i = 0; i < N_NODES; i++)
    {
      double floor = eta_0 * blend->nodes->thickening[i]
                     * (1.0 + blend->nodes->association[i] * association_factor);

      match_moments (floor, sqrt (blend->liquid.variance), blend->nodes->yield_pa[i] * yield_factor,
                     blend->nodes->yield_spread[i], &mixture.mean[i], &mixture.sd[i]);
    }
  estimate.value = exp (typical);
  estimate.low80 = fmin (estimate.value, exp (mixture_quantile (&mixture, 0.1)));
  estimate.high80 = fmax (estimate.value, exp (mixture_quantile (&mixture, 0.9)));
  return estimate;
}

OgEstimate
og_blend_liquid (OgBlend *blend,
                 double   temperature_c)
{
  if (!og_blend_flows (blend))
    return unknown;
  prepare_liquid (blend, temperature_c);
  return estimate_from_normal (blend->liquid.ln_eta, blend->liquid.variance);
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

  prepare_liquid (blend, temperature_c);
  ln_liquid = blend->liquid.ln_eta;
  if (z != NULL)
    for (guint i = 0; i < blend->first_agent_variable; i++)
      ln_liquid += blend->liquid.gradient[i] * z[i];
  eta_0 = exp (ln_liquid) * suspension_factor (blend);
  if (blend->agents->len == 0)
    return log (eta_0);

  respond_to (blend, temperature_c, z, &total);
  return log (og_gel_flow (eta_0 * total.thickening, total.association, total.yield_pa,
                           total.flow_index, shear_rate_1_s));
}

/* Probability that the yield stress is at most @pa. */
static double
yield_probability (const NodeState *nodes,
                   double           pa)
{
  double sum = 0.0;

  for (guint i = 0; i < N_NODES; i++)
    sum += nodes->yield_pa[i] > 0.0
               ? phi_lookup (nodes->phi, log (pa / nodes->yield_pa[i]) / nodes->yield_ln_sd[i])
               : 1.0;
  return sum / N_NODES;
}

/* Quantile of the yield stress by the mixture of its nodes; 0 where that much of them do not gel. */
static double
yield_quantile (const NodeState *nodes,
                double           probability)
{
  Mixture mixture = { .phi = nodes->phi };

  if (yield_probability (nodes, LEAST_YIELD_PA) >= probability)
    return 0.0;
  for (guint i = 0; i < N_NODES; i++)
    {
      mixture.mean[i] = log (fmax (nodes->yield_pa[i], 1e-3 * LEAST_YIELD_PA));
      mixture.sd[i] = fmax (1e-6, nodes->yield_ln_sd[i]);
    }
  return exp (mixture_quantile (&mixture, probability));
}

OgEstimate
og_blend_yield (OgBlend *blend,
                double   temperature_c,
                double   threshold_pa,
                double  *probability)
{
  OgGelResponse total;
  OgEstimate estimate;

  if (probability != NULL)
    *probability = 0.0;
  if (!og_blend_flows (blend))
    return unknown;
  if (blend->agents->len == 0)
    return (OgEstimate) { 0.0, 0.0, 0.0 };

  prepare_nodes (blend, temperature_c);
  respond_to (blend, temperature_c, NULL, &total);
  estimate.value = total.yield_pa;
  estimate.low80 = fmin (estimate.value, yield_quantile (blend->nodes, 0.1));
  estimate.high80 = fmax (estimate.value, yield_quantile (blend->nodes, 0.9));
  if (probability != NULL)
    *probability = 1.0 - yield_probability (blend->nodes, threshold_pa);
  return estimate;
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

/* Secant slopes of ln eta by every variable over plus and minus one standard deviation. */
static double *
slopes (OgBlend *blend,
        double   temperature_c,
        double   shear_rate_1_s)
{
  guint n = blend->variables->len;
  double *slope = g_new0 (double, n);
  g_autofree double *z = g_new0 (double, n);

  prepare_liquid (blend, temperature_c);
  for (guint i = 0; i < n; i++)
    {
      gboolean used = blend->liquid.gradient[i] != 0.0 || i >= blend->first_agent_variable
                      || i == blend->joint_variable;
      double size = blend->liquid.gradient[i] != 0.0 ? 0.01 : 1.0;
      double plus, minus;

      if (!used)
        continue;
      z[i] = size;
      plus = og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, z);
      z[i] = -size;
      minus = og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, z);
      z[i] = 0.0;
      slope[i] = (plus - minus) / (2.0 * size);
    }
  return slope;
}

OgEstimate
og_blend_ratio (OgBlend *a,
                OgBlend *b,
                double   temperature_c,
                double   shear_rate_1_s)
{
  g_autofree double *slope_a = NULL;
  g_autofree double *slope_b = NULL;
  g_autoptr (GHashTable) shared = NULL;
  double variance = 0.0;
  double ln_ratio;

  if (!og_blend_flows (a) || !og_blend_flows (b))
    return unknown;
  ln_ratio = og_blend_ln_viscosity (a, temperature_c, shear_rate_1_s, NULL)
             - og_blend_ln_viscosity (b, temperature_c, shear_rate_1_s, NULL);
  slope_a = slopes (a, temperature_c, shear_rate_1_s);
  slope_b = slopes (b, temperature_c, shear_rate_1_s);
  shared = g_hash_table_new (g_str_hash, g_str_equal);
  for (guint i = 0; i < b->variables->len; i++)
    g_hash_table_insert (shared, g_ptr_array_index (b->variables, i), &slope_b[i]);
  for (guint i = 0; i < a->variables->len; i++)
    {
      double *other = g_hash_table_lookup (shared, g_ptr_array_index (a->variables, i));
      double difference = slope_a[i] - (other != NULL ? *other : 0.0);

      variance += difference * difference;
      if (other != NULL)
        *other = 0.0;
    }
  for (guint i = 0; i < b->variables->len; i++)
    variance += slope_b[i] * slope_b[i];
  return estimate_from_normal (ln_ratio, variance);
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
