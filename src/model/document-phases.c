/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/document-edit.h"

static gboolean
has_phase_named (const OgFormula *formula,
                 const char      *name)
{
  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      if (g_strcmp0 (phase->name, name) == 0)
        return TRUE;
    }

  return FALSE;
}

/* Letters first, then numbers. */
static char *
nth_phase_name (guint n)
{
  const char letter[] = { (char) ('A' + n), '\0' };
  g_autofree char *number = g_strdup_printf ("%u", n + 1);

  /* Translators: a part of a recipe that is prepared by itself; %s is a letter or a number */
  return g_strdup_printf (_("Phase %s"), n < 26 ? letter : number);
}

static char *
free_phase_name (const OgFormula *formula)
{
  for (guint n = 0;; n++)
    {
      g_autofree char *name = nth_phase_name (n);

      if (!has_phase_named (formula, name))
        return g_steal_pointer (&name);
    }
}

OgFormulaPhase *
_og_insert_phase (OgFormula  *formula,
                  const char *name,
                  guint       position)
{
  g_autofree char *made = name == NULL ? free_phase_name (formula) : g_strdup (name);

  return og_formula_add_phase (formula, made, NAN, position);
}

guint
og_document_add_phase (OgDocument *self,
                       const char *name,
                       guint       position)
{
  OgFormulaPhase *phase;
  OgFormula *next;
  guint id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (name == NULL || _og_is_text (name)), 0);

  next = _og_document_edit_to_add (self);
  phase = _og_insert_phase (next, name, position);
  id = phase->id;

  return _og_document_commit (self, next, g_strdup_printf (_("Add %s"), phase->name)) ? id : 0;
}

guint
og_document_keep_back (OgDocument *self,
                       guint       line_id,
                       OgPpm       amount,
                       guint       before_phase_id,
                       const char *name)
{
  OgFormula *next;
  const OgFormulaLine *line;
  guint position = G_MAXUINT, id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (name == NULL || _og_is_text (name)), 0);

  line = og_formula_find_line (og_document_get_formula (self), line_id, NULL, NULL);
  if (line == NULL || amount <= 0 || amount >= line->amount)
    return 0;
  if (before_phase_id != 0
      && og_formula_find_phase (og_document_get_formula (self), before_phase_id, &position) == NULL)
    return 0;

  next = _og_document_edit_to_add (self);
  id = _og_insert_phase (next, name != NULL && has_phase_named (next, name) ? NULL : name, position)->id;
  og_formula_split_line (next, line_id, amount, id);

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Split %s"), _og_document_name_material (self, line->ingredient_id)))
           ? id : 0;
}

/* Returns: (transfer full) (nullable): a copy of the recipe to edit; @phase is the one in it */
static OgFormula *
edit_phase (OgDocument      *self,
            guint            phase_id,
            OgFormulaPhase **phase)
{
  OgFormula *next;

  if (og_formula_find_phase (og_document_get_formula (self), phase_id, NULL) == NULL)
    return NULL;

  next = _og_document_edit (self);
  *phase = og_formula_find_phase (next, phase_id, NULL);

  return next;
}

gboolean
og_document_rename_phase (OgDocument *self,
                          guint       phase_id,
                          const char *name)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (name), FALSE);

  next = edit_phase (self, phase_id, &phase);

  return next != NULL
         && _og_document_commit_text (self, next, &phase->name, name,
                                      g_strdup_printf (_("Rename %s"), phase->name), NULL);
}

gboolean
og_document_set_phase_temperature (OgDocument *self,
                                   guint       phase_id,
                                   double      temperature_c)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = _og_is_step_temperature (temperature_c) ? edit_phase (self, phase_id, &phase) : NULL;
  if (next == NULL)
    return FALSE;

  phase->temperature_c = temperature_c;

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Change temperature of %s"), phase->name));
}

gboolean
og_document_set_phase_note (OgDocument *self,
                            guint       phase_id,
                            const char *note)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (note == NULL || _og_is_text (note)), FALSE);

  next = edit_phase (self, phase_id, &phase);

  return next != NULL
         && _og_document_commit_text (self, next, &phase->note, note,
                                      g_strdup_printf (_("Change note of %s"), phase->name), NULL);
}

gboolean
og_document_remove_phase (OgDocument *self,
                          guint       phase_id)
{
  OgFormulaPhase *phase;
  OgFormula *next;
  char *label;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = edit_phase (self, phase_id, &phase);
  if (next == NULL)
    return FALSE;

  label = g_strdup_printf (_("Remove %s"), phase->name);
  for (guint i = 0; next->batch_is_sum && i < phase->lines->len; i++)
    og_formula_weigh (next, ((OgFormulaLine *) g_ptr_array_index (phase->lines, i))->id, 0.0);
  og_formula_remove_phase (next, phase_id);

  return _og_document_commit (self, next, label);
}

gboolean
og_document_move_phase (OgDocument *self,
                        guint       phase_id,
                        guint       position)
{
  OgFormulaPhase *phase;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = edit_phase (self, phase_id, &phase);
  if (next == NULL)
    return FALSE;

  og_formula_move_phase (next, phase_id, position);

  return _og_document_commit (self, next, g_strdup_printf (_("Move %s"), phase->name));
}
