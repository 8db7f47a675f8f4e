/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/ingredient.h"

G_BEGIN_DECLS

/**
 * OgViscosityLawType:
 * @OG_LAW_UNKNOWN: no point: a guess by kind, with a band of a factor
 * @OG_LAW_ONE_POINT: one temperature, moved by the slope of its kind
 * @OG_LAW_WALTHER: two temperatures, ASTM D341 short form log log (nu + 0.7) = A - B log T
 * (recalled)
 * @OG_LAW_VOGEL: three or more, ln eta = A + B / (T - C)
 */
typedef enum
{
  OG_LAW_UNKNOWN,
  OG_LAW_ONE_POINT,
  OG_LAW_WALTHER,
  OG_LAW_VOGEL
} OgViscosityLawType;

/** OgViscosityLaw: viscosity of one neat material against temperature, from its own points. */
typedef struct
{
  OgViscosityLawType type;
  double a, b, c;       /* of the law; Walther in mm2/s */
  double density_g_ml;  /* Walther: density at 25 C */
  double density_slope; /* g/ml/K */
  double low_c, high_c; /* temperatures of the points; NAN if there is none */
  double sd;            /* of ln eta between low_c and high_c */
  double sd_per_k;      /* what each kelvin outside adds to it */
} OgViscosityLaw;

/**
 * og_viscosity_law_fit:
 * @ingredient: any material; its points are used, its profile is not
 *
 * Chooses the law by the number of distinct temperatures. Points in mm2/s are turned to mPa.s with
 * the density of the material (OG_ASSUMED_DENSITY_G_ML, and a wider band, where it has none). The spread is that
 * of the points about the law, never less than what the quality of the points allows (judgement: 3
 * % measured, 5 % typical, 10 % recalled, 15 % else).
 */
void   og_viscosity_law_fit (const OgIngredient    *ingredient,
                             OgViscosityLaw        *law);
/** Returns: ln(mPa.s) at @temperature_c */
double og_viscosity_law_ln  (const OgViscosityLaw  *law,
                             double                 temperature_c);
/** Returns: standard deviation of ln eta at @temperature_c */
double og_viscosity_law_sd  (const OgViscosityLaw  *law,
                             double                 temperature_c);

G_END_DECLS
