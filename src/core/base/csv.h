/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "core/base/error.h"

G_BEGIN_DECLS

/**
 * OgCsv: rows of cells out of a text (RFC 4180 quoting, LF or CRLF, comma or semicolon as the first
 * row has it). Empty rows and those that begin with # are passed over.
 */
typedef struct
{
  const char *name;      /* of the file, for messages */
  const char *at;
  const char *end;
  guint       line;      /* of the file, where we are */
  guint       row_line;  /* of the file, where the row began */
  const char *row_start;
  char        delimiter;
  GPtrArray  *cells;     /* of char*, the current row */
} OgCsv;

/** @text: @length bytes, or -1; it and @name are only borrowed */
void        og_csv_init        (OgCsv              *csv,
                                const char         *text,
                                gssize              length,
                                const char         *name);
/** Frees what @csv holds, not @csv itself. */
void        og_csv_clear       (OgCsv              *csv);
/**
 * og_csv_read_header:
 * @names: the columns there may be, the first @n_needed of which there must be
 * @columns: (out): for each name its place in a row, -1 if it is not there
 *
 * Returns: %FALSE with an #OgTableError, also if the text is too large or not UTF-8
 */
gboolean    og_csv_read_header (OgCsv              *csv,
                                const char *const  *names,
                                guint               n_names,
                                guint               n_needed,
                                int                *columns,
                                GError            **error);
/** Reads the next row that says something; @found tells whether there was one. */
gboolean    og_csv_next        (OgCsv              *csv,
                                gboolean           *found,
                                GError            **error);
/** Refuses a row with more cells than the header's @width. */
gboolean    og_csv_check_width (const OgCsv        *csv,
                                guint               width,
                                GError            **error);
/** Returns: (transfer none): "" if the row is shorter, or for an @index of -1 */
const char *og_csv_get_cell    (const OgCsv        *csv,
                                int                 index);
/** Sets an #OgTableError "NAME:LINE: reason" about the current row. Returns: FALSE */
gboolean    og_csv_fail        (const OgCsv        *csv,
                                OgTableError        code,
                                GError            **error,
                                const char         *format,
                                ...) G_GNUC_PRINTF (4, 5);
/** Returns: (transfer full): a cell as a message may show it */
char       *og_csv_shown       (const char         *text);

/** Appends a text, quoted if need be. One that a spreadsheet would take for a formula, or these
 * tables for a comment (leading = + - @ #), is led by an apostrophe. */
void        og_csv_put_text    (GString            *out,
                                const char         *text);
/** Appends a finite number in the C locale, to at most 15 significant digits. */
void        og_csv_put_number  (GString            *out,
                                double              number);
/** Returns: (transfer none): @text without the apostrophe of og_csv_put_text() */
const char *og_csv_unescape    (const char         *text);

G_END_DECLS
