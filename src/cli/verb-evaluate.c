/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/findings.h"
#include "cli/readings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/conditions.h"
#include "core/base/number-text.h"
#include "core/predict/settling.h"
#include "draw/export.h"

#define LOWEST_RATE_1_S 1e-6
#define HIGHEST_RATE_1_S 1e7

static void
put_heading (OgCall         *call,
             const OgRecipe *recipe,
             const OgResult *result)
{
  g_autofree char *batch = og_number_trimmed (recipe->formula->batch_g, 3);
  g_autofree char *total = og_number_trimmed ((double) result->total_ppm / OG_PPM_PER_PERCENT, 4);

  og_text_put_wrapped ("", recipe->formula->title, call->out);
  /* Translators: mass of the batch and the sum of all lines */
  g_string_append_printf (call->out, _("%s g, %s %% in all"), batch, total);
  g_string_append (call->out, "\n\n");
}

typedef struct
{
  const OgRecipe *recipe;
  OgTextTable    *table;
  OgFormulaPhase *last;
} LineRows;

static void
add_line_row (OgFormulaPhase *phase,
              OgFormulaLine  *line,
              gpointer        user_data)
{
  LineRows *rows = user_data;
  const OgIngredient *ingredient = og_catalog_get (rows->recipe->catalog, line->ingredient_id);
  g_autofree char *pct = og_number_trimmed (og_ppm_to_pct (line->amount), 4);
  g_autofree char *mass = og_number_trimmed (og_ppm_to_g (line->amount, rows->recipe->formula->batch_g), 3);

  og_text_table_add (rows->table, (const char *[]) { phase != rows->last ? phase->name : NULL,
                                                     ingredient != NULL ? ingredient->name : line->ingredient_id,
                                                     pct, mass });
  rows->last = phase;
}

static void
put_lines (OgCall         *call,
           const OgRecipe *recipe)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("llrr");
  LineRows rows = { recipe, table, NULL };

  og_text_table_add (table, (const char *[]) { _("Phase"), _("Material"), _("wt %"), _("g") });
  og_formula_foreach_line (recipe->formula, add_line_row, &rows);
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static const char *
rate_meaning (double shear_rate_1_s)
{
  if (shear_rate_1_s == OG_SHEAR_REST)
    return _("at rest");
  if (shear_rate_1_s == OG_SHEAR_POUR)
    return _("poured");
  if (shear_rate_1_s == OG_SHEAR_RUB)
    return _("rubbed");

  return NULL;
}

static void
put_viscosity (OgCall         *call,
               const OgResult *result)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rrrrrl");

  og_text_table_add (table, (const char *[]) { _("°C"), _("1/s"), _("mPa·s"), _("From, 80 %"), _("to"), NULL });
  for (guint i = 0; i < result->viscosity->len; i++)
    {
      const OgViscosityPoint *point = &g_array_index (result->viscosity, OgViscosityPoint, i);
      g_autofree char *temperature = og_number_trimmed (point->temperature_c, 2);
      g_autofree char *rate = og_number_significant (point->shear_rate_1_s, 4);
      g_autofree char *value = og_number_viscosity (point->viscosity_mpa_s.value);
      g_autofree char *low = og_number_viscosity (point->viscosity_mpa_s.low80);
      g_autofree char *high = og_number_viscosity (point->viscosity_mpa_s.high80);

      og_text_table_add (table, (const char *[]) { temperature, rate, value, low, high,
                                                   rate_meaning (point->shear_rate_1_s) });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static void
add_property (OgTextTable *table,
              const char  *name,
              double       value,
              int          decimals,
              const char  *unit)
{
  g_autofree char *number = og_number_fixed (value, decimals);

  og_text_table_add (table, (const char *[]) { name, number, isfinite (value) ? unit : NULL });
}

static void
put_properties (OgCall         *call,
                const OgResult *result)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrl");

  og_text_table_add (table, (const char *[]) { _("Property"), NULL, NULL });
  add_property (table, _("Density at 25 °C"), result->density_g_ml, 3, "g/ml");
  add_property (table, _("Yield stress at 25 °C"), result->yield_stress_pa.value, 1, "Pa");
  add_property (table, _("Iodine value"), result->iodine_value, 0, "g I₂/100 g");
  add_property (table, _("Saponification value"), result->saponification_value, 0, "mg KOH/g");
  add_property (table, _("Refractive index at 25 °C"), result->refractive_index, 4, NULL);
  add_property (table, _("Oxidisability"), result->oxidisability, 2, NULL);
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

/* How the prediction stood before anything was measured. */
static void
put_prior (OgCall         *call,
           const OgResult *result)
{
  g_autofree char *value = NULL;
  g_autofree char *range = NULL;
  g_autofree char *text = NULL;

  if (result->belief == NULL || !og_estimate_is_known (&result->prior_pour))
    return;

  value = og_number_with_unit (result->prior_pour.value);
  range = og_number_range (&result->prior_pour);
  /* Translators: viscosity with its unit, then its 80 % band */
  text = g_strdup_printf (_("Without readings from the bench it was %s when poured (%s)."), value, range);
  og_text_put_wrapped ("", text, call->out);
}

static void
put_agent (OgCall             *call,
           const OgResult     *result,
           const OgAgentState *agent)
{
  const OgIngredient *ingredient = og_catalog_get (result->catalog, agent->ingredient_id);
  g_autofree char *share = og_number_trimmed (agent->share_pct, 2);
  g_autofree char *gel_point = og_number_fixed (agent->gel_point_pct, 1);
  g_autofree char *clears = og_number_fixed (agent->clears_c, 0);
  g_autofree char *sets = og_number_fixed (agent->sets_c, 0);
  /* Translators: name, wt %, wt %, temperature, temperature; a number may be the word “unknown” */
  g_autofree char *text
    = g_strdup_printf (_("%s: %s %%, gel point in %%: %s, clears on warming at °C: %s, sets on cooling at °C: %s"),
                       ingredient != NULL ? ingredient->name : agent->ingredient_id,
                       share, gel_point, clears, sets);

  og_text_put_wrapped ("  • ", text, call->out);
}

static void
put_agents (OgCall         *call,
            const OgResult *result)
{
  g_autofree char *probability = og_number_fixed (100 * result->gel_probability, 0);

  if (result->agents->len == 0)
    return;

  g_string_append_printf (call->out, "%s\n", _("Gelling agents and waxes"));
  for (guint i = 0; i < result->agents->len; i++)
    put_agent (call, result, &g_array_index (result->agents, OgAgentState, i));
  g_string_append (call->out, "  • ");
  g_string_append_printf (call->out, _("Probability that it stands as a gel at 25 °C: %s %%"), probability);
  g_string_append (call->out, "\n\n");
}

static char *
settling_text (const OgSettling *settling)
{
  const char *name = settling->ingredient->name;
  g_autofree char *speed = og_number_significant (fabs (settling->speed_mm_day), 2);

  if (settling->held)
    return g_strdup_printf (_("%s: held in place by the gel"), name);
  if (!isfinite (settling->speed_mm_day))
    return g_strdup_printf (_("%s: speed unknown"), name);
  if (settling->speed_mm_day < 0)
    return g_strdup_printf (_("%s: rises %s mm a day"), name, speed);

  return g_strdup_printf (_("%s: sinks %s mm a day"), name, speed);
}

static void
put_settling (OgCall         *call,
              const OgResult *result)
{
  if (result->settling->len == 0)
    return;

  g_string_append_printf (call->out, "%s\n", _("Settling at 25 °C"));
  for (guint i = 0; i < result->settling->len; i++)
    {
      g_autofree char *text = settling_text (&g_array_index (result->settling, OgSettling, i));

      og_text_put_wrapped ("  • ", text, call->out);
    }
  g_string_append_c (call->out, '\n');
}

static void
put_text (OgCall         *call,
          const OgRecipe *recipe,
          const OgResult *result)
{
  put_heading (call, recipe, result);
  put_lines (call, recipe);
  og_text_put_wrapped ("", og_saying_text (result->body_text), call->out);
  put_prior (call, result);
  g_string_append_c (call->out, '\n');
  put_viscosity (call, result);
  put_properties (call, result);
  put_agents (call, result);
  put_settling (call, result);
  og_findings_put (call->out, result->findings);
}

static void
set_default (GArray       *numbers,
             const double *values,
             guint         n_values)
{
  if (numbers->len == 0)
    g_array_append_vals (numbers, values, n_values);
}

OgExit
og_verb_evaluate (OgCall  *call,
                  GError **error)
{
  g_auto (GStrv) temperature_texts = NULL;
  g_auto (GStrv) rate_texts = NULL;
  g_autofree char *log_path = NULL;
  const GOptionEntry entries[] = {
    { "temperature", 't', 0, G_OPTION_ARG_FILENAME_ARRAY, &temperature_texts,
      N_("Temperature, -20 … 200 °C, instead of 25; may be given several times"), N_("C") },
    { "shear-rate", 'g', 0, G_OPTION_ARG_FILENAME_ARRAY, &rate_texts,
      N_("Shear rate in 1/s, instead of 0.01, 10 and 1000; may be given several times"), N_("G") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &log_path,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GArray) temperatures = NULL;
  g_autoptr (GArray) rates = NULL;
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (OgResult) result = NULL;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  temperatures = og_call_parse_numbers ("--temperature", temperature_texts,
                                        OG_TEMPERATURE_LOWEST_C, OG_TEMPERATURE_HIGHEST_C, error);
  if (temperatures == NULL)
    return OG_EXIT_USAGE;
  rates = og_call_parse_numbers ("--shear-rate", rate_texts, LOWEST_RATE_1_S, HIGHEST_RATE_1_S, error);
  if (rates == NULL)
    return OG_EXIT_USAGE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error)
      || !og_readings_learn (&recipe, log_path, &belief, error))
    return OG_EXIT_FILE;

  set_default (temperatures, (const double[]) { OG_TEMPERATURE_ROOM_C }, 1);
  set_default (rates, (const double[]) { OG_SHEAR_REST, OG_SHEAR_POUR, OG_SHEAR_RUB }, 3);
  result = og_evaluate (recipe.formula, recipe.catalog,
                        &(OgConditions) {
                          .temperatures_c = (const double *) (const void *) temperatures->data,
                          .n_temperatures = temperatures->len,
                          .shear_rates_1_s = (const double *) (const void *) rates->data,
                          .n_shear_rates = rates->len,
                          .belief = belief,
                        });

  if (call->json)
    {
      g_autoptr (JsonNode) root = og_result_to_json (result);

      og_call_put_json (call, root);
    }
  else
    {
      put_text (call, &recipe, result);
    }

  return og_findings_status (result->findings);
}
