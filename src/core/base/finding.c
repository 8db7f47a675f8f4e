/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/finding.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/nick.h"

static const OgNick severities[] = {
  [OG_SEVERITY_NOTE] = { "note", N_("Note") },
  [OG_SEVERITY_CAUTION] = { "caution", N_("Caution") },
  [OG_SEVERITY_BLOCKING] = { "blocking", N_("Blocking") },
};
OG_DEFINE_NICKS (OgSeverity, og_severity, severities)
OG_DEFINE_NAMES (OgSeverity, og_severity, severities)

OgFinding *
og_finding_new (OgSeverity  severity,
                const char *code,
                OgSaying   *text,
                OgSaying   *source)
{
  OgFinding *finding = g_new0 (OgFinding, 1);

  finding->severity = severity;
  finding->code = code;
  finding->text = text;
  finding->source = source;
  finding->amount_pct = finding->limit_pct = NAN;
  return finding;
}

OgFinding *
og_finding_copy (const OgFinding *finding)
{
  OgFinding *copy = og_finding_new (finding->severity, finding->code, og_saying_ref (finding->text),
                                    og_saying_ref (finding->source));

  copy->line_id = finding->line_id;
  copy->amount_pct = finding->amount_pct;
  copy->limit_pct = finding->limit_pct;
  copy->cure = og_saying_ref (finding->cure);
  copy->reference = og_saying_ref (finding->reference);
  copy->jurisdiction = g_strdup (finding->jurisdiction);
  return copy;
}

void
og_finding_free (OgFinding *finding)
{
  og_saying_unref (finding->text);
  og_saying_unref (finding->source);
  og_saying_unref (finding->cure);
  og_saying_unref (finding->reference);
  g_free (finding->jurisdiction);
  g_free (finding);
}

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
                     OgSaying   *source,
                     OgSaying   *text)
{
  OgFinding *finding = og_finding_new (severity, code, text, source);

  finding->line_id = line_id;
  g_ptr_array_add (list, finding);
}

void
og_finding_list_add_blocking (GPtrArray       *list,
                              const GPtrArray *others,
                              const char      *jurisdiction)
{
  for (guint i = 0; i < others->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (others, i);

      if (finding->severity == OG_SEVERITY_BLOCKING
          && (jurisdiction == NULL || finding->jurisdiction == NULL
              || g_str_equal (finding->jurisdiction, jurisdiction)))
        g_ptr_array_add (list, og_finding_copy (finding));
    }
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

OgSaying *
og_common_practice_new (void)
{
  return og_saying_plain (N_ ("Common practice, no published source"));
}
