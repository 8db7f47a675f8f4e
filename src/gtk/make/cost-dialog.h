/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_COST_DIALOG (og_cost_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgCostDialog, og_cost_dialog, OG, COST_DIALOG, GtkWindow)

/* Asks what packaging, labour and the like cost; one undoable step of the document. */
GtkWidget *og_cost_dialog_new   (OgDocument   *document);
/** Returns: FALSE, saying why in the rows, if some line makes no sense */
gboolean   og_cost_dialog_apply (OgCostDialog *self);

G_END_DECLS
