/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/number-text.h"
#include "model/ledger-private.h"

/* @lot_id: (out): 0 for a weighing without a lot */
static gboolean
find_weighed_lot (OgLedger          *self,
                  gint64             batch_id,
                  const OgWeighing  *weighing,
                  gint64            *lot_id,
                  GError           **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT material_id FROM batch_line WHERE batch_id = ? AND line = ?",
                     OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line)),
                     &row,
                     error);
  g_autofree char *material_id = NULL;

  *lot_id = 0;
  if (statement == NULL)
    return FALSE;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("The batch has no line %u."), weighing->line);
      return FALSE;
    }
  material_id = _og_sql_dup_text (statement, 0);

  return weighing->lot == NULL
         || _og_ledger_find_lot (self, material_id, weighing->lot, lot_id, error);
}

static gboolean
check_taken_back (OgLedger          *self,
                  gint64             batch_id,
                  const OgWeighing  *weighing,
                  gint64             lot_id,
                  GError           **error)
{
  g_autofree char *weighed_g = NULL;
  gint64 sum_mg = 0;

  if (weighing->amount_mg > 0)
    return TRUE;
  if (!_og_sql_get (self,
                    "SELECT sum (amount_mg) FROM weighing"
                    " WHERE batch_id = ? AND line = ? AND lot_id IS ?",
                    OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line),
                                   og_sql_int_or_null (lot_id)),
                    &sum_mg,
                    error))
    return FALSE;
  if (sum_mg + weighing->amount_mg >= 0)
    return TRUE;
  weighed_g = og_number_trimmed (og_ledger_mg_to_g (sum_mg), OG_LEDGER_G_DECIMALS);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               _("More is taken back than was weighed: %s g."), weighed_g);

  return FALSE;
}

/* @undoes: (out): the last weighing of the same line, lot and amount that is not taken back yet; 0
 * if there is none */
static gboolean
find_undone (OgLedger          *self,
             gint64             batch_id,
             const OgWeighing  *weighing,
             gint64             lot_id,
             gint64            *undoes,
             GError           **error)
{
  *undoes = 0;

  return weighing->amount_mg > 0
         || _og_sql_get (self,
                         "SELECT max (id) FROM weighing WHERE batch_id = ? AND line = ?"
                         " AND lot_id IS ? AND amount_mg = ? AND NOT EXISTS"
                         " (SELECT 1 FROM weighing AS other WHERE other.undoes = weighing.id)",
                         OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line),
                                        og_sql_int_or_null (lot_id),
                                        og_sql_int (-weighing->amount_mg)),
                         undoes,
                         error);
}

/* Returns: the id; 0 with an error */
static gint64
put_weighing (OgLedger          *self,
              gint64             batch_id,
              const OgWeighing  *weighing,
              gint64             lot_id,
              gint64             undoes,
              const OgNoted     *noted,
              GError           **error)
{
  const gint64 moment = weighing->weighed_at != 0 ? weighing->weighed_at : noted->now;

  if (!check_taken_back (self, batch_id, weighing, lot_id, error)
      || !_og_sql_run (self,
                       "INSERT INTO weighing (batch_id, line, lot_id, amount_mg, balance, who,"
                       " weighed_at, undoes) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                       OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line),
                                      og_sql_int_or_null (lot_id),
                                      og_sql_int (weighing->amount_mg),
                                      og_sql_text (weighing->balance), og_sql_text (weighing->who),
                                      og_sql_int (moment), og_sql_int_or_null (undoes)),
                       error))
    return 0;

  return sqlite3_last_insert_rowid (self->db);
}

static gint64
weigh (OgLedger          *self,
       const char        *number,
       const OgWeighing  *weighing,
       const OgNoted     *noted,
       GError           **error)
{
  OgFoundBatch found;
  gint64 lot_id;
  gint64 undoes;
  gint64 id;

  if (!_og_ledger_find_open_batch (self, number, &found, error)
      || !find_weighed_lot (self, found.id, weighing, &lot_id, error)
      || !find_undone (self, found.id, weighing, lot_id, &undoes, error))
    return 0;
  id = put_weighing (self, found.id, weighing, lot_id, undoes, noted, error);
  if (id == 0
      || !_og_sql_run (self,
                       "UPDATE batch SET state = 'running' WHERE id = ? AND state = 'planned'",
                       OG_SQL_VALUES (og_sql_int (found.id)),
                       error))
    return 0;

  return id;
}

gint64
og_ledger_weigh (OgLedger          *self,
                 const char        *number,
                 const OgWeighing  *weighing,
                 GError           **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL && weighing != NULL, 0);

  if (!_og_ledger_check_change (weighing->amount_mg, error)
      || !_og_ledger_check_moment (weighing->weighed_at, error)
      || !_og_ledger_check_text (_("balance"), weighing->balance, FALSE, error)
      || !_og_ledger_check_text (_("who"), weighing->who, FALSE, error)
      || !_og_noted_init (&noted, NULL, error) || !_og_ledger_begin (self, error))
    return 0;
  id = weigh (self, number, weighing, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

static gint64
take_back (OgLedger       *self,
           const char     *number,
           gint64          id,
           const char     *who,
           const OgNoted  *noted,
           GError        **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autofree char *balance = NULL;
  OgWeighing weighing = { .who = (char *) who };
  OgFoundBatch found;
  gboolean row;

  if (!_og_ledger_find_open_batch (self, number, &found, error))
    return 0;
  statement = _og_sql_first (self,
                             "SELECT line, -amount_mg, balance, lot_id, EXISTS"
                             " (SELECT 1 FROM weighing AS other WHERE other.undoes = weighing.id)"
                             " FROM weighing WHERE id = ? AND batch_id = ? AND amount_mg > 0",
                             OG_SQL_VALUES (og_sql_int (id), og_sql_int (found.id)),
                             &row,
                             error);
  if (statement == NULL)
    return 0;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("Batch “%s” has no weighing %lld."), number, (long long) id);
      return 0;
    }
  if (sqlite3_column_int (statement, 4) != 0)
    {
      g_set_error_literal (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
                           _("This weighing has been taken back before."));
      return 0;
    }
  balance = _og_sql_dup_text (statement, 2);
  weighing.line = (guint) sqlite3_column_int (statement, 0);
  weighing.amount_mg = sqlite3_column_int64 (statement, 1);
  weighing.balance = balance;

  return put_weighing (self, found.id, &weighing, sqlite3_column_int64 (statement, 3), id, noted,
                       error);
}

gint64
og_ledger_take_back (OgLedger    *self,
                     const char  *number,
                     gint64       id,
                     const char  *who,
                     GError     **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 made;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, 0);

  if (!_og_ledger_check_text (_("who"), who, FALSE, error)
      || !_og_noted_init (&noted, NULL, error) || !_og_ledger_begin (self, error))
    return 0;
  made = take_back (self, number, id, who, &noted, error);

  return _og_ledger_end (self, made != 0, error) ? made : 0;
}
