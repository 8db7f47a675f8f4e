/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "draw/chart.h"
#include "gtk/design/chart-view.h"
#include "gtk/parts/chart-reading.h"

#define LEAST_EMS_WIDE 10.0
#define USUAL_EMS_WIDE 26.0
#define LEAST_EMS_HIGH 20.0
#define USUAL_EMS_HIGH 22.0
#define CUP_EMS_HIGH 1.5      /* the line that names the cup */
#define READINGS_EMS_HIGH 1.5 /* another line of the legend */
#define BESIDE_EMS_HIGH 1.5   /* so is each recipe beside this one */

struct _OgChartView
{
  OgPaintedView parent_instance;

  OgResult *result; /* keeps the curves alive */
  OgResult *beside[OG_COMPARISON_MAX]; /* those of other recipes; [0] is not used */
  char *names[OG_COMPARISON_MAX];
  guint n_beside; /* with [0], or 0 */
  OgCurveAxis axis;
  OgChart chart;
  OgCup cup; /* what chart.cup points at, if at anything */
  gboolean by_key; /* the reading is moved by keys: the pointer leaving does not end it */
};

G_DEFINE_FINAL_TYPE (OgChartView, og_chart_view, OG_TYPE_PAINTED_VIEW)

static const OgCurve *
own_curve (OgChartView *self)
{
  return self->chart.n_curves > 0 && self->chart.curves[0]->n > 0 ? self->chart.curves[0] : NULL;
}

static guint
nearest_sample (const OgCurve *curve,
                double         x)
{
  guint best = 0;

  for (guint i = 1; i < curve->n; i++)
    {
      if (ABS (curve->x[i] - x) < ABS (curve->x[best] - x))
        best = i;
    }
  return best;
}

gboolean
og_chart_view_get_reading (OgChartView *self,
                           double      *x,
                           OgEstimate  *viscosity)
{
  const OgCurve *curve;
  guint i;

  g_return_val_if_fail (OG_IS_CHART_VIEW (self), FALSE);

  curve = own_curve (self);
  if (curve == NULL || !isfinite (self->chart.cursor_x))
    return FALSE;
  i = nearest_sample (curve, self->chart.cursor_x);
  *x = curve->x[i];
  *viscosity = (OgEstimate) { curve->value[i], curve->low80[i], curve->high80[i] };
  return TRUE;
}

static const char *
axis_title (OgCurveAxis axis)
{
  switch (axis)
    {
    case OG_CURVE_AGENT_PCT:
      return _("Viscosity against the share of the gelling agent");
    case OG_CURVE_TEMPERATURE_C:
      return _("Viscosity against temperature");
    case OG_CURVE_SHEAR_RATE_1_S:
      return _("Viscosity against shear rate");
    case OG_N_CURVES:
      break;
    }
  g_return_val_if_reached ("");
}

static char *
place_text (OgCurveAxis axis,
            const char *x,
            const char *viscosity)
{
  switch (axis)
    {
    case OG_CURVE_AGENT_PCT:
      /* Translators: a place on the chart, for screen readers: share of the agent, then the viscosity there */
      return g_strdup_printf (_("At %s %% of gelling agent: %s"), x, viscosity);
    case OG_CURVE_TEMPERATURE_C:
      /* Translators: a place on the chart, for screen readers: temperature, then the viscosity there */
      return g_strdup_printf (_("At %s °C: %s"), x, viscosity);
    case OG_CURVE_SHEAR_RATE_1_S:
      /* Translators: a place on the chart, for screen readers: shear rate, then the viscosity there */
      return g_strdup_printf (_("At a shear rate of %s per second: %s"), x, viscosity);
    case OG_N_CURVES:
      break;
    }
  g_return_val_if_reached (NULL);
}

static char *
reading_text (OgChartView *self)
{
  g_autofree char *place = NULL;
  g_autofree char *value = NULL;
  g_autofree char *band = NULL;
  g_autofree char *both = NULL;
  OgEstimate viscosity;
  double x;

  if (!og_chart_view_get_reading (self, &x, &viscosity))
    return NULL;
  place = og_number_significant (x, 3);
  value = og_number_with_unit (viscosity.value);
  band = og_number_band (&viscosity);
  both = band != NULL ? g_strdup_printf ("%s, %s", value, band) : g_strdup (value);
  return place_text (self->axis, place, both);
}

static void
update_description (OgChartView *self)
{
  g_autofree char *reading = reading_text (self);
  g_autofree char *whole =
    self->chart.n_curves > 0 ? og_chart_describe (&self->chart) : g_strdup ("");

  og_painted_view_describe (OG_PAINTED_VIEW (self), axis_title (self->axis),
                            reading != NULL ? g_strdup_printf ("%s. %s", reading, whole)
                                            : g_steal_pointer (&whole));
}

static void
set_cursor (OgChartView *self,
            double       x)
{
  if (self->chart.cursor_x == x || (!isfinite (x) && !isfinite (self->chart.cursor_x)))
    return;
  self->chart.cursor_x = x;
  update_description (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
has_marks (OgChartView *self)
{
  return self->chart.marks != NULL && self->chart.marks->len > 0;
}

/* The recipe's own share of the agent that the readings tell of; NAN without one. */
static double
main_agent_pct (const OgResult *result)
{
  const OgCurve *curve = &result->curves[OG_CURVE_AGENT_PCT];

  return curve->n > 0 ? curve->own_x : NAN;
}

/* Other recipes are only drawn where there is an own curve to compare with. */
static void
lay_curves (OgChartView *self)
{
  OgChart *chart = &self->chart;

  chart->n_curves = self->result != NULL ? 1 : 0;
  chart->curves[0] = self->result != NULL ? &self->result->curves[self->axis] : NULL;
  chart->names[0] = self->n_beside > 0 ? self->names[0] : NULL;
  for (guint i = 1; self->result != NULL && i < self->n_beside; i++)
    {
      chart->curves[chart->n_curves] = &self->beside[i]->curves[self->axis];
      chart->names[chart->n_curves++] = self->names[i];
    }
}

static void
drop_beside (OgChartView *self)
{
  for (guint i = 0; i < self->n_beside; i++)
    {
      og_result_unref (self->beside[i]);
      g_free (self->names[i]);
    }
  self->n_beside = 0;
}

void
og_chart_view_set_beside (OgChartView        *self,
                          const OgComparison *comparison)
{
  const guint before = self->n_beside;

  g_return_if_fail (OG_IS_CHART_VIEW (self));

  if (comparison == NULL && before == 0)
    return;
  drop_beside (self);
  for (guint i = 0; comparison != NULL && i < comparison->recipes->len; i++)
    {
      const OgCompared *recipe = g_ptr_array_index (comparison->recipes, i);

      self->beside[i] = og_result_ref (recipe->result);
      self->names[i] = g_strdup (recipe->name);
      self->n_beside++;
    }
  lay_curves (self);
  if (self->n_beside != before)
    gtk_widget_queue_resize (GTK_WIDGET (self));
  update_description (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
og_chart_view_show (OgChartView *self,
                    OgResult    *result,
                    OgCurveAxis  axis,
                    double       target_low_mpa_s,
                    double       target_high_mpa_s)
{
  OgResult *old;
  gboolean had_marks;

  g_return_if_fail (OG_IS_CHART_VIEW (self));
  g_return_if_fail (axis < OG_N_CURVES);

  old = self->result;
  had_marks = has_marks (self);
  self->result = result != NULL ? og_result_ref (result) : NULL;
  if (axis != self->axis)
    self->chart.cursor_x = NAN;
  self->axis = axis;
  lay_curves (self);
  self->chart.density_g_ml = result != NULL ? result->density_g_ml : NAN;
  self->chart.marks = result != NULL ? result->marks : NULL;
  self->chart.marks_agent_pct = result != NULL ? main_agent_pct (result) : NAN;
  self->chart.target_low_mpa_s = target_low_mpa_s;
  self->chart.target_high_mpa_s = target_high_mpa_s;
  if (had_marks != has_marks (self))
    gtk_widget_queue_resize (GTK_WIDGET (self));
  if (old != NULL)
    og_result_unref (old);
  update_description (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
og_chart_view_set_cup (OgChartView *self,
                       const OgCup *cup)
{
  g_return_if_fail (OG_IS_CHART_VIEW (self));

  if (cup != NULL)
    self->cup = *cup;
  self->chart.cup = cup != NULL ? &self->cup : NULL;
  update_description (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static void
og_chart_view_paint (OgPaintedView     *view,
                     cairo_t           *cr,
                     double             width,
                     double             height,
                     const OgDrawStyle *style)
{
  OgChartView *self = OG_CHART_VIEW (view);

  if (self->chart.n_curves > 0)
    og_chart_draw (cr, width, height, &self->chart, style);
}

static void
og_chart_view_measure_height (OgPaintedView     *view,
                              double             width,
                              const OgDrawStyle *style,
                              double            *minimum,
                              double            *natural)
{
  OgChartView *self = OG_CHART_VIEW (view);
  const double more = (self->chart.cup != NULL ? CUP_EMS_HIGH : 0.0)
                      + (has_marks (self) ? READINGS_EMS_HIGH : 0.0)
                      + BESIDE_EMS_HIGH * self->n_beside;

  *minimum = style->font_size * (LEAST_EMS_HIGH + more);
  *natural = style->font_size * (USUAL_EMS_HIGH + more);
}

static void
on_motion (GtkWidget *widget,
           double     x,
           double     y)
{
  OgChartView *self = OG_CHART_VIEW (widget);
  OgChartReading reading;
  OgDrawStyle style;

  if (own_curve (self) == NULL)
    return;
  og_painted_view_init_style (OG_PAINTED_VIEW (self), &style);
  if (og_chart_pick (gtk_widget_get_width (widget), gtk_widget_get_height (widget), &self->chart,
                     &style, x, y, &reading))
    {
      self->by_key = FALSE;
      set_cursor (self, reading.x);
    }
  else if (!self->by_key)
    set_cursor (self, NAN);
}

static void
on_leave (GtkWidget *widget)
{
  OgChartView *self = OG_CHART_VIEW (widget);

  if (!self->by_key)
    set_cursor (self, NAN);
}

static void
on_focus_leave (GtkWidget *widget)
{
  OgChartView *self = OG_CHART_VIEW (widget);

  if (!self->by_key)
    return;
  self->by_key = FALSE;
  set_cursor (self, NAN);
}

static guint
start_of_reading (const OgCurve *curve)
{
  return nearest_sample (curve, isfinite (curve->own_x) ? curve->own_x : curve->x[0]);
}

/* Moves the reading by @args samples; the first press only shows it, at the recipe's own place. */
static gboolean
move_reading (GtkWidget *widget,
              GVariant  *args,
              gpointer   unused)
{
  OgChartView *self = OG_CHART_VIEW (widget);
  const OgCurve *curve = own_curve (self);
  const int step = g_variant_get_int32 (args);
  gint64 i;

  if (curve == NULL)
    return GDK_EVENT_PROPAGATE;
  if (isfinite (self->chart.cursor_x))
    i = (gint64) nearest_sample (curve, self->chart.cursor_x) + step;
  else
    i = ABS (step) > OG_CHART_LARGE_STEP ? step : (gint64) start_of_reading (curve);
  self->by_key = TRUE;
  set_cursor (self, curve->x[CLAMP (i, 0, (gint64) curve->n - 1)]);
  return GDK_EVENT_STOP;
}

static gboolean
end_reading (GtkWidget *widget,
             GVariant  *args,
             gpointer   unused)
{
  OgChartView *self = OG_CHART_VIEW (widget);

  if (!isfinite (self->chart.cursor_x))
    return GDK_EVENT_PROPAGATE;
  self->by_key = FALSE;
  set_cursor (self, NAN);
  return GDK_EVENT_STOP;
}

static void
og_chart_view_finalize (GObject *object)
{
  drop_beside (OG_CHART_VIEW (object));
  g_clear_pointer (&OG_CHART_VIEW (object)->result, og_result_unref);

  G_OBJECT_CLASS (og_chart_view_parent_class)->finalize (object);
}

static void
og_chart_view_class_init (OgChartViewClass *class)
{
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_chart_view_finalize;
  view_class->paint = og_chart_view_paint;
  view_class->measure_height = og_chart_view_measure_height;
  view_class->least_ems = LEAST_EMS_WIDE;
  view_class->usual_ems = USUAL_EMS_WIDE;

  og_chart_reading_init_class (widget_class, move_reading, end_reading);
}

static void
og_chart_view_init (OgChartView *self)
{
  static const OgChartReader reader = { on_motion, on_leave, on_focus_leave };

  self->chart.cursor_x = NAN;
  self->chart.target_low_mpa_s = NAN;
  self->chart.target_high_mpa_s = NAN;
  og_chart_reading_init (GTK_WIDGET (self), &reader);
}

GtkWidget *
og_chart_view_new (void)
{
  return g_object_new (OG_TYPE_CHART_VIEW, NULL);
}
