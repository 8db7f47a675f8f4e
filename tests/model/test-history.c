/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/history.h"

static OgFormula *
formula_titled (const char *title)
{
  OgFormula *formula = og_formula_new ();

  g_free (formula->title);
  formula->title = g_strdup (title);

  return formula;
}

static OgFormula *
formula_number (guint n)
{
  g_autofree char *title = g_strdup_printf ("%u", n);

  return formula_titled (title);
}

static const char *
current_title (const OgHistory *history)
{
  return og_history_get_current (history)->title;
}

static void
test_undo_and_redo (void)
{
  g_autoptr (OgHistory) history = og_history_new (formula_titled ("a"));

  g_assert_false (og_history_undo (history));
  g_assert_false (og_history_redo (history));
  g_assert_null (og_history_get_undo_label (history));

  og_history_push (history, formula_titled ("b"), "to b", NULL);
  og_history_push (history, formula_titled ("c"), "to c", NULL);
  g_assert_cmpstr (og_history_get_undo_label (history), ==, "to c");
  g_assert_null (og_history_get_redo_label (history));

  g_assert_true (og_history_undo (history));
  g_assert_cmpstr (current_title (history), ==, "b");
  g_assert_cmpstr (og_history_get_undo_label (history), ==, "to b");
  g_assert_cmpstr (og_history_get_redo_label (history), ==, "to c");

  g_assert_true (og_history_redo (history));
  g_assert_cmpstr (current_title (history), ==, "c");

  og_history_undo (history);
  og_history_push (history, formula_titled ("d"), "to d", NULL);
  g_assert_null (og_history_get_redo_label (history));
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 2);
  og_history_undo (history);
  g_assert_cmpstr (current_title (history), ==, "b");
}

static void
test_merging (void)
{
  g_autoptr (OgHistory) history = og_history_new (formula_titled (""));

  og_history_push (history, formula_titled ("a"), "title", "title");
  og_history_push (history, formula_titled ("ab"), "title", "title");
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 1);

  og_history_push (history, formula_titled ("b"), "other", NULL);
  og_history_push (history, formula_titled ("bc"), "title", "title");
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 3);

  og_history_push (history, formula_titled ("bcd"), "notes", "notes");
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 4);

  og_history_seal (history);
  og_history_push (history, formula_titled ("bcde"), "notes", "notes");
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 5);

  og_history_undo (history);
  og_history_redo (history);
  og_history_push (history, formula_titled ("bcdef"), "notes", "notes");
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 6);
}

static void
test_merging_back (void)
{
  g_autoptr (OgHistory) history = og_history_new (formula_titled ("a"));

  og_history_push (history, formula_titled ("ab"), "title", "title");
  og_history_push (history, formula_titled ("a"), "title", "title");
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 0);
  g_assert_true (og_history_is_saved (history));
}

static void
test_saved_point (void)
{
  g_autoptr (OgHistory) history = og_history_new (formula_titled ("a"));
  guint64 serial;

  g_assert_true (og_history_is_saved (history));
  og_history_push (history, formula_titled ("b"), "title", "title");
  g_assert_false (og_history_is_saved (history));

  serial = og_history_get_serial (history);
  og_history_mark_saved (history, serial);
  g_assert_true (og_history_is_saved (history));

  /* typing goes on, but not in the step that was saved */
  og_history_push (history, formula_titled ("bc"), "title", "title");
  g_assert_false (og_history_is_saved (history));
  og_history_undo (history);
  g_assert_true (og_history_is_saved (history));
  og_history_undo (history);
  g_assert_false (og_history_is_saved (history));

  /* the saved recipe is lost for good when another edit takes its place */
  og_history_push (history, formula_titled ("b"), "title", NULL);
  g_assert_false (og_history_is_saved (history));
  og_history_undo (history);
  g_assert_false (og_history_is_saved (history));

  og_history_mark_saved (history, 0);
  g_assert_false (og_history_is_saved (history));

  og_history_reset (history, formula_titled ("z"));
  g_assert_true (og_history_is_saved (history));
  og_history_mark_saved (history, serial);
  g_assert_true (og_history_is_saved (history));
}

static void
test_step_cap (void)
{
  g_autoptr (OgHistory) history = og_history_new (formula_number (0));

  for (guint n = 1; n <= OG_HISTORY_MAX_STEPS + 10; n++)
    og_history_push (history, formula_number (n), "count", NULL);

  g_assert_cmpuint (og_history_get_n_undo (history), ==, OG_HISTORY_MAX_STEPS);
  while (og_history_undo (history))
    ;
  g_assert_cmpstr (current_title (history), ==, "10");
  g_assert_false (og_history_is_saved (history));
}

static void
test_memory_cap (void)
{
  g_autoptr (OgHistory) history = og_history_new (formula_number (0));
  g_autofree char *large = g_strnfill (10000, 'x');

  og_history_set_limits (history, 1000, 100000);
  for (guint n = 0; n < 50; n++)
    og_history_push (history, formula_titled (large), "large", NULL);
  g_assert_cmpuint (og_history_get_n_undo (history), <, 10);
  g_assert_cmpuint (og_history_get_n_undo (history), >, 5);

  /* the newest step can be undone, however large it is */
  og_history_set_limits (history, 1000, 1);
  g_assert_cmpuint (og_history_get_n_undo (history), ==, 1);
  og_history_push (history, formula_titled ("small"), "small", NULL);
  g_assert_true (og_history_undo (history));
  g_assert_cmpstr (current_title (history), ==, large);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/history/undo-and-redo", test_undo_and_redo);
  g_test_add_func ("/history/merging", test_merging);
  g_test_add_func ("/history/merging-back", test_merging_back);
  g_test_add_func ("/history/saved-point", test_saved_point);
  g_test_add_func ("/history/step-cap", test_step_cap);
  g_test_add_func ("/history/memory-cap", test_memory_cap);

  return g_test_run ();
}
