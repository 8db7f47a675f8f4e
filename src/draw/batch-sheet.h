/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/batch.h"
#include "core/make/stove.h"
#include "draw/card.h"

G_BEGIN_DECLS

/** OgBatchSheetHead: what stands at the top of a batch sheet. Strings may be %NULL: a box to write
 * into takes their place. */
typedef struct
{
  const char *number;
  const char *date;
  const char *made_by;
} OgBatchSheetHead;

/** OgBatchSheetLot: the lot somebody has already chosen for a line. */
typedef struct
{
  guint       line_id;
  const char *lot;
} OgBatchSheetLot;

/**
 * og_batch_sheet_new:
 * @plan: the batch to be made
 * @stove: its steps
 * @head: (nullable)
 * @lots: (array length=n_lots) (nullable)
 *
 * The batch record as a sheet to fill in at the bench: one number that ties everything, equipment
 * and cleaning, every weighing with lot, balance and initials, every step with time and
 * temperature, checks, net content, yield, retained samples, deviations, release. The fields are
 * those that ISO 22716:2007 asks of a manufacturing record (recalled) and common practice.
 *
 * Returns: (transfer full): a card, for pages, Markdown or HTML, see og_export_sheet()
 */
OgCard *og_batch_sheet_new (const OgFormula         *formula,
                            OgResult                *result,
                            const OgBatchPlan       *plan,
                            const OgStovePlan       *stove,
                            const OgBatchSheetHead  *head,
                            const OgBatchSheetLot   *lots,
                            guint                    n_lots);

G_END_DECLS
