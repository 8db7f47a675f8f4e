/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gtk/gtk.h>
#include <math.h>
#include <string.h>

#include "core/predict/evaluate.h"
#include "core/recipe/storage.h"
#include "gtk/design/aim-page.h"
#include "gtk/design/draft-dialog.h"
#include "gtk/design/effects-dialog.h"
#include "gtk/design/effects-view.h"
#include "gtk/design/instead-page.h"
#include "gtk/design/suggestion-text.h"
#include "gtk/design/lever-view.h"
#include "gtk/design/side-panel.h"
#include "gtk/parts/work-bar.h"
#include "model/document.h"
#include "widgets.h"

#define AS_MEANT 0.02 /* how near a solved viscosity comes to what was asked for */

static OgCatalog *library;

static GtkWidget *
present (GtkWidget *child)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_default_size (GTK_WINDOW (window), 360, 600);
  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  return window;
}

static guint
line_of (OgDocument *document,
         const char *id)
{
  const OgFormulaLine *line =
    og_formula_find_ingredient (og_document_get_formula (document), id);

  g_assert_nonnull (line);
  return line->id;
}

static gboolean
holds (OgDocument *document,
       const char *id)
{
  return og_formula_find_ingredient (og_document_get_formula (document), id) != NULL;
}

/* 30 % sunflower oil, 2 % polyamide, castor oil to 100 %. */
static OgDocument *
make_document (void)
{
  OgDocument *document = og_document_new (library);

  og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "sunflower-oil-high-oleic", 0,
                                                  G_MAXUINT), 300000);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "polyamide-3", 0, G_MAXUINT), 20000);
  return document;
}

static double
poured (const OgFormula *formula)
{
  g_autoptr(OgResult) result = og_evaluate (formula, library, NULL);

  return result->pour.value;
}

/* Asserts that one undo brings @before back, which had the undo label @label. */
static void
assert_one_step (OgDocument      *document,
                 const OgFormula *before,
                 const char      *label)
{
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, OG_PPM_WHOLE);
  g_assert_cmpstr (og_document_get_undo_label (document), !=, label);
  og_document_undo (document);
  g_assert_true (og_formula_equal (og_document_get_formula (document), before));
  g_assert_cmpstr (og_document_get_undo_label (document), ==, label);
}

/* Parts of a line of 0 % have no shares, and none is said to be unknown. */
static void
test_parts_of_nothing (void)
{
  static const char *const replaced[] = { "castor-oil", NULL };
  g_autoptr(OgSuggestion) suggestion = og_suggestion_new (replaced);
  g_autofree char *text = NULL;

  og_suggestion_add_part (suggestion, og_catalog_get (library, "jojoba-oil"), 0);
  og_suggestion_add_part (suggestion, og_catalog_get (library, "castor-oil"), 0);
  text = og_suggestion_parts_to_text (suggestion);
  g_assert_cmpstr (text, ==, "Jojoba oil + Castor oil");
}

/* Work in threads */

typedef struct
{
  int rounds;   /* until it is done by itself; below 0: until it is stopped */
  int *freed;
} Task;

static gpointer
toil (gpointer   request,
      OgWork    *work,
      GError   **error)
{
  const Task *task = request;
  int *answer = g_new0 (int, 1);

  while (*answer != task->rounds && og_work_report (work, task->rounds > 0
                                                            ? (double) *answer / task->rounds
                                                            : NAN))
    {
      g_usleep (1000);
      ++*answer;
    }
  return answer;
}

static void
free_task (gpointer data)
{
  Task *task = data;

  ++*task->freed;
  g_free (task);
}

static const OgWorkKind toiling = { toil, free_task, g_free };

static Task *
make_task (int  rounds,
           int *freed)
{
  Task *task = g_new (Task, 1);

  *task = (Task) { rounds, freed };
  return task;
}

static void
on_toiled (gpointer      answer,
           const GError *error,
           gpointer      user_data)
{
  int *got = user_data;

  g_assert_nonnull (answer);
  *got = *(int *) answer;
  g_free (answer);
}

static void
test_work (void)
{
  int freed = 0;
  int got = -1;
  OgWork *work = og_work_start (&toiling, make_task (20, &freed), on_toiled, &got);

  og_work_wait (work);
  g_assert_cmpint (got, ==, 20);
  g_assert_cmpfloat (og_work_get_progress (work), >, 0.9);
  og_work_drop (work);
  g_assert_cmpint (freed, ==, 1);

  /* asked to come to an end, it hands over what it has */
  got = -1;
  work = og_work_start (&toiling, make_task (-1, &freed), on_toiled, &got);
  settle ();
  g_assert_cmpint (got, ==, -1);
  og_work_stop (work);
  og_work_wait (work);
  g_assert_cmpint (got, >, 0);
  og_work_drop (work);
  g_assert_cmpint (freed, ==, 2);

  /* dropped, it says nothing more */
  got = -1;
  work = og_work_start (&toiling, make_task (-1, &freed), on_toiled, &got);
  og_work_drop (work);
  for (int i = 0; i < 50 && freed < 3; i++)
    settle ();
  g_assert_cmpint (freed, ==, 3);
  g_assert_cmpint (got, ==, -1);
}

static void
test_work_bar (void)
{
  GtkWidget *bar = og_work_bar_new ();
  GtkWidget *window = present (bar);
  int freed = 0;
  int got = -1;
  const gint64 start = g_get_monotonic_time ();

  og_work_bar_run (OG_WORK_BAR (bar), &toiling, make_task (-1, &freed), on_toiled, &got);
  g_assert_true (og_work_bar_is_busy (OG_WORK_BAR (bar)));
  g_assert_false (gtk_widget_get_visible (bar));
  while (!gtk_widget_get_visible (bar) && g_get_monotonic_time () < start + G_TIME_SPAN_SECOND * 5)
    settle ();
  g_assert_true (gtk_widget_get_visible (bar));
  g_assert_cmpint (g_get_monotonic_time () - start, >=, 190 * G_TIME_SPAN_MILLISECOND);
  g_signal_emit_by_name (find (bar, GTK_TYPE_BUTTON, 0), "clicked");
  og_work_bar_wait (OG_WORK_BAR (bar));
  g_assert_cmpint (got, >, 0);
  g_assert_false (gtk_widget_get_visible (bar));
  g_assert_false (og_work_bar_is_busy (OG_WORK_BAR (bar)));

  /* goes away while it is at work */
  og_work_bar_run (OG_WORK_BAR (bar), &toiling, make_task (-1, &freed), on_toiled, &got);
  g_object_add_weak_pointer (G_OBJECT (bar), (gpointer *) &bar);
  gtk_window_destroy (GTK_WINDOW (window));
  for (int i = 0; i < 50 && freed < 2; i++)
    settle ();
  g_assert_null (bar);
  g_assert_cmpint (freed, ==, 2);
}

/* Instead */

static OgInsteadPage *
make_instead (OgDocument *document,
              const char *id)
{
  GtkWidget *page = og_instead_page_new ();

  og_document_page_set_document (OG_DOCUMENT_PAGE (page), document);
  og_instead_page_set_ingredient_id (OG_INSTEAD_PAGE (page), id);
  return OG_INSTEAD_PAGE (page);
}

static guint
find_blend (OgInsteadPage *page)
{
  const OgSuggestion *suggestion;

  for (guint i = 0; (suggestion = og_instead_page_get_suggestion (page, i)) != NULL; i++)
    if (suggestion->parts->len > 1)
      return i;
  g_assert_not_reached ();
}

static void
test_blend_is_one_step (void)
{
  g_autoptr(OgDocument) document = make_document ();
  g_autoptr(OgFormula) before = og_formula_copy (og_document_get_formula (document));
  g_autofree char *label = g_strdup (og_document_get_undo_label (document));
  OgInsteadPage *page = make_instead (document, "sunflower-oil-high-oleic");
  GtkWidget *window = present (GTK_WIDGET (page));
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;
  const OgSuggestion *suggestion;
  guint index;

  og_instead_page_set_most_parts (page, 2);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  index = find_blend (page);
  suggestion = og_instead_page_get_suggestion (page, index);
  g_assert_cmpuint (suggestion->parts->len, ==, 2);
  first = g_strdup (og_suggestion_get_part (suggestion, 0)->ingredient->id);
  second = g_strdup (og_suggestion_get_part (suggestion, 1)->ingredient->id);
  g_assert_true (og_instead_page_apply (page, index));
  g_assert_true (holds (document, first));
  g_assert_true (holds (document, second));
  g_assert_false (holds (document, "sunflower-oil-high-oleic"));
  g_assert_cmpstr (og_instead_page_get_ingredient_id (page), ==, first);
  assert_one_step (document, before, label);
  /* what was replaced is in question again */
  g_assert_cmpstr (og_instead_page_get_ingredient_id (page), ==, "sunflower-oil-high-oleic");
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Half of it a powder: the balance line has no oil left before the agent has all the room there is. */
static void
test_crowded (void)
{
  g_autoptr(OgDocument) document = make_document ();
  g_autofree char *first = NULL;
  OgInsteadPage *page;
  GtkWidget *window;

  og_document_set_line_ppm (document, line_of (document, "sunflower-oil-high-oleic"), 0);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "titanium-dioxide", 0, G_MAXUINT),
                            500000);
  page = make_instead (document, "polyamide-3");
  window = present (GTK_WIDGET (page));
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  first = g_strdup (og_suggestion_get_part (og_instead_page_get_suggestion (page, 0), 0)
                      ->ingredient->id);
  g_assert_true (og_instead_page_apply (page, 0));
  g_assert_true (holds (document, first));
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, OG_PPM_WHOLE);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Uses each suggestion, finds a recipe that a file can hold, and takes it back. */
static void
use_each (OgDocument    *document,
          OgInsteadPage *page,
          gint64         total)
{
  g_autoptr(OgFormula) before = og_formula_copy (og_document_get_formula (document));
  const guint n = og_instead_page_flush (page);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr(GBytes) bytes = NULL;
      g_autoptr(OgFormula) again = NULL;
      g_autoptr(GError) error = NULL;

      g_assert_true (og_instead_page_apply (page, i));
      settle ();
      g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, total);
      bytes = og_storage_serialise (og_document_get_formula (document));
      again = og_storage_parse (bytes, "used", library, &error);
      g_assert_no_error (error);
      og_document_undo (document);
      settle ();
      g_assert_true (og_formula_equal (og_document_get_formula (document), before));
      g_assert_cmpuint (og_instead_page_flush (page), ==, n);
    }
}

/* 60 % of a powder: ground half in half it would take 120 %. */
static void
test_more_than_there_is (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgInsteadPage *page;
  GtkWidget *window;

  og_document_set_line_ppm (document,
                            og_document_add_line (document, "red-iron-oxide", 0, G_MAXUINT),
                            600000);
  page = make_instead (document, "red-iron-oxide");
  window = present (GTK_WIDGET (page));
  for (guint most_parts = 1; most_parts <= 2; most_parts++)
    {
      og_instead_page_set_most_parts (page, most_parts);
      use_each (document, page, OG_PPM_WHOLE);
    }
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Two oils of 60 %, on the way to a recipe. */
static void
test_two_of_sixty (void)
{
  g_autoptr(OgDocument) document = og_document_new (library);
  OgInsteadPage *page;
  GtkWidget *window;

  og_document_set_line_ppm (document, og_document_add_line (document, "castor-oil", 0, G_MAXUINT),
                            600000);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "sunflower-oil", 0, G_MAXUINT), 600000);
  page = make_instead (document, "castor-oil");
  window = present (GTK_WIDGET (page));
  og_instead_page_set_most_parts (page, 1);
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, 1200000);
  use_each (document, page, 1200000);
  og_instead_page_set_together (page, "sunflower-oil", TRUE);
  use_each (document, page, 1200000);
  og_instead_page_set_most_parts (page, 2);
  use_each (document, page, 1200000);
  gtk_window_destroy (GTK_WINDOW (window));
}

static gboolean
suggests (OgInsteadPage *page,
          const char    *id)
{
  const OgSuggestion *suggestion;
  const OgSuggestedPart *part;

  for (guint i = 0; (suggestion = og_instead_page_get_suggestion (page, i)) != NULL; i++)
    for (guint j = 0; (part = og_suggestion_get_part (suggestion, j)) != NULL; j++)
      if (strcmp (part->ingredient->id, id) == 0)
        return TRUE;
  return FALSE;
}

static void
test_not_this_one (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgInsteadPage *page = make_instead (document, "sunflower-oil-high-oleic");
  GtkWidget *window = present (GTK_WIDGET (page));
  g_autofree char *first = NULL;

  og_instead_page_set_most_parts (page, 1);
  g_assert_cmpuint (og_instead_page_flush (page), >, 1);
  first = g_strdup (og_suggestion_get_part (og_instead_page_get_suggestion (page, 0), 0)
                      ->ingredient->id);
  og_instead_page_leave_out (page, first, TRUE);
  g_assert_null (og_instead_page_get_suggestion (page, 0)); /* not any more, and not yet */
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  g_assert_false (suggests (page, first));
  og_instead_page_leave_out (page, first, FALSE);
  og_instead_page_flush (page);
  g_assert_true (suggests (page, first));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_together (void)
{
  g_autoptr(OgDocument) document = make_document ();
  g_autoptr(OgFormula) before = og_formula_copy (og_document_get_formula (document));
  g_autofree char *label = g_strdup (og_document_get_undo_label (document));
  OgInsteadPage *page = make_instead (document, "castor-oil");
  GtkWidget *window = present (GTK_WIDGET (page));

  og_instead_page_set_most_parts (page, 1);
  og_instead_page_set_together (page, "sunflower-oil-high-oleic", TRUE);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  g_assert_cmpuint (g_strv_length (og_instead_page_get_suggestion (page, 0)->replaced), ==, 2);
  g_assert_true (og_instead_page_apply (page, 0));
  g_assert_false (holds (document, "castor-oil"));
  g_assert_false (holds (document, "sunflower-oil-high-oleic"));
  assert_one_step (document, before, label);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* What was found for a recipe that has changed since cannot be used, and a search for it ends. */
static void
test_stale_is_dropped (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgInsteadPage *page = make_instead (document, "castor-oil");
  GtkWidget *window = present (GTK_WIDGET (page));
  OgWorkBar *bar = OG_WORK_BAR (find (GTK_WIDGET (page), OG_TYPE_WORK_BAR, 0));

  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  og_document_set_line_ppm (document, line_of (document, "polyamide-3"), 30000);
  g_assert_false (og_work_bar_is_busy (bar));
  g_assert_null (og_instead_page_get_suggestion (page, 0));
  g_assert_false (og_instead_page_apply (page, 0));
  g_assert_null (og_instead_page_compare (page, 0));

  og_instead_page_set_most_parts (page, 4);
  for (int i = 0; i < 50 && !og_work_bar_is_busy (bar); i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (og_work_bar_is_busy (bar));
  og_document_remove_line (document, line_of (document, "castor-oil"));
  g_assert_false (og_work_bar_is_busy (bar));
  g_assert_cmpuint (og_instead_page_flush (page), ==, 0);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_stop_search (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgInsteadPage *page = make_instead (document, "castor-oil");
  GtkWidget *window = present (GTK_WIDGET (page));
  OgWorkBar *bar = OG_WORK_BAR (find (GTK_WIDGET (page), OG_TYPE_WORK_BAR, 0));
  const OgSuggestion *suggestion;

  og_instead_page_set_most_parts (page, 4);
  for (int i = 0; i < 50 && !og_work_bar_is_busy (bar); i++)
    g_main_context_iteration (NULL, TRUE);
  og_work_bar_stop (bar);
  og_instead_page_flush (page);
  g_assert_false (og_work_bar_is_busy (bar));
  for (guint i = 0; (suggestion = og_instead_page_get_suggestion (page, i)) != NULL; i++)
    g_assert_true (!suggestion->optimal || suggestion->bound <= suggestion->distance + 1e-6);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_intents (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgInsteadPage *page = make_instead (document, "castor-oil");
  GtkWidget *window = present (GTK_WIDGET (page));
  double balanced;

  og_instead_page_set_most_parts (page, 1);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  balanced = og_instead_page_get_suggestion (page, 0)->distance;
  og_instead_page_set_intent (page, OG_SUBSTITUTION_SAME_KEEPING);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  g_assert_cmpfloat (og_instead_page_get_suggestion (page, 0)->distance, !=, balanced);
  og_instead_page_set_intent (page, OG_SUBSTITUTION_BALANCED);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  g_assert_cmpfloat (og_instead_page_get_suggestion (page, 0)->distance, ==, balanced);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Returns: (transfer none): the check button called @label */
static GtkCheckButton *
find_check (GtkWidget  *root,
            const char *label)
{
  for (guint i = 0;; i++)
    {
      GtkWidget *check = find (root, GTK_TYPE_CHECK_BUTTON, i); /* aborts behind the last */

      if (g_strcmp0 (gtk_check_button_get_label (GTK_CHECK_BUTTON (check)), label) == 0)
        return GTK_CHECK_BUTTON (check);
    }
}

static OgShelf *
make_shelf (void)
{
  static const char *const ids[] = { "olive-oil", "sweet-almond-oil", "jojoba-oil" };
  OgShelf *shelf = og_shelf_new ();

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      const OgShelfItem item = {
        .ingredient_id = (char *) ids[i],
        .stock_g = 1000.0,
        .price_per_kg = 10.0 + i,
        .currency = (char *) "EUR",
      };

      og_shelf_put (shelf, &item);
    }
  return shelf;
}

static void
test_stock (void)
{
  g_autoptr(OgDocument) document = make_document ();
  g_autoptr(OgShelf) shelf = make_shelf ();
  OgInsteadPage *page = make_instead (document, "sunflower-oil-high-oleic");
  GtkWidget *window = present (GTK_WIDGET (page));
  GtkCheckButton *stocked = find_check (GTK_WIDGET (page), "Only what is in stock");
  const OgSuggestion *suggestion;
  const OgSuggestedPart *part;

  g_assert_false (gtk_widget_get_sensitive (GTK_WIDGET (stocked)));
  og_instead_page_set_shelf (page, shelf);
  g_assert_true (gtk_widget_get_sensitive (GTK_WIDGET (stocked)));
  gtk_check_button_set_active (stocked, TRUE);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  for (guint i = 0; (suggestion = og_instead_page_get_suggestion (page, i)) != NULL; i++)
    for (guint j = 0; (part = og_suggestion_get_part (suggestion, j)) != NULL; j++)
      g_assert_true (og_shelf_has (shelf, part->ingredient->id));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Comparing */

static void
test_keeps_the_body (void)
{
  g_autoptr(OgDocument) document = make_document ();
  g_autoptr(OgFormula) before = og_formula_copy (og_document_get_formula (document));
  g_autofree char *label = g_strdup (og_document_get_undo_label (document));
  const double wanted = poured (before);
  OgInsteadPage *page = make_instead (document, "sunflower-oil-high-oleic");
  GtkWidget *window = present (GTK_WIDGET (page));
  OgEffectsDialog *dialog;

  og_instead_page_set_most_parts (page, 1);
  og_instead_page_leave_out (page, "sunflower-oil-mid-oleic", TRUE);
  g_assert_cmpuint (og_instead_page_flush (page), >, 0);
  dialog = OG_EFFECTS_DIALOG (og_instead_page_compare (page, 0));
  og_effects_dialog_keep (dialog, TRUE, TRUE);
  g_assert_null (og_effects_dialog_get_formula (dialog));
  g_assert_false (og_effects_dialog_apply (dialog)); /* not before it is known */
  og_effects_dialog_flush (dialog);
  g_assert_nonnull (og_effects_dialog_get_formula (dialog));
  g_assert_cmpfloat_with_epsilon (poured (og_effects_dialog_get_formula (dialog)) / wanted, 1.0,
                                  AS_MEANT);
  g_assert_cmpuint (og_effects_view_get_n_changed (
                      OG_EFFECTS_VIEW (find (GTK_WIDGET (dialog), OG_TYPE_EFFECTS_VIEW, 0))), >, 0);
  g_assert_true (og_effects_dialog_apply (dialog));
  g_assert_nonnull (strstr (og_document_get_undo_label (document), "body kept"));
  g_assert_false (holds (document, "sunflower-oil-high-oleic"));
  assert_one_step (document, before, label);
  g_assert_false (og_effects_dialog_apply (dialog)); /* once only */
  gtk_window_destroy (GTK_WINDOW (dialog));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_compared_recipe_changed (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgEffectsDialog *dialog =
    OG_EFFECTS_DIALOG (og_effects_dialog_new (document,
                                              og_formula_copy (og_document_get_formula (document)),
                                              "The same", "Nothing", FALSE, NULL));

  og_effects_dialog_flush (dialog);
  og_document_set_line_ppm (document, line_of (document, "polyamide-3"), 30000);
  g_assert_false (og_effects_dialog_apply (dialog));
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* Aiming */

static OgAimPage *
make_aim (OgDocument *document)
{
  GtkWidget *page = og_aim_page_new ();

  og_document_page_set_document (OG_DOCUMENT_PAGE (page), document);
  return OG_AIM_PAGE (page);
}

static void
test_aim_is_one_step (void)
{
  g_autoptr(OgDocument) document = make_document ();
  g_autoptr(OgFormula) before = og_formula_copy (og_document_get_formula (document));
  g_autofree char *label = g_strdup (og_document_get_undo_label (document));
  OgAimPage *page = make_aim (document);
  GtkWidget *window = present (GTK_WIDGET (page));
  const guint castor = line_of (document, "castor-oil");

  og_aim_page_set_viscosity (page, 900.0, 25.0);
  og_aim_page_vary (page, line_of (document, "polyamide-3"), TRUE, 0, 100000);
  g_assert_true (og_aim_page_solve (page));
  g_assert_cmpuint (og_aim_page_flush (page), >, 0);
  g_assert_true (og_aim_page_get_report (page)->reached);
  g_assert_true (og_aim_page_apply (page, 0));
  g_assert_cmpfloat_with_epsilon (poured (og_document_get_formula (document)) / 900.0, 1.0,
                                  AS_MEANT);
  g_assert_cmpint (og_formula_find_line (og_document_get_formula (document), castor, NULL, NULL)
                     ->balance_share, >, 0);
  g_assert_null (og_aim_page_get_report (page));
  assert_one_step (document, before, label);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_aim_at_a_word (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgAimPage *page = make_aim (document);
  GtkWidget *window = present (GTK_WIDGET (page));
  OgResult *result;

  og_aim_page_set_body (page, OG_BODY_LIGHT);
  og_aim_page_vary (page, line_of (document, "polyamide-3"), FALSE, 0, 100000);
  og_aim_page_vary (page, line_of (document, "sunflower-oil-high-oleic"), TRUE, 0, OG_PPM_WHOLE);
  g_assert_true (og_aim_page_solve (page));
  g_assert_cmpuint (og_aim_page_flush (page), >, 0);
  g_assert_true (og_aim_page_apply (page, 0));
  result = og_document_get_result (document);
  g_assert_cmpint (result->body, ==, OG_BODY_LIGHT);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_aim_out_of_reach (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgAimPage *page = make_aim (document);
  GtkWidget *window = present (GTK_WIDGET (page));
  const OgSolveReport *report;

  og_aim_page_set_viscosity (page, 1e6, 25.0);
  og_aim_page_vary (page, line_of (document, "polyamide-3"), TRUE, 0, 25000);
  g_assert_true (og_aim_page_solve (page));
  g_assert_cmpuint (og_aim_page_flush (page), ==, 1);
  report = og_aim_page_get_report (page);
  g_assert_false (report->reached);
  g_assert_cmpuint (report->limit.line_id, ==, line_of (document, "polyamide-3"));
  g_assert_true (report->limit.upper);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_aim_stale (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgAimPage *page = make_aim (document);
  GtkWidget *window = present (GTK_WIDGET (page));
  OgWorkBar *bar = OG_WORK_BAR (find (GTK_WIDGET (page), OG_TYPE_WORK_BAR, 0));

  og_aim_page_set_viscosity (page, 900.0, 25.0);
  g_assert_true (og_aim_page_solve (page));
  g_assert_true (og_work_bar_is_busy (bar));
  og_document_set_line_ppm (document, line_of (document, "polyamide-3"), 30000);
  g_assert_false (og_work_bar_is_busy (bar));
  g_assert_cmpuint (og_aim_page_flush (page), ==, 0);

  g_assert_true (og_aim_page_solve (page));
  g_assert_cmpuint (og_aim_page_flush (page), >, 0);
  og_document_set_line_ppm (document, line_of (document, "polyamide-3"), 10000);
  g_assert_null (og_aim_page_get_report (page));
  g_assert_false (og_aim_page_apply (page, 0));
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_aim_refuses (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgAimPage *page = make_aim (document);
  GtkWidget *window = present (GTK_WIDGET (page));
  const guint agent = line_of (document, "polyamide-3");

  og_aim_page_set_viscosity (page, 900.0, 25.0);
  og_aim_page_vary (page, agent, FALSE, 0, 50000);
  g_assert_false (og_aim_page_solve (page));
  og_aim_page_vary (page, agent, TRUE, 0, 50000);
  g_assert_true (og_aim_page_solve (page));
  og_aim_page_set_viscosity (page, -1.0, 25.0);
  g_assert_false (og_aim_page_solve (page));
  og_aim_page_set_viscosity (page, 900.0, 1000.0);
  g_assert_false (og_aim_page_solve (page));
  og_aim_page_set_viscosity (page, NAN, 25.0);
  g_assert_false (og_aim_page_solve (page));
  /* a line that is held does not move */
  og_aim_page_set_viscosity (page, 900.0, 25.0);
  og_document_set_line_held (document, agent, TRUE);
  og_aim_page_vary (page, line_of (document, "castor-oil"), FALSE, 0, OG_PPM_WHOLE);
  og_aim_page_vary (page, line_of (document, "sunflower-oil-high-oleic"), FALSE, 0, OG_PPM_WHOLE);
  g_assert_false (og_aim_page_solve (page));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* 100 % typed into the cell of the thickener, with the oils still there: every page goes on. */
static void
test_agent_alone (void)
{
  g_autoptr(OgDocument) document = make_document ();
  const guint agent = line_of (document, "polyamide-3");
  OgInsteadPage *instead = make_instead (document, "polyamide-3");
  OgAimPage *aim = make_aim (document);
  GtkWidget *first = present (GTK_WIDGET (instead));
  GtkWidget *second = present (GTK_WIDGET (aim));

  g_assert_true (og_document_set_line_ppm (document, agent, OG_PPM_WHOLE));
  settle ();
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, 1300000);
  og_instead_page_flush (instead);
  og_aim_page_flush (aim);
  g_assert_cmpint (og_document_get_result (document)->total_ppm, ==, 1300000);
  og_document_undo (document);
  og_instead_page_flush (instead);
  og_aim_page_flush (aim);
  g_assert_cmpint (og_formula_total (og_document_get_formula (document)), ==, OG_PPM_WHOLE);
  gtk_window_destroy (GTK_WINDOW (first));
  gtk_window_destroy (GTK_WINDOW (second));
}

static void
test_levers (void)
{
  g_autoptr(OgDocument) document = make_document ();
  OgAimPage *page = make_aim (document);
  GtkWidget *window = present (GTK_WIDGET (page));
  OgLeverView *view = OG_LEVER_VIEW (find (GTK_WIDGET (page), OG_TYPE_LEVER_VIEW, 0));

  og_document_set_line_held (document, line_of (document, "polyamide-3"), TRUE);
  og_aim_page_flush (page);
  g_assert_cmpuint (og_lever_view_get_n (view), ==, 3);
  /* castor oil is thick and sunflower oil is thin: common knowledge of the trade */
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (view)),
                            "Castor oil: +"));
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (view)),
                            "Sunflower oil, high oleic: −"));
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (view)),
                            "Polyamide-3: +"));
  og_lever_view_set_kind (view, OG_LEVER_LOTS);
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (view)),
                            "from lot to lot"));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Drafting */

static void
on_start (OgDraftDialog    *dialog,
          const OgFormula  *formula,
          OgFormula       **started)
{
  *started = og_formula_copy (formula);
}

static void
assert_without (OgFormulaPhase *phase,
                OgFormulaLine  *line,
                gpointer        tag)
{
  g_assert_false (og_ingredient_has_tag (og_catalog_get (library, line->ingredient_id), tag));
}

static void
test_draft (void)
{
  OgDraftDialog *dialog = OG_DRAFT_DIALOG (og_draft_dialog_new (library, NULL));
  g_autoptr(OgFormula) started = NULL;
  const OgDraft *draft;

  g_signal_connect (dialog, "start", G_CALLBACK (on_start), &started);
  gtk_window_present (GTK_WINDOW (dialog));
  g_assert_false (og_draft_dialog_start (dialog)); /* not before it is there */
  draft = og_draft_dialog_flush (dialog);
  g_assert_nonnull (draft);
  g_assert_cmpint (draft->formula->product, ==, OG_PRODUCT_LIP_APPLICATOR);
  og_draft_dialog_set_product (dialog, OG_PRODUCT_MASSAGE);
  og_draft_dialog_set_body (dialog, OG_BODY_THIN);
  g_assert_true (og_draft_dialog_set_without (dialog, "nut", TRUE));
  g_assert_true (og_draft_dialog_set_without (dialog, "palm", TRUE));
  draft = og_draft_dialog_flush (dialog);
  g_assert_nonnull (draft);
  g_assert_true (og_draft_dialog_start (dialog));
  g_assert_nonnull (started);
  g_assert_cmpint (started->product, ==, OG_PRODUCT_MASSAGE);
  g_assert_cmpint (og_formula_total (started), ==, OG_PPM_WHOLE);
  og_formula_foreach_line (started, assert_without, (gpointer) "nut");
  og_formula_foreach_line (started, assert_without, (gpointer) "palm");
  if (draft->met)
    {
      g_autoptr(OgResult) result = og_evaluate (started, library, NULL);

      g_assert_cmpint (result->body, ==, OG_BODY_THIN);
    }
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* Everything goes away with its window, also while it is at work. */
static void
test_all_finalised (void)
{
  OgDocument *document = make_document ();
  OgInsteadPage *instead = make_instead (document, "castor-oil");
  OgAimPage *aim = make_aim (document);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *draft = og_draft_dialog_new (library, NULL);
  GtkWidget *effects =
    og_effects_dialog_new (document, og_formula_copy (og_document_get_formula (document)), "Same",
                           "Same", TRUE, NULL);
  GtkWidget *window;

  gtk_box_append (GTK_BOX (box), GTK_WIDGET (instead));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (aim));
  window = present (box);
  og_instead_page_set_most_parts (instead, 4);
  og_aim_page_set_viscosity (aim, 700.0, 25.0);
  g_assert_true (og_aim_page_solve (aim));
  g_object_add_weak_pointer (G_OBJECT (instead), (gpointer *) &instead);
  g_object_add_weak_pointer (G_OBJECT (aim), (gpointer *) &aim);
  g_object_add_weak_pointer (G_OBJECT (draft), (gpointer *) &draft);
  g_object_add_weak_pointer (G_OBJECT (effects), (gpointer *) &effects);
  gtk_window_destroy (GTK_WINDOW (window));
  gtk_window_destroy (GTK_WINDOW (draft));
  gtk_window_destroy (GTK_WINDOW (effects));
  settle ();
  g_assert_null (instead);
  g_assert_null (aim);
  g_assert_null (draft);
  g_assert_null (effects);
  g_assert_finalize_object (document);
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr(GError) error = NULL;
  int failures;

  if (g_getenv ("DISPLAY") == NULL && g_getenv ("WAYLAND_DISPLAY") == NULL)
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }
  gtk_test_init (&argc, &argv, NULL);
  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);

  g_test_add_func ("/advice/parts-of-nothing", test_parts_of_nothing);
  g_test_add_func ("/advice/work/threads", test_work);
  g_test_add_func ("/advice/work/bar", test_work_bar);
  g_test_add_func ("/advice/instead/blend-is-one-step", test_blend_is_one_step);
  g_test_add_func ("/advice/instead/crowded", test_crowded);
  g_test_add_func ("/advice/instead/more-than-there-is", test_more_than_there_is);
  g_test_add_func ("/advice/instead/two-of-sixty", test_two_of_sixty);
  g_test_add_func ("/advice/instead/not-this-one", test_not_this_one);
  g_test_add_func ("/advice/instead/together", test_together);
  g_test_add_func ("/advice/instead/stale", test_stale_is_dropped);
  g_test_add_func ("/advice/instead/stop", test_stop_search);
  g_test_add_func ("/advice/instead/intents", test_intents);
  g_test_add_func ("/advice/instead/stock", test_stock);
  g_test_add_func ("/advice/compare/keeps-the-body", test_keeps_the_body);
  g_test_add_func ("/advice/compare/recipe-changed", test_compared_recipe_changed);
  g_test_add_func ("/advice/aim/one-step", test_aim_is_one_step);
  g_test_add_func ("/advice/aim/word", test_aim_at_a_word);
  g_test_add_func ("/advice/aim/out-of-reach", test_aim_out_of_reach);
  g_test_add_func ("/advice/aim/stale", test_aim_stale);
  g_test_add_func ("/advice/aim/refuses", test_aim_refuses);
  g_test_add_func ("/advice/aim/agent-alone", test_agent_alone);
  g_test_add_func ("/advice/aim/levers", test_levers);
  g_test_add_func ("/advice/draft", test_draft);
  g_test_add_func ("/advice/finalised", test_all_finalised);

  failures = g_test_run ();
  og_catalog_unref (library);
  return failures;
}
