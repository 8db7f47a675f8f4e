/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** OgTextTable: rows of plain text set in columns of equal width. */
typedef struct _OgTextTable OgTextTable;

/**
 * og_text_table_new:
 * @alignment: one letter a column, `l` for left or `r` for right
 */
OgTextTable *og_text_table_new  (const char         *alignment);
/** Frees @table with its rows. */
void         og_text_table_free (OgTextTable        *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgTextTable, og_text_table_free)

/** Adds a row of as many cells as there are columns; a cell may be %NULL. The first row is the heading. */
void         og_text_table_add  (OgTextTable        *table,
                                 const char *const  *cells);
/** Appends the table to @out, @indent spaces from the left, with a rule below the heading. */
void         og_text_table_put  (OgTextTable        *table,
                                 guint               indent,
                                 GString            *out);

/** Appends @text to @out in lines of at most 78 columns. The first line begins with @lead, the others as far in. */
void         og_text_put_wrapped (const char        *lead,
                                  const char        *text,
                                  GString           *out);

G_END_DECLS
