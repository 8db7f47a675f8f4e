/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/measure-report.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "cli/text-table.h"
#include "core/base/number-text.h"
#include "core/base/statistics.h"
#include "core/predict/blend.h"

/* --- what the readings say ------------------------------------------------- */

static OgEstimate
reading_estimate (const OgReduced *reduced)
{
  double factor = exp (OG_HALF_BAND_SD * reduced->ln_sd);

  return (OgEstimate) { reduced->mpa_s, reduced->mpa_s / factor, reduced->mpa_s * factor };
}

/* What was measured, as predicted from what @belief holds. */
static OgEstimate
predict (const OgMeasurement *measurement,
         const OgCatalog     *catalog,
         OgBelief            *belief)
{
  g_autoptr (GPtrArray) contents = og_measurement_contents (measurement, catalog);
  g_autoptr (OgBlend) blend = og_blend_new (contents, og_catalog_get_parameters (catalog));

  if (og_belief_get_n_variables (belief) > 0)
    og_blend_set_belief (blend, belief);
  if (!og_blend_flows (blend))
    return (OgEstimate) { NAN, NAN, NAN };

  return og_blend_viscosity (blend, measurement->reading.temperature_c,
                             measurement->reduced.shear_rate_1_s);
}

/* Where nothing can be predicted there is nothing to be surprised by. */
static double
lesson_surprise (const OgLesson *lesson)
{
  return og_estimate_is_known (&lesson->predicted) ? lesson->surprise : NAN;
}

void
og_measure_report_fill (OgMeasureReport     *report,
                        const OgMeasurement *measurement,
                        GPtrArray           *before,
                        GPtrArray           *after,
                        guint                index,
                        gboolean             removed,
                        const OgCatalog     *catalog)
{
  g_autoptr (OgBelief) believed_before = og_belief_learn (before, catalog);
  g_autoptr (OgBelief) believed_after = og_belief_learn (after, catalog);
  OgBelief *judging = removed ? believed_before : believed_after;
  const OgLesson *lesson = &g_array_index (og_belief_get_lessons (judging), OgLesson, index);

  *report = (OgMeasureReport) {
    .measurement = og_measurement_copy (measurement),
    .before = predict (measurement, catalog, believed_before),
    .after = predict (measurement, catalog, believed_after),
    .surprise = lesson_surprise (lesson),
    .used = lesson->used && !removed,
    .contradicts = lesson->contradicts,
    .removed = removed,
  };
}

void
og_measure_report_clear (OgMeasureReport *report)
{
  g_clear_pointer (&report->measurement, og_measurement_free);
}

gboolean
og_measure_report_is_open (const OgMeasureReport *report)
{
  return report->contradicts && !report->used && !report->removed
         && !report->measurement->set_aside;
}

/* --- for programs ---------------------------------------------------------- */

static void
add_measurement (JsonBuilder         *builder,
                 const OgMeasurement *measurement)
{
  g_autoptr (JsonNode) node = json_node_new (JSON_NODE_OBJECT);

  json_node_take_object (node, og_measurement_to_json (measurement));
  json_builder_set_member_name (builder, "measurement");
  json_builder_add_value (builder, g_steal_pointer (&node));
}

static void
add_reading (JsonBuilder     *builder,
             const OgReduced *reduced)
{
  OgEstimate estimate = reading_estimate (reduced);

  og_json_begin_object (builder, "reading");
  og_json_add_number (builder, "mpa_s", estimate.value);
  og_json_add_number (builder, "low80", estimate.low80);
  og_json_add_number (builder, "high80", estimate.high80);
  og_json_add_number (builder, "shear_rate_1_s", reduced->shear_rate_1_s);
  og_json_add_number (builder, "density_g_ml", reduced->density_g_ml);
  json_builder_end_object (builder);
}

static void
put_report_json (OgCall                *call,
                 const OgMeasureReport *report)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  add_measurement (builder, report->measurement);
  add_reading (builder, &report->measurement->reduced);
  og_json_add_estimate_member (builder, "before", &report->before);
  og_json_add_estimate_member (builder, "after", &report->after);
  og_json_add_number (builder, "surprise", report->surprise);
  og_json_add_boolean (builder, "used", report->used);
  og_json_add_boolean (builder, "contradicts", report->contradicts);
  og_json_add_boolean (builder, "removed", report->removed);
  og_json_add_boolean (builder, "written", report->written);
  og_call_end_json (call, builder);
}

static void
put_list_json (OgCall          *call,
               const GPtrArray *measurements,
               const GArray    *lessons)
{
  g_autoptr (JsonBuilder) builder = og_call_begin_json ();

  og_json_begin_array (builder, "measurements");
  for (guint i = 0; i < measurements->len; i++)
    {
      const OgMeasurement *measurement = g_ptr_array_index (measurements, i);
      const OgLesson *lesson = &g_array_index (lessons, OgLesson, i);

      json_builder_begin_object (builder);
      add_measurement (builder, measurement);
      add_reading (builder, &measurement->reduced);
      og_json_add_estimate_member (builder, "predicted", &lesson->predicted);
      og_json_add_number (builder, "surprise", lesson_surprise (lesson));
      og_json_add_boolean (builder, "used", lesson->used);
      og_json_add_boolean (builder, "contradicts", lesson->contradicts);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  og_call_end_json (call, builder);
}

/* --- for readers ----------------------------------------------------------- */

static const char *
measured_name (const OgMeasurement *measurement,
               const OgCatalog     *catalog)
{
  const OgIngredient *ingredient;

  if (measurement->material_id == NULL)
    return _("the recipe");
  ingredient = og_catalog_get (catalog, measurement->material_id);

  return ingredient != NULL ? ingredient->name : measurement->material_id;
}

static char *
method_text (const OgReading *reading)
{
  switch (reading->method)
    {
    case OG_METHOD_CUP:
      return g_strdup (og_cup_get_name (reading->cup));

    case OG_METHOD_POURS_LIKE:
      return g_strdup_printf ("%s: %s", og_method_get_name (reading->method),
                              og_likeness_get_name (reading->likeness));

    case OG_METHOD_BALL:
    case OG_METHOD_ROTATIONAL:
    case OG_N_METHODS:
    default:
      return g_strdup (og_method_get_name (reading->method));
    }
}

static void
put_what (OgCall                *call,
          const OgMeasureReport *report,
          const OgKept          *kept)
{
  const OgMeasurement *measurement = report->measurement;
  g_autofree char *method = method_text (&measurement->reading);
  g_autofree char *temperature = og_number_trimmed (measurement->reading.temperature_c, 2);
  g_autofree char *rate = og_number_significant (measurement->reduced.shear_rate_1_s, 4);
  g_autofree char *text = NULL;

  /* Translators: id of a reading, what was measured, method, temperature and shear rate */
  text = g_strdup_printf (_("Reading %s of %s: %s, %s °C, taken at %s 1/s"), measurement->id,
                          measured_name (measurement, kept->catalog), method, temperature, rate);
  og_text_put_wrapped ("", text, call->out);
}

static void
put_how (OgCall              *call,
         const OgMeasurement *measurement)
{
  const OgReading *reading = &measurement->reading;
  g_autofree char *density = NULL;
  g_autofree char *text = NULL;

  if (isfinite (measurement->reduced.density_g_ml))
    {
      density = og_number_fixed (measurement->reduced.density_g_ml, 3);
      text = g_strdup_printf (isfinite (reading->density_g_ml)
                                ? _("Density of the liquid %s g/ml, as measured.")
                                : _("Density of the liquid %s g/ml, as predicted."),
                              density);
      og_text_put_wrapped ("", text, call->out);
    }
  if (reading->method == OG_METHOD_CUP && og_cup_get_info (reading->cup)->recalled)
    og_text_put_wrapped ("", _("The formula of this cup is recalled; it was not compared with "
                               "the standard."), call->out);
}

static void
add_reading_row (OgTextTable     *table,
                 const OgReduced *reduced)
{
  OgEstimate estimate = reading_estimate (reduced);
  g_autofree char *value = og_number_significant (estimate.value, 3);
  g_autofree char *low = og_number_significant (estimate.low80, 3);
  g_autofree char *high = og_number_significant (estimate.high80, 3);

  og_text_table_add (table, (const char *[]) { _("Reading"), value, low, high });
}

static void
add_prediction_row (OgTextTable      *table,
                    const char       *name,
                    const OgEstimate *estimate)
{
  g_autofree char *value = og_number_viscosity (estimate->value);
  g_autofree char *low = og_number_viscosity (estimate->low80);
  g_autofree char *high = og_number_viscosity (estimate->high80);

  og_text_table_add (table, (const char *[]) { name, value, low, high });
}

static void
put_estimates (OgCall                *call,
               const OgMeasureReport *report)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("lrrr");

  og_text_table_add (table, (const char *[]) { NULL, _("mPa·s"), _("From, 80 %"), _("to") });
  add_reading_row (table, &report->measurement->reduced);
  add_prediction_row (table, report->removed ? _("Predicted with it") : _("Predicted before"),
                      &report->before);
  add_prediction_row (table, report->removed ? _("Predicted without it") : _("Predicted after"),
                      &report->after);
  og_text_table_put (table, 2, call->out);
}

static const char *
verdict (const OgMeasureReport *report)
{
  if (report->removed)
    return _("It was taken out.");
  if (report->measurement->set_aside)
    return _("It is set aside and not learned from.");
  if (!isfinite (report->surprise))
    return _("It is not learned from, because nothing can be predicted to compare it with.");
  if (!report->contradicts)
    return _("It is learned from.");

  return report->used ? _("It contradicts the prediction; it was accepted and is learned from.")
                      : _("It contradicts the prediction and is not learned from: check the "
                          "reading, the lot and the temperature, then accept it or take it out.");
}

static char *
surprise_text (double surprise)
{
  g_autofree char *number = og_number_fixed (fabs (surprise), 1);

  /* Translators: a number of standard deviations */
  return g_strdup_printf (surprise < 0
                            ? _("It lies %s standard deviations below what the composition alone "
                                "predicts.")
                            : _("It lies %s standard deviations above what the composition alone "
                                "predicts."),
                          number);
}

static void
put_verdict (OgCall                *call,
             const OgMeasureReport *report)
{
  if (isfinite (report->surprise))
    {
      g_autofree char *surprise = surprise_text (report->surprise);

      og_text_put_wrapped ("", surprise, call->out);
    }
  og_text_put_wrapped ("", verdict (report), call->out);
}

static void
put_file (OgCall                *call,
          const OgMeasureReport *report,
          const OgKept          *kept)
{
  g_autofree char *name = g_filename_display_name (kept->path);
  g_autofree char *text = NULL;

  if (!report->written)
    text = g_strdup (_("Nothing was written."));
  else if (kept->existed)
    text = g_strdup_printf (_("Written to %s; its previous version is %s~."), name, name);
  else
    text = g_strdup_printf (_("Written to %s, a new file."), name);
  og_text_put_wrapped ("", text, call->out);
}

void
og_measure_report_put (OgCall                *call,
                       const OgMeasureReport *report,
                       const OgKept          *kept)
{
  if (call->json)
    {
      put_report_json (call, report);
      return;
    }

  put_what (call, report, kept);
  put_how (call, report->measurement);
  g_string_append_c (call->out, '\n');
  put_estimates (call, report);
  g_string_append_c (call->out, '\n');
  put_verdict (call, report);
  put_file (call, report, kept);
}

static const char *
state_text (const OgMeasurement *measurement,
            const OgLesson      *lesson)
{
  if (measurement->set_aside)
    return _("set aside");
  if (lesson->contradicts)
    return lesson->used ? _("accepted") : _("contradicts");

  return lesson->used ? _("used") : _("not used");
}

static void
add_list_row (OgTextTable         *table,
              const OgMeasurement *measurement,
              const OgLesson      *lesson,
              const OgCatalog     *catalog)
{
  g_autofree char *method = method_text (&measurement->reading);
  g_autofree char *temperature = og_number_trimmed (measurement->reading.temperature_c, 2);
  g_autofree char *value = og_number_significant (measurement->reduced.mpa_s, 3);
  g_autofree char *predicted = og_number_viscosity (lesson->predicted.value);
  g_autofree char *surprise = og_number_fixed (lesson_surprise (lesson), 1);

  og_text_table_add (table, (const char *[]) { measurement->id, measurement->date,
                                               measured_name (measurement, catalog), method,
                                               temperature, value, predicted, surprise,
                                               state_text (measurement, lesson) });
}

static void
put_list_text (OgCall       *call,
               const OgKept *kept,
               const GArray *lessons)
{
  g_autoptr (OgTextTable) table = og_text_table_new ("llllrrrrl");
  const GPtrArray *measurements = og_kept_get_measurements (kept);

  if (measurements->len == 0)
    {
      g_string_append_printf (call->out, "%s\n", _("No readings."));
      return;
    }

  og_text_table_add (table, (const char *[]) { _("Id"), _("Date"), _("Measured"), _("Method"),
                                               _("°C"), _("mPa·s"), _("Predicted"),
                                               _("Surprise"), _("State") });
  for (guint i = 0; i < measurements->len; i++)
    add_list_row (table, g_ptr_array_index (measurements, i),
                  &g_array_index (lessons, OgLesson, i), kept->catalog);
  og_text_table_put (table, 2, call->out);
  og_text_put_wrapped ("", _("Predicted: from the composition alone, at the temperature and rate "
                             "of the reading. Surprise: how far the reading lies from it, in "
                             "standard deviations of both."), call->out);
}

void
og_measure_list_put (OgCall       *call,
                     const OgKept *kept,
                     GPtrArray    *all)
{
  g_autoptr (OgBelief) belief = og_belief_learn (all, kept->catalog);
  const GArray *lessons = og_belief_get_lessons (belief);

  if (call->json)
    put_list_json (call, og_kept_get_measurements (kept), lessons);
  else
    put_list_text (call, kept, lessons);
}
