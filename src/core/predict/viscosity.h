/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/**
 * og_oil_viscosity:
 * @profile: normalised profile of a triglyceride oil; every acid is taken by carbons, double bonds
 * and hydroxyl
 * @parameters: fitted parameters
 * @temperature_c: -20 ... 200
 *
 * Dynamic viscosity of the neat oil, mPa.s, with its 80 % band: published correlation for
 * triglycerides by chain-mole fractions (Rabelo et al. 2000, JAOCS 77:1255, coefficients through a
 * published transcription), the fitted correction, the hydroxy term, the spread between samples and
 * the ranges of the profile.
 */
OgEstimate og_oil_viscosity     (const OgProfile     *profile,
                                 const OgParameters  *parameters,
                                 double               temperature_c);

/**
 * og_ingredient_viscosity:
 * @ingredient: any material
 * @temperature_c: -20 ... 200
 *
 * Dynamic viscosity of the neat material, mPa.s: from its acids, or from its own points.
 *
 * Returns: NAN for what does not flow by itself and for a material nothing was published about
 */
OgEstimate og_ingredient_viscosity (const OgIngredient  *ingredient,
                                    const OgParameters  *parameters,
                                    double               temperature_c);

G_END_DECLS
