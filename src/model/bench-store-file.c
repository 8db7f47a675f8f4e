/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/bench-store-private.h"

#include <glib/gi18n-lib.h>

#include "model/file-private.h"

#define MAX_BROKEN 1000

void
_og_bench_version_clear (OgBenchVersion *version)
{
  g_clear_pointer (&version->log, og_bench_log_free);
  g_clear_pointer (&version->bytes, g_bytes_unref);
  g_clear_pointer (&version->etag, g_free);
}

gboolean
_og_bench_same_bytes (GBytes *a,
                      GBytes *b)
{
  return a == b || (a != NULL && b != NULL && g_bytes_equal (a, b));
}

static gboolean
load_bytes (GFile       *file,
            const char  *name,
            OgBenchVersion *version,
            GError     **error)
{
  g_autoptr (GFileInfo) info = NULL;
  char *text;
  gsize length;

  info = g_file_query_info (file, OG_FILE_READABLE_ATTRIBUTES, G_FILE_QUERY_INFO_NONE, NULL,
                            error);
  if (info == NULL || !_og_file_is_readable (info, name, error)
      || !g_file_load_contents (file, NULL, &text, &length, &version->etag, error))
    return FALSE;

  version->bytes = g_bytes_new_take (text, length);

  return TRUE;
}

gboolean
_og_bench_version_read (GFile           *file,
                        OgBenchVersion  *version,
                        GError         **error)
{
  g_autofree char *name = _og_file_display_name (file);
  g_autoptr (GError) reason = NULL;

  if (load_bytes (file, name, version, &reason))
    version->log = og_bench_log_parse (version->bytes, name, &reason);
  else if (g_error_matches (reason, G_IO_ERROR, G_IO_ERROR_NOT_FOUND))
    {
      g_clear_error (&reason);
      version->log = og_bench_log_new ();
    }

  if (reason != NULL)
    g_propagate_error (error, g_steal_pointer (&reason));

  return version->log != NULL;
}

static GFile *
nth_broken (GFile *file,
            guint  n)
{
  g_autoptr (GFile) folder = g_file_get_parent (file);
  g_autofree char *name = g_file_get_basename (file);
  g_autofree char *aside = n == 1 ? g_strdup_printf ("%s.broken", name)
                                  : g_strdup_printf ("%s.broken-%u", name, n);

  return g_file_get_child (folder, aside);
}

gboolean
_og_bench_keep_aside (GFile   *file,
                      GError **reason)
{
  for (guint n = 1; n <= MAX_BROKEN; n++)
    {
      g_autoptr (GFile) aside = nth_broken (file, n);
      g_autofree char *name = _og_file_display_name (aside);
      g_autoptr (GError) error = NULL;

      if (g_file_move (file, aside, G_FILE_COPY_NOFOLLOW_SYMLINKS, NULL, NULL, NULL, &error))
        {
          g_autofree char *message = g_strdup ((*reason)->message);

          g_free ((*reason)->message);
          /* Translators: the first %s says what is wrong with a file, the second is a file name */
          (*reason)->message = g_strdup_printf (_("%s The file was kept as %s."), message, name);
          return TRUE;
        }

      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_EXISTS))
        break;
    }

  return FALSE;
}

gboolean
_og_bench_version_write (GFile           *file,
                         OgBenchVersion  *version,
                         GError         **error)
{
  g_autofree char *name = _og_file_display_name (file);
  g_autoptr (GBytes) bytes = NULL;

  if (version->etag == NULL && g_file_query_exists (file, NULL))
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG,
                   _("%s: Another program has made this file meanwhile."), name);
      return FALSE;
    }

  bytes = og_bench_log_serialise (version->log);
  if (_og_bench_same_bytes (bytes, version->bytes))
    return TRUE;
  if (!_og_file_write_held (file, bytes, version->etag, NULL, NULL, error))
    return FALSE;

  g_clear_pointer (&version->bytes, g_bytes_unref);
  version->bytes = g_steal_pointer (&bytes);

  return TRUE;
}
