/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "cli/effects-report.h"
#include "cli/readings.h"
#include "cli/recipe-file.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/conditions.h"
#include "core/base/number-text.h"
#include "core/design/effects.h"
#include "core/design/solve.h"

/* What was asked for on the command line. */
typedef struct
{
  char   *target;
  char   *body;
  char   *temperature;
  char   *rate;
  char  **vary;
  char  **at_least;
  char  **at_most;
  char   *least;
  char   *ledger;
  char   *log;
  char   *output;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->target);
  g_free (options->body);
  g_free (options->temperature);
  g_free (options->rate);
  g_strfreev (options->vary);
  g_strfreev (options->at_least);
  g_strfreev (options->at_most);
  g_free (options->least);
  g_free (options->ledger);
  g_free (options->log);
  g_free (options->output);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* --- what is wanted -------------------------------------------------------- */

static gboolean
read_target (const Options  *options,
             OgSolveTarget  *target,
             GError        **error)
{
  *target = (OgSolveTarget) { OG_BODY_UNKNOWN, NAN, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR };
  if ((options->target == NULL) == (options->body == NULL))
    return og_call_refuse (error, _("give either --target or --body"));
  if (options->body != NULL && (options->temperature != NULL || options->rate != NULL))
    return og_call_refuse (error,
                           _("--body tells the oil poured at 25 °C; --temperature and --shear-rate go with "
                             "--target"));
  if (options->body != NULL && !og_body_from_nick (options->body, &target->body))
    return og_call_refuse (error,
                           _("--body: it is one of dry, thin, light, substantial, syrupy, heavy, "
                             "softly-set, set"));

  return og_call_parse_number ("--target", options->target, 1e-3, 1e9, &target->viscosity_mpa_s,
                               error)
         && og_call_parse_number ("--temperature", options->temperature,
                                  OG_TEMPERATURE_LOWEST_C, OG_TEMPERATURE_HIGHEST_C,
                                  &target->temperature_c, error)
         && og_call_parse_number ("--shear-rate", options->rate, 1e-6, 1e7,
                                  &target->shear_rate_1_s, error);
}

static gboolean
read_aim (const Options  *options,
          OgSolveAim     *aim,
          GError        **error)
{
  *aim = OG_SOLVE_LEAST_CHANGE;
  if (options->least == NULL || strcmp (options->least, "change") == 0)
    return TRUE;
  *aim = OG_SOLVE_LEAST_COST;
  if (strcmp (options->least, "cost") == 0)
    return TRUE;
  return og_call_refuse (error, _("--least: it is change or cost"));
}

/* --- which lines may move -------------------------------------------------- */

static OgSolveRange *
find_range (GArray *ranges,
            guint   line_id)
{
  for (guint i = 0; i < ranges->len; i++)
    if (g_array_index (ranges, OgSolveRange, i).line_id == line_id)
      return &g_array_index (ranges, OgSolveRange, i);

  return NULL;
}

/* The line of a material given by id or name. */
static gboolean
read_line (const OgRecipe  *recipe,
           const char      *option,
           const char      *text,
           OgSolveRange    *range,
           GError         **error)
{
  const OgIngredient *ingredient;

  if (!og_call_check_text (option, text, error))
    return FALSE;
  if (og_formula_find_ingredient (recipe->formula, text) != NULL)
    return og_solve_range_init (range, recipe->formula, text, error);
  ingredient = og_catalog_resolve (recipe->catalog, text, NULL);

  return og_solve_range_init (range, recipe->formula, ingredient != NULL ? ingredient->id : text,
                              error);
}

static gboolean
read_vary (const OgRecipe  *recipe,
           char           **texts,
           GArray          *ranges,
           GError         **error)
{
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      OgSolveRange range;

      if (!read_line (recipe, "--vary", texts[i], &range, error))
        return FALSE;
      if (find_range (ranges, range.line_id) == NULL)
        g_array_append_val (ranges, range);
    }
  if (ranges->len > 0)
    return TRUE;
  return og_call_refuse (error, _("name at least one material with --vary"));
}

/* A balance line moves without being named. */
static gboolean
is_balance (const OgRecipe *recipe,
            guint           line_id)
{
  return og_formula_find_line (recipe->formula, line_id, NULL, NULL)->balance_share > 0;
}

/* "ID=PCT" for each of @texts. */
static gboolean
read_bounds (const OgRecipe  *recipe,
             const char      *option,
             char           **texts,
             gboolean         upper,
             GArray          *ranges,
             GError         **error)
{
  for (guint i = 0; texts != NULL && texts[i] != NULL; i++)
    {
      const char *sign = strrchr (texts[i], '=');
      g_autofree char *name = sign != NULL ? g_strndup (texts[i], (gsize) (sign - texts[i])) : NULL;
      OgSolveRange named, *range;
      double pct;
      OgPpm ppm;

      if (sign != NULL && !og_call_read_number (option, sign + 1, &pct, error))
        return FALSE;
      if (sign == NULL || !og_pct_to_ppm (pct, &ppm))
        {
          g_autofree char *shown = g_filename_display_name (texts[i]);

          return og_call_refuse (error,
                                 _("%s: “%s” is not a material and a share of 0 to 100 %%, as in "
                                   "castor-oil=40"), option, shown);
        }
      if (!read_line (recipe, option, name, &named, error))
        return FALSE;
      if (find_range (ranges, named.line_id) == NULL && is_balance (recipe, named.line_id))
        g_array_append_val (ranges, named);
      range = find_range (ranges, named.line_id);
      if (range == NULL)
        return og_call_refuse (error, _("%s: “%s” is not named by --vary"), option, name);
      *(upper ? &range->high : &range->low) = ppm;
    }

  return TRUE;
}

static GArray *
read_ranges (const OgRecipe  *recipe,
             const Options   *options,
             GError         **error)
{
  g_autoptr (GArray) ranges = g_array_new (FALSE, FALSE, sizeof (OgSolveRange));

  if (!read_vary (recipe, options->vary, ranges, error)
      || !read_bounds (recipe, "--at-least", options->at_least, FALSE, ranges, error)
      || !read_bounds (recipe, "--at-most", options->at_most, TRUE, ranges, error))
    return NULL;

  return g_steal_pointer (&ranges);
}

/* --- for programs ---------------------------------------------------------- */

static void
add_line (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        builder)
{
  json_builder_begin_object (builder);
  og_json_add_string (builder, "ingredient", line->ingredient_id);
  og_json_add_number (builder, "percent", og_ppm_to_pct (line->amount));
  json_builder_end_object (builder);
}

static void
add_beyond (JsonBuilder         *builder,
            const OgSolveAnswer *answer)
{
  const OgFormulaLine *line = og_formula_find_line (answer->formula, answer->beyond_line, NULL, NULL);

  og_json_add_string (builder, "beyond_usual", line != NULL ? line->ingredient_id : NULL);
}

static void
add_answer (JsonBuilder         *builder,
            const OgSolveReport *report,
            const OgSolveAnswer *answer)
{
  og_json_begin_array (builder, "lines");
  og_formula_foreach_line (answer->formula, add_line, builder);
  json_builder_end_array (builder);
  og_json_add_estimate_member (builder, "viscosity", &answer->viscosity);
  og_json_add_estimate_member (builder, "yield_stress_pa", &answer->yield_pa);
  og_json_add_string (builder, "body", og_body_to_nick (answer->body));
  add_beyond (builder, answer);
  og_json_add_number (builder, "change", answer->change);
  og_json_add_number (builder, "cost_per_kg", answer->cost_per_kg);
  og_json_add_string (builder, "text", og_saying_text (answer->text));
}

static void
add_limit (JsonBuilder        *builder,
           const OgFormula    *formula,
           const OgSolveLimit *limit)
{
  const OgFormulaLine *line = og_formula_find_line (formula, limit->line_id, NULL, NULL);

  json_builder_set_member_name (builder, "limit");
  if (line == NULL)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_object (builder);
  og_json_add_string (builder, "ingredient", line->ingredient_id);
  og_json_add_string (builder, "bound", limit->upper ? "at-most" : "at-least");
  og_json_add_number (builder, "percent", og_ppm_to_pct (limit->bound));
  json_builder_end_object (builder);
}

static void
put_json (OgCall              *call,
          const OgRecipe      *recipe,
          const OgSolveReport *report,
          const GPtrArray     *effects)
{
  const OgSolveAnswer *first = g_ptr_array_index (report->answers, 0);
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_add_boolean (builder, "reached", report->reached);
  add_answer (builder, report, first);
  if (!report->reached)
    {
      og_json_add_number (builder, "nearest",
                          report->by_yield ? first->yield_pa.value : first->viscosity.value);
      add_limit (builder, recipe->formula, &report->limit);
    }
  og_json_begin_array (builder, "answers");
  for (guint i = 0; i < report->answers->len; i++)
    {
      json_builder_begin_object (builder);
      add_answer (builder, report, g_ptr_array_index (report->answers, i));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_json_add_string (builder, "least", report->aim == OG_SOLVE_LEAST_COST ? "cost" : "change");
  og_json_add_strings (builder, "unpriced", (const char *const *) report->unpriced);
  og_json_add_string (builder, "text", og_saying_text (report->text));
  og_effects_add_json (builder, effects);
  og_call_end_json (call, builder);
}

/* --- for readers ----------------------------------------------------------- */

static void
put_answer (OgCall              *call,
            const OgSolveAnswer *answer,
            guint                number)
{
  g_autofree char *value = og_number_with_unit (answer->viscosity.value);
  g_autofree char *range = og_number_range (&answer->viscosity);
  g_autofree char *cost = og_number_fixed (answer->cost_per_kg, 2);
  g_autofree char *lead = g_strdup_printf ("  %u. ", number);
  g_autofree char *line = NULL;

  og_text_put_wrapped (lead, og_saying_text (answer->text), call->out);
  line = range != NULL ? g_strdup_printf ("%s: %s (%s)", og_body_get_name (answer->body), value,
                                          range)
                       : g_strdup_printf ("%s: %s", og_body_get_name (answer->body), value);
  og_text_put_wrapped ("     ", line, call->out);
  if (isfinite (answer->cost_per_kg))
    {
      /* Translators: price of the materials */
      g_autofree char *price = g_strdup_printf (_("%s a kilogram"), cost);

      og_text_put_wrapped ("     ", price, call->out);
    }
}

static void
put_text (OgCall              *call,
          const OgSolveReport *report,
          const GPtrArray     *effects)
{
  og_text_put_wrapped ("", og_saying_text (report->text), call->out);
  g_string_append_c (call->out, '\n');
  for (guint i = 0; i < report->answers->len; i++)
    put_answer (call, g_ptr_array_index (report->answers, i), i + 1);
  if (report->unpriced[0] != NULL)
    {
      g_autofree char *ids = g_strjoinv (", ", report->unpriced);
      g_autofree char *text
          = g_strdup_printf (_("No price is known for %s, so the answers are ranked "
                                                 "by the least change."), ids);

      g_string_append_c (call->out, '\n');
      og_text_put_wrapped ("", text, call->out);
    }
  g_string_append (call->out, "\n");
  og_effects_put (call->out, effects);
}

/* --- the verb -------------------------------------------------------------- */

OgExit
og_verb_solve (OgCall  *call,
               GError **error)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "target", 0, 0, G_OPTION_ARG_FILENAME, &options.target, N_("Viscosity to reach"),
      N_("MPA_S") },
    { "body", 0, 0, G_OPTION_ARG_FILENAME, &options.body,
      N_("Body to reach instead, in a word such as substantial"), N_("WORD") },
    { "temperature", 't', 0, G_OPTION_ARG_FILENAME, &options.temperature,
      N_("Temperature of the target, instead of 25 °C"), N_("C") },
    { "shear-rate", 'g', 0, G_OPTION_ARG_FILENAME, &options.rate,
      N_("Shear rate of the target in 1/s, instead of 10 (poured)"), N_("G") },
    { "vary", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.vary,
      N_("Material whose share may change; may be given several times"), N_("ID") },
    { "at-least", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.at_least,
      N_("Lower bound in wt %; may be given several times"), N_("ID=PCT") },
    { "at-most", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.at_most,
      N_("Upper bound in wt %; may be given several times"), N_("ID=PCT") },
    { "least", 0, 0, G_OPTION_ARG_FILENAME, &options.least,
      N_("What the answers are ranked by, change or cost"), N_("AIM") },
    { "ledger", 0, 0, G_OPTION_ARG_FILENAME, &options.ledger,
      N_("Ledger that knows the prices"), N_("FILE") },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &options.log,
      N_("Readings of neat materials to learn from"), N_("LOG") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output,
      N_("Write the first answer as a document"), N_("FILE") },
    G_OPTION_ENTRY_NULL
  };
  OgSolveRequest request = { .n_ranges = 0 };
  const OgSolveAnswer *first;
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgShelf) shelf = NULL;
  g_autoptr (GPtrArray) effects = NULL;
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (GArray) ranges = NULL;
  g_autoptr (OgSolveReport) report = NULL;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!read_target (&options, &request.target, error) || !read_aim (&options, &request.aim, error))
    return OG_EXIT_USAGE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error)
      || !og_readings_learn (&recipe, options.log, &belief, error))
    return OG_EXIT_FILE;
  if ((options.ledger != NULL || request.aim == OG_SOLVE_LEAST_COST)
      && !og_call_open_shelf (options.ledger, &shelf, error))
    return OG_EXIT_FILE;
  ranges = read_ranges (&recipe, &options, error);
  if (ranges == NULL)
    return OG_EXIT_USAGE;

  request.ranges = (const OgSolveRange *) (const void *) ranges->data;
  request.n_ranges = ranges->len;
  request.belief = belief;
  request.shelf = shelf;
  report = og_solve (recipe.formula, recipe.catalog, &request, error);
  if (report == NULL)
    return OG_EXIT_USAGE;
  first = g_ptr_array_index (report->answers, 0);
  if (options.output != NULL && !og_recipe_file_write (options.output, first->formula, error))
    return OG_EXIT_FILE;

  effects = og_effects (recipe.formula, first->formula, recipe.catalog,
                        &(OgEffectsOptions) { .belief = belief, .shelf = shelf });
  if (call->json)
    put_json (call, &recipe, report, effects);
  else
    put_text (call, report, effects);

  return report->reached ? OG_EXIT_DONE : OG_EXIT_FOUND;
}
