/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/process.h"

#include "core/make/stove.h"

static void
step_free (OgStep *step)
{
  og_saying_unref (step->text);
  og_saying_unref (step->caution);
  g_free (step);
}

GPtrArray *
og_process_steps (const OgFormula *formula,
                  const OgResult  *result)
{
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, result, NULL);
  GPtrArray *steps = g_ptr_array_new_with_free_func ((GDestroyNotify) step_free);

  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *planned = g_ptr_array_index (plan->steps, i);
      OgStep *step = g_new (OgStep, 1);

      *step = planned->step;
      step->text = og_saying_ref (planned->step.text);
      step->caution = og_saying_ref (planned->step.caution);
      g_ptr_array_add (steps, step);
    }
  return steps;
}
