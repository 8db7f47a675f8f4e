/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/plot.h"

#include <math.h>

#define LEAST_PAD 6.0
#define PAD_SHARE 0.6 /* of the font size */
#define OUTLINE 3.5
#define FARTHEST 50.0 /* plot widths or heights: how far outside the plot a point is still drawn */

void
og_canvas_init (OgCanvas          *canvas,
                cairo_t           *cr,
                double             width,
                double             height,
                const OgDrawStyle *style)
{
  *canvas = (OgCanvas) { .cr = cr, .style = style, .width = width, .height = height };
  canvas->context = og_text_context_new (cr, style);
  canvas->line = og_text_line_height (canvas->context, style, 1);
  canvas->small_line = canvas->line * OG_SMALL_TEXT;
  canvas->pad = MAX (LEAST_PAD, PAD_SHARE * style->font_size);
  canvas->marks = og_mark_scale (style);
}

void
og_canvas_clear (OgCanvas *canvas)
{
  g_clear_object (&canvas->context);
}

double
og_canvas_get_room (const OgCanvas *canvas)
{
  return canvas->width - 2 * canvas->pad;
}

PangoLayout *
og_canvas_text_new (const OgCanvas *canvas,
                    const char     *text)
{
  return og_text_layout_new (canvas->context, canvas->style, text, OG_SMALL_TEXT,
                             PANGO_WEIGHT_NORMAL);
}

double
og_canvas_widest_label (const OgCanvas *canvas,
                        const OgAxis   *axis,
                        const GArray   *ticks)
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
      layout = og_canvas_text_new (canvas, text);
      og_text_get_size (layout, &width, NULL);
      widest = MAX (widest, width);
    }

  return widest;
}

void
og_canvas_draw_outlined (const OgCanvas *canvas,
                         PangoLayout    *layout,
                         double          x,
                         double          y,
                         const OgColour *colour)
{
  cairo_t *cr = canvas->cr;

  cairo_save (cr);
  cairo_move_to (cr, x, y);
  pango_cairo_layout_path (cr, layout);
  og_set_colour (cr, &canvas->style->background, 0.85);
  cairo_set_line_width (cr, OUTLINE * canvas->marks);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
  cairo_restore (cr);
  og_set_colour (cr, colour, 1);
  og_text_draw (cr, layout, x, y);
}

double
og_plot_x (const OgPlot *plot,
           double        x)
{
  double t = og_axis_map (&plot->x, x);

  return isnan (t) ? NAN : plot->area.x + CLAMP (t, -FARTHEST, FARTHEST) * plot->area.width;
}

double
og_plot_y (const OgPlot *plot,
           double        y)
{
  double t = og_axis_map (&plot->y, y);

  return isnan (t) ? NAN
                   : plot->area.y + (1 - CLAMP (t, -FARTHEST, FARTHEST)) * plot->area.height;
}

double
og_plot_right (const OgPlot *plot)
{
  return plot->area.x + plot->area.width;
}

double
og_plot_bottom (const OgPlot *plot)
{
  return plot->area.y + plot->area.height;
}
