/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/currency.h"
#include "model/ledger-private.h"

G_DEFINE_QUARK (og-ledger-error-quark, og_ledger_error)

static OgLedgerError
constraint_code (int extended)
{
  if (extended == SQLITE_CONSTRAINT_UNIQUE || extended == SQLITE_CONSTRAINT_PRIMARYKEY)
    return OG_LEDGER_ERROR_EXISTS;

  return extended == SQLITE_CONSTRAINT_TRIGGER ? OG_LEDGER_ERROR_STATE : OG_LEDGER_ERROR_VALUE;
}

static OgLedgerError
error_code (sqlite3 *db)
{
  const int extended = sqlite3_extended_errcode (db);

  if (extended == SQLITE_READONLY_DBMOVED)
    return OG_LEDGER_ERROR_ACCESS;

  switch (extended & 0xff)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return OG_LEDGER_ERROR_BUSY;
    case SQLITE_READONLY:
      return OG_LEDGER_ERROR_READ_ONLY;
    case SQLITE_FULL:
      return OG_LEDGER_ERROR_FULL;
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
      return OG_LEDGER_ERROR_DAMAGED;
    case SQLITE_CONSTRAINT:
      return constraint_code (extended);
    case SQLITE_IOERR:
      return sqlite3_system_errno (db) == ENOSPC ? OG_LEDGER_ERROR_FULL : OG_LEDGER_ERROR_ACCESS;
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
    case SQLITE_AUTH:
    case SQLITE_NOLFS:
      return OG_LEDGER_ERROR_ACCESS;
    default:
      return OG_LEDGER_ERROR_INTERNAL;
    }
}

gboolean
_og_ledger_refuse_damaged (OgLedger    *self,
                           const char  *said,
                           GError     **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_DAMAGED,
               /* Translators: the second %s is what the database library says, in English */
               _("%s: The ledger is damaged (%s)."), self->name, said);

  return FALSE;
}

gboolean
_og_ledger_fail (OgLedger  *self,
                 GError   **error)
{
  const char *said = sqlite3_errmsg (self->db);
  const OgLedgerError code = error_code (self->db);

  switch (code)
    {
    case OG_LEDGER_ERROR_BUSY:
      g_set_error (error, OG_LEDGER_ERROR, code,
                   _("%s: The ledger is in use by another program. Try again."), self->name);
      break;
    case OG_LEDGER_ERROR_READ_ONLY:
      g_set_error (error, OG_LEDGER_ERROR, code,
                   _("%s: The ledger cannot be written: file or folder is read-only."),
                   self->name);
      break;
    case OG_LEDGER_ERROR_FULL:
      g_set_error (error, OG_LEDGER_ERROR, code,
                   _("%s: The disk is full. Nothing was recorded."), self->name);
      break;
    case OG_LEDGER_ERROR_DAMAGED:
      return _og_ledger_refuse_damaged (self, said, error);
    case OG_LEDGER_ERROR_NOT_A_LEDGER:
    case OG_LEDGER_ERROR_NEWER_VERSION:
    case OG_LEDGER_ERROR_ACCESS:
    case OG_LEDGER_ERROR_NOT_FOUND:
    case OG_LEDGER_ERROR_VALUE:
    case OG_LEDGER_ERROR_EXISTS:
    case OG_LEDGER_ERROR_SHORTAGE:
    case OG_LEDGER_ERROR_STATE:
    case OG_LEDGER_ERROR_INTERNAL:
    default:
      g_set_error (error, OG_LEDGER_ERROR, (int) code, "%s: %s", self->name, said);
      break;
    }

  return FALSE;
}

static int
bind_value (sqlite3_stmt     *statement,
            int               place,
            const OgSqlValue *value)
{
  switch (value->type)
    {
    case OG_SQL_TEXT:
      return sqlite3_bind_text (statement, place, value->text, -1, SQLITE_TRANSIENT);
    case OG_SQL_INT:
      return sqlite3_bind_int64 (statement, place, value->whole);
    case OG_SQL_REAL:
      return sqlite3_bind_double (statement, place, value->number);
    case OG_SQL_NULL:
      return sqlite3_bind_null (statement, place);
    default:
      g_return_val_if_reached (SQLITE_MISUSE);
    }
}

static gboolean
check_count (OgLedger      *self,
             sqlite3_stmt  *statement,
             gsize          n_values,
             GError       **error)
{
  const int n_places = sqlite3_bind_parameter_count (statement);

  if (n_values == (gsize) n_places)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_INTERNAL, "%s: %s: %s", self->name,
               sqlite3_errstr (SQLITE_RANGE), sqlite3_sql (statement));

  return FALSE;
}

sqlite3_stmt *
_og_sql_prepare (OgLedger     *self,
                 const char   *sql,
                 OgSqlValues   values,
                 GError      **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  if (sqlite3_prepare_v2 (self->db, sql, -1, &statement, NULL) != SQLITE_OK)
    {
      _og_ledger_fail (self, error);
      return NULL;
    }
  if (!check_count (self, statement, values.n_values, error))
    return NULL;
  for (gsize i = 0; i < values.n_values; i++)
    {
      if (bind_value (statement, (int) i + 1, &values.values[i]) != SQLITE_OK)
        {
          _og_ledger_fail (self, error);
          return NULL;
        }
    }

  return g_steal_pointer (&statement);
}

gboolean
_og_sql_step (OgLedger      *self,
              sqlite3_stmt  *statement,
              gboolean      *row,
              GError       **error)
{
  const int result = sqlite3_step (statement);

  *row = result == SQLITE_ROW;

  return result == SQLITE_ROW || result == SQLITE_DONE || _og_ledger_fail (self, error);
}

static gboolean
run_through (OgLedger      *self,
             sqlite3_stmt  *statement,
             GError       **error)
{
  gboolean row = TRUE;

  while (row)
    {
      if (!_og_sql_step (self, statement, &row, error))
        return FALSE;
    }

  return TRUE;
}

gboolean
_og_sql_run (OgLedger     *self,
             const char   *sql,
             OgSqlValues   values,
             GError      **error)
{
  g_autoptr (sqlite3_stmt) statement = _og_sql_prepare (self, sql, values, error);

  return statement != NULL && run_through (self, statement, error);
}

sqlite3_stmt *
_og_sql_first (OgLedger     *self,
               const char   *sql,
               OgSqlValues   values,
               gboolean     *row,
               GError      **error)
{
  g_autoptr (sqlite3_stmt) statement = _og_sql_prepare (self, sql, values, error);

  *row = FALSE;
  if (statement == NULL || !_og_sql_step (self, statement, row, error))
    return NULL;

  return g_steal_pointer (&statement);
}

gboolean
_og_sql_get (OgLedger     *self,
             const char   *sql,
             OgSqlValues   values,
             gint64       *value,
             GError      **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement = _og_sql_first (self, sql, values, &row, error);

  if (statement == NULL)
    return FALSE;
  if (row && sqlite3_column_type (statement, 0) != SQLITE_NULL)
    *value = sqlite3_column_int64 (statement, 0);

  return TRUE;
}

gboolean
_og_sql_script (OgLedger    *self,
                const char  *sql,
                GError     **error)
{
  return sqlite3_exec (self->db, sql, NULL, NULL, NULL) == SQLITE_OK
         || _og_ledger_fail (self, error);
}

GPtrArray *
_og_sql_list (OgLedger        *self,
              const char      *sql,
              OgSqlValues      values,
              OgSqlReadFunc    read,
              GDestroyNotify   free_func,
              GError         **error)
{
  g_autoptr (sqlite3_stmt) statement = _og_sql_prepare (self, sql, values, error);
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (free_func);
  gboolean row = TRUE;

  if (statement == NULL)
    return NULL;
  while (row)
    {
      if (!_og_sql_step (self, statement, &row, error))
        return NULL;
      if (row)
        g_ptr_array_add (list, read (statement));
    }

  return g_steal_pointer (&list);
}

char *
_og_sql_dup_text (sqlite3_stmt *statement,
                  int           column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return text != NULL ? g_utf8_make_valid (text, -1) : NULL;
}

char *
_og_sql_dup_currency (sqlite3_stmt *statement,
                      int           column)
{
  char *text = _og_sql_dup_text (statement, column);
  const char *code = og_currency_find (text);

  if (code == NULL)
    return text;
  g_free (text);

  return g_strdup (code);
}

double
_og_sql_get_double (sqlite3_stmt *statement,
                    int           column)
{
  return sqlite3_column_type (statement, column) == SQLITE_NULL
           ? NAN
           : sqlite3_column_double (statement, column);
}

gboolean
_og_ledger_begin (OgLedger  *self,
                  GError   **error)
{
  if (self->read_only)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_READ_ONLY,
                   _("%s: The ledger was opened for reading only."), self->name);
      return FALSE;
    }

  return _og_sql_run (self, "BEGIN IMMEDIATE", OG_SQL_NO_VALUES, error);
}

gboolean
_og_ledger_end (OgLedger  *self,
                gboolean   done,
                GError   **error)
{
  if (done && _og_sql_run (self, "COMMIT", OG_SQL_NO_VALUES, error))
    {
      g_signal_emit_by_name (self, "changed");
      return TRUE;
    }

  /* Some errors have taken the transaction back already. */
  if (!sqlite3_get_autocommit (self->db))
    {
      g_autoptr (GError) reason = NULL;

      if (!_og_sql_run (self, "ROLLBACK", OG_SQL_NO_VALUES, &reason))
        g_warning ("%s", reason->message);
    }

  return FALSE;
}
