/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/bench.h"

#include <math.h>

#include "core/storage.h"

static const char *const method_nicks[OG_N_METHODS] = {
  "cup", "ball", "rotational", "pours-like"
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

/* The density that was not measured is noted too, so that the same file always gives the same viscosity. */
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

  json_object_set_string_member (object, "method", method_nicks[reading->method]);
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
      g_assert_not_reached ();
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
