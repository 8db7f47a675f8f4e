/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/ledger-private.h"

/*
 * Every version of the file, each as the step from the one before. A new file takes all of them, so
 * that an old one becomes the same. A step that was ever released is not edited any more.
 */

/* Materials, lots, and what came and went. */
static const char step_1[] =
  "CREATE TABLE material ("
  "  id TEXT NOT NULL PRIMARY KEY CHECK (id <> ''),"
  "  name TEXT NOT NULL"
  ") STRICT, WITHOUT ROWID;"

  "CREATE TABLE lot ("
  "  id INTEGER PRIMARY KEY,"
  "  material_id TEXT NOT NULL REFERENCES material (id),"
  "  code TEXT NOT NULL CHECK (code <> ''),"
  "  supplier TEXT,"
  "  received TEXT,"
  "  best_before TEXT,"
  "  price REAL CHECK (price >= 0),"
  "  currency TEXT,"
  "  pack_mg INTEGER CHECK (pack_mg > 0),"
  "  UNIQUE (material_id, code)"
  ") STRICT;"
  "CREATE INDEX lot_by_code ON lot (code);"

  "CREATE TABLE journal ("
  "  id INTEGER PRIMARY KEY,"
  "  day TEXT NOT NULL,"
  "  entered_at INTEGER NOT NULL,"
  "  kind TEXT NOT NULL"
  "    CHECK (kind IN ('receipt', 'use', 'waste', 'correction', 'count')),"
  "  lot_id INTEGER NOT NULL REFERENCES lot (id),"
  "  amount_mg INTEGER NOT NULL"
  "    CHECK (amount_mg BETWEEN -1000000000000 AND 1000000000000),"
  "  counted_mg INTEGER CHECK ((counted_mg IS NULL) = (kind <> 'count')),"
  "  who TEXT,"
  "  note TEXT,"
  "  CHECK (kind <> 'receipt' OR amount_mg > 0),"
  "  CHECK (kind NOT IN ('use', 'waste') OR amount_mg < 0)"
  ") STRICT;"
  "CREATE INDEX journal_by_lot ON journal (lot_id, amount_mg);"

  "CREATE TRIGGER journal_is_not_changed BEFORE UPDATE ON journal BEGIN"
  "  SELECT RAISE (ABORT, 'the journal is not changed'); END;"
  "CREATE TRIGGER journal_is_not_deleted BEFORE DELETE ON journal BEGIN"
  "  SELECT RAISE (ABORT, 'the journal is not changed'); END;"
  "CREATE TRIGGER journal_is_not_replaced BEFORE INSERT ON journal"
  "  WHEN EXISTS (SELECT 1 FROM journal WHERE id = NEW.id) BEGIN"
  "  SELECT RAISE (ABORT, 'the journal is not changed'); END;";

/* Batches, and counter entries. */
static const char step_2[] =
  "CREATE TABLE batch ("
  "  id INTEGER PRIMARY KEY,"
  "  number TEXT NOT NULL UNIQUE CHECK (number <> ''),"
  "  title TEXT NOT NULL,"
  "  planned_mg INTEGER NOT NULL CHECK (planned_mg > 0),"
  "  day TEXT NOT NULL,"
  "  state TEXT NOT NULL"
  "    CHECK (state IN ('planned', 'running', 'closed', 'abandoned')),"
  "  who TEXT,"
  "  note TEXT,"
  "  closed_at INTEGER,"
  "  units_made INTEGER CHECK (units_made >= 0),"
  "  label_version TEXT,"
  "  released_by TEXT,"
  "  released_on TEXT,"
  "  release_note TEXT,"
  "  document TEXT NOT NULL" /* last, so that lists need not read past it */
  ") STRICT;"
  "CREATE INDEX batch_by_state ON batch (state);"

  "CREATE TABLE batch_line ("
  "  batch_id INTEGER NOT NULL REFERENCES batch (id),"
  "  line INTEGER NOT NULL,"
  "  formula_line INTEGER NOT NULL,"
  "  phase TEXT NOT NULL,"
  "  ingredient_id TEXT NOT NULL,"
  "  material_id TEXT NOT NULL,"
  "  name TEXT NOT NULL,"
  "  planned_mg INTEGER NOT NULL CHECK (planned_mg >= 0),"
  "  PRIMARY KEY (batch_id, line)"
  ") STRICT, WITHOUT ROWID;"

  "CREATE TABLE weighing ("
  "  id INTEGER PRIMARY KEY,"
  "  batch_id INTEGER NOT NULL,"
  "  line INTEGER NOT NULL,"
  "  lot_id INTEGER REFERENCES lot (id),"
  "  amount_mg INTEGER NOT NULL"
  "    CHECK (amount_mg BETWEEN -1000000000000 AND 1000000000000),"
  "  balance TEXT,"
  "  who TEXT,"
  "  weighed_at INTEGER NOT NULL,"
  "  FOREIGN KEY (batch_id, line) REFERENCES batch_line (batch_id, line)"
  ") STRICT;"
  "CREATE INDEX weighing_by_batch ON weighing (batch_id, line, lot_id, amount_mg);"
  "CREATE INDEX weighing_by_lot ON weighing (lot_id, batch_id);"

  "CREATE TABLE batch_entry ("
  "  id INTEGER PRIMARY KEY,"
  "  batch_id INTEGER NOT NULL REFERENCES batch (id),"
  "  kind TEXT NOT NULL CHECK (kind IN"
  "    ('process', 'deviation', 'photo', 'sample', 'measurement', 'filling')),"
  "  text TEXT,"
  "  phase TEXT,"
  "  decision TEXT,"
  "  value TEXT,"
  "  until TEXT,"
  "  temperature_c REAL,"
  "  started_at INTEGER,"
  "  ended_at INTEGER CHECK (ended_at >= started_at),"
  "  count INTEGER,"
  "  amount_mg INTEGER,"
  "  who TEXT,"
  "  note TEXT,"
  "  entered_at INTEGER NOT NULL,"
  "  CHECK (kind = 'filling' OR text IS NOT NULL),"
  "  CHECK (kind <> 'filling' OR amount_mg > 0),"
  "  CHECK (kind <> 'sample' OR count > 0),"
  "  CHECK (kind <> 'measurement' OR value IS NOT NULL)"
  ") STRICT;"
  "CREATE INDEX batch_entry_by_batch ON batch_entry (batch_id);"

  "ALTER TABLE journal ADD COLUMN batch_id INTEGER REFERENCES batch (id);"
  "ALTER TABLE journal ADD COLUMN corrects INTEGER REFERENCES journal (id);"
  "CREATE UNIQUE INDEX journal_corrected_once ON journal (corrects) WHERE corrects IS NOT NULL;"
  "CREATE UNIQUE INDEX journal_batch_once ON journal (batch_id, lot_id)"
  "  WHERE batch_id IS NOT NULL AND corrects IS NULL;"

  "CREATE TRIGGER weighing_is_not_changed BEFORE UPDATE ON weighing BEGIN"
  "  SELECT RAISE (ABORT, 'weighings are not changed'); END;"
  "CREATE TRIGGER weighing_is_not_deleted BEFORE DELETE ON weighing BEGIN"
  "  SELECT RAISE (ABORT, 'weighings are not changed'); END;"
  "CREATE TRIGGER weighing_in_open_batch BEFORE INSERT ON weighing"
  "  WHEN (SELECT state FROM batch WHERE id = NEW.batch_id) NOT IN ('planned', 'running') BEGIN"
  "  SELECT RAISE (ABORT, 'the batch is closed'); END;"
  "CREATE TRIGGER batch_entry_is_not_changed BEFORE UPDATE ON batch_entry BEGIN"
  "  SELECT RAISE (ABORT, 'batch records are not changed'); END;"
  "CREATE TRIGGER batch_entry_is_not_deleted BEFORE DELETE ON batch_entry BEGIN"
  "  SELECT RAISE (ABORT, 'batch records are not changed'); END;"
  "CREATE TRIGGER batch_line_is_not_changed BEFORE UPDATE ON batch_line BEGIN"
  "  SELECT RAISE (ABORT, 'batch records are not changed'); END;"
  "CREATE TRIGGER batch_line_is_not_deleted BEFORE DELETE ON batch_line BEGIN"
  "  SELECT RAISE (ABORT, 'batch records are not changed'); END;"
  "CREATE TRIGGER batch_is_not_deleted BEFORE DELETE ON batch BEGIN"
  "  SELECT RAISE (ABORT, 'batch records are not changed'); END;"
  "CREATE TRIGGER batch_stays_closed BEFORE UPDATE OF state, document, planned_mg ON batch"
  "  WHEN OLD.state IN ('closed', 'abandoned') BEGIN"
  "  SELECT RAISE (ABORT, 'the batch is closed'); END;";

/* What is left of each lot is kept; certificates, and what suppliers ask. */
static const char step_3[] =
  "CREATE TABLE balance ("
  "  lot_id INTEGER PRIMARY KEY REFERENCES lot (id),"
  "  amount_mg INTEGER NOT NULL"
  ") STRICT;"
  "INSERT INTO balance (lot_id, amount_mg)"
  "  SELECT lot.id, coalesce ((SELECT sum (amount_mg) FROM journal WHERE lot_id = lot.id), 0)"
  "  FROM lot;"
  "ALTER TABLE journal ADD COLUMN negative INTEGER NOT NULL DEFAULT 0 CHECK (negative IN (0, 1));"
  "CREATE TRIGGER lot_has_balance AFTER INSERT ON lot BEGIN"
  "  INSERT INTO balance (lot_id, amount_mg) VALUES (NEW.id, 0); END;"
  "CREATE TRIGGER journal_moves_balance AFTER INSERT ON journal BEGIN"
  "  UPDATE balance SET amount_mg = amount_mg + NEW.amount_mg WHERE lot_id = NEW.lot_id;"
  "  SELECT RAISE (ABORT, 'more is taken than there is')"
  "    WHERE NEW.amount_mg < 0 AND NEW.negative = 0"
  "    AND (SELECT amount_mg FROM balance WHERE lot_id = NEW.lot_id) < 0;"
  " END;"
  "CREATE INDEX lot_by_best_before ON lot (best_before);"

  "CREATE TABLE certificate ("
  "  lot_id INTEGER NOT NULL REFERENCES lot (id),"
  "  figure TEXT NOT NULL,"
  "  value REAL NOT NULL,"
  "  at_c REAL,"
  "  PRIMARY KEY (lot_id, figure)"
  ") STRICT, WITHOUT ROWID;"
  "ALTER TABLE lot ADD COLUMN override_json TEXT;"

  "CREATE TABLE offer ("
  "  id INTEGER PRIMARY KEY,"
  "  material_id TEXT NOT NULL REFERENCES material (id),"
  "  supplier TEXT NOT NULL,"
  "  pack_mg INTEGER NOT NULL CHECK (pack_mg > 0),"
  "  price REAL NOT NULL CHECK (price >= 0),"
  "  currency TEXT,"
  "  day TEXT NOT NULL"
  ") STRICT;"
  "CREATE INDEX offer_by_material ON offer (material_id, day);";

/* A weighing that takes another back names it. Until now it was the last one before it of the same
 * batch, line, lot and amount that nothing else took back: the one between which and it as many
 * were taken back as were weighed. */
static const char step_4[] =
  "DROP TRIGGER weighing_is_not_changed;"
  "ALTER TABLE weighing ADD COLUMN undoes INTEGER REFERENCES weighing (id)"
  "  CHECK (undoes IS NULL OR amount_mg < 0);"
  "UPDATE weighing SET undoes ="
  "  (SELECT max (done.id) FROM weighing AS done"
  "   WHERE done.id < weighing.id AND done.batch_id = weighing.batch_id"
  "   AND done.line = weighing.line AND done.lot_id IS weighing.lot_id"
  "   AND done.amount_mg = -weighing.amount_mg"
  "   AND coalesce ((SELECT sum (other.amount_mg) FROM weighing AS other"
  "    WHERE other.id > done.id AND other.id < weighing.id"
  "    AND other.batch_id = done.batch_id AND other.line = done.line"
  "    AND other.lot_id IS done.lot_id AND abs (other.amount_mg) = done.amount_mg), 0) = 0)"
  "  WHERE amount_mg < 0;"
  "CREATE UNIQUE INDEX weighing_undone_once ON weighing (undoes) WHERE undoes IS NOT NULL;"
  "CREATE TRIGGER weighing_is_not_changed BEFORE UPDATE ON weighing BEGIN"
  "  SELECT RAISE (ABORT, 'weighings are not changed'); END;";

static const char *const steps[OG_LEDGER_VERSION] = { step_1, step_2, step_3, step_4 };

static gboolean
take_steps (OgLedger  *self,
            int        version,
            GError   **error)
{
  g_autofree char *stamp = NULL;
  gint64 from = 0;

  /* Somebody else may have been faster. */
  if (!_og_sql_get (self, "PRAGMA user_version", OG_SQL_NO_VALUES, &from, error))
    return FALSE;
  for (int i = (int) from; i < version; i++)
    {
      if (!_og_sql_script (self, steps[i], error))
        return FALSE;
    }
  if (from >= version)
    return TRUE;
  stamp = g_strdup_printf ("PRAGMA application_id = %d; PRAGMA user_version = %d;",
                           OG_LEDGER_APPLICATION_ID, version);

  return _og_sql_script (self, stamp, error);
}

gboolean
_og_ledger_migrate (OgLedger  *self,
                    int        version,
                    GError   **error)
{
  if (!_og_sql_run (self, "BEGIN IMMEDIATE", OG_SQL_NO_VALUES, error))
    return FALSE;

  return _og_ledger_end (self, take_steps (self, version, error), error);
}
