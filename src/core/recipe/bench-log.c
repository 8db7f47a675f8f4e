/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/bench-log.h"

#include <glib/gi18n-lib.h>
#include <inttypes.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/json-guard.h"
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

static gboolean G_GNUC_PRINTF (4, 5)
fail (const char      *name,
      OgStorageError   code,
      GError         **error,
      const char      *format,
      ...)
{
  g_autofree char *reason = NULL;
  va_list args;

  va_start (args, format);
  reason = g_strdup_vprintf (format, args);
  va_end (args);
  g_set_error (error, OG_STORAGE_ERROR, (int) code, "%s: %s", name, reason);
  return FALSE;
}

static gboolean
check_format (const char  *name,
              JsonNode    *root,
              GError     **error)
{
  JsonNode *format = NULL, *version = NULL;

  if (root != NULL && JSON_NODE_HOLDS_OBJECT (root))
    {
      format = json_object_get_member (json_node_get_object (root), "format");
      version = json_object_get_member (json_node_get_object (root), "version");
    }
  if (format == NULL || !JSON_NODE_HOLDS_VALUE (format)
      || json_node_get_value_type (format) != G_TYPE_STRING
      || !g_str_equal (json_node_get_string (format), FORMAT_NAME))
    return fail (name, OG_STORAGE_ERROR_NOT_A_DOCUMENT, error,
                 _("The file is JSON, but not an Oleograph bench log."));
  if (version == NULL || !JSON_NODE_HOLDS_VALUE (version)
      || json_node_get_value_type (version) != G_TYPE_INT64 || json_node_get_int (version) < 1)
    return fail (name, OG_STORAGE_ERROR_VALUE, error,
                 _("“%s” must be a whole number above 0."), "version");
  if (json_node_get_int (version) > OG_BENCH_LOG_VERSION)
    return fail (name, OG_STORAGE_ERROR_NEWER_VERSION, error,
                 _("The file was written by a newer Oleograph (format %" PRId64
                   "; this program reads up to %d)."),
                 json_node_get_int (version), OG_BENCH_LOG_VERSION);
  return TRUE;
}

static gboolean
read_measurement (OgBenchLog  *log,
                  GHashTable  *ids,
                  JsonNode    *node,
                  const char  *name,
                  GError     **error)
{
  g_autoptr (OgMeasurement) measurement = NULL;
  g_autoptr (GError) reason = NULL;

  if (!JSON_NODE_HOLDS_OBJECT (node))
    return fail (name, OG_STORAGE_ERROR_VALUE, error,
                 _("Every entry of “%s” must be an object."), "measurements");

  measurement = og_measurement_from_json (json_node_get_object (node), &reason);
  if (measurement == NULL)
    return fail (name, OG_STORAGE_ERROR_VALUE, error, "%s", reason->message);
  if (measurement->material_id == NULL)
    return fail (name, OG_STORAGE_ERROR_VALUE, error,
                 _("The measurement “%s” is not of a neat material."), measurement->id);
  if (!g_hash_table_add (ids, measurement->id))
    return fail (name, OG_STORAGE_ERROR_VALUE, error,
                 _("The measurement “%s” occurs twice."), measurement->id);

  g_ptr_array_add (log->measurements, g_steal_pointer (&measurement));
  return TRUE;
}

static gboolean
read_log (OgBenchLog  *log,
          JsonObject  *object,
          const char  *name,
          GError     **error)
{
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);
  JsonNode *node = json_object_get_member (object, "measurements");
  JsonArray *array;

  if (node == NULL || !JSON_NODE_HOLDS_ARRAY (node))
    return fail (name, OG_STORAGE_ERROR_VALUE, error, _("“%s” must be a list."), "measurements");

  array = json_node_get_array (node);
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      if (!read_measurement (log, ids, json_array_get_element (array, i), name, error))
        return FALSE;
    }
  log->extra = og_json_extra (object, log_members);
  return TRUE;
}

OgBenchLog *
og_bench_log_parse (GBytes      *bytes,
                    const char  *name,
                    GError     **error)
{
  g_autoptr (OgBenchLog) log = NULL;
  g_autoptr (JsonParser) parser = NULL;
  g_autoptr (GError) reason = NULL;
  gsize length, mark;
  const char *text;

  g_return_val_if_fail (bytes != NULL && name != NULL, NULL);

  text = g_bytes_get_data (bytes, &length);
  if (!og_json_guard (text, length, name, error))
    return NULL;

  parser = json_parser_new_immutable ();
  mark = length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
  if (!json_parser_load_from_data (parser, text + mark, (gssize) (length - mark), &reason))
    {
      fail (name, OG_STORAGE_ERROR_SYNTAX, error,
            _("The JSON is not well formed (%s)."), reason->message);
      return NULL;
    }
  if (!check_format (name, json_parser_get_root (parser), error))
    return NULL;

  log = og_bench_log_new ();
  if (!read_log (log, json_node_get_object (json_parser_get_root (parser)), name, error))
    return NULL;
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
