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
      json_object_set_string_member (object, "cup", og_cup_to_nick (reading->cup));
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
      json_object_set_string_member (object, "like", og_likeness_to_nick (reading->likeness));
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

OG_JSON_DEFINE_CHOICE (OgMethod, og_method)
OG_JSON_DEFINE_CHOICE (OgCup, og_cup)
OG_JSON_DEFINE_CHOICE (guint, og_likeness)

/* Numbers may be left out, NAN for a new measurement: the reduction says what it needs. */
static gboolean
read_number (const OgJsonReader *reader,
             const char         *member,
             double             *out)
{
  return og_json_read_number (reader, member, OG_JSON_OPTIONAL, -INFINITY, INFINITY, out);
}

static gboolean
read_part (const OgJsonReader *reader,
           gpointer            user_data)
{
  GArray *lines = user_data;
  g_autofree char *ingredient = NULL;
  OgPart part = { NULL, NAN };

  if (!og_json_read_name (reader, "ingredient", OG_JSON_REQUIRED, OG_RECIPE_MAX_NAME, &ingredient)
      || !og_json_read_number (reader, "pct", OG_JSON_REQUIRED, 0, 100, &part.pct))
    return FALSE;

  part.ingredient_id = g_steal_pointer (&ingredient);
  g_array_append_val (lines, part);
  return TRUE;
}

static gboolean
read_target (OgMeasurement      *measurement,
             const OgJsonReader *reader)
{
  JsonArray *lines;

  if (!og_json_read_name (reader, "material", OG_JSON_OPTIONAL, OG_RECIPE_MAX_NAME,
                          &measurement->material_id)
      || og_json_read_array (reader, "lines", OG_JSON_OPTIONAL, &lines) == OG_JSON_FAULT)
    return FALSE;
  if ((measurement->material_id != NULL) == (lines != NULL))
    return og_json_fail (reader, NULL, _("Either “%s” or “%s” must be there."), "material",
                         "lines");
  return og_json_read_entries (reader, "lines", lines, read_part, measurement->lines);
}

static gboolean
read_seconds (OgReading          *reading,
              const OgJsonReader *reader)
{
  return og_json_read_numbers (reader, "seconds", 1, G_N_ELEMENTS (reading->seconds),
                               reading->seconds, &reading->n_seconds);
}

static gboolean
read_ball (OgReading          *reading,
           const OgJsonReader *reader)
{
  return read_number (reader, "ball_diameter_mm", &reading->ball_diameter_mm)
         && read_number (reader, "ball_density_g_ml", &reading->ball_density_g_ml)
         && read_number (reader, "tube_diameter_mm", &reading->tube_diameter_mm)
         && read_number (reader, "fall_mm", &reading->fall_mm)
         && read_seconds (reading, reader);
}

static gboolean
read_by_method (OgReading          *reading,
                const OgJsonReader *reader)
{
  switch (reading->method)
    {
    case OG_METHOD_CUP:
      return og_cup_read (reader, "cup", OG_JSON_REQUIRED, &reading->cup)
             && read_seconds (reading, reader);

    case OG_METHOD_BALL:
      return read_ball (reading, reader);

    case OG_METHOD_ROTATIONAL:
      return read_number (reader, "mpa_s", &reading->mpa_s)
             && read_number (reader, "shear_rate_1_s", &reading->shear_rate_1_s);

    case OG_METHOD_POURS_LIKE:
      return og_likeness_read (reader, "like", OG_JSON_REQUIRED, &reading->likeness);

    case OG_N_METHODS:
    default:
      g_return_val_if_reached (FALSE);
    }
}

static gboolean
read_reading (OgMeasurement      *measurement,
              const OgJsonReader *reader)
{
  g_autoptr (GError) reason = NULL;
  OgReading *reading = &measurement->reading;
  double density_used = NAN;

  if (!og_method_read (reader, "method", OG_JSON_REQUIRED, &reading->method)
      || !read_number (reader, "temperature_c", &reading->temperature_c)
      || !read_number (reader, "density_g_ml", &reading->density_g_ml)
      || !read_number (reader, "density_used_g_ml", &density_used)
      || !read_by_method (reading, reader))
    return FALSE;
  return og_reading_reduce (reading, density_used, &measurement->reduced, &reason)
         || og_json_fail (reader, NULL, "%s", reason->message);
}

static gboolean
read_members (OgMeasurement      *measurement,
              const OgJsonReader *reader)
{
  return read_target (measurement, reader)
         && read_reading (measurement, reader)
         && og_json_read_note (reader, "date", OG_RECIPE_MAX_NAME, &measurement->date)
         && og_json_read_note (reader, "lot", OG_RECIPE_MAX_NAME, &measurement->lot)
         && og_json_read_note (reader, "note", G_MAXLONG, &measurement->note)
         && og_json_read_flag (reader, "set_aside", &measurement->set_aside)
         && og_json_read_flag (reader, "accepted", &measurement->accepted);
}

OgMeasurement *
og_measurement_read (const OgJsonReader *reader)
{
  g_autoptr (OgMeasurement) measurement = og_measurement_new ();
  g_autofree char *label = NULL;
  OgJsonReader place = *reader;

  place.label = _("Measurement");
  if (!og_json_read_name (&place, "id", OG_JSON_REQUIRED, OG_RECIPE_MAX_NAME, &measurement->id))
    return NULL;

  label = g_strdup_printf (_("Measurement “%s”"), measurement->id);
  place.label = label;
  if (!read_members (measurement, &place))
    return NULL;
  measurement->extra = og_json_extra (place.object, measurement_members);
  return g_steal_pointer (&measurement);
}

OgMeasurement *
og_measurement_from_json (JsonObject  *object,
                          GError     **error)
{
  OgJsonContext context = { .domain = OG_STORAGE_ERROR, .code = OG_STORAGE_ERROR_VALUE,
                            .error = error };
  OgJsonReader reader = { .context = &context, .object = object };

  g_return_val_if_fail (object != NULL, NULL);

  return og_measurement_read (&reader);
}
