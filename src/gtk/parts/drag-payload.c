/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/drag-payload.h"

GType
og_ingredient_drag_get_type (void)
{
  static gsize type;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type,
                       g_boxed_type_register_static (
                         g_intern_static_string ("OgIngredientDrag"),
                         (GBoxedCopyFunc) og_ingredient_drag_copy,
                         (GBoxedFreeFunc) og_ingredient_drag_free));
  return type;
}

OgIngredientDrag *
og_ingredient_drag_copy (const OgIngredientDrag *drag)
{
  OgIngredientDrag *copy;

  g_return_val_if_fail (drag != NULL, NULL);

  copy = g_new (OgIngredientDrag, 1);
  *copy = *drag;
  copy->ingredient_id = g_strdup (drag->ingredient_id);
  return copy;
}

void
og_ingredient_drag_free (OgIngredientDrag *drag)
{
  g_free (drag->ingredient_id);
  g_free (drag);
}

GdkContentProvider *
og_ingredient_drag_for_material (const char *ingredient_id)
{
  g_return_val_if_fail (ingredient_id != NULL, NULL);

  return og_ingredient_drag_for_row (OG_DRAG_MATERIAL, 0, ingredient_id, NULL);
}

GdkContentProvider *
og_ingredient_drag_for_row (OgDragKind    kind,
                            guint         id,
                            const char   *ingredient_id,
                            gconstpointer origin)
{
  OgIngredientDrag drag = {
    .kind = kind,
    .ingredient_id = (char *) ingredient_id,
    .id = id,
    .origin = origin,
  };

  return gdk_content_provider_new_typed (OG_TYPE_INGREDIENT_DRAG, &drag);
}
