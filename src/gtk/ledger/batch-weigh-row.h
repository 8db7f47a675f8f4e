/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_BATCH_WEIGH_ROW (og_batch_weigh_row_get_type ())
G_DECLARE_FINAL_TYPE (OgBatchWeighRow, og_batch_weigh_row, OG, BATCH_WEIGH_ROW, GtkBox)

/** OgBatchWeighColumns: what the rows of one list have in common. */
typedef struct
{
  GtkSizeGroup     *target;
  GtkSizeGroup     *lot;
  GtkSizeGroup     *balance;
  const GPtrArray  *balances; /* of OgBalance */
} OgBatchWeighColumns;

/*
 * One line of a batch at the balance: what is wanted, from which lot, what was weighed. Each
 * weighing is in the ledger once it is taken; a wrong one is taken back by another. Signal:
 * "weighed".
 */
GtkWidget *og_batch_weigh_row_new    (OgLedger                  *ledger,
                                      const char                *number,
                                      const OgBatchLine         *line,
                                      const OgBatchWeighColumns *columns);
/**
 * og_batch_weigh_row_show:
 * @lots: (element-type OgLot): of the material, in the order they should be used
 * @findings: (element-type OgFinding): of og_ledger_list_batch_findings(); those of the line are shown
 * @editable: FALSE once nothing more can be weighed
 *
 * Shows what the record says now; what is being typed stays.
 */
void       og_batch_weigh_row_show   (OgBatchWeighRow           *self,
                                      const OgBatch             *batch,
                                      const OgBatchLine         *line,
                                      const GPtrArray           *lots,
                                      const GPtrArray           *findings,
                                      gboolean                   editable);
/** Types an amount and chooses a lot. @lot: (nullable): none */
void       og_batch_weigh_row_type   (OgBatchWeighRow           *self,
                                      double                     amount_g,
                                      const char                *lot);
/** Takes what is typed. Returns: FALSE, having said why, if it is refused */
gboolean   og_batch_weigh_row_commit (OgBatchWeighRow           *self);
/** Takes the last weighing back that was not yet. Returns: FALSE if there is none, or it is refused */
gboolean   og_batch_weigh_row_take_back (OgBatchWeighRow        *self);
gboolean   og_batch_weigh_row_is_done   (OgBatchWeighRow        *self);

G_END_DECLS
