/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/rebalance.h"

#include "core/base/conditions.h"
#include "core/design/line-model.h"

#define LEAST_BALANCE_PPM 100 /* below it a balance line would lose its parts */
/* Most of an agent whose usual level is not known: 10 %; judgement. */
#define DEFAULT_AGENT_PPM 100000

typedef struct
{
  const OgFormula *before;
  OgCatalog *catalog;
  gboolean agents;
  gboolean balance; /* the split between the balance lines moves */
  gboolean swapped; /* else the lines with another material */
  GArray *ranges;
} Selection;

/* --- which lines move ------------------------------------------------------ */

static void
add_range (Selection           *selection,
           const OgFormulaLine *line,
           OgPpm                low,
           OgPpm                high)
{
  OgSolveRange range = { line->id, low, MAX (low, high) };

  if (!line->held)
    g_array_append_val (selection->ranges, range);
}

static gboolean
is_agent (const OgIngredient *ingredient)
{
  return ingredient != NULL && ingredient->gelling.family != OG_GEL_NONE
         && ingredient->gelling.family != OG_GEL_VISCOUS_LIQUID;
}

/* As much as is usual, or as there is already. */
static OgPpm
usual_most (const OgIngredient  *ingredient,
            const OgFormulaLine *line)
{
  const OgFigure *usual = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];
  OgPpm most = DEFAULT_AGENT_PPM;

  if (og_figure_is_known (usual))
    og_pct_to_ppm (usual->value, &most);
  return MAX (most, line->amount);
}

static gboolean
is_swapped (const OgFormula     *before,
            const OgFormulaLine *line)
{
  const OgFormulaLine *was = og_formula_find_line (before, line->id, NULL, NULL);

  return was == NULL || !g_str_equal (was->ingredient_id, line->ingredient_id);
}

static void
select_line (OgFormulaPhase *phase,
             OgFormulaLine  *line,
             gpointer        user_data)
{
  Selection *selection = user_data;
  const OgIngredient *ingredient = og_catalog_get (selection->catalog, line->ingredient_id);

  if (selection->balance && line->balance_share > 0)
    add_range (selection, line, MIN (LEAST_BALANCE_PPM, line->amount), OG_PPM_WHOLE);
  else if (selection->agents && is_agent (ingredient))
    add_range (selection, line, 0, usual_most (ingredient, line));
  else if (selection->swapped && line->balance_share == 0 && !is_agent (ingredient)
           && is_swapped (selection->before, line))
    add_range (selection, line, 0, OG_PPM_WHOLE);
}

/* Without a balance line only oils make room. */
static void
hold_all_else (OgFormulaPhase *phase,
               OgFormulaLine  *line,
               gpointer        user_data)
{
  const Selection *selection = user_data;

  for (guint i = 0; i < selection->ranges->len; i++)
    if (g_array_index (selection->ranges, OgSolveRange, i).line_id == line->id)
      return;
  line->held = line->held || !og_ingredient_makes_room (og_catalog_get (selection->catalog, line->ingredient_id));
}

static void
count_balance (OgFormulaPhase *phase,
               OgFormulaLine  *line,
               gpointer        user_data)
{
  guint *n = user_data;

  *n += line->balance_share > 0 ? 1 : 0;
}

static void
restore_held (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  line->held = og_formula_find_line (user_data, line->id, NULL, NULL)->held;
}

/* --- balance lines become ordinary ones, and balance lines again ------------ */

static void
take_parts (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  line->balance_share = 0;
}

typedef struct
{
  const OgFormula *with_parts;
  guint divisor;
} Parts;

static gboolean
was_balance (const Parts         *parts,
             const OgFormulaLine *line)
{
  return og_formula_find_line (parts->with_parts, line->id, NULL, NULL)->balance_share > 0;
}

static void
find_divisor (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  Parts *parts = user_data;
  guint a = parts->divisor, b = (guint) line->amount;

  if (!was_balance (parts, line))
    return;
  while (b != 0)
    {
      guint rest = a % b;

      a = b;
      b = rest;
    }
  parts->divisor = a;
}

static void
give_parts (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  const Parts *parts = user_data;

  if (was_balance (parts, line))
    line->balance_share = (guint) line->amount / parts->divisor;
}

static void
restore_parts (OgFormula       *formula,
               const OgFormula *with_parts)
{
  Parts parts = { with_parts, 0 };

  og_formula_foreach_line (formula, find_divisor, &parts);
  if (parts.divisor > 0)
    og_formula_foreach_line (formula, give_parts, &parts);
}

/* --- the whole ------------------------------------------------------------- */

static OgBelief *
belief_for (const OgFormula          *before,
            const OgCatalog          *catalog,
            const OgRebalanceOptions *options)
{
  if (options->belief != NULL)
    return og_belief_ref (options->belief);
  return before->measurements->len > 0 ? og_belief_learn (before->measurements, catalog) : NULL;
}

OgSolveReport *
og_rebalance (const OgFormula           *before,
              const OgFormula           *after,
              OgCatalog                 *catalog,
              const OgRebalanceOptions  *options,
              GError                   **error)
{
  static const OgRebalanceOptions none = { .vary_agents = FALSE };
  g_autoptr (OgFormula) start = NULL;
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (OgResult) result = NULL;
  g_autoptr (GArray) ranges = g_array_new (FALSE, FALSE, sizeof (OgSolveRange));
  Selection selection = { before, catalog, .ranges = ranges };
  OgSolveRequest request = { .n_ranges = 0 };
  OgSolveReport *report;
  guint n_balance = 0;

  g_return_val_if_fail (before != NULL && after != NULL && catalog != NULL, NULL);

  options = options != NULL ? options : &none;
  og_formula_foreach_line (after, count_balance, &n_balance);
  selection.agents = options->vary_agents;
  selection.balance = n_balance > 1;
  selection.swapped = n_balance < 2;
  start = og_formula_copy (after);
  og_formula_balance (start);
  og_formula_foreach_line (start, select_line, &selection);
  if (selection.balance)
    og_formula_foreach_line (start, take_parts, NULL);
  if (n_balance == 0)
    og_formula_foreach_line (start, hold_all_else, &selection);

  belief = belief_for (before, catalog, options);
  result = og_evaluate (before, catalog, &(OgConditions) { .belief = belief });
  request = (OgSolveRequest) {
    .target = { OG_BODY_UNKNOWN, result->pour.value, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR },
    .ranges = (const OgSolveRange *) (const void *) ranges->data,
    .n_ranges = ranges->len,
    .belief = belief,
    .progress = options->progress,
    .user_data = options->user_data,
  };
  report = og_solve (start, catalog, &request, error);
  for (guint i = 0; report != NULL && i < report->answers->len; i++)
    {
      OgFormula *answer = ((OgSolveAnswer *) g_ptr_array_index (report->answers, i))->formula;

      og_formula_foreach_line (answer, restore_held, (gpointer) after);
      if (selection.balance)
        restore_parts (answer, after);
    }
  return report;
}
