/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/ledger.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "model/ledger-private.h"

#define BUSY_WAIT_MS 5000
#define BUSY_STEP_MS 10
#define REFRESH_DELAY_MS 50

/* The head of a database file, as the documentation of SQLite gives it ("Database File Format",
 * section 1.3). */
#define HEAD_LENGTH 100
#define HEAD_MAGIC "SQLite format 3"
#define HEAD_VERSION_AT 60
#define HEAD_APPLICATION_AT 68

G_DEFINE_FINAL_TYPE (OgLedger, og_ledger, G_TYPE_OBJECT)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

/* A database that a statement still holds stays open, and with it its locks. */
static void
close_database (sqlite3 *db)
{
  if (sqlite3_close (db) != SQLITE_OK)
    g_critical ("The ledger stays open: %s", sqlite3_errmsg (db));
}

static void
og_ledger_dispose (GObject *object)
{
  OgLedger *self = OG_LEDGER (object);

  g_clear_handle_id (&self->refresh_id, g_source_remove);
  if (self->monitor != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->monitor, self);
      g_file_monitor_cancel (self->monitor);
      g_clear_object (&self->monitor);
    }

  G_OBJECT_CLASS (og_ledger_parent_class)->dispose (object);
}

static void
og_ledger_finalize (GObject *object)
{
  OgLedger *self = OG_LEDGER (object);

  g_clear_pointer (&self->db, close_database);
  g_clear_pointer (&self->path, g_free);
  g_clear_pointer (&self->name, g_free);
  g_clear_pointer (&self->set_aside, g_free);

  G_OBJECT_CLASS (og_ledger_parent_class)->finalize (object);
}

static void
og_ledger_class_init (OgLedgerClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = og_ledger_dispose;
  object_class->finalize = og_ledger_finalize;

  signals[CHANGED] = g_signal_new ("changed", OG_TYPE_LEDGER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
og_ledger_init (OgLedger *self)
{
}

char *
og_ledger_default_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "oleograph", "ledger.sqlite", NULL);
}

/* --- what the file is ------------------------------------------------------- */

static gboolean
refuse_newer (OgLedger  *self,
              GError   **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NEWER_VERSION,
               _("%s: The ledger was written by a newer version of Oleograph."), self->name);
  return FALSE;
}

/* A pipe would be waited for, and a device be read as an empty ledger. */
static gboolean
refuse_device (OgLedger  *self,
               GError   **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS,
               _("%s: This is not an ordinary file."), self->name);
  return FALSE;
}

static gboolean
refuse_other (OgLedger  *self,
              GError   **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_A_LEDGER,
               _("%s: The file is a database, but no ledger."), self->name);
  return FALSE;
}

static gint32
big_endian (const guint8 *bytes)
{
  return (gint32) ((guint32) bytes[0] << 24 | (guint32) bytes[1] << 16 | (guint32) bytes[2] << 8
                   | bytes[3]);
}

/* Judges by the bytes of the file alone, before the database library may touch anything. */
static gboolean
check_head (OgLedger  *self,
            GError   **error)
{
  guint8 head[HEAD_LENGTH] = { 0 };
  const int fd = g_open (self->path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0);
  gboolean ordinary;
  struct stat status;
  gssize length = 0;

  if (fd < 0)
    return TRUE;
  ordinary = fstat (fd, &status) == 0 && (S_ISREG (status.st_mode) || S_ISDIR (status.st_mode));
  if (ordinary)
    length = read (fd, head, sizeof head);
  close (fd);
  if (!ordinary)
    return refuse_device (self, error);
  if (length != HEAD_LENGTH || memcmp (head, HEAD_MAGIC, sizeof HEAD_MAGIC) != 0)
    return TRUE;
  if (big_endian (head + HEAD_APPLICATION_AT) == OG_LEDGER_APPLICATION_ID
      && big_endian (head + HEAD_VERSION_AT) > OG_LEDGER_VERSION)
    return refuse_newer (self, error);

  return TRUE;
}

/* @version: (out): 0 for an empty file */
static gboolean
check_kind (OgLedger  *self,
            gint64    *version,
            GError   **error)
{
  gint64 application = 0, n_tables = 0;

  *version = 0;
  if (!_og_sql_get (self, "SELECT count (*) FROM sqlite_schema", OG_SQL_NO_VALUES, &n_tables, error)
      || !_og_sql_get (self, "PRAGMA application_id", OG_SQL_NO_VALUES, &application, error)
      || !_og_sql_get (self, "PRAGMA user_version", OG_SQL_NO_VALUES, version, error))
    return FALSE;
  if (application != OG_LEDGER_APPLICATION_ID)
    return (application == 0 && *version == 0 && n_tables == 0) || refuse_other (self, error);
  if (*version > OG_LEDGER_VERSION)
    return refuse_newer (self, error);
  if (*version < 1)
    return refuse_other (self, error);

  return TRUE;
}

static gboolean
check_whole (OgLedger  *self,
             GError   **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self, "PRAGMA quick_check (1)", OG_SQL_NO_VALUES, &row, error);
  g_autofree char *found = NULL;

  if (statement == NULL)
    return FALSE;
  found = row ? _og_sql_dup_text (statement, 0) : NULL;
  if (g_strcmp0 (found, "ok") == 0)
    return TRUE;

  return _og_ledger_refuse_damaged (self, found != NULL ? found : "?", error);
}

/* fold (TEXT) for searches: as og_search_fold() */
static void
sql_fold (sqlite3_context  *context,
          int               n_values,
          sqlite3_value   **values)
{
  const char *text = (const char *) sqlite3_value_text (values[0]);

  if (text != NULL)
    sqlite3_result_text (context, og_search_fold (text), -1, g_free);
}

/* --- opening ---------------------------------------------------------------- */

static gboolean
set_option (OgLedger  *self,
            int        option,
            int        value,
            GError   **error)
{
  const int result = sqlite3_db_config (self->db, option, value, (int *) NULL);

  if (result == SQLITE_OK)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_INTERNAL, "%s: %s", self->name,
               sqlite3_errstr (result));

  return FALSE;
}

static gboolean
connect_file (OgLedger    *self,
              const char  *path,
              int          flags,
              GError     **error)
{
  g_clear_pointer (&self->db, close_database);
  if (sqlite3_open_v2 (path, &self->db, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, NULL)
      != SQLITE_OK)
    return _og_ledger_fail (self, error);

  if (sqlite3_busy_timeout (self->db, BUSY_WAIT_MS) != SQLITE_OK
      || sqlite3_create_function_v2 (self->db, "fold", 1, SQLITE_UTF8 | SQLITE_DETERMINISTIC, NULL,
                                     sql_fold, NULL, NULL, NULL) != SQLITE_OK)
    return _og_ledger_fail (self, error);

  /* Nothing moves from the -wal into the file before it is known to be ours. */
  return set_option (self, SQLITE_DBCONFIG_DEFENSIVE, 1, error)
         && set_option (self, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, error)
         && set_option (self, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, error);
}

/* The library does not wait for others when the mode of a new file is set. */
static gboolean
use_wal (OgLedger  *self,
         GError   **error)
{
  for (guint waited_ms = 0;; waited_ms += BUSY_STEP_MS)
    {
      g_autoptr (GError) reason = NULL;

      if (_og_sql_run (self, "PRAGMA journal_mode = WAL", OG_SQL_NO_VALUES, &reason))
        return TRUE;
      if (waited_ms >= BUSY_WAIT_MS
          || !g_error_matches (reason, OG_LEDGER_ERROR, OG_LEDGER_ERROR_BUSY))
        {
          g_propagate_error (error, g_steal_pointer (&reason));
          return FALSE;
        }
      g_usleep (BUSY_STEP_MS * 1000);
    }
}

static gboolean
connect_to_write (OgLedger  *self,
                  GError   **error)
{
  gint64 version;

  if (!connect_file (self, self->path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, error)
      || !check_kind (self, &version, error) || !check_whole (self, error))
    return FALSE;
  if (sqlite3_db_readonly (self->db, "main") == 1)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_READ_ONLY,
                   _("%s: The ledger cannot be written: file or folder is read-only."),
                   self->name);
      return FALSE;
    }

  return set_option (self, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, error)
         && use_wal (self, error)
         && _og_sql_script (self, "PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON", error)
         && (version == OG_LEDGER_VERSION
             || _og_ledger_migrate (self, OG_LEDGER_VERSION, error));
}

static gboolean
is_damaged (const GError *error)
{
  return g_error_matches (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_DAMAGED);
}

/* Looks once more under a lock, so that of two programs only one moves the file. */
static gboolean
begin_anew (OgLedger   *self,
            GDateTime  *now,
            GError    **error)
{
  g_autoptr (GError) reason = NULL;
  const int fd = _og_ledger_lock_folder (self->path);
  gboolean opened = connect_to_write (self, &reason);

  if (!opened && is_damaged (reason))
    {
      g_clear_error (&reason);
      g_clear_pointer (&self->db, close_database);
      self->set_aside = _og_ledger_move_aside (self->path, now, &reason);
      opened = self->set_aside != NULL && connect_to_write (self, &reason);
    }
  if (fd >= 0)
    close (fd);
  if (reason != NULL)
    g_propagate_error (error, g_steal_pointer (&reason));

  return opened;
}

static gboolean
make_folder (OgLedger  *self,
             GError   **error)
{
  g_autofree char *folder = g_path_get_dirname (self->path);
  g_autofree char *name = NULL;
  int reason;

  if (g_mkdir_with_parents (folder, 0700) == 0)
    return TRUE;
  reason = errno;
  name = g_filename_display_name (folder);
  g_set_error (error, OG_LEDGER_ERROR,
               reason == EROFS || reason == EACCES ? OG_LEDGER_ERROR_READ_ONLY
                                                   : OG_LEDGER_ERROR_ACCESS,
               _("%s: The folder of the ledger cannot be made: %s."), name, g_strerror (reason));
  return FALSE;
}

/* The library says only that it cannot open a new file; that its folder is read-only is ours. */
static void
explain_access (OgLedger  *self,
                GError   **error)
{
  g_autofree char *folder = g_path_get_dirname (self->path);

  if (!g_error_matches (*error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS)
      || faccessat (AT_FDCWD, folder, W_OK, AT_EACCESS) == 0 || (errno != EACCES && errno != EROFS))
    return;
  g_clear_error (error);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_READ_ONLY,
               _("%s: The ledger cannot be written: file or folder is read-only."), self->name);
}

static gboolean
open_to_write (OgLedger       *self,
               OgLedgerFlags   flags,
               GDateTime      *now,
               GError        **error)
{
  g_autoptr (GError) reason = NULL;

  if (!make_folder (self, error))
    return FALSE;
  if (connect_to_write (self, &reason))
    return TRUE;
  if (is_damaged (reason) && (flags & OG_LEDGER_KEEP_DAMAGED) == 0)
    return begin_anew (self, now, error);
  explain_access (self, &reason);
  g_propagate_error (error, g_steal_pointer (&reason));

  return FALSE;
}

static gboolean
copy_all (OgLedger  *self,
          sqlite3   *source,
          GError   **error)
{
  sqlite3_backup *backup = sqlite3_backup_init (self->db, "main", source, "main");
  int stepped, finished;

  if (backup == NULL)
    return _og_ledger_fail (self, error);
  stepped = sqlite3_backup_step (backup, -1);
  finished = sqlite3_backup_finish (backup);

  return (stepped == SQLITE_DONE && finished == SQLITE_OK) || _og_ledger_fail (self, error);
}

/* A file of an earlier version is read through a copy in memory that is brought up to date. */
static gboolean
copy_into_memory (OgLedger  *self,
                  GError   **error)
{
  sqlite3 *source = g_steal_pointer (&self->db);
  const gboolean done = connect_file (self, ":memory:", SQLITE_OPEN_READWRITE, error)
                        && copy_all (self, source, error);

  close_database (source);

  return done && _og_ledger_migrate (self, OG_LEDGER_VERSION, error);
}

/* A -wal that holds something cannot be left out. */
static gboolean
has_wal (OgLedger *self)
{
  g_autofree char *wal = g_strconcat (self->path, "-wal", NULL);
  GStatBuf status;

  return g_stat (wal, &status) == 0 && status.st_size > 0;
}

/* In a folder that cannot be written the library needs to be told that nobody else writes. */
static gboolean
connect_immutable (OgLedger  *self,
                   gint64    *version,
                   GError   **error)
{
  g_autofree char *absolute = g_canonicalize_filename (self->path, NULL);
  g_autofree char *uri = g_filename_to_uri (absolute, NULL, error);
  g_autofree char *immutable = uri != NULL ? g_strconcat (uri, "?immutable=1", NULL) : NULL;

  return immutable != NULL
         && connect_file (self, immutable, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, error)
         && check_kind (self, version, error);
}

static gboolean
connect_to_read (OgLedger  *self,
                 gint64    *version,
                 GError   **error)
{
  g_autoptr (GError) reason = NULL;

  if (connect_file (self, self->path, SQLITE_OPEN_READONLY, &reason)
      && check_kind (self, version, &reason))
    return TRUE;
  if (!g_error_matches (reason, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS)
      && !g_error_matches (reason, OG_LEDGER_ERROR, OG_LEDGER_ERROR_READ_ONLY))
    {
      g_propagate_error (error, g_steal_pointer (&reason));
      return FALSE;
    }
  if (!has_wal (self))
    return connect_immutable (self, version, error);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS,
               _("%s: The last changes still lie beside the ledger, in a folder that cannot be "
                 "written. Open it once where it can be."), self->name);

  return FALSE;
}

static gboolean
open_to_read (OgLedger  *self,
              GError   **error)
{
  gint64 version;

  self->read_only = TRUE;
  if (!g_file_test (self->path, G_FILE_TEST_EXISTS))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS, _("%s: There is no ledger."),
                   self->name);
      return FALSE;
    }

  return connect_to_read (self, &version, error)
         && (version == OG_LEDGER_VERSION || copy_into_memory (self, error));
}

static void
note_version (OgLedger *self)
{
  g_autoptr (GError) error = NULL;

  if (!_og_sql_get (self, "PRAGMA data_version", OG_SQL_NO_VALUES, &self->data_version, &error))
    g_debug ("The state of the ledger is not known: %s", error->message);
}

OgLedger *
og_ledger_open (const char     *path,
                OgLedgerFlags   flags,
                GDateTime      *now,
                GError        **error)
{
  g_autoptr (OgLedger) self = NULL;

  g_return_val_if_fail (path != NULL, NULL);

  self = g_object_new (OG_TYPE_LEDGER, NULL);
  self->path = g_strdup (path);
  self->name = g_filename_display_name (path);
  if (!check_head (self, error))
    return NULL;
  if ((flags & OG_LEDGER_READ_ONLY) != 0 ? !open_to_read (self, error)
                                         : !open_to_write (self, flags, now, error))
    return NULL;
  note_version (self);

  return g_steal_pointer (&self);
}

const char *
og_ledger_get_path (OgLedger *self)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  return self->path;
}

gboolean
og_ledger_is_read_only (OgLedger *self)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), FALSE);

  return self->read_only;
}

const char *
og_ledger_get_set_aside (OgLedger *self)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  return self->set_aside;
}

/* --- what others change ------------------------------------------------------ */

gboolean
og_ledger_refresh (OgLedger *self)
{
  gint64 before;

  g_return_val_if_fail (OG_IS_LEDGER (self), FALSE);

  before = self->data_version;
  note_version (self);
  if (before == self->data_version)
    return FALSE;
  g_signal_emit (self, signals[CHANGED], 0);

  return TRUE;
}

static gboolean
on_refresh (gpointer user_data)
{
  OgLedger *self = user_data;

  self->refresh_id = 0;
  og_ledger_refresh (self);

  return G_SOURCE_REMOVE;
}

/* One transaction is several events, of the file or what lies beside it. */
static void
on_folder_event (OgLedger *self,
                 GFile    *file)
{
  g_autofree char *name = g_path_get_basename (self->path);
  g_autofree char *other = g_file_get_basename (file);

  if (self->refresh_id == 0 && g_str_has_prefix (other, name))
    self->refresh_id = g_timeout_add (REFRESH_DELAY_MS, on_refresh, self);
}

void
og_ledger_watch (OgLedger *self)
{
  g_autofree char *path = NULL;
  g_autoptr (GFile) folder = NULL;
  g_autoptr (GError) error = NULL;

  g_return_if_fail (OG_IS_LEDGER (self));

  if (self->monitor != NULL)
    return;
  path = g_path_get_dirname (self->path);
  folder = g_file_new_for_path (path);
  self->monitor = g_file_monitor_directory (folder, G_FILE_MONITOR_NONE, NULL, &error);
  if (self->monitor == NULL)
    {
      g_debug ("No watch on the ledger: %s", error->message);
      return;
    }
  g_signal_connect_swapped (self->monitor, "changed", G_CALLBACK (on_folder_event), self);
}
