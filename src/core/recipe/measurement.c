/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/bench.h"

#include <math.h>

#include "core/base/json-write.h"
#include "core/base/units.h"

OgMeasurement *
og_measurement_new (void)
{
  OgMeasurement *measurement = g_new0 (OgMeasurement, 1);

  measurement->id = g_strdup ("");
  measurement->lines = og_parts_new ();
  measurement->reading = (OgReading) {
    .temperature_c = NAN,
    .density_g_ml = NAN,
    .ball_diameter_mm = NAN,
    .ball_density_g_ml = NAN,
    .tube_diameter_mm = NAN,
    .fall_mm = NAN,
    .mpa_s = NAN,
    .shear_rate_1_s = NAN,
  };
  measurement->reduced = (OgReduced) { NAN, NAN, NAN, NAN, NAN };
  measurement->date = g_strdup ("");
  measurement->lot = g_strdup ("");
  measurement->note = g_strdup ("");
  return measurement;
}

OgMeasurement *
og_measurement_copy (const OgMeasurement *measurement)
{
  OgMeasurement *copy;

  g_return_val_if_fail (measurement != NULL, NULL);

  copy = g_memdup2 (measurement, sizeof *measurement);
  copy->id = g_strdup (measurement->id);
  copy->material_id = g_strdup (measurement->material_id);
  copy->lines = og_parts_copy (measurement->lines);
  copy->date = g_strdup (measurement->date);
  copy->lot = g_strdup (measurement->lot);
  copy->note = g_strdup (measurement->note);
  if (measurement->extra != NULL)
    copy->extra = json_object_ref (measurement->extra);
  return copy;
}

void
og_measurement_free (OgMeasurement *measurement)
{
  if (measurement == NULL)
    return;
  g_free (measurement->id);
  g_free (measurement->material_id);
  g_array_unref (measurement->lines);
  g_free (measurement->date);
  g_free (measurement->lot);
  g_free (measurement->note);
  g_clear_pointer (&measurement->extra, json_object_unref);
  g_free (measurement);
}

static gboolean
same_lines (const GArray *a,
            const GArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      const OgPart *x = &g_array_index (a, OgPart, i), *y = &g_array_index (b, OgPart, i);

      if (!g_str_equal (x->ingredient_id, y->ingredient_id) || !og_number_equal (x->pct, y->pct))
        return FALSE;
    }
  return TRUE;
}

static gboolean
same_seconds (const OgReading *a,
              const OgReading *b)
{
  if (a->n_seconds != b->n_seconds)
    return FALSE;
  for (guint i = 0; i < a->n_seconds; i++)
    if (!og_number_equal (a->seconds[i], b->seconds[i]))
      return FALSE;
  return TRUE;
}

/* The numbers of other methods are ignored. */
static gboolean
same_by_method (const OgReading *a,
                const OgReading *b)
{
  switch (a->method)
    {
    case OG_METHOD_CUP:
      return a->cup == b->cup && same_seconds (a, b);

    case OG_METHOD_BALL:
      return og_number_equal (a->ball_diameter_mm, b->ball_diameter_mm)
             && og_number_equal (a->ball_density_g_ml, b->ball_density_g_ml)
             && og_number_equal (a->tube_diameter_mm, b->tube_diameter_mm)
             && og_number_equal (a->fall_mm, b->fall_mm)
             && same_seconds (a, b);

    case OG_METHOD_ROTATIONAL:
      return og_number_equal (a->mpa_s, b->mpa_s)
             && og_number_equal (a->shear_rate_1_s, b->shear_rate_1_s);

    case OG_METHOD_POURS_LIKE:
      return a->likeness == b->likeness;

    case OG_N_METHODS:
    default:
      g_return_val_if_reached (FALSE);
    }
}

static gboolean
same_density (const OgMeasurement *a,
              const OgMeasurement *b)
{
  double x = a->reading.density_g_ml, y = b->reading.density_g_ml;

  return og_number_equal (x, y)
         && (!isnan (x) || og_number_equal (a->reduced.density_g_ml, b->reduced.density_g_ml));
}

gboolean
og_measurement_equal (gconstpointer a,
                      gconstpointer b)
{
  const OgMeasurement *x = a, *y = b;

  return x == y
         || (g_str_equal (x->id, y->id)
             && g_strcmp0 (x->material_id, y->material_id) == 0
             && (x->material_id != NULL || same_lines (x->lines, y->lines))
             && x->reading.method == y->reading.method
             && og_number_equal (x->reading.temperature_c, y->reading.temperature_c)
             && same_density (x, y)
             && same_by_method (&x->reading, &y->reading)
             && og_text_equal (x->date, y->date)
             && og_text_equal (x->lot, y->lot)
             && og_text_equal (x->note, y->note)
             && !x->set_aside == !y->set_aside
             && !x->accepted == !y->accepted
             && og_json_equal (x->extra, y->extra));
}

/* --- lists of measurements ------------------------------------------------- */

char *
og_measurements_next_id (const GPtrArray *measurements)
{
  guint64 highest = 0;

  g_return_val_if_fail (measurements != NULL, NULL);

  for (guint i = 0; i < measurements->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (measurements, i);
      guint64 number = 0;

      if (*measurement->id == 'm'
          && g_ascii_string_to_unsigned (measurement->id + 1, 10, 0, G_MAXINT64, &number, NULL))
        highest = MAX (highest, number);
    }
  return g_strdup_printf ("m%" G_GUINT64_FORMAT, highest + 1);
}

OgMeasurement *
og_measurements_find (const GPtrArray *measurements,
                      const char      *id,
                      guint           *position)
{
  g_return_val_if_fail (measurements != NULL && id != NULL, NULL);

  for (guint i = 0; i < measurements->len; i++)
    {
      OgMeasurement *measurement = g_ptr_array_index (measurements, i);

      if (!g_str_equal (measurement->id, id))
        continue;
      if (position != NULL)
        *position = i;
      return measurement;
    }
  return NULL;
}
