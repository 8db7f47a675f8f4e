/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/number-text.h"
#include "model/ledger-private.h"

void
og_journal_entry_free (OgJournalEntry *entry)
{
  g_free (entry->day);
  g_free (entry->material_id);
  g_free (entry->material_name);
  g_free (entry->lot);
  g_free (entry->batch);
  g_free (entry->who);
  g_free (entry->note);
  g_free (entry);
}

static gboolean
refuse_shortage (OgLedger  *self,
                 gint64     lot_id,
                 gint64     left_mg,
                 gint64     missing_mg,
                 GError   **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT lot.code, material.name FROM lot"
                     " JOIN material ON material.id = lot.material_id WHERE lot.id = ?",
                     OG_SQL_VALUES (og_sql_int (lot_id)),
                     &row,
                     error);
  g_autofree char *left_g = og_number_trimmed (og_ledger_mg_to_g (left_mg), OG_LEDGER_G_DECIMALS);
  g_autofree char *missing_g
    = og_number_trimmed (og_ledger_mg_to_g (missing_mg), OG_LEDGER_G_DECIMALS);
  g_autofree char *code = NULL;
  g_autofree char *name = NULL;

  if (statement == NULL)
    return FALSE;
  code = _og_sql_dup_text (statement, 0);
  name = _og_sql_dup_text (statement, 1);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE,
               /* Translators: material, lot, and two amounts in grams */
               _("%s, lot “%s”: %s g are there, %s g are missing."), name, code, left_g,
               missing_g);

  return FALSE;
}

/* @negative: (out): whether the entry takes the lot below nothing */
static gboolean
check_stock (OgLedger         *self,
             const OgPosting  *posting,
             gboolean         *negative,
             GError          **error)
{
  gint64 left_mg = 0;

  *negative = FALSE;
  if (posting->amount_mg >= 0)
    return TRUE;
  if (!_og_sql_get (self,
                    "SELECT amount_mg FROM balance WHERE lot_id = ?",
                    OG_SQL_VALUES (og_sql_int (posting->lot_id)),
                    &left_mg,
                    error))
    return FALSE;
  *negative = left_mg + posting->amount_mg < 0;

  return !*negative || posting->allow_negative
         || refuse_shortage (self, posting->lot_id, left_mg, -posting->amount_mg - left_mg, error);
}

gint64
_og_ledger_post (OgLedger         *self,
                 const OgPosting  *posting,
                 const OgNoted    *noted,
                 GError          **error)
{
  const char *kind = og_journal_kind_to_nick (posting->kind);
  gboolean negative;

  if (!check_stock (self, posting, &negative, error)
      || !_og_sql_run (self,
                       "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg, counted_mg,"
                       " who, note, batch_id, corrects, negative)"
                       " VALUES (?, ?, ?, ?, ?, nullif (?, -1), ?, ?, ?, ?, ?)",
                       OG_SQL_VALUES (og_sql_text (noted->day), og_sql_int (noted->now),
                                      og_sql_text (kind), og_sql_int (posting->lot_id),
                                      og_sql_int (posting->amount_mg),
                                      og_sql_int (posting->counted_mg), og_sql_text (noted->who),
                                      og_sql_text (noted->note),
                                      og_sql_int_or_null (posting->batch_id),
                                      og_sql_int_or_null (posting->corrects),
                                      og_sql_int (negative)),
                       error))
    return 0;

  return sqlite3_last_insert_rowid (self->db);
}

static gint64
post_to_lot (OgLedger            *self,
             OgPosting           *posting,
             const char          *material_id,
             const char          *lot,
             const OgLedgerNote  *note,
             GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id = 0;

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return 0;
  if (_og_ledger_find_lot (self, material_id, lot, &posting->lot_id, error))
    id = _og_ledger_post (self, posting, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

gint64
og_ledger_take (OgLedger            *self,
                OgJournalKind        kind,
                const char          *material_id,
                const char          *lot,
                gint64               amount_mg,
                gboolean             allow_negative,
                const OgLedgerNote  *note,
                GError             **error)
{
  OgPosting posting = { kind, 0, 0, -1, 0, 0, allow_negative };

  g_return_val_if_fail (OG_IS_LEDGER (self), 0);
  g_return_val_if_fail (kind == OG_JOURNAL_USE || kind == OG_JOURNAL_WASTE, 0);

  if (!_og_ledger_check_mg (amount_mg, 1, error))
    return 0;
  posting.amount_mg = -amount_mg;

  return post_to_lot (self, &posting, material_id, lot, note, error);
}

gint64
og_ledger_correct (OgLedger            *self,
                   const char          *material_id,
                   const char          *lot,
                   gint64               amount_mg,
                   gboolean             allow_negative,
                   const OgLedgerNote  *note,
                   GError             **error)
{
  OgPosting posting = { OG_JOURNAL_CORRECTION, 0, amount_mg, -1, 0, 0, allow_negative };

  g_return_val_if_fail (OG_IS_LEDGER (self), 0);

  if (!_og_ledger_check_change (amount_mg, error))
    return 0;

  return post_to_lot (self, &posting, material_id, lot, note, error);
}

static gint64
reverse (OgLedger       *self,
         gint64          id,
         gboolean        allow_negative,
         const OgNoted  *noted,
         GError        **error)
{
  gboolean row;
  OgPosting posting = { OG_JOURNAL_CORRECTION, 0, 0, -1, 0, id, allow_negative };
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT lot_id, -amount_mg, batch_id,"
                     " EXISTS (SELECT 1 FROM journal AS other WHERE other.corrects = journal.id)"
                     " FROM journal WHERE id = ?",
                     OG_SQL_VALUES (og_sql_int (id)),
                     &row,
                     error);

  if (statement == NULL)
    return 0;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("The journal has no entry %lld."), (long long) id);
      return 0;
    }
  if (sqlite3_column_int (statement, 3) != 0)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
                   _("Entry %lld has been countered before."), (long long) id);
      return 0;
    }
  posting.lot_id = sqlite3_column_int64 (statement, 0);
  posting.amount_mg = sqlite3_column_int64 (statement, 1);
  posting.batch_id = sqlite3_column_int64 (statement, 2);

  return _og_ledger_post (self, &posting, noted, error);
}

gint64
og_ledger_reverse (OgLedger            *self,
                   gint64               id,
                   gboolean             allow_negative,
                   const OgLedgerNote  *note,
                   GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 made;

  g_return_val_if_fail (OG_IS_LEDGER (self), 0);

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return 0;
  made = reverse (self, id, allow_negative, &noted, error);

  return _og_ledger_end (self, made != 0, error) ? made : 0;
}

static gint64
count_lot (OgLedger       *self,
           gint64          lot_id,
           gint64          counted_mg,
           const OgNoted  *noted,
           GError        **error)
{
  OgPosting posting = { OG_JOURNAL_COUNT, lot_id, 0, counted_mg, 0, 0, FALSE };
  gint64 left_mg = 0;

  if (!_og_sql_get (self,
                    "SELECT amount_mg FROM balance WHERE lot_id = ?",
                    OG_SQL_VALUES (og_sql_int (lot_id)),
                    &left_mg,
                    error))
    return 0;
  posting.amount_mg = counted_mg - left_mg;

  return _og_ledger_post (self, &posting, noted, error);
}

gint64
og_ledger_count (OgLedger            *self,
                 const char          *material_id,
                 const char          *lot,
                 gint64               counted_mg,
                 const OgLedgerNote  *note,
                 GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 lot_id, id = 0;

  g_return_val_if_fail (OG_IS_LEDGER (self), 0);

  if (!_og_ledger_check_mg (counted_mg, 0, error) || !_og_noted_init (&noted, note, error)
      || !_og_ledger_begin (self, error))
    return 0;
  if (_og_ledger_find_lot (self, material_id, lot, &lot_id, error))
    id = count_lot (self, lot_id, counted_mg, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}
