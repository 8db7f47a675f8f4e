/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* --- ground --- */

void
og_chart_draw_target (const OgCanvas *canvas,
                      const OgPlot   *plot,
                      const OgChart  *chart)
{
  cairo_t *cr = canvas->cr;
  double top, bottom;

  if (!og_chart_has_target (chart))
    return;

  top = MAX (og_plot_y (plot, chart->target_high_mpa_s), plot->area.y);
  bottom = MIN (og_plot_y (plot, chart->target_low_mpa_s), og_plot_bottom (plot));
  if (bottom < top)
    return;

  cairo_save (cr);
  og_set_colour (cr, &canvas->style->dim, 0.13);
  cairo_rectangle (cr, plot->area.x, top, plot->area.width, MAX (bottom - top, 2));
  cairo_fill (cr);
  og_set_colour (cr, &canvas->style->dim, 0.55);
  cairo_set_line_width (cr, canvas->style->high_contrast ? 1.5 : 0.8);
  cairo_move_to (cr, plot->area.x, top);
  cairo_rel_line_to (cr, plot->area.width, 0);
  cairo_move_to (cr, plot->area.x, bottom);
  cairo_rel_line_to (cr, plot->area.width, 0);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
og_chart_draw_grid (const OgCanvas *canvas,
                    const OgPlot   *plot,
                    const GArray   *x_ticks,
                    const GArray   *y_ticks)
{
  cairo_t *cr = canvas->cr;
  double right = og_plot_right (plot), bottom = og_plot_bottom (plot);

  cairo_set_line_width (cr, 1);
  for (guint i = 0; i < y_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (y_ticks, OgTick, i);
      double y = og_crisp (og_plot_y (plot, tick->value));

      og_set_colour (cr, &canvas->style->grid, tick->major ? 1 : 0.5);
      cairo_move_to (cr, plot->area.x, y);
      cairo_line_to (cr, right, y);
      cairo_stroke (cr);
    }
  for (guint i = 0; i < x_ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (x_ticks, OgTick, i);
      double x = og_crisp (og_plot_x (plot, tick->value));

      og_set_colour (cr, tick->major ? &canvas->style->grid : &canvas->style->dim,
                     tick->major ? 1 : 0.6);
      cairo_move_to (cr, x, tick->major ? plot->area.y : bottom - 3);
      cairo_line_to (cr, x, bottom);
      cairo_stroke (cr);
    }
  og_set_colour (cr, &canvas->style->dim, canvas->style->high_contrast ? 1 : 0.8);
  cairo_move_to (cr, plot->area.x, og_crisp (bottom));
  cairo_line_to (cr, right, og_crisp (bottom));
  cairo_stroke (cr);
}

void
og_chart_draw_tick_labels (const OgCanvas *canvas,
                           const OgPlot   *plot,
                           const GArray   *x_ticks,
                           const GArray   *y_ticks)
{
  og_set_colour (canvas->cr, og_quiet_colour (canvas->style), 1);
  for (guint axis = 0; axis < 2; axis++)
    {
      const GArray *ticks = axis == 0 ? x_ticks : y_ticks;

      for (guint i = 0; i < ticks->len; i++)
        {
          const OgTick *tick = &g_array_index (ticks, OgTick, i);
          g_autofree char *text = NULL;
          g_autoptr (PangoLayout) layout = NULL;
          double width, height;

          if (!tick->major)
            continue;
          text = og_axis_label (axis == 0 ? &plot->x : &plot->y, tick->value);
          layout = og_canvas_text_new (canvas, text);
          og_text_get_size (layout, &width, &height);
          if (axis == 0)
            og_text_draw (canvas->cr, layout, og_plot_x (plot, tick->value) - width / 2,
                          og_plot_bottom (plot) + 0.15 * height);
          else
            og_text_draw (canvas->cr, layout, plot->area.x - 6 - width,
                          og_plot_y (plot, tick->value) - height / 2);
        }
    }
}

/* --- seconds of a cup --- */

/* Ticks and seconds on the right, as far as the cup covers. */
static void
draw_cup_labels (const OgCanvas   *canvas,
                 const OgPlot     *plot,
                 const OgChart    *chart,
                 const OgChartCup *cup)
{
  cairo_t *cr = canvas->cr;
  double right = og_plot_right (plot), last = G_MAXDOUBLE;

  for (guint i = 0; cup->ticks != NULL && i < cup->ticks->len; i++)
    {
      const OgTick *tick = &g_array_index (cup->ticks, OgTick, i);
      double y = og_plot_y (plot, og_chart_from_seconds (chart, tick->value));
      g_autofree char *text = og_axis_label (&cup->seconds, tick->value);
      g_autoptr (PangoLayout) layout = NULL;
      double height;

      if (isnan (y) || y < plot->area.y - 1 || y > og_plot_bottom (plot) + 1)
        continue;
      og_set_colour (cr, &canvas->style->accent, tick->major ? 1 : 0.6);
      cairo_set_line_width (cr, 1);
      cairo_move_to (cr, right, og_crisp (y));
      cairo_rel_line_to (cr, tick->major ? -6 : -3, 0);
      cairo_stroke (cr);
      if (!tick->major)
        continue;
      layout = og_canvas_text_new (canvas, text);
      og_text_get_size (layout, NULL, &height);
      if (last - y < 0.9 * height)
        continue;
      og_text_draw (cr, layout, right + 6, y - height / 2);
      last = y;
    }
}

static void
draw_cup_title (const OgCanvas   *canvas,
                const OgChart    *chart,
                const OgChartCup *cup)
{
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double width;

  if (!(cup->top > 0))
    return;
  text = og_chart_cup_title (chart, cup->ticks != NULL);
  layout = og_canvas_text_new (canvas, text);
  width = og_text_fit (layout, og_canvas_get_room (canvas));
  og_set_colour (canvas->cr, &canvas->style->accent, 1);
  og_text_draw (canvas->cr, layout, canvas->width - canvas->pad - width, cup->top);
}

void
og_chart_draw_cup (const OgCanvas   *canvas,
                   const OgPlot     *plot,
                   const OgChart    *chart,
                   const OgChartCup *cup)
{
  draw_cup_labels (canvas, plot, chart, cup);
  draw_cup_title (canvas, chart, cup);
}

/* --- titles --- */

/* At the other end of the line of the title, @taken wide, if there is room. */
static void
draw_conditions (const OgCanvas *canvas,
                 const OgCurve  *own,
                 double          taken)
{
  g_autofree char *text = own != NULL ? og_chart_conditions_text (own) : NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double width;

  if (text == NULL)
    return;
  layout = og_canvas_text_new (canvas, text);
  og_text_get_size (layout, &width, NULL);
  if (taken + width + canvas->line >= og_canvas_get_room (canvas))
    return;
  og_set_colour (canvas->cr, og_quiet_colour (canvas->style), 1);
  og_text_draw (canvas->cr, layout,
                canvas->style->rtl ? canvas->pad : canvas->width - canvas->pad - width,
                canvas->pad * 0.8 + canvas->line * 0.07);
}

void
og_chart_draw_title (const OgCanvas *canvas,
                     const OgChart  *chart)
{
  g_autoptr (PangoLayout) layout
    = og_text_layout_new (canvas->context, canvas->style, _("Viscosity, mPa·s"), 1,
                          PANGO_WEIGHT_SEMIBOLD);
  const double width = og_text_fit (layout, og_canvas_get_room (canvas));

  og_set_colour (canvas->cr, &canvas->style->foreground, 1);
  og_text_draw (canvas->cr, layout,
                canvas->style->rtl ? canvas->width - canvas->pad - width : canvas->pad,
                canvas->pad * 0.8);
  draw_conditions (canvas, og_chart_get_own (chart), width);
}

void
og_chart_draw_x_title (const OgCanvas *canvas,
                       const OgPlot   *plot,
                       const OgChart  *chart)
{
  g_autoptr (PangoLayout) layout
    = og_canvas_text_new (canvas, og_chart_axis_title (og_chart_get_axis (chart)));
  const double width = og_text_fit (layout, og_canvas_get_room (canvas));

  og_set_colour (canvas->cr, og_quiet_colour (canvas->style), 1);
  og_text_draw (canvas->cr, layout,
                CLAMP (plot->area.x + (plot->area.width - width) / 2, canvas->pad,
                       canvas->width - canvas->pad - width),
                canvas->height - canvas->pad - canvas->small_line);
}

/* --- legend --- */

static void
draw_legend_swatch (const OgCanvas     *canvas,
                    const OgLegendItem *item,
                    double              x,
                    double              y)
{
  cairo_t *cr = canvas->cr;
  double width = OG_LEGEND_SWATCH * canvas->marks;
  OgRect box = { x, y - 4.5 * canvas->marks, width, 9 * canvas->marks };

  cairo_save (cr);
  switch (item->kind)
    {
    case OG_LEGEND_CURVE:
      og_set_colour (cr, og_series_colour (canvas->style, item->curve), 1);
      og_set_series_line (cr, canvas->style, item->curve);
      cairo_move_to (cr, x, y);
      cairo_rel_line_to (cr, width, 0);
      cairo_stroke (cr);
      if (item->curve > 0)
        og_draw_series_marker (cr, item->curve, x + width / 2, y, OG_MARKER_RADIUS * canvas->marks);
      break;
    case OG_LEGEND_BAND:
      og_set_colour (cr, &canvas->style->accent, 0.17);
      cairo_rectangle (cr, box.x, box.y, box.width, box.height);
      cairo_fill_preserve (cr);
      og_set_colour (cr, &canvas->style->accent, 0.45);
      cairo_set_line_width (cr, 0.6);
      cairo_stroke (cr);
      break;
    case OG_LEGEND_PRIOR:
      og_chart_set_prior_line (canvas);
      cairo_move_to (cr, x, y);
      cairo_rel_line_to (cr, width, 0);
      cairo_stroke (cr);
      break;
    case OG_LEGEND_MEASURED:
      og_chart_draw_cross (canvas, x + width / 2, y);
      break;
    case OG_LEGEND_EXTRAPOLATED:
    case OG_N_LEGEND_KINDS:
    default:
      og_set_colour (cr, &canvas->style->dim, 0.7);
      cairo_set_line_width (cr, 0.7);
      og_draw_hatch (cr, &box, 5 * canvas->marks, 1);
      break;
    }
  cairo_restore (cr);
}

void
og_chart_draw_legend (const OgCanvas      *canvas,
                      const OgChartLegend *legend)
{
  const double swatch = OG_LEGEND_SWATCH * canvas->marks;
  const double words = (OG_LEGEND_SWATCH + OG_LEGEND_SPACE) * canvas->marks;
  const gboolean rtl = canvas->style->rtl;

  for (guint i = 0; i < legend->n; i++)
    {
      const OgLegendItem *item = &legend->items[i];

      draw_legend_swatch (canvas, item, rtl ? item->x + item->width - swatch : item->x,
                          item->y + canvas->small_line / 2);
      og_set_colour (canvas->cr, &canvas->style->foreground, 1);
      og_text_draw (canvas->cr, item->layout, rtl ? item->x : item->x + words, item->y);
    }
}
