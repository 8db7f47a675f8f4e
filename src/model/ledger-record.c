/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/ledger-private.h"

#define BATCH_COLUMNS                                                                             \
  "batch.id, number, title, day, state, planned_mg,"                                              \
  " coalesce ((SELECT sum (amount_mg) FROM weighing WHERE batch_id = batch.id), 0),"              \
  " who, note, coalesce (closed_at, 0), coalesce (units_made, -1), label_version, released_by,"   \
  " released_on, release_note"

static void
line_free (OgBatchLine *line)
{
  g_free (line->phase);
  g_free (line->ingredient_id);
  g_free (line->material_id);
  g_free (line->name);
  g_free (line);
}

static void
weighing_free (OgWeighing *weighing)
{
  g_free (weighing->material_id);
  g_free (weighing->lot);
  g_free (weighing->balance);
  g_free (weighing->who);
  g_free (weighing);
}

void
og_batch_free (OgBatch *batch)
{
  g_free (batch->number);
  g_free (batch->title);
  g_free (batch->day);
  g_free (batch->who);
  g_free (batch->note);
  g_free (batch->label_version);
  g_free (batch->released_by);
  g_free (batch->released_on);
  g_free (batch->release_note);
  g_free (batch->document);
  g_clear_pointer (&batch->lines, g_ptr_array_unref);
  g_clear_pointer (&batch->weighings, g_ptr_array_unref);
  g_clear_pointer (&batch->entries, g_ptr_array_unref);
  g_free (batch);
}

static gpointer
read_batch (sqlite3_stmt *statement)
{
  OgBatch *batch = g_new0 (OgBatch, 1);

  batch->id = sqlite3_column_int64 (statement, 0);
  batch->number = _og_sql_dup_text (statement, 1);
  batch->title = _og_sql_dup_text (statement, 2);
  batch->day = _og_sql_dup_text (statement, 3);
  og_batch_state_from_nick ((const char *) sqlite3_column_text (statement, 4), &batch->state);
  batch->planned_mg = sqlite3_column_int64 (statement, 5);
  batch->weighed_mg = sqlite3_column_int64 (statement, 6);
  batch->who = _og_sql_dup_text (statement, 7);
  batch->note = _og_sql_dup_text (statement, 8);
  batch->closed_at = sqlite3_column_int64 (statement, 9);
  batch->units_made = sqlite3_column_int (statement, 10);
  batch->label_version = _og_sql_dup_text (statement, 11);
  batch->released_by = _og_sql_dup_text (statement, 12);
  batch->released_on = _og_sql_dup_text (statement, 13);
  batch->release_note = _og_sql_dup_text (statement, 14);

  return batch;
}

GPtrArray *
og_ledger_list_batches (OgLedger    *self,
                        const char  *search,
                        int          state,
                        gint64       before,
                        guint        limit,
                        GError     **error)
{
  const char *nick = state >= 0 ? og_batch_state_to_nick ((OgBatchState) state) : NULL;

  g_return_val_if_fail (OG_IS_LEDGER (self) && state < OG_N_BATCH_STATES, NULL);

  return _og_sql_list (self,
                       "SELECT " BATCH_COLUMNS " FROM batch"
                       " WHERE (?1 IS NULL OR instr (fold (number), fold (?1)) > 0"
                       "  OR instr (fold (title), fold (?1)) > 0)"
                       " AND (?2 IS NULL OR state = ?2) AND id < ?3"
                       " ORDER BY id DESC LIMIT ?4",
                       OG_SQL_VALUES (og_sql_text (search), og_sql_text (nick),
                                      og_sql_int (before > 0 ? before : G_MAXINT64),
                                      og_sql_int (limit)),
                       read_batch,
                       (GDestroyNotify) og_batch_free,
                       error);
}

/* --- one record ---------------------------------------------------------------- */

static gpointer
read_line (sqlite3_stmt *statement)
{
  OgBatchLine *line = g_new0 (OgBatchLine, 1);

  line->line = (guint) sqlite3_column_int (statement, 0);
  line->formula_line = (guint) sqlite3_column_int64 (statement, 1);
  line->phase = _og_sql_dup_text (statement, 2);
  line->ingredient_id = _og_sql_dup_text (statement, 3);
  line->material_id = _og_sql_dup_text (statement, 4);
  line->name = _og_sql_dup_text (statement, 5);
  line->planned_mg = sqlite3_column_int64 (statement, 6);
  line->weighed_mg = sqlite3_column_int64 (statement, 7);
  line->n_weighings = (guint) sqlite3_column_int (statement, 8);

  return line;
}

static gpointer
read_weighing (sqlite3_stmt *statement)
{
  OgWeighing *weighing = g_new0 (OgWeighing, 1);

  weighing->id = sqlite3_column_int64 (statement, 0);
  weighing->line = (guint) sqlite3_column_int (statement, 1);
  weighing->material_id = _og_sql_dup_text (statement, 2);
  weighing->lot = _og_sql_dup_text (statement, 3);
  weighing->amount_mg = sqlite3_column_int64 (statement, 4);
  weighing->balance = _og_sql_dup_text (statement, 5);
  weighing->who = _og_sql_dup_text (statement, 6);
  weighing->weighed_at = sqlite3_column_int64 (statement, 7);
  weighing->undoes = sqlite3_column_int64 (statement, 8);

  return weighing;
}

static gpointer
read_entry (sqlite3_stmt *statement)
{
  OgBatchEntry *entry = og_batch_entry_new (OG_BATCH_ENTRY_PROCESS);

  entry->id = sqlite3_column_int64 (statement, 0);
  og_batch_entry_kind_from_nick ((const char *) sqlite3_column_text (statement, 1), &entry->kind);
  entry->text = _og_sql_dup_text (statement, 2);
  entry->phase = _og_sql_dup_text (statement, 3);
  entry->decision = _og_sql_dup_text (statement, 4);
  entry->value = _og_sql_dup_text (statement, 5);
  entry->until = _og_sql_dup_text (statement, 6);
  entry->temperature_c = _og_sql_get_double (statement, 7);
  entry->started_at = sqlite3_column_int64 (statement, 8);
  entry->ended_at = sqlite3_column_int64 (statement, 9);
  entry->count = (guint) sqlite3_column_int64 (statement, 10);
  entry->amount_mg = sqlite3_column_int64 (statement, 11);
  entry->who = _og_sql_dup_text (statement, 12);
  entry->note = _og_sql_dup_text (statement, 13);
  entry->entered_at = sqlite3_column_int64 (statement, 14);

  return entry;
}

static GPtrArray *
list_lines (OgLedger  *self,
            gint64     batch_id,
            GError   **error)
{
  return _og_sql_list (self,
                       "SELECT line.line, formula_line, phase, ingredient_id,"
                       " material_id, name, planned_mg,"
                       " coalesce (sum (amount_mg), 0), count (weighing.id)"
                       " FROM batch_line AS line LEFT JOIN weighing"
                       " ON weighing.batch_id = line.batch_id"
                       " AND weighing.line = line.line"
                       " WHERE line.batch_id = ? GROUP BY line.line"
                       " ORDER BY line.line",
                       OG_SQL_VALUES (og_sql_int (batch_id)),
                       read_line,
                       (GDestroyNotify) line_free,
                       error);
}

static GPtrArray *
list_weighings (OgLedger  *self,
                gint64     batch_id,
                GError   **error)
{
  return _og_sql_list (self,
                       "SELECT weighing.id, weighing.line, batch_line.material_id,"
                       " lot.code, amount_mg, balance, who, weighed_at, undoes"
                       " FROM weighing JOIN batch_line"
                       " ON batch_line.batch_id = weighing.batch_id"
                       " AND batch_line.line = weighing.line"
                       " LEFT JOIN lot ON lot.id = weighing.lot_id"
                       " WHERE weighing.batch_id = ? ORDER BY weighing.id",
                       OG_SQL_VALUES (og_sql_int (batch_id)),
                       read_weighing,
                       (GDestroyNotify) weighing_free,
                       error);
}

static GPtrArray *
list_entries (OgLedger  *self,
              gint64     batch_id,
              GError   **error)
{
  return _og_sql_list (self,
                       "SELECT id, kind, text, phase, decision, value, until,"
                       " temperature_c, started_at, ended_at, count, amount_mg,"
                       " who, note, entered_at FROM batch_entry"
                       " WHERE batch_id = ? ORDER BY id",
                       OG_SQL_VALUES (og_sql_int (batch_id)),
                       read_entry,
                       (GDestroyNotify) og_batch_entry_free,
                       error);
}

static OgBatch *
load_batch (OgLedger    *self,
            const char  *number,
            GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT " BATCH_COLUMNS ", document FROM batch"
                     " WHERE number = ?",
                     OG_SQL_VALUES (og_sql_text (number)),
                     &row,
                     error);
  g_autoptr (OgBatch) batch = NULL;

  if (statement == NULL)
    return NULL;
  if (!row)
    {
      _og_ledger_refuse_unknown_batch (number, error);
      return NULL;
    }
  batch = read_batch (statement);
  batch->document = _og_sql_dup_text (statement, 15);
  batch->lines = list_lines (self, batch->id, error);
  batch->weighings = batch->lines != NULL ? list_weighings (self, batch->id, error) : NULL;
  batch->entries = batch->weighings != NULL ? list_entries (self, batch->id, error) : NULL;

  return batch->entries != NULL ? g_steal_pointer (&batch) : NULL;
}

/* Within a transaction, so that all parts are of one state. */
OgBatch *
og_ledger_get_batch (OgLedger    *self,
                     const char  *number,
                     GError     **error)
{
  g_autoptr (OgBatch) batch = NULL;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, NULL);

  if (!_og_ledger_check_text (_("batch"), number, FALSE, error)
      || !_og_sql_run (self, "BEGIN", OG_SQL_NO_VALUES, error))
    return NULL;
  batch = load_batch (self, number, error);
  if (!_og_sql_run (self, "COMMIT", OG_SQL_NO_VALUES, batch != NULL ? error : NULL))
    return NULL;

  return g_steal_pointer (&batch);
}

/* --- lots in it ----------------------------------------------------------------- */

static void
batch_lot_free (OgBatchLot *lot)
{
  g_free (lot->material_id);
  g_free (lot->name);
  g_free (lot->lot);
  g_free (lot->supplier);
  g_free (lot->best_before);
  g_free (lot);
}

static gpointer
read_batch_lot (sqlite3_stmt *statement)
{
  OgBatchLot *lot = g_new0 (OgBatchLot, 1);

  lot->line = (guint) sqlite3_column_int (statement, 0);
  lot->material_id = _og_sql_dup_text (statement, 1);
  lot->name = _og_sql_dup_text (statement, 2);
  lot->lot = _og_sql_dup_text (statement, 3);
  lot->supplier = _og_sql_dup_text (statement, 4);
  lot->best_before = _og_sql_dup_text (statement, 5);
  lot->amount_mg = sqlite3_column_int64 (statement, 6);

  return lot;
}

GPtrArray *
og_ledger_list_batch_lots (OgLedger    *self,
                           const char  *number,
                           GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, NULL);

  return _og_sql_list (self,
                       "SELECT line.line, line.material_id, line.name, lot.code,"
                       " lot.supplier, lot.best_before, sum (amount_mg)"
                       " FROM batch JOIN weighing ON weighing.batch_id = batch.id"
                       " JOIN batch_line AS line ON line.batch_id = batch.id"
                       "  AND line.line = weighing.line"
                       " LEFT JOIN lot ON lot.id = weighing.lot_id"
                       " WHERE batch.number = ?"
                       " GROUP BY line.line, weighing.lot_id"
                       " HAVING sum (amount_mg) <> 0"
                       " ORDER BY line.line, min (weighing.id)",
                       OG_SQL_VALUES (og_sql_text (number)),
                       read_batch_lot,
                       (GDestroyNotify) batch_lot_free,
                       error);
}

/* --- what has to be bought -------------------------------------------------------- */

/*
 * ?1: JSON list of [id, base id, name, mg]. What was weighed for open batches is no longer in stock
 * for others.
 */
static const char shopping_sql[] =
  "WITH line AS (SELECT key AS place, value ->> 0 AS id, value ->> 1 AS base, value ->> 2 AS name,"
  "   value ->> 3 AS mg FROM json_each (?1)),"
  " need AS (SELECT CASE WHEN EXISTS (SELECT 1 FROM material WHERE material.id = line.id)"
  "    THEN line.id ELSE line.base END AS id, min (place) AS place, name, sum (mg) AS mg"
  "   FROM line GROUP BY 1),"
  " weighed AS (SELECT lot_id, sum (amount_mg) AS mg FROM batch"
  "   JOIN weighing ON weighing.batch_id = batch.id WHERE state = 'running' GROUP BY lot_id),"
  " held AS (SELECT material_id, sum (amount_mg - coalesce (weighed.mg, 0)) AS mg FROM lot"
  "   JOIN balance ON balance.lot_id = lot.id LEFT JOIN weighed ON weighed.lot_id = lot.id"
  "   GROUP BY material_id)"
  "SELECT need.id, need.name, need.mg, max (0, coalesce (held.mg, 0)),"
  "  newest.supplier, newest.pack_mg, newest.price, newest.currency"
  " FROM need LEFT JOIN held ON held.material_id = need.id"
  " LEFT JOIN offer AS newest ON newest.id = (SELECT offer.id FROM offer"
  "   WHERE offer.material_id = need.id ORDER BY day DESC, offer.id DESC LIMIT 1)"
  " ORDER BY need.place";

static void
shopping_free (OgShoppingItem *item)
{
  g_free (item->material_id);
  g_free (item->name);
  g_free (item->supplier);
  g_free (item->currency);
  g_free (item);
}

static gpointer
read_shopping (sqlite3_stmt *statement)
{
  OgShoppingItem *item = g_new0 (OgShoppingItem, 1);

  item->material_id = _og_sql_dup_text (statement, 0);
  item->name = _og_sql_dup_text (statement, 1);
  item->needed_mg = sqlite3_column_int64 (statement, 2);
  item->left_mg = sqlite3_column_int64 (statement, 3);
  item->missing_mg = MAX (item->needed_mg - item->left_mg, 0);
  item->supplier = _og_sql_dup_text (statement, 4);
  item->pack_mg = sqlite3_column_int64 (statement, 5);
  item->price = _og_sql_get_double (statement, 6);
  item->currency = _og_sql_dup_currency (statement, 7);
  if (item->pack_mg > 0)
    item->packs = (guint) ((item->missing_mg + item->pack_mg - 1) / item->pack_mg);

  return item;
}

static void
add_needs (JsonBuilder *builder,
           GPtrArray   *needs)
{
  for (guint i = 0; i < needs->len; i++)
    {
      const OgNeed *need = g_ptr_array_index (needs, i);

      json_builder_begin_array (builder);
      json_builder_add_string_value (builder, need->line->ingredient_id);
      json_builder_add_string_value (builder, need->base_id);
      json_builder_add_string_value (builder, need->name);
      json_builder_add_int_value (builder, need->amount_mg);
      json_builder_end_array (builder);
    }
}

GPtrArray *
og_ledger_list_shopping (OgLedger              *self,
                         const OgPlannedBatch  *plans,
                         guint                  n_plans,
                         const OgCatalog       *catalog,
                         GError               **error)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;

  g_return_val_if_fail (OG_IS_LEDGER (self) && (plans != NULL || n_plans == 0), NULL);

  json_builder_begin_array (builder);
  for (guint i = 0; i < n_plans; i++)
    {
      g_autoptr (GPtrArray) needs
        = _og_ledger_needs (plans[i].formula, catalog, plans[i].batch_mg, error);

      if (needs == NULL)
        return NULL;
      add_needs (builder, needs);
    }
  json_builder_end_array (builder);
  root = json_builder_get_root (builder);
  text = json_to_string (root, FALSE);

  return _og_sql_list (self,
                       shopping_sql,
                       OG_SQL_VALUES (og_sql_text (text)),
                       read_shopping,
                       (GDestroyNotify) shopping_free,
                       error);
}
