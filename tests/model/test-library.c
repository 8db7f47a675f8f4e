/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/library.h"

#include <gio/gio.h>
#include <glib/gstdio.h>

#include "core/base/error.h"
#include "helpers.h"

/* Puts @text into the folder of own rules. */
static void
write_rules (const char *name,
             const char *text)
{
  g_autofree char *folder = og_own_rules_dir ();
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_mkdir_with_parents (folder, 0700), ==, 0);
  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
}

static void
remove_rules (const char *home)
{
  g_autofree char *rules = og_own_rules_dir ();
  g_autofree char *above = g_path_get_dirname (rules);
  const char *const names[] = { "a.json", "b.json", "c.json", "notes.txt" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (rules, names[i], NULL);

      g_unlink (path);
    }
  g_rmdir (rules);
  g_rmdir (above);
  g_rmdir (home);
}

static OgCatalog *
load (GError **own_fault)
{
  g_autoptr (GError) error = NULL;
  OgCatalog *library = og_library_load (own_fault, &error);

  g_assert_no_error (error);
  g_assert_nonnull (library);
  return library;
}

#define RULE(id, pct) \
  "{\"format\": \"oleograph-rules\", \"version\": 1, \"rules\": [{\"id\": \"" id "\", \"name\": \"Own\"," \
  " \"kind\": \"limit\", \"max_pct\": " pct ", \"match\": {\"id\": [\"castor-oil\"]}}]}"

/* Without own rules, with them, of two files the later one, and with a broken file. */
static void
test_own_rules (void)
{
  g_autoptr (GError) fault = NULL;
  g_autoptr (OgCatalog) plain = load (&fault);
  g_autoptr (OgCatalog) own = NULL;
  g_autoptr (OgCatalog) later = NULL;
  g_autoptr (OgCatalog) broken = NULL;
  guint n = og_rules_get_n_items (og_catalog_get_rules (plain));

  g_assert_no_error (fault);
  write_rules ("a.json", RULE ("mine", "5"));
  write_rules ("notes.txt", "not a rules file");
  own = load (&fault);
  g_assert_no_error (fault);
  g_assert_cmpuint (og_rules_get_n_items (og_catalog_get_rules (own)), ==, n + 1);
  g_assert_cmpfloat (og_rules_get (og_catalog_get_rules (own), "mine")->max_pct, ==, 5.0);

  write_rules ("b.json", RULE ("mine", "7"));
  later = load (&fault);
  g_assert_no_error (fault);
  g_assert_cmpfloat (og_rules_get (og_catalog_get_rules (later), "mine")->max_pct, ==, 7.0);

  write_rules ("c.json", "{");
  broken = load (&fault);
  g_assert_error (fault, OG_CATALOG_ERROR, OG_CATALOG_ERROR_SYNTAX);
  g_assert_nonnull (strstr (fault->message, "c.json"));
  g_assert_cmpuint (og_rules_get_n_items (og_catalog_get_rules (broken)), ==, n);
}

static void
test_no_library (void)
{
  g_autoptr (GError) fault = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = g_strdup (g_getenv ("OLEOGRAPH_DATA_DIR"));
  g_autoptr (OgCatalog) none = NULL;

  g_setenv ("OLEOGRAPH_DATA_DIR", "/nonexistent", TRUE);
  none = og_library_load (&fault, &error);
  g_setenv ("OLEOGRAPH_DATA_DIR", before, TRUE);
  g_assert_null (none);
  g_assert_no_error (fault);
  g_assert_nonnull (error);
}

int
main (int    argc,
      char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *home = g_dir_make_tmp ("og-library-XXXXXX", &error);
  int status;

  g_assert_no_error (error);
  /* Before anybody asks for it: GLib keeps what it has found. */
  g_setenv ("XDG_DATA_HOME", home, TRUE);
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/library/own-rules", test_own_rules);
  g_test_add_func ("/library/none", test_no_library);
  status = g_test_run ();
  remove_rules (home);

  return status;
}
