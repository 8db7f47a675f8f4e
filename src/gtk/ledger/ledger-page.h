/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/catalog.h"
#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_PAGE (og_ledger_page_get_type ())
G_DECLARE_DERIVABLE_TYPE (OgLedgerPage, og_ledger_page, OG, LEDGER_PAGE, GtkBox)

/**
 * OgLedgerPageClass:
 * @refresh: shows what the ledger says now
 *
 * A page that follows the ledger: once in an idle after it changed, and only while it can be seen.
 * Signal "message" (string): something the reader should be told.
 */
struct _OgLedgerPageClass
{
  GtkBoxClass parent_class;

  void (*refresh) (OgLedgerPage *self);
};

/** Hands the page what it is about. */
void       og_ledger_page_set_ledger  (OgLedgerPage *self,
                                       OgLedger     *ledger,
                                       OgCatalog    *catalog);
/** Returns: (transfer none) */
OgLedger  *og_ledger_page_get_ledger  (OgLedgerPage *self);
/** Returns: (transfer none): the library */
OgCatalog *og_ledger_page_get_catalog (OgLedgerPage *self);
/** Asks for one refresh. */
void       og_ledger_page_schedule    (OgLedgerPage *self);
/** Refreshes at once if that is due. */
void       og_ledger_page_update_now  (OgLedgerPage *self);
void       og_ledger_page_say         (OgLedgerPage *self,
                                       const char   *text);
/** Says @error, if any. Returns: whether there was none */
gboolean   og_ledger_page_check       (OgLedgerPage *self,
                                       const GError *error);

G_END_DECLS
