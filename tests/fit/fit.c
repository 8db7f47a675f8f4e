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

#include "common/csv.h"
#include "core/catalog.h"
#include "core/triglyceride.h"
#include "core/units.h"

#define ROUNDING_SD 0.28867513459481287 /* of a number rounded to whole units: 1/sqrt(12) */
#define RECALLED_SD 0.03
#define LOW_WEIGHT_SD 0.10
#define HYDROXY_ERROR_SD 0.03
#define PROFILE_SD 0.03 /* a typical profile stands for that of the sample */

static const double prior_sd[OG_N_CORRECTIONS] = { 0.15, 0.15, 0.05, 0.03 };
static const double hydroxy_prior_sd[OG_N_HYDROXY] = { 3.0, 5.0, 5.0 };

typedef struct
{
  char *series;
  char *source;
  double temperature_c;
  double ln_eta;
  double error_sd; /* rounding and weight */
  OgChains *chains;
  gboolean hydroxy;
  gboolean in_fit;
} Point;

/* Variances of one fit, as logarithms of standard deviations so that the search is free. */
enum
{
  LN_SAMPLE,
  LN_SLOPE,
  LN_ERROR,
  N_SCALES
};

/* Lognormal priors of the standard deviations. That of the slope is firm: whole-number readings near 8 mm2/s at 100 C
 * would else be taken for slopes. */
static const struct
{
  double median, ln_sd;
} scale_prior[N_SCALES] = { { 0.05, 1.0 }, { 0.03, 0.3 }, { 0.03, 1.0 } };

typedef struct
{
  guint n;
  guint n_constants;
  const Point **points;
  gsl_vector *y;
  gsl_matrix *basis;
  double laboratory_sd;
  const double *prior_sd;
} Problem;

static void
point_free (gpointer data)
{
  Point *point = data;

  g_free (point->series);
  g_free (point->source);
  og_chains_free (point->chains);
  g_free (point);
}

/* Laboratory: the citation up to its first comma. */
static gboolean
same_source (const Point *a,
             const Point *b)
{
  return g_str_equal (a->source, b->source);
}

static gboolean
same_sample (const Point *a,
             const Point *b)
{
  return g_str_equal (a->series, b->series);
}

static double
point_u (const Point *point)
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
        const Point *a = problem->points[i], *b = problem->points[j];
        double sum = 0.0;

        if (same_source (a, b))
          sum += problem->laboratory_sd * problem->laboratory_sd;
        if (same_sample (a, b))
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
  problem->points = (const Point **) points->pdata;
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
      const Point *point = problem.points[i];
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
      const Point *point = problem.points[i];
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
residual (const Point        *point,
          const OgParameters *parameters)
{
  return point->ln_eta
         - og_chains_ln_viscosity (point->chains, parameters, og_kelvin (point->temperature_c), NULL);
}

/* Variance that the mean residual of @n points in @n_samples samples would have without a laboratory effect. */
static double
chance_variance (const double scale[N_SCALES],
                 double       error_variance,
                 guint        n,
                 guint        n_samples)
{
  double sample = exp (scale[LN_SAMPLE]), error = exp (scale[LN_ERROR]);

  return sample * sample / n_samples + (error * error + error_variance / n) / n;
}

/* Standard deviation between laboratories: of the mean residuals of the sources, less what chance explains. */
static double
laboratory_scatter (GPtrArray          *points,
                    const OgParameters *parameters,
                    const double        scale[N_SCALES])
{
  double sum = 0.0;
  guint n_sources = 0;

  for (guint i = 0; i < points->len; i++)
    {
      const Point *first = g_ptr_array_index (points, i);
      double total = 0.0, error_variance = 0.0;
      guint n = 0, n_samples = 0;
      const Point *last = NULL;
      gboolean seen = FALSE;

      for (guint j = 0; j < points->len; j++)
        {
          const Point *point = g_ptr_array_index (points, j);

          if (!same_source (first, point))
            continue;
          seen = seen || j < i;
          total += residual (point, parameters);
          error_variance += point->error_sd * point->error_sd;
          n++;
          n_samples += last == NULL || !same_sample (last, point);
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
           const Point        *point,
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
      const Point *first = g_ptr_array_index (points, i);
      Score score = { 0 };

      score_add (&all, first, parameters);
      if (i > 0 && same_sample (first, g_ptr_array_index (points, i - 1)))
        continue;
      for (guint j = i; j < points->len && same_sample (first, g_ptr_array_index (points, j)); j++)
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
      const Point *first = g_ptr_array_index (fitted, i);
      g_autoptr (GPtrArray) kept = g_ptr_array_new ();
      g_autoptr (GPtrArray) out = g_ptr_array_new ();
      OgParameters parameters = { 0 };
      double scale[N_SCALES];
      Score score = { 0 };
      gboolean seen = FALSE;

      for (guint j = 0; j < fitted->len; j++)
        {
          Point *point = g_ptr_array_index (fitted, j);

          seen = seen || (j < i && same_source (first, point));
          g_ptr_array_add (same_source (first, point) ? out : kept, point);
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

static OgProfile *
sample_profile (const CsvTable *profiles,
                const char     *series)
{
  OgProfile *profile = og_profile_new ();

  for (guint i = 0; i < csv_table_len (profiles); i++)
    {
      g_autoptr (GError) error = NULL;
      OgAcid acid;

      if (!g_str_equal (csv_table_text (profiles, i, "id"), series))
        continue;
      if (!og_acid_parse (csv_table_text (profiles, i, "fatty_acid"), &acid, &error))
        g_error ("%s: %s", series, error->message);
      og_profile_add (profile, acid, csv_table_number (profiles, i, "wt_percent"));
    }
  og_profile_normalise (profile);
  return profile;
}

static int
find_sample (const CsvTable *samples,
             const char     *series)
{
  for (guint i = 0; i < csv_table_len (samples); i++)
    if (g_str_equal (csv_table_text (samples, i, "series"), series))
      return (int) i;
  return -1;
}

static double
data_error_sd (const CsvTable *series,
               guint           row)
{
  const char *text = csv_table_text (series, row, "value");
  double variance = 0.0;

  if (strchr (text, '.') == NULL)
    {
      double relative = ROUNDING_SD / g_ascii_strtod (text, NULL);

      variance += relative * relative;
    }
  if (g_str_equal (csv_table_text (series, row, "flag"), "recalled"))
    variance += RECALLED_SD * RECALLED_SD;
  if (strstr (csv_table_text (series, row, "note"), "low weight") != NULL)
    variance += LOW_WEIGHT_SD * LOW_WEIGHT_SD;
  return sqrt (variance);
}

static Point *
point_new (const CsvTable  *series,
           guint            row,
           const OgProfile *profile)
{
  Point *point = g_new0 (Point, 1);
  const char *source = csv_table_text (series, row, "source");
  double value = csv_table_number (series, row, "value");

  point->series = g_strdup (csv_table_text (series, row, "id"));
  point->source = g_strndup (source, strcspn (source, ","));
  point->temperature_c = csv_table_number (series, row, "temperature_c");
  if (g_str_equal (csv_table_text (series, row, "unit"), "mm2/s"))
    {
      double density = csv_table_number (series, row, "density_g_ml");

      value *= isfinite (density) ? density : og_profile_density (profile, point->temperature_c);
    }
  point->ln_eta = log (value);
  point->error_sd = data_error_sd (series, row);
  point->chains = og_chains_new (profile);
  return point;
}

/* Sorts every usable row into fit, hydroxy and check. */
static void
read_points (const char      *tests_folder,
             const OgCatalog *catalog,
             GPtrArray       *fit,
             GPtrArray       *hydroxy,
             GPtrArray       *check)
{
  g_autofree char *data = g_build_filename (tests_folder, "data", NULL);
  g_autofree char *here = g_build_filename (tests_folder, "fit", NULL);
  g_autoptr (CsvTable) series = csv_table_load (data, "viscosity_series.csv");
  g_autoptr (CsvTable) profiles = csv_table_load (data, "sample_profiles.csv");
  g_autoptr (CsvTable) samples = csv_table_load (here, "samples.csv");

  for (guint i = 0; i < csv_table_len (series); i++)
    {
      const char *id = csv_table_text (series, i, "id");
      g_autoptr (OgProfile) profile = sample_profile (profiles, id);
      gboolean own_profile = profile->shares->len > 0;
      int sample = find_sample (samples, id);
      const char *use = sample >= 0 ? csv_table_text (samples, (guint) sample, "use") : "fit";
      Point *point;

      if (strstr (csv_table_text (series, i, "note"), "SUSPECT") != NULL || (sample < 0 && !own_profile))
        continue;
      if (!own_profile)
        {
          const char *text = csv_table_text (samples, (guint) sample, "profile");
          const char *material_id = csv_table_text (samples, (guint) sample, "material_id");

          g_clear_pointer (&profile, og_profile_free);
          if (*text != '\0')
            {
              profile = og_profile_parse (text, NULL);
            }
          else
            {
              const OgIngredient *material = og_catalog_get (catalog, material_id);

              if (material == NULL)
                g_error ("%s is not in the catalog", material_id);
              profile = og_profile_copy (material->profile);
            }
        }
      point = point_new (series, i, profile);
      if (!own_profile && g_str_equal (use, "check"))
        point->error_sd = hypot (point->error_sd, PROFILE_SD);
      g_ptr_array_add (g_str_equal (use, "fit") ? fit : g_str_equal (use, "hydroxy") ? hydroxy : check,
                       point);
    }
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
      const Point *point = g_ptr_array_index (points, i);

      *low_c = fmin (*low_c, point->temperature_c);
      *high_c = fmax (*high_c, point->temperature_c);
    }
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GPtrArray) fit = g_ptr_array_new_with_free_func (point_free);
  g_autoptr (GPtrArray) hydroxy = g_ptr_array_new_with_free_func (point_free);
  g_autoptr (GPtrArray) check = g_ptr_array_new_with_free_func (point_free);
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
  read_points (argv[1], catalog, fit, hydroxy, check);

  /* The scatter between laboratories needs a fit and the fit needs the scatter: it settles in a few rounds. */
  for (int round = 0; round < 5; round++)
    {
      fit_corrections (fit, laboratory_sd, &parameters, scale);
      laboratory_sd = laboratory_scatter (check, &parameters, scale);
    }
  fit_hydroxy (hydroxy, laboratory_sd, scale, &parameters);
  parameters.sample_sd = hypot (exp (scale[LN_SAMPLE]), laboratory_sd);
  parameters.sample_slope_sd = exp (scale[LN_SLOPE]);
  range_of (fit, &parameters.low_c, &parameters.high_c);
  range_of (hydroxy, &parameters.hydroxy_low_c, &parameters.hydroxy_high_c);

  printf ("standard deviations of ln eta: laboratory %.3f, sample %.3f, slope %.3f, error %.3f\n",
          laboratory_sd, exp (scale[LN_SAMPLE]), exp (scale[LN_SLOPE]), exp (scale[LN_ERROR]));
  printf ("corrections %.4f %.4f %.4f %.4f; hydroxy %.4f %.4f %.4f\n", parameters.correction[0],
          parameters.correction[1], parameters.correction[2], parameters.correction[3],
          parameters.hydroxy[0], parameters.hydroxy[1], parameters.hydroxy[2]);
  published.sample_sd = parameters.sample_sd;
  report_group ("fitted series, published correlation alone", fit, &published);
  report_group ("fitted series", fit, &parameters);
  report_left_out (fit, laboratory_sd);
  report_group ("series not fitted, typical profile of the catalog", check, &parameters);
  report_group ("castor oil", hydroxy, &parameters);

  if (argc == 4)
    {
      g_autofree char *json = parameters_to_json (&parameters);

      if (!g_file_set_contents (argv[3], json, -1, &error))
        g_error ("%s", error->message);
    }
  return 0;
}
