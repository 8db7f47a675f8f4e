/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/mixture-search.h"

#include <glpk.h>
#include <float.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

#define N_CATALOGS 200
#define MOST_NUMBERS 8
#define TOLERANCE 1e-6

typedef struct
{
  OgMixtureProblem problem;
  double *deviation;
  double *cost;
  double *most_share;
  guint8 *apart;
} Case;

static Case *
case_new (guint n,
          guint m,
          guint most_parts)
{
  Case *c = g_new0 (Case, 1);

  c->deviation = g_new0 (double, n * m);
  c->cost = g_new0 (double, n);
  c->problem = (OgMixtureProblem) { .n = n, .m = m, .deviation = c->deviation, .cost = c->cost,
                                    .most_parts = most_parts, .least_share = 0.05, .most = 1 };
  return c;
}

static void
case_free (Case *c)
{
  g_free (c->deviation);
  g_free (c->cost);
  g_free (c->most_share);
  g_free (c->apart);
  g_free (c);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Case, case_free)

/* Invented numbers; every fourth case has whole numbers, in which many mixtures are equally good. */
static Case *
random_case (gsl_rng *rng,
             guint    seed)
{
  Case *c;

  gsl_rng_set (rng, seed + 1);
  c = case_new (6 + (guint) gsl_rng_uniform_int (rng, 3), 2 + (guint) gsl_rng_uniform_int (rng, MOST_NUMBERS - 1),
                1 + seed % 3);
  for (guint i = 0; i < c->problem.n * c->problem.m; i++)
    c->deviation[i] = seed % 4 == 0 ? (double) gsl_rng_uniform_int (rng, 7) - 3.0 : gsl_ran_gaussian (rng, 0.3);
  for (guint j = 0; j < c->problem.n; j++)
    c->cost[j] = gsl_rng_uniform (rng) < 0.3 ? 0.1 * gsl_rng_uniform (rng) : 0.0;
  if (seed % 5 == 0)
    {
      c->most_share = g_new (double, c->problem.n);
      for (guint j = 0; j < c->problem.n; j++)
        c->most_share[j] = 1.2 * gsl_rng_uniform (rng);
      c->problem.most_share = c->most_share;
    }
  if (seed % 3 == 0)
    {
      const guint n = c->problem.n;

      c->apart = g_new0 (guint8, n * n);
      for (guint i = 1; i < n; i++)
        for (guint j = 0; j < i; j++)
          c->apart[i * n + j] = c->apart[j * n + i] = gsl_rng_uniform (rng) < 0.4;
      c->problem.apart = c->apart;
    }
  return c;
}

/* The linear program of one support as it is written down: shares, and what is over and under. */
static double
distance_by_glpk (const OgMixtureProblem *problem,
                  guint                   set)
{
  glp_prob *program = glp_create_prob ();
  const int n = (int) problem->n, m = (int) problem->m;
  const double least = __builtin_popcount (set) > 1 ? problem->least_share : 1.0;
  double distance;
  glp_smcp how;

  for (int i = 0; i < n && problem->apart != NULL; i++)
    for (int j = 0; j < i; j++)
      if ((set & (1u << i)) && (set & (1u << j)) && problem->apart[i * n + j])
        {
          glp_delete_prob (program);
          return INFINITY;
        }
  glp_add_rows (program, m + 1);
  glp_add_cols (program, n + 2 * m);
  glp_set_row_bnds (program, m + 1, GLP_FX, 1.0, 1.0);
  for (int j = 0; j < n; j++)
    {
      int index[MOST_NUMBERS + 2];
      double value[MOST_NUMBERS + 2];

      for (int i = 0; i < m; i++)
        {
          index[i + 1] = i + 1;
          value[i + 1] = problem->deviation[j * m + i];
        }
      index[m + 1] = m + 1;
      value[m + 1] = 1.0;
      glp_set_mat_col (program, j + 1, m + 1, index, value);
      glp_set_obj_coef (program, j + 1, problem->cost[j]);
      if (set & (1u << j))
        {
          const double most = problem->most_share != NULL ? fmin (1.0, problem->most_share[j]) : 1.0;

          if (most < least)
            {
              glp_delete_prob (program);
              return INFINITY;
            }
          glp_set_col_bnds (program, j + 1, most > least ? GLP_DB : GLP_FX, least, most);
        }
      else
        glp_set_col_bnds (program, j + 1, GLP_FX, 0.0, 0.0);
    }
  for (int i = 1; i <= m; i++)
    {
      glp_set_row_bnds (program, i, GLP_FX, 0.0, 0.0);
      for (int s = 0; s < 2; s++)
        {
          const int column = n + 2 * (i - 1) + s + 1;

          glp_set_mat_col (program, column, 1, (int[]) { 0, i }, (double[]) { 0.0, s == 0 ? -1.0 : 1.0 });
          glp_set_col_bnds (program, column, GLP_LO, 0.0, 0.0);
          glp_set_obj_coef (program, column, 1.0);
        }
    }
  glp_init_smcp (&how);
  how.msg_lev = GLP_MSG_OFF;
  g_assert_cmpint (glp_simplex (program, &how), ==, 0);
  distance = glp_get_status (program) == GLP_OPT ? glp_get_obj_val (program) : INFINITY;
  glp_delete_prob (program);
  return distance;
}

static guint
set_of (const OgMixture *mixture)
{
  guint set = 0;

  for (guint p = 0; p < mixture->n_parts; p++)
    set |= 1u << mixture->candidate[p];
  return set;
}

/* Nearest support that holds all of none of the @n sets given, by trying every one. */
static double
nearest_by_trying (const OgMixtureProblem *problem,
                   const double           *distance,
                   const guint            *sets,
                   guint                   n)
{
  double best = INFINITY;

  for (guint set = 1; set < 1u << problem->n; set++)
    {
      gboolean repeats = (guint) __builtin_popcount (set) > problem->most_parts;

      for (guint i = 0; i < n && !repeats; i++)
        repeats = (set & sets[i]) == sets[i];
      if (!repeats)
        best = fmin (best, distance[set]);
    }
  return best;
}

static void
check_shares (const OgMixtureProblem *problem,
              const OgMixture        *mixture)
{
  double sum = 0.0, distance = 0.0;

  g_assert_cmpuint (mixture->n_parts, >=, 1);
  g_assert_cmpuint (mixture->n_parts, <=, problem->most_parts);
  for (guint p = 0; p < mixture->n_parts; p++)
    {
      g_assert_cmpfloat (mixture->share[p], >=, mixture->n_parts > 1 ? problem->least_share - TOLERANCE : 1.0);
      if (problem->most_share != NULL)
        g_assert_cmpfloat (mixture->share[p], <=, problem->most_share[mixture->candidate[p]] + TOLERANCE);
      sum += mixture->share[p];
      distance += mixture->share[p] * problem->cost[mixture->candidate[p]];
    }
  g_assert_cmpfloat (fabs (sum - 1.0), <, TOLERANCE);
  for (guint i = 0; i < problem->m; i++)
    {
      double number = 0.0;

      for (guint p = 0; p < mixture->n_parts; p++)
        number += mixture->share[p] * problem->deviation[mixture->candidate[p] * problem->m + i];
      distance += fabs (number);
    }
  g_assert_cmpfloat (fabs (mixture->distance - distance), <, TOLERANCE);
}

/* Against every support tried one by one, each a linear program of its own (brute force). */
static void
test_brute_force (void)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  for (guint seed = 0; seed < N_CATALOGS; seed++)
    {
      g_autoptr (Case) c = random_case (rng, seed);
      g_autofree double *distance = g_new (double, 1u << c->problem.n);
      g_autoptr (GArray) answers = NULL;
      guint sets[5];

      for (guint set = 1; set < 1u << c->problem.n; set++)
        distance[set] = (guint) __builtin_popcount (set) <= c->problem.most_parts
                            ? distance_by_glpk (&c->problem, set)
                            : INFINITY;
      c->problem.most = G_N_ELEMENTS (sets);
      answers = og_mixture_search (&c->problem);
      for (guint i = 0; i < answers->len; i++)
        {
          const OgMixture *answer = &g_array_index (answers, OgMixture, i);
          const double nearest = nearest_by_trying (&c->problem, distance, sets, i);

          check_shares (&c->problem, answer);
          g_assert_true (answer->optimal);
          g_assert_cmpfloat (fabs (answer->distance - nearest), <, TOLERANCE);
          g_assert_cmpfloat (fabs (answer->distance - distance[set_of (answer)]), <, TOLERANCE);
          for (guint j = 0; j < i; j++)
            g_assert_cmpuint (set_of (answer) & sets[j], !=, sets[j]);
          sets[i] = set_of (answer);
        }
      if (answers->len < G_N_ELEMENTS (sets))
        g_assert_cmpfloat (nearest_by_trying (&c->problem, distance, sets, answers->len), ==, INFINITY);
    }
  gsl_rng_free (rng);
}

/* The mixed-integer program as it is written down, by GLPK's own branch and cut. */
static double
nearest_by_intopt (const OgMixtureProblem *problem)
{
  glp_prob *program = glp_create_prob ();
  const int n = (int) problem->n, m = (int) problem->m;
  const int sum_y = m + 1, sum_z = m + 2, rows = m + 2 + 2 * n;
  double distance;
  glp_iocp how;

  glp_add_rows (program, rows);
  glp_add_cols (program, 2 * n + 2 * m);
  glp_set_row_bnds (program, sum_y, GLP_FX, 1.0, 1.0);
  glp_set_row_bnds (program, sum_z, GLP_UP, 0.0, problem->most_parts);
  for (int j = 0; j < n; j++)
    {
      const int y = j + 1, z = n + j + 1, low = m + 3 + 2 * j, high = low + 1;
      g_autofree int *index = g_new (int, m + 4);
      g_autofree double *value = g_new (double, m + 4);

      for (int i = 0; i < m; i++)
        {
          index[i + 1] = i + 1;
          value[i + 1] = problem->deviation[j * m + i];
        }
      memcpy (index + m + 1, (int[]) { sum_y, low, high }, 3 * sizeof (int));
      memcpy (value + m + 1, (double[]) { 1.0, 1.0, 1.0 }, 3 * sizeof (double));
      glp_set_mat_col (program, y, m + 3, index, value);
      glp_set_obj_coef (program, y, problem->cost[j]);
      glp_set_col_bnds (program, y, GLP_DB, 0.0, 1.0);
      glp_set_mat_col (program, z, 3, (int[]) { 0, sum_z, low, high },
                       (double[]) { 0.0, 1.0, -problem->least_share, -1.0 });
      glp_set_col_kind (program, z, GLP_BV);
      glp_set_row_bnds (program, low, GLP_LO, 0.0, 0.0);
      glp_set_row_bnds (program, high, GLP_UP, 0.0, 0.0);
    }
  for (int i = 1; i <= m; i++)
    {
      glp_set_row_bnds (program, i, GLP_FX, 0.0, 0.0);
      for (int s = 0; s < 2; s++)
        {
          const int column = 2 * n + 2 * (i - 1) + s + 1;

          glp_set_mat_col (program, column, 1, (int[]) { 0, i }, (double[]) { 0.0, s == 0 ? -1.0 : 1.0 });
          glp_set_col_bnds (program, column, GLP_LO, 0.0, 0.0);
          glp_set_obj_coef (program, column, 1.0);
        }
    }
  glp_init_iocp (&how);
  how.msg_lev = GLP_MSG_OFF;
  how.presolve = GLP_ON;
  g_assert_cmpint (glp_intopt (program, &how), ==, 0);
  distance = glp_mip_obj_val (program);
  glp_delete_prob (program);
  return distance;
}

static void
test_against_branch_and_cut (void)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  for (guint seed = 0; seed < 12; seed++)
    {
      g_autoptr (Case) c = case_new (14, 5, 2 + seed % 3);
      g_autoptr (GArray) answers = NULL;

      gsl_rng_set (rng, 1000 + seed);
      for (guint i = 0; i < c->problem.n * c->problem.m; i++)
        c->deviation[i] = gsl_ran_gaussian (rng, 0.3) + (i % c->problem.m == 0 ? 0.2 : 0.0);
      answers = og_mixture_search (&c->problem);
      g_assert_cmpuint (answers->len, ==, 1);
      g_assert_cmpfloat (fabs (g_array_index (answers, OgMixture, 0).distance
                               - nearest_by_intopt (&c->problem)), <, TOLERANCE);
    }
  gsl_rng_free (rng);
}

/* What is farther than a candidate by no more than its added cost never becomes part of the best:
 * a candidate like an old one, but dearer, changes nothing (triangle inequality). */
static void
test_worse_candidate (void)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  for (guint seed = 0; seed < 60; seed++)
    {
      g_autoptr (Case) c = random_case (rng, seed);
      g_autoptr (Case) more = case_new (c->problem.n + 1, c->problem.m, c->problem.most_parts);
      g_autoptr (GArray) before = og_mixture_search (&c->problem), after = NULL;
      const guint copied = (guint) gsl_rng_uniform_int (rng, c->problem.n);
      const OgMixture *best;

      if (c->problem.most_share != NULL)
        continue;

      memcpy (more->deviation, c->deviation, c->problem.n * c->problem.m * sizeof (double));
      memcpy (more->deviation + c->problem.n * c->problem.m, c->deviation + copied * c->problem.m,
              c->problem.m * sizeof (double));
      memcpy (more->cost, c->cost, c->problem.n * sizeof (double));
      more->cost[c->problem.n] = c->cost[copied] + 0.05;
      after = og_mixture_search (&more->problem);
      best = &g_array_index (after, OgMixture, 0);
      g_assert_cmpfloat (fabs (best->distance - g_array_index (before, OgMixture, 0).distance), <, TOLERANCE);
      for (guint p = 0; p < best->n_parts; p++)
        g_assert_cmpuint (best->candidate[p], !=, c->problem.n);
    }
  gsl_rng_free (rng);
}

static Case *
large_case (guint n)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  Case *c = case_new (n, 6, 4);

  gsl_rng_set (rng, 7);
  for (guint i = 0; i < n * c->problem.m; i++)
    c->deviation[i] = gsl_ran_gaussian (rng, 0.3);
  c->problem.most = 3;
  gsl_rng_free (rng);
  return c;
}

typedef struct
{
  guint left;
  double done;
  double bound;
} Patience;

static gboolean
lose_patience (double   done,
               double   best,
               double   bound,
               gpointer user_data)
{
  Patience *patience = user_data;

  g_assert_cmpfloat (done, >=, patience->done - 1e-9);
  g_assert_cmpfloat (done, <=, 1.0);
  g_assert_cmpfloat (bound, >=, patience->bound);
  patience->done = done;
  patience->bound = bound;
  return patience->left-- > 0;
}

/* A stopped search says how far off it may be; the whole search lies within that. */
static void
test_stopped (void)
{
  g_autoptr (Case) c = large_case (60);
  g_autoptr (GArray) whole = og_mixture_search (&c->problem);
  guint gaps = 0;

  for (guint i = 0; i < whole->len; i++)
    g_assert_true (g_array_index (whole, OgMixture, i).optimal);
  for (guint patience = 0; patience < 40; patience += 4)
    {
      Patience left = { patience, 0.0, 0.0 };
      g_autoptr (GArray) stopped = NULL;

      c->problem.progress = lose_patience;
      c->problem.progress_data = &left;
      stopped = og_mixture_search (&c->problem);
      g_assert_cmpuint (stopped->len, >, 0);
      for (guint i = 0; i < stopped->len; i++)
        {
          const OgMixture *answer = &g_array_index (stopped, OgMixture, i);
          const double nearest = g_array_index (whole, OgMixture, i).distance;

          check_shares (&c->problem, answer);
          g_assert_cmpfloat (answer->bound, <=, nearest + TOLERANCE);
          if (i == 0)
            g_assert_cmpfloat (answer->distance, >=, nearest - TOLERANCE);
          gaps += !answer->optimal;
          g_assert_true (answer->optimal == (answer->bound >= answer->distance));
        }
    }
  g_assert_cmpuint (gaps, >, 0);
}

static void
assert_same (const GArray *one,
             const GArray *other)
{
  g_assert_cmpuint (one->len, ==, other->len);
  for (guint i = 0; i < one->len; i++)
    {
      const OgMixture *a = &g_array_index (one, OgMixture, i), *b = &g_array_index (other, OgMixture, i);

      g_assert_cmpfloat (a->distance, ==, b->distance);
      g_assert_cmpfloat (a->bound, ==, b->bound);
      g_assert_cmpuint (a->n_parts, ==, b->n_parts);
      for (guint p = 0; p < a->n_parts; p++)
        {
          g_assert_cmpuint (a->candidate[p], ==, b->candidate[p]);
          g_assert_cmpfloat (a->share[p], ==, b->share[p]);
        }
    }
}

static void
test_same_twice (void)
{
  g_autoptr (Case) c = large_case (40);
  g_autoptr (GArray) one = og_mixture_search (&c->problem);
  g_autoptr (GArray) other = og_mixture_search (&c->problem);

  assert_same (one, other);
}

static gpointer
search_in_thread (gpointer data)
{
  return og_mixture_search (data);
}

static void
test_threads (void)
{
  g_autoptr (Case) c = large_case (40);
  g_autoptr (GArray) here = NULL;
  GThread *threads[3];

  g_assert_nonnull (glp_config ("TLS")); /* an environment for each thread: what the search relies on */
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("search", search_in_thread, &c->problem);
  here = og_mixture_search (&c->problem);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    {
      g_autoptr (GArray) there = g_thread_join (threads[i]);

      assert_same (here, there);
    }
}

/* No more answers than there are supports; none from nothing. */
static void
test_few (void)
{
  g_autoptr (Case) none = case_new (0, 3, 2);
  g_autoptr (Case) one = case_new (1, 3, 3);
  g_autoptr (Case) alike = case_new (2, 3, 2);
  g_autoptr (GArray) nothing = NULL, single = NULL, pair = NULL;

  one->problem.most = alike->problem.most = 9;
  one->deviation[1] = 0.5;
  nothing = og_mixture_search (&none->problem);
  single = og_mixture_search (&one->problem);
  pair = og_mixture_search (&alike->problem);
  g_assert_cmpuint (nothing->len, ==, 0);
  g_assert_cmpuint (single->len, ==, 1);
  g_assert_true (g_array_index (single, OgMixture, 0).optimal);
  g_assert_cmpfloat (g_array_index (single, OgMixture, 0).distance, ==, 0.5);
  g_assert_cmpuint (pair->len, ==, 2); /* either; both together hold all of an earlier answer */
}

/* Numbers that are none have no nearest mixture. */
static void
test_no_numbers (void)
{
  static const double numbers[] = { NAN, INFINITY, -INFINITY };

  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    for (guint parts = 1; parts <= OG_MIXTURE_MOST_PARTS; parts++)
      for (int place = 0; place < 3; place++)
        {
          g_autoptr (Case) c = case_new (5, 3, parts);
          g_autoptr (GArray) answers = NULL;

          c->most_share = g_new (double, c->problem.n);
          for (guint j = 0; j < c->problem.n; j++)
            c->most_share[j] = 1.0;
          c->problem.most_share = c->most_share;
          (place == 0 ? c->deviation : place == 1 ? c->cost : c->most_share)[1] = numbers[i];
          answers = og_mixture_search (&c->problem);
          g_assert_cmpuint (answers->len, ==, 0);
        }
}

/* Nothing to choose from, nothing to compare by, and deviations beyond what GLPK can tell apart: the
 * search comes to an end. */
static void
test_odd_shapes (void)
{
  static const double numbers[] = { 0.0, 1e-300, 1e12, -1e15, 1e200, DBL_MAX };

  for (guint parts = 1; parts <= OG_MIXTURE_MOST_PARTS; parts++)
    {
      g_autoptr (Case) none = case_new (0, 3, parts);
      g_autoptr (Case) bare = case_new (3, 0, parts);
      g_autoptr (GArray) no_answers = og_mixture_search (&none->problem);
      g_autoptr (GArray) no_more = og_mixture_search (&bare->problem);

      g_assert_cmpuint (no_answers->len, ==, 0);
      g_assert_cmpuint (no_more->len, ==, 0);
      for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
        {
          g_autoptr (Case) c = case_new (5, 3, parts);
          g_autoptr (GArray) answers = NULL;

          c->deviation[0] = c->deviation[4] = numbers[i];
          c->cost[2] = fabs (numbers[i]);
          answers = og_mixture_search (&c->problem);
          g_assert_cmpuint (answers->len, <=, 1);
        }
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mixture-search/brute-force", test_brute_force);
  g_test_add_func ("/mixture-search/no-numbers", test_no_numbers);
  g_test_add_func ("/mixture-search/odd-shapes", test_odd_shapes);
  g_test_add_func ("/mixture-search/branch-and-cut", test_against_branch_and_cut);
  g_test_add_func ("/mixture-search/worse-candidate", test_worse_candidate);
  g_test_add_func ("/mixture-search/stopped", test_stopped);
  g_test_add_func ("/mixture-search/same-twice", test_same_twice);
  g_test_add_func ("/mixture-search/threads", test_threads);
  g_test_add_func ("/mixture-search/few", test_few);
  return g_test_run ();
}
