/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/ledger-private.h"

OgBatchEntry *
og_batch_entry_new (OgBatchEntryKind kind)
{
  OgBatchEntry *entry = g_new0 (OgBatchEntry, 1);

  entry->kind = kind;
  entry->temperature_c = NAN;

  return entry;
}

void
og_batch_entry_free (OgBatchEntry *entry)
{
  g_free (entry->text);
  g_free (entry->phase);
  g_free (entry->decision);
  g_free (entry->value);
  g_free (entry->until);
  g_free (entry->who);
  g_free (entry->note);
  g_free (entry);
}

gboolean
_og_ledger_refuse_unknown_batch (const char  *number,
                                 GError     **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
               _("There is no batch “%s” in the ledger."), number);

  return FALSE;
}

gboolean
_og_ledger_find_batch (OgLedger      *self,
                       const char    *number,
                       OgFoundBatch  *found,
                       GError       **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement = NULL;

  if (!_og_ledger_check_text (_("batch"), number, FALSE, error))
    return FALSE;
  statement = _og_sql_first (self,
                             "SELECT id, state, released_by IS NOT NULL FROM batch"
                             " WHERE number = ?",
                             OG_SQL_VALUES (og_sql_text (number)),
                             &row,
                             error);
  if (statement == NULL)
    return FALSE;
  if (!row)
    return _og_ledger_refuse_unknown_batch (number, error);
  found->id = sqlite3_column_int64 (statement, 0);
  if (!og_batch_state_from_nick ((const char *) sqlite3_column_text (statement, 1), &found->state))
    return _og_ledger_refuse_damaged (self, "state of a batch", error);
  found->released = sqlite3_column_int (statement, 2) != 0;

  return TRUE;
}

static gboolean
is_open (const OgFoundBatch *found)
{
  return found->state == OG_BATCH_PLANNED || found->state == OG_BATCH_RUNNING;
}

gboolean
_og_ledger_find_open_batch (OgLedger      *self,
                            const char    *number,
                            OgFoundBatch  *found,
                            GError       **error)
{
  if (!_og_ledger_find_batch (self, number, found, error))
    return FALSE;
  if (is_open (found))
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
               found->state == OG_BATCH_CLOSED ? _("Batch “%s” has been closed before.")
                                               : _("Batch “%s” has been abandoned."), number);

  return FALSE;
}

static gboolean
refuse_entry (const char  *reason,
              GError     **error)
{
  g_set_error_literal (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE, reason);

  return FALSE;
}

static gboolean
check_entry (const OgBatchEntry  *entry,
             GError             **error)
{
  const OgBatchEntryKind kind = entry->kind;

  if (!_og_ledger_check_text (_("text"), entry->text, kind != OG_BATCH_ENTRY_FILLING, error)
      || !_og_ledger_check_text (_("value"), entry->value, kind == OG_BATCH_ENTRY_MEASUREMENT,
                                 error)
      || !_og_ledger_check_text (_("phase"), entry->phase, FALSE, error)
      || !_og_ledger_check_text (_("decision"), entry->decision, FALSE, error)
      || !_og_ledger_check_text (_("who"), entry->who, FALSE, error)
      || !_og_ledger_check_text (_("note"), entry->note, FALSE, error)
      || !_og_ledger_check_day (_("until"), entry->until, error)
      || !_og_ledger_check_mg (entry->amount_mg, kind == OG_BATCH_ENTRY_FILLING ? 1 : 0, error))
    return FALSE;
  if (kind == OG_BATCH_ENTRY_SAMPLE && entry->count == 0)
    return refuse_entry (_("At least one sample must be kept."), error);
  if (!_og_ledger_check_moment (entry->started_at, error)
      || !_og_ledger_check_moment (entry->ended_at, error))
    return FALSE;
  if (entry->ended_at != 0 && entry->ended_at < entry->started_at)
    return refuse_entry (_("The end lies before the beginning."), error);
  if (isinf (entry->temperature_c))
    return refuse_entry (_("The temperature is not a number."), error);

  return TRUE;
}

static gint64
add_entry (OgLedger            *self,
           const char          *number,
           const OgBatchEntry  *entry,
           const OgNoted       *noted,
           GError             **error)
{
  OgFoundBatch found;

  if (!_og_ledger_find_batch (self, number, &found, error)
      || !_og_sql_run (self,
                       "INSERT INTO batch_entry (batch_id, kind, text, phase, decision, value,"
                       " until, temperature_c, started_at, ended_at, count, amount_mg, who, note,"
                       " entered_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                       OG_SQL_VALUES (og_sql_int (found.id),
                                      og_sql_text (og_batch_entry_kind_to_nick (entry->kind)),
                                      og_sql_text (entry->text), og_sql_text (entry->phase),
                                      og_sql_text (entry->decision), og_sql_text (entry->value),
                                      og_sql_text (entry->until),
                                      og_sql_real (entry->temperature_c),
                                      og_sql_int_or_null (entry->started_at),
                                      og_sql_int_or_null (entry->ended_at),
                                      og_sql_int_or_null (entry->count),
                                      og_sql_int_or_null (entry->amount_mg),
                                      og_sql_text (entry->who), og_sql_text (entry->note),
                                      og_sql_int (noted->now)),
                       error))
    return 0;

  return sqlite3_last_insert_rowid (self->db);
}

gint64
og_ledger_add_batch_entry (OgLedger            *self,
                           const char          *number,
                           const OgBatchEntry  *entry,
                           GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL && entry != NULL, 0);
  g_return_val_if_fail (entry->kind < OG_N_BATCH_ENTRY_KINDS, 0);

  if (!check_entry (entry, error) || !_og_noted_init (&noted, NULL, error)
      || !_og_ledger_begin (self, error))
    return 0;
  id = add_entry (self, number, entry, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

gboolean
_og_ledger_refuse_released (const char  *number,
                            GError     **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
               _("Batch “%s” has been released before."), number);

  return FALSE;
}

static gboolean
set_output (OgLedger    *self,
            const char  *number,
            int          units_made,
            const char  *label_version,
            GError     **error)
{
  OgFoundBatch found;

  if (!_og_ledger_find_batch (self, number, &found, error))
    return FALSE;
  if (found.released)
    return _og_ledger_refuse_released (number, error);

  return _og_sql_run (self,
                      "UPDATE batch SET units_made = coalesce (nullif (?2, -1), units_made),"
                      " label_version = coalesce (?3, label_version) WHERE id = ?1",
                      OG_SQL_VALUES (og_sql_int (found.id), og_sql_int (units_made),
                                     og_sql_text (label_version)),
                      error);
}

gboolean
og_ledger_set_batch_output (OgLedger    *self,
                            const char  *number,
                            int          units_made,
                            const char  *label_version,
                            GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, FALSE);

  if (!_og_ledger_check_mg (units_made, -1, error)
      || !_og_ledger_check_text (_("label version"), label_version, FALSE, error)
      || !_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, set_output (self, number, units_made, label_version, error), error);
}
