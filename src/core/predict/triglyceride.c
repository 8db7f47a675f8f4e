/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/triglyceride.h"

#include <math.h>

#include "core/base/statistics.h"

/* Rabelo et al. 2000, triacylglycerol column. */
#define A1 (-4.01)
#define A2 (-2.954)
#define A3 28.9
#define A4 6.5
#define A5 (-0.0033)
#define B1 1156.0
#define C1 99.1
#define C2 0.851
#define C3 (-3.65)

#define GLYCEROL_CARBONS 3 /* of the molecule, beside the three chains */

#define SD_PER_80_PCT_WIDTH (1.0 / (2.0 * OG_HALF_BAND_SD)) /* normal distribution */
/* Of ln eta, for chains that the correlation was not fitted to; judgement. */
#define UNUSUAL_CHAIN_SD 0.15

static const OgAcid oleic = { 18, 1, 0 };

static gboolean
is_unusual (OgAcid acid)
{
  if (acid.hydroxyls > 0)
    return acid.carbons != 18 || acid.double_bonds != 1 || acid.hydroxyls != 1;
  return acid.carbons < 8 || acid.carbons > 22 || acid.double_bonds > 3;
}

/* Constants of the simple triglyceride; A does not depend on the temperature. */
static void
published_constants (OgAcid  acid,
                     double *a,
                     double *c)
{
  double carbons = 3.0 * acid.carbons + GLYCEROL_CARBONS;
  double double_bonds = 3.0 * acid.double_bonds;

  *a = (A1 - A2) / (1.0 + exp ((carbons - A3) / A4)) + A2 + A5 * double_bonds * double_bonds;
  *c = C1 + C2 * carbons + C3 * double_bonds;
}

OgChains *
og_chains_new (const OgProfile *profile)
{
  OgChains *chains;
  double mean_mass;

  g_return_val_if_fail (profile != NULL && profile->shares->len > 0, NULL);

  chains = g_new0 (OgChains, 1);
  chains->n = profile->shares->len;
  chains->acids = g_new (OgAcid, chains->n);
  chains->x = g_new (double, chains->n);
  chains->a = g_new (double, chains->n);
  chains->c = g_new (double, chains->n);
  chains->sd = g_new0 (double, chains->n);
  mean_mass = og_profile_mole_fractions (profile, chains->x);
  chains->mol_per_g = 3.0 / (3.0 * mean_mass + 38.049);

  for (guint i = 0; i < chains->n; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);
      double x = chains->x[i];

      chains->acids[i] = share->acid;
      published_constants (share->acid, &chains->a[i], &chains->c[i]);
      if (share->pct > 0.0 && isfinite (share->low_pct) && isfinite (share->high_pct))
        chains->sd[i] = x * (share->high_pct - share->low_pct) / share->pct * SD_PER_80_PCT_WIDTH;
      if (share->acid.hydroxyls > 0)
        {
          chains->hydroxy += x;
        }
      else
        {
          chains->double_bonds += x * share->acid.double_bonds;
          chains->carbons += x * share->acid.carbons;
        }
      if (is_unusual (share->acid))
        chains->unusual += x;
    }
  return chains;
}

void
og_chains_free (OgChains *chains)
{
  if (chains == NULL)
    return;
  g_free (chains->acids);
  g_free (chains->x);
  g_free (chains->a);
  g_free (chains->c);
  g_free (chains->sd);
  g_free (chains);
}

double
og_reciprocal_temperature (double temperature_k)
{
  return 1000.0 * (1.0 / temperature_k - 1.0 / OG_REFERENCE_K);
}

double
og_triglyceride_ln_viscosity (OgAcid acid,
                              double temperature_k)
{
  double a, c;

  published_constants (acid, &a, &c);
  return a + B1 / (temperature_k - c);
}

static double
chain_ln_viscosity (const OgChains *chains,
                    guint           i,
                    double          temperature_k)
{
  return chains->a[i] + B1 / (temperature_k - chains->c[i]);
}

double
og_chains_published (const OgChains *chains,
                     double          temperature_k)
{
  double sum = 0.0;

  for (guint i = 0; i < chains->n; i++)
    sum += chains->x[i] * chain_ln_viscosity (chains, i, temperature_k);
  return sum;
}

void
og_chains_basis (const OgChains *chains,
                 double          temperature_k,
                 double          basis[OG_N_GLOBALS])
{
  double u = og_reciprocal_temperature (temperature_k);
  double ordinary = 1.0 - chains->hydroxy;
  double hydroxyls = 0.0;

  for (guint i = 0; i < chains->n; i++)
    hydroxyls += chains->x[i] * chains->acids[i].hydroxyls;

  basis[0] = ordinary;
  basis[1] = ordinary * u;
  basis[2] = chains->double_bonds - 1.2 * ordinary;
  basis[3] = chains->carbons - 18.0 * ordinary;
  basis[4] = hydroxyls;
  basis[5] = hydroxyls * u;
  basis[6] = hydroxyls * u * u;
}

double
og_chains_ordinary (const OgChains *chains,
                    double          temperature_k)
{
  double twin = og_triglyceride_ln_viscosity (oleic, temperature_k);
  double hydroxyls = 0.0;

  for (guint i = 0; i < chains->n; i++)
    hydroxyls += chains->x[i] * chains->acids[i].hydroxyls;
  return og_chains_published (chains, temperature_k) - hydroxyls * twin;
}

double
og_chains_ln_viscosity (const OgChains     *chains,
                        const OgParameters *parameters,
                        double              temperature_k,
                        double             *gradient)
{
  double basis[OG_N_GLOBALS];
  double ln_eta = og_chains_ordinary (chains, temperature_k);

  og_chains_basis (chains, temperature_k, basis);
  for (int i = 0; i < OG_N_CORRECTIONS; i++)
    ln_eta += basis[i] * parameters->correction[i];
  for (int i = 0; i < OG_N_HYDROXY; i++)
    ln_eta += basis[OG_N_CORRECTIONS + i] * parameters->hydroxy[i];

  if (gradient != NULL)
    {
      for (int j = 0; j < OG_N_CORRECTIONS; j++)
        {
          gradient[j] = 0.0;
          for (int i = j; i < OG_N_CORRECTIONS; i++)
            gradient[j] += basis[i] * parameters->correction_factor[i][j];
        }
      for (int j = 0; j < OG_N_HYDROXY; j++)
        {
          gradient[OG_N_CORRECTIONS + j] = 0.0;
          for (int i = j; i < OG_N_HYDROXY; i++)
            gradient[OG_N_CORRECTIONS + j]
                += basis[OG_N_CORRECTIONS + i] * parameters->hydroxy_factor[i][j];
        }
    }
  return ln_eta;
}

double
og_chains_spread (const OgChains *chains,
                  double          temperature_k)
{
  double mean = og_chains_published (chains, temperature_k);
  double variance = 0.0;

  for (guint i = 0; i < chains->n; i++)
    {
      double lever = chain_ln_viscosity (chains, i, temperature_k) - mean;

      variance += chains->sd[i] * chains->sd[i] * lever * lever;
    }
  variance += UNUSUAL_CHAIN_SD * UNUSUAL_CHAIN_SD * chains->unusual * chains->unusual;
  return sqrt (variance);
}
