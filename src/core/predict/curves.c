/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/curves.h"

#include <gsl/gsl_interp.h>

#include "core/base/conditions.h"

#define LOWEST_C 0.0 /* of the temperature axis: a cold hall */
#define HIGHEST_C 110.0 /* of the temperature axis: a hot pot */
#define LOWEST_RATE 1e-3 /* 1/s, of the shear axis: settling */
#define HIGHEST_RATE 1e4 /* 1/s, of the shear axis: a fast rub */
#define LEAST_AGENT_SPAN 0.03 /* of the axis of the agent, mass fraction */
#define MOST_AGENT_SPAN 0.60 /* of the axis of the agent, mass fraction */
#define BAND_STEP 3 /* points of the curve for one of the band, which is smoother and costs more */
#define N_BANDS ((OG_CURVE_POINTS - 1) / BAND_STEP + 1)

G_STATIC_ASSERT ((OG_CURVE_POINTS - 1) % BAND_STEP == 0);

/* Where sample @i of a curve lies. */
typedef struct
{
  double x;
  double temperature_c;
  double shear_rate_1_s;
  double share; /* of the main agent */
} Place;

typedef Place (*PlaceFunc) (const OgBlend *blend,
                            guint          i);

static double
step_between (double low,
              double high,
              guint  i)
{
  return low + (high - low) * i / (OG_CURVE_POINTS - 1);
}

static Place
place_by_agent (const OgBlend *blend,
                guint          i)
{
  const OgGellant *gellant = og_blend_get_main_gellant (blend);
  double most = fmax (og_blend_get_built_share (blend), gellant->gel_point);
  double share = step_between (0.0, CLAMP (1.6 * most, LEAST_AGENT_SPAN, MOST_AGENT_SPAN), i);

  return (Place) { 100.0 * share, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR, share };
}

static Place
place_by_temperature (const OgBlend *blend,
                      guint          i)
{
  double temperature_c = step_between (LOWEST_C, HIGHEST_C, i);

  return (Place) { temperature_c, temperature_c, OG_SHEAR_POUR, og_blend_get_built_share (blend) };
}

static Place
place_by_shear (const OgBlend *blend,
                guint          i)
{
  double rate = exp (step_between (log (LOWEST_RATE), log (HIGHEST_RATE), i));

  return (Place) { rate, OG_TEMPERATURE_ROOM_C, rate, og_blend_get_built_share (blend) };
}

static void
go_to (OgBlend     *blend,
       const Place *place)
{
  if (og_blend_get_n_agents (blend) > 0)
    og_blend_set_main_share (blend, place->share);
}

static OgEstimate
estimate_at (OgBlend    *blend,
             const Place place)
{
  go_to (blend, &place);
  return og_blend_viscosity (blend, place.temperature_c, place.shear_rate_1_s);
}

static double
typical_at (OgBlend    *blend,
            const Place place)
{
  go_to (blend, &place);
  return exp (og_blend_ln_viscosity (blend, place.temperature_c, place.shear_rate_1_s, NULL));
}

static void
curve_init (OgCurve    *curve,
            OgCurveAxis axis)
{
  *curve = (OgCurve) {
    .axis = axis,
    .own_x = NAN,
    .own = { NAN, NAN, NAN },
    .mark_x = NAN,
    .clear_x = NAN,
    .valid_low_x = NAN,
    .valid_high_x = NAN,
    .temperature_c = axis == OG_CURVE_TEMPERATURE_C ? NAN : OG_TEMPERATURE_ROOM_C,
    .shear_rate_1_s = axis == OG_CURVE_SHEAR_RATE_1_S ? NAN : OG_SHEAR_POUR,
  };
}

static double *
row_new (void)
{
  return g_new (double, OG_CURVE_POINTS);
}

/* NAN stays NAN. */
static double
above_zero (double x)
{
  return x < 0.0 ? 0.0 : x;
}

/* The band is smooth, so it is taken at every third sample; in between Akima interpolation
 * carries its distance from the typical value of the blend it belongs to. */
static void
sample_band (OgBlend  *blend,
             PlaceFunc place,
             double   *value,
             double   *low80,
             double   *high80)
{
  double at[N_BANDS], down[N_BANDS], up[N_BANDS];
  gsl_interp *below = gsl_interp_alloc (gsl_interp_akima, N_BANDS);
  gsl_interp *above = gsl_interp_alloc (gsl_interp_akima, N_BANDS);

  for (guint i = 0; i < N_BANDS; i++)
    {
      OgEstimate band = estimate_at (blend, place (blend, i * BAND_STEP));

      at[i] = i * BAND_STEP;
      down[i] = log (band.low80 / band.value);
      up[i] = log (band.high80 / band.value);
    }
  gsl_interp_init (below, at, down, N_BANDS);
  gsl_interp_init (above, at, up, N_BANDS);
  for (guint i = 0; i < OG_CURVE_POINTS; i++)
    {
      value[i] = typical_at (blend, place (blend, i));
      low80[i] = value[i] * exp (-above_zero (-gsl_interp_eval (below, at, down, i, NULL)));
      high80[i] = value[i] * exp (above_zero (gsl_interp_eval (above, at, up, i, NULL)));
    }
  gsl_interp_free (below);
  gsl_interp_free (above);
}

static void
sample (OgCurve  *curve,
        OgBlend  *blend,
        OgBlend  *prior,
        PlaceFunc place)
{
  curve->n = OG_CURVE_POINTS;
  curve->x = row_new ();
  curve->value = row_new ();
  curve->low80 = row_new ();
  curve->high80 = row_new ();
  for (guint i = 0; i < curve->n; i++)
    curve->x[i] = place (blend, i).x;
  sample_band (blend, place, curve->value, curve->low80, curve->high80);
  if (prior != NULL)
    {
      double typical[OG_CURVE_POINTS];

      curve->prior_low80 = row_new ();
      curve->prior_high80 = row_new ();
      sample_band (prior, place, typical, curve->prior_low80, curve->prior_high80);
    }
}

static void
mark_setting (OgCurve       *curve,
              const OgBlend *blend)
{
  OgAgentState state;

  og_blend_describe_agent (blend, og_blend_get_main_index (blend), &state);
  curve->mark_x = state.sets_c;
  curve->clear_x = state.clears_c;
  g_free (state.ingredient_id);
}

void
og_curves_fill (OgCurve  curves[OG_N_CURVES],
                OgBlend *blend,
                OgBlend *prior)
{
  OgCurve *agent = &curves[OG_CURVE_AGENT_PCT];
  OgCurve *temperature = &curves[OG_CURVE_TEMPERATURE_C];
  OgCurve *shear = &curves[OG_CURVE_SHEAR_RATE_1_S];
  const OgGellant *gellant = og_blend_get_main_gellant (blend);
  OgEstimate own;

  for (int i = 0; i < OG_N_CURVES; i++)
    curve_init (&curves[i], (OgCurveAxis) i);
  if (!og_blend_flows (blend))
    return;

  own = og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  agent->own = temperature->own = shear->own = own;
  temperature->own_x = OG_TEMPERATURE_ROOM_C;
  shear->own_x = OG_SHEAR_POUR;
  og_blend_get_validity (blend, &temperature->valid_low_x, &temperature->valid_high_x);
  sample (shear, blend, prior, place_by_shear);
  sample (temperature, blend, prior, place_by_temperature);
  if (gellant == NULL)
    return;

  agent->ingredient_id = g_strdup (og_blend_get_main_agent (blend));
  agent->own_x = 100.0 * og_blend_get_built_share (blend);
  agent->mark_x = 100.0 * og_blend_get_gel_point (blend);
  if (agent->own_x > 0.0)
    mark_setting (temperature, blend);
  sample (agent, blend, prior, place_by_agent);
  og_blend_set_main_share (blend, og_blend_get_built_share (blend));
}
