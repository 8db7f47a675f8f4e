/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/findings.h"

#include <glib/gi18n-lib.h>

#include "cli/text-table.h"

/* Law or guide, and where it was read. */
static void
put_ground (const OgFinding *finding,
            GString         *out)
{
  const char *reference = og_saying_text (finding->reference);
  const char *source = og_saying_text (finding->source);
  g_autofree char *ground = NULL;

  if (reference != NULL && source != NULL)
    ground = g_strdup_printf ("[%s: %s]", reference, source);
  else
    ground = g_strdup_printf (_ ("[%s]"), reference != NULL ? reference : source);
  og_text_put_wrapped ("    ", ground, out);
}

void
og_findings_put (GString         *out,
                 const GPtrArray *findings)
{
  if (findings->len == 0)
    {
      g_string_append_printf (out, "  %s\n", _("Nothing."));
      return;
    }

  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);
      g_autofree char *text
          = g_strdup_printf ("%s: %s", og_severity_get_name (finding->severity), og_saying_text (finding->text));

      og_text_put_wrapped ("  • ", text, out);
      if (finding->cure != NULL)
        og_text_put_wrapped ("    ", og_saying_text (finding->cure), out);
      if (finding->source != NULL || finding->reference != NULL)
        put_ground (finding, out);
    }
}

void
og_findings_add_json (JsonBuilder     *builder,
                      const GPtrArray *findings)
{
  og_json_begin_array (builder, "findings");
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "severity", og_severity_to_nick (finding->severity));
      og_json_add_string (builder, "code", finding->code);
      og_json_add_string (builder, "text", og_saying_text (finding->text));
      og_json_add_string (builder, "source", og_saying_text (finding->source));
      og_json_add_number (builder, "amount_pct", finding->amount_pct);
      og_json_add_number (builder, "limit_pct", finding->limit_pct);
      og_json_add_string (builder, "cure", og_saying_text (finding->cure));
      og_json_add_string (builder, "reference", og_saying_text (finding->reference));
      og_json_add_string (builder, "jurisdiction", finding->jurisdiction);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

OgExit
og_findings_status (const GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      if (finding->severity == OG_SEVERITY_BLOCKING)
        return OG_EXIT_FOUND;
    }

  return OG_EXIT_DONE;
}
