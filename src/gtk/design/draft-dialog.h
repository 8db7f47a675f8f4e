/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/design/draft.h"

G_BEGIN_DECLS

#define OG_TYPE_DRAFT_DIALOG (og_draft_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgDraftDialog, og_draft_dialog, OG, DRAFT_DIALOG, GtkWindow)

/*
 * Asks for a brief, and shows the recipe that a first draft of it would be, line by line with the
 * reasons. Signal: "start" (pointer to OgFormula, borrowed): the reader wants to begin with it.
 */

/** @shelf: (nullable): prices and stock */
GtkWidget     *og_draft_dialog_new         (OgCatalog     *catalog,
                                            OgShelf       *shelf);
void           og_draft_dialog_set_product (OgDraftDialog *self,
                                            OgProduct      product);
/** @body: %OG_BODY_UNKNOWN: as is usual for the product */
void           og_draft_dialog_set_body    (OgDraftDialog *self,
                                            OgBody         body);
/** Ticks or clears one tag. Returns: whether the list has it */
gboolean       og_draft_dialog_set_without (OgDraftDialog *self,
                                            const char    *tag,
                                            gboolean       without);
/** Waits for the draft. Returns: (transfer none) (nullable) */
const OgDraft *og_draft_dialog_flush       (OgDraftDialog *self);
/** Begins with the draft. Returns: whether there is one */
gboolean       og_draft_dialog_start       (OgDraftDialog *self);

G_END_DECLS
