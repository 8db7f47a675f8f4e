/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-layout-private.h"

#include <math.h>
#include <string.h>

#define NUMBER_WIDTH 0.10 /* of the text width */
#define LONGEST_CELL 0.35     /* of the page: a longer cell text is cut, */
#define MOST_CELL_LETTERS 1200 /* as is one of more letters */
#define LONGEST_TEXT 0.3      /* of the page: longer text may break between its lines */
#define MOST_TEXT_LETTERS 3000
#define LINES_TOGETHER 3

static void
run_clear (gpointer data)
{
  g_clear_object (&((OgCardRun *) data)->layout);
}

void
og_card_piece_free (gpointer data)
{
  OgCardPiece *piece = data;

  g_array_unref (piece->runs);
  g_free (piece);
}

OgCardPiece *
og_card_add_piece (OgCardMaker *maker,
                   double       before)
{
  OgCardPiece *piece = g_new0 (OgCardPiece, 1);

  piece->before = before;
  piece->carry = maker->carry;
  piece->runs = g_array_new (FALSE, FALSE, sizeof (OgCardRun));
  g_array_set_clear_func (piece->runs, run_clear);
  g_ptr_array_add (maker->card->pieces, piece);

  return piece;
}

void
og_card_add_attribute (PangoAttrList  *attributes,
                       PangoAttribute *attribute,
                       size_t          start,
                       size_t          end)
{
  attribute->start_index = (guint) start;
  attribute->end_index = (guint) end;
  pango_attr_list_insert (attributes, attribute);
}

/* No line ends between a number and its unit. */
static void
keep_units (PangoAttrList *attributes,
            const char    *text)
{
  static const char *const units[] = { "°C", "%", "mPa·s", "g", "wt" };

  for (const char *space = strchr (text, ' '); space != NULL; space = strchr (space + 1, ' '))
    for (guint i = 0; space > text && g_ascii_isdigit (space[-1]) && i < G_N_ELEMENTS (units); i++)
      if (g_str_has_prefix (space + 1, units[i]))
        {
          size_t start = (size_t) (space - text) - 1;

          og_card_add_attribute (attributes, pango_attr_allow_breaks_new (FALSE), start,
                                 start + 2 + strlen (units[i]));
        }
}

void
og_card_set_attributes (PangoLayout   *layout,
                        PangoAttrList *attributes)
{
  keep_units (attributes, pango_layout_get_text (layout));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
}

PangoLayout *
og_card_make_text (OgCardMaker *maker,
                   const char  *text,
                   double       width,
                   double       scale,
                   PangoWeight  weight)
{
  const OgDrawStyle *style = &maker->card->style;
  PangoLayout *layout = og_text_layout_new (maker->context, style, text, scale, weight);

  og_text_set_width (layout, width, FALSE);
  og_text_set_side (layout, style->rtl);
  pango_layout_set_line_spacing (layout, 1.12f);
  og_card_set_attributes (layout, pango_attr_list_new ());

  return layout;
}

double
og_card_add_run (OgCardMaker *maker,
                 OgCardPiece *piece,
                 PangoLayout *layout,
                 double       x,
                 double       y,
                 OgCardInk    ink)
{
  double width = pango_layout_get_width (layout) / (double) PANGO_SCALE;
  OgCardRun run = { layout, maker->card->style.rtl ? maker->width - x - width : x, y, 0, 0, ink };
  double height;

  og_text_get_size (layout, NULL, &height);
  g_array_append_val (piece->runs, run);

  return height;
}

static void
limit_height (OgCardMaker *maker,
              PangoLayout *layout,
              double       part)
{
  double most = part * (isfinite (maker->card->height) ? maker->card->height : 1200);
  double height;

  og_text_get_size (layout, NULL, &height);
  if (height <= most)
    return;

  pango_layout_set_height (layout, (int) (most * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
}

static char *
cut_letters (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  if (g_utf8_strlen (valid, -1) <= MOST_CELL_LETTERS)
    return g_steal_pointer (&valid);

  *g_utf8_offset_to_pointer (valid, MOST_CELL_LETTERS) = '\0';
  return g_strconcat (valid, "…", NULL);
}

double
og_card_add_cell (OgCardMaker *maker,
                  OgCardPiece *piece,
                  const char  *text,
                  double       x,
                  double       y,
                  double       width,
                  double       scale,
                  PangoWeight  weight,
                  OgCardInk    ink)
{
  g_autofree char *shown = NULL;
  PangoLayout *layout;

  if (text == NULL)
    return 0;

  shown = cut_letters (text);
  layout = og_card_make_text (maker, shown, width, scale, weight);
  limit_height (maker, layout, LONGEST_CELL);

  return og_card_add_run (maker, piece, layout, x, y, ink);
}

void
og_card_add_number (OgCardMaker *maker,
                    OgCardPiece *piece,
                    const char  *text,
                    double       right,
                    double       y,
                    double       scale,
                    PangoWeight  weight,
                    OgCardInk    ink)
{
  PangoAttrList *attributes;
  PangoLayout *layout;
  double width;
  OgCardRun run;

  if (text == NULL)
    return;

  layout = og_text_layout_new (maker->context, &maker->card->style, text, scale, weight);
  attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  og_card_set_attributes (layout, attributes);
  og_text_get_size (layout, &width, NULL);
  if (maker->card->style.rtl)
    right = maker->width - right + NUMBER_WIDTH * maker->width;
  run = (OgCardRun) { layout, right - width, y, 0, 0, ink };
  g_array_append_val (piece->runs, run);
}

static double
height_of_lines (PangoLayout *layout,
                 int          first,
                 int          n)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  int top = 0, bottom = 0, line = 0;

  do
    {
      int line_top, line_bottom;

      pango_layout_iter_get_line_yrange (iter, &line_top, &line_bottom);
      if (line == first)
        top = line_top;
      if (line >= first && line < first + n)
        bottom = line_bottom;
      line++;
    }
  while (pango_layout_iter_next_line (iter));
  pango_layout_iter_free (iter);

  return (bottom - top) / (double) PANGO_SCALE;
}

OgCardPiece *
og_card_add_flowing_text (OgCardMaker *maker,
                          PangoLayout *layout,
                          double       x,
                          OgCardInk    ink,
                          double       before,
                          OgCardDecor  decor)
{
  OgCardPiece *first = og_card_add_piece (maker, before);
  int n_lines = pango_layout_get_line_count (layout);
  double height;

  first->decor = decor;
  first->decor_x = x;
  og_text_get_size (layout, NULL, &height);
  if (!isfinite (maker->card->height) || height <= LONGEST_TEXT * maker->card->height)
    {
      first->height = og_card_add_run (maker, first, layout, x, 0, ink);
      return first;
    }

  for (int line = 0; line < n_lines; line += LINES_TOGETHER)
    {
      OgCardPiece *piece = line == 0 ? first : og_card_add_piece (maker, 0);
      int n = MIN (LINES_TOGETHER, n_lines - line);
      OgCardRun *run;

      piece->decor = decor;
      piece->decor_x = x;
      og_card_add_run (maker, piece, g_object_ref (layout), x, 0, ink);
      run = &g_array_index (piece->runs, OgCardRun, 0);
      run->first_line = line;
      run->n_lines = n;
      piece->height = height_of_lines (layout, line, n);
    }
  g_object_unref (layout);

  return first;
}

/* Bytes of @text to lay out in one go: Pango takes the square of the length of a paragraph for very
 * long ones. */
static size_t
chunk_length (const char *text)
{
  const char *end = text, *space = NULL;

  for (guint letters = 0; *end != '\0' && *end != '\n' && letters < MOST_TEXT_LETTERS; letters++)
    {
      if (*end == ' ')
        space = end;
      end = g_utf8_next_char (end);
    }
  if (*end == '\0' || *end == '\n' || space == NULL || space == text)
    return (size_t) (end - text);

  return (size_t) (space - text);
}

void
og_card_add_paragraphs (OgCardMaker *maker,
                        const char  *raw,
                        double       scale,
                        OgCardInk    ink,
                        double       before)
{
  g_autofree char *text = g_utf8_make_valid (raw, -1);
  gboolean fresh = TRUE;

  for (const char *p = text; *p != '\0';)
    {
      size_t length = chunk_length (p);
      g_autofree char *chunk = g_strstrip (g_strndup (p, length));

      if (*chunk != '\0')
        og_card_add_flowing_text (maker, og_card_make_text (maker, chunk, maker->width, scale,
                                                            PANGO_WEIGHT_NORMAL), 0, ink,
                                  fresh ? before : 0, OG_DECOR_NONE);
      p += length;
      fresh = *p == '\n';
      if (*p == '\n' || *p == ' ')
        p++;
    }
}

OgCardPiece *
og_card_last_piece (OgCardMaker *maker)
{
  return g_ptr_array_index (maker->card->pieces, maker->card->pieces->len - 1);
}
