/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/** Molar gas constant, J/(mol K): CODATA 2018, exact since 2019, to ten digits. */
#define OG_GAS_CONSTANT_J_MOL_K 8.314462618

/* Change of the density with the temperature, g/(ml K), where a material has no slope of
 * its own: judgement. */
#define OG_TRIGLYCERIDE_DENSITY_SLOPE_G_ML_K (-0.00066)
#define OG_OTHER_DENSITY_SLOPE_G_ML_K (-0.0007)

/** Change of the refractive index, 1/K: recalled; the usual step for vegetable oils. */
#define OG_REFRACTION_SLOPE_1_K (-0.00038)

/** Density of a liquid that has none, g/ml: that of ordinary plant oils at 25 C (recalled, 0.91 to
 * 0.92); esters and hydrocarbons lie lower, silicones higher. Judgement. */
#define OG_ASSUMED_DENSITY_G_ML 0.92

/** Share of a recipe of which a figure must be known before it is told of the whole; judgement. */
#define OG_MOSTLY_KNOWN 0.9
