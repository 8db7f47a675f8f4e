/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "model/ledger-private.h"

#define MG_PER_KG "1e6"

/* The order in which the lots of one material are used up. */
#define ORDER_OF_USE                                                                              \
  "lot.best_before IS NULL, lot.best_before, lot.received IS NULL, lot.received, lot.id"

/*
 * All materials with what is left of their lots; the price is that of the lot used next, or of the
 * newest offer where nothing is left. ?1: part of id or name
 */
static const char stock_sql[] =
  "SELECT material.id, material.name, coalesce (held.n_lots, 0), coalesce (held.left_mg, 0),"
  "  held.best_before,"
  "  CASE WHEN used.material_id IS NULL THEN newest.per_kg ELSE used.per_kg END,"
  "  CASE WHEN used.material_id IS NULL THEN newest.currency ELSE used.currency END"
  " FROM material"
  " LEFT JOIN (SELECT material_id, sum (amount_mg) AS left_mg,"
  "     count (*) FILTER (WHERE amount_mg > 0) AS n_lots,"
  "     min (best_before) FILTER (WHERE amount_mg > 0) AS best_before"
  "   FROM lot JOIN balance ON balance.lot_id = lot.id GROUP BY material_id) AS held"
  "   ON held.material_id = material.id"
  " LEFT JOIN (SELECT material_id, price * " MG_PER_KG " / pack_mg AS per_kg, currency,"
  "     row_number () OVER (PARTITION BY material_id ORDER BY " ORDER_OF_USE ") AS place"
  "   FROM lot JOIN balance ON balance.lot_id = lot.id WHERE amount_mg > 0) AS used"
  "   ON used.material_id = material.id AND used.place = 1"
  " LEFT JOIN (SELECT material_id, price * " MG_PER_KG " / pack_mg AS per_kg, currency,"
  "     row_number () OVER (PARTITION BY material_id ORDER BY day DESC, id DESC) AS place"
  "   FROM offer) AS newest"
  "   ON newest.material_id = material.id AND newest.place = 1"
  " WHERE ?1 IS NULL OR instr (fold (material.id), fold (?1)) > 0"
  "   OR instr (fold (material.name), fold (?1)) > 0"
  " ORDER BY material.id";

static void
stock_free (OgStock *stock)
{
  g_free (stock->material_id);
  g_free (stock->name);
  g_free (stock->best_before);
  g_free (stock->currency);
  g_free (stock);
}

static gpointer
read_stock (sqlite3_stmt *statement)
{
  OgStock *stock = g_new0 (OgStock, 1);

  stock->material_id = _og_sql_dup_text (statement, 0);
  stock->name = _og_sql_dup_text (statement, 1);
  stock->n_lots = (guint) sqlite3_column_int (statement, 2);
  stock->left_mg = sqlite3_column_int64 (statement, 3);
  stock->best_before = _og_sql_dup_text (statement, 4);
  stock->price_per_kg = _og_sql_get_double (statement, 5);
  stock->currency = _og_sql_dup_currency (statement, 6);

  return stock;
}

GPtrArray *
og_ledger_list_stock (OgLedger    *self,
                      const char  *search,
                      GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  return _og_sql_list (self,
                       stock_sql,
                       OG_SQL_VALUES (og_sql_text (search)),
                       read_stock,
                       (GDestroyNotify) stock_free,
                       error);
}

/* Returns: midnight (UTC) of @day; 0 for none */
static gint64
day_to_unix (const char *day)
{
  g_autofree char *text = NULL;
  g_autoptr (GDateTime) moment = NULL;

  if (!og_ledger_is_day (day))
    return 0;
  text = g_strconcat (day, "T00:00:00Z", NULL);
  moment = g_date_time_new_from_iso8601 (text, NULL);

  return moment != NULL ? g_date_time_to_unix (moment) : 0;
}

OgShelf *
og_ledger_get_shelf (OgLedger  *self,
                     GError   **error)
{
  g_autoptr (GPtrArray) list = NULL;
  OgShelf *shelf;

  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  list = og_ledger_list_stock (self, NULL, error);
  if (list == NULL)
    return NULL;
  shelf = og_shelf_new ();
  for (guint i = 0; i < list->len; i++)
    {
      const OgStock *stock = g_ptr_array_index (list, i);
      const OgShelfItem item = {
        .ingredient_id = stock->material_id,
        .stock_g = og_ledger_mg_to_g (MAX (stock->left_mg, 0)),
        .price_per_kg = stock->price_per_kg,
        .currency = stock->currency,
        .best_before = day_to_unix (stock->best_before),
      };

      og_shelf_put (shelf, &item);
    }

  return shelf;
}

/* --- lots ------------------------------------------------------------------- */

static gpointer
read_lot (sqlite3_stmt *statement)
{
  return _og_lot_read (statement);
}

GPtrArray *
og_ledger_list_lots (OgLedger    *self,
                     const char  *material_id,
                     gboolean     with_empty,
                     const char  *until,
                     GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  if (!_og_ledger_check_day (_("until"), until, error))
    return NULL;

  return _og_sql_list (self,
                       "SELECT " OG_LOT_COLUMNS " FROM lot"
                       " JOIN material ON material.id = lot.material_id"
                       " JOIN balance ON balance.lot_id = lot.id"
                       " WHERE (?1 IS NULL OR lot.material_id = ?1)"
                       " AND (?2 OR balance.amount_mg <> 0)"
                       " AND (?3 IS NULL OR lot.best_before <= ?3)"
                       " ORDER BY CASE WHEN ?3 IS NULL THEN lot.material_id END, "
                       ORDER_OF_USE,
                       OG_SQL_VALUES (og_sql_text (material_id), og_sql_int (with_empty),
                                      og_sql_text (until)),
                       read_lot,
                       (GDestroyNotify) og_lot_free,
                       error);
}

/* What went by the journal, and what stands on the balance for batches that are still open. */
static const char where_sql[] =
  "SELECT batch.number, batch.title, batch.state, journal.kind, journal.day, -journal.amount_mg,"
  "   1, lot.material_id, journal.id AS entry"
  " FROM lot JOIN journal ON journal.lot_id = lot.id"
  " LEFT JOIN batch ON batch.id = journal.batch_id"
  " WHERE lot.code = ?2 AND (?1 IS NULL OR lot.material_id = ?1) AND journal.kind <> 'receipt'"
  " UNION ALL "
  "SELECT batch.number, batch.title, batch.state, 'use', batch.day, sum (weighing.amount_mg),"
  "   0, lot.material_id, NULL"
  " FROM lot JOIN weighing ON weighing.lot_id = lot.id"
  " JOIN batch ON batch.id = weighing.batch_id AND batch.state IN ('planned', 'running')"
  " WHERE lot.code = ?2 AND (?1 IS NULL OR lot.material_id = ?1)"
  " GROUP BY lot.id, batch.id HAVING sum (weighing.amount_mg) <> 0"
  " ORDER BY 5, 7 DESC, 9";

static void
use_free (OgLotUse *use)
{
  g_free (use->batch);
  g_free (use->title);
  g_free (use->day);
  g_free (use->material_id);
  g_free (use);
}

static OgJournalKind
read_kind (sqlite3_stmt *statement,
           int           column)
{
  OgJournalKind kind = OG_JOURNAL_RECEIPT;

  og_journal_kind_from_nick ((const char *) sqlite3_column_text (statement, column), &kind);

  return kind;
}

static gpointer
read_use (sqlite3_stmt *statement)
{
  OgLotUse *use = g_new0 (OgLotUse, 1);

  use->batch = _og_sql_dup_text (statement, 0);
  use->title = _og_sql_dup_text (statement, 1);
  og_batch_state_from_nick ((const char *) sqlite3_column_text (statement, 2), &use->state);
  use->kind = read_kind (statement, 3);
  use->day = _og_sql_dup_text (statement, 4);
  use->amount_mg = sqlite3_column_int64 (statement, 5);
  use->taken = sqlite3_column_int (statement, 6) != 0;
  use->material_id = _og_sql_dup_text (statement, 7);

  return use;
}

GPtrArray *
og_ledger_where_lot_went (OgLedger    *self,
                          const char  *material_id,
                          const char  *code,
                          GError     **error)
{
  g_autoptr (GPtrArray) uses = NULL;
  gint64 n_lots = 0;

  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  if (!_og_ledger_check_text (_("material"), material_id, FALSE, error)
      || !_og_ledger_check_text (_("lot"), code, TRUE, error))
    return NULL;

  uses = _og_sql_list (self,
                       where_sql,
                       OG_SQL_VALUES (og_sql_text (material_id), og_sql_text (code)),
                       read_use,
                       (GDestroyNotify) use_free,
                       error);
  if (uses == NULL || uses->len > 0)
    return g_steal_pointer (&uses);
  if (!_og_sql_get (self,
                    "SELECT count (*) FROM lot WHERE code = ?2"
                    " AND (?1 IS NULL OR material_id = ?1)",
                    OG_SQL_VALUES (og_sql_text (material_id), og_sql_text (code)),
                    &n_lots,
                    error))
    return NULL;
  if (n_lots > 0)
    return g_steal_pointer (&uses);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
               _("There is no lot “%s” in the ledger."), code);

  return NULL;
}

/* --- the journal ------------------------------------------------------------- */

static const char journal_sql[] =
  "SELECT journal.id, journal.day, journal.entered_at, journal.kind, lot.material_id,"
  "  material.name, lot.code, journal.amount_mg, coalesce (journal.counted_mg, -1),"
  "  journal.negative, journal.corrects, batch.number, journal.who, journal.note"
  " FROM journal JOIN lot ON lot.id = journal.lot_id"
  " JOIN material ON material.id = lot.material_id"
  " LEFT JOIN batch ON batch.id = journal.batch_id"
  " WHERE (?1 IS NULL OR lot.material_id = ?1) AND (?2 IS NULL OR lot.code = ?2)"
  "  AND journal.id < ?3"
  " ORDER BY journal.id DESC LIMIT ?4";

static gpointer
read_journal (sqlite3_stmt *statement)
{
  OgJournalEntry *entry = g_new0 (OgJournalEntry, 1);

  entry->id = sqlite3_column_int64 (statement, 0);
  entry->day = _og_sql_dup_text (statement, 1);
  entry->entered_at = sqlite3_column_int64 (statement, 2);
  entry->kind = read_kind (statement, 3);
  entry->material_id = _og_sql_dup_text (statement, 4);
  entry->material_name = _og_sql_dup_text (statement, 5);
  entry->lot = _og_sql_dup_text (statement, 6);
  entry->amount_mg = sqlite3_column_int64 (statement, 7);
  entry->counted_mg = sqlite3_column_int64 (statement, 8);
  entry->negative = sqlite3_column_int (statement, 9) != 0;
  entry->corrects = sqlite3_column_int64 (statement, 10);
  entry->batch = _og_sql_dup_text (statement, 11);
  entry->who = _og_sql_dup_text (statement, 12);
  entry->note = _og_sql_dup_text (statement, 13);

  return entry;
}

GPtrArray *
og_ledger_list_journal (OgLedger    *self,
                        const char  *material_id,
                        const char  *lot,
                        gint64       before,
                        guint        limit,
                        GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  return _og_sql_list (self,
                       journal_sql,
                       OG_SQL_VALUES (og_sql_text (material_id), og_sql_text (lot),
                                      og_sql_int (before > 0 ? before : G_MAXINT64),
                                      og_sql_int (limit)),
                       read_journal,
                       (GDestroyNotify) og_journal_entry_free,
                       error);
}
