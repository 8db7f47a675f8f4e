/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/line-model.h"
#include "core/design/solve.h"

G_BEGIN_DECLS

/* What the files of the solver share; nobody else includes it. */

/* Less than this in ln eta counts as on target. */
#define OG_SOLVE_TOLERANCE 2e-4
#define OG_SOLVE_LEAST_YIELD_PA 1e-6

/* What makes up to 100 %. */
typedef enum
{
  OG_REST_BALANCE,  /* the balance lines */
  OG_REST_EXCHANGE, /* nothing: the lines named keep their sum */
  OG_REST_SCALE     /* all other oils that are not held, in proportion */
} OgRestMode;

/* What is asked of a point: ln eta at the target's temperature and rate, ln yield at 25 C. */
typedef enum
{
  OG_MEASURE_VISCOSITY,
  OG_MEASURE_YIELD,
  OG_N_MEASURES
} OgMeasure;

typedef struct
{
  double low[OG_N_MEASURES]; /* -INFINITY and INFINITY: not asked for */
  double high[OG_N_MEASURES];
  OgMeasure main;            /* which the target is told by */
} OgSolveGoal;

typedef struct
{
  double of[OG_N_MEASURES];  /* NAN: nothing flows */
} OgSolveValue;

/* Columns are the mass fractions of the lines named, and last what the rest lines share. */
typedef struct
{
  const OgFormula *formula;
  const OgCatalog *catalog;
  const OgSolveRequest *request;
  OgLineModel *model;
  OgRestMode rest;
  guint n_lines;
  guint n;           /* columns */
  guint *line_of;    /* of all but the last column */
  double *fixed;     /* by line: what stays */
  double *share;     /* by line: part of the rest, sums to 1 */
  double *start;     /* by column */
  double *low;
  double *high;
  double *weight;    /* of a change */
  double *price;     /* NULL: the least change is sought */
  double sum;        /* of the columns */
  guint rest_low_line, rest_high_line; /* whose bounds limit the rest */
  OgSolveGoal goal;
  double *fractions; /* scratch, by line */
  double done;       /* progress */
  gboolean stopped;
} OgSolveProblem;

/** Returns: %FALSE with an error */
gboolean   og_solve_problem_init    (OgSolveProblem        *problem,
                                     const OgFormula       *formula,
                                     OgCatalog             *catalog,
                                     const OgSolveRequest  *request,
                                     GError               **error);
/** Frees what @problem holds, not @problem itself. */
void       og_solve_problem_clear   (OgSolveProblem        *problem);
/** Returns: (transfer none): what the material of @line is called, or its id */
const char *og_solve_name           (const OgCatalog       *catalog,
                                     const OgFormulaLine   *line);
/** Prices of the columns, where all are known in one currency. Returns: (transfer full): ids
 * without one */
char     **og_solve_problem_price   (OgSolveProblem        *problem);

/** ln(mPa.s) at the temperature and rate of the target, and ln(Pa) of the yield stress where the
 * target is a word, for the fractions of mass @x of the movable lines. Returns: NAN throughout
 * where nothing flows */
OgSolveValue og_solve_value         (OgSolveProblem        *problem,
                                     const double          *x);
/** How far @value lies outside the goal. */
double     og_solve_violation       (const OgSolveGoal     *goal,
                                     const OgSolveValue    *value);
/** What is to be made small, 0 at the start for the least change. */
double     og_solve_objective       (const OgSolveProblem  *problem,
                                     const double          *x);
/** Slopes of @measure by every column. */
void       og_solve_gradient        (OgSolveProblem        *problem,
                                     const double          *x,
                                     OgMeasure              measure,
                                     double                *gradient);
/** Tells the caller how far it is; remembers whether to stop. */
void       og_solve_report_progress (OgSolveProblem        *problem,
                                     double                 done);
/** Returns: (transfer full): the recipe at @x, in whole millionths that make 100 % */
OgFormula *og_solve_realise         (OgSolveProblem        *problem,
                                     const double          *x);

/** OgPoint: a place within the bounds. */
typedef struct
{
  double *x;
  OgSolveValue value;
  double violation;
  double objective;
} OgPoint;

/** Returns: (transfer full): (element-type OgPoint): all places found, the nearest to the goal
 * first, of those on target the best first */
GPtrArray *og_solve_search          (OgSolveProblem        *problem,
                                     double                *lowest,
                                     double                *highest);

G_END_DECLS
