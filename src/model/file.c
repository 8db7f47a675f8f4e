/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/file-private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>

#include "core/base/error.h"
#include "core/base/json-guard.h"

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

/* A file that is not there yet appears whole or not at all. */
static gboolean
create_file (GFile         *file,
             const char    *path,
             GBytes        *bytes,
             char         **new_etag,
             GCancellable  *cancellable,
             GError       **error)
{
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);

  if (!g_file_set_contents_full (path, text, (gssize) length,
                                 G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                 0666, error))
    return FALSE;

  if (new_etag != NULL)
    *new_etag = query_etag (file, cancellable);

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
  g_autofree char *name = _og_file_display_name (file);

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

  name = _og_file_display_name (file);
  g_clear_error (error);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANT_CREATE_BACKUP,
               _("%s: The file was not replaced, because its folder cannot be written to."), name);
}

static gboolean
replace_file (GFile         *file,
              GBytes        *bytes,
              const char    *etag,
              char         **new_etag,
              GCancellable  *cancellable,
              GError       **error)
{
  g_autoptr (GFileOutputStream) stream = NULL;
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);

  stream = g_file_replace (file, etag, TRUE, G_FILE_CREATE_NONE, cancellable, error);
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

  if (new_etag != NULL)
    *new_etag = g_file_output_stream_get_etag (stream);

  return TRUE;
}

gboolean
_og_file_write (GFile         *file,
                GBytes        *bytes,
                const char    *etag,
                char         **new_etag,
                GCancellable  *cancellable,
                GError       **error)
{
  g_autoptr (GFile) target = follow_links (file);
  g_autofree char *path = g_file_get_path (target);

  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return FALSE;

  if (path != NULL && !g_file_query_exists (target, NULL))
    return create_file (target, path, bytes, new_etag, cancellable, error);

  return replace_file (target, bytes, etag, new_etag, cancellable, error);
}
