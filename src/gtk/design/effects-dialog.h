/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/recipe/shelf.h"
#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_EFFECTS_DIALOG (og_effects_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgEffectsDialog, og_effects_dialog, OG, EFFECTS_DIALOG, GtkWindow)

/*
 * Shows a change of the recipe beside the recipe as it is, and makes it in one undoable step.
 * Signal: "applied": the recipe changed.
 */

/**
 * og_effects_dialog_new:
 * @after: (transfer full): what the recipe would become
 * @heading: what changes, translated
 * @label: what an undo would take back, translated
 * @swap: a material takes the place of another one: the dialog offers to keep the body
 * @shelf: (nullable): prices
 */
GtkWidget       *og_effects_dialog_new     (OgDocument       *document,
                                            OgFormula        *after,
                                            const char       *heading,
                                            const char       *label,
                                            gboolean          swap,
                                            OgShelf          *shelf);
/** Ticks "keep the body", and that gelling agents may move for it. */
void             og_effects_dialog_keep    (OgEffectsDialog  *self,
                                            gboolean          keep,
                                            gboolean          vary_agents);
/** Waits for what is being worked out. */
void             og_effects_dialog_flush   (OgEffectsDialog  *self);
/** Returns: (transfer none) (nullable): what would be applied; %NULL while it is not known */
const OgFormula *og_effects_dialog_get_formula (OgEffectsDialog *self);
/** Returns: whether the recipe changed */
gboolean         og_effects_dialog_apply   (OgEffectsDialog  *self);

G_END_DECLS
