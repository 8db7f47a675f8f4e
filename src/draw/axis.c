/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/axis.h"

#include <math.h>

#include "core/base/number-text.h"

#define LARGEST 1e100
#define SMALLEST_POSITIVE 1e-100
#define RELATIVE_SPAN 1e-5 /* narrower ranges are taken as one value */
#define SLACK 1e-6         /* of a step: rounding error allowed when a bound lies on a tick */
#define NICE_INTERVALS 5
#define MOST_TICKS 400
#define MOST_DECADES_WITH_MINOR 20

/* mantissa times a power of ten, kept apart so that multiples print as decimals */
typedef struct
{
  int mantissa; /* 1, 2 or 5 */
  int exponent;
} NiceStep;

static double
nice_multiple (NiceStep step,
               double   count)
{
  if (step.exponent < 0)
    return count * step.mantissa / pow (10, -step.exponent);

  return count * step.mantissa * pow (10, step.exponent);
}

/* smallest of 1, 2, 5 x 10^n that is not below @rough */
static NiceStep
nice_step (double rough)
{
  NiceStep step = { 1, (int) floor (log10 (rough)) };
  static const int mantissas[] = { 1, 2, 5 };

  for (guint i = 0; i < G_N_ELEMENTS (mantissas); i++)
    {
      step.mantissa = mantissas[i];
      if (nice_multiple (step, 1) >= rough * (1 - SLACK))
        return step;
    }

  return (NiceStep) { 1, step.exponent + 1 };
}

void
og_axis_extend (double  value,
                double *low,
                double *high)
{
  if (!isfinite (value))
    return;
  *low = isnan (*low) ? value : MIN (*low, value);
  *high = isnan (*high) ? value : MAX (*high, value);
}

static void
sort_bounds (double *low,
             double *high)
{
  if (!isfinite (*low))
    *low = *high;
  if (!isfinite (*high))
    *high = *low;
  if (*low > *high)
    {
      double swap = *low;

      *low = *high;
      *high = swap;
    }
}

static OgAxis
nice_linear (double low,
             double high)
{
  NiceStep step;
  double first, last;

  sort_bounds (&low, &high);
  if (!isfinite (low))
    return (OgAxis) { 0, 1, FALSE };

  low = CLAMP (low, -LARGEST, LARGEST);
  high = CLAMP (high, -LARGEST, LARGEST);
  if (high - low <= MAX (SMALLEST_POSITIVE, RELATIVE_SPAN * MAX (fabs (low), fabs (high))))
    {
      double reach = fabs (low) <= SMALLEST_POSITIVE ? 1 : fabs (low) / 2;

      low -= reach;
      high += reach;
    }

  step = nice_step ((high - low) / NICE_INTERVALS);
  first = floor (low / nice_multiple (step, 1) + SLACK);
  last = ceil (high / nice_multiple (step, 1) - SLACK);

  return (OgAxis) { nice_multiple (step, first), nice_multiple (step, last), FALSE };
}

/* largest of 1, 2, 5 x 10^n that is not above @value */
static double
nice_below (double value)
{
  int exponent = (int) floor (log10 (value) + SLACK);
  static const int mantissas[] = { 5, 2 };

  for (guint i = 0; i < G_N_ELEMENTS (mantissas); i++)
    {
      double nice = nice_multiple ((NiceStep) { mantissas[i], exponent }, 1);

      if (nice <= value * (1 + SLACK))
        return nice;
    }

  return nice_multiple ((NiceStep) { 1, exponent }, 1);
}

static OgAxis
nice_logarithmic (double low,
                  double high)
{
  if (!(low > 0))
    low = NAN;
  if (!(high > 0))
    high = NAN;
  sort_bounds (&low, &high);
  if (!isfinite (low))
    return (OgAxis) { 1, 10, TRUE };

  low = CLAMP (low, SMALLEST_POSITIVE, LARGEST);
  high = CLAMP (high, SMALLEST_POSITIVE, LARGEST);
  if (high / low <= 1 + RELATIVE_SPAN)
    {
      low /= sqrt (10);
      high *= sqrt (10);
    }

  return (OgAxis) { nice_below (low), nice_multiple (nice_step (high), 1), TRUE };
}

OgAxis
og_axis_nice (double   low,
              double   high,
              gboolean logarithmic)
{
  return logarithmic ? nice_logarithmic (low, high) : nice_linear (low, high);
}

double
og_axis_map (const OgAxis *axis,
             double        value)
{
  if (!isfinite (value))
    return NAN;
  if (!axis->logarithmic)
    return (value - axis->low) / (axis->high - axis->low);
  if (value <= 0)
    return NAN;

  return log (value / axis->low) / log (axis->high / axis->low);
}

double
og_axis_unmap (const OgAxis *axis,
               double        position)
{
  if (!axis->logarithmic)
    return axis->low + position * (axis->high - axis->low);

  return axis->low * pow (axis->high / axis->low, position);
}

static void
add_tick (GArray   *ticks,
          double    value,
          gboolean  major)
{
  OgTick tick = { value + 0.0, major }; /* no -0 */

  if (ticks->len > 0 && !(value > g_array_index (ticks, OgTick, ticks->len - 1).value))
    return;
  if (ticks->len < MOST_TICKS)
    g_array_append_val (ticks, tick);
}

static void
add_linear_ticks (GArray       *ticks,
                  const OgAxis *axis,
                  guint         most)
{
  double span = axis->high - axis->low;
  NiceStep step = nice_step (span / MAX (1, most));
  int parts;
  double first, last, slack;

  /* bounds on a tick add one more; widen the step until the count fits */
  for (;;)
    {
      first = ceil (axis->low / nice_multiple (step, 1) - SLACK);
      last = floor (axis->high / nice_multiple (step, 1) + SLACK);
      if (last - first + 1 <= most)
        break;
      step = nice_step (nice_multiple (step, 1) * 1.5);
    }

  parts = step.mantissa == 2 ? 4 : 5;
  slack = SLACK * nice_multiple (step, 1);
  for (double i = (first - 1) * parts; i <= (last + 1) * parts; i++)
    {
      gboolean major = fmod (i, parts) == 0;
      double value = major ? nice_multiple (step, i / parts) : nice_multiple (step, i) / parts;

      if (value < axis->low - slack || value > axis->high + slack)
        continue;
      add_tick (ticks, value, major);
    }
}

static guint
count_logarithmic (const OgAxis *axis,
                   gboolean      decades_only)
{
  int first = (int) floor (log10 (axis->low));
  int last = (int) ceil (log10 (axis->high));
  static const int mantissas[] = { 1, 2, 5 };
  guint count = 0;

  for (int e = first; e <= last; e++)
    for (guint i = 0; i < (decades_only ? 1 : G_N_ELEMENTS (mantissas)); i++)
      {
        double value = nice_multiple ((NiceStep) { mantissas[i], e }, 1);

        if (value >= axis->low * (1 - SLACK) && value <= axis->high * (1 + SLACK))
          count++;
      }

  return count;
}

static void
add_logarithmic_ticks (GArray       *ticks,
                       const OgAxis *axis,
                       guint         most)
{
  int first = (int) floor (log10 (axis->low));
  int last = (int) ceil (log10 (axis->high));
  guint decades = count_logarithmic (axis, TRUE);
  guint all = count_logarithmic (axis, FALSE);
  gboolean label_all = decades < 3 && all <= most;
  int every = (int) ((decades + most - 1) / MAX (1, most));
  static const int mantissas[] = { 1, 2, 5 };

  every = MAX (1, every);
  if (all < 2)
    {
      add_linear_ticks (ticks, axis, most);
      return;
    }

  for (int e = first; e <= last; e++)
    for (guint i = 0; i < G_N_ELEMENTS (mantissas); i++)
      {
        double value = nice_multiple ((NiceStep) { mantissas[i], e }, 1);
        gboolean major = label_all || (i == 0 && ((e % every) + every) % every == 0);

        if (value < axis->low * (1 - SLACK) || value > axis->high * (1 + SLACK))
          continue;
        if (!major && (every > 1 ? i > 0 : last - first > MOST_DECADES_WITH_MINOR))
          continue;
        add_tick (ticks, value, major);
      }
}

GArray *
og_axis_ticks (const OgAxis *axis,
               guint         most)
{
  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (OgTick));

  if (!isfinite (axis->low) || !isfinite (axis->high) || !(axis->high > axis->low) || most == 0)
    return ticks;

  if (axis->logarithmic && axis->low > 0)
    add_logarithmic_ticks (ticks, axis, most);
  else if (!axis->logarithmic)
    add_linear_ticks (ticks, axis, most);

  return ticks;
}

char *
og_axis_label (const OgAxis *axis,
               double        value)
{
  double span = axis->high - axis->low;

  if (!isfinite (value) || axis->logarithmic || !(span > 0))
    return og_number_significant (value, 3);
  if (fabs (value) < span * SLACK)
    return g_strdup ("0");
  if (MAX (fabs (axis->low), fabs (axis->high)) >= 1e7 || span < 1e-3)
    return og_number_significant (value, 6);

  return og_number_trimmed (value, MAX (0, (int) ceil (2 - log10 (span))));
}
