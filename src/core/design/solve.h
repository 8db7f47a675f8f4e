/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"
#include "core/predict/evaluate.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

/** OgSolveRange: a line that may move, and how far. 0 ... OG_PPM_WHOLE, @low not above @high. */
typedef struct
{
  guint line_id;
  OgPpm low;
  OgPpm high;
} OgSolveRange;

/**
 * OgSolveTarget: the body wanted. With a word (@body not %OG_BODY_UNKNOWN) the bounds of the recipe
 * say what it means, poured at 25 C, and the numbers are not read.
 */
typedef struct
{
  OgBody body;
  double viscosity_mpa_s; /* above 0 */
  double temperature_c;   /* -20 ... 200 */
  double shear_rate_1_s;  /* above 0 */
} OgSolveTarget;

typedef enum
{
  OG_SOLVE_LEAST_CHANGE, /* sum over the lines that move of |change| / (amount before, at least 1 %) */
  OG_SOLVE_LEAST_COST    /* price of a kilogram by the shelf */
} OgSolveAim;

/** Called now and then; @done 0 ... 1. Returns: %FALSE to stop */
typedef gboolean (*OgSolveProgress) (double   done,
                                     gpointer user_data);

typedef struct
{
  OgSolveTarget       target;
  const OgSolveRange *ranges;
  guint               n_ranges; /* 1 ... OG_SOLVE_MOST_RANGES */
  OgSolveAim          aim;
  OgShelf            *shelf;    /* nullable */
  OgBelief           *belief;   /* nullable: %NULL learns from the measurements of the formula alone */
  guint               most;     /* answers; 0: OG_SOLVE_MOST_ANSWERS */
  OgSolveProgress     progress; /* nullable */
  gpointer            user_data;
} OgSolveRequest;

#define OG_SOLVE_MOST_RANGES 24 /* lines with bounds of their own: a recipe has fewer */
#define OG_SOLVE_MOST_ANSWERS 4 /* as many as can be compared at a glance; judgement */

/** OgSolveAnswer: one way to the target. */
typedef struct
{
  OgFormula  *formula;      /* exactly 100 % */
  OgEstimate  viscosity;    /* mPa.s, at temperature and rate of the target */
  OgEstimate  yield_pa;     /* at 25 C */
  OgBody      body;
  double      change;       /* see %OG_SOLVE_LEAST_CHANGE */
  double      cost_per_kg;  /* NAN if a price is not known or currencies differ */
  guint       beyond_line;  /* that grew beyond its usual amounts; 0: none */
  OgSaying   *text;         /* what moves, "Polyamide-3 1.5 → 2.1 %; ..." */
} OgSolveAnswer;

/** OgSolveLimit: the bound that keeps the target out of reach. @line_id is 0 when there is none. */
typedef struct
{
  guint    line_id;
  gboolean upper;   /* at most, else at least */
  OgPpm    bound;
} OgSolveLimit;

typedef struct
{
  gboolean     reached;
  GPtrArray   *answers;       /* of OgSolveAnswer, those within usual amounts first, then best first; when not
                                reached the nearest one alone */
  OgSolveLimit limit;         /* when not reached */
  gboolean     sets;          /* not reached because the oil sets before it pours so thickly; no limit */
  double       reach_low;     /* what the lines can reach within their bounds, in the unit of the */
  double       reach_high;    /* goal */
  double       goal_low;      /* what was aimed at, mPa.s, or Pa with @by_yield; 0 or INFINITY: open */
  double       goal_high;
  gboolean     by_yield;      /* the word is told by the yield stress */
  OgSolveAim   aim;           /* by which the answers are ranked */
  char       **unpriced;      /* ids without a price; if any matters, @aim is the least change */
  OgSaying    *text;          /* reached, and whether only beyond usual amounts; or how near and which bound
                                stands in the way */
} OgSolveReport;

/**
 * og_solve:
 * @formula: the recipe before
 * @catalog: materials, own ones of @formula included
 *
 * Moves the lines named in @request within their bounds until the full prediction meets the
 * target. All other lines stay, except those that make up to 100 %: the balance lines; without
 * any, the lines named exchange among themselves if two or more of them can; else all oils
 * that are not held scale in proportion, and colours, actives, antioxidants, scents, powders, waxes and agents stay. A balance line may be named too: it follows as always, and its
 * bounds hold.
 *
 * A word is met at the nearest point a little inside its bounds. Answers that differ are returned
 * beside the best one.
 *
 * Successive linear programs (Fletcher & Sainz de la Maza 1989, recalled) on the gradient of ln
 * eta with a trust region from several starts; bracketing along each line finds what lies beyond a
 * gel point. Same input, same answers. May be called from any thread.
 *
 * Returns: (transfer full): %NULL with an #OgRecipeError or #OgSolveError
 */
OgSolveReport *og_solve                (const OgFormula       *formula,
                                        OgCatalog             *catalog,
                                        const OgSolveRequest  *request,
                                        GError               **error);
/** Frees @report with all it holds. */
void           og_solve_report_free    (OgSolveReport         *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgSolveReport, og_solve_report_free)

/** Whole range 0 ... 100 % for the first line of @ingredient_id that is not held. Returns: %FALSE
 * with an #OgRecipeError if there is none */
gboolean       og_solve_range_init     (OgSolveRange          *range,
                                        const OgFormula       *formula,
                                        const char            *ingredient_id,
                                        GError               **error);

/**
 * og_formula_price:
 * @currency: (out) (optional) (transfer none) (nullable): of all prices
 *
 * Returns: price of a kilogram of the materials; NAN if a price is not known, or if currencies
 * differ
 */
double         og_formula_price        (const OgFormula       *formula,
                                        const OgShelf         *shelf,
                                        const char           **currency);

G_END_DECLS
