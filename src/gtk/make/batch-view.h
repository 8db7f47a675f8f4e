/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/make/batch.h"
#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_BATCH_VIEW (og_batch_view_get_type ())
G_DECLARE_FINAL_TYPE (OgBatchView, og_batch_view, OG, BATCH_VIEW, GtkWidget)

/*
 * Size of the batch, container, losses, and what comes of them. The container belongs to the recipe
 * and is changed there; the rest is how it is made this time.
 *
 * Signals: "changed" (some option is another one), "message" (string, boolean: can be undone).
 */

/** @document: (nullable) */
void      og_batch_view_set_document (OgBatchView    *self,
                                      OgDocument     *document);
/** Takes losses and overfill from @settings and keeps them there. @settings: (nullable) */
void      og_batch_view_set_settings (OgBatchView    *self,
                                      GSettings      *settings);
/**
 * og_batch_view_get_options:
 * @options: (out): amount is NAN if nobody has said one; balances and shelf are left alone
 */
void      og_batch_view_get_options  (OgBatchView    *self,
                                      OgBatchOptions *options);
/** Returns: temperature of filling that was typed; NAN: as the stove plan says */
double    og_batch_view_get_fill_c   (OgBatchView    *self);
/**
 * og_batch_view_show:
 * @batch: (nullable): as planned from the options; copied as far as needed
 * @problem: (nullable): why there is none
 */
void      og_batch_view_show         (OgBatchView    *self,
                                      const OgBatchPlan  *batch,
                                      const char     *problem);
/** Puts text that was refused away. */
void      og_batch_view_revert       (OgBatchView    *self);

G_END_DECLS
