/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/chart.h"
#include "gtk/design/profile-view.h"
#include "gtk/parts/theme-style.h"

#define LEAST_EMS_WIDE 10.0
#define USUAL_EMS_WIDE 26.0

struct _OgProfileView
{
  GtkWidget parent_instance;

  OgProfile *profile;
  char *description;
};

G_DEFINE_FINAL_TYPE (OgProfileView, og_profile_view, GTK_TYPE_WIDGET)

void
og_profile_view_set_profile (OgProfileView   *self,
                             const OgProfile *profile)
{
  g_return_if_fail (OG_IS_PROFILE_VIEW (self));

  g_clear_pointer (&self->profile, og_profile_free);
  if (profile != NULL)
    self->profile = og_profile_copy (profile);
  g_free (self->description);
  self->description = og_profile_chart_describe (self->profile);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Fatty acids"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, self->description,
                                  -1);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

const char *
og_profile_view_get_description (OgProfileView *self)
{
  g_return_val_if_fail (OG_IS_PROFILE_VIEW (self), NULL);

  return self->description;
}

static void
og_profile_view_snapshot (GtkWidget   *widget,
                          GtkSnapshot *snapshot)
{
  OgProfileView *self = OG_PROFILE_VIEW (widget);
  const int width = gtk_widget_get_width (widget);
  const int height = gtk_widget_get_height (widget);
  OgDrawStyle style;
  cairo_t *cr;

  if (width <= 0 || height <= 0)
    return;
  og_theme_style_init (&style, widget);
  cr = gtk_snapshot_append_cairo (snapshot,
                                  &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  og_profile_chart_draw (cr, width, height, self->profile, &style);
  cairo_destroy (cr);
}

static GtkSizeRequestMode
og_profile_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
og_profile_view_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  OgProfileView *self = OG_PROFILE_VIEW (widget);
  OgDrawStyle style;
  double width = for_size;

  og_theme_style_init (&style, widget);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = (int) (style.font_size * LEAST_EMS_WIDE);
      *natural = (int) (style.font_size * USUAL_EMS_WIDE);
      return;
    }
  if (for_size < 0)
    width = style.font_size * LEAST_EMS_WIDE;
  *minimum = (int) ceil (og_profile_chart_height (width, self->profile, &style));
  *natural = *minimum;
}

static void
og_profile_view_css_changed (GtkWidget         *widget,
                             GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (og_profile_view_parent_class)->css_changed (widget, change);

  gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
og_profile_view_system_setting_changed (GtkWidget        *widget,
                                        GtkSystemSetting  setting)
{
  GTK_WIDGET_CLASS (og_profile_view_parent_class)->system_setting_changed (widget, setting);

  gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
og_profile_view_direction_changed (GtkWidget        *widget,
                                   GtkTextDirection  previous)
{
  GTK_WIDGET_CLASS (og_profile_view_parent_class)->direction_changed (widget, previous);

  gtk_widget_queue_draw (widget);
}

static void
og_profile_view_finalize (GObject *object)
{
  OgProfileView *self = OG_PROFILE_VIEW (object);

  g_clear_pointer (&self->profile, og_profile_free);
  g_free (self->description);

  G_OBJECT_CLASS (og_profile_view_parent_class)->finalize (object);
}

static void
og_profile_view_class_init (OgProfileViewClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_profile_view_finalize;
  widget_class->snapshot = og_profile_view_snapshot;
  widget_class->get_request_mode = og_profile_view_get_request_mode;
  widget_class->measure = og_profile_view_measure;
  widget_class->css_changed = og_profile_view_css_changed;
  widget_class->system_setting_changed = og_profile_view_system_setting_changed;
  widget_class->direction_changed = og_profile_view_direction_changed;

  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "profileview");
}

static void
og_profile_view_init (OgProfileView *self)
{
  self->description = g_strdup ("");
}

GtkWidget *
og_profile_view_new (void)
{
  return g_object_new (OG_TYPE_PROFILE_VIEW, NULL);
}
