/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/finding.h"
#include "model/ledger-private.h"

/* What a line may be off before it is said: half of what a thousandth-part balance and a steady hand
 * leave on the smallest weighings that the plan allows (5 %). Twice or half is a slip of the decimal
 * mark or of the jar. Judgement. */
#define OFF_SAID_PCT "5"
#define OFF_SLIP_FACTOR "2"

/* Each statement answers the line and the texts and amounts of its sentence. ?1: the batch */

/* Open batches: what is still to be weighed and what was weighed from lots, against what is there. Whoever keeps no
 * stock at all is short of nothing. */
static const char short_sql[] =
  "WITH part AS (SELECT l.line, l.material_id, l.name, l.planned_mg,"
  "   coalesce (sum (w.amount_mg), 0) AS weighed_mg,"
  "   coalesce (sum (w.amount_mg) FILTER (WHERE w.lot_id IS NOT NULL), 0) AS taken_mg"
  "  FROM batch_line AS l LEFT JOIN weighing AS w ON w.batch_id = l.batch_id AND w.line = l.line"
  "  WHERE l.batch_id = ?1 GROUP BY l.line),"
  " need AS (SELECT min (line) AS line, material_id, name,"
  "   sum (max (planned_mg - weighed_mg, 0) + taken_mg) AS need_mg FROM part GROUP BY material_id),"
  " held AS (SELECT material_id, sum (max (amount_mg, 0)) AS left_mg"
  "  FROM lot JOIN balance ON balance.lot_id = lot.id GROUP BY material_id)"
  " SELECT line, name, need_mg, coalesce (left_mg, 0) AS there_mg FROM need"
  " LEFT JOIN held ON held.material_id = need.material_id"
  " WHERE need_mg > there_mg AND EXISTS (SELECT 1 FROM lot) ORDER BY line";

/* Open batches: a lot from which more was weighed than it holds. */
static const char overdrawn_sql[] =
  "SELECT min (w.line), material.name, sum (w.amount_mg) AS taken_mg,"
  "  balance.amount_mg AS there_mg, lot.code"
  " FROM weighing AS w JOIN lot ON lot.id = w.lot_id JOIN balance ON balance.lot_id = lot.id"
  " JOIN material ON material.id = lot.material_id"
  " WHERE w.batch_id = ?1 GROUP BY lot.id HAVING taken_mg > there_mg"
  " ORDER BY min (w.line)";

/* ?2: the day that counts while the batch is open */
static const char expired_sql[] =
  "SELECT min (w.line), material.name, lot.code, lot.best_before"
  " FROM weighing AS w JOIN lot ON lot.id = w.lot_id"
  " JOIN material ON material.id = lot.material_id JOIN batch ON batch.id = w.batch_id"
  " WHERE w.batch_id = ?1"
  "  AND lot.best_before < coalesce (date (batch.closed_at, 'unixepoch', 'localtime'), ?2)"
  " GROUP BY lot.id HAVING sum (w.amount_mg) > 0 ORDER BY min (w.line)";

/* Too much at any time; too little once the batch is closed. */
static const char off_sql[] =
  "SELECT l.line, l.name, sum (w.amount_mg) AS weighed_mg, l.planned_mg,"
  "  sum (w.amount_mg) >= " OFF_SLIP_FACTOR " * l.planned_mg"
  "  OR " OFF_SLIP_FACTOR " * sum (w.amount_mg) <= l.planned_mg"
  " FROM batch_line AS l JOIN weighing AS w ON w.batch_id = l.batch_id AND w.line = l.line"
  " JOIN batch ON batch.id = l.batch_id"
  " WHERE l.batch_id = ?1 GROUP BY l.line"
  " HAVING 100 * (weighed_mg - l.planned_mg) > " OFF_SAID_PCT " * l.planned_mg"
  "  OR (batch.closed_at IS NOT NULL AND weighed_mg > 0"
  "   AND 100 * (l.planned_mg - weighed_mg) > " OFF_SAID_PCT " * l.planned_mg)"
  " ORDER BY l.line";

static OgWord
grams (sqlite3_stmt *statement,
       int           column)
{
  return og_word_trimmed (og_ledger_mg_to_g (sqlite3_column_int64 (statement, column)),
                          OG_LEDGER_G_DECIMALS);
}

static OgFinding *
caution_new (sqlite3_stmt *statement,
             OgSeverity    severity,
             const char   *code,
             OgSaying     *text)
{
  OgFinding *finding = og_finding_new (severity, code, text, NULL);

  finding->line_id = (guint) sqlite3_column_int (statement, 0);
  return finding;
}

static gpointer
read_short (sqlite3_stmt *statement)
{
  g_autofree char *name = _og_sql_dup_text (statement, 1);

  return caution_new (statement, OG_SEVERITY_BLOCKING, "stock-short",
                      /* Translators: material, and two amounts in grams */
                      og_saying_new (N_("%s: the batch needs %s g, and %s g are in stock."),
                                     og_word_text (name), grams (statement, 2),
                                     grams (statement, 3)));
}

static gpointer
read_overdrawn (sqlite3_stmt *statement)
{
  g_autofree char *name = _og_sql_dup_text (statement, 1);
  g_autofree char *code = _og_sql_dup_text (statement, 4);

  return caution_new (statement, OG_SEVERITY_BLOCKING, "lot-short",
                      /* Translators: material, lot, and two amounts in grams */
                      og_saying_new (N_("%s, lot “%s”: %s g were weighed from it, and it holds %s g."),
                                     og_word_text (name), og_word_text (code), grams (statement, 2),
                                     grams (statement, 3)));
}

static gpointer
read_expired (sqlite3_stmt *statement)
{
  g_autofree char *name = _og_sql_dup_text (statement, 1);
  g_autofree char *code = _og_sql_dup_text (statement, 2);
  g_autofree char *day = _og_sql_dup_text (statement, 3);

  return caution_new (statement, OG_SEVERITY_CAUTION, "lot-expired",
                      /* Translators: material, lot, day */
                      og_saying_new (N_("%s, lot “%s” is past its best-before day (%s): smell it, and ask for a "
                                        "peroxide value before you fill."),
                                     og_word_text (name), og_word_text (code), og_word_text (day)));
}

static gpointer
read_off (sqlite3_stmt *statement)
{
  const gboolean slip = sqlite3_column_int (statement, 4) != 0;
  g_autofree char *name = _og_sql_dup_text (statement, 1);

  return caution_new (statement, slip ? OG_SEVERITY_BLOCKING : OG_SEVERITY_CAUTION, "weighed-off",
                      /* Translators: material, and two amounts in grams */
                      og_saying_new (N_("%s: %s g were weighed, and %s g were planned."),
                                     og_word_text (name), grams (statement, 2),
                                     grams (statement, 3)));
}

static gboolean
add_cautions (OgLedger       *self,
              const char     *sql,
              OgSqlValues     values,
              OgSqlReadFunc   read,
              GPtrArray      *findings,
              GError        **error)
{
  g_autoptr (GPtrArray) found
    = _og_sql_list (self, sql, values, read, NULL, error);

  if (found == NULL)
    return FALSE;
  g_ptr_array_extend_and_steal (findings, g_steal_pointer (&found));

  return TRUE;
}

GPtrArray *
og_ledger_list_batch_findings (OgLedger    *self,
                               const char  *number,
                               const char  *day,
                               GError     **error)
{
  g_autoptr (GPtrArray) findings = og_finding_list_new ();
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *today = day != NULL ? g_strdup (day) : og_ledger_day (now);
  OgFoundBatch found;
  OgSqlValues batch;
  gboolean open;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, NULL);

  if (!_og_ledger_find_batch (self, number, &found, error))
    return NULL;
  batch = OG_SQL_VALUES (og_sql_int (found.id));
  open = found.state <= OG_BATCH_RUNNING;
  if ((open
       && (!add_cautions (self, short_sql, batch, read_short, findings, error)
           || !add_cautions (self, overdrawn_sql, batch, read_overdrawn, findings, error)))
      || !add_cautions (self, expired_sql,
                        OG_SQL_VALUES (og_sql_int (found.id), og_sql_text (today)), read_expired,
                        findings, error)
      || !add_cautions (self, off_sql, batch, read_off, findings, error))
    return NULL;
  og_finding_list_sort (findings);

  return g_steal_pointer (&findings);
}
