/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_MATERIAL_EDITOR (og_material_editor_get_type ())
G_DECLARE_FINAL_TYPE (OgMaterialEditor, og_material_editor, OG, MATERIAL_EDITOR, GtkWindow)

/**
 * og_material_editor_new:
 * @ingredient_id: the material to start from
 * @edit: %TRUE to change the own material of this id, %FALSE to derive a new one from it
 *
 * A window in which figures of a material are overridden with what a bench, a lot or a certificate says. "editor.save"
 * puts it into @document as one undoable step; "window.close" leaves everything as it is.
 */
GtkWidget *og_material_editor_new (OgDocument *document,
                                   const char *ingredient_id,
                                   gboolean    edit);
/** Returns: whether everything typed makes sense and the material is in the document now; problems are shown by the fields */
gboolean   og_material_editor_save (OgMaterialEditor *self);

G_END_DECLS
