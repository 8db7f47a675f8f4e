/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/app/application.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_WINDOW (og_ledger_window_get_type ())
G_DECLARE_FINAL_TYPE (OgLedgerWindow, og_ledger_window, OG, LEDGER_WINDOW, GtkWindow)

/*
 * Stock, journal, batches and shopping list of the workshop. Actions "ledger.export" (string: nick
 * of an #OgLedgerTable), "ledger.import", "ledger.show-page" (string).
 */

/**
 * og_ledger_window_new:
 * @ledger: (nullable): %NULL shows only @problem
 * @problem: (nullable): a sentence about the ledger that the reader should know
 */
GtkWidget *og_ledger_window_new     (OgLedger       *ledger,
                                     OgCatalog      *catalog,
                                     const char     *problem);
/** Shows the one window of @application, made at the first call. */
void       og_ledger_window_present (OgApplication  *application);
/** Imports receipts. Returns: FALSE, having shown why, if nothing was imported */
gboolean   og_ledger_window_import  (OgLedgerWindow *self,
                                     GFile          *file);
/** Writes a table. Returns: FALSE, having shown why, if it was not written */
gboolean   og_ledger_window_export  (OgLedgerWindow *self,
                                     OgLedgerTable   table,
                                     GFile          *file);

G_END_DECLS
