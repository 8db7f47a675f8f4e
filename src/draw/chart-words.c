/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "draw/text.h"

const char *
og_chart_axis_title (OgCurveAxis axis)
{
  switch (axis)
    {
    case OG_CURVE_AGENT_PCT:
      return _("Gelling agent, wt %");
    case OG_CURVE_TEMPERATURE_C:
      return _("Temperature, °C");
    case OG_CURVE_SHEAR_RATE_1_S:
      return _("Shear rate, 1/s");
    case OG_N_CURVES:
    default:
      g_return_val_if_reached ("");
    }
}

const char *
og_chart_missing_text (const OgChart *chart)
{
  const OgCurve *own = og_chart_get_own (chart);

  if (own != NULL && own->n > 0)
    return _("No viscosity can be told for this recipe: one of its materials has none on record. "
             "Measure it and enter the value to see the curve.");
  if (og_chart_get_axis (chart) == OG_CURVE_AGENT_PCT)
    return _("No gelling agent in this recipe yet. Add one to see how its share changes the body.");

  return _("Nothing in this recipe flows yet. Add an oil to see its viscosity.");
}

char *
og_chart_place_text (OgCurveAxis axis,
                     double      x)
{
  g_autofree char *number = og_number_significant (x, 3);

  switch (axis)
    {
    case OG_CURVE_AGENT_PCT:
      return g_strdup_printf (_("%s wt %%"), number);
    case OG_CURVE_TEMPERATURE_C:
      return g_strdup_printf (_("%s °C"), number);
    case OG_CURVE_SHEAR_RATE_1_S:
      return g_strdup_printf (_("%s 1/s"), number);
    case OG_N_CURVES:
    default:
      g_return_val_if_reached (g_strdup (""));
    }
}

static gboolean
same_rate (double a,
           double b)
{
  return fabs (a - b) <= 1e-6 * b;
}

static char *
rate_text (double shear_rate_1_s)
{
  g_autofree char *number = NULL;

  if (same_rate (shear_rate_1_s, OG_SHEAR_REST))
    return g_strdup (_("at rest"));
  if (same_rate (shear_rate_1_s, OG_SHEAR_POUR))
    return g_strdup (_("when poured"));
  if (same_rate (shear_rate_1_s, OG_SHEAR_RUB))
    return g_strdup (_("when rubbed"));

  number = og_number_significant (shear_rate_1_s, 2);
  return g_strdup_printf (_("at %s 1/s"), number);
}

char *
og_chart_conditions_text (const OgCurve *curve)
{
  g_autofree char *rate = NULL;
  g_autofree char *number = NULL;

  if (isfinite (curve->shear_rate_1_s) && curve->axis != OG_CURVE_SHEAR_RATE_1_S)
    rate = rate_text (curve->shear_rate_1_s);
  if (!isfinite (curve->temperature_c) || curve->axis == OG_CURVE_TEMPERATURE_C)
    return g_steal_pointer (&rate);

  number = og_number_significant (curve->temperature_c, 3);
  if (rate == NULL)
    return g_strdup_printf (_("at %s °C"), number);

  /* Translators: a temperature, then how the oil is moved, as in "at 25 °C, when poured" */
  return g_strdup_printf (_("at %s °C, %s"), number, rate);
}

static char *
seconds_text (const OgChart *chart,
              double         mpa_s)
{
  g_autofree char *number = NULL;
  double seconds = og_chart_to_seconds (chart, mpa_s);

  if (isnan (seconds))
    return NULL;
  number = og_number_significant (seconds, 2);
  /* Translators: a time in seconds that a cup takes to run out */
  return g_strdup_printf (_("%s s"), number);
}

char *
og_chart_value_text (const OgChart *chart,
                     double         mpa_s)
{
  g_autofree char *value = og_number_with_unit (mpa_s);
  g_autofree char *seconds = seconds_text (chart, mpa_s);

  if (seconds == NULL)
    return g_steal_pointer (&value);
  /* Translators: a viscosity, then the time in seconds that a cup takes for it */
  return g_strdup_printf (_("%s, %s"), value, seconds);
}

char *
og_chart_cup_title (const OgChart *chart,
                    gboolean       covered)
{
  const char *name = og_cup_get_name (*chart->cup);

  if (!isfinite (chart->density_g_ml))
    /* Translators: %s is the name of a flow cup */
    return g_strdup_printf (_("%s: density unknown"), name);
  if (!covered)
    /* Translators: %s is the name of a flow cup */
    return g_strdup_printf (_("%s: nothing here runs in its range"), name);
  /* Translators: %s is the name of a flow cup, whose seconds stand on the right */
  return g_strdup_printf (_("right: s, %s"), name);
}

/* --- sentences --- */

static char *
extent_sentence (const OgCurve *own)
{
  guint first = 0, last = own->n - 1;
  g_autofree char *from = NULL;
  g_autofree char *to = NULL;

  while (first < last && !og_chart_has_point (own, first))
    first++;
  while (last > first && !og_chart_has_point (own, last))
    last--;
  from = og_chart_place_text (own->axis, own->x[first]);
  to = og_chart_place_text (own->axis, own->x[last]);

  switch (own->axis)
    {
    case OG_CURVE_AGENT_PCT:
      return g_strdup_printf (_("Viscosity against the share of the gelling agent, from %s to %s."),
                              from, to);
    case OG_CURVE_TEMPERATURE_C:
      return g_strdup_printf (_("Viscosity against temperature, from %s to %s."), from, to);
    case OG_CURVE_SHEAR_RATE_1_S:
      return g_strdup_printf (_("Viscosity against shear rate, from %s to %s."), from, to);
    case OG_N_CURVES:
    default:
      g_return_val_if_reached (g_strdup (""));
    }
}

static char *
own_sentence (const OgCurve *own)
{
  g_autofree char *place = og_chart_place_text (own->axis, own->own_x);
  g_autofree char *value = og_number_with_unit (own->own.value);
  g_autofree char *band = og_number_band (&own->own);

  if (band == NULL)
    return g_strdup_printf (_("This recipe lies at %s and has about %s."), place, value);

  /* Translators: place on the axis, viscosity, then "80 % between 400 and 1 800" */
  return g_strdup_printf (_("This recipe lies at %s and has about %s, %s."), place, value, band);
}

static char *
cup_sentence (const OgChart *chart)
{
  g_autofree char *seconds = seconds_text (chart, og_chart_get_own (chart)->own.value);
  const char *name = og_cup_get_name (*chart->cup);

  if (seconds == NULL)
    /* Translators: %s is the name of a flow cup */
    return g_strdup_printf (_("It lies outside the range of the %s."), name);
  /* Translators: a time, then the name of a flow cup */
  return g_strdup_printf (_("That is %s in the %s."), seconds, name);
}

static char *
describe_others (const OgChart *chart)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint c = 1; c < MIN (chart->n_curves, OG_CHART_MAX_CURVES); c++)
    g_string_append_printf (names, "%s%s", c > 1 ? _(", ") : "",
                            chart->names[c] != NULL ? chart->names[c] : _("another recipe"));
  /* Translators: names of recipes */
  return g_strdup_printf (_("Beside it is drawn: %s."), names->str);
}

char *
og_chart_describe (const OgChart *chart)
{
  const OgCurve *own;
  GString *text;

  g_return_val_if_fail (chart != NULL, NULL);

  own = og_chart_get_own (chart);
  if (!og_chart_has_points (own))
    return g_strdup (og_chart_missing_text (chart));

  text = g_string_new (NULL);
  og_sentences_add (text, extent_sentence (own));
  if (og_chart_is_place (own, own->own_x) && og_chart_is_viscosity (own->own.value))
    {
      og_sentences_add (text, own_sentence (own));
      if (chart->cup != NULL)
        og_sentences_add (text, cup_sentence (chart));
    }
  if (isfinite (own->mark_x))
    {
      g_autofree char *place = og_chart_place_text (own->axis, own->mark_x);

      og_sentences_add (text, g_strdup_printf (own->axis == OG_CURVE_TEMPERATURE_C
                                                 ? _("It sets at %s.")
                                                 : _("The gel point lies at %s."),
                                               place));
    }
  if (own->axis == OG_CURVE_TEMPERATURE_C && isfinite (own->clear_x))
    {
      g_autofree char *place = og_chart_place_text (own->axis, own->clear_x);

      og_sentences_add (text, g_strdup_printf (_("It clears at %s when warmed."), place));
    }
  if (og_chart_has_marks (chart))
    og_sentences_add (text, g_strdup (_("Bench readings are marked.")));
  if (chart->n_curves > 1)
    og_sentences_add (text, describe_others (chart));

  return g_string_free (text, FALSE);
}
