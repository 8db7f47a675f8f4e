/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/solve-private.h"

#include "core/base/linear.h"
#include "core/base/root.h"

#define PENALTY 1000.0       /* of a miss of 1 in ln eta against the objective */
#define FIRST_RADIUS 0.5     /* of the trust region, relative to each share */
#define LEAST_RADIUS 1e-5 /* relative: smaller steps move no millionth */
#define LEAST_SCALE 0.005    /* mass fraction */
#define MOST_STEPS 40 /* of one descent, a cap */
#define MOST_VERTEX_COLUMNS 7 /* corners double with each column: 64 at seven */
#define MOST_PAIR_COLUMNS 7 /* pairs are scanned in full up to here */
#define N_SCAN 24 /* points along a pair */
#define MOST_DESCENTS 10 /* starting points, best first: keeps an answer quick */
#define TIGHT 1e-12 /* mass fraction: rounding of doubles */

/* --- points ---------------------------------------------------------------- */

static OgPoint *
point_new (OgSolveProblem *problem,
           const double   *x)
{
  OgPoint *point = g_new0 (OgPoint, 1);

  point->x = g_memdup2 (x, problem->n * sizeof (double));
  point->value = og_solve_value (problem, x);
  point->violation = og_solve_violation (&problem->goal, &point->value);
  point->objective = og_solve_objective (problem, x);
  return point;
}

static void
point_free (gpointer data)
{
  OgPoint *point = data;

  g_free (point->x);
  g_free (point);
}

static double
main_value (const OgSolveProblem *problem,
            const OgPoint        *point)
{
  return point->value.of[problem->goal.main];
}

static double
merit (const OgPoint *point)
{
  return point->objective + PENALTY * point->violation;
}

/* --- one linear program ---------------------------------------------------- */

/* What a step is looked for: the goal at least cost, or (with @climb) as far up or down the main
 * measure as the trust region lets it. */
typedef struct
{
  double climb; /* +1, -1, or 0 */
  double radius;
} Step;

/* Column x_j as the start plus a rise less a fall, each with its price. */
static void
add_split_column (OgSolveProblem *problem,
                  glp_prob       *lp,
                  guint           j,
                  double          low,
                  double          high,
                  double          price)
{
  double start = problem->start[j];
  double least_rise = fmax (0.0, low - start), most_rise = fmax (0.0, high - start);
  double least_fall = fmax (0.0, start - high), most_fall = fmax (0.0, start - low);
  double weight = problem->weight[j] * (problem->price != NULL ? 1e-4 : 1.0);
  int rise = glp_add_cols (lp, 2);

  glp_set_col_bnds (lp, rise, most_rise > least_rise + TIGHT ? GLP_DB : GLP_FX, least_rise,
                    most_rise);
  glp_set_col_bnds (lp, rise + 1, most_fall > least_fall + TIGHT ? GLP_DB : GLP_FX, least_fall,
                    most_fall);
  glp_set_obj_coef (lp, rise, price + weight);
  glp_set_obj_coef (lp, rise + 1, -price + weight);
}

static void
set_row (glp_prob     *lp,
         int           row,
         guint         n,
         const double *slope,
         gboolean      elastic)
{
  guint length = 2 * n + (elastic ? 2 : 0);
  g_autofree int *index = g_new (int, length + 1);
  g_autofree double *value = g_new (double, length + 1);

  for (guint j = 0; j < n; j++)
    {
      index[1 + 2 * j] = (int) (1 + 2 * j);
      index[2 + 2 * j] = (int) (2 + 2 * j);
      value[1 + 2 * j] = slope != NULL ? slope[j] : 1.0;
      value[2 + 2 * j] = -value[1 + 2 * j];
    }
  if (elastic)
    {
      int short_by = glp_add_cols (lp, 2);

      for (int k = 0; k < 2; k++)
        {
          glp_set_col_bnds (lp, short_by + k, GLP_LO, 0.0, 0.0);
          glp_set_obj_coef (lp, short_by + k, PENALTY);
          index[2 * n + 1 + (guint) k] = short_by + k;
          value[2 * n + 1 + (guint) k] = k == 0 ? 1.0 : -1.0;
        }
    }
  glp_set_mat_row (lp, row, (int) length, index, value);
}

/* The measure linearised at @point, with what it may miss the goal by at a penalty. */
static void
add_goal_row (OgSolveProblem *problem,
              glp_prob       *lp,
              const OgPoint  *point,
              OgMeasure       measure)
{
  const OgSolveGoal *goal = &problem->goal;
  double low = goal->low[measure], high = goal->high[measure];
  double offset = point->value.of[measure];
  g_autofree double *slope = NULL;
  int row;

  if (!isfinite (low) && !isfinite (high))
    return;
  slope = g_new (double, problem->n);
  og_solve_gradient (problem, point->x, measure, slope);
  for (guint j = 0; j < problem->n; j++)
    offset += slope[j] * (problem->start[j] - point->x[j]);
  row = glp_add_rows (lp, 1);
  if (low == high)
    glp_set_row_bnds (lp, row, GLP_FX, low - offset, low - offset);
  else if (isfinite (low) && isfinite (high))
    glp_set_row_bnds (lp, row, GLP_DB, low - offset, high - offset);
  else
    glp_set_row_bnds (lp, row, isfinite (low) ? GLP_LO : GLP_UP, low - offset, high - offset);
  set_row (lp, row, problem->n, slope, TRUE);
}

static glp_prob *
build (OgSolveProblem *problem,
       const OgPoint  *point,
       const Step     *step)
{
  glp_prob *lp = og_linear_new ();
  g_autofree double *climb = g_new0 (double, problem->n);
  double left = problem->sum;

  if (step->climb != 0.0)
    og_solve_gradient (problem, point->x, problem->goal.main, climb);
  for (guint j = 0; j < problem->n; j++)
    {
      double reach = step->radius * fmax (point->x[j], LEAST_SCALE);

      add_split_column (problem, lp, j, fmax (problem->low[j], point->x[j] - reach),
                        fmin (problem->high[j], point->x[j] + reach),
                        problem->price != NULL ? problem->price[j] : 0.0);
      left -= problem->start[j];
    }
  glp_add_rows (lp, 1);
  glp_set_row_bnds (lp, 1, GLP_FX, left, left);
  set_row (lp, 1, problem->n, NULL, FALSE);
  if (step->climb == 0.0)
    for (int m = 0; m < OG_N_MEASURES; m++)
      add_goal_row (problem, lp, point, (OgMeasure) m);
  else
    for (guint j = 0; j < 2 * problem->n; j++)
      glp_set_obj_coef (lp, (int) j + 1,
                        (j % 2 == 0 ? -step->climb : step->climb) * climb[j / 2]);
  return lp;
}

/* Returns: (transfer full) (nullable): the best point of the program */
static double *
propose (OgSolveProblem *problem,
         const OgPoint  *point,
         const Step     *step,
         double         *predicted)
{
  glp_prob *lp = build (problem, point, step);
  double *x = NULL;

  if (og_linear_simplex (lp, NULL))
    {
      x = g_new (double, problem->n);
      for (guint j = 0; j < problem->n; j++)
        x[j] = CLAMP (problem->start[j] + glp_get_col_prim (lp, (int) (1 + 2 * j))
                          - glp_get_col_prim (lp, (int) (2 + 2 * j)),
                      problem->low[j], problem->high[j]);
      *predicted = glp_get_obj_val (lp);
    }
  og_linear_free (lp);
  return x;
}

/* --- from one point downhill ----------------------------------------------- */

static double
constant_of (const OgSolveProblem *problem)
{
  double constant = 0.0;

  for (guint j = 0; problem->price != NULL && j < problem->n; j++)
    constant += problem->price[j] * problem->start[j];
  return constant;
}

/* Successive linear programs with a trust region. Returns: (transfer full) */
static OgPoint *
descend (OgSolveProblem *problem,
         const double   *x)
{
  OgPoint *point = point_new (problem, x);
  Step step = { 0.0, FIRST_RADIUS };
  int most = isfinite (point->violation) ? MOST_STEPS : 0;

  for (int i = 0; i < most && step.radius > LEAST_RADIUS && !problem->stopped; i++)
    {
      double predicted = 0.0;
      g_autofree double *next = propose (problem, point, &step, &predicted);
      double hoped = next != NULL ? merit (point) - (predicted + constant_of (problem)) : 0.0;
      OgPoint *trial;
      double gained;

      if (!(hoped > 1e-9))
        break;
      trial = point_new (problem, next);
      gained = isfinite (trial->violation) ? merit (point) - merit (trial) : -INFINITY;
      if (gained >= 0.1 * hoped)
        {
          point_free (point);
          point = trial;
          step.radius *= gained > 0.7 * hoped ? 2.0 : 1.0;
        }
      else
        {
          point_free (trial);
          step.radius *= 0.3;
        }
    }
  return point;
}

/* As far up (+1) or down (-1) the main measure as it goes from here. Returns: (transfer full) */
static OgPoint *
climb (OgSolveProblem *problem,
       const double   *x,
       double          direction)
{
  OgPoint *point = point_new (problem, x);
  Step step = { direction, 4.0 };

  for (int i = 0; i < MOST_STEPS && step.radius > 1e-3 && !problem->stopped; i++)
    {
      double predicted = 0.0;
      g_autofree double *next = propose (problem, point, &step, &predicted);
      OgPoint *trial;

      if (next == NULL)
        break;
      trial = point_new (problem, next);
      if (direction * (main_value (problem, trial) - main_value (problem, point)) > 1e-7)
        {
          point_free (point);
          point = trial;
          step.radius *= 2.0;
        }
      else
        {
          point_free (trial);
          step.radius *= 0.2;
        }
    }
  return point;
}

/* --- along a line ---------------------------------------------------------- */

typedef struct
{
  OgSolveProblem *problem;
  const double *from;
  const double *to;
  double *at;
  double wanted;
} Path;

static double
miss_along (double   t,
            gpointer user_data)
{
  Path *path = user_data;

  for (guint j = 0; j < path->problem->n; j++)
    path->at[j] = path->from[j] + t * (path->to[j] - path->from[j]);
  return og_solve_value (path->problem, path->at).of[path->problem->goal.main] - path->wanted;
}

/* Where the main measure is @wanted between two points of which one lies below and one above. The
 * further end if there is no such place, because an end is on the spot but for rounding.
 * Returns: (transfer full) */
static OgPoint *
cross (OgSolveProblem *problem,
       const double   *from,
       const double   *to,
       double          wanted)
{
  g_autofree double *at = g_new (double, problem->n);
  Path path = { problem, from, to, at, wanted };
  double t = og_find_root (miss_along, &path, 0.0, 1.0, 1e-11);

  miss_along (isnan (t) ? 1.0 : t, &path);
  return point_new (problem, at);
}

/* The end of the goal that lies nearer to @value. */
static double
nearest_end (const OgSolveProblem *problem,
             double                value)
{
  OgMeasure main = problem->goal.main;

  return CLAMP (value, problem->goal.low[main], problem->goal.high[main]);
}

/* The place between two points where the goal begins, if it lies between them. */
static OgPoint *
enter (OgSolveProblem *problem,
       const double   *from,
       double          value_from,
       const double   *to,
       double          value_to)
{
  double wanted = nearest_end (problem, value_from);

  if (!isfinite (value_from) || !isfinite (value_to) || value_from == wanted
      || (value_from < wanted) == (value_to < wanted))
    return NULL;
  return cross (problem, from, to, wanted);
}

/* --- the bounds themselves ------------------------------------------------- */

/* Nearest point within the bounds that makes up to the sum. */
static double *
start_inside (OgSolveProblem *problem)
{
  double *x = g_new (double, problem->n);
  double left = problem->sum;

  for (guint j = 0; j < problem->n; j++)
    {
      x[j] = CLAMP (problem->start[j], problem->low[j], problem->high[j]);
      left -= x[j];
    }
  for (guint j = problem->n; j-- > 0;)
    {
      double move = CLAMP (left, problem->low[j] - x[j], problem->high[j] - x[j]);

      x[j] += move;
      left -= move;
    }
  return x;
}

/* Corner @which of the bounds with column @open taking up the rest. Returns: FALSE if it cannot */
static gboolean
corner (const OgSolveProblem *problem,
        guint                 open,
        guint                 which,
        double               *x)
{
  double left = problem->sum;

  for (guint j = 0, bit = 0; j < problem->n; j++)
    {
      if (j == open)
        continue;
      x[j] = (which >> bit++) & 1 ? problem->high[j] : problem->low[j];
      left -= x[j];
    }
  x[open] = CLAMP (left, problem->low[open], problem->high[open]);
  return fabs (x[open] - left) < TIGHT;
}

/* Highest (+1) and lowest (-1) point of the main measure. */
static void
find_extremes (OgSolveProblem *problem,
               const double   *inside,
               OgPoint        *extreme[2])
{
  g_autofree double *x = g_new (double, problem->n);
  OgPoint *best[2] = { point_new (problem, inside), point_new (problem, inside) };
  guint corners = problem->n <= MOST_VERTEX_COLUMNS ? 1u << (problem->n - 1) : 0;

  for (guint open = 0; open < problem->n && corners > 0; open++)
    for (guint which = 0; which < corners && !problem->stopped; which++)
      {
        OgPoint *point;

        if (!corner (problem, open, which, x))
          continue;
        point = point_new (problem, x);
        for (int up = 0; up < 2; up++)
          {
            double gain = main_value (problem, point) - main_value (problem, best[up]);

            if ((up ? gain : -gain) > 0.0 || !isfinite (main_value (problem, best[up])))
              {
                point_free (best[up]);
                best[up] = point_new (problem, x);
              }
          }
        point_free (point);
      }
  for (int up = 0; up < 2; up++)
    {
      OgPoint *from_inside = climb (problem, inside, up ? 1.0 : -1.0);
      double gain;

      extreme[up] = climb (problem, best[up]->x, up ? 1.0 : -1.0);
      point_free (best[up]);
      gain = main_value (problem, from_inside) - main_value (problem, extreme[up]);
      if ((up ? gain : -gain) > 0.0)
        {
          point_free (extreme[up]);
          extreme[up] = g_steal_pointer (&from_inside);
        }
      g_clear_pointer (&from_inside, point_free);
    }
}

/* --- exchanges of two columns ---------------------------------------------- */

/* 0 ... 1, dense at both ends: an agent acts within its first few per cent. */
static double
scan_place (guint i)
{
  double u = (double) i / N_SCAN;

  return u < 0.5 ? 4.0 * u * u * u : 1.0 - 4.0 * (1.0 - u) * (1.0 - u) * (1.0 - u);
}

/* Every place at which the goal is entered or left while column @i grows at the cost of @j. */
static void
scan_pair (OgSolveProblem *problem,
           const double   *inside,
           guint           i,
           guint           j,
           GPtrArray      *found)
{
  double low = fmax (problem->low[i], inside[i] + inside[j] - problem->high[j]);
  double high = fmin (problem->high[i], inside[i] + inside[j] - problem->low[j]);
  g_autofree double *x = g_memdup2 (inside, problem->n * sizeof (double));
  g_autofree double *last = g_memdup2 (inside, problem->n * sizeof (double));
  double before = NAN;

  if (high - low < TIGHT)
    return;
  for (guint k = 0; k <= N_SCAN && !problem->stopped; k++)
    {
      double here;

      x[i] = low + (high - low) * scan_place (k);
      x[j] = inside[i] + inside[j] - x[i];
      here = og_solve_value (problem, x).of[problem->goal.main];
      for (int way = 0; way < 2 && k > 0; way++)
        {
          OgPoint *point = way == 0 ? enter (problem, last, before, x, here)
                                    : enter (problem, x, here, last, before);

          if (point != NULL)
            g_ptr_array_add (found, point);
        }
      last[i] = x[i];
      last[j] = x[j];
      before = here;
    }
}

/* The column with the most to give. */
static guint
largest_column (const OgSolveProblem *problem,
                const double         *inside)
{
  guint best = problem->n - 1;

  for (guint j = 0; j < problem->n; j++)
    if (inside[j] - problem->low[j] > inside[best] - problem->low[best])
      best = j;
  return best;
}

/* All pairs of a few columns; of many, each with the largest. */
static void
scan_pairs (OgSolveProblem *problem,
            const double   *inside,
            GPtrArray      *found)
{
  gboolean all = problem->n <= MOST_PAIR_COLUMNS;
  guint largest = largest_column (problem, inside);

  for (guint i = 0; i < problem->n; i++)
    {
      for (guint j = i + 1; j < problem->n && all; j++)
        scan_pair (problem, inside, i, j, found);
      if (!all && i != largest)
        scan_pair (problem, inside, i, largest, found);
      og_solve_report_progress (problem, 0.1 + 0.3 * (i + 1.0) / problem->n);
    }
}

/* --- all together ---------------------------------------------------------- */

static int
compare_points (gconstpointer a,
                gconstpointer b)
{
  const OgPoint *x = *(const OgPoint *const *) a;
  const OgPoint *y = *(const OgPoint *const *) b;
  double miss_x = x->violation > OG_SOLVE_TOLERANCE ? x->violation : 0.0;
  double miss_y = y->violation > OG_SOLVE_TOLERANCE ? y->violation : 0.0;

  if (miss_x != miss_y)
    return miss_x < miss_y ? -1 : 1;
  return (x->objective > y->objective) - (x->objective < y->objective);
}

/* What is a little off is brought onto the goal, towards the extreme on the other side. */
static OgPoint *
land (OgSolveProblem *problem,
      OgPoint        *point,
      OgPoint        *extreme[2])
{
  double value = main_value (problem, point);
  OgPoint *onto;

  if (point->violation <= 1e-9)
    return point;
  onto = NULL;
  for (int up = 0; up < 2 && onto == NULL; up++)
    onto = enter (problem, point->x, value, extreme[up]->x, main_value (problem, extreme[up]));
  if (onto == NULL || onto->violation >= point->violation)
    {
      g_clear_pointer (&onto, point_free);
      return point;
    }
  point_free (point);
  return onto;
}

static void
descend_from (OgSolveProblem *problem,
              GPtrArray      *found,
              OgPoint        *extreme[2])
{
  guint n = MIN (found->len, MOST_DESCENTS);

  for (guint i = 0; i < n && !problem->stopped; i++)
    {
      const OgPoint *from = g_ptr_array_index (found, i);
      OgPoint *point = land (problem, descend (problem, from->x), extreme);
      OgPoint *again = land (problem, descend (problem, point->x), extreme);

      g_ptr_array_add (found, point);
      g_ptr_array_add (found, again);
      og_solve_report_progress (problem, 0.4 + 0.6 * (i + 1.0) / n);
    }
}

GPtrArray *
og_solve_search (OgSolveProblem *problem,
                 double         *lowest,
                 double         *highest)
{
  GPtrArray *found = g_ptr_array_new_with_free_func (point_free);
  g_autofree double *inside = start_inside (problem);
  OgPoint *extreme[2];

  find_extremes (problem, inside, extreme);
  og_solve_report_progress (problem, 0.1);
  *lowest = main_value (problem, extreme[0]);
  *highest = main_value (problem, extreme[1]);
  scan_pairs (problem, inside, found);
  g_ptr_array_add (found, land (problem, point_new (problem, inside), extreme));
  g_ptr_array_sort (found, compare_points);
  g_ptr_array_add (found, point_new (problem, extreme[0]->x));
  g_ptr_array_add (found, point_new (problem, extreme[1]->x));
  descend_from (problem, found, extreme);
  g_ptr_array_sort (found, compare_points);
  for (int up = 0; up < 2; up++)
    point_free (extreme[up]);
  return found;
}
