/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/style.h"

G_BEGIN_DECLS

/* What the painters of this folder share: text layouts, colours, and the dashes, markers and hatches that tell series
 * apart without colour. */

/** OgRect: left upper corner and size, in units of the target. */
typedef struct
{
  double x, y, width, height;
} OgRect;

/** Returns: whether @x, @y lies in @rect or on its edge */
gboolean      og_rect_contains          (const OgRect      *rect,
                                         double             x,
                                         double             y);
/** Returns: the area that both cover, 0 if they do not meet */
double        og_rect_overlap           (const OgRect      *a,
                                         const OgRect      *b);

/**
 * og_text_context_new:
 * @cr: (nullable): target; %NULL measures only
 *
 * Text sizes are in units of the target and measured without hinting, so that every target breaks lines alike.
 *
 * Returns: (transfer full)
 */
PangoContext *og_text_context_new       (cairo_t           *cr,
                                         const OgDrawStyle *style);
/**
 * og_text_layout_new:
 * @text: plain text, never markup; bytes that are not UTF-8 are replaced
 * @scale: of the style's font size
 *
 * Returns: (transfer full)
 */
PangoLayout  *og_text_layout_new        (PangoContext      *context,
                                         const OgDrawStyle *style,
                                         const char        *text,
                                         double             scale,
                                         PangoWeight        weight);
/** Limits @layout to @width, at the left side; lines break, or the text ends in an ellipsis when @ellipsize. */
void          og_text_set_width         (PangoLayout       *layout,
                                         double             width,
                                         gboolean           ellipsize);
/** Aligns all lines of @layout at one side of its width, whatever direction they read. */
void          og_text_set_side          (PangoLayout       *layout,
                                         gboolean           at_right);
/** Ends the text of @layout in an ellipsis if it is wider than @most. Returns: its width then */
double        og_text_fit               (PangoLayout       *layout,
                                         double             most);
/** @width, @height: (out) (optional): in units of the target */
void          og_text_get_size          (PangoLayout       *layout,
                                         double            *width,
                                         double            *height);
/** Draws @layout in the current colour, its left upper corner at @x, @y. */
void          og_text_draw              (cairo_t           *cr,
                                         PangoLayout       *layout,
                                         double             x,
                                         double             y);
/** Returns: whether the first line of @layout reads from right to left */
gboolean      og_text_is_rtl            (PangoLayout       *layout);
/** Returns: height of one line of text */
double        og_text_line_height       (PangoContext      *context,
                                         const OgDrawStyle *style,
                                         double             scale);

/**
 * og_draw_words:
 * @scale: of the style's font size
 *
 * Draws what is to be said in place of a chart, in the middle of it; what does not fit ends in an ellipsis.
 */
void          og_draw_words             (cairo_t           *cr,
                                         double             width,
                                         double             height,
                                         const char        *text,
                                         double             scale,
                                         const OgDrawStyle *style);
/** Returns: the nearest place where a line one unit wide fills whole pixels */
double        og_crisp                  (double             position);

/** Makes @colour the current one, its opacity times @alpha, 0 ... 1. */
void          og_set_colour             (cairo_t           *cr,
                                         const OgColour    *colour,
                                         double             alpha);
/** Returns: factor for line widths and marks, so that they go with the size of the text; 1 at 12 units */
double        og_mark_scale             (const OgDrawStyle *style);
/** Colour of text that stands behind the rest: dim, but not in high contrast. */
const OgColour *og_quiet_colour         (const OgDrawStyle *style);
/** Colour of curve @index; 0 is the recipe's own. */
const OgColour *og_series_colour        (const OgDrawStyle *style,
                                         guint              index);
/** Line width and dash of curve @index. */
void          og_set_series_line        (cairo_t           *cr,
                                         const OgDrawStyle *style,
                                         guint              index);
/** Fills the marker of curve @index > 0 around a point. */
void          og_draw_series_marker     (cairo_t           *cr,
                                         guint              index,
                                         double             x,
                                         double             y,
                                         double             radius);
/** Fills @rect with slanted lines in the current colour; @slope 1 or -1. */
void          og_draw_hatch             (cairo_t           *cr,
                                         const OgRect      *rect,
                                         double             spacing,
                                         int                slope);

/** A cairo_write_func_t that appends to the GByteArray @data. */
cairo_status_t og_collect_bytes         (void                *data,
                                         const unsigned char *bytes,
                                         unsigned int         length);

G_END_DECLS
