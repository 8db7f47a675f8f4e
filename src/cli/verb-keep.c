/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/findings.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/conditions.h"
#include "core/base/dates.h"
#include "core/base/number-text.h"
#include "core/predict/keeping.h"
#include "core/recipe/stability.h"

#define LOWEST_C -30.0
#define HIGHEST_C 100.0
#define MOST_MEQ_KG 1000.0
#define MOST_MONTHS 60
#define USUAL_MONTHS 12
#define WARM_MONTHS 3.0

/* What was asked for on the command line. */
typedef struct
{
  char    **temperatures;
  char    **peroxides;
  char     *ledger;
  char     *date;
  char     *plan;
  char     *months;
  gboolean  csv;
} Options;

/* Request: the same, read. */
typedef struct
{
  GArray   *temperatures; /* of double */
  GArray   *peroxides;    /* of OgPeroxide; ids borrowed from the catalog */
  OgShelf  *shelf;        /* nullable */
  gint64    now;          /* Unix time in s */
  GDate     start;        /* invalid: no plan */
  guint     months;       /* claimed; 0: not said */
} Request;

static void
options_clear (Options *options)
{
  g_strfreev (options->temperatures);
  g_strfreev (options->peroxides);
  g_free (options->ledger);
  g_free (options->date);
  g_free (options->plan);
  g_free (options->months);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static void
request_clear (Request *request)
{
  g_clear_pointer (&request->temperatures, g_array_unref);
  g_clear_pointer (&request->peroxides, g_array_unref);
  g_clear_pointer (&request->shelf, og_shelf_unref);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Request, request_clear)

/* --- what is asked for --- */

static gboolean
read_date (const char  *option,
           const char  *text,
           GDate       *date,
           GError     **error)
{
  if (text == NULL)
    return TRUE;
  if (!og_call_check_text (option, text, error))
    return FALSE;
  if (og_date_parse (text, date))
    return TRUE;

  return og_call_refuse (error, _("%s: “%s” is not a day such as 2026-03-01"), option, text);
}

/* Start of the day in Unix time, UTC. */
static gint64
day_to_unix (const GDate *date)
{
  g_autoptr (GDateTime) time
      = g_date_time_new_utc (g_date_get_year (date), (int) g_date_get_month (date),
                             g_date_get_day (date), 0, 0, 0);

  return g_date_time_to_unix (time);
}

static gboolean
read_request (const Options  *options,
              Request        *request,
              GError        **error)
{
  double months = 0;
  GDate today;

  g_date_clear (&today, 1);
  g_date_clear (&request->start, 1);
  request->temperatures
      = og_call_parse_numbers ("--temperature", options->temperatures, LOWEST_C, HIGHEST_C, error);
  if (request->temperatures == NULL
      || !og_call_parse_number ("--months", options->months, 1, MOST_MONTHS, &months, error)
      || !read_date ("--date", options->date, &today, error)
      || !read_date ("--plan", options->plan, &request->start, error))
    return FALSE;
  request->months = (guint) lround (months);
  request->now = g_date_valid (&today) ? day_to_unix (&today) : g_get_real_time () / G_USEC_PER_SEC;

  return TRUE;
}

/* "castor-oil=3.5" */
static gboolean
read_peroxides (const OgCatalog  *catalog,
                char            **texts,
                Request          *request,
                GError          **error)
{
  request->peroxides = g_array_new (FALSE, FALSE, sizeof (OgPeroxide));
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      g_auto (GStrv) parts = NULL;
      g_autoptr (GError) inner = NULL;
      const OgIngredient *ingredient;
      OgPeroxide peroxide;

      if (!og_call_check_text ("--peroxide", texts[i], error))
        return FALSE;
      parts = g_strsplit (texts[i], "=", 2);
      if (g_strv_length (parts) != 2)
        return og_call_refuse (error, _("--peroxide: give a material and its value, such as "
                                        "castor-oil=3.5"));
      ingredient = og_catalog_resolve (catalog, parts[0], &inner);
      if (ingredient == NULL)
        return og_call_refuse (error, "--peroxide: %s", inner->message);
      if (!og_call_parse_number ("--peroxide", parts[1], 0, MOST_MEQ_KG, &peroxide.meq_kg, error))
        return FALSE;
      peroxide.ingredient_id = ingredient->id;
      g_array_append_val (request->peroxides, peroxide);
    }

  return TRUE;
}

/* What the recipe plans or its label claims, else a year. */
static guint
claimed_months (const Request   *request,
                const OgFormula *formula)
{
  const guint said[] = { request->months, formula->stability_months, formula->open_months };

  for (guint i = 0; i < G_N_ELEMENTS (said); i++)
    if (said[i] > 0)
      return MIN (said[i], MOST_MONTHS);

  return USUAL_MONTHS;
}

/* Returns: (transfer full) (nullable): from the day asked for, else from that of the recipe */
static GArray *
make_plan (const Request   *request,
           const OgFormula *formula)
{
  const GDate *start = g_date_valid (&request->start) ? &request->start : &formula->stability_start;

  return g_date_valid (start) ? og_stability_plan (start, claimed_months (request, formula)) : NULL;
}

static double
warm_test_months (void)
{
  return og_stability_supported_months (WARM_MONTHS, OG_TEMPERATURE_WARM_C, OG_TEMPERATURE_ROOM_C);
}

/* --- as JSON --- */

static void
add_span (JsonBuilder         *builder,
          const OgKeepingSpan *span)
{
  json_builder_begin_object (builder);
  og_json_add_number (builder, "temperature_c", span->temperature_c);
  og_json_add_number (builder, "factor_low", span->factor_low);
  og_json_add_number (builder, "factor_high", span->factor_high);
  og_json_add_number (builder, "low_months", span->low_months);
  og_json_add_number (builder, "high_months", span->high_months);
  json_builder_end_object (builder);
}

static void
add_materials (JsonBuilder     *builder,
               const OgKeeping *keeping)
{
  og_json_begin_array (builder, "parts");
  for (guint i = 0; i < keeping->parts->len; i++)
    {
      const OgKeepingPart *part = &g_array_index (keeping->parts, OgKeepingPart, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", part->ingredient->id);
      og_json_add_number (builder, "percent", part->pct);
      og_json_add_number (builder, "cox", part->cox);
      og_json_add_number (builder, "share_percent", 100 * part->share);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);

  og_json_begin_array (builder, "antioxidants");
  for (guint i = 0; i < keeping->guards->len; i++)
    {
      const OgKeepingGuard *guard = &g_array_index (keeping->guards, OgKeepingGuard, i);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "ingredient", guard->ingredient->id);
      og_json_add_number (builder, "percent", guard->pct);
      og_json_add_number (builder, "usual_low_percent", guard->low_pct);
      og_json_add_number (builder, "usual_high_percent", guard->high_pct);
      og_json_add_string (builder, "level", og_guard_level_to_nick (guard->level));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static char *
lot_date (const OgKeeping *keeping)
{
  g_autoptr (GDateTime) time = NULL;

  if (keeping->best_before == 0)
    return NULL;
  time = g_date_time_new_from_unix_utc (keeping->best_before);

  return time != NULL ? g_date_time_format (time, "%Y-%m-%d") : NULL;
}

static void
add_plan (JsonBuilder  *builder,
          const GArray *plan)
{
  og_json_begin_array (builder, "plan");
  for (guint i = 0; i < plan->len; i++)
    {
      const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);
      g_autofree char *date = og_date_to_text (&due->date);

      json_builder_begin_object (builder);
      og_json_add_string (builder, "date", date);
      og_json_add_whole (builder, "day", due->day);
      og_json_add_string (builder, "test", og_stability_test_to_nick (due->test));
      og_json_add_string (builder, "setting", og_stability_test_describe (due->test));
      og_json_begin_array (builder, "readings");
      for (guint r = 0; r < OG_N_STABILITY_READINGS; r++)
        if ((due->readings & (1u << r)) != 0)
          json_builder_add_string_value (builder,
                                         og_stability_reading_to_nick ((OgStabilityReading) r));
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_results (JsonBuilder     *builder,
             const GPtrArray *results)
{
  og_json_begin_array (builder, "results");
  for (guint i = 0; i < results->len; i++)
    {
      JsonNode *node = json_node_new (JSON_NODE_OBJECT);

      json_node_take_object (node, og_stability_result_to_json (g_ptr_array_index (results, i)));
      json_builder_add_value (builder, node);
    }
  json_builder_end_array (builder);
}

static void
put_json (OgCall          *call,
          const OgFormula *formula,
          const OgKeeping *keeping,
          const GArray    *plan)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();
  g_autofree char *date = lot_date (keeping);

  og_json_add_number (builder, "cox", keeping->cox);
  og_json_add_number (builder, "oxidisability", keeping->oxidisability);
  og_json_add_number (builder, "peroxidisability", keeping->peroxidisability);
  og_json_add_number (builder, "known_percent", 100 * keeping->known_fraction);
  og_json_add_number (builder, "antioxidant_percent", keeping->antioxidant_pct);
  add_materials (builder, keeping);
  json_builder_set_member_name (builder, "room");
  add_span (builder, &keeping->room);
  og_json_begin_array (builder, "temperatures");
  for (guint i = 0; i < keeping->spans->len; i++)
    add_span (builder, &g_array_index (keeping->spans, OgKeepingSpan, i));
  json_builder_end_array (builder);
  og_json_add_string (builder, "basis", og_saying_text (keeping->basis));
  og_json_add_string (builder, "best_before", date);
  og_json_add_string (builder, "best_before_ingredient", keeping->best_before_id);
  og_json_begin_array (builder, "advice");
  for (guint i = 0; i < keeping->advice->len; i++)
    json_builder_add_string_value (builder, og_saying_text (g_ptr_array_index (keeping->advice, i)));
  json_builder_end_array (builder);
  if (plan != NULL)
    {
      og_json_add_number (builder, "warm_test_supports_months", warm_test_months ());
      add_plan (builder, plan);
    }
  add_results (builder, formula->stability_results);
  og_findings_add_json (builder, keeping->findings);
  og_call_end_json (call, builder);
}

/* --- as text --- */

static void
put_span (OgCall              *call,
          const OgKeepingSpan *span)
{
  g_autofree char *temperature = og_number_trimmed (span->temperature_c, 1);
  g_autofree char *months = og_saying_take_text (og_keeping_span_saying (span));
  g_autofree char *text = g_strdup_printf (_("At %s °C, closed and dark: %s"), temperature, months);

  og_text_put_wrapped ("", text, call->out);
}

static void
put_weakest (OgCall          *call,
             const OgKeeping *keeping)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrrr");

  if (keeping->parts->len == 0)
    return;
  og_text_table_add (table, (const char *[]) { _("Material"), _("wt %"), _("COX"), _("Share, %") });
  for (guint i = 0; i < keeping->parts->len; i++)
    {
      const OgKeepingPart *part = &g_array_index (keeping->parts, OgKeepingPart, i);
      g_autofree char *pct = og_number_trimmed (part->pct, 2);
      g_autofree char *cox = og_number_fixed (part->cox, 2);
      g_autofree char *share = og_number_fixed (100 * part->share, 0);

      og_text_table_add (table, (const char *[]) { part->ingredient->name, pct, cox, share });
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static void
put_guards (OgCall          *call,
            const OgKeeping *keeping)
{
  for (guint i = 0; i < keeping->guards->len; i++)
    {
      const OgKeepingGuard *guard = &g_array_index (keeping->guards, OgKeepingGuard, i);
      g_autofree char *pct = og_number_trimmed (guard->pct, 3);
      g_autofree char *text = g_strdup_printf (_("Antioxidant: %s, %s wt %%, "
                                                 "%s"), guard->ingredient->name,
                                               pct, og_guard_level_get_name (guard->level));

      og_text_put_wrapped ("", text, call->out);
    }
}

static char *
list_readings (guint readings)
{
  GString *text = g_string_new (NULL);

  for (guint r = 0; r < OG_N_STABILITY_READINGS; r++)
    if ((readings & (1u << r)) != 0)
      g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "",
                              og_stability_reading_get_name ((OgStabilityReading) r));

  return g_string_free (text, FALSE);
}

static void
put_plan (OgCall       *call,
          const GArray *plan)
{
  g_autofree char *months = og_number_fixed (warm_test_months (), 1);
  g_autofree char *warm = g_strdup_printf (
    _("Three months at 40 °C without fault speak for about %s months at 25 °C (a factor of 2 for "
      "10 °C: common practice, an estimate only; what melts when warm says nothing about room "
      "temperature)."),
    months);

  g_string_append_printf (call->out, "\n%s\n",
                          _("Stability tests (common practice, no published source):"));
  for (guint i = 0; i < OG_N_STABILITY_TESTS; i++)
    {
      g_autofree char *lead
          = g_strdup_printf ("  %s: ", og_stability_test_get_name ((OgStabilityTest) i));

      og_text_put_wrapped (lead, og_stability_test_describe ((OgStabilityTest) i), call->out);
    }
  g_string_append_c (call->out, '\n');
  for (guint i = 0; i < plan->len; i++)
    {
      const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);
      g_autofree char *date = og_date_to_text (&due->date);
      g_autofree char *readings = list_readings (due->readings);
      g_autofree char *lead
          = g_strdup_printf ("  %s %s: ", date, og_stability_test_get_name (due->test));

      og_text_put_wrapped (lead, readings, call->out);
    }
  g_string_append_c (call->out, '\n');
  og_text_put_wrapped ("  ", warm, call->out);
}

static void
put_results (OgCall          *call,
             const GPtrArray *results)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lllrl");

  if (results->len == 0)
    return;
  g_string_append_printf (call->out, "\n%s\n", _("Read so far:"));
  og_text_table_add (table, (const char *[]) { _("Date"), _("Test"), _("Reading"), _("Value"),
                                               _("Note") });
  for (guint i = 0; i < results->len; i++)
    {
      const OgStabilityResult *result = g_ptr_array_index (results, i);
      g_autofree char *date = og_date_to_text (&result->date);
      g_autofree char *value
          = isfinite (result->value) ? og_number_trimmed (result->value, 3) : NULL;

      og_text_table_add (table, (const char *[]) { date, og_stability_test_get_name (result->test),
                                                   og_stability_reading_get_name (result->reading),
                                                   value, result->note });
    }
  og_text_table_put (table, 2, call->out);
}

static void
put_text (OgCall          *call,
          const OgFormula *formula,
          const OgKeeping *keeping,
          const GArray    *plan)
{
  put_span (call, &keeping->room);
  for (guint i = 0; i < keeping->spans->len; i++)
    put_span (call, &g_array_index (keeping->spans, OgKeepingSpan, i));
  og_text_put_wrapped ("  ", og_saying_text (keeping->basis), call->out);
  g_string_append_c (call->out, '\n');
  put_weakest (call, keeping);
  put_guards (call, keeping);
  for (guint i = 0; i < keeping->advice->len; i++)
    og_text_put_wrapped ("  • ", og_saying_text (g_ptr_array_index (keeping->advice, i)), call->out);
  g_string_append_printf (call->out, "\n%s\n", _("What was found:"));
  og_findings_put (call->out, keeping->findings);
  if (plan != NULL)
    put_plan (call, plan);
  put_results (call, formula->stability_results);
}

OgExit
og_verb_keep (OgCall  *call,
              GError **error)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "temperature", 't', 0, G_OPTION_ARG_FILENAME_ARRAY, &options.temperatures,
      N_("Also at this temperature in °C; may be repeated"), N_("C") },
    { "ledger", 0, 0, G_OPTION_ARG_FILENAME, &options.ledger,
      N_("Ledger whose lots are used"), N_("FILE") },
    { "date", 0, 0, G_OPTION_ARG_FILENAME, &options.date,
      N_("Day to reckon from instead of today"), N_("YYYY-MM-DD") },
    { "peroxide", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.peroxides,
      N_("Peroxide value of a lot in meq/kg; may be repeated"), N_("ID=VALUE") },
    { "plan", 'p', 0, G_OPTION_ARG_FILENAME, &options.plan,
      N_("Plan stability tests from this day"), N_("YYYY-MM-DD") },
    { "months", 0, 0, G_OPTION_ARG_FILENAME, &options.months,
      N_("Months that the product is to keep, for the plan"), N_("N") },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &options.csv,
      N_("Write the plan alone, as a table to fill in"), NULL },
    G_OPTION_ENTRY_NULL
  };
  g_auto (Request) request = { NULL };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgResult) result = NULL;
  g_autoptr (OgKeeping) keeping = NULL;
  g_autoptr (GArray) plan = NULL;
  OgKeepingOptions asked;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!read_request (&options, &request, error))
    return OG_EXIT_USAGE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error)
      || !og_call_open_shelf (options.ledger, &request.shelf, error))
    return OG_EXIT_FILE;
  if (!read_peroxides (recipe.catalog, options.peroxides, &request, error))
    return OG_EXIT_USAGE;

  result = og_evaluate (recipe.formula, recipe.catalog, NULL);
  asked = (OgKeepingOptions) {
    .temperatures_c = (const double *) (gconstpointer) request.temperatures->data,
    .n_temperatures = request.temperatures->len,
    .shelf = request.shelf,
    .now = request.now,
    .peroxides = (const OgPeroxide *) (gconstpointer) request.peroxides->data,
    .n_peroxides = request.peroxides->len,
  };
  keeping = og_keep (recipe.formula, result, &asked);
  plan = make_plan (&request, recipe.formula);
  if (options.csv && plan == NULL)
    {
      og_call_refuse (error, _("--csv needs --plan"));
      return OG_EXIT_USAGE;
    }

  if (options.csv)
    {
      g_autofree char *csv = og_stability_plan_to_csv (plan);

      g_string_append (call->out, csv);
    }
  else if (call->json)
    put_json (call, recipe.formula, keeping, plan);
  else
    put_text (call, recipe.formula, keeping, plan);

  return og_findings_status (keeping->findings);
}
