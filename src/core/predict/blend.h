/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/predict/evaluate.h"
#include "core/predict/gellant.h"

G_BEGIN_DECLS

/**
 * OgBlend:
 *
 * The viscosity model of one recipe. Everything uncertain in it is one of a list of named,
 * independent standard normal variables, so that recipes which share a variable share its error. ln
 * eta is linear in most of them; the constants of a gelling agent are not, and the band is taken
 * over a grid of the two that matter most.
 */
typedef struct _OgBlend OgBlend;

/**
 * og_blend_new:
 * @contents: (element-type OgContent): mixtures already taken apart, see og_formula_contents()
 * @parameters: fitted constants; kept by reference
 *
 * Returns: (transfer full)
 */
OgBlend    *og_blend_new                (GPtrArray          *contents,
                                         const OgParameters *parameters);
/** Model of a neat triglyceride oil. */
OgBlend    *og_blend_new_for_profile    (const OgProfile    *profile,
                                         const OgParameters *parameters);
/** Frees @blend with all it holds. */
void        og_blend_free               (OgBlend            *blend);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBlend, og_blend_free)

struct _OgBelief;
/** Lets the blend know what measurements have taught. Once, before anything is asked of it. */
void        og_blend_set_belief         (OgBlend            *blend,
                                         struct _OgBelief   *belief);

/** TRUE if a measurement taught something about an oil, liquid or agent of this recipe itself. */
gboolean    og_blend_is_learned         (const OgBlend      *blend);

/** FALSE if the recipe holds nothing liquid; every estimate is then unknown. */
gboolean    og_blend_flows              (const OgBlend      *blend);
/** Returns: the number of gelling agents and waxes */
guint       og_blend_get_n_agents       (const OgBlend      *blend);
/** Returns: (nullable) (transfer none): id of the agent furthest along to its gel point */
const char *og_blend_get_main_agent     (const OgBlend      *blend);
/** Returns: the place of that agent among all; 0 if there is none */
guint       og_blend_get_main_index     (const OgBlend      *blend);
/** Returns: (nullable) (transfer none): the law of that agent; %NULL if there is none */
const OgGellant *og_blend_get_main_gellant (const OgBlend   *blend);
/** Fills @state for agent @index of the recipe as built. */
void        og_blend_describe_agent     (const OgBlend      *blend,
                                         guint               index,
                                         OgAgentState       *state);
/** Gel point of the main agent as it is believed to be, mass fraction of oil and agent; NAN
 * without an agent. */
double      og_blend_get_gel_point      (const OgBlend      *blend);
/** Share of the main agent in the recipe the blend was built from, mass fraction. */
double      og_blend_get_built_share    (const OgBlend      *blend);
/** Same recipe with another share of the main agent, everything else scaled in proportion. 0 ...
 * below 1, or the built one. */
void        og_blend_set_main_share     (OgBlend            *blend,
                                         double              share);

/** Apparent viscosity, mPa.s. @temperature_c -20 ... 200, @shear_rate_1_s above 0. */
OgEstimate  og_blend_viscosity          (OgBlend            *blend,
                                         double              temperature_c,
                                         double              shear_rate_1_s);
/** Viscosity of the liquid alone, without gelling agents and powders, mPa.s. */
OgEstimate  og_blend_liquid             (OgBlend            *blend,
                                         double              temperature_c);
/** Yield stress, Pa; @probability (nullable): that it exceeds @threshold_pa. */
OgEstimate  og_blend_yield              (OgBlend            *blend,
                                         double              temperature_c,
                                         double              threshold_pa,
                                         double             *probability);
/** The same without its band, which takes most of the time. */
double      og_blend_typical_yield      (const OgBlend      *blend,
                                         double              temperature_c);

/** Number of named variables. */
guint       og_blend_get_n_variables    (const OgBlend      *blend);
/** Returns: (transfer none): name of variable @index, the same in every recipe that shares it */
const char *og_blend_get_variable       (const OgBlend      *blend,
                                         guint               index);
/**
 * og_blend_ln_viscosity:
 * @z: (nullable): a value for every variable; %NULL: what is believed of them, else all typical
 *
 * The full model for one draw, ln(mPa.s): what og_blend_viscosity() summarises.
 */
double      og_blend_ln_viscosity       (OgBlend            *blend,
                                         double              temperature_c,
                                         double              shear_rate_1_s,
                                         const double       *z);
/**
 * og_blend_ratio:
 *
 * Ratio of the viscosities of two recipes, @a over @b, at the same temperature and rate, with its
 * own band: errors that both share cancel.
 */
OgEstimate  og_blend_ratio              (OgBlend            *a,
                                         OgBlend            *b,
                                         double              temperature_c,
                                         double              shear_rate_1_s);

/** OgBlendDoubt: a component whose viscosity had to be guessed. */
typedef struct
{
  const OgIngredient *ingredient; /* NULL: not in the catalog */
  const char         *ingredient_id;
  double              fraction;   /* of the liquid */
} OgBlendDoubt;

/** Returns: (transfer none) (element-type OgBlendDoubt): guessed components, largest first */
const GArray *og_blend_get_doubts       (const OgBlend      *blend);
/** Temperatures that the data of the main components cover, C. */
void        og_blend_get_validity       (const OgBlend      *blend,
                                         double             *low_c,
                                         double             *high_c);
/** Density of the liquid part at 25 C, g/ml, unknown ones taken as OG_ASSUMED_DENSITY_G_ML. */
double      og_blend_get_liquid_density (const OgBlend      *blend);

G_END_DECLS
