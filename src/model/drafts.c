/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document-io.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/json-read.h"
#include "core/recipe/storage.h"
#include "model/document-private.h"
#include "model/file-lock.h"
#include "model/file-private.h"

/*
 * A draft is one line of JSON that says which version of which file it belongs to, then the
 * document as it would be saved. Beside it lies an empty "NAME.lock" that the program which writes
 * it keeps locked; the lock ends with the program, however that ends.
 */

#define DRAFT_FORMAT "oleograph-draft"
#define DRAFT_VERSION 1
#define DRAFT_SUFFIX ".draft"
#define LOCK_SUFFIX ".lock"
#define DRAFT_DELAY_MS 2000

/* Shared with the thread that writes. */
typedef struct
{
  GMutex   mutex;
  char    *path;
  char    *lock_path;
  int      lock_fd; /* -1: not held */
  gboolean dropped; /* must not be written any more */
} Draft;

struct _OgDraftKeeper
{
  OgDocument *document; /* its owner */
  GFile      *folder;
  Draft      *draft;
  guint       timer_id;
  gboolean    writing;
  gboolean    failed;   /* the last try */
};

typedef struct
{
  Draft   *draft;
  GBytes  *head;
  GBytes  *body;
  guint64  revision;
} Write;

static void
set_system_error (GError    **error,
                  const char *path,
                  int         code)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, G_IO_ERROR, (int) g_io_error_from_errno (code), "%s: %s", name,
               g_strerror (code));
}

static Draft *
draft_new (const char *path,
           int         lock_fd)
{
  Draft *draft = g_atomic_rc_box_new0 (Draft);

  g_mutex_init (&draft->mutex);
  draft->path = g_strdup (path);
  draft->lock_path = g_strconcat (path, LOCK_SUFFIX, NULL);
  draft->lock_fd = lock_fd;

  return draft;
}

static void
draft_clear (gpointer data)
{
  Draft *draft = data;

  if (draft->lock_fd >= 0)
    close (draft->lock_fd);
  g_mutex_clear (&draft->mutex);
  g_free (draft->path);
  g_free (draft->lock_path);
}

static void
draft_unref (Draft *draft)
{
  g_atomic_rc_box_release_full (draft, draft_clear);
}

/* The draft goes before its lock, so that nobody finds it without. */
static void
draft_remove (Draft *draft)
{
  if (g_unlink (draft->path) != 0 && errno != ENOENT)
    g_warning ("Cannot remove the draft %s: %s", draft->path, g_strerror (errno));
  if (draft->lock_fd >= 0)
    {
      g_unlink (draft->lock_path);
      close (draft->lock_fd);
      draft->lock_fd = -1;
    }
}

static gboolean
draft_lock (Draft   *draft,
            GError **error)
{
  if (draft->lock_fd < 0)
    draft->lock_fd = _og_lock_try (draft->lock_path, O_RDWR | O_CREAT);
  if (draft->lock_fd < 0 && errno == EWOULDBLOCK)
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_BUSY,
                         _("Another window or program is working on this draft."));
  else if (draft->lock_fd < 0)
    set_system_error (error, draft->lock_path, errno);

  return draft->lock_fd >= 0;
}

static gboolean
make_folder (const char  *path,
             GError     **error)
{
  g_autofree char *folder = g_path_get_dirname (path);

  if (g_mkdir_with_parents (folder, 0700) == 0)
    return TRUE;

  set_system_error (error, folder, errno);

  return FALSE;
}

static gboolean
write_draft (const Write  *job,
             GError      **error)
{
  g_autoptr (GByteArray) text = g_byte_array_new ();
  gsize length;
  gconstpointer data;

  data = g_bytes_get_data (job->head, &length);
  g_byte_array_append (text, data, (guint) length);
  data = g_bytes_get_data (job->body, &length);
  g_byte_array_append (text, data, (guint) length);

  return make_folder (job->draft->path, error) && draft_lock (job->draft, error)
         && g_file_set_contents_full (job->draft->path, (const char *) text->data,
                                      (gssize) text->len,
                                      G_FILE_SET_CONTENTS_CONSISTENT
                                          | G_FILE_SET_CONTENTS_DURABLE,
                                      0600, error);
}

static void
write_in_thread (GTask        *task,
                 gpointer      source,
                 gpointer      task_data,
                 GCancellable *cancellable)
{
  const Write *job = task_data;
  GError *error = NULL;

  g_mutex_lock (&job->draft->mutex);
  if (!job->draft->dropped)
    write_draft (job, &error);
  g_mutex_unlock (&job->draft->mutex);

  if (error != NULL)
    g_task_return_error (task, error);
  else
    g_task_return_boolean (task, TRUE);
}

static void
write_free (Write *job)
{
  draft_unref (job->draft);
  g_bytes_unref (job->head);
  g_bytes_unref (job->body);
  g_free (job);
}

/* The line of JSON */

static void
add_string (JsonBuilder *builder,
            const char  *member,
            const char  *value)
{
  json_builder_set_member_name (builder, member);
  if (value != NULL)
    json_builder_add_string_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

static GBytes *
head_new (OgDocument *document)
{
  GFile *file = og_document_get_file (document);
  g_autofree char *uri = file != NULL ? g_file_get_uri (file) : NULL;
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *json = NULL;
  char *line;

  json_builder_begin_object (builder);
  add_string (builder, "etag", _og_document_get_etag (document));
  add_string (builder, "file", uri);
  add_string (builder, "format", DRAFT_FORMAT);
  json_builder_set_member_name (builder, "version");
  json_builder_add_int_value (builder, DRAFT_VERSION);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  json = json_to_string (root, FALSE);
  line = g_strconcat (json, "\n", NULL);

  return g_bytes_new_take (line, strlen (line));
}

/* Which document a draft belongs to. */
typedef struct
{
  char *uri;  /* nullable */
  char *etag; /* nullable */
} Head;

static void
head_clear (Head *head)
{
  g_free (head->uri);
  g_free (head->etag);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Head, head_clear)

static gboolean
parse_head (const char  *text,
            gsize        length,
            const char  *name,
            Head        *head,
            GError     **error)
{
  g_autoptr (OgJsonFile) file = og_json_file_parse (text, length, name, error);
  OgJsonContext context;
  OgJsonReader reader;

  if (file == NULL
      || !og_json_begin_document (file, DRAFT_FORMAT, DRAFT_VERSION, _("This is not a draft."), &context, &reader,
                                  error))
    return FALSE;

  reader.nulls = OG_JSON_NULL_ABSENT;

  return og_json_read_text (&reader, "file", OG_JSON_OPTIONAL, &head->uri)
         && og_json_read_text (&reader, "etag", OG_JSON_OPTIONAL, &head->etag);
}

/* Keeping */

static void start_timer (OgDraftKeeper *keeper);

static void
on_written (GObject      *source,
            GAsyncResult *result,
            gpointer      user_data)
{
  OgDocument *document = OG_DOCUMENT (source);
  OgDraftKeeper *keeper = _og_document_get_keeper (document);
  const Write *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean first;

  g_task_propagate_boolean (G_TASK (result), &error);
  if (keeper == NULL || keeper->draft != job->draft)
    return;

  first = !keeper->failed;
  keeper->writing = FALSE;
  keeper->failed = error != NULL;
  if (error != NULL || og_document_get_revision (document) != job->revision
      || !og_document_get_modified (document))
    start_timer (keeper);
  if (error != NULL && first)
    _og_document_draft_failed (document, error);
}

static void
start_writing (OgDraftKeeper *keeper)
{
  g_autoptr (GTask) task = g_task_new (keeper->document, NULL, on_written, NULL);
  Write *job = g_new0 (Write, 1);

  job->draft = g_atomic_rc_box_acquire (keeper->draft);
  job->head = head_new (keeper->document);
  job->body = og_storage_serialise (og_document_get_formula (keeper->document));
  job->revision = og_document_get_revision (keeper->document);
  keeper->writing = TRUE;
  g_task_set_task_data (task, job, (GDestroyNotify) write_free);
  g_task_run_in_thread (task, write_in_thread);
}

static void
remove_draft (OgDraftKeeper *keeper)
{
  g_mutex_lock (&keeper->draft->mutex);
  draft_remove (keeper->draft);
  g_mutex_unlock (&keeper->draft->mutex);
}

static gboolean
on_timer (gpointer user_data)
{
  OgDraftKeeper *keeper = user_data;

  keeper->timer_id = 0;
  if (!og_document_get_modified (keeper->document))
    remove_draft (keeper);
  else if (!keeper->writing)
    start_writing (keeper);

  return G_SOURCE_REMOVE;
}

/* Not started anew by every change: a draft is never older than the delay and the time to write. */
static void
start_timer (OgDraftKeeper *keeper)
{
  if (keeper->timer_id == 0)
    keeper->timer_id = g_timeout_add (DRAFT_DELAY_MS, on_timer, keeper);
}

void
_og_document_draft_is_saved (OgDocument *self)
{
  OgDraftKeeper *keeper = _og_document_get_keeper (self);

  if (keeper == NULL)
    return;

  if (og_document_get_modified (self))
    start_timer (keeper);
  else
    remove_draft (keeper);
}

void
_og_draft_keeper_free (OgDraftKeeper *keeper)
{
  g_clear_handle_id (&keeper->timer_id, g_source_remove);
  g_signal_handlers_disconnect_by_data (keeper->document, keeper);
  g_clear_object (&keeper->folder);
  g_clear_pointer (&keeper->draft, draft_unref);
  g_free (keeper);
}

/* Takes @draft. */
static void
keep (OgDocument *self,
      GFile      *folder,
      Draft      *draft)
{
  OgDraftKeeper *keeper = g_new0 (OgDraftKeeper, 1);

  keeper->document = self;
  keeper->folder = g_object_ref (folder);
  keeper->draft = draft;
  g_signal_connect_swapped (self, "formula-changed", G_CALLBACK (start_timer), keeper);
  _og_document_set_keeper (self, keeper);
}

/* Begins with the time, so that names sort by age. */
static char *
make_draft_path (GFile *folder)
{
  g_autofree char *uuid = g_uuid_string_random ();
  g_autofree char *name = g_strdup_printf ("%" G_GINT64_FORMAT "-%s" DRAFT_SUFFIX,
                                           g_get_real_time (), uuid);

  return g_build_filename (g_file_peek_path (folder), name, NULL);
}

void
og_document_keep_draft (OgDocument *self,
                        GFile      *folder)
{
  const OgDraftKeeper *keeper;
  g_autofree char *path = NULL;

  g_return_if_fail (OG_IS_DOCUMENT (self));
  g_return_if_fail (G_IS_FILE (folder) && g_file_peek_path (folder) != NULL);

  keeper = _og_document_get_keeper (self);
  if (keeper != NULL && g_file_equal (keeper->folder, folder))
    return;

  og_document_drop_draft (self);
  path = make_draft_path (folder);
  keep (self, folder, draft_new (path, -1));
  if (og_document_get_modified (self))
    start_timer (_og_document_get_keeper (self));
}

void
og_document_drop_draft (OgDocument *self)
{
  OgDraftKeeper *keeper;

  g_return_if_fail (OG_IS_DOCUMENT (self));

  keeper = _og_document_get_keeper (self);
  if (keeper == NULL)
    return;

  /* Waits for a write under way. */
  g_mutex_lock (&keeper->draft->mutex);
  keeper->draft->dropped = TRUE;
  draft_remove (keeper->draft);
  g_mutex_unlock (&keeper->draft->mutex);
  _og_document_set_keeper (self, NULL);
}

/* Drafts left behind */

static gboolean
is_left_behind (const char *path)
{
  g_autofree char *lock_path = g_strconcat (path, LOCK_SUFFIX, NULL);
  const int fd = _og_lock_try (lock_path, O_RDWR);

  if (fd < 0)
    return errno == ENOENT;

  close (fd);

  return g_file_test (path, G_FILE_TEST_IS_REGULAR);
}

static int
compare_path (gconstpointer a,
              gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Returns: (transfer full) (element-type filename): sorted */
static GPtrArray *
find_drafts (const char *folder)
{
  GPtrArray *paths = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, &error);
  const char *name;

  if (dir == NULL && !g_error_matches (error, G_FILE_ERROR, G_FILE_ERROR_NOENT))
    g_warning ("No drafts can be looked for: %s", error->message);
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, DRAFT_SUFFIX))
      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (paths, compare_path);

  return paths;
}

GPtrArray *
og_drafts_list (GFile *folder)
{
  GPtrArray *drafts = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GPtrArray) paths = NULL;

  g_return_val_if_fail (G_IS_FILE (folder) && g_file_peek_path (folder) != NULL, drafts);

  paths = find_drafts (g_file_peek_path (folder));
  for (guint i = 0; i < paths->len; i++)
    if (is_left_behind (g_ptr_array_index (paths, i)))
      g_ptr_array_add (drafts, g_file_new_for_path (g_ptr_array_index (paths, i)));

  return drafts;
}

/* Returns: (nullable) (transfer full): the draft at @file, locked */
static Draft *
take_over (GFile   *file,
           GError **error)
{
  Draft *draft = draft_new (g_file_peek_path (file), -1);

  if (draft_lock (draft, error))
    return draft;

  draft_unref (draft);

  return NULL;
}

static OgFormula *
parse_draft (OgCatalog   *library,
             const char  *text,
             gsize        length,
             const char  *name,
             Head        *head,
             GError     **error)
{
  const char *end = memchr (text, '\n', length);
  const gsize head_length = end != NULL ? (gsize) (end + 1 - text) : length;
  g_autoptr (GBytes) body = NULL;

  if (!parse_head (text, head_length, name, head, error))
    return NULL;

  body = g_bytes_new (text + head_length, length - head_length);

  return og_storage_parse (body, name, library, error);
}

static void
take_draft (OgDocument *self,
            const Head *head,
            OgFormula  *formula)
{
  g_autoptr (GFile) file = head->uri != NULL ? g_file_new_for_uri (head->uri) : NULL;

  g_object_freeze_notify (G_OBJECT (self));
  _og_document_attach (self, file, head->etag);
  og_document_reset (self, formula);
  _og_document_mark_saved_at (self, 0);
  g_object_thaw_notify (G_OBJECT (self));
}

static OgFormula *
read_draft (OgCatalog  *library,
            GFile      *file,
            Head       *head,
            GError    **error)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autofree char *text = NULL;
  gsize length;

  if (!g_file_load_contents (file, NULL, &text, &length, NULL, error))
    return NULL;

  return parse_draft (library, text, length, name, head, error);
}

static gboolean
load_draft (OgDocument  *self,
            GFile       *file,
            GError     **error)
{
  g_auto (Head) head = { 0 };
  OgFormula *formula = read_draft (_og_document_get_library (self), file, &head, error);

  if (formula == NULL)
    return FALSE;

  og_document_drop_draft (self);
  take_draft (self, &head, formula);

  return TRUE;
}

gboolean
og_document_adopt_draft (OgDocument  *self,
                         GFile       *draft,
                         GError     **error)
{
  g_autoptr (GFile) folder = NULL;
  Draft *taken;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (G_IS_FILE (draft) && g_file_peek_path (draft) != NULL, FALSE);

  taken = take_over (draft, error);
  if (taken == NULL)
    return FALSE;

  if (!load_draft (self, draft, error))
    {
      draft_unref (taken);
      return FALSE;
    }

  folder = g_file_get_parent (draft);
  keep (self, folder, taken);

  return TRUE;
}

char *
og_draft_get_name (GFile      *draft,
                   OgCatalog  *library,
                   GError    **error)
{
  g_auto (Head) head = { 0 };
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (GFile) file = NULL;

  g_return_val_if_fail (G_IS_FILE (draft) && library != NULL, NULL);

  formula = read_draft (library, draft, &head, error);
  if (formula == NULL)
    return NULL;
  if (*formula->title != '\0')
    return g_strdup (formula->title);

  file = head.uri != NULL ? g_file_new_for_uri (head.uri) : NULL;

  return file != NULL ? _og_file_display_name (file) : g_strdup (_("Untitled recipe"));
}

gboolean
og_draft_discard (GFile   *draft,
                  GError **error)
{
  Draft *taken;

  g_return_val_if_fail (G_IS_FILE (draft) && g_file_peek_path (draft) != NULL, FALSE);

  taken = take_over (draft, error);
  if (taken == NULL)
    return FALSE;

  draft_remove (taken);
  draft_unref (taken);

  return TRUE;
}
