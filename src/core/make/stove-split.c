/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/stove-split.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/finding.h"
#include "core/make/stove-private.h"

/* Waxes and agents of the pot that are still dissolved in its oil; concentrates of a fifth to a quarter are common
 * practice, no source. */
#define MOST_SOLID_SHARE 0.25

/* Steps in which an amount is searched, the coarsest that will do: a tenth, a hundredth and a thousandth of 1 %. */
static const OgPpm grids[] = { OG_PPM_PER_PERCENT / 10, OG_PPM_PER_PERCENT / 100, OG_PPM_PER_PERCENT / 1000 };

/* Search: what one cooling step asks for. */
typedef struct
{
  const OgFormula   *formula;
  const OgResult    *result;
  const OgStovePlan *plan;
  OgStoveSetup       setup;
  const OgStoveStep *step;
  OgStoveSplit       split; /* the candidate; its name is borrowed */
} Search;

/* --- the recipe so split ------------------------------------------------- */

OgFormula *
og_stove_split_apply (const OgFormula    *formula,
                      const OgStoveSplit *split,
                      const char         *name)
{
  OgFormula *next;
  OgFormulaPhase *phase;
  guint position = G_MAXUINT;

  g_return_val_if_fail (formula != NULL && split != NULL, NULL);

  next = og_formula_copy (formula);
  og_formula_find_phase (next, split->before_phase_id, &position);
  phase = og_formula_add_phase (next, name != NULL ? name : split->name, NAN, position);
  og_formula_split_line (next, split->line_id, split->amount, phase->id);
  return next;
}

/* Where the cold part goes in; NULL if the plan never gets there. */
static const OgStoveStep *
step_of_phase (const OgStovePlan *plan,
               guint              phase_id)
{
  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->act == OG_STOVE_ADD && step->step.phase_id == phase_id)
        return step;
    }
  return NULL;
}

/* Returns: (transfer full): the plan of the recipe with the candidate applied; @add: (out) (nullable) */
static OgStovePlan *
plan_split (const Search       *search,
            const OgStoveStep **add)
{
  g_autoptr (OgFormula) split = og_stove_split_apply (search->formula, &search->split, NULL);
  OgStovePlan *plan = og_stove_plan (split, search->result, &search->setup);

  *add = step_of_phase (plan, search->formula->next_id);
  return plan;
}

static double
reached_c (const Search *search)
{
  const OgStoveStep *add;
  g_autoptr (OgStovePlan) plan = plan_split (search, &add);

  return add != NULL ? add->cold_after_c : NAN;
}

/* --- what makes a proposal ----------------------------------------------- */

static gboolean
has_code (const OgStovePlan *plan,
          const char        *code)
{
  for (guint i = 0; i < plan->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (plan->findings, i);

      if (g_str_equal (finding->code, code))
        return TRUE;
    }
  return FALSE;
}

static gboolean
warns_anew (const OgStovePlan *plan,
            const OgStovePlan *before)
{
  for (guint i = 0; i < plan->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (plan->findings, i);

      if (finding->severity != OG_SEVERITY_NOTE && !has_code (before, finding->code))
        return TRUE;
    }
  return FALSE;
}

/* What dissolves the waxes and agents of the first charges must not be what is kept back. */
static gboolean
stays_dissolved (const Search *search)
{
  g_autoptr (OgFormula) split = og_stove_split_apply (search->formula, &search->split, NULL);
  gint64 solid = 0, all = 0;

  for (guint i = 0; i < split->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (split->phases, i);

      if (phase->id == search->formula->next_id)
        break;
      for (guint j = 0; j < phase->lines->len; j++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, j);
          const OgStoveItem item = { .ingredient = og_catalog_get (search->result->catalog, line->ingredient_id) };

          all += line->amount;
          solid += og_stove_is_solid (&item) ? line->amount : 0;
        }
    }
  return (double) solid <= MOST_SOLID_SHARE * (double) all;
}

static gboolean
accept (Search *search)
{
  const OgStoveStep *add;
  g_autoptr (OgStovePlan) plan = plan_split (search, &add);
  OgStoveSplit *split = &search->split;

  if (add == NULL || add->step.caution != NULL || warns_anew (plan, search->plan)
      || !(fabs (add->after_c - search->step->after_c) <= OG_STOVE_SPLIT_NEAR_K) || !stays_dissolved (search))
    return FALSE;
  split->from_c = add->before_c;
  split->to_c = search->step->after_c;
  split->reached_c = add->after_c;
  split->g = add->added_g;
  return TRUE;
}

/* --- the search ---------------------------------------------------------- */

/* Largest multiple of @grid of which the pot is no cooler than asked for, 0 if there is none. */
static OgPpm
search_grid (Search *search,
             OgPpm   whole,
             OgPpm   grid)
{
  OgPpm low = 0, high = (whole - 1) / grid + 1;

  while (high - low > 1)
    {
      const OgPpm middle = low + (high - low) / 2;

      search->split.amount = middle * grid;
      if (reached_c (search) >= search->step->after_c)
        low = middle;
      else
        high = middle;
    }
  return low * grid;
}

static gboolean
try_line (Search              *search,
          const OgFormulaLine *line)
{
  search->split.line_id = line->id;
  search->split.amount = line->amount - 1;
  if (line->amount <= 1 || !(reached_c (search) <= search->step->after_c + OG_STOVE_SPLIT_NEAR_K))
    return FALSE; /* all of it does not cool the pot enough */
  for (guint i = 0; i < G_N_ELEMENTS (grids); i++)
    {
      const OgPpm below = search_grid (search, line->amount, grids[i]);

      for (guint j = 0; j < 2; j++)
        {
          search->split.amount = below + (OgPpm) j * grids[i];
          if (search->split.amount > 0 && search->split.amount < line->amount && accept (search))
            {
              search->split.share = (double) search->split.amount / line->amount;
              return TRUE;
            }
        }
    }
  return FALSE;
}

static gboolean
is_coolant (const OgIngredient *ingredient,
            double              pot_c)
{
  const OgStoveItem item = { .ingredient = ingredient, .name = "" };

  return og_stove_is_carrier (&item) && !(pot_c > ingredient->figures[OG_FIGURE_MAX_HEAT_C].value);
}

static void
collect_line (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  g_ptr_array_add (user_data, line);
}

static int
compare_amounts (gconstpointer a,
                 gconstpointer b)
{
  const OgFormulaLine *x = *(OgFormulaLine *const *) a, *y = *(OgFormulaLine *const *) b;

  return x->amount != y->amount ? (x->amount < y->amount) - (x->amount > y->amount)
                                : (x->id > y->id) - (x->id < y->id);
}

static gboolean
is_within_phase (const OgStovePlan *plan,
                 const OgStoveStep *step)
{
  for (guint i = 0; i < plan->steps->len && g_ptr_array_index (plan->steps, i) != step; i++)
    {
      const OgStoveStep *before = g_ptr_array_index (plan->steps, i);

      if ((before->act == OG_STOVE_ADD || before->act == OG_STOVE_BEGIN)
          && before->step.phase_id == step->step.phase_id)
        return TRUE;
    }
  return FALSE;
}

static OgStoveSplit *
find_split (Search *search)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();

  og_formula_foreach_line (search->formula, collect_line, lines);
  g_ptr_array_sort (lines, compare_amounts);
  for (guint i = 0; i < lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (lines, i);
      const OgIngredient *ingredient = og_catalog_get (search->result->catalog, line->ingredient_id);
      OgStoveSplit *found;

      if (ingredient == NULL || !is_coolant (ingredient, search->step->before_c))
        continue;
      search->split.name = ingredient->name;
      if (!try_line (search, line))
        continue;
      found = g_new (OgStoveSplit, 1);
      *found = search->split;
      found->name = g_strdup (found->name);
      return found;
    }
  return NULL;
}

void
og_stove_find_splits (OgStovePlan        *plan,
                      const OgFormula    *formula,
                      const OgResult     *result,
                      const OgStoveSetup *setup)
{
  Search search = { .formula = formula, .result = result, .plan = plan };

  g_return_if_fail (plan != NULL && formula != NULL && result != NULL && setup != NULL);

  search.setup = *setup;
  search.setup.with_series = FALSE;
  for (guint i = 0; i < plan->steps->len; i++)
    {
      OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->act != OG_STOVE_COOL || !(step->before_c > step->after_c) || is_within_phase (plan, step))
        continue;
      search.step = step;
      search.split = (OgStoveSplit) { .before_phase_id = step->step.phase_id };
      step->split = find_split (&search);
    }
}

/* --- words --------------------------------------------------------------- */

OgSaying *
og_stove_split_proposal (const OgStoveSplit *split)
{
  g_return_val_if_fail (split != NULL, NULL);

  /* Translators: grams, a material, per cent of its line, temperature, temperature */
  return og_saying_new (N_("%s g of %s (%s %% of its line), kept back and added from the shelf, bring the pot from "
                           "%s to %s °C at once."),
                        og_stove_grams (split->g), og_word_text (split->name),
                        og_word_significant (100.0 * split->share, 2), og_stove_celsius (split->from_c),
                        og_stove_celsius (split->reached_c));
}

OgSaying *
og_stove_split_phase_name (const OgStoveSplit *split)
{
  g_return_val_if_fail (split != NULL, NULL);

  /* Translators: name of a phase; a material that is kept back and goes in cold */
  return og_saying_new (N_("%s, cold"), og_word_text (split->name));
}
