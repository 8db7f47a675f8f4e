/* SPDX-License-Identifier: GPL-3.0-or-later */

/*
 * How long the proven nearest mixture takes among 30 to 1000 oils, beside trying every mixture in
 * turn where that ends in reasonable time. The catalogs are invented: copies of the oils of the
 * library with every number moved a little. `meson test --benchmark` holds the search to its budget;
 * the argument "smoke" allows ten times as much and leaves out what takes long.
 */

#include "config.h"

#include <glpk.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>
#include <time.h>

#include "common/fixture.h"
#include "core/design/mixture-search.h"
#include "core/design/substitution.h"

#define MOST_PARTS 3
#define REPEATS 9
#define PATIENCE_MS 3000.0
#define MOVED 0.1 /* of what a formulator notices */

static OgCatalog *catalog;
static gboolean smoke;

typedef struct
{
  OgMixtureProblem problem;
  double *deviation;
  double *cost;
  clock_t start;
} Case;

static double
since_ms (clock_t start)
{
  return 1000.0 * (double) (clock () - start) / CLOCKS_PER_SEC;
}

static gboolean
lose_patience (double   done,
               double   best,
               double   bound,
               gpointer user_data)
{
  const Case *c = user_data;

  return since_ms (c->start) < PATIENCE_MS;
}

static GPtrArray *
all_oils (void)
{
  GPtrArray *oils = g_ptr_array_new ();

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *material = og_catalog_get_item (catalog, i);

      if (og_ingredient_is_triglyceride (material))
        g_ptr_array_add (oils, (gpointer) material);
    }
  return oils;
}

static void
moved_traits (OgMaterialTraits *traits,
              const GPtrArray  *oils,
              gsl_rng          *rng)
{
  const OgTraitContext context = { .catalog = catalog };
  const gulong oil = gsl_rng_uniform_int (rng, oils->len);

  og_material_traits_init (traits, g_ptr_array_index (oils, oil), &context);
  for (guint t = 0; t < OG_N_TRAITS; t++)
    {
      guint n;
      const guint first = og_trait_get_numbers ((OgTrait) t, &n);

      for (guint i = first; i < first + n; i++)
        traits->number[i] += gsl_ran_gaussian (rng, MOVED * og_trait_get_noticed ((OgTrait) t) / n);
    }
}

static Case *
case_new (guint n,
          guint seed)
{
  g_autoptr (GPtrArray) oils = all_oils ();
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  Case *c = g_new0 (Case, 1);
  OgSubstitutionWeights weights;
  OgMaterialTraits target, traits;

  gsl_rng_set (rng, seed);
  og_substitution_weights_init (&weights, OG_SUBSTITUTION_BALANCED);
  c->deviation = g_new0 (double, n * OG_N_TRAIT_NUMBERS);
  c->cost = g_new0 (double, n);
  moved_traits (&target, oils, rng);
  for (guint j = 0; j < n; j++)
    {
      moved_traits (&traits, oils, rng);
      for (guint t = 0; t < OG_N_TRAITS; t++)
        {
          guint numbers;
          const guint first = og_trait_get_numbers ((OgTrait) t, &numbers);

          for (guint i = first; i < first + numbers; i++)
            {
              const double difference = traits.number[i] - target.number[i];

              if (isfinite (difference))
                c->deviation[j * OG_N_TRAIT_NUMBERS + i]
                    = 0.1 * weights.weight[t] * difference / og_trait_get_noticed ((OgTrait) t);
              else if (isfinite (target.number[i]))
                c->cost[j] += 0.1 * weights.weight[t];
            }
        }
    }
  c->problem = (OgMixtureProblem) {
    .n = n, .m = OG_N_TRAIT_NUMBERS, .deviation = c->deviation, .cost = c->cost, .most_parts = MOST_PARTS,
    .least_share = 0.05, .most = 1, .progress = lose_patience, .progress_data = c,
  };
  gsl_rng_free (rng);
  return c;
}

static void
case_free (Case *c)
{
  g_free (c->deviation);
  g_free (c->cost);
  g_free (c);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Case, case_free)

/* --- plain enumeration --- */

/* The linear program of one mixture: shares of the parts, and what is over and under. */
static glp_prob *
plain_program (const OgMixtureProblem *problem)
{
  glp_prob *program = glp_create_prob ();
  const int m = (int) problem->m;

  glp_add_rows (program, m + 1);
  glp_add_cols (program, MOST_PARTS + 2 * m);
  glp_set_row_bnds (program, m + 1, GLP_FX, 1.0, 1.0);
  for (int i = 1; i <= m; i++)
    {
      glp_set_row_bnds (program, i, GLP_FX, 0.0, 0.0);
      for (int s = 0; s < 2; s++)
        {
          const int column = MOST_PARTS + 2 * (i - 1) + s + 1;

          glp_set_mat_col (program, column, 1, (int[]) { 0, i }, (double[]) { 0.0, s == 0 ? -1.0 : 1.0 });
          glp_set_col_bnds (program, column, GLP_LO, 0.0, 0.0);
          glp_set_obj_coef (program, column, 1.0);
        }
    }
  return program;
}

static double
plain_distance (glp_prob               *program,
                const OgMixtureProblem *problem,
                const guint            *parts,
                guint                   n)
{
  const int m = (int) problem->m;
  int index[OG_N_TRAIT_NUMBERS + 2];
  double value[OG_N_TRAIT_NUMBERS + 2];
  glp_smcp how;

  for (int i = 1; i <= m + 1; i++)
    index[i] = i;
  value[m + 1] = 1.0;
  for (guint p = 0; p < MOST_PARTS; p++)
    {
      if (p >= n)
        {
          glp_set_col_bnds (program, (int) p + 1, GLP_FX, 0.0, 0.0);
          continue;
        }
      memcpy (value + 1, problem->deviation + parts[p] * problem->m, problem->m * sizeof (double));
      glp_set_mat_col (program, (int) p + 1, m + 1, index, value);
      glp_set_obj_coef (program, (int) p + 1, problem->cost[parts[p]]);
      glp_set_col_bnds (program, (int) p + 1, GLP_LO, n > 1 ? problem->least_share : 0.0, 0.0);
    }
  glp_init_smcp (&how);
  how.msg_lev = GLP_MSG_OFF;
  glp_std_basis (program);
  glp_simplex (program, &how);
  return glp_get_obj_val (program);
}

static double
try_all (const OgMixtureProblem *problem)
{
  glp_prob *program = plain_program (problem);
  double best = INFINITY;

  for (guint a = 0; a < problem->n; a++)
    {
      best = fmin (best, plain_distance (program, problem, (guint[]) { a }, 1));
      for (guint b = a + 1; b < problem->n; b++)
        {
          best = fmin (best, plain_distance (program, problem, (guint[]) { a, b }, 2));
          for (guint c = b + 1; c < problem->n; c++)
            best = fmin (best, plain_distance (program, problem, (guint[]) { a, b, c }, 3));
        }
    }
  glp_delete_prob (program);
  return best;
}

/* --- medians --- */

static double
search_ms (Case     *c,
           gboolean *proven,
           double   *gap,
           double   *distance)
{
  g_autoptr (GArray) answers = NULL;
  const OgMixture *best;
  double ms;

  c->start = clock ();
  answers = og_mixture_search (&c->problem);
  ms = since_ms (c->start);
  best = &g_array_index (answers, OgMixture, 0);
  *proven = best->optimal;
  *gap = best->distance - best->bound;
  *distance = best->distance;
  return ms;
}

/* Median over catalogs of @n; the same seeds each time. Returns: milliseconds */
static double
median_of (guint n,
           guint repeats)
{
  g_autofree double *ms = g_new (double, repeats);
  double worst_gap = 0.0;
  guint all_proven = 0;

  for (guint i = 0; i < repeats; i++)
    {
      g_autoptr (Case) c = case_new (n, 100 + i);
      gboolean proven;
      double gap, distance;

      ms[i] = search_ms (c, &proven, &gap, &distance);
      all_proven += proven;
      worst_gap = fmax (worst_gap, gap);
    }
  gsl_sort (ms, 1, repeats);
  g_test_message ("up to %d of %u: median %.1f ms, longest %.1f ms, %u of %u proven, largest gap %.6f",
                  MOST_PARTS, n, gsl_stats_median_from_sorted_data (ms, 1, repeats), ms[repeats - 1], all_proven,
                  repeats, worst_gap);
  return gsl_stats_median_from_sorted_data (ms, 1, repeats);
}

static void
hold_to (const char *what,
         double      ms,
         double      budget_ms)
{
  if (ms > (smoke ? 10.0 : 1.0) * budget_ms)
    g_error ("%s took %.1f ms; the budget is %.0f ms", what, ms, budget_ms);
}

static void
test_growth (void)
{
  static const guint sizes[] = { 30, 100, 300, 1000 };
  double before = NAN;

  for (guint i = 0; i < G_N_ELEMENTS (sizes) && !(smoke && sizes[i] > 100); i++)
    {
      const double ms = median_of (sizes[i], smoke ? 3 : REPEATS);

      if (i > 0)
        g_test_message ("growth from %u to %u: the time grows as n to the %.1f", sizes[i - 1], sizes[i],
                        log (ms / before) / log ((double) sizes[i] / sizes[i - 1]));
      before = ms;
      if (sizes[i] == 100)
        hold_to ("the best mixture of 100", ms, 100.0);
      if (sizes[i] == 1000)
        hold_to ("the best mixture of 1000", ms, PATIENCE_MS);
    }
}

/* The same result as trying all, and how much sooner. */
static void
test_against_trying (void)
{
  static const guint sizes[] = { 30, 100 };

  for (guint i = 0; i < G_N_ELEMENTS (sizes) && !(smoke && sizes[i] > 30); i++)
    {
      g_autoptr (Case) c = case_new (sizes[i], 100);
      gboolean proven;
      double gap, distance, tried, tried_ms;
      const double ms = search_ms (c, &proven, &gap, &distance);
      const clock_t start = clock ();

      tried = try_all (&c->problem);
      tried_ms = since_ms (start);
      g_test_message ("%u oils: every mixture in turn %.0f ms, search %.1f ms: %.0f times as fast", sizes[i],
                      tried_ms, ms, tried_ms / ms);
      g_assert_true (proven);
      g_assert_cmpfloat (fabs (distance - tried), <, 1e-6);
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  smoke = argc > 1 && strcmp (argv[1], "smoke") == 0;
  catalog = fixture_catalog ();
  g_test_add_func ("/bench/mixtures/growth", test_growth);
  g_test_add_func ("/bench/mixtures/against-trying", test_against_trying);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
