/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/effects-report.h"

#include <glib/gi18n-lib.h>

#include "cli/text-table.h"
#include "core/design/effects.h"

static gboolean
is_sentence (const OgEffect *effect)
{
  return effect->kind == OG_EFFECT_FINDING_GAINED || effect->kind == OG_EFFECT_FINDING_LOST;
}

static const char *
text_or_nothing (const OgSaying *saying)
{
  return saying != NULL ? og_saying_text (saying) : "";
}

void
og_effects_put (GString         *out,
                const GPtrArray *effects)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lll");

  og_text_table_add (table, (const char *[]) { _("What changes"), _("Before"), _("After") });
  for (guint i = 0; i < effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (effects, i);

      if (effect->changed && !is_sentence (effect))
        og_text_table_add (table,
                           (const char *[]) { og_saying_text (effect->label), text_or_nothing (effect->before),
                                              text_or_nothing (effect->after) });
    }
  og_text_table_put (table, 2, out);
  for (guint i = 0; i < effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (effects, i);
      g_autofree char *lead = g_strdup_printf ("  %s: ", og_saying_text (effect->label));

      if (effect->changed && is_sentence (effect))
        og_text_put_wrapped (lead, og_saying_text (effect->before != NULL ? effect->before : effect->after), out);
    }
}

void
og_effects_add_json (JsonBuilder     *builder,
                     const GPtrArray *effects)
{
  og_json_begin_array (builder, "effects");
  for (guint i = 0; i < effects->len; i++)
    {
      const OgEffect *effect = g_ptr_array_index (effects, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "kind", effect->nick);
      og_json_add_string (builder, "label", og_saying_text (effect->label));
      og_json_add_string (builder, "before", text_or_nothing (effect->before));
      og_json_add_string (builder, "after", text_or_nothing (effect->after));
      og_json_add_number (builder, "before_value", effect->before_value);
      og_json_add_number (builder, "after_value", effect->after_value);
      og_json_add_estimate_member (builder, "ratio", &effect->ratio);
      og_json_add_string (builder, "sense", og_sense_to_nick (effect->sense));
      og_json_add_boolean (builder, "changed", effect->changed);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}
