/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/formula.h"

G_BEGIN_DECLS

/** Viscosity of the carrier in mPa.s at a shear rate in 1/s; NAN if unknown. */
typedef double (*OgSettlingViscosity) (double   shear_rate_1_s,
                                       gpointer user_data);

/**
 * How many times the least yield stress that holds a resting particle it takes in use: shaking,
 * ageing, a warm shelf.
 */
#define OG_SETTLING_SAFETY 5.0

/**
 * og_settling_speed:
 * @diameter_um: of the particle
 * @density_difference_kg_m3: particle less liquid
 * @shear_rate_1_s: (out) (optional): the rate 3v/d at the particle, at which the viscosity was
 * taken
 *
 * Stokes' law for one particle far from others and from walls, v = d^2 drho g/(18 eta), with eta at
 * the particle's own rate.
 *
 * Returns: fall in mm per day, negative for a particle that rises; 0 if a yield stress stops it;
 * NAN if unknown
 */
double og_settling_speed    (double               diameter_um,
                             double               density_difference_kg_m3,
                             OgSettlingViscosity  viscosity,
                             gpointer             user_data,
                             double              *shear_rate_1_s);

/**
 * og_settling_hold_pa:
 *
 * Yield stress from which on a resting particle stays where it is: 0.048 d drho g (a yield number
 * of 0.143, Beris et al. 1985, J. Fluid Mech. 158:219, recalled).
 *
 * Returns: Pa, without the factor of safety
 */
double og_settling_hold_pa  (double               diameter_um,
                             double               density_difference_kg_m3);

/**
 * Usual particle size of a kind, um: colours 1, pearls 20, powders 10 (judgement); NAN for what is
 * not suspended.
 */
double og_settling_diameter (OgKind               kind);

/** OgSettling: what becomes of one suspended material at 25 C. NAN where unknown. */
typedef struct
{
  const OgIngredient *ingredient; /* borrowed from the catalog */
  double              fraction;   /* of the formula mass */
  double              diameter_um;
  double              density_difference_kg_m3;
  double              speed_mm_day; /* were there no yield stress beyond what the viscosity shows */
  double              shear_rate_1_s;
  double              hold_pa;    /* without the factor of safety */
  gboolean            held;       /* the yield stress is OG_SETTLING_SAFETY times as much or more */
} OgSettling;

/**
 * og_settling_list:
 * @contents: (element-type OgContent): mixtures already taken apart, see og_formula_contents()
 * @liquid_density_g_ml: at 25 C; NAN if unknown
 * @yield_pa: of the recipe at 25 C; NAN if unknown
 * @viscosity: of the recipe at 25 C
 *
 * Returns: (transfer full) (element-type OgSettling): one for each colour, pearl and powder,
 * fastest first, unknown last
 */
GArray *og_settling_list    (const GPtrArray     *contents,
                             double               liquid_density_g_ml,
                             double               yield_pa,
                             OgSettlingViscosity  viscosity,
                             gpointer             user_data);

G_END_DECLS
