/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/solve.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/error.h"
#include "core/base/estimate.h"
#include "core/design/solve-private.h"

/* Answers differ when other lines move, or in another direction, and when a line then differs by
 * this much of itself and by this mass fraction. */
#define DISTINCT_SHARE 0.2
#define DISTINCT_FRACTION 0.002
#define USUAL_SLACK 1.001 /* rounding is not held against an amount */
#define TOLD_PPM 50 /* a smaller change of a line is not worth a word */

/* --- prices ---------------------------------------------------------------- */

typedef struct
{
  const OgShelf *shelf;
  const char *currency;
  double sum;
  gint64 total;
  gboolean known;
} Price;

static void
add_price (OgFormulaPhase *phase,
           OgFormulaLine  *line,
           gpointer        user_data)
{
  Price *price = user_data;
  const OgShelfItem *item = og_shelf_get (price->shelf, line->ingredient_id);

  if (line->amount == 0)
    return;
  if (item == NULL || !isfinite (item->price_per_kg)
      || (price->total > 0 && g_strcmp0 (price->currency, item->currency) != 0))
    {
      price->known = FALSE;
      return;
    }
  price->currency = item->currency;
  price->total += line->amount;
  price->sum += og_ppm_to_fraction (line->amount) * item->price_per_kg;
}

double
og_formula_price (const OgFormula  *formula,
                  const OgShelf    *shelf,
                  const char      **currency)
{
  Price price = { .shelf = shelf, .known = TRUE };

  g_return_val_if_fail (formula != NULL, NAN);

  og_formula_foreach_line (formula, add_price, &price);
  if (currency != NULL)
    *currency = price.known ? price.currency : NULL;
  return price.known && price.total > 0 ? price.sum : NAN;
}

/* --- the request ----------------------------------------------------------- */

static void
find_free_line (OgFormulaPhase *phase,
                OgFormulaLine  *line,
                gpointer        user_data)
{
  const OgFormulaLine **found = user_data;

  if (*found != NULL && g_str_equal ((*found)->ingredient_id, line->ingredient_id) && (*found)->held
      && !line->held)
    *found = line;
}

gboolean
og_solve_range_init (OgSolveRange     *range,
                     const OgFormula  *formula,
                     const char       *ingredient_id,
                     GError          **error)
{
  const OgFormulaLine *line = og_formula_find_ingredient (formula, ingredient_id);

  if (line == NULL)
    {
      g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE,
                   _("“%s” is not in the recipe."), ingredient_id);
      return FALSE;
    }
  og_formula_foreach_line (formula, find_free_line, &line);
  *range = (OgSolveRange) { line->id, 0, OG_PPM_WHOLE };
  return TRUE;
}

/* --- answers --------------------------------------------------------------- */

static void
answer_free (gpointer data)
{
  OgSolveAnswer *answer = data;

  og_formula_free (answer->formula);
  og_saying_unref (answer->text);
  g_free (answer);
}

/* Which lines move, in order. */
static OgSaying *
tell_changes (OgSolveProblem  *problem,
              const OgCatalog *catalog,
              const OgFormula *formula)
{
  g_autoptr (GPtrArray) parts = og_sayings_new ();

  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *before = og_line_model_get_line (problem->model, i);
      const OgFormulaLine *after = og_formula_find_line (formula, before->id, NULL, NULL);

      if (ABS (after->amount - before->amount) < TOLD_PPM)
        continue;
      g_ptr_array_add (parts,
                       /* Translators: material, wt % before, wt % after */
                       og_saying_new (N_("%s %s → %s %%"), og_word_text (og_solve_name (catalog, before)),
                                      og_word_significant (og_ppm_to_pct (before->amount), 4),
                                      og_word_significant (og_ppm_to_pct (after->amount), 4)));
    }
  if (parts->len == 0)
    return og_saying_plain (N_("The recipe stays as it is."));
  return og_saying_list (N_("; "), g_steal_pointer (&parts));
}

static double
change_of (const OgSolveProblem *problem,
           const OgFormula      *formula)
{
  double change = 0.0;

  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *before = og_line_model_get_line (problem->model, i);
      const OgFormulaLine *after = og_formula_find_line (formula, before->id, NULL, NULL);

      change += fabs ((double) after->amount - before->amount)
                / fmax ((double) before->amount, OG_PPM_PER_PERCENT);
    }
  return change;
}

/* The line that grew most beyond its usual most, counted in that. */
static guint
find_beyond (const OgSolveProblem *problem,
             const OgFormula      *formula)
{
  double most = 1.0;
  guint beyond = 0;

  for (guint i = 0; i < problem->n_lines; i++)
    {
      const OgFormulaLine *before = og_line_model_get_line (problem->model, i);
      const OgFormulaLine *after = og_formula_find_line (formula, before->id, NULL, NULL);
      const OgIngredient *ingredient = og_catalog_get (problem->catalog, after->ingredient_id);
      const double usual = ingredient != NULL ? ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT].value : NAN;

      if (after->amount - before->amount < TOLD_PPM || !(og_ppm_to_pct (after->amount) > most * usual * USUAL_SLACK))
        continue;
      most = og_ppm_to_pct (after->amount) / usual;
      beyond = after->id;
    }
  return beyond;
}

static OgSolveAnswer *
answer_new (OgSolveProblem *problem,
            OgCatalog      *catalog,
            const OgPoint  *point)
{
  const OgSolveTarget *target = &problem->request->target;
  gboolean word = target->body != OG_BODY_UNKNOWN;
  double temperature_c = word ? OG_TEMPERATURE_ROOM_C : target->temperature_c;
  double shear_rate_1_s = word ? OG_SHEAR_POUR : target->shear_rate_1_s;
  OgConditions conditions = { .temperatures_c = &temperature_c, .n_temperatures = 1,
                              .shear_rates_1_s = &shear_rate_1_s, .n_shear_rates = 1,
                              .belief = og_line_model_get_belief (problem->model) };
  OgSolveAnswer *answer = g_new0 (OgSolveAnswer, 1);
  g_autoptr (OgResult) result = NULL;

  answer->formula = og_solve_realise (problem, point->x);
  result = og_evaluate (answer->formula, catalog, &conditions);
  answer->viscosity = g_array_index (result->viscosity, OgViscosityPoint, 0).viscosity_mpa_s;
  answer->yield_pa = result->yield_stress_pa;
  answer->body = result->body;
  answer->change = change_of (problem, answer->formula);
  answer->cost_per_kg = og_formula_price (answer->formula, problem->request->shelf, NULL);
  answer->beyond_line = find_beyond (problem, answer->formula);
  answer->text = tell_changes (problem, catalog, answer->formula);
  return answer;
}

/* -1, 0 or +1: how the column moves. */
static int
way_of (const OgSolveProblem *problem,
        const OgPoint        *point,
        guint                 column)
{
  double moved = point->x[column] - problem->start[column];
  double noticed = fmax (DISTINCT_FRACTION, 0.01 * problem->start[column]);

  return fabs (moved) < noticed ? 0 : moved > 0.0 ? 1 : -1;
}

static gboolean
differ (const OgSolveProblem *problem,
        const OgPoint        *a,
        const OgPoint        *b)
{
  gboolean other_way = FALSE, far = FALSE;

  for (guint j = 0; j < problem->n; j++)
    {
      double difference = fabs (a->x[j] - b->x[j]);

      other_way = other_way || way_of (problem, a, j) != way_of (problem, b, j);
      far = far || (difference > DISTINCT_FRACTION
                    && difference > DISTINCT_SHARE * fmax (a->x[j], b->x[j]));
    }
  return other_way && far;
}

static int
compare_usual (gconstpointer a,
               gconstpointer b)
{
  const OgSolveAnswer *one = *(const OgSolveAnswer *const *) a, *other = *(const OgSolveAnswer *const *) b;

  return (one->beyond_line != 0) - (other->beyond_line != 0);
}

static void
keep_distinct (OgSolveProblem *problem,
               OgCatalog      *catalog,
               GPtrArray      *points,
               OgSolveReport  *report)
{
  guint most = problem->request->most > 0 ? problem->request->most : OG_SOLVE_MOST_ANSWERS;
  g_autoptr (GPtrArray) kept = g_ptr_array_new ();

  for (guint i = 0; i < points->len && kept->len < most; i++)
    {
      OgPoint *point = g_ptr_array_index (points, i);
      gboolean new = point->violation <= OG_SOLVE_TOLERANCE;

      for (guint k = 0; k < kept->len && new; k++)
        new = differ (problem, point, g_ptr_array_index (kept, k));
      if (!new)
        continue;
      g_ptr_array_add (kept, point);
      g_ptr_array_add (report->answers, answer_new (problem, catalog, point));
    }
  g_ptr_array_sort (report->answers, compare_usual);
  report->reached = report->answers->len > 0;
  if (!report->reached)
    g_ptr_array_add (report->answers, answer_new (problem, catalog, g_ptr_array_index (points, 0)));
}

/* --- the limit ------------------------------------------------------------- */

#define AT_BOUND 2e-6 /* mass fraction: two millionths */

/* What the sum of all columns is worth where some lie between their bounds; else the middle of
 * what it may be worth. */
static double
worth_of_sum (const OgSolveProblem *problem,
              const double         *x,
              const double         *gain)
{
  double low = -INFINITY, high = INFINITY;

  for (guint j = 0; j < problem->n; j++)
    {
      gboolean at_low = x[j] - problem->low[j] < AT_BOUND;
      gboolean at_high = problem->high[j] - x[j] < AT_BOUND;

      if (at_low && at_high)
        continue;
      if (!at_low && !at_high)
        return gain[j];
      if (at_low)
        low = fmax (low, gain[j]);
      else
        high = fmin (high, gain[j]);
    }
  if (isfinite (low) && isfinite (high))
    return 0.5 * (low + high);
  return isfinite (low) ? low : isfinite (high) ? high : 0.0;
}

static guint
line_at (const OgSolveProblem *problem,
         guint                 column,
         gboolean              upper)
{
  if (column + 1 < problem->n)
    return problem->line_of[column];
  return (upper ? problem->rest_high_line : problem->rest_low_line) - 1;
}

/* A liquid is wanted, and more of what thickens it would set it. */
static gboolean
is_about_to_set (const OgSolveGoal *goal,
                 const OgPoint     *point)
{
  return goal->main == OG_MEASURE_VISCOSITY
         && point->value.of[OG_MEASURE_YIELD] >= goal->high[OG_MEASURE_YIELD] - OG_SOLVE_TOLERANCE;
}

/* The bound that would help most if it gave way; bounds of nothing and of everything only where
 * there is no other. */
static void
find_limit (OgSolveProblem *problem,
            const OgPoint  *point,
            OgSolveLimit   *limit)
{
  OgMeasure main = problem->goal.main;
  double value = point->value.of[main];
  double way = value < problem->goal.low[main] ? 1.0 : -1.0;
  g_autofree double *gain = g_new (double, problem->n);
  double worth, best = 0.0;

  og_solve_gradient (problem, point->x, main, gain);
  for (guint j = 0; j < problem->n; j++)
    gain[j] *= way;
  worth = worth_of_sum (problem, point->x, gain);
  for (guint j = 0; j < problem->n; j++)
    {
      gboolean upper = gain[j] > worth;
      double bound = upper ? problem->high[j] : problem->low[j];
      gboolean natural = upper ? bound >= problem->sum - AT_BOUND : bound <= AT_BOUND;
      double help = fabs (gain[j] - worth) * (natural ? 1e-6 : 1.0);

      if (fabs (point->x[j] - bound) > AT_BOUND || help <= best
          || (j + 1 == problem->n && problem->rest == OG_REST_EXCHANGE))
        continue;
      best = help;
      limit->line_id = og_line_model_get_line (problem->model, line_at (problem, j, upper))->id;
      limit->upper = upper;
      if (j + 1 == problem->n)
        bound *= problem->share[line_at (problem, j, upper)];
      limit->bound = (OgPpm) llround (bound * OG_PPM_WHOLE);
    }
}

/* --- the report ------------------------------------------------------------ */

static OgSaying *
value_saying (const OgSolveReport *report,
              const OgSolveAnswer *answer)
{
  return report->by_yield ? og_saying_new (N_("%s Pa"), og_word_viscosity (answer->yield_pa.value))
                          : og_saying_new (N_("%s mPa·s"), og_word_viscosity (answer->viscosity.value));
}

/* Returns: (transfer full) (nullable): that the best answer holds more of a material than anybody uses */
static OgSaying *
tell_beyond (const OgSolveAnswer *answer,
             const OgCatalog     *catalog)
{
  const OgFormulaLine *line = og_formula_find_line (answer->formula, answer->beyond_line, NULL, NULL);
  const OgFigure *figures;

  if (line == NULL)
    return NULL;
  figures = og_catalog_get (catalog, line->ingredient_id)->figures;
  /* Translators: wt %, a material, its usual least and most in wt % */
  return og_saying_new (N_("Reached only with %s %% of %s: beyond its usual %s to %s %%."),
                        og_word_significant (og_ppm_to_pct (line->amount), 3),
                        og_word_text (og_solve_name (catalog, line)),
                        og_word_significant (figures[OG_FIGURE_USUAL_LOW_PCT].value, 3),
                        og_word_significant (figures[OG_FIGURE_USUAL_HIGH_PCT].value, 3));
}

static void
tell (OgSolveReport   *report,
      const OgFormula *formula,
      const OgCatalog *catalog)
{
  g_autoptr (OgSaying) value = value_saying (report, g_ptr_array_index (report->answers, 0));
  const OgFormulaLine *line = og_formula_find_line (formula, report->limit.line_id, NULL, NULL);

  if (report->reached)
    report->text = tell_beyond (g_ptr_array_index (report->answers, 0), catalog);
  if (report->reached && report->text == NULL)
    /* Translators: a viscosity with its unit */
    report->text = og_saying_new (N_("Reached: %s."), og_word_saying (value));
  else if (!report->reached && line == NULL)
    report->text = og_saying_new (report->sets ? N_("Cannot be reached: it sets before it pours so "
                                                    "thickly. The nearest is %s.")
                                               : N_("Cannot be reached; the nearest is %s."),
                                  og_word_saying (value));
  else if (!report->reached)
    /* Translators: a viscosity with its unit, a material, wt % */
    report->text = og_saying_new (report->limit.upper
                                      ? N_("Cannot be reached; the nearest is %s, with %s at most %s %%.")
                                      : N_("Cannot be reached; the nearest is %s, with %s at least %s %%."),
                                  og_word_saying (value), og_word_text (og_solve_name (catalog, line)),
                                  og_word_significant (og_ppm_to_pct (report->limit.bound), 4));
}

static double
end_of (double ln)
{
  return isfinite (ln) ? exp (ln) : ln < 0.0 ? 0.0 : INFINITY;
}

static OgSolveReport *
report_new (OgSolveProblem *problem,
            OgCatalog      *catalog,
            GPtrArray      *points,
            char          **unpriced)
{
  OgSolveReport *report = g_new0 (OgSolveReport, 1);
  OgMeasure main = problem->goal.main;

  report->answers = g_ptr_array_new_with_free_func (answer_free);
  report->by_yield = main == OG_MEASURE_YIELD;
  report->goal_low = end_of (problem->goal.low[main]);
  report->goal_high = end_of (problem->goal.high[main]);
  report->aim = problem->price != NULL ? OG_SOLVE_LEAST_COST : OG_SOLVE_LEAST_CHANGE;
  report->unpriced = unpriced;
  keep_distinct (problem, catalog, points, report);
  if (!report->reached)
    {
      const OgPoint *nearest = g_ptr_array_index (points, 0);

      report->sets = is_about_to_set (&problem->goal, nearest);
      if (!report->sets)
        find_limit (problem, nearest, &report->limit);
    }
  tell (report, problem->formula, catalog);
  return report;
}

void
og_solve_report_free (OgSolveReport *report)
{
  if (report == NULL)
    return;
  g_ptr_array_unref (report->answers);
  g_strfreev (report->unpriced);
  og_saying_unref (report->text);
  g_free (report);
}

static OgSolveReport *
run (OgSolveProblem  *problem,
     OgCatalog       *catalog,
     GError         **error)
{
  g_auto (GStrv) unpriced = og_solve_problem_price (problem);
  g_autoptr (GPtrArray) points = NULL;
  double low = NAN, high = NAN;
  OgSolveReport *report;

  og_solve_report_progress (problem, 0.0);
  points = og_solve_search (problem, &low, &high);
  if (problem->stopped)
    {
      g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_STOPPED, _("Stopped."));
      return NULL;
    }
  if (!isfinite (((OgPoint *) g_ptr_array_index (points, 0))->violation))
    {
      g_set_error (error, OG_SOLVE_ERROR, OG_SOLVE_ERROR_NO_LIQUID,
                   _("Nothing in the recipe flows, so there is no viscosity to aim at."));
      return NULL;
    }
  report = report_new (problem, catalog, points, g_steal_pointer (&unpriced));
  report->reach_low = exp (low);
  report->reach_high = exp (high);
  return report;
}

OgSolveReport *
og_solve (const OgFormula       *formula,
          OgCatalog             *catalog,
          const OgSolveRequest  *request,
          GError               **error)
{
  OgSolveProblem problem;
  OgSolveReport *report = NULL;

  g_return_val_if_fail (formula != NULL && catalog != NULL && request != NULL, NULL);

  if (og_solve_problem_init (&problem, formula, catalog, request, error))
    report = run (&problem, catalog, error);
  og_solve_problem_clear (&problem);
  return report;
}
