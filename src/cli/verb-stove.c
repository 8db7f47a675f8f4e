/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/findings.h"
#include "cli/readings.h"
#include "cli/recipe-file.h"
#include "cli/text-table.h"
#include "cli/verbs.h"
#include "core/base/number-text.h"
#include "core/make/stove-split.h"

#define LOWEST_C -20.0
#define HIGHEST_C 250.0
#define MOST_G 1e6
#define MOST_ML 1e6
#define MOST_MINUTES 10000.0

/* What was asked for on the command line. */
typedef struct
{
  char     *room;
  char     *vessel_ml;
  char     *vessel;
  char     *cooled;
  char     *batch_g;
  char     *start_c;
  char     *cool_to;
  char     *log;
  char     *split;
  char     *output;
  gboolean  still;
  gboolean  override;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->room);
  g_free (options->vessel_ml);
  g_free (options->vessel);
  g_free (options->cooled);
  g_free (options->batch_g);
  g_free (options->start_c);
  g_free (options->cool_to);
  g_free (options->log);
  g_free (options->split);
  g_free (options->output);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* --- what is asked for ----------------------------------------------------- */

/* "T1,T2,MINUTES" */
static gboolean
read_cooled (const char  *text,
             OgCooled    *cooled,
             GError     **error)
{
  g_auto (GStrv) parts = NULL;

  if (text == NULL)
    return TRUE;
  if (!og_call_check_text ("--cooled", text, error))
    return FALSE;
  parts = g_strsplit (text, ",", -1);
  if (g_strv_length (parts) != 3)
    return og_call_refuse (error,
                           _("--cooled: give two temperatures and minutes, such as 90,60,25"));

  return og_call_parse_number ("--cooled", parts[0], LOWEST_C, HIGHEST_C, &cooled->from_c, error)
         && og_call_parse_number ("--cooled", parts[1], LOWEST_C, HIGHEST_C, &cooled->to_c, error)
         && og_call_parse_number ("--cooled", parts[2], 0.01, MOST_MINUTES, &cooled->minutes, error);
}

static gboolean
read_vessel (const char    *text,
             OgVesselKind  *kind,
             GError       **error)
{
  if (text == NULL)
    return TRUE;
  if (!og_call_check_text ("--vessel", text, error))
    return FALSE;
  if (og_vessel_kind_from_nick (text, kind))
    return TRUE;
  return og_call_refuse (error, _("--vessel: it is glass or steel"));
}

static gboolean
read_setup (const Options  *options,
            OgStoveSetup   *setup,
            GError        **error)
{
  og_stove_setup_init (setup);
  setup->stirred = !options->still;
  setup->override = options->override;
  setup->with_series = TRUE;

  return og_call_parse_number ("--room", options->room, LOWEST_C, 60, &setup->room_c, error)
         && og_call_parse_number ("--vessel-ml", options->vessel_ml, 1, MOST_ML, &setup->vessel_ml, error)
         && og_call_parse_number ("--batch-g", options->batch_g, 0.001, MOST_G, &setup->batch_g, error)
         && og_call_parse_number ("--start-c", options->start_c, LOWEST_C, HIGHEST_C, &setup->start_c, error)
         && og_call_parse_number ("--cool-to", options->cool_to, LOWEST_C, HIGHEST_C, &setup->cool_to_c, error)
         && read_vessel (options->vessel, &setup->vessel, error)
         && read_cooled (options->cooled, &setup->cooled, error);
}

/* --- for programs ---------------------------------------------------------- */

static void
add_addition (JsonBuilder       *builder,
              const OgStoveStep *step)
{
  og_json_add_number (builder, "added_g", step->added_g);
  og_json_add_number (builder, "added_c", step->added_c);
  og_json_add_number (builder, "cold_after_c", step->cold_after_c);
  og_json_add_number (builder, "sets_c", step->limit_c);
  og_json_add_string (builder, "sets", step->limit_name);
  og_json_add_number (builder, "chill_k", step->chill_k);
  og_json_add_number (builder, "warm_first_c", step->warm_first_c);
}

static void
add_split (JsonBuilder        *builder,
           const OgStoveSplit *split)
{
  og_json_begin_object (builder, "cool_oil");
  og_json_add_string (builder, "name", split->name);
  og_json_add_number (builder, "g", split->g);
  og_json_add_number (builder, "percent", og_ppm_to_pct (split->amount));
  og_json_add_number (builder, "line_id", split->line_id);
  og_json_add_number (builder, "share_of_line", split->share);
  og_json_add_number (builder, "from_c", split->from_c);
  og_json_add_number (builder, "reached_c", split->reached_c);
  json_builder_end_object (builder);
}

static void
add_step (JsonBuilder       *builder,
          const OgStoveStep *step)
{
  json_builder_begin_object (builder);
  og_json_add_string (builder, "act", og_stove_act_to_nick (step->act));
  og_json_add_string (builder, "text", og_saying_text (step->step.text));
  og_json_add_string (builder, "caution", og_saying_text (step->step.caution));
  og_json_add_number (builder, "phase_id", step->step.phase_id);
  og_json_add_number (builder, "temperature_c", step->step.temperature_c);
  og_json_add_number (builder, "before_c", step->before_c);
  og_json_add_number (builder, "after_c", step->after_c);
  og_json_add_number (builder, "pot_g", step->pot_g);
  if (step->act == OG_STOVE_ADD || step->act == OG_STOVE_BEGIN)
    add_addition (builder, step);
  if (step->act == OG_STOVE_WARM)
    og_json_add_number (builder, "heat_kj", step->heat_kj);
  if (step->act == OG_STOVE_WARM || step->act == OG_STOVE_COOL)
    og_json_add_estimate_member (builder, "minutes", &step->minutes);
  if (step->act == OG_STOVE_COOL && step->split != NULL)
    add_split (builder, step->split);
  json_builder_end_object (builder);
}

static void
add_series (JsonBuilder       *builder,
            const OgStovePlan *plan)
{
  og_json_begin_array (builder, "series");
  for (guint i = 0; i < plan->series->len; i++)
    {
      const OgStovePoint *point = &g_array_index (plan->series, OgStovePoint, i);

      json_builder_begin_object (builder);
      og_json_add_number (builder, "minutes", point->minutes);
      og_json_add_number (builder, "temperature_c", point->temperature_c);
      og_json_add_estimate_member (builder, "viscosity_mpa_s", &point->viscosity_mpa_s);
      og_json_add_number (builder, "step", point->step);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_vessel (JsonBuilder       *builder,
            const OgStovePlan *plan)
{
  og_json_begin_object (builder, "vessel");
  og_json_add_string (builder, "kind", og_vessel_kind_to_nick (plan->vessel.kind));
  og_json_add_number (builder, "size_ml", plan->vessel.size_ml);
  og_json_add_number (builder, "mass_g", plan->vessel.mass_g);
  og_json_add_estimate_member (builder, "transfer_w_m2_k", &plan->cooling.transfer_w_m2_k);
  og_json_add_boolean (builder, "calibrated", plan->cooling.calibrated);
  json_builder_end_object (builder);
}

static void
put_json (OgCall            *call,
          const OgStovePlan *plan)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_add_number (builder, "batch_g", plan->batch_g);
  og_json_add_number (builder, "room_c", plan->room_c);
  og_json_add_number (builder, "hottest_c", plan->hottest_c);
  og_json_add_boolean (builder, "refused", plan->refused);
  add_vessel (builder, plan);
  og_json_add_estimate_member (builder, "cooling_rate_1_min", &plan->rate_1_min);
  og_json_add_estimate_member (builder, "cooling_minutes", &plan->cooling_minutes);
  og_json_begin_array (builder, "steps");
  for (guint i = 0; i < plan->steps->len; i++)
    add_step (builder, g_ptr_array_index (plan->steps, i));
  json_builder_end_array (builder);
  add_series (builder, plan);
  og_findings_add_json (builder, plan->findings);
  og_call_end_json (call, builder);
}

/* --- for people ------------------------------------------------------------ */

static void
put_steps (OgCall            *call,
           const OgStovePlan *plan)
{
  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);
      g_autofree char *lead = g_strdup_printf ("%3u. ", i + 1);

      og_text_put_wrapped (lead, og_saying_text (step->step.text), call->out);
      if (step->step.caution != NULL)
        og_text_put_wrapped ("     ! ", og_saying_text (step->step.caution), call->out);
    }
  g_string_append_c (call->out, '\n');
}

static void
add_row (OgTextTable       *table,
         guint              number,
         const OgStoveStep *step)
{
  g_autofree char *count = g_strdup_printf ("%u", number);
  g_autofree char *before = og_number_fixed (step->before_c, 0);
  g_autofree char *after = og_number_fixed (step->after_c, 0);
  g_autofree char *added = isnan (step->added_g) ? NULL : og_number_trimmed (step->added_g, 3);
  g_autofree char *at = isnan (step->added_c) ? NULL : og_number_fixed (step->added_c, 0);
  g_autofree char *minutes = isfinite (step->minutes.value) ? og_number_fixed (step->minutes.value, 0) : NULL;

  og_text_table_add (table, (const char *[]) { count, before, after, added, at, minutes });
}

static void
put_pot (OgCall            *call,
         const OgStovePlan *plan)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("rrrrrr");

  og_text_table_add (table, (const char *[]) { _("Step"), _("Pot °C"), _("then °C"), _("Added g"), _("at °C"),
                                               _("Minutes") });
  for (guint i = 0; i < plan->steps->len; i++)
    {
      const OgStoveStep *step = g_ptr_array_index (plan->steps, i);

      if (step->act != OG_STOVE_PREPARE && step->act != OG_STOVE_FINISH)
        add_row (table, i + 1, step);
    }
  og_text_table_put (table, 2, call->out);
  g_string_append_c (call->out, '\n');
}

static void
put_split (OgCall            *call,
           const OgStovePlan *plan,
           guint              index)
{
  const OgStoveStep *step = g_ptr_array_index (plan->steps, index);
  g_autoptr (OgSaying) proposal = NULL;
  g_autofree char *text = NULL;

  if (step->split == NULL)
    return;
  proposal = og_stove_split_proposal (step->split);
  /* Translators: a sentence, then the number of a step */
  text = g_strdup_printf (_("%s --split %u splits the recipe so."), og_saying_text (proposal), index + 1);
  og_text_put_wrapped ("  • ", text, call->out);
}

static void
put_text (OgCall            *call,
          const OgRecipe    *recipe,
          const OgStovePlan *plan)
{
  og_text_put_wrapped ("", recipe->formula->title, call->out);
  if (plan->refused)
    og_text_put_wrapped ("", _("Not to be done like this: the pot comes too near a flash or smoke point. "
                               "--override plans it all the same."), call->out);
  g_string_append_c (call->out, '\n');
  put_steps (call, plan);
  put_pot (call, plan);
  for (guint i = 0; i < plan->steps->len; i++)
    put_split (call, plan, i);
  g_string_append_printf (call->out, "%s\n", _("Findings"));
  og_findings_put (call->out, plan->findings);
}

/* --- a line in two --------------------------------------------------------- */

/* Puts the recipe split as the plan proposes at the step that was asked for into @recipe. */
static gboolean
split_recipe (const Options       *o,
              OgRecipe            *recipe,
              const OgResult      *result,
              const OgStoveSetup  *setup,
              GError             **error)
{
  g_autoptr (OgStovePlan) plan = NULL;
  g_autoptr (OgSaying) name = NULL;
  const OgStoveStep *step;
  OgFormula *split;
  double number = NAN;

  if (o->split == NULL)
    return o->output == NULL || og_call_refuse (error, _("--output: there is nothing to write without --split"));
  plan = og_stove_plan (recipe->formula, result, setup);
  og_stove_find_splits (plan, recipe->formula, result, setup);
  if (!og_call_parse_number ("--split", o->split, 1, fmax (plan->steps->len, 1), &number, error))
    return FALSE;
  step = number == floor (number) && plan->steps->len > 0 ? g_ptr_array_index (plan->steps, (guint) number - 1) : NULL;
  if (step == NULL || step->split == NULL)
    return og_call_refuse (error, _("--split: no oil is proposed to be kept back at this step"));
  name = og_stove_split_phase_name (step->split);
  split = og_stove_split_apply (recipe->formula, step->split, og_saying_text (name));
  og_formula_free (recipe->formula);
  recipe->formula = split;
  return TRUE;
}

OgExit
og_verb_stove (OgCall  *call,
               GError **error)
{
  g_auto (Options) o = { NULL };
  const GOptionEntry entries[] = {
    { "room", 'r', 0, G_OPTION_ARG_FILENAME, &o.room, N_("Temperature of the room and of the shelf"), N_("C") },
    { "vessel-ml", 0, 0, G_OPTION_ARG_FILENAME, &o.vessel_ml, N_("Size of the pot to the brim"), N_("ML") },
    { "vessel", 'v', 0, G_OPTION_ARG_FILENAME, &o.vessel, N_("What the pot is made of: glass or steel"), N_("KIND") },
    { "cooled", 'c', 0, G_OPTION_ARG_FILENAME, &o.cooled,
      N_("How this pot was seen to cool: from, to, minutes"), N_("T1,T2,MINUTES") },
    { "still", 0, 0, G_OPTION_ARG_NONE, &o.still, N_("The pot cools without being stirred"), NULL },
    { "batch-g", 'g', 0, G_OPTION_ARG_FILENAME, &o.batch_g, N_("Mass of the batch, if not that of the recipe"), N_("G") },
    { "start-c", 0, 0, G_OPTION_ARG_FILENAME, &o.start_c, N_("Temperature of the first charge"), N_("C") },
    { "cool-to", 0, 0, G_OPTION_ARG_FILENAME, &o.cool_to, N_("Temperature at which it is filled"), N_("C") },
    { "override", 0, 0, G_OPTION_ARG_NONE, &o.override,
      N_("Plan it although the pot comes near a flash or smoke point"), NULL },
    { "bench-log", 'b', 0, G_OPTION_ARG_FILENAME, &o.log, N_("Readings of neat materials to learn from"), N_("LOG") },
    { "split", 0, 0, G_OPTION_ARG_FILENAME, &o.split,
      N_("Keep the oil back that is proposed at this cooling step, as a phase of its own"), N_("STEP") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o.output, N_("Write the recipe so split as a document"), N_("FILE") },
    G_OPTION_ENTRY_NULL
  };
  g_auto (OgRecipe) recipe = { NULL, NULL };
  g_autoptr (OgBelief) belief = NULL;
  g_autoptr (OgResult) result = NULL;
  g_autoptr (OgStovePlan) plan = NULL;
  OgStoveSetup setup;

  if (!og_call_parse (call, entries, 1, 1, error))
    return OG_EXIT_DONE;
  if (!read_setup (&o, &setup, error))
    return OG_EXIT_USAGE;
  if (!og_call_read_recipe (call, &recipe, call->files[0], error) || !og_readings_learn (&recipe, o.log, &belief, error))
    return OG_EXIT_FILE;

  result = og_evaluate (recipe.formula, recipe.catalog, &(OgConditions) { .belief = belief });
  if (!split_recipe (&o, &recipe, result, &setup, error))
    return OG_EXIT_USAGE;
  if (o.output != NULL && !og_recipe_file_write (o.output, recipe.formula, error))
    return OG_EXIT_FILE;
  plan = og_stove_plan (recipe.formula, result, &setup);
  og_stove_find_splits (plan, recipe.formula, result, &setup);
  if (call->json)
    put_json (call, plan);
  else
    put_text (call, &recipe, plan);

  return og_findings_status (plan->findings);
}
