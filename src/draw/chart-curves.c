/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <math.h>

#include "core/base/statistics.h"

#define THINNING 0.15
#define OWN_PLACE 2.2 /* radii of a marker */

/* --- a thinned line --- */

/* Draws a polyline and leaves out points that lie on the way to the next one within %THINNING
 * pixels. */
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

/* --- the band --- */

static gboolean
has_band_at (const OgCurve *curve,
             guint          i)
{
  return og_chart_is_place (curve, curve->x[i]) && og_chart_is_viscosity (curve->low80[i]) &&
         og_chart_is_viscosity (curve->high80[i]);
}

/* one closed outline per run of points that have a band */
static guint
outline_band (const OgCanvas *canvas,
              const OgPlot   *plot,
              const OgCurve  *curve,
              guint           start)
{
  Pen pen = { .cr = canvas->cr };
  double x = og_plot_x (plot, curve->x[start]), y = og_plot_y (plot, curve->high80[start]);
  guint end = start;

  cairo_move_to (canvas->cr, x, y);
  pen_move (&pen, x, y, 1);
  while (++end < curve->n && has_band_at (curve, end))
    pen_draw (&pen, og_plot_x (plot, curve->x[end]), og_plot_y (plot, curve->high80[end]));
  pen_lift (&pen);

  x = og_plot_x (plot, curve->x[end - 1]);
  y = og_plot_y (plot, curve->low80[end - 1]);
  cairo_line_to (canvas->cr, x, y);
  pen_move (&pen, x, y, -1);
  for (guint i = end - 1; i-- > start;)
    pen_draw (&pen, og_plot_x (plot, curve->x[i]), og_plot_y (plot, curve->low80[i]));
  pen_lift (&pen);
  cairo_close_path (canvas->cr);

  return end;
}

static void
draw_band (const OgCanvas *canvas,
           const OgPlot   *plot,
           const OgCurve  *curve)
{
  cairo_t *cr = canvas->cr;

  for (guint i = 0; i < curve->n; i++)
    if (has_band_at (curve, i))
      i = outline_band (canvas, plot, curve, i);

  og_set_colour (cr, &canvas->style->accent, 0.17);
  cairo_fill_preserve (cr);
  if (canvas->style->high_contrast)
    {
      og_set_colour (cr, &canvas->style->accent, 0.9);
      cairo_set_line_width (cr, 1);
      cairo_stroke (cr);
    }
  cairo_new_path (cr);
}

/* --- lines --- */

/* broken where @mpa_s or its place is not known */
static void
trace (const OgCanvas *canvas,
       const OgPlot   *plot,
       const OgCurve  *curve,
       const double   *mpa_s)
{
  Pen pen = { .cr = canvas->cr };

  for (guint i = 0; i < curve->n; i++)
    {
      double x = og_plot_x (plot, curve->x[i]), y = og_plot_y (plot, mpa_s[i]);

      if (!og_chart_is_place (curve, curve->x[i]) || !og_chart_is_viscosity (mpa_s[i]))
        pen_lift (&pen);
      else if (pen.down)
        pen_draw (&pen, x, y);
      else
        {
          cairo_move_to (canvas->cr, x, y);
          pen_move (&pen, x, y, 1);
        }
    }
  pen_lift (&pen);
}

static void
draw_curve (const OgCanvas *canvas,
            const OgPlot   *plot,
            const OgCurve  *curve,
            guint           index)
{
  cairo_t *cr = canvas->cr;

  trace (canvas, plot, curve, curve->value);
  cairo_save (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_BEVEL);
  og_set_colour (cr, og_series_colour (canvas->style, index), 1);
  og_set_series_line (cr, canvas->style, index);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
og_chart_set_prior_line (const OgCanvas *canvas)
{
  cairo_t *cr = canvas->cr;

  og_set_colour (cr, &canvas->style->accent, 0.6);
  cairo_set_line_width (cr, canvas->marks);
  cairo_set_dash (cr, (double[]) { 3 * canvas->marks, 3 * canvas->marks }, 2, 0);
}

/* the edges of the band that held before anything was measured */
static void
draw_prior (const OgCanvas *canvas,
            const OgPlot   *plot,
            const OgCurve  *curve)
{
  cairo_t *cr = canvas->cr;

  cairo_save (cr);
  og_chart_set_prior_line (canvas);
  trace (canvas, plot, curve, curve->prior_low80);
  trace (canvas, plot, curve, curve->prior_high80);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
draw_markers (const OgCanvas *canvas,
              const OgPlot   *plot,
              const OgCurve  *curve,
              guint           index)
{
  cairo_t *cr = canvas->cr;

  og_set_colour (cr, og_series_colour (canvas->style, index), 1);
  for (guint k = 0; k < 4; k++)
    {
      double t = (k + 0.2 + 0.15 * index) / 4;
      double y = og_plot_y (plot, og_chart_read_curve (curve, og_axis_unmap (&plot->x, t)).value);

      if (!isnan (y))
        og_draw_series_marker (cr, index, plot->area.x + t * plot->area.width, y,
                               OG_MARKER_RADIUS * canvas->marks);
    }
}

/* where another recipe lies on its curve: its marker, ringed */
static void
draw_own_place (const OgCanvas *canvas,
                const OgPlot   *plot,
                const OgCurve  *curve,
                guint           index)
{
  cairo_t *cr = canvas->cr;
  const double radius = OWN_PLACE * OG_MARKER_RADIUS * canvas->marks;
  double x = og_plot_x (plot, curve->own_x), y = og_plot_y (plot, curve->own.value);

  if (!og_chart_is_place (curve, curve->own_x) || isnan (x) || isnan (y))
    return;
  og_set_colour (cr, og_series_colour (canvas->style, index), 1);
  cairo_new_path (cr);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  cairo_set_line_width (cr, 1.4 * canvas->marks);
  cairo_stroke (cr);
  og_draw_series_marker (cr, index, x, y, OG_MARKER_RADIUS * canvas->marks);
}

/* --- bench readings --- */

void
og_chart_draw_cross (const OgCanvas *canvas,
                     double          x,
                     double          y)
{
  cairo_t *cr = canvas->cr;
  double arm = OG_MARKER_RADIUS * canvas->marks;

  og_set_colour (cr, &canvas->style->foreground, 1);
  cairo_set_line_width (cr, 1.4 * canvas->marks);
  cairo_move_to (cr, x - arm, y - arm);
  cairo_line_to (cr, x + arm, y + arm);
  cairo_move_to (cr, x - arm, y + arm);
  cairo_line_to (cr, x + arm, y - arm);
  cairo_stroke (cr);
}

/* a cross with the 80 % spread of the reading */
static void
draw_readings (const OgCanvas *canvas,
               const OgPlot   *plot,
               const OgChart  *chart)
{
  cairo_t *cr = canvas->cr;

  for (guint i = 0; i < og_chart_get_n_marks (chart); i++)
    {
      const OgMark *mark = &g_array_index (chart->marks, OgMark, i);
      double place = og_chart_place_mark (chart, mark);
      double reach = isfinite (mark->ln_sd) ? exp (OG_HALF_BAND_SD * mark->ln_sd) : 1;
      double x = og_plot_x (plot, place), y = og_plot_y (plot, mark->mpa_s);
      double low = og_plot_y (plot, mark->mpa_s / reach);
      double high = og_plot_y (plot, mark->mpa_s * reach);

      if (isnan (place) || isnan (x) || isnan (y))
        continue;
      og_chart_draw_cross (canvas, x, y);
      if (isnan (low) || isnan (high))
        continue;
      cairo_move_to (cr, x, low);
      cairo_line_to (cr, x, high);
      cairo_stroke (cr);
    }
}

/* --- all of them, within the plot --- */

static void
draw_extrapolated (const OgCanvas *canvas,
                   const OgPlot   *plot,
                   const OgCurve  *own)
{
  const OgRect *area = &plot->area;
  cairo_t *cr = canvas->cr;
  double right = og_plot_right (plot);
  double low, high;

  if (!og_chart_is_extrapolated (own, &plot->x))
    return;

  low = isfinite (own->valid_low_x) ? og_plot_x (plot, own->valid_low_x) : area->x;
  high = isfinite (own->valid_high_x) ? og_plot_x (plot, own->valid_high_x) : right;
  low = isnan (low) ? area->x : CLAMP (low, area->x, right);
  high = isnan (high) ? right : CLAMP (high, area->x, right);

  og_set_colour (cr, &canvas->style->dim, canvas->style->high_contrast ? 0.8 : 0.28);
  cairo_set_line_width (cr, 0.7);
  og_draw_hatch (cr, &(OgRect) { area->x, area->y, low - area->x, area->height }, 9, 1);
  og_draw_hatch (cr, &(OgRect) { high, area->y, right - high, area->height }, 9, 1);
}

void
og_chart_draw_curves (const OgCanvas *canvas,
                      const OgPlot   *plot,
                      const OgChart  *chart)
{
  cairo_t *cr = canvas->cr;
  const OgCurve *own = og_chart_get_own (chart);
  guint n = MIN (chart->n_curves, OG_CHART_MAX_CURVES);

  cairo_save (cr);
  cairo_rectangle (cr, plot->area.x, plot->area.y, plot->area.width, plot->area.height);
  cairo_clip (cr);
  draw_extrapolated (canvas, plot, own);
  if (og_chart_has_points (own))
    draw_band (canvas, plot, own);
  if (og_chart_has_prior (own))
    draw_prior (canvas, plot, own);
  for (guint i = n; i-- > 0;)
    if (og_chart_has_points (chart->curves[i]))
      {
        draw_curve (canvas, plot, chart->curves[i], i);
        if (i > 0)
          {
            draw_markers (canvas, plot, chart->curves[i], i);
            draw_own_place (canvas, plot, chart->curves[i], i);
          }
      }
  draw_readings (canvas, plot, chart);
  cairo_restore (cr);
}
