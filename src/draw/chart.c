/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <math.h>

static gboolean
is_size (double width,
         double height)
{
  return width >= 1 && height >= 1 && isfinite (width) && isfinite (height);
}

/* In painting order. */
static void
draw_layers (const OgChartFrame *frame,
             const OgChart      *chart)
{
  const OgCanvas *canvas = &frame->canvas;
  const OgPlot *plot = &frame->plot;
  const OgCurve *own = og_chart_get_own (chart);
  const gboolean own_point = og_chart_has_own_point (plot, own);
  OgChartRoom room = { .plot = plot, .curve = own };

  og_chart_draw_target (canvas, plot, chart);
  og_chart_draw_grid (canvas, plot, frame->x_ticks, frame->y_ticks);
  og_chart_draw_curves (canvas, plot, chart);
  og_chart_draw_tick_labels (canvas, plot, frame->x_ticks, frame->y_ticks);
  og_chart_draw_cup (canvas, plot, chart, &frame->cup);
  if (frame->title_wanted)
    og_chart_draw_title (canvas, chart);
  if (frame->x_title_wanted)
    og_chart_draw_x_title (canvas, plot, chart);
  og_chart_draw_legend (canvas, &frame->legend);
  og_chart_draw_marks (canvas, &room);
  if (own_point)
    og_chart_draw_own_ring (canvas, &room);
  og_chart_draw_target_label (canvas, &room, chart);
  og_chart_draw_cursor (canvas, &room, chart);
  if (own_point)
    og_chart_draw_own_label (canvas, &room);
  if (!og_chart_has_points (own))
    og_chart_draw_own_missing (canvas, plot, chart);
}

void
og_chart_draw (cairo_t           *cr,
               double             width,
               double             height,
               const OgChart     *chart,
               const OgDrawStyle *style)
{
  g_auto (OgChartFrame) frame = { 0 };

  g_return_if_fail (cr != NULL && chart != NULL && style != NULL);

  if (!is_size (width, height))
    return;

  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  og_set_colour (cr, &style->background, 1);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
  if (og_chart_frame_init (&frame, cr, width, height, chart, style))
    draw_layers (&frame, chart);
  else if (!og_chart_has_any (chart))
    og_draw_words (cr, width, height, og_chart_missing_text (chart), 1.1, style);
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
  g_auto (OgChartFrame) frame = { 0 };
  const OgPlot *plot = &frame.plot;

  g_return_val_if_fail (chart != NULL && style != NULL && reading != NULL, FALSE);

  if (!is_size (width, height) || !og_chart_frame_init (&frame, NULL, width, height, chart, style)
      || !og_chart_has_points (og_chart_get_own (chart)) || !og_rect_contains (&plot->area, x, y))
    return FALSE;

  reading->x = og_axis_unmap (&plot->x, (x - plot->area.x) / plot->area.width);
  reading->x = CLAMP (reading->x, plot->x.low, plot->x.high);
  reading->viscosity = og_chart_read_curve (og_chart_get_own (chart), reading->x);

  return TRUE;
}
