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

/* What holds for the whole of one material. */
typedef struct
{
  const char *id;
  JsonObject *sources; /* NULL: own material */
  GError    **error;
} Context;

/* A JSON object being read and the way to it from the material. */
typedef struct _Place
{
  const struct _Place *parent; /* NULL: the material itself */
  const char          *name;
  JsonObject          *object;
  const Context       *context;
  gboolean             overriding; /* members may be missing, or null to take them away */
} Place;

typedef enum
{
  REQUIRED,
  OPTIONAL
} Need;

typedef enum
{
  FOUND_VALUE,
  FOUND_NOTHING, /* leave what is there */
  FOUND_REMOVAL, /* clear what is there */
  FOUND_FAULT    /* the error is set */
} Found;

static void
append_path (GString     *path,
             const Place *place)
{
  if (place->parent == NULL)
    return;

  append_path (path, place->parent);
  g_string_append_printf (path, "%s.", place->name);
}

G_GNUC_PRINTF (4, 5)
static gboolean
fail (const Place    *place,
      const char     *member,
      OgCatalogError  code,
      const char     *format,
      ...)
{
  g_autoptr (GString) path = g_string_new (NULL);
  g_autofree char *reason = NULL;
  va_list args;

  va_start (args, format);
  reason = g_strdup_vprintf (format, args);
  va_end (args);

  append_path (path, place);
  g_string_append (path, member);
  g_set_error (place->context->error, OG_CATALOG_ERROR, (int) code, "%s: %s: %s",
               place->context->id, path->str, reason);
  return FALSE;
}

static gboolean
fail_value (const Place *place,
            const char  *member,
            const char  *reason)
{
  return fail (place, member, OG_CATALOG_ERROR_VALUE, "%s", reason);
}

static gboolean
fail_word (const Place *place,
           const char  *member,
           const char  *word)
{
  return fail (place, member, OG_CATALOG_ERROR_VALUE, _("“%s” is not one of the words allowed"),
               word);
}

static gboolean
fail_unit (const Place *place,
           const char  *given,
           const char  *unit)
{
  return fail (place, "unit", OG_CATALOG_ERROR_VALUE, _("“%s” is not the unit “%s”"), given, unit);
}

static Found
find_member (const Place *place,
             const char  *member,
             Need         need,
             JsonNode   **node)
{
  *node = json_object_get_member (place->object, member);
  if (*node == NULL)
    {
      if (need == OPTIONAL || place->overriding)
        return FOUND_NOTHING;
      fail_value (place, member, _("is missing"));
      return FOUND_FAULT;
    }
  if (JSON_NODE_HOLDS_NULL (*node) && place->overriding && need == OPTIONAL)
    return FOUND_REMOVAL;
  return FOUND_VALUE;
}

/* Refuses what the format of catalog files does not know: a slip must not pass as unknown. */
static gboolean
check_members (const Place       *place,
               const char *const *known)
{
  JsonObjectIter iter;
  const char *member;

  if (place->context->sources == NULL)
    return TRUE;

  json_object_iter_init (&iter, place->object);
  while (json_object_iter_next (&iter, &member, NULL))
    if (!g_strv_contains (known, member))
      return fail_value (place, member, _("is not a member of the format"));
  return TRUE;
}

static gboolean
get_text (JsonNode    *node,
          const char **text)
{
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    return FALSE;

  *text = json_node_get_string (node);
  return (*text)[strspn (*text, " \t\r\n")] != '\0';
}

static gboolean
get_number (JsonNode *node,
            double   *number)
{
  GType type = JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;

  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return FALSE;

  *number = json_node_get_double (node);
  return isfinite (*number);
}

static gboolean
read_text (const Place *place,
           const char  *member,
           Need         need,
           char       **out)
{
  const char *text;
  JsonNode *node;
  Found found = find_member (place, member, need, &node);

  if (found == FOUND_VALUE && !get_text (node, &text))
    return fail_value (place, member, _("must be a text that is not empty"));

  if (found == FOUND_VALUE || found == FOUND_REMOVAL)
    {
      g_free (*out);
      *out = found == FOUND_VALUE ? g_strdup (text) : NULL;
    }
  return found != FOUND_FAULT;
}

static gboolean
fail_range (const Place *place,
            const char  *member,
            double       number,
            double       lowest,
            double       highest)
{
  g_autofree char *number_text = og_number_as_given (number);
  g_autofree char *lowest_text = og_number_as_given (lowest);
  g_autofree char *highest_text = og_number_as_given (highest);

  return fail (place, member, OG_CATALOG_ERROR_VALUE, _("%s is outside %s to %s"), number_text,
               lowest_text, highest_text);
}

/* Reads a number of @lowest ... @highest; what is not there leaves @out alone. */
static gboolean
read_number (const Place *place,
             const char  *member,
             Need         need,
             double       lowest,
             double       highest,
             double      *out)
{
  double number;
  JsonNode *node;
  Found found = find_member (place, member, need, &node);

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  if (!get_number (node, &number))
    return fail_value (place, member, _("must be a finite number"));
  if (number < lowest || number > highest)
    return fail_range (place, member, number, lowest, highest);
  *out = number;
  return TRUE;
}

static gboolean
read_flag (const Place *place,
           const char  *member,
           gboolean    *out)
{
  JsonNode *node;
  Found found = find_member (place, member, OPTIONAL, &node);

  if (found == FOUND_VALUE)
    {
      if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_BOOLEAN)
        return fail_value (place, member, _("must be true or false"));
      *out = json_node_get_boolean (node);
    }
  else if (found == FOUND_REMOVAL)
    {
      *out = FALSE;
    }
  return found != FOUND_FAULT;
}

/* Opens the object @member. A place that overrides opens places that override, if @overriding. */
static Found
enter (const Place *place,
       const char  *member,
       Need         need,
       gboolean     overriding,
       Place       *child)
{
  JsonNode *node;
  Found found = find_member (place, member, need, &node);

  if (found != FOUND_VALUE)
    return found;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    {
      fail_value (place, member, _("must be an object"));
      return FOUND_FAULT;
    }

  *child = (Place) { place, member, json_node_get_object (node), place->context,
                     place->overriding && overriding };
  return FOUND_VALUE;
}

static Found
find_array (const Place *place,
            const char  *member,
            Need         need,
            JsonArray  **array)
{
  JsonNode *node;
  Found found = find_member (place, member, need, &node);

  if (found != FOUND_VALUE)
    return found;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    {
      fail_value (place, member, _("must be an array"));
      return FOUND_FAULT;
    }

  *array = json_node_get_array (node);
  return FOUND_VALUE;
}

/* Opens the object at @index of @array, which is @member of @place; @name keeps its name. */
static gboolean
enter_element (const Place *place,
               const char  *member,
               JsonArray   *array,
               guint        index,
               char       **name,
               Place       *child)
{
  JsonNode *node = json_array_get_element (array, index);

  *name = g_strdup_printf ("%s[%u]", member, index);
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail_value (place, *name, _("must be an object"));

  *child = (Place) { place, *name, json_node_get_object (node), place->context, FALSE };
  return TRUE;
}

static gboolean
read_texts (const Place  *place,
            const char   *member,
            Need          need,
            gboolean      may_be_empty,
            gboolean    (*is_known) (const char *text),
            char       ***out)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  JsonArray *array = NULL;
  Found found = find_array (place, member, need, &array);

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      g_autofree char *name = g_strdup_printf ("%s[%u]", member, i);
      const char *text;

      if (!get_text (json_array_get_element (array, i), &text))
        return fail_value (place, name, _("must be a text that is not empty"));
      if (is_known != NULL && !is_known (text))
        return fail_word (place, name, text);
      g_ptr_array_add (texts, g_strdup (text));
    }
  if (texts->len == 0 && !may_be_empty)
    return fail_value (place, member, _("must not be empty"));

  g_ptr_array_add (texts, NULL);
  g_strfreev (*out);
  *out = (char **) g_ptr_array_free (g_steal_pointer (&texts), FALSE);
  return TRUE;
}

/* Reads the citation: the text itself for own materials, else what the key stands for. */
static gboolean
read_source (const Place *place,
             char       **out)
{
  g_autofree char *key = NULL;
  JsonObject *sources = place->context->sources;

  if (!read_text (place, "source", REQUIRED, &key))
    return FALSE;

  g_free (*out);
  *out = NULL;
  if (sources == NULL)
    {
      *out = g_steal_pointer (&key);
      return TRUE;
    }
  if (!json_object_has_member (sources, key))
    return fail (place, "source", OG_CATALOG_ERROR_REFERENCE, _("source “%s” is not defined"),
                 key);

  *out = g_strdup (json_object_get_string_member (sources, key));
  return TRUE;
}

static gboolean
read_quality (const Place *place,
              OgQuality   *out)
{
  g_autofree char *nick = NULL;

  if (!read_text (place, "quality", REQUIRED, &nick))
    return FALSE;
  if (!og_quality_from_nick (nick, out))
    return fail_word (place, "quality", nick);
  return TRUE;
}

static gboolean
read_unit (const Place *place,
           const char  *unit)
{
  g_autofree char *given = NULL;

  if (!read_text (place, "unit", REQUIRED, &given))
    return FALSE;
  if (!g_str_equal (given, unit))
    return fail_unit (place, given, unit);
  return TRUE;
}

/* Reads value, low and high; with the quality `range` the middle stands in for a missing value. */
static gboolean
read_spread (const Place *place,
             OgQuality    quality,
             double       lowest,
             double       highest,
             double      *value,
             double      *low,
             double      *high)
{
  Need need_bounds = quality == OG_QUALITY_RANGE ? REQUIRED : OPTIONAL;
  Need need_value = quality == OG_QUALITY_RANGE ? OPTIONAL : REQUIRED;

  *value = *low = *high = NAN;
  if (!read_number (place, "low", need_bounds, lowest, highest, low) ||
      !read_number (place, "high", need_bounds, lowest, highest, high) ||
      !read_number (place, "value", need_value, lowest, highest, value))
    return FALSE;

  if (*low > *high)
    return fail_value (place, "low", _("is above high"));
  if (isnan (*value))
    *value = 0.5 * (*low + *high);
  if (*value < *low)
    return fail_value (place, "value", _("is below low"));
  if (*value > *high)
    return fail_value (place, "value", _("is above high"));
  return TRUE;
}

static gboolean
read_figure_members (const Place        *place,
                     const OgFigureRule *rule,
                     OgFigure           *figure)
{
  static const char *const known[] = { "value", "low", "high", "unit", "at_c",
                                       "source", "quality", "note", NULL };
  Need need_at_c = rule->at_c ? REQUIRED : OPTIONAL;

  if (!check_members (place, known) ||
      !read_quality (place, &figure->quality) ||
      !read_unit (place, rule->unit) ||
      !read_source (place, &figure->source) ||
      !read_text (place, "note", OPTIONAL, &figure->note) ||
      !read_number (place, "at_c", need_at_c, OG_TEMPERATURE_FILE_LOWEST_C,
                    OG_TEMPERATURE_FILE_HIGHEST_C, &figure->at_c) ||
      !read_spread (place, figure->quality, rule->lowest, rule->highest,
                    &figure->value, &figure->low, &figure->high))
    return FALSE;

  figure->unit = g_strdup (rule->unit);
  return TRUE;
}

static gboolean
read_figure (const Place        *parent,
             const OgFigureRule *rule,
             OgFigure           *figure)
{
  Place place;
  Found found = enter (parent, rule->nick, OPTIONAL, FALSE, &place);

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  og_figure_clear (figure);
  return found == FOUND_REMOVAL || read_figure_members (&place, rule, figure);
}

static gboolean
check_usual_range (const Place        *place,
                   const OgIngredient *ingredient)
{
  const OgFigure *low = &ingredient->figures[OG_FIGURE_USUAL_LOW_PCT];
  const OgFigure *high = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];

  if (og_figure_is_known (low) && og_figure_is_known (high) && low->value > high->value)
    return fail_value (place, "usual_low_pct", _("is above usual_high_pct"));
  return TRUE;
}

static gboolean
read_figures (const Place  *material,
              OgIngredient *ingredient)
{
  const char *known[OG_N_FIGURES + 1] = { NULL };
  Place place;
  Found found = enter (material, "figures", OPTIONAL, TRUE, &place);

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  for (guint i = 0; i < OG_N_FIGURES; i++)
    {
      known[i] = og_figure_rules[i].nick;
      if (found == FOUND_REMOVAL)
        og_figure_clear (&ingredient->figures[i]);
      else if (!read_figure (&place, &og_figure_rules[i], &ingredient->figures[i]))
        return FALSE;
    }
  if (found == FOUND_REMOVAL)
    return TRUE;
  return check_members (&place, known) && check_usual_range (&place, ingredient);
}

static gboolean
read_share (const Place *acids,
            const char  *code,
            OgQuality    quality,
            OgProfile   *profile)
{
  static const char *const known[] = { "value", "low", "high", NULL };
  g_autoptr (GError) error = NULL;
  double pct, low_pct, high_pct;
  OgAcid acid;
  Place place;

  if (!og_acid_parse (code, &acid, &error))
    return fail_value (acids, code, error->message);
  if (enter (acids, code, REQUIRED, FALSE, &place) != FOUND_VALUE ||
      !check_members (&place, known) ||
      !read_spread (&place, quality, 0.0, 100.0, &pct, &low_pct, &high_pct))
    return FALSE;

  og_profile_add_range (profile, acid, pct, low_pct, high_pct);
  return TRUE;
}

static gboolean
read_shares (const Place *place,
             OgQuality    quality,
             OgProfile   *profile)
{
  JsonObjectIter iter;
  g_autofree char *sum_text = NULL;
  const char *code;
  Place acids;
  double sum;

  if (enter (place, "acids", REQUIRED, FALSE, &acids) != FOUND_VALUE)
    return FALSE;

  json_object_iter_init (&iter, acids.object);
  while (json_object_iter_next (&iter, &code, NULL))
    if (!read_share (&acids, code, quality, profile))
      return FALSE;

  sum = og_profile_sum (profile);
  sum_text = og_number_as_given (sum);
  if (sum < MIN_PROFILE_SUM_PCT || sum > MAX_PROFILE_SUM_PCT)
    return fail (place, "acids", OG_CATALOG_ERROR_VALUE,
                 _("the acids sum to %s %%, not about 100 %%"), sum_text);

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
read_profile (const Place  *material,
              OgIngredient *ingredient)
{
  static const char *const known[] = { "unit", "source", "quality", "note", "acids", NULL };
  Place place;
  Found found = enter (material, "profile", OPTIONAL, FALSE, &place);

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  clear_profile (ingredient);
  if (found == FOUND_REMOVAL)
    return TRUE;

  ingredient->profile = og_profile_new ();
  return check_members (&place, known) &&
         read_unit (&place, PROFILE_UNIT) &&
         read_source (&place, &ingredient->profile_source) &&
         read_quality (&place, &ingredient->profile_quality) &&
         read_text (&place, "note", OPTIONAL, &ingredient->profile_note) &&
         read_shares (&place, ingredient->profile_quality, ingredient->profile);
}

static gboolean
read_datum_members (const Place      *place,
                    OgViscosityDatum *datum)
{
  static const char *const known[] = { "temperature_c", "value", "unit", "source", "quality",
                                       "note", NULL };
  g_autofree char *unit = NULL;

  if (!check_members (place, known) ||
      !read_number (place, "temperature_c", REQUIRED, OG_TEMPERATURE_FILE_LOWEST_C,
                    OG_TEMPERATURE_FILE_HIGHEST_C, &datum->temperature_c) ||
      !read_number (place, "value", REQUIRED, 0.01, 1e12, &datum->value) ||
      !read_source (place, &datum->source) ||
      !read_quality (place, &datum->quality) ||
      !read_text (place, "note", OPTIONAL, &datum->note) ||
      !read_text (place, "unit", REQUIRED, &unit))
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
read_viscosity (const Place  *material,
                OgIngredient *ingredient)
{
  JsonArray *array = NULL;
  Found found = find_array (material, "viscosity", OPTIONAL, &array);

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  g_array_set_size (ingredient->viscosity, 0);
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      g_autofree char *name = NULL;
      Place place;

      if (!enter_element (material, "viscosity", array, i, &name, &place))
        return FALSE;
      g_array_set_size (ingredient->viscosity, i + 1);
      if (!read_datum_members (&place, &g_array_index (ingredient->viscosity, OgViscosityDatum, i)))
        return FALSE;
    }
  g_array_sort (ingredient->viscosity, (GCompareFunc) compare_data);
  return TRUE;
}

static gboolean
read_solvent (const Place  *place,
              const char   *member,
              OgSolventFit *fit)
{
  g_autofree char *nick = NULL;

  if (!read_text (place, member, OPTIONAL, &nick))
    return FALSE;
  if (nick == NULL)
    {
      if (json_object_has_member (place->object, member))
        *fit = OG_SOLVENT_UNKNOWN;
      return TRUE;
    }
  if (!og_solvent_fit_from_nick (nick, fit))
    return fail_word (place, member, nick);
  return TRUE;
}

static gboolean
read_solvents (const Place *gelling_place,
               OgGelling   *gelling)
{
  static const char *const known[] = { "triglyceride", "castor", "ester", "hydrocarbon",
                                       "silicone", NULL };
  Place place;
  Found found = enter (gelling_place, "solvents", OPTIONAL, TRUE, &place);

  if (found == FOUND_REMOVAL)
    {
      gelling->triglyceride = gelling->castor = gelling->ester = OG_SOLVENT_UNKNOWN;
      gelling->hydrocarbon = gelling->silicone = OG_SOLVENT_UNKNOWN;
    }
  if (found != FOUND_VALUE)
    return found != FOUND_FAULT;

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
read_gel_family (const Place *place,
                 OgGelFamily *family)
{
  g_autofree char *nick = NULL;

  if (!read_text (place, "family", REQUIRED, &nick))
    return FALSE;
  if (nick != NULL && !og_gel_family_from_nick (nick, family))
    return fail_word (place, "family", nick);
  return TRUE;
}

static gboolean
read_gelling (const Place  *material,
              OgIngredient *ingredient)
{
  const char *known[OG_N_GEL_FIGURES + 6] = { "family", "solvents", "needs_shear", "reversible",
                                              "note", NULL };
  gboolean inherited = ingredient->gelling.family != OG_GEL_NONE;
  OgGelling *gelling = &ingredient->gelling;
  Place place;
  Found found = enter (material, "gelling", OPTIONAL, inherited, &place);

  if (found == FOUND_REMOVAL)
    clear_gelling (gelling);
  if (found != FOUND_VALUE)
    return found != FOUND_FAULT;

  for (guint i = 0; i < OG_N_GEL_FIGURES; i++)
    {
      known[5 + i] = og_gel_figure_rules[i].rule.nick;
      if (!read_figure (&place, &og_gel_figure_rules[i].rule, og_gelling_get_figure (gelling, i)))
        return FALSE;
    }
  return check_members (&place, known) &&
         read_gel_family (&place, &gelling->family) &&
         read_solvents (&place, gelling) &&
         read_flag (&place, "needs_shear", &gelling->needs_shear) &&
         read_flag (&place, "reversible", &gelling->reversible) &&
         read_text (&place, "note", OPTIONAL, &gelling->note);
}

static gboolean
read_composition (const Place  *material,
                  OgIngredient *ingredient)
{
  static const char *const known[] = { "ingredient", "pct", NULL };
  JsonArray *array = NULL;
  Found found = find_array (material, "composition", OPTIONAL, &array);
  g_autofree char *sum_text = NULL;
  double sum = 0.0;

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  g_array_set_size (ingredient->composition, 0);
  if (found == FOUND_REMOVAL)
    return TRUE;

  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      g_autofree char *name = NULL;
      OgPart *part;
      Place place;

      if (!enter_element (material, "composition", array, i, &name, &place))
        return FALSE;
      g_array_set_size (ingredient->composition, i + 1);
      part = &g_array_index (ingredient->composition, OgPart, i);
      if (!check_members (&place, known) ||
          !read_text (&place, "ingredient", REQUIRED, &part->ingredient_id) ||
          !read_number (&place, "pct", REQUIRED, 0.0, 100.0, &part->pct))
        return FALSE;
      sum += part->pct;
    }
  sum_text = og_number_as_given (sum);
  if (!(fabs (sum - 100.0) <= COMPOSITION_TOLERANCE_PCT))
    return fail (material, "composition", OG_CATALOG_ERROR_VALUE,
                 _("the parts sum to %s %%, not to 100 %%"), sum_text);
  return TRUE;
}

static gboolean
read_constituent (const Place   *place,
                  OgConstituent *constituent)
{
  static const char *const known[] = { "name", "cas", "pct", NULL };
  static const OgFigureRule pct = { "pct", NULL, "wt %", 0.0, 100.0, FALSE };

  og_figure_init (&constituent->pct);
  if (!check_members (place, known) ||
      !read_text (place, "name", REQUIRED, &constituent->name) ||
      !read_text (place, "cas", OPTIONAL, &constituent->cas) ||
      !read_figure (place, &pct, &constituent->pct))
    return FALSE;
  if (!og_figure_is_known (&constituent->pct))
    return fail_value (place, "pct", _("is missing"));
  if (constituent->cas != NULL && !og_cas_is_valid (constituent->cas))
    return fail (place, "cas", OG_CATALOG_ERROR_VALUE, _("“%s” is not a CAS number"),
                 constituent->cas);
  return TRUE;
}

static gboolean
read_constituents (const Place  *material,
                   OgIngredient *ingredient)
{
  JsonArray *array = NULL;
  Found found = find_array (material, "constituents", OPTIONAL, &array);
  g_autofree char *sum_text = NULL;
  double sum = 0.0;

  if (found == FOUND_FAULT || found == FOUND_NOTHING)
    return found == FOUND_NOTHING;

  g_array_set_size (ingredient->constituents, 0);
  ingredient->constituents_known = found == FOUND_VALUE;
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      g_autofree char *name = NULL;
      OgConstituent *constituent;
      Place place;

      if (!enter_element (material, "constituents", array, i, &name, &place))
        return FALSE;
      g_array_set_size (ingredient->constituents, i + 1);
      constituent = &g_array_index (ingredient->constituents, OgConstituent, i);
      if (!read_constituent (&place, constituent))
        return FALSE;
      sum += constituent->pct.value;
    }
  sum_text = og_number_as_given (sum);
  if (sum > 100.0 + COMPOSITION_TOLERANCE_PCT)
    return fail (material, "constituents", OG_CATALOG_ERROR_VALUE,
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
read_colour (const Place  *material,
             OgIngredient *ingredient)
{
  static const char *const known[] = { "ci", "hex", "note", NULL };
  g_autofree char *note = NULL;
  Place place;
  Found found = enter (material, "colour", OPTIONAL, TRUE, &place);

  if (found == FOUND_REMOVAL)
    {
      g_clear_pointer (&ingredient->ci, g_free);
      g_clear_pointer (&ingredient->hex, g_free);
    }
  if (found != FOUND_VALUE)
    return found != FOUND_FAULT;

  if (!check_members (&place, known) ||
      !read_text (&place, "ci", OPTIONAL, &ingredient->ci) ||
      !read_text (&place, "hex", OPTIONAL, &ingredient->hex) ||
      !read_text (&place, "note", OPTIONAL, &note))
    return FALSE;
  if (ingredient->hex != NULL && !is_hex_colour (ingredient->hex))
    return fail_value (&place, "hex", _("must be a colour such as #8a3b2a"));
  return TRUE;
}

static gboolean
read_kind (const Place *place,
           OgKind      *kind)
{
  g_autofree char *nick = NULL;

  if (!read_text (place, "kind", REQUIRED, &nick))
    return FALSE;
  if (nick != NULL && !og_kind_from_nick (nick, kind))
    return fail_word (place, "kind", nick);
  return TRUE;
}

/* Own materials name what they start from, even where that material is not in this catalog. */
static gboolean
read_origin (const Place        *place,
             const OgIngredient *base,
             OgIngredient       *ingredient)
{
  g_clear_pointer (&ingredient->derived_from, g_free);
  if (place->context->sources == NULL &&
      !read_text (place, "derived_from", OPTIONAL, &ingredient->derived_from))
    return FALSE;

  if (base == NULL)
    return TRUE;
  if (ingredient->derived_from != NULL && !g_str_equal (ingredient->derived_from, base->id))
    return fail (place, "derived_from", OG_CATALOG_ERROR_REFERENCE, _("“%s” is not “%s”"),
                 ingredient->derived_from, base->id);
  if (ingredient->derived_from == NULL)
    ingredient->derived_from = g_strdup (base->id);
  return TRUE;
}

static gboolean
read_identity (const Place  *place,
               OgIngredient *ingredient)
{
  if (!read_text (place, "name", REQUIRED, &ingredient->name) ||
      !read_text (place, "inci", OPTIONAL, &ingredient->inci) ||
      !read_text (place, "cas", OPTIONAL, &ingredient->cas) ||
      !read_text (place, "notes", OPTIONAL, &ingredient->notes) ||
      !read_kind (place, &ingredient->kind))
    return FALSE;
  if (ingredient->cas != NULL && !og_cas_is_valid (ingredient->cas))
    return fail (place, "cas", OG_CATALOG_ERROR_VALUE, _("“%s” is not a CAS number"),
                 ingredient->cas);
  return TRUE;
}

static gboolean
read_words (const Place  *place,
            OgIngredient *ingredient)
{
  return read_texts (place, "aliases", OPTIONAL, TRUE, NULL, &ingredient->aliases) &&
         read_texts (place, "roles", REQUIRED, FALSE, og_role_is_known, &ingredient->roles) &&
         read_texts (place, "uses", REQUIRED, FALSE, og_use_is_known, &ingredient->uses) &&
         read_texts (place, "tags", REQUIRED, TRUE, og_tag_is_known, &ingredient->tags) &&
         read_texts (place, "cautions", OPTIONAL, TRUE, NULL, &ingredient->cautions);
}

static gboolean
check_profile_kind (const Place        *place,
                    const OgIngredient *ingredient)
{
  if (ingredient->profile == NULL || ingredient->kind == OG_KIND_OIL ||
      ingredient->kind == OG_KIND_BUTTER || ingredient->kind == OG_KIND_WAX_ESTER)
    return TRUE;
  return fail_value (place, "profile", _("belongs to oils, butters and liquid waxes only"));
}

static gboolean
read_material (const Place        *place,
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
read_id (const Place *place,
         char       **id)
{
  if (!read_text (place, "id", REQUIRED, id))
    return FALSE;
  if (place->context->sources != NULL && !is_catalog_id (*id))
    return fail (place, "id", OG_CATALOG_ERROR_VALUE,
                 _("“%s” is not made of lower-case letters, digits and single hyphens"), *id);
  return TRUE;
}

OgIngredient *
og_ingredient_new_from_json (JsonObject          *object,
                             JsonObject          *sources,
                             const OgIngredient  *base,
                             GError             **error)
{
  g_autoptr (OgIngredient) ingredient = NULL;
  g_autofree char *id = NULL;
  Context context = { _("material without id"), sources, error };
  Place place = { NULL, NULL, object, &context, FALSE };

  g_return_val_if_fail (object != NULL, NULL);

  if (!read_id (&place, &id))
    return NULL;

  context.id = id;
  place.overriding = base != NULL;
  ingredient = base != NULL ? og_ingredient_copy (base) : og_ingredient_new ();
  g_free (ingredient->id);
  ingredient->id = g_strdup (id);
  g_clear_pointer (&ingredient->definition, json_object_unref);
  ingredient->definition = json_object_ref (object);
  if (!read_material (&place, base, ingredient))
    return NULL;

  og_ingredient_index (ingredient);
  return g_steal_pointer (&ingredient);
}
