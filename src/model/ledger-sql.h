/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <math.h>
#include <sqlite3.h>

#include "model/ledger.h"

G_BEGIN_DECLS

/* Statements to the database of the ledger, and what they answer. */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (sqlite3_stmt, sqlite3_finalize)

/* --- values ------------------------------------------------------------------ */

typedef enum
{
  OG_SQL_NULL,
  OG_SQL_TEXT,
  OG_SQL_INT,
  OG_SQL_REAL
} OgSqlType;

/* OgSqlValue: what is bound to one place of a statement. Texts stay the caller's. */
typedef struct
{
  OgSqlType type;
  union
  {
    const char *text;
    gint64      whole;
    double      number;
  };
} OgSqlValue;

typedef struct
{
  const OgSqlValue *values;
  gsize             n_values;
} OgSqlValues;

/* What is bound to the places of a statement, in order: OG_SQL_VALUES (og_sql_int (id), ...) */
#define OG_SQL_VALUES(...)                                                                        \
  ((OgSqlValues) { .values = (const OgSqlValue[]){ __VA_ARGS__ },                                 \
                   .n_values = G_N_ELEMENTS (((const OgSqlValue[]){ __VA_ARGS__ })) })
#define OG_SQL_NO_VALUES ((OgSqlValues) { .values = NULL, .n_values = 0 })

/* @text: (nullable): UTF-8; %NULL becomes NULL */
static inline OgSqlValue
og_sql_text (const char *text)
{
  return (OgSqlValue){ .type = text != NULL ? OG_SQL_TEXT : OG_SQL_NULL, .text = text };
}

static inline OgSqlValue
og_sql_int (gint64 whole)
{
  return (OgSqlValue){ .type = OG_SQL_INT, .whole = whole };
}

/* @whole: 0 becomes NULL */
static inline OgSqlValue
og_sql_int_or_null (gint64 whole)
{
  return (OgSqlValue){ .type = whole != 0 ? OG_SQL_INT : OG_SQL_NULL, .whole = whole };
}

/* @number: NAN becomes NULL */
static inline OgSqlValue
og_sql_real (double number)
{
  return (OgSqlValue){ .type = isnan (number) ? OG_SQL_NULL : OG_SQL_REAL, .number = number };
}

/* --- statements; each reports an #OgLedgerError ------------------------------- */

/* Sets @error to what the database just said. Returns: FALSE */
gboolean      _og_ledger_fail     (OgLedger        *self,
                                   GError         **error);
/* The file is whole, but what stands in it cannot be. @said: in English. Returns: FALSE */
gboolean      _og_ledger_refuse_damaged (OgLedger  *self,
                                   const char      *said,
                                   GError         **error);
/* A number of @values other than @sql has places is refused with OG_LEDGER_ERROR_INTERNAL.
 * Returns: (transfer full) (nullable) */
sqlite3_stmt *_og_sql_prepare     (OgLedger        *self,
                                   const char      *sql,
                                   OgSqlValues      values,
                                   GError         **error);
/* @row: (out): whether there is a row, or another one */
gboolean      _og_sql_step        (OgLedger        *self,
                                   sqlite3_stmt    *statement,
                                   gboolean        *row,
                                   GError         **error);
/* @row: (out): whether there is a row. Returns: (transfer full) (nullable): at its first row */
sqlite3_stmt *_og_sql_first       (OgLedger        *self,
                                   const char      *sql,
                                   OgSqlValues      values,
                                   gboolean        *row,
                                   GError         **error);
/* Runs a statement whose rows nobody needs. */
gboolean      _og_sql_run         (OgLedger        *self,
                                   const char      *sql,
                                   OgSqlValues      values,
                                   GError         **error);
/* @value: (inout): the first cell of the first row; stays as it is without a row, or for NULL */
gboolean      _og_sql_get         (OgLedger        *self,
                                   const char      *sql,
                                   OgSqlValues      values,
                                   gint64          *value,
                                   GError         **error);
/* Runs several statements without values. */
gboolean      _og_sql_script      (OgLedger        *self,
                                   const char      *sql,
                                   GError         **error);

typedef gpointer (*OgSqlReadFunc) (sqlite3_stmt *statement);
/* Returns: (transfer full) (nullable): what @read makes of each row, freed with @free_func */
GPtrArray    *_og_sql_list        (OgLedger        *self,
                                   const char      *sql,
                                   OgSqlValues      values,
                                   OgSqlReadFunc    read,
                                   GDestroyNotify   free_func,
                                   GError         **error);

/* --- cells -------------------------------------------------------------------- */

/* Returns: (transfer full) (nullable): valid UTF-8 */
char         *_og_sql_dup_text    (sqlite3_stmt    *statement,
                                   int              column);
/* Returns: (transfer full) (nullable): the code of a currency; what an older file says otherwise, as it stands */
char         *_og_sql_dup_currency (sqlite3_stmt   *statement,
                                   int              column);
/* Returns: NAN for NULL */
double        _og_sql_get_double  (sqlite3_stmt    *statement,
                                   int              column);

/* --- transactions: between the two nobody else writes ------------------------- */

/* Begins a transaction that writes. Returns: %FALSE with an #OgLedgerError, also when another program
 * writes for too long */
gboolean      _og_ledger_begin    (OgLedger        *self,
                                   GError         **error);
/* Commits what is @done and tells "changed", or takes everything back. Returns: whether it is on
 * the disk */
gboolean      _og_ledger_end      (OgLedger        *self,
                                   gboolean         done,
                                   GError         **error);

G_END_DECLS
