/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/ledger/ledger-page.h"

typedef struct
{
  OgLedger *ledger;
  OgCatalog *catalog;
  guint idle;
  gboolean stale;
} OgLedgerPagePrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (OgLedgerPage, og_ledger_page, GTK_TYPE_BOX)

enum
{
  MESSAGE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static OgLedgerPagePrivate *
get_private (OgLedgerPage *self)
{
  return og_ledger_page_get_instance_private (self);
}

OgLedger *
og_ledger_page_get_ledger (OgLedgerPage *self)
{
  g_return_val_if_fail (OG_IS_LEDGER_PAGE (self), NULL);

  return get_private (self)->ledger;
}

OgCatalog *
og_ledger_page_get_catalog (OgLedgerPage *self)
{
  g_return_val_if_fail (OG_IS_LEDGER_PAGE (self), NULL);

  return get_private (self)->catalog;
}

void
og_ledger_page_update_now (OgLedgerPage *self)
{
  OgLedgerPagePrivate *private;

  g_return_if_fail (OG_IS_LEDGER_PAGE (self));

  private = get_private (self);
  g_clear_handle_id (&private->idle, g_source_remove);
  if (!private->stale || private->ledger == NULL)
    return;
  private->stale = FALSE;
  OG_LEDGER_PAGE_GET_CLASS (self)->refresh (self);
}

static gboolean
on_idle (gpointer data)
{
  get_private (data)->idle = 0;
  og_ledger_page_update_now (data);
  return G_SOURCE_REMOVE;
}

void
og_ledger_page_schedule (OgLedgerPage *self)
{
  OgLedgerPagePrivate *private;

  g_return_if_fail (OG_IS_LEDGER_PAGE (self));

  private = get_private (self);
  private->stale = TRUE;
  if (private->idle == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    private->idle = g_idle_add_full (G_PRIORITY_HIGH_IDLE + 25, on_idle, self, NULL);
}

void
og_ledger_page_set_ledger (OgLedgerPage *self,
                           OgLedger     *ledger,
                           OgCatalog    *catalog)
{
  OgLedgerPagePrivate *private;

  g_return_if_fail (OG_IS_LEDGER_PAGE (self));
  g_return_if_fail (OG_IS_LEDGER (ledger) && catalog != NULL);

  private = get_private (self);
  g_return_if_fail (private->ledger == NULL);
  private->ledger = g_object_ref (ledger);
  private->catalog = og_catalog_ref (catalog);
  g_signal_connect_object (ledger, "changed", G_CALLBACK (og_ledger_page_schedule), self,
                           G_CONNECT_SWAPPED);
  og_ledger_page_schedule (self);
}

void
og_ledger_page_say (OgLedgerPage *self,
                    const char   *text)
{
  g_return_if_fail (OG_IS_LEDGER_PAGE (self));

  g_signal_emit (self, signals[MESSAGE], 0, text);
}

gboolean
og_ledger_page_check (OgLedgerPage *self,
                      const GError *error)
{
  if (error == NULL)
    return TRUE;
  og_ledger_page_say (self, error->message);
  return FALSE;
}

static void
og_ledger_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (og_ledger_page_parent_class)->map (widget);

  if (get_private (OG_LEDGER_PAGE (widget))->stale)
    og_ledger_page_schedule (OG_LEDGER_PAGE (widget));
}

static void
og_ledger_page_unmap (GtkWidget *widget)
{
  g_clear_handle_id (&get_private (OG_LEDGER_PAGE (widget))->idle, g_source_remove);

  GTK_WIDGET_CLASS (og_ledger_page_parent_class)->unmap (widget);
}

static void
og_ledger_page_dispose (GObject *object)
{
  OgLedgerPagePrivate *private = get_private (OG_LEDGER_PAGE (object));

  g_clear_handle_id (&private->idle, g_source_remove);

  G_OBJECT_CLASS (og_ledger_page_parent_class)->dispose (object);
}

static void
og_ledger_page_finalize (GObject *object)
{
  OgLedgerPagePrivate *private = get_private (OG_LEDGER_PAGE (object));

  g_clear_object (&private->ledger);
  g_clear_pointer (&private->catalog, og_catalog_unref);

  G_OBJECT_CLASS (og_ledger_page_parent_class)->finalize (object);
}

static void
og_ledger_page_class_init (OgLedgerPageClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_ledger_page_dispose;
  object_class->finalize = og_ledger_page_finalize;
  widget_class->map = og_ledger_page_map;
  widget_class->unmap = og_ledger_page_unmap;

  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
og_ledger_page_init (OgLedgerPage *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
}
