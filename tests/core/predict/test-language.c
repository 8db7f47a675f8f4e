/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A result is made in no language: its sentences are put together in that of whoever reads them. What they must be is
 * written out by hand, as the translators wrote it. */
#include "config.h"

#include <libintl.h>
#include <locale.h>

#include "common/fixture.h"
#include "core/predict/evaluate.h"

static OgCatalog *catalog;
static char *folder; /* nullable: holds a locale made for the test */

static gboolean
use_german (void)
{
  if (setlocale (LC_ALL, "de_DE.UTF-8") != NULL)
    return TRUE;
  if (folder == NULL)
    {
      g_autofree char *program = g_find_program_in_path ("localedef");
      g_autofree char *path = NULL;
      const char *argv[] = { program, "-i", "de_DE", "-f", "UTF-8", NULL, NULL };

      folder = g_dir_make_tmp ("oleograph-language-XXXXXX", NULL);
      argv[5] = path = g_build_filename (folder, "de_DE.UTF-8", NULL);
      if (program == NULL
          || !g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL | G_SPAWN_STDOUT_TO_DEV_NULL, NULL,
                            NULL, NULL, NULL, NULL, NULL))
        return FALSE;
    }
  g_setenv ("LOCPATH", folder, TRUE);
  return setlocale (LC_ALL, "de_DE.UTF-8") != NULL;
}

static void
take_away (OgFormulaPhase *phase,
           OgFormulaLine  *line,
           gpointer        ppm)
{
  line->amount -= GPOINTER_TO_INT (ppm);
}

/* An eighth of the recipe is missing. */
static OgResult *
evaluate (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_HEADER "A,castor-oil,100\n", catalog);

  og_formula_foreach_line (formula, take_away, GINT_TO_POINTER (OG_PPM_WHOLE / 8));
  return og_evaluate (formula, catalog, NULL);
}

static const OgFinding *
find_finding (const OgResult *result,
              const char     *code)
{
  for (guint i = 0; i < result->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (result->findings, i);

      if (g_str_equal (finding->code, code))
        return finding;
    }
  g_error ("no finding %s", code);
}

static void
assert_says (const OgResult *result,
             const char     *code,
             const char     *text)
{
  g_assert_cmpstr (og_saying_text (find_finding (result, code)->text), ==, text);
}

static void
assert_english (const OgResult *result)
{
  assert_says (result, "total", "The recipe is 12.5 % short of 100 %. The figures take it as it stands.");
  g_assert_nonnull (strstr (og_saying_text (result->body_text), "the same at rest and when rubbed."));
}

static void
assert_german (const OgResult *result)
{
  assert_says (result, "total", "Der Rezeptur fehlen 12,5\u00a0% an 100\u00a0%. Die Werte nehmen sie, wie sie dasteht.");
  g_assert_nonnull (strstr (og_saying_text (result->body_text), "in Ruhe wie beim Verreiben."));
}

static void
test_languages (void)
{
  g_autoptr (OgResult) here = NULL;
  g_autoptr (OgResult) there = NULL;
  g_autoptr (OgResult) back = NULL;

  setlocale (LC_ALL, "C.UTF-8");
  here = evaluate ();
  there = evaluate ();
  assert_english (here);
  if (!use_german ())
    {
      g_test_skip ("there is no German locale, nor localedef to make one");
      return;
    }
  assert_german (there);
  back = evaluate ();
  setlocale (LC_ALL, "C.UTF-8");
  assert_english (back);
  for (guint i = 0; i < here->findings->len; i++)
    {
      const OgFinding *one = g_ptr_array_index (here->findings, i), *other = g_ptr_array_index (back->findings, i);

      g_assert_true (og_saying_equal (one->text, other->text));
      g_assert_true (og_saying_equal (one->cure, other->cure));
      g_assert_true (og_saying_equal (one->source, other->source));
    }
}

static void
remove_folder (void)
{
  const char *argv[] = { "rm", "-r", folder, NULL };

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_unsetenv ("LANGUAGE");
  g_test_init (&argc, &argv, NULL);
  bindtextdomain (GETTEXT_PACKAGE, OG_BUILD_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  catalog = fixture_catalog ();
  g_test_add_func ("/language/result", test_languages);
  status = g_test_run ();
  og_catalog_unref (catalog);
  if (folder != NULL)
    remove_folder ();
  g_free (folder);
  return status;
}
