/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_LABEL_VIEW (og_label_view_get_type ())
G_DECLARE_FINAL_TYPE (OgLabelView, og_label_view, OG, LABEL_VIEW, OgDocumentPage)

/*
 * The room in which a product is made ready to leave the bench: what the label says, how it looks,
 * and what stands against it: limits, keeping time, exposure, colour, origin, stability tests. All of
 * it is computed while the room can be seen, and only when the recipe is another one.
 *
 * Property: "document" (#OgDocument, nullable). Signals: "show-line" (uint: the line of a finding
 * was chosen), "message" (string: what was done, boolean: it can be undone).
 */
GtkWidget  *og_label_view_new          (void);
/** @settings: (nullable): where name and address are kept */
void        og_label_view_set_settings (OgLabelView  *self,
                                        GSettings    *settings);
/** @shelf: (nullable): lots whose dates count */
void        og_label_view_set_shelf    (OgLabelView  *self,
                                        OgShelf      *shelf);
/** Returns: (transfer none) (nullable): the ingredient list shown, to copy */
const char *og_label_view_get_list     (OgLabelView  *self);

G_END_DECLS
