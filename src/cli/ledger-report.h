/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"
#include "model/ledger.h"

G_BEGIN_DECLS

/** OgReport: a sort of list that the ledger answers with. */
typedef enum
{
  OG_REPORT_STOCK,     /* OgStock */
  OG_REPORT_LOTS,      /* OgLot */
  OG_REPORT_USES,      /* OgLotUse */
  OG_REPORT_JOURNAL,   /* OgJournalEntry */
  OG_REPORT_OFFERS,    /* OgOffer */
  OG_REPORT_SHOPPING,  /* OgShoppingItem */
  OG_REPORT_BATCHES,   /* OgBatch */
  OG_REPORT_LINES,     /* OgBatchLine */
  OG_REPORT_WEIGHINGS, /* OgWeighing */
  OG_REPORT_BATCH_LOTS,/* OgBatchLot */
  OG_REPORT_ENTRIES,   /* OgBatchEntry */
  OG_N_REPORTS
} OgReport;

/** Adds the list as a member of the open object; its members are the sort's fields. */
void og_report_add_json   (JsonBuilder      *builder,
                           OgReport          report,
                           const GPtrArray  *list);
/** Appends the list as a table, or a sentence if it is empty. */
void og_report_put_text   (GString          *out,
                           OgReport          report,
                           const GPtrArray  *list);
/** Puts one list out, as the call wants it. */
void og_report_put        (OgCall           *call,
                           OgReport          report,
                           const GPtrArray  *list);
/** Puts the record of a batch out; @lots: of og_ledger_list_batch_lots(); @findings: of
 *  og_ledger_list_batch_findings() */
void og_report_put_batch  (OgCall           *call,
                           const OgBatch    *batch,
                           const GPtrArray  *lots,
                           const GPtrArray  *findings);
/** Puts out what has been weighed so far, with the same lists. */
void og_report_put_weighed (OgCall          *call,
                           const GPtrArray  *lots,
                           const GPtrArray  *findings);
/** Puts a lot out; @made: (nullable): the material that it makes */
void og_report_put_lot    (OgCall            *call,
                           const OgLot       *lot,
                           const OgIngredient *made);

G_END_DECLS
