/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/finding-list.h"

static void
finding_free (gpointer data)
{
  OgFinding *finding = data;

  g_free (finding->text);
  g_free (finding->source);
  g_free (finding);
}

GPtrArray *
og_finding_list_new (void)
{
  return g_ptr_array_new_with_free_func (finding_free);
}

void
og_finding_list_add (GPtrArray  *list,
                     OgSeverity  severity,
                     const char *code,
                     guint       line_id,
                     const char *source,
                     char       *text)
{
  OgFinding *finding = g_new0 (OgFinding, 1);

  finding->severity = severity;
  finding->code = code;
  finding->text = text;
  finding->source = g_strdup (source);
  finding->line_id = line_id;
  g_ptr_array_add (list, finding);
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
