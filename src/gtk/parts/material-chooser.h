/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/catalog.h"

G_BEGIN_DECLS

#define OG_TYPE_MATERIAL_CHOOSER (og_material_chooser_get_type ())
G_DECLARE_FINAL_TYPE (OgMaterialChooser, og_material_chooser, OG, MATERIAL_CHOOSER, GtkBox)

/*
 * A search field with the materials that match below it; Enter takes the one that was meant without
 * doubt, else goes to the first of them. Signal:
 * "changed" (another material is chosen, or none).
 */
GtkWidget          *og_material_chooser_new         (const char        *title,
                                                     OgCatalog         *catalog);
/** Returns: (nullable) (transfer none): the material that is chosen */
const OgIngredient *og_material_chooser_get         (OgMaterialChooser *self);
/** Chooses @id. Returns: FALSE if the catalog has no such material */
gboolean            og_material_chooser_choose      (OgMaterialChooser *self,
                                                     const char        *id);
/** @problem: (nullable): a translated sentence */
void                og_material_chooser_set_problem (OgMaterialChooser *self,
                                                     const char        *problem);
void                og_material_chooser_join        (OgMaterialChooser *self,
                                                     GtkSizeGroup      *titles);

G_END_DECLS
