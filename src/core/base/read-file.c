/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/read-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"

#define BLOCK_BYTES (64 * 1024) /* read at a time; judgement */
#define MEBIBYTE (1024 * 1024) /* bytes */

static gboolean
fail_file (const char  *path,
           int          code,
           GError     **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, G_FILE_ERROR, (int) g_file_error_from_errno (code),
               _("%s: The file cannot be read: %s"), name, g_strerror (code));
  return FALSE;
}

static gboolean
check_ordinary (const char  *path,
                int          fd,
                GError     **error)
{
  g_autofree char *name = g_filename_display_name (path);
  struct stat status;

  if (fstat (fd, &status) != 0)
    return fail_file (path, errno, error);
  if (S_ISREG (status.st_mode))
    return TRUE;
  if (S_ISDIR (status.st_mode))
    g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_ISDIR, _("%s: This is a folder."), name);
  else
    g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_INVAL, _("%s: This is not an ordinary file."), name);
  return FALSE;
}

static gboolean
read_all (const char  *path,
          int          fd,
          gsize        most,
          GByteArray  *bytes,
          GError     **error)
{
  guint8 block[BLOCK_BYTES];
  gssize n;

  while (bytes->len <= most && (n = read (fd, block, MIN (sizeof block, most + 1 - bytes->len))) != 0)
    {
      if (n > 0)
        g_byte_array_append (bytes, block, (guint) n);
      else if (errno != EINTR)
        return fail_file (path, errno, error);
    }
  if (bytes->len > most)
    {
      g_autofree char *name = g_filename_display_name (path);

      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_TOO_LARGE, _("%s: The file is larger than %d MiB."),
                   name, (int) MAX (most / MEBIBYTE, 1));
      return FALSE;
    }
  return TRUE;
}

static GBytes *
end_with_zero (GByteArray *bytes)
{
  const gsize length = bytes->len;
  guint8 *data;

  g_byte_array_append (bytes, (const guint8 *) "", 1);
  data = g_byte_array_free (bytes, FALSE);
  return g_bytes_new_with_free_func (data, length, g_free, data);
}

GBytes *
og_read_file (const char  *path,
              gsize        most,
              GError     **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  gboolean standard, read;
  int fd;

  g_return_val_if_fail (path != NULL && most < G_MAXUINT, NULL);

  standard = g_str_equal (path, OG_STANDARD_INPUT) || g_str_equal (path, "/dev/stdin");
  fd = standard ? STDIN_FILENO : g_open (path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC, 0);
  if (fd < 0)
    {
      fail_file (path, errno, error);
      return NULL;
    }
  read = (standard || check_ordinary (path, fd, error)) && read_all (path, fd, most, bytes, error);
  if (!standard)
    close (fd);
  return read ? end_with_zero (g_steal_pointer (&bytes)) : NULL;
}
