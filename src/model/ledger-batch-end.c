/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "model/ledger-private.h"

static gboolean
check_weighed (OgLedger    *self,
               gint64       batch_id,
               GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT line, name FROM batch_line WHERE batch_id = ?1 AND planned_mg > 0"
                     " AND coalesce ((SELECT sum (amount_mg) FROM weighing"
                     "  WHERE weighing.batch_id = ?1"
                     "  AND weighing.line = batch_line.line), 0) <= 0"
                     " ORDER BY line LIMIT 1",
                     OG_SQL_VALUES (og_sql_int (batch_id)),
                     &row,
                     error);
  g_autofree char *name = NULL;

  if (statement == NULL)
    return FALSE;
  if (!row)
    return TRUE;
  name = _og_sql_dup_text (statement, 1);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
               /* Translators: number of a line and its material */
               _("Line %d, %s, has not been weighed."), sqlite3_column_int (statement, 0), name);

  return FALSE;
}

static gpointer
read_posting (sqlite3_stmt *statement)
{
  OgPosting *posting = g_new0 (OgPosting, 1);

  posting->lot_id = sqlite3_column_int64 (statement, 0);
  posting->amount_mg = -sqlite3_column_int64 (statement, 1);
  posting->counted_mg = -1;

  return posting;
}

/* All that was weighed, one entry for each lot */
static gboolean
take_weighed (OgLedger       *self,
              gint64          batch_id,
              OgJournalKind   kind,
              gboolean        allow_negative,
              const OgNoted  *noted,
              GError        **error)
{
  g_autoptr (GPtrArray) postings
    = _og_sql_list (self,
                    "SELECT lot_id, sum (amount_mg) FROM weighing"
                    " WHERE batch_id = ? AND lot_id IS NOT NULL GROUP BY lot_id"
                    " HAVING sum (amount_mg) <> 0 ORDER BY min (line)",
                    OG_SQL_VALUES (og_sql_int (batch_id)),
                    read_posting,
                    g_free,
                    error);

  if (postings == NULL)
    return FALSE;
  for (guint i = 0; i < postings->len; i++)
    {
      OgPosting *posting = g_ptr_array_index (postings, i);

      posting->kind = kind;
      posting->batch_id = batch_id;
      posting->allow_negative = allow_negative;
      if (_og_ledger_post (self, posting, noted, error) == 0)
        return FALSE;
    }

  return TRUE;
}

typedef struct
{
  OgBatchState  state;
  gboolean      take;
  OgJournalKind kind;
  OgCloseFlags  flags;
} Ending;

static gboolean
end_batch (OgLedger       *self,
           const char     *number,
           const Ending   *ending,
           const OgNoted  *noted,
           GError        **error)
{
  const gboolean allow_negative = (ending->flags & OG_CLOSE_ALLOW_NEGATIVE) != 0;
  OgFoundBatch found;

  if (!_og_ledger_find_open_batch (self, number, &found, error)
      || ((ending->flags & OG_CLOSE_ALLOW_UNWEIGHED) == 0
          && !check_weighed (self, found.id, error))
      || (ending->take
          && !take_weighed (self, found.id, ending->kind, allow_negative, noted, error)))
    return FALSE;

  return _og_sql_run (self,
                      "UPDATE batch SET state = ?2, closed_at = ?3 WHERE id = ?1",
                      OG_SQL_VALUES (og_sql_int (found.id),
                                     og_sql_text (og_batch_state_to_nick (ending->state)),
                                     og_sql_int (noted->now)),
                      error);
}

static gboolean
end_in_transaction (OgLedger            *self,
                    const char          *number,
                    const Ending        *ending,
                    const OgLedgerNote  *note,
                    GError             **error)
{
  g_auto (OgNoted) noted = { 0 };

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, end_batch (self, number, ending, &noted, error), error);
}

gboolean
og_ledger_close_batch (OgLedger            *self,
                       const char          *number,
                       OgCloseFlags         flags,
                       const OgLedgerNote  *note,
                       GError             **error)
{
  const Ending ending = { OG_BATCH_CLOSED, TRUE, OG_JOURNAL_USE, flags };

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, FALSE);

  return end_in_transaction (self, number, &ending, note, error);
}

gboolean
og_ledger_abandon_batch (OgLedger            *self,
                         const char          *number,
                         gboolean             wasted,
                         OgCloseFlags         flags,
                         const OgLedgerNote  *note,
                         GError             **error)
{
  const Ending ending
    = { OG_BATCH_ABANDONED, wasted, OG_JOURNAL_WASTE, flags | OG_CLOSE_ALLOW_UNWEIGHED };

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, FALSE);

  return end_in_transaction (self, number, &ending, note, error);
}

static gboolean
release (OgLedger       *self,
         const char     *number,
         const OgNoted  *noted,
         GError        **error)
{
  OgFoundBatch found;

  if (!_og_ledger_find_batch (self, number, &found, error))
    return FALSE;
  if (found.released)
    return _og_ledger_refuse_released (number, error);
  if (found.state != OG_BATCH_CLOSED)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
                   _("Batch “%s” is not closed: only a closed batch can be released."), number);
      return FALSE;
    }

  return _og_sql_run (self,
                      "UPDATE batch SET released_by = ?2, released_on = ?3, release_note = ?4"
                      " WHERE id = ?1",
                      OG_SQL_VALUES (og_sql_int (found.id), og_sql_text (noted->who),
                                     og_sql_text (noted->day), og_sql_text (noted->note)),
                      error);
}

gboolean
og_ledger_release_batch (OgLedger            *self,
                         const char          *number,
                         const OgLedgerNote  *note,
                         GError             **error)
{
  g_auto (OgNoted) noted = { 0 };

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, FALSE);

  if (!_og_ledger_check_text (_("who"), note != NULL ? note->who : NULL, TRUE, error)
      || !_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, release (self, number, &noted, error), error);
}
