/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/conditions.h"
#include "core/base/number-text.h"
#include "core/predict/viscosity.h"
#include "model/data-dir.h"

static OgParameters *
load_parameters (GError **error)
{
  g_autofree char *folder = og_data_dir ();
  g_autofree char *path = g_build_filename (folder, "model", "parameters.json", NULL);

  return og_parameters_load (path, error);
}

static void
put_json (OgCall             *call,
          const OgProfile    *profile,
          const OgParameters *parameters,
          const GArray       *temperatures)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_begin_array (builder, "points");
  for (guint i = 0; i < temperatures->len; i++)
    {
      double temperature_c = g_array_index (temperatures, double, i);
      OgEstimate viscosity = og_oil_viscosity (profile, parameters, temperature_c);

      json_builder_begin_object (builder);
      og_json_add_number (builder, "temperature_c", temperature_c);
      og_json_add_estimate_member (builder, "viscosity_mpa_s", &viscosity);
      og_json_add_number (builder, "density_g_ml", og_profile_density (profile, temperature_c));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_json_add_number (builder, "iodine_value", og_profile_iodine_value (profile));
  og_json_add_number (builder, "saponification_value", og_profile_saponification (profile));
  og_json_add_number (builder, "oxidisability", og_profile_oxidisability (profile));
  og_call_end_json (call, builder);
}

static void
put_acids (OgCall          *call,
           const OgProfile *profile)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("llr");

  og_text_table_add (table, (const char *[]) { _("Acid"), _("Name"), _("wt %") });
  for (guint i = 0; i < profile->shares->len; i++)
    {
      const OgAcidShare *share = &g_array_index (profile->shares, OgAcidShare, i);
      g_autofree char *code = og_acid_to_code (share->acid);
      g_autofree char *pct = og_number_fixed (share->pct, 1);

      og_text_table_add (table, (const char *[]) { code, og_acid_get_name (share->acid), pct });
    }
  og_text_table_put (table, 2, call->out);
}

static void
put_points (OgCall             *call,
            const OgProfile    *profile,
            const OgParameters *parameters,
            const GArray       *temperatures)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rrrrr");

  og_text_table_add (table, (const char *[]) { _("°C"), _("mPa·s"), _("From, 80 %"), _("to"), _("g/ml") });
  for (guint i = 0; i < temperatures->len; i++)
    {
      double temperature_c = g_array_index (temperatures, double, i);
      OgEstimate viscosity = og_oil_viscosity (profile, parameters, temperature_c);
      g_autofree char *temperature = og_number_trimmed (temperature_c, 2);
      g_autofree char *value = og_number_viscosity (viscosity.value);
      g_autofree char *low = og_number_viscosity (viscosity.low80);
      g_autofree char *high = og_number_viscosity (viscosity.high80);
      g_autofree char *density = og_number_fixed (og_profile_density (profile, temperature_c), 3);

      og_text_table_add (table, (const char *[]) { temperature, value, low, high, density });
    }
  og_text_table_put (table, 2, call->out);
}

static void
put_indices (OgCall          *call,
             const OgProfile *profile)
{
  g_autofree char *iodine = og_number_fixed (og_profile_iodine_value (profile), 0);
  g_autofree char *saponification = og_number_fixed (og_profile_saponification (profile), 0);
  g_autofree char *oxidisability = og_number_fixed (og_profile_oxidisability (profile), 2);

  g_string_append_printf (call->out, _("Iodine value %s g I₂/100 g, saponification value %s mg KOH/g, oxidisability %s"),
                          iodine, saponification, oxidisability);
  g_string_append_c (call->out, '\n');
}

OgExit
og_verb_oil (OgCall  *call,
             GError **error)
{
  g_autofree char *acids = NULL;
  g_auto (GStrv) temperature_texts = NULL;
  const GOptionEntry entries[] = {
    { "profile", 'p', 0, G_OPTION_ARG_FILENAME, &acids,
      N_("Fatty acids in wt %, such as C16:0=6,C18:1=17,C18:2=74; hydroxy acids as C18:1-OH"), N_("ACIDS") },
    { "temperature", 't', 0, G_OPTION_ARG_FILENAME_ARRAY, &temperature_texts,
      N_("Temperature, -20 … 200 °C; may be given several times"), N_("C") },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GArray) temperatures = NULL;
  g_autoptr (OgProfile) profile = NULL;
  g_autoptr (OgParameters) parameters = NULL;

  if (!og_call_parse (call, entries, 0, 0, error))
    return OG_EXIT_DONE;
  if (acids == NULL || temperature_texts == NULL)
    {
      og_call_refuse (error, _("--profile and --temperature are needed"));
      return OG_EXIT_USAGE;
    }

  temperatures = og_call_parse_numbers ("--temperature", temperature_texts,
                                        OG_TEMPERATURE_LOWEST_C, OG_TEMPERATURE_HIGHEST_C, error);
  if (temperatures == NULL || !og_call_check_text ("--profile", acids, error))
    return OG_EXIT_USAGE;
  profile = og_profile_parse (acids, error);
  if (profile == NULL)
    return OG_EXIT_USAGE;
  parameters = load_parameters (error);
  if (parameters == NULL)
    return OG_EXIT_FILE;

  if (call->json)
    {
      put_json (call, profile, parameters, temperatures);
      return OG_EXIT_DONE;
    }

  put_acids (call, profile);
  g_string_append_c (call->out, '\n');
  put_points (call, profile, parameters, temperatures);
  g_string_append_c (call->out, '\n');
  put_indices (call, profile);

  return OG_EXIT_DONE;
}
