/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/ledger/ledger-page.h"
#include "gtk/parts/refresh.h"

typedef struct
{
  OgLedger *ledger;
  OgCatalog *catalog;
  OgRefresh refresh;
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
  g_return_if_fail (OG_IS_LEDGER_PAGE (self));

  og_refresh_now (&get_private (self)->refresh);
}

void
og_ledger_page_schedule (OgLedgerPage *self)
{
  g_return_if_fail (OG_IS_LEDGER_PAGE (self));

  if (get_private (self)->ledger != NULL)
    og_refresh_ask (&get_private (self)->refresh);
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
refresh (GtkWidget *widget)
{
  OG_LEDGER_PAGE_GET_CLASS (widget)->refresh (OG_LEDGER_PAGE (widget));
}

static void
og_ledger_page_dispose (GObject *object)
{
  og_refresh_drop (&get_private (OG_LEDGER_PAGE (object))->refresh);

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

  object_class->dispose = og_ledger_page_dispose;
  object_class->finalize = og_ledger_page_finalize;

  signals[MESSAGE] = g_signal_new ("message", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
og_ledger_page_init (OgLedgerPage *self)
{
  og_refresh_init (&get_private (self)->refresh, GTK_WIDGET (self), G_PRIORITY_HIGH_IDLE + 25,
                   refresh);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
}
