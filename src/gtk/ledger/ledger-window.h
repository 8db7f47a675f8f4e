/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/catalog.h"
#include "core/recipe/formula.h"
#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_WINDOW (og_ledger_window_get_type ())
G_DECLARE_FINAL_TYPE (OgLedgerWindow, og_ledger_window, OG, LEDGER_WINDOW, GtkWindow)

/*
 * Stock, journal, batches and shopping list of the workshop. Actions "ledger.export" (string: nick
 * of an #OgLedgerTable), "ledger.import", "ledger.show-page" (string). A batch is shown by the
 * action "app.batch-record". Signals: "use-lot" (#OgLot: to be a material of a recipe),
 * "recipes-wanted": og_ledger_window_put_recipe() is to be called for those that are open.
 */

/**
 * og_ledger_window_new:
 * @ledger: (nullable): %NULL shows only @problem
 * @problem: (nullable): a sentence about the ledger that the reader should know
 */
GtkWidget *og_ledger_window_new     (OgLedger       *ledger,
                                     OgCatalog      *catalog,
                                     const char     *problem);
/** Tells the reader something, such as what was done. */
void       og_ledger_window_say     (OgLedgerWindow *self,
                                     const char     *text);
/** Puts @formula on the shopping list, once for each @key. Needs a ledger. */
void       og_ledger_window_put_recipe (OgLedgerWindow  *self,
                                        const char      *key,
                                        const OgFormula *formula);
/** Imports receipts. Returns: FALSE, having shown why, if nothing was imported */
gboolean   og_ledger_window_import  (OgLedgerWindow *self,
                                     GFile          *file);
/** Writes a table. Returns: FALSE, having shown why, if it was not written */
gboolean   og_ledger_window_export  (OgLedgerWindow *self,
                                     OgLedgerTable   table,
                                     GFile          *file);

G_END_DECLS
