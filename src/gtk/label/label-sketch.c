/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gtk/label/label-sketch.h"

#define MARGIN 12.0
#define LEAST_EMS_WIDE 14.0
#define USUAL_EMS_WIDE 26.0

struct _OgLabelSketch
{
  OgPaintedView parent_instance;

  OgLabel *label;
};

G_DEFINE_FINAL_TYPE (OgLabelSketch, og_label_sketch, OG_TYPE_PAINTED_VIEW)

void
og_label_sketch_set_label (OgLabelSketch *self,
                           OgLabel       *label)
{
  g_return_if_fail (OG_IS_LABEL_SKETCH (self));

  g_clear_pointer (&self->label, og_label_free);
  self->label = label;
  og_painted_view_describe (OG_PAINTED_VIEW (self), _("Sketch of the label"),
                            label != NULL ? og_label_describe (label) : g_strdup (""));
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
og_label_sketch_init_style (OgPaintedView *view,
                            OgDrawStyle   *style)
{
  OgDrawStyle theme;

  OG_PAINTED_VIEW_CLASS (og_label_sketch_parent_class)->init_style (view, &theme);
  og_draw_style_paper (style);
  style->font = theme.font;
  style->font_size = theme.font_size;
  style->rtl = theme.rtl;
}

static void
og_label_sketch_paint (OgPaintedView     *view,
                       cairo_t           *cr,
                       double             width,
                       double             height,
                       const OgDrawStyle *style)
{
  OgLabelSketch *self = OG_LABEL_SKETCH (view);

  if (self->label == NULL || width <= 2 * MARGIN)
    return;
  cairo_set_source_rgb (cr, style->background.r, style->background.g, style->background.b);
  cairo_paint (cr);
  cairo_translate (cr, MARGIN, MARGIN);
  og_label_draw (self->label, cr, width - 2 * MARGIN, style);
}

static void
og_label_sketch_measure_height (OgPaintedView     *view,
                                double             width,
                                const OgDrawStyle *style,
                                double            *minimum,
                                double            *natural)
{
  OgLabelSketch *self = OG_LABEL_SKETCH (view);

  if (width <= 0.0)
    width = style->font_size * USUAL_EMS_WIDE;
  *minimum = 0.0;
  if (self->label != NULL)
    *minimum = ceil (og_label_measure (self->label, MAX (width - 2 * MARGIN, 1.0), style)
                     + 2 * MARGIN);
  *natural = *minimum;
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
  OgPaintedViewClass *view_class = OG_PAINTED_VIEW_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->finalize = og_label_sketch_finalize;
  view_class->paint = og_label_sketch_paint;
  view_class->measure_height = og_label_sketch_measure_height;
  view_class->init_style = og_label_sketch_init_style;
  view_class->least_ems = LEAST_EMS_WIDE;
  view_class->usual_ems = USUAL_EMS_WIDE;
  view_class->height_for_width = TRUE;

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
