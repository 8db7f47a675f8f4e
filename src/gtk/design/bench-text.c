/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/base/statistics.h"
#include "gtk/design/bench-text.h"

#define AGREES_SD 2.0
#define HARDLY_MOVED 0.005    /* of ln(mPa.s) */
#define HARDLY_NARROWER 0.03  /* of the width of the band */

static char *
seconds_to_text (const OgReading *reading)
{
  g_autofree char *number = NULL;
  double sum = 0.0;

  for (guint i = 0; i < reading->n_seconds; i++)
    sum += reading->seconds[i];
  number = og_number_trimmed (sum / reading->n_seconds, 1);
  if (reading->n_seconds == 1)
    /* Translators: a time in seconds */
    return g_strdup_printf (_("%s s"), number);
  /* Translators: a time in seconds, then how many readings it is the mean of */
  return g_strdup_printf (ngettext ("%s s, mean of %u", "%s s, mean of %u", reading->n_seconds),
                          number, reading->n_seconds);
}

static char *
rotational_to_text (const OgReading *reading)
{
  g_autofree char *value = og_number_with_unit (reading->mpa_s);
  g_autofree char *rate = NULL;

  if (!isfinite (reading->shear_rate_1_s))
    /* Translators: a viscosity that was read off an instrument */
    return g_strdup_printf (_("Rotational: %s, shear rate not known"), value);
  rate = og_number_significant (reading->shear_rate_1_s, 3);
  /* Translators: a viscosity that was read off an instrument, and the shear rate there */
  return g_strdup_printf (_("Rotational: %s at %s per second"), value, rate);
}

char *
og_bench_method_to_text (const OgReading *reading)
{
  g_autofree char *seconds = NULL;

  g_return_val_if_fail (reading != NULL, NULL);

  switch (reading->method)
    {
    case OG_METHOD_CUP:
      seconds = seconds_to_text (reading);
      return g_strdup_printf ("%s: %s", og_cup_get_name (reading->cup), seconds);

    case OG_METHOD_BALL:
      seconds = seconds_to_text (reading);
      return g_strdup_printf ("%s: %s", og_method_get_name (OG_METHOD_BALL), seconds);

    case OG_METHOD_ROTATIONAL:
      return rotational_to_text (reading);

    case OG_METHOD_POURS_LIKE:
      return g_strdup_printf ("%s: %s", og_method_get_name (OG_METHOD_POURS_LIKE),
                              og_likeness_get_name (reading->likeness));

    case OG_N_METHODS:
    default:
      g_return_val_if_reached (NULL);
    }
}

char *
og_bench_value_to_text (const OgReduced *reduced)
{
  g_autofree char *value = NULL;
  g_autofree char *spread = NULL;

  g_return_val_if_fail (reduced != NULL, NULL);

  value = og_number_viscosity (reduced->mpa_s);
  spread = og_number_fixed (100.0 * expm1 (reduced->ln_sd), 0);
  /* Translators: a viscosity that was read, and its standard deviation */
  return g_strdup_printf (_("%s mPa·s ± %s %%"), value, spread);
}

char *
og_bench_spread_to_text (const OgReduced *reduced)
{
  OgEstimate estimate;
  double factor;

  g_return_val_if_fail (reduced != NULL, NULL);

  factor = exp (OG_HALF_BAND_SD * reduced->ln_sd);
  estimate = (OgEstimate) { reduced->mpa_s, reduced->mpa_s / factor, reduced->mpa_s * factor };
  return og_number_band (&estimate);
}

static char *
distance_to_text (const OgLesson *lesson)
{
  return og_number_fixed (fabs (lesson->surprise), 1);
}

static char *
contradiction_to_text (const OgLesson *lesson)
{
  g_autofree char *distance = distance_to_text (lesson);

  /* Translators: %s is a number above 3 */
  return g_strdup_printf (lesson->surprise > 0.0
                            ? _("It contradicts the prediction: %s standard deviations above it.")
                            : _("It contradicts the prediction: %s standard deviations below it."),
                          distance);
}

char *
og_bench_agreement_to_text (const OgLesson *lesson)
{
  g_autofree char *distance = NULL;
  const gboolean above = lesson != NULL && lesson->surprise > 0.0;

  g_return_val_if_fail (lesson != NULL, NULL);

  if (!og_estimate_is_known (&lesson->predicted))
    return g_strdup (_("Nothing can be predicted for it, so nothing can be learned from it."));
  if (lesson->contradicts)
    return contradiction_to_text (lesson);
  distance = distance_to_text (lesson);
  if (fabs (lesson->surprise) <= AGREES_SD)
    /* Translators: %s is a number up to 2 */
    return g_strdup_printf (above
                              ? _("It agrees: %s standard deviations above the prediction.")
                              : _("It agrees: %s standard deviations below the prediction."),
                            distance);
  /* Translators: %s is a number between 2 and 3 */
  return g_strdup_printf (above
                            ? _("It is far off, but no contradiction: %s standard deviations above "
                                "the prediction.")
                            : _("It is far off, but no contradiction: %s standard deviations below "
                                "the prediction."),
                          distance);
}

char *
og_bench_conflict_to_text (const OgReduced *reduced,
                           const OgLesson  *lesson)
{
  g_autofree char *read = NULL;
  g_autofree char *predicted = NULL;
  g_autofree char *range = NULL;

  g_return_val_if_fail (reduced != NULL && lesson != NULL, NULL);

  read = og_number_with_unit (reduced->mpa_s);
  predicted = og_number_viscosity (lesson->predicted.value);
  range = og_number_range (&lesson->predicted);
  if (range == NULL)
    range = og_number_viscosity (NAN);
  if (lesson->used)
    /* Translators: a viscosity that was read, the one that was predicted, and its 80 % range */
    return g_strdup_printf (_("Contradicts, and is learned from because you accepted it: %s was "
                              "read where %s (%s) was expected."), read, predicted, range);
  /* Translators: a viscosity that was read, the one that was predicted, and its 80 % range */
  return g_strdup_printf (_("Contradicts: %s was read where %s (%s) was expected. Look for a wrong "
                            "temperature, an air bubble or a mistaken line. Nothing is learned "
                            "from it until you accept it."), read, predicted, range);
}

/* Returns: (transfer full) (nullable): how much the band shrank or grew */
static char *
narrowing_to_text (const OgEstimate *without,
                   const OgEstimate *with)
{
  double ratio = log (with->high80 / with->low80) / log (without->high80 / without->low80);
  g_autofree char *change = NULL;

  if (!isfinite (ratio))
    return NULL;
  change = og_number_fixed (100.0 * fabs (1.0 - ratio), 0);
  if (ratio > 1.0 + HARDLY_NARROWER)
    /* Translators: %s is a percentage */
    return g_strdup_printf (_("the band is %s %% wider"), change);
  if (ratio < 1.0 - HARDLY_NARROWER)
    /* Translators: %s is a percentage */
    return g_strdup_printf (_("the band is %s %% narrower"), change);
  return g_strdup (_("the band is as wide as without it"));
}

char *
og_bench_effect_to_text (const OgEstimate *without,
                         const OgEstimate *with)
{
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autofree char *narrowing = NULL;

  g_return_val_if_fail (without != NULL && with != NULL, NULL);

  if (!og_estimate_is_known (without) || !og_estimate_is_known (with))
    return g_strdup (_("Nothing can be predicted for the recipe as it is now."));
  narrowing = narrowing_to_text (without, with);
  if (narrowing == NULL)
    narrowing = g_strdup (_("the band is not known"));
  before = og_number_viscosity (without->value);
  after = og_number_with_unit (with->value);
  if (fabs (log (with->value / without->value)) < HARDLY_MOVED || g_str_has_prefix (after, before))
    /* Translators: a viscosity, then how the width of its band changed */
    return g_strdup_printf (_("Leaves the prediction for this recipe at %s; %s."), after,
                            narrowing);
  /* Translators: viscosities before and after, then how the width of the band changed */
  return g_strdup_printf (_("Moves the prediction for this recipe from %s to %s; %s."), before,
                          after, narrowing);
}
