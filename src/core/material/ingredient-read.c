/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/ingredient-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/conditions.h"
#include "core/base/error.h"
#include "core/base/number-text.h"

#define MIN_PROFILE_SUM_PCT 95.0 /* published profiles leave out traces; judgement */
#define MAX_PROFILE_SUM_PCT 105.0 /* published profiles are rounded; judgement */
#define COMPOSITION_TOLERANCE_PCT 1e-6 /* rounding of a sum of decimal fractions */

#define PROFILE_UNIT "wt % of fatty acids"

OG_JSON_DEFINE_CHOICE (OgKind, og_kind)
OG_JSON_DEFINE_CHOICE (OgQuality, og_quality)
OG_JSON_DEFINE_CHOICE (OgGelFamily, og_gel_family)
OG_JSON_DEFINE_CHOICE (OgSolventFit, og_solvent_fit)

/* Own materials may hold members that this program does not know; files of the library may not. */
static gboolean
check_members (const OgJsonReader *place,
               const char *const  *known)
{
  return place->context->sources == NULL || og_json_check_members (place, known);
}

/* What @place leaves out is not what the base of the material says there. */
static void
set_whole (OgJsonReader *place)
{
  if (place->nulls == OG_JSON_NULL_REMOVES)
    place->nulls = OG_JSON_NULL_ABSENT;
}

static gboolean
fail_unit (const OgJsonReader *place,
           const char         *given,
           const char         *unit)
{
  return og_json_fail (place, "unit", _("“%s” is not the unit “%s”"), given, unit);
}

static gboolean
read_unit (const OgJsonReader *place,
           const char         *unit)
{
  g_autofree char *given = NULL;

  if (!og_json_read_text (place, "unit", OG_JSON_REQUIRED, &given))
    return FALSE;
  if (!g_str_equal (given, unit))
    return fail_unit (place, given, unit);
  return TRUE;
}

/* Reads value, low and high; with the quality `range` the middle stands in for a missing value. */
static gboolean
read_spread (const OgJsonReader *place,
             OgQuality           quality,
             double              lowest,
             double              highest,
             double             *value,
             double             *low,
             double             *high)
{
  OgJsonNeed need_bounds = quality == OG_QUALITY_RANGE ? OG_JSON_REQUIRED : OG_JSON_OPTIONAL;
  OgJsonNeed need_value = quality == OG_QUALITY_RANGE ? OG_JSON_OPTIONAL : OG_JSON_REQUIRED;

  *value = *low = *high = NAN;
  if (!og_json_read_number (place, "low", need_bounds, lowest, highest, low) ||
      !og_json_read_number (place, "high", need_bounds, lowest, highest, high) ||
      !og_json_read_number (place, "value", need_value, lowest, highest, value))
    return FALSE;

  if (*low > *high)
    return og_json_fail (place, "low", "%s", _("is above high"));
  if (isnan (*value))
    *value = 0.5 * (*low + *high);
  if (*value < *low)
    return og_json_fail (place, "value", "%s", _("is below low"));
  if (*value > *high)
    return og_json_fail (place, "value", "%s", _("is above high"));
  return TRUE;
}

static gboolean
read_figure_members (const OgJsonReader *place,
                     const OgFigureRule *rule,
                     OgFigure           *figure)
{
  static const char *const known[] = { "value", "low", "high", "unit", "at_c",
                                       "source", "quality", "note", NULL };
  OgJsonNeed need_at_c = rule->at_c ? OG_JSON_REQUIRED : OG_JSON_OPTIONAL;

  if (!check_members (place, known) ||
      !og_quality_read (place, "quality", OG_JSON_REQUIRED, &figure->quality) ||
      !read_unit (place, rule->unit) ||
      !og_json_read_source (place, OG_JSON_REQUIRED, &figure->source) ||
      !og_json_read_text (place, "note", OG_JSON_OPTIONAL, &figure->note) ||
      !og_json_read_number (place, "at_c", need_at_c, OG_TEMPERATURE_FILE_LOWEST_C,
                            OG_TEMPERATURE_FILE_HIGHEST_C, &figure->at_c) ||
      !read_spread (place, figure->quality, rule->lowest, rule->highest,
                    &figure->value, &figure->low, &figure->high))
    return FALSE;

  figure->unit = g_strdup (rule->unit);
  return TRUE;
}

static gboolean
read_figure (const OgJsonReader *parent,
             const OgFigureRule *rule,
             OgFigure           *figure)
{
  OgJsonReader place;
  OgJsonFound found = og_json_read_object (parent, rule->word.nick, OG_JSON_OPTIONAL, &place);

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;

  og_figure_clear (figure);
  if (found == OG_JSON_REMOVED)
    return TRUE;
  set_whole (&place);
  return read_figure_members (&place, rule, figure);
}

static gboolean
check_usual_range (const OgJsonReader *place,
                   const OgIngredient *ingredient)
{
  const OgFigure *low = &ingredient->figures[OG_FIGURE_USUAL_LOW_PCT];
  const OgFigure *high = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];

  if (og_figure_is_known (low) && og_figure_is_known (high) && low->value > high->value)
    return og_json_fail (place, "usual_low_pct", "%s", _("is above usual_high_pct"));
  return TRUE;
}

static gboolean
read_figures (const OgJsonReader *material,
              OgIngredient       *ingredient)
{
  const char *known[OG_N_FIGURES + 1] = { NULL };
  OgJsonReader place;
  OgJsonFound found = og_json_read_object (material, "figures", OG_JSON_OPTIONAL, &place);

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;

  for (guint i = 0; i < OG_N_FIGURES; i++)
    {
      known[i] = og_figure_rules[i].word.nick;
      if (found == OG_JSON_REMOVED)
        og_figure_clear (&ingredient->figures[i]);
      else if (!read_figure (&place, &og_figure_rules[i], &ingredient->figures[i]))
        return FALSE;
    }
  if (found == OG_JSON_REMOVED)
    return TRUE;
  return check_members (&place, known) && check_usual_range (&place, ingredient);
}

static gboolean
read_share (const OgJsonReader *acids,
            const char         *code,
            OgQuality           quality,
            OgProfile          *profile)
{
  static const char *const known[] = { "value", "low", "high", NULL };
  g_autoptr (GError) error = NULL;
  double pct, low_pct, high_pct;
  OgAcid acid;
  OgJsonReader place;

  if (!og_acid_parse (code, &acid, &error))
    return og_json_fail (acids, code, "%s", error->message);
  if (og_json_read_object (acids, code, OG_JSON_REQUIRED, &place) != OG_JSON_FOUND ||
      !check_members (&place, known) ||
      !read_spread (&place, quality, 0.0, 100.0, &pct, &low_pct, &high_pct))
    return FALSE;

  og_profile_add_range (profile, acid, pct, low_pct, high_pct);
  return TRUE;
}

static gboolean
read_shares (const OgJsonReader *place,
             OgQuality           quality,
             OgProfile          *profile)
{
  JsonObjectIter iter;
  const char *code;
  OgJsonReader acids;
  g_autofree char *sum_text = NULL;
  double sum;

  if (og_json_read_object (place, "acids", OG_JSON_REQUIRED, &acids) != OG_JSON_FOUND)
    return FALSE;

  json_object_iter_init (&iter, acids.object);
  while (json_object_iter_next (&iter, &code, NULL))
    if (!read_share (&acids, code, quality, profile))
      return FALSE;

  sum = og_profile_sum (profile);
  sum_text = og_number_as_given (sum);
  if (sum < MIN_PROFILE_SUM_PCT || sum > MAX_PROFILE_SUM_PCT)
    return og_json_fail (place, "acids", _("the acids sum to %s %%, not about 100 %%"), sum_text);

  og_profile_normalise (profile);
  return TRUE;
}

static void
clear_profile (OgIngredient *ingredient)
{
  g_clear_pointer (&ingredient->profile, og_profile_free);
  g_clear_pointer (&ingredient->profile_source, g_free);
  g_clear_pointer (&ingredient->profile_note, g_free);
  ingredient->profile_quality = OG_QUALITY_UNKNOWN;
}

static gboolean
read_profile (const OgJsonReader *material,
              OgIngredient       *ingredient)
{
  static const char *const known[] = { "unit", "source", "quality", "note", "acids", NULL };
  OgJsonReader place;
  OgJsonFound found = og_json_read_object (material, "profile", OG_JSON_OPTIONAL, &place);

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;

  clear_profile (ingredient);
  if (found == OG_JSON_REMOVED)
    return TRUE;

  set_whole (&place);
  ingredient->profile = og_profile_new ();
  return check_members (&place, known) &&
         read_unit (&place, PROFILE_UNIT) &&
         og_json_read_source (&place, OG_JSON_REQUIRED, &ingredient->profile_source) &&
         og_quality_read (&place, "quality", OG_JSON_REQUIRED, &ingredient->profile_quality) &&
         og_json_read_text (&place, "note", OG_JSON_OPTIONAL, &ingredient->profile_note) &&
         read_shares (&place, ingredient->profile_quality, ingredient->profile);
}

static gboolean
read_datum (const OgJsonReader *place,
            gpointer            user_data)
{
  static const char *const known[] = { "temperature_c", "value", "unit", "source", "quality",
                                       "note", NULL };
  GArray *viscosity = user_data;
  guint last = viscosity->len;
  OgViscosityDatum *datum;
  g_autofree char *unit = NULL;

  g_array_set_size (viscosity, last + 1);
  datum = &g_array_index (viscosity, OgViscosityDatum, last);
  if (!check_members (place, known) ||
      !og_json_read_number (place, "temperature_c", OG_JSON_REQUIRED, OG_TEMPERATURE_FILE_LOWEST_C,
                            OG_TEMPERATURE_FILE_HIGHEST_C, &datum->temperature_c) ||
      !og_json_read_number (place, "value", OG_JSON_REQUIRED, 0.01, 1e12, &datum->value) ||
      !og_json_read_source (place, OG_JSON_REQUIRED, &datum->source) ||
      !og_quality_read (place, "quality", OG_JSON_REQUIRED, &datum->quality) ||
      !og_json_read_text (place, "note", OG_JSON_OPTIONAL, &datum->note) ||
      !og_json_read_text (place, "unit", OG_JSON_REQUIRED, &unit))
    return FALSE;

  datum->kinematic = g_str_equal (unit, "mm2/s");
  if (!datum->kinematic && !g_str_equal (unit, "mPa.s"))
    return fail_unit (place, unit, "mPa.s");
  return TRUE;
}

static int
compare_data (const OgViscosityDatum *a,
              const OgViscosityDatum *b)
{
  return (a->temperature_c > b->temperature_c) - (a->temperature_c < b->temperature_c);
}

static gboolean
read_viscosity (const OgJsonReader *material,
                OgIngredient       *ingredient)
{
  JsonArray *array = NULL;
  OgJsonFound found = og_json_read_array (material, "viscosity", OG_JSON_OPTIONAL, &array);

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;

  g_array_set_size (ingredient->viscosity, 0);
  if (!og_json_read_entries (material, "viscosity", array, read_datum, ingredient->viscosity))
    return FALSE;
  g_array_sort (ingredient->viscosity, (GCompareFunc) compare_data);
  return TRUE;
}

static gboolean
read_solvent (const OgJsonReader *place,
              const char         *member,
              OgSolventFit       *fit)
{
  JsonNode *node;

  if (og_json_find (place, member, OG_JSON_OPTIONAL, &node) == OG_JSON_REMOVED)
    *fit = OG_SOLVENT_UNKNOWN;
  return og_solvent_fit_read (place, member, OG_JSON_OPTIONAL, fit);
}

static gboolean
read_solvents (const OgJsonReader *gelling_place,
               OgGelling          *gelling)
{
  static const char *const known[] = { "triglyceride", "castor", "ester", "hydrocarbon",
                                       "silicone", NULL };
  OgJsonReader place;
  OgJsonFound found = og_json_read_object (gelling_place, "solvents", OG_JSON_OPTIONAL, &place);

  if (found == OG_JSON_REMOVED)
    {
      gelling->triglyceride = gelling->castor = gelling->ester = OG_SOLVENT_UNKNOWN;
      gelling->hydrocarbon = gelling->silicone = OG_SOLVENT_UNKNOWN;
    }
  if (found != OG_JSON_FOUND)
    return found != OG_JSON_FAULT;

  return check_members (&place, known) &&
         read_solvent (&place, "triglyceride", &gelling->triglyceride) &&
         read_solvent (&place, "castor", &gelling->castor) &&
         read_solvent (&place, "ester", &gelling->ester) &&
         read_solvent (&place, "hydrocarbon", &gelling->hydrocarbon) &&
         read_solvent (&place, "silicone", &gelling->silicone);
}

static void
clear_gelling (OgGelling *gelling)
{
  for (guint i = 0; i < OG_N_GEL_FIGURES; i++)
    og_figure_clear (og_gelling_get_figure (gelling, i));
  g_clear_pointer (&gelling->note, g_free);
  gelling->family = OG_GEL_NONE;
  gelling->triglyceride = gelling->castor = gelling->ester = OG_SOLVENT_UNKNOWN;
  gelling->hydrocarbon = gelling->silicone = OG_SOLVENT_UNKNOWN;
  gelling->needs_shear = gelling->reversible = FALSE;
}

static gboolean
read_gelling (const OgJsonReader *material,
              OgIngredient       *ingredient)
{
  const char *known[OG_N_GEL_FIGURES + 6] = { "family", "solvents", "needs_shear", "reversible",
                                              "note", NULL };
  gboolean inherited = ingredient->gelling.family != OG_GEL_NONE;
  OgGelling *gelling = &ingredient->gelling;
  OgJsonReader place;
  OgJsonFound found = og_json_read_object (material, "gelling", OG_JSON_OPTIONAL, &place);

  if (found == OG_JSON_REMOVED)
    clear_gelling (gelling);
  if (found != OG_JSON_FOUND)
    return found != OG_JSON_FAULT;

  if (!inherited)
    set_whole (&place);
  for (guint i = 0; i < OG_N_GEL_FIGURES; i++)
    {
      known[5 + i] = og_gel_figure_rules[i].rule.word.nick;
      if (!read_figure (&place, &og_gel_figure_rules[i].rule, og_gelling_get_figure (gelling, i)))
        return FALSE;
    }
  return check_members (&place, known) &&
         og_gel_family_read (&place, "family", OG_JSON_REQUIRED, &gelling->family) &&
         read_solvents (&place, gelling) &&
         og_json_read_flag (&place, "needs_shear", &gelling->needs_shear) &&
         og_json_read_flag (&place, "reversible", &gelling->reversible) &&
         og_json_read_text (&place, "note", OG_JSON_OPTIONAL, &gelling->note);
}

static gboolean
read_part (const OgJsonReader *place,
           gpointer            user_data)
{
  static const char *const known[] = { "ingredient", "pct", NULL };
  GArray *composition = user_data;
  guint last = composition->len;
  OgPart *part;

  g_array_set_size (composition, last + 1);
  part = &g_array_index (composition, OgPart, last);
  return check_members (place, known) &&
         og_json_read_text (place, "ingredient", OG_JSON_REQUIRED, &part->ingredient_id) &&
         og_json_read_number (place, "pct", OG_JSON_REQUIRED, 0.0, 100.0, &part->pct);
}

static gboolean
read_composition (const OgJsonReader *material,
                  OgIngredient       *ingredient)
{
  JsonArray *array;
  OgJsonFound found = og_json_read_array (material, "composition", OG_JSON_OPTIONAL, &array);
  g_autofree char *sum_text = NULL;
  double sum = 0.0;

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;

  g_array_set_size (ingredient->composition, 0);
  if (found == OG_JSON_REMOVED)
    return TRUE;
  if (!og_json_read_entries (material, "composition", array, read_part, ingredient->composition))
    return FALSE;

  for (guint i = 0; i < ingredient->composition->len; i++)
    sum += g_array_index (ingredient->composition, OgPart, i).pct;
  sum_text = og_number_as_given (sum);
  if (!(fabs (sum - 100.0) <= COMPOSITION_TOLERANCE_PCT))
    return og_json_fail (material, "composition", _("the parts sum to %s %%, not to 100 %%"),
                         sum_text);
  return TRUE;
}

static gboolean
check_cas (const OgJsonReader *place,
           const char         *cas)
{
  return cas == NULL || og_cas_is_valid (cas)
         || og_json_fail (place, "cas", _("“%s” is not a CAS number"), cas);
}

static gboolean
read_constituent (const OgJsonReader *place,
                  gpointer            user_data)
{
  static const char *const known[] = { "name", "cas", "pct", NULL };
  static const OgFigureRule pct = { { "pct", NULL }, "wt %", 0.0, 100.0, FALSE };
  GArray *constituents = user_data;
  guint last = constituents->len;
  OgConstituent *constituent;

  g_array_set_size (constituents, last + 1);
  constituent = &g_array_index (constituents, OgConstituent, last);
  og_figure_init (&constituent->pct);
  if (!check_members (place, known) ||
      !og_json_read_text (place, "name", OG_JSON_REQUIRED, &constituent->name) ||
      !og_json_read_text (place, "cas", OG_JSON_OPTIONAL, &constituent->cas) ||
      !read_figure (place, &pct, &constituent->pct))
    return FALSE;
  if (!og_figure_is_known (&constituent->pct))
    return og_json_fail (place, "pct", "%s", _("is missing"));
  return check_cas (place, constituent->cas);
}

static gboolean
read_constituents (const OgJsonReader *material,
                   OgIngredient       *ingredient)
{
  JsonArray *array;
  OgJsonFound found = og_json_read_array (material, "constituents", OG_JSON_OPTIONAL, &array);
  g_autofree char *sum_text = NULL;
  double sum = 0.0;

  if (found == OG_JSON_FAULT || found == OG_JSON_ABSENT)
    return found == OG_JSON_ABSENT;

  g_array_set_size (ingredient->constituents, 0);
  ingredient->constituents_known = found == OG_JSON_FOUND;
  if (!og_json_read_entries (material, "constituents", array, read_constituent,
                             ingredient->constituents))
    return FALSE;

  for (guint i = 0; i < ingredient->constituents->len; i++)
    sum += g_array_index (ingredient->constituents, OgConstituent, i).pct.value;
  sum_text = og_number_as_given (sum);
  if (sum > 100.0 + COMPOSITION_TOLERANCE_PCT)
    return og_json_fail (material, "constituents",
                         _("the constituents sum to %s %%, above 100 %%"), sum_text);
  return TRUE;
}

static gboolean
is_hex_colour (const char *text)
{
  if (strlen (text) != 7 || text[0] != '#')
    return FALSE;
  for (gsize i = 1; i < 7; i++)
    if (!g_ascii_isxdigit (text[i]))
      return FALSE;
  return TRUE;
}

static gboolean
read_colour (const OgJsonReader *material,
             OgIngredient       *ingredient)
{
  static const char *const known[] = { "ci", "hex", "note", NULL };
  g_autofree char *note = NULL;
  OgJsonReader place;
  OgJsonFound found = og_json_read_object (material, "colour", OG_JSON_OPTIONAL, &place);

  if (found == OG_JSON_REMOVED)
    {
      g_clear_pointer (&ingredient->ci, g_free);
      g_clear_pointer (&ingredient->hex, g_free);
    }
  if (found != OG_JSON_FOUND)
    return found != OG_JSON_FAULT;

  if (!check_members (&place, known) ||
      !og_json_read_text (&place, "ci", OG_JSON_OPTIONAL, &ingredient->ci) ||
      !og_json_read_text (&place, "hex", OG_JSON_OPTIONAL, &ingredient->hex) ||
      !og_json_read_text (&place, "note", OG_JSON_OPTIONAL, &note))
    return FALSE;
  if (ingredient->hex != NULL && !is_hex_colour (ingredient->hex))
    return og_json_fail (&place, "hex", "%s", _("must be a colour such as #8a3b2a"));
  return TRUE;
}

/* Own materials name what they start from, even where that material is not in this catalog. */
static gboolean
read_origin (const OgJsonReader *place,
             const OgIngredient *base,
             OgIngredient       *ingredient)
{
  g_clear_pointer (&ingredient->derived_from, g_free);
  if (place->context->sources == NULL &&
      !og_json_read_text (place, "derived_from", OG_JSON_OPTIONAL, &ingredient->derived_from))
    return FALSE;

  if (base == NULL)
    return TRUE;
  if (ingredient->derived_from != NULL && !g_str_equal (ingredient->derived_from, base->id))
    return og_json_fail_code (place, "derived_from", place->context->reference_code,
                              _("“%s” is not “%s”"), ingredient->derived_from, base->id);
  if (ingredient->derived_from == NULL)
    ingredient->derived_from = g_strdup (base->id);
  return TRUE;
}

static gboolean
read_identity (const OgJsonReader *place,
               OgIngredient       *ingredient)
{
  if (!og_json_read_text (place, "name", OG_JSON_REQUIRED, &ingredient->name) ||
      !og_json_read_text (place, "inci", OG_JSON_OPTIONAL, &ingredient->inci) ||
      !og_json_read_text (place, "cas", OG_JSON_OPTIONAL, &ingredient->cas) ||
      !og_json_read_text (place, "notes", OG_JSON_OPTIONAL, &ingredient->notes) ||
      !og_kind_read (place, "kind", OG_JSON_REQUIRED, &ingredient->kind))
    return FALSE;
  return check_cas (place, ingredient->cas);
}

static gboolean
read_words (const OgJsonReader *place,
            OgIngredient       *ingredient)
{
  return og_json_read_texts (place, "aliases", OG_JSON_OPTIONAL, 0, NULL, &ingredient->aliases) &&
         og_json_read_texts (place, "roles", OG_JSON_REQUIRED, 1, og_role_is_known,
                             &ingredient->roles) &&
         og_json_read_texts (place, "uses", OG_JSON_REQUIRED, 1, og_use_is_known,
                             &ingredient->uses) &&
         og_json_read_texts (place, "tags", OG_JSON_REQUIRED, 0, og_tag_is_known,
                             &ingredient->tags) &&
         og_json_read_texts (place, "cautions", OG_JSON_OPTIONAL, 0, NULL, &ingredient->cautions);
}

static gboolean
check_profile_kind (const OgJsonReader *place,
                    const OgIngredient *ingredient)
{
  if (ingredient->profile == NULL || ingredient->kind == OG_KIND_OIL ||
      ingredient->kind == OG_KIND_BUTTER || ingredient->kind == OG_KIND_WAX_ESTER)
    return TRUE;
  return og_json_fail (place, "profile", "%s", _("belongs to oils, butters and liquid waxes only"));
}

static gboolean
read_material (const OgJsonReader *place,
               const OgIngredient *base,
               OgIngredient       *ingredient)
{
  static const char *const known[] = { "id", "name", "inci", "cas", "aliases", "kind", "roles",
                                       "uses", "tags", "figures", "profile", "viscosity",
                                       "gelling", "composition", "constituents", "colour",
                                       "cautions", "notes", NULL };

  return check_members (place, known) &&
         read_origin (place, base, ingredient) &&
         read_identity (place, ingredient) &&
         read_words (place, ingredient) &&
         read_figures (place, ingredient) &&
         read_profile (place, ingredient) &&
         check_profile_kind (place, ingredient) &&
         read_viscosity (place, ingredient) &&
         read_gelling (place, ingredient) &&
         read_composition (place, ingredient) &&
         read_constituents (place, ingredient) &&
         read_colour (place, ingredient);
}

static gboolean
is_catalog_id (const char *id)
{
  for (const char *p = id; *p != '\0'; p++)
    {
      if (*p == '-' ? p == id || p[1] == '-' || p[1] == '\0'
                    : !g_ascii_islower (*p) && !g_ascii_isdigit (*p))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_id (const OgJsonReader  *place,
         char               **id)
{
  if (!og_json_read_text (place, "id", OG_JSON_REQUIRED, id))
    return FALSE;
  if (place->context->sources != NULL && !is_catalog_id (*id))
    return og_json_fail (place, "id",
                         _("“%s” is not made of lower-case letters, digits and single hyphens"), *id);
  return TRUE;
}

OgIngredient *
og_ingredient_read (const OgJsonReader *reader,
                    const OgIngredient *base)
{
  g_autoptr (OgIngredient) ingredient = NULL;
  g_autofree char *id = NULL;
  OgJsonReader place = *reader;

  place.label = _("material without id");
  if (!read_id (&place, &id))
    return NULL;

  place.label = id;
  if (base != NULL)
    place.nulls = OG_JSON_NULL_REMOVES;
  else if (place.context->sources == NULL)
    place.nulls = OG_JSON_NULL_ABSENT;
  ingredient = base != NULL ? og_ingredient_copy (base) : og_ingredient_new ();
  g_free (ingredient->id);
  ingredient->id = g_strdup (id);
  g_clear_pointer (&ingredient->definition, json_object_unref);
  ingredient->definition = json_object_ref (place.object);
  if (!read_material (&place, base, ingredient))
    return NULL;

  ingredient->own_viscosity = ingredient->derived_from != NULL && ingredient->viscosity->len > 0
                              && json_object_has_member (place.object, "viscosity");
  og_ingredient_index (ingredient);
  return g_steal_pointer (&ingredient);
}

OgIngredient *
og_ingredient_new_from_json (JsonObject          *object,
                             JsonObject          *sources,
                             const OgIngredient  *base,
                             GError             **error)
{
  OgJsonContext context = { .domain = OG_CATALOG_ERROR, .code = OG_CATALOG_ERROR_VALUE,
                            .reference_code = OG_CATALOG_ERROR_REFERENCE, .error = error,
                            .sources = sources };
  OgJsonReader reader = { .context = &context, .object = object };

  g_return_val_if_fail (object != NULL, NULL);

  return og_ingredient_read (&reader, base);
}
