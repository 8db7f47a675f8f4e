/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/bench-store.h"

#include <glib/gi18n-lib.h>
#include <unistd.h>

#include "core/base/error.h"
#include "model/bench-store-private.h"
#include "model/file-private.h"
#include "model/measurement-private.h"

#define MAX_TRIES 5
#define RELOAD_DELAY_MS 50

struct _OgBenchStore
{
  GObject       parent_instance;

  GFile        *file;
  GFileMonitor *monitor; /* nullable */
  guint         reload_id;
  OgBenchLog   *log;
  GBytes       *bytes;   /* nullable: the file as last read or written */
  GError       *error;   /* nullable */
  gboolean      unread;  /* the error is of the file as it lies there, not of one kept aside */
};

G_DEFINE_FINAL_TYPE (OgBenchStore, og_bench_store, G_TYPE_OBJECT)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
og_bench_store_dispose (GObject *object)
{
  OgBenchStore *self = OG_BENCH_STORE (object);

  g_clear_handle_id (&self->reload_id, g_source_remove);
  if (self->monitor != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->monitor, self);
      g_file_monitor_cancel (self->monitor);
      g_clear_object (&self->monitor);
    }

  G_OBJECT_CLASS (og_bench_store_parent_class)->dispose (object);
}

static void
og_bench_store_finalize (GObject *object)
{
  OgBenchStore *self = OG_BENCH_STORE (object);

  g_clear_object (&self->file);
  g_clear_pointer (&self->log, og_bench_log_free);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_clear_error (&self->error);

  G_OBJECT_CLASS (og_bench_store_parent_class)->finalize (object);
}

static void
og_bench_store_class_init (OgBenchStoreClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = og_bench_store_dispose;
  object_class->finalize = og_bench_store_finalize;

  signals[CHANGED] = g_signal_new ("changed", OG_TYPE_BENCH_STORE, G_SIGNAL_RUN_LAST,
                                   0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
og_bench_store_init (OgBenchStore *self)
{
  self->log = og_bench_log_new ();
}

static void
drop_lock (int fd)
{
  if (fd >= 0)
    close (fd);
}

/* Whether the file makes no sense to anybody, which is not the same as being out of reach. */
static gboolean
is_broken (const GError *error)
{
  return error != NULL && error->domain == OG_STORAGE_ERROR
         && error->code != OG_STORAGE_ERROR_NEWER_VERSION;
}

static void
set_error (OgBenchStore *self,
           GError       *error,
           gboolean      unread)
{
  g_clear_error (&self->error);
  self->error = error;
  self->unread = unread;
}

/* Takes what is in @version. Returns: whether it was news */
static gboolean
adopt (OgBenchStore *self,
       OgBenchVersion      *version)
{
  const gboolean news = !_og_bench_same_bytes (self->bytes, version->bytes);

  g_clear_pointer (&self->log, og_bench_log_free);
  g_clear_pointer (&self->bytes, g_bytes_unref);
  self->log = g_steal_pointer (&version->log);
  self->bytes = g_steal_pointer (&version->bytes);

  return news;
}

/*
 * What a change starts from, read under the lock. A broken file goes out of the way, and what was
 * known before counts.
 */
static gboolean
read_to_change (OgBenchStore  *self,
                OgBenchVersion       *version,
                GError       **error)
{
  g_autoptr (GError) reason = NULL;

  if (_og_bench_version_read (self->file, version, &reason))
    {
      set_error (self, NULL, FALSE);
      return TRUE;
    }

  if (!is_broken (reason) || !_og_bench_keep_aside (self->file, &reason))
    {
      set_error (self, g_error_copy (reason), TRUE);
      g_propagate_error (error, g_steal_pointer (&reason));
      return FALSE;
    }

  _og_bench_version_clear (version);
  version->log = og_bench_log_copy (self->log);
  set_error (self, g_steal_pointer (&reason), FALSE);

  return TRUE;
}

/* Changes by others */

static gboolean
same_error (const GError *a,
            const GError *b)
{
  return (a == NULL && b == NULL)
         || (a != NULL && b != NULL && g_error_matches (a, b->domain, b->code)
             && g_str_equal (a->message, b->message));
}

static gboolean
reload (gpointer user_data)
{
  OgBenchStore *self = user_data;
  g_auto (OgBenchVersion) version = { 0 };
  g_autoptr (GError) error = NULL;

  self->reload_id = 0;
  if (_og_bench_version_read (self->file, &version, &error))
    {
      if (!adopt (self, &version) && !self->unread)
        return G_SOURCE_REMOVE;
    }
  else if (same_error (self->error, error))
    return G_SOURCE_REMOVE;

  set_error (self, error, error != NULL);
  error = NULL;
  g_signal_emit (self, signals[CHANGED], 0);

  return G_SOURCE_REMOVE;
}

/* One change by somebody else comes as several events, the first of them perhaps half-way. */
static void
on_file_event (OgBenchStore *self)
{
  if (self->reload_id == 0)
    self->reload_id = g_timeout_add (RELOAD_DELAY_MS, reload, self);
}

static void
watch (OgBenchStore *self)
{
  g_autoptr (GError) error = NULL;

  self->monitor = g_file_monitor_file (self->file, G_FILE_MONITOR_WATCH_MOVES, NULL, &error);
  if (self->monitor == NULL)
    {
      /* Not every file system can be watched; changes read the file anew all the same. */
      g_debug ("No watch on the bench log: %s", error->message);
      return;
    }

  g_signal_connect_swapped (self->monitor, "changed", G_CALLBACK (on_file_event), self);
}

static void
open_file (OgBenchStore *self)
{
  g_auto (OgBenchVersion) version = { 0 };
  GError *error = NULL;
  int fd;

  if (!_og_file_lock (self->file, &fd, &error))
    {
      set_error (self, error, TRUE);
      on_file_event (self);
      return;
    }

  if (read_to_change (self, &version, NULL))
    adopt (self, &version);
  drop_lock (fd);
}

OgBenchStore *
og_bench_store_new (GFile *file)
{
  OgBenchStore *self;

  g_return_val_if_fail (G_IS_FILE (file), NULL);

  self = g_object_new (OG_TYPE_BENCH_STORE, NULL);
  self->file = g_object_ref (file);
  watch (self);
  open_file (self);

  return self;
}

GFile *
og_bench_store_get_file (OgBenchStore *self)
{
  g_return_val_if_fail (OG_IS_BENCH_STORE (self), NULL);

  return self->file;
}

GError *
og_bench_store_dup_error (OgBenchStore *self)
{
  g_return_val_if_fail (OG_IS_BENCH_STORE (self), NULL);

  return self->error != NULL ? g_error_copy (self->error) : NULL;
}

const GPtrArray *
og_bench_store_get_measurements (OgBenchStore *self)
{
  g_return_val_if_fail (OG_IS_BENCH_STORE (self), NULL);

  return self->log->measurements;
}

/* Changes: a function on the log as it stands on disk, and its argument. */

typedef gboolean (*ChangeFunc) (OgBenchLog    *log,
                                const char    *id,
                                gconstpointer  argument,
                                GError       **error);

static gboolean
make_folder (OgBenchStore  *self,
             GError       **error)
{
  g_autoptr (GFile) folder = g_file_get_parent (self->file);
  g_autoptr (GError) reason = NULL;

  if (folder == NULL || g_file_make_directory_with_parents (folder, NULL, &reason)
      || g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_EXISTS))
    return TRUE;

  g_propagate_error (error, g_steal_pointer (&reason));

  return FALSE;
}

static gboolean
try_change (OgBenchStore  *self,
            ChangeFunc     func,
            const char    *id,
            gconstpointer  argument,
            GError       **error)
{
  g_auto (OgBenchVersion) version = { 0 };

  if (!read_to_change (self, &version, error) || !func (version.log, id, argument, error)
      || !_og_bench_version_write (self->file, &version, error))
    return FALSE;

  adopt (self, &version);

  return TRUE;
}

/* Somebody may write without the lock: then the change is made to what they wrote. */
static gboolean
change_locked (OgBenchStore  *self,
               ChangeFunc     func,
               const char    *id,
               gconstpointer  argument,
               GError       **error)
{
  for (guint n = 1;; n++)
    {
      g_autoptr (GError) reason = NULL;

      if (try_change (self, func, id, argument, &reason))
        return TRUE;

      if (n < MAX_TRIES && g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG))
        continue;

      g_propagate_error (error, g_steal_pointer (&reason));
      return FALSE;
    }
}

static gboolean
change (OgBenchStore  *self,
        ChangeFunc     func,
        const char    *id,
        gconstpointer  argument,
        GError       **error)
{
  g_autoptr (GError) before = og_bench_store_dup_error (self);
  gboolean changed;
  int fd;

  if (!make_folder (self, error) || !_og_file_lock (self->file, &fd, error))
    return FALSE;

  changed = change_locked (self, func, id, argument, error);
  drop_lock (fd);
  if (changed || !same_error (before, self->error))
    g_signal_emit (self, signals[CHANGED], 0);

  return changed;
}

static gboolean
append (OgBenchLog    *log,
        const char    *id,
        gconstpointer  argument,
        GError       **error)
{
  g_autofree char *next_id = og_measurements_next_id (log->measurements);
  OgMeasurement *filed = _og_measurement_as_filed (argument, next_id, error);

  if (filed == NULL)
    return FALSE;

  og_bench_log_append (log, filed);

  return TRUE;
}

static gboolean
refuse_missing (const char  *id,
                GError     **error)
{
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND,
               _("The bench log holds no measurement “%s” any more."), id);

  return FALSE;
}

static gboolean
take_out (OgBenchLog    *log,
          const char    *id,
          gconstpointer  argument,
          GError       **error)
{
  return og_bench_log_remove (log, id) || refuse_missing (id, error);
}

static gboolean
flag_aside (OgBenchLog    *log,
            const char    *id,
            gconstpointer  argument,
            GError       **error)
{
  OgMeasurement *measurement = og_measurements_find (log->measurements, id, NULL);

  if (measurement == NULL)
    return refuse_missing (id, error);

  measurement->set_aside = !!GPOINTER_TO_INT (argument);

  return TRUE;
}

static gboolean
flag_accepted (OgBenchLog    *log,
               const char    *id,
               gconstpointer  argument,
               GError       **error)
{
  OgMeasurement *measurement = og_measurements_find (log->measurements, id, NULL);

  if (measurement == NULL)
    return refuse_missing (id, error);

  measurement->accepted = !!GPOINTER_TO_INT (argument);

  return TRUE;
}

gboolean
og_bench_store_add (OgBenchStore   *self,
                    OgMeasurement  *measurement,
                    GError        **error)
{
  g_autoptr (OgMeasurement) taken = measurement;

  g_return_val_if_fail (OG_IS_BENCH_STORE (self), FALSE);
  g_return_val_if_fail (measurement != NULL && measurement->material_id != NULL, FALSE);

  return change (self, append, NULL, taken, error);
}

gboolean
og_bench_store_remove (OgBenchStore  *self,
                       const char    *id,
                       GError       **error)
{
  g_return_val_if_fail (OG_IS_BENCH_STORE (self) && id != NULL, FALSE);

  return change (self, take_out, id, NULL, error);
}

gboolean
og_bench_store_set_aside (OgBenchStore  *self,
                          const char    *id,
                          gboolean       set_aside,
                          GError       **error)
{
  g_return_val_if_fail (OG_IS_BENCH_STORE (self) && id != NULL, FALSE);

  return change (self, flag_aside, id, GINT_TO_POINTER (set_aside), error);
}

gboolean
og_bench_store_accept (OgBenchStore  *self,
                       const char    *id,
                       gboolean       accepted,
                       GError       **error)
{
  g_return_val_if_fail (OG_IS_BENCH_STORE (self) && id != NULL, FALSE);

  return change (self, flag_accepted, id, GINT_TO_POINTER (accepted), error);
}
