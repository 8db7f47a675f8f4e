/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/chemistry.h"
#include "core/material/parameters.h"

G_BEGIN_DECLS

#define OG_N_GLOBALS (OG_N_CORRECTIONS + OG_N_HYDROXY)

/** Reference temperature of the fitted terms, K (40 C). */
#define OG_REFERENCE_K 313.15

/**
 * OgChains:
 *
 * The fatty acid chains of one triglyceride oil by mole fraction, ready for repeated prediction.
 */
typedef struct
{
  guint   n;
  OgAcid *acids;
  double *x;            /* mole fraction of each chain */
  double *a, *c;        /* of each simple triglyceride: ln eta = a + B / (T - c) */
  double *sd;           /* standard deviation of that fraction, from the range of the profile */
  double  hydroxy;      /* mole fraction of chains that bear a hydroxyl group */
  double  double_bonds; /* mean over the ordinary chains, times their mole fraction */
  double  carbons;      /* likewise */
  double  unusual;      /* mole fraction of chains outside C8 ... C22, three double bonds, ricinoleic */
  double  mol_per_g;    /* moles of chains in a gram of oil */
} OgChains;

/**
 * og_chains_new:
 * @profile: wt % of fatty acids, not empty
 *
 * Returns: (transfer full)
 */
OgChains *og_chains_new                   (const OgProfile    *profile);
/** Frees @chains with all it holds. */
void      og_chains_free                  (OgChains           *chains);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgChains, og_chains_free)

/** u = 1000 (1/T - 1/313.15 K): what every fitted slope is per unit of. */
double    og_reciprocal_temperature       (double              temperature_k);

/**
 * og_triglyceride_ln_viscosity:
 * @acid: the acid of all three chains; hydroxyl groups are ignored
 * @temperature_k: kelvin
 *
 * ln(mPa.s) of the simple triglyceride by Rabelo, Batista, Cavaleri & Meirelles 2000, JAOCS 77:1255
 * (coefficients read in a published transcription): A + B/(T - C) with all carbons and double bonds
 * of the molecule.
 */
double    og_triglyceride_ln_viscosity    (OgAcid              acid,
                                           double              temperature_k);

/**
 * og_chains_published:
 *
 * ln(mPa.s) of the ordinary chains by the published correlation alone, weighted by mole fraction;
 * hydroxy chains count as their ordinary twin would.
 */
double    og_chains_published             (const OgChains     *chains,
                                           double              temperature_k);
/**
 * og_chains_basis:
 * @basis: (out): what each fitted constant is multiplied with: four corrections, then three hydroxy
 * terms
 *
 * ln eta = og_chains_ordinary() + sum of basis * constant.
 */
void      og_chains_basis                 (const OgChains     *chains,
                                           double              temperature_k,
                                           double              basis[OG_N_GLOBALS]);
/** The part of ln(mPa.s) that no fitted constant enters: published correlation, less what the
 * hydroxy terms replace. */
double    og_chains_ordinary              (const OgChains     *chains,
                                           double              temperature_k);
/**
 * og_chains_ln_viscosity:
 * @gradient: (out) (nullable): derivative by the standard normal variables of @parameters,
 * corrections first
 *
 * ln(mPa.s) of the oil with the fitted constants.
 */
double    og_chains_ln_viscosity          (const OgChains     *chains,
                                           const OgParameters *parameters,
                                           double              temperature_k,
                                           double             *gradient);
/** Standard deviation of ln eta that follows from the ranges of the acids and from unusual
 * chains (0.15 each: judgement). */
double    og_chains_spread                (const OgChains     *chains,
                                           double              temperature_k);

G_END_DECLS
