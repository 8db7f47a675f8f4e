/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"
#include "core/predict/blend.h"
#include "core/predict/triglyceride.h"
#include "core/predict/viscosity-law.h"

G_BEGIN_DECLS

/* What the files of the blend model share; nobody else includes it. */

/* Two agents in one oil: their joint network is not the sum of both. Judgement. */
#define OG_JOINT_NETWORK_SD 0.5

/* ln eta is far from linear in most constants of an agent near its gel point, so the band is
 * taken over this many fixed quasi-random settings of them. Given a setting, the liquid is
 * lognormal, and so is the strength of the network as long as no measurement has tied it to the
 * rest. */
#define OG_N_NODES 256

typedef enum
{
  OG_LIQUID_TRIGLYCERIDE,
  OG_LIQUID_ESTER,
  OG_LIQUID_HYDROCARBON,
  OG_LIQUID_SILICONE,
  OG_LIQUID_OTHER,
  OG_N_LIQUID_CLASSES
} OgLiquidClass;

typedef struct
{
  const OgIngredient *ingredient; /* NULL for a bare profile or an unknown id */
  const char *id;
  double fraction;   /* of the recipe */
  OgLiquidClass class;
  OgChains *chains;  /* triglycerides only */
  double chains_sd;  /* beyond what the ranges of the acids say */
  OgViscosityLaw law; /* all others */
  guint variable;    /* first own variable */
} OgBlendLiquid;

typedef struct
{
  const OgIngredient *ingredient;
  double fraction; /* of the recipe */
  OgGellant gellant;
} OgBlendAgent;

/* The liquid at one temperature. */
typedef struct
{
  gboolean ready;
  double temperature_c;
  double ln_eta;    /* before any measurement */
  double lesson;    /* what measurements add to it */
  double variance;
  double *gradient; /* by every variable; 0 for those of the agents */
} OgBlendLiquidState;

/* The agents' common response at every node, at one temperature and composition. */
typedef struct
{
  gboolean ready;
  double temperature_c;
  double *xi;        /* OG_N_NODES x agent variables: independent standard normal */
  OgGelKnobs *knobs; /* OG_N_NODES x agents */
  double joint[OG_N_NODES];
  double thickening[OG_N_NODES];
  double association[OG_N_NODES];
  double yield_pa[OG_N_NODES];
  double yield_ln_sd[OG_N_NODES];
  double yield_spread[OG_N_NODES]; /* exp (sqrt 3 sd): the outer Gauss-Hermite points */
} OgBlendNodes;

struct _OgBlend
{
  OgParameters *parameters;
  GArray *liquids; /* of OgBlendLiquid */
  GArray *agents;  /* of OgBlendAgent */
  GArray *doubts;  /* of OgBlendDoubt */
  GPtrArray *variables;
  guint hydroxy_variable;
  guint pair_variable[OG_N_LIQUID_CLASSES][OG_N_LIQUID_CLASSES];
  guint first_agent_variable; /* the joint network, then the knobs of each agent */
  guint main_agent;
  double liquid_fraction, solid_fraction;
  double solid_volume_ml_g; /* volume of solids in a gram of recipe */
  double liquid_density_g_ml;
  double main_share;   /* of the recipe, as set */
  double main_base;    /* as built */
  double low_c, high_c;

  OgBelief *belief;     /* NULL: nothing was measured */
  int *in_belief;       /* index of each variable there, or -1 */
  gboolean agents_learned; /* a measurement touched a variable of the agents */
  double *agent_mean;   /* of the agent variables */
  double *agent_factor; /* lower Cholesky factor of their covariance, row by row */

  OgBlendLiquidState liquid;
  OgBlendNodes *nodes; /* NULL until a band is asked for */
};

/** Returns: the number of variables that belong to gelling agents; they stand last */
guint      og_blend_n_agent_variables (const OgBlend     *blend);
/** Computes ln(mPa.s) of the liquid at @temperature_c, in C, and its gradient by the variables;
 * nothing is done if that is known already. */
void       og_blend_prepare_liquid    (OgBlend           *blend,
                                       double             temperature_c);
/** Krieger-Dougherty factor of the suspended powders. */
double     og_blend_suspension        (const OgBlend     *blend);
/** All agents together for one setting of their constants. */
void       og_blend_respond           (const OgBlend     *blend,
                                       double             temperature_c,
                                       const OgGelKnobs  *knobs,
                                       double             joint,
                                       OgGelResponse     *total);
/** The same for agent variables @z, or their means for %NULL. */
void       og_blend_respond_to        (const OgBlend     *blend,
                                       double             temperature_c,
                                       const double      *z,
                                       OgGelResponse     *total);
/** Secant slopes of ln eta by every variable about @z (%NULL: the means). Returns: (transfer
 * full) */
double    *og_blend_slopes            (OgBlend           *blend,
                                       double             temperature_c,
                                       double             shear_rate_1_s,
                                       const double      *z);
/** Returns: value and 80 % band in mPa.s of a viscosity whose logarithm is normal with mean
 * @ln_eta and @variance */
OgEstimate og_estimate_from_normal    (double             ln_eta,
                                       double             variance);

G_END_DECLS
