/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/solve-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/conditions.h"
#include "core/base/error.h"

#define LEAST_WEIGHED 0.01   /* mass fraction below which a change counts as for this much */
#define GRADIENT_STEP 1e-6 /* mass fraction, far above rounding and far below any curvature */
#define WORD_MARGIN 0.1      /* how far inside a word is aimed: of its width, and at most in ln */
#define PRICE_TIE 1e-4       /* of two equal prices the smaller change is better */
#define MOST_PATCHES 4 /* rounds, a cap */
#define WORTH_PATCHING 1e-4 /* of ln eta: less is not seen on screen */
#define MOST_PATCH_PPM 10000.0 /* a larger step is no rounding any more */

/* --- the goal -------------------------------------------------------------- */

static void
want (OgSolveGoal *goal,
      OgMeasure    measure,
      double       from,
      double       to)
{
  double low = log (from), high = log (to);
  double margin = WORD_MARGIN * fmin (1.0, high - low);

  goal->low[measure] = low + margin;
  goal->high[measure] = high - margin;
}

static gboolean
set_word (OgSolveGoal        *goal,
          const OgBodyBounds *bounds,
          OgBody              body)
{
  const double *from = bounds->from;
  int word = (int) body - OG_BODY_DRY;

  if (body == OG_BODY_SOFT_SET || body == OG_BODY_SET)
    {
      goal->main = OG_MEASURE_YIELD;
      want (goal, OG_MEASURE_YIELD,
            from[body == OG_BODY_SET ? OG_BODY_BOUND_SET : OG_BODY_BOUND_SOFT_SET],
            body == OG_BODY_SET ? INFINITY : from[OG_BODY_BOUND_SET]);
      return TRUE;
    }
  want (goal, OG_MEASURE_VISCOSITY, word == 0 ? 0.0 : from[word - 1],
        body == OG_BODY_HEAVY ? INFINITY : from[word]);
  goal->high[OG_MEASURE_YIELD] = log (from[OG_BODY_BOUND_SOFT_SET]) - WORD_MARGIN;
  return TRUE;
}

static gboolean
set_goal (OgSolveProblem  *problem,
          GError         **error)
{
  const OgSolveTarget *target = &problem->request->target;
  OgSolveGoal *goal = &problem->goal;

  for (int m = 0; m < OG_N_MEASURES; m++)
    {
      goal->low[m] = -INFINITY;
      goal->high[m] = INFINITY;
    }
  goal->main = OG_MEASURE_VISCOSITY;
  if (target->body != OG_BODY_UNKNOWN)
    return set_word (goal, &problem->formula->body_bounds, target->body);
  if (!(target->viscosity_mpa_s > 0.0) || !isfinite (target->viscosity_mpa_s)
      || !(target->temperature_c >= OG_TEMPERATURE_LOWEST_C
           && target->temperature_c <= OG_TEMPERATURE_HIGHEST_C)
      || !(target->shear_rate_1_s > 0.0) || !isfinite (target->shear_rate_1_s))
    {
      g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_TARGET,
                   _("The target needs a viscosity and a shear rate above 0, and a temperature "
                     "of -20 to 200 °C."));
      return FALSE;
    }
  goal->low[OG_MEASURE_VISCOSITY] = goal->high[OG_MEASURE_VISCOSITY]
      = log (target->viscosity_mpa_s);
  return TRUE;
}

/* --- columns --------------------------------------------------------------- */

static const OgSolveRange *
range_of (const OgSolveRequest *request,
          guint                 line_id)
{
  for (guint i = 0; i < request->n_ranges; i++)
    if (request->ranges[i].line_id == line_id)
      return &request->ranges[i];
  return NULL;
}

const char *
og_solve_name (const OgCatalog     *catalog,
               const OgFormulaLine *line)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);

  return ingredient != NULL ? ingredient->name : line->ingredient_id;
}

static gboolean
check_ranges (const OgFormula       *formula,
              const OgCatalog       *catalog,
              const OgSolveRequest  *request,
              GError               **error)
{
  for (guint i = 0; i < request->n_ranges; i++)
    {
      const OgSolveRange *range = &request->ranges[i];
      const OgFormulaLine *line = og_formula_find_line (formula, range->line_id, NULL, NULL);

      if (line == NULL)
        {
          g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE,
                       _("A line to be varied is not in the recipe."));
          return FALSE;
        }
      if (line->held)
        {
          g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_NOTHING,
                       _("%s is held, so it cannot be varied."), og_solve_name (catalog, line));
          return FALSE;
        }
      if (range->low > range->high)
        {
          g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES,
                       _("%s: the bounds contradict each other, the lower one is above the upper one."),
                       og_solve_name (catalog, line));
          return FALSE;
        }
      if (range->low < 0 || range->high > OG_PPM_WHOLE
          || range_of (request, range->line_id) != range)
        {
          g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES,
                       _("%s: the bounds must be 0 to 100 %%, once a line."),
                       og_solve_name (catalog, line));
          return FALSE;
        }
    }
  return TRUE;
}

/* What the lines of one kind add up to, in fractions. */
typedef gboolean (*LineIs) (const OgSolveProblem *problem,
                            const OgFormulaLine  *line);

static gboolean
is_balance (const OgSolveProblem *problem,
            const OgFormulaLine  *line)
{
  return line->balance_share > 0;
}

static gboolean
is_named (const OgSolveProblem *problem,
          const OgFormulaLine  *line)
{
  return range_of (problem->request, line->id) != NULL;
}

static gboolean
is_named_itself (const OgSolveProblem *problem,
                 const OgFormulaLine  *line)
{
  return is_named (problem, line) && !(problem->rest == OG_REST_BALANCE && line->balance_share > 0);
}

static gboolean
is_rest (const OgSolveProblem *problem,
         const OgFormulaLine  *line)
{
  switch (problem->rest)
    {
    case OG_REST_BALANCE:
      return line->balance_share > 0;
    case OG_REST_SCALE:
      return !is_named (problem, line) && !line->held
             && og_ingredient_makes_room (og_catalog_get (problem->catalog, line->ingredient_id));
    case OG_REST_EXCHANGE:
    default:
      return FALSE;
    }
}

static guint
count (const OgSolveProblem *problem,
       LineIs                is)
{
  guint n = 0;

  for (guint i = 0; i < problem->n_lines; i++)
    n += is (problem, og_line_model_get_line (problem->model, i)) ? 1 : 0;
  return n;
}

/* TRUE if the lines named can hold among themselves what the others leave. */
static gboolean
can_exchange (const OgSolveProblem *problem)
{
  gint64 others = 0, low = 0, high = 0;

  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *line = og_line_model_get_line (problem->model, i);
      const OgSolveRange *range = range_of (problem->request, line->id);

      others += range == NULL ? line->amount : 0;
      low += range != NULL ? range->low : 0;
      high += range != NULL ? range->high : 0;
    }
  return problem->request->n_ranges > 1 && low <= OG_PPM_WHOLE - others
         && high >= OG_PPM_WHOLE - others;
}

static gboolean
choose_rest (OgSolveProblem  *problem,
             GError         **error)
{
  guint n_balance = count (problem, is_balance);

  problem->rest = can_exchange (problem) ? OG_REST_EXCHANGE : OG_REST_SCALE;
  if (n_balance > 0)
    problem->rest = OG_REST_BALANCE;
  if (n_balance == 0 || count (problem, is_named_itself) > 0)
    return TRUE;
  if (n_balance == 1)
    {
      /* The balance line alone is to vary: everything else makes room for it. */
      problem->rest = OG_REST_SCALE;
      return TRUE;
    }
  g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_NOTHING,
               _("Balance lines share the rest by their parts; name another line to vary."));
  return FALSE;
}

/* Part of line @index in the rest. */
static void
share_rest (OgSolveProblem *problem)
{
  double sum = 0.0;

  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *line = og_line_model_get_line (problem->model, i);

      if (is_rest (problem, line))
        problem->share[i] = problem->rest == OG_REST_BALANCE ? (double) line->balance_share
                                                             : (double) line->amount;
      sum += problem->share[i];
    }
  for (guint i = 0; i < problem->n_lines && sum > 0.0; i++)
    problem->share[i] /= sum;
}

/* Bounds of the rest from those of the balance lines named. */
static void
bound_rest (OgSolveProblem *problem)
{
  guint last = problem->n - 1;

  problem->low[last] = 0.0;
  problem->high[last] = 0.0;
  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *line = og_line_model_get_line (problem->model, i);

      if (problem->share[i] <= 0.0)
        continue;
      problem->high[last] = 1.0;
      if (problem->rest_low_line == 0
          || problem->share[i] > problem->share[problem->rest_low_line - 1])
        problem->rest_low_line = problem->rest_high_line = i + 1;
      problem->start[last] += og_ppm_to_fraction (line->amount);
    }
  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *line = og_line_model_get_line (problem->model, i);
      const OgSolveRange *range = range_of (problem->request, line->id);
      double low, high;

      if (problem->share[i] <= 0.0 || range == NULL)
        continue;
      low = og_ppm_to_fraction (range->low) / problem->share[i];
      high = og_ppm_to_fraction (range->high) / problem->share[i];
      if (low > problem->low[last])
        {
          problem->low[last] = low;
          problem->rest_low_line = i + 1;
        }
      if (high < problem->high[last])
        {
          problem->high[last] = high;
          problem->rest_high_line = i + 1;
        }
    }
}

static void
fill_columns (OgSolveProblem *problem)
{
  guint column = 0;

  problem->sum = 1.0;
  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *line = og_line_model_get_line (problem->model, i);
      const OgSolveRange *range = range_of (problem->request, line->id);

      if (is_named_itself (problem, line))
        {
          problem->line_of[column] = i;
          problem->low[column] = og_ppm_to_fraction (range->low);
          problem->high[column] = og_ppm_to_fraction (range->high);
          problem->start[column++] = og_ppm_to_fraction (line->amount);
        }
      else if (!is_rest (problem, line))
        {
          problem->fixed[i] = og_ppm_to_fraction (line->amount);
          problem->sum -= problem->fixed[i];
        }
    }
  share_rest (problem);
  bound_rest (problem);
  for (guint j = 0; j < problem->n; j++)
    {
      problem->high[j] = fmin (problem->high[j], problem->sum);
      problem->weight[j] = 1.0 / fmax (problem->start[j], LEAST_WEIGHED);
    }
}

/* Returns: (transfer full) (nullable): whose bounds on one side were asked for */
static char *
name_bounded (const OgSolveProblem *problem,
              gboolean              upper)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) names = NULL;

  for (guint i = 0; i < problem->request->n_ranges; i++)
    {
      const OgSolveRange *range = &problem->request->ranges[i];
      const OgFormulaLine *line = og_formula_find_line (problem->formula, range->line_id, NULL, NULL);

      if (upper ? range->high < OG_PPM_WHOLE : range->low > 0)
        g_strv_builder_add (builder, og_solve_name (problem->catalog, line));
    }
  names = g_strv_builder_end (builder);
  return names[0] != NULL ? g_strjoinv (", ", names) : NULL;
}

static void
set_contradiction (const OgSolveProblem  *problem,
                   gboolean               upper,
                   GError               **error)
{
  g_autofree char *names = name_bounded (problem, upper);

  if (names == NULL)
    g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES, _("No recipe of 100 %% lies within these bounds."));
  else if (upper)
    g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES,
                 _("The upper bounds contradict each other: %s. With the lines that stay they make less than 100 %%."),
                 names);
  else
    g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_RANGES,
                 _("The lower bounds contradict each other: %s. With the lines that stay they make more than 100 %%."),
                 names);
}

static gboolean
check_columns (const OgSolveProblem  *problem,
               GError               **error)
{
  double low = 0.0, high = 0.0;
  guint n_moving = 0;

  for (guint j = 0; j < problem->n; j++)
    {
      low += problem->low[j];
      high += problem->high[j];
      n_moving += problem->high[j] > problem->low[j] ? 1 : 0;
      if (problem->low[j] > problem->high[j])
        low = INFINITY;
    }
  if (problem->sum < 0.0 || low > problem->sum + 1e-9 || high < problem->sum - 1e-9)
    {
      set_contradiction (problem, high < problem->sum - 1e-9, error);
      return FALSE;
    }
  if (n_moving < 2)
    {
      g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_NOTHING,
                   _("Nothing can move: a line needs room, and another one that makes way for "
                     "it."));
      return FALSE;
    }
  return TRUE;
}

gboolean
og_solve_problem_init (OgSolveProblem        *problem,
                       const OgFormula       *formula,
                       OgCatalog             *catalog,
                       const OgSolveRequest  *request,
                       GError               **error)
{
  *problem = (OgSolveProblem) { .formula = formula, .catalog = catalog, .request = request };
  if (request->n_ranges == 0 || request->n_ranges > OG_SOLVE_MOST_RANGES)
    {
      g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_NOTHING,
                   _("Name 1 to %d lines that may vary."), OG_SOLVE_MOST_RANGES);
      return FALSE;
    }
  if (!check_ranges (formula, catalog, request, error) || !set_goal (problem, error))
    return FALSE;
  problem->model = og_line_model_new (formula, catalog, request->belief);
  problem->n_lines = og_line_model_get_n_lines (problem->model);
  if (!choose_rest (problem, error))
    return FALSE;
  problem->n = count (problem, is_named_itself) + 1;
  problem->line_of = g_new0 (guint, problem->n);
  problem->fixed = g_new0 (double, problem->n_lines);
  problem->share = g_new0 (double, problem->n_lines);
  problem->fractions = g_new0 (double, problem->n_lines);
  problem->start = g_new0 (double, problem->n);
  problem->low = g_new0 (double, problem->n);
  problem->high = g_new0 (double, problem->n);
  problem->weight = g_new0 (double, problem->n);
  fill_columns (problem);
  return check_columns (problem, error);
}

void
og_solve_problem_clear (OgSolveProblem *problem)
{
  g_clear_pointer (&problem->model, og_line_model_free);
  g_free (problem->line_of);
  g_free (problem->fixed);
  g_free (problem->share);
  g_free (problem->fractions);
  g_free (problem->start);
  g_free (problem->low);
  g_free (problem->high);
  g_free (problem->weight);
  g_free (problem->price);
}

/* --- prices ---------------------------------------------------------------- */

char **
og_solve_problem_price (OgSolveProblem *problem)
{
  g_autoptr (GStrvBuilder) unpriced = g_strv_builder_new ();
  g_autofree double *price = g_new0 (double, problem->n);
  const char *currency = NULL;
  gboolean usable = problem->request->aim == OG_SOLVE_LEAST_COST;
  double mean = 0.0;

  if (!usable)
    return g_strv_builder_end (unpriced);
  for (guint i = 0, column = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *line = og_line_model_get_line (problem->model, i);
      gboolean named = column + 1 < problem->n && problem->line_of[column] == i;
      const OgShelfItem *item = og_shelf_get (problem->request->shelf, line->ingredient_id);

      if (!named && problem->share[i] <= 0.0)
        continue;
      if (item == NULL || !isfinite (item->price_per_kg))
        {
          g_strv_builder_add (unpriced, line->ingredient_id);
          usable = FALSE;
        }
      else
        {
          usable = usable && (currency == NULL || g_strcmp0 (currency, item->currency) == 0);
          currency = item->currency;
          price[named ? column : problem->n - 1]
              += item->price_per_kg * (named ? 1.0 : problem->share[i]);
        }
      column += named ? 1 : 0;
    }
  for (guint j = 0; j < problem->n; j++)
    mean += price[j] / problem->n;
  if (usable && mean > 0.0)
    {
      for (guint j = 0; j < problem->n; j++)
        price[j] /= mean;
      problem->price = g_steal_pointer (&price);
    }
  return g_strv_builder_end (unpriced);
}

/* --- a point --------------------------------------------------------------- */

OgSolveValue
og_solve_value (OgSolveProblem *problem,
                const double   *x)
{
  const OgSolveTarget *target = &problem->request->target;
  gboolean word = target->body != OG_BODY_UNKNOWN;
  g_autoptr (OgBlend) blend = NULL;

  for (guint i = 0; i < problem->n_lines; i++)
    problem->fractions[i] = problem->fixed[i] + problem->share[i] * x[problem->n - 1];
  for (guint j = 0; j + 1 < problem->n; j++)
    problem->fractions[problem->line_of[j]] = x[j];
  blend = og_line_model_blend (problem->model, problem->fractions);
  if (!og_blend_flows (blend))
    return (OgSolveValue) { { NAN, NAN } };
  return (OgSolveValue) { {
    og_blend_ln_viscosity (blend, word ? OG_TEMPERATURE_ROOM_C : target->temperature_c,
                           word ? OG_SHEAR_POUR : target->shear_rate_1_s, NULL),
    word ? log (fmax (OG_SOLVE_LEAST_YIELD_PA,
                      og_blend_typical_yield (blend, OG_TEMPERATURE_ROOM_C)))
         : log (OG_SOLVE_LEAST_YIELD_PA),
  } };
}

double
og_solve_violation (const OgSolveGoal  *goal,
                    const OgSolveValue *value)
{
  double violation = 0.0;

  for (int m = 0; m < OG_N_MEASURES; m++)
    {
      if (!isfinite (value->of[m]))
        return INFINITY;
      violation += fmax (0.0, fmax (goal->low[m] - value->of[m], value->of[m] - goal->high[m]));
    }
  return violation;
}

double
og_solve_objective (const OgSolveProblem *problem,
                    const double         *x)
{
  double change = 0.0, cost = 0.0;

  for (guint j = 0; j < problem->n; j++)
    {
      change += problem->weight[j] * fabs (x[j] - problem->start[j]);
      cost += problem->price != NULL ? problem->price[j] * x[j] : 0.0;
    }
  return problem->price != NULL ? cost + PRICE_TIE * change : change;
}

void
og_solve_gradient (OgSolveProblem *problem,
                   const double   *x,
                   OgMeasure       measure,
                   double         *gradient)
{
  g_autofree double *at = g_memdup2 (x, problem->n * sizeof (double));
  double here = og_solve_value (problem, x).of[measure];

  for (guint j = 0; j < problem->n; j++)
    {
      at[j] = x[j] + GRADIENT_STEP;
      gradient[j] = (og_solve_value (problem, at).of[measure] - here) / GRADIENT_STEP;
      at[j] = x[j];
      if (!isfinite (gradient[j]))
        gradient[j] = 0.0;
    }
}

void
og_solve_report_progress (OgSolveProblem *problem,
                          double          done)
{
  const OgSolveRequest *request = problem->request;

  problem->done = fmax (problem->done, done);
  if (request->progress != NULL && !problem->stopped)
    problem->stopped = !request->progress (problem->done, request->user_data);
}

/* --- whole millionths ------------------------------------------------------ */

static gint64
whole (double fraction)
{
  return llround (fraction * OG_PPM_WHOLE);
}

/* Bounds hold to the millionth. */
static gint64
low_ppm (const OgSolveProblem *problem,
         guint                 column)
{
  return (gint64) ceil (problem->low[column] * OG_PPM_WHOLE - 1e-6);
}

static gint64
high_ppm (const OgSolveProblem *problem,
          guint                 column)
{
  return (gint64) floor (problem->high[column] * OG_PPM_WHOLE + 1e-6);
}

/* Gives what rounding has left over to the columns that have room, the least telling first. */
static void
settle_sum (const OgSolveProblem *problem,
            const double         *gradient,
            gint64               *ppm)
{
  gint64 left = whole (problem->sum);

  for (guint j = 0; j < problem->n; j++)
    left -= ppm[j];
  while (left != 0)
    {
      guint best = problem->n;
      gint64 room;

      for (guint j = 0; j < problem->n; j++)
        if ((left > 0 ? high_ppm (problem, j) - ppm[j] : ppm[j] - low_ppm (problem, j)) > 0
            && (best == problem->n || fabs (gradient[j]) < fabs (gradient[best])))
          best = j;
      if (best == problem->n)
        return;
      room = left > 0 ? MIN (left, high_ppm (problem, best) - ppm[best])
                      : -MIN (-left, ppm[best] - low_ppm (problem, best));
      ppm[best] += room;
      left -= room;
    }
}

static double
miss_of (OgSolveProblem *problem,
         const gint64   *ppm,
         double         *x)
{
  OgMeasure main = problem->goal.main;
  double value;

  for (guint j = 0; j < problem->n; j++)
    x[j] = (double) ppm[j] / OG_PPM_WHOLE;
  value = og_solve_value (problem, x).of[main];
  return value - CLAMP (value, problem->goal.low[main], problem->goal.high[main]);
}

/* Whole millionths to move from one column to another so that @miss becomes smallest. Returns:
 * what is left of it */
static double
best_exchange (const OgSolveProblem *problem,
               const double         *gradient,
               const gint64         *ppm,
               double                miss,
               guint                *to,
               guint                *from,
               gint64               *move)
{
  double least = fabs (miss);

  *move = 0;
  for (guint i = 0; i < problem->n; i++)
    for (guint j = 0; j < problem->n; j++)
      {
        double slope = (gradient[i] - gradient[j]) / OG_PPM_WHOLE;
        double wanted = -miss / slope;
        gint64 step = wanted > 0.0 && wanted < MOST_PATCH_PPM ? llround (wanted) : 0;

        if (i == j || step == 0 || ppm[i] + step > high_ppm (problem, i)
            || ppm[j] - step < low_ppm (problem, j) || fabs (miss + (double) step * slope) >= least)
          continue;
        least = fabs (miss + (double) step * slope);
        *to = i;
        *from = j;
        *move = step;
      }
  return least;
}

/* Rounding an agent to a millionth can be felt; a few millionths of an oil make up for it. */
static void
patch (OgSolveProblem *problem,
       const double   *gradient,
       gint64         *ppm)
{
  g_autofree double *x = g_new (double, problem->n);
  double miss = miss_of (problem, ppm, x);

  for (int round = 0; round < MOST_PATCHES && fabs (miss) > WORTH_PATCHING; round++)
    {
      guint to = 0, from = 0;
      gint64 move;
      double after;

      best_exchange (problem, gradient, ppm, miss, &to, &from, &move);
      if (move == 0)
        return;
      ppm[to] += move;
      ppm[from] -= move;
      after = miss_of (problem, ppm, x);
      if (!(fabs (after) < fabs (miss)))
        {
          ppm[to] -= move;
          ppm[from] += move;
          return;
        }
      miss = after;
    }
}

static void
set_amount (const OgSolveProblem *problem,
            OgFormula            *formula,
            guint                 index,
            gint64                ppm)
{
  guint id = og_line_model_get_line (problem->model, index)->id;

  og_formula_find_line (formula, id, NULL, NULL)->amount = (OgPpm) ppm;
}

/* Lines that share the rest by largest remainders. */
static void
scale_rest (const OgSolveProblem *problem,
            OgFormula            *formula)
{
  g_autoptr (OgFormula) scaled = og_formula_copy (formula);

  for (guint i = 0; i < problem->n_lines; i++)
    {
      guint id = og_line_model_get_line (problem->model, i)->id;
      OgFormulaLine *line = og_formula_find_line (scaled, id, NULL, NULL);

      line->held = problem->share[i] <= 0.0;
      line->balance_share = 0;
    }
  if (!og_formula_normalise (scaled))
    return;
  for (guint i = 0; i < problem->n_lines; i++)
    {
      guint id = og_line_model_get_line (problem->model, i)->id;

      set_amount (problem, formula, i, og_formula_find_line (scaled, id, NULL, NULL)->amount);
    }
}

OgFormula *
og_solve_realise (OgSolveProblem *problem,
                  const double   *x)
{
  OgFormula *formula = og_formula_copy (problem->formula);
  g_autofree double *gradient = g_new (double, problem->n);
  g_autofree gint64 *ppm = g_new (gint64, problem->n);

  og_solve_gradient (problem, x, problem->goal.main, gradient);
  for (guint j = 0; j < problem->n; j++)
    ppm[j] = CLAMP (whole (x[j]), low_ppm (problem, j), high_ppm (problem, j));
  settle_sum (problem, gradient, ppm);
  patch (problem, gradient, ppm);
  for (guint j = 0; j + 1 < problem->n; j++)
    set_amount (problem, formula, problem->line_of[j], ppm[j]);
  if (problem->rest == OG_REST_BALANCE)
    og_formula_balance (formula);
  else if (problem->rest == OG_REST_SCALE)
    scale_rest (problem, formula);
  return formula;
}
