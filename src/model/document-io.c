/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document-io.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "core/error.h"
#include "core/recipe-table.h"
#include "core/storage.h"
#include "model/document-private.h"

#define UTF8_MARK "\xef\xbb\xbf"

struct _OgFileState
{
  OgDocument   *document; /* its owner */
  GFile        *file;     /* nullable */
  char         *etag;     /* nullable: of the version loaded or saved last */
  GFileMonitor *monitor;  /* nullable */
  GCancellable *check;    /* of the look at the disk under way */
  gboolean      changed_on_disk;
  gboolean      saving;
};

static void
stop_watching (OgFileState *state)
{
  g_cancellable_cancel (state->check);
  g_clear_object (&state->check);
  if (state->monitor != NULL)
    {
      g_signal_handlers_disconnect_by_data (state->monitor, state);
      g_file_monitor_cancel (state->monitor);
      g_clear_object (&state->monitor);
    }
}

void
_og_file_state_free (OgFileState *state)
{
  stop_watching (state);
  g_clear_object (&state->file);
  g_free (state->etag);
  g_free (state);
}

static OgFileState *
ensure_state (OgDocument *self)
{
  OgFileState *state = _og_document_get_file_state (self);

  if (state == NULL)
    {
      state = g_new0 (OgFileState, 1);
      state->document = self;
      _og_document_set_file_state (self, state);
    }

  return state;
}

GFile *
og_document_get_file (OgDocument *self)
{
  const OgFileState *state;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), NULL);

  state = _og_document_get_file_state (self);

  return state != NULL ? state->file : NULL;
}

const char *
_og_document_get_etag (OgDocument *self)
{
  const OgFileState *state = _og_document_get_file_state (self);

  return state != NULL ? state->etag : NULL;
}

gboolean
og_document_get_changed_on_disk (OgDocument *self)
{
  const OgFileState *state;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  state = _og_document_get_file_state (self);

  return state != NULL && state->changed_on_disk;
}

/* Changes on disk: whatever happens to the file, its version tells whether it is still ours. */

static void
set_changed_on_disk (OgFileState *state,
                     gboolean     changed)
{
  if (state->changed_on_disk == changed)
    return;

  state->changed_on_disk = changed;
  _og_document_notify_disk (state->document);
}

static void
on_checked (GObject      *source,
            GAsyncResult *result,
            gpointer      user_data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GFileInfo) info = g_file_query_info_finish (G_FILE (source), result, &error);
  OgFileState *state = user_data;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;

  g_clear_object (&state->check);
  set_changed_on_disk (state, info == NULL
                              || g_strcmp0 (g_file_info_get_etag (info), state->etag) != 0);
}

static void
check_disk (OgFileState *state)
{
  if (state->saving || state->file == NULL)
    return;

  g_cancellable_cancel (state->check);
  g_clear_object (&state->check);
  state->check = g_cancellable_new ();
  g_file_query_info_async (state->file, G_FILE_ATTRIBUTE_ETAG_VALUE, G_FILE_QUERY_INFO_NONE,
                           G_PRIORITY_DEFAULT, state->check, on_checked, state);
}

static void
watch (OgFileState *state)
{
  g_autoptr (GError) error = NULL;

  state->monitor = g_file_monitor_file (state->file, G_FILE_MONITOR_WATCH_MOVES, NULL, &error);
  if (state->monitor == NULL)
    {
      /* Not every file system can be watched; saving compares versions all the same. */
      g_debug ("No watch on the file: %s", error->message);
      return;
    }

  g_signal_connect_swapped (state->monitor, "changed", G_CALLBACK (check_disk), state);
}

void
_og_document_attach (OgDocument *self,
                     GFile      *file,
                     const char *etag)
{
  OgFileState *state = ensure_state (self);
  const gboolean other = file == NULL || state->file == NULL || !g_file_equal (file, state->file);

  g_free (state->etag);
  state->etag = g_strdup (etag);
  if (other)
    {
      stop_watching (state);
      if (g_set_object (&state->file, file))
        _og_document_notify_file (self);
      if (file != NULL)
        watch (state);
    }

  set_changed_on_disk (state, FALSE);
  check_disk (state);
}

/* Loading */

typedef struct
{
  char *name;
  char *etag;
} Load;

static void
load_free (Load *load)
{
  g_free (load->name);
  g_free (load->etag);
  g_free (load);
}

/* The rule of og_recipe_load(). @text ends with a zero byte. */
static gboolean
is_document (const char *text)
{
  if (g_str_has_prefix (text, UTF8_MARK))
    text += strlen (UTF8_MARK);
  while (g_ascii_isspace (*text))
    text++;

  return *text == '{' || *text == '[';
}

static void
take_document (OgDocument *self,
               GFile      *file,
               const char *etag,
               OgFormula  *formula)
{
  g_object_freeze_notify (G_OBJECT (self));
  _og_document_attach (self, file, etag);
  og_document_reset (self, formula);
  g_object_thaw_notify (G_OBJECT (self));
}

static gboolean
take_contents (OgDocument  *self,
               GFile       *file,
               const Load  *load,
               char        *text,
               gsize        length,
               GError     **error)
{
  OgCatalog *library = _og_document_get_library (self);
  g_autoptr (GBytes) bytes = g_bytes_new_take (text, length);
  const gboolean document = is_document (text);
  OgFormula *formula;

  formula = document
            ? og_storage_parse (bytes, load->name, library, error)
            : og_recipe_table_parse (text, (gssize) length, load->name, library, error);
  if (formula == NULL)
    return FALSE;

  if (document)
    take_document (self, file, load->etag, formula);
  else
    take_document (self, NULL, NULL, formula);

  return TRUE;
}

static void
on_contents (GObject      *source,
             GAsyncResult *result,
             gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  Load *load = g_task_get_task_data (task);
  GError *error = NULL;
  char *text;
  gsize length;

  if (g_file_load_contents_finish (G_FILE (source), result, &text, &length, &load->etag, &error)
      && take_contents (g_task_get_source_object (task), G_FILE (source), load, text, length,
                        &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static gboolean
is_readable (GFileInfo   *info,
             const char  *name,
             GError     **error)
{
  const GFileType type = g_file_info_get_file_type (info);

  if (type == G_FILE_TYPE_DIRECTORY)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY, _("%s: This is a folder."), name);
  else if (type != G_FILE_TYPE_REGULAR)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE,
                 _("%s: This is not an ordinary file."), name);
  else if (g_file_info_get_size (info) > OG_STORAGE_MAX_BYTES)
    g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_TOO_LARGE,
                 _("%s: The file is larger than %d MiB."), name,
                 OG_STORAGE_MAX_BYTES / (1024 * 1024));
  else
    return TRUE;

  return FALSE;
}

static void
on_load_info (GObject      *source,
              GAsyncResult *result,
              gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  const Load *load = g_task_get_task_data (task);
  GError *error = NULL;
  g_autoptr (GFileInfo) info = g_file_query_info_finish (G_FILE (source), result, &error);

  if (info == NULL || !is_readable (info, load->name, &error))
    {
      g_task_return_error (task, error);
      return;
    }

  g_file_load_contents_async (G_FILE (source), g_task_get_cancellable (task), on_contents,
                              g_object_ref (task));
}

static char *
display_name (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);

  return g_filename_display_name (name);
}

void
og_document_load_async (OgDocument          *self,
                        GFile               *file,
                        GCancellable        *cancellable,
                        GAsyncReadyCallback  callback,
                        gpointer             user_data)
{
  GTask *task;
  Load *load;

  g_return_if_fail (OG_IS_DOCUMENT (self) && G_IS_FILE (file));

  load = g_new0 (Load, 1);
  load->name = display_name (file);
  task = g_task_new (self, cancellable, callback, user_data);
  g_task_set_task_data (task, load, (GDestroyNotify) load_free);
  g_file_query_info_async (file,
                           G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_SIZE,
                           G_FILE_QUERY_INFO_NONE, G_PRIORITY_DEFAULT, cancellable,
                           on_load_info, task);
}

gboolean
og_document_load_finish (OgDocument    *self,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}

/* Saving */

typedef struct
{
  GFile   *file;
  GBytes  *bytes;
  char    *etag;     /* nullable: what the file must be now */
  char    *new_etag; /* nullable: what it is afterwards */
  guint64  serial;
} Save;

static void
save_free (Save *save)
{
  g_object_unref (save->file);
  g_bytes_unref (save->bytes);
  g_free (save->etag);
  g_free (save->new_etag);
  g_free (save);
}

/* A link is followed, so that what it points at can be replaced as a whole. */
static GFile *
follow_links (GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  char *target = path != NULL ? realpath (path, NULL) : NULL;
  GFile *result;

  if (target == NULL)
    return g_object_ref (file);

  result = g_file_new_for_path (target);
  free (target);

  return result;
}

static char *
query_etag (GFile        *file,
            GCancellable *cancellable)
{
  g_autoptr (GFileInfo) info = g_file_query_info (file, G_FILE_ATTRIBUTE_ETAG_VALUE,
                                                  G_FILE_QUERY_INFO_NONE, cancellable, NULL);

  return info != NULL ? g_strdup (g_file_info_get_etag (info)) : NULL;
}

/* A file that is not there yet appears whole or not at all. */
static gboolean
create_file (Save          *save,
             const char    *path,
             GCancellable  *cancellable,
             GError       **error)
{
  gsize length;
  const char *text = g_bytes_get_data (save->bytes, &length);

  if (!g_file_set_contents_full (path, text, (gssize) length,
                                 G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                 0666, error))
    return FALSE;

  save->new_etag = query_etag (save->file, cancellable);

  return TRUE;
}

/* A cancelled close throws away what was written and leaves the old file alone. */
static void
abandon (GOutputStream *stream)
{
  g_autoptr (GCancellable) cancelled = g_cancellable_new ();

  g_cancellable_cancel (cancelled);
  g_output_stream_close (stream, cancelled, NULL);
}

/* What a stream says about its errors does not name the file. */
static gboolean
prefix_name (GFile   *file,
             GError **error)
{
  g_autofree char *name = display_name (file);

  g_prefix_error (error, "%s: ", name);

  return FALSE;
}

/* That the previous version cannot be kept says little; the reason is the folder. */
static void
explain_backup (GFile   *file,
                GError **error)
{
  g_autofree char *name = NULL;

  if (error == NULL || !g_error_matches (*error, G_IO_ERROR, G_IO_ERROR_CANT_CREATE_BACKUP))
    return;

  name = display_name (file);
  g_clear_error (error);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANT_CREATE_BACKUP,
               _("%s: The file was not replaced, because its folder cannot be written to."), name);
}

static gboolean
replace_file (Save          *save,
              GFile         *file,
              GCancellable  *cancellable,
              GError       **error)
{
  g_autoptr (GFileOutputStream) stream = NULL;
  gsize length;
  const char *text = g_bytes_get_data (save->bytes, &length);

  stream = g_file_replace (file, save->etag, TRUE, G_FILE_CREATE_NONE, cancellable, error);
  if (stream == NULL)
    {
      explain_backup (file, error);
      return FALSE;
    }

  if (!g_output_stream_write_all (G_OUTPUT_STREAM (stream), text, length, NULL, cancellable,
                                  error))
    {
      abandon (G_OUTPUT_STREAM (stream));
      return prefix_name (file, error);
    }

  if (!g_output_stream_close (G_OUTPUT_STREAM (stream), cancellable, error))
    return prefix_name (file, error);

  save->new_etag = g_file_output_stream_get_etag (stream);

  return TRUE;
}

static gboolean
write_file (Save          *save,
            GCancellable  *cancellable,
            GError       **error)
{
  g_autoptr (GFile) file = follow_links (save->file);
  g_autofree char *path = g_file_get_path (file);

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;

  if (path != NULL && !g_file_query_exists (file, NULL))
    return create_file (save, path, cancellable, error);

  return replace_file (save, file, cancellable, error);
}

static void
save_in_thread (GTask        *task,
                gpointer      source,
                gpointer      task_data,
                GCancellable *cancellable)
{
  GError *error = NULL;

  if (write_file (task_data, cancellable, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_saved (GObject      *source,
          GAsyncResult *result,
          gpointer      user_data)
{
  OgDocument *self = OG_DOCUMENT (source);
  g_autoptr (GTask) task = user_data;
  const Save *save = g_task_get_task_data (G_TASK (result));
  GError *error = NULL;

  ensure_state (self)->saving = FALSE;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    {
      check_disk (ensure_state (self));
      g_task_return_error (task, error);
      return;
    }

  g_object_freeze_notify (source);
  _og_document_attach (self, save->file, save->new_etag);
  _og_document_mark_saved_at (self, save->serial);
  g_object_thaw_notify (source);
  _og_document_draft_is_saved (self);
  g_task_return_boolean (task, TRUE);
}

static Save *
save_new (OgDocument *self,
          GFile      *file,
          gboolean    overwrite)
{
  const OgFileState *state = ensure_state (self);
  Save *save = g_new0 (Save, 1);

  save->file = g_object_ref (file);
  save->bytes = og_storage_serialise (og_document_get_formula (self));
  save->serial = _og_document_begin_save (self);
  if (!overwrite && state->file != NULL && g_file_equal (file, state->file))
    save->etag = g_strdup (state->etag);

  return save;
}

void
og_document_save_async (OgDocument          *self,
                        GFile               *file,
                        gboolean             overwrite,
                        GCancellable        *cancellable,
                        GAsyncReadyCallback  callback,
                        gpointer             user_data)
{
  g_autoptr (GTask) write = NULL;
  OgFileState *state;
  GTask *task;

  g_return_if_fail (OG_IS_DOCUMENT (self));

  state = ensure_state (self);
  g_return_if_fail (file != NULL || state->file != NULL);

  task = g_task_new (self, cancellable, callback, user_data);
  /* What is on disk counts, also when it was asked to stop just then. */
  g_task_set_check_cancellable (task, FALSE);
  if (state->saving)
    {
      g_task_return_new_error (task, G_IO_ERROR, G_IO_ERROR_PENDING,
                               _("The document is being saved already."));
      g_object_unref (task);
      return;
    }

  state->saving = TRUE;
  write = g_task_new (self, cancellable, on_saved, task);
  g_task_set_check_cancellable (write, FALSE);
  g_task_set_task_data (write, save_new (self, file != NULL ? file : state->file, overwrite),
                        (GDestroyNotify) save_free);
  g_task_run_in_thread (write, save_in_thread);
}

gboolean
og_document_save_finish (OgDocument    *self,
                         GAsyncResult  *result,
                         GError       **error)
{
  g_return_val_if_fail (g_task_is_valid (result, self), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}
