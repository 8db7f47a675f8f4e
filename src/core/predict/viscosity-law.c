/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/viscosity-law.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_fit.h>
#include <gsl/gsl_min.h>

#include "core/base/conditions.h"
#include "core/base/physics.h"

#define WALTHER_SHIFT 0.7 /* mm2/s: ASTM D341 */
#define ASSUMED_DENSITY_SD 0.05 /* of ln of the density assumed; judgement */
#define EXTRAPOLATION_SD_PER_K 0.004 /* of ln eta, outside two points or more; judgement */
#define EXTRAPOLATION_SD_PER_K_ONE_POINT 0.008 /* of ln eta, away from one point; judgement */
#define DISTINCT_K 2.0 /* points nearer than this say nothing of a slope; judgement */
#define VOGEL_MIN_SPAN_K 20.0 /* a curvature shows over no less; judgement */
#define N_VOGEL_GRID 60 /* places where the least misfit is looked for */
#define MOST_VOGEL_STEPS 100 /* of the minimiser, a cap */

/* A guess by kind where nothing was published: ln(mPa.s) at 25 C, its standard deviation, and
 * the slope of ln eta in 1/T in kelvin. All judgement; a bench value replaces them. */
typedef struct
{
  double ln_eta;
  double sd;
  double slope_k;
} KindGuess;

static const KindGuess kind_guess[OG_N_KINDS] = {
  [OG_KIND_OIL] = { 4.1, 0.4, 3400.0 },           [OG_KIND_BUTTER] = { 4.5, 0.4, 3400.0 },
  [OG_KIND_WAX] = { 4.5, 0.8, 3400.0 },           [OG_KIND_WAX_ESTER] = { 3.7, 0.4, 2900.0 },
  [OG_KIND_ESTER] = { 3.2, 1.1, 3000.0 },         [OG_KIND_HYDROCARBON] = { 3.0, 1.2, 2700.0 },
  [OG_KIND_SILICONE] = { 3.5, 1.5, 1900.0 },      [OG_KIND_ALCOHOL] = { 3.7, 0.7, 4500.0 },
  [OG_KIND_GELLING_AGENT] = { 8.5, 1.5, 5500.0 }, [OG_KIND_ANTIOXIDANT] = { 5.5, 2.0, 5500.0 },
  [OG_KIND_COLOUR] = { 5.0, 1.5, 4000.0 },        [OG_KIND_DISPERSION] = { 7.0, 1.5, 5500.0 },
  [OG_KIND_PEARL] = { 5.0, 1.5, 4000.0 },         [OG_KIND_POWDER] = { 5.0, 1.5, 4000.0 },
  [OG_KIND_FLAVOUR] = { 2.5, 1.3, 2700.0 },       [OG_KIND_ESSENTIAL_OIL] = { 1.0, 0.8, 2200.0 },
  [OG_KIND_VITAMIN] = { 5.5, 2.0, 5000.0 },       [OG_KIND_ACTIVE] = { 4.5, 1.5, 4000.0 },
};

static double
quality_sd (OgQuality quality)
{
  switch (quality)
    {
    case OG_QUALITY_MEASURED:
      return 0.03;
    case OG_QUALITY_TYPICAL:
      return 0.05;
    case OG_QUALITY_RECALLED:
      return 0.10;
    case OG_QUALITY_RANGE:
    case OG_QUALITY_ESTIMATED:
    case OG_QUALITY_UNKNOWN:
    default:
      return 0.15;
    }
}

typedef struct
{
  guint   n;
  double *t_k;
  double *ln_eta;
  double *inverse; /* 1 / (T - C), scratch of the Vogel fit */
  double  a, b, sum_of_squares;
} VogelFit;

/* For a given C the law is a straight line in 1 / (T - C). */
static double
vogel_misfit (double   c,
              gpointer user_data)
{
  VogelFit *fit = user_data;
  double cov00, cov01, cov11;

  for (guint i = 0; i < fit->n; i++)
    fit->inverse[i] = 1.0 / (fit->t_k[i] - c);
  gsl_fit_linear (fit->inverse, 1, fit->ln_eta, 1, fit->n, &fit->a, &fit->b, &cov00, &cov01, &cov11,
                  &fit->sum_of_squares);
  return fit->sum_of_squares;
}

/* The best C between 0 (Andrade) and 60 K below the coldest point, found on a grid and refined
 * by Brent's method. */
static double
vogel_best_c (VogelFit *fit,
              double    coldest_k)
{
  double step = (coldest_k - 60.0) / N_VOGEL_GRID;
  double misfit[N_VOGEL_GRID + 1];
  int best = 0;
  gsl_function function = { .function = vogel_misfit, .params = fit };
  gsl_min_fminimizer *minimizer;
  double c;

  for (int i = 0; i <= N_VOGEL_GRID; i++)
    {
      misfit[i] = vogel_misfit (i * step, fit);
      if (misfit[i] < misfit[best])
        best = i;
    }
  c = best * step;
  if (best == 0 || best == N_VOGEL_GRID || !(misfit[best + 1] > misfit[best]))
    return c;

  minimizer = gsl_min_fminimizer_alloc (gsl_min_fminimizer_brent);
  if (gsl_min_fminimizer_set_with_values (minimizer, &function, c, misfit[best], c - step,
                                          misfit[best - 1], c + step, misfit[best + 1])
      == GSL_SUCCESS)
    {
      for (int i = 0; i < MOST_VOGEL_STEPS; i++)
        {
          if (gsl_min_fminimizer_iterate (minimizer) != GSL_SUCCESS)
            break;
          if (gsl_min_test_interval (gsl_min_fminimizer_x_lower (minimizer),
                                     gsl_min_fminimizer_x_upper (minimizer), 1e-4, 0.0)
              == GSL_SUCCESS)
            break;
        }
      c = gsl_min_fminimizer_x_minimum (minimizer);
    }
  gsl_min_fminimizer_free (minimizer);
  return c;
}

static void
fit_vogel (OgViscosityLaw *law,
           guint           n,
           double         *t_k,
           double         *ln_eta)
{
  g_autofree double *inverse = g_new (double, n);
  VogelFit fit = { .n = n, .t_k = t_k, .ln_eta = ln_eta, .inverse = inverse };

  law->type = OG_LAW_VOGEL;
  law->c = vogel_best_c (&fit, og_kelvin (law->low_c));
  vogel_misfit (law->c, &fit);
  law->a = fit.a;
  law->b = fit.b;
  law->sd = fmax (law->sd, sqrt (fit.sum_of_squares / fmax (1.0, n - 3.0)));
  law->sd_per_k = EXTRAPOLATION_SD_PER_K;
}

static double
walther_y (double nu_mm2_s)
{
  return log10 (log10 (nu_mm2_s + WALTHER_SHIFT));
}

static double
law_density (const OgViscosityLaw *law,
             double                temperature_c)
{
  return law->density_g_ml + law->density_slope * (temperature_c - OG_TEMPERATURE_TABLE_C);
}

static void
fit_walther (OgViscosityLaw *law,
             guint           n,
             double         *t_k,
             double         *ln_eta)
{
  g_autofree double *x = g_new (double, n);
  g_autofree double *y = g_new (double, n);
  double intercept, slope, cov00, cov01, cov11, sum_of_squares;

  for (guint i = 0; i < n; i++)
    {
      x[i] = log10 (t_k[i]);
      y[i] = walther_y (exp (ln_eta[i]) / law_density (law, t_k[i] - OG_KELVIN_OFFSET));
    }
  gsl_fit_linear (x, 1, y, 1, n, &intercept, &slope, &cov00, &cov01, &cov11, &sum_of_squares);
  law->type = OG_LAW_WALTHER;
  law->a = intercept;
  law->b = -slope;
  law->sd_per_k = EXTRAPOLATION_SD_PER_K;
}

static void
fit_one_point (OgViscosityLaw *law,
               OgKind          kind,
               guint           n,
               double         *t_k,
               double         *ln_eta)
{
  double mean = 0.0, mean_t = 0.0;

  for (guint i = 0; i < n; i++)
    {
      mean += ln_eta[i] / n;
      mean_t += t_k[i] / n;
    }
  law->type = OG_LAW_ONE_POINT;
  law->b = kind_guess[kind].slope_k;
  law->a = mean - law->b / mean_t;
  law->c = 0.0;
  law->sd_per_k = EXTRAPOLATION_SD_PER_K_ONE_POINT;
}

static void
guess (OgViscosityLaw *law,
       OgKind          kind)
{
  law->type = OG_LAW_UNKNOWN;
  law->b = kind_guess[kind].slope_k;
  law->a = kind_guess[kind].ln_eta - law->b / og_kelvin (OG_TEMPERATURE_TABLE_C);
  law->c = 0.0;
  law->sd = kind_guess[kind].sd;
  law->sd_per_k = 0.0;
}

/* Points are sorted by temperature. */
static guint
count_distinct (guint         n,
                const double *t_k)
{
  guint distinct = n > 0 ? 1 : 0;
  double last = n > 0 ? t_k[0] : 0.0;

  for (guint i = 1; i < n; i++)
    if (t_k[i] - last > DISTINCT_K)
      {
        distinct++;
        last = t_k[i];
      }
  return distinct;
}

void
og_viscosity_law_fit (const OgIngredient *ingredient,
                      OgViscosityLaw     *law)
{
  guint n = ingredient->viscosity->len;
  g_autofree double *t_k = g_new (double, n + 1);
  g_autofree double *ln_eta = g_new (double, n + 1);
  double density = og_ingredient_density (ingredient, OG_TEMPERATURE_TABLE_C);
  gboolean density_known = isfinite (density);
  double slope = ingredient->figures[OG_FIGURE_DENSITY_SLOPE_G_ML_K].value;
  guint distinct;

  *law = (OgViscosityLaw) {
    .low_c = NAN,
    .high_c = NAN,
    .density_g_ml = density_known ? density : OG_ASSUMED_DENSITY_G_ML,
    .density_slope = isfinite (slope) ? slope : OG_OTHER_DENSITY_SLOPE_G_ML_K,
  };
  if (n == 0)
    {
      guess (law, ingredient->kind);
      return;
    }

  for (guint i = 0; i < n; i++)
    {
      const OgViscosityDatum *datum = &g_array_index (ingredient->viscosity, OgViscosityDatum, i);
      double scale = datum->kinematic ? law_density (law, datum->temperature_c) : 1.0;
      double sd = quality_sd (datum->quality);

      if (datum->kinematic && !density_known)
        sd = hypot (sd, ASSUMED_DENSITY_SD);
      t_k[i] = og_kelvin (datum->temperature_c);
      ln_eta[i] = log (datum->value * scale);
      law->sd = fmax (law->sd, sd);
    }
  law->low_c = t_k[0] - OG_KELVIN_OFFSET;
  law->high_c = t_k[n - 1] - OG_KELVIN_OFFSET;

  distinct = count_distinct (n, t_k);
  if (distinct >= 3 && law->high_c - law->low_c >= VOGEL_MIN_SPAN_K)
    fit_vogel (law, n, t_k, ln_eta);
  else if (distinct >= 2)
    fit_walther (law, n, t_k, ln_eta);
  else
    fit_one_point (law, ingredient->kind, n, t_k, ln_eta);
}

double
og_viscosity_law_ln (const OgViscosityLaw *law,
                     double                temperature_c)
{
  double t_k = og_kelvin (temperature_c);
  double nu;

  switch (law->type)
    {
    case OG_LAW_WALTHER:
      nu = pow (10.0, pow (10.0, law->a - law->b * log10 (t_k))) - WALTHER_SHIFT;
      return log (fmax (nu, 0.05) * law_density (law, temperature_c));
    case OG_LAW_VOGEL:
    case OG_LAW_ONE_POINT:
    case OG_LAW_UNKNOWN:
    default:
      return law->a + law->b / (t_k - law->c);
    }
}

double
og_viscosity_law_sd (const OgViscosityLaw *law,
                     double                temperature_c)
{
  double outside = 0.0;

  if (isfinite (law->low_c))
    outside = fmax (0.0, fmax (law->low_c - temperature_c, temperature_c - law->high_c));
  return hypot (law->sd, law->sd_per_k * outside);
}
