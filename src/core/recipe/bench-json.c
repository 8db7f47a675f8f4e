/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/bench.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/json-write.h"
#include "core/recipe/recipe-limits.h"

static const char *const measurement_members[] = {
  "accepted", "ball_density_g_ml", "ball_diameter_mm", "cup", "date", "density_g_ml",
  "density_used_g_ml", "fall_mm", "id", "like", "lines", "lot", "material", "method", "mpa_s",
  "note", "seconds", "set_aside", "shear_rate_1_s", "temperature_c", "tube_diameter_mm", NULL
};

/* --- writing --------------------------------------------------------------- */

static void
set_lines (JsonObject   *object,
           const GArray *lines)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < lines->len; i++)
    {
      const OgPart *part = &g_array_index (lines, OgPart, i);
      JsonObject *line = json_object_new ();

      json_object_set_string_member (line, "ingredient", part->ingredient_id);
      og_json_set_number (line, "pct", part->pct);
      json_array_add_object_element (array, line);
    }
  json_object_set_array_member (object, "lines", array);
}

static void
set_seconds (JsonObject      *object,
             const OgReading *reading)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; i < reading->n_seconds; i++)
    json_array_add_double_element (array, reading->seconds[i]);
  json_object_set_array_member (object, "seconds", array);
}

/*
 * The density that was not measured is noted too, so that the same file always gives the same
 * viscosity.
 */
static void
set_density (JsonObject          *object,
             const OgMeasurement *measurement)
{
  og_json_set_number (object, "density_g_ml", measurement->reading.density_g_ml);
  if (isnan (measurement->reading.density_g_ml))
    og_json_set_number (object, "density_used_g_ml", measurement->reduced.density_g_ml);
}

static void
set_reading (JsonObject          *object,
             const OgMeasurement *measurement)
{
  const OgReading *reading = &measurement->reading;

  json_object_set_string_member (object, "method", og_method_to_nick (reading->method));
  og_json_set_number (object, "temperature_c", reading->temperature_c);
  set_density (object, measurement);
  switch (reading->method)
    {
    case OG_METHOD_CUP:
      json_object_set_string_member (object, "cup", og_cup_get_info (reading->cup)->nick);
      set_seconds (object, reading);
      break;

    case OG_METHOD_BALL:
      og_json_set_number (object, "ball_diameter_mm", reading->ball_diameter_mm);
      og_json_set_number (object, "ball_density_g_ml", reading->ball_density_g_ml);
      og_json_set_number (object, "tube_diameter_mm", reading->tube_diameter_mm);
      og_json_set_number (object, "fall_mm", reading->fall_mm);
      set_seconds (object, reading);
      break;

    case OG_METHOD_ROTATIONAL:
      og_json_set_number (object, "mpa_s", reading->mpa_s);
      og_json_set_number (object, "shear_rate_1_s", reading->shear_rate_1_s);
      break;

    case OG_METHOD_POURS_LIKE:
      json_object_set_string_member (object, "like", og_likeness_get (reading->likeness)->nick);
      break;

    case OG_N_METHODS:
    default:
      g_return_if_reached ();
    }
}

JsonObject *
og_measurement_to_json (const OgMeasurement *measurement)
{
  JsonObject *object;

  g_return_val_if_fail (measurement != NULL, NULL);

  object = og_json_begin (measurement->extra);
  json_object_set_string_member (object, "id", measurement->id);
  og_json_set_text (object, "material", measurement->material_id);
  if (measurement->material_id == NULL)
    set_lines (object, measurement->lines);
  set_reading (object, measurement);
  og_json_set_text (object, "date", measurement->date);
  og_json_set_text (object, "lot", measurement->lot);
  og_json_set_text (object, "note", measurement->note);
  if (measurement->set_aside)
    json_object_set_boolean_member (object, "set_aside", TRUE);
  if (measurement->accepted)
    json_object_set_boolean_member (object, "accepted", TRUE);
  return object;
}

/* --- reading --------------------------------------------------------------- */

static gboolean G_GNUC_PRINTF (2, 3)
fail (GError     **error,
      const char  *format,
      ...)
{
  g_autofree char *reason = NULL;
  va_list args;

  va_start (args, format);
  reason = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error_literal (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE, reason);
  return FALSE;
}

static GType
value_type (JsonNode *node)
{
  return JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node) : G_TYPE_INVALID;
}

/* Leaves @text alone when the member is not there and not @required. */
static gboolean
read_text (JsonObject  *object,
           const char  *member,
           gboolean     required,
           glong        max_length,
           char       **text,
           GError     **error)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL)
    return !required || fail (error, _("“%s” is missing."), member);
  if (value_type (node) != G_TYPE_STRING)
    return fail (error, _("“%s” must be text."), member);
  if (required && *json_node_get_string (node) == '\0')
    return fail (error, _("“%s” is empty."), member);
  if (g_utf8_strlen (json_node_get_string (node), -1) > max_length)
    return fail (error, _("“%s” is longer than %ld characters."), member, max_length);

  g_free (*text);
  *text = g_strdup (json_node_get_string (node));
  return TRUE;
}

static gboolean
node_to_number (JsonNode    *node,
                const char  *member,
                double      *number,
                GError     **error)
{
  if (value_type (node) != G_TYPE_INT64 && value_type (node) != G_TYPE_DOUBLE)
    return fail (error, _("“%s” must be a number."), member);

  *number = json_node_get_double (node);
  return TRUE;
}

/*
 * Leaves @number, NAN for a new measurement, when the member is not there: the reduction says what
 * it needs.
 */
static gboolean
read_number (JsonObject  *object,
             const char  *member,
             double      *number,
             GError     **error)
{
  JsonNode *node = json_object_get_member (object, member);

  return node == NULL || node_to_number (node, member, number, error);
}

static gboolean
read_boolean (JsonObject  *object,
              const char  *member,
              gboolean    *value,
              GError     **error)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL)
    return TRUE;
  if (value_type (node) != G_TYPE_BOOLEAN)
    return fail (error, _("“%s” must be true or false."), member);
  *value = json_node_get_boolean (node);
  return TRUE;
}

static gboolean
read_part (OgMeasurement  *measurement,
           JsonNode       *node,
           GError        **error)
{
  g_autofree char *ingredient = NULL;
  OgPart part = { NULL, NAN };
  JsonObject *object;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (error, _("Every entry of “%s” must be an object."), "lines");

  object = json_node_get_object (node);
  if (!read_text (object, "ingredient", TRUE, OG_RECIPE_MAX_NAME, &ingredient, error)
      || !read_number (object, "pct", &part.pct, error))
    return FALSE;
  if (!(part.pct >= 0 && part.pct <= 100))
    return fail (error, _("“%s” must lie between %d and %d."), "pct", 0, 100);

  part.ingredient_id = g_steal_pointer (&ingredient);
  g_array_append_val (measurement->lines, part);
  return TRUE;
}

static gboolean
read_target (OgMeasurement  *measurement,
             JsonObject     *object,
             GError        **error)
{
  JsonNode *lines = json_object_get_member (object, "lines");
  JsonArray *array;

  if (json_object_has_member (object, "material") == (lines != NULL))
    return fail (error, _("Either “%s” or “%s” must be there."), "material", "lines");
  if (lines == NULL)
    return read_text (object, "material", TRUE, OG_RECIPE_MAX_NAME, &measurement->material_id,
                      error);
  if (!JSON_NODE_HOLDS_ARRAY (lines))
    return fail (error, _("“%s” must be a list."), "lines");

  array = json_node_get_array (lines);
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      if (!read_part (measurement, json_array_get_element (array, i), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_seconds (OgReading   *reading,
              JsonObject  *object,
              GError     **error)
{
  JsonNode *node = json_object_get_member (object, "seconds");
  JsonArray *array;
  guint n;

  if (node == NULL)
    return fail (error, _("“%s” is missing."), "seconds");
  if (!JSON_NODE_HOLDS_ARRAY (node))
    return fail (error, _("“%s” must be a list."), "seconds");

  array = json_node_get_array (node);
  n = json_array_get_length (array);
  if (n == 0 || n > G_N_ELEMENTS (reading->seconds))
    return fail (error, _("“%s” must hold one to %u numbers."), "seconds",
                 (guint) G_N_ELEMENTS (reading->seconds));
  for (guint i = 0; i < n; i++)
    {
      if (!node_to_number (json_array_get_element (array, i), "seconds", &reading->seconds[i],
                           error))
        return FALSE;
    }
  reading->n_seconds = n;
  return TRUE;
}

static gboolean
read_method (OgReading   *reading,
             JsonObject  *object,
             GError     **error)
{
  g_autofree char *nick = NULL;

  if (!read_text (object, "method", TRUE, OG_RECIPE_MAX_NAME, &nick, error))
    return FALSE;
  return og_method_from_nick (nick, &reading->method)
         || fail (error, _("The method “%s” is not known."), nick);
}

static gboolean
read_cup (OgReading   *reading,
          JsonObject  *object,
          GError     **error)
{
  g_autofree char *nick = NULL;

  if (!read_text (object, "cup", TRUE, OG_RECIPE_MAX_NAME, &nick, error))
    return FALSE;
  if (!og_cup_from_nick (nick, &reading->cup))
    return fail (error, _("The cup “%s” is not known."), nick);
  return read_seconds (reading, object, error);
}

static gboolean
read_ball (OgReading   *reading,
           JsonObject  *object,
           GError     **error)
{
  return read_number (object, "ball_diameter_mm", &reading->ball_diameter_mm, error)
         && read_number (object, "ball_density_g_ml", &reading->ball_density_g_ml, error)
         && read_number (object, "tube_diameter_mm", &reading->tube_diameter_mm, error)
         && read_number (object, "fall_mm", &reading->fall_mm, error)
         && read_seconds (reading, object, error);
}

static gboolean
read_likeness (OgReading   *reading,
               JsonObject  *object,
               GError     **error)
{
  g_autofree char *nick = NULL;

  if (!read_text (object, "like", TRUE, OG_RECIPE_MAX_NAME, &nick, error))
    return FALSE;
  return og_likeness_from_nick (nick, &reading->likeness)
         || fail (error, _("The liquid “%s” is not known."), nick);
}

static gboolean
read_by_method (OgReading   *reading,
                JsonObject  *object,
                GError     **error)
{
  switch (reading->method)
    {
    case OG_METHOD_CUP:
      return read_cup (reading, object, error);

    case OG_METHOD_BALL:
      return read_ball (reading, object, error);

    case OG_METHOD_ROTATIONAL:
      return read_number (object, "mpa_s", &reading->mpa_s, error)
             && read_number (object, "shear_rate_1_s", &reading->shear_rate_1_s, error);

    case OG_METHOD_POURS_LIKE:
      return read_likeness (reading, object, error);

    case OG_N_METHODS:
    default:
      g_return_val_if_reached (FALSE);
    }
}

static gboolean
read_reading (OgMeasurement  *measurement,
              JsonObject     *object,
              GError        **error)
{
  g_autoptr (GError) reason = NULL;
  OgReading *reading = &measurement->reading;
  double density_used = NAN;

  if (!read_method (reading, object, error)
      || !read_number (object, "temperature_c", &reading->temperature_c, error)
      || !read_number (object, "density_g_ml", &reading->density_g_ml, error)
      || !read_number (object, "density_used_g_ml", &density_used, error)
      || !read_by_method (reading, object, error))
    return FALSE;
  return og_reading_reduce (reading, density_used, &measurement->reduced, &reason)
         || fail (error, "%s", reason->message);
}

static gboolean
read_measurement (OgMeasurement  *measurement,
                  JsonObject     *object,
                  GError        **error)
{
  return read_target (measurement, object, error)
         && read_reading (measurement, object, error)
         && read_text (object, "date", FALSE, OG_RECIPE_MAX_NAME, &measurement->date, error)
         && read_text (object, "lot", FALSE, OG_RECIPE_MAX_NAME, &measurement->lot, error)
         && read_text (object, "note", FALSE, G_MAXLONG, &measurement->note, error)
         && read_boolean (object, "set_aside", &measurement->set_aside, error)
         && read_boolean (object, "accepted", &measurement->accepted, error);
}

OgMeasurement *
og_measurement_from_json (JsonObject  *object,
                          GError     **error)
{
  g_autoptr (OgMeasurement) measurement = NULL;

  g_return_val_if_fail (object != NULL, NULL);

  measurement = og_measurement_new ();
  if (!read_text (object, "id", TRUE, OG_RECIPE_MAX_NAME, &measurement->id, error))
    {
      g_prefix_error (error, "%s: ", _("Measurement"));
      return NULL;
    }
  if (!read_measurement (measurement, object, error))
    {
      g_prefix_error (error, _("Measurement “%s”: "), measurement->id);
      return NULL;
    }
  measurement->extra = og_json_extra (object, measurement_members);
  return g_steal_pointer (&measurement);
}
