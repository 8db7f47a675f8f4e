/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "draw/stove-chart.h"
#include "gtk/make/stove-chart-view.h"
#include "gtk/parts/chart-reading.h"

#define LEAST_EMS_WIDE 10.0
#define USUAL_EMS_WIDE 26.0
#define LEAST_EMS_HIGH 26.0
#define USUAL_EMS_HIGH 28.0

struct _OgStoveChartView
{
  OgPaintedView parent_instance;

  OgResult *result;
  OgStoveChart chart;
  gboolean by_key; /* the reading is moved by keys: the pointer leaving does not end it */
};

G_DEFINE_FINAL_TYPE (OgStoveChartView, og_stove_chart_view, OG_TYPE_PAINTED_VIEW)

static int
n_points (OgStoveChartView *self)
{
  return self->chart.plan != NULL ? (int) self->chart.plan->series->len : 0;
}

static void
update_description (OgStoveChartView *self)
{
  g_autofree char *whole = og_stove_chart_describe (&self->chart);
  g_autofree char *reading = og_stove_chart_read (&self->chart);

  og_painted_view_describe (OG_PAINTED_VIEW (self),
                            _("Temperature and viscosity of the pot against time"),
                            reading != NULL ? g_strdup_printf ("%s. %s", reading, whole)
                                            : g_steal_pointer (&whole));
}

static void
set_cursor (OgStoveChartView *self,
            int               cursor)
{
  if (self->chart.cursor == cursor)
    return;
  self->chart.cursor = cursor;
  update_description (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
og_stove_chart_view_show (OgStoveChartView  *self,
                          const OgStovePlan *plan,
                          OgResult          *result)
{
  OgResult *old;

  g_return_if_fail (OG_IS_STOVE_CHART_VIEW (self));

  old = self->result;
  self->result = result != NULL ? og_result_ref (result) : NULL;
  if (old != NULL)
    og_result_unref (old);
  self->chart = (OgStoveChart) { plan, self->result, -1 };
  self->by_key = FALSE;
  update_description (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
og_stove_chart_view_paint (OgPaintedView     *view,
                           cairo_t           *cr,
                           double             width,
                           double             height,
                           const OgDrawStyle *style)
{
  og_stove_chart_draw (cr, width, height, &OG_STOVE_CHART_VIEW (view)->chart, style);
}

static void
og_stove_chart_view_measure_height (OgPaintedView     *view,
                                    double             width,
                                    const OgDrawStyle *style,
                                    double            *minimum,
                                    double            *natural)
{
  *minimum = style->font_size * LEAST_EMS_HIGH;
  *natural = style->font_size * USUAL_EMS_HIGH;
}

static void
on_motion (GtkWidget *widget,
           double     x,
           double     y)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);
  OgDrawStyle style;
  int point;

  og_painted_view_init_style (OG_PAINTED_VIEW (self), &style);
  point = og_stove_chart_pick (gtk_widget_get_width (widget), gtk_widget_get_height (widget),
                               &self->chart, &style, x, y);
  if (point >= 0)
    self->by_key = FALSE;
  if (!self->by_key)
    set_cursor (self, point);
}

static void
on_leave (GtkWidget *widget)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);

  if (!self->by_key)
    set_cursor (self, -1);
}

static void
on_focus_leave (GtkWidget *widget)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);

  if (!self->by_key)
    return;
  self->by_key = FALSE;
  set_cursor (self, -1);
}

/* Moves the reading by @args points; the first press only shows it, at the beginning. */
static gboolean
move_reading (GtkWidget *widget,
              GVariant  *args,
              gpointer   unused)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);
  const int step = g_variant_get_int32 (args);
  gint64 to;

  if (n_points (self) == 0)
    return GDK_EVENT_PROPAGATE;
  to = self->chart.cursor >= 0 || ABS (step) > OG_CHART_LARGE_STEP
         ? (gint64) self->chart.cursor + step
         : 0;
  self->by_key = TRUE;
  set_cursor (self, (int) CLAMP (to, 0, n_points (self) - 1));
  return GDK_EVENT_STOP;
}

static gboolean
end_reading (GtkWidget *widget,
             GVariant  *args,
             gpointer   unused)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);

  if (self->chart.cursor < 0)
    return GDK_EVENT_PROPAGATE;
  self->by_key = FALSE;
  set_cursor (self, -1);
  return GDK_EVENT_STOP;
}

static void
og_stove_chart_view_finalize (GObject *object)
{
  g_clear_pointer (&OG_STOVE_CHART_VIEW (object)->result, og_result_unref);

  G_OBJECT_CLASS (og_stove_chart_view_parent_class)->finalize (object);
}

static void
og_stove_chart_view_class_init (OgStoveChartViewClass *class)
{
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_stove_chart_view_finalize;
  view_class->paint = og_stove_chart_view_paint;
  view_class->measure_height = og_stove_chart_view_measure_height;
  view_class->least_ems = LEAST_EMS_WIDE;
  view_class->usual_ems = USUAL_EMS_WIDE;

  og_chart_reading_init_class (widget_class, move_reading, end_reading);
}

static void
og_stove_chart_view_init (OgStoveChartView *self)
{
  static const OgChartReader reader = { on_motion, on_leave, on_focus_leave };

  self->chart.cursor = -1;
  update_description (self);
  og_chart_reading_init (GTK_WIDGET (self), &reader);
}

GtkWidget *
og_stove_chart_view_new (void)
{
  return g_object_new (OG_TYPE_STOVE_CHART_VIEW, NULL);
}
