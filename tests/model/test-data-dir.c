/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/data-dir.h"

#include <gio/gio.h>
#include <glib/gstdio.h>

#include "helpers.h"

static void
test_environment (void)
{
  g_autofree char *path = NULL;

  g_setenv ("OLEOGRAPH_DATA_DIR", "/somewhere/else", TRUE);
  path = og_data_dir ();
  g_assert_cmpstr (path, ==, "/somewhere/else");
}

static void
test_build_folder (void)
{
  g_autofree char *path = NULL;
  g_autofree char *parameters = NULL;

  g_unsetenv ("OLEOGRAPH_DATA_DIR");
  path = og_data_dir ();
  g_assert_cmpstr (path, ==, OG_SOURCE_DATADIR);
  parameters = g_build_filename (path, "catalog", "SCHEMA.md", NULL);
  g_assert_true (g_file_test (parameters, G_FILE_TEST_IS_REGULAR));

  g_setenv ("OLEOGRAPH_DATA_DIR", "", TRUE);
  g_free (path);
  path = og_data_dir ();
  g_assert_cmpstr (path, ==, OG_SOURCE_DATADIR);
}

/* A copy of this program elsewhere stands for an installed one. */
static void
test_installed (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) copy = g_file_get_child (folder, "copy");
  g_autoptr (GFile) self = g_file_new_for_path ("/proc/self/exe");
  g_autoptr (GSubprocess) child = NULL;
  g_autofree char *output = NULL;

  g_unsetenv ("OLEOGRAPH_DATA_DIR");
  g_file_copy (self, copy, G_FILE_COPY_NONE, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  g_chmod (g_file_peek_path (copy), 0700);

  child = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, g_file_peek_path (copy),
                            "--print", NULL);
  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (child, NULL, NULL, &output, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_get_successful (child));
  g_assert_cmpstr (output, ==, OG_PKGDATADIR "\n");

  test_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  if (argc == 2 && g_str_equal (argv[1], "--print"))
    {
      g_autofree char *path = og_data_dir ();

      g_print ("%s\n", path);
      return 0;
    }

  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/data-dir/environment", test_environment);
  g_test_add_func ("/data-dir/build-folder", test_build_folder);
  g_test_add_func ("/data-dir/installed", test_installed);

  return g_test_run ();
}
