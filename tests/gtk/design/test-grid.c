/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <math.h>

#include "gtk/app/application.h"
#include "gtk/app/print.h"
#include "gtk/app/recipe-window.h"
#include "gtk/app/shortcuts.h"
#include "gtk/design/grid-view.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/drag-payload.h"
#include "model/data-dir.h"
#include "model/document.h"
#include "widgets.h"

/* Cell entry */

typedef struct
{
  double number;
  char *text;
  guint n;
  const char *refusal;
} Heard;

static char *
on_number (Heard *heard,
           double value)
{
  heard->number = value;
  heard->n++;
  return g_strdup (heard->refusal);
}

static char *
on_text (Heard      *heard,
         const char *text)
{
  g_free (heard->text);
  heard->text = g_strdup (text);
  heard->n++;
  return g_strdup (heard->refusal);
}

static OgCellEntry *
make_entry (gboolean numeric,
            Heard   *heard)
{
  OgCellEntry *entry = OG_CELL_ENTRY (g_object_ref_sink (og_cell_entry_new (numeric)));

  g_signal_connect_swapped (entry, "submit-number", G_CALLBACK (on_number), heard);
  g_signal_connect_swapped (entry, "submit-text", G_CALLBACK (on_text), heard);
  return entry;
}

static void
type_text (OgCellEntry *entry,
           const char  *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
}

static void
assert_text (OgCellEntry *entry,
             const char  *text)
{
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, text);
}

static void
test_number_text (void)
{
  static const struct
  {
    double value;
    guint least, most;
    const char *text;
  } cases[] = {
    { 12.5, 2, 4, "12.50" },   { 0.0125, 2, 4, "0.0125" }, { 100.0, 0, 3, "100" },
    { 0.5, 0, 1, "0.5" },      { 7.0, 2, 2, "7.00" },      { 33.3333, 2, 4, "33.3333" },
    { 1200.0, 0, 0, "1200" },  { NAN, 2, 4, "" },          { INFINITY, 0, 1, "" },
    { 10.0, 0, 2, "10" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = og_number_to_text (cases[i].value, cases[i].least, cases[i].most);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_commit_once (void)
{
  Heard heard = { 0 };
  g_autoptr (OgCellEntry) entry = make_entry (TRUE, &heard);

  og_cell_entry_set_number (entry, 12.5, 2, 4);
  assert_text (entry, "12.50");
  g_assert_true (og_cell_entry_commit (entry));
  g_assert_cmpuint (heard.n, ==, 0); /* nothing was changed */

  type_text (entry, " 13,25 ");
  g_assert_true (og_cell_entry_commit (entry));
  g_assert_cmpuint (heard.n, ==, 1);
  g_assert_cmpfloat (heard.number, ==, 13.25);
  assert_text (entry, "12.50"); /* until the document says otherwise */
}

static void
test_refused_text (void)
{
  static const char *const bad[] = { "abc", "1.2.3", "1,000", "1 00", "0x10", "nan", "inf", "", "5 %%" };
  Heard heard = { 0 };
  g_autoptr (OgCellEntry) entry = make_entry (TRUE, &heard);

  g_object_set (entry, "unit", "%", NULL);
  og_cell_entry_set_number (entry, 1.0, 2, 4);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      type_text (entry, bad[i]);
      g_assert_false (og_cell_entry_commit (entry));
      assert_text (entry, bad[i]);
      g_assert_nonnull (og_cell_entry_get_problem (entry));
      g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (entry), "error"));
      gtk_test_accessible_assert_state (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_STATE_INVALID,
                                        GTK_ACCESSIBLE_INVALID_TRUE);
    }
  g_assert_cmpuint (heard.n, ==, 0);

  og_cell_entry_revert (entry);
  assert_text (entry, "1.00");
  g_assert_null (og_cell_entry_get_problem (entry));
  g_assert_false (gtk_widget_has_css_class (GTK_WIDGET (entry), "error"));

  type_text (entry, "5 %");
  g_assert_true (og_cell_entry_commit (entry));
  g_assert_cmpfloat (heard.number, ==, 5.0);
}

static void
test_refused_value (void)
{
  Heard heard = { .refusal = "too much" };
  g_autoptr (OgCellEntry) entry = make_entry (TRUE, &heard);

  og_cell_entry_set_number (entry, 1.0, 2, 4);
  type_text (entry, "140");
  g_assert_false (og_cell_entry_commit (entry));
  g_assert_cmpstr (og_cell_entry_get_problem (entry), ==, "too much");
  assert_text (entry, "140");
}

static void
test_typing_is_kept (void)
{
  Heard heard = { 0 };
  g_autoptr (OgCellEntry) entry = make_entry (TRUE, &heard);

  og_cell_entry_set_number (entry, 1.0, 2, 4);
  type_text (entry, "2.");
  og_cell_entry_set_number (entry, 9.0, 2, 4); /* another line was changed meanwhile */
  assert_text (entry, "2.");
  og_cell_entry_revert (entry);
  assert_text (entry, "9.00");
}

static void
test_optional_number (void)
{
  Heard heard = { 0 };
  g_autoptr (OgCellEntry) entry = make_entry (TRUE, &heard);

  g_object_set (entry, "optional", TRUE, NULL);
  og_cell_entry_set_number (entry, 80.0, 0, 1);
  type_text (entry, "");
  g_assert_true (og_cell_entry_commit (entry));
  g_assert_true (isnan (heard.number));
}

static void
test_text (void)
{
  Heard heard = { 0 };
  g_autoptr (OgCellEntry) entry = make_entry (FALSE, &heard);

  og_cell_entry_set_value (entry, "Melt");
  type_text (entry, "<b>12</b>");
  g_assert_true (og_cell_entry_commit (entry));
  g_assert_cmpstr (heard.text, ==, "<b>12</b>");
  g_free (heard.text);
}

/* Drag */

static void
test_drag (void)
{
  g_autoptr (GdkContentProvider) provider = og_ingredient_drag_for_material ("castor-oil");
  g_autoptr (GdkContentFormats) formats = gdk_content_provider_ref_formats (provider);
  g_auto (GValue) value = G_VALUE_INIT;
  g_autoptr (GError) error = NULL;
  const OgIngredientDrag *drag;

  g_assert_true (gdk_content_formats_contain_gtype (formats, OG_TYPE_INGREDIENT_DRAG));
  g_assert_false (gdk_content_formats_contain_gtype (formats, G_TYPE_STRING));
  g_value_init (&value, OG_TYPE_INGREDIENT_DRAG);
  g_assert_true (gdk_content_provider_get_value (provider, &value, &error));
  g_assert_no_error (error);
  drag = g_value_get_boxed (&value);
  g_assert_cmpint (drag->kind, ==, OG_DRAG_MATERIAL);
  g_assert_cmpstr (drag->ingredient_id, ==, "castor-oil");
}

/* Grid */

typedef struct
{
  OgCatalog *catalog;
  OgDocument *document;
  OgGridView *grid;
  GtkWidget *window;
  guint oil, wax, last;
} Bench;

static void
bench_set_up (Bench        *bench,
              gconstpointer data)
{
  g_autofree char *data_dir = og_data_dir ();
  g_autoptr (GError) error = NULL;

  bench->catalog = og_catalog_load (data_dir, &error);
  g_assert_no_error (error);
  bench->document = og_document_new (bench->catalog);
  bench->oil = og_document_add_line (bench->document, "castor-oil", 0, G_MAXUINT);
  bench->wax = og_document_add_line (bench->document, "jojoba-oil", 0, G_MAXUINT);
  og_document_add_phase (bench->document, "Cool", G_MAXUINT);
  bench->last = og_document_add_line (bench->document, "tocopherol", 0, G_MAXUINT);

  bench->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (bench->window), 700, 500);
  bench->grid = OG_GRID_VIEW (og_grid_view_new ());
  g_object_set (bench->grid, "document", bench->document, NULL);
  gtk_window_set_child (GTK_WINDOW (bench->window), GTK_WIDGET (bench->grid));
  gtk_window_present (GTK_WINDOW (bench->window));
}

static void
bench_tear_down (Bench        *bench,
                 gconstpointer data)
{
  gpointer grid = bench->grid;

  g_object_add_weak_pointer (grid, &grid);
  gtk_window_destroy (GTK_WINDOW (bench->window));
  for (int i = 0; grid != NULL && i < 200; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_null (grid); /* the grid goes with its window */
  g_assert_finalize_object (bench->document);
  og_catalog_unref (bench->catalog);
}

static guint
get_current_id (Bench *bench)
{
  guint id;

  g_object_get (bench->grid, "current-id", &id, NULL);
  return id;
}

static guint
get_position (Bench           *bench,
              guint            id,
              OgFormulaPhase **phase)
{
  guint position;

  g_assert_nonnull (og_formula_find_line (og_document_get_formula (bench->document), id, phase,
                                          &position));
  return position;
}

static void
test_current (Bench        *bench,
              gconstpointer data)
{
  og_grid_view_go_to (bench->grid, bench->wax, OG_COLUMN_PERCENT);
  g_assert_cmpuint (get_current_id (bench), ==, bench->wax);
  g_assert_cmpuint (og_grid_view_get_neighbour (bench->grid, bench->wax), ==, bench->oil);
  g_assert_cmpuint (og_grid_view_get_neighbour (bench->grid, bench->oil), ==, bench->wax);
  og_document_remove_line (bench->document, bench->wax);
  g_assert_cmpuint (get_current_id (bench), ==, 0);
  og_document_undo (bench->document);
}

static void
test_move (Bench        *bench,
           gconstpointer data)
{
  OgFormulaPhase *first;
  OgFormulaPhase *phase;

  get_position (bench, bench->oil, &first);
  g_assert_false (og_grid_view_can_move (bench->grid, bench->oil, -1));
  g_assert_false (og_grid_view_move (bench->grid, bench->oil, -1));
  g_assert_true (og_grid_view_move (bench->grid, bench->oil, 1));
  g_assert_cmpuint (get_position (bench, bench->oil, &phase), ==, 1);
  g_assert_true (og_grid_view_move (bench->grid, bench->oil, 1)); /* into the next phase */
  g_assert_cmpuint (get_position (bench, bench->oil, &phase), ==, 0);
  g_assert_cmpstr (phase->name, ==, "Cool");
  g_assert_true (og_grid_view_move (bench->grid, bench->oil, 1));
  g_assert_cmpuint (get_position (bench, bench->oil, &phase), ==, 1);
  g_assert_false (og_grid_view_can_move (bench->grid, bench->oil, 1));
  g_assert_true (og_grid_view_move (bench->grid, bench->oil, -1));
  g_assert_true (og_grid_view_move (bench->grid, bench->oil, -1)); /* back into the first */
  g_assert_cmpuint (get_position (bench, bench->oil, &phase), ==, 1);
  g_assert_cmpstr (phase->name, !=, "Cool");
}

/* Types into the grams of a line. Returns: (nullable): why they were refused */
static const char *
type_grams (Bench      *bench,
            guint       line,
            const char *text)
{
  OgCellEntry *cell;

  og_grid_view_go_to (bench->grid, line, OG_COLUMN_GRAMS);
  settle ();
  cell = og_cell_entry_focused (GTK_ROOT (bench->window));
  g_assert_nonnull (cell);
  gtk_editable_set_text (GTK_EDITABLE (cell), text);
  og_cell_entry_commit (cell);
  return og_cell_entry_get_problem (cell);
}

/* Grams that are typed become the share that the document makes of them. */
static void
test_grams (Bench        *bench,
            gconstpointer data)
{
  static const struct { const char *text; double g; OgPpm share; } cases[] = {
    { "12.345", 12.345, 333649 }, /* 12.345 / 37 is 0.3336486 */
    { "0.00002", 0.00002, 1 },    /* 0.5405 millionths are nearest to one */
    { "36.99998", 36.99998, 999999 },
    { "37", 37.0, 1000000 },
  };
  g_autoptr (OgDocument) other = og_document_new (bench->catalog);
  const guint line = og_document_add_line (other, "castor-oil", 0, G_MAXUINT);
  const guint wax = og_document_add_line (other, "jojoba-oil", 0, G_MAXUINT);
  const OgFormula *formula;

  g_assert_cmpuint (line, !=, 0);
  og_document_set_batch_g (bench->document, 37.0);
  og_document_set_batch_g (other, 37.0);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_null (type_grams (bench, bench->wax, cases[i].text));
      g_assert_null (type_grams (bench, bench->wax, cases[i].text)); /* the same again */
      g_assert_true (og_document_set_line_g (other, wax, cases[i].g));
      formula = og_document_get_formula (bench->document);
      g_assert_cmpint (og_formula_find_line (formula, bench->wax, NULL, NULL)->amount, ==,
                       cases[i].share);
      formula = og_document_get_formula (other);
      g_assert_cmpint (og_formula_find_line (formula, wax, NULL, NULL)->amount, ==,
                       cases[i].share);
    }
  g_assert_nonnull (type_grams (bench, bench->wax, "37.001"));
  formula = og_document_get_formula (bench->document);
  g_assert_cmpint (og_formula_find_line (formula, bench->wax, NULL, NULL)->amount, ==,
                   OG_PPM_WHOLE);
}

static void
test_add_after_current (Bench        *bench,
                        gconstpointer data)
{
  OgFormulaPhase *phase;
  guint id;

  og_grid_view_go_to (bench->grid, bench->oil, OG_COLUMN_PERCENT);
  id = og_grid_view_add_material (bench->grid, "squalane");
  g_assert_cmpuint (get_position (bench, id, &phase), ==, 1);
  g_assert_cmpuint (get_current_id (bench), ==, id);
}

static void
test_marks (Bench        *bench,
            gconstpointer data)
{
  const OgFormula *formula = og_document_get_formula (bench->document);

  g_assert_cmpuint (og_formula_find_line (formula, bench->oil, NULL, NULL)->balance_share, ==, 1);
  og_grid_view_toggle_balance (bench->grid, bench->oil);
  og_grid_view_toggle_hold (bench->grid, bench->wax);
  formula = og_document_get_formula (bench->document);
  g_assert_cmpuint (og_formula_find_line (formula, bench->oil, NULL, NULL)->balance_share, ==, 0);
  g_assert_true (og_formula_find_line (formula, bench->wax, NULL, NULL)->held);
}

/* The choice of a line shows what the document says, and asks it. */
static void
test_rule (Bench        *bench,
           gconstpointer data)
{
  static const char *const rules[] = { "typed", "rest-2", "held", "rest", "rest-3", "typed" };
  g_autofree char *rule = NULL;

  og_grid_view_go_to (bench->grid, bench->oil, OG_COLUMN_PERCENT);
  g_object_get (bench->grid, "rule", &rule, NULL);
  g_assert_cmpstr (rule, ==, "rest");
  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    {
      const OgFormulaLine *line;

      gtk_widget_activate_action (GTK_WIDGET (bench->grid), "grid.rule", "s", rules[i]);
      line = og_formula_find_line (og_document_get_formula (bench->document), bench->oil, NULL, NULL);
      g_assert_cmpuint (line->balance_share, ==,
                        g_str_equal (rules[i], "rest") ? 1 : g_str_has_prefix (rules[i], "rest-")
                          ? (guint) rules[i][strlen ("rest-")] - '0' : 0);
      g_assert_cmpint (line->held, ==, g_str_equal (rules[i], "held"));
      g_free (rule);
      g_object_get (bench->grid, "rule", &rule, NULL);
      g_assert_cmpstr (rule, ==, rules[i]);
    }
}

static void
test_unknown_material (Bench        *bench,
                       gconstpointer data)
{
  guint id = og_document_add_line (bench->document, "no-such-thing", 0, G_MAXUINT);

  og_grid_view_go_to (bench->grid, id, OG_COLUMN_PERCENT);
  g_assert_cmpstr (og_row_get_name (og_grid_view_get_current (bench->grid)), ==, "no-such-thing");
  g_assert_false (og_row_get_known (og_grid_view_get_current (bench->grid)));
}

static void
test_print (Bench        *bench,
            gconstpointer data)
{
  g_autofree char *folder = g_dir_make_tmp ("og-print-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "card.pdf", NULL);
  g_autofree char *bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;

  g_assert_true (og_print_card_to_pdf (bench->document, path, &error));
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &bytes, &length, &error));
  g_assert_no_error (error);
  g_assert_true (g_str_has_prefix (bytes, "%PDF-"));
  g_assert_cmpuint (length, >, 2000);
  g_unlink (path);
  g_rmdir (folder);
}

/* Keys */

static gboolean
class_has_action (GtkWidgetClass *class,
                  const char     *name)
{
  const GVariantType *parameter;
  const char *property;
  const char *known;
  GType owner;

  for (guint i = 0;
       gtk_widget_class_query_action (class, i, &owner, &known, &parameter, &property);
       i++)
    if (g_str_equal (known, name))
      return TRUE;
  return FALSE;
}

static void
test_keys_lead_to_actions (void)
{
  g_autoptr (OgApplication) application = og_application_new ();
  g_autoptr (GTypeClass) class = g_type_class_ref (OG_TYPE_RECIPE_WINDOW);
  g_autofree char *ui = og_shortcuts_to_ui ();
  g_autoptr (GtkBuilder) builder = NULL;
  g_auto (GStrv) actions = NULL;
  guint n = 0;

  og_shortcuts_install_app (GTK_APPLICATION (application));
  actions = gtk_application_list_action_descriptions (GTK_APPLICATION (application));
  for (char **action = actions; *action != NULL; action++)
    {
      g_auto (GStrv) name = g_strsplit (*action, "::", 2);

      if (g_str_has_prefix (name[0], "win."))
        {
          g_test_message ("%s", name[0]);
          g_assert_true (class_has_action ((GtkWidgetClass *) class, name[0]));
          n++;
        }
    }
  g_assert_cmpuint (n, >, 10);
  builder = gtk_builder_new_from_string (ui, -1);
  g_assert_nonnull (gtk_builder_get_object (builder, "shortcuts"));
}

#define ADD(path, func) \
  g_test_add (path, Bench, NULL, bench_set_up, func, bench_tear_down)

int
main (int   argc,
      char *argv[])
{
  gtk_test_init (&argc, &argv, NULL);

  g_test_add_func ("/cell-entry/number-text", test_number_text);
  g_test_add_func ("/cell-entry/commit-once", test_commit_once);
  g_test_add_func ("/cell-entry/refused-text", test_refused_text);
  g_test_add_func ("/cell-entry/refused-value", test_refused_value);
  g_test_add_func ("/cell-entry/typing-is-kept", test_typing_is_kept);
  g_test_add_func ("/cell-entry/optional-number", test_optional_number);
  g_test_add_func ("/cell-entry/text", test_text);
  g_test_add_func ("/drag", test_drag);
  ADD ("/grid/current", test_current);
  ADD ("/grid/move", test_move);
  ADD ("/grid/grams", test_grams);
  ADD ("/grid/add-after-current", test_add_after_current);
  ADD ("/grid/marks", test_marks);
  ADD ("/grid/rule", test_rule);
  ADD ("/grid/unknown-material", test_unknown_material);
  ADD ("/grid/print", test_print);
  g_test_add_func ("/keys", test_keys_lead_to_actions);
  return g_test_run ();
}
