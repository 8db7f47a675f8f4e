/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/card-private.h"
#include "draw/paint.h"

G_BEGIN_DECLS

/* A card as pieces that pages are filled with. Only for card-pieces.c, card-layout.c and
 * card-pages.c. */

#define OG_CAUTION_INDENT 10.0

typedef enum
{
  OG_INK_PLAIN,
  OG_INK_DIM,
  OG_INK_ACCENT,
  OG_INK_CAUTION
} OgCardInk;

/* One text on a piece, or some lines of it. */
typedef struct
{
  PangoLayout *layout;
  double       x, y;
  int          first_line;
  int          n_lines; /* 0: all */
  OgCardInk    ink;
} OgCardRun;

typedef enum
{
  OG_DECOR_NONE,
  OG_DECOR_RULE_BELOW, /* hairline at the lower edge */
  OG_DECOR_RULE_ABOVE,
  OG_DECOR_TINT,       /* pale ground */
  OG_DECOR_BAR,        /* caution bar before the text */
  OG_DECOR_ACCENT,     /* short accent line above: a heading */
  OG_DECOR_BOXES       /* a frame around every cell of a form */
} OgCardDecor;

typedef enum
{
  OG_PICTURE_NONE,
  OG_PICTURE_CHART,
  OG_PICTURE_PROFILE
} OgCardPicture;

/* What stays on one page. Heights and places are in points from the left upper corner of the text
 * area. */
typedef struct
{
  double        before;     /* free space above, unless at the top of a page */
  double        height;
  gboolean      keep_next;
  guint         carry;      /* number, from 1, of the piece repeated when a page breaks before this
                             * one; 0: none */
  OgCardDecor   decor;
  double        decor_x;
  OgCardPicture picture;
  OgRect        picture_at;
  GArray       *columns;    /* (nullable) (not owned): of OgCardColumn, for boxes */
  GArray       *runs;       /* of OgCardRun */
} OgCardPiece;

/* State while pieces are made. */
typedef struct
{
  OgCard       *card;
  PangoContext *context;
  double        width; /* of the text area */
  guint         carry;
} OgCardMaker;

/* --- card-pieces.c --- */

/** @before: free space above. Returns: (transfer none): a new piece of the card */
OgCardPiece *og_card_add_piece        (OgCardMaker       *maker,
                                       double             before);
/** @piece: (transfer full): an OgCardPiece, for the array that owns it */
void         og_card_piece_free       (gpointer           piece);
/** Returns: (transfer none): the newest piece */
OgCardPiece *og_card_last_piece       (OgCardMaker       *maker);
/** @attribute: (transfer full): holds for the bytes from @start to @end */
void         og_card_add_attribute    (PangoAttrList     *attributes,
                                       PangoAttribute    *attribute,
                                       size_t             start,
                                       size_t             end);
/** @attributes: (transfer full). No line ends between a number and its unit either. */
void         og_card_set_attributes   (PangoLayout       *layout,
                                       PangoAttrList     *attributes);
/** Returns: (transfer full): text of @width that begins at the reading start; @scale: of the font
 *  size */
PangoLayout *og_card_make_text        (OgCardMaker       *maker,
                                       const char        *text,
                                       double             width,
                                       double             scale,
                                       PangoWeight        weight);
/** @layout: (transfer full); @x as if left to right. Returns: its height */
double       og_card_add_run          (OgCardMaker       *maker,
                                       OgCardPiece       *piece,
                                       PangoLayout       *layout,
                                       double             x,
                                       double             y,
                                       OgCardInk          ink);
/** @text: (nullable): cut if it would fill the page. Returns: its height */
double       og_card_add_cell         (OgCardMaker       *maker,
                                       OgCardPiece       *piece,
                                       const char        *text,
                                       double             x,
                                       double             y,
                                       double             width,
                                       double             scale,
                                       PangoWeight        weight,
                                       OgCardInk          ink);
/** @text: (nullable): a figure, or the title above figures, whose last letter stands at the right
 *  edge of its column */
void         og_card_add_number       (OgCardMaker       *maker,
                                       OgCardPiece       *piece,
                                       const char        *text,
                                       double             right,
                                       double             y,
                                       double             scale,
                                       PangoWeight        weight,
                                       OgCardInk          ink);
/** @layout: (transfer full): one piece, or several of a few lines each when it is long. Returns:
 *  (transfer none): the first piece */
OgCardPiece *og_card_add_flowing_text (OgCardMaker       *maker,
                                       PangoLayout       *layout,
                                       double             x,
                                       OgCardInk          ink,
                                       double             before,
                                       OgCardDecor        decor);
/** One paragraph for each line of @raw that is not blank. */
void         og_card_add_paragraphs   (OgCardMaker       *maker,
                                       const char        *raw,
                                       double             scale,
                                       OgCardInk          ink,
                                       double             before);

/* --- card-layout.c --- */

/** Makes the pieces of @block. @before: (nullable): the block before it */
void         og_card_make_block       (OgCardMaker       *maker,
                                       const OgCardBlock *block,
                                       const OgCardBlock *before);

G_END_DECLS
