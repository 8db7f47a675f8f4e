/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/recipe/recipe-limits.h"
#include "model/document-edit.h"

static OgFormulaLine *
find_line (OgDocument *self,
           guint       line_id)
{
  return og_formula_find_line (og_document_get_formula (self), line_id, NULL, NULL);
}

static const char *
line_name (OgDocument *self,
           guint       line_id)
{
  return _og_document_name_material (self, find_line (self, line_id)->ingredient_id);
}

/* Returns: (transfer full) (nullable): a copy of the recipe to edit; @line is the one in it */
static OgFormula *
edit_line (OgDocument     *self,
           guint           line_id,
           OgFormulaLine **line)
{
  OgFormula *next;

  if (find_line (self, line_id) == NULL)
    return NULL;

  next = _og_document_edit (self);
  *line = og_formula_find_line (next, line_id, NULL, NULL);

  return next;
}

static gboolean
is_phase (OgDocument *self,
          guint       phase_id)
{
  return og_formula_find_phase (og_document_get_formula (self), phase_id, NULL) != NULL;
}

/* --- which lines there are, and where ---------------------------------------- */

static OgFormulaPhase *
phase_for_new_line (OgFormula *formula,
                    guint      phase_id)
{
  if (phase_id != 0)
    return og_formula_find_phase (formula, phase_id, NULL);

  if (formula->phases->len > 0)
    return g_ptr_array_index (formula->phases, formula->phases->len - 1);

  return _og_insert_phase (formula, NULL, G_MAXUINT);
}

guint
og_document_add_line (OgDocument *self,
                      const char *ingredient_id,
                      guint       phase_id,
                      guint       position)
{
  OgFormulaPhase *phase;
  OgFormulaLine *line;
  OgFormula *next;
  gboolean first;
  char *label;
  guint id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (ingredient_id), 0);

  if (phase_id != 0 && !is_phase (self, phase_id))
    return 0;

  next = _og_document_edit_to_add (self);
  first = og_formula_get_n_lines (next) == 0;
  phase = phase_for_new_line (next, phase_id);
  line = og_formula_add_line (next, phase, ingredient_id, 0, position);
  line->balance_share = first && !next->batch_is_sum ? 1 : 0;
  id = line->id;
  label = g_strdup_printf (_("Add %s"), _og_document_name_material (self, ingredient_id));

  return _og_document_commit (self, next, label) ? id : 0;
}

gboolean
og_document_remove_line (OgDocument *self,
                         guint       line_id)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = edit_line (self, line_id, &line);
  if (next == NULL)
    return FALSE;

  if (next->batch_is_sum)
    og_formula_weigh (next, line_id, 0.0); /* a last line leaves the batch as it is */
  og_formula_remove_line (next, line_id);

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Remove %s"), line_name (self, line_id)));
}

gboolean
og_document_move_line (OgDocument *self,
                       guint       line_id,
                       guint       phase_id,
                       guint       position)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = is_phase (self, phase_id) ? edit_line (self, line_id, &line) : NULL;
  if (next == NULL)
    return FALSE;

  og_formula_move_line (next, line_id, phase_id, position);

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Move %s"), line_name (self, line_id)));
}

/* A second line of the same material: its amount stays to be set. @phase_id: 0 for that of the line */
static OgFormulaLine *
add_sibling (OgFormula *formula,
             guint      line_id,
             guint      phase_id)
{
  OgFormulaPhase *phase;
  guint position;
  const OgFormulaLine *line = og_formula_find_line (formula, line_id, &phase, &position);
  OgFormulaPhase *goal = phase_id != 0 ? og_formula_find_phase (formula, phase_id, NULL) : phase;
  OgFormulaLine *sibling = og_formula_add_line (formula, goal, line->ingredient_id, 0,
                                                goal == phase ? position + 1 : G_MAXUINT);

  sibling->held = line->held;
  sibling->note = g_strdup (line->note);
  return sibling;
}

guint
og_document_duplicate_line (OgDocument *self,
                            guint       line_id)
{
  const OgFormulaLine *line;
  OgFormulaLine *sibling;
  OgFormula *next;
  guint id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), 0);

  line = find_line (self, line_id);
  if (line == NULL)
    return 0;

  next = _og_document_edit_to_add (self);
  sibling = add_sibling (next, line_id, 0);
  sibling->balance_share = line->balance_share;
  sibling->add_temperature_c = line->add_temperature_c;
  id = sibling->id;
  if (next->batch_is_sum)
    og_formula_weigh (next, id, og_ppm_to_g (line->amount, next->batch_g));
  else
    sibling->amount = line->amount;

  return _og_document_commit (self, next, g_strdup_printf (_("Duplicate %s"), line_name (self, line_id)))
         ? id : 0;
}

guint
og_document_split_line (OgDocument *self,
                        guint       line_id,
                        OgPpm       part,
                        guint       phase_id)
{
  const OgFormulaLine *line;
  OgFormulaLine *sibling;
  OgFormula *next;
  guint id;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), 0);

  line = find_line (self, line_id);
  if (line == NULL || !is_phase (self, phase_id) || part <= 0 || part >= line->amount)
    return 0;

  next = _og_document_edit_to_add (self);
  sibling = add_sibling (next, line_id, phase_id);
  sibling->amount = part;
  id = sibling->id;
  og_formula_find_line (next, line_id, NULL, NULL)->amount -= part;

  return _og_document_commit (self, next, g_strdup_printf (_("Split %s"), line_name (self, line_id))) ? id : 0;
}

/* --- amounts ----------------------------------------------------------------- */

gboolean
og_document_set_line_ppm (OgDocument *self,
                          guint       line_id,
                          OgPpm       amount)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  line = find_line (self, line_id);
  if (line == NULL || line->amount == amount || amount < 0 || amount > OG_PPM_WHOLE)
    return FALSE;

  next = edit_line (self, line_id, &line);
  line->amount = amount;
  line->balance_share = 0;

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Change amount of %s"),
                                               line_name (self, line_id)));
}

/* The batch becomes what its lines weigh. */
static gboolean
weigh_line (OgDocument *self,
            guint       line_id,
            double      g)
{
  OgFormulaLine *line;
  g_autoptr (OgFormula) next = edit_line (self, line_id, &line);

  if (next == NULL || !og_formula_weigh (next, line_id, g))
    return FALSE;

  line->balance_share = 0;

  return _og_document_commit (self, g_steal_pointer (&next),
                              g_strdup_printf (_("Change amount of %s"), line_name (self, line_id)));
}

gboolean
og_document_set_line_g (OgDocument *self,
                        guint       line_id,
                        double      g)
{
  OgPpm amount;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  if (og_document_get_formula (self)->batch_is_sum)
    return g >= 0.0 && g <= OG_RECIPE_MAX_BATCH_G && weigh_line (self, line_id, g);

  return og_g_to_ppm (g, og_document_get_formula (self)->batch_g, &amount)
         && og_document_set_line_ppm (self, line_id, amount);
}

static char *
label_rule (OgDocument *self,
            guint       line_id,
            guint       balance_share,
            gboolean    held)
{
  const char *name = line_name (self, line_id);

  if (balance_share > 0)
    return g_strdup_printf (_("Let %s take the rest"), name);
  if (held)
    return g_strdup_printf (_("Hold %s"), name);

  return g_strdup_printf (find_line (self, line_id)->held ? _("Release %s")
                                                          : _("Keep the amount of %s as it is"),
                          name);
}

/* What decides an amount is one of three: what was typed, the same but held, or what the others leave. */
static gboolean
set_rule (OgDocument *self,
          guint       line_id,
          guint       balance_share,
          gboolean    held)
{
  OgFormulaLine *line;
  OgFormula *next = edit_line (self, line_id, &line);

  if (next == NULL)
    return FALSE;

  line->balance_share = balance_share;
  line->held = held;

  return _og_document_commit (self, next, label_rule (self, line_id, balance_share, held));
}

gboolean
og_document_set_line_balance (OgDocument *self,
                              guint       line_id,
                              guint       share)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  return share <= OG_RECIPE_MAX_TYPED_SHARE && set_rule (self, line_id, share, FALSE);
}

gboolean
og_document_set_line_held (OgDocument *self,
                           guint       line_id,
                           gboolean    held)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  return set_rule (self, line_id, 0, !!held);
}

gboolean
og_document_normalise (OgDocument *self)
{
  g_autoptr (OgFormula) next = NULL;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = _og_document_edit (self);

  return og_formula_normalise (next)
         && _og_document_commit (self, g_steal_pointer (&next), g_strdup (_("Scale to 100 %")));
}

/* --- what a line is, and what is said of it ---------------------------------- */

gboolean
og_document_set_line_note (OgDocument *self,
                           guint       line_id,
                           const char *note)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && (note == NULL || _og_is_text (note)), FALSE);

  next = edit_line (self, line_id, &line);

  return next != NULL
         && _og_document_commit_text (self, next, &line->note, note,
                                      g_strdup_printf (_("Change note of %s"),
                                                       line_name (self, line_id)), NULL);
}

gboolean
og_document_set_line_temperature (OgDocument *self,
                                  guint       line_id,
                                  double      temperature_c)
{
  OgFormulaLine *line;
  OgFormula *next;

  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);

  next = _og_is_step_temperature (temperature_c) ? edit_line (self, line_id, &line) : NULL;
  if (next == NULL)
    return FALSE;

  line->add_temperature_c = temperature_c;

  return _og_document_commit (self, next,
                              g_strdup_printf (_("Change temperature of %s"),
                                               line_name (self, line_id)));
}

static char *
label_replacing (OgDocument *self,
                 const char *old_id,
                 const char *new_name)
{
  /* Translators: the first %s is the material that goes, the second the one that comes */
  return g_strdup_printf (_("Replace %s by %s"), _og_document_name_material (self, old_id),
                          new_name);
}

gboolean
og_document_set_line_ingredient (OgDocument *self,
                                 guint       line_id,
                                 const char *ingredient_id)
{
  OgFormulaLine *line;
  OgFormula *next;
  char *label;

  g_return_val_if_fail (OG_IS_DOCUMENT (self) && _og_is_text (ingredient_id), FALSE);

  next = edit_line (self, line_id, &line);
  if (next == NULL)
    return FALSE;

  label = label_replacing (self, line->ingredient_id,
                           _og_document_name_material (self, ingredient_id));

  return _og_document_commit_text (self, next, &line->ingredient_id, ingredient_id, label, NULL);
}

static char *
label_suggestion (OgDocument         *self,
                  const OgSuggestion *suggestion)
{
  g_autoptr (OgSaying) title = og_suggestion_get_title (suggestion);
  const char *new = og_saying_text (title);

  if (g_strv_length (suggestion->replaced) > 1)
    /* Translators: %s is the material, or are the materials, that come instead of several others */
    return g_strdup_printf (_("Replace several materials by %s"), new);

  return label_replacing (self, suggestion->replaced[0], new);
}

gboolean
og_document_apply_suggestion (OgDocument         *self,
                              const OgSuggestion *suggestion)
{
  g_return_val_if_fail (OG_IS_DOCUMENT (self), FALSE);
  g_return_val_if_fail (suggestion != NULL && suggestion->parts->len > 0, FALSE);

  return _og_document_commit (self,
                              og_substitution_apply (og_document_get_formula (self), suggestion),
                              label_suggestion (self, suggestion));
}
