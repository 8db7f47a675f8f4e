/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** CsvTable: a small check table in memory; the first row names the columns. */
typedef struct
{
  GPtrArray *rows; /* of char**, header first */
} CsvTable;

/** Reads tests/data/@name (RFC 4180 quoting). Aborts the test if it cannot. Returns: (transfer
 * full) */
CsvTable   *csv_table_load  (const char     *folder,
                             const char     *name);
void        csv_table_free  (CsvTable       *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CsvTable, csv_table_free)

/** Number of rows without the header. */
guint       csv_table_len   (const CsvTable *table);
/** Returns: (transfer none): text of @column in data row @row */
const char *csv_table_text  (const CsvTable *table,
                             guint           row,
                             const char     *column);
/** Returns: the number, NAN for an empty cell; aborts on other text */
double      csv_table_number (const CsvTable *table,
                              guint          row,
                              const char    *column);

G_END_DECLS
