/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/mixture-search.h"

#include <gsl/gsl_cblas.h>
#include <math.h>
#include <string.h>

#include "core/base/linear.h"

/* Of the distance: an answer this near the bound is the best; above rounding. */
#define PROOF_TOLERANCE 1e-6
/* Of the distance: what cannot be better by this is left out; above rounding. */
#define PRUNING_TOLERANCE 1e-7
/* Candidates tried in full before the search proper, for a good first answer. */
#define SHORT_LIST 16
#define CALLS_PER_REPORT 64 /* so that reporting costs nothing beside searching */
#define HELD_CAP 1e4 /* share of a held part in the relaxation: no limit in effect */
#define FEW 6        /* last parts that are tried without another relaxation */
#define MOST_KEPT (8 * 1024 * 1024) /* numbers of all proofs: 64 MB; the search goes on without more */

/* Thresholds are raised in stages, so that a stopped search has proven something. */
static const double stages[] = { 0.5, 0.75, 0.9, 1.0 };

/* What one relaxation proves about every mixture: c_j of all candidates. */
typedef struct
{
  double *c;
} Proof;

typedef struct
{
  const OgMixtureProblem *problem;
  glp_prob *support;      /* distance of one set of candidates, in its dual form */
  glp_prob *relaxation;   /* which candidates a mixture nearer than the threshold must hold */
  GArray *proofs;         /* of Proof */
  GHashTable *known;      /* of OgMixture: supports whose distance was computed */
  GPtrArray *sorted;      /* of OgMixture, borrowed from known: by distance */
  GPtrArray *answers;     /* of OgMixture, borrowed from known: what the known supports make the answers */
  double limit;           /* distance of the last answer wanted; INFINITY while there are fewer */
  double threshold;       /* only what is nearer is searched for */
  double proven;          /* everything nearer is known */
  double stage_from, stage_to; /* 0 ... 1 */
  double done;
  double reported;
  guint calls;
  gboolean stopped;
} Search;

/* --- supports --- */

static guint
support_hash (gconstpointer data)
{
  const OgMixture *mixture = data;
  guint hash = 5381;

  for (guint i = 0; i < mixture->n_parts; i++)
    hash = hash * 33 + mixture->candidate[i];
  return hash;
}

static gboolean
support_equal (gconstpointer a,
               gconstpointer b)
{
  const OgMixture *one = a, *other = b;

  return one->n_parts == other->n_parts
         && memcmp (one->candidate, other->candidate, one->n_parts * sizeof (guint)) == 0;
}

static gboolean
holds (const OgMixture *mixture,
       guint            candidate)
{
  for (guint i = 0; i < mixture->n_parts; i++)
    if (mixture->candidate[i] == candidate)
      return TRUE;
  return FALSE;
}

static gboolean
holds_all_of (const OgMixture *mixture,
              const OgMixture *other)
{
  for (guint i = 0; i < other->n_parts; i++)
    if (!holds (mixture, other->candidate[i]))
      return FALSE;
  return TRUE;
}

static OgMixture
with_part (const OgMixture *mixture,
           guint            candidate)
{
  OgMixture extended = *mixture;
  guint i = extended.n_parts++;

  for (; i > 0 && extended.candidate[i - 1] > candidate; i--)
    extended.candidate[i] = extended.candidate[i - 1];
  extended.candidate[i] = candidate;
  return extended;
}

static int
compare_mixtures (const OgMixture *one,
                  const OgMixture *other)
{
  if (one->distance != other->distance)
    return one->distance < other->distance ? -1 : 1;
  if (one->n_parts != other->n_parts)
    return one->n_parts < other->n_parts ? -1 : 1;
  for (guint i = 0; i < one->n_parts; i++)
    if (one->candidate[i] != other->candidate[i])
      return one->candidate[i] < other->candidate[i] ? -1 : 1;
  return 0;
}

/* The first of the known supports that hold all of no earlier one. */
static void
choose_answers (Search *search)
{
  const guint most = search->problem->most;

  g_ptr_array_set_size (search->answers, 0);
  for (guint i = 0; i < search->sorted->len && search->answers->len < most; i++)
    {
      OgMixture *mixture = g_ptr_array_index (search->sorted, i);
      gboolean repeats = FALSE;

      for (guint a = 0; a < search->answers->len && !repeats; a++)
        repeats = holds_all_of (mixture, g_ptr_array_index (search->answers, a));
      if (!isfinite (mixture->distance))
        break;
      if (!repeats)
        g_ptr_array_add (search->answers, mixture);
    }
  search->limit = search->answers->len < most
                      ? INFINITY
                      : ((OgMixture *) g_ptr_array_index (search->answers, most - 1))->distance;
  search->threshold = MIN (search->threshold, search->limit);
}

static void
remember (Search          *search,
          const OgMixture *mixture)
{
  OgMixture *copy = g_memdup2 (mixture, sizeof *mixture);
  guint low = 0, high = search->sorted->len;

  while (low < high)
    {
      const guint middle = (low + high) / 2;

      if (compare_mixtures (g_ptr_array_index (search->sorted, middle), copy) < 0)
        low = middle + 1;
      else
        high = middle;
    }
  g_hash_table_add (search->known, copy);
  g_ptr_array_insert (search->sorted, (int) low, copy);
  if (copy->distance < search->limit)
    choose_answers (search);
}

/* --- relaxations --- */

static const double *
deviation_of (const OgMixtureProblem *problem,
              guint                   candidate)
{
  return problem->deviation + (gsize) candidate * problem->m;
}

static void
add_proof (Search       *search,
           const double *lambda)
{
  const OgMixtureProblem *problem = search->problem;
  Proof proof;

  if ((gsize) problem->n * search->proofs->len > MOST_KEPT)
    return;
  proof.c = g_memdup2 (problem->cost, problem->n * sizeof (double));
  cblas_dgemv (CblasRowMajor, CblasNoTrans, (int) problem->n, (int) problem->m, 1.0, problem->deviation,
               (int) problem->m, lambda, 1, 1.0, proof.c, 1);
  g_array_append_val (search->proofs, proof);
}

static void
proof_clear (gpointer data)
{
  g_free (((Proof *) data)->c);
}

static double
most_share_of (const OgMixtureProblem *problem,
               guint                   candidate)
{
  return problem->most_share != NULL ? fmin (1.0, problem->most_share[candidate]) : 1.0;
}

static double
least_share_of (const OgMixtureProblem *problem,
                const OgMixture        *mixture)
{
  return mixture->n_parts > 1 ? problem->least_share : 1.0;
}

static gboolean
go_together (const OgMixtureProblem *problem,
             const OgMixture        *mixture)
{
  for (guint p = 1; problem->apart != NULL && p < mixture->n_parts; p++)
    for (guint q = 0; q < p; q++)
      if (problem->apart[(gsize) mixture->candidate[p] * problem->n + mixture->candidate[q]])
        return FALSE;
  return TRUE;
}

/* Whether the parts go together and may be large enough to make up the whole. */
static gboolean
suffices (const OgMixtureProblem *problem,
          const OgMixture        *mixture)
{
  double sum = 0.0;

  if (!go_together (problem, mixture))
    return FALSE;
  for (guint p = 0; p < mixture->n_parts; p++)
    {
      const double most = most_share_of (problem, mixture->candidate[p]);

      if (most < least_share_of (problem, mixture))
        return FALSE;
      sum += most;
    }
  return sum >= 1.0;
}

/* Rows: one a part, t - sum_i l_i deviation - u <= cost. Columns: l_1 ... l_m, t, and for each part
 * u, the price of its largest share. */
static glp_prob *
support_program (const OgMixtureProblem *problem)
{
  glp_prob *program = og_linear_new ();
  const int m = (int) problem->m;
  double largest = 1.0;

  for (gsize i = 0; i < (gsize) problem->n * problem->m; i++)
    largest = fmax (largest, fabs (problem->deviation[i]));
  for (guint j = 0; j < problem->n; j++)
    largest = fmax (largest, problem->cost[j]);
  glp_set_obj_dir (program, GLP_MAX);
  glp_add_rows (program, OG_MIXTURE_MOST_PARTS);
  glp_add_cols (program, m + 1 + OG_MIXTURE_MOST_PARTS);
  for (int i = 1; i <= m; i++)
    glp_set_col_bnds (program, i, GLP_DB, -1.0, 1.0);
  largest *= 2.0 * (m + 1);
  glp_set_col_bnds (program, m + 1, GLP_DB, -largest, largest);
  for (int p = 1; p <= OG_MIXTURE_MOST_PARTS; p++)
    glp_set_col_bnds (program, m + 1 + p, problem->most_share != NULL ? GLP_DB : GLP_FX, 0.0,
                      problem->most_share != NULL ? 2.0 * largest : 0.0);
  return program;
}

static void
load_support (Search          *search,
              const OgMixture *mixture)
{
  const OgMixtureProblem *problem = search->problem;
  const int m = (int) problem->m;
  const double least = least_share_of (problem, mixture);
  g_autofree int *index = g_new (int, problem->m + 3);
  g_autofree double *value = g_new (double, problem->m + 3);
  g_autofree double *sum = g_new0 (double, problem->m + 1);
  double cost = 0.0;

  for (int i = 1; i <= m + 1; i++)
    index[i] = i;
  for (guint p = 0; p < OG_MIXTURE_MOST_PARTS; p++)
    {
      const double *deviation;

      if (p >= mixture->n_parts)
        {
          glp_set_mat_row (search->support, (int) p + 1, 0, NULL, NULL);
          glp_set_row_bnds (search->support, (int) p + 1, GLP_FR, 0.0, 0.0);
          continue;
        }
      deviation = deviation_of (problem, mixture->candidate[p]);
      for (int i = 0; i < m; i++)
        {
          value[i + 1] = -deviation[i];
          sum[i] += deviation[i];
        }
      value[m + 1] = 1.0;
      index[m + 2] = m + 2 + (int) p;
      value[m + 2] = -1.0;
      glp_set_mat_row (search->support, (int) p + 1, m + 2, index, value);
      glp_set_obj_coef (search->support, m + 2 + (int) p,
                        least - most_share_of (problem, mixture->candidate[p]));
      glp_set_row_bnds (search->support, (int) p + 1, GLP_UP, 0.0, problem->cost[mixture->candidate[p]]);
      cost += problem->cost[mixture->candidate[p]];
    }
  glp_std_basis (search->support);
  for (int i = 0; i < m; i++)
    {
      glp_set_obj_coef (search->support, i + 1, least * sum[i]);
      glp_set_col_stat (search->support, i + 1, sum[i] > 0.0 ? GLP_NU : GLP_NL);
    }
  glp_set_obj_coef (search->support, m + 1, 1.0 - mixture->n_parts * least);
  glp_set_col_stat (search->support, m + 1, GLP_NU);
  glp_set_obj_coef (search->support, 0, least * cost);
}

/* Of the shares as they are. */
static double
distance_of (const OgMixtureProblem *problem,
             const OgMixture        *mixture)
{
  double distance = 0.0;

  for (guint p = 0; p < mixture->n_parts; p++)
    distance += mixture->share[p] * problem->cost[mixture->candidate[p]];
  for (guint i = 0; i < problem->m; i++)
    {
      double sum = 0.0;

      for (guint p = 0; p < mixture->n_parts; p++)
        sum += mixture->share[p] * deviation_of (problem, mixture->candidate[p])[i];
      distance += fabs (sum);
    }
  return distance;
}

static void
report (Search *search)
{
  const OgMixtureProblem *problem = search->problem;
  const OgMixture *best = search->sorted->len > 0 ? g_ptr_array_index (search->sorted, 0) : NULL;

  if (++search->calls % CALLS_PER_REPORT != 0 || problem->progress == NULL || search->stopped)
    return;
  search->reported = fmax (search->reported, search->stage_from
                                                 + (search->stage_to - search->stage_from) * search->done);
  search->stopped = !problem->progress (search->reported, best != NULL ? best->distance : NAN,
                                        search->proven, problem->progress_data);
}

/* Shares and distance of a set of candidates, once and for all. */
static const OgMixture *
evaluate (Search          *search,
          const OgMixture *mixture)
{
  const OgMixtureProblem *problem = search->problem;
  const double least = least_share_of (problem, mixture);
  const OgMixture *known = g_hash_table_lookup (search->known, mixture);
  g_autofree double *lambda = NULL;
  OgMixture evaluated = *mixture;
  double sum = 0.0;
  gboolean solved;
  glp_smcp how;

  if (known != NULL)
    return known;
  report (search);
  if (mixture->n_parts == 1 || !suffices (problem, mixture))
    {
      evaluated.share[0] = 1.0;
      evaluated.distance = suffices (problem, mixture) ? distance_of (problem, &evaluated) : INFINITY;
      remember (search, &evaluated);
      return g_hash_table_lookup (search->known, mixture);
    }
  load_support (search, mixture);
  glp_init_smcp (&how);
  how.meth = GLP_DUALP;
  how.r_test = GLP_RT_FLIP;
  solved = og_linear_simplex (search->support, &how);
  if (!solved)
    {
      glp_std_basis (search->support);
      solved = og_linear_simplex (search->support, NULL);
    }
  for (guint p = 0; p < mixture->n_parts; p++)
    {
      evaluated.share[p] = least;
      if (solved)
        evaluated.share[p] += fmax (0.0, glp_get_row_dual (search->support, (int) p + 1));
      sum += evaluated.share[p];
    }
  for (guint p = 0; p < mixture->n_parts; p++)
    evaluated.share[p] /= sum;
  evaluated.distance = distance_of (problem, &evaluated);
  lambda = g_new0 (double, problem->m);
  for (guint i = 0; i < problem->m && solved; i++)
    lambda[i] = CLAMP (glp_get_col_prim (search->support, (int) i + 1), -1.0, 1.0);
  add_proof (search, lambda);
  remember (search, &evaluated);
  return g_hash_table_lookup (search->known, mixture);
}

/* Rows: one a number, sum_j y_j deviation - p + q = 0, and the sum of all y. Columns: y, p, q. */
static glp_prob *
relaxation_program (const OgMixtureProblem *problem)
{
  glp_prob *program = og_linear_new ();
  const int m = (int) problem->m, n = (int) problem->n;
  g_autofree int *index = g_new (int, problem->m + 2);
  g_autofree double *value = g_new (double, problem->m + 2);

  glp_add_rows (program, m + 1);
  glp_add_cols (program, n + 2 * m);
  for (int i = 1; i <= m; i++)
    {
      glp_set_row_bnds (program, i, GLP_FX, 0.0, 0.0);
      glp_set_col_bnds (program, n + i, GLP_LO, 0.0, 0.0);
      glp_set_obj_coef (program, n + i, 1.0);
      glp_set_mat_col (program, n + i, 1, (int[]) { 0, i }, (double[]) { 0.0, -1.0 });
      glp_set_col_bnds (program, n + m + i, GLP_LO, 0.0, 0.0);
      glp_set_obj_coef (program, n + m + i, 1.0);
      glp_set_mat_col (program, n + m + i, 1, (int[]) { 0, i }, (double[]) { 0.0, 1.0 });
    }
  for (int j = 0; j < n; j++)
    {
      for (int i = 0; i < m; i++)
        {
          index[i + 1] = i + 1;
          value[i + 1] = deviation_of (problem, (guint) j)[i];
        }
      index[m + 1] = m + 1;
      value[m + 1] = 1.0;
      glp_set_mat_col (program, j + 1, m + 1, index, value);
      glp_set_col_bnds (program, j + 1, GLP_DB, 0.0, 1.0);
    }
  return program;
}

static gboolean
solve_relaxation (Search *search,
                  double *lambda)
{
  report (search);
  if (!og_linear_simplex (search->relaxation, NULL))
    return FALSE;
  for (guint i = 0; i < search->problem->m; i++)
    lambda[i] = CLAMP (-glp_get_row_dual (search->relaxation, (int) i + 1), -1.0, 1.0);
  return TRUE;
}

/* The nearest mixture of any number of parts: a bound for all, and candidates that go well together. */
static void
relax_fully (Search *search,
             GArray *candidates)
{
  const OgMixtureProblem *problem = search->problem;
  const int m = (int) problem->m, n = (int) problem->n;
  g_autofree double *lambda = g_new (double, problem->m);

  glp_set_row_bnds (search->relaxation, m + 1, GLP_FX, 1.0, 1.0);
  for (int j = 1; j <= n; j++)
    glp_set_obj_coef (search->relaxation, j, problem->cost[j - 1]);
  if (solve_relaxation (search, lambda))
    {
      search->proven = fmax (0.0, glp_get_obj_val (search->relaxation) - PRUNING_TOLERANCE);
      for (int j = 1; j <= n; j++)
        if (glp_get_col_prim (search->relaxation, j) > 0.0)
          {
            const guint candidate = (guint) j - 1;

            g_array_append_val (candidates, candidate);
          }
    }
  glp_set_row_bnds (search->relaxation, m + 1, GLP_FR, 0.0, 0.0);
}

/* Looks for the proof that leaves fewest candidates of which a nearer mixture must hold one. */
static void
relax (Search          *search,
       const OgMixture *held,
       const guint     *allowed,
       guint            n_allowed,
       double           threshold)
{
  const OgMixtureProblem *problem = search->problem;
  g_autofree double *lambda = g_new (double, problem->m);
  g_autofree gboolean *free_candidate = g_new0 (gboolean, problem->n);

  for (guint a = 0; a < n_allowed; a++)
    free_candidate[allowed[a]] = TRUE;
  for (guint j = 0; j < problem->n; j++)
    {
      const int column = (int) j + 1;

      glp_set_obj_coef (search->relaxation, column, problem->cost[j] - threshold);
      if (holds (held, j))
        glp_set_col_bnds (search->relaxation, column, GLP_DB, 0.0, HELD_CAP);
      else if (free_candidate[j])
        glp_set_col_bnds (search->relaxation, column, GLP_DB, 0.0, 1.0);
      else
        glp_set_col_bnds (search->relaxation, column, GLP_FX, 0.0, 0.0);
    }
  if (solve_relaxation (search, lambda))
    add_proof (search, lambda);
}

/* --- the tree --- */

/* Least c_j that a further part must have so that, by this proof, nothing that holds @held and
 * only such parts is nearer than @threshold. */
static double
least_c (const Proof     *proof,
         const OgMixture *held,
         double           least,
         double           threshold)
{
  double sum = 0.0, smallest = INFINITY, c;

  if (held->n_parts == 0)
    return threshold;
  for (guint p = 0; p < held->n_parts; p++)
    {
      sum += proof->c[held->candidate[p]];
      smallest = fmin (smallest, proof->c[held->candidate[p]]);
    }
  c = (threshold - least * sum) / (1.0 - held->n_parts * least);
  if (c <= smallest)
    return c;
  return (threshold - least * sum - (1.0 - (held->n_parts + 1) * least) * smallest) / least;
}

static gboolean
is_proven (const Search    *search,
           const OgMixture *mixture,
           double           threshold)
{
  const double least = mixture->n_parts > 1 ? search->problem->least_share : 0.0;
  const OgMixture *known = g_hash_table_lookup (search->known, mixture);

  if (known != NULL)
    return known->distance >= threshold;
  for (guint r = search->proofs->len; r-- > 0;)
    {
      const double *c = g_array_index (search->proofs, Proof, r).c;
      double sum = 0.0, smallest = INFINITY;

      for (guint p = 0; p < mixture->n_parts; p++)
        {
          sum += c[mixture->candidate[p]];
          smallest = fmin (smallest, c[mixture->candidate[p]]);
        }
      if (least * sum + (1.0 - mixture->n_parts * least) * smallest >= threshold - PRUNING_TOLERANCE)
        return TRUE;
    }
  return FALSE;
}

/* Keeps of @allowed what this proof does not rule out. Returns: how many */
static guint
keep_below (const Proof *proof,
            double       least_c_of_parts,
            const guint *allowed,
            guint        n_allowed,
            guint       *kept)
{
  guint n = 0;

  for (guint a = 0; a < n_allowed; a++)
    {
      kept[n] = allowed[a];
      n += proof->c[allowed[a]] < least_c_of_parts - PRUNING_TOLERANCE;
    }
  return n;
}

static void
visit_last (Search          *search,
            const OgMixture *held,
            guint           *allowed,
            guint            n,
            double           limit)
{
  const double least = search->problem->least_share;
  gboolean relaxed = FALSE;
  guint r = 0;

  while (n > 0 && !search->stopped)
    {
      const double threshold = MIN (limit, search->threshold);
      OgMixture mixture;

      for (; r < search->proofs->len && n > 0; r++)
        {
          const Proof *proof = &g_array_index (search->proofs, Proof, r);

          n = keep_below (proof, least_c (proof, held, least, threshold), allowed, n, allowed);
        }
      if (n == 0)
        return;
      if (n > FEW && !relaxed)
        {
          relax (search, held, allowed, n, threshold);
          relaxed = TRUE;
          continue;
        }
      mixture = with_part (held, allowed[--n]);
      evaluate (search, &mixture);
    }
}

typedef struct
{
  guint candidate;
  double c;
} Branch;

static int
compare_branches (gconstpointer a,
                  gconstpointer b)
{
  const Branch *one = a, *other = b;

  if (one->c != other->c)
    return one->c > other->c ? -1 : 1;
  return (one->candidate > other->candidate) - (one->candidate < other->candidate);
}

/* The fewest candidates of which a mixture nearer than @threshold that holds @held must hold one. */
static GArray *
choose_branches (const Search    *search,
                 const OgMixture *held,
                 const guint     *allowed,
                 guint            n_allowed,
                 double           threshold)
{
  GArray *branches = g_array_new (FALSE, FALSE, sizeof (Branch));
  g_autofree guint *fewest = g_memdup2 (allowed, n_allowed * sizeof (guint));
  g_autofree guint *kept = g_new (guint, n_allowed);
  guint n_fewest = n_allowed;
  const Proof *best = NULL;

  for (guint r = 0; r < search->proofs->len; r++)
    {
      const Proof *proof = &g_array_index (search->proofs, Proof, r);
      const double c = least_c (proof, held, search->problem->least_share, threshold);
      const guint n = keep_below (proof, c, allowed, n_allowed, kept);

      if (n < n_fewest)
        {
          guint *swap = fewest;

          fewest = kept;
          kept = swap;
          n_fewest = n;
          best = proof;
        }
    }
  for (guint a = 0; a < n_fewest; a++)
    {
      Branch branch = { fewest[a], best != NULL ? best->c[fewest[a]] : 0.0 };

      g_array_append_val (branches, branch);
    }
  g_array_sort (branches, compare_branches);
  return branches;
}

static void
visit (Search          *search,
       const OgMixture *held,
       const guint     *allowed,
       guint            n_allowed,
       double           limit)
{
  g_autofree guint *left = g_memdup2 (allowed, n_allowed * sizeof (guint));
  g_autoptr (GArray) branches = NULL;

  if (held->n_parts > 0 && !is_proven (search, held, MIN (limit, search->threshold)))
    limit = MIN (limit, evaluate (search, held)->distance);
  if (held->n_parts == search->problem->most_parts || n_allowed == 0 || search->stopped)
    return;
  if (held->n_parts + 1 == search->problem->most_parts)
    {
      visit_last (search, held, left, n_allowed, limit);
      return;
    }
  relax (search, held, allowed, n_allowed, MIN (limit, search->threshold));
  branches = choose_branches (search, held, allowed, n_allowed, MIN (limit, search->threshold));
  for (guint b = 0; b < branches->len && !search->stopped; b++)
    {
      const guint candidate = g_array_index (branches, Branch, b).candidate;
      const OgMixture extended = with_part (held, candidate);
      guint n = 0;

      if (held->n_parts == 0)
        search->done = (double) b / branches->len;
      for (guint a = 0; a < n_allowed; a++)
        if (left[a] != candidate)
          left[n++] = left[a];
      n_allowed = n;
      if (go_together (search->problem, &extended))
        visit (search, &extended, left, n_allowed, limit);
    }
}

/* --- the whole --- */

/* Good answers to begin with: pairs of a short list, then the best of them with one more. */
static void
begin (Search *search)
{
  const OgMixtureProblem *problem = search->problem;
  g_autoptr (GArray) list = g_array_new (FALSE, FALSE, sizeof (guint));
  const OgMixture nothing = { 0 };

  for (guint j = 0; j < problem->n; j++)
    {
      const OgMixture single = with_part (&nothing, j);

      evaluate (search, &single);
    }
  if (problem->most_parts == 1)
    return;
  relax_fully (search, list);
  for (guint i = 0; i < MIN (SHORT_LIST, search->sorted->len); i++)
    {
      const guint candidate = ((OgMixture *) g_ptr_array_index (search->sorted, i))->candidate[0];

      g_array_append_val (list, candidate);
    }
  for (guint size = 2; size <= problem->most_parts; size++)
    {
      g_autoptr (GPtrArray) bases = g_ptr_array_new ();

      for (guint i = 0; i < search->sorted->len && bases->len < SHORT_LIST; i++)
        {
          OgMixture *mixture = g_ptr_array_index (search->sorted, i);

          if (mixture->n_parts == size - 1)
            g_ptr_array_add (bases, mixture);
        }
      for (guint b = 0; b < bases->len; b++)
        for (guint i = 0; i < list->len && !search->stopped; i++)
          if (!holds (g_ptr_array_index (bases, b), g_array_index (list, guint, i)))
            {
              const OgMixture mixture
                  = with_part (g_ptr_array_index (bases, b), g_array_index (list, guint, i));

              evaluate (search, &mixture);
            }
    }
}

static void
scan (Search *search,
      double  threshold)
{
  g_autofree guint *all = g_new (guint, search->problem->n);
  const OgMixture nothing = { 0 };

  for (guint j = 0; j < search->problem->n; j++)
    all[j] = j;
  search->threshold = MIN (threshold, search->limit);
  search->done = 0.0;
  visit (search, &nothing, all, search->problem->n, INFINITY);
  if (!search->stopped)
    search->proven = MAX (search->proven, search->threshold);
}

/* Farther than the farthest candidate, and so than any mixture. */
static double
farthest (const OgMixtureProblem *problem)
{
  double most = 0.0;

  for (guint j = 0; j < problem->n; j++)
    {
      const OgMixture neat = { .n_parts = 1, .candidate = { j }, .share = { 1.0 } };

      most = fmax (most, distance_of (problem, &neat));
    }
  return most + 1.0;
}

static GArray *
collect (const Search *search)
{
  GArray *answers = g_array_new (FALSE, FALSE, sizeof (OgMixture));

  for (guint i = 0; i < search->answers->len; i++)
    {
      OgMixture answer = *(OgMixture *) g_ptr_array_index (search->answers, i);

      answer.optimal = answer.distance <= search->proven + PROOF_TOLERANCE;
      answer.bound = answer.optimal ? answer.distance : search->proven;
      g_array_append_val (answers, answer);
    }
  return answers;
}

static gboolean
are_finite (const double *numbers,
            gsize         n)
{
  for (gsize i = 0; i < n; i++)
    if (!isfinite (numbers[i]))
      return FALSE;
  return TRUE;
}

/* Neither GLPK nor the tree comes to an end over what is no number. */
static gboolean
is_sound (const OgMixtureProblem *problem)
{
  return problem->n > 0 && problem->m > 0
         && are_finite (problem->deviation, (gsize) problem->n * problem->m)
         && are_finite (problem->cost, problem->n)
         && (problem->most_share == NULL || are_finite (problem->most_share, problem->n));
}

GArray *
og_mixture_search (const OgMixtureProblem *problem)
{
  Search search = { .problem = problem, .limit = INFINITY, .threshold = INFINITY, .proven = 0.0 };
  GArray *answers;
  double end;

  g_return_val_if_fail (problem->most_parts >= 1 && problem->most_parts <= OG_MIXTURE_MOST_PARTS, NULL);
  g_return_val_if_fail (problem->least_share > 0.0
                            && problem->least_share * problem->most_parts <= 1.0, NULL);

  if (!is_sound (problem) || problem->most == 0)
    return g_array_new (FALSE, FALSE, sizeof (OgMixture));
  search.support = support_program (problem);
  search.relaxation = relaxation_program (problem);
  search.proofs = g_array_new (FALSE, FALSE, sizeof (Proof));
  g_array_set_clear_func (search.proofs, proof_clear);
  search.known = g_hash_table_new_full (support_hash, support_equal, g_free, NULL);
  search.sorted = g_ptr_array_new ();
  search.answers = g_ptr_array_new ();

  end = farthest (problem);
  begin (&search);
  if (problem->most_parts == 1)
    search.proven = INFINITY;
  for (guint s = 0; search.proven < MIN (search.limit, end) - PRUNING_TOLERANCE && !search.stopped; s++)
    {
      const double factor = stages[MIN (s, G_N_ELEMENTS (stages) - 1)];

      search.stage_from = (double) MIN (s, G_N_ELEMENTS (stages) - 1) / G_N_ELEMENTS (stages);
      search.stage_to = search.stage_from + 1.0 / G_N_ELEMENTS (stages);
      scan (&search, factor * MIN (search.limit, end));
    }

  answers = collect (&search);
  og_linear_free (search.support);
  og_linear_free (search.relaxation);
  g_ptr_array_unref (search.answers);
  g_ptr_array_unref (search.sorted);
  g_hash_table_unref (search.known);
  g_array_unref (search.proofs);
  return answers;
}
