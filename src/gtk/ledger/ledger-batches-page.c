/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/ledger/ledger-batches-page.h"
#include "gtk/ledger/ledger-words.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/record-table.h"

#define PAGE_ROWS 200

struct _OgLedgerBatchesPage
{
  OgLedgerPage parent_instance;

  GtkWidget *search_entry;
  GtkWidget *state_drop_down;
  GtkWidget *table;
  GtkWidget *empty_label;
  gint64 oldest; /* id of the last row */
};

G_DEFINE_FINAL_TYPE (OgLedgerBatchesPage, og_ledger_batches_page, OG_TYPE_LEDGER_PAGE)

enum
{
  OPEN_BATCH,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static const OgRecordColumn columns[] = {
  { N_("Batch"), FALSE, FALSE },     { N_("Recipe"), FALSE, TRUE },
  { N_("Day"), FALSE, FALSE },       { N_("State"), FALSE, FALSE },
  { N_("Planned, g"), TRUE, FALSE }, { N_("Weighed, g"), TRUE, FALSE },
  { N_("Who"), FALSE, FALSE },       { N_("Released by"), FALSE, TRUE },
};

static OgRecord *
batch_record (const OgBatch *batch)
{
  char **cells = g_new0 (char *, G_N_ELEMENTS (columns) + 1);

  cells[0] = g_strdup (batch->number);
  cells[1] = g_strdup (batch->title);
  cells[2] = g_strdup (batch->day);
  cells[3] = g_strdup (og_batch_state_get_name (batch->state));
  cells[4] = og_ledger_mg_to_number (batch->planned_mg);
  cells[5] = og_ledger_mg_to_number (batch->weighed_mg);
  cells[6] = og_ledger_optional_text (batch->who);
  cells[7] = og_ledger_optional_text (batch->released_by);
  return og_record_new (cells, batch->number, batch->id);
}

/* Returns: (nullable) (transfer full) (element-type OgRecord) */
static GPtrArray *
load (OgLedgerBatchesPage *self,
      gint64               before,
      guint                limit)
{
  OgLedgerPage *page = OG_LEDGER_PAGE (self);
  const char *words = gtk_editable_get_text (GTK_EDITABLE (self->search_entry));
  const guint state = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->state_drop_down));
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) batches =
    og_ledger_list_batches (og_ledger_page_get_ledger (page), *words != '\0' ? words : NULL,
                            (int) state - 1, before, limit, &error);
  GPtrArray *records;

  if (!og_ledger_page_check (page, error))
    return NULL;
  records = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < batches->len; i++)
    {
      const OgBatch *batch = g_ptr_array_index (batches, i);

      self->oldest = batch->id;
      g_ptr_array_add (records, batch_record (batch));
    }
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "batches.more", batches->len == limit);
  return records;
}

static void
og_ledger_batches_page_refresh (OgLedgerPage *page)
{
  OgLedgerBatchesPage *self = OG_LEDGER_BATCHES_PAGE (page);
  const guint shown = og_record_table_get_n_rows (OG_RECORD_TABLE (self->table));
  g_autoptr (GPtrArray) records = load (self, 0, MAX (shown, PAGE_ROWS));

  if (records == NULL)
    return;
  og_record_table_show (OG_RECORD_TABLE (self->table), records);
  if (records->len > 0 && og_record_table_get_selected (OG_RECORD_TABLE (self->table)) == NULL)
    og_record_table_select (OG_RECORD_TABLE (self->table),
                            og_record_get_key (g_ptr_array_index (records, 0)));
  og_label_set_optional (self->empty_label,
                         records->len == 0 ? _("No batch here. Start a batch record where a recipe "
                                               "is made.")
                                           : NULL);
}

static void
act_more (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  OgLedgerBatchesPage *self = OG_LEDGER_BATCHES_PAGE (widget);
  g_autoptr (GPtrArray) records = load (self, self->oldest, PAGE_ROWS);

  if (records != NULL)
    og_record_table_append (OG_RECORD_TABLE (self->table), records);
}

static void
open_selected (OgLedgerBatchesPage *self)
{
  OgRecord *record = og_record_table_get_selected (OG_RECORD_TABLE (self->table));

  if (record != NULL)
    g_signal_emit (self, signals[OPEN_BATCH], 0, og_record_get_key (record));
}

static void
act_open (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  open_selected (OG_LEDGER_BATCHES_PAGE (widget));
}

static void
on_selected (OgLedgerBatchesPage *self)
{
  gtk_widget_action_set_enabled (
    GTK_WIDGET (self), "batches.open",
    og_record_table_get_selected (OG_RECORD_TABLE (self->table)) != NULL);
}

/* Building */

static void
fill_states (OgLedgerBatchesPage *self)
{
  const char *names[OG_N_BATCH_STATES + 2] = { _("All batches") };

  for (guint i = 0; i < OG_N_BATCH_STATES; i++)
    names[i + 1] = og_batch_state_get_name (i);
  self->state_drop_down = gtk_drop_down_new_from_strings (names);
  og_drop_down_set_name (self->state_drop_down, _("State of the batches"));
  g_signal_connect_swapped (self->state_drop_down, "notify::selected",
                            G_CALLBACK (og_ledger_page_schedule), self);
}

static gboolean
og_ledger_batches_page_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_LEDGER_BATCHES_PAGE (widget)->search_entry);
}

static void
og_ledger_batches_page_class_init (OgLedgerBatchesPageClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->grab_focus = og_ledger_batches_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_ledger_batches_page_refresh;

  signals[OPEN_BATCH] = g_signal_new ("open-batch", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                      NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_install_action (widget_class, "batches.open", NULL, act_open);
  gtk_widget_class_install_action (widget_class, "batches.more", NULL, act_more);
}

static void
og_ledger_batches_page_init (OgLedgerBatchesPage *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *acts = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_box_set_spacing (GTK_BOX (self), 6);
  gtk_widget_add_css_class (GTK_WIDGET (self), "make-column");
  self->search_entry = gtk_search_entry_new ();
  og_search_entry_keep_focus (self->search_entry);
  gtk_widget_set_hexpand (self->search_entry, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->search_entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Find a batch"),
                                  -1);
  g_signal_connect_swapped (self->search_entry, "search-changed",
                            G_CALLBACK (og_ledger_page_schedule), self);
  g_signal_connect_swapped (self->search_entry, "activate", G_CALLBACK (open_selected), self);
  fill_states (self);
  gtk_box_append (GTK_BOX (line), self->search_entry);
  gtk_box_append (GTK_BOX (line), self->state_drop_down);
  self->empty_label = og_wrapping_label_new (NULL, "dim-label");
  gtk_widget_set_visible (self->empty_label, FALSE);
  self->table = og_record_table_new (_("Batches"), columns, G_N_ELEMENTS (columns));
  g_signal_connect_swapped (self->table, "selected", G_CALLBACK (on_selected), self);
  g_signal_connect_swapped (self->table, "activated", G_CALLBACK (open_selected), self);
  gtk_box_append (GTK_BOX (acts), og_action_button_new (_("Open the record"), "batches.open"));
  gtk_box_append (GTK_BOX (acts), og_action_button_new (_("Show older batches"), "batches.more"));
  gtk_box_append (GTK_BOX (self), line);
  gtk_box_append (GTK_BOX (self), self->empty_label);
  gtk_box_append (GTK_BOX (self), self->table);
  gtk_box_append (GTK_BOX (self), acts);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "batches.open", FALSE);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "batches.more", FALSE);
}

GtkWidget *
og_ledger_batches_page_new (void)
{
  return g_object_new (OG_TYPE_LEDGER_BATCHES_PAGE, NULL);
}
