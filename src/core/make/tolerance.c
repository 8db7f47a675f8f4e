/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/tolerance.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/practice.h"

/* Of the weight of a line, wt %. Common practice, no source. */
#define ROUTINE_PCT 2.5
#define EFFECT_PCT 10.0 /* usual levels span more than that */
#define SHADE_PCT 10.0  /* of a faint tint: about 2 in CIELAB, just seen side by side; judgement */
#define STEP 0.05        /* of a line, for the slope of the body */
#define LEAST_PCT 0.5    /* nobody in a workshop weighs small amounts better */

static OgToleranceReason
reason_of (const OgIngredient *ingredient)
{
  if (ingredient == NULL)
    return OG_TOLERANCE_ROUTINE;
  switch (ingredient->kind)
    {
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
    case OG_KIND_PEARL:
      return OG_TOLERANCE_SHADE;

    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
      return OG_TOLERANCE_EFFECT;

    case OG_KIND_WAX:
    case OG_KIND_GELLING_AGENT:
    case OG_KIND_POWDER:
      return OG_TOLERANCE_BODY;

    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
    case OG_N_KINDS:
    default:
      return OG_TOLERANCE_ROUTINE;
    }
}

typedef struct
{
  guint          but; /* id of the line that changes */
  OgFormulaLine *largest;
} Search;

static void
find_largest (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  Search *search = user_data;

  if (line->id != search->but && (search->largest == NULL || line->amount > search->largest->amount))
    search->largest = line;
}

/* Slope of ln viscosity over ln amount, the largest other line making room; NAN if nothing can be said. */
static double
body_slope (const OgFormula     *formula,
            const OgResult      *result,
            const OgFormulaLine *line)
{
  g_autoptr (OgFormula) changed = og_formula_copy (formula);
  g_autoptr (OgResult) again = NULL;
  OgFormulaLine *more = og_formula_find_line (changed, line->id, NULL, NULL);
  Search search = { .but = line->id };
  const OgPpm step = (OgPpm) llround (STEP * (double) line->amount);

  og_formula_foreach_line (changed, find_largest, &search);
  if (search.largest == NULL || step == 0 || search.largest->amount <= step)
    return NAN;
  more->amount += step;
  search.largest->amount -= step;
  again = og_evaluate (changed, result->catalog, &(OgConditions) { .belief = result->belief });
  return log (again->pour.value / result->pour.value) / log ((double) more->amount / (double) line->amount);
}

static double
body_pct (const OgFormula     *formula,
          const OgResult      *result,
          const OgFormulaLine *line)
{
  const double slope = fabs (body_slope (formula, result, line));

  return isfinite (slope) ? fmin (100.0 * OG_BODY_KEPT_LN / slope, EFFECT_PCT) : ROUTINE_PCT;
}

/* How much more of the line the nearest limit has room for; INFINITY without one. */
static double
room_pct (const OgResult      *result,
          const OgFormulaLine *line)
{
  double room = INFINITY;

  for (guint i = 0; i < result->rulings->len; i++)
    {
      const OgRuling *ruling = g_ptr_array_index (result->rulings, i);

      if (ruling->line_id == line->id && ruling->rule->kind == OG_RULE_LIMIT && ruling->verdict == OG_VERDICT_WITHIN
          && ruling->amount_pct > 0.0)
        room = fmin (room, 100.0 * (ruling->rule->max_pct / ruling->amount_pct - 1.0));
    }
  return room;
}

OgTolerance
og_tolerance_find (const OgFormula     *formula,
                   const OgResult      *result,
                   const OgFormulaLine *line)
{
  OgTolerance tolerance = { ROUTINE_PCT, OG_TOLERANCE_ROUTINE };
  double room;

  g_return_val_if_fail (formula != NULL && result != NULL && line != NULL, tolerance);

  tolerance.reason = reason_of (og_catalog_get (result->catalog, line->ingredient_id));
  if (tolerance.reason == OG_TOLERANCE_BODY)
    tolerance.pct = body_pct (formula, result, line);
  else if (tolerance.reason != OG_TOLERANCE_ROUTINE)
    tolerance.pct = tolerance.reason == OG_TOLERANCE_SHADE ? SHADE_PCT : EFFECT_PCT;
  room = room_pct (result, line);
  if (room < tolerance.pct)
    tolerance = (OgTolerance) { room, OG_TOLERANCE_LIMIT };
  tolerance.pct = fmax (tolerance.pct, LEAST_PCT);
  return tolerance;
}

OgSaying *
og_tolerance_explain (OgToleranceReason reason)
{
  switch (reason)
    {
    case OG_TOLERANCE_BODY:
      return og_saying_plain (N_("More changes the body by a tenth."));
    case OG_TOLERANCE_SHADE:
      return og_saying_plain (N_("More is seen as another shade."));
    case OG_TOLERANCE_EFFECT:
      return og_saying_plain (N_("More changes what it does."));
    case OG_TOLERANCE_LIMIT:
      return og_saying_plain (N_("More may pass a limit of the rules."));
    case OG_TOLERANCE_ROUTINE:
    default:
      return NULL;
    }
}
