/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/bench-log.h"

#include <glib/gi18n-lib.h>

#include "core/base/json-read.h"
#include "core/base/json-write.h"

#define FORMAT_NAME "oleograph-bench-log"

static const char *const log_members[] = { "format", "measurements", "version", NULL };

/* --- the log as a value ---------------------------------------------------- */

OgBenchLog *
og_bench_log_new (void)
{
  OgBenchLog *log = g_new0 (OgBenchLog, 1);

  log->measurements = g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);
  return log;
}

OgBenchLog *
og_bench_log_copy (const OgBenchLog *log)
{
  OgBenchLog *copy;

  g_return_val_if_fail (log != NULL, NULL);

  copy = og_bench_log_new ();
  for (guint i = 0; i < log->measurements->len; i++)
    g_ptr_array_add (copy->measurements,
                     og_measurement_copy (g_ptr_array_index (log->measurements, i)));
  if (log->extra != NULL)
    copy->extra = json_object_ref (log->extra);
  return copy;
}

void
og_bench_log_free (OgBenchLog *log)
{
  if (log == NULL)
    return;
  g_ptr_array_unref (log->measurements);
  g_clear_pointer (&log->extra, json_object_unref);
  g_free (log);
}

OgMeasurement *
og_bench_log_append (OgBenchLog    *log,
                     OgMeasurement *measurement)
{
  g_return_val_if_fail (log != NULL && measurement != NULL, NULL);
  g_return_val_if_fail (measurement->material_id != NULL, NULL);

  g_free (measurement->id);
  measurement->id = og_measurements_next_id (log->measurements);
  g_ptr_array_add (log->measurements, measurement);
  return measurement;
}

gboolean
og_bench_log_remove (OgBenchLog *log,
                     const char *id)
{
  guint position;

  g_return_val_if_fail (log != NULL && id != NULL, FALSE);

  if (og_measurements_find (log->measurements, id, &position) == NULL)
    return FALSE;
  g_ptr_array_remove_index (log->measurements, position);
  return TRUE;
}

/* --- reading --------------------------------------------------------------- */

/* A log on its way in. */
typedef struct
{
  OgBenchLog *log;
  GHashTable *ids;
} Intake;

static gboolean
read_measurement (const OgJsonReader *reader,
                  gpointer            user_data)
{
  Intake *intake = user_data;
  g_autoptr (OgMeasurement) measurement = og_measurement_read (reader);

  if (measurement == NULL)
    return FALSE;
  if (measurement->material_id == NULL)
    return og_json_fail (reader, NULL, _("The measurement “%s” is not of a neat material."),
                         measurement->id);
  if (!g_hash_table_add (intake->ids, measurement->id))
    return og_json_fail (reader, NULL, _("The measurement “%s” occurs twice."), measurement->id);

  g_ptr_array_add (intake->log->measurements, g_steal_pointer (&measurement));
  return TRUE;
}

OgBenchLog *
og_bench_log_parse (GBytes      *bytes,
                    const char  *name,
                    GError     **error)
{
  g_autoptr (OgBenchLog) log = NULL;
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (OgJsonFile) file = NULL;
  OgJsonContext context;
  OgJsonReader reader;
  Intake intake;

  g_return_val_if_fail (bytes != NULL && name != NULL, NULL);

  file = og_json_file_parse (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), name, error);
  if (file == NULL
      || !og_json_begin_document (file, FORMAT_NAME, OG_BENCH_LOG_VERSION,
                                  _("The file is JSON, but not an Oleograph bench log."), &context,
                                  &reader, error))
    return NULL;

  log = og_bench_log_new ();
  intake = (Intake) { log, ids };
  if (!og_json_read_each (&reader, "measurements", OG_JSON_REQUIRED, read_measurement, &intake))
    return NULL;
  log->extra = og_json_extra (reader.object, log_members);
  return g_steal_pointer (&log);
}

/* --- writing --------------------------------------------------------------- */

GBytes *
og_bench_log_serialise (const OgBenchLog *log)
{
  g_autoptr (JsonObject) object = NULL;
  JsonArray *array;

  g_return_val_if_fail (log != NULL, NULL);

  object = og_json_begin (log->extra);
  array = json_array_new ();
  for (guint i = 0; i < log->measurements->len; i++)
    json_array_add_object_element (array,
                                   og_measurement_to_json (g_ptr_array_index (log->measurements,
                                                                              i)));
  json_object_set_string_member (object, "format", FORMAT_NAME);
  json_object_set_int_member (object, "version", OG_BENCH_LOG_VERSION);
  json_object_set_array_member (object, "measurements", array);
  return og_json_to_bytes (object);
}
