/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/versions.h"

#include <math.h>
#include <string.h>

#include "core/recipe/recipe-limits.h"

/* Amounts of a reading and of a recipe that are still the same, in wt %: half of the last digit that a
 * recipe is weighed by. Judgement. */
#define SAME_PCT 0.005

gboolean
og_versions_is_name (const char *name)
{
  g_autofree char *stripped = NULL;

  g_return_val_if_fail (name != NULL, FALSE);

  if (!g_utf8_validate (name, -1, NULL) || strpbrk (name, "\n\r") != NULL)
    return FALSE;
  stripped = g_strstrip (g_strdup (name));
  return *name != '\0' && g_str_equal (stripped, name)
         && g_utf8_strlen (name, -1) <= OG_RECIPE_MAX_VERSION_NAME;
}

gboolean
og_versions_fit_recipe (const OgFormula *recipe)
{
  g_return_val_if_fail (recipe != NULL, FALSE);

  return recipe->phases->len + og_formula_get_n_lines (recipe) <= OG_RECIPE_MAX_VERSION_LINES;
}

const OgVersion *
og_versions_find (const GPtrArray *versions,
                  const char      *name,
                  guint           *position)
{
  g_return_val_if_fail (versions != NULL && name != NULL, NULL);

  for (guint i = 0; i < versions->len; i++)
    {
      const OgVersion *version = g_ptr_array_index (versions, i);

      if (!g_str_equal (version->name, name))
        continue;
      if (position != NULL)
        *position = i;
      return version;
    }

  return NULL;
}

/* --- going back ------------------------------------------------------------ */

static void
take_materials (OgFormula       *formula,
                const OgFormula *now)
{
  g_autoptr (GPtrArray) kept = g_steal_pointer (&formula->materials);

  formula->materials = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  for (guint i = 0; i < now->materials->len; i++)
    g_ptr_array_add (formula->materials, og_ingredient_ref (g_ptr_array_index (now->materials, i)));
  for (guint i = 0; i < kept->len; i++)
    {
      OgIngredient *material = g_ptr_array_index (kept, i);

      if (og_formula_find_material (now, material->id, NULL) == NULL)
        g_ptr_array_add (formula->materials, og_ingredient_ref (material));
    }
}

/* Takes everything of @now that a version does not keep. */
static void
take_common (OgFormula       *formula,
             const OgFormula *now)
{
  g_autoptr (OgFormula) common = og_formula_copy (now);

  g_ptr_array_unref (formula->measurements);
  formula->measurements = g_ptr_array_ref (common->measurements);
  g_ptr_array_unref (formula->stability_results);
  formula->stability_results = g_ptr_array_ref (common->stability_results);
  g_ptr_array_unref (formula->versions);
  formula->versions = g_ptr_array_ref (common->versions);
  formula->stability_start = common->stability_start;
  formula->stability_months = common->stability_months;
  formula->extra = common->extra != NULL ? json_object_ref (common->extra) : NULL;
  formula->next_id = MAX (formula->next_id, common->next_id);
}

OgFormula *
og_version_restore (const OgVersion *version,
                    const OgFormula *now)
{
  OgFormula *formula;

  g_return_val_if_fail (version != NULL && now != NULL, NULL);

  formula = og_formula_copy (version->recipe);
  take_materials (formula, now);
  take_common (formula, now);
  return formula;
}

gboolean
og_version_is_now (const OgVersion *version,
                   const OgFormula *formula)
{
  g_autoptr (OgFormula) restored = og_version_restore (version, formula);

  return og_formula_equal (restored, formula);
}

/* --- readings of a version ------------------------------------------------- */

static void
add_line (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  double *sum = g_hash_table_lookup (user_data, line->ingredient_id);

  if (sum == NULL)
    {
      sum = g_new0 (double, 1);
      g_hash_table_insert (user_data, line->ingredient_id, sum);
    }
  *sum += og_ppm_to_pct (line->amount);
}

gboolean
og_measurement_is_of (const OgMeasurement *measurement,
                      const OgFormula     *formula)
{
  g_autoptr (GHashTable) left = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  GHashTableIter iter;
  gpointer value;

  g_return_val_if_fail (measurement != NULL && formula != NULL, FALSE);

  if (measurement->material_id != NULL)
    return FALSE;
  og_formula_foreach_line (formula, add_line, left);
  for (guint i = 0; i < measurement->lines->len; i++)
    {
      const OgPart *part = &g_array_index (measurement->lines, OgPart, i);
      double *sum = g_hash_table_lookup (left, part->ingredient_id);

      if (sum != NULL)
        *sum -= part->pct;
      else if (part->pct > SAME_PCT)
        return FALSE;
    }
  g_hash_table_iter_init (&iter, left);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    if (fabs (*(double *) value) > SAME_PCT)
      return FALSE;

  return TRUE;
}
