/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/ingredient.h"

G_BEGIN_DECLS

/** How well a material answers what was typed, worst first. */
typedef enum
{
  OG_MATCH_NEAR,       /* a slip of the pen away, or a number not written to its end */
  OG_MATCH_INSIDE,     /* each word stands somewhere in its names */
  OG_MATCH_BEGINNINGS, /* each word begins a word of it */
  OG_MATCH_WORDS,      /* each word is a word of it */
  OG_MATCH_BEGINS,     /* a name or number of it begins with what was typed */
  OG_MATCH_EXACT       /* a name or number of it is what was typed */
} OgMatch;

/**
 * OgHit:
 * @score: orders hits, the greatest first; equal ones answer equally well
 *
 * One material that was found.
 */
typedef struct
{
  const OgIngredient *ingredient;
  OgMatch             match;
  guint               score;
} OgHit;

/**
 * OgSearchIndex:
 *
 * The words by which materials are found: names, ids, aliases, INCI names, CAS and Colour Index
 * numbers; kinds, roles and tags with what the trade also calls them. Immutable.
 */
typedef struct _OgSearchIndex OgSearchIndex;

/** @items: (element-type OgIngredient): borrowed, as long as the index lives; their order breaks ties */
OgSearchIndex      *og_search_index_new   (const GPtrArray     *items);
void                og_search_index_free  (OgSearchIndex       *index);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgSearchIndex, og_search_index_free)

/**
 * og_search_index_find:
 * @typed: any text. Case, accents and punctuation do not matter; a number is a word of its own and
 * matches whole, so that 7 is never 27
 * @n_steps: (out) (optional): how many words and places of the index were looked at
 *
 * Every word of @typed must be found in a material. Where that finds nothing, the materials near it:
 * one edit away for words of three letters and more, two for those of eight and more, or a number
 * that begins so. An edit is a letter added, dropped, changed, or swapped with its neighbour: four of
 * five misspellings are one of these (F. J. Damerau, Communications of the ACM 7 (1964) 171-176).
 *
 * Returns: (transfer full) (element-type OgHit): best first; nothing for a text without words
 */
GArray             *og_search_index_find  (const OgSearchIndex *index,
                                           const char          *typed,
                                           guint               *n_steps);
/**
 * og_hits_get_sure:
 * @hits: (element-type OgHit)
 *
 * Returns: (nullable) (transfer none): the material that was meant without doubt: the one of exactly
 * that name, else the only one that is called or numbered so, else the only one found at all; near
 * ones never
 */
const OgIngredient *og_hits_get_sure      (const GArray        *hits);
/** Returns: %TRUE if @hits (element-type OgHit) are only near what was typed */
gboolean            og_hits_are_near      (const GArray        *hits);

G_END_DECLS
