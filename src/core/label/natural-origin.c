/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/natural-origin.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>


#define SAME_PCT 0.05 /* what one digit after the mark does not show */

static int
compare_contents (gconstpointer a,
                  gconstpointer b)
{
  const OgContent *x = *(const OgContent *const *) a, *y = *(const OgContent *const *) b;

  if (x->fraction != y->fraction)
    return x->fraction < y->fraction ? 1 : -1;

  return strcmp (x->ingredient_id, y->ingredient_id);
}

OgNaturalOrigin *
og_natural_origin_sum (const GPtrArray *contents)
{
  OgNaturalOrigin *origin;
  g_autoptr (GPtrArray) unknown = g_ptr_array_new ();

  g_return_val_if_fail (contents != NULL, NULL);

  origin = g_new0 (OgNaturalOrigin, 1);
  origin->unknown_ids = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < contents->len; i++)
    {
      OgContent *content = g_ptr_array_index (contents, i);
      const OgFigure *index = content->ingredient != NULL
                                ? &content->ingredient->figures[OG_FIGURE_NATURAL_ORIGIN_INDEX]
                                : NULL;
      double pct = 100 * content->fraction;

      if (pct <= 0)
        continue;
      if (index != NULL && og_figure_is_known (index))
        {
          origin->low_pct += pct * (isfinite (index->low) ? index->low : index->value);
          origin->high_pct += pct * (isfinite (index->high) ? index->high : index->value);
          continue;
        }
      origin->unknown_pct += pct;
      origin->high_pct += pct;
      g_ptr_array_add (unknown, content);
    }
  g_ptr_array_sort (unknown, compare_contents);
  for (guint i = 0; i < unknown->len; i++)
    {
      const OgContent *content = g_ptr_array_index (unknown, i);

      g_ptr_array_add (origin->unknown_ids, g_strdup (content->ingredient_id));
    }

  return origin;
}

void
og_natural_origin_free (OgNaturalOrigin *origin)
{
  if (origin == NULL)
    return;

  g_ptr_array_unref (origin->unknown_ids);
  g_free (origin);
}

OgSaying *
og_natural_origin_saying (const OgNaturalOrigin *origin)
{
  g_return_val_if_fail (origin != NULL, NULL);

  if (origin->high_pct - origin->low_pct < SAME_PCT)
    return og_saying_new (N_ ("%s %% (ISO 16128)"), og_word_fixed (origin->low_pct, 1));

  return og_saying_new (N_ ("%s to %s %% (ISO 16128; unknown for %s %%)"), og_word_fixed (origin->low_pct, 1),
                        og_word_fixed (origin->high_pct, 1), og_word_fixed (origin->unknown_pct, 1));
}
