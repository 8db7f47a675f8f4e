/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/file-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "model/file-lock.h"

#define NEW_FILE_MODE 0666 /* less what the user's mask takes away */
#define ALL_PERMISSIONS 07777 /* the bits of st_mode that chmod() sets */

char *
_og_file_display_name (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);

  return g_filename_display_name (name);
}

gboolean
_og_file_is_readable (GFileInfo   *info,
                      const char  *name,
                      GError     **error)
{
  const GFileType type = g_file_info_get_file_type (info);

  if (type == G_FILE_TYPE_DIRECTORY)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY, _("%s: This is a folder."), name);
  else if (type != G_FILE_TYPE_REGULAR)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE,
                 _("%s: This is not an ordinary file."), name);
  else if (g_file_info_get_size (info) > OG_JSON_MAX_BYTES)
    g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_TOO_LARGE,
                 _("%s: The file is larger than %d MiB."), name,
                 OG_JSON_MAX_BYTES / (1024 * 1024));
  else
    return TRUE;

  return FALSE;
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

/* --- writing ------------------------------------------------------------------ */

/* A local file on its way to its place. */
typedef struct
{
  const char *path;
  char       *name;   /* of the file, for messages */
  char       *spare;  /* where the new text is written first; what a killed program left there is overwritten */
  char       *backup;
  struct stat status; /* of the previous version */
  gboolean    exists;
} Replacement;

static void
replacement_clear (Replacement *self)
{
  g_free (self->name);
  g_free (self->spare);
  g_free (self->backup);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Replacement, replacement_clear)

static void
replacement_init (Replacement *self,
                  const char  *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *hidden = g_strconcat (".", base, ".new", NULL);

  *self = (Replacement){ .path = path, .name = g_filename_display_name (base) };
  self->spare = g_build_filename (folder, hidden, NULL);
  self->backup = g_strconcat (path, "~", NULL);
  self->exists = g_stat (path, &self->status) == 0;
}

static gboolean
fail_replacement (const Replacement  *self,
                  int                 code,
                  GError            **error)
{
  g_set_error (error, G_IO_ERROR, (int) g_io_error_from_errno (code),
               _("%s: The file was not written: %s"), self->name, g_strerror (code));
  return FALSE;
}

static gboolean
check_replaceable (const Replacement  *self,
                   GFile              *file,
                   const char         *etag,
                   GCancellable       *cancellable,
                   GError            **error)
{
  g_autofree char *now = NULL;

  if (!self->exists)
    return TRUE;
  if (S_ISDIR (self->status.st_mode))
    return fail_replacement (self, EISDIR, error);
  if (faccessat (AT_FDCWD, self->path, W_OK, AT_EACCESS) != 0)
    return fail_replacement (self, errno, error);
  now = etag != NULL ? query_etag (file, cancellable) : NULL;
  if (etag == NULL || g_strcmp0 (etag, now) == 0)
    return TRUE;
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG,
               _("%s: The file was changed by somebody else."), self->name);
  return FALSE;
}

/* @fd: closed in any case */
static gboolean
fill_spare (const Replacement  *self,
            int                 fd,
            GBytes             *bytes,
            GError            **error)
{
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);
  int code = 0;

  if (self->exists && (fchmod (fd, self->status.st_mode & ALL_PERMISSIONS) != 0
                       || (fchown (fd, self->status.st_uid, self->status.st_gid) != 0 && errno != EPERM)))
    code = errno;
  while (code == 0 && length > 0)
    {
      const gssize n = write (fd, text, length);

      if (n < 0 && errno != EINTR)
        code = errno;
      text += MAX (n, 0);
      length -= (gsize) MAX (n, 0);
    }
  if (code == 0 && fsync (fd) != 0)
    code = errno;
  if (close (fd) != 0 && code == 0)
    code = errno;
  return code == 0 || fail_replacement (self, code, error);
}

static gboolean
write_spare (const Replacement  *self,
             GBytes             *bytes,
             GError            **error)
{
  const int fd = g_open (self->spare, O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, NEW_FILE_MODE);

  if (fd >= 0)
    return fill_spare (self, fd, bytes, error);
  if (!self->exists || (errno != EACCES && errno != EROFS))
    return fail_replacement (self, errno, error);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANT_CREATE_BACKUP,
               _("%s: The file was not replaced, because its folder cannot be written to."), self->name);
  return FALSE;
}

/* The previous version stays as it is under another name. Where the file system knows no second names, it is moved
 * away for the moment between two renames. */
static gboolean
keep_backup (const Replacement  *self,
             GError            **error)
{
  if (!self->exists)
    return TRUE;
  if (g_unlink (self->backup) != 0 && errno != ENOENT)
    return fail_replacement (self, errno, error);
  if (link (self->path, self->backup) == 0 || g_rename (self->path, self->backup) == 0)
    return TRUE;
  return fail_replacement (self, errno, error);
}

/* The name is on the disk only once its folder is. */
static void
sync_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  const int fd = g_open (folder, OG_LOCK_FOLDER | O_CLOEXEC, 0);

  if (fd < 0)
    return;
  if (fsync (fd) != 0)
    g_debug ("The folder was not synchronised: %s", g_strerror (errno));
  close (fd);
}

static gboolean
replace_local (GFile         *file,
               const char    *path,
               GBytes        *bytes,
               const char    *etag,
               char         **new_etag,
               GCancellable  *cancellable,
               GError       **error)
{
  g_auto (Replacement) self;

  replacement_init (&self, path);
  if (!check_replaceable (&self, file, etag, cancellable, error))
    return FALSE;
  if (!write_spare (&self, bytes, error) || g_cancellable_set_error_if_cancelled (cancellable, error)
      || !keep_backup (&self, error)
      || (g_rename (self.spare, path) != 0 && !fail_replacement (&self, errno, error)))
    {
      g_unlink (self.spare);
      return FALSE;
    }
  sync_folder (path);
  if (new_etag != NULL)
    *new_etag = query_etag (file, cancellable);

  return TRUE;
}

gboolean
_og_file_write_held (GFile         *file,
                     GBytes        *bytes,
                     const char    *etag,
                     char         **new_etag,
                     GCancellable  *cancellable,
                     GError       **error)
{
  g_autoptr (GFile) target = follow_links (file);
  const char *path = g_file_peek_path (target);
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;
  if (path != NULL)
    return replace_local (target, path, bytes, etag, new_etag, cancellable, error);

  return g_file_replace_contents (target, text, length, etag, TRUE, G_FILE_CREATE_NONE, new_etag, cancellable,
                                  error);
}

gboolean
_og_file_lock (GFile   *file,
               int     *fd,
               GError **error)
{
  g_autoptr (GFile) target = follow_links (file);
  g_autoptr (GFile) folder = g_file_get_parent (target);
  const char *path = folder != NULL ? g_file_peek_path (folder) : NULL;
  g_autofree char *name = NULL;

  *fd = path != NULL ? _og_lock_wait (path, OG_LOCK_FOLDER, OG_LOCK_WAIT_MS) : -1;
  if (path == NULL || *fd >= 0 || errno != EWOULDBLOCK)
    return TRUE;

  name = _og_file_display_name (file);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_BUSY, _("%s: Another program keeps the file busy."), name);

  return FALSE;
}

gboolean
_og_file_write (GFile         *file,
                GBytes        *bytes,
                const char    *etag,
                char         **new_etag,
                GCancellable  *cancellable,
                GError       **error)
{
  gboolean done;
  int fd;

  if (!_og_file_lock (file, &fd, error))
    return FALSE;
  done = _og_file_write_held (file, bytes, etag, new_etag, cancellable, error);
  if (fd >= 0)
    close (fd);

  return done;
}
