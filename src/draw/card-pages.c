/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-layout-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define LARGEST_MARGIN 46.0
#define MARGIN_SHARE 0.08
#define FOOTER_HEIGHT 24.0

typedef struct
{
  guint  piece;
  guint  page;
  double y;
} Place;

/* --- which piece stands where --- */

/* of the piece and all it must stay with */
static double
group_height (const OgCard *card,
              guint         first)
{
  double height = 0;

  for (guint i = first; i < card->pieces->len; i++)
    {
      const OgCardPiece *piece = g_ptr_array_index (card->pieces, i);

      height += (i > first ? piece->before : 0) + piece->height;
      if (!piece->keep_next)
        break;
    }

  return height;
}

static void
place_piece (OgCard *card,
             guint   piece,
             double *y)
{
  Place place = { piece, card->n_pages - 1, *y };

  g_array_append_val (card->places, place);
  *y += ((OgCardPiece *) g_ptr_array_index (card->pieces, piece))->height;
}

static double
place_pieces (OgCard *card)
{
  double top = card->margin;
  double bottom = isfinite (card->height) ? card->height - card->margin - FOOTER_HEIGHT
  : G_MAXDOUBLE;
  double y = top;

  card->n_pages = 1;
  for (guint i = 0; i < card->pieces->len; i++)
    {
      const OgCardPiece *piece = g_ptr_array_index (card->pieces, i);
      double group = group_height (card, i);

      if (group > bottom - top)
        group = piece->height;
      if (y > top && y + piece->before + group > bottom)
        {
          card->n_pages++;
          y = top;
          if (piece->carry > 0)
            place_piece (card, piece->carry - 1, &y);
        }
      else if (y > top)
        y += piece->before;
      place_piece (card, i, &y);
    }

  return y;
}

static double
lay_out (OgCard            *card,
         double             width,
         double             height,
         const OgDrawStyle *style)
{
  OgCardMaker maker = { .card = card };

  og_card_clear_layout (card);
  card->style = *style;
  card->style.font = g_intern_string (style->font);
  card->width = width;
  card->height = height;
  card->margin = MIN (LARGEST_MARGIN, MARGIN_SHARE * width);
  card->pieces = g_ptr_array_new_with_free_func (og_card_piece_free);
  card->places = g_array_new (FALSE, FALSE, sizeof (Place));
  maker.context = og_text_context_new (NULL, &card->style);
  maker.width = width - 2 * card->margin;
  for (guint i = 0; i < card->blocks->len; i++)
    og_card_make_block (&maker, g_ptr_array_index (card->blocks, i),
                        i > 0 ? g_ptr_array_index (card->blocks, i - 1) : NULL);
  g_object_unref (maker.context);

  return place_pieces (card);
}

guint
og_card_paginate (OgCard            *card,
                  double             width_pt,
                  double             height_pt,
                  const OgDrawStyle *style)
{
  g_return_val_if_fail (card != NULL && style != NULL, 0);
  g_return_val_if_fail (width_pt > 0 && height_pt > 0, 0);

  lay_out (card, width_pt, height_pt, style);

  return card->n_pages;
}

double
og_card_lay_out_tall (OgCard            *card,
                      double             width_pt,
                      const OgDrawStyle *style)
{
  return ceil (lay_out (card, width_pt, INFINITY, style) + card->margin);
}

void
og_card_clear_layout (OgCard *card)
{
  g_clear_pointer (&card->pieces, g_ptr_array_unref);
  g_clear_pointer (&card->places, g_array_unref);
  card->n_pages = 0;
}

/* --- drawing --- */

static const OgColour *
ink_colour (const OgDrawStyle *style,
            OgCardInk          ink)
{
  switch (ink)
    {
    case OG_INK_DIM:
      return og_quiet_colour (style);
    case OG_INK_ACCENT:
      return &style->accent;
    case OG_INK_CAUTION:
      return &style->caution;
    case OG_INK_PLAIN:
    default:
      return &style->foreground;
    }
}

static void
draw_lines (cairo_t         *cr,
            const OgCardRun *run)
{
  PangoLayoutIter *iter = pango_layout_get_iter (run->layout);
  double top = 0;
  int line = 0;

  do
    {
      int line_top, line_bottom;
      PangoRectangle logical;

      pango_layout_iter_get_line_yrange (iter, &line_top, &line_bottom);
      if (line == run->first_line)
        top = line_top;
      if (line >= run->first_line && line < run->first_line + run->n_lines)
        {
          pango_layout_iter_get_line_extents (iter, NULL, &logical);
          cairo_move_to (cr, run->x + logical.x / (double) PANGO_SCALE,
                         run->y + (pango_layout_iter_get_baseline (iter) - top) / PANGO_SCALE);
          pango_cairo_show_layout_line (cr, pango_layout_iter_get_line_readonly (iter));
        }
      line++;
    }
  while (pango_layout_iter_next_line (iter));
  pango_layout_iter_free (iter);
  cairo_new_path (cr);
}

static void
draw_rule (cairo_t        *cr,
           const OgColour *colour,
           double          y,
           double          width,
           double          thickness)
{
  og_set_colour (cr, colour, 1);
  cairo_rectangle (cr, 0, y - thickness / 2, width, thickness);
  cairo_fill (cr);
}

/* Neighbouring rows share their lines. */
static void
draw_boxes (cairo_t           *cr,
            const OgCardPiece *piece,
            double             width,
            const OgDrawStyle *style)
{
  double x = 0;

  og_set_colour (cr, og_quiet_colour (style), 1);
  cairo_set_line_width (cr, 0.5);
  cairo_rectangle (cr, 0, 0, width, piece->height);
  for (guint i = 0; i + 1 < piece->columns->len; i++)
    {
      x += g_array_index (piece->columns, OgCardColumn, i).width * width;
      cairo_move_to (cr, style->rtl ? width - x : x, 0);
      cairo_rel_line_to (cr, 0, piece->height);
    }
  cairo_stroke (cr);
}

static void
draw_decor (cairo_t           *cr,
            const OgCardPiece *piece,
            double             width,
            const OgDrawStyle *style)
{
  double x;

  switch (piece->decor)
    {
    case OG_DECOR_RULE_BELOW:
      draw_rule (cr, &style->grid, piece->height, width, 0.6);
      break;
    case OG_DECOR_RULE_ABOVE:
      draw_rule (cr, &style->dim, 0, width, 0.8);
      break;
    case OG_DECOR_TINT:
      og_set_colour (cr, &style->accent, 0.09);
      cairo_rectangle (cr, 0, 0, width, piece->height);
      cairo_fill (cr);
      break;
    case OG_DECOR_BAR:
      x = piece->decor_x - OG_CAUTION_INDENT;
      og_set_colour (cr, &style->caution, 1);
      cairo_rectangle (cr, style->rtl ? width - x - 1.6 : x, 1, 1.6, MAX (piece->height - 1, 1));
      cairo_fill (cr);
      break;
    case OG_DECOR_ACCENT:
      og_set_colour (cr, &style->accent, 1);
      cairo_rectangle (cr, style->rtl ? width - 22 : 0, 0, 22, 1.6);
      cairo_fill (cr);
      break;
    case OG_DECOR_BOXES:
      draw_boxes (cr, piece, width, style);
      break;
    case OG_DECOR_NONE:
    default:
      break;
    }
}

static void
draw_picture (OgCard            *card,
              cairo_t           *cr,
              const OgCardPiece *piece)
{
  OgDrawStyle style = card->style;

  cairo_save (cr);
  cairo_translate (cr, piece->picture_at.x, piece->picture_at.y);
  if (piece->picture == OG_PICTURE_CHART)
    {
      style.font_size *= 0.85;
      og_chart_draw (cr, piece->picture_at.width, piece->picture_at.height, &card->chart, &style);
    }
  else if (piece->picture == OG_PICTURE_PROFILE)
    og_profile_chart_draw (cr, piece->picture_at.width, piece->picture_at.height,
                           card->result->profile,
                           &style);
  cairo_restore (cr);
}

static void
draw_piece (OgCard            *card,
            cairo_t           *cr,
            const OgCardPiece *piece)
{
  draw_decor (cr, piece, card->width - 2 * card->margin, &card->style);
  draw_picture (card, cr, piece);
  for (guint i = 0; i < piece->runs->len; i++)
    {
      const OgCardRun *run = &g_array_index (piece->runs, OgCardRun, i);

      og_set_colour (cr, ink_colour (&card->style, run->ink), 1);
      if (run->n_lines > 0)
        draw_lines (cr, run);
      else
        og_text_draw (cr, run->layout, run->x, run->y);
    }
}

static void
draw_footer (OgCard  *card,
             cairo_t *cr,
             guint    page)
{
  const OgDrawStyle *style = &card->style;
  PangoContext *context = og_text_context_new (cr, style);
  g_autofree char *number = g_strdup_printf (_("page %u of %u"), page + 1, card->n_pages);
  g_autoptr (PangoLayout) title = og_text_layout_new (context, style, card->title, 0.85,
                                                      PANGO_WEIGHT_NORMAL);
  g_autoptr (PangoLayout) right = og_text_layout_new (context, style, number, 0.85,
                                                      PANGO_WEIGHT_NORMAL);
  double width = card->width - 2 * card->margin, title_width, number_width, height, y;

  og_text_get_size (right, &number_width, &height);
  title_width = width - number_width - 20;
  og_text_set_width (title, title_width, TRUE);
  og_text_set_side (title, style->rtl);
  y = card->height - card->margin - height;
  og_set_colour (cr, &style->dim, 1);
  og_text_draw (cr, title, card->margin + (style->rtl ? width - title_width : 0), y);
  og_text_draw (cr, right, card->margin + (style->rtl ? 0 : width - number_width), y);
  g_object_unref (context);
}

void
og_card_draw_page (OgCard  *card,
                   cairo_t *cr,
                   guint    page)
{
  g_return_if_fail (card != NULL && cr != NULL && page < card->n_pages);

  cairo_save (cr);
  og_set_colour (cr, &card->style.background, 1);
  cairo_paint (cr);
  for (guint i = 0; i < card->places->len; i++)
    {
      const Place *place = &g_array_index (card->places, Place, i);

      if (place->page != page)
        continue;
      cairo_save (cr);
      cairo_translate (cr, card->margin, place->y);
      draw_piece (card, cr, g_ptr_array_index (card->pieces, place->piece));
      cairo_restore (cr);
    }
  if (isfinite (card->height))
    draw_footer (card, cr, page);
  cairo_restore (cr);
}
