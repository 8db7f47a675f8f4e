/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/catalog.h"
#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_BATCH_RECORD_WINDOW (og_batch_record_window_get_type ())
G_DECLARE_FINAL_TYPE (OgBatchRecordWindow, og_batch_record_window, OG, BATCH_RECORD_WINDOW,
                      GtkWindow)

/*
 * The live record of one batch of the ledger: weighing, steps, notes. All that is recorded is in
 * the ledger at once, so that the window can be closed and opened at any time. Actions
 * "record.close-batch", "record.abandon", "record.release", "record.write-sheet",
 * "record.show-page" (string).
 */

/**
 * og_batch_record_window_new:
 * @balances: (element-type OgBalance)
 *
 * Returns: (nullable): %NULL with an #OgLedgerError or #OgStorageError
 */
GtkWidget *og_batch_record_window_new     (OgLedger            *ledger,
                                           OgCatalog           *catalog,
                                           const char          *number,
                                           const GPtrArray     *balances,
                                           GError             **error);
const char *og_batch_record_window_get_number (OgBatchRecordWindow *self);
/** Closes the batch, as the reader has consented to. Returns: FALSE with an #OgLedgerError */
gboolean   og_batch_record_window_close_batch (OgBatchRecordWindow *self,
                                               OgCloseFlags         flags,
                                               GError             **error);
/** Writes the record as a sheet. Returns: FALSE with an error */
gboolean   og_batch_record_window_write   (OgBatchRecordWindow *self,
                                           const char          *path,
                                           GError             **error);
/** Says who is at work; it is put beside everything that is recorded from now on. */
void       og_batch_record_window_set_who (OgBatchRecordWindow *self,
                                           const char          *who);

G_END_DECLS
