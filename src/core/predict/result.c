/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/result.h"

#include <glib/gi18n-lib.h>

#include "core/predict/belief.h"

void
og_curve_clear (OgCurve *curve)
{
  g_clear_pointer (&curve->x, g_free);
  g_clear_pointer (&curve->value, g_free);
  g_clear_pointer (&curve->low80, g_free);
  g_clear_pointer (&curve->high80, g_free);
  g_clear_pointer (&curve->prior_low80, g_free);
  g_clear_pointer (&curve->prior_high80, g_free);
  g_clear_pointer (&curve->ingredient_id, g_free);
  curve->n = 0;
}

OgResult *
og_result_ref (OgResult *result)
{
  g_atomic_ref_count_inc (&result->ref_count);
  return result;
}

void
og_result_unref (OgResult *result)
{
  if (!g_atomic_ref_count_dec (&result->ref_count))
    return;
  for (int i = 0; i < OG_N_CURVES; i++)
    og_curve_clear (&result->curves[i]);
  g_ptr_array_unref (result->findings);
  g_ptr_array_unref (result->rulings);
  g_ptr_array_unref (result->contents);
  g_array_unref (result->viscosity);
  g_array_unref (result->marks);
  g_array_unref (result->agents);
  g_array_unref (result->settling);
  g_clear_pointer (&result->belief, og_belief_unref);
  og_profile_free (result->profile);
  og_catalog_unref (result->catalog);
  og_saying_unref (result->body_text);
  g_free (result);
}

OgSaying *
og_result_get_advice (const OgResult *result)
{
  g_return_val_if_fail (result != NULL, NULL);

  for (guint i = 0; i < result->findings->len; i++)
    if (((OgFinding *) g_ptr_array_index (result->findings, i))->jurisdiction != NULL)
      return og_saying_plain (N_ ("Check your local rules; this is not legal advice."));
  return NULL;
}

OgSeverity
og_result_worst (const OgResult *result)
{
  const OgFinding *first;

  if (result->findings->len == 0)
    return OG_SEVERITY_NOTE;
  first = g_ptr_array_index (result->findings, 0);
  return first->severity;
}
