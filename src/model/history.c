/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/history.h"

#include <string.h>

#include "core/recipe/bench.h"

typedef struct
{
  guint64    serial;
  OgFormula *formula;
  char      *label;
  gsize      bytes;
} Step;

struct _OgHistory
{
  GPtrArray *steps;
  guint      current;
  guint64    last_serial;
  guint64    first_serial; /* of the recipe the history began with */
  guint64    saved_serial;
  char      *open_key;
  gsize      bytes;
  guint      max_steps;
  gsize      max_bytes;
};

static gsize
text_bytes (const char *text)
{
  return text != NULL ? strlen (text) + 1 : 0;
}

static gsize
phase_bytes (const OgFormulaPhase *phase)
{
  gsize bytes = sizeof *phase + text_bytes (phase->name) + text_bytes (phase->note);

  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);

      bytes += sizeof (gpointer) + sizeof *line;
      bytes += text_bytes (line->ingredient_id) + text_bytes (line->note);
    }

  return bytes;
}

static gsize
measurement_bytes (const OgMeasurement *measurement)
{
  gsize bytes = sizeof (gpointer) + sizeof *measurement;

  for (guint i = 0; i < measurement->lines->len; i++)
    {
      const OgPart *part = &g_array_index (measurement->lines, OgPart, i);

      bytes += sizeof *part + text_bytes (part->ingredient_id);
    }
  bytes += text_bytes (measurement->id) + text_bytes (measurement->material_id);
  bytes += text_bytes (measurement->date) + text_bytes (measurement->lot);

  return bytes + text_bytes (measurement->note);
}

/* Own materials are shared between copies and do not count. */
static gsize
formula_bytes (const OgFormula *formula)
{
  gsize bytes = sizeof *formula;

  bytes += text_bytes (formula->title) + text_bytes (formula->purpose);
  bytes += text_bytes (formula->notes) + formula->materials->len * sizeof (gpointer);
  for (guint i = 0; i < formula->phases->len; i++)
    bytes += phase_bytes (g_ptr_array_index (formula->phases, i));
  for (guint i = 0; i < formula->measurements->len; i++)
    bytes += measurement_bytes (g_ptr_array_index (formula->measurements, i));

  return bytes;
}

static void
step_free (Step *step)
{
  og_formula_free (step->formula);
  g_free (step->label);
  g_free (step);
}

static Step *
get_step (const OgHistory *history,
          guint            index)
{
  return g_ptr_array_index (history->steps, index);
}

static void
append (OgHistory  *history,
        OgFormula  *formula,
        const char *label)
{
  Step *step = g_new0 (Step, 1);

  step->serial = ++history->last_serial;
  step->formula = formula;
  step->label = g_strdup (label);
  step->bytes = formula_bytes (formula);
  history->bytes += step->bytes;
  g_ptr_array_add (history->steps, step);
  history->current = history->steps->len - 1;
}

static void
drop (OgHistory *history,
      guint      first,
      guint      n)
{
  for (guint i = first; i < first + n; i++)
    history->bytes -= get_step (history, i)->bytes;
  if (n > 0)
    g_ptr_array_remove_range (history->steps, first, n);
}

static void
drop_undone (OgHistory *history)
{
  drop (history, history->current + 1, history->steps->len - history->current - 1);
}

static void
drop_oldest (OgHistory *history)
{
  while (history->current > 1
         && (history->current > history->max_steps || history->bytes > history->max_bytes))
    {
      drop (history, 0, 1);
      history->current--;
    }
}

OgHistory *
og_history_new (OgFormula *formula)
{
  OgHistory *history;

  g_return_val_if_fail (formula != NULL, NULL);

  history = g_new0 (OgHistory, 1);
  history->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) step_free);
  history->max_steps = OG_HISTORY_MAX_STEPS;
  history->max_bytes = OG_HISTORY_MAX_BYTES;
  og_history_reset (history, formula);

  return history;
}

void
og_history_reset (OgHistory *history,
                  OgFormula *formula)
{
  g_return_if_fail (history != NULL && formula != NULL);

  og_history_seal (history);
  drop (history, 0, history->steps->len);
  append (history, formula, NULL);
  history->first_serial = history->last_serial;
  history->saved_serial = history->last_serial;
}

void
og_history_free (OgHistory *history)
{
  if (history == NULL)
    return;

  g_ptr_array_unref (history->steps);
  g_free (history->open_key);
  g_free (history);
}

void
og_history_set_limits (OgHistory *history,
                       guint      steps,
                       gsize      bytes)
{
  g_return_if_fail (history != NULL && steps > 0);

  history->max_steps = steps;
  history->max_bytes = bytes;
  drop_oldest (history);
}

const OgFormula *
og_history_get_current (const OgHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  return get_step (history, history->current)->formula;
}

guint64
og_history_get_serial (const OgHistory *history)
{
  g_return_val_if_fail (history != NULL, 0);

  return get_step (history, history->current)->serial;
}

static gboolean
can_merge (const OgHistory *history,
           const char      *key)
{
  return key != NULL && g_strcmp0 (key, history->open_key) == 0 && history->current > 0
         && !og_history_is_saved (history);
}

void
og_history_push (OgHistory  *history,
                 OgFormula  *formula,
                 const char *label,
                 const char *key)
{
  g_return_if_fail (history != NULL && formula != NULL && label != NULL);

  drop_undone (history);

  if (can_merge (history, key))
    {
      drop (history, history->current, 1);
      history->current--;
      if (og_formula_equal (formula, og_history_get_current (history)))
        {
          og_formula_free (formula);
          og_history_seal (history);
          return;
        }
    }

  append (history, formula, label);
  drop_oldest (history);
  g_free (history->open_key);
  history->open_key = g_strdup (key);
}

void
og_history_seal (OgHistory *history)
{
  g_return_if_fail (history != NULL);

  g_clear_pointer (&history->open_key, g_free);
}

gboolean
og_history_undo (OgHistory *history)
{
  g_return_val_if_fail (history != NULL, FALSE);

  og_history_seal (history);
  if (history->current == 0)
    return FALSE;

  history->current--;
  return TRUE;
}

gboolean
og_history_redo (OgHistory *history)
{
  g_return_val_if_fail (history != NULL, FALSE);

  og_history_seal (history);
  if (history->current + 1 >= history->steps->len)
    return FALSE;

  history->current++;
  return TRUE;
}

const char *
og_history_get_undo_label (const OgHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  return history->current > 0 ? get_step (history, history->current)->label : NULL;
}

const char *
og_history_get_redo_label (const OgHistory *history)
{
  g_return_val_if_fail (history != NULL, NULL);

  return history->current + 1 < history->steps->len
         ? get_step (history, history->current + 1)->label
         : NULL;
}

guint
og_history_get_n_undo (const OgHistory *history)
{
  g_return_val_if_fail (history != NULL, 0);

  return history->current;
}

void
og_history_mark_saved (OgHistory *history,
                       guint64    serial)
{
  g_return_if_fail (history != NULL);

  if (serial == 0 || serial >= history->first_serial)
    history->saved_serial = serial;
}

gboolean
og_history_is_saved (const OgHistory *history)
{
  g_return_val_if_fail (history != NULL, FALSE);

  return og_history_get_serial (history) == history->saved_serial;
}
