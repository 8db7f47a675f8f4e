/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/stove.h"
#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_BATCH_STEPS_PAGE (og_batch_steps_page_get_type ())
G_DECLARE_FINAL_TYPE (OgBatchStepsPage, og_batch_steps_page, OG, BATCH_STEPS_PAGE, OgLedgerPage)

/*
 * The steps of the stove, each with a timer. The beginning of a step is in the record as soon as it
 * is started, so that a timer goes on in a window opened later.
 */

/** @formula: names the phases; @plan: its steps are copied */
GtkWidget *og_batch_steps_page_new    (const char        *number,
                                       const OgFormula   *formula,
                                       const OgStovePlan *plan);
/** Starts the step, or ends it. Returns: FALSE, having said why, if it is refused */
gboolean   og_batch_steps_page_toggle (OgBatchStepsPage  *self,
                                       guint              step);

G_END_DECLS
