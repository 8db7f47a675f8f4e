/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_COUNT_DIALOG (og_count_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgCountDialog, og_count_dialog, OG, COUNT_DIALOG, GtkWindow)

/*
 * One amount of a lot that is counted, thrown away or put right. What the ledger refuses is told
 * here, and nothing that was typed is lost. Signal: "recorded".
 */

/** @kind: %OG_JOURNAL_COUNT, %OG_JOURNAL_WASTE or %OG_JOURNAL_CORRECTION */
GtkWidget *og_count_dialog_new   (OgLedger      *ledger,
                                  OgJournalKind  kind,
                                  const OgLot   *lot);
/** Types @text as the amount in grams. */
void       og_count_dialog_type  (OgCountDialog *self,
                                  double         amount_g);
/** Records it. Returns: FALSE, having said why, if it is refused */
gboolean   og_count_dialog_apply (OgCountDialog *self);

G_END_DECLS
