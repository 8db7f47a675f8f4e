/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "model/document-edit.h"

gboolean
og_document_put_material (OgDocument   *self,
                          OgIngredient *material)
{
  OgFormula *next;
  guint position;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && material != NULL, FALSE);

  next = _og_document_edit (self);
  if (og_formula_find_material (next, material->id, &position) == NULL)
    {
      g_ptr_array_add (next->materials, og_ingredient_ref (material));
      return _og_document_commit (self, next,
                                  g_strdup_printf (_("Add own material %s"), material->name));
    }

  og_ingredient_unref (g_ptr_array_index (next->materials, position));
  g_ptr_array_index (next->materials, position) = og_ingredient_ref (material);

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Change own material %s"), material->name));
}

gboolean
og_document_remove_material (OgDocument *self,
                             const char *id)
{
  OgFormula *next;
  guint position;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && id != NULL, FALSE);

  if (og_formula_find_material (og_document_get_formula (self), id, &position) == NULL)
    return FALSE;

  next = _og_document_edit (self);
  g_ptr_array_remove_index (next->materials, position);

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Remove own material %s"),
                                               _og_document_name_material (self, id)));
}
