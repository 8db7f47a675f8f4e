/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document-io.h"

#include <glib/gi18n-lib.h>

#include "core/recipe/recipe-table.h"
#include "core/recipe/storage.h"
#include "model/document-private.h"
#include "model/file-private.h"

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
  char    *name;
  char    *etag;
  gboolean again; /* the recipe before stays in the history */
} Load;

static void
load_free (Load *load)
{
  g_free (load->name);
  g_free (load->etag);
  g_free (load);
}

/* What is on disk becomes the saved point, and what was here one step back. */
static void
take_again (OgDocument *self,
            OgFormula  *formula)
{
  if (og_formula_equal (formula, og_document_get_formula (self)))
    og_formula_free (formula);
  else
    _og_document_push (self, formula, _("Load again from disk"), NULL);
  og_document_mark_saved (self);
}

static void
take_document (OgDocument *self,
               GFile      *file,
               const Load *load,
               OgFormula  *formula)
{
  g_object_freeze_notify (G_OBJECT (self));
  _og_document_attach (self, file, file != NULL ? load->etag : NULL);
  if (load->again)
    take_again (self, formula);
  else
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
  const gboolean document = og_recipe_is_document (text);
  OgFormula *formula;

  formula = document
            ? og_storage_parse (bytes, load->name, library, error)
            : og_recipe_table_parse (text, (gssize) length, load->name, library, error);
  if (formula == NULL)
    return FALSE;

  take_document (self, document ? file : NULL, load, formula);

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

static void
on_load_info (GObject      *source,
              GAsyncResult *result,
              gpointer      user_data)
{
  g_autoptr (GTask) task = user_data;
  const Load *load = g_task_get_task_data (task);
  GError *error = NULL;
  g_autoptr (GFileInfo) info = g_file_query_info_finish (G_FILE (source), result, &error);

  if (info == NULL || !_og_file_is_readable (info, load->name, &error))
    {
      g_task_return_error (task, error);
      return;
    }

  g_file_load_contents_async (G_FILE (source), g_task_get_cancellable (task), on_contents,
                              g_object_ref (task));
}

static void
start_load (OgDocument          *self,
            GFile               *file,
            gboolean             again,
            GCancellable        *cancellable,
            GAsyncReadyCallback  callback,
            gpointer             user_data)
{
  Load *request = g_new0 (Load, 1);
  GTask *task;

  request->name = _og_file_display_name (file);
  request->again = again;
  task = g_task_new (self, cancellable, callback, user_data);
  g_task_set_task_data (task, request, (GDestroyNotify) load_free);
  g_file_query_info_async (file, OG_FILE_READABLE_ATTRIBUTES, G_FILE_QUERY_INFO_NONE,
                           G_PRIORITY_DEFAULT, cancellable, on_load_info, task);
}

void
og_document_load_async (OgDocument          *self,
                        GFile               *file,
                        GCancellable        *cancellable,
                        GAsyncReadyCallback  callback,
                        gpointer             user_data)
{
  g_return_if_fail (OG_IS_DOCUMENT (self) && G_IS_FILE (file));

  start_load (self, file, FALSE, cancellable, callback, user_data);
}

void
og_document_load_again_async (OgDocument          *self,
                              GCancellable        *cancellable,
                              GAsyncReadyCallback  callback,
                              gpointer             user_data)
{
  g_return_if_fail (OG_IS_DOCUMENT (self) && og_document_get_file (self) != NULL);

  start_load (self, og_document_get_file (self), TRUE, cancellable, callback, user_data);
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

static void
save_in_thread (GTask        *task,
                gpointer      source,
                gpointer      task_data,
                GCancellable *cancellable)
{
  Save *save = task_data;
  GError *error = NULL;

  if (_og_file_write (save->file, save->bytes, save->etag, &save->new_etag, cancellable, &error))
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
