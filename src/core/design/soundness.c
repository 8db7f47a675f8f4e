/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/soundness.h"

#include <math.h>

#include "core/make/stove.h"

#define NO_WORSE 1.01 /* of an amount beyond its limit: rounding is not held against a change; judgement */

struct _OgSoundness
{
  GHashTable *amounts; /* what forbids -> its amount, wt %: double */
  gboolean    refused; /* by the stove plan */
};

static void
take_findings (OgSoundness     *soundness,
               const OgFormula *formula,
               const GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);
      const OgFormulaLine *line = og_formula_find_line (formula, finding->line_id, NULL, NULL);
      double *amount;

      if (finding->severity != OG_SEVERITY_BLOCKING)
        continue;
      amount = g_new (double, 1);
      *amount = finding->amount_pct;
      g_hash_table_insert (soundness->amounts,
                           g_strjoin (" ", finding->code, line != NULL ? line->ingredient_id : "",
                                      finding->jurisdiction, NULL),
                           amount);
    }
}

OgSoundness *
og_soundness_new (const OgFormula *formula,
                  const OgResult  *result)
{
  OgSoundness *soundness = g_new0 (OgSoundness, 1);
  g_autoptr (OgStovePlan) plan = og_stove_plan (formula, result, NULL);

  soundness->amounts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  soundness->refused = plan->refused;
  take_findings (soundness, formula, result->findings);
  take_findings (soundness, formula, plan->findings);
  return soundness;
}

void
og_soundness_free (OgSoundness *soundness)
{
  if (soundness == NULL)
    return;
  g_hash_table_unref (soundness->amounts);
  g_free (soundness);
}

gboolean
og_soundness_holds (const OgSoundness *soundness,
                    const OgSoundness *before)
{
  GHashTableIter iter;
  gpointer what, amount;

  if (soundness->refused && (before == NULL || !before->refused))
    return FALSE;
  g_hash_table_iter_init (&iter, soundness->amounts);
  while (g_hash_table_iter_next (&iter, &what, &amount))
    {
      const double *was = before != NULL ? g_hash_table_lookup (before->amounts, what) : NULL;

      if (was == NULL || *(double *) amount > *was * NO_WORSE)
        return FALSE;
    }
  return TRUE;
}
