/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gtk/label/label-sketch.h"
#include "gtk/parts/theme-style.h"

#define MARGIN 12.0
#define LEAST_EMS_WIDE 14.0
#define USUAL_EMS_WIDE 26.0

struct _OgLabelSketch
{
  GtkWidget parent_instance;

  OgLabel *label;
};

G_DEFINE_FINAL_TYPE (OgLabelSketch, og_label_sketch, GTK_TYPE_WIDGET)

void
og_label_sketch_set_label (OgLabelSketch *self,
                           OgLabel       *label)
{
  g_autofree char *description = NULL;

  g_return_if_fail (OG_IS_LABEL_SKETCH (self));

  g_clear_pointer (&self->label, og_label_free);
  self->label = label;
  description = label != NULL ? og_label_describe (label) : g_strdup ("");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Sketch of the label"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description,
                                  -1);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

const OgLabel *
og_label_sketch_get_label (OgLabelSketch *self)
{
  g_return_val_if_fail (OG_IS_LABEL_SKETCH (self), NULL);

  return self->label;
}

/* Paper, with the letters and the reading direction of the window. */
static void
init_style (OgLabelSketch *self,
            OgDrawStyle   *style)
{
  OgDrawStyle theme;

  og_theme_style_init (&theme, GTK_WIDGET (self));
  og_draw_style_paper (style);
  style->font = theme.font;
  style->font_size = theme.font_size;
  style->rtl = theme.rtl;
}

static void
og_label_sketch_snapshot (GtkWidget   *widget,
                          GtkSnapshot *snapshot)
{
  OgLabelSketch *self = OG_LABEL_SKETCH (widget);
  const float width = (float) gtk_widget_get_width (widget);
  const float height = (float) gtk_widget_get_height (widget);
  OgDrawStyle style;
  cairo_t *cr;

  if (self->label == NULL || width <= 2 * MARGIN)
    return;
  init_style (self, &style);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  cairo_set_source_rgb (cr, style.background.r, style.background.g, style.background.b);
  cairo_paint (cr);
  cairo_translate (cr, MARGIN, MARGIN);
  og_label_draw (self->label, cr, width - 2 * MARGIN, &style);
  cairo_destroy (cr);
}

static GtkSizeRequestMode
og_label_sketch_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
og_label_sketch_measure (GtkWidget      *widget,
                         GtkOrientation  orientation,
                         int             for_size,
                         int            *minimum,
                         int            *natural,
                         int            *minimum_baseline,
                         int            *natural_baseline)
{
  OgLabelSketch *self = OG_LABEL_SKETCH (widget);
  OgDrawStyle style;
  double width;

  init_style (self, &style);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = (int) (style.font_size * LEAST_EMS_WIDE);
      *natural = (int) (style.font_size * USUAL_EMS_WIDE);
      return;
    }
  width = for_size > 0 ? for_size : style.font_size * USUAL_EMS_WIDE;
  *minimum = 0;
  if (self->label != NULL)
    *minimum = (int) ceil (og_label_measure (self->label, MAX (width - 2 * MARGIN, 1.0), &style)
                           + 2 * MARGIN);
  *natural = *minimum;
}

static void
og_label_sketch_css_changed (GtkWidget         *widget,
                             GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (og_label_sketch_parent_class)->css_changed (widget, change);

  gtk_widget_queue_resize (widget);
}

static void
og_label_sketch_system_setting_changed (GtkWidget        *widget,
                                        GtkSystemSetting  setting)
{
  GTK_WIDGET_CLASS (og_label_sketch_parent_class)->system_setting_changed (widget, setting);

  gtk_widget_queue_resize (widget);
}

static void
og_label_sketch_finalize (GObject *object)
{
  g_clear_pointer (&OG_LABEL_SKETCH (object)->label, og_label_free);

  G_OBJECT_CLASS (og_label_sketch_parent_class)->finalize (object);
}

static void
og_label_sketch_class_init (OgLabelSketchClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_label_sketch_finalize;
  widget_class->snapshot = og_label_sketch_snapshot;
  widget_class->get_request_mode = og_label_sketch_get_request_mode;
  widget_class->measure = og_label_sketch_measure;
  widget_class->css_changed = og_label_sketch_css_changed;
  widget_class->system_setting_changed = og_label_sketch_system_setting_changed;

  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "labelsketch");
}

static void
og_label_sketch_init (OgLabelSketch *self)
{
}

GtkWidget *
og_label_sketch_new (void)
{
  return g_object_new (OG_TYPE_LABEL_SKETCH, NULL);
}
