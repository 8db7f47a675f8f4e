/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "draw/style.h"

G_BEGIN_DECLS

#define OG_TYPE_PAINTED_VIEW (og_painted_view_get_type ())
G_DECLARE_DERIVABLE_TYPE (OgPaintedView, og_painted_view, OG, PAINTED_VIEW, GtkWidget)

/**
 * OgPaintedViewClass:
 * @paint: paints on @width times @height pixels, never without room
 * @measure_height: in pixels; @width is below 0 when it is not known
 * @init_style: (nullable): says how to paint; the theme by default
 * @least_ems: width that it needs, in letters of the theme
 * @usual_ems: width that it asks for
 * @height_for_width: whether @measure_height goes by the width
 *
 * A picture with a text for those who cannot see it. It follows theme, letters and reading
 * direction.
 */
struct _OgPaintedViewClass
{
  GtkWidgetClass parent_class;

  void     (*paint)          (OgPaintedView     *self,
                              cairo_t           *cr,
                              double             width,
                              double             height,
                              const OgDrawStyle *style);
  void     (*measure_height) (OgPaintedView     *self,
                              double             width,
                              const OgDrawStyle *style,
                              double            *minimum,
                              double            *natural);
  void     (*init_style)     (OgPaintedView     *self,
                              OgDrawStyle       *style);
  double   least_ems;
  double   usual_ems;
  gboolean height_for_width;
};

/** Says how to paint @self now. @style: (out) */
void        og_painted_view_init_style      (OgPaintedView *self,
                                             OgDrawStyle   *style);
/** Names the picture and says what is to be seen. @description: (transfer full) */
void        og_painted_view_describe        (OgPaintedView *self,
                                             const char    *name,
                                             char          *description);
/** Returns: what is to be seen, as a screen reader tells it */
const char *og_painted_view_get_description (OgPaintedView *self);

G_END_DECLS
