/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run-cli.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <sys/wait.h>

static char *folder;

void
cli_run_clear (CliRun *run)
{
  g_clear_pointer (&run->out, g_free);
  g_clear_pointer (&run->err, g_free);
}

CliRun
cli_run_with (const char *const *variables,
              const char *const *arguments)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new ();
  g_auto (GStrv) environment = g_environ_setenv (g_get_environ (), "LC_ALL", "C.UTF-8", TRUE);
  g_autoptr (GError) error = NULL;
  CliRun run = { -1, NULL, NULL };
  int wait_status;

  for (guint i = 0; variables != NULL && variables[i] != NULL; i++)
    {
      g_auto (GStrv) pair = g_strsplit (variables[i], "=", 2);

      environment = g_environ_setenv (environment, pair[0], pair[1], TRUE);
    }
  g_ptr_array_add (argv, (char *) g_getenv ("OLEOGRAPH_CLI"));
  for (guint i = 0; arguments[i] != NULL; i++)
    g_ptr_array_add (argv, (char *) arguments[i]);
  g_ptr_array_add (argv, NULL);

  g_spawn_sync (NULL, (char **) argv->pdata, environment, G_SPAWN_DEFAULT, NULL, NULL,
                &run.out, &run.err, &wait_status, &error);
  g_assert_no_error (error);
  if (WIFEXITED (wait_status))
    run.status = WEXITSTATUS (wait_status);

  return run;
}

CliRun
cli_run (const char *first,
         ...)
{
  g_autoptr (GPtrArray) arguments = g_ptr_array_new ();
  va_list list;

  va_start (list, first);
  for (const char *argument = first; argument != NULL; argument = va_arg (list, const char *))
    g_ptr_array_add (arguments, (char *) argument);
  va_end (list);
  g_ptr_array_add (arguments, NULL);

  return cli_run_with (NULL, (const char *const *) arguments->pdata);
}

void
cli_assert_has (const char *text,
                const char *part)
{
  if (strstr (text, part) == NULL)
    g_error ("no “%s” in: %s", part, text);
}

JsonObject *
cli_json (const CliRun *run)
{
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonNode *root;

  json_parser_load_from_data (parser, run->out, -1, &error);
  g_assert_no_error (error);
  root = json_parser_get_root (parser);
  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root))
    g_error ("no object in the output “%s”; message “%s”", run->out, run->err);

  return json_object_ref (json_node_get_object (root));
}

double
cli_number (JsonObject *object,
            const char *name)
{
  g_assert_true (json_object_has_member (object, name));
  g_assert_false (json_object_get_null_member (object, name));
  return json_object_get_double_member (object, name);
}

double
cli_band_width (JsonObject *estimate)
{
  return log (cli_number (estimate, "high80") / cli_number (estimate, "low80"));
}

const char *
cli_folder (void)
{
  if (folder == NULL)
    {
      g_autoptr (GError) error = NULL;

      folder = g_dir_make_tmp ("oleograph-cli-XXXXXX", &error);
      g_assert_no_error (error);
    }

  return folder;
}

char *
cli_file (const char *name,
          const char *text)
{
  g_autofree char *path = g_build_filename (cli_folder (), name, NULL);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);

  return g_steal_pointer (&path);
}

char *
cli_comma_locale (void)
{
  g_autofree char *path = g_build_filename (cli_folder (), "locale", NULL);
  g_autofree char *locale = g_build_filename (path, "de_DE.UTF-8", NULL);
  const char *argv[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", locale, NULL };
  int status = -1;

  g_assert_cmpint (g_mkdir_with_parents (path, 0700), ==, 0);
  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL,
                     NULL, NULL, NULL, NULL, &status, NULL)
      || !g_file_test (locale, G_FILE_TEST_IS_DIR))
    return NULL;

  return g_strdup_printf ("LOCPATH=%s", path);
}

static void
remove_tree (const char *path)
{
  GDir *dir = g_dir_open (path, 0, NULL);

  if (dir != NULL)
    {
      for (const char *name = g_dir_read_name (dir); name != NULL; name = g_dir_read_name (dir))
        {
          g_autofree char *child = g_build_filename (path, name, NULL);

          if (g_file_test (child, G_FILE_TEST_IS_DIR) && !g_file_test (child, G_FILE_TEST_IS_SYMLINK))
            remove_tree (child);
          else
            g_remove (child);
        }
      g_dir_close (dir);
    }
  g_rmdir (path);
}

int
cli_finish (void)
{
  int status = g_test_run ();

  if (folder != NULL)
    remove_tree (folder);
  g_clear_pointer (&folder, g_free);

  return status;
}
