/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "draw/stove-chart.h"
#include "gtk/make/stove-chart-view.h"
#include "gtk/parts/chart-reading.h"
#include "gtk/parts/theme-style.h"

#define LEAST_EMS_WIDE 10.0
#define USUAL_EMS_WIDE 26.0
#define LEAST_EMS_HIGH 26.0
#define USUAL_EMS_HIGH 28.0

struct _OgStoveChartView
{
  GtkWidget parent_instance;

  OgResult *result;
  OgStoveChart chart;
  char *description;
  gboolean by_key; /* the reading is moved by keys: the pointer leaving does not end it */
};

G_DEFINE_FINAL_TYPE (OgStoveChartView, og_stove_chart_view, GTK_TYPE_WIDGET)

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

  g_free (self->description);
  self->description = reading != NULL ? g_strdup_printf ("%s. %s", reading, whole)
                                      : g_steal_pointer (&whole);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _("Temperature and viscosity of the pot against time"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, self->description,
                                  -1);
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

const char *
og_stove_chart_view_get_description (OgStoveChartView *self)
{
  g_return_val_if_fail (OG_IS_STOVE_CHART_VIEW (self), NULL);

  return self->description;
}

static void
og_stove_chart_view_snapshot (GtkWidget   *widget,
                              GtkSnapshot *snapshot)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);
  const int width = gtk_widget_get_width (widget);
  const int height = gtk_widget_get_height (widget);
  OgDrawStyle style;
  cairo_t *cr;

  if (width <= 0 || height <= 0)
    return;
  og_theme_style_init (&style, widget);
  cr = gtk_snapshot_append_cairo (snapshot,
                                  &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  og_stove_chart_draw (cr, width, height, &self->chart, &style);
  cairo_destroy (cr);
}

static void
og_stove_chart_view_measure (GtkWidget      *widget,
                             GtkOrientation  orientation,
                             int             for_size,
                             int            *minimum,
                             int            *natural,
                             int            *minimum_baseline,
                             int            *natural_baseline)
{
  const gboolean wide = orientation == GTK_ORIENTATION_HORIZONTAL;
  OgDrawStyle style;

  og_theme_style_init (&style, widget);
  *minimum = (int) (style.font_size * (wide ? LEAST_EMS_WIDE : LEAST_EMS_HIGH));
  *natural = (int) (style.font_size * (wide ? USUAL_EMS_WIDE : USUAL_EMS_HIGH));
}

static void
on_motion (GtkWidget *widget,
           double     x,
           double     y)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (widget);
  OgDrawStyle style;
  int point;

  og_theme_style_init (&style, widget);
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
og_stove_chart_view_css_changed (GtkWidget         *widget,
                                 GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (og_stove_chart_view_parent_class)->css_changed (widget, change);

  gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
og_stove_chart_view_system_setting_changed (GtkWidget        *widget,
                                            GtkSystemSetting  setting)
{
  GTK_WIDGET_CLASS (og_stove_chart_view_parent_class)->system_setting_changed (widget, setting);

  gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
og_stove_chart_view_direction_changed (GtkWidget        *widget,
                                       GtkTextDirection  previous)
{
  GTK_WIDGET_CLASS (og_stove_chart_view_parent_class)->direction_changed (widget, previous);

  gtk_widget_queue_draw (widget);
}

static void
og_stove_chart_view_finalize (GObject *object)
{
  OgStoveChartView *self = OG_STOVE_CHART_VIEW (object);

  g_clear_pointer (&self->result, og_result_unref);
  g_free (self->description);

  G_OBJECT_CLASS (og_stove_chart_view_parent_class)->finalize (object);
}

static void
og_stove_chart_view_class_init (OgStoveChartViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_stove_chart_view_finalize;
  widget_class->snapshot = og_stove_chart_view_snapshot;
  widget_class->measure = og_stove_chart_view_measure;
  widget_class->css_changed = og_stove_chart_view_css_changed;
  widget_class->system_setting_changed = og_stove_chart_view_system_setting_changed;
  widget_class->direction_changed = og_stove_chart_view_direction_changed;

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
