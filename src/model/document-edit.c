/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document-edit.h"

#include <math.h>

#include "core/recipe/recipe-limits.h"
#include "model/document-private.h"

OgFormula *
_og_document_edit (OgDocument *self)
{
  return og_formula_copy (og_document_get_formula (self));
}

OgFormula *
_og_document_edit_to_add (OgDocument *self)
{
  OgFormula *formula = _og_document_edit (self);

  formula->next_id = MAX (formula->next_id, _og_document_get_next_id (self));

  return formula;
}

static gboolean
is_news (OgDocument      *self,
         const OgFormula *formula)
{
  return !og_formula_equal (formula, og_document_get_formula (self));
}

gboolean
_og_document_commit_typed (OgDocument *self,
                           OgFormula  *formula,
                           char       *label,
                           const char *key)
{
  g_autoptr (OgFormula) next = formula;
  g_autofree char *text = label;

  if (!is_news (self, next))
    return FALSE;

  og_formula_balance (next);
  if (!is_news (self, next) || !og_formula_is_within_limits (next))
    return FALSE;

  _og_document_push (self, g_steal_pointer (&next), text, key);

  return TRUE;
}

gboolean
_og_document_commit (OgDocument *self,
                     OgFormula  *formula,
                     char       *label)
{
  return _og_document_commit_typed (self, formula, label, NULL);
}

gboolean
_og_document_commit_text (OgDocument *self,
                          OgFormula  *formula,
                          char      **slot,
                          const char *text,
                          char       *label,
                          const char *key)
{
  g_autoptr (OgFormula) next = formula;

  if (text != NULL && g_utf8_strlen (text, -1) > OG_RECIPE_MAX_TYPED_TEXT)
    {
      g_free (label);
      return FALSE;
    }

  g_free (*slot);
  *slot = g_strdup (text);

  return _og_document_commit_typed (self, g_steal_pointer (&next), label, key);
}

gboolean
_og_is_text (const char *text)
{
  return text != NULL && g_utf8_validate (text, -1, NULL);
}

gboolean
_og_is_step_temperature (double temperature_c)
{
  return isnan (temperature_c)
         || (temperature_c >= OG_RECIPE_LOWEST_TYPED_C
             && temperature_c <= OG_RECIPE_HIGHEST_TYPED_C);
}

const char *
_og_document_name_material (OgDocument *self,
                            const char *ingredient_id)
{
  const OgIngredient *ingredient = og_catalog_get (og_document_get_catalog (self), ingredient_id);

  return ingredient != NULL ? ingredient->name : ingredient_id;
}
