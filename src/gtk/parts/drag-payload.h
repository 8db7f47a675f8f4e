/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  OG_DRAG_MATERIAL, /* a material of the palette, to be added */
  OG_DRAG_LINE,     /* a line of the recipe, to be moved */
  OG_DRAG_PHASE     /* a phase of the recipe, to be moved */
} OgDragKind;

/**
 * OgIngredientDrag:
 * @ingredient_id: (nullable): the material, for %OG_DRAG_MATERIAL
 * @id: line or phase id, otherwise 0
 * @origin: tells documents apart: a line dropped on another window is added there, not moved
 *
 * What travels with a drag. It offers no plain text on purpose: text entries under the pointer
 * would take it.
 */
typedef struct
{
  OgDragKind    kind;
  char         *ingredient_id;
  guint         id;
  gconstpointer origin;
} OgIngredientDrag;

#define OG_TYPE_INGREDIENT_DRAG (og_ingredient_drag_get_type ())
GType               og_ingredient_drag_get_type     (void);

OgIngredientDrag   *og_ingredient_drag_copy         (const OgIngredientDrag *drag);
void                og_ingredient_drag_free         (OgIngredientDrag       *drag);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgIngredientDrag, og_ingredient_drag_free)

/** Returns: (transfer full): content for the "prepare" handler of a GtkDragSource in the palette */
GdkContentProvider *og_ingredient_drag_for_material (const char             *ingredient_id);
/**
 * og_ingredient_drag_for_row:
 * @kind: %OG_DRAG_LINE or %OG_DRAG_PHASE
 * @id: line or phase id
 * @ingredient_id: (nullable): the material of a line
 * @origin: the document the row belongs to; only compared, never followed
 *
 * Returns: (transfer full)
 */
GdkContentProvider *og_ingredient_drag_for_row      (OgDragKind              kind,
                                                     guint                   id,
                                                     const char             *ingredient_id,
                                                     gconstpointer           origin);

G_END_DECLS
