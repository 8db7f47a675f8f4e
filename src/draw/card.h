/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/substitution.h"
#include "core/make/process.h"
#include "draw/style.h"

G_BEGIN_DECLS

/**
 * OgCard: a recipe card as a list of blocks (heading, paragraph, table, chart, list), from which every output is made: pages for
 * PDF and printer, one tall picture for PNG and SVG, text for Markdown and HTML, data for CSV and JSON.
 */
typedef struct _OgCard OgCard;

/**
 * og_card_new:
 * @formula: the recipe
 * @result: its evaluation with curves
 *
 * Works out steps, substitutions worth trying (up to three for each of the main materials) and cautions itself.
 */
OgCard   *og_card_new           (const OgFormula    *formula,
                                 OgResult           *result);
/** @card: (nullable) */
void      og_card_free          (OgCard             *card);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgCard, og_card_free)

/** Lays out for a page of @width_pt x @height_pt points (margins are the card's own). Returns: number of pages */
guint     og_card_paginate      (OgCard             *card,
                                 double              width_pt,
                                 double              height_pt,
                                 const OgDrawStyle  *style);
/** Draws page @page of the last og_card_paginate(). */
void      og_card_draw_page     (OgCard             *card,
                                 cairo_t            *cr,
                                 guint               page);
/** Returns: (transfer full): the card as Markdown, in the order of its blocks; the chart as words */
char     *og_card_to_markdown   (OgCard             *card);
/** Returns: (transfer full): the card as one HTML file with its picture inside */
char     *og_card_to_html       (OgCard             *card);

G_END_DECLS
