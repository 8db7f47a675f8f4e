/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/painted-view.h"
#include "gtk/parts/theme-style.h"

typedef struct
{
  char *description;
} OgPaintedViewPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (OgPaintedView, og_painted_view, GTK_TYPE_WIDGET)

void
og_painted_view_init_style (OgPaintedView *self,
                            OgDrawStyle   *style)
{
  OG_PAINTED_VIEW_GET_CLASS (self)->init_style (self, style);
}

void
og_painted_view_describe (OgPaintedView *self,
                          const char    *name,
                          char          *description)
{
  OgPaintedViewPrivate *private = og_painted_view_get_instance_private (self);

  g_return_if_fail (OG_IS_PAINTED_VIEW (self));

  g_free (private->description);
  private->description = description;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description,
                                  -1);
}

const char *
og_painted_view_get_description (OgPaintedView *self)
{
  g_return_val_if_fail (OG_IS_PAINTED_VIEW (self), NULL);

  return ((OgPaintedViewPrivate *) og_painted_view_get_instance_private (self))->description;
}

static void
og_painted_view_theme_style (OgPaintedView *self,
                             OgDrawStyle   *style)
{
  og_theme_style_init (style, GTK_WIDGET (self));
}

static void
og_painted_view_snapshot (GtkWidget   *widget,
                          GtkSnapshot *snapshot)
{
  OgPaintedView *self = OG_PAINTED_VIEW (widget);
  const int width = gtk_widget_get_width (widget);
  const int height = gtk_widget_get_height (widget);
  OgDrawStyle style;
  cairo_t *cr;

  if (width <= 0 || height <= 0)
    return;
  og_painted_view_init_style (self, &style);
  cr = gtk_snapshot_append_cairo (snapshot,
                                  &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  OG_PAINTED_VIEW_GET_CLASS (self)->paint (self, cr, width, height, &style);
  cairo_destroy (cr);
}

static GtkSizeRequestMode
og_painted_view_get_request_mode (GtkWidget *widget)
{
  return OG_PAINTED_VIEW_GET_CLASS (widget)->height_for_width ? GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH
                                                              : GTK_SIZE_REQUEST_CONSTANT_SIZE;
}

static void
og_painted_view_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  OgPaintedView *self = OG_PAINTED_VIEW (widget);
  OgPaintedViewClass *class = OG_PAINTED_VIEW_GET_CLASS (self);
  OgDrawStyle style;
  double least;
  double usual;

  og_painted_view_init_style (self, &style);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = (int) (style.font_size * class->least_ems);
      *natural = (int) (style.font_size * class->usual_ems);
      return;
    }
  class->measure_height (self, for_size, &style, &least, &usual);
  *minimum = (int) least;
  *natural = (int) usual;
}

static void
og_painted_view_css_changed (GtkWidget         *widget,
                             GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (og_painted_view_parent_class)->css_changed (widget, change);

  gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
og_painted_view_system_setting_changed (GtkWidget        *widget,
                                        GtkSystemSetting  setting)
{
  GTK_WIDGET_CLASS (og_painted_view_parent_class)->system_setting_changed (widget, setting);

  gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
og_painted_view_direction_changed (GtkWidget        *widget,
                                   GtkTextDirection  previous)
{
  GTK_WIDGET_CLASS (og_painted_view_parent_class)->direction_changed (widget, previous);

  gtk_widget_queue_draw (widget);
}

static void
og_painted_view_finalize (GObject *object)
{
  OgPaintedViewPrivate *private =
    og_painted_view_get_instance_private (OG_PAINTED_VIEW (object));

  g_free (private->description);

  G_OBJECT_CLASS (og_painted_view_parent_class)->finalize (object);
}

static void
og_painted_view_class_init (OgPaintedViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_painted_view_finalize;
  widget_class->snapshot = og_painted_view_snapshot;
  widget_class->get_request_mode = og_painted_view_get_request_mode;
  widget_class->measure = og_painted_view_measure;
  widget_class->css_changed = og_painted_view_css_changed;
  widget_class->system_setting_changed = og_painted_view_system_setting_changed;
  widget_class->direction_changed = og_painted_view_direction_changed;
  class->init_style = og_painted_view_theme_style;

  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
og_painted_view_init (OgPaintedView *self)
{
  OgPaintedViewPrivate *private = og_painted_view_get_instance_private (self);

  private->description = g_strdup ("");
}
