/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/labels.h"
#include "gtk/parts/swatch.h"

#define LEAST_WIDTH 72
#define HEIGHT 48

struct _OgSwatch
{
  GtkWidget parent_instance;

  GdkRGBA colour;
  GdkRGBA ground;
  gboolean has_ground;
};

G_DEFINE_FINAL_TYPE (OgSwatch, og_swatch, GTK_TYPE_WIDGET)

static GdkRGBA
to_rgba (const OgRgb *colour)
{
  return (GdkRGBA) { (float) colour->red, (float) colour->green, (float) colour->blue, 1.0f };
}

/* The film lies on the middle of its ground. */
static void
og_swatch_snapshot (GtkWidget   *widget,
                    GtkSnapshot *snapshot)
{
  OgSwatch *self = OG_SWATCH (widget);
  const float width = (float) gtk_widget_get_width (widget);
  const float height = (float) gtk_widget_get_height (widget);
  const float edge = self->has_ground ? height / 6.0f : 0.0f;

  if (self->has_ground)
    gtk_snapshot_append_color (snapshot, &self->ground, &GRAPHENE_RECT_INIT (0, 0, width, height));
  gtk_snapshot_append_color (snapshot, &self->colour,
                             &GRAPHENE_RECT_INIT (edge, edge, width - 2 * edge, height - 2 * edge));
}

static void
og_swatch_measure (GtkWidget      *widget,
                   GtkOrientation  orientation,
                   int             for_size,
                   int            *minimum,
                   int            *natural,
                   int            *minimum_baseline,
                   int            *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? LEAST_WIDTH : HEIGHT;
  *natural = *minimum;
}

static void
og_swatch_class_init (OgSwatchClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->snapshot = og_swatch_snapshot;
  widget_class->measure = og_swatch_measure;

  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget_class, "swatch");
}

static void
og_swatch_init (OgSwatch *self)
{
}

GtkWidget *
og_swatch_new (const OgRgb *colour,
               const OgRgb *ground,
               const char  *name)
{
  OgSwatch *self = g_object_new (OG_TYPE_SWATCH, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  char hex[8];
  g_autofree char *spoken = NULL;

  self->colour = to_rgba (colour);
  self->has_ground = ground != NULL;
  if (ground != NULL)
    self->ground = to_rgba (ground);
  og_rgb_to_hex (colour, hex);
  spoken = g_strdup_printf ("%s: %s", name, hex);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_widget_set_hexpand (GTK_WIDGET (self), TRUE);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (name, "fact-origin"));
  return box;
}
