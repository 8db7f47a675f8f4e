/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_BATCH_WEIGH_PAGE (og_batch_weigh_page_get_type ())
G_DECLARE_FINAL_TYPE (OgBatchWeighPage, og_batch_weigh_page, OG, BATCH_WEIGH_PAGE, OgLedgerPage)

/** The weighing list of a batch. @balances: (element-type OgBalance) */
GtkWidget *og_batch_weigh_page_new (const char      *number,
                                    const GPtrArray *balances);

G_END_DECLS
