/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/conditions.h"
#include "core/base/number-text.h"
#include "gtk/parts/figure-text.h"

#define DIGITS 5

#define FIGURE(id, nick, unit, main, editable, at_c) \
  { nick, unit, NULL, id, \
    G_STRUCT_OFFSET (OgIngredient, figures) + (id) * sizeof (OgFigure), \
    FALSE, main, editable, at_c }
#define GEL_FIGURE(member, unit, title, main, editable) \
  { #member, unit, title, OG_N_FIGURES, G_STRUCT_OFFSET (OgIngredient, gelling.member), \
    TRUE, main, editable, NAN }

static const OgFigureField fields[] = {
  FIGURE (OG_FIGURE_DENSITY_G_ML, "density_g_ml", "g/ml", TRUE, TRUE, OG_TEMPERATURE_VOLUME_C),
  FIGURE (OG_FIGURE_DENSITY_SLOPE_G_ML_K, "density_slope_g_ml_k", "g/(ml K)", FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_REFRACTIVE_INDEX, "refractive_index", "1", TRUE, TRUE, OG_TEMPERATURE_VOLUME_C),
  FIGURE (OG_FIGURE_IODINE_VALUE, "iodine_value", "g I2/100 g", TRUE, TRUE, NAN),
  FIGURE (OG_FIGURE_SAPONIFICATION_VALUE, "saponification_value", "mg KOH/g", TRUE, TRUE, NAN),
  FIGURE (OG_FIGURE_MELTING_C, "melting_c", "C", TRUE, TRUE, NAN),
  FIGURE (OG_FIGURE_FLASH_POINT_C, "flash_point_c", "C", TRUE, TRUE, NAN),
  FIGURE (OG_FIGURE_SMOKE_POINT_C, "smoke_point_c", "C", FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_MAX_HEAT_C, "max_heat_c", "C", FALSE, TRUE, NAN),
  FIGURE (OG_FIGURE_UNSAPONIFIABLE_PCT, "unsaponifiable_pct", "wt %", FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_MOLAR_MASS_G_MOL, "molar_mass_g_mol", "g/mol", FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_HEAT_CAPACITY_KJ_KG_K, "heat_capacity_kj_kg_k", "kJ/(kg K)",
          FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_USUAL_LOW_PCT, "usual_low_pct", "wt %", FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_USUAL_HIGH_PCT, "usual_high_pct", "wt %", FALSE, FALSE, NAN),
  FIGURE (OG_FIGURE_NATURAL_ORIGIN_INDEX, "natural_origin_index", "1", FALSE, TRUE, NAN),
  GEL_FIGURE (gel_point_pct, "wt %", N_("Gel point, wt %"), TRUE, TRUE),
  GEL_FIGURE (yield_at_twice_gel_point_pa, "Pa",
              N_("Yield stress at twice the gel point, Pa"), TRUE, TRUE),
  GEL_FIGURE (gel_exponent, "1", N_("Growth exponent of the yield stress"), FALSE, FALSE),
  GEL_FIGURE (intrinsic_viscosity_dl_g, "dL/g", N_("Intrinsic viscosity, dL/g"), FALSE, FALSE),
  GEL_FIGURE (association, "1", N_("Extra thickening at rest, times the liquid"), FALSE, FALSE),
  GEL_FIGURE (flow_index, "1", N_("Flow index"), FALSE, FALSE),
  GEL_FIGURE (dissolves_c, "C", N_("Dissolves above, °C"), TRUE, TRUE),
  GEL_FIGURE (sets_c, "C", N_("Sets below, °C"), TRUE, TRUE),
  GEL_FIGURE (melting_enthalpy_j_g, "J/g", N_("Heat of melting, J/g"), FALSE, FALSE),
  GEL_FIGURE (molar_mass_g_mol, "g/mol", N_("Molar mass of the gelling agent, g/mol"),
              FALSE, FALSE),
};

const OgFigureField *
og_figure_fields (guint *n_fields)
{
  *n_fields = G_N_ELEMENTS (fields);
  return fields;
}

/* Kinds made of fatty acids: only these can have an iodine or a saponification value. */
static gboolean
is_fatty (OgKind kind)
{
  return kind == OG_KIND_OIL || kind == OG_KIND_BUTTER || kind == OG_KIND_WAX
         || kind == OG_KIND_WAX_ESTER || kind == OG_KIND_ESTER;
}

gboolean
og_figure_field_applies (const OgFigureField *field,
                         const OgIngredient  *ingredient)
{
  if (og_figure_is_known (og_figure_field_get (field, ingredient)))
    return TRUE;
  if (field->gelling)
    return ingredient->gelling.family != OG_GEL_NONE;
  if (field->id == OG_FIGURE_IODINE_VALUE || field->id == OG_FIGURE_SAPONIFICATION_VALUE)
    return is_fatty (ingredient->kind);
  if (field->id == OG_FIGURE_REFRACTIVE_INDEX || field->id == OG_FIGURE_FLASH_POINT_C)
    return !og_ingredient_is_suspended (ingredient);
  return TRUE;
}

const char *
og_figure_field_get_title (const OgFigureField *field)
{
  return field->title != NULL ? _(field->title) : og_figure_id_get_name (field->id);
}

const OgFigure *
og_figure_field_get (const OgFigureField *field,
                     const OgIngredient  *ingredient)
{
  return (const OgFigure *) ((const char *) ingredient + field->offset);
}

char *
og_figure_to_text (const OgFigure *figure)
{
  g_autofree char *value = NULL;
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;
  g_autofree char *ranged = NULL;
  g_autofree char *at = NULL;

  if (!og_figure_is_known (figure))
    return g_strdup (C_("figure", "unknown"));

  value = og_number_significant (figure->value, DIGITS);
  low = og_number_significant (figure->low, DIGITS);
  high = og_number_significant (figure->high, DIGITS);
  if (!isfinite (figure->low) || !isfinite (figure->high))
    ranged = g_strdup (value);
  else if (figure->quality == OG_QUALITY_RANGE)
    /* Translators: a range, smallest and largest number */
    ranged = g_strdup_printf (_("%s to %s"), low, high);
  else
    /* Translators: a number with the range it is traded in */
    ranged = g_strdup_printf (_("%s (%s to %s)"), value, low, high);
  if (!isfinite (figure->at_c))
    return g_steal_pointer (&ranged);
  at = og_number_significant (figure->at_c, DIGITS);
  /* Translators: a number and the temperature it holds for */
  return g_strdup_printf (_("%s at %s °C"), ranged, at);
}

char *
og_figure_origin_to_text (const OgFigure *figure)
{
  if (!og_figure_is_known (figure))
    return g_strdup ("");
  if (figure->source == NULL || *figure->source == '\0')
    return g_strdup (og_quality_get_name (figure->quality));
  return g_strdup_printf ("%s · %s", og_quality_get_name (figure->quality), figure->source);
}

const char *
og_unit_to_text (const char *unit)
{
  static const struct
  {
    const char *file;
    const char *text;
  } units[] = {
    { "C", "°C" },
    { "1", "" },
    { "mPa.s", "mPa·s" },
    { "mm2/s", "mm²/s" },
    { "g I2/100 g", "g I₂/100 g" },
    { "g/(ml K)", "g/(ml·K)" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      if (g_strcmp0 (units[i].file, unit) == 0)
        return units[i].text;
    }
  return unit != NULL ? unit : "";
}
