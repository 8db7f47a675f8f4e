/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/ingredient-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/nick.h"
#include "core/base/physics.h"
#include "core/base/practice.h"
#include "core/base/statistics.h"

#define ABSOLUTE_ZERO_C (-OG_KELVIN_OFFSET)

static const OgNick kinds[OG_N_KINDS] = {
  [OG_KIND_OIL] = { "oil", N_("Oils") },
  [OG_KIND_BUTTER] = { "butter", N_("Butters") },
  [OG_KIND_WAX] = { "wax", N_("Waxes") },
  [OG_KIND_WAX_ESTER] = { "wax-ester", N_("Liquid waxes") },
  [OG_KIND_ESTER] = { "ester", N_("Esters") },
  [OG_KIND_HYDROCARBON] = { "hydrocarbon", N_("Hydrocarbons") },
  [OG_KIND_SILICONE] = { "silicone", N_("Silicones") },
  [OG_KIND_ALCOHOL] = { "alcohol", N_("Fatty alcohols") },
  [OG_KIND_GELLING_AGENT] = { "gelling-agent", N_("Gelling agents") },
  [OG_KIND_ANTIOXIDANT] = { "antioxidant", N_("Antioxidants") },
  [OG_KIND_COLOUR] = { "colour", N_("Colours") },
  [OG_KIND_DISPERSION] = { "dispersion", N_("Colour dispersions") },
  [OG_KIND_PEARL] = { "pearl", N_("Pearls") },
  [OG_KIND_POWDER] = { "powder", N_("Powders") },
  [OG_KIND_FLAVOUR] = { "flavour", N_("Flavours") },
  [OG_KIND_ESSENTIAL_OIL] = { "essential-oil", N_("Essential oils") },
  [OG_KIND_VITAMIN] = { "vitamin", N_("Vitamins") },
  [OG_KIND_ACTIVE] = { "active", N_("Actives") },
};

static const OgNick qualities[] = {
  [OG_QUALITY_UNKNOWN] = { "unknown", N_("unknown") },
  [OG_QUALITY_MEASURED] = { "measured", N_("measured") },
  [OG_QUALITY_TYPICAL] = { "typical", N_("typical") },
  [OG_QUALITY_RANGE] = { "range", N_("range") },
  [OG_QUALITY_ESTIMATED] = { "estimated", N_("estimated") },
  [OG_QUALITY_RECALLED] = { "recalled", N_("recalled") },
};

static const OgNick roles[] = {
  { "base", N_("Base") },
  { "emollient", N_("Emollient") },
  { "gloss", N_("Gloss") },
  { "gelling-agent", N_("Gelling agent") },
  { "thickener", N_("Thickener") },
  { "stiffener", N_("Stiffener") },
  { "antioxidant", N_("Antioxidant") },
  { "colour", N_("Colour") },
  { "colour-carrier", N_("Colour carrier") },
  { "shimmer", N_("Shimmer") },
  { "flavour", N_("Flavour") },
  { "fragrance", N_("Fragrance") },
  { "vitamin", N_("Vitamin") },
  { "active", N_("Active") },
  { "slip", N_("Slip") },
  { "filler", N_("Filler") },
};

static const OgNick uses[] = { { "lip", NULL }, { "skin", NULL }, { "hair", NULL } };

static const OgNick tags[] = {
  { "animal-derived", N_("Animal-derived") },
  { "nut", N_("Tree nut") },
  { "peanut", N_("Peanut") },
  { "bee", N_("Bee product") },
  { "palm", N_("Palm") },
  { "silicone", N_("Silicone") },
  { "mineral", N_("Mineral oil based") },
  { "fragrance", N_("Fragrance") },
  { "allergen", N_("Allergen") },
  { "soy", N_("Soya") },
  { "sesame", N_("Sesame") },
  { "gluten-source", N_("From a gluten source") },
  { "lanolin", N_("Lanolin") },
  { "powder", N_("Fine powder") },
  { "phototoxic", N_("Phototoxic") },
  { "drying", N_("Drying in air") },
  { "conjugated", N_("Conjugated acids") },
  { "volatile", N_("Volatile") },
  { "grade-varies", N_("Grade varies by source") },
  { "nano-possible", N_("May be nano-sized") },
  { "not-for-lips-us", N_("Not for lips (US)") },
  { "not-for-lips-eu", N_("Not for lips (EU)") },
};

static const OgNick gel_families[] = {
  [OG_GEL_NONE] = { NULL, NULL },
  [OG_GEL_PHYSICAL_POLYMER] = { "physical-polymer-gel", NULL },
  [OG_GEL_POLYMER_SOLUTION] = { "polymer-solution", NULL },
  [OG_GEL_CRYSTAL_NETWORK] = { "crystal-network", NULL },
  [OG_GEL_PARTICLE_NETWORK] = { "particle-network", NULL },
  [OG_GEL_PLATELET_NETWORK] = { "platelet-network", NULL },
  [OG_GEL_VISCOUS_LIQUID] = { "viscous-liquid", NULL },
};

static const OgNick solvent_fits[] = {
  [OG_SOLVENT_UNKNOWN] = { "unknown", NULL },
  [OG_SOLVENT_NO] = { "no", NULL },
  [OG_SOLVENT_LIMITED] = { "limited", NULL },
  [OG_SOLVENT_YES] = { "yes", NULL },
};

const OgFigureRule og_figure_rules[OG_N_FIGURES] = {
  [OG_FIGURE_DENSITY_G_ML] =
    { { "density_g_ml", N_("Density, g/ml") }, "g/ml", 0.05, 25.0, TRUE },
  [OG_FIGURE_DENSITY_SLOPE_G_ML_K] =
    { { "density_slope_g_ml_k", N_("Density change with temperature, g/(ml K)") },
      "g/(ml K)", -0.01, -0.000001, FALSE },
  [OG_FIGURE_REFRACTIVE_INDEX] =
    { { "refractive_index", N_("Refractive index") }, "1", 1.0, 4.0, TRUE },
  [OG_FIGURE_IODINE_VALUE] =
    { { "iodine_value", N_("Iodine value, g I2/100 g") }, "g I2/100 g", 0.0, 500.0, FALSE },
  [OG_FIGURE_SAPONIFICATION_VALUE] =
    { { "saponification_value", N_("Saponification value, mg KOH/g") },
      "mg KOH/g", 0.0, 1500.0, FALSE },
  [OG_FIGURE_MELTING_C] =
    { { "melting_c", N_("Melting, °C") }, "C", ABSOLUTE_ZERO_C, 4000.0, FALSE },
  [OG_FIGURE_FLASH_POINT_C] =
    { { "flash_point_c", N_("Flash point, °C") }, "C", ABSOLUTE_ZERO_C, 1000.0, FALSE },
  [OG_FIGURE_SMOKE_POINT_C] =
    { { "smoke_point_c", N_("Smoke point, °C") }, "C", ABSOLUTE_ZERO_C, 1000.0, FALSE },
  [OG_FIGURE_MAX_HEAT_C] =
    { { "max_heat_c", N_("Highest heat borne, °C") }, "C", ABSOLUTE_ZERO_C, 4000.0, FALSE },
  [OG_FIGURE_UNSAPONIFIABLE_PCT] =
    { { "unsaponifiable_pct", N_("Unsaponifiable matter, wt %") }, "wt %", 0.0, 100.0, FALSE },
  [OG_FIGURE_MOLAR_MASS_G_MOL] =
    { { "molar_mass_g_mol", N_("Molar mass, g/mol") }, "g/mol", 1.0, 1e8, FALSE },
  [OG_FIGURE_USUAL_LOW_PCT] =
    { { "usual_low_pct", N_("Usual use from, wt %") }, "wt %", 0.0, 100.0, FALSE },
  [OG_FIGURE_USUAL_HIGH_PCT] =
    { { "usual_high_pct", N_("Usual use up to, wt %") }, "wt %", 0.0, 100.0, FALSE },
  [OG_FIGURE_HEAT_CAPACITY_KJ_KG_K] =
    { { "heat_capacity_kj_kg_k", N_("Heat capacity, kJ/(kg K)") }, "kJ/(kg K)", 0.05, 20.0, FALSE },
  [OG_FIGURE_NATURAL_ORIGIN_INDEX] =
    { { "natural_origin_index", N_("Natural origin index") }, "1", 0.0, 1.0, FALSE },
};

#define GEL_FIGURE(member, unit, lowest, highest) \
  { { { #member, NULL }, unit, lowest, highest, FALSE }, G_STRUCT_OFFSET (OgGelling, member) }

const OgGelFigureRule og_gel_figure_rules[OG_N_GEL_FIGURES] = {
  GEL_FIGURE (gel_point_pct, "wt %", 0.001, 100.0),
  GEL_FIGURE (yield_at_twice_gel_point_pa, "Pa", 1e-6, 1e8),
  GEL_FIGURE (gel_exponent, "1", 0.01, 20.0),
  GEL_FIGURE (intrinsic_viscosity_dl_g, "dL/g", 1e-4, 1000.0),
  GEL_FIGURE (association, "1", 0.0, 1e6),
  GEL_FIGURE (flow_index, "1", 0.01, 2.0),
  GEL_FIGURE (dissolves_c, "C", ABSOLUTE_ZERO_C, 1000.0),
  GEL_FIGURE (sets_c, "C", ABSOLUTE_ZERO_C, 1000.0),
  GEL_FIGURE (melting_enthalpy_j_g, "J/g", 0.01, 5000.0),
  GEL_FIGURE (molar_mass_g_mol, "g/mol", 1.0, 1e8),
};

OgFigure *
og_gelling_get_figure (OgGelling *gelling,
                       guint      index)
{
  return (OgFigure *) ((char *) gelling + og_gel_figure_rules[index].offset);
}

void
og_figure_init (OgFigure *figure)
{
  *figure = (OgFigure) { OG_QUALITY_UNKNOWN, NAN, NAN, NAN, NAN, NULL, NULL, NULL };
}

void
og_figure_clear (OgFigure *figure)
{
  g_free (figure->unit);
  g_free (figure->source);
  g_free (figure->note);
  og_figure_init (figure);
}

static void
detach_figure (OgFigure *figure)
{
  figure->unit = g_strdup (figure->unit);
  figure->source = g_strdup (figure->source);
  figure->note = g_strdup (figure->note);
}

static void
clear_datum (OgViscosityDatum *datum)
{
  g_free (datum->source);
  g_free (datum->note);
}

static void
clear_part (OgPart *part)
{
  g_free (part->ingredient_id);
}

static void
clear_constituent (OgConstituent *constituent)
{
  g_free (constituent->name);
  g_free (constituent->cas);
  og_figure_clear (&constituent->pct);
}

GArray *
og_viscosity_array_new (void)
{
  GArray *array = g_array_new (FALSE, TRUE, sizeof (OgViscosityDatum));

  g_array_set_clear_func (array, (GDestroyNotify) clear_datum);
  return array;
}

GArray *
og_parts_new (void)
{
  GArray *array = g_array_new (FALSE, TRUE, sizeof (OgPart));

  g_array_set_clear_func (array, (GDestroyNotify) clear_part);
  return array;
}

GArray *
og_constituent_array_new (void)
{
  GArray *array = g_array_new (FALSE, TRUE, sizeof (OgConstituent));

  g_array_set_clear_func (array, (GDestroyNotify) clear_constituent);
  return array;
}

static GArray *
copy_viscosity (const GArray *from)
{
  GArray *copy = og_viscosity_array_new ();

  for (guint i = 0; i < from->len; i++)
    {
      OgViscosityDatum datum = g_array_index (from, OgViscosityDatum, i);

      datum.source = g_strdup (datum.source);
      datum.note = g_strdup (datum.note);
      g_array_append_val (copy, datum);
    }
  return copy;
}

GArray *
og_parts_copy (const GArray *parts)
{
  GArray *copy = og_parts_new ();

  for (guint i = 0; i < parts->len; i++)
    {
      OgPart part = g_array_index (parts, OgPart, i);

      part.ingredient_id = g_strdup (part.ingredient_id);
      g_array_append_val (copy, part);
    }
  return copy;
}

static GArray *
copy_constituents (const GArray *from)
{
  GArray *copy = og_constituent_array_new ();

  for (guint i = 0; i < from->len; i++)
    {
      OgConstituent constituent = g_array_index (from, OgConstituent, i);

      constituent.name = g_strdup (constituent.name);
      constituent.cas = g_strdup (constituent.cas);
      detach_figure (&constituent.pct);
      g_array_append_val (copy, constituent);
    }
  return copy;
}

OgIngredient *
og_ingredient_new (void)
{
  OgIngredient *ingredient = g_atomic_rc_box_new0 (OgIngredient);

  ingredient->aliases = g_new0 (char *, 1);
  ingredient->roles = g_new0 (char *, 1);
  ingredient->uses = g_new0 (char *, 1);
  ingredient->tags = g_new0 (char *, 1);
  ingredient->cautions = g_new0 (char *, 1);
  for (guint i = 0; i < OG_N_FIGURES; i++)
    og_figure_init (&ingredient->figures[i]);
  for (guint i = 0; i < OG_N_GEL_FIGURES; i++)
    og_figure_init (og_gelling_get_figure (&ingredient->gelling, i));
  ingredient->viscosity = og_viscosity_array_new ();
  ingredient->composition = og_parts_new ();
  ingredient->constituents = og_constituent_array_new ();
  return ingredient;
}

OgIngredient *
og_ingredient_copy (const OgIngredient *ingredient)
{
  OgIngredient *copy = g_atomic_rc_box_new0 (OgIngredient);

  *copy = *ingredient;
  copy->id = g_strdup (ingredient->id);
  copy->name = g_strdup (ingredient->name);
  copy->inci = g_strdup (ingredient->inci);
  copy->cas = g_strdup (ingredient->cas);
  copy->derived_from = g_strdup (ingredient->derived_from);
  copy->aliases = g_strdupv (ingredient->aliases);
  copy->roles = g_strdupv (ingredient->roles);
  copy->uses = g_strdupv (ingredient->uses);
  copy->tags = g_strdupv (ingredient->tags);
  copy->cautions = g_strdupv (ingredient->cautions);
  copy->notes = g_strdup (ingredient->notes);
  for (guint i = 0; i < OG_N_FIGURES; i++)
    detach_figure (&copy->figures[i]);
  for (guint i = 0; i < OG_N_GEL_FIGURES; i++)
    detach_figure (og_gelling_get_figure (&copy->gelling, i));
  copy->gelling.note = g_strdup (ingredient->gelling.note);
  copy->profile = ingredient->profile != NULL ? og_profile_copy (ingredient->profile) : NULL;
  copy->profile_source = g_strdup (ingredient->profile_source);
  copy->profile_note = g_strdup (ingredient->profile_note);
  copy->viscosity = copy_viscosity (ingredient->viscosity);
  copy->composition = og_parts_copy (ingredient->composition);
  copy->constituents = copy_constituents (ingredient->constituents);
  copy->ci = g_strdup (ingredient->ci);
  copy->hex = g_strdup (ingredient->hex);
  copy->sort_key = g_strdup (ingredient->sort_key);
  if (copy->definition != NULL)
    json_object_ref (copy->definition);
  return copy;
}

OgIngredient *
og_ingredient_ref (OgIngredient *ingredient)
{
  g_return_val_if_fail (ingredient != NULL, NULL);

  return g_atomic_rc_box_acquire (ingredient);
}

static void
clear_ingredient (OgIngredient *ingredient)
{
  g_free (ingredient->id);
  g_free (ingredient->name);
  g_free (ingredient->inci);
  g_free (ingredient->cas);
  g_free (ingredient->derived_from);
  g_strfreev (ingredient->aliases);
  g_strfreev (ingredient->roles);
  g_strfreev (ingredient->uses);
  g_strfreev (ingredient->tags);
  g_strfreev (ingredient->cautions);
  g_free (ingredient->notes);
  for (guint i = 0; i < OG_N_FIGURES; i++)
    og_figure_clear (&ingredient->figures[i]);
  for (guint i = 0; i < OG_N_GEL_FIGURES; i++)
    og_figure_clear (og_gelling_get_figure (&ingredient->gelling, i));
  g_free (ingredient->gelling.note);
  og_profile_free (ingredient->profile);
  g_free (ingredient->profile_source);
  g_free (ingredient->profile_note);
  g_array_unref (ingredient->viscosity);
  g_array_unref (ingredient->composition);
  g_array_unref (ingredient->constituents);
  g_free (ingredient->ci);
  g_free (ingredient->hex);
  g_free (ingredient->sort_key);
  g_clear_pointer (&ingredient->definition, json_object_unref);
}

void
og_ingredient_unref (OgIngredient *ingredient)
{
  if (ingredient != NULL)
    g_atomic_rc_box_release_full (ingredient, (GDestroyNotify) clear_ingredient);
}

char *
og_search_fold (const char *text)
{
  g_autofree char *valid = NULL;
  g_autofree char *folded = NULL;
  g_autofree char *parted = NULL;
  GString *plain;

  g_return_val_if_fail (text != NULL, NULL);

  valid = g_utf8_make_valid (text, -1);
  folded = g_utf8_casefold (valid, -1);
  parted = g_utf8_normalize (folded, -1, G_NORMALIZE_ALL);
  plain = g_string_sized_new (strlen (parted));
  for (const char *p = parted; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_type (c) != G_UNICODE_NON_SPACING_MARK)
        g_string_append_unichar (plain, c);
    }
  return g_string_free (plain, FALSE);
}

/* Each line is ended by a control character, so that strcmp() of two keys orders by name. */
void
og_ingredient_index (OgIngredient *ingredient)
{
  g_autofree char *lines = g_strdup_printf ("%s\n%s\n", ingredient->name, ingredient->id);

  g_free (ingredient->sort_key);
  ingredient->sort_key = og_search_fold (lines);
}

gboolean
og_ingredient_has_tag (const OgIngredient *ingredient,
                       const char         *tag)
{
  g_return_val_if_fail (ingredient != NULL, FALSE);

  return g_strv_contains ((const char *const *) ingredient->tags, tag);
}

gboolean
og_ingredient_has_role (const OgIngredient *ingredient,
                        const char         *role)
{
  g_return_val_if_fail (ingredient != NULL, FALSE);

  return g_strv_contains ((const char *const *) ingredient->roles, role);
}

gboolean
og_ingredient_has_use (const OgIngredient *ingredient,
                       const char         *use)
{
  g_return_val_if_fail (ingredient != NULL, FALSE);

  return g_strv_contains ((const char *const *) ingredient->uses, use);
}

gboolean
og_ingredient_is_triglyceride (const OgIngredient *ingredient)
{
  g_return_val_if_fail (ingredient != NULL, FALSE);

  return (ingredient->kind == OG_KIND_OIL || ingredient->kind == OG_KIND_BUTTER) &&
         ingredient->profile != NULL;
}

gboolean
og_ingredient_is_suspended (const OgIngredient *ingredient)
{
  g_return_val_if_fail (ingredient != NULL, FALSE);

  return ingredient->kind == OG_KIND_COLOUR || ingredient->kind == OG_KIND_PEARL ||
         ingredient->kind == OG_KIND_POWDER;
}

double
og_ingredient_density (const OgIngredient *ingredient,
                       double              temperature_c)
{
  const OgFigure *density, *slope;
  gboolean triglyceride;
  double slope_g_ml_k;

  g_return_val_if_fail (ingredient != NULL, NAN);

  density = &ingredient->figures[OG_FIGURE_DENSITY_G_ML];
  slope = &ingredient->figures[OG_FIGURE_DENSITY_SLOPE_G_ML_K];
  triglyceride = og_ingredient_is_triglyceride (ingredient);

  if (!og_figure_is_known (density))
    return triglyceride ? og_profile_density (ingredient->profile, temperature_c) : NAN;

  slope_g_ml_k = triglyceride ? OG_TRIGLYCERIDE_DENSITY_SLOPE_G_ML_K
                              : OG_OTHER_DENSITY_SLOPE_G_ML_K;
  if (og_figure_is_known (slope))
    slope_g_ml_k = slope->value;
  return density->value + slope_g_ml_k * (temperature_c - density->at_c);
}

gboolean
og_ingredient_takes_heat (const OgIngredient *ingredient,
                          double              temperature_c)
{
  const OgFigure *most = &ingredient->figures[OG_FIGURE_MAX_HEAT_C];
  const OgFigure *flash = &ingredient->figures[OG_FIGURE_FLASH_POINT_C];
  const OgFigure *smoke = &ingredient->figures[OG_FIGURE_SMOKE_POINT_C];

  return !(og_figure_is_known (most) && most->value < temperature_c)
         && !(og_figure_is_known (flash) && flash->value < temperature_c + OG_FLASH_MARGIN_K)
         && !(og_figure_is_known (smoke) && smoke->value < temperature_c + OG_SMOKE_MARGIN_K);
}

/* The own figure, else what @relation makes of the profile of a triglyceride. */
static double
get_figure_or (const OgIngredient *ingredient,
               OgFigureId          id,
               double            (*relation) (const OgProfile *profile))
{
  if (og_figure_is_known (&ingredient->figures[id]))
    return ingredient->figures[id].value;
  return og_ingredient_is_triglyceride (ingredient) ? relation (ingredient->profile) : NAN;
}

double
og_ingredient_iodine_value (const OgIngredient *ingredient)
{
  g_return_val_if_fail (ingredient != NULL, NAN);

  return get_figure_or (ingredient, OG_FIGURE_IODINE_VALUE, og_profile_iodine_value);
}

double
og_ingredient_saponification (const OgIngredient *ingredient)
{
  g_return_val_if_fail (ingredient != NULL, NAN);

  return get_figure_or (ingredient, OG_FIGURE_SAPONIFICATION_VALUE, og_profile_saponification);
}

gboolean
og_figure_is_known (const OgFigure *figure)
{
  g_return_val_if_fail (figure != NULL, FALSE);

  return figure->quality != OG_QUALITY_UNKNOWN;
}

double
og_figure_ln_sd (const OgFigure *figure,
                 double          fallback)
{
  g_return_val_if_fail (figure != NULL, fallback);

  /* comparisons are false for bounds that are not known */
  if (figure->low > 0.0 && figure->high >= figure->low)
    return log (figure->high / figure->low) / (2.0 * OG_HALF_BAND_SD);
  return fallback;
}

OG_DEFINE_NICKS (OgKind, og_kind, kinds)
OG_DEFINE_NAMES (OgKind, og_kind, kinds)
OG_DEFINE_TO_NICK (OgQuality, og_quality, qualities)
OG_DEFINE_FROM_NICK (OgQuality, og_quality, qualities, OG_QUALITY_UNKNOWN + 1)
OG_DEFINE_NAMES (OgQuality, og_quality, qualities)
OG_DEFINE_NICKS (OgGelFamily, og_gel_family, gel_families)
OG_DEFINE_FROM_NICK (OgSolventFit, og_solvent_fit, solvent_fits, 0)
OG_DEFINE_NICKS (OgFigureId, og_figure_id, og_figure_rules)
OG_DEFINE_NAMES (OgFigureId, og_figure_id, og_figure_rules)

const char *
og_figure_id_get_unit (OgFigureId id)
{
  g_return_val_if_fail ((guint) id < OG_N_FIGURES, NULL);

  return og_figure_rules[id].unit;
}

gboolean
og_role_is_known (const char *role)
{
  int index;

  return og_nick_find (OG_NICK_TABLE (roles), role, &index);
}

gboolean
og_use_is_known (const char *use)
{
  int index;

  return og_nick_find (OG_NICK_TABLE (uses), use, &index);
}

gboolean
og_tag_is_known (const char *tag)
{
  int index;

  return og_nick_find (OG_NICK_TABLE (tags), tag, &index);
}

const char *
og_tag_get_name (const char *tag)
{
  return og_nick_translate (OG_NICK_TABLE (tags), tag);
}

const char *
og_role_get_name (const char *role)
{
  return og_nick_translate (OG_NICK_TABLE (roles), role);
}
