/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_PALETTE_VIEW (og_palette_view_get_type ())
G_DECLARE_FINAL_TYPE (OgPaletteView, og_palette_view, OG, PALETTE_VIEW, OgDocumentPage)

/*
 * The materials to choose from. Property: "document" (OgDocument, nullable). Signal: "add-material"
 * (const char *ingredient_id), on Enter where it is clear which one is meant, double click or the add button. Rows are drag sources of
 * OG_TYPE_INGREDIENT_DRAG.
 */
GtkWidget *og_palette_view_new          (void);
void       og_palette_view_focus_search (OgPaletteView *self);
/** @settings: (nullable): where pinned materials and those used lately are kept */
void       og_palette_view_set_settings (OgPaletteView *self,
                                         GSettings     *settings);

G_END_DECLS
