/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-layout-private.h"

#include <math.h>

/* Parts of the text width. */
#define NAME_WIDTH 0.47
#define PCT_RIGHT 0.60
#define GRAM_RIGHT 0.73
#define REMARK_LEFT 0.77
#define ASIDE_LEFT 0.43 /* of pictures beside text */
#define COLUMN_GAP 0.03

#define CHART_HEIGHT 178.0
#define NARROW_WIDTH 330.0    /* below it pictures go under the text */
#define NUMBER_INDENT 22.0
#define CELL_PADDING 4.0
#define WRITING_HEIGHT 21.0 /* of a box that somebody writes into */

static void
make_title (OgCardMaker       *maker,
            const OgCardBlock *block)
{
  OgCardPiece *piece = og_card_add_piece (maker, 0);

  piece->height = og_card_add_cell (maker, piece, block->text, 0, 0, maker->width, 2.3,
                                    PANGO_WEIGHT_SEMIBOLD, OG_INK_PLAIN);
  piece->height += 3;
  piece->keep_next = TRUE;
  if (block->detail != NULL)
    og_card_add_paragraphs (maker, block->detail, 1.15, OG_INK_DIM, 0);
  og_card_last_piece (maker)->height += 7;
  og_card_last_piece (maker)->decor = OG_DECOR_RULE_BELOW;
}

static double
make_headline_text (OgCardMaker       *maker,
                    OgCardPiece       *piece,
                    const OgCardBlock *block,
                    double             width)
{
  double y = 0;

  y += og_card_add_cell (maker, piece, block->text, 0, y, width, 2.4, PANGO_WEIGHT_SEMIBOLD,
                         OG_INK_ACCENT);
  y += og_card_add_cell (maker, piece, block->detail, 0, y + 1, width, 1.2, PANGO_WEIGHT_NORMAL,
                         OG_INK_PLAIN) + 1;
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);

      y += 6;
      y += og_card_add_cell (maker, piece, row->text, 0, y, width, 0.95, PANGO_WEIGHT_NORMAL,
                             OG_INK_DIM);
    }

  return y;
}

static void
set_picture (OgCardMaker   *maker,
             OgCardPiece   *piece,
             OgCardPicture  picture,
             OgRect         at)
{
  piece->picture = picture;
  piece->picture_at = at;
  if (maker->card->style.rtl)
    piece->picture_at.x = maker->width - at.x - at.width;
  piece->height = MAX (piece->height, at.y + at.height);
}

static void
make_headline (OgCardMaker       *maker,
               const OgCardBlock *block)
{
  OgCardPiece *piece = og_card_add_piece (maker, 12);
  gboolean chart = og_card_has_chart (maker->card);

  if (!chart || maker->width < NARROW_WIDTH)
    {
      piece->height = make_headline_text (maker, piece, block, maker->width);
      if (chart)
        set_picture (maker, og_card_add_piece (maker, 8), OG_PICTURE_CHART,
                     (OgRect) { 0, 0, maker->width, CHART_HEIGHT });
      return;
    }

  piece->height = make_headline_text (maker, piece, block,
                                      (ASIDE_LEFT - COLUMN_GAP) * maker->width);
  set_picture (maker, piece, OG_PICTURE_CHART,
               (OgRect) { ASIDE_LEFT * maker->width, 0, (1 - ASIDE_LEFT) * maker->width,
                          CHART_HEIGHT });
}

static void
make_heading (OgCardMaker       *maker,
              const OgCardBlock *block,
              gboolean           small)
{
  OgCardPiece *piece = og_card_add_piece (maker, small ? 7 : 17);

  piece->height = og_card_add_cell (maker, piece, block->text, 0, small ? 0 : 5, maker->width,
                                    small ? 1 : 1.35, PANGO_WEIGHT_SEMIBOLD, OG_INK_PLAIN)
                  + (small ? 1 : 8);
  piece->decor = small ? OG_DECOR_NONE : OG_DECOR_ACCENT;
  piece->keep_next = TRUE;
}

static void
make_column_titles (OgCardMaker *maker)
{
  const char *const *titles = og_card_column_titles ();
  OgCardPiece *piece = og_card_add_piece (maker, 0);

  og_card_add_cell (maker, piece, titles[0], 0, 0, NAME_WIDTH * maker->width, 0.85,
                    PANGO_WEIGHT_NORMAL, OG_INK_DIM);
  og_card_add_number (maker, piece, titles[1], PCT_RIGHT * maker->width, 0, 0.85,
                      PANGO_WEIGHT_NORMAL, OG_INK_DIM);
  og_card_add_number (maker, piece, titles[2], GRAM_RIGHT * maker->width, 0, 0.85,
                      PANGO_WEIGHT_NORMAL, OG_INK_DIM);
  piece->height = og_card_add_cell (maker, piece, titles[3], REMARK_LEFT * maker->width, 0,
                                    (1 - REMARK_LEFT) * maker->width, 0.85, PANGO_WEIGHT_NORMAL,
                                    OG_INK_DIM)
                  + 3;
  piece->decor = OG_DECOR_RULE_BELOW;
  piece->keep_next = TRUE;
  maker->carry = maker->card->pieces->len;
}

static void
make_phase_row (OgCardMaker     *maker,
                const OgCardRow *row)
{
  OgCardPiece *piece = og_card_add_piece (maker, 4);
  double inner = maker->width - 10;
  double name = og_card_add_cell (maker, piece, row->text, 5, 3,
                                  row->detail != NULL ? 0.5 * inner : inner, 1,
                                  PANGO_WEIGHT_SEMIBOLD, OG_INK_PLAIN);
  double detail = og_card_add_cell (maker, piece, row->detail,
                                    GRAM_RIGHT * maker->width - 0.2 * inner, 3.4,
                                    (1 - GRAM_RIGHT) * maker->width + 0.2 * inner - 5, 0.92,
                                    PANGO_WEIGHT_NORMAL, OG_INK_DIM);

  piece->height = MAX (name, detail) + 6;
  piece->decor = OG_DECOR_TINT;
  piece->keep_next = TRUE;
}

static void
make_line_row (OgCardMaker     *maker,
               const OgCardRow *row)
{
  OgCardPiece *piece = og_card_add_piece (maker, 0);
  gboolean total = row->kind == OG_ROW_TOTAL;
  PangoWeight weight = total ? PANGO_WEIGHT_SEMIBOLD : PANGO_WEIGHT_NORMAL;
  OgCardInk ink = row->caution ? OG_INK_CAUTION : OG_INK_PLAIN;
  double y = 3, name, remarks;

  name = og_card_add_cell (maker, piece, row->text, 5, y, NAME_WIDTH * maker->width - 5, 1, weight,
                           OG_INK_PLAIN);
  og_card_add_number (maker, piece, row->pct, PCT_RIGHT * maker->width, y, 1, weight, ink);
  og_card_add_number (maker, piece, row->g, GRAM_RIGHT * maker->width, y, 1, weight, ink);
  remarks = og_card_add_cell (maker, piece, row->notes, REMARK_LEFT * maker->width, y + 0.6,
                              (1 - REMARK_LEFT) * maker->width, 0.85, PANGO_WEIGHT_NORMAL,
                              row->caution ? OG_INK_CAUTION : OG_INK_DIM);
  name += og_card_add_cell (maker, piece, row->detail, 5, y + name, NAME_WIDTH * maker->width - 5,
                            0.76, PANGO_WEIGHT_NORMAL, OG_INK_DIM);
  piece->height = y + MAX (name, remarks) + 3;
  piece->decor = total ? OG_DECOR_RULE_ABOVE : OG_DECOR_RULE_BELOW;
}

static void
make_table (OgCardMaker       *maker,
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
        og_card_last_piece (maker)->keep_next = TRUE;
    }
  maker->carry = 0;
}

static void
make_steps (OgCardMaker       *maker,
            const OgCardBlock *block)
{
  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      PangoLayout *text = og_card_make_text (maker, row->text, maker->width - NUMBER_INDENT, 1.05,
                                             PANGO_WEIGHT_NORMAL);
      OgCardPiece *piece = og_card_add_flowing_text (maker, text, NUMBER_INDENT, OG_INK_PLAIN,
                                                     i == 0 ? 2 : 7, OG_DECOR_NONE);

      og_card_add_run (maker, piece,
                       og_card_make_text (maker, number, NUMBER_INDENT - 8, 1.05,
                                          PANGO_WEIGHT_SEMIBOLD),
                       0, 0, OG_INK_ACCENT);
      if (row->detail == NULL)
        continue;
      og_card_last_piece (maker)->keep_next = TRUE;
      text = og_card_make_text (maker, row->detail,
                                maker->width - NUMBER_INDENT - OG_CAUTION_INDENT, 0.95,
                                PANGO_WEIGHT_NORMAL);
      og_card_add_flowing_text (maker, text, NUMBER_INDENT + OG_CAUTION_INDENT, OG_INK_CAUTION, 3,
                                OG_DECOR_BAR);
    }
}

static PangoAttribute *
colour_attribute (const OgColour *colour)
{
  return pango_attr_foreground_new ((guint16) lround (colour->r * 65535),
                                    (guint16) lround (colour->g * 65535),
                                    (guint16) lround (colour->b * 65535));
}

/* label in bold, text, then where it comes from in small grey */
static void
make_list (OgCardMaker       *maker,
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
          og_card_add_attribute (attributes, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD), 0,
                                 whole->len);
          if (row->caution)
            og_card_add_attribute (attributes, colour_attribute (&style->caution), 0, whole->len);
          g_string_append (whole, "  ");
        }
      g_string_append (whole, text);
      if (row->detail != NULL)
        {
          size_t start = whole->len;

          g_string_append_printf (whole, "  %s", detail);
          og_card_add_attribute (attributes, colour_attribute (&style->dim), start, whole->len);
          og_card_add_attribute (attributes, pango_attr_scale_new (0.9), start, whole->len);
        }
      layout = og_card_make_text (maker, whole->str, maker->width, 1, PANGO_WEIGHT_NORMAL);
      og_card_set_attributes (layout, attributes);
      og_card_add_flowing_text (maker, layout, 0, OG_INK_PLAIN, i == 0 ? 1 : 4, OG_DECOR_NONE);
    }
}

static double
make_facts_text (OgCardMaker       *maker,
                 OgCardPiece       *piece,
                 const OgCardBlock *block,
                 double             x,
                 double             width)
{
  double y = 0;

  for (guint i = 0; i < block->rows->len; i++)
    {
      const OgCardRow *row = g_ptr_array_index (block->rows, i);
      double label = og_card_add_cell (maker, piece, row->label, x, y, 0.5 * width, 0.95,
                                       PANGO_WEIGHT_NORMAL, OG_INK_DIM);
      double text = og_card_add_cell (maker, piece, row->text, x + 0.52 * width, y, 0.48 * width,
                                      0.95, PANGO_WEIGHT_NORMAL, OG_INK_PLAIN);

      y += MAX (label, text) + 2.5;
    }

  return y;
}

static double
profile_height (OgCardMaker *maker,
                double       width)
{
  return ceil (og_profile_chart_height (width, maker->card->result->profile,
                                        &maker->card->style)) + 1;
}

/* @profile: (nullable): the block before, shown beside the facts */
static void
make_facts (OgCardMaker       *maker,
            const OgCardBlock *block,
            const OgCardBlock *profile)
{
  OgCardPiece *piece = og_card_add_piece (maker, 0);
  double left = (0.5 - COLUMN_GAP) * maker->width;

  if (profile == NULL || maker->width < NARROW_WIDTH)
    {
      if (profile != NULL)
        {
          set_picture (maker, piece, OG_PICTURE_PROFILE,
                       (OgRect) { 0, 0, maker->width, profile_height (maker, maker->width) });
          piece = og_card_add_piece (maker, 8);
        }
      piece->height = make_facts_text (maker, piece, block, 0, maker->width);
      return;
    }

  piece->height = make_facts_text (maker, piece, block, left + 2 * COLUMN_GAP * maker->width,
                                   maker->width - left - 2 * COLUMN_GAP * maker->width);
  set_picture (maker, piece, OG_PICTURE_PROFILE, (OgRect) { 0, 2, left, profile_height (maker,
                                                                                        left) });
}

static void
make_form_titles (OgCardMaker       *maker,
                  const OgCardBlock *block)
{
  OgCardPiece *piece = og_card_add_piece (maker, 0);
  double x = 0, height = 0;

  for (guint i = 0; i < block->columns->len; i++)
    {
      const OgCardColumn *column = &g_array_index (block->columns, OgCardColumn, i);
      double width = column->width * maker->width;

      height = MAX (height, og_card_add_cell (maker, piece, column->title, x + CELL_PADDING, 0,
                                              width - 2 * CELL_PADDING, 0.8, PANGO_WEIGHT_NORMAL,
                                              OG_INK_DIM));
      x += width;
    }
  piece->height = height + 2;
  piece->keep_next = TRUE;
  maker->carry = maker->card->pieces->len;
}

static void
make_form_row (OgCardMaker       *maker,
               const OgCardBlock *block,
               const OgCardRow   *row)
{
  OgCardPiece *piece = og_card_add_piece (maker, 0);
  double x = 0, height = WRITING_HEIGHT - 2 * CELL_PADDING;

  for (guint i = 0; i < block->columns->len; i++)
    {
      const OgCardColumn *column = &g_array_index (block->columns, OgCardColumn, i);
      double width = column->width * maker->width;

      if (column->number)
        og_card_add_number (maker, piece, row->cells[i], x + width - CELL_PADDING, CELL_PADDING, 1,
                            PANGO_WEIGHT_SEMIBOLD, OG_INK_PLAIN);
      else
        height = MAX (height, og_card_add_cell (maker, piece, row->cells[i], x + CELL_PADDING,
                                                CELL_PADDING,
                                                width - 2 * CELL_PADDING, 0.92, PANGO_WEIGHT_NORMAL,
                                                row->caution ? OG_INK_CAUTION : OG_INK_PLAIN));
      x += width;
    }
  piece->height = height + 2 * CELL_PADDING;
  piece->decor = OG_DECOR_BOXES;
  piece->columns = block->columns;
}

static void
make_form (OgCardMaker       *maker,
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

void
og_card_make_block (OgCardMaker       *maker,
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
      og_card_add_paragraphs (maker, block->text, 1, OG_INK_PLAIN, 5);
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
