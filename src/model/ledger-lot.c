/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/ledger-private.h"

#define MG_PER_KG 1e6

OgLot *
og_lot_new (void)
{
  OgLot *lot = g_new0 (OgLot, 1);

  lot->price = NAN;
  lot->certificate = g_array_new (FALSE, TRUE, sizeof (OgCertificateValue));

  return lot;
}

void
og_lot_free (OgLot *lot)
{
  g_free (lot->material_id);
  g_free (lot->material_name);
  g_free (lot->code);
  g_free (lot->supplier);
  g_free (lot->received);
  g_free (lot->best_before);
  g_free (lot->currency);
  g_free (lot->override_json);
  g_array_unref (lot->certificate);
  g_free (lot);
}

double
og_lot_get_price_per_kg (const OgLot *lot)
{
  g_return_val_if_fail (lot != NULL, NAN);

  return lot->pack_mg > 0 ? lot->price / ((double) lot->pack_mg / MG_PER_KG) : NAN;
}

OgLot *
_og_lot_read (sqlite3_stmt *statement)
{
  OgLot *lot = og_lot_new ();

  lot->id = sqlite3_column_int64 (statement, 0);
  lot->material_id = _og_sql_dup_text (statement, 1);
  lot->material_name = _og_sql_dup_text (statement, 2);
  lot->code = _og_sql_dup_text (statement, 3);
  lot->supplier = _og_sql_dup_text (statement, 4);
  lot->received = _og_sql_dup_text (statement, 5);
  lot->best_before = _og_sql_dup_text (statement, 6);
  lot->price = _og_sql_get_double (statement, 7);
  lot->currency = _og_sql_dup_currency (statement, 8);
  lot->pack_mg = sqlite3_column_int64 (statement, 9);
  lot->override_json = _og_sql_dup_text (statement, 10);
  lot->left_mg = sqlite3_column_int64 (statement, 11);

  return lot;
}

static gboolean
read_certificate (OgLedger  *self,
                  OgLot     *lot,
                  GError   **error)
{
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_prepare (self,
                       "SELECT figure, value, at_c FROM certificate WHERE lot_id = ?"
                       " ORDER BY figure",
                       OG_SQL_VALUES (og_sql_int (lot->id)),
                       error);
  gboolean row = TRUE;

  if (statement == NULL)
    return FALSE;
  while (row)
    {
      OgCertificateValue value;

      if (!_og_sql_step (self, statement, &row, error))
        return FALSE;
      if (!row
          || !og_figure_id_from_nick ((const char *) sqlite3_column_text (statement, 0),
                                      &value.figure))
        continue;
      value.value = sqlite3_column_double (statement, 1);
      value.at_c = _og_sql_get_double (statement, 2);
      g_array_append_val (lot->certificate, value);
    }

  return TRUE;
}

gboolean
_og_ledger_find_lot (OgLedger    *self,
                     const char  *material_id,
                     const char  *code,
                     gint64      *lot_id,
                     GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement = NULL;
  int n;

  if (!_og_ledger_check_text (_("material"), material_id, FALSE, error)
      || !_og_ledger_check_text (_("lot"), code, TRUE, error))
    return FALSE;
  statement = _og_sql_first (self,
                             "SELECT id, count (*) FROM lot"
                             " WHERE code = ?2 AND (?1 IS NULL OR material_id = ?1)",
                             OG_SQL_VALUES (og_sql_text (material_id), og_sql_text (code)),
                             &row,
                             error);
  if (statement == NULL)
    return FALSE;
  n = row ? sqlite3_column_int (statement, 1) : 0;
  if (n == 1)
    {
      *lot_id = sqlite3_column_int64 (statement, 0);
      return TRUE;
    }

  if (n > 1)
    g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                 _("Several materials have a lot “%s”; say which one is meant."), code);
  else if (material_id != NULL)
    g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                 /* Translators: lot, then material */
                 _("There is no lot “%s” of %s in the ledger."), code, material_id);
  else
    g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                 _("There is no lot “%s” in the ledger."), code);

  return FALSE;
}

OgLot *
og_ledger_get_lot (OgLedger    *self,
                   const char  *material_id,
                   const char  *code,
                   GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autoptr (OgLot) lot = NULL;
  gint64 lot_id;

  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  if (!_og_ledger_find_lot (self, material_id, code, &lot_id, error))
    return NULL;
  statement = _og_sql_first (self,
                             "SELECT " OG_LOT_COLUMNS " FROM lot"
                             " JOIN material ON material.id = lot.material_id"
                             " JOIN balance ON balance.lot_id = lot.id WHERE lot.id = ?",
                             OG_SQL_VALUES (og_sql_int (lot_id)),
                             &row,
                             error);
  if (statement == NULL)
    return NULL;
  if (!row)
    {
      _og_ledger_refuse_damaged (self, "lot without balance", error);
      return NULL;
    }
  lot = _og_lot_read (statement);

  return read_certificate (self, lot, error) ? g_steal_pointer (&lot) : NULL;
}
