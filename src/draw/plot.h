/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/axis.h"
#include "draw/paint.h"

G_BEGIN_DECLS

/* What the charts with two axes share. Lengths are in units of the target. */

#define OG_SMALL_TEXT 0.92 /* of the style's font size */

/** OgCanvas: what a chart is painted on, with its type and the measures that follow from it. */
typedef struct
{
  cairo_t           *cr;      /* (nullable): %NULL measures only */
  PangoContext      *context;
  const OgDrawStyle *style;   /* borrowed */
  double             width, height;
  double             pad;     /* left free along every edge */
  double             line;    /* height of a line of text */
  double             small_line;
  double             marks;   /* og_mark_scale() */
} OgCanvas;

/** OgPlot: the area within the axes, and what they stand for. */
typedef struct
{
  OgRect area;
  OgAxis x;
  OgAxis y;
} OgPlot;

/** @cr: (nullable). @cr and @style have to live as long as @canvas. */
void         og_canvas_init          (OgCanvas          *canvas,
                                      cairo_t           *cr,
                                      double             width,
                                      double             height,
                                      const OgDrawStyle *style);
/** Frees what og_canvas_init() made. */
void         og_canvas_clear         (OgCanvas          *canvas);
/** Returns: width between the free edges */
double       og_canvas_get_room      (const OgCanvas    *canvas);
/** Returns: (transfer full): @text in the small size */
PangoLayout *og_canvas_text_new      (const OgCanvas    *canvas,
                                      const char        *text);
/** Returns: width of the widest label of the major @ticks; 0 without one */
double       og_canvas_widest_label  (const OgCanvas    *canvas,
                                      const OgAxis      *axis,
                                      const GArray      *ticks);
/** Draws @layout with an outline in the background colour, so that lines behind it do not
 * disturb. */
void         og_canvas_draw_outlined (const OgCanvas    *canvas,
                                      PangoLayout       *layout,
                                      double             x,
                                      double             y,
                                      const OgColour    *colour);

/** Returns: where @x lies, at most 50 plot widths away; NAN for a value with no place */
double       og_plot_x               (const OgPlot      *plot,
                                      double             x);
/** Returns: where @y lies, at most 50 plot heights away; NAN for a value with no place */
double       og_plot_y               (const OgPlot      *plot,
                                      double             y);
/** Returns: the right edge of the area */
double       og_plot_right           (const OgPlot      *plot);
/** Returns: the lower edge of the area */
double       og_plot_bottom          (const OgPlot      *plot);

G_END_DECLS
