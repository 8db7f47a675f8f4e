/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files, and what only looks like one. */
#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "core/base/error.h"
#include "core/base/read-file.h"

#define MOST 100

static char *folder;

static char *
path_of (const char *name)
{
  return g_build_filename (folder, name, NULL);
}

static void
test_whole_file (void)
{
  g_autofree char *path = path_of ("text");
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;
  gsize length;
  const char *text;

  g_assert_true (g_file_set_contents (path, "a\0b", 3, &error));
  bytes = og_read_file (path, MOST, &error);
  g_assert_no_error (error);
  text = g_bytes_get_data (bytes, &length);
  g_assert_cmpuint (length, ==, 3);
  g_assert_cmpmem (text, 4, "a\0b", 4);
}

static void
test_cap (void)
{
  g_autofree char *path = path_of ("long");
  g_autofree char *text = g_strnfill (MOST + 1, 'x');
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = NULL;

  g_assert_true (g_file_set_contents (path, text, MOST, NULL));
  bytes = og_read_file (path, MOST, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (bytes), ==, MOST);
  g_assert_true (g_file_set_contents (path, text, MOST + 1, NULL));
  g_assert_null (og_read_file (path, MOST, &error));
  g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_TOO_LARGE);
}

/* None of them may be waited for: the test would not end. */
static void
test_refused (void)
{
  g_autofree char *pipe = path_of ("pipe");
  g_autofree char *missing = path_of ("missing");
  const struct
  {
    const char *path;
    GFileError  code;
  } cases[] = {
    { pipe, G_FILE_ERROR_INVAL },
    { "/dev/zero", G_FILE_ERROR_INVAL },
    { "/dev/null", G_FILE_ERROR_INVAL },
    { folder, G_FILE_ERROR_ISDIR },
    { missing, G_FILE_ERROR_NOENT },
  };

  g_assert_cmpint (mkfifo (pipe, 0600), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (og_read_file (cases[i].path, MOST, &error));
      g_assert_error (error, G_FILE_ERROR, (int) cases[i].code);
    }
}

int
main (int    argc,
      char **argv)
{
  g_autofree char *clean = NULL;
  int status;

  g_test_init (&argc, &argv, NULL);
  folder = g_dir_make_tmp ("og-read-XXXXXX", NULL);
  g_assert_nonnull (folder);
  g_test_add_func ("/read-file/whole", test_whole_file);
  g_test_add_func ("/read-file/cap", test_cap);
  g_test_add_func ("/read-file/refused", test_refused);
  status = g_test_run ();
  clean = g_strdup_printf ("rm -rf '%s'", folder);
  g_assert_true (g_spawn_command_line_sync (clean, NULL, NULL, NULL, NULL));
  g_free (folder);
  return status;
}
