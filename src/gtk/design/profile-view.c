/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/chart.h"
#include "gtk/design/profile-view.h"

#define LEAST_EMS_WIDE 10.0
#define USUAL_EMS_WIDE 26.0

struct _OgProfileView
{
  OgPaintedView parent_instance;

  OgProfile *profile;
};

G_DEFINE_FINAL_TYPE (OgProfileView, og_profile_view, OG_TYPE_PAINTED_VIEW)

void
og_profile_view_set_profile (OgProfileView   *self,
                             const OgProfile *profile)
{
  g_return_if_fail (OG_IS_PROFILE_VIEW (self));

  g_clear_pointer (&self->profile, og_profile_free);
  if (profile != NULL)
    self->profile = og_profile_copy (profile);
  og_painted_view_describe (OG_PAINTED_VIEW (self), _("Fatty acids"),
                            og_profile_chart_describe (self->profile));
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

static void
og_profile_view_paint (OgPaintedView     *view,
                       cairo_t           *cr,
                       double             width,
                       double             height,
                       const OgDrawStyle *style)
{
  og_profile_chart_draw (cr, width, height, OG_PROFILE_VIEW (view)->profile, style);
}

static void
og_profile_view_measure_height (OgPaintedView     *view,
                                double             width,
                                const OgDrawStyle *style,
                                double            *minimum,
                                double            *natural)
{
  if (width < 0.0)
    width = style->font_size * LEAST_EMS_WIDE;
  *minimum = ceil (og_profile_chart_height (width, OG_PROFILE_VIEW (view)->profile, style));
  *natural = *minimum;
}

static void
og_profile_view_finalize (GObject *object)
{
  g_clear_pointer (&OG_PROFILE_VIEW (object)->profile, og_profile_free);

  G_OBJECT_CLASS (og_profile_view_parent_class)->finalize (object);
}

static void
og_profile_view_class_init (OgProfileViewClass *class)
{
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_profile_view_finalize;
  view_class->paint = og_profile_view_paint;
  view_class->measure_height = og_profile_view_measure_height;
  view_class->least_ems = LEAST_EMS_WIDE;
  view_class->usual_ems = USUAL_EMS_WIDE;
  view_class->height_for_width = TRUE;

  gtk_widget_class_set_css_name (widget_class, "profileview");
}

static void
og_profile_view_init (OgProfileView *self)
{
}

GtkWidget *
og_profile_view_new (void)
{
  return g_object_new (OG_TYPE_PROFILE_VIEW, NULL);
}
