/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/gellant.h"

#include "core/base/physics.h"
#include "core/base/statistics.h"

#define MARTIN_K 0.2 /* of Martin's relation; recalled */
#define MARTIN_MAX_X 12.0 /* c [eta] beyond which the exponent grows no further; judgement */
#define PHI_MAX 0.64 /* random close packing of spheres; recalled */
#define OIL_MOLAR_MASS_G_MOL 880.0 /* of a triglyceride of C18 acids: about triolein, 885 */
#define PARTICLE_CROWDING 4.0 /* volume of an aggregate over that of its particles; judgement */
#define CRYSTAL_CROWDING 3.0 /* volume of a needle or plate with the oil it holds; judgement */
#define SET_WIDTH_K 4.0 /* of the logistic about the setting temperature; judgement */
#define CROSS_EXPONENT 0.7 /* of the Cross term; judgement */
#define YIELD_TIME_S 1000.0 /* regularisation after Papanastasiou (1987); judgement */
#define CONSISTENCY 0.75 /* Herschel-Bulkley consistency over the yield stress, s^n; judgement */
#define SUPERCOOLING_K 8.0 /* of crystals: 3 to 15 are usual; judgement */

static double
known_or (const OgFigure *figure,
          double          fallback)
{
  return og_figure_is_known (figure) ? figure->value : fallback;
}

static double
half_width_k (const OgFigure *figure,
              double          fallback)
{
  if (og_figure_is_known (figure) && isfinite (figure->low) && isfinite (figure->high))
    return (figure->high - figure->low) / (2.0 * OG_HALF_BAND_SD);
  return fallback;
}

static void
init_crystal (OgGellant       *gellant,
              const OgGelling *gelling)
{
  double enthalpy_j_g = known_or (&gelling->melting_enthalpy_j_g, NAN);
  double molar_mass = known_or (&gelling->molar_mass_g_mol, NAN);

  if (!isfinite (enthalpy_j_g) || !isfinite (molar_mass) || !isfinite (gellant->melting_k))
    {
      gellant->melting_k = NAN;
      return;
    }
  gellant->enthalpy_j_mol = enthalpy_j_g * molar_mass;
  gellant->molar_mass_g_mol = molar_mass;
}

void
og_gellant_init (OgGellant          *gellant,
                 const OgIngredient *ingredient,
                 const OgParameters *parameters)
{
  const OgGelling *gelling = &ingredient->gelling;
  OgGelDefaults fallback;
  gboolean polymer = gelling->family == OG_GEL_PHYSICAL_POLYMER
                     || gelling->family == OG_GEL_POLYMER_SOLUTION;

  if (parameters != NULL)
    fallback = parameters->gelling[gelling->family];
  else
    og_gel_defaults_init (&fallback);

  *gellant = (OgGellant) {
    .family = gelling->family,
    .gel_point = known_or (&gelling->gel_point_pct, fallback.gel_point_pct) / 100.0,
    .yield_pa = known_or (&gelling->yield_at_twice_gel_point_pa,
                          fallback.yield_at_twice_gel_point_pa),
    .exponent = known_or (&gelling->gel_exponent, fallback.gel_exponent),
    .intrinsic_dl_g = polymer ? known_or (&gelling->intrinsic_viscosity_dl_g,
                                          fallback.intrinsic_viscosity_dl_g)
                              : 0.0,
    .association = known_or (&gelling->association, fallback.association),
    .flow_index = known_or (&gelling->flow_index, fallback.flow_index),
    .density_g_ml = known_or (&ingredient->figures[OG_FIGURE_DENSITY_G_ML], fallback.density_g_ml),
    .dissolves_c = known_or (&gelling->dissolves_c,
                             known_or (&ingredient->figures[OG_FIGURE_MELTING_C], NAN)),
    .sets_c = NAN,
    .melting_k = NAN,
    .guessed = gelling->gel_point_pct.quality != OG_QUALITY_MEASURED
               && gelling->gel_point_pct.quality != OG_QUALITY_TYPICAL,
  };
  if (polymer || gelling->family == OG_GEL_CRYSTAL_NETWORK)
    gellant->sets_c = known_or (&gelling->sets_c, gellant->dissolves_c);
  if (gelling->family == OG_GEL_CRYSTAL_NETWORK)
    {
      gellant->melting_k = known_or (&ingredient->figures[OG_FIGURE_MELTING_C], NAN) + OG_KELVIN_OFFSET;
      init_crystal (gellant, gelling);
    }

  gellant->sd[OG_GEL_KNOB_POINT] = og_figure_ln_sd (&gelling->gel_point_pct, fallback.gel_point_ln_sd);
  gellant->sd[OG_GEL_KNOB_STRENGTH]
      = og_figure_ln_sd (&gelling->yield_at_twice_gel_point_pa, fallback.yield_ln_sd);
  gellant->sd[OG_GEL_KNOB_THICKENING]
      = polymer ? og_figure_ln_sd (&gelling->intrinsic_viscosity_dl_g, fallback.thickening_ln_sd)
                : fallback.thickening_ln_sd;
  gellant->sd[OG_GEL_KNOB_ASSOCIATION]
      = gellant->association > 0.0 ? og_figure_ln_sd (&gelling->association, fallback.association_ln_sd)
                                       : 0.0;
  gellant->sd[OG_GEL_KNOB_EXPONENT] = og_figure_ln_sd (&gelling->gel_exponent, fallback.gel_exponent_ln_sd);
  gellant->sd[OG_GEL_KNOB_TEMPERATURE]
      = isfinite (gellant->sets_c) || isfinite (gellant->melting_k)
            ? half_width_k (&gelling->sets_c, fallback.temperature_sd_k)
            : 0.0;
}

double
og_krieger_dougherty (double volume_fraction)
{
  double phi = CLAMP (volume_fraction, 0.0, 0.9 * PHI_MAX);

  return pow (1.0 - phi / PHI_MAX, -2.5 * PHI_MAX);
}

double
og_gellant_solubility (const OgGellant *gellant,
                       double           temperature_c,
                       double           shift_k)
{
  double mole_fraction, mass_ratio;

  if (!isfinite (gellant->melting_k))
    return 0.0;
  mole_fraction = exp (-gellant->enthalpy_j_mol / OG_GAS_CONSTANT_J_MOL_K
                       * (1.0 / og_kelvin (temperature_c) - 1.0 / (gellant->melting_k + shift_k)));
  if (mole_fraction >= 1.0)
    return 1.0;
  mass_ratio = mole_fraction * gellant->molar_mass_g_mol
               / ((1.0 - mole_fraction) * OIL_MOLAR_MASS_G_MOL);
  return mass_ratio / (1.0 + mass_ratio);
}

double
og_gellant_clears_c (const OgGellant *gellant,
                     double           w)
{
  double moles, mole_fraction;

  if (!isfinite (gellant->melting_k))
    return gellant->dissolves_c;
  if (w <= 0.0)
    return NAN;
  moles = w / gellant->molar_mass_g_mol;
  mole_fraction = moles / (moles + (1.0 - w) / OIL_MOLAR_MASS_G_MOL);
  return 1.0 / (1.0 / gellant->melting_k - OG_GAS_CONSTANT_J_MOL_K * log (mole_fraction) / gellant->enthalpy_j_mol)
         - OG_KELVIN_OFFSET;
}

double
og_gellant_sets_c (const OgGellant *gellant,
                   double           w)
{
  if (isfinite (gellant->melting_k))
    return og_gellant_clears_c (gellant, w) - SUPERCOOLING_K;
  return gellant->sets_c;
}

/* 1 well below the setting temperature, 0 well above. */
static double
set_gate (double sets_c,
          double temperature_c)
{
  if (!isfinite (sets_c))
    return 1.0;
  return 1.0 / (1.0 + exp ((temperature_c - sets_c) / SET_WIDTH_K));
}

static double
volume_fraction (double w,
                 double density_g_ml,
                 double liquid_density_g_ml)
{
  double volume = w / density_g_ml;

  return volume / (volume + (1.0 - w) / liquid_density_g_ml);
}

static double
percolation (double ratio,
             double exponent)
{
  return ratio > 1.0 ? pow (ratio - 1.0, exponent) : 0.0;
}

static double
martin (double x)
{
  double bounded = fmin (x, MARTIN_MAX_X);

  return 1.0 + x * exp (MARTIN_K * bounded);
}

void
og_gellant_turn (const OgGellant *gellant,
                 const double    *z,
                 OgGelKnobs      *knobs)
{
  for (int k = 0; k < OG_N_GEL_KNOBS; k++)
    {
      double turn = z != NULL ? gellant->sd[k] * z[k] : 0.0;

      knobs->factor[k] = k == OG_GEL_KNOB_TEMPERATURE ? turn : exp (turn);
    }
}

void
og_gellant_respond (const OgGellant  *gellant,
                    double            w,
                    double            temperature_c,
                    double            liquid_density_g_ml,
                    const OgGelKnobs *knobs,
                    OgGelResponse    *response)
{
  const double *factor = knobs->factor;
  double crowding = factor[OG_GEL_KNOB_THICKENING];
  double shift_k = factor[OG_GEL_KNOB_TEMPERATURE];
  double network = w;
  double gate = 1.0;

  *response = (OgGelResponse) { .thickening = 1.0, .flow_index = gellant->flow_index };
  if (w <= 0.0)
    return;

  switch (gellant->family)
    {
    case OG_GEL_PHYSICAL_POLYMER:
    case OG_GEL_POLYMER_SOLUTION:
      response->thickening
          = martin (100.0 * w * liquid_density_g_ml * gellant->intrinsic_dl_g * crowding);
      gate = set_gate (gellant->sets_c + shift_k, temperature_c);
      break;

    case OG_GEL_CRYSTAL_NETWORK:
      if (isfinite (gellant->melting_k))
        network = fmax (0.0, w - og_gellant_solubility (gellant, temperature_c, shift_k));
      else
        gate = set_gate (gellant->sets_c + shift_k, temperature_c);
      network *= gate;
      response->thickening = og_krieger_dougherty (
          CRYSTAL_CROWDING * crowding
          * volume_fraction (network, gellant->density_g_ml, liquid_density_g_ml));
      break;

    case OG_GEL_PARTICLE_NETWORK:
    case OG_GEL_PLATELET_NETWORK:
      response->thickening = og_krieger_dougherty (
          PARTICLE_CROWDING * crowding
          * volume_fraction (w, gellant->density_g_ml, liquid_density_g_ml));
      break;

    case OG_GEL_NONE:
    case OG_GEL_VISCOUS_LIQUID:
    default:
      return;
    }

  response->network = network / (gellant->gel_point * factor[OG_GEL_KNOB_POINT]);
  if (gellant->association > 0.0)
    {
      double squared = response->network * response->network;

      response->association = gate * gellant->association * factor[OG_GEL_KNOB_ASSOCIATION] * 2.0
                              * squared / (1.0 + squared);
    }
  response->yield_pa
      = gate * gellant->yield_pa * factor[OG_GEL_KNOB_STRENGTH]
        * percolation (response->network, gellant->exponent * factor[OG_GEL_KNOB_EXPONENT]);
  if (response->yield_pa > 0.0)
    response->yield_ln_sd = gellant->sd[OG_GEL_KNOB_STRENGTH];
}

double
og_gel_flow (double eta_0_mpa_s,
             double association,
             double yield_pa,
             double flow_index,
             double shear_rate_1_s)
{
  double eta = eta_0_mpa_s;

  if (association > 0.0)
    eta += eta_0_mpa_s * association / (1.0 + pow (shear_rate_1_s, CROSS_EXPONENT));
  if (yield_pa > 0.0)
    eta += 1000.0 * yield_pa
           * (-expm1 (-YIELD_TIME_S * shear_rate_1_s) / shear_rate_1_s
              + CONSISTENCY * pow (shear_rate_1_s, flow_index - 1.0));
  return eta;
}
