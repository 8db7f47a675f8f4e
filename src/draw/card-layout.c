/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "draw/paint.h"

/* Parts of the text width. */
#define NAME_WIDTH 0.47
#define PCT_RIGHT 0.60
#define GRAM_RIGHT 0.73
#define REMARK_LEFT 0.77
#define NUMBER_WIDTH 0.10
#define ASIDE_LEFT 0.43 /* of pictures beside text */
#define COLUMN_GAP 0.03

#define LARGEST_MARGIN 46.0
#define MARGIN_SHARE 0.08
#define FOOTER_HEIGHT 24.0
#define CHART_HEIGHT 178.0
#define NARROW_WIDTH 330.0    /* below it pictures go under the text */
#define LONGEST_CELL 0.35     /* of the page: a longer cell text is cut, */
#define MOST_CELL_LETTERS 1200 /* as is one of more letters */
#define LONGEST_TEXT 0.3      /* of the page: longer text may break between its lines */
#define MOST_TEXT_LETTERS 3000
#define LINES_TOGETHER 3
#define NUMBER_INDENT 22.0
#define CAUTION_INDENT 10.0
#define CELL_PADDING 4.0
#define WRITING_HEIGHT 21.0 /* of a box that somebody writes into */

typedef enum
{
  INK_PLAIN,
  INK_DIM,
  INK_ACCENT,
  INK_CAUTION
} Ink;

/* One text on a piece, or some lines of it. */
typedef struct
{
  PangoLayout *layout;
  double       x, y;
  int          first_line;
  int          n_lines; /* 0: all */
  Ink          ink;
} Run;

typedef enum
{
  DECOR_NONE,
  DECOR_RULE_BELOW, /* hairline at the lower edge */
  DECOR_RULE_ABOVE,
  DECOR_TINT,       /* pale ground */
  DECOR_BAR,        /* caution bar before the text */
  DECOR_ACCENT,     /* short accent line above: a heading */
  DECOR_BOXES       /* a frame around every cell of a form */
} Decor;

typedef enum
{
  PICTURE_NONE,
  PICTURE_CHART,
  PICTURE_PROFILE
} Picture;

/* What stays on one page. Heights and places are in points from the left upper corner of the text area. */
typedef struct
{
  double   before; /* free space above, unless at the top of a page */
  double   height;
  gboolean keep_next;
  guint    carry;  /* number, from 1, of the piece repeated when a page breaks before this one; 0: none */
  Decor    decor;
  double   decor_x;
  Picture  picture;
  OgRect   picture_at;
  GArray  *columns; /* (nullable) (not owned): of OgCardColumn, for boxes */
  GArray  *runs;
} Piece;

typedef struct
{
  guint  piece;
  guint  page;
  double y;
} Place;

/* State while pieces are made. */
typedef struct
{
  OgCard       *card;
  PangoContext *context;
  double        width; /* of the text area */
  guint         carry;
} Maker;

static void
run_clear (gpointer data)
{
  g_clear_object (&((Run *) data)->layout);
}

static void
piece_free (gpointer data)
{
  Piece *piece = data;

  g_array_unref (piece->runs);
  g_free (piece);
}

static Piece *
add_piece (Maker  *maker,
           double  before)
{
  Piece *piece = g_new0 (Piece, 1);

  piece->before = before;
  piece->carry = maker->carry;
  piece->runs = g_array_new (FALSE, FALSE, sizeof (Run));
  g_array_set_clear_func (piece->runs, run_clear);
  g_ptr_array_add (maker->card->pieces, piece);

  return piece;
}

static PangoAttribute *
over (PangoAttribute *attribute,
      size_t          start,
      size_t          end)
{
  attribute->start_index = (guint) start;
  attribute->end_index = (guint) end;

  return attribute;
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

          pango_attr_list_insert (attributes, over (pango_attr_allow_breaks_new (FALSE), start,
                                                    start + 2 + strlen (units[i])));
        }
}

/* Takes @attributes. */
static void
set_attributes (PangoLayout   *layout,
                PangoAttrList *attributes)
{
  keep_units (attributes, pango_layout_get_text (layout));
  pango_layout_set_attributes (layout, attributes);
  pango_attr_list_unref (attributes);
}

/* Text of @width that begins at the reading start. */
static PangoLayout *
make_text (Maker       *maker,
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
  set_attributes (layout, pango_attr_list_new ());

  return layout;
}

/* Takes @layout; @x as if left to right. Returns: the height */
static double
add_run (Maker       *maker,
         Piece       *piece,
         PangoLayout *layout,
         double       x,
         double       y,
         Ink          ink)
{
  double width = pango_layout_get_width (layout) / (double) PANGO_SCALE;
  Run run = { layout, maker->card->style.rtl ? maker->width - x - width : x, y, 0, 0, ink };
  double height;

  og_text_get_size (layout, NULL, &height);
  g_array_append_val (piece->runs, run);

  return height;
}

static void
limit_height (Maker       *maker,
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

/* a text cell, cut if it would fill the page */
static double
add_cell (Maker       *maker,
          Piece       *piece,
          const char  *text,
          double       x,
          double       y,
          double       width,
          double       scale,
          PangoWeight  weight,
          Ink          ink)
{
  g_autofree char *shown = NULL;
  PangoLayout *layout;

  if (text == NULL)
    return 0;

  shown = cut_letters (text);
  layout = make_text (maker, shown, width, scale, weight);
  limit_height (maker, layout, LONGEST_CELL);

  return add_run (maker, piece, layout, x, y, ink);
}

/* A figure, or the title above figures, whose last letter stands at the right edge of its column. */
static void
add_number (Maker       *maker,
            Piece       *piece,
            const char  *text,
            double       right,
            double       y,
            double       scale,
            PangoWeight  weight,
            Ink          ink)
{
  PangoAttrList *attributes;
  PangoLayout *layout;
  double width;
  Run run;

  if (text == NULL)
    return;

  layout = og_text_layout_new (maker->context, &maker->card->style, text, scale, weight);
  attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  set_attributes (layout, attributes);
  og_text_get_size (layout, &width, NULL);
  if (maker->card->style.rtl)
    right = maker->width - right + NUMBER_WIDTH * maker->width;
  run = (Run) { layout, right - width, y, 0, 0, ink };
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

/* Takes @layout: one piece, or several of a few lines each when it is long. Returns: the first piece */
static Piece *
add_flowing_text (Maker       *maker,
                  PangoLayout *layout,
                  double       x,
                  Ink          ink,
                  double       before,
                  Decor        decor)
{
  Piece *first = add_piece (maker, before);
  int n_lines = pango_layout_get_line_count (layout);
  double height;

  first->decor = decor;
  first->decor_x = x;
  og_text_get_size (layout, NULL, &height);
  if (!isfinite (maker->card->height) || height <= LONGEST_TEXT * maker->card->height)
    {
      first->height = add_run (maker, first, layout, x, 0, ink);
      return first;
    }

  for (int line = 0; line < n_lines; line += LINES_TOGETHER)
    {
      Piece *piece = line == 0 ? first : add_piece (maker, 0);
      int n = MIN (LINES_TOGETHER, n_lines - line);
      Run *run;

      piece->decor = decor;
      piece->decor_x = x;
      add_run (maker, piece, g_object_ref (layout), x, 0, ink);
      run = &g_array_index (piece->runs, Run, 0);
      run->first_line = line;
      run->n_lines = n;
      piece->height = height_of_lines (layout, line, n);
    }
  g_object_unref (layout);

  return first;
}

/* Bytes of @text to lay out in one go: Pango takes the square of the length of a paragraph for very long ones. */
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

/* one paragraph for each line of @raw that is not blank */
static void
add_paragraphs (Maker      *maker,
                const char *raw,
                double      scale,
                Ink         ink,
                double      before)
{
  g_autofree char *text = g_utf8_make_valid (raw, -1);
  gboolean fresh = TRUE;

  for (const char *p = text; *p != '\0';)
    {
      size_t length = chunk_length (p);
      g_autofree char *chunk = g_strstrip (g_strndup (p, length));

      if (*chunk != '\0')
        add_flowing_text (maker, make_text (maker, chunk, maker->width, scale, PANGO_WEIGHT_NORMAL), 0, ink,
                          fresh ? before : 0, DECOR_NONE);
      p += length;
      fresh = *p == '\n';
      if (*p == '\n' || *p == ' ')
        p++;
    }
}

static Piece *
last_piece (Maker *maker)
{
  return g_ptr_array_index (maker->card->pieces, maker->card->pieces->len - 1);
}

/* --- blocks into pieces --- */

static void
make_title (Maker             *maker,
            const OgCardBlock *block)
{
  Piece *piece = add_piece (maker, 0);

  piece->height = add_cell (maker, piece, block->text, 0, 0, maker->width, 2.3, PANGO_WEIGHT_SEMIBOLD,
                            INK_PLAIN);
  piece->height += 3;
  piece->keep_next = TRUE;
  if (block->detail != NULL)
    add_paragraphs (maker, block->detail, 1.15, INK_DIM, 0);
  last_piece (maker)->height += 7;
  last_piece (maker)->decor = DECOR_RULE_BELOW;
}

static double
make_headline_text (Maker             *maker,
                    Piece             *piece,
                    const OgCardBlock *block,
                    double             width)
{
  double y = 0;

  y += add_cell (maker, piece, block->text, 0, y, width, 2.4, PANGO_WEIGHT_SEMIBOLD, INK_ACCENT);
  y += add_cell (maker, piece, block->detail, 0, y + 1, width, 1.2, PANGO_WEIGHT_NORMAL, INK_PLAIN) + 1;
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      y += 6;
      y += add_cell (maker, piece, row->text, 0, y, width, 0.95, PANGO_WEIGHT_NORMAL, INK_DIM);
    }

  return y;
}

static void
set_picture (Maker   *maker,
             Piece   *piece,
             Picture  picture,
             OgRect   at)
{
  piece->picture = picture;
  piece->picture_at = at;
  if (maker->card->style.rtl)
    piece->picture_at.x = maker->width - at.x - at.width;
  piece->height = MAX (piece->height, at.y + at.height);
}

static void
make_headline (Maker             *maker,
               const OgCardBlock *block)
{
  Piece *piece = add_piece (maker, 12);
  gboolean chart = og_card_has_chart (maker->card);

  if (!chart || maker->width < NARROW_WIDTH)
    {
      piece->height = make_headline_text (maker, piece, block, maker->width);
      if (chart)
        set_picture (maker, add_piece (maker, 8), PICTURE_CHART, (OgRect) { 0, 0, maker->width, CHART_HEIGHT });
      return;
    }

  piece->height = make_headline_text (maker, piece, block, (ASIDE_LEFT - COLUMN_GAP) * maker->width);
  set_picture (maker, piece, PICTURE_CHART,
               (OgRect) { ASIDE_LEFT * maker->width, 0, (1 - ASIDE_LEFT) * maker->width, CHART_HEIGHT });
}

static void
make_heading (Maker             *maker,
              const OgCardBlock *block,
              gboolean           small)
{
  Piece *piece = add_piece (maker, small ? 7 : 17);

  piece->height = add_cell (maker, piece, block->text, 0, small ? 0 : 5, maker->width, small ? 1 : 1.35,
                            PANGO_WEIGHT_SEMIBOLD, INK_PLAIN) +
                  (small ? 1 : 8);
  piece->decor = small ? DECOR_NONE : DECOR_ACCENT;
  piece->keep_next = TRUE;
}

static void
make_column_titles (Maker *maker)
{
  const char *const *titles = og_card_column_titles ();
  Piece *piece = add_piece (maker, 0);

  add_cell (maker, piece, titles[0], 0, 0, NAME_WIDTH * maker->width, 0.85, PANGO_WEIGHT_NORMAL, INK_DIM);
  add_number (maker, piece, titles[1], PCT_RIGHT * maker->width, 0, 0.85, PANGO_WEIGHT_NORMAL, INK_DIM);
  add_number (maker, piece, titles[2], GRAM_RIGHT * maker->width, 0, 0.85, PANGO_WEIGHT_NORMAL, INK_DIM);
  piece->height = add_cell (maker, piece, titles[3], REMARK_LEFT * maker->width, 0,
                            (1 - REMARK_LEFT) * maker->width, 0.85, PANGO_WEIGHT_NORMAL, INK_DIM) +
                  3;
  piece->decor = DECOR_RULE_BELOW;
  piece->keep_next = TRUE;
  maker->carry = maker->card->pieces->len;
}

static void
make_phase_row (Maker           *maker,
                const OgCardRow *row)
{
  Piece *piece = add_piece (maker, 4);
  double inner = maker->width - 10;
  double name = add_cell (maker, piece, row->text, 5, 3, row->detail != NULL ? 0.5 * inner : inner, 1,
                          PANGO_WEIGHT_SEMIBOLD, INK_PLAIN);
  double detail = add_cell (maker, piece, row->detail, GRAM_RIGHT * maker->width - 0.2 * inner, 3.4,
                            (1 - GRAM_RIGHT) * maker->width + 0.2 * inner - 5, 0.92, PANGO_WEIGHT_NORMAL,
                            INK_DIM);

  piece->height = MAX (name, detail) + 6;
  piece->decor = DECOR_TINT;
  piece->keep_next = TRUE;
}

static void
make_line_row (Maker           *maker,
               const OgCardRow *row)
{
  Piece *piece = add_piece (maker, 0);
  gboolean total = row->kind == OG_ROW_TOTAL;
  PangoWeight weight = total ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL;
  Ink ink = row->caution ? INK_CAUTION : INK_PLAIN;
  double y = 3, name, remarks;

  name = add_cell (maker, piece, row->text, 5, y, NAME_WIDTH * maker->width - 5, 1, weight, INK_PLAIN);
  add_number (maker, piece, row->pct, PCT_RIGHT * maker->width, y, 1, weight, ink);
  add_number (maker, piece, row->g, GRAM_RIGHT * maker->width, y, 1, weight, ink);
  remarks = add_cell (maker, piece, row->notes, REMARK_LEFT * maker->width, y + 0.6,
                      (1 - REMARK_LEFT) * maker->width, 0.85, PANGO_WEIGHT_NORMAL,
                      row->caution ? INK_CAUTION : INK_DIM);
  name += add_cell (maker, piece, row->detail, 5, y + name, NAME_WIDTH * maker->width - 5, 0.76,
                    PANGO_WEIGHT_NORMAL, INK_DIM);
  piece->height = y + MAX (name, remarks) + 3;
  piece->decor = total ? DECOR_RULE_ABOVE : DECOR_RULE_BELOW;
}

static void
make_table (Maker             *maker,
            const OgCardBlock *block)
{
  make_column_titles (maker);
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      if (row->kind == OG_ROW_PHASE)
        make_phase_row (maker, row);
      else
        make_line_row (maker, row);
      /* the last line takes the total along */
      if (i + 2 == block->rows->len)
        last_piece (maker)->keep_next = TRUE;
    }
  maker->carry = 0;
}

static void
make_steps (Maker             *maker,
            const OgCardBlock *block)
{
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      PangoLayout *text = make_text (maker, row->text, maker->width - NUMBER_INDENT, 1.05,
                                     PANGO_WEIGHT_NORMAL);
      Piece *piece = add_flowing_text (maker, text, NUMBER_INDENT, INK_PLAIN, i == 0 ? 2 : 7, DECOR_NONE);

      add_run (maker, piece,
               make_text (maker, number, NUMBER_INDENT - 8, 1.05, PANGO_WEIGHT_SEMIBOLD), 0, 0,
               INK_ACCENT);
      if (row->detail == NULL)
        continue;
      last_piece (maker)->keep_next = TRUE;
      text = make_text (maker, row->detail, maker->width - NUMBER_INDENT - CAUTION_INDENT, 0.95,
                        PANGO_WEIGHT_NORMAL);
      add_flowing_text (maker, text, NUMBER_INDENT + CAUTION_INDENT, INK_CAUTION, 3, DECOR_BAR);
    }
}

static PangoAttribute *
colour_attribute (const OgColour *colour)
{
  return pango_attr_foreground_new ((guint16) lround (colour->r * 65535), (guint16) lround (colour->g * 65535),
                                    (guint16) lround (colour->b * 65535));
}

/* label in bold, text, then where it comes from in small grey */
static void
make_list (Maker             *maker,
           const OgCardBlock *block)
{
  const OgDrawStyle *style = &maker->card->style;

  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);
      g_autofree char *label = g_utf8_make_valid (row->label != NULL ? row->label : "", -1);
      g_autofree char *text = g_utf8_make_valid (row->text != NULL ? row->text : "", -1);
      g_autofree char *detail = g_utf8_make_valid (row->detail != NULL ? row->detail : "", -1);
      /* a Latin name must not turn a right-to-left line round */
      g_autoptr (GString) whole = g_string_new (style->rtl ? "\u200f" : "");
      PangoAttrList *attributes = pango_attr_list_new ();
      PangoLayout *layout;

      g_string_append (whole, label);
      if (row->label != NULL)
        {
          pango_attr_list_insert (attributes,
                                  over (pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD), 0, whole->len));
          if (row->caution)
            pango_attr_list_insert (attributes, over (colour_attribute (&style->caution), 0, whole->len));
          g_string_append (whole, "  ");
        }
      g_string_append (whole, text);
      if (row->detail != NULL)
        {
          size_t start = whole->len;

          g_string_append_printf (whole, "  %s", detail);
          pango_attr_list_insert (attributes, over (colour_attribute (&style->dim), start, whole->len));
          pango_attr_list_insert (attributes, over (pango_attr_scale_new (0.9), start, whole->len));
        }
      layout = make_text (maker, whole->str, maker->width, 1, PANGO_WEIGHT_NORMAL);
      set_attributes (layout, attributes);
      add_flowing_text (maker, layout, 0, INK_PLAIN, i == 0 ? 1 : 4, DECOR_NONE);
    }
}

static double
make_facts_text (Maker             *maker,
                 Piece             *piece,
                 const OgCardBlock *block,
                 double             x,
                 double             width)
{
  double y = 0;

  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);
      double label = add_cell (maker, piece, row->label, x, y, 0.5 * width, 0.95, PANGO_WEIGHT_NORMAL, INK_DIM);
      double text = add_cell (maker, piece, row->text, x + 0.52 * width, y, 0.48 * width, 0.95,
                              PANGO_WEIGHT_NORMAL, INK_PLAIN);

      y += MAX (label, text) + 2.5;
    }

  return y;
}

static double
profile_height (Maker  *maker,
                double  width)
{
  return ceil (og_profile_chart_height (width, maker->card->result->profile, &maker->card->style)) + 1;
}

/* @profile: (nullable): the block before, shown beside the facts */
static void
make_facts (Maker             *maker,
            const OgCardBlock *block,
            const OgCardBlock *profile)
{
  Piece *piece = add_piece (maker, 0);
  double left = (0.5 - COLUMN_GAP) * maker->width;

  if (profile == NULL || maker->width < NARROW_WIDTH)
    {
      if (profile != NULL)
        {
          set_picture (maker, piece, PICTURE_PROFILE,
                       (OgRect) { 0, 0, maker->width, profile_height (maker, maker->width) });
          piece = add_piece (maker, 8);
        }
      piece->height = make_facts_text (maker, piece, block, 0, maker->width);
      return;
    }

  piece->height = make_facts_text (maker, piece, block, left + 2 * COLUMN_GAP * maker->width,
                                   maker->width - left - 2 * COLUMN_GAP * maker->width);
  set_picture (maker, piece, PICTURE_PROFILE, (OgRect) { 0, 2, left, profile_height (maker, left) });
}

static void
make_form_titles (Maker             *maker,
                  const OgCardBlock *block)
{
  Piece *piece = add_piece (maker, 0);
  double x = 0, height = 0;

  for (guint i = 0; i < block->columns->len; i++)
    {
      const OgCardColumn *column = &g_array_index (block->columns, OgCardColumn, i);
      double width = column->width * maker->width;

      height = MAX (height, add_cell (maker, piece, column->title, x + CELL_PADDING, 0,
                                      width - 2 * CELL_PADDING, 0.8, PANGO_WEIGHT_NORMAL, INK_DIM));
      x += width;
    }
  piece->height = height + 2;
  piece->keep_next = TRUE;
  maker->carry = maker->card->pieces->len;
}

static void
make_form_row (Maker             *maker,
               const OgCardBlock *block,
               const OgCardRow   *row)
{
  Piece *piece = add_piece (maker, 0);
  double x = 0, height = WRITING_HEIGHT - 2 * CELL_PADDING;

  for (guint i = 0; i < block->columns->len; i++)
    {
      const OgCardColumn *column = &g_array_index (block->columns, OgCardColumn, i);
      double width = column->width * maker->width;

      if (column->number)
        add_number (maker, piece, row->cells[i], x + width - CELL_PADDING, CELL_PADDING, 1,
                    PANGO_WEIGHT_SEMIBOLD, INK_PLAIN);
      else
        height = MAX (height, add_cell (maker, piece, row->cells[i], x + CELL_PADDING, CELL_PADDING,
                                        width - 2 * CELL_PADDING, 0.92, PANGO_WEIGHT_NORMAL,
                                        row->caution ? INK_CAUTION : INK_PLAIN));
      x += width;
    }
  piece->height = height + 2 * CELL_PADDING;
  piece->decor = DECOR_BOXES;
  piece->columns = block->columns;
}

static void
make_form (Maker             *maker,
           const OgCardBlock *block)
{
  make_form_titles (maker, block);
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      if (row->kind == OG_ROW_PHASE)
        make_phase_row (maker, row);
      else
        make_form_row (maker, block, row);
    }
  maker->carry = 0;
}

static void
make_block (Maker             *maker,
            const OgCardBlock *block,
            const OgCardBlock *before)
{
  switch (block->kind)
    {
    case OG_BLOCK_TITLE:
      make_title (maker, block);
      break;
    case OG_BLOCK_HEADLINE:
      make_headline (maker, block);
      break;
    case OG_BLOCK_HEADING:
      make_heading (maker, block, FALSE);
      break;
    case OG_BLOCK_SUBHEADING:
      make_heading (maker, block, TRUE);
      break;
    case OG_BLOCK_PARAGRAPH:
      add_paragraphs (maker, block->text, 1, INK_PLAIN, 5);
      break;
    case OG_BLOCK_TABLE:
      make_table (maker, block);
      break;
    case OG_BLOCK_STEPS:
      make_steps (maker, block);
      break;
    case OG_BLOCK_LIST:
      make_list (maker, block);
      break;
    case OG_BLOCK_FACTS:
      make_facts (maker, block, before != NULL && before->kind == OG_BLOCK_PROFILE ? before : NULL);
      break;
    case OG_BLOCK_FORM:
      make_form (maker, block);
      break;
    case OG_BLOCK_CHART:   /* beside the headline */
    case OG_BLOCK_PROFILE: /* beside the facts */
    default:
      break;
    }
}

/* --- pages --- */

/* of the piece and all it must stay with */
static double
group_height (const OgCard *card,
              guint         first)
{
  double height = 0;

  for (guint i = first; i < card->pieces->len; i++)
    {
      const Piece *piece = g_ptr_array_index (card->pieces, i);

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
  *y += ((Piece *) g_ptr_array_index (card->pieces, piece))->height;
}

static double
place_pieces (OgCard *card)
{
  double top = card->margin;
  double bottom = isfinite (card->height) ? card->height - card->margin - FOOTER_HEIGHT : G_MAXDOUBLE;
  double y = top;

  card->n_pages = 1;
  for (guint i = 0; i < card->pieces->len; i++)
    {
      const Piece *piece = g_ptr_array_index (card->pieces, i);
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
  Maker maker = { .card = card };

  og_card_clear_layout (card);
  card->style = *style;
  card->style.font = g_intern_string (style->font);
  card->width = width;
  card->height = height;
  card->margin = MIN (LARGEST_MARGIN, MARGIN_SHARE * width);
  card->pieces = g_ptr_array_new_with_free_func (piece_free);
  card->places = g_array_new (FALSE, FALSE, sizeof (Place));
  maker.context = og_text_context_new (NULL, &card->style);
  maker.width = width - 2 * card->margin;
  for (guint i = 0; i < card->blocks->len; i++)
    make_block (&maker, g_ptr_array_index (card->blocks, i),
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
            Ink                ink)
{
  switch (ink)
    {
    case INK_DIM:
      return style->high_contrast ? &style->foreground : &style->dim;
    case INK_ACCENT:
      return &style->accent;
    case INK_CAUTION:
      return &style->caution;
    case INK_PLAIN:
    default:
      return &style->foreground;
    }
}

static void
draw_lines (cairo_t   *cr,
            const Run *run)
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
            const Piece       *piece,
            double             width,
            const OgDrawStyle *style)
{
  double x = 0;

  og_set_colour (cr, style->high_contrast ? &style->foreground : &style->dim, 1);
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
            const Piece       *piece,
            double             width,
            const OgDrawStyle *style)
{
  double x;

  switch (piece->decor)
    {
    case DECOR_RULE_BELOW:
      draw_rule (cr, &style->grid, piece->height, width, 0.6);
      break;
    case DECOR_RULE_ABOVE:
      draw_rule (cr, &style->dim, 0, width, 0.8);
      break;
    case DECOR_TINT:
      og_set_colour (cr, &style->accent, 0.09);
      cairo_rectangle (cr, 0, 0, width, piece->height);
      cairo_fill (cr);
      break;
    case DECOR_BAR:
      x = piece->decor_x - CAUTION_INDENT;
      og_set_colour (cr, &style->caution, 1);
      cairo_rectangle (cr, style->rtl ? width - x - 1.6 : x, 1, 1.6, MAX (piece->height - 1, 1));
      cairo_fill (cr);
      break;
    case DECOR_ACCENT:
      og_set_colour (cr, &style->accent, 1);
      cairo_rectangle (cr, style->rtl ? width - 22 : 0, 0, 22, 1.6);
      cairo_fill (cr);
      break;
    case DECOR_BOXES:
      draw_boxes (cr, piece, width, style);
      break;
    case DECOR_NONE:
    default:
      break;
    }
}

static void
draw_picture (OgCard      *card,
              cairo_t     *cr,
              const Piece *piece)
{
  OgDrawStyle style = card->style;

  cairo_save (cr);
  cairo_translate (cr, piece->picture_at.x, piece->picture_at.y);
  if (piece->picture == PICTURE_CHART)
    {
      style.font_size *= 0.85;
      og_chart_draw (cr, piece->picture_at.width, piece->picture_at.height, &card->chart, &style);
    }
  else if (piece->picture == PICTURE_PROFILE)
    og_profile_chart_draw (cr, piece->picture_at.width, piece->picture_at.height, card->result->profile,
                           &style);
  cairo_restore (cr);
}

static void
draw_piece (OgCard      *card,
            cairo_t     *cr,
            const Piece *piece)
{
  draw_decor (cr, piece, card->width - 2 * card->margin, &card->style);
  draw_picture (card, cr, piece);
  for (guint i = 0; i < piece->runs->len; i++)
    {
      const Run *run = &g_array_index (piece->runs, Run, i);

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
  g_autoptr (PangoLayout) title = og_text_layout_new (context, style, card->title, 0.85, PANGO_WEIGHT_NORMAL);
  g_autoptr (PangoLayout) right = og_text_layout_new (context, style, number, 0.85, PANGO_WEIGHT_NORMAL);
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
