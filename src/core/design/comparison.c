/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/comparison.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/conditions.h"
#include "core/base/nick.h"
#include "core/base/saying.h"
#include "core/design/changes.h"
#include "core/design/solve.h"
#include "core/recipe/versions.h"

static const double state_rates_1_s[OG_COMPARISON_STATES] = { OG_SHEAR_REST, OG_SHEAR_POUR, OG_SHEAR_RUB };

static const OgNick line_changes[OG_N_LINE_CHANGES] = {
  [OG_LINE_SAME] = { "same", N_("the same") },
  [OG_LINE_MORE] = { "more", N_("more") },
  [OG_LINE_LESS] = { "less", N_("less") },
  [OG_LINE_GAINED] = { "gained", N_("new") },
  [OG_LINE_LOST] = { "lost", N_("left out") },
  [OG_LINE_ABSENT] = { "absent", N_("in neither") },
};
OG_DEFINE_TO_NICK (OgLineChange, og_line_change, line_changes)
OG_DEFINE_NAMES (OgLineChange, og_line_change, line_changes)

OgCompared *
og_compared_new (const char *name,
                 OgFormula  *formula,
                 OgCatalog  *catalog)
{
  OgCompared *compared;

  g_return_val_if_fail (name != NULL && formula != NULL && catalog != NULL, NULL);

  compared = g_new0 (OgCompared, 1);
  compared->name = g_strdup (name);
  compared->formula = formula;
  compared->catalog = og_catalog_ref (catalog);
  compared->price = NAN;
  return compared;
}

void
og_compared_free (OgCompared *compared)
{
  g_free (compared->name);
  g_free (compared->currency);
  g_clear_pointer (&compared->effects, g_ptr_array_unref);
  g_clear_pointer (&compared->changes, g_ptr_array_unref);
  g_clear_pointer (&compared->trials, g_ptr_array_unref);
  g_clear_pointer (&compared->keeping, og_keeping_free);
  g_clear_pointer (&compared->declaration, og_declaration_free);
  g_clear_pointer (&compared->blend, og_blend_free);
  g_clear_pointer (&compared->result, og_result_unref);
  og_formula_free (compared->formula);
  og_catalog_unref (compared->catalog);
  g_free (compared);
}

void
og_comparison_free (OgComparison *comparison)
{
  g_ptr_array_unref (comparison->lines);
  g_ptr_array_unref (comparison->recipes);
  g_free (comparison);
}

/* --- lines ----------------------------------------------------------------- */

static void
line_free (gpointer data)
{
  OgComparedLine *line = data;

  g_free (line->ingredient_id);
  g_free (line->name);
  g_free (line);
}

typedef struct
{
  OgComparison *comparison;
  guint         column;
} Lines;

static OgComparedLine *
find_line (const OgComparison *comparison,
           const char         *ingredient_id)
{
  for (guint i = 0; i < comparison->lines->len; i++)
    {
      OgComparedLine *line = g_ptr_array_index (comparison->lines, i);

      if (g_str_equal (line->ingredient_id, ingredient_id))
        return line;
    }

  return NULL;
}

static OgComparedLine *
ensure_line (const Lines *lines,
             const char  *ingredient_id)
{
  const OgCompared *recipe = g_ptr_array_index (lines->comparison->recipes, lines->column);
  const OgIngredient *ingredient = og_catalog_get (recipe->catalog, ingredient_id);
  OgComparedLine *line = find_line (lines->comparison, ingredient_id);

  if (line != NULL)
    return line;
  line = g_new0 (OgComparedLine, 1);
  line->ingredient_id = g_strdup (ingredient_id);
  line->name = g_strdup (ingredient != NULL ? ingredient->name : ingredient_id);
  for (guint i = 0; i < OG_COMPARISON_MAX; i++)
    line->changes[i] = OG_LINE_ABSENT;
  g_ptr_array_add (lines->comparison->lines, line);
  return line;
}

/* For now @changes only says which recipes have the material. */
static void
add_line (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  const Lines *lines = user_data;
  OgComparedLine *compared = ensure_line (lines, line->ingredient_id);

  compared->amounts[lines->column] += line->amount;
  compared->changes[lines->column] = OG_LINE_SAME;
}

static OgLineChange
judge (const OgComparedLine *line,
       guint                 column)
{
  const gboolean was = line->changes[0] != OG_LINE_ABSENT, is = line->changes[column] != OG_LINE_ABSENT;

  if (!is)
    return was ? OG_LINE_LOST : OG_LINE_ABSENT;
  if (!was)
    return OG_LINE_GAINED;
  if (line->amounts[column] == line->amounts[0])
    return OG_LINE_SAME;
  return line->amounts[column] > line->amounts[0] ? OG_LINE_MORE : OG_LINE_LESS;
}

static void
compare_lines (OgComparison *comparison)
{
  for (guint i = 0; i < comparison->recipes->len; i++)
    {
      Lines lines = { comparison, i };
      const OgCompared *recipe = g_ptr_array_index (comparison->recipes, i);

      og_formula_foreach_line (recipe->formula, add_line, &lines);
    }
  for (guint l = 0; l < comparison->lines->len; l++)
    {
      OgComparedLine *line = g_ptr_array_index (comparison->lines, l);

      for (guint i = 1; i < comparison->recipes->len; i++)
        line->changes[i] = judge (line, i);
    }
}

/* --- recipes --------------------------------------------------------------- */

static GPtrArray *
find_trials (const OgFormula *formula)
{
  GPtrArray *trials = g_ptr_array_new ();

  for (guint i = 0; i < formula->measurements->len; i++)
    if (og_measurement_is_of (g_ptr_array_index (formula->measurements, i), formula))
      g_ptr_array_add (trials, g_ptr_array_index (formula->measurements, i));

  return trials;
}

static void
evaluate (OgCompared                *recipe,
          const OgComparisonOptions *options)
{
  const double room_c = OG_TEMPERATURE_ROOM_C;
  const char *currency = NULL;

  recipe->result = og_evaluate (recipe->formula, recipe->catalog,
                                &(OgConditions) {
                                  .temperatures_c = &room_c,
                                  .n_temperatures = 1,
                                  .shear_rates_1_s = state_rates_1_s,
                                  .n_shear_rates = OG_COMPARISON_STATES,
                                  .curves = options->curves,
                                  .belief = options->belief,
                                });
  recipe->blend = og_blend_new (recipe->result->contents, og_catalog_get_parameters (recipe->catalog));
  if (options->belief != NULL)
    og_blend_set_belief (recipe->blend, options->belief);
  recipe->keeping = og_keep (recipe->formula, recipe->result, NULL);
  recipe->declaration = og_declare (recipe->formula, recipe->catalog, OG_MARKET_EU, NULL);
  recipe->trials = find_trials (recipe->formula);
  if (options->shelf != NULL)
    recipe->price = og_formula_price (recipe->formula, options->shelf, &currency);
  recipe->currency = g_strdup (currency);
}

static void
compare (OgCompared                *recipe,
         const OgCompared          *first,
         const OgComparisonOptions *options)
{
  const OgEffectsSide before = { first->formula, first->catalog, first->result, first->blend };
  const OgEffectsSide after = { recipe->formula, recipe->catalog, recipe->result, recipe->blend };

  for (guint s = 0; s < OG_COMPARISON_STATES; s++)
    recipe->ratios[s] = og_blend_ratio (recipe->blend, first->blend, OG_TEMPERATURE_ROOM_C,
                                        state_rates_1_s[s]);
  recipe->effects = recipe != first ? og_effects_between (&before, &after, options->shelf)
                                    : g_ptr_array_new ();
  recipe->changes = recipe != first
                    ? og_changes_in_words (first->formula, recipe->formula, first->catalog,
                                           recipe->catalog, options->same_ids)
                    : og_sayings_new ();
}

OgComparison *
og_comparison_new (GPtrArray                 *recipes,
                   const OgComparisonOptions *options)
{
  static const OgComparisonOptions none = { .belief = NULL };
  const OgComparisonOptions *asked = options != NULL ? options : &none;
  OgComparison *comparison;

  g_return_val_if_fail (recipes != NULL && recipes->len >= 1, NULL);
  g_return_val_if_fail (recipes->len <= OG_COMPARISON_MAX, NULL);

  comparison = g_new0 (OgComparison, 1);
  comparison->recipes = recipes;
  comparison->lines = g_ptr_array_new_with_free_func (line_free);
  for (guint i = 0; i < recipes->len; i++)
    evaluate (g_ptr_array_index (recipes, i), asked);
  for (guint i = 0; i < recipes->len; i++)
    compare (g_ptr_array_index (recipes, i), g_ptr_array_index (recipes, 0), asked);
  compare_lines (comparison);
  return comparison;
}

static void
add_version (GPtrArray       *recipes,
             const OgVersion *version,
             const OgFormula *now,
             OgCatalog       *catalog)
{
  OgFormula *formula = og_version_restore (version, now);
  g_autoptr (OgCatalog) own = formula->materials->len > now->materials->len
                              ? og_catalog_new_overlay (catalog, formula->materials)
                              : og_catalog_ref (catalog);

  g_ptr_array_add (recipes, og_compared_new (version->name, formula, own));
}

OgComparison *
og_comparison_of_versions (const OgFormula           *now,
                           OgCatalog                 *catalog,
                           const char                *now_name,
                           const char *const         *names,
                           const OgComparisonOptions *options)
{
  g_autoptr (OgBelief) learned = NULL;
  OgComparisonOptions asked = { .belief = NULL };
  GPtrArray *recipes;

  g_return_val_if_fail (now != NULL && catalog != NULL && now_name != NULL && names != NULL, NULL);

  if (options != NULL)
    asked = *options;
  asked.same_ids = TRUE;
  if (asked.belief == NULL)
    asked.belief = learned = og_belief_learn (now->measurements, catalog);
  recipes = g_ptr_array_new_with_free_func ((GDestroyNotify) og_compared_free);
  g_ptr_array_add (recipes, og_compared_new (now_name, og_formula_copy (now), catalog));
  for (guint i = 0; names[i] != NULL && recipes->len < OG_COMPARISON_MAX; i++)
    {
      const OgVersion *version = og_versions_find (now->versions, names[i], NULL);

      if (version != NULL)
        add_version (recipes, version, now, catalog);
    }
  return og_comparison_new (recipes, &asked);
}
