/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/curves.h"

#define LOWEST_C 0.0
#define HIGHEST_C 110.0
#define LOWEST_RATE 1e-3
#define HIGHEST_RATE 1e4
#define LEAST_AGENT_SPAN 0.03
#define MOST_AGENT_SPAN 0.60

static void
curve_init (OgCurve    *curve,
            OgCurveAxis axis)
{
  *curve = (OgCurve) {
    .axis = axis,
    .own_x = NAN,
    .own = { NAN, NAN, NAN },
    .mark_x = NAN,
    .valid_low_x = NAN,
    .valid_high_x = NAN,
    .temperature_c = NAN,
    .shear_rate_1_s = NAN,
  };
}

static void
curve_alloc (OgCurve *curve)
{
  curve->n = OG_CURVE_POINTS;
  curve->x = g_new (double, curve->n);
  curve->value = g_new (double, curve->n);
  curve->low80 = g_new (double, curve->n);
  curve->high80 = g_new (double, curve->n);
}

static void
curve_set (OgCurve   *curve,
           guint      i,
           double     x,
           OgEstimate estimate)
{
  curve->x[i] = x;
  curve->value[i] = estimate.value;
  curve->low80[i] = estimate.low80;
  curve->high80[i] = estimate.high80;
}

static double
step_between (double low,
              double high,
              guint  i)
{
  return low + (high - low) * i / (OG_CURVE_POINTS - 1);
}

static void
fill_agent (OgCurve *curve,
            OgBlend *blend)
{
  double own = og_blend_get_main_share (blend);
  const OgGellant *gellant = og_blend_get_main_gellant (blend);
  double span;

  if (gellant == NULL)
    return;
  span = fmin (MOST_AGENT_SPAN, fmax (LEAST_AGENT_SPAN, fmax (1.6 * own, 1.6 * gellant->gel_point)));
  curve_alloc (curve);
  curve->ingredient_id = g_strdup (og_blend_get_main_agent (blend));
  curve->temperature_c = OG_TEMPERATURE_ROOM_C;
  curve->shear_rate_1_s = OG_SHEAR_POUR;
  curve->own_x = 100.0 * own;
  curve->own = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  curve->mark_x = 100.0 * gellant->gel_point;
  for (guint i = 0; i < curve->n; i++)
    {
      double share = step_between (0.0, span, i);

      og_blend_set_main_share (blend, share);
      curve_set (curve, i, 100.0 * share,
                 og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR));
    }
  og_blend_set_main_share (blend, own);
}

static void
fill_temperature (OgCurve *curve,
                  OgBlend *blend)
{
  const OgGellant *gellant = og_blend_get_main_gellant (blend);

  curve_alloc (curve);
  curve->shear_rate_1_s = OG_SHEAR_POUR;
  curve->own_x = OG_TEMPERATURE_ROOM_C;
  curve->own = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  if (gellant != NULL && og_blend_get_main_share (blend) > 0.0)
    curve->mark_x = gellant->sets_c;
  og_blend_get_validity (blend, &curve->valid_low_x, &curve->valid_high_x);
  for (guint i = 0; i < curve->n; i++)
    {
      double temperature_c = step_between (LOWEST_C, HIGHEST_C, i);

      curve_set (curve, i, temperature_c, og_blend_viscosity (blend, temperature_c, OG_SHEAR_POUR));
    }
}

static void
fill_shear (OgCurve *curve,
            OgBlend *blend)
{
  curve_alloc (curve);
  curve->temperature_c = OG_TEMPERATURE_ROOM_C;
  curve->own_x = OG_SHEAR_POUR;
  curve->own = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  for (guint i = 0; i < curve->n; i++)
    {
      double rate = exp (step_between (log (LOWEST_RATE), log (HIGHEST_RATE), i));

      curve_set (curve, i, rate, og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, rate));
    }
}

void
og_curves_fill (OgCurve  curves[OG_N_CURVES],
                OgBlend *blend)
{
  for (int i = 0; i < OG_N_CURVES; i++)
    curve_init (&curves[i], (OgCurveAxis) i);
  if (!og_blend_flows (blend))
    return;
  fill_agent (&curves[OG_CURVE_AGENT_PCT], blend);
  fill_shear (&curves[OG_CURVE_SHEAR_RATE_1_S], blend);
  fill_temperature (&curves[OG_CURVE_TEMPERATURE_C], blend);
}

void
og_curve_clear (OgCurve *curve)
{
  g_clear_pointer (&curve->x, g_free);
  g_clear_pointer (&curve->value, g_free);
  g_clear_pointer (&curve->low80, g_free);
  g_clear_pointer (&curve->high80, g_free);
  g_clear_pointer (&curve->ingredient_id, g_free);
  curve->n = 0;
}
