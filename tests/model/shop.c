/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shop.h"

#include <math.h>

#include "helpers.h"

OgLedger *
shop_must_open (const char    *path,
                OgLedgerFlags  flags)
{
  g_autoptr (GError) error = NULL;
  OgLedger *ledger = og_ledger_open (path, flags, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (ledger);

  return ledger;
}

void
shop_open (Shop *shop)
{
  shop->folder = test_make_folder ();
  shop->path = g_build_filename (g_file_peek_path (shop->folder), "ledger.sqlite", NULL);
  shop->ledger = shop_must_open (shop->path, OG_LEDGER_DEFAULT);
}

void
shop_close (Shop *shop)
{
  g_assert_finalize_object (shop->ledger);
  test_remove_folder (shop->folder);
  g_object_unref (shop->folder);
  g_free (shop->path);
}

gint64
shop_receive (OgLedger    *ledger,
              const char  *material_id,
              const char  *code,
              gint64       amount_mg,
              const char  *best_before,
              double       price,
              GError     **error)
{
  g_autoptr (OgLot) lot = og_lot_new ();
  const OgLedgerNote note = { "2026-03-01", "Ada", NULL };

  lot->material_id = g_strdup (material_id);
  lot->code = g_strdup (code);
  lot->best_before = g_strdup (best_before);
  lot->price = price;
  lot->currency = isnan (price) ? NULL : g_strdup ("EUR");
  lot->pack_mg = isnan (price) ? 0 : 1000000;

  return og_ledger_receive (ledger, lot, amount_mg, &note, error);
}

void
shop_stock (OgLedger   *ledger,
            const char *material_id,
            const char *code,
            gint64      amount_mg)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (shop_receive (ledger, material_id, code, amount_mg, NULL, NAN, &error), >, 0);
  g_assert_no_error (error);
}

gint64
shop_left (OgLedger   *ledger,
           const char *material_id,
           const char *code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgLot) lot = og_ledger_get_lot (ledger, material_id, code, &error);

  g_assert_no_error (error);

  return lot->left_mg;
}

OgFormula *
shop_recipe (void)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *oils = og_formula_add_phase (formula, "Oils", 80, G_MAXUINT);
  OgFormulaPhase *gel = og_formula_add_phase (formula, "Gel", NAN, G_MAXUINT);

  g_free (formula->title);
  formula->title = g_strdup ("Lantern gloss");
  og_formula_add_line (formula, oils, "castor-oil", 600000, G_MAXUINT);
  og_formula_add_line (formula, oils, "sunflower-oil", 370000, G_MAXUINT);
  og_formula_add_line (formula, gel, "polyamide-3", 30000, G_MAXUINT);

  return formula;
}

void
shop_weigh (OgLedger   *ledger,
            const char *number,
            guint       line,
            const char *lot,
            gint64      amount_mg)
{
  const OgWeighing weighing = { .line = line, .lot = (char *) lot, .amount_mg = amount_mg };
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (og_ledger_weigh (ledger, number, &weighing, &error), >, 0);
  g_assert_no_error (error);
}

gint64
shop_ask (const char *path,
          const char *sql)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;
  gint64 value;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE, NULL), ==, SQLITE_OK);
  if (sqlite3_prepare_v2 (db, sql, -1, &statement, NULL) != SQLITE_OK
      || sqlite3_step (statement) != SQLITE_ROW)
    g_error ("%s: %s", sql, sqlite3_errmsg (db));
  value = sqlite3_column_int64 (statement, 0);
  sqlite3_finalize (statement);
  sqlite3_close (db);

  return value;
}

int
shop_try (const char *path,
          const char *sql)
{
  sqlite3 *db = NULL;
  int result;

  g_assert_cmpint (sqlite3_open_v2 (path, &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL),
                   ==, SQLITE_OK);
  result = sqlite3_exec (db, sql, NULL, NULL, NULL);
  sqlite3_close (db);

  return result;
}
