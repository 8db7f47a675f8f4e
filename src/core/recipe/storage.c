/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/storage.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <math.h>
#include <string.h>

#include "core/base/dates.h"
#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "core/base/json-write.h"
#include "core/base/number-text.h"
#include "core/material/product-json.h"
#include "core/recipe/bench.h"
#include "core/recipe/recipe-limits.h"

#define FORMAT_NAME "oleograph-document"

/* Reader: what is known while one document is read. */
typedef struct
{
  const char *name;
  OgCatalog  *catalog;
  GHashTable *start_lines; /* JsonObject -> line of the file where it begins */
  GArray     *open_lines;  /* of guint: start lines of the objects that are still open */
  GHashTable *ids;         /* of lines and phases alike */
  guint       highest_id;
  OgFormula  *formula;
} Reader;

static const char *const document_members[] = {
  "batch_g", "body_bounds", "costs", "format", "label", "materials", "measurements", "notes", "open_months",
  "package", "phases", "product", "purpose", "stability", "target", "title", "version", "warnings", NULL
};
static const char *const phase_members[] = {
  "id", "lines", "name", "note", "temperature_c", NULL
};
static const char *const line_members[] = {
  "add_temperature_c", "amount", "balance_share", "held", "id", "ingredient", "note", NULL
};

/* --- reading --------------------------------------------------------------- */

static gboolean G_GNUC_PRINTF (5, 6)
fail (const Reader    *reader,
      JsonObject      *object,
      OgStorageError   code,
      GError         **error,
      const char      *format,
      ...)
{
  g_autofree char *reason = NULL;
  guint line = GPOINTER_TO_UINT (g_hash_table_lookup (reader->start_lines, object));
  va_list args;

  va_start (args, format);
  reason = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (error, OG_STORAGE_ERROR, (gint) code, "%s:%u: %s", reader->name,
               MAX (line, 1), reason);
  return FALSE;
}

static void
on_object_start (JsonParser *parser,
                 gpointer    user_data)
{
  Reader *reader = user_data;
  guint line = json_parser_get_current_line (parser);

  g_array_append_val (reader->open_lines, line);
}

static void
on_object_end (JsonParser *parser,
               JsonObject *object,
               gpointer    user_data)
{
  Reader *reader = user_data;
  guint last = reader->open_lines->len - 1;

  g_hash_table_insert (reader->start_lines, object,
                       GUINT_TO_POINTER (g_array_index (reader->open_lines, guint, last)));
  g_array_set_size (reader->open_lines, last);
}

static gboolean
is_integer (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_INT64;
}

static gboolean
is_number (JsonNode *node)
{
  return is_integer (node)
         || (JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_DOUBLE);
}

static gboolean
is_string (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) && json_node_get_value_type (node) == G_TYPE_STRING;
}

/* Leaves @value alone when the member is not there. */
static gboolean
read_string (const Reader  *reader,
             JsonObject    *object,
             const char    *member,
             glong          max_length,
             char         **value,
             GError       **error)
{
  JsonNode *node = json_object_get_member (object, member);
  const char *text;

  if (node == NULL)
    return TRUE;
  if (!is_string (node))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, _("“%s” must be text."), member);

  text = json_node_get_string (node);
  if (g_utf8_strlen (text, -1) > max_length)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” is longer than %ld characters."), member, max_length);
  g_free (*value);
  *value = g_strdup (text);
  return TRUE;
}

static gboolean
fail_range (const Reader  *reader,
            JsonObject    *object,
            const char    *member,
            double         low,
            double         high,
            GError       **error)
{
  g_autofree char *low_text = og_number_as_given (low);
  g_autofree char *high_text = og_number_as_given (high);

  return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
               _("“%s” must lie between %s and %s."), member, low_text, high_text);
}

/* Leaves @value alone when the member is not there. */
static gboolean
read_number (const Reader  *reader,
             JsonObject    *object,
             const char    *member,
             double         low,
             double         high,
             double        *value,
             GError       **error)
{
  JsonNode *node = json_object_get_member (object, member);
  double number;

  if (node == NULL)
    return TRUE;
  if (!is_number (node))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be a number."), member);

  number = json_node_get_double (node);
  if (!isfinite (number) || number < low || number > high)
    return fail_range (reader, object, member, low, high, error);
  *value = number;
  return TRUE;
}

/* Leaves @value alone when the member is not there and not @required. */
static gboolean
read_integer (const Reader  *reader,
              JsonObject    *object,
              const char    *member,
              gboolean       required,
              gint64         low,
              gint64         high,
              gint64        *value,
              GError       **error)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL && !required)
    return TRUE;
  if (node == NULL)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, _("“%s” is missing."), member);
  if (!is_integer (node))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be a whole number."), member);
  if (json_node_get_int (node) < low || json_node_get_int (node) > high)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must lie between %" PRId64 " and %" PRId64 "."),
                 member, low, high);
  *value = json_node_get_int (node);
  return TRUE;
}

static gboolean
read_boolean (const Reader  *reader,
              JsonObject    *object,
              const char    *member,
              gboolean      *value,
              GError       **error)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_BOOLEAN)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be true or false."), member);
  *value = json_node_get_boolean (node);
  return TRUE;
}

/* Lines and phases draw their ids from one row of numbers. */
static gboolean
read_id (Reader      *reader,
         JsonObject  *object,
         guint       *id,
         GError     **error)
{
  gint64 value = 0;

  if (!read_integer (reader, object, "id", TRUE, 1, OG_RECIPE_MAX_ID, &value, error))
    return FALSE;
  if (!g_hash_table_add (reader->ids, GUINT_TO_POINTER ((guint) value)))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("The id %u occurs twice."), (guint) value);

  *id = (guint) value;
  reader->highest_id = MAX (reader->highest_id, *id);
  return TRUE;
}

static gboolean
read_array (const Reader  *reader,
            JsonObject    *object,
            const char    *member,
            gboolean       required,
            JsonArray    **array,
            GError       **error)
{
  JsonNode *node = json_object_get_member (object, member);

  *array = NULL;
  if (node == NULL && !required)
    return TRUE;
  if (node == NULL)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, _("“%s” is missing."), member);
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, _("“%s” must be a list."), member);

  *array = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (*array); i++)
    {
      if (!JSON_NODE_HOLDS_OBJECT (json_array_get_element (*array, i)))
        return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                     _("Entry %u of “%s” must be an object."), i + 1, member);
    }
  return TRUE;
}

static gboolean
read_line (Reader          *reader,
           OgFormulaPhase  *phase,
           JsonObject      *object,
           GError         **error)
{
  g_autofree char *ingredient = NULL;
  OgFormulaLine *line;
  gint64 amount = 0, share = 0;
  guint id;

  if (!read_id (reader, object, &id, error)
      || !read_string (reader, object, "ingredient", OG_RECIPE_MAX_NAME, &ingredient, error)
      || !read_integer (reader, object, "amount", TRUE, 0, OG_PPM_WHOLE, &amount, error)
      || !read_integer (reader, object, "balance_share", FALSE, 0, OG_RECIPE_MAX_BALANCE_SHARE,
                        &share, error))
    return FALSE;
  if (ingredient == NULL || *ingredient == '\0')
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” is missing."), "ingredient");

  line = og_formula_add_line (reader->formula, phase, ingredient, (OgPpm) amount, G_MAXUINT);
  line->id = id;
  line->balance_share = (guint) share;
  line->extra = og_json_extra (object, line_members);
  return read_boolean (reader, object, "held", &line->held, error)
         && read_number (reader, object, "add_temperature_c", OG_RECIPE_LOWEST_C,
                         OG_RECIPE_HIGHEST_C, &line->add_temperature_c, error)
         && read_string (reader, object, "note", G_MAXLONG, &line->note, error);
}

static gboolean
read_phase (Reader      *reader,
            JsonObject  *object,
            GError     **error)
{
  g_autofree char *name = g_strdup ("");
  OgFormulaPhase *phase;
  JsonArray *lines;
  guint id;

  if (!read_id (reader, object, &id, error)
      || !read_string (reader, object, "name", OG_RECIPE_MAX_NAME, &name, error)
      || !read_array (reader, object, "lines", TRUE, &lines, error))
    return FALSE;

  phase = og_formula_add_phase (reader->formula, name, NAN, G_MAXUINT);
  phase->id = id;
  phase->extra = og_json_extra (object, phase_members);
  if (!read_number (reader, object, "temperature_c", OG_RECIPE_LOWEST_C, OG_RECIPE_HIGHEST_C,
                    &phase->temperature_c, error)
      || !read_string (reader, object, "note", G_MAXLONG, &phase->note, error))
    return FALSE;

  for (guint i = 0; i < json_array_get_length (lines); i++)
    {
      if (!read_line (reader, phase, json_array_get_object_element (lines, i), error))
        return FALSE;
    }
  return TRUE;
}

static const OgIngredient *
find_own_material (const Reader *reader,
                   const char   *id)
{
  for (guint i = 0; i < reader->formula->materials->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (reader->formula->materials, i);

      if (g_str_equal (material->id, id))
        return material;
    }
  return NULL;
}

/* Own materials come before those of the library, so that one can build on another. */
static gboolean
find_base (const Reader        *reader,
           JsonObject          *object,
           const OgIngredient **base,
           GError             **error)
{
  g_autofree char *id = NULL;

  *base = NULL;
  if (!read_string (reader, object, "derived_from", OG_RECIPE_MAX_NAME, &id, error))
    return FALSE;
  if (id == NULL)
    return TRUE;

  *base = find_own_material (reader, id);
  if (*base == NULL)
    *base = og_catalog_get (reader->catalog, id);
  if (*base == NULL)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("A material is derived from “%s”, which is not known."), id);
  return TRUE;
}

static gboolean
read_material (Reader      *reader,
               JsonObject  *object,
               GError     **error)
{
  g_autoptr (OgIngredient) material = NULL;
  g_autoptr (GError) reason = NULL;
  const OgIngredient *base;

  if (!find_base (reader, object, &base, error))
    return FALSE;
  material = og_ingredient_new_from_json (object, NULL, base, &reason);
  if (material == NULL)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, "%s", reason->message);
  if (find_own_material (reader, material->id) != NULL)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("The material “%s” occurs twice."), material->id);

  g_ptr_array_add (reader->formula->materials, g_steal_pointer (&material));
  return TRUE;
}

static gboolean
read_measurement (Reader      *reader,
                  GHashTable  *ids,
                  JsonObject  *object,
                  GError     **error)
{
  g_autoptr (OgMeasurement) measurement = NULL;
  g_autoptr (GError) reason = NULL;

  measurement = og_measurement_from_json (object, &reason);
  if (measurement == NULL)
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, "%s", reason->message);
  if (!g_hash_table_add (ids, measurement->id))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("The measurement “%s” occurs twice."), measurement->id);

  g_ptr_array_add (reader->formula->measurements, g_steal_pointer (&measurement));
  return TRUE;
}

static gboolean
read_measurements (Reader      *reader,
                   JsonObject  *document,
                   GError     **error)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  JsonArray *array;

  if (!read_array (reader, document, "measurements", FALSE, &array, error))
    return FALSE;
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      if (!read_measurement (reader, ids, json_array_get_object_element (array, i), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_target (Reader      *reader,
             JsonObject  *document,
             GError     **error)
{
  OgFormula *formula = reader->formula;
  JsonNode *node = json_object_get_member (document, "target");
  JsonObject *target;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (reader, document, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be an object."), "target");

  target = json_node_get_object (node);
  if (!read_number (reader, target, "low_mpa_s", 0, OG_RECIPE_MAX_TARGET_MPA_S,
                    &formula->target_low_mpa_s, error)
      || !read_number (reader, target, "high_mpa_s", 0, OG_RECIPE_MAX_TARGET_MPA_S,
                       &formula->target_high_mpa_s, error))
    return FALSE;
  if (!(formula->target_low_mpa_s <= formula->target_high_mpa_s))
    return fail (reader, target, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” needs a low and a high bound, the low one first."), "target");
  return TRUE;
}

static gboolean
read_body_bounds (Reader      *reader,
                  JsonObject  *document,
                  GError     **error)
{
  OgBodyBounds *bounds = &reader->formula->body_bounds;
  JsonNode *node = json_object_get_member (document, "body_bounds");
  JsonObject *object;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (reader, document, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be an object."), "body_bounds");
  object = json_node_get_object (node);
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    if (!read_number (reader, object, og_body_bound_to_nick ((OgBodyBound) i), 0,
                      OG_RECIPE_MAX_TARGET_MPA_S, &bounds->from[i], error))
      return FALSE;
  if (!og_body_bounds_are_valid (bounds))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                 _("The numbers of “%s” must be above 0 and rise."), "body_bounds");
  return TRUE;
}

static gboolean
read_product (Reader      *reader,
              JsonObject  *document,
              GError     **error)
{
  g_autofree char *nick = NULL;

  if (!read_string (reader, document, "product", OG_RECIPE_MAX_NAME, &nick, error))
    return FALSE;
  if (nick != NULL && !og_product_from_nick (nick, &reader->formula->product))
    return fail (reader, document, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” is no product that this program knows."), nick);
  return TRUE;
}

/* Returns: FALSE with an error; @object is NULL without such a member */
static gboolean
read_object (const Reader  *reader,
             JsonObject    *document,
             const char    *member,
             JsonObject   **object,
             GError       **error)
{
  JsonNode *node = json_object_get_member (document, member);

  *object = NULL;
  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (reader, document, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be an object."), member);
  *object = json_node_get_object (node);
  return TRUE;
}

static gboolean
read_package (Reader      *reader,
              JsonObject  *document,
              GError     **error)
{
  g_autoptr (GError) reason = NULL;
  JsonObject *package;

  if (!read_object (reader, document, "package", &package, error))
    return FALSE;
  if (package != NULL && !og_package_from_json (package, &reader->formula->package, &reason))
    return fail (reader, package, OG_STORAGE_ERROR_VALUE, error, "%s", reason->message);
  return TRUE;
}

static gboolean
read_costs (Reader      *reader,
            JsonObject  *document,
            GError     **error)
{
  JsonArray *array;

  if (!read_array (reader, document, "costs", FALSE, &array, error))
    return FALSE;
  for (guint i = 0; array != NULL && i < json_array_get_length (array); i++)
    {
      g_autoptr (GError) reason = NULL;
      JsonObject *object = json_array_get_object_element (array, i);
      OgCostLine *line = og_cost_line_from_json (object, &reason);

      if (line == NULL)
        return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, "%s", reason->message);
      g_ptr_array_add (reader->formula->costs, line);
    }
  return TRUE;
}

static gboolean
read_ids (const Reader   *reader,
          JsonObject     *object,
          const char     *member,
          char         ***ids,
          GError        **error)
{
  JsonNode *node = json_object_get_member (object, member);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  JsonArray *array;

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (reader, object, OG_STORAGE_ERROR_VALUE, error, _("“%s” must be a list."), member);
  array = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      if (!is_string (json_array_get_element (array, i)))
        return fail (reader, object, OG_STORAGE_ERROR_VALUE, error,
                     _("Entry %u of “%s” must be text."), i + 1, member);
      g_strv_builder_add (builder, json_array_get_string_element (array, i));
    }
  g_strfreev (*ids);
  *ids = g_strv_builder_end (builder);
  return TRUE;
}

static gboolean
read_label (Reader      *reader,
            JsonObject  *document,
            GError     **error)
{
  OgFormula *formula = reader->formula;
  JsonObject *label;

  if (!read_object (reader, document, "label", &label, error))
    return FALSE;
  return label == NULL
         || (read_ids (reader, label, "shades", &formula->shades, error)
             && read_ids (reader, label, "nano", &formula->nano, error)
             && read_boolean (reader, label, "gather_scents", &formula->gather_scents, error));
}

static gboolean
read_stability_start (Reader      *reader,
                      JsonObject  *stability,
                      GError     **error)
{
  g_autofree char *start = NULL;

  if (!read_string (reader, stability, "start", OG_RECIPE_MAX_NAME, &start, error))
    return FALSE;
  if (start != NULL && !og_date_parse (start, &reader->formula->stability_start))
    return fail (reader, stability, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” is no date: year-month-day is needed."), start);
  return TRUE;
}

static gboolean
read_stability (Reader      *reader,
                JsonObject  *document,
                GError     **error)
{
  JsonObject *stability;
  JsonArray *results;
  gint64 months = 0;

  if (!read_object (reader, document, "stability", &stability, error))
    return FALSE;
  if (stability == NULL)
    return TRUE;
  if (!read_stability_start (reader, stability, error)
      || !read_integer (reader, stability, "months", FALSE, 0, OG_RECIPE_MAX_MONTHS, &months, error)
      || !read_array (reader, stability, "results", FALSE, &results, error))
    return FALSE;
  reader->formula->stability_months = (guint) months;
  for (guint i = 0; results != NULL && i < json_array_get_length (results); i++)
    {
      g_autoptr (GError) reason = NULL;
      OgStabilityResult *result
          = og_stability_result_from_json (json_array_get_element (results, i), &reason);

      if (result == NULL)
        return fail (reader, json_array_get_object_element (results, i), OG_STORAGE_ERROR_VALUE,
                     error, "%s", reason->message);
      g_ptr_array_add (reader->formula->stability_results, result);
    }
  return TRUE;
}

static gboolean
read_handover (Reader      *reader,
               JsonObject  *document,
               GError     **error)
{
  gint64 open_months = 0;

  if (!read_product (reader, document, error)
      || !read_package (reader, document, error)
      || !read_integer (reader, document, "open_months", FALSE, 0, OG_RECIPE_MAX_MONTHS,
                        &open_months, error)
      || !read_string (reader, document, "warnings", G_MAXLONG, &reader->formula->warnings, error))
    return FALSE;
  reader->formula->open_months = (guint) open_months;
  return read_costs (reader, document, error)
         && read_label (reader, document, error)
         && read_stability (reader, document, error);
}

static gboolean
check_format (const Reader  *reader,
              JsonObject    *document,
              GError       **error)
{
  JsonNode *format = json_object_get_member (document, "format");
  gint64 version = 0;

  if (format == NULL || !is_string (format)
      || !g_str_equal (json_node_get_string (format), FORMAT_NAME))
    return fail (reader, document, OG_STORAGE_ERROR_NOT_A_DOCUMENT, error,
                 _("The file is JSON, but not an Oleograph document."));
  if (!read_integer (reader, document, "version", TRUE, 1, G_MAXINT64, &version, error))
    return FALSE;
  if (version > OG_STORAGE_VERSION)
    return fail (reader, document, OG_STORAGE_ERROR_NEWER_VERSION, error,
                 _("The file was written by a newer Oleograph (format %" PRId64
                   "; this program reads up to %d)."), version, OG_STORAGE_VERSION);
  return TRUE;
}

static gboolean
read_head (Reader      *reader,
           JsonObject  *document,
           GError     **error)
{
  OgFormula *formula = reader->formula;

  if (!json_object_has_member (document, "batch_g"))
    return fail (reader, document, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” is missing."), "batch_g");
  if (!read_number (reader, document, "batch_g", 0, OG_RECIPE_MAX_BATCH_G, &formula->batch_g,
                    error))
    return FALSE;
  if (formula->batch_g <= 0)
    return fail (reader, document, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be above 0."), "batch_g");

  formula->extra = og_json_extra (document, document_members);
  return read_string (reader, document, "title", OG_RECIPE_MAX_NAME, &formula->title, error)
         && read_string (reader, document, "purpose", OG_RECIPE_MAX_NAME, &formula->purpose, error)
         && read_string (reader, document, "notes", G_MAXLONG, &formula->notes, error)
         && read_target (reader, document, error)
         && read_body_bounds (reader, document, error)
         && read_handover (reader, document, error);
}

static gboolean
read_document (Reader      *reader,
               JsonObject  *document,
               GError     **error)
{
  JsonArray *materials, *phases;

  if (!check_format (reader, document, error)
      || !read_head (reader, document, error)
      || !read_array (reader, document, "materials", FALSE, &materials, error)
      || !read_array (reader, document, "phases", TRUE, &phases, error))
    return FALSE;

  for (guint i = 0; materials != NULL && i < json_array_get_length (materials); i++)
    {
      if (!read_material (reader, json_array_get_object_element (materials, i), error))
        return FALSE;
    }
  for (guint i = 0; i < json_array_get_length (phases); i++)
    {
      if (!read_phase (reader, json_array_get_object_element (phases, i), error))
        return FALSE;
    }
  reader->formula->next_id = reader->highest_id + 1;
  return read_measurements (reader, document, error);
}

/* The library begins its messages with "<data>:LINE:COLUMN: ". */
static gboolean
fail_syntax (const Reader  *reader,
             const GError  *reason,
             GError       **error)
{
  const char *text = reason->message;
  const char *place = strchr (text, ':');
  guint64 line = place != NULL ? g_ascii_strtoull (place + 1, NULL, 10) : 0;
  const char *words = strstr (text, ": ");

  g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX,
               _("%s:%u: The JSON is not well formed (%s)."),
               reader->name, (guint) MAX (line, 1), words != NULL ? words + 2 : text);
  return FALSE;
}

static gboolean
parse_json (Reader      *reader,
            JsonParser  *parser,
            const char  *text,
            gsize        length,
            GError     **error)
{
  g_autoptr (GError) reason = NULL;
  gsize mark = length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;

  g_signal_connect (parser, "object-start", G_CALLBACK (on_object_start), reader);
  g_signal_connect (parser, "object-end", G_CALLBACK (on_object_end), reader);
  if (!json_parser_load_from_data (parser, text + mark, (gssize) (length - mark), &reason))
    return fail_syntax (reader, reason, error);
  return TRUE;
}

static void
reader_clear (Reader *reader)
{
  g_clear_pointer (&reader->start_lines, g_hash_table_unref);
  g_clear_pointer (&reader->open_lines, g_array_unref);
  g_clear_pointer (&reader->ids, g_hash_table_unref);
  g_clear_pointer (&reader->formula, og_formula_free);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reader, reader_clear)

OgFormula *
og_storage_parse (GBytes      *bytes,
                  const char  *name,
                  OgCatalog   *catalog,
                  GError     **error)
{
  g_auto (Reader) reader = { .name = name, .catalog = catalog };
  g_autoptr (JsonParser) parser = NULL;
  gsize length;
  const char *text;
  JsonNode *root;

  g_return_val_if_fail (bytes != NULL && name != NULL && catalog != NULL, NULL);

  text = g_bytes_get_data (bytes, &length);
  if (!og_json_guard (text, length, name, error))
    return NULL;

  reader.start_lines = g_hash_table_new (NULL, NULL);
  reader.open_lines = g_array_new (FALSE, FALSE, sizeof (guint));
  reader.ids = g_hash_table_new (NULL, NULL);
  reader.formula = og_formula_new ();

  parser = json_parser_new ();
  if (!parse_json (&reader, parser, text, length, error))
    return NULL;
  root = json_parser_get_root (parser);
  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root))
    {
      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_NOT_A_DOCUMENT, "%s:1: %s", name,
                   _("The file is JSON, but not an Oleograph document."));
      return NULL;
    }
  if (!read_document (&reader, json_node_get_object (root), error))
    return NULL;
  return g_steal_pointer (&reader.formula);
}

/* --- writing --------------------------------------------------------------- */

static JsonObject *
line_to_json (const OgFormulaLine *line)
{
  JsonObject *object = og_json_begin (line->extra);

  json_object_set_int_member (object, "id", line->id);
  json_object_set_string_member (object, "ingredient", line->ingredient_id);
  json_object_set_int_member (object, "amount", line->amount);
  if (line->balance_share > 0)
    json_object_set_int_member (object, "balance_share", line->balance_share);
  if (line->held)
    json_object_set_boolean_member (object, "held", TRUE);
  og_json_set_number (object, "add_temperature_c", line->add_temperature_c);
  og_json_set_text (object, "note", line->note);
  return object;
}

static JsonObject *
phase_to_json (const OgFormulaPhase *phase)
{
  JsonObject *object = og_json_begin (phase->extra);
  JsonArray *lines = json_array_new ();

  for (guint i = 0; i < phase->lines->len; i++)
    json_array_add_object_element (lines, line_to_json (g_ptr_array_index (phase->lines, i)));
  json_object_set_int_member (object, "id", phase->id);
  json_object_set_string_member (object, "name", phase->name);
  json_object_set_array_member (object, "lines", lines);
  og_json_set_number (object, "temperature_c", phase->temperature_c);
  og_json_set_text (object, "note", phase->note);
  return object;
}

static void
set_target (JsonObject      *document,
            const OgFormula *formula)
{
  JsonObject *target;

  if (isnan (formula->target_low_mpa_s) || isnan (formula->target_high_mpa_s))
    return;
  target = json_object_new ();
  og_json_set_number (target, "low_mpa_s", formula->target_low_mpa_s);
  og_json_set_number (target, "high_mpa_s", formula->target_high_mpa_s);
  json_object_set_object_member (document, "target", target);
}

static void
set_body_bounds (JsonObject      *document,
                 const OgFormula *formula)
{
  OgBodyBounds usual;
  JsonObject *bounds;

  og_body_bounds_init (&usual);
  if (og_body_bounds_equal (&usual, &formula->body_bounds))
    return;
  bounds = json_object_new ();
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    og_json_set_number (bounds, og_body_bound_to_nick ((OgBodyBound) i), formula->body_bounds.from[i]);
  json_object_set_object_member (document, "body_bounds", bounds);
}

static void
set_costs (JsonObject      *document,
           const OgFormula *formula)
{
  JsonArray *costs;

  if (formula->costs->len == 0)
    return;
  costs = json_array_new ();
  for (guint i = 0; i < formula->costs->len; i++)
    json_array_add_object_element (costs,
                                   og_cost_line_to_json (g_ptr_array_index (formula->costs, i)));
  json_object_set_array_member (document, "costs", costs);
}

static void
set_ids (JsonObject         *object,
         const char         *member,
         const char *const  *ids)
{
  JsonArray *array;

  if (ids[0] == NULL)
    return;
  array = json_array_new ();
  for (guint i = 0; ids[i] != NULL; i++)
    json_array_add_string_element (array, ids[i]);
  json_object_set_array_member (object, member, array);
}

/* Takes @object. */
static void
set_unless_empty (JsonObject *document,
                  const char *member,
                  JsonObject *object)
{
  if (json_object_get_size (object) > 0)
    json_object_set_object_member (document, member, object);
  else
    json_object_unref (object);
}

static void
set_label (JsonObject      *document,
           const OgFormula *formula)
{
  JsonObject *label = json_object_new ();

  set_ids (label, "shades", (const char *const *) formula->shades);
  set_ids (label, "nano", (const char *const *) formula->nano);
  if (formula->gather_scents)
    json_object_set_boolean_member (label, "gather_scents", TRUE);
  set_unless_empty (document, "label", label);
}

static void
set_stability (JsonObject      *document,
               const OgFormula *formula)
{
  JsonObject *stability = json_object_new ();
  JsonArray *results;
  g_autofree char *start = NULL;

  if (g_date_valid (&formula->stability_start))
    start = og_date_to_text (&formula->stability_start);
  og_json_set_text (stability, "start", start);
  if (formula->stability_months > 0)
    json_object_set_int_member (stability, "months", formula->stability_months);
  if (formula->stability_results->len > 0)
    {
      results = json_array_new ();
      for (guint i = 0; i < formula->stability_results->len; i++)
        json_array_add_element (results,
                                og_stability_result_to_json (
                                  g_ptr_array_index (formula->stability_results, i)));
      json_object_set_array_member (stability, "results", results);
    }
  set_unless_empty (document, "stability", stability);
}

static void
set_handover (JsonObject      *document,
              const OgFormula *formula)
{
  OgPackage unsaid;

  og_package_init (&unsaid);
  if (formula->product != OG_PRODUCT_UNSAID)
    json_object_set_string_member (document, "product", og_product_to_nick (formula->product));
  if (!og_package_equal (&unsaid, &formula->package))
    json_object_set_object_member (document, "package", og_package_to_json (&formula->package));
  if (formula->open_months > 0)
    json_object_set_int_member (document, "open_months", formula->open_months);
  if (*formula->warnings != '\0')
    json_object_set_string_member (document, "warnings", formula->warnings);
  set_costs (document, formula);
  set_label (document, formula);
  set_stability (document, formula);
}

static void
set_materials (JsonObject      *document,
               const OgFormula *formula)
{
  JsonArray *materials;

  if (formula->materials->len == 0)
    return;
  materials = json_array_new ();
  for (guint i = 0; i < formula->materials->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (formula->materials, i);

      json_array_add_object_element (materials, json_object_ref (material->definition));
    }
  json_object_set_array_member (document, "materials", materials);
}

static void
set_measurements (JsonObject      *document,
                  const OgFormula *formula)
{
  JsonArray *measurements;

  if (formula->measurements->len == 0)
    return;
  measurements = json_array_new ();
  for (guint i = 0; i < formula->measurements->len; i++)
    json_array_add_object_element (measurements,
                                   og_measurement_to_json (g_ptr_array_index (formula->measurements,
                                                                              i)));
  json_object_set_array_member (document, "measurements", measurements);
}

static JsonObject *
formula_to_json (const OgFormula *formula)
{
  JsonObject *document = og_json_begin (formula->extra);
  JsonArray *phases = json_array_new ();

  for (guint i = 0; i < formula->phases->len; i++)
    json_array_add_object_element (phases, phase_to_json (g_ptr_array_index (formula->phases, i)));
  json_object_set_string_member (document, "format", FORMAT_NAME);
  json_object_set_int_member (document, "version", OG_STORAGE_VERSION);
  json_object_set_string_member (document, "title", formula->title);
  json_object_set_string_member (document, "purpose", formula->purpose);
  json_object_set_string_member (document, "notes", formula->notes);
  json_object_set_array_member (document, "phases", phases);
  og_json_set_number (document, "batch_g", formula->batch_g);
  set_target (document, formula);
  set_body_bounds (document, formula);
  set_handover (document, formula);
  set_materials (document, formula);
  set_measurements (document, formula);
  return document;
}

GBytes *
og_storage_serialise (const OgFormula *formula)
{
  g_autoptr (JsonObject) document = NULL;

  g_return_val_if_fail (formula != NULL, NULL);

  document = formula_to_json (formula);
  return og_json_to_bytes (document);
}
