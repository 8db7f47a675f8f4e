/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/base/statistics.h"
#include "draw/axis.h"
#include "draw/paint.h"
#include "draw/text.h"

#define SAME_TEMPERATURE_C 1.5 /* this and the next two: readings still taken under the same conditions; judgement */
#define SAME_RATE_RATIO 3.0
#define SAME_SHARE_PCT 0.05
#define SMALL_TEXT 0.92
#define SWATCH_WIDTH 22.0 /* this and the next at mark scale 1 */
#define LEGEND_GAP 14.0
#define RING_RADIUS 4.5
#define MARKER_RADIUS 3.0
#define MAX_LEGEND_ITEMS (OG_CHART_MAX_CURVES + 4)
#define MIN_PLOT_WIDTH 48.0
#define MIN_PLOT_HEIGHT 36.0
#define THINNING 0.15
#define FARTHEST 50.0 /* plot heights: how far outside the plot a point is still drawn */
#define FARTHEST_X 1e9 /* wt %, Celsius or 1/s: nothing real lies beyond */
#define LOWEST_MPA_S 1e-6
#define HIGHEST_MPA_S 1e12
#define SMALLEST_RATIO 4.0 /* of the viscosity axis, so that a flat curve looks flat */
#define MAX_OBSTACLES 16

typedef enum
{
  LEGEND_CURVE,
  LEGEND_BAND,
  LEGEND_PRIOR,
  LEGEND_MEASURED,
  LEGEND_EXTRAPOLATED
} LegendKind;

typedef struct
{
  LegendKind kind;
  guint      curve;
  double     x, y, width;
  PangoLayout *layout;
} LegendItem;

/* Where everything of one chart goes. */
typedef struct
{
  const OgChart     *chart;
  const OgDrawStyle *style;
  PangoContext      *context;
  double             width, height;
  double             pad, line, small_line;
  double             marks; /* og_mark_scale() */
  gboolean           legend_wanted, x_title_wanted, title_wanted;
  double             legend_height;
  LegendItem         legend[MAX_LEGEND_ITEMS];
  guint              n_legend;
  OgRect             plot;
  OgAxis             x, y;
  GArray            *x_ticks, *y_ticks;
  OgAxis             cup;  /* seconds; where the cup covers the viscosity axis */
  GArray            *cup_ticks; /* nullable */
  double             cup_top; /* of the line that names the cup */
  OgRect             obstacles[MAX_OBSTACLES];
  guint              n_obstacles;
} Frame;

/* --- curves --- */

static const OgCurve *
own_curve (const OgChart *chart)
{
  return chart->n_curves > 0 ? chart->curves[0] : NULL;
}

static OgCurveAxis
chart_axis (const OgChart *chart)
{
  return own_curve (chart) != NULL ? own_curve (chart)->axis : OG_CURVE_AGENT_PCT;
}

static gboolean
is_place (const OgCurve *curve,
          double         x)
{
  return fabs (x) <= FARTHEST_X && (curve->axis != OG_CURVE_SHEAR_RATE_1_S || x >= 1 / FARTHEST_X);
}

static gboolean
is_viscosity (double mpa_s)
{
  return isfinite (mpa_s) && mpa_s > 0;
}

static gboolean
has_points (const OgCurve *curve)
{
  if (curve == NULL)
    return FALSE;
  for (guint i = 0; i < curve->n; i++)
    if (is_place (curve, curve->x[i]) && is_viscosity (curve->value[i]))
      return TRUE;

  return FALSE;
}

static gboolean
has_prior (const OgCurve *curve)
{
  return has_points (curve) && curve->prior_low80 != NULL && curve->prior_high80 != NULL;
}

static gboolean
any_points (const OgChart *chart)
{
  for (guint i = 0; i < MIN (chart->n_curves, OG_CHART_MAX_CURVES); i++)
    if (has_points (chart->curves[i]))
      return TRUE;

  return FALSE;
}

/* straight in ln viscosity, and in ln of the shear rate */
static double
between (double a,
         double b,
         double t)
{
  if (!is_viscosity (a) || !is_viscosity (b))
    return t <= 0 ? a : t >= 1 ? b : NAN;

  return exp (log (a) + t * (log (b) - log (a)));
}

static OgEstimate
curve_at (const OgCurve *curve,
          double         x)
{
  OgEstimate unknown = { NAN, NAN, NAN };
  guint below = 0, above;
  double t, x0, x1;

  if (curve == NULL || curve->n == 0 || !is_place (curve, x))
    return unknown;
  above = curve->n - 1;
  if (!(x >= curve->x[below] && x <= curve->x[above]))
    return unknown;

  while (above - below > 1)
    {
      guint middle = (below + above) / 2;

      if (curve->x[middle] <= x)
        below = middle;
      else
        above = middle;
    }
  x0 = curve->x[below];
  x1 = curve->x[above];
  if (!is_place (curve, x0) || !is_place (curve, x1))
    return unknown;
  if (!(x1 > x0))
    t = 0;
  else if (curve->axis == OG_CURVE_SHEAR_RATE_1_S)
    t = log (x / x0) / log (x1 / x0);
  else
    t = (x - x0) / (x1 - x0);

  return (OgEstimate) {
    between (curve->value[below], curve->value[above], t),
    between (curve->low80[below], curve->low80[above], t),
    between (curve->high80[below], curve->high80[above], t),
  };
}

/* --- words --- */

static const char *
axis_title (OgCurveAxis axis)
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

static const char *
missing_text (const OgChart *chart)
{
  const OgCurve *own = own_curve (chart);

  if (own != NULL && own->n > 0)
    return _("No viscosity can be told for this recipe: one of its materials has none on record. "
             "Measure it and enter the value to see the curve.");
  if (chart_axis (chart) == OG_CURVE_AGENT_PCT)
    return _("No gelling agent in this recipe yet. Add one to see how its share changes the body.");

  return _("Nothing in this recipe flows yet. Add an oil to see its viscosity.");
}

static char *
place_text (OgCurveAxis axis,
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

/* what the own curve holds constant; NULL if nothing */
static char *
conditions_text (const OgCurve *curve)
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

static const char *
mark_text (OgCurveAxis axis)
{
  return axis == OG_CURVE_TEMPERATURE_C ? C_("temperature", "sets") : _("gel point");
}

/* --- bench readings --- */

static gboolean
same_conditions (const OgChart *chart,
                 const OgMark  *mark,
                 OgCurveAxis    axis)
{
  const OgCurve *own = own_curve (chart);
  gboolean agent = isfinite (chart->marks_agent_pct);

  if (axis != OG_CURVE_TEMPERATURE_C && fabs (mark->temperature_c - own->temperature_c) > SAME_TEMPERATURE_C)
    return FALSE;
  if (axis != OG_CURVE_AGENT_PCT && agent &&
      !(fabs (mark->agent_pct - chart->marks_agent_pct) <= SAME_SHARE_PCT))
    return FALSE;
  /* a liquid without an agent flows alike at every rate */
  if (axis != OG_CURVE_SHEAR_RATE_1_S && agent && isfinite (mark->shear_rate_1_s) &&
      fabs (log (mark->shear_rate_1_s / own->shear_rate_1_s)) > log (SAME_RATE_RATIO))
    return FALSE;

  return TRUE;
}

/* Returns: where on the x axis the reading belongs; NAN if it was taken under other conditions than the curve's */
static double
mark_place (const OgChart *chart,
            const OgMark  *mark)
{
  OgCurveAxis axis = chart_axis (chart);
  double x = axis == OG_CURVE_AGENT_PCT ? mark->agent_pct
             : axis == OG_CURVE_TEMPERATURE_C ? mark->temperature_c
                                              : mark->shear_rate_1_s;

  if (!has_points (own_curve (chart)) || !is_place (own_curve (chart), x) || !is_viscosity (mark->mpa_s) ||
      !same_conditions (chart, mark, axis))
    return NAN;

  return x;
}

static guint
n_marks (const OgChart *chart)
{
  return chart->marks != NULL ? chart->marks->len : 0;
}

static gboolean
has_marks (const OgChart *chart)
{
  for (guint i = 0; i < n_marks (chart); i++)
    if (!isnan (mark_place (chart, &g_array_index (chart->marks, OgMark, i))))
      return TRUE;

  return FALSE;
}

/* --- seconds of a cup --- */

/* NAN where the cup does not cover it */
static double
to_seconds (const OgChart *chart,
            double         mpa_s)
{
  return chart->cup != NULL ? og_cup_seconds (*chart->cup, mpa_s / chart->density_g_ml) : NAN;
}

static double
from_seconds (const OgChart *chart,
              double         seconds)
{
  return og_cup_kinematic (*chart->cup, seconds) * chart->density_g_ml;
}

static char *
seconds_text (const OgChart *chart,
              double         mpa_s)
{
  g_autofree char *number = NULL;
  double seconds = to_seconds (chart, mpa_s);

  if (isnan (seconds))
    return NULL;
  number = og_number_significant (seconds, 2);
  /* Translators: a time in seconds that a cup takes to run out */
  return g_strdup_printf (_("%s s"), number);
}

/* --- layout --- */

static void
range_add_viscosity (double  mpa_s,
                     double *low,
                     double *high)
{
  if (mpa_s >= LOWEST_MPA_S && mpa_s <= HIGHEST_MPA_S)
    og_axis_extend (mpa_s, low, high);
}

static gboolean
has_target (const OgChart *chart)
{
  return is_viscosity (chart->target_low_mpa_s) && is_viscosity (chart->target_high_mpa_s) &&
         chart->target_low_mpa_s <= chart->target_high_mpa_s;
}

static void
frame_set_y_axis (Frame *f)
{
  const OgChart *chart = f->chart;
  double low = NAN, high = NAN, middle;

  for (guint c = 0; c < chart->n_curves; c++)
    for (guint i = 0; chart->curves[c] != NULL && i < chart->curves[c]->n; i++)
      {
        const OgCurve *curve = chart->curves[c];

        range_add_viscosity (curve->value[i], &low, &high);
        if (c == 0)
          {
            range_add_viscosity (curve->low80[i], &low, &high);
            range_add_viscosity (curve->high80[i], &low, &high);
          }
      }
  if (has_target (chart))
    {
      range_add_viscosity (chart->target_low_mpa_s, &low, &high);
      range_add_viscosity (chart->target_high_mpa_s, &low, &high);
    }

  for (guint i = 0; i < n_marks (chart); i++)
    {
      const OgMark *mark = &g_array_index (chart->marks, OgMark, i);

      if (!isnan (mark_place (chart, mark)))
        range_add_viscosity (mark->mpa_s, &low, &high);
    }

  middle = sqrt (low * high);
  if (high / low < SMALLEST_RATIO)
    {
      low = middle / sqrt (SMALLEST_RATIO);
      high = middle * sqrt (SMALLEST_RATIO);
    }
  f->y = og_axis_nice (low * 0.97, high * 1.03, TRUE);
}

static void
frame_set_x_axis (Frame *f)
{
  gboolean logarithmic = chart_axis (f->chart) == OG_CURVE_SHEAR_RATE_1_S;
  double low = NAN, high = NAN;

  for (guint c = 0; c < f->chart->n_curves; c++)
    for (guint i = 0; f->chart->curves[c] != NULL && i < f->chart->curves[c]->n; i++)
      if (is_place (f->chart->curves[c], f->chart->curves[c]->x[i]))
        og_axis_extend (f->chart->curves[c]->x[i], &low, &high);

  f->x = (OgAxis) { low, high, logarithmic };
  if (!(high > low))
    f->x = og_axis_nice (low, high, logarithmic);
}

static gboolean
is_extrapolated (const Frame *f)
{
  const OgCurve *own = own_curve (f->chart);

  return own != NULL && ((isfinite (own->valid_low_x) && own->valid_low_x > f->x.low) ||
                         (isfinite (own->valid_high_x) && own->valid_high_x < f->x.high));
}

static void
legend_add (Frame      *f,
            LegendKind  kind,
            guint       curve,
            const char *text)
{
  LegendItem *item = &f->legend[f->n_legend++];
  double width;

  item->kind = kind;
  item->curve = curve;
  item->layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
  pango_layout_set_single_paragraph_mode (item->layout, TRUE);
  og_text_get_size (item->layout, &width, NULL);
  if (width > 0.42 * f->width)
    {
      og_text_set_width (item->layout, 0.42 * f->width, TRUE);
      width = 0.42 * f->width;
    }
  item->width = (SWATCH_WIDTH + 5) * f->marks + width;
}

static void
legend_drop_last (Frame *f)
{
  g_clear_object (&f->legend[--f->n_legend].layout);
}

static void
legend_fill (Frame *f)
{
  const OgChart *chart = f->chart;

  for (guint c = 0; c < MIN (chart->n_curves, OG_CHART_MAX_CURVES); c++)
    if (has_points (chart->curves[c]))
      legend_add (f, LEGEND_CURVE, c,
                  chart->names[c] != NULL ? chart->names[c] : _("This recipe"));
  /* xgettext:no-c-format */
  if (has_points (own_curve (chart)))
    legend_add (f, LEGEND_BAND, 0, _("80 % band"));
  if (has_prior (own_curve (chart)))
    legend_add (f, LEGEND_PRIOR, 0, _("before measuring"));
  if (has_marks (chart))
    legend_add (f, LEGEND_MEASURED, 0, _("measured"));
  if (is_extrapolated (f))
    legend_add (f, LEGEND_EXTRAPOLATED, 0, _("extrapolated"));
}

/* Flows the items into rows from the reading start; those beyond @most_rows are left out. */
static void
legend_flow (Frame *f,
             double top,
             guint  most_rows)
{
  double room = f->width - 2 * f->pad;
  double row_height = f->small_line * 1.25;
  double x = 0;
  guint row = 0;

  for (guint i = 0; i < f->n_legend; i++)
    {
      LegendItem *item = &f->legend[i];

      if (x > 0 && x + item->width > room)
        {
          x = 0;
          row++;
        }
      if (row >= most_rows)
        {
          while (f->n_legend > i)
            legend_drop_last (f);
          break;
        }
      item->x = f->style->rtl ? f->width - f->pad - x - item->width : f->pad + x;
      item->y = top + row * row_height;
      x += item->width + LEGEND_GAP * f->marks;
    }

  f->legend_height = f->n_legend > 0 ? f->legend[f->n_legend - 1].y + row_height - top : 0;
}

static double
widest_label (Frame        *f,
              const OgAxis *axis,
              const GArray *ticks)
{
  double widest = 0;

  for (guint i = 0; i < ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (ticks, OgTick, i);
      g_autofree char *text = NULL;
      g_autoptr (PangoLayout) layout = NULL;
      double width;

      if (!tick->major)
        continue;
      text = og_axis_label (axis, tick->value);
      layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
      og_text_get_size (layout, &width, NULL);
      widest = MAX (widest, width);
    }

  return widest;
}

static guint
count_major (const GArray *ticks)
{
  guint n = 0;

  for (guint i = 0; i < ticks->len; i++)
    n += g_array_index (ticks, OgTick, i).major ? 1 : 0;

  return n;
}

/* As many x labels as stand side by side with room between them. Returns: the widest */
static double
frame_set_x_ticks (Frame  *f,
                   double  room)
{
  double widest = 0;

  for (guint most = 11; most >= 2; most--)
    {
      guint n;

      g_clear_pointer (&f->x_ticks, g_array_unref);
      f->x_ticks = og_axis_ticks (&f->x, most);
      n = count_major (f->x_ticks);
      widest = widest_label (f, &f->x, f->x_ticks);
      if (n * (widest + 1.6 * f->small_line) <= room || most == 2)
        break;
      most = MIN (most, n + 1);
    }

  return widest;
}

/* The seconds between which the cup covers the viscosity axis. */
static void
frame_set_cup_axis (Frame *f)
{
  const OgCupInfo *info;

  if (f->chart->cup == NULL || !isfinite (f->chart->density_g_ml))
    return;
  info = og_cup_get_info (*f->chart->cup);
  if (from_seconds (f->chart, info->low_s) >= f->y.high
      || from_seconds (f->chart, info->high_s) <= f->y.low)
    return;
  f->cup.low = from_seconds (f->chart, info->low_s) > f->y.low ? info->low_s
                                                               : to_seconds (f->chart, f->y.low);
  f->cup.high = from_seconds (f->chart, info->high_s) < f->y.high ? info->high_s
                                                                  : to_seconds (f->chart, f->y.high);
}

/* As many labels as the covered part of the axis holds. Returns: the widest */
static double
frame_set_cup_ticks (Frame *f)
{
  double share;

  if (!(f->cup.high > f->cup.low))
    return 0;
  share = og_axis_map (&f->y, from_seconds (f->chart, f->cup.high))
          - og_axis_map (&f->y, from_seconds (f->chart, f->cup.low));
  f->cup_ticks = og_axis_ticks (&f->cup, (guint) CLAMP (share * f->plot.height / (2 * f->line), 2, 8));
  return widest_label (f, &f->cup, f->cup_ticks);
}

static gboolean
frame_set_plot (Frame *f)
{
  double top = f->pad, bottom = f->pad;
  double left, right, widest, cup;
  gboolean legend = f->height > 9 * f->line && f->width > 14 * f->line;
  guint legend_rows = (guint) CLAMP (f->height * 0.2 / (f->small_line * 1.25), 1, 3);

  f->title_wanted = f->height > 7 * f->line;
  f->x_title_wanted = f->height > 8 * f->line;
  if (f->title_wanted)
    top += f->line * 1.25;
  if (legend)
    {
      legend_fill (f);
      legend_flow (f, top, legend_rows);
      top += f->legend_height;
    }
  if (f->chart->cup != NULL && legend)
    {
      f->cup_top = top;
      top += f->small_line * 1.15;
    }
  top += f->small_line * 0.6;
  bottom += f->small_line * 1.3;
  if (f->x_title_wanted)
    bottom += f->small_line * 1.15;

  f->plot.y = top;
  f->plot.height = f->height - top - bottom;
  if (f->plot.height < MIN_PLOT_HEIGHT)
    return FALSE;

  f->y_ticks = og_axis_ticks (&f->y, (guint) CLAMP (f->plot.height / (1.9 * f->line), 2, 14));
  left = f->pad + widest_label (f, &f->y, f->y_ticks) + 6;
  cup = frame_set_cup_ticks (f);
  widest = frame_set_x_ticks (f, f->width - left - f->pad - cup);
  left = MAX (left, f->pad + widest / 2);
  right = f->pad + MAX (widest / 2, cup > 0 ? cup + 6 : 2);
  f->plot.x = left;
  f->plot.width = f->width - left - right;

  return f->plot.width >= MIN_PLOT_WIDTH;
}

static void
frame_clear (Frame *f)
{
  while (f->n_legend > 0)
    legend_drop_last (f);
  g_clear_pointer (&f->x_ticks, g_array_unref);
  g_clear_pointer (&f->y_ticks, g_array_unref);
  g_clear_pointer (&f->cup_ticks, g_array_unref);
  g_clear_object (&f->context);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Frame, frame_clear)

/* FALSE if there is nothing to plot or no room for it */
static gboolean
frame_init (Frame             *f,
            cairo_t           *cr,
            double             width,
            double             height,
            const OgChart     *chart,
            const OgDrawStyle *style)
{
  *f = (Frame) { .chart = chart, .style = style, .width = width, .height = height };
  f->context = og_text_context_new (cr, style);
  f->line = og_text_line_height (f->context, style, 1);
  f->small_line = f->line * SMALL_TEXT;
  f->pad = MAX (6, 0.6 * style->font_size);
  f->marks = og_mark_scale (style);

  if (!any_points (chart))
    return FALSE;
  frame_set_y_axis (f);
  frame_set_x_axis (f);
  frame_set_cup_axis (f);

  return frame_set_plot (f);
}

static double
x_px (const Frame *f,
      double       x)
{
  double t = og_axis_map (&f->x, x);

  return isnan (t) ? NAN : f->plot.x + CLAMP (t, -FARTHEST, FARTHEST) * f->plot.width;
}

static double
y_px (const Frame *f,
      double       mpa_s)
{
  double t = og_axis_map (&f->y, mpa_s);

  return isnan (t) ? NAN
                   : f->plot.y + (1 - CLAMP (t, -FARTHEST, FARTHEST)) * f->plot.height;
}

static gboolean
is_in_range (const OgAxis *axis,
             double        value)
{
  double t = og_axis_map (axis, value);

  return t >= -1e-9 && t <= 1 + 1e-9;
}

/* --- placing labels --- */

static void
add_obstacle (Frame        *f,
              const OgRect *rect)
{
  if (f->n_obstacles < MAX_OBSTACLES)
    f->obstacles[f->n_obstacles++] = *rect;
}

/* how many pixels of the own curve run through @rect */
static double
curve_through (const Frame  *f,
               const OgRect *rect)
{
  const OgCurve *own = own_curve (f->chart);
  double before = NAN, hits = 0;

  for (double x = rect->x; x <= rect->x + rect->width; x += 3)
    {
      double t = (x - f->plot.x) / f->plot.width;
      double y = y_px (f, curve_at (own, og_axis_unmap (&f->x, t)).value);
      double top = isnan (before) ? y : MIN (before, y);
      double bottom = isnan (before) ? y : MAX (before, y);

      if (!isnan (y) && bottom >= rect->y - 3 && top <= rect->y + rect->height + 3)
        hits += 3;
      before = y;
    }

  return hits;
}

static double
place_cost (const Frame  *f,
            const OgRect *rect)
{
  double area = rect->width * rect->height;
  double cost = 8 * (area - og_rect_overlap (rect, &f->plot)) / area;

  for (guint i = 0; i < f->n_obstacles; i++)
    cost += 4 * og_rect_overlap (rect, &f->obstacles[i]) / area;
  cost += 3 * curve_through (f, rect) / rect->width;

  return cost;
}

/* Returns: the cheapest of @candidates, earlier ones preferred, kept clear of by later labels */
static OgRect
place_label (Frame        *f,
             const OgRect *candidates,
             guint         n)
{
  guint best = 0;
  double best_cost = G_MAXDOUBLE;

  for (guint i = 0; i < n; i++)
    {
      double cost = place_cost (f, &candidates[i]) + 0.02 * i;

      if (cost < best_cost)
        {
          best_cost = cost;
          best = i;
        }
    }
  add_obstacle (f, &candidates[best]);

  return candidates[best];
}

/* text with an outline in the background colour, so that lines behind it do not disturb; left out where the chart is
 * too small to hold it */
static void
draw_label (Frame          *f,
            cairo_t        *cr,
            PangoLayout    *layout,
            const OgRect   *rect,
            const OgColour *colour)
{
  if (rect->x < f->pad || rect->y < f->pad || rect->x + rect->width > f->width - f->pad ||
      rect->y + rect->height > f->height - f->pad)
    return;

  cairo_save (cr);
  cairo_move_to (cr, rect->x, rect->y);
  pango_cairo_layout_path (cr, layout);
  og_set_colour (cr, &f->style->background, 0.85);
  cairo_set_line_width (cr, 3.5 * f->marks);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  cairo_restore (cr);
  og_set_colour (cr, colour, 1);
  og_text_draw (cr, layout, rect->x, rect->y);
}

/* --- layers --- */

static void
draw_background (cairo_t           *cr,
                 double             width,
                 double             height,
                 const OgDrawStyle *style)
{
  og_set_colour (cr, &style->background, 1);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
}

static void
draw_target (Frame   *f,
             cairo_t *cr)
{
  double top, bottom;

  if (!has_target (f->chart))
    return;

  top = MAX (y_px (f, f->chart->target_high_mpa_s), f->plot.y);
  bottom = MIN (y_px (f, f->chart->target_low_mpa_s), f->plot.y + f->plot.height);
  if (bottom < top)
    return;

  cairo_save (cr);
  og_set_colour (cr, &f->style->dim, 0.13);
  cairo_rectangle (cr, f->plot.x, top, f->plot.width, MAX (bottom - top, 2));
  cairo_fill (cr);
  og_set_colour (cr, &f->style->dim, 0.55);
  cairo_set_line_width (cr, f->style->high_contrast ? 1.5 : 0.8);
  cairo_move_to (cr, f->plot.x, top);
  cairo_rel_line_to (cr, f->plot.width, 0);
  cairo_move_to (cr, f->plot.x, bottom);
  cairo_rel_line_to (cr, f->plot.width, 0);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_target_label (Frame   *f,
                   cairo_t *cr)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double width, height, top, bottom, near, far, inside;
  OgRect rect;

  if (!has_target (f->chart))
    return;

  low = og_number_viscosity (f->chart->target_low_mpa_s);
  high = og_number_viscosity (f->chart->target_high_mpa_s);
  /* Translators: the viscosities aimed at, from and to */
  text = g_strdup_printf (_("target %s–%s"), low, high);
  layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
  og_text_get_size (layout, &width, &height);
  if (width + 8 > f->plot.width)
    return;

  top = y_px (f, f->chart->target_high_mpa_s);
  bottom = y_px (f, f->chart->target_low_mpa_s);
  near = f->plot.x + 6;
  far = f->plot.x + f->plot.width - width - 6;
  if (f->style->rtl)
    {
      double swap = near;

      near = far;
      far = swap;
    }
  inside = bottom - top > height + 2 ? top + 2 : top - height - 1;
  rect = place_label (f,
                      (OgRect[]) { { near, inside, width, height },
                                   { far, inside, width, height },
                                   { near, top - height - 1, width, height },
                                   { far, top - height - 1, width, height },
                                   { near, bottom + 1, width, height },
                                   { far, bottom + 1, width, height } },
                      6);
  draw_label (f, cr, layout, &rect, &f->style->dim);
}

static void
draw_grid (Frame   *f,
           cairo_t *cr)
{
  double right = f->plot.x + f->plot.width, bottom = f->plot.y + f->plot.height;

  cairo_set_line_width (cr, 1);
  for (guint i = 0; i < f->y_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (f->y_ticks, OgTick, i);
      double y = og_crisp (y_px (f, tick->value));

      og_set_colour (cr, &f->style->grid, tick->major ? 1 : 0.5);
      cairo_move_to (cr, f->plot.x, y);
      cairo_line_to (cr, right, y);
      cairo_stroke (cr);
    }
  for (guint i = 0; i < f->x_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (f->x_ticks, OgTick, i);
      double x = og_crisp (x_px (f, tick->value));

      og_set_colour (cr, tick->major ? &f->style->grid : &f->style->dim, tick->major ? 1 : 0.6);
      cairo_move_to (cr, x, tick->major ? f->plot.y : bottom - 3);
      cairo_line_to (cr, x, bottom);
      cairo_stroke (cr);
    }
  og_set_colour (cr, &f->style->dim, f->style->high_contrast ? 1 : 0.8);
  cairo_move_to (cr, f->plot.x, og_crisp (bottom));
  cairo_line_to (cr, right, og_crisp (bottom));
  cairo_stroke (cr);
}

static void
draw_tick_labels (Frame   *f,
                  cairo_t *cr)
{
  double bottom = f->plot.y + f->plot.height;

  og_set_colour (cr, f->style->high_contrast ? &f->style->foreground : &f->style->dim, 1);
  for (guint axis = 0; axis < 2; axis++)
    {
      const GArray *ticks = axis == 0 ? f->x_ticks : f->y_ticks;

      for (guint i = 0; i < ticks->len; i++)
        {
          const OgTick *tick = &g_array_index (ticks, OgTick, i);
          g_autofree char *text = NULL;
          g_autoptr (PangoLayout) layout = NULL;
          double width, height;

          if (!tick->major)
            continue;
          text = og_axis_label (axis == 0 ? &f->x : &f->y, tick->value);
          layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
          og_text_get_size (layout, &width, &height);
          if (axis == 0)
            og_text_draw (cr, layout, x_px (f, tick->value) - width / 2, bottom + 0.15 * height);
          else
            og_text_draw (cr, layout, f->plot.x - 6 - width, y_px (f, tick->value) - height / 2);
        }
    }
}

/* Ticks and seconds on the right, as far as the cup covers. */
static void
draw_cup_labels (Frame   *f,
                 cairo_t *cr)
{
  double right = f->plot.x + f->plot.width, last = G_MAXDOUBLE;

  for (guint i = 0; f->cup_ticks != NULL && i < f->cup_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (f->cup_ticks, OgTick, i);
      double y = y_px (f, from_seconds (f->chart, tick->value));
      g_autofree char *text = og_axis_label (&f->cup, tick->value);
      g_autoptr (PangoLayout) layout = NULL;
      double height;

      if (isnan (y) || y < f->plot.y - 1 || y > f->plot.y + f->plot.height + 1)
        continue;
      og_set_colour (cr, &f->style->accent, tick->major ? 1 : 0.6);
      cairo_set_line_width (cr, 1);
      cairo_move_to (cr, right, og_crisp (y));
      cairo_rel_line_to (cr, tick->major ? -6 : -3, 0);
      cairo_stroke (cr);
      if (!tick->major)
        continue;
      layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
      og_text_get_size (layout, NULL, &height);
      if (last - y < 0.9 * height)
        continue;
      og_text_draw (cr, layout, right + 6, y - height / 2);
      last = y;
    }
}

static char *
cup_title (const Frame *f)
{
  const char *name = og_cup_get_name (*f->chart->cup);

  if (!isfinite (f->chart->density_g_ml))
    /* Translators: %s is the name of a flow cup */
    return g_strdup_printf (_("%s: density unknown"), name);
  if (f->cup_ticks == NULL)
    /* Translators: %s is the name of a flow cup */
    return g_strdup_printf (_("%s: nothing here runs in its range"), name);
  /* Translators: %s is the name of a flow cup, whose seconds stand on the right */
  return g_strdup_printf (_("right: s, %s"), name);
}

static void
draw_cup_title (Frame   *f,
                cairo_t *cr)
{
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double width, room = f->width - 2 * f->pad;

  if (!(f->cup_top > 0))
    return;
  text = cup_title (f);
  layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
  og_text_get_size (layout, &width, NULL);
  if (width > room)
    {
      og_text_set_width (layout, room, TRUE);
      width = room;
    }
  og_set_colour (cr, &f->style->accent, 1);
  og_text_draw (cr, layout, f->width - f->pad - width, f->cup_top);
}

static void
draw_titles (Frame   *f,
             cairo_t *cr)
{
  g_autoptr (PangoLayout) title = og_text_layout_new (f->context, f->style, _("Viscosity, mPa·s"), 1,
                                                      PANGO_WEIGHT_SEMIBOLD);
  g_autoptr (PangoLayout) axis = og_text_layout_new (f->context, f->style,
                                                     axis_title (chart_axis (f->chart)), SMALL_TEXT,
                                                     PANGO_WEIGHT_NORMAL);
  double width, title_width, room = f->width - 2 * f->pad;

  og_set_colour (cr, &f->style->foreground, 1);
  og_text_get_size (title, &title_width, NULL);
  if (title_width > room)
    og_text_set_width (title, room, TRUE);
  if (f->title_wanted)
    og_text_draw (cr, title, f->style->rtl ? f->width - f->pad - MIN (title_width, room) : f->pad,
                  f->pad * 0.8);

  og_set_colour (cr, f->style->high_contrast ? &f->style->foreground : &f->style->dim, 1);
  if (f->title_wanted && own_curve (f->chart) != NULL)
    {
      g_autofree char *text = conditions_text (own_curve (f->chart));
      g_autoptr (PangoLayout) conditions = NULL;

      if (text != NULL)
        {
          conditions = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
          og_text_get_size (conditions, &width, NULL);
          if (title_width + width + f->line < room)
            og_text_draw (cr, conditions,
                          f->style->rtl ? f->pad : f->width - f->pad - width,
                          f->pad * 0.8 + f->line * 0.07);
        }
    }

  if (!f->x_title_wanted)
    return;
  og_text_get_size (axis, &width, NULL);
  if (width > room)
    {
      og_text_set_width (axis, room, TRUE);
      width = room;
    }
  og_text_draw (cr, axis,
                CLAMP (f->plot.x + (f->plot.width - width) / 2, f->pad, f->width - f->pad - width),
                f->height - f->pad - f->small_line);
}

static void
draw_extrapolated (Frame   *f,
                   cairo_t *cr)
{
  const OgCurve *own = own_curve (f->chart);
  double right = f->plot.x + f->plot.width;
  double low, high;

  if (!is_extrapolated (f))
    return;

  low = isfinite (own->valid_low_x) ? x_px (f, own->valid_low_x) : f->plot.x;
  high = isfinite (own->valid_high_x) ? x_px (f, own->valid_high_x) : right;
  low = isnan (low) ? f->plot.x : CLAMP (low, f->plot.x, right);
  high = isnan (high) ? right : CLAMP (high, f->plot.x, right);

  og_set_colour (cr, &f->style->dim, f->style->high_contrast ? 0.8 : 0.28);
  cairo_set_line_width (cr, 0.7);
  og_draw_hatch (cr, &(OgRect) { f->plot.x, f->plot.y, low - f->plot.x, f->plot.height }, 9, 1);
  og_draw_hatch (cr, &(OgRect) { high, f->plot.y, right - high, f->plot.height }, 9, 1);
}

/* Draws a polyline and leaves out points that lie on the way to the next one within %THINNING pixels. */
typedef struct
{
  cairo_t *cr;
  int      direction; /* 1: x grows, -1: x falls */
  gboolean down, waiting;
  double   anchor_x, anchor_y;
  double   last_x, last_y;
  double   least_slope, most_slope;
} Pen;

static void
pen_anchor (Pen    *pen,
            double  x,
            double  y)
{
  pen->anchor_x = x;
  pen->anchor_y = y;
  pen->least_slope = -INFINITY;
  pen->most_slope = INFINITY;
  pen->waiting = FALSE;
}

static void
pen_lift (Pen *pen)
{
  if (pen->waiting)
    cairo_line_to (pen->cr, pen->last_x, pen->last_y);
  pen->down = pen->waiting = FALSE;
}

static void
pen_move (Pen    *pen,
          double  x,
          double  y,
          int     direction)
{
  pen_lift (pen);
  pen->direction = direction;
  pen->down = TRUE;
  pen_anchor (pen, x, y);
}

static void
pen_draw (Pen    *pen,
          double  x,
          double  y)
{
  double run = (x - pen->anchor_x) * pen->direction;
  double slope = (y - pen->anchor_y) / run;

  if (pen->waiting && (!(run > 0) || slope < pen->least_slope || slope > pen->most_slope))
    {
      cairo_line_to (pen->cr, pen->last_x, pen->last_y);
      pen_anchor (pen, pen->last_x, pen->last_y);
      run = (x - pen->anchor_x) * pen->direction;
    }
  if (run > 0)
    {
      pen->least_slope = MAX (pen->least_slope, (y - THINNING - pen->anchor_y) / run);
      pen->most_slope = MIN (pen->most_slope, (y + THINNING - pen->anchor_y) / run);
    }
  pen->last_x = x;
  pen->last_y = y;
  pen->waiting = TRUE;
}

static gboolean
has_band_at (const OgCurve *curve,
             guint          i)
{
  return is_place (curve, curve->x[i]) && is_viscosity (curve->low80[i]) &&
         is_viscosity (curve->high80[i]);
}

/* one closed outline per run of points that have a band */
static guint
outline_band (Frame         *f,
              cairo_t       *cr,
              const OgCurve *curve,
              guint          start)
{
  Pen pen = { .cr = cr };
  guint end = start;

  cairo_move_to (cr, x_px (f, curve->x[start]), y_px (f, curve->high80[start]));
  pen_move (&pen, x_px (f, curve->x[start]), y_px (f, curve->high80[start]), 1);
  while (++end < curve->n && has_band_at (curve, end))
    pen_draw (&pen, x_px (f, curve->x[end]), y_px (f, curve->high80[end]));
  pen_lift (&pen);

  cairo_line_to (cr, x_px (f, curve->x[end - 1]), y_px (f, curve->low80[end - 1]));
  pen_move (&pen, x_px (f, curve->x[end - 1]), y_px (f, curve->low80[end - 1]), -1);
  for (guint i = end - 1; i-- > start;)
    pen_draw (&pen, x_px (f, curve->x[i]), y_px (f, curve->low80[i]));
  pen_lift (&pen);
  cairo_close_path (cr);

  return end;
}

static void
draw_band (Frame         *f,
           cairo_t       *cr,
           const OgCurve *curve)
{
  for (guint i = 0; i < curve->n; i++)
    if (has_band_at (curve, i))
      i = outline_band (f, cr, curve, i);

  og_set_colour (cr, &f->style->accent, 0.17);
  cairo_fill_preserve (cr);
  if (f->style->high_contrast)
    {
      og_set_colour (cr, &f->style->accent, 0.9);
      cairo_set_line_width (cr, 1);
      cairo_stroke (cr);
    }
  cairo_new_path (cr);
}

/* broken where @y or its place is not known */
static void
trace (Frame         *f,
       cairo_t       *cr,
       const OgCurve *curve,
       const double  *mpa_s)
{
  Pen pen = { .cr = cr };

  for (guint i = 0; i < curve->n; i++)
    {
      double x = x_px (f, curve->x[i]), y = y_px (f, mpa_s[i]);

      if (!is_place (curve, curve->x[i]) || !is_viscosity (mpa_s[i]))
        pen_lift (&pen);
      else if (pen.down)
        pen_draw (&pen, x, y);
      else
        {
          cairo_move_to (cr, x, y);
          pen_move (&pen, x, y, 1);
        }
    }
  pen_lift (&pen);
}

static void
draw_curve (Frame   *f,
            cairo_t *cr,
            guint    index)
{
  trace (f, cr, f->chart->curves[index], f->chart->curves[index]->value);
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  og_set_colour (cr, og_series_colour (f->style, index), 1);
  og_set_series_line (cr, f->style, index);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
set_prior_line (Frame   *f,
                cairo_t *cr)
{
  og_set_colour (cr, &f->style->accent, 0.6);
  cairo_set_line_width (cr, f->marks);
  cairo_set_dash (cr, (double[]) { 3 * f->marks, 3 * f->marks }, 2, 0);
}

/* the edges of the band that held before anything was measured */
static void
draw_prior (Frame         *f,
            cairo_t       *cr,
            const OgCurve *curve)
{
  cairo_save (cr);
  set_prior_line (f, cr);
  trace (f, cr, curve, curve->prior_low80);
  trace (f, cr, curve, curve->prior_high80);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_cross (Frame   *f,
            cairo_t *cr,
            double   x,
            double   y)
{
  double arm = MARKER_RADIUS * f->marks;

  og_set_colour (cr, &f->style->foreground, 1);
  cairo_set_line_width (cr, 1.4 * f->marks);
  cairo_move_to (cr, x - arm, y - arm);
  cairo_line_to (cr, x + arm, y + arm);
  cairo_move_to (cr, x - arm, y + arm);
  cairo_line_to (cr, x + arm, y - arm);
  cairo_stroke (cr);
}

/* a cross with the 80 % spread of the reading */
static void
draw_readings (Frame   *f,
               cairo_t *cr)
{
  for (guint i = 0; i < n_marks (f->chart); i++)
    {
      const OgMark *mark = &g_array_index (f->chart->marks, OgMark, i);
      double place = mark_place (f->chart, mark);
      double reach = isfinite (mark->ln_sd) ? exp (OG_HALF_BAND_SD * mark->ln_sd) : 1;
      double x = x_px (f, place), y = y_px (f, mark->mpa_s);
      double low = y_px (f, mark->mpa_s / reach), high = y_px (f, mark->mpa_s * reach);

      if (isnan (place) || isnan (x) || isnan (y))
        continue;
      draw_cross (f, cr, x, y);
      if (isnan (low) || isnan (high))
        continue;
      cairo_move_to (cr, x, low);
      cairo_line_to (cr, x, high);
      cairo_stroke (cr);
    }
}

static void
draw_markers (Frame   *f,
              cairo_t *cr,
              guint    index)
{
  const OgCurve *curve = f->chart->curves[index];

  og_set_colour (cr, og_series_colour (f->style, index), 1);
  for (guint k = 0; k < 4; k++)
    {
      double t = (k + 0.2 + 0.15 * index) / 4;
      double y = y_px (f, curve_at (curve, og_axis_unmap (&f->x, t)).value);

      if (!isnan (y))
        og_draw_series_marker (cr, index, f->plot.x + t * f->plot.width, y, MARKER_RADIUS * f->marks);
    }
}

static void
draw_curves (Frame   *f,
             cairo_t *cr)
{
  guint n = MIN (f->chart->n_curves, OG_CHART_MAX_CURVES);

  cairo_save (cr);
  cairo_rectangle (cr, f->plot.x, f->plot.y, f->plot.width, f->plot.height);
  cairo_clip (cr);
  draw_extrapolated (f, cr);
  if (has_points (own_curve (f->chart)))
    draw_band (f, cr, own_curve (f->chart));
  if (has_prior (own_curve (f->chart)))
    draw_prior (f, cr, own_curve (f->chart));
  for (guint i = n; i-- > 0;)
    if (has_points (f->chart->curves[i]))
      {
        draw_curve (f, cr, i);
        if (i > 0)
          draw_markers (f, cr, i);
      }
  draw_readings (f, cr);
  cairo_restore (cr);
}

static void
draw_mark (Frame      *f,
           cairo_t    *cr,
           double      place,
           const char *text)
{
  g_autoptr (PangoLayout) layout = NULL;
  double x, low, width, height;
  OgRect rect;

  if (!is_in_range (&f->x, place))
    return;

  x = og_crisp (x_px (f, place));
  cairo_save (cr);
  og_set_colour (cr, &f->style->dim, 1);
  cairo_set_line_width (cr, 1);
  cairo_set_dash (cr, (double[]) { 4, 3 }, 2, 0);
  cairo_move_to (cr, x, f->plot.y);
  cairo_line_to (cr, x, f->plot.y + f->plot.height);
  cairo_stroke (cr);
  cairo_restore (cr);

  layout = og_text_layout_new (f->context, f->style, text, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
  og_text_get_size (layout, &width, &height);
  add_obstacle (f, &(OgRect) { x - 1.5, f->plot.y, 3, f->plot.height });
  low = f->plot.y + f->plot.height - height - 3;
  rect = place_label (f,
                      (OgRect[]) { { x + 5, f->plot.y + 2, width, height },
                                   { x - 5 - width, f->plot.y + 2, width, height },
                                   { x + 5, low, width, height },
                                   { x - 5 - width, low, width, height } },
                      4);
  draw_label (f, cr, layout, &rect, &f->style->dim);
}

static void
draw_marks (Frame   *f,
            cairo_t *cr)
{
  const OgCurve *own = own_curve (f->chart);

  if (own == NULL)
    return;

  draw_mark (f, cr, own->mark_x, mark_text (own->axis));
  if (own->axis == OG_CURVE_TEMPERATURE_C)
    draw_mark (f, cr, own->clear_x, C_("temperature", "clears"));
}

static void
draw_own_ring (Frame   *f,
               cairo_t *cr)
{
  const OgCurve *own = own_curve (f->chart);
  double x = x_px (f, own->own_x), y = y_px (f, own->own.value);
  double radius = RING_RADIUS * f->marks;

  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  og_set_colour (cr, &f->style->background, 1);
  cairo_fill_preserve (cr);
  og_set_colour (cr, &f->style->accent, 1);
  cairo_set_line_width (cr, (f->style->high_contrast ? 3 : 2.2) * f->marks);
  cairo_stroke (cr);
  add_obstacle (f, &(OgRect) { x - 1.4 * radius, y - 1.4 * radius, 2.8 * radius, 2.8 * radius });
}

static void
draw_own_label (Frame   *f,
                cairo_t *cr)
{
  const OgCurve *own = own_curve (f->chart);
  g_autofree char *text = og_number_with_unit (own->own.value);
  g_autoptr (PangoLayout) layout = og_text_layout_new (f->context, f->style, text, 1,
                                                       PANGO_WEIGHT_SEMIBOLD);
  double x = x_px (f, own->own_x), y = y_px (f, own->own.value);
  double width, height, right, left, above, below;
  OgRect rect;

  og_text_get_size (layout, &width, &height);
  right = x + 2 * RING_RADIUS * f->marks;
  left = x - 2 * RING_RADIUS * f->marks - width;
  above = y - height - 1.3 * RING_RADIUS * f->marks;
  below = y + 1.3 * RING_RADIUS * f->marks;
  rect = place_label (f,
                      (OgRect[]) { { left, above, width, height },
                                   { right, below, width, height },
                                   { right, above, width, height },
                                   { left, below, width, height },
                                   { x - width / 2, above - 6, width, height },
                                   { x - width / 2, below + 6, width, height },
                                   { left - 10, above - height, width, height },
                                   { right + 10, below + height, width, height },
                                   { right + 10, above - height, width, height },
                                   { left - 10, below + height, width, height } },
                      10);
  rect.x = CLAMP (rect.x, f->plot.x, MAX (f->plot.x, f->plot.x + f->plot.width - width));
  rect.y = CLAMP (rect.y, f->plot.y, MAX (f->plot.y, f->plot.y + f->plot.height - height));
  draw_label (f, cr, layout, &rect, &f->style->foreground);
}

static gboolean
has_own_point (const Frame *f)
{
  const OgCurve *own = own_curve (f->chart);

  return own != NULL && is_in_range (&f->x, own->own_x) && is_viscosity (own->own.value) &&
         is_in_range (&f->y, own->own.value);
}

static char *
value_text (const OgChart *chart,
            double         mpa_s)
{
  g_autofree char *value = og_number_with_unit (mpa_s);
  g_autofree char *seconds = seconds_text (chart, mpa_s);

  if (seconds == NULL)
    return g_steal_pointer (&value);
  /* Translators: a viscosity, then the time in seconds that a cup takes for it */
  return g_strdup_printf (_("%s, %s"), value, seconds);
}

/* Lines of the read-out box; in a small plot it takes only what no other place tells. */
static guint
read_out_layouts (Frame            *f,
                  double            x,
                  const OgEstimate *estimate,
                  PangoLayout      *layouts[3])
{
  gboolean small = f->plot.height < 8 * f->line || f->plot.width < 24 * f->line;
  g_autofree char *place = place_text (chart_axis (f->chart), x);
  g_autofree char *value = value_text (f->chart, estimate->value);
  g_autofree char *band = small ? og_number_range (estimate) : og_number_band (estimate);
  guint n = 0;

  if (!small)
    layouts[n++] = og_text_layout_new (f->context, f->style, place, SMALL_TEXT, PANGO_WEIGHT_NORMAL);
  layouts[n++] = og_text_layout_new (f->context, f->style, value, small ? 1 : 1.1,
                                     PANGO_WEIGHT_SEMIBOLD);
  if (band != NULL)
    layouts[n++] = og_text_layout_new (f->context, f->style, band, SMALL_TEXT, PANGO_WEIGHT_NORMAL);

  return n;
}

static void
draw_read_out (Frame            *f,
               cairo_t          *cr,
               double            x,
               const OgEstimate *estimate)
{
  PangoLayout *layouts[3] = { NULL };
  guint n = read_out_layouts (f, x, estimate, layouts);
  double width = 0, height = 0, px = x_px (f, x), inner = f->line * 0.35, y, low_y;
  OgRect rect;

  for (guint i = 0; i < n; i++)
    {
      double w, h;

      og_text_get_size (layouts[i], &w, &h);
      if (w > f->width - 2 * f->pad - 2 * inner)
        {
          w = f->width - 2 * f->pad - 2 * inner;
          og_text_set_width (layouts[i], w, TRUE);
        }
      width = MAX (width, w);
      height += h;
    }
  width += 2 * inner;
  height += 2 * inner - 1;

  low_y = f->plot.y + f->plot.height - height - 4;
  rect = place_label (f,
                      (OgRect[]) { { px + 10, f->plot.y + 4, width, height },
                                   { px - 10 - width, f->plot.y + 4, width, height },
                                   { px + 10, low_y, width, height },
                                   { px - 10 - width, low_y, width, height } },
                      4);
  rect.x = CLAMP (rect.x, f->pad, MAX (f->pad, f->width - f->pad - width));
  rect.y = CLAMP (rect.y, f->pad, MAX (f->pad, f->height - f->pad - height));
  og_set_colour (cr, &f->style->background, 0.94);
  cairo_rectangle (cr, og_crisp (rect.x), og_crisp (rect.y), floor (width), floor (height));
  cairo_fill_preserve (cr);
  og_set_colour (cr, &f->style->dim, 0.6);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);

  y = rect.y + inner;
  for (guint i = 0; i < n; i++)
    {
      gboolean value = pango_font_description_get_weight (pango_layout_get_font_description (layouts[i])) >
                       PANGO_WEIGHT_NORMAL;
      double h;

      og_set_colour (cr, value ? &f->style->foreground : &f->style->dim, 1);
      og_text_draw (cr, layouts[i], rect.x + inner, y);
      og_text_get_size (layouts[i], NULL, &h);
      y += h;
      g_object_unref (layouts[i]);
    }
}

static void
draw_cursor (Frame   *f,
             cairo_t *cr)
{
  double x = f->chart->cursor_x;
  OgEstimate estimate;
  double y;

  if (!is_in_range (&f->x, x) || !has_points (own_curve (f->chart)))
    return;

  estimate = curve_at (own_curve (f->chart), x);
  og_set_colour (cr, &f->style->foreground, 0.7);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, og_crisp (x_px (f, x)), f->plot.y);
  cairo_line_to (cr, og_crisp (x_px (f, x)), f->plot.y + f->plot.height);
  cairo_stroke (cr);

  y = y_px (f, estimate.value);
  if (!isnan (y) && is_in_range (&f->y, estimate.value))
    {
      og_set_colour (cr, &f->style->accent, 1);
      cairo_arc (cr, x_px (f, x), y, 0.8 * RING_RADIUS * f->marks, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  add_obstacle (f, &(OgRect) { x_px (f, x) - 1.5, f->plot.y, 3, f->plot.height });
  draw_read_out (f, cr, x, &estimate);
}

static void
draw_legend_swatch (Frame            *f,
                    cairo_t          *cr,
                    const LegendItem *item,
                    double            x,
                    double            y)
{
  double width = SWATCH_WIDTH * f->marks;
  OgRect box = { x, y - 4.5 * f->marks, width, 9 * f->marks };

  cairo_save (cr);
  switch (item->kind)
    {
    case LEGEND_CURVE:
      og_set_colour (cr, og_series_colour (f->style, item->curve), 1);
      og_set_series_line (cr, f->style, item->curve);
      cairo_move_to (cr, x, y);
      cairo_rel_line_to (cr, width, 0);
      cairo_stroke (cr);
      if (item->curve > 0)
        og_draw_series_marker (cr, item->curve, x + width / 2, y, MARKER_RADIUS * f->marks);
      break;
    case LEGEND_BAND:
      og_set_colour (cr, &f->style->accent, 0.17);
      cairo_rectangle (cr, box.x, box.y, box.width, box.height);
      cairo_fill_preserve (cr);
      og_set_colour (cr, &f->style->accent, 0.45);
      cairo_set_line_width (cr, 0.6);
      cairo_stroke (cr);
      break;
    case LEGEND_PRIOR:
      set_prior_line (f, cr);
      cairo_move_to (cr, x, y);
      cairo_rel_line_to (cr, width, 0);
      cairo_stroke (cr);
      break;
    case LEGEND_MEASURED:
      draw_cross (f, cr, x + width / 2, y);
      break;
    case LEGEND_EXTRAPOLATED:
    default:
      og_set_colour (cr, &f->style->dim, 0.7);
      cairo_set_line_width (cr, 0.7);
      og_draw_hatch (cr, &box, 5 * f->marks, 1);
      break;
    }
  cairo_restore (cr);
}

static void
draw_legend (Frame   *f,
             cairo_t *cr)
{
  for (guint i = 0; i < f->n_legend; i++)
    {
      const LegendItem *item = &f->legend[i];
      double middle = item->y + f->small_line / 2;

      if (f->style->rtl)
        {
          draw_legend_swatch (f, cr, item, item->x + item->width - SWATCH_WIDTH * f->marks, middle);
          og_set_colour (cr, &f->style->foreground, 1);
          og_text_draw (cr, item->layout, item->x, item->y);
        }
      else
        {
          draw_legend_swatch (f, cr, item, item->x, middle);
          og_set_colour (cr, &f->style->foreground, 1);
          og_text_draw (cr, item->layout, item->x + (SWATCH_WIDTH + 5) * f->marks, item->y);
        }
    }
}

/* other recipes have a curve, the own one has none */
static void
draw_own_missing (Frame   *f,
                  cairo_t *cr)
{
  g_autoptr (PangoLayout) layout = og_text_layout_new (f->context, f->style, missing_text (f->chart),
                                                       SMALL_TEXT, PANGO_WEIGHT_NORMAL);
  OgRect rect = { f->plot.x + 8, f->plot.y + 4, f->plot.width - 16, 0 };

  og_text_set_width (layout, rect.width, FALSE);
  og_text_get_size (layout, NULL, &rect.height);
  if (rect.height < f->plot.height / 2)
    draw_label (f, cr, layout, &rect, &f->style->dim);
}

void
og_chart_draw (cairo_t           *cr,
               double             width,
               double             height,
               const OgChart     *chart,
               const OgDrawStyle *style)
{
  g_auto (Frame) f = { 0 };

  g_return_if_fail (cr != NULL && chart != NULL && style != NULL);

  if (!(width >= 1) || !(height >= 1) || !isfinite (width) || !isfinite (height))
    return;

  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  draw_background (cr, width, height, style);
  if (!frame_init (&f, cr, width, height, chart, style))
    {
      if (!any_points (chart))
        og_draw_words (cr, width, height, missing_text (chart), 1.1, style);
      cairo_restore (cr);
      return;
    }

  draw_target (&f, cr);
  draw_grid (&f, cr);
  draw_curves (&f, cr);
  draw_tick_labels (&f, cr);
  draw_cup_labels (&f, cr);
  draw_cup_title (&f, cr);
  draw_titles (&f, cr);
  draw_legend (&f, cr);
  draw_marks (&f, cr);
  if (has_own_point (&f))
    draw_own_ring (&f, cr);
  draw_target_label (&f, cr);
  draw_cursor (&f, cr);
  if (has_own_point (&f))
    draw_own_label (&f, cr);
  if (!has_points (own_curve (chart)))
    draw_own_missing (&f, cr);
  cairo_restore (cr);
}

gboolean
og_chart_pick (double             width,
               double             height,
               const OgChart     *chart,
               const OgDrawStyle *style,
               double             x,
               double             y,
               OgChartReading    *reading)
{
  g_auto (Frame) f = { 0 };

  g_return_val_if_fail (chart != NULL && style != NULL && reading != NULL, FALSE);

  if (!(width >= 1) || !(height >= 1) || !isfinite (width) || !isfinite (height) ||
      !frame_init (&f, NULL, width, height, chart, style) || !has_points (own_curve (chart)) ||
      !og_rect_contains (&f.plot, x, y))
    return FALSE;

  reading->x = og_axis_unmap (&f.x, (x - f.plot.x) / f.plot.width);
  reading->x = CLAMP (reading->x, f.x.low, f.x.high);
  reading->viscosity = curve_at (own_curve (chart), reading->x);

  return TRUE;
}

static char *
extent_sentence (const OgCurve *own)
{
  guint first = 0, last = own->n - 1;
  g_autofree char *from = NULL;
  g_autofree char *to = NULL;

  while (first < last && !(is_place (own, own->x[first]) && is_viscosity (own->value[first])))
    first++;
  while (last > first && !(is_place (own, own->x[last]) && is_viscosity (own->value[last])))
    last--;
  from = place_text (own->axis, own->x[first]);
  to = place_text (own->axis, own->x[last]);

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
  g_autofree char *place = place_text (own->axis, own->own_x);
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
  g_autofree char *seconds = seconds_text (chart, own_curve (chart)->own.value);
  const char *name = og_cup_get_name (*chart->cup);

  if (seconds == NULL)
    /* Translators: %s is the name of a flow cup */
    return g_strdup_printf (_("It lies outside the range of the %s."), name);
  /* Translators: a time, then the name of a flow cup */
  return g_strdup_printf (_("That is %s in the %s."), seconds, name);
}

char *
og_chart_describe (const OgChart *chart)
{
  const OgCurve *own;
  GString *text;

  g_return_val_if_fail (chart != NULL, NULL);

  own = own_curve (chart);
  if (!has_points (own))
    return g_strdup (missing_text (chart));

  text = g_string_new (NULL);
  og_sentences_add (text, extent_sentence (own));
  if (is_place (own, own->own_x) && is_viscosity (own->own.value))
    {
      og_sentences_add (text, own_sentence (own));
      if (chart->cup != NULL)
        og_sentences_add (text, cup_sentence (chart));
    }
  if (isfinite (own->mark_x))
    {
      g_autofree char *place = place_text (own->axis, own->mark_x);

      og_sentences_add (text, g_strdup_printf (own->axis == OG_CURVE_TEMPERATURE_C
                                                 ? _("It sets at %s.")
                                                 : _("The gel point lies at %s."),
                                               place));
    }
  if (own->axis == OG_CURVE_TEMPERATURE_C && isfinite (own->clear_x))
    {
      g_autofree char *place = place_text (own->axis, own->clear_x);

      og_sentences_add (text, g_strdup_printf (_("It clears at %s when warmed."), place));
    }
  if (has_marks (chart))
    og_sentences_add (text, g_strdup (_("Bench readings are marked.")));
  if (chart->n_curves > 1)
    og_sentences_add (text, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                                          "%u other recipe is drawn beside it.",
                                                          "%u other recipes are drawn beside it.",
                                                          chart->n_curves - 1),
                                             chart->n_curves - 1));

  return g_string_free (text, FALSE);
}
