/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/recipe-limits.h"

#include <math.h>

#include "core/recipe/stability.h"
#include "core/recipe/versions.h"

G_STATIC_ASSERT (OG_RECIPE_MAX_TYPED_SHARE <= OG_RECIPE_MAX_BALANCE_SHARE);

/* @text: (nullable) */
static gboolean
is_text (const char *text,
         glong       most)
{
  return text == NULL
         || (g_utf8_validate (text, -1, NULL) && g_utf8_strlen (text, -1) <= most);
}

static gboolean
are_texts (char **texts)
{
  for (guint i = 0; texts[i] != NULL; i++)
    if (!is_text (texts[i], G_MAXLONG))
      return FALSE;

  return TRUE;
}

static gboolean
is_id (guint id)
{
  return id >= 1 && id <= OG_RECIPE_MAX_ID;
}

static gboolean
is_temperature (double temperature_c)
{
  return isnan (temperature_c)
         || (temperature_c >= OG_RECIPE_LOWEST_C && temperature_c <= OG_RECIPE_HIGHEST_C);
}

/* An unset date is left out. */
static gboolean
is_date (const GDate *date)
{
  return !g_date_valid (date) || g_date_get_year (date) <= OG_RECIPE_LAST_YEAR;
}

static gboolean
is_line (const OgFormulaLine *line)
{
  return is_id (line->id) && *line->ingredient_id != '\0'
         && is_text (line->ingredient_id, OG_RECIPE_MAX_NAME)
         && line->amount >= 0 && line->amount <= OG_PPM_WHOLE
         && line->balance_share <= OG_RECIPE_MAX_BALANCE_SHARE
         && is_temperature (line->add_temperature_c) && is_text (line->note, G_MAXLONG);
}

static gboolean
is_phase (const OgFormulaPhase *phase)
{
  for (guint i = 0; i < phase->lines->len; i++)
    if (!is_line (g_ptr_array_index (phase->lines, i)))
      return FALSE;

  return is_id (phase->id) && is_text (phase->name, OG_RECIPE_MAX_NAME)
         && is_temperature (phase->temperature_c) && is_text (phase->note, G_MAXLONG);
}

static gboolean
are_phases (const GPtrArray *phases)
{
  for (guint i = 0; i < phases->len; i++)
    if (!is_phase (g_ptr_array_index (phases, i)))
      return FALSE;

  return TRUE;
}

static gboolean
is_target (double low_mpa_s,
           double high_mpa_s)
{
  return (isnan (low_mpa_s) && isnan (high_mpa_s))
         || (low_mpa_s > 0.0 && low_mpa_s <= high_mpa_s
             && high_mpa_s <= OG_RECIPE_MAX_TARGET_MPA_S);
}

static gboolean
are_body_bounds (const OgBodyBounds *bounds)
{
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    if (bounds->from[i] > OG_RECIPE_MAX_TARGET_MPA_S)
      return FALSE;

  return og_body_bounds_are_valid (bounds);
}

static gboolean
are_costs (const GPtrArray *costs)
{
  for (guint i = 0; i < costs->len; i++)
    {
      const OgCostLine *cost = g_ptr_array_index (costs, i);

      if (!(cost->price >= 0.0 && cost->price <= OG_RECIPE_MAX_PRICE)
          || !is_text (cost->name, G_MAXLONG)
          || !is_text (cost->currency, G_MAXLONG))
        return FALSE;
    }

  return TRUE;
}

static gboolean
are_stability_results (const GPtrArray *results)
{
  for (guint i = 0; i < results->len; i++)
    {
      const OgStabilityResult *result = g_ptr_array_index (results, i);

      if (!g_date_valid (&result->date) || !is_date (&result->date) || isinf (result->value)
          || !is_text (result->note, G_MAXLONG))
        return FALSE;
    }

  return TRUE;
}

/* What a version and the recipe itself say alike. */
static gboolean
is_recipe (const OgFormula *formula)
{
  return is_text (formula->title, OG_RECIPE_MAX_NAME)
         && is_text (formula->purpose, OG_RECIPE_MAX_NAME)
         && is_text (formula->notes, G_MAXLONG)
         && formula->batch_g > 0.0 && formula->batch_g <= OG_RECIPE_MAX_BATCH_G
         && is_target (formula->target_low_mpa_s, formula->target_high_mpa_s)
         && are_body_bounds (&formula->body_bounds) && og_package_is_valid (&formula->package)
         && formula->open_months <= OG_RECIPE_MAX_MONTHS
         && is_text (formula->warnings, G_MAXLONG)
         && are_texts (formula->shades) && are_texts (formula->nano) && are_costs (formula->costs)
         && are_phases (formula->phases);
}

/* A recipe that was kept is within limits already, and never changed: names and numbers are left. */
static gboolean
are_versions (const GPtrArray *versions)
{
  if (versions->len > OG_RECIPE_MAX_VERSIONS)
    return FALSE;
  for (guint i = 0; i < versions->len; i++)
    {
      const OgVersion *version = g_ptr_array_index (versions, i);

      if (!og_versions_is_name (version->name) || !is_text (version->note, OG_RECIPE_MAX_VERSION_NOTE)
          || !is_date (&version->date) || !og_versions_fit_recipe (version->recipe)
          || og_versions_find (versions, version->name, NULL) != version)
        return FALSE;
    }

  return TRUE;
}

gboolean
og_formula_is_within_limits (const OgFormula *formula)
{
  g_return_val_if_fail (formula != NULL, FALSE);

  return is_recipe (formula)
         && is_date (&formula->stability_start)
         && formula->stability_months <= OG_RECIPE_MAX_MONTHS
         && are_stability_results (formula->stability_results)
         && are_versions (formula->versions);
}
