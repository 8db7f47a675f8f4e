/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "model/file-lock.h"
#include "model/ledger-private.h"

#define MAX_ASIDE 1000

/* What belongs to a database besides the file itself. It goes first: a -wal left behind would be
 * played into the next file of the name. */
static const char *const companions[] = { "-wal", "-shm", "" };

int
_og_ledger_lock_folder (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  return _og_lock_wait (folder, OG_LOCK_FOLDER, OG_LOCK_WAIT_MS);
}

/* "ledger.sqlite" -> "ledger-damaged-2024-05-17-093000.sqlite" */
static char *
nth_aside (const char *path,
           const char *moment,
           guint       n)
{
  const char *slash = strrchr (path, G_DIR_SEPARATOR);
  const char *dot = strrchr (path, '.');
  const gboolean suffix = dot != NULL && (slash == NULL || dot > slash + 1) && dot != path;
  const gsize stem = suffix ? (gsize) (dot - path) : strlen (path);
  g_autofree char *count = n > 1 ? g_strdup_printf ("-%u", n) : g_strdup ("");

  return g_strdup_printf ("%.*s-damaged-%s%s%s", (int) stem, path, moment, count,
                          suffix ? dot : "");
}

static gboolean
is_free (const char *path)
{
  for (guint i = 0; i < G_N_ELEMENTS (companions); i++)
    {
      g_autofree char *name = g_strconcat (path, companions[i], NULL);
      GStatBuf status;

      if (g_lstat (name, &status) == 0)
        return FALSE;
    }

  return TRUE;
}

static gboolean
move_all (const char  *path,
          const char  *aside,
          GError     **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (companions); i++)
    {
      g_autofree char *from = g_strconcat (path, companions[i], NULL);
      g_autofree char *to = g_strconcat (aside, companions[i], NULL);

      if (g_rename (from, to) != 0 && errno != ENOENT)
        {
          const int reason = errno;
          g_autofree char *name = g_filename_display_name (from);

          g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS,
                       /* Translators: file name, then the reason */
                       _("%s: The damaged file cannot be set aside: %s."), name,
                       g_strerror (reason));
          return FALSE;
        }
    }

  return TRUE;
}

char *
_og_ledger_move_aside (const char  *path,
                       GDateTime   *now,
                       GError     **error)
{
  g_autoptr (GDateTime) moment = now != NULL ? g_date_time_ref (now) : g_date_time_new_now_local ();
  g_autofree char *text = g_date_time_format (moment, "%Y-%m-%d-%H%M%S");
  g_autofree char *aside = NULL;
  guint n = 1;

  aside = nth_aside (path, text, n);
  while (!is_free (aside) && n < MAX_ASIDE)
    {
      g_free (aside);
      aside = nth_aside (path, text, ++n);
    }
  if (!is_free (aside))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_ACCESS,
                   _("There is no name left to set the damaged file aside under."));
      return NULL;
    }

  return move_all (path, aside, error) ? g_steal_pointer (&aside) : NULL;
}
