/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LEGEND_GAP 14.0 /* at mark scale 1 */
#define WIDEST_ITEM 0.42 /* of the chart */
#define MIN_PLOT_WIDTH 48.0
#define MIN_PLOT_HEIGHT 36.0
#define LOWEST_MPA_S 1e-6
#define HIGHEST_MPA_S 1e12
#define SMALLEST_RATIO 4.0 /* of the viscosity axis, so that a flat curve looks flat */

/* --- axes --- */

static void
range_add_viscosity (double  mpa_s,
                     double *low,
                     double *high)
{
  if (mpa_s >= LOWEST_MPA_S && mpa_s <= HIGHEST_MPA_S)
    og_axis_extend (mpa_s, low, high);
}

static void
add_curve (const OgCurve *curve,
           gboolean       with_band,
           double        *low,
           double        *high)
{
  for (guint i = 0; curve != NULL && i < curve->n; i++)
    {
      range_add_viscosity (curve->value[i], low, high);
      if (!with_band)
        continue;
      range_add_viscosity (curve->low80[i], low, high);
      range_add_viscosity (curve->high80[i], low, high);
    }
}

static OgAxis
viscosity_axis (const OgChart *chart)
{
  double low = NAN, high = NAN, middle;

  for (guint c = 0; c < chart->n_curves; c++)
    add_curve (chart->curves[c], c == 0, &low, &high);
  if (og_chart_has_target (chart))
    {
      range_add_viscosity (chart->target_low_mpa_s, &low, &high);
      range_add_viscosity (chart->target_high_mpa_s, &low, &high);
    }
  for (guint i = 0; i < og_chart_get_n_marks (chart); i++)
    {
      const OgMark *mark = &g_array_index (chart->marks, OgMark, i);

      if (!isnan (og_chart_place_mark (chart, mark)))
        range_add_viscosity (mark->mpa_s, &low, &high);
    }

  middle = sqrt (low * high);
  if (high / low < SMALLEST_RATIO)
    {
      low = middle / sqrt (SMALLEST_RATIO);
      high = middle * sqrt (SMALLEST_RATIO);
    }
  return og_axis_nice (low * 0.97, high * 1.03, TRUE);
}

static OgAxis
place_axis (const OgChart *chart)
{
  gboolean logarithmic = og_chart_get_axis (chart) == OG_CURVE_SHEAR_RATE_1_S;
  double low = NAN, high = NAN;

  for (guint c = 0; c < chart->n_curves; c++)
    for (guint i = 0; chart->curves[c] != NULL && i < chart->curves[c]->n; i++)
      if (og_chart_is_place (chart->curves[c], chart->curves[c]->x[i]))
        og_axis_extend (chart->curves[c]->x[i], &low, &high);

  return high > low ? (OgAxis) { low, high, logarithmic } : og_axis_nice (low, high, logarithmic);
}

/* The seconds between which the cup covers the viscosity axis. */
static OgAxis
cup_axis (const OgChart *chart,
          const OgAxis  *viscosity)
{
  const OgCupInfo *info;
  double low_mpa_s, high_mpa_s;

  if (chart->cup == NULL || !isfinite (chart->density_g_ml))
    return (OgAxis) { 0 };
  info = og_cup_get_info (*chart->cup);
  low_mpa_s = og_chart_from_seconds (chart, info->low_s);
  high_mpa_s = og_chart_from_seconds (chart, info->high_s);
  if (low_mpa_s >= viscosity->high || high_mpa_s <= viscosity->low)
    return (OgAxis) { 0 };

  return (OgAxis) {
    low_mpa_s > viscosity->low ? info->low_s : og_chart_to_seconds (chart, viscosity->low),
    high_mpa_s < viscosity->high ? info->high_s : og_chart_to_seconds (chart, viscosity->high),
    FALSE,
  };
}

/* --- legend --- */

static void
legend_add (OgChartLegend  *legend,
            const OgCanvas *canvas,
            OgLegendKind    kind,
            guint           curve,
            const char     *text)
{
  OgLegendItem *item = &legend->items[legend->n++];

  item->kind = kind;
  item->curve = curve;
  item->layout = og_canvas_text_new (canvas, text);
  pango_layout_set_single_paragraph_mode (item->layout, TRUE);
  item->width = (OG_LEGEND_SWATCH + OG_LEGEND_SPACE) * canvas->marks
                + og_text_fit (item->layout, WIDEST_ITEM * canvas->width);
}

static void
legend_drop_last (OgChartLegend *legend)
{
  g_clear_object (&legend->items[--legend->n].layout);
}

static void
legend_fill (OgChartLegend  *legend,
             const OgCanvas *canvas,
             const OgChart  *chart,
             const OgAxis   *x)
{
  const OgCurve *own = og_chart_get_own (chart);

  for (guint c = 0; c < MIN (chart->n_curves, OG_CHART_MAX_CURVES); c++)
    if (og_chart_has_points (chart->curves[c]))
      legend_add (legend, canvas, OG_LEGEND_CURVE, c,
                  chart->names[c] != NULL ? chart->names[c] : _("This recipe"));
  /* xgettext:no-c-format */
  if (og_chart_has_points (own))
    legend_add (legend, canvas, OG_LEGEND_BAND, 0, _("80 % band"));
  if (og_chart_has_prior (own))
    legend_add (legend, canvas, OG_LEGEND_PRIOR, 0, _("before measuring"));
  if (og_chart_has_marks (chart))
    legend_add (legend, canvas, OG_LEGEND_MEASURED, 0, _("measured"));
  if (og_chart_is_extrapolated (own, x))
    legend_add (legend, canvas, OG_LEGEND_EXTRAPOLATED, 0, _("extrapolated"));
}

/* Flows the items into rows from the reading start; those beyond @most_rows are left out.
 * Returns: the height of all rows */
static double
legend_flow (OgChartLegend  *legend,
             const OgCanvas *canvas,
             double          top,
             guint           most_rows)
{
  const double room = og_canvas_get_room (canvas);
  const double row_height = canvas->small_line * 1.25;
  double x = 0;
  guint row = 0;

  for (guint i = 0; i < legend->n; i++)
    {
      OgLegendItem *item = &legend->items[i];

      if (x > 0 && x + item->width > room)
        {
          x = 0;
          row++;
        }
      if (row >= most_rows)
        {
          while (legend->n > i)
            legend_drop_last (legend);
          break;
        }
      item->x = canvas->style->rtl ? canvas->width - canvas->pad - x - item->width
                                   : canvas->pad + x;
      item->y = top + row * row_height;
      x += item->width + LEGEND_GAP * canvas->marks;
    }

  return legend->n > 0 ? legend->items[legend->n - 1].y + row_height - top : 0;
}

/* --- the plot between titles, legend and labels --- */

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
fit_x_ticks (OgChartFrame *frame,
             double        room)
{
  const OgCanvas *canvas = &frame->canvas;
  double widest = 0;

  for (guint most = 11; most >= 2; most--)
    {
      guint n;

      g_clear_pointer (&frame->x_ticks, g_array_unref);
      frame->x_ticks = og_axis_ticks (&frame->plot.x, most);
      n = count_major (frame->x_ticks);
      widest = og_canvas_widest_label (canvas, &frame->plot.x, frame->x_ticks);
      if (n * (widest + 1.6 * canvas->small_line) <= room || most == 2)
        break;
      most = MIN (most, n + 1);
    }

  return widest;
}

/* As many labels as the covered part of the axis holds. Returns: the widest */
static double
fit_cup_ticks (OgChartFrame  *frame,
               const OgChart *chart)
{
  const OgAxis *seconds = &frame->cup.seconds;
  const OgPlot *plot = &frame->plot;
  double share, most;

  if (!(seconds->high > seconds->low))
    return 0;
  share = og_axis_map (&plot->y, og_chart_from_seconds (chart, seconds->high))
          - og_axis_map (&plot->y, og_chart_from_seconds (chart, seconds->low));
  most = share * plot->area.height / (2 * frame->canvas.line);
  frame->cup.ticks = og_axis_ticks (seconds, (guint) CLAMP (most, 2, 8));

  return og_canvas_widest_label (&frame->canvas, seconds, frame->cup.ticks);
}

/* Titles, legend and the line that names the cup. Returns: where they end */
static double
lay_out_head (OgChartFrame  *frame,
              const OgChart *chart)
{
  const OgCanvas *canvas = &frame->canvas;
  const gboolean legend = canvas->height > 9 * canvas->line && canvas->width > 14 * canvas->line;
  const double rows = canvas->height * 0.2 / (canvas->small_line * 1.25);
  double top = canvas->pad;

  if (frame->title_wanted)
    top += canvas->line * 1.25;
  if (!legend)
    return top;
  legend_fill (&frame->legend, canvas, chart, &frame->plot.x);
  top += legend_flow (&frame->legend, canvas, top, (guint) CLAMP (rows, 1, 3));
  if (chart->cup == NULL)
    return top;
  frame->cup.top = top;

  return top + canvas->small_line * 1.15;
}

static gboolean
lay_out (OgChartFrame  *frame,
         const OgChart *chart)
{
  const OgCanvas *canvas = &frame->canvas;
  OgRect *area = &frame->plot.area;
  double bottom = canvas->pad;
  double left, right, widest, cup;

  frame->title_wanted = canvas->height > 7 * canvas->line;
  frame->x_title_wanted = canvas->height > 8 * canvas->line;
  area->y = lay_out_head (frame, chart) + canvas->small_line * 0.6;
  bottom += canvas->small_line * 1.3;
  if (frame->x_title_wanted)
    bottom += canvas->small_line * 1.15;
  area->height = canvas->height - area->y - bottom;
  if (area->height < MIN_PLOT_HEIGHT)
    return FALSE;

  frame->y_ticks = og_axis_ticks (&frame->plot.y,
                                  (guint) CLAMP (area->height / (1.9 * canvas->line), 2, 14));
  left = canvas->pad + og_canvas_widest_label (canvas, &frame->plot.y, frame->y_ticks) + 6;
  cup = fit_cup_ticks (frame, chart);
  widest = fit_x_ticks (frame, canvas->width - left - canvas->pad - cup);
  left = MAX (left, canvas->pad + widest / 2);
  right = canvas->pad + MAX (widest / 2, cup > 0 ? cup + 6 : 2);
  area->x = left;
  area->width = canvas->width - left - right;

  return area->width >= MIN_PLOT_WIDTH;
}

gboolean
og_chart_frame_init (OgChartFrame      *frame,
                     cairo_t           *cr,
                     double             width,
                     double             height,
                     const OgChart     *chart,
                     const OgDrawStyle *style)
{
  *frame = (OgChartFrame) { 0 };
  og_canvas_init (&frame->canvas, cr, width, height, style);
  if (!og_chart_has_any (chart))
    return FALSE;
  frame->plot.y = viscosity_axis (chart);
  frame->plot.x = place_axis (chart);
  frame->cup.seconds = cup_axis (chart, &frame->plot.y);

  return lay_out (frame, chart);
}

void
og_chart_frame_clear (OgChartFrame *frame)
{
  while (frame->legend.n > 0)
    legend_drop_last (&frame->legend);
  g_clear_pointer (&frame->x_ticks, g_array_unref);
  g_clear_pointer (&frame->y_ticks, g_array_unref);
  g_clear_pointer (&frame->cup.ticks, g_array_unref);
  og_canvas_clear (&frame->canvas);
}
