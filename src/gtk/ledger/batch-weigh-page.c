/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/make/weighing.h"
#include "gtk/ledger/batch-weigh-page.h"
#include "gtk/ledger/batch-weigh-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/work-list.h"

struct _OgBatchWeighPage
{
  OgLedgerPage parent_instance;

  GtkWidget *list;
  char *number;
  GPtrArray *rows; /* of OgBatchWeighRow, borrowed, by line */
  OgBatchWeighColumns columns;
  GPtrArray *balances;
};

G_DEFINE_FINAL_TYPE (OgBatchWeighPage, og_batch_weigh_page, OG_TYPE_LEDGER_PAGE)

static void
on_weighed (OgBatchWeighPage *self,
            GtkWidget        *row)
{
  guint index = 0;

  g_ptr_array_find (self->rows, row, &index);
  for (guint i = index + 1; i < self->rows->len; i++)
    {
      GtkWidget *next = g_ptr_array_index (self->rows, i);

      if (!og_batch_weigh_row_is_done (OG_BATCH_WEIGH_ROW (next)))
        {
          gtk_widget_grab_focus (next);
          return;
        }
    }
  gtk_widget_grab_focus (row);
}

static void
add_phase (OgBatchWeighPage *self,
           const char       *phase)
{
  GtkWidget *row = og_work_list_add (self->list, og_wrapping_label_new (phase, "heading"), phase);

  gtk_widget_add_css_class (row, "phase");
}

static void
add_rows (OgBatchWeighPage *self,
          const OgBatch    *batch)
{
  const char *phase = NULL;

  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchLine *line = g_ptr_array_index (batch->lines, i);
      GtkWidget *row = og_batch_weigh_row_new (og_ledger_page_get_ledger (OG_LEDGER_PAGE (self)),
                                               self->number, line, &self->columns);

      if (line->phase != NULL && g_strcmp0 (phase, line->phase) != 0)
        add_phase (self, line->phase);
      phase = line->phase;
      og_work_list_add (self->list, row, line->name);
      g_signal_connect_object (row, "weighed", G_CALLBACK (on_weighed), self, G_CONNECT_SWAPPED);
      g_ptr_array_add (self->rows, row);
    }
}

static void
og_batch_weigh_page_refresh (OgLedgerPage *page)
{
  OgBatchWeighPage *self = OG_BATCH_WEIGH_PAGE (page);
  OgLedger *ledger = og_ledger_page_get_ledger (page);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBatch) batch = og_ledger_get_batch (ledger, self->number, &error);
  g_autoptr (GPtrArray) findings
    = batch != NULL ? og_ledger_list_batch_findings (ledger, self->number, NULL, &error) : NULL;
  gboolean editable;

  if (!og_ledger_page_check (page, error))
    return;
  editable = batch->state <= OG_BATCH_RUNNING && !og_ledger_is_read_only (ledger);
  if (self->rows->len == 0)
    add_rows (self, batch);
  for (guint i = 0; i < self->rows->len; i++)
    {
      const OgBatchLine *line = g_ptr_array_index (batch->lines, i);
      g_autoptr (GPtrArray) lots =
        og_ledger_list_lots (ledger, line->material_id, FALSE, NULL, &error);

      if (!og_ledger_page_check (page, error))
        return;
      og_batch_weigh_row_show (g_ptr_array_index (self->rows, i), batch, line, lots, findings,
                               editable);
    }
}

static gboolean
og_batch_weigh_page_grab_focus (GtkWidget *widget)
{
  OgBatchWeighPage *self = OG_BATCH_WEIGH_PAGE (widget);

  for (guint i = 0; i < self->rows->len; i++)
    {
      GtkWidget *row = g_ptr_array_index (self->rows, i);

      if (!og_batch_weigh_row_is_done (OG_BATCH_WEIGH_ROW (row)))
        return gtk_widget_grab_focus (row);
    }
  return self->rows->len > 0 && gtk_widget_grab_focus (g_ptr_array_index (self->rows, 0));
}

static void
og_batch_weigh_page_finalize (GObject *object)
{
  OgBatchWeighPage *self = OG_BATCH_WEIGH_PAGE (object);

  g_free (self->number);
  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->balances);
  g_object_unref (self->columns.target);
  g_object_unref (self->columns.lot);
  g_object_unref (self->columns.balance);

  G_OBJECT_CLASS (og_batch_weigh_page_parent_class)->finalize (object);
}

static void
og_batch_weigh_page_class_init (OgBatchWeighPageClass *class)
{
  G_OBJECT_CLASS (class)->finalize = og_batch_weigh_page_finalize;
  GTK_WIDGET_CLASS (class)->grab_focus = og_batch_weigh_page_grab_focus;
  OG_LEDGER_PAGE_CLASS (class)->refresh = og_batch_weigh_page_refresh;
}

static void
og_batch_weigh_page_init (OgBatchWeighPage *self)
{
  self->rows = g_ptr_array_new ();
  self->balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  self->columns.target = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->columns.lot = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->columns.balance = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  self->columns.balances = self->balances;
  self->list = og_work_list_new (_("Weighing list"));
  gtk_widget_add_css_class (self->list, "make-column");
  gtk_box_append (GTK_BOX (self), og_scroller_new (self->list));
}

GtkWidget *
og_batch_weigh_page_new (const char      *number,
                         const GPtrArray *balances)
{
  OgBatchWeighPage *self = g_object_new (OG_TYPE_BATCH_WEIGH_PAGE, NULL);

  self->number = g_strdup (number);
  for (guint i = 0; i < balances->len; i++)
    g_ptr_array_add (self->balances, og_balance_copy (g_ptr_array_index (balances, i)));
  return GTK_WIDGET (self);
}
