/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"

#define RING_RADIUS 4.5 /* at mark scale 1 */

/* --- where a label stands --- */

static gboolean
is_in_range (const OgAxis *axis,
             double        value)
{
  double t = og_axis_map (axis, value);

  return t >= -1e-9 && t <= 1 + 1e-9;
}

static void
add_obstacle (OgChartRoom *room,
              OgRect       rect)
{
  if (room->n < G_N_ELEMENTS (room->taken))
    room->taken[room->n++] = rect;
}

/* how many pixels of the own curve run through @rect */
static double
curve_through (const OgChartRoom *room,
               const OgRect      *rect)
{
  const OgPlot *plot = room->plot;
  double before = NAN, hits = 0;

  for (double x = rect->x; x <= rect->x + rect->width; x += 3)
    {
      double t = (x - plot->area.x) / plot->area.width;
      double place = og_axis_unmap (&plot->x, t);
      double y = og_plot_y (plot, og_chart_read_curve (room->curve, place).value);
      double top = isnan (before) ? y : MIN (before, y);
      double bottom = isnan (before) ? y : MAX (before, y);

      if (!isnan (y) && bottom >= rect->y - 3 && top <= rect->y + rect->height + 3)
        hits += 3;
      before = y;
    }

  return hits;
}

static double
place_cost (const OgChartRoom *room,
            const OgRect      *rect)
{
  double area = rect->width * rect->height;
  double cost = 8 * (area - og_rect_overlap (rect, &room->plot->area)) / area;

  for (guint i = 0; i < room->n; i++)
    cost += 4 * og_rect_overlap (rect, &room->taken[i]) / area;
  cost += 3 * curve_through (room, rect) / rect->width;

  return cost;
}

/* Returns: the cheapest of @candidates, earlier ones preferred, kept clear of by later labels */
static OgRect
place_label (OgChartRoom  *room,
             const OgRect *candidates,
             guint         n)
{
  guint best = 0;
  double best_cost = G_MAXDOUBLE;

  for (guint i = 0; i < n; i++)
    {
      double cost = place_cost (room, &candidates[i]) + 0.02 * i;

      if (cost < best_cost)
        {
          best_cost = cost;
          best = i;
        }
    }
  add_obstacle (room, candidates[best]);

  return candidates[best];
}

/* Left out where the chart is too small to hold it. */
static void
draw_label (const OgCanvas *canvas,
            PangoLayout    *layout,
            const OgRect   *rect,
            const OgColour *colour)
{
  if (rect->x >= canvas->pad && rect->y >= canvas->pad
      && rect->x + rect->width <= canvas->width - canvas->pad
      && rect->y + rect->height <= canvas->height - canvas->pad)
    og_canvas_draw_outlined (canvas, layout, rect->x, rect->y, colour);
}

/* --- target --- */

void
og_chart_draw_target_label (const OgCanvas *canvas,
                            OgChartRoom    *room,
                            const OgChart  *chart)
{
  const OgPlot *plot = room->plot;
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;
  g_autofree char *text = NULL;
  g_autoptr (PangoLayout) layout = NULL;
  double width, height, top, bottom, left, right, near, far, inside;
  OgRect rect;

  if (!og_chart_has_target (chart))
    return;

  low = og_number_viscosity (chart->target_low_mpa_s);
  high = og_number_viscosity (chart->target_high_mpa_s);
  /* Translators: the viscosities aimed at, from and to */
  text = g_strdup_printf (_("target %s–%s"), low, high);
  layout = og_canvas_text_new (canvas, text);
  og_text_get_size (layout, &width, &height);
  if (width + 8 > plot->area.width)
    return;

  top = og_plot_y (plot, chart->target_high_mpa_s);
  bottom = og_plot_y (plot, chart->target_low_mpa_s);
  left = plot->area.x + 6;
  right = og_plot_right (plot) - width - 6;
  near = canvas->style->rtl ? right : left;
  far = canvas->style->rtl ? left : right;
  inside = bottom - top > height + 2 ? top + 2 : top - height - 1;
  rect = place_label (room,
                      (OgRect[]) { { near, inside, width, height },
                                   { far, inside, width, height },
                                   { near, top - height - 1, width, height },
                                   { far, top - height - 1, width, height },
                                   { near, bottom + 1, width, height },
                                   { far, bottom + 1, width, height } },
                      6);
  draw_label (canvas, layout, &rect, &canvas->style->dim);
}

/* --- gel point, setting and clearing --- */

static void
draw_mark (const OgCanvas *canvas,
           OgChartRoom    *room,
           double          place,
           const char     *text)
{
  const OgPlot *plot = room->plot;
  cairo_t *cr = canvas->cr;
  g_autoptr (PangoLayout) layout = NULL;
  double x, low, width, height;
  OgRect rect;

  if (!is_in_range (&plot->x, place))
    return;

  x = og_crisp (og_plot_x (plot, place));
  cairo_save (cr);
  og_set_colour (cr, &canvas->style->dim, 1);
  cairo_set_line_width (cr, 1);
  cairo_set_dash (cr, (double[]) { 4, 3 }, 2, 0);
  cairo_move_to (cr, x, plot->area.y);
  cairo_line_to (cr, x, og_plot_bottom (plot));
  cairo_stroke (cr);
  cairo_restore (cr);

  layout = og_canvas_text_new (canvas, text);
  og_text_get_size (layout, &width, &height);
  add_obstacle (room, (OgRect) { x - 1.5, plot->area.y, 3, plot->area.height });
  low = og_plot_bottom (plot) - height - 3;
  rect = place_label (room,
                      (OgRect[]) { { x + 5, plot->area.y + 2, width, height },
                                   { x - 5 - width, plot->area.y + 2, width, height },
                                   { x + 5, low, width, height },
                                   { x - 5 - width, low, width, height } },
                      4);
  draw_label (canvas, layout, &rect, &canvas->style->dim);
}

void
og_chart_draw_marks (const OgCanvas *canvas,
                     OgChartRoom    *room)
{
  const OgCurve *own = room->curve;
  const gboolean heat = own != NULL && own->axis == OG_CURVE_TEMPERATURE_C;

  if (own == NULL)
    return;

  draw_mark (canvas, room, own->mark_x, heat ? C_("temperature", "sets") : _("gel point"));
  if (heat)
    draw_mark (canvas, room, own->clear_x, C_("temperature", "clears"));
}

/* --- the own point --- */

gboolean
og_chart_has_own_point (const OgPlot  *plot,
                        const OgCurve *own)
{
  return own != NULL && is_in_range (&plot->x, own->own_x)
         && og_chart_is_viscosity (own->own.value) && is_in_range (&plot->y, own->own.value);
}

void
og_chart_draw_own_ring (const OgCanvas *canvas,
                        OgChartRoom    *room)
{
  const OgPlot *plot = room->plot;
  const OgCurve *own = room->curve;
  cairo_t *cr = canvas->cr;
  double x = og_plot_x (plot, own->own_x), y = og_plot_y (plot, own->own.value);
  double radius = RING_RADIUS * canvas->marks;

  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  og_set_colour (cr, &canvas->style->background, 1);
  cairo_fill_preserve (cr);
  og_set_colour (cr, &canvas->style->accent, 1);
  cairo_set_line_width (cr, (canvas->style->high_contrast ? 3 : 2.2) * canvas->marks);
  cairo_stroke (cr);
  add_obstacle (room, (OgRect) { x - 1.4 * radius, y - 1.4 * radius, 2.8 * radius, 2.8 * radius });
}

void
og_chart_draw_own_label (const OgCanvas *canvas,
                         OgChartRoom    *room)
{
  const OgPlot *plot = room->plot;
  const OgCurve *own = room->curve;
  g_autofree char *text = og_number_with_unit (own->own.value);
  g_autoptr (PangoLayout) layout = og_text_layout_new (canvas->context, canvas->style, text, 1,
                                                       PANGO_WEIGHT_SEMIBOLD);
  double x = og_plot_x (plot, own->own_x), y = og_plot_y (plot, own->own.value);
  double width, height, right, left, above, below;
  OgRect rect;

  og_text_get_size (layout, &width, &height);
  right = x + 2 * RING_RADIUS * canvas->marks;
  left = x - 2 * RING_RADIUS * canvas->marks - width;
  above = y - height - 1.3 * RING_RADIUS * canvas->marks;
  below = y + 1.3 * RING_RADIUS * canvas->marks;
  rect = place_label (room,
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
  rect.x = CLAMP (rect.x, plot->area.x, MAX (plot->area.x, og_plot_right (plot) - width));
  rect.y = CLAMP (rect.y, plot->area.y, MAX (plot->area.y, og_plot_bottom (plot) - height));
  draw_label (canvas, layout, &rect, &canvas->style->foreground);
}

void
og_chart_draw_own_missing (const OgCanvas *canvas,
                           const OgPlot   *plot,
                           const OgChart  *chart)
{
  g_autoptr (PangoLayout) layout = og_canvas_text_new (canvas, og_chart_missing_text (chart));
  OgRect rect = { plot->area.x + 8, plot->area.y + 4, plot->area.width - 16, 0 };

  og_text_set_width (layout, rect.width, FALSE);
  og_text_get_size (layout, NULL, &rect.height);
  if (rect.height < plot->area.height / 2)
    draw_label (canvas, layout, &rect, &canvas->style->dim);
}

/* --- under the cursor --- */

/* Returns: (transfer full): the lines of the read-out box; in a small plot it takes only what no
 * other place tells */
static GPtrArray *
read_out_layouts (const OgCanvas   *canvas,
                  const OgRect     *area,
                  const OgChart    *chart,
                  const OgEstimate *estimate)
{
  const gboolean small = area->height < 8 * canvas->line || area->width < 24 * canvas->line;
  g_autofree char *place = og_chart_place_text (og_chart_get_axis (chart), chart->cursor_x);
  g_autofree char *value = og_chart_value_text (chart, estimate->value);
  g_autofree char *band = small ? og_number_range (estimate) : og_number_band (estimate);
  GPtrArray *layouts = g_ptr_array_new_with_free_func (g_object_unref);

  if (!small)
    g_ptr_array_add (layouts, og_canvas_text_new (canvas, place));
  g_ptr_array_add (layouts, og_text_layout_new (canvas->context, canvas->style, value,
                                                small ? 1 : 1.1, PANGO_WEIGHT_SEMIBOLD));
  if (band != NULL)
    g_ptr_array_add (layouts, og_canvas_text_new (canvas, band));

  return layouts;
}

static gboolean
is_heavy (PangoLayout *layout)
{
  const PangoFontDescription *font = pango_layout_get_font_description (layout);

  return pango_font_description_get_weight (font) > PANGO_WEIGHT_NORMAL;
}

/* The size of the box around @layouts, which are cut where the chart is too narrow. */
static OgRect
fit_box (const OgCanvas  *canvas,
         const GPtrArray *layouts,
         double           inner)
{
  OgRect box = { 0 };

  for (guint i = 0; i < layouts->len; i++)
    {
      PangoLayout *layout = g_ptr_array_index (layouts, i);
      double height;

      og_text_get_size (layout, NULL, &height);
      box.width = MAX (box.width, og_text_fit (layout, og_canvas_get_room (canvas) - 2 * inner));
      box.height += height;
    }
  box.width += 2 * inner;
  box.height += 2 * inner - 1;

  return box;
}

static OgRect
place_box (const OgCanvas *canvas,
           OgChartRoom    *room,
           double          x,
           OgRect          box)
{
  const OgPlot *plot = room->plot;
  const double top = plot->area.y + 4;
  const double low = og_plot_bottom (plot) - box.height - 4;
  const double right = x + 10, left = x - 10 - box.width;

  box = place_label (room,
                     (OgRect[]) { { right, top, box.width, box.height },
                                  { left, top, box.width, box.height },
                                  { right, low, box.width, box.height },
                                  { left, low, box.width, box.height } },
                     4);
  box.x = CLAMP (box.x, canvas->pad, MAX (canvas->pad, canvas->width - canvas->pad - box.width));
  box.y = CLAMP (box.y, canvas->pad, MAX (canvas->pad, canvas->height - canvas->pad - box.height));

  return box;
}

static void
draw_read_out (const OgCanvas   *canvas,
               OgChartRoom      *room,
               const OgChart    *chart,
               const OgEstimate *estimate)
{
  const OgDrawStyle *style = canvas->style;
  const double inner = canvas->line * 0.35;
  cairo_t *cr = canvas->cr;
  g_autoptr (GPtrArray) layouts = read_out_layouts (canvas, &room->plot->area, chart, estimate);
  const OgRect box = place_box (canvas, room, og_plot_x (room->plot, chart->cursor_x),
                                fit_box (canvas, layouts, inner));
  double y = box.y + inner;

  og_set_colour (cr, &style->background, 0.94);
  cairo_rectangle (cr, og_crisp (box.x), og_crisp (box.y), floor (box.width), floor (box.height));
  cairo_fill_preserve (cr);
  og_set_colour (cr, &style->dim, 0.6);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);

  for (guint i = 0; i < layouts->len; i++)
    {
      PangoLayout *layout = g_ptr_array_index (layouts, i);
      double height;

      og_set_colour (cr, is_heavy (layout) ? &style->foreground : &style->dim, 1);
      og_text_draw (cr, layout, box.x + inner, y);
      og_text_get_size (layout, NULL, &height);
      y += height;
    }
}

void
og_chart_draw_cursor (const OgCanvas *canvas,
                      OgChartRoom    *room,
                      const OgChart  *chart)
{
  const OgPlot *plot = room->plot;
  const double x = og_plot_x (plot, chart->cursor_x);
  cairo_t *cr = canvas->cr;
  OgEstimate estimate;
  double y;

  if (!is_in_range (&plot->x, chart->cursor_x) || !og_chart_has_points (room->curve))
    return;

  estimate = og_chart_read_curve (room->curve, chart->cursor_x);
  og_set_colour (cr, &canvas->style->foreground, 0.7);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, og_crisp (x), plot->area.y);
  cairo_line_to (cr, og_crisp (x), og_plot_bottom (plot));
  cairo_stroke (cr);

  y = og_plot_y (plot, estimate.value);
  if (!isnan (y) && is_in_range (&plot->y, estimate.value))
    {
      og_set_colour (cr, &canvas->style->accent, 1);
      cairo_arc (cr, x, y, 0.8 * RING_RADIUS * canvas->marks, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  add_obstacle (room, (OgRect) { x - 1.5, plot->area.y, 3, plot->area.height });
  draw_read_out (canvas, room, chart, &estimate);
}
