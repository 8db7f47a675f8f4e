/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/belief.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>

#include "core/base/statistics.h"
#include "core/predict/blend-private.h"

/* Standard deviations from the prediction: 1 reading of 370 by chance; judgement. */
#define CONTRADICTION_SD 3.0
#define MOST_ITERATIONS 30 /* of Gauss-Newton, a cap */
#define CONVERGED 1e-6 /* of a standard deviation: far below what a band shows */

struct _OgBelief
{
  gatomicrefcount ref_count;
  GHashTable *index;    /* name -> index + 1; names owned */
  guint n;
  double *mean;
  double *covariance;   /* n x n */
  GArray *lessons;
};

/* One measurement that is learned from. */
typedef struct
{
  const OgMeasurement *measurement;
  OgBlend *blend;
  int *place;       /* of each variable of the blend among those of the belief */
} Row;

static void
row_clear (gpointer data)
{
  Row *row = data;

  og_blend_free (row->blend);
  g_free (row->place);
}

static void
lesson_clear (gpointer data)
{
  OgLesson *lesson = data;

  g_free (lesson->measurement_id);
  g_free (lesson->material_id);
}

static OgBlend *
blend_of (const OgMeasurement *measurement,
          const OgCatalog     *catalog)
{
  g_autoptr (GPtrArray) contents = og_measurement_contents (measurement, catalog);

  return og_blend_new (contents, og_catalog_get_parameters (catalog));
}

/* How far the reading lies from the prediction that knows no reading, in standard deviations of
 * both. */
static OgLesson
judge (const OgMeasurement *measurement,
       OgBlend             *blend)
{
  const OgReduced *reduced = &measurement->reduced;
  OgLesson lesson = {
    .measurement_id = g_strdup (measurement->id),
    .material_id = g_strdup (measurement->material_id),
    .predicted = { NAN, NAN, NAN },
    .surprise = NAN,
  };
  double distance, sd;

  if (!og_blend_flows (blend))
    return lesson;
  lesson.predicted
      = og_blend_viscosity (blend, measurement->reading.temperature_c, reduced->shear_rate_1_s);
  distance = log (reduced->mpa_s / lesson.predicted.value);
  sd = log (distance > 0.0 ? lesson.predicted.high80 / lesson.predicted.value
                           : lesson.predicted.value / lesson.predicted.low80)
       / OG_HALF_BAND_SD;
  lesson.surprise = distance / hypot (sd, reduced->ln_sd);
  lesson.contradicts = fabs (lesson.surprise) > CONTRADICTION_SD;
  lesson.used = !measurement->set_aside && (!lesson.contradicts || measurement->accepted);
  return lesson;
}

static int
place_variable (OgBelief   *belief,
                const char *name)
{
  int at = og_belief_find (belief, name);

  if (at >= 0)
    return at;
  g_hash_table_insert (belief->index, g_strdup (name), GUINT_TO_POINTER (belief->n + 1));
  return (int) belief->n++;
}

/* Variables that move the measured value become part of the belief. */
static void
place_row (OgBelief *belief,
           Row      *row)
{
  const OgMeasurement *measurement = row->measurement;
  g_autofree double *slope
      = og_blend_slopes (row->blend, measurement->reading.temperature_c,
                         measurement->reduced.shear_rate_1_s, NULL);

  row->place = g_new (int, row->blend->variables->len);
  for (guint i = 0; i < row->blend->variables->len; i++)
    {
      gboolean agent = i > row->blend->first_agent_variable;

      row->place[i] = slope[i] != 0.0 || agent
                          ? place_variable (belief, g_ptr_array_index (row->blend->variables, i))
                          : -1;
    }
}

/* ln eta of the row for the values @z of the belief's variables, and its slopes by them. */
static double
predict_row (const Row    *row,
             const double *z,
             double       *slope_out,
             guint         n)
{
  guint n_own = row->blend->variables->len;
  double temperature_c = row->measurement->reading.temperature_c;
  double rate = row->measurement->reduced.shear_rate_1_s;
  g_autofree double *own = g_new0 (double, n_own);
  g_autofree double *slope = NULL;

  for (guint i = 0; i < n_own; i++)
    if (row->place[i] >= 0)
      own[i] = z[row->place[i]];
  if (slope_out != NULL)
    {
      slope = og_blend_slopes (row->blend, temperature_c, rate, own);
      memset (slope_out, 0, n * sizeof (double));
      for (guint i = 0; i < n_own; i++)
        if (row->place[i] >= 0)
          slope_out[row->place[i]] = slope[i];
    }
  return og_blend_ln_viscosity (row->blend, temperature_c, rate, own);
}

/* Prior plus misfit: minus twice the log posterior. */
static double
objective (GArray       *rows,
           const double *z,
           guint         n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += z[i] * z[i];
  for (guint r = 0; r < rows->len; r++)
    {
      const Row *row = &g_array_index (rows, Row, r);
      double misfit = (log (row->measurement->reduced.mpa_s) - predict_row (row, z, NULL, n))
                      / row->measurement->reduced.ln_sd;

      sum += misfit * misfit;
    }
  return sum;
}

/*
 * One Gauss-Newton step about @z with the prior N(0, I): with A the slopes, R the variances of the readings and d the readings less
 * the linear model at 0, mean = A' (A A' + R)^-1 d and covariance = I - A' (A A' + R)^-1 A. Readings
 * that contradict each other without any error of their own have no such mean: it stays at @z, and
 * nothing is learned.
 */
static void
linear_update (GArray       *rows,
               const double *z,
               guint         n,
               double       *mean,
               double       *covariance)
{
  guint m = rows->len;
  gsl_matrix *slopes = gsl_matrix_alloc (m, n);
  gsl_matrix *system = gsl_matrix_alloc (m, m);
  gsl_vector *right = gsl_vector_alloc (m);
  gsl_vector_view out = gsl_vector_view_array (mean, n);
  gboolean solved;

  for (guint r = 0; r < m; r++)
    {
      const Row *row = &g_array_index (rows, Row, r);
      double *slope = gsl_matrix_ptr (slopes, r, 0);
      double distance = log (row->measurement->reduced.mpa_s) - predict_row (row, z, slope, n);

      for (guint i = 0; i < n; i++)
        distance += slope[i] * z[i];
      gsl_vector_set (right, r, distance);
    }
  gsl_blas_dgemm (CblasNoTrans, CblasTrans, 1.0, slopes, slopes, 0.0, system);
  for (guint r = 0; r < m; r++)
    {
      double sd = g_array_index (rows, Row, r).measurement->reduced.ln_sd;

      gsl_matrix_set (system, r, r, gsl_matrix_get (system, r, r) + sd * sd);
    }
  solved = gsl_linalg_cholesky_decomp1 (system) == GSL_SUCCESS
           && gsl_linalg_cholesky_svx (system, right) == GSL_SUCCESS
           && isfinite (gsl_blas_dnrm2 (right));
  if (solved)
    gsl_blas_dgemv (CblasTrans, 1.0, slopes, right, 0.0, &out.vector);
  else
    memcpy (mean, z, n * sizeof (double));

  if (covariance != NULL)
    {
      gsl_matrix_view result = gsl_matrix_view_array (covariance, n, n);

      gsl_matrix_set_identity (&result.matrix);
      if (solved)
        {
          gsl_blas_dtrsm (CblasLeft, CblasLower, CblasNoTrans, CblasNonUnit, 1.0, system, slopes);
          gsl_blas_dgemm (CblasTrans, CblasNoTrans, -1.0, slopes, slopes, 1.0, &result.matrix);
        }
    }
  gsl_matrix_free (slopes);
  gsl_matrix_free (system);
  gsl_vector_free (right);
}

/* Gauss-Newton with step halving. */
static void
find_posterior (OgBelief *belief,
                GArray   *rows)
{
  guint n = belief->n;
  g_autofree double *target = g_new (double, n);
  g_autofree double *trial = g_new (double, n);
  double *z = belief->mean;
  double value = objective (rows, z, n);

  for (int iteration = 0; iteration < MOST_ITERATIONS; iteration++)
    {
      double step = 1.0, moved = 0.0, trial_value;

      linear_update (rows, z, n, target, NULL);
      do
        {
          for (guint i = 0; i < n; i++)
            trial[i] = z[i] + step * (target[i] - z[i]);
          trial_value = objective (rows, trial, n);
          step *= 0.5;
        }
      while (trial_value > value && step > 1e-3);
      if (trial_value > value)
        break;
      for (guint i = 0; i < n; i++)
        {
          moved = fmax (moved, fabs (trial[i] - z[i]));
          z[i] = trial[i];
        }
      value = trial_value;
      if (moved < CONVERGED)
        break;
    }
  linear_update (rows, z, n, target, belief->covariance);
}

static int
compare_rows (gconstpointer a,
              gconstpointer b)
{
  return g_strcmp0 (((const Row *) a)->measurement->id, ((const Row *) b)->measurement->id);
}

OgBelief *
og_belief_learn (GPtrArray       *measurements,
                 const OgCatalog *catalog)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, TRUE, sizeof (Row));
  OgBelief *belief = g_new0 (OgBelief, 1);

  g_atomic_ref_count_init (&belief->ref_count);
  belief->index = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  belief->lessons = g_array_new (FALSE, TRUE, sizeof (OgLesson));
  g_array_set_clear_func (belief->lessons, lesson_clear);
  g_array_set_clear_func (rows, row_clear);

  for (guint i = 0; i < measurements->len; i++)
    {
      Row row = { .measurement = g_ptr_array_index (measurements, i) };
      OgLesson lesson;

      row.blend = blend_of (row.measurement, catalog);
      lesson = judge (row.measurement, row.blend);
      g_array_append_val (belief->lessons, lesson);
      if (lesson.used)
        g_array_append_val (rows, row);
      else
        row_clear (&row);
    }
  g_array_sort (rows, compare_rows);
  for (guint r = 0; r < rows->len; r++)
    place_row (belief, &g_array_index (rows, Row, r));
  belief->mean = g_new0 (double, belief->n);
  belief->covariance = g_new0 (double, belief->n * belief->n);
  if (rows->len > 0)
    find_posterior (belief, rows);
  return belief;
}

OgBelief *
og_belief_ref (OgBelief *belief)
{
  g_atomic_ref_count_inc (&belief->ref_count);
  return belief;
}

void
og_belief_unref (OgBelief *belief)
{
  if (!g_atomic_ref_count_dec (&belief->ref_count))
    return;
  g_hash_table_unref (belief->index);
  g_array_unref (belief->lessons);
  g_free (belief->mean);
  g_free (belief->covariance);
  g_free (belief);
}

const GArray *
og_belief_get_lessons (const OgBelief *belief)
{
  return belief->lessons;
}

guint
og_belief_get_n_variables (const OgBelief *belief)
{
  return belief->n;
}

int
og_belief_find (const OgBelief *belief,
                const char     *name)
{
  return (int) GPOINTER_TO_UINT (g_hash_table_lookup (belief->index, name)) - 1;
}

double
og_belief_get_mean (const OgBelief *belief,
                    guint           index)
{
  return belief->mean[index];
}

double
og_belief_get_covariance (const OgBelief *belief,
                          guint           i,
                          guint           j)
{
  return belief->covariance[i * belief->n + j];
}
