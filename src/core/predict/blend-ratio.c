/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/blend-private.h"

#define AGENT_STEP 0.5 /* standard deviations, of the difference over an agent */
#define LIQUID_STEP 0.01 /* of ln eta, of the difference over a liquid */

double *
og_blend_slopes (OgBlend      *blend,
                 double        temperature_c,
                 double        shear_rate_1_s,
                 const double *z)
{
  guint n = blend->variables->len;
  double *slope = g_new0 (double, n);
  g_autofree double *at = g_new0 (double, n);
  double share = 0.0;

  og_blend_prepare_liquid (blend, temperature_c);
  for (guint i = 0; i < n; i++)
    {
      if (z != NULL)
        at[i] = z[i];
      else if (blend->in_belief != NULL && blend->in_belief[i] >= 0)
        at[i] = og_belief_get_mean (blend->belief, (guint) blend->in_belief[i]);
    }

  for (guint i = 0; i < n; i++)
    {
      gboolean liquid = i < blend->first_agent_variable;
      double step = liquid ? LIQUID_STEP / blend->liquid.gradient[i] : AGENT_STEP;
      double here = at[i], plus, minus;

      if (liquid && blend->liquid.gradient[i] == 0.0)
        continue;
      /* All variables of the liquid act through its viscosity alone. */
      if (liquid && share > 0.0)
        {
          slope[i] = share * blend->liquid.gradient[i];
          continue;
        }
      at[i] = here + step;
      plus = og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, at);
      at[i] = here - step;
      minus = og_blend_ln_viscosity (blend, temperature_c, shear_rate_1_s, at);
      at[i] = here;
      slope[i] = (plus - minus) / (2.0 * step);
      if (liquid)
        share = slope[i] / blend->liquid.gradient[i];
    }
  return slope;
}

/* One named variable and how much more it moves one recipe than the other. */
typedef struct
{
  const char *name;
  double difference;
} Lever;

static GArray *
collect_levers (const OgBlend *a,
                const double  *slope_a,
                const OgBlend *b,
                const double  *slope_b)
{
  GArray *levers = g_array_new (FALSE, FALSE, sizeof (Lever));
  g_autoptr (GHashTable) place = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < a->variables->len; i++)
    {
      Lever lever = { g_ptr_array_index (a->variables, i), slope_a[i] };

      g_hash_table_insert (place, (gpointer) lever.name, GUINT_TO_POINTER (levers->len + 1));
      g_array_append_val (levers, lever);
    }
  for (guint i = 0; i < b->variables->len; i++)
    {
      Lever lever = { g_ptr_array_index (b->variables, i), -slope_b[i] };
      guint shared = GPOINTER_TO_UINT (g_hash_table_lookup (place, lever.name));

      if (shared > 0)
        g_array_index (levers, Lever, shared - 1).difference -= slope_b[i];
      else
        g_array_append_val (levers, lever);
    }
  return levers;
}

static double
variance_of (const GArray   *levers,
             const OgBelief *belief)
{
  double variance = 0.0;

  for (guint i = 0; i < levers->len; i++)
    {
      const Lever *one = &g_array_index (levers, Lever, i);
      int at = belief != NULL ? og_belief_find (belief, one->name) : -1;

      if (at < 0)
        {
          variance += one->difference * one->difference;
          continue;
        }
      for (guint j = 0; j < levers->len; j++)
        {
          const Lever *other = &g_array_index (levers, Lever, j);
          int there = og_belief_find (belief, other->name);

          if (there >= 0)
            variance += one->difference * other->difference
                        * og_belief_get_covariance (belief, (guint) at, (guint) there);
        }
    }
  return variance;
}

OgEstimate
og_blend_ratio (OgBlend *a,
                OgBlend *b,
                double   temperature_c,
                double   shear_rate_1_s)
{
  g_autofree double *slope_a = NULL;
  g_autofree double *slope_b = NULL;
  g_autoptr (GArray) levers = NULL;
  double ln_ratio;

  g_return_val_if_fail (a->belief == b->belief, ((OgEstimate) { NAN, NAN, NAN }));

  if (!og_blend_flows (a) || !og_blend_flows (b))
    return (OgEstimate) { NAN, NAN, NAN };
  ln_ratio = og_blend_ln_viscosity (a, temperature_c, shear_rate_1_s, NULL)
             - og_blend_ln_viscosity (b, temperature_c, shear_rate_1_s, NULL);
  slope_a = og_blend_slopes (a, temperature_c, shear_rate_1_s, NULL);
  slope_b = og_blend_slopes (b, temperature_c, shear_rate_1_s, NULL);
  levers = collect_levers (a, slope_a, b, slope_b);
  return og_estimate_from_normal (ln_ratio, variance_of (levers, a->belief));
}
