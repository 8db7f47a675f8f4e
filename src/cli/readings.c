/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/readings.h"

#include <glib/gi18n-lib.h>

#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "core/base/read-file.h"
#include "model/document-io.h"

#define MOST_TRIES 100 /* while others write the same recipe; each of them lets one of the others through */

void
og_kept_clear (OgKept *kept)
{
  g_clear_pointer (&kept->path, g_free);
  g_clear_object (&kept->document);
  g_clear_pointer (&kept->log, og_bench_log_free);
  g_clear_pointer (&kept->catalog, og_catalog_unref);
}

/* --- documents ------------------------------------------------------------- */

static void
on_ready (GObject      *source,
          GAsyncResult *result,
          gpointer      user_data)
{
  GAsyncResult **taken = user_data;

  *taken = g_object_ref (result);
}

static void
wait_for (GAsyncResult **result)
{
  while (*result == NULL)
    g_main_context_iteration (NULL, TRUE);
}

gboolean
og_kept_read_recipe (OgKept      *kept,
                     const char  *path,
                     GError     **error)
{
  g_autoptr (OgCatalog) library = og_call_load_catalog (error);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GAsyncResult) result = NULL;

  if (library == NULL)
    return FALSE;

  kept->path = g_strdup (path);
  kept->existed = TRUE;
  kept->document = og_document_new (library);
  og_document_load_async (kept->document, file, NULL, on_ready, &result);
  wait_for (&result);
  if (!og_document_load_finish (kept->document, result, error))
    return FALSE;
  kept->catalog = og_catalog_ref (og_document_get_catalog (kept->document));

  return TRUE;
}

gboolean
og_kept_is_table (const OgKept *kept)
{
  return kept->document != NULL && og_document_get_file (kept->document) == NULL;
}

static gboolean
save_document (OgKept    *kept,
               gboolean  *written,
               GError   **error)
{
  g_autoptr (GAsyncResult) result = NULL;

  *written = og_document_get_modified (kept->document);
  if (!*written)
    return TRUE;
  og_document_save_async (kept->document, NULL, FALSE, NULL, on_ready, &result);
  wait_for (&result);

  return og_document_save_finish (kept->document, result, error);
}

static gboolean
change_document (OgDocument           *document,
                 OgKeptChange          change,
                 const OgMeasurement  *measurement,
                 GError              **error)
{
  switch (change)
    {
    case OG_KEPT_ADD:
      return og_document_record_measurement (document, og_measurement_copy (measurement), error);

    case OG_KEPT_REMOVE:
      og_document_remove_measurement (document, measurement->id);
      return TRUE;

    case OG_KEPT_ACCEPT:
      og_document_accept_measurement (document, measurement->id, TRUE);
      og_document_set_measurement_aside (document, measurement->id, FALSE);
      return TRUE;

    case OG_KEPT_SET_ASIDE:
    case OG_KEPT_USE:
    default:
      og_document_set_measurement_aside (document, measurement->id, change == OG_KEPT_SET_ASIDE);
      return TRUE;
    }
}

/* --- bench logs ------------------------------------------------------------ */

/* A path may be mistyped, so this touches nothing; the store moves aside what it cannot read. */
static OgBenchLog *
read_log (const char  *path,
          GError     **error)
{
  g_autofree char *name = g_filename_display_name (path);
  g_autoptr (GBytes) bytes = og_read_file (path, OG_JSON_MAX_BYTES, error);

  return bytes != NULL ? og_bench_log_parse (bytes, name, error) : NULL;
}

gboolean
og_kept_read_log (OgKept      *kept,
                  const char  *path,
                  gboolean     may_be_missing,
                  GError     **error)
{
  kept->path = g_strdup (path);
  kept->catalog = og_call_load_catalog (error);
  if (kept->catalog == NULL)
    return FALSE;

  kept->existed = g_file_test (path, G_FILE_TEST_EXISTS);
  kept->log = kept->existed || !may_be_missing ? read_log (path, error) : og_bench_log_new ();

  return kept->log != NULL;
}

static void
change_log (OgBenchLog          *log,
            OgKeptChange         change,
            const OgMeasurement *measurement)
{
  OgMeasurement *found = og_measurements_find (log->measurements, measurement->id, NULL);

  switch (change)
    {
    case OG_KEPT_ADD:
      og_bench_log_append (log, og_measurement_copy (measurement));
      break;

    case OG_KEPT_REMOVE:
      og_bench_log_remove (log, measurement->id);
      break;

    case OG_KEPT_SET_ASIDE:
    case OG_KEPT_USE:
    case OG_KEPT_ACCEPT:
    default:
      found->set_aside = change == OG_KEPT_SET_ASIDE;
      if (change == OG_KEPT_ACCEPT)
        found->accepted = TRUE;
      break;
    }
}

static gboolean
change_store (OgBenchStore         *store,
              OgKeptChange          change,
              const OgMeasurement  *measurement,
              GError              **error)
{
  switch (change)
    {
    case OG_KEPT_ADD:
      return og_bench_store_add (store, og_measurement_copy (measurement), error);

    case OG_KEPT_REMOVE:
      return og_bench_store_remove (store, measurement->id, error);

    case OG_KEPT_ACCEPT:
      return og_bench_store_accept (store, measurement->id, TRUE, error)
             && og_bench_store_set_aside (store, measurement->id, FALSE, error);

    case OG_KEPT_SET_ASIDE:
    case OG_KEPT_USE:
    default:
      return og_bench_store_set_aside (store, measurement->id, change == OG_KEPT_SET_ASIDE, error);
    }
}

/* The store makes the change to what the file holds now, which others may have added to. */
static gboolean
write_log (const OgKept   *kept,
           OgKeptChange    change,
           OgMeasurement  *measurement,
           GError        **error)
{
  g_autoptr (GFile) file = g_file_new_for_path (kept->path);
  g_autoptr (OgBenchStore) store = og_bench_store_new (file);
  const GPtrArray *kept_now;
  const OgMeasurement *last;

  if (!change_store (store, change, measurement, error))
    return FALSE;
  if (change != OG_KEPT_ADD)
    return TRUE;

  kept_now = og_bench_store_get_measurements (store);
  last = g_ptr_array_index (kept_now, kept_now->len - 1);
  g_free (measurement->id);
  measurement->id = g_strdup (last->id);

  return TRUE;
}

/* --- either ---------------------------------------------------------------- */

const GPtrArray *
og_kept_get_measurements (const OgKept *kept)
{
  return kept->document != NULL ? og_document_get_formula (kept->document)->measurements
                                : kept->log->measurements;
}

gboolean
og_kept_change (OgKept               *kept,
                OgKeptChange          change,
                const OgMeasurement  *measurement,
                GError              **error)
{
  if (kept->document != NULL)
    return change_document (kept->document, change, measurement, error);

  change_log (kept->log, change, measurement);

  return TRUE;
}

/* Somebody else wrote first: the change is made once more, to what the file holds now. */
static gboolean
read_anew (OgKept               *kept,
           OgKeptChange          change,
           OgMeasurement        *measurement,
           GError              **error)
{
  g_autofree char *path = g_steal_pointer (&kept->path);
  const GPtrArray *now;

  og_kept_clear (kept);
  if (!og_kept_read_recipe (kept, path, error))
    return FALSE;
  if (change != OG_KEPT_ADD
      && og_measurements_find (og_kept_get_measurements (kept), measurement->id, NULL) == NULL)
    return og_call_refuse (error, _("the reading “%s” has been removed meanwhile"), measurement->id);
  if (!og_kept_change (kept, change, measurement, error))
    return FALSE;
  if (change != OG_KEPT_ADD)
    return TRUE;

  now = og_kept_get_measurements (kept);
  g_free (measurement->id);
  measurement->id = g_strdup (((const OgMeasurement *) g_ptr_array_index (now, now->len - 1))->id);

  return TRUE;
}

static gboolean
write_document (OgKept         *kept,
                OgKeptChange    change,
                OgMeasurement  *measurement,
                gboolean       *written,
                GError        **error)
{
  for (guint tries = 0;; tries++)
    {
      g_autoptr (GError) reason = NULL;

      if (save_document (kept, written, &reason))
        return TRUE;
      if (!g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG) || tries >= MOST_TRIES)
        {
          g_propagate_error (error, g_steal_pointer (&reason));
          return FALSE;
        }
      if (!read_anew (kept, change, measurement, error))
        return FALSE;
    }
}

gboolean
og_kept_write (OgKept         *kept,
               OgKeptChange    change,
               OgMeasurement  *measurement,
               gboolean       *written,
               GError        **error)
{
  if (kept->document != NULL)
    return write_document (kept, change, measurement, written, error);

  *written = TRUE;

  return write_log (kept, change, measurement, error);
}

/* --- learning -------------------------------------------------------------- */

GPtrArray *
og_readings_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) og_measurement_free);
}

static void
add_copy (GPtrArray           *all,
          const OgMeasurement *measurement,
          const char          *prefix)
{
  OgMeasurement *copy = og_measurement_copy (measurement);
  g_autofree char *id = g_steal_pointer (&copy->id);

  copy->id = g_strconcat (prefix != NULL ? prefix : "", id, NULL);
  g_ptr_array_add (all, copy);
}

void
og_readings_add (GPtrArray       *all,
                 const GPtrArray *measurements,
                 const char      *prefix)
{
  for (guint i = 0; i < measurements->len; i++)
    add_copy (all, g_ptr_array_index (measurements, i), prefix);
}

static gboolean
is_replaced (const GPtrArray *own,
             const char      *material_id)
{
  for (guint i = 0; i < own->len; i++)
    {
      const OgIngredient *material = g_ptr_array_index (own, i);

      if (g_str_equal (material->id, material_id))
        return TRUE;
    }

  return FALSE;
}

gboolean
og_readings_add_log (GPtrArray        *all,
                     const char       *path,
                     const GPtrArray  *own,
                     GError          **error)
{
  g_autoptr (OgBenchLog) log = NULL;

  if (path == NULL)
    return TRUE;
  log = read_log (path, error);
  if (log == NULL)
    return FALSE;

  for (guint i = 0; i < log->measurements->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (log->measurements, i);

      if (!is_replaced (own, measurement->material_id))
        add_copy (all, measurement, OG_DOCUMENT_BENCH_PREFIX);
    }

  return TRUE;
}

gboolean
og_readings_learn (const OgRecipe  *recipe,
                   const char      *path,
                   OgBelief       **belief,
                   GError         **error)
{
  g_autoptr (GPtrArray) all = og_readings_new ();

  og_readings_add (all, recipe->formula->measurements, NULL);
  if (!og_readings_add_log (all, path, recipe->formula->materials, error))
    return FALSE;
  *belief = all->len > 0 ? og_belief_learn (all, recipe->catalog) : NULL;

  return TRUE;
}
