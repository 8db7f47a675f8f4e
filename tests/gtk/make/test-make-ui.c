/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gtk/gtk.h>
#include <math.h>
#include <string.h>

#include "gtk/make/balance-dialog.h"
#include "gtk/make/batch-view.h"
#include "gtk/make/cost-dialog.h"
#include "gtk/make/make-view.h"
#include "gtk/make/net-check-dialog.h"
#include "gtk/make/stove-chart-view.h"
#include "gtk/make/stove-view.h"
#include "gtk/make/weighing-view.h"
#include "gtk/parts/balances.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/table-editor.h"
#include "model/document.h"
#include "widgets.h"

/* Entries of the batch, from 0, as they stand. */
#define ENTRY_AMOUNT 0
#define ENTRY_NOMINAL 1
#define ENTRY_CAPACITY 2
#define ENTRY_OVERFILL 4
#define ENTRY_LOSS_G 5
#define ENTRY_FILL 7

static OgCatalog *library;

/* The labels of @root stand below each other as these lines do. */
static void
assert_pair (GtkWidget  *root,
             const char *title,
             const char *value)
{
  g_autofree char *both = g_strdup_printf ("%s\n%s\n", title, value);

  assert_says (root, both);
}

static GtkWidget *
present (GtkWidget *child)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_default_size (GTK_WINDOW (window), 1024, 700);
  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  settle ();
  return window;
}

static void
add_line (OgDocument *document,
          const char *id,
          OgPpm       amount)
{
  guint line = og_document_add_line (document, id, 0, G_MAXUINT);

  g_assert_true (og_document_set_line_ppm (document, line, amount));
}

/* 600 g: 40 % sunflower oil in castor oil, 0.5 % tocopherol; 10 g to a container. */
static OgDocument *
make_document (void)
{
  OgDocument *document = og_document_new (library);
  OgPackage package;

  og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  add_line (document, "sunflower-oil-high-oleic", 400000);
  add_line (document, "tocopherol", 5000);
  og_document_set_batch_g (document, 600.0);
  og_package_init (&package);
  package.nominal = 10.0;
  package.unit = OG_NET_G;
  g_assert_true (og_document_set_package (document, &package));
  og_document_end_typing (document);
  return document;
}

static GtkWidget *
make_room (OgDocument *document)
{
  GtkWidget *room = og_make_view_new ();

  g_object_set (room, "document", document, NULL);
  return room;
}

static GtkWidget *
batch_of (GtkWidget *room)
{
  return find (room, OG_TYPE_BATCH_VIEW, 0);
}

static GtkWidget *
weighing_of (GtkWidget *room)
{
  return find (room, OG_TYPE_WEIGHING_VIEW, 0);
}

static GtkWidget *
stove_of (GtkWidget *room)
{
  return find (room, OG_TYPE_STOVE_VIEW, 0);
}

static OgCellEntry *
entry_of (GtkWidget *room,
          guint      index)
{
  return OG_CELL_ENTRY (find (batch_of (room), OG_TYPE_CELL_ENTRY, index));
}

/* Types like a reader who then presses Enter. Returns: whether the text was taken */
static gboolean
type_in (OgCellEntry *entry,
         const char  *text)
{
  gboolean taken;

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  taken = og_cell_entry_commit (entry);
  settle ();
  return taken;
}

static const char *
text_of (OgCellEntry *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

/* Numbers worked out by hand: 600 g less 4 g and less 1 % of 600 g are 590 g; with 2 % overfill a
 * container takes 10.2 g, so that 57 are full (581.4 g) and 8.6 g are left. */
static void
test_batch_by_hand (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);

  assert_pair (batch_of (room), "To be made", "600.00 g");
  assert_pair (batch_of (room), "Containers", "60");
  g_assert_true (type_in (entry_of (room, ENTRY_LOSS_G), "4"));
  g_assert_true (type_in (entry_of (room, ENTRY_LOSS_G + 1), "1"));
  g_assert_true (type_in (entry_of (room, ENTRY_OVERFILL), "2"));
  assert_pair (batch_of (room), "Containers", "57");
  assert_says (batch_of (room), "8.60 g are left over");
  assert_pair (batch_of (room), "Fill each with", "10.20 g");
  g_assert_false (type_in (entry_of (room, ENTRY_LOSS_G + 1), "96"));
  assert_says (batch_of (room), "Nothing would be left.");
  og_make_view_revert (OG_MAKE_VIEW (room));
  assert_silent (batch_of (room), "Nothing would be left.");

  /* 57 containers and the losses need (57 x 10.2 + 4)/0.99 g */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (room, GTK_TYPE_DROP_DOWN, 0)),
                              OG_BATCH_CONTAINERS);
  settle ();
  g_assert_cmpstr (text_of (entry_of (room, ENTRY_AMOUNT)), ==, "57");
  g_assert_cmpfloat_with_epsilon (og_make_view_get_batch (OG_MAKE_VIEW (room))->batch_g,
                                  (57.0 * 10.2 + 4.0) / 0.99, 1e-6);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* What is shown is what the core plans from the same options. */
static void
test_same_as_core (void)
{
  g_autoptr (OgDocument) document = make_document ();
  g_autoptr (OgBatchPlan) batch = NULL;
  g_autoptr (OgStovePlan) plan = NULL;
  g_autoptr (GError) error = NULL;
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);
  const OgFormula *formula = og_document_get_formula (document);
  OgResult *result = og_document_get_result (document);
  OgBatchOptions options;
  OgStoveSetup setup;

  og_stove_setup_init (&setup);
  plan = og_stove_plan (formula, result, &setup);
  og_batch_options_init (&options, formula);
  options.fill_c = ((OgStoveStep *) g_ptr_array_index (plan->steps, plan->steps->len - 2))->after_c;
  batch = og_batch_plan_new (formula, result, &options, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);
      g_autofree char *grams = g_strdup_printf ("%.2f g", line->weighing.exact_g);

      assert_pair (weighing_of (room), line->name, grams);
    }
  {
    g_autofree char *density = g_strdup_printf ("%.3f g/ml", batch->density_fill_g_ml);

    assert_says (batch_of (room), density);
  }
  for (guint i = 0; i < plan->steps->len; i++)
    assert_says (stove_of (room), og_saying_text (((OgStoveStep *) g_ptr_array_index (plan->steps, i))->step.text));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* A temperature that is typed holds for batch and stove alike. */
static void
test_filling_temperature (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);

  g_assert_false (type_in (entry_of (room, ENTRY_FILL), "400"));
  g_assert_true (type_in (entry_of (room, ENTRY_FILL), "52"));
  assert_says (batch_of (room), "Density at 52 °C");
  g_assert_cmpfloat_with_epsilon (og_make_view_get_batch (OG_MAKE_VIEW (room))->fill_c, 52.0,
                                  1e-12);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_container_is_undone (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);

  g_assert_true (type_in (entry_of (room, ENTRY_NOMINAL), "20"));
  g_assert_cmpfloat_with_epsilon (og_document_get_formula (document)->package.nominal, 20.0, 1e-12);
  assert_pair (batch_of (room), "Containers", "30");
  g_assert_false (type_in (entry_of (room, ENTRY_NOMINAL), "-3"));
  assert_says (batch_of (room), "A container holds more than 0");
  og_make_view_revert (OG_MAKE_VIEW (room));
  og_document_undo (document);
  settle ();
  g_assert_cmpstr (text_of (entry_of (room, ENTRY_NOMINAL)), ==, "10");
  assert_pair (batch_of (room), "Containers", "60");
  og_document_redo (document);
  settle ();
  g_assert_cmpstr (text_of (entry_of (room, ENTRY_NOMINAL)), ==, "20");

  /* the room left needs the brim, and is not told without it */
  assert_silent (batch_of (room), "Room left");
  g_assert_true (type_in (entry_of (room, ENTRY_CAPACITY), "30"));
  assert_says (batch_of (room), "Room left at 25 °C");
  assert_says (batch_of (room), "Room left at 40 °C");
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_size_is_taken_over (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);

  g_assert_false (type_in (entry_of (room, ENTRY_AMOUNT), "0"));
  og_make_view_revert (OG_MAKE_VIEW (room));
  g_assert_true (type_in (entry_of (room, ENTRY_AMOUNT), "250"));
  g_assert_cmpfloat (og_document_get_formula (document)->batch_g, ==, 600.0);
  g_assert_true (gtk_widget_activate_action (batch_of (room), "batch.take-over", NULL));
  settle ();
  g_assert_cmpfloat (og_document_get_formula (document)->batch_g, ==, 250.0);
  og_document_undo (document);
  settle ();
  g_assert_cmpfloat (og_document_get_formula (document)->batch_g, ==, 600.0);
  g_assert_cmpstr (text_of (entry_of (room, ENTRY_AMOUNT)), ==, "250");
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
type_balance (GtkWidget  *dialog,
              guint       row,
              const char *name,
              const char *step,
              const char *most)
{
  OgTableEditor *table = OG_TABLE_EDITOR (find (dialog, OG_TYPE_TABLE_EDITOR, 0));

  while (og_table_editor_get_n_rows (table) <= row)
    og_table_editor_add_row (table);
  og_table_editor_set_text (table, row, 0, name);
  og_table_editor_set_text (table, row, 1, step);
  og_table_editor_set_text (table, row, 3, most);
}

static GtkWidget *
open_dialog (GtkWidget  *widget,
             const char *action,
             GType       type)
{
  GListModel *windows = gtk_window_get_toplevels ();

  g_assert_true (gtk_widget_activate_action (widget, action, NULL));
  settle ();
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      if (g_type_is_a (G_OBJECT_TYPE (window), type))
        return window;
    }
  g_assert_not_reached ();
}

/* 600 g of castor oil and sunflower oil on a balance of 5 g: 357, 240 and 3 g become whole fives,
 * by largest remainders of 71.4, 48 and 0.6 fives: 71, 48, 1. */
static void
test_balances_change_the_list (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);
  GtkWidget *dialog;

  assert_says (weighing_of (room), "Say which balances you have");
  assert_pair (weighing_of (room), "Castor oil", "357.00 g");
  dialog = open_dialog (room, "make.edit-balances", OG_TYPE_BALANCE_DIALOG);
  type_balance (dialog, 0, "Kitchen", "5", "400");
  g_assert_false (og_balance_dialog_apply (OG_BALANCE_DIALOG (dialog)));
  assert_says (dialog, "at most a hundredth of what the balance bears");
  type_balance (dialog, 0, "Kitchen", "5", "x");
  g_assert_false (og_balance_dialog_apply (OG_BALANCE_DIALOG (dialog)));
  assert_says (dialog, "“x” is not a number.");
  type_balance (dialog, 0, "Kitchen", "5", "2000");
  g_assert_true (og_balance_dialog_apply (OG_BALANCE_DIALOG (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  settle ();
  assert_silent (weighing_of (room), "Say which balances you have");
  assert_pair (weighing_of (room), "Castor oil", "355 g");
  assert_pair (weighing_of (room), "Sunflower oil, high oleic", "240 g");
  assert_pair (weighing_of (room), "Tocopherol", "5 g");
  assert_pair (weighing_of (room), "Together", "600 g");
  assert_says (weighing_of (room), "Tocopherol: 3 g on the balance “Kitchen”");
  assert_says (weighing_of (room), "A balance with steps of");
  assert_says (weighing_of (room), "The rounding ");

  dialog = open_dialog (room, "make.edit-balances", OG_TYPE_BALANCE_DIALOG);
  type_balance (dialog, 1, "Fine", "0,001", "100");
  g_assert_true (og_balance_dialog_apply (OG_BALANCE_DIALOG (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  settle ();
  assert_pair (weighing_of (room), "Tocopherol", "3.000 g");
  assert_silent (weighing_of (room), "on the balance “Kitchen” may be off");
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_balances_are_kept (void)
{
  g_autoptr (GSettings) settings = g_settings_new ("org.oleograph.Oleograph");
  g_autoptr (GPtrArray) balances =
    g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (GPtrArray) again = NULL;
  const OgBalance *fine;
  GVariant *bad =
    g_variant_new_parsed ("[{'name': <'Odd'>, 'readability': <-1.0>, 'capacity': <5.0>},"
                          " {'name': <'Nothing'>}]");

  g_ptr_array_add (balances, og_balance_new ("Bench", 0.1, NAN, 3000.0));
  g_ptr_array_add (balances, og_balance_new ("Fine", 0.001, 0.0008, 120.0));
  og_balances_save (settings, balances);
  again = og_balances_load (settings);
  g_assert_cmpuint (again->len, ==, 2);
  fine = g_ptr_array_index (again, 1);
  g_assert_cmpstr (fine->name, ==, "Fine");
  g_assert_cmpfloat (fine->readability_g, ==, 0.001);
  g_assert_cmpfloat (fine->repeatability_g, ==, 0.0008);
  g_assert_true (isnan (((OgBalance *) g_ptr_array_index (again, 0))->repeatability_g));
  g_clear_pointer (&again, g_ptr_array_unref);
  g_assert_true (g_settings_set_value (settings, OG_BALANCES_KEY, bad));
  again = og_balances_load (settings);
  g_assert_cmpuint (again->len, ==, 0);
  g_settings_reset (settings, OG_BALANCES_KEY);
}

/* One window's choice is every window's. */
static void
test_settings_are_shared (void)
{
  g_autoptr (GSettings) settings = g_settings_new ("org.oleograph.Oleograph");
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window;

  g_settings_set_double (settings, "loss-grams", 12.0);
  g_settings_set_double (settings, "room-temperature", 18.0);
  og_make_view_set_settings (OG_MAKE_VIEW (room), settings);
  window = present (room);
  g_assert_cmpstr (text_of (entry_of (room, ENTRY_LOSS_G)), ==, "12");
  assert_says (batch_of (room), "12.00 g of it are lost");
  assert_says (stove_of (room), "in a room of 18 °C");
  g_assert_true (type_in (entry_of (room, ENTRY_LOSS_G), "7"));
  g_assert_cmpfloat (g_settings_get_double (settings, "loss-grams"), ==, 7.0);
  gtk_window_destroy (GTK_WINDOW (window));
  g_settings_reset (settings, "loss-grams");
  g_settings_reset (settings, "room-temperature");
}

static void
test_prices (void)
{
  g_autoptr (OgDocument) document = make_document ();
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);
  GtkWidget *dialog;
  OgTableEditor *table;
  char crowns[] = "CZK";
  char castor[] = "castor-oil";

  assert_says (batch_of (room), "3 prices are unknown");
  /* 357 g at 10 a kilogram are 3.57 */
  og_shelf_put (shelf, &(OgShelfItem) { .ingredient_id = castor, .stock_g = 900.0,
                                        .price_per_kg = 10.0, .currency = crowns });
  og_make_view_set_shelf (OG_MAKE_VIEW (room), shelf);
  settle ();
  assert_pair (batch_of (room), "Cost of the batch", "3.57 CZK");
  assert_says (batch_of (room), "2 prices are unknown");

  /* 60 containers of 0.5 each, in a currency of their own */
  dialog = open_dialog (batch_of (room), "batch.edit-costs", OG_TYPE_COST_DIALOG);
  table = OG_TABLE_EDITOR (find (dialog, OG_TYPE_TABLE_EDITOR, 0));
  og_table_editor_set_text (table, 0, 0, "Bottle");
  g_assert_false (og_cost_dialog_apply (OG_COST_DIALOG (dialog)));
  og_table_editor_set_text (table, 0, 1, "0,5");
  og_table_editor_set_text (table, 0, 2, "EUR");
  og_table_editor_set_choice (table, 0, 3, OG_COST_PER_CONTAINER);
  g_assert_true (og_cost_dialog_apply (OG_COST_DIALOG (dialog)));
  gtk_window_destroy (GTK_WINDOW (dialog));
  settle ();
  assert_pair (batch_of (room), "Cost of the batch", "30.00 EUR");
  assert_says (batch_of (room), "0.50 EUR for each container");
  assert_pair (batch_of (room), "Cost of the batch", "3.57 CZK");
  og_document_undo (document);
  settle ();
  assert_silent (batch_of (room), "30.00 EUR");
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Isododecane has a flash point near 45 °C (recalled, in the catalog): it does not go into a pot of
 * 110 °C unless somebody says so. */
static void
test_fire_needs_a_word (void)
{
  g_autoptr (OgDocument) document = og_document_new (library);
  GtkWidget *room;
  GtkWidget *window;
  GtkWidget *tick;

  og_document_add_line (document, "isododecane", 0, G_MAXUINT);
  add_line (document, "castor-oil", 300000);
  g_assert_true (og_document_set_phase_temperature (
    document, ((OgFormulaPhase *) g_ptr_array_index (
                 og_document_get_formula (document)->phases, 0))->id, 110.0));
  room = make_room (document);
  window = present (room);
  g_assert_true (og_make_view_get_plan (OG_MAKE_VIEW (room))->refused);
  assert_says (stove_of (room), "Vapour of Isododecane can catch fire");
  assert_says (stove_of (room), "Hot oil can catch fire and burns the skin.");
  assert_silent (stove_of (room), "Warm the pot slowly");
  g_assert_false (gtk_widget_get_visible (find (room, OG_TYPE_STOVE_CHART_VIEW, 0)));

  tick = find (stove_of (room), GTK_TYPE_CHECK_BUTTON, 0);
  g_assert_false (gtk_check_button_get_active (GTK_CHECK_BUTTON (tick)));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), TRUE);
  settle ();
  g_assert_false (og_make_view_get_plan (OG_MAKE_VIEW (room))->refused);
  assert_says (stove_of (room), "Warm the pot slowly");
  assert_says (stove_of (room), "Vapour of Isododecane can catch fire");
  assert_says (stove_of (room), "Hot oil can catch fire and burns the skin.");
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), FALSE);
  settle ();
  assert_silent (stove_of (room), "Warm the pot slowly");
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Oil kept back at a press: one step of the history, a plan that gets there, and the focus in it. */
static void
test_split_it_so (void)
{
  g_autoptr (OgDocument) document = og_document_new (library);
  GtkWidget *room, *window, *button;
  guint hot, cool, line;
  const OgStoveStep *cooling = NULL;

  og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  hot = ((OgFormulaPhase *) g_ptr_array_index (og_document_get_formula (document)->phases, 0))->id;
  add_line (document, "polyamide-3", 20000);
  cool = og_document_add_phase (document, "Cool", G_MAXUINT);
  line = og_document_add_line (document, "squalane", cool, G_MAXUINT);
  g_assert_true (og_document_set_line_ppm (document, line, 100000));
  g_assert_true (og_document_set_phase_temperature (document, hot, 110.0));
  g_assert_true (og_document_set_phase_temperature (document, cool, 85.0));
  room = make_room (document);
  window = present (room);
  assert_says (stove_of (room), "of its line), kept back and added from the shelf, bring the pot from 110 to 85 °C");

  button = find (find (room, OG_TYPE_STOVE_VIEW, 0), GTK_TYPE_BUTTON, 0);
  while (button != NULL && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (button)), "Split It So") != 0)
    button = gtk_widget_get_next_sibling (button);
  g_assert_nonnull (button);
  gtk_widget_grab_focus (button);
  g_signal_emit_by_name (button, "clicked");
  settle ();
  g_assert_cmpuint (og_document_get_formula (document)->phases->len, ==, 3);
  g_assert_cmpstr (((OgFormulaPhase *) g_ptr_array_index (og_document_get_formula (document)->phases, 1))->name, ==,
                   "Castor oil, cold");
  assert_silent (stove_of (room), "from 110 to 85 °C");
  for (guint i = 0; i < og_make_view_get_plan (OG_MAKE_VIEW (room))->steps->len && cooling == NULL; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (og_make_view_get_plan (OG_MAKE_VIEW (room))->steps, i);

      if (step->act == OG_STOVE_ADD)
        cooling = step;
    }
  g_assert_cmpfloat (cooling->before_c, ==, 110);
  g_assert_cmpfloat_with_epsilon (cooling->after_c, 85, 1);
  g_assert_nonnull (gtk_window_get_focus (GTK_WINDOW (window)));
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (window)), stove_of (room)));

  og_document_undo (document);
  settle ();
  g_assert_cmpuint (og_document_get_formula (document)->phases->len, ==, 2);
  assert_says (stove_of (room), "bring the pot from 110 to 85 °C");
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Nothing is worked out for a room that nobody looks into. */
static void
test_waits_to_be_seen (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *stack = gtk_stack_new ();
  GtkWidget *room = make_room (document);
  GtkWidget *window;

  gtk_stack_add_named (GTK_STACK (stack), gtk_label_new ("elsewhere"), "elsewhere");
  gtk_stack_add_named (GTK_STACK (stack), room, "make");
  window = present (stack);
  g_assert_null (gtk_widget_get_first_child (room));
  gtk_stack_set_visible_child_name (GTK_STACK (stack), "make");
  settle ();
  assert_says (batch_of (room), "To be made");
  gtk_stack_set_visible_child_name (GTK_STACK (stack), "elsewhere");
  og_document_set_batch_g (document, 900.0);
  settle ();
  assert_says (batch_of (room), "600.00 g");
  gtk_stack_set_visible_child_name (GTK_STACK (stack), "make");
  settle ();
  assert_says (batch_of (room), "900.00 g");
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_unfinished_recipes (void)
{
  g_autoptr (OgDocument) document = og_document_new (library);
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);
  guint line;

  assert_says (weighing_of (room), "Nothing to weigh yet.");
  line = og_document_add_line (document, "castor-oil", 0, G_MAXUINT);
  og_document_set_line_ppm (document, line, 400000);
  settle ();
  assert_says (batch_of (room), "instead of 100 %");
  og_document_set_line_balance (document, line, 1);
  settle ();
  assert_silent (batch_of (room), "instead of 100 %");
  /* without a package there are no containers to tell the size by */
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find (room, GTK_TYPE_DROP_DOWN, 0)),
                              OG_BATCH_CONTAINERS);
  settle ();
  assert_says (batch_of (room), "Say how large the batch is.");
  g_assert_true (type_in (entry_of (room, ENTRY_AMOUNT), "12"));
  assert_says (weighing_of (room), "Nothing to weigh yet.");
  g_assert_null (og_make_view_get_batch (OG_MAKE_VIEW (room)));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Directive 76/211/EEC, Annex I 2.4: 4.5 % of 100 g may be missing, twice that never. */
static void
test_net_content (void)
{
  OgPackage package;
  GtkWidget *dialog;

  og_package_init (&package);
  package.nominal = 100.0;
  package.unit = OG_NET_G;
  dialog = og_net_check_dialog_new (&package, NAN);
  g_object_ref_sink (dialog);
  assert_says (dialog, "Type or paste");
  og_net_check_dialog_type (OG_NET_CHECK_DIALOG (dialog), "20", "121 120.5;\n119,9\t120");
  g_assert_cmpstr (og_net_check_dialog_get_verdict (OG_NET_CHECK_DIALOG (dialog)), ==,
                   "Passes: mean, tolerance and lower limit are kept.");
  assert_pair (dialog, "Containers weighed", "4");
  assert_pair (dialog, "Mean content", "100.35 g"); /* (101 + 100.5 + 99.9 + 100)/4 */
  assert_pair (dialog, "Few may hold less than", "95.50 g");
  assert_pair (dialog, "None may hold less than", "91.00 g");
  assert_pair (dialog, "Below the declared content", "1");
  og_net_check_dialog_type (OG_NET_CHECK_DIALOG (dialog), "20", "131 131 110.9");
  g_assert_cmpstr (og_net_check_dialog_get_verdict (OG_NET_CHECK_DIALOG (dialog)), ==,
                   "Fails: a container holds less than the lower limit.");
  og_net_check_dialog_type (OG_NET_CHECK_DIALOG (dialog), "20", "119.9 119.9");
  g_assert_cmpstr (og_net_check_dialog_get_verdict (OG_NET_CHECK_DIALOG (dialog)), ==,
                   "Fails: the mean lies below the declared content.");
  og_net_check_dialog_type (OG_NET_CHECK_DIALOG (dialog), "20", "119.9 full");
  g_assert_cmpstr (og_net_check_dialog_get_verdict (OG_NET_CHECK_DIALOG (dialog)), ==,
                   "“full” is not a weight.");
  gtk_window_destroy (GTK_WINDOW (dialog));
  g_object_unref (dialog);
}

static void
test_chart_is_told (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window;
  OgStoveChartView *chart;

  g_assert_true (og_document_set_phase_temperature (
    document, ((OgFormulaPhase *) g_ptr_array_index (
                 og_document_get_formula (document)->phases, 0))->id, 60.0));
  window = present (room);
  chart = OG_STOVE_CHART_VIEW (find (room, OG_TYPE_STOVE_CHART_VIEW, 0));
  g_assert_nonnull (strstr (og_painted_view_get_description (OG_PAINTED_VIEW (chart)),
                            "up to 60 °C"));
  g_assert_true (gtk_widget_grab_focus (GTK_WIDGET (chart)));
  gtk_window_destroy (GTK_WINDOW (window));
}

/* All three columns side by side in a window of 1024 px; with text twice as large, each of them. */
static void
test_narrow (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);
  GtkWidget *parts[] = { batch_of (room), weighing_of (room), stove_of (room) };
  int together = 0;
  int dpi;

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      int least;

      gtk_widget_measure (parts[i], GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
      together += least;
    }
  g_test_message ("%d px together", together);
  g_assert_cmpint (together, <=, 1000);
  g_object_get (gtk_settings_get_default (), "gtk-xft-dpi", &dpi, NULL);
  if (dpi <= 0) /* nobody has set any */
    dpi = 96 * 1024;
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", 2 * dpi, NULL);
  settle ();
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      int least;

      gtk_widget_measure (parts[i], GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
      g_assert_cmpint (least, <=, 520);
    }
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", dpi, NULL);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Everything that follows a change, widgets included: 2 ms, but hundreds under the sanitizers. */
static void
test_is_quick (void)
{
  g_autoptr (OgDocument) document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window;
  gint64 best = G_MAXINT64;

  g_assert_true (og_document_set_phase_temperature (
    document, ((OgFormulaPhase *) g_ptr_array_index (
                 og_document_get_formula (document)->phases, 0))->id, 80.0));
  window = present (room);
  for (guint i = 0; i < 4; i++)
    {
      gint64 start;

      og_document_set_batch_g (document, 300.0 + i);
      start = g_get_monotonic_time ();
      g_assert_nonnull (og_make_view_get_plan (OG_MAKE_VIEW (room)));
      best = MIN (best, g_get_monotonic_time () - start);
      settle ();
    }
  g_test_message ("fastest change %" G_GINT64_FORMAT " µs", best);
  g_assert_cmpint (best, <, 500 * G_TIME_SPAN_MILLISECOND);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_all_finalised (void)
{
  OgDocument *document = make_document ();
  GtkWidget *room = make_room (document);
  GtkWidget *window = present (room);
  GtkWidget *parts[] = { batch_of (room), weighing_of (room), stove_of (room),
                         find (room, OG_TYPE_STOVE_CHART_VIEW, 0),
                         og_balance_dialog_new (NULL), og_cost_dialog_new (document) };

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    g_object_add_weak_pointer (G_OBJECT (parts[i]), (gpointer *) &parts[i]);
  g_object_add_weak_pointer (G_OBJECT (room), (gpointer *) &room);
  gtk_window_destroy (GTK_WINDOW (parts[4]));
  gtk_window_destroy (GTK_WINDOW (parts[5]));
  gtk_window_destroy (GTK_WINDOW (window));
  settle ();
  g_assert_null (room);
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    g_assert_null (parts[i]);
  g_assert_finalize_object (document);
}

int
main (int   argc,
      char *argv[])
{
  g_autoptr (GError) error = NULL;
  int failures;

  if (g_getenv ("DISPLAY") == NULL && g_getenv ("WAYLAND_DISPLAY") == NULL)
    {
      g_print ("1..0 # SKIP no display\n");
      return 0;
    }
  gtk_test_init (&argc, &argv, NULL);
  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);

  g_test_add_func ("/make/batch/by-hand", test_batch_by_hand);
  g_test_add_func ("/make/same-as-core", test_same_as_core);
  g_test_add_func ("/make/filling-temperature", test_filling_temperature);
  g_test_add_func ("/make/batch/container-undone", test_container_is_undone);
  g_test_add_func ("/make/batch/size-taken-over", test_size_is_taken_over);
  g_test_add_func ("/make/balances/change-the-list", test_balances_change_the_list);
  g_test_add_func ("/make/balances/kept", test_balances_are_kept);
  g_test_add_func ("/make/settings", test_settings_are_shared);
  g_test_add_func ("/make/prices", test_prices);
  g_test_add_func ("/make/stove/fire", test_fire_needs_a_word);
  g_test_add_func ("/make/stove/split", test_split_it_so);
  g_test_add_func ("/make/stove/chart", test_chart_is_told);
  g_test_add_func ("/make/waits", test_waits_to_be_seen);
  g_test_add_func ("/make/unfinished", test_unfinished_recipes);
  g_test_add_func ("/make/net-content", test_net_content);
  g_test_add_func ("/make/narrow", test_narrow);
  g_test_add_func ("/make/quick", test_is_quick);
  g_test_add_func ("/make/finalised", test_all_finalised);

  failures = g_test_run ();
  og_catalog_unref (library);
  return failures;
}
