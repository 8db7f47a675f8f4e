/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/paint.h"

#include <math.h>

gboolean
og_rect_contains (const OgRect *rect,
                  double        x,
                  double        y)
{
  return x >= rect->x && x <= rect->x + rect->width &&
         y >= rect->y && y <= rect->y + rect->height;
}

double
og_rect_overlap (const OgRect *a,
                 const OgRect *b)
{
  double width = MIN (a->x + a->width, b->x + b->width) - MAX (a->x, b->x);
  double height = MIN (a->y + a->height, b->y + b->height) - MAX (a->y, b->y);

  return width > 0 && height > 0 ? width * height : 0;
}

PangoContext *
og_text_context_new (cairo_t           *cr,
                     const OgDrawStyle *style)
{
  PangoContext *context;
  cairo_font_options_t *options = cairo_font_options_create ();
  g_autoptr (PangoFontDescription) description = NULL;

  context = cr != NULL ? pango_cairo_create_context (cr)
                       : pango_font_map_create_context (pango_cairo_font_map_get_default ());
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);

  pango_cairo_context_set_resolution (context, 72);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_context_set_base_dir (context, style->rtl ? PANGO_DIRECTION_RTL : PANGO_DIRECTION_LTR);
  description = pango_font_description_from_string (style->font != NULL ? style->font : "Sans");
  pango_font_description_set_absolute_size (description, style->font_size * PANGO_SCALE);
  pango_context_set_font_description (context, description);

  return context;
}

PangoLayout *
og_text_layout_new (PangoContext      *context,
                    const OgDrawStyle *style,
                    const char        *text,
                    double             scale,
                    PangoWeight        weight)
{
  PangoLayout *layout = pango_layout_new (context);
  g_autoptr (PangoFontDescription) description =
    pango_font_description_copy (pango_context_get_font_description (context));
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  pango_font_description_set_absolute_size (description, style->font_size * scale * PANGO_SCALE);
  pango_font_description_set_weight (description, weight);
  pango_layout_set_font_description (layout, description);
  pango_layout_set_text (layout, valid, -1);

  return layout;
}

void
og_text_set_width (PangoLayout *layout,
                   double       width,
                   gboolean     ellipsize)
{
  pango_layout_set_width (layout, (int) floor (MAX (width, 1) * PANGO_SCALE));
  if (ellipsize)
    {
      pango_layout_set_single_paragraph_mode (layout, TRUE);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  else
    pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  og_text_set_side (layout, FALSE);
}

void
og_text_set_side (PangoLayout *layout,
                  gboolean     at_right)
{
  PangoContext *context = pango_layout_get_context (layout);
  gboolean context_rtl = pango_context_get_base_dir (context) == PANGO_DIRECTION_RTL;
  /* Pango swaps the sides for lines that run against the direction of the context */
  gboolean swapped = og_text_is_rtl (layout) != context_rtl;

  pango_layout_set_alignment (layout, at_right != swapped ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
}

double
og_text_fit (PangoLayout *layout,
             double       most)
{
  double width;

  og_text_get_size (layout, &width, NULL);
  if (width <= most)
    return width;
  og_text_set_width (layout, most, TRUE);

  return most;
}

void
og_text_get_size (PangoLayout *layout,
                  double      *width,
                  double      *height)
{
  int pango_width, pango_height;

  pango_layout_get_size (layout, &pango_width, &pango_height);
  if (width != NULL)
    *width = pango_width / (double) PANGO_SCALE;
  if (height != NULL)
    *height = pango_height / (double) PANGO_SCALE;
}

void
og_text_draw (cairo_t     *cr,
              PangoLayout *layout,
              double       x,
              double       y)
{
  cairo_move_to (cr, x, y);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
}

gboolean
og_text_is_rtl (PangoLayout *layout)
{
  PangoLayoutLine *line = pango_layout_get_line_readonly (layout, 0);

  return pango_layout_line_get_resolved_direction (line) == PANGO_DIRECTION_RTL;
}

double
og_text_line_height (PangoContext      *context,
                     const OgDrawStyle *style,
                     double             scale)
{
  g_autoptr (PangoLayout) layout = og_text_layout_new (context, style, "Ag", scale, PANGO_WEIGHT_NORMAL);
  double height;

  og_text_get_size (layout, NULL, &height);

  return height;
}

void
og_draw_words (cairo_t           *cr,
               double             width,
               double             height,
               const char        *text,
               double             scale,
               const OgDrawStyle *style)
{
  PangoContext *context = og_text_context_new (cr, style);
  g_autoptr (PangoLayout) layout =
    og_text_layout_new (context, style, text, scale, PANGO_WEIGHT_NORMAL);
  double room = MIN (width - 4 * style->font_size, 34 * style->font_size);
  double text_height;

  g_object_unref (context);
  if (room < 4 * style->font_size)
    return;

  og_text_set_width (layout, room, FALSE);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  og_text_get_size (layout, NULL, &text_height);
  if (text_height > height - style->font_size)
    {
      pango_layout_set_height (layout, (int) ((height - style->font_size) * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      og_text_get_size (layout, NULL, &text_height);
    }
  og_set_colour (cr, &style->dim, 1);
  og_text_draw (cr, layout, (width - room) / 2, MAX (0, (height - text_height) / 2));
}

double
og_crisp (double position)
{
  return floor (position) + 0.5;
}

void
og_set_colour (cairo_t        *cr,
               const OgColour *colour,
               double          alpha)
{
  cairo_set_source_rgba (cr, colour->r, colour->g, colour->b, colour->a * alpha);
}

double
og_mark_scale (const OgDrawStyle *style)
{
  return CLAMP (style->font_size / 12, 0.6, 1.6);
}

const OgColour *
og_quiet_colour (const OgDrawStyle *style)
{
  return style->high_contrast ? &style->foreground : &style->dim;
}

const OgColour *
og_series_colour (const OgDrawStyle *style,
                  guint              index)
{
  return index == 0 ? &style->accent : &style->series[(index - 1) % G_N_ELEMENTS (style->series)];
}

void
og_set_series_line (cairo_t           *cr,
                    const OgDrawStyle *style,
                    guint              index)
{
  static const struct
  {
    double lengths[4];
    int    n;
  } dashes[] = {
    { { 0 }, 0 },
    { { 7, 3 }, 2 },
    { { 2, 2.5 }, 2 },
    { { 8, 3, 2, 3 }, 4 },
    { { 13, 4 }, 2 },
  };
  guint i = index % G_N_ELEMENTS (dashes);
  double scale = og_mark_scale (style);
  double width = (index == 0 ? 2.2 : 1.5) * scale;
  double lengths[G_N_ELEMENTS (dashes[0].lengths)];

  for (int k = 0; k < dashes[i].n; k++)
    lengths[k] = dashes[i].lengths[k] * scale;
  cairo_set_line_width (cr, style->high_contrast ? width * 1.4 : width);
  cairo_set_dash (cr, lengths, dashes[i].n, 0);
}

static void
polygon (cairo_t *cr,
         guint    corners,
         double   start,
         double   x,
         double   y,
         double   radius)
{
  for (guint i = 0; i < corners; i++)
    {
      double angle = start + 2 * G_PI * i / corners;

      cairo_line_to (cr, x + radius * cos (angle), y + radius * sin (angle));
    }
  cairo_close_path (cr);
}

void
og_draw_series_marker (cairo_t *cr,
                       guint    index,
                       double   x,
                       double   y,
                       double   radius)
{
  cairo_new_path (cr);
  switch (index % 5)
    {
    case 1:
      polygon (cr, 4, G_PI / 4, x, y, radius * 1.25);
      break;
    case 2:
      polygon (cr, 3, -G_PI / 2, x, y, radius * 1.4);
      break;
    case 3:
      polygon (cr, 4, 0, x, y, radius * 1.4);
      break;
    case 4:
      polygon (cr, 3, G_PI / 2, x, y, radius * 1.4);
      break;
    default:
      cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
      break;
    }
  cairo_fill (cr);
}

void
og_draw_hatch (cairo_t      *cr,
               const OgRect *rect,
               double        spacing,
               int           slope)
{
  if (!(rect->width > 0) || !(rect->height > 0))
    return;

  cairo_save (cr);
  cairo_rectangle (cr, rect->x, rect->y, rect->width, rect->height);
  cairo_clip (cr);
  for (double offset = -rect->height; offset < rect->width + rect->height; offset += spacing)
    {
      cairo_move_to (cr, rect->x + offset, rect->y + rect->height);
      cairo_rel_line_to (cr, slope * rect->height, -rect->height);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
}

cairo_status_t
og_collect_bytes (void                *data,
                  const unsigned char *bytes,
                  unsigned int         length)
{
  g_byte_array_append (data, bytes, length);

  return CAIRO_STATUS_SUCCESS;
}
