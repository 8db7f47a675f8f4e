/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <math.h>

#define FARTHEST_X 1e9 /* wt %, Celsius or 1/s: nothing real lies beyond */
/* Readings still taken under the same conditions: judgement. */
#define SAME_TEMPERATURE_C 1.5
#define SAME_RATE_RATIO 3.0
#define SAME_SHARE_PCT 0.05

/* --- curves --- */

const OgCurve *
og_chart_get_own (const OgChart *chart)
{
  return chart->n_curves > 0 ? chart->curves[0] : NULL;
}

OgCurveAxis
og_chart_get_axis (const OgChart *chart)
{
  return og_chart_get_own (chart) != NULL ? og_chart_get_own (chart)->axis : OG_CURVE_AGENT_PCT;
}

gboolean
og_chart_is_place (const OgCurve *curve,
                   double         x)
{
  return fabs (x) <= FARTHEST_X && (curve->axis != OG_CURVE_SHEAR_RATE_1_S || x >= 1 / FARTHEST_X);
}

gboolean
og_chart_is_viscosity (double mpa_s)
{
  return isfinite (mpa_s) && mpa_s > 0;
}

gboolean
og_chart_has_point (const OgCurve *curve,
                    guint          index)
{
  return og_chart_is_place (curve, curve->x[index]) && og_chart_is_viscosity (curve->value[index]);
}

gboolean
og_chart_has_points (const OgCurve *curve)
{
  if (curve == NULL)
    return FALSE;
  for (guint i = 0; i < curve->n; i++)
    if (og_chart_has_point (curve, i))
      return TRUE;

  return FALSE;
}

gboolean
og_chart_has_prior (const OgCurve *curve)
{
  return og_chart_has_points (curve) && curve->prior_low80 != NULL && curve->prior_high80 != NULL;
}

gboolean
og_chart_has_any (const OgChart *chart)
{
  for (guint i = 0; i < MIN (chart->n_curves, OG_CHART_MAX_CURVES); i++)
    if (og_chart_has_points (chart->curves[i]))
      return TRUE;

  return FALSE;
}

gboolean
og_chart_is_extrapolated (const OgCurve *curve,
                          const OgAxis  *x)
{
  return curve != NULL
         && ((isfinite (curve->valid_low_x) && curve->valid_low_x > x->low)
             || (isfinite (curve->valid_high_x) && curve->valid_high_x < x->high));
}

/* straight in ln viscosity, and in ln of the shear rate */
static double
between (double a,
         double b,
         double t)
{
  if (!og_chart_is_viscosity (a) || !og_chart_is_viscosity (b))
    return t <= 0 ? a : t >= 1 ? b : NAN;

  return exp (log (a) + t * (log (b) - log (a)));
}

OgEstimate
og_chart_read_curve (const OgCurve *curve,
                     double         x)
{
  OgEstimate unknown = { NAN, NAN, NAN };
  guint below = 0, above;
  double t, x0, x1;

  if (curve == NULL || curve->n == 0 || !og_chart_is_place (curve, x))
    return unknown;
  above = curve->n - 1;
  if (!(x >= curve->x[below] && x <= curve->x[above]))
    return unknown;

  while (above - below > 1)
    {
      guint middle = (below + above) / 2;

      if (curve->x[middle] <= x)
        below = middle;
      else
        above = middle;
    }
  x0 = curve->x[below];
  x1 = curve->x[above];
  if (!og_chart_is_place (curve, x0) || !og_chart_is_place (curve, x1))
    return unknown;
  if (!(x1 > x0))
    t = 0;
  else if (curve->axis == OG_CURVE_SHEAR_RATE_1_S)
    t = log (x / x0) / log (x1 / x0);
  else
    t = (x - x0) / (x1 - x0);

  return (OgEstimate) {
    between (curve->value[below], curve->value[above], t),
    between (curve->low80[below], curve->low80[above], t),
    between (curve->high80[below], curve->high80[above], t),
  };
}

gboolean
og_chart_has_target (const OgChart *chart)
{
  return og_chart_is_viscosity (chart->target_low_mpa_s)
         && og_chart_is_viscosity (chart->target_high_mpa_s)
         && chart->target_low_mpa_s <= chart->target_high_mpa_s;
}

/* --- bench readings --- */

static gboolean
same_conditions (const OgChart *chart,
                 const OgMark  *mark,
                 OgCurveAxis    axis)
{
  const OgCurve *own = og_chart_get_own (chart);
  gboolean agent = isfinite (chart->marks_agent_pct);

  if (axis != OG_CURVE_TEMPERATURE_C
      && fabs (mark->temperature_c - own->temperature_c) > SAME_TEMPERATURE_C)
    return FALSE;
  if (axis != OG_CURVE_AGENT_PCT && agent &&
      !(fabs (mark->agent_pct - chart->marks_agent_pct) <= SAME_SHARE_PCT))
    return FALSE;
  /* a liquid without an agent flows alike at every rate */
  if (axis != OG_CURVE_SHEAR_RATE_1_S && agent && isfinite (mark->shear_rate_1_s) &&
      fabs (log (mark->shear_rate_1_s / own->shear_rate_1_s)) > log (SAME_RATE_RATIO))
    return FALSE;

  return TRUE;
}

double
og_chart_place_mark (const OgChart *chart,
                     const OgMark  *mark)
{
  const OgCurve *own = og_chart_get_own (chart);
  OgCurveAxis axis = og_chart_get_axis (chart);
  double x = axis == OG_CURVE_AGENT_PCT ? mark->agent_pct
             : axis == OG_CURVE_TEMPERATURE_C ? mark->temperature_c
                                              : mark->shear_rate_1_s;

  if (!og_chart_has_points (own) || !og_chart_is_place (own, x)
      || !og_chart_is_viscosity (mark->mpa_s) || !same_conditions (chart, mark, axis))
    return NAN;

  return x;
}

guint
og_chart_get_n_marks (const OgChart *chart)
{
  return chart->marks != NULL ? chart->marks->len : 0;
}

gboolean
og_chart_has_marks (const OgChart *chart)
{
  for (guint i = 0; i < og_chart_get_n_marks (chart); i++)
    if (!isnan (og_chart_place_mark (chart, &g_array_index (chart->marks, OgMark, i))))
      return TRUE;

  return FALSE;
}

/* --- seconds of a cup --- */

double
og_chart_to_seconds (const OgChart *chart,
                     double         mpa_s)
{
  return chart->cup != NULL ? og_cup_seconds (*chart->cup, mpa_s / chart->density_g_ml) : NAN;
}

double
og_chart_from_seconds (const OgChart *chart,
                       double         seconds)
{
  return og_cup_kinematic (*chart->cup, seconds) * chart->density_g_ml;
}
