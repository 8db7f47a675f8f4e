/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * Fits the constants of the triglyceride viscosity model to published series and prints how well they are met.
 *
 *   fit TESTS-FOLDER DATA-FOLDER          prints the report
 *   fit TESTS-FOLDER DATA-FOLDER OUT.json writes the parameter file as well
 *
 * The model is linear in its constants: ln eta - published = basis * constants + laboratory + sample (1, u) + error.
 * Laboratory, sample and error are random with variances found by maximum likelihood; the constants carry a weak
 * normal prior. Nothing here draws random numbers, so the output is the same to the last digit.
 */

#include "config.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multimin.h>
#include <stdio.h>
#include <string.h>

#include "common/series.h"
#include "core/base/units.h"

#define HYDROXY_ERROR_SD 0.03

static const double prior_sd[OG_N_CORRECTIONS] = { 0.15, 0.15, 0.05, 0.03 };
static const double hydroxy_prior_sd[OG_N_HYDROXY] = { 3.0, 5.0, 5.0 };

/* Variances of one fit, as logarithms of standard deviations so that the search is free. */
enum
{
  LN_SAMPLE,
  LN_SLOPE,
  LN_ERROR,
  N_SCALES
};

/* Lognormal priors of the standard deviations. That of the slope is firm: whole-number readings
 * near 8 mm2/s at 100 C would else be taken for slopes. */
static const struct
{
  double median, ln_sd;
} scale_prior[N_SCALES] = { { 0.05, 1.0 }, { 0.03, 0.3 }, { 0.03, 1.0 } };

typedef struct
{
  guint n;
  guint n_constants;
  const SeriesPoint **points;
  gsl_vector *y;
  gsl_matrix *basis;
  double laboratory_sd;
  const double *prior_sd;
} Problem;

static double
point_u (const SeriesPoint *point)
{
  return og_reciprocal_temperature (og_kelvin (point->temperature_c));
}

static gsl_matrix *
covariance_new (const Problem *problem,
                const double   scale[N_SCALES])
{
  gsl_matrix *covariance = gsl_matrix_calloc (problem->n, problem->n);
  double sample = exp (scale[LN_SAMPLE]), slope = exp (scale[LN_SLOPE]), error = exp (scale[LN_ERROR]);

  for (guint i = 0; i < problem->n; i++)
    for (guint j = 0; j < problem->n; j++)
      {
        const SeriesPoint *a = problem->points[i], *b = problem->points[j];
        double sum = 0.0;

        if (series_same_source (a, b))
          sum += problem->laboratory_sd * problem->laboratory_sd;
        if (series_same_sample (a, b))
          sum += sample * sample + slope * slope * point_u (a) * point_u (b);
        if (i == j)
          sum += error * error + a->error_sd * a->error_sd;
        gsl_matrix_set (covariance, i, j, sum);
      }
  return covariance;
}

/*
 * Posterior of the constants for given variances.
 * Returns: minus twice the log marginal likelihood, up to a constant
 */
static double
solve (const Problem *problem,
       const double   scale[N_SCALES],
       gsl_vector    *mean,
       gsl_matrix    *factor)
{
  guint m = problem->n_constants;
  gsl_matrix *covariance = covariance_new (problem, scale);
  gsl_matrix *basis = gsl_matrix_alloc (problem->n, m);
  gsl_vector *y = gsl_vector_alloc (problem->n);
  gsl_matrix *precision = gsl_matrix_calloc (m, m);
  gsl_vector *right = gsl_vector_calloc (m);
  double log_likelihood = 0.0, yy, quadratic;

  gsl_linalg_cholesky_decomp1 (covariance);
  gsl_matrix_memcpy (basis, problem->basis);
  gsl_vector_memcpy (y, problem->y);
  gsl_blas_dtrsm (CblasLeft, CblasLower, CblasNoTrans, CblasNonUnit, 1.0, covariance, basis);
  gsl_blas_dtrsv (CblasLower, CblasNoTrans, CblasNonUnit, covariance, y);
  for (guint i = 0; i < problem->n; i++)
    log_likelihood += 2.0 * log (gsl_matrix_get (covariance, i, i));

  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1.0, basis, basis, 0.0, precision);
  for (guint i = 0; i < m; i++)
    {
      double p = 1.0 / (problem->prior_sd[i] * problem->prior_sd[i]);

      gsl_matrix_set (precision, i, i, gsl_matrix_get (precision, i, i) + p);
      log_likelihood -= log (p);
    }
  gsl_blas_dgemv (CblasTrans, 1.0, basis, y, 0.0, right);
  gsl_blas_ddot (y, y, &yy);
  gsl_linalg_cholesky_decomp1 (precision);
  for (guint i = 0; i < m; i++)
    log_likelihood += 2.0 * log (gsl_matrix_get (precision, i, i));
  gsl_linalg_cholesky_solve (precision, right, mean);
  gsl_blas_ddot (right, mean, &quadratic);
  log_likelihood += yy - quadratic;

  if (factor != NULL)
    {
      gsl_linalg_cholesky_invert (precision);
      gsl_linalg_cholesky_decomp1 (precision);
      for (guint i = 0; i < m; i++)
        for (guint j = 0; j < m; j++)
          gsl_matrix_set (factor, i, j, j <= i ? gsl_matrix_get (precision, i, j) : 0.0);
    }
  gsl_matrix_free (covariance);
  gsl_matrix_free (basis);
  gsl_vector_free (y);
  gsl_matrix_free (precision);
  gsl_vector_free (right);
  return log_likelihood;
}

static double
likelihood_of_scales (const gsl_vector *scales,
                      void             *user_data)
{
  const Problem *problem = user_data;
  gsl_vector *mean = gsl_vector_alloc (problem->n_constants);
  double scale[N_SCALES], penalty = 0.0, value;

  for (int i = 0; i < N_SCALES; i++)
    {
      double distance = gsl_vector_get (scales, i) - log (scale_prior[i].median);

      scale[i] = gsl_vector_get (scales, i);
      penalty += distance * distance / (scale_prior[i].ln_sd * scale_prior[i].ln_sd);
    }
  value = solve (problem, scale, mean, NULL) + penalty;
  gsl_vector_free (mean);
  return value;
}

static void
find_scales (Problem *problem,
             double   scale[N_SCALES])
{
  gsl_multimin_function function = { .f = likelihood_of_scales, .n = N_SCALES, .params = problem };
  gsl_multimin_fminimizer *minimizer
      = gsl_multimin_fminimizer_alloc (gsl_multimin_fminimizer_nmsimplex2, N_SCALES);
  gsl_vector *start = gsl_vector_alloc (N_SCALES);
  gsl_vector *step = gsl_vector_alloc (N_SCALES);

  for (int i = 0; i < N_SCALES; i++)
    gsl_vector_set (start, i, log (scale_prior[i].median));
  gsl_vector_set_all (step, 0.5);
  gsl_multimin_fminimizer_set (minimizer, &function, start, step);
  for (int i = 0; i < 500; i++)
    if (gsl_multimin_fminimizer_iterate (minimizer) != 0
        || gsl_multimin_test_size (gsl_multimin_fminimizer_size (minimizer), 1e-5) == GSL_SUCCESS)
      break;
  for (int i = 0; i < N_SCALES; i++)
    scale[i] = gsl_vector_get (minimizer->x, i);
  gsl_multimin_fminimizer_free (minimizer);
  gsl_vector_free (start);
  gsl_vector_free (step);
}

static void
problem_init (Problem   *problem,
              GPtrArray *points,
              double     laboratory_sd)
{
  problem->n = points->len;
  problem->points = (const SeriesPoint **) points->pdata;
  problem->laboratory_sd = laboratory_sd;
  problem->y = gsl_vector_alloc (problem->n);
  problem->basis = gsl_matrix_alloc (problem->n, problem->n_constants);
}

static void
problem_clear (Problem *problem)
{
  gsl_vector_free (problem->y);
  gsl_matrix_free (problem->basis);
}

static void
store_factor (const gsl_matrix *from,
              double           *to,
              guint             n)
{
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      to[i * n + j] = gsl_matrix_get (from, i, j);
}

/* Corrections of the ordinary chains from @points. */
static void
fit_corrections (GPtrArray    *points,
                 double        laboratory_sd,
                 OgParameters *parameters,
                 double        scale[N_SCALES])
{
  Problem problem = { .n_constants = OG_N_CORRECTIONS, .prior_sd = prior_sd };
  gsl_vector *mean = gsl_vector_alloc (OG_N_CORRECTIONS);
  gsl_matrix *factor = gsl_matrix_alloc (OG_N_CORRECTIONS, OG_N_CORRECTIONS);

  problem_init (&problem, points, laboratory_sd);
  for (guint i = 0; i < problem.n; i++)
    {
      const SeriesPoint *point = problem.points[i];
      double t_k = og_kelvin (point->temperature_c);
      double basis[OG_N_GLOBALS];

      og_chains_basis (point->chains, t_k, basis);
      gsl_vector_set (problem.y, i, point->ln_eta - og_chains_ordinary (point->chains, t_k));
      for (guint j = 0; j < OG_N_CORRECTIONS; j++)
        gsl_matrix_set (problem.basis, i, j, basis[j]);
    }
  find_scales (&problem, scale);
  solve (&problem, scale, mean, factor);
  for (guint i = 0; i < OG_N_CORRECTIONS; i++)
    parameters->correction[i] = gsl_vector_get (mean, i);
  store_factor (factor, &parameters->correction_factor[0][0], OG_N_CORRECTIONS);
  problem_clear (&problem);
  gsl_vector_free (mean);
  gsl_matrix_free (factor);
}

/* The ricinoleic chain from castor oil, the ordinary chains taken as fitted. */
static void
fit_hydroxy (GPtrArray    *points,
             double        laboratory_sd,
             const double  scale[N_SCALES],
             OgParameters *parameters)
{
  Problem problem = { .n_constants = OG_N_HYDROXY, .prior_sd = hydroxy_prior_sd };
  gsl_vector *mean = gsl_vector_alloc (OG_N_HYDROXY);
  gsl_matrix *factor = gsl_matrix_alloc (OG_N_HYDROXY, OG_N_HYDROXY);
  double castor_scale[N_SCALES] = { scale[LN_SAMPLE], scale[LN_SLOPE], log (HYDROXY_ERROR_SD) };

  problem_init (&problem, points, laboratory_sd);
  for (guint i = 0; i < problem.n; i++)
    {
      const SeriesPoint *point = problem.points[i];
      double t_k = og_kelvin (point->temperature_c);
      double basis[OG_N_GLOBALS];
      double known = og_chains_ordinary (point->chains, t_k);

      og_chains_basis (point->chains, t_k, basis);
      for (guint j = 0; j < OG_N_CORRECTIONS; j++)
        known += basis[j] * parameters->correction[j];
      gsl_vector_set (problem.y, i, point->ln_eta - known);
      for (guint j = 0; j < OG_N_HYDROXY; j++)
        gsl_matrix_set (problem.basis, i, j, basis[OG_N_CORRECTIONS + j]);
    }
  solve (&problem, castor_scale, mean, factor);
  for (guint i = 0; i < OG_N_HYDROXY; i++)
    parameters->hydroxy[i] = gsl_vector_get (mean, i);
  store_factor (factor, &parameters->hydroxy_factor[0][0], OG_N_HYDROXY);
  problem_clear (&problem);
  gsl_vector_free (mean);
  gsl_matrix_free (factor);
}

static double
residual (const SeriesPoint        *point,
          const OgParameters *parameters)
{
  return point->ln_eta
         - og_chains_ln_viscosity (point->chains, parameters, og_kelvin (point->temperature_c), NULL);
}

/* Variance that the mean residual of @n points in @n_samples samples would have without a
 * laboratory effect. */
static double
chance_variance (const double scale[N_SCALES],
                 double       error_variance,
                 guint        n,
                 guint        n_samples)
{
  double sample = exp (scale[LN_SAMPLE]), error = exp (scale[LN_ERROR]);

  return sample * sample / n_samples + (error * error + error_variance / n) / n;
}

/* Standard deviation between laboratories: of the mean residuals of the sources, less what
 * chance explains. */
static double
laboratory_scatter (GPtrArray          *points,
                    const OgParameters *parameters,
                    const double        scale[N_SCALES])
{
  double sum = 0.0;
  guint n_sources = 0;

  for (guint i = 0; i < points->len; i++)
    {
      const SeriesPoint *first = g_ptr_array_index (points, i);
      double total = 0.0, error_variance = 0.0;
      guint n = 0, n_samples = 0;
      const SeriesPoint *last = NULL;
      gboolean seen = FALSE;

      for (guint j = 0; j < points->len; j++)
        {
          const SeriesPoint *point = g_ptr_array_index (points, j);

          if (!series_same_source (first, point))
            continue;
          seen = seen || j < i;
          total += residual (point, parameters);
          error_variance += point->error_sd * point->error_sd;
          n++;
          n_samples += last == NULL || !series_same_sample (last, point);
          last = point;
        }
      if (seen)
        continue;
      sum += total / n * total / n - chance_variance (scale, error_variance, n, n_samples);
      n_sources++;
    }
  return sqrt (fmax (sum / n_sources, 0.0001));
}

typedef struct
{
  double bias, mean_absolute, largest;
  guint n, inside;
} Score;

static void
score_add (Score              *score,
           const SeriesPoint        *point,
           const OgParameters *parameters)
{
  double gradient[OG_N_GLOBALS];
  double t_k = og_kelvin (point->temperature_c);
  double u = og_reciprocal_temperature (t_k);
  double error = og_chains_ln_viscosity (point->chains, parameters, t_k, gradient) - point->ln_eta;
  double variance = parameters->sample_sd * parameters->sample_sd
                    + parameters->sample_slope_sd * u * parameters->sample_slope_sd * u
                    + point->error_sd * point->error_sd;
  double spread = og_chains_spread (point->chains, t_k);

  variance += spread * spread;
  for (guint i = 0; i < OG_N_GLOBALS; i++)
    variance += gradient[i] * gradient[i];
  score->n++;
  score->bias += expm1 (error);
  score->mean_absolute += fabs (expm1 (error));
  score->largest = fmax (score->largest, fabs (expm1 (error)));
  score->inside += fabs (error) <= 1.2815515655446004 * sqrt (variance);
}

static void
score_print (const char  *name,
             const Score *score)
{
  printf ("%-58s %4u  %+6.1f %%  %5.1f %%  %5.1f %%  %3.0f %%\n", name, score->n,
          100.0 * score->bias / score->n, 100.0 * score->mean_absolute / score->n,
          100.0 * score->largest, 100.0 * score->inside / score->n);
}

static void
report_group (const char         *title,
              GPtrArray          *points,
              const OgParameters *parameters)
{
  Score all = { 0 };

  printf ("\n%-58s    n     bias  mean abs  largest  in band\n", title);
  for (guint i = 0; i < points->len; i++)
    {
      const SeriesPoint *first = g_ptr_array_index (points, i);
      Score score = { 0 };

      score_add (&all, first, parameters);
      if (i > 0 && series_same_sample (first, g_ptr_array_index (points, i - 1)))
        continue;
      for (guint j = i; j < points->len && series_same_sample (first, g_ptr_array_index (points, j)); j++)
        score_add (&score, g_ptr_array_index (points, j), parameters);
      score_print (first->series, &score);
    }
  score_print ("all", &all);
}

/* Each source predicted from a fit that never saw it. */
static void
report_left_out (GPtrArray *fitted,
                 double     laboratory_sd)
{
  Score all = { 0 };

  printf ("\n%-58s    n     bias  mean abs  largest  in band\n", "left out of the fit, by source");
  for (guint i = 0; i < fitted->len; i++)
    {
      const SeriesPoint *first = g_ptr_array_index (fitted, i);
      g_autoptr (GPtrArray) kept = g_ptr_array_new ();
      g_autoptr (GPtrArray) out = g_ptr_array_new ();
      OgParameters parameters = { 0 };
      double scale[N_SCALES];
      Score score = { 0 };
      gboolean seen = FALSE;

      for (guint j = 0; j < fitted->len; j++)
        {
          SeriesPoint *point = g_ptr_array_index (fitted, j);

          seen = seen || (j < i && series_same_source (first, point));
          g_ptr_array_add (series_same_source (first, point) ? out : kept, point);
        }
      if (seen || kept->len == 0)
        continue;
      fit_corrections (kept, laboratory_sd, &parameters, scale);
      parameters.sample_sd = hypot (exp (scale[LN_SAMPLE]), laboratory_sd);
      parameters.sample_slope_sd = exp (scale[LN_SLOPE]);
      for (guint j = 0; j < out->len; j++)
        {
          score_add (&score, g_ptr_array_index (out, j), &parameters);
          score_add (&all, g_ptr_array_index (out, j), &parameters);
        }
      score_print (first->source, &score);
    }
  score_print ("all", &all);
}

static void
append_numbers (GString      *out,
                const double *numbers,
                guint         n)
{
  g_string_append_c (out, '[');
  for (guint i = 0; i < n; i++)
    {
      char text[G_ASCII_DTOSTR_BUF_SIZE];

      g_ascii_formatd (text, sizeof text, "%.9g", numbers[i]);
      g_string_append_printf (out, "%s%s", i > 0 ? ", " : "", text);
    }
  g_string_append_c (out, ']');
}

static void
append_matrix (GString      *out,
               const char   *name,
               const double *numbers,
               guint         n)
{
  g_string_append_printf (out, "  \"%s\": [\n", name);
  for (guint i = 0; i < n; i++)
    {
      g_string_append (out, "    ");
      append_numbers (out, numbers + i * n, n);
      g_string_append (out, i + 1 < n ? ",\n" : "\n");
    }
  g_string_append (out, "  ],\n");
}

static void
append_number (GString    *out,
               const char *name,
               double      number,
               const char *end)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (text, sizeof text, "%.9g", number);
  g_string_append_printf (out, "  \"%s\": %s%s\n", name, text, end);
}

static char *
parameters_to_json (const OgParameters *parameters)
{
  GString *out = g_string_new ("{\n  \"format\": \"oleograph-parameters\",\n  \"version\": 1,\n");

  g_string_append (out, "  \"source\": \"Written by tests/fit from tests/data/viscosity_series.csv and "
                        "sample_profiles.csv; do not edit\",\n  \"correction\": ");
  append_numbers (out, parameters->correction, OG_N_CORRECTIONS);
  g_string_append (out, ",\n");
  append_matrix (out, "correction_factor", &parameters->correction_factor[0][0], OG_N_CORRECTIONS);
  g_string_append (out, "  \"hydroxy\": ");
  append_numbers (out, parameters->hydroxy, OG_N_HYDROXY);
  g_string_append (out, ",\n");
  append_matrix (out, "hydroxy_factor", &parameters->hydroxy_factor[0][0], OG_N_HYDROXY);
  append_number (out, "hydroxy_low_c", parameters->hydroxy_low_c, ",");
  append_number (out, "hydroxy_high_c", parameters->hydroxy_high_c, ",");
  append_number (out, "sample_sd", parameters->sample_sd, ",");
  append_number (out, "sample_slope_sd", parameters->sample_slope_sd, ",");
  append_number (out, "low_c", parameters->low_c, ",");
  append_number (out, "high_c", parameters->high_c, "");
  g_string_append (out, "}\n");
  return g_string_free (out, FALSE);
}

static void
range_of (GPtrArray *points,
          double    *low_c,
          double    *high_c)
{
  *low_c = INFINITY;
  *high_c = -INFINITY;
  for (guint i = 0; i < points->len; i++)
    {
      const SeriesPoint *point = g_ptr_array_index (points, i);

      *low_c = fmin (*low_c, point->temperature_c);
      *high_c = fmax (*high_c, point->temperature_c);
    }
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (SeriesPoints) series = NULL;
  g_autoptr (OgCatalog) catalog = NULL;
  g_autoptr (GError) error = NULL;
  OgParameters parameters = { 0 };
  OgParameters published = { 0 };
  double scale[N_SCALES];
  double laboratory_sd = 0.05;

  if (argc < 3 || argc > 4)
    {
      g_printerr ("usage: fit TESTS-FOLDER DATA-FOLDER [OUT.json]\n");
      return 1;
    }
  catalog = og_catalog_load (argv[2], &error);
  if (catalog == NULL)
    g_error ("%s", error->message);
  series = series_points_load (argv[1], catalog);

  /* The scatter between laboratories needs a fit and the fit needs the scatter: it settles in a
   * few rounds. */
  for (int round = 0; round < 5; round++)
    {
      fit_corrections (series->fit, laboratory_sd, &parameters, scale);
      laboratory_sd = laboratory_scatter (series->check, &parameters, scale);
    }
  fit_hydroxy (series->hydroxy, laboratory_sd, scale, &parameters);
  parameters.sample_sd = hypot (exp (scale[LN_SAMPLE]), laboratory_sd);
  parameters.sample_slope_sd = exp (scale[LN_SLOPE]);
  range_of (series->fit, &parameters.low_c, &parameters.high_c);
  range_of (series->hydroxy, &parameters.hydroxy_low_c, &parameters.hydroxy_high_c);

  printf ("standard deviations of ln eta: laboratory %.3f, sample %.3f, slope %.3f, error %.3f\n",
          laboratory_sd, exp (scale[LN_SAMPLE]), exp (scale[LN_SLOPE]), exp (scale[LN_ERROR]));
  printf ("corrections %.4f %.4f %.4f %.4f; hydroxy %.4f %.4f %.4f\n", parameters.correction[0],
          parameters.correction[1], parameters.correction[2], parameters.correction[3],
          parameters.hydroxy[0], parameters.hydroxy[1], parameters.hydroxy[2]);
  published.sample_sd = parameters.sample_sd;
  report_group ("fitted series, published correlation alone", series->fit, &published);
  report_group ("fitted series", series->fit, &parameters);
  report_left_out (series->fit, laboratory_sd);
  report_group ("series not fitted, typical profile of the catalog", series->check, &parameters);
  report_group ("castor oil", series->hydroxy, &parameters);

  if (argc == 4)
    {
      g_autofree char *json = parameters_to_json (&parameters);

      if (!g_file_set_contents (argv[3], json, -1, &error))
        g_error ("%s", error->message);
    }
  return 0;
}
