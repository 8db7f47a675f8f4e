/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/ingredient.h"
#include "core/material/parameters.h"

G_BEGIN_DECLS

/**
 * OgGelKnob: the uncertain constants of an agent. Each is a standard normal variable z; the
 * constant is its typical value times exp (sd z), temperatures are shifted by sd z kelvin.
 */
typedef enum
{
  OG_GEL_KNOB_POINT,       /* gel point w* */
  OG_GEL_KNOB_STRENGTH,    /* yield stress at 2 w* */
  OG_GEL_KNOB_THICKENING,  /* intrinsic viscosity, or crowding of a particle */
  OG_GEL_KNOB_ASSOCIATION, /* extra thickening at rest */
  OG_GEL_KNOB_EXPONENT,
  OG_GEL_KNOB_TEMPERATURE, /* of setting or clearing */
  OG_N_GEL_KNOBS
} OgGelKnob;

/** OgGellant: the constants of one gelling agent, gathered once from the catalog. */
typedef struct
{
  OgGelFamily family;
  double gel_point;      /* w*, mass fraction of oil and agent */
  double yield_pa;       /* at 2 w* */
  double exponent;
  double intrinsic_dl_g; /* 0: not a polymer in solution */
  double association;
  double flow_index;
  double density_g_ml;
  double sets_c;          /* polymers: NAN: no temperature gate */
  double dissolves_c;     /* clear in oil, NAN if unknown */
  double melting_k;       /* crystals with enthalpy and molar mass; NAN otherwise */
  double enthalpy_j_mol;
  double molar_mass_g_mol;
  double sd[OG_N_GEL_KNOBS];
  gboolean guessed; /* the gel point is judgement, not a published figure */
} OgGellant;

/** OgGelKnobs: the knobs turned: factors on the constants, the last one a shift in kelvin. */
typedef struct
{
  double factor[OG_N_GEL_KNOBS];
} OgGelKnobs;

/** OgGelResponse: what one agent does to the liquid. */
typedef struct
{
  double thickening;  /* eta / eta_0 that shear does not undo, >= 1 */
  double association; /* extra multiple of eta_0 at rest, undone by shear, >= 0 */
  double yield_pa;    /* >= 0 */
  double yield_ln_sd; /* standard deviation of its logarithm that the strength brings */
  double flow_index;
  double network;     /* (network-forming share) / w*: 1 at the gel point */
} OgGelResponse;

/** Constants of @ingredient, with those of its family in @parameters (nullable: unknown) where the
 * catalog has none. */
void   og_gellant_init      (OgGellant           *gellant,
                             const OgIngredient  *ingredient,
                             const OgParameters  *parameters);
/** Turns the knobs by @z, OG_N_GEL_KNOBS standard normal variables; %NULL: the typical agent. */
void   og_gellant_turn      (const OgGellant     *gellant,
                             const double        *z,
                             OgGelKnobs          *knobs);
/**
 * og_gellant_respond:
 * @w: mass fraction of the agent in oil and agent, 0 ... 1
 * @temperature_c: of the pot or the room
 * @liquid_density_g_ml: of the oil
 * @knobs: from og_gellant_turn()
 *
 * Polymers: Martin's relation, 1 + x exp (k x) with x = c [eta] and k = 0.2 (recalled), association
 * that grows with (w/w*)^2, percolation (w/w* - 1)^t above the gel point, all but Martin gated by a
 * logistic about the setting temperature. Crystals: only what is not dissolved counts, ideal
 * solubility ln x = -(dH/R)(1/T - 1/Tm). Particles and platelets: Krieger-Dougherty with a crowded
 * volume, percolation above the gel point, no gate.
 */
void   og_gellant_respond   (const OgGellant     *gellant,
                             double               w,
                             double               temperature_c,
                             double               liquid_density_g_ml,
                             const OgGelKnobs    *knobs,
                             OgGelResponse       *response);
/**
 * og_gel_flow:
 * @eta_0_mpa_s: of the liquid with everything that shear does not undo
 * @association: sum over agents
 * @yield_pa: sum over agents
 *
 * Apparent viscosity, mPa.s: eta_0 (1 + association / (1 + (rate)^0.7)) + yield (1 - exp (-1000 s
 * rate)) / rate + 0.75 yield rate^(n - 1). A Cross term, a regularised yield stress (Papanastasiou
 * 1987) and the consistency of a Herschel-Bulkley fluid with eta_0 as a floor; the constants are
 * judgement.
 */
double og_gel_flow          (double               eta_0_mpa_s,
                             double               association,
                             double               yield_pa,
                             double               flow_index,
                             double               shear_rate_1_s);
/** Krieger-Dougherty: (1 - phi/phi_m)^(-2.5 phi_m), phi_m = 0.64; held at 0.9 phi_m beyond. */
double og_krieger_dougherty (double               volume_fraction);
/**
 * og_gellant_clears_c:
 * @w: mass fraction in oil and agent
 *
 * Temperature at which the agent is clear on warming: for crystals the ideal solubility solved for
 * the temperature, else the catalog's figure. NAN if unknown.
 */
double og_gellant_clears_c  (const OgGellant     *gellant,
                             double               w);
/** Temperature at which it sets on cooling: the catalog's for polymers; crystals lag 8 K behind
 * clearing (3 to 15 K are usual, judgement). NAN if unknown or if it does not melt. */
double og_gellant_sets_c    (const OgGellant     *gellant,
                             double               w);
/** Share of a crystal agent that stays dissolved at @temperature_c, mass fraction; 0 for other
 * families. */
double og_gellant_solubility (const OgGellant    *gellant,
                              double              temperature_c,
                              double              shift_k);

G_END_DECLS
