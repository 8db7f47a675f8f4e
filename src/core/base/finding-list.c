/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/finding-list.h"

GPtrArray *
og_finding_list_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) og_finding_free);
}

void
og_finding_list_add (GPtrArray  *list,
                     OgSeverity  severity,
                     const char *code,
                     guint       line_id,
                     const char *source,
                     char       *text)
{
  OgFinding *finding = og_finding_new (severity, code, text, source);

  finding->line_id = line_id;
  g_ptr_array_add (list, finding);
  g_free (text);
}

static int
compare_severity (gconstpointer a,
                  gconstpointer b)
{
  const OgFinding *x = *(const OgFinding *const *) a, *y = *(const OgFinding *const *) b;

  return (int) y->severity - (int) x->severity;
}

void
og_finding_list_sort (GPtrArray *list)
{
  /* GLib sorts by merging, which keeps equals in order. */
  g_ptr_array_sort (list, compare_severity);
}

OgSeverity
og_finding_list_worst (const GPtrArray *list)
{
  OgSeverity worst = OG_SEVERITY_NOTE;

  for (guint i = 0; i < list->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (list, i);

      worst = MAX (worst, finding->severity);
    }

  return worst;
}
