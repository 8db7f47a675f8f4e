/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_STOCK_PAGE (og_ledger_stock_page_get_type ())
G_DECLARE_FINAL_TYPE (OgLedgerStockPage, og_ledger_stock_page, OG, LEDGER_STOCK_PAGE, OgLedgerPage)

/*
 * What is there: materials, the lots of the one that is selected, and what is known of a lot.
 * Actions "stock.receive", "stock.count", "stock.waste", "stock.correct", "stock.use".
 * Signal "use-lot" (#OgLot, boxed as a pointer valid during the call): somebody wants the lot as a
 * material of a recipe.
 */
GtkWidget *og_ledger_stock_page_new    (void);
/** Selects a material and, unless it is NULL, one of its lots. */
void       og_ledger_stock_page_select (OgLedgerStockPage *self,
                                        const char        *material_id,
                                        const char        *lot);

G_END_DECLS
