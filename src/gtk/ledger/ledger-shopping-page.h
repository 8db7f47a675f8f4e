/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/formula.h"
#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_SHOPPING_PAGE (og_ledger_shopping_page_get_type ())
G_DECLARE_FINAL_TYPE (OgLedgerShoppingPage, og_ledger_shopping_page, OG, LEDGER_SHOPPING_PAGE,
                      OgLedgerPage)

/* What has to be bought for a number of batches. Action "shopping.add-file". */
GtkWidget *og_ledger_shopping_page_new        (void);
/** Adds a recipe, unless it is there, or takes its present state. @key: what it is known by */
void       og_ledger_shopping_page_put_recipe (OgLedgerShoppingPage *self,
                                               const char           *key,
                                               const OgFormula      *formula);

G_END_DECLS
