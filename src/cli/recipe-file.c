/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/recipe-file.h"

#include <glib/gi18n-lib.h>

#include "core/recipe/storage.h"

gboolean
og_recipe_file_write (const char       *path,
                      const OgFormula  *formula,
                      GError          **error)
{
  g_autoptr (GBytes) bytes = og_storage_serialise (formula);
  g_autofree char *shown = g_filename_display_name (path);
  g_autoptr (GError) inner = NULL;
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);

  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_ISDIR,
                   _("“%s” was not written: it is a folder"), shown);
      return FALSE;
    }
  if (g_file_set_contents_full (path, text, (gssize) length,
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE,
                                0666, &inner))
    return TRUE;
  g_set_error (error, inner->domain, inner->code, _("“%s” was not written: %s"), shown,
               inner->message);

  return FALSE;
}
