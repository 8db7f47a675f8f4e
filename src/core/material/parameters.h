/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/ingredient.h"

G_BEGIN_DECLS

#define OG_N_CORRECTIONS 4 /* terms of the correction of the published correlation */
#define OG_N_HYDROXY 3 /* terms of the hydroxy chain */

/**
 * OgGelDefaults: what is taken of a gelling agent of one family whose own figures say nothing;
 * NAN where nothing was read. data/model/SCHEMA.md tells the meaning and range of each.
 */
typedef struct
{
  double gel_point_pct;                /* wt % of oil and agent */
  double yield_at_twice_gel_point_pa;
  double gel_exponent;
  double intrinsic_viscosity_dl_g;     /* polymers */
  double association;                  /* polymers */
  double flow_index;
  double density_g_ml;
  /* standard deviations between lots, of the logarithm or in kelvin */
  double gel_point_ln_sd, yield_ln_sd, thickening_ln_sd, association_ln_sd, gel_exponent_ln_sd;
  double temperature_sd_k;
} OgGelDefaults;

/**
 * OgParameters:
 *
 * Fitted constants of the viscosity prediction, written by tests/fit into
 * data/model/parameters.json. All in ln(viscosity / mPa.s). Each block has a mean and the lower
 * Cholesky factor of its covariance, so that value = mean + factor * z with z independent standard
 * normal.
 */
typedef struct
{
  gatomicrefcount ref_count;

  double correction[OG_N_CORRECTIONS]; /* of 1, 1000 (1/T - 1/313.15), double bonds - 1.2, carbons - 18 */
  double correction_factor[OG_N_CORRECTIONS][OG_N_CORRECTIONS];

  /* ricinoleic chain: ln eta = h0 + h1 u + h2 u^2, u = 1000 (1/T - 1/313.15) */
  double hydroxy[OG_N_HYDROXY];
  double hydroxy_factor[OG_N_HYDROXY][OG_N_HYDROXY];
  double hydroxy_low_c, hydroxy_high_c;

  double sample_sd;      /* between samples of one kind of oil */
  double sample_slope_sd; /* per unit of u, between samples */
  double low_c, high_c;  /* temperatures covered by the fit */
  OgGelDefaults gelling[OG_N_GEL_FAMILIES]; /* not fitted: data/model/gelling.json */
  char  *source;
} OgParameters;

/** Returns: (transfer full): parameters, or %NULL with an #OgCatalogError (a member is missing,
 * not finite, or not a factor or spread) or #GFileError */
OgParameters *og_parameters_load         (const char    *path,
                                          GError       **error);
/**
 * og_parameters_load_gelling:
 * @parameters: just loaded, not yet shared
 * @path: a file as data/model/gelling.json
 *
 * Returns: %FALSE with an #OgCatalogError (a family or figure is missing, of another unit, out of
 * range, without quality or known source, or not of the format) or #GFileError
 */
gboolean      og_parameters_load_gelling (OgParameters  *parameters,
                                          const char    *path,
                                          GError       **error);
/** Sets all of @defaults to unknown. */
void          og_gel_defaults_init       (OgGelDefaults *defaults);
/** Takes a reference. Returns: its argument */
OgParameters *og_parameters_ref          (OgParameters  *parameters);
/** Gives a reference back; the last one frees. */
void          og_parameters_unref        (OgParameters  *parameters);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgParameters, og_parameters_unref)

G_END_DECLS
