/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/findings.h"

#include <glib/gi18n-lib.h>

#include "cli/text-table.h"

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
      g_autofree char *text = g_strdup_printf ("%s: %s", og_severity_get_name (finding->severity), finding->text);

      og_text_put_wrapped ("  • ", text, out);
      if (finding->source != NULL)
        {
          g_autofree char *source = g_strdup_printf (_("[%s]"), finding->source);

          og_text_put_wrapped ("    ", source, out);
        }
    }
}

void
og_findings_add_json (JsonBuilder     *builder,
                      const GPtrArray *findings)
{
  json_builder_set_member_name (builder, "findings");
  json_builder_begin_array (builder);
  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "severity", og_severity_to_nick (finding->severity));
      og_json_add_string (builder, "code", finding->code);
      og_json_add_string (builder, "text", finding->text);
      og_json_add_string (builder, "source", finding->source);
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
