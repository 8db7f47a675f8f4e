/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/batch.h"
#include "core/make/stove.h"
#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_MAKE_VIEW (og_make_view_get_type ())
G_DECLARE_FINAL_TYPE (OgMakeView, og_make_view, OG, MAKE_VIEW, OgDocumentPage)

/*
 * The room where a recipe is made: batch, weighing list, stove. Both plans are worked out in an
 * idle, and only while the room can be seen.
 *
 * Property: "document" (#OgDocument, nullable). Signal: "message" (string, boolean: can be undone).
 */
GtkWidget         *og_make_view_new          (void);
/** Takes balances, losses and vessel from @settings and keeps them there. @settings: (nullable) */
void               og_make_view_set_settings (OgMakeView *self,
                                              GSettings  *settings);
/** @shelf: (nullable): prices */
void               og_make_view_set_shelf    (OgMakeView *self,
                                              OgShelf    *shelf);
/** Returns: (transfer none) (nullable): the batch as it is shown, valid until the next change; NULL
 * if none can be planned */
const OgBatchPlan     *og_make_view_get_batch    (OgMakeView *self);
/** Returns: (transfer none) (nullable): the stove plan as it is shown, valid until the next
 * change */
const OgStovePlan *og_make_view_get_plan     (OgMakeView *self);
/** Puts text that was refused away. */
void               og_make_view_revert       (OgMakeView *self);

G_END_DECLS
