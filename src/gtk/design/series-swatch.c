/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/series-swatch.h"

#include "draw/paint.h"

#define EMS_WIDE 2.5
#define EMS_HIGH 0.9

struct _OgSeriesSwatch
{
  OgPaintedView parent_instance;

  guint index;
};

G_DEFINE_FINAL_TYPE (OgSeriesSwatch, og_series_swatch, OG_TYPE_PAINTED_VIEW)

static void
og_series_swatch_paint (OgPaintedView     *view,
                        cairo_t           *cr,
                        double             width,
                        double             height,
                        const OgDrawStyle *style)
{
  const guint index = OG_SERIES_SWATCH (view)->index;
  const double y = og_crisp (height / 2.0);

  og_set_colour (cr, og_series_colour (style, index), 1.0);
  og_set_series_line (cr, style, index);
  cairo_move_to (cr, 0.0, y);
  cairo_line_to (cr, width, y);
  cairo_stroke (cr);
  if (index > 0)
    og_draw_series_marker (cr, index, width / 2.0, y, height / 3.0);
}

static void
og_series_swatch_measure_height (OgPaintedView     *view,
                                 double             width,
                                 const OgDrawStyle *style,
                                 double            *minimum,
                                 double            *natural)
{
  *minimum = *natural = style->font_size * EMS_HIGH;
}

static void
og_series_swatch_class_init (OgSeriesSwatchClass *class)
{
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);

  view_class->paint = og_series_swatch_paint;
  view_class->measure_height = og_series_swatch_measure_height;
  view_class->least_ems = EMS_WIDE;
  view_class->usual_ems = EMS_WIDE;
}

static void
og_series_swatch_init (OgSeriesSwatch *self)
{
  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_START);
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE);
}

GtkWidget *
og_series_swatch_new (guint index)
{
  OgSeriesSwatch *self = g_object_new (OG_TYPE_SERIES_SWATCH,
                                       "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);

  self->index = index;
  return GTK_WIDGET (self);
}
