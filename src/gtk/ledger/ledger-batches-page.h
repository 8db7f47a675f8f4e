/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_BATCHES_PAGE (og_ledger_batches_page_get_type ())
G_DECLARE_FINAL_TYPE (OgLedgerBatchesPage, og_ledger_batches_page, OG, LEDGER_BATCHES_PAGE,
                      OgLedgerPage)

/* The records of the batches, newest first, a page at a time. Signal "open-batch" (string: number).
 * Actions "batches.open" and "batches.more". */
GtkWidget *og_ledger_batches_page_new (void);

G_END_DECLS
