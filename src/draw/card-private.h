/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/card.h"
#include "draw/chart.h"

G_BEGIN_DECLS

/* The block list of a card and, once laid out, its pieces. Only for card*.c and export.c. */

typedef enum
{
  OG_BLOCK_TITLE,      /* text, detail: purpose */
  OG_BLOCK_HEADLINE,   /* text: body in a word, detail: its figure, rows: sentences */
  OG_BLOCK_CHART,      /* the card's chart */
  OG_BLOCK_HEADING,    /* text */
  OG_BLOCK_SUBHEADING, /* text */
  OG_BLOCK_PARAGRAPH,  /* text */
  OG_BLOCK_TABLE,      /* rows: phases, lines, total */
  OG_BLOCK_STEPS,      /* rows, numbered; detail: the caution of a step */
  OG_BLOCK_LIST,       /* rows; label: a word before the text, detail: where it comes from */
  OG_BLOCK_PROFILE,    /* the recipe's fatty acids */
  OG_BLOCK_FACTS,      /* rows: label and text */
  OG_BLOCK_FORM        /* columns; rows: cells in boxes, NULL to be written in by hand */
} OgBlockKind;

typedef enum
{
  OG_ROW_ITEM,
  OG_ROW_PHASE, /* text: name, detail: temperature and note */
  OG_ROW_LINE,  /* text: name, detail: INCI name, then the three columns */
  OG_ROW_TOTAL
} OgRowKind;

/* A column of a form. */
typedef struct
{
  char    *title;
  double   width;  /* part of the text width; all together 1 */
  gboolean number; /* figures, aligned at their end */
} OgCardColumn;

/* What is not set is NULL. Text is plain, never markup, and may hold anything a user typed. */
typedef struct
{
  OgRowKind kind;
  char     *label;
  char     *text;
  char     *detail;
  char     *pct;
  char     *g;
  char     *notes;
  gboolean  caution;
  char    **cells;    /* of a form: one for each column */
} OgCardRow;

typedef struct
{
  OgBlockKind kind;
  char       *text;
  char       *detail;
  GPtrArray  *rows;    /* of OgCardRow */
  GArray     *columns; /* of OgCardColumn; of a form only */
} OgCardBlock;

struct _OgCard
{
  OgResult   *result;
  char       *title;
  GPtrArray  *blocks; /* of OgCardBlock */
  OgChart     chart;

  OgDrawStyle style;
  double      width, height; /* of the page */
  double      margin;
  GPtrArray  *pieces;        /* of what og_card_paginate() laid out */
  GArray     *places;        /* of where each goes */
  guint       n_pages;
};

/** Returns: (transfer full): a card without blocks */
OgCard            *og_card_new_empty     (const OgFormula    *formula,
                                          OgResult           *result);
/** Takes @text and @detail. Returns: (transfer none) */
OgCardBlock       *og_card_add_block     (OgCard             *card,
                                          OgBlockKind         kind,
                                          char               *text,
                                          char               *detail);
/** Takes @text and @detail. Returns: (transfer none) */
OgCardRow         *og_card_add_row       (OgCardBlock        *block,
                                          OgRowKind           kind,
                                          char               *text,
                                          char               *detail);
/** @text: (transfer full). Adds a row to a block of facts. */
void               og_card_add_fact      (OgCardBlock        *block,
                                          const char         *label,
                                          char               *text);
/** Adds a figure with @decimals digits. @unit: (nullable): follows it where it is known */
void               og_card_add_quantity  (OgCardBlock        *block,
                                          const char         *label,
                                          double              value,
                                          int                 decimals,
                                          const char         *unit);
/** What may stand in for the main materials, most of the recipe first. */
void               og_card_add_substitutions (OgCard         *card,
                                          const OgFormula    *formula);
/** All findings of the evaluation, and where else to look. */
void               og_card_add_findings  (OgCard             *card);
/** Findings from cautions on: notes would fill a page with what nobody asked. */
void               og_card_add_severe_findings (OgCard       *card,
                                          const GPtrArray    *findings);
/** The ingredient list of the EU, with what stands against it. */
void               og_card_add_declaration (OgCard           *card,
                                          const OgFormula    *formula);
/** Keeping time and antioxidants. */
void               og_card_add_keeping   (OgCard             *card,
                                          const OgFormula    *formula);
/** Titles of the four columns of the recipe table. */
const char *const *og_card_column_titles (void);
/** Whether the chart has a curve to show. */
gboolean           og_card_has_chart     (const OgCard       *card);
/** Drops pages and pieces; blocks stay. */
void               og_card_clear_layout  (OgCard             *card);
/** Lays out on one page just as tall as the content. Returns: its height */
double             og_card_lay_out_tall  (OgCard             *card,
                                          double              width_pt,
                                          const OgDrawStyle  *style);

G_END_DECLS
