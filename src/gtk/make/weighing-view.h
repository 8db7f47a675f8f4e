/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/make/batch.h"

G_BEGIN_DECLS

#define OG_TYPE_WEIGHING_VIEW (og_weighing_view_get_type ())
G_DECLARE_FINAL_TYPE (OgWeighingView, og_weighing_view, OG, WEIGHING_VIEW, GtkWidget)

/*
 * What is to be weighed: phase by phase, in the digits of the balance that weighs it best, and what
 * to do where a balance is too coarse. Its button activates "make.edit-balances".
 */

/**
 * og_weighing_view_show:
 * @formula: whose phases the lines belong to
 * @batch: (nullable): %NULL empties the list
 */
void og_weighing_view_show (OgWeighingView  *self,
                            const OgFormula *formula,
                            const OgBatchPlan   *batch);

G_END_DECLS
