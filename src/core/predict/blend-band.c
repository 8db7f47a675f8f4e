/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>

#include "core/base/root.h"
#include "core/base/statistics.h"
#include "core/predict/blend-private.h"

/* Below it a body has no yield stress that an instrument sees; judgement. */
#define LEAST_YIELD_PA 1e-3
#define LEAST_SD 1e-6 /* keeps a density finite where nothing is uncertain */
/* Outer nodes of the three-point Gauss-Hermite rule for a normal variable. */
#define SQRT3 1.7320508075688772
#define MOST_DIMENSIONS 40u /* what gsl_qrng_sobol() bears */
#define N_BINS 32u /* of the histogram that stands for the nodes */

/* The strength of the network is taken as lognormal at each node rather than spread over nodes,
 * unless measurements tie it to the other constants. */
static gboolean
is_spread (const OgBlend *blend,
           guint          variable)
{
  return blend->agents_learned || variable == 0
         || (variable - 1) % OG_N_GEL_KNOBS != OG_GEL_KNOB_STRENGTH;
}

/* Quasi-random settings of the agents' constants: Sobol points through the normal distribution. */
static void
spread_nodes (OgBlend *blend)
{
  guint n = og_blend_n_agent_variables (blend);
  guint dimensions = 0;
  double point[MOST_DIMENSIONS];
  g_autofree double *z = g_new (double, n);
  OgBlendNodes *nodes = g_new0 (OgBlendNodes, 1);
  gsl_qrng *sobol;

  for (guint v = 0; v < n; v++)
    dimensions += is_spread (blend, v) ? 1 : 0;
  dimensions = MIN (dimensions, MOST_DIMENSIONS);
  nodes->xi = g_new0 (double, OG_N_NODES * n);
  nodes->knobs = g_new (OgGelKnobs, OG_N_NODES * blend->agents->len);
  sobol = gsl_qrng_alloc (gsl_qrng_sobol, dimensions);
  for (guint i = 0; i < OG_N_NODES; i++)
    {
      double *xi = nodes->xi + i * n;
      guint next = 0;

      /* The knobs matter more than the joint network, and low dimensions are spread best. */
      gsl_qrng_get (sobol, point);
      for (guint v = 1; v <= n; v++)
        if (is_spread (blend, v % n) && next < dimensions)
          xi[v % n] = gsl_cdf_ugaussian_Pinv (point[next++]);
      for (guint v = 0; v < n; v++)
        {
          z[v] = blend->agent_mean[v];
          if (blend->agent_factor == NULL)
            z[v] += xi[v];
          else
            for (guint w = 0; w <= v; w++)
              z[v] += blend->agent_factor[v * n + w] * xi[w];
        }
      nodes->joint[i] = exp (OG_JOINT_NETWORK_SD * z[0]);
      for (guint a = 0; a < blend->agents->len; a++)
        og_gellant_turn (&g_array_index (blend->agents, OgBlendAgent, a).gellant,
                         z + 1 + a * OG_N_GEL_KNOBS, &nodes->knobs[i * blend->agents->len + a]);
    }
  gsl_qrng_free (sobol);
  blend->nodes = nodes;
}

static void
prepare_nodes (OgBlend *blend,
               double   temperature_c)
{
  OgBlendNodes *nodes;

  if (blend->nodes == NULL)
    spread_nodes (blend);
  nodes = blend->nodes;
  if (nodes->ready && nodes->temperature_c == temperature_c)
    return;
  for (guint i = 0; i < OG_N_NODES; i++)
    {
      OgGelResponse total;

      og_blend_respond (blend, temperature_c, &nodes->knobs[i * blend->agents->len], nodes->joint[i],
                        &total);
      nodes->thickening[i] = total.thickening;
      nodes->association[i] = total.association;
      nodes->yield_pa[i] = total.yield_pa;
      nodes->yield_ln_sd[i] = blend->agents_learned ? 0.0 : total.yield_ln_sd;
      nodes->yield_spread[i] = exp (SQRT3 * nodes->yield_ln_sd[i]);
    }
  nodes->temperature_c = temperature_c;
  nodes->ready = TRUE;
}

/* A measured gel ties the liquid to the agents: what a node's agents imply for ln eta of the
 * liquid is weight * xi, and that much less of its variance is left. Returns: the variance left;
 * @weight has one number for each agent variable. */
static double
tie_liquid (const OgBlend *blend,
            double        *weight)
{
  guint n = og_blend_n_agent_variables (blend);
  const OgBlendLiquidState *liquid = &blend->liquid;
  double explained = 0.0;
  gsl_matrix_view factor;
  gsl_vector_view vector = gsl_vector_view_array (weight, n);

  memset (weight, 0, n * sizeof (double));
  if (!blend->agents_learned)
    return liquid->variance;
  for (guint v = 0; v < n; v++)
    {
      int agent = blend->in_belief[blend->first_agent_variable + v];

      for (guint i = 0; agent >= 0 && i < blend->first_agent_variable; i++)
        if (blend->in_belief[i] >= 0)
          weight[v] += liquid->gradient[i]
                       * og_belief_get_covariance (blend->belief, (guint) blend->in_belief[i], (guint) agent);
    }
  factor = gsl_matrix_view_array (blend->agent_factor, n, n);
  gsl_blas_dtrsv (CblasLower, CblasNoTrans, CblasNonUnit, &factor.matrix, &vector.vector);
  for (guint v = 0; v < n; v++)
    explained += weight[v] * weight[v];
  return fmax (0.0, liquid->variance - explained);
}

/* A mixture of normal distributions of ln eta. Nodes with neighbouring means are merged with
 * their moments, so that a quantile costs a few dozen terms. */
typedef struct
{
  guint n;
  double weight[N_BINS], mean[N_BINS], sd[N_BINS];
  double probability;
} Mixture;

/* Returns: %FALSE if the mean or the spread at a node is unknown */
static gboolean
mixture_init (Mixture      *mixture,
              const double *mean,
              const double *sd)
{
  double count[N_BINS] = { 0 }, sum[N_BINS] = { 0 }, squares[N_BINS] = { 0 };
  double low = INFINITY, high = -INFINITY, scale;

  for (guint i = 0; i < OG_N_NODES; i++)
    {
      if (!isfinite (mean[i]) || !isfinite (sd[i]))
        return FALSE;
      low = fmin (low, mean[i]);
      high = fmax (high, mean[i]);
    }
  scale = high > low ? N_BINS / (high - low) : 0.0;
  for (guint i = 0; i < OG_N_NODES; i++)
    {
      guint bin = MIN ((guint) ((mean[i] - low) * scale), N_BINS - 1);
      double above = mean[i] - low;

      count[bin] += 1.0;
      sum[bin] += above;
      squares[bin] += above * above + sd[i] * sd[i];
    }
  mixture->n = 0;
  for (guint bin = 0; bin < N_BINS; bin++)
    {
      double centre;

      if (count[bin] == 0.0)
        continue;
      centre = sum[bin] / count[bin];
      mixture->weight[mixture->n] = count[bin] / OG_N_NODES;
      mixture->mean[mixture->n] = low + centre;
      mixture->sd[mixture->n] = fmax (LEAST_SD, sqrt (fmax (0.0, squares[bin] / count[bin] - centre * centre)));
      mixture->n++;
    }
  return TRUE;
}

static double
mixture_excess (double   x,
                gpointer user_data)
{
  const Mixture *mixture = user_data;
  double sum = 0.0;

  for (guint i = 0; i < mixture->n; i++)
    sum += mixture->weight[i] * 0.5 * erfc ((mixture->mean[i] - x) / mixture->sd[i] * M_SQRT1_2);
  return sum - mixture->probability;
}

/* NAN if unknown. */
static double
mixture_quantile (Mixture *mixture,
                  double   probability)
{
  double z = gsl_cdf_ugaussian_Pinv (probability);
  double low = INFINITY, high = -INFINITY;

  mixture->probability = probability;
  for (guint i = 0; i < mixture->n; i++)
    {
      double reach = z * mixture->sd[i];

      low = fmin (low, mixture->mean[i] + reach);
      high = fmax (high, mixture->mean[i] + reach);
    }
  if (high - low < 1e-6)
    return 0.5 * (low + high);
  return og_find_root (mixture_excess, mixture, low - 1e-9, high + 1e-9, 1e-3);
}

OgEstimate
og_estimate_from_normal (double ln_eta,
                         double variance)
{
  double half = OG_HALF_BAND_SD * sqrt (variance);

  return (OgEstimate) { exp (ln_eta), exp (ln_eta - half), exp (ln_eta + half) };
}

static const OgEstimate unknown = { NAN, NAN, NAN };

/* What a rate makes of association and of one pascal of yield stress, mPa.s. */
static void
flow_factors (double  flow_index,
              double  shear_rate_1_s,
              double *association_factor,
              double *yield_factor)
{
  *association_factor = og_gel_flow (1.0, 1.0, 0.0, flow_index, shear_rate_1_s) - 1.0;
  *yield_factor = og_gel_flow (0.0, 0.0, 1.0, flow_index, shear_rate_1_s);
}

/* Mean and standard deviation of ln (floor + structure), both lognormal: linear in the floor,
 * three-point Gauss-Hermite over the structure. */
static void
match_moments (double  floor,
               double  floor_sd,
               double  structure,
               double  spread,
               double *mean,
               double *sd)
{
  double low, middle, high, share, m, variance;

  if (structure <= 0.0)
    {
      *mean = log (floor);
      *sd = floor_sd;
      return;
    }
  low = log (floor + structure / spread);
  middle = log (floor + structure);
  high = log (floor + structure * spread);
  share = floor / (floor + structure);
  m = (low + 4.0 * middle + high) / 6.0;
  variance = ((low - m) * (low - m) + 4.0 * (middle - m) * (middle - m) + (high - m) * (high - m)) / 6.0;

  *mean = m;
  *sd = sqrt (variance + share * floor_sd * share * floor_sd);
}

static double
dot (const double *a,
     const double *b,
     guint         n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += a[i] * b[i];
  return sum;
}

static OgEstimate
band_around (double typical,
             double low80,
             double high80)
{
  if (!isfinite (typical) || isnan (low80) || isnan (high80))
    return unknown;
  return (OgEstimate) { typical, fmin (typical, low80), fmax (typical, high80) };
}

OgEstimate
og_blend_viscosity (OgBlend *blend,
                    double   temperature_c,
                    double   shear_rate_1_s)
{
  guint n = og_blend_n_agent_variables (blend);
  double mean[OG_N_NODES], sd[OG_N_NODES];
  double eta_0, liquid_sd, association_factor, yield_factor, typical;
  g_autofree double *tie = NULL;
  OgGelResponse response;
  Mixture mixture;

  if (!og_blend_flows (blend))
    return unknown;
  typical = og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, NULL);
  if (blend->agents->len == 0)
    return og_estimate_from_normal (typical, blend->liquid.variance);

  prepare_nodes (blend, temperature_c);
  tie = g_new (double, n);
  liquid_sd = sqrt (tie_liquid (blend, tie));
  og_blend_respond_to (blend, temperature_c, NULL, &response);
  flow_factors (response.flow_index, shear_rate_1_s, &association_factor, &yield_factor);
  eta_0 = exp (blend->liquid.ln_eta + blend->liquid.lesson) * og_blend_suspension (blend);
  for (guint i = 0; i < OG_N_NODES; i++)
    {
      const OgBlendNodes *nodes = blend->nodes;
      double floor = eta_0 * nodes->thickening[i] * (1.0 + nodes->association[i] * association_factor);

      if (blend->agents_learned)
        floor *= exp (dot (tie, nodes->xi + i * n, n));
      match_moments (floor, liquid_sd, nodes->yield_pa[i] * yield_factor, nodes->yield_spread[i], &mean[i],
                     &sd[i]);
    }
  if (!mixture_init (&mixture, mean, sd))
    return unknown;
  return band_around (exp (typical), exp (mixture_quantile (&mixture, 0.1)),
                      exp (mixture_quantile (&mixture, 0.9)));
}

OgEstimate
og_blend_liquid (OgBlend *blend,
                 double   temperature_c)
{
  if (!og_blend_flows (blend))
    return unknown;
  og_blend_prepare_liquid (blend, temperature_c);
  return og_estimate_from_normal (blend->liquid.ln_eta + blend->liquid.lesson, blend->liquid.variance);
}

/* Mixture of ln yield; a node that does not gel lies far below every yield that matters. */
static gboolean
fill_yield_mixture (const OgBlendNodes *nodes,
                    Mixture            *mixture)
{
  double mean[OG_N_NODES], sd[OG_N_NODES];

  for (guint i = 0; i < OG_N_NODES; i++)
    {
      mean[i] = log (fmax (nodes->yield_pa[i], 1e-3 * LEAST_YIELD_PA));
      sd[i] = nodes->yield_pa[i] > 0.0 ? nodes->yield_ln_sd[i] : 0.0;
    }
  return mixture_init (mixture, mean, sd);
}

static double
yield_quantile (Mixture *mixture,
                double   probability)
{
  mixture->probability = probability;
  if (mixture_excess (log (LEAST_YIELD_PA), mixture) >= 0.0)
    return 0.0;
  return exp (mixture_quantile (mixture, probability));
}

OgEstimate
og_blend_yield (OgBlend *blend,
                double   temperature_c,
                double   threshold_pa,
                double  *probability)
{
  OgGelResponse total;
  Mixture mixture;

  if (probability != NULL)
    *probability = 0.0;
  if (!og_blend_flows (blend))
    return unknown;
  if (blend->agents->len == 0)
    return (OgEstimate) { 0.0, 0.0, 0.0 };

  prepare_nodes (blend, temperature_c);
  if (!fill_yield_mixture (blend->nodes, &mixture))
    return unknown;
  if (probability != NULL)
    {
      mixture.probability = 0.0;
      *probability = 1.0 - mixture_excess (log (threshold_pa), &mixture);
    }
  og_blend_respond_to (blend, temperature_c, NULL, &total);
  return band_around (total.yield_pa, yield_quantile (&mixture, 0.1),
                      yield_quantile (&mixture, 0.9));
}
