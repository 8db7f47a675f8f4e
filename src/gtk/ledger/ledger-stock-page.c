/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/ledger/count-dialog.h"
#include "gtk/ledger/ledger-stock-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/ledger/receive-dialog.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/plain-list.h"
#include "gtk/parts/record-table.h"
#include "gtk/parts/text-undo.h"

#define STOCK_SHARE 0.46 /* of the width, to begin with */
#define LOTS_HEIGHT 170

struct _OgLedgerStockPage
{
  OgLedgerPage parent_instance;

  GtkWidget *pane;
  GtkWidget *search_entry;
  GtkWidget *stock_table;
  GtkWidget *empty_label;
  GtkWidget *title_label;
  GtkWidget *empty_check;
  GtkWidget *lot_table;
  GtkWidget *facts;
  GtkWidget *where_heading;
  GtkWidget *where_list;

  GPtrArray *lots; /* nullable, of OgLot: as they are shown */
};

G_DEFINE_FINAL_TYPE (OgLedgerStockPage, og_ledger_stock_page, OG_TYPE_LEDGER_PAGE)

enum
{
  USE_LOT,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static const OgRecordColumn stock_columns[] = {
  { N_("Material"), FALSE, TRUE },
  { N_("Left, g"), TRUE, FALSE },
  { N_("Lots"), TRUE, FALSE },
  { N_("Price per kg"), TRUE, FALSE },
  { N_("Best before"), FALSE, FALSE },
};

static const OgRecordColumn lot_columns[] = {
  { N_("Lot"), FALSE, TRUE },
  { N_("Left, g"), TRUE, FALSE },
  { N_("Best before"), FALSE, FALSE },
  { N_("Supplier"), FALSE, TRUE },
};

static OgLedger *
get_ledger (OgLedgerStockPage *self)
{
  return og_ledger_page_get_ledger (OG_LEDGER_PAGE (self));
}

static const char *
selected_key (GtkWidget *table)
{
  OgRecord *record = og_record_table_get_selected (OG_RECORD_TABLE (table));

  return record != NULL ? og_record_get_key (record) : NULL;
}

static const OgLot *
selected_lot (OgLedgerStockPage *self)
{
  const char *code = selected_key (self->lot_table);

  for (guint i = 0; code != NULL && self->lots != NULL && i < self->lots->len; i++)
    {
      const OgLot *lot = g_ptr_array_index (self->lots, i);

      if (g_str_equal (lot->code, code))
        return lot;
    }
  return NULL;
}

/* The lot */

static void
add_text_fact (OgLedgerStockPage *self,
               const char        *title,
               const char        *text)
{
  if (text != NULL && *text != '\0')
    og_plain_list_add_fact (OG_PLAIN_LIST (self->facts), title, text, NULL);
}

static void
add_certificate (OgLedgerStockPage *self,
                 const OgLot       *lot)
{
  for (guint i = 0; i < lot->certificate->len; i++)
    {
      const OgCertificateValue *value =
        &g_array_index (lot->certificate, OgCertificateValue, i);
      g_autofree char *number = og_number_trimmed (value->value, 6);
      g_autofree char *at = og_number_trimmed (value->at_c, 1);
      /* Translators: a figure of a certificate, then the temperature it holds at */
      g_autofree char *text = isnan (value->at_c) ? g_strdup (number)
                                                  : g_strdup_printf (_("%s at %s °C"), number, at);

      og_plain_list_add_fact (OG_PLAIN_LIST (self->facts), og_figure_id_get_name (value->figure),
                              text, NULL);
    }
}

static void
show_facts (OgLedgerStockPage *self,
            const OgLot       *lot)
{
  g_autofree char *price = og_ledger_price_to_text (og_lot_get_price_per_kg (lot), lot->currency);

  add_text_fact (self, _("Received on"), lot->received);
  add_text_fact (self, _("Price per kg"), price);
  add_certificate (self, lot);
}

static void
add_use (OgLedgerStockPage *self,
         const OgLotUse    *use)
{
  g_autofree char *amount = og_ledger_mg_to_text (use->amount_mg);
  g_autofree char *title = NULL;

  if (use->batch == NULL)
    title = g_strdup_printf ("%s · %s", use->day, og_journal_kind_get_name (use->kind));
  else
    /* Translators: day, number of a batch, its title */
    title = g_strdup_printf (_("%s · batch %s, %s"), use->day, use->batch,
                             use->title != NULL ? use->title : "");
  og_plain_list_add_fact (OG_PLAIN_LIST (self->where_list), title, amount,
                          use->taken ? NULL : _("weighed; the batch is still open"));
}

static void
show_where (OgLedgerStockPage *self,
            const OgLot       *lot)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) uses =
    og_ledger_where_lot_went (get_ledger (self), lot->material_id, lot->code, &error);

  if (!og_ledger_page_check (OG_LEDGER_PAGE (self), error))
    return;
  gtk_widget_set_visible (self->where_heading, TRUE);
  if (uses->len == 0)
    og_plain_list_add (OG_PLAIN_LIST (self->where_list),
                       og_wrapping_label_new (_("Nothing of it has gone yet."), "dim-label"),
                       _("Nothing of it has gone yet."));
  for (guint i = 0; i < uses->len; i++)
    add_use (self, g_ptr_array_index (uses, i));
}

static void
enable_lot_actions (OgLedgerStockPage *self,
                    const OgLot       *lot)
{
  const gboolean writable = !og_ledger_is_read_only (get_ledger (self));
  GtkWidget *widget = GTK_WIDGET (self);

  gtk_widget_action_set_enabled (widget, "stock.receive", writable);
  gtk_widget_action_set_enabled (widget, "stock.count", lot != NULL && writable);
  gtk_widget_action_set_enabled (widget, "stock.waste", lot != NULL && writable);
  gtk_widget_action_set_enabled (widget, "stock.correct", lot != NULL && writable);
  gtk_widget_action_set_enabled (widget, "stock.use", lot != NULL);
}

static void
on_lot (OgLedgerStockPage *self)
{
  const OgLot *shown = selected_lot (self);
  g_autoptr (OgLot) lot = NULL;
  g_autoptr (GError) error = NULL;

  og_plain_list_clear (OG_PLAIN_LIST (self->facts));
  og_plain_list_clear (OG_PLAIN_LIST (self->where_list));
  gtk_widget_set_visible (self->where_heading, FALSE);
  enable_lot_actions (self, shown);
  if (shown == NULL)
    return;
  lot = og_ledger_get_lot (get_ledger (self), shown->material_id, shown->code, &error);
  if (!og_ledger_page_check (OG_LEDGER_PAGE (self), error))
    return;
  show_facts (self, lot);
  show_where (self, lot);
}

/* The lots of a material */

static OgRecord *
lot_record (const OgLot *lot)
{
  char **cells = g_new0 (char *, G_N_ELEMENTS (lot_columns) + 1);

  cells[0] = g_strdup (lot->code);
  cells[1] = og_ledger_mg_to_number (lot->left_mg);
  cells[2] = og_ledger_optional_text (lot->best_before);
  cells[3] = og_ledger_optional_text (lot->supplier);
  return og_record_new (cells, lot->code, lot->id);
}

static void
show_lots (OgLedgerStockPage *self,
           const char        *material_id,
           GPtrArray         *records)
{
  g_autoptr (GError) error = NULL;

  self->lots = og_ledger_list_lots (
    get_ledger (self), material_id,
    gtk_check_button_get_active (GTK_CHECK_BUTTON (self->empty_check)), NULL, &error);
  if (!og_ledger_page_check (OG_LEDGER_PAGE (self), error))
    return;
  for (guint i = 0; i < self->lots->len; i++)
    g_ptr_array_add (records, lot_record (g_ptr_array_index (self->lots, i)));
}

static const char *
material_name (OgLedgerStockPage *self,
               const char        *id)
{
  const OgIngredient *material =
    og_catalog_get (og_ledger_page_get_catalog (OG_LEDGER_PAGE (self)), id);

  if (material != NULL)
    return material->name;
  return self->lots != NULL && self->lots->len > 0
           ? ((OgLot *) g_ptr_array_index (self->lots, 0))->material_name : id;
}

static void
on_material (OgLedgerStockPage *self)
{
  const char *id = selected_key (self->stock_table);
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (g_object_unref);

  g_clear_pointer (&self->lots, g_ptr_array_unref);
  if (id != NULL)
    show_lots (self, id, records);
  gtk_label_set_label (GTK_LABEL (self->title_label),
                       id != NULL ? material_name (self, id) : _("Select a material"));
  og_record_table_show (OG_RECORD_TABLE (self->lot_table), records);
  if (selected_key (self->lot_table) == NULL && records->len > 0)
    og_record_table_select (OG_RECORD_TABLE (self->lot_table),
                            og_record_get_key (g_ptr_array_index (records, 0)));
}

/* The stock */

static OgRecord *
stock_record (const OgStock *stock)
{
  char **cells = g_new0 (char *, G_N_ELEMENTS (stock_columns) + 1);

  cells[0] = g_strdup (stock->name);
  cells[1] = og_ledger_mg_to_number (stock->left_mg);
  cells[2] = g_strdup_printf ("%u", stock->n_lots);
  cells[3] = og_ledger_price_to_text (stock->price_per_kg, stock->currency);
  cells[4] = og_ledger_optional_text (stock->best_before);
  return og_record_new (cells, stock->material_id, 0);
}

static void
show_emptiness (OgLedgerStockPage *self,
                gboolean           empty)
{
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->search_entry));

  og_label_set_optional (self->empty_label,
                         !empty ? NULL
                         : *words != '\0' ? _("Nothing in stock matches.")
                                          : _("Nothing is in stock yet. Record what you have with "
                                              "Receive, or import a list of receipts from the "
                                              "menu."));
}

static void
og_ledger_stock_page_refresh (OgLedgerPage *page)
{
  OgLedgerStockPage *self = OG_LEDGER_STOCK_PAGE (page);
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->search_entry));
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) stock =
    og_ledger_list_stock (get_ledger (self), *words != '\0' ? words : NULL, &error);

  enable_lot_actions (self, NULL);
  if (!og_ledger_page_check (page, error))
    return;
  for (guint i = 0; i < stock->len; i++)
    g_ptr_array_add (records, stock_record (g_ptr_array_index (stock, i)));
  og_record_table_show (OG_RECORD_TABLE (self->stock_table), records);
  show_emptiness (self, stock->len == 0);
}

void
og_ledger_stock_page_select (OgLedgerStockPage *self,
                             const char        *material_id,
                             const char        *lot)
{
  g_return_if_fail (OG_IS_LEDGER_STOCK_PAGE (self));

  og_ledger_page_update_now (OG_LEDGER_PAGE (self));
  if (og_record_table_select (OG_RECORD_TABLE (self->stock_table), material_id) && lot != NULL)
    og_record_table_select (OG_RECORD_TABLE (self->lot_table), lot);
}

/* Actions */

static void
on_received (OgLedgerStockPage *self,
             const char        *material_id,
             const char        *lot)
{
  og_editable_show (GTK_EDITABLE (self->search_entry), "");
  og_ledger_page_schedule (OG_LEDGER_PAGE (self));
  og_ledger_stock_page_select (self, material_id, lot);
  og_ledger_page_say (OG_LEDGER_PAGE (self), _("The delivery was recorded"));
}

static void
act_receive (GtkWidget  *widget,
             const char *name,
             GVariant   *parameter)
{
  OgLedgerStockPage *self = OG_LEDGER_STOCK_PAGE (widget);
  OgLedgerPage *page = OG_LEDGER_PAGE (self);
  GtkWidget *dialog = og_receive_dialog_new (get_ledger (self), og_ledger_page_get_catalog (page),
                                             selected_key (self->stock_table));

  g_signal_connect_object (dialog, "received", G_CALLBACK (on_received), self, G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

static void
open_count (OgLedgerStockPage *self,
            OgJournalKind      kind)
{
  const OgLot *lot = selected_lot (self);

  if (lot != NULL)
    og_present_over (GTK_WIDGET (self),
                     og_count_dialog_new (get_ledger (self), kind, lot));
}

static void
act_count (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  open_count (OG_LEDGER_STOCK_PAGE (widget), OG_JOURNAL_COUNT);
}

static void
act_waste (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  open_count (OG_LEDGER_STOCK_PAGE (widget), OG_JOURNAL_WASTE);
}

static void
act_correct (GtkWidget  *widget,
             const char *name,
             GVariant   *parameter)
{
  open_count (OG_LEDGER_STOCK_PAGE (widget), OG_JOURNAL_CORRECTION);
}

static void
act_use (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  OgLedgerStockPage *self = OG_LEDGER_STOCK_PAGE (widget);
  const OgLot *shown = selected_lot (self);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgLot) lot = NULL;

  if (shown == NULL)
    return;
  lot = og_ledger_get_lot (get_ledger (self), shown->material_id, shown->code, &error);
  if (og_ledger_page_check (OG_LEDGER_PAGE (self), error))
    g_signal_emit (self, signals[USE_LOT], 0, lot);
}

/* Building */

static GtkWidget *
make_stock_side (OgLedgerStockPage *self)
{
  GtkWidget *side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *button = og_action_button_new (_("Receive…"), "stock.receive");

  self->search_entry = gtk_search_entry_new ();
  og_search_entry_keep_focus (self->search_entry);
  gtk_widget_set_hexpand (self->search_entry, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search_entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Find in the stock"),
                                  -1);
  g_signal_connect_swapped (self->search_entry, "search-changed",
                            G_CALLBACK (og_ledger_page_schedule), self);
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_box_append (GTK_BOX (line), self->search_entry);
  gtk_box_append (GTK_BOX (line), button);
  self->stock_table = og_record_table_new (_("Stock"), stock_columns,
                                           G_N_ELEMENTS (stock_columns));
  g_signal_connect_swapped (self->stock_table, "selected", G_CALLBACK (on_material), self);
  self->empty_label = og_wrapping_label_new (NULL, "dim-label");
  gtk_widget_set_visible (self->empty_label, FALSE);
  gtk_box_append (GTK_BOX (side), line);
  gtk_box_append (GTK_BOX (side), self->empty_label);
  gtk_box_append (GTK_BOX (side), self->stock_table);
  gtk_widget_add_css_class (side, "make-column");
  return side;
}

static GtkWidget *
make_acts (void)
{
  GtkWidget *acts = og_acts_new ();

  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (acts), 4);
  og_acts_append (acts, og_action_button_new (_("Count…"), "stock.count"));
  og_acts_append (acts, og_action_button_new (_("Waste…"), "stock.waste"));
  og_acts_append (acts, og_action_button_new (_("Correct…"), "stock.correct"));
  og_acts_append (acts, og_action_button_new (_("Use in the recipe"), "stock.use"));
  return acts;
}

static GtkWidget *
make_lot_facts (OgLedgerStockPage *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->facts = og_plain_list_new (_("About the lot"));
  self->where_heading = og_wrapping_label_new (_("Where it went"), "fact-heading");
  self->where_list = og_plain_list_new (_("Where it went"));
  gtk_box_append (GTK_BOX (box), self->facts);
  gtk_box_append (GTK_BOX (box), self->where_heading);
  gtk_box_append (GTK_BOX (box), self->where_list);
  return og_scroller_new (box);
}

static GtkWidget *
make_lot_side (OgLedgerStockPage *self)
{
  GtkWidget *side = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->title_label = og_wrapping_label_new (NULL, "make-title");
  self->empty_check = gtk_check_button_new_with_label (_("Also lots that are used up"));
  g_signal_connect_swapped (self->empty_check, "toggled", G_CALLBACK (on_material), self);
  self->lot_table = og_record_table_new (_("Lots"), lot_columns, G_N_ELEMENTS (lot_columns));
  gtk_widget_set_size_request (self->lot_table, -1, LOTS_HEIGHT);
  gtk_widget_set_vexpand (self->lot_table, FALSE);
  g_signal_connect_swapped (self->lot_table, "selected", G_CALLBACK (on_lot), self);
  gtk_box_append (GTK_BOX (side), self->title_label);
  gtk_box_append (GTK_BOX (side), self->empty_check);
  gtk_box_append (GTK_BOX (side), self->lot_table);
  gtk_box_append (GTK_BOX (side), make_acts ());
  gtk_box_append (GTK_BOX (side), make_lot_facts (self));
  gtk_widget_add_css_class (side, "make-column");
  return side;
}

static gboolean
on_first_frame (GtkWidget     *widget,
                GdkFrameClock *clock,
                gpointer       data)
{
  OgLedgerStockPage *self = OG_LEDGER_STOCK_PAGE (widget);
  const int width = gtk_widget_get_width (self->pane);

  if (width <= 0)
    return G_SOURCE_CONTINUE;
  gtk_paned_set_position (GTK_PANED (self->pane), (int) (width * STOCK_SHARE));
  return G_SOURCE_REMOVE;
}

static gboolean
og_ledger_stock_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_LEDGER_STOCK_PAGE (widget)->search_entry);
}

static void
og_ledger_stock_page_finalize (GObject *object)
{
  g_clear_pointer (&OG_LEDGER_STOCK_PAGE (object)->lots, g_ptr_array_unref);

  G_OBJECT_CLASS (og_ledger_stock_page_parent_class)->finalize (object);
}

static void
og_ledger_stock_page_class_init (OgLedgerStockPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_ledger_stock_page_finalize;
  widget_class->grab_focus = og_ledger_stock_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_ledger_stock_page_refresh;

  signals[USE_LOT] = g_signal_new ("use-lot", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);

  gtk_widget_class_install_action (widget_class, "stock.receive", NULL, act_receive);
  gtk_widget_class_install_action (widget_class, "stock.count", NULL, act_count);
  gtk_widget_class_install_action (widget_class, "stock.waste", NULL, act_waste);
  gtk_widget_class_install_action (widget_class, "stock.correct", NULL, act_correct);
  gtk_widget_class_install_action (widget_class, "stock.use", NULL, act_use);
}

static void
og_ledger_stock_page_init (OgLedgerStockPage *self)
{
  self->pane = gtk_paned_new (GTK_ORIENTATION_HORIZONTAL);
  gtk_paned_set_shrink_start_child (GTK_PANED (self->pane), FALSE);
  gtk_paned_set_shrink_end_child (GTK_PANED (self->pane), FALSE);
  gtk_paned_set_start_child (GTK_PANED (self->pane), make_stock_side (self));
  gtk_paned_set_end_child (GTK_PANED (self->pane), make_lot_side (self));
  gtk_widget_set_vexpand (self->pane, TRUE);
  gtk_box_append (GTK_BOX (self), self->pane);
  gtk_widget_set_visible (self->where_heading, FALSE);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), on_first_frame, NULL, NULL);
}

GtkWidget *
og_ledger_stock_page_new (void)
{
  return g_object_new (OG_TYPE_LEDGER_STOCK_PAGE, NULL);
}
