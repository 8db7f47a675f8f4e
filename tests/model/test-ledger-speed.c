/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <stdlib.h>

#include "helpers.h"
#include "shop.h"

#define N_RUNS 5
#define BUDGET_MS 100.0

/* 100 000 entries of the journal: 2 000 lots of 200 materials, 10 000 batches, 400 offers. */
static const char filling[] =
  "BEGIN;"
  "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < 199)"
  " INSERT INTO material SELECT 'material-' || i, 'Material ' || i FROM n;"
  "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < 1999)"
  " INSERT INTO lot (material_id, code, received, best_before, price, currency, pack_mg)"
  " SELECT 'material-' || (i % 200), 'lot-' || i, date ('2020-01-01', i || ' days'),"
  "  date ('2026-01-01', (i * 7 % 900) || ' days'), i % 50 + 0.5, 'EUR', 1000000 FROM n;"
  "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < 399)"
  " INSERT INTO offer (material_id, supplier, pack_mg, price, currency, day)"
  " SELECT 'material-' || (i % 200), 'Pier', 500000, i, 'EUR', '2026-01-01' FROM n;"
  "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg)"
  " SELECT received, 0, 'receipt', id, 100000000 FROM lot;"
  "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 10000)"
  " INSERT INTO batch (number, title, document, planned_mg, day, state)"
  " SELECT '2025-' || i, 'Recipe ' || (i % 300), printf ('%.*c', 4000, 'x'), 500000,"
  "  '2025-01-01', CASE WHEN i > 9900 THEN 'running' ELSE 'planned' END FROM n;"
  "INSERT INTO batch_line (batch_id, line, formula_line, phase, ingredient_id, material_id, name,"
  "  planned_mg) SELECT batch.id, k.value, k.value, 'A', 'material-' || (batch.id * k.value % 200),"
  "  'material-' || (batch.id * k.value % 200), 'Material', 50000"
  "  FROM batch, json_each ('[1, 2, 3, 4, 5, 6, 7, 8]') AS k;"
  "INSERT INTO weighing (batch_id, line, lot_id, amount_mg, weighed_at)"
  " SELECT batch_id, line, (batch_id * line % 200) + 1 + 200 * (line - 1), 50000, 0"
  " FROM batch_line;"
  "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg, batch_id)"
  " SELECT '2025-02-01', 0, 'use', lot_id, -50000, batch_id FROM weighing WHERE batch_id <= 9900;"
  "UPDATE batch SET state = 'closed' WHERE id <= 9900;"
  "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 18800)"
  " INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg)"
  " SELECT '2025-03-01', 0, 'waste', i % 2000 + 1, -1 FROM n;"
  "COMMIT;";

typedef GPtrArray *(*Question) (OgLedger *ledger, GError **error);

static GPtrArray *
ask_shelf (OgLedger  *ledger,
           GError   **error)
{
  g_autoptr (OgShelf) shelf = og_ledger_get_shelf (ledger, error);

  if (shelf != NULL)
    g_assert_cmpuint (og_shelf_get_n_items (shelf), ==, 200);

  return shelf != NULL ? g_ptr_array_new () : NULL;
}

static GPtrArray *
ask_stock (OgLedger  *ledger,
           GError   **error)
{
  return og_ledger_list_stock (ledger, "TERIAL 1", error);
}

static GPtrArray *
ask_lots (OgLedger  *ledger,
          GError   **error)
{
  return og_ledger_list_lots (ledger, NULL, TRUE, NULL, error);
}

static GPtrArray *
ask_expiring (OgLedger  *ledger,
              GError   **error)
{
  return og_ledger_list_lots (ledger, NULL, FALSE, "2026-03-01", error);
}

static GPtrArray *
ask_where (OgLedger  *ledger,
           GError   **error)
{
  return og_ledger_where_lot_went (ledger, NULL, "lot-0", error);
}

static GPtrArray *
ask_batch_lots (OgLedger  *ledger,
                GError   **error)
{
  return og_ledger_list_batch_lots (ledger, "2025-5000", error);
}

static GPtrArray *
ask_journal (OgLedger  *ledger,
             GError   **error)
{
  return og_ledger_list_journal (ledger, NULL, NULL, 0, 200, error);
}

static GPtrArray *
ask_journal_of (OgLedger  *ledger,
                GError   **error)
{
  return og_ledger_list_journal (ledger, "material-77", NULL, 0, 200, error);
}

static GPtrArray *
ask_journal_end (OgLedger  *ledger,
                 GError   **error)
{
  return og_ledger_list_journal (ledger, "material-77", "lot-77", 3000, 200, error);
}

static GPtrArray *
ask_batches (OgLedger  *ledger,
             GError   **error)
{
  return og_ledger_list_batches (ledger, NULL, -1, 0, 100, error);
}

static GPtrArray *
ask_batches_search (OgLedger  *ledger,
                    GError   **error)
{
  return og_ledger_list_batches (ledger, "recipe 299", OG_BATCH_CLOSED, 0, 100, error);
}

static GPtrArray *
ask_batch (OgLedger  *ledger,
           GError   **error)
{
  g_autoptr (OgBatch) batch = og_ledger_get_batch (ledger, "2025-10000", error);

  if (batch != NULL)
    g_assert_cmpuint (batch->lines->len, ==, 8);

  return batch != NULL ? g_ptr_array_new () : NULL;
}

static GPtrArray *
ask_offers (OgLedger  *ledger,
            GError   **error)
{
  return og_ledger_list_offers (ledger, NULL, error);
}

static GPtrArray *
ask_shopping (OgLedger  *ledger,
              GError   **error)
{
  OgPlannedBatch plans[12];
  GPtrArray *list;

  for (guint i = 0; i < G_N_ELEMENTS (plans); i++)
    {
      OgFormula *formula = og_formula_new ();
      OgFormulaPhase *phase = og_formula_add_phase (formula, "A", 80, G_MAXUINT);

      for (guint j = 0; j < 10; j++)
        {
          g_autofree char *id = g_strdup_printf ("material-%u", i * 5 + j);

          og_formula_add_line (formula, phase, id, 100000, G_MAXUINT);
        }
      plans[i] = (OgPlannedBatch) { formula, 1000000 };
    }
  list = og_ledger_list_shopping (ledger, plans, G_N_ELEMENTS (plans), NULL, error);
  for (guint i = 0; i < G_N_ELEMENTS (plans); i++)
    og_formula_free ((OgFormula *) plans[i].formula);

  return list;
}

static int
compare_double (const void *a,
                const void *b)
{
  const double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median_ms (OgLedger *ledger,
           Question  question)
{
  double ms[N_RUNS];

  for (guint i = 0; i < N_RUNS; i++)
    {
      const gint64 start = g_get_monotonic_time ();
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) list = question (ledger, &error);

      g_assert_no_error (error);
      g_assert_nonnull (list);
      ms[i] = (double) (g_get_monotonic_time () - start) / 1000.0;
    }
  qsort (ms, N_RUNS, sizeof *ms, compare_double);

  return ms[N_RUNS / 2];
}

static void
test_speed (void)
{
  static const struct { const char *name; Question question; } cases[] = {
    { "shelf", ask_shelf }, { "stock", ask_stock }, { "lots", ask_lots },
    { "expiring lots", ask_expiring }, { "where a lot went", ask_where },
    { "lots in a batch", ask_batch_lots }, { "journal", ask_journal },
    { "journal of a material", ask_journal_of }, { "last page of a lot", ask_journal_end },
    { "batches", ask_batches }, { "batches by name", ask_batches_search },
    { "a batch", ask_batch }, { "offers", ask_offers }, { "shopping list", ask_shopping },
  };
  Shop shop;
  gint64 start;

#if defined(__SANITIZE_ADDRESS__)
  g_test_skip ("times say nothing in a build that checks every access");
  return;
#endif
  shop_open (&shop);
  g_assert_cmpint (shop_try (shop.path, filling), ==, SQLITE_OK);
  g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM journal"), ==, 100000);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const double ms = median_ms (shop.ledger, cases[i].question);

      g_test_message ("%s: %.2f ms", cases[i].name, ms);
      if (ms > BUDGET_MS)
        g_error ("%s takes %.1f ms of %.0f", cases[i].name, ms, BUDGET_MS);
    }
  g_assert_finalize_object (shop.ledger);
  start = g_get_monotonic_time ();
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  g_test_message ("opening: %.2f ms", (double) (g_get_monotonic_time () - start) / 1000.0);
  shop_close (&shop);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/ledger-speed/queries", test_speed);

  return g_test_run ();
}
