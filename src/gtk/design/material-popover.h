/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/ingredient.h"

G_BEGIN_DECLS

#define OG_TYPE_MATERIAL_POPOVER (og_material_popover_get_type ())
G_DECLARE_FINAL_TYPE (OgMaterialPopover, og_material_popover, OG, MATERIAL_POPOVER, GtkPopover)

/*
 * Everything known about one material: names, fatty acids, each figure with how it is known and where from, cautions.
 * Its buttons activate "shelf.add", "shelf.derive", "shelf.edit" and "shelf.remove" of whoever holds it.
 */
GtkWidget *og_material_popover_new           (void);
/**
 * og_material_popover_show_material:
 * @own: the material belongs to the document
 *
 * Reads @ingredient at once; it need not outlive the call.
 */
void       og_material_popover_show_material (OgMaterialPopover  *self,
                                              const OgIngredient *ingredient,
                                              gboolean            own);

G_END_DECLS
