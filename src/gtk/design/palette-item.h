/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/ingredient.h"

G_BEGIN_DECLS

#define OG_TYPE_PALETTE_ITEM (og_palette_item_get_type ())
G_DECLARE_FINAL_TYPE (OgPaletteItem, og_palette_item, OG, PALETTE_ITEM, GtkBox)

/* One material of the palette, with room for a heading above; the list uses items again and again. */
GtkWidget *og_palette_item_new         (void);
/** Shows @ingredient; @own: it is of this document only; @pinned: it stands first. What the item is in
 * gets its name for screen readers. */
void       og_palette_item_show        (OgPaletteItem     *self,
                                        const OgIngredient *ingredient,
                                        gboolean            own,
                                        gboolean            pinned);
/** @heading: (nullable): %NULL for none */
void       og_palette_item_set_heading (OgPaletteItem     *self,
                                        const char        *heading);
/** Returns: (transfer none): the item without its heading */
GtkWidget *og_palette_item_get_content (OgPaletteItem     *self);

G_END_DECLS
