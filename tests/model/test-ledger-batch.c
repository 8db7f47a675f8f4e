/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "core/recipe/storage.h"
#include "helpers.h"
#include "shop.h"

/* What comes out of a list by its place */
#define NTH(list, type, index) ((const type *) g_ptr_array_index ((list), (index)))

/* Stock for shop_recipe(), and a planned batch of it; free the number. */
static char *
open_with_batch (Shop   *shop,
                 gint64  batch_mg)
{
  const OgLedgerNote note = { "2026-03-05", "Ada", "first of the year" };
  g_autoptr (OgFormula) formula = shop_recipe ();
  g_autoptr (GError) error = NULL;
  char *number;

  shop_open (shop);
  shop_stock (shop->ledger, "castor-oil", "C1", 100000);
  shop_stock (shop->ledger, "castor-oil", "C2", 900000);
  shop_stock (shop->ledger, "sunflower-oil", "S1", 500000);
  shop_stock (shop->ledger, "polyamide-3", "P1", 50000);
  number = og_ledger_plan_batch (shop->ledger, formula, test_catalog (), batch_mg, NULL, &note,
                                 &error);
  g_assert_no_error (error);

  return number;
}

/* 500 g: 300 g of castor oil from two lots, 185 g of sunflower oil, 15 g of polyamide */
static void
weigh_all (Shop       *shop,
           const char *number)
{
  shop_weigh (shop->ledger, number, 1, "C1", 100000);
  shop_weigh (shop->ledger, number, 1, "C2", 201000);
  shop_weigh (shop->ledger, number, 1, "C2", -1000);
  shop_weigh (shop->ledger, number, 2, "S1", 185010);
  shop_weigh (shop->ledger, number, 3, "P1", 14990);
}

static void
assert_batch_error (gboolean       done,
                    GError       **error,
                    OgLedgerError  code)
{
  g_assert_false (done);
  g_assert_error (*error, OG_LEDGER_ERROR, (int) code);
  g_clear_error (error);
}

static void
test_plan (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autofree char *second = NULL;
  g_autofree char *own = NULL;
  g_autofree char *other_year = NULL;
  g_autoptr (OgFormula) formula = shop_recipe ();
  g_autoptr (GBytes) bytes = og_storage_serialise (formula);
  g_autoptr (OgBatch) batch = NULL;
  g_autoptr (GError) error = NULL;
  const OgLedgerNote march = { "2026-03-06", NULL, NULL }, later = { "2027-01-02", NULL, NULL };

  g_assert_cmpstr (number, ==, "2026-001");
  own = og_ledger_plan_batch (shop.ledger, formula, NULL, 1, "Kettle 4", &march, &error);
  g_assert_cmpstr (own, ==, "Kettle 4");
  second = og_ledger_plan_batch (shop.ledger, formula, NULL, 1, NULL, &march, &error);
  g_assert_cmpstr (second, ==, "2026-002");
  other_year = og_ledger_plan_batch (shop.ledger, formula, NULL, 1, NULL, &later, &error);
  g_assert_cmpstr (other_year, ==, "2027-001");
  g_assert_no_error (error);

  batch = og_ledger_get_batch (shop.ledger, number, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (batch->title, ==, "Lantern gloss");
  g_assert_cmpstr (batch->who, ==, "Ada");
  g_assert_cmpint (batch->state, ==, OG_BATCH_PLANNED);
  g_assert_cmpint (batch->units_made, ==, -1);
  g_assert_cmpuint (strlen (batch->document), ==, g_bytes_get_size (bytes));
  g_assert_cmpmem (batch->document, strlen (batch->document), g_bytes_get_data (bytes, NULL),
                   g_bytes_get_size (bytes));
  g_assert_cmpuint (batch->lines->len, ==, 3);
  g_assert_cmpint (NTH (batch->lines, OgBatchLine, 0)->planned_mg, ==, 300000);
  g_assert_cmpint (NTH (batch->lines, OgBatchLine, 1)->planned_mg, ==, 185000);
  g_assert_cmpint (NTH (batch->lines, OgBatchLine, 2)->planned_mg, ==, 15000);
  g_assert_cmpstr (NTH (batch->lines, OgBatchLine, 0)->name, ==, "Castor oil");
  g_assert_cmpstr (NTH (batch->lines, OgBatchLine, 2)->phase, ==, "Gel");

  g_assert_null (og_ledger_plan_batch (shop.ledger, formula, NULL, 1, "Kettle 4", &march, &error));
  assert_batch_error (FALSE, &error, OG_LEDGER_ERROR_EXISTS);
  g_assert_null (og_ledger_plan_batch (shop.ledger, formula, NULL, 0, NULL, &march, &error));
  assert_batch_error (FALSE, &error, OG_LEDGER_ERROR_VALUE);
  ((OgFormulaLine *) og_formula_find_ingredient (formula, "castor-oil"))->amount--;
  g_assert_null (og_ledger_plan_batch (shop.ledger, formula, NULL, 1000, NULL, &march, &error));
  assert_batch_error (FALSE, &error, OG_LEDGER_ERROR_VALUE);
  shop_close (&shop);
}

/* Planned weights are whole and add up, and none is off by a milligram or more. */
static void
test_planned_weights (void)
{
  Shop shop;
  g_autoptr (GRand) rand = g_rand_new_with_seed (4711);
  g_autoptr (GError) error = NULL;

  shop_open (&shop);
  for (guint round = 0; round < 50; round++)
    {
      g_autoptr (OgFormula) formula = shop_recipe ();
      g_autofree char *number = NULL;
      g_autoptr (OgBatch) batch = NULL;
      const gint64 batch_mg = g_rand_int_range (rand, 1, 100000000);
      const OgPpm castor = g_rand_int_range (rand, 0, 900000);
      gint64 sum_mg = 0;

      og_formula_find_ingredient (formula, "castor-oil")->amount = castor;
      og_formula_find_ingredient (formula, "sunflower-oil")->amount = 970000 - castor;
      if (castor > 970000)
        continue;
      number = og_ledger_plan_batch (shop.ledger, formula, NULL, batch_mg, NULL, NULL, &error);
      g_assert_no_error (error);
      batch = og_ledger_get_batch (shop.ledger, number, &error);
      for (guint i = 0; i < batch->lines->len; i++)
        {
          const OgBatchLine *line = NTH (batch->lines, OgBatchLine, i);
          const OgFormulaLine *of = og_formula_find_line (formula, line->formula_line, NULL, NULL);

          g_assert_cmpfloat (fabs ((double) line->planned_mg
                                   - (double) batch_mg * of->amount / OG_PPM_WHOLE), <, 1.0);
          sum_mg += line->planned_mg;
        }
      g_assert_cmpint (sum_mg, ==, batch_mg);
    }
  shop_close (&shop);
}

static void
test_close (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autoptr (GPtrArray) uses = NULL;
  g_autoptr (GPtrArray) open_uses = NULL;
  g_autoptr (GPtrArray) lots = NULL;
  g_autoptr (OgBatch) batch = NULL;
  g_autoptr (GError) error = NULL;
  const OgLedgerNote note = { "2026-03-07", "Ben", NULL };

  assert_batch_error (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_DEFAULT, &note, &error),
                      &error, OG_LEDGER_ERROR_STATE);
  weigh_all (&shop, number);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "C2"), ==, 900000);
  open_uses = og_ledger_where_lot_went (shop.ledger, NULL, "C2", &error);
  g_assert_cmpuint (open_uses->len, ==, 1);
  g_assert_false (NTH (open_uses, OgLotUse, 0)->taken);
  g_assert_cmpint (NTH (open_uses, OgLotUse, 0)->amount_mg, ==, 200000);

  g_assert_true (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_DEFAULT, &note, &error));
  g_assert_no_error (error);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "C1"), ==, 0);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "C2"), ==, 700000);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "S1"), ==, 314990);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "P1"), ==, 35010);

  assert_batch_error (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_DEFAULT, &note, &error),
                      &error, OG_LEDGER_ERROR_STATE);
  assert_batch_error (og_ledger_abandon_batch (shop.ledger, number, TRUE, OG_CLOSE_DEFAULT, &note,
                                               &error), &error, OG_LEDGER_ERROR_STATE);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "C2"), ==, 700000);

  uses = og_ledger_where_lot_went (shop.ledger, "castor-oil", "C2", &error);
  g_assert_cmpuint (uses->len, ==, 1);
  g_assert_true (NTH (uses, OgLotUse, 0)->taken);
  g_assert_cmpstr (NTH (uses, OgLotUse, 0)->batch, ==, number);
  g_assert_cmpstr (NTH (uses, OgLotUse, 0)->title, ==, "Lantern gloss");
  g_assert_cmpstr (NTH (uses, OgLotUse, 0)->day, ==, "2026-03-07");
  g_assert_cmpint (NTH (uses, OgLotUse, 0)->amount_mg, ==, 200000);

  lots = og_ledger_list_batch_lots (shop.ledger, number, &error);
  g_assert_cmpuint (lots->len, ==, 4);
  g_assert_cmpstr (NTH (lots, OgBatchLot, 0)->lot, ==, "C1");
  g_assert_cmpstr (NTH (lots, OgBatchLot, 1)->lot, ==, "C2");
  g_assert_cmpint (NTH (lots, OgBatchLot, 1)->amount_mg, ==, 200000);
  g_assert_cmpstr (NTH (lots, OgBatchLot, 3)->material_id, ==, "polyamide-3");

  batch = og_ledger_get_batch (shop.ledger, number, &error);
  g_assert_cmpint (batch->state, ==, OG_BATCH_CLOSED);
  g_assert_cmpint (batch->closed_at, >, 0);
  g_assert_cmpint (batch->weighed_mg, ==, 500000);
  g_assert_cmpuint (batch->weighings->len, ==, 5);
  g_assert_cmpuint (NTH (batch->lines, OgBatchLine, 0)->n_weighings, ==, 3);
  g_assert_no_error (error);
  shop_close (&shop);
}

static void
test_close_short (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autoptr (GPtrArray) journal = NULL;
  g_autoptr (GError) error = NULL;

  weigh_all (&shop, number);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_WASTE, NULL, "P1", 40000, FALSE, NULL,
                                   &error), >, 0);
  g_assert_false (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_DEFAULT, NULL, &error));
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE);
  g_assert_nonnull (strstr (error->message, "“P1”"));
  g_assert_nonnull (strstr (error->message, "4.99 g are missing"));
  g_clear_error (&error);
  /* neither the lots before it, nor the state */
  g_assert_cmpint (shop_left (shop.ledger, NULL, "C1"), ==, 100000);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "S1"), ==, 500000);

  g_assert_true (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_ALLOW_NEGATIVE, NULL,
                                        &error));
  g_assert_no_error (error);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "P1"), ==, -4990);
  journal = og_ledger_list_journal (shop.ledger, "polyamide-3", NULL, 0, 1, &error);
  g_assert_true (NTH (journal, OgJournalEntry, 0)->negative);
  g_assert_cmpstr (NTH (journal, OgJournalEntry, 0)->batch, ==, number);
  shop_close (&shop);
}

/* The file itself refuses a second taking and any change of a closed record. */
static void
test_record_stays (void)
{
  static const char *const statements[] = {
    ("INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg, batch_id)"
     " VALUES ('2026-01-01', 0, 'use', 2, -1, 1)"),
    "UPDATE batch SET state = 'running'",
    "UPDATE batch SET document = '{}'",
    "DELETE FROM batch",
    "UPDATE weighing SET amount_mg = 1",
    "DELETE FROM weighing",
    "INSERT INTO weighing (batch_id, line, amount_mg, weighed_at) VALUES (1, 1, 5, 0)",
    "UPDATE batch_line SET planned_mg = 1",
    "DELETE FROM batch_entry",
    "UPDATE batch_entry SET text = ''",
  };
  const OgWeighing late = { .line = 1, .lot = (char *) "C1", .amount_mg = 5 };
  g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_PHOTO);
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autoptr (GError) error = NULL;

  weigh_all (&shop, number);
  entry->text = g_strdup ("/pictures/kettle.png");
  g_assert_cmpint (og_ledger_add_batch_entry (shop.ledger, number, entry, &error), >, 0);
  g_assert_true (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_DEFAULT, NULL, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (statements); i++)
    {
      const int result = shop_try (shop.path, statements[i]);

      if (result != SQLITE_CONSTRAINT)
        g_error ("%s: %d", statements[i], result);
    }
  assert_batch_error (og_ledger_weigh (shop.ledger, number, &late, &error) != 0, &error,
                      OG_LEDGER_ERROR_STATE);
  shop_close (&shop);
}

static void
test_weigh_refused (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autoptr (GError) error = NULL;
  const struct { OgWeighing weighing; OgLedgerError code; } cases[] = {
    { { .line = 9, .amount_mg = 5 }, OG_LEDGER_ERROR_NOT_FOUND },
    { { .line = 1, .lot = (char *) "S1", .amount_mg = 5 }, OG_LEDGER_ERROR_NOT_FOUND },
    { { .line = 1, .lot = (char *) "C1", .amount_mg = 0 }, OG_LEDGER_ERROR_VALUE },
    { { .line = 1, .lot = (char *) "C1", .amount_mg = -5 }, OG_LEDGER_ERROR_VALUE },
    { { .line = 1, .amount_mg = OG_LEDGER_MAX_MG + 1 }, OG_LEDGER_ERROR_VALUE },
    { { .line = 1, .amount_mg = 5, .who = (char *) "\xc3" }, OG_LEDGER_ERROR_VALUE },
  };
  const OgWeighing good = { .line = 1, .amount_mg = 5 };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_batch_error (og_ledger_weigh (shop.ledger, number, &cases[i].weighing, &error) != 0,
                        &error, cases[i].code);
  assert_batch_error (og_ledger_weigh (shop.ledger, "none", &good, &error) != 0, &error,
                      OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM batch WHERE state = 'running'"), ==,
                   0);
  shop_close (&shop);
}

static void
test_take_back (void)
{
  static const gint64 undoes[] = { 0, 0, 1, 0, 2, 0 };
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autoptr (OgFormula) formula = shop_recipe ();
  g_autofree char *second = NULL;
  g_autoptr (OgBatch) batch = NULL;
  g_autoptr (GError) error = NULL;

  second = og_ledger_plan_batch (shop.ledger, formula, test_catalog (), 500000, NULL, NULL, &error);
  g_assert_no_error (error);
  shop_weigh (shop.ledger, number, 1, "C1", 1000);
  shop_weigh (shop.ledger, number, 1, "C1", 1000);
  g_assert_cmpint (og_ledger_take_back (shop.ledger, number, 1, "Mia", &error), ==, 3);
  g_assert_no_error (error);
  assert_batch_error (og_ledger_take_back (shop.ledger, number, 1, NULL, &error) != 0, &error,
                      OG_LEDGER_ERROR_EXISTS);
  assert_batch_error (og_ledger_take_back (shop.ledger, number, 3, NULL, &error) != 0, &error,
                      OG_LEDGER_ERROR_NOT_FOUND);
  assert_batch_error (og_ledger_take_back (shop.ledger, second, 2, NULL, &error) != 0, &error,
                      OG_LEDGER_ERROR_NOT_FOUND);
  assert_batch_error (og_ledger_take_back (shop.ledger, "none", 2, NULL, &error) != 0, &error,
                      OG_LEDGER_ERROR_NOT_FOUND);

  /* one that names none undoes the last of its amount; part of one undoes none */
  shop_weigh (shop.ledger, number, 1, "C1", 3000);
  shop_weigh (shop.ledger, number, 1, "C1", -1000);
  shop_weigh (shop.ledger, number, 1, "C1", -1000);
  assert_batch_error (og_ledger_take_back (shop.ledger, number, 4, NULL, &error) != 0, &error,
                      OG_LEDGER_ERROR_VALUE);
  g_assert_cmpint (shop_try (shop.path, "INSERT INTO weighing (batch_id, line, amount_mg,"
                                        " weighed_at, undoes) VALUES (1, 1, -1000, 0, 2)"), ==,
                   SQLITE_CONSTRAINT);
  batch = og_ledger_get_batch (shop.ledger, number, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (batch->weighings->len, ==, G_N_ELEMENTS (undoes));
  for (guint i = 0; i < batch->weighings->len; i++)
    g_assert_cmpint (NTH (batch->weighings, OgWeighing, i)->undoes, ==, undoes[i]);
  g_assert_cmpstr (NTH (batch->weighings, OgWeighing, 2)->lot, ==, "C1");
  g_assert_cmpstr (NTH (batch->weighings, OgWeighing, 2)->who, ==, "Mia");
  g_assert_cmpint (NTH (batch->lines, OgBatchLine, 0)->weighed_mg, ==, 2000);

  g_assert_true (og_ledger_abandon_batch (shop.ledger, number, FALSE, OG_CLOSE_DEFAULT, NULL,
                                          &error));
  assert_batch_error (og_ledger_take_back (shop.ledger, number, 4, NULL, &error) != 0, &error,
                      OG_LEDGER_ERROR_STATE);
  shop_close (&shop);
}

static void
test_abandon (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autofree char *second = NULL;
  g_autoptr (OgFormula) formula = shop_recipe ();
  g_autoptr (GPtrArray) journal = NULL;
  g_autoptr (GError) error = NULL;

  shop_weigh (shop.ledger, number, 2, "S1", 100000);
  g_assert_true (og_ledger_abandon_batch (shop.ledger, number, TRUE, OG_CLOSE_DEFAULT, NULL,
                                          &error));
  g_assert_cmpint (shop_left (shop.ledger, NULL, "S1"), ==, 400000);
  journal = og_ledger_list_journal (shop.ledger, "sunflower-oil", NULL, 0, 1, &error);
  g_assert_cmpint (NTH (journal, OgJournalEntry, 0)->kind, ==, OG_JOURNAL_WASTE);

  second = og_ledger_plan_batch (shop.ledger, formula, NULL, 1000, NULL, NULL, &error);
  shop_weigh (shop.ledger, second, 2, "S1", 100000);
  g_assert_true (og_ledger_abandon_batch (shop.ledger, second, FALSE, OG_CLOSE_DEFAULT, NULL,
                                          &error));
  g_assert_no_error (error);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "S1"), ==, 400000);
  assert_batch_error (og_ledger_close_batch (shop.ledger, second, OG_CLOSE_ALLOW_UNWEIGHED, NULL,
                                             &error), &error, OG_LEDGER_ERROR_STATE);
  shop_close (&shop);
}

static void
add_entry (OgLedger     *ledger,
           const char   *number,
           OgBatchEntry *entry)
{
  g_autoptr (OgBatchEntry) owned = entry;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (og_ledger_add_batch_entry (ledger, number, owned, &error), >, 0);
  g_assert_no_error (error);
}

static void
test_entries (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  OgBatchEntry *entry = og_batch_entry_new (OG_BATCH_ENTRY_PROCESS);
  g_autoptr (OgBatch) batch = NULL;
  g_autoptr (GError) error = NULL;
  const OgBatchEntry *found;

  entry->text = g_strdup ("Heat until clear");
  entry->phase = g_strdup ("Oils");
  entry->temperature_c = 82.5;
  entry->started_at = 1772700000;
  entry->ended_at = 1772701800;
  entry->who = g_strdup ("Ada");
  add_entry (shop.ledger, number, entry);
  entry = og_batch_entry_new (OG_BATCH_ENTRY_DEVIATION);
  entry->text = g_strdup ("4 °C too warm");
  entry->decision = g_strdup ("carry on, measure twice");
  add_entry (shop.ledger, number, entry);
  entry = og_batch_entry_new (OG_BATCH_ENTRY_SAMPLE);
  entry->text = g_strdup ("shelf 2");
  entry->count = 2;
  entry->until = g_strdup ("2029-03-05");
  add_entry (shop.ledger, number, entry);
  entry = og_batch_entry_new (OG_BATCH_ENTRY_MEASUREMENT);
  entry->text = g_strdup ("viscosity");
  entry->value = g_strdup ("{\"mpa_s\": 640, \"temperature_c\": 25}");
  add_entry (shop.ledger, number, entry);
  entry = og_batch_entry_new (OG_BATCH_ENTRY_FILLING);
  entry->amount_mg = 5012;
  add_entry (shop.ledger, number, entry);

  batch = og_ledger_get_batch (shop.ledger, number, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (batch->entries->len, ==, 5);
  found = NTH (batch->entries, OgBatchEntry, 0);
  g_assert_cmpint (found->kind, ==, OG_BATCH_ENTRY_PROCESS);
  g_assert_cmpfloat (found->temperature_c, ==, 82.5);
  g_assert_cmpint (found->ended_at - found->started_at, ==, 1800);
  found = NTH (batch->entries, OgBatchEntry, 1);
  g_assert_cmpstr (found->decision, ==, "carry on, measure twice");
  g_assert_true (isnan (found->temperature_c));
  g_assert_cmpuint (NTH (batch->entries, OgBatchEntry, 2)->count, ==, 2);
  g_assert_cmpstr (NTH (batch->entries, OgBatchEntry, 2)->until, ==, "2029-03-05");
  g_assert_cmpint (NTH (batch->entries, OgBatchEntry, 4)->amount_mg, ==, 5012);

  for (guint i = 0; i < OG_N_BATCH_ENTRY_KINDS; i++)
    {
      g_autoptr (OgBatchEntry) empty = og_batch_entry_new ((OgBatchEntryKind) i);

      assert_batch_error (og_ledger_add_batch_entry (shop.ledger, number, empty, &error) != 0,
                          &error, OG_LEDGER_ERROR_VALUE);
    }
  shop_close (&shop);
}

static void
test_release (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  const OgLedgerNote note = { "2026-03-09", "Cleo", "clear, no lumps" }, nobody = { 0 };
  g_autoptr (OgBatch) batch = NULL;
  g_autoptr (GError) error = NULL;

  assert_batch_error (og_ledger_release_batch (shop.ledger, number, &note, &error), &error,
                      OG_LEDGER_ERROR_STATE);
  weigh_all (&shop, number);
  g_assert_true (og_ledger_close_batch (shop.ledger, number, OG_CLOSE_DEFAULT, NULL, &error));
  g_assert_true (og_ledger_set_batch_output (shop.ledger, number, 96, NULL, &error));
  g_assert_true (og_ledger_set_batch_output (shop.ledger, number, -1, "3b", &error));
  assert_batch_error (og_ledger_release_batch (shop.ledger, number, &nobody, &error), &error,
                      OG_LEDGER_ERROR_VALUE);
  g_assert_true (og_ledger_release_batch (shop.ledger, number, &note, &error));
  g_assert_no_error (error);
  assert_batch_error (og_ledger_release_batch (shop.ledger, number, &note, &error), &error,
                      OG_LEDGER_ERROR_STATE);
  assert_batch_error (og_ledger_set_batch_output (shop.ledger, number, 97, NULL, &error), &error,
                      OG_LEDGER_ERROR_STATE);
  batch = og_ledger_get_batch (shop.ledger, number, &error);
  g_assert_cmpint (batch->units_made, ==, 96);
  g_assert_cmpstr (batch->label_version, ==, "3b");
  g_assert_cmpstr (batch->released_by, ==, "Cleo");
  g_assert_cmpstr (batch->released_on, ==, "2026-03-09");
  g_assert_cmpstr (batch->release_note, ==, "clear, no lumps");
  shop_close (&shop);
}

static void
test_list (void)
{
  static const struct { const char *search; int state; guint n; } cases[] = {
    { NULL, -1, 12 }, { "KÖST", -1, 4 }, { "kost", OG_BATCH_PLANNED, 3 }, { "2026-00", -1, 9 },
    { NULL, OG_BATCH_CLOSED, 0 }, { "%", -1, 0 }, { "100_", -1, 0 },
  };
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) page = NULL;
  g_autoptr (GPtrArray) next = NULL;
  const OgLedgerNote note = { "2026-03-05", NULL, NULL };

  shop_open (&shop);
  for (guint i = 0; i < 12; i++)
    {
      g_autoptr (OgFormula) formula = shop_recipe ();
      g_autofree char *number = NULL;

      g_free (formula->title);
      formula->title = g_strdup (i % 3 == 0 ? "Köstlich" : "Lantern gloss");
      number = og_ledger_plan_batch (shop.ledger, formula, NULL, 1000, NULL, &note, &error);
      g_assert_no_error (error);
      if (i == 0)
        shop_weigh (shop.ledger, number, 1, NULL, 600);
    }
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) list = og_ledger_list_batches (shop.ledger, cases[i].search,
                                                           cases[i].state, 0, 100, &error);

      g_assert_no_error (error);
      g_assert_cmpuint (list->len, ==, cases[i].n);
    }
  page = og_ledger_list_batches (shop.ledger, NULL, -1, 0, 5, &error);
  next = og_ledger_list_batches (shop.ledger, NULL, -1, NTH (page, OgBatch, 4)->id, 5, &error);
  g_assert_cmpstr (NTH (page, OgBatch, 0)->number, ==, "2026-012");
  g_assert_cmpstr (NTH (next, OgBatch, 0)->number, ==, "2026-007");
  g_assert_null (NTH (page, OgBatch, 0)->lines);
  shop_close (&shop);
}

/* Two batches together, one of them with a lot as own material; mixtures are bought whole. */
static void
test_shopping (void)
{
  Shop shop;
  g_autofree char *number = open_with_batch (&shop, 500000);
  g_autoptr (OgFormula) plain = shop_recipe ();
  g_autoptr (OgFormula) lotted = shop_recipe ();
  g_autoptr (OgLot) lot = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GError) error = NULL;
  const OgPlannedBatch plans[] = { { plain, 500000 }, { lotted, 1000000 } };
  const OgOffer offer = { 0, (char *) "castor-oil", NULL, (char *) "Pier", 250000, 4,
                          (char *) "EUR", (char *) "2026-01-01" };
  const OgShoppingItem *item;
  OgIngredient *own;
  OgFormulaLine *line;

  lot = og_ledger_get_lot (shop.ledger, NULL, "C2", &error);
  own = og_ledger_lot_to_ingredient (lot, og_catalog_get (test_catalog (), "castor-oil"), &error);
  g_assert_no_error (error);
  g_ptr_array_add (lotted->materials, own);
  line = og_formula_find_ingredient (lotted, "castor-oil");
  g_free (line->ingredient_id);
  line->ingredient_id = g_strdup (own->id);
  g_assert_cmpint (og_ledger_add_offer (shop.ledger, &offer, &error), >, 0);
  shop_weigh (shop.ledger, number, 1, "C2", 300000);

  list = og_ledger_list_shopping (shop.ledger, plans, G_N_ELEMENTS (plans), test_catalog (),
                                  &error);
  g_assert_no_error (error);
  g_assert_cmpuint (list->len, ==, 3);
  item = NTH (list, OgShoppingItem, 0);
  g_assert_cmpstr (item->material_id, ==, "castor-oil");
  g_assert_cmpint (item->needed_mg, ==, 900000);
  g_assert_cmpint (item->left_mg, ==, 700000);
  g_assert_cmpint (item->missing_mg, ==, 200000);
  g_assert_cmpuint (item->packs, ==, 1);
  g_assert_cmpfloat (item->price, ==, 4);
  item = NTH (list, OgShoppingItem, 1);
  g_assert_cmpint (item->needed_mg, ==, 555000);
  g_assert_cmpint (item->missing_mg, ==, 55000);
  g_assert_cmpint (item->pack_mg, ==, 0);
  g_assert_true (isnan (item->price));
  item = NTH (list, OgShoppingItem, 2);
  g_assert_cmpint (item->needed_mg, ==, 45000);
  g_assert_cmpint (item->missing_mg, ==, 0);

  /* and a batch of it is weighed from the stock of castor oil */
  g_free (number);
  number = og_ledger_plan_batch (shop.ledger, lotted, NULL, 1000, NULL, NULL, &error);
  g_assert_no_error (error);
  shop_weigh (shop.ledger, number, 1, "C2", 600);
  shop_close (&shop);
}

/* --- against a model in memory ---------------------------------------------------- */

#define N_LOTS 6
#define N_STEPS 1500

typedef struct
{
  gint64 left_mg[N_LOTS];
  gint64 weighed_mg[N_LOTS]; /* for the open batch */
  char  *open;               /* nullable */
  guint  n_closed;
} Model;

static const char *const model_codes[N_LOTS] = { "a", "b", "c", "d", "e", "f" };

static void
model_take (Shop   *shop,
            Model  *model,
            GRand  *rand,
            guint   i)
{
  const gint64 amount_mg = g_rand_int_range (rand, 1, 3000);
  const gboolean allow = g_rand_int_range (rand, 0, 20) == 0;
  g_autoptr (GError) error = NULL;
  const gint64 id = og_ledger_take (shop->ledger, OG_JOURNAL_USE, NULL, model_codes[i], amount_mg,
                                    allow, NULL, &error);
  const gboolean fits = allow || model->left_mg[i] >= amount_mg;

  g_assert_cmpint (id != 0, ==, fits);
  if (fits)
    model->left_mg[i] -= amount_mg;
  else
    g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE);
}

static void
model_weigh (Shop  *shop,
             Model *model,
             GRand *rand,
             guint  i)
{
  g_autoptr (OgFormula) formula = shop_recipe ();
  g_autoptr (GError) error = NULL;
  const gint64 amount_mg = g_rand_int_range (rand, 1, 800);

  if (model->open == NULL)
    model->open = og_ledger_plan_batch (shop->ledger, formula, NULL, 1000, NULL, NULL, &error);
  g_assert_no_error (error);
  shop_weigh (shop->ledger, model->open, 1, model_codes[i], amount_mg);
  model->weighed_mg[i] += amount_mg;
}

static void
model_close (Shop  *shop,
             Model *model)
{
  gboolean fits = TRUE;
  g_autoptr (GError) error = NULL;

  if (model->open == NULL)
    return;
  for (guint i = 0; i < N_LOTS; i++)
    fits = fits && (model->weighed_mg[i] == 0 || model->weighed_mg[i] <= model->left_mg[i]);
  g_assert_cmpint (og_ledger_close_batch (shop->ledger, model->open, OG_CLOSE_ALLOW_UNWEIGHED,
                                          NULL, &error), ==, fits);
  if (!fits)
    {
      g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE);
      return;
    }
  assert_batch_error (og_ledger_close_batch (shop->ledger, model->open, OG_CLOSE_ALLOW_UNWEIGHED,
                                             NULL, &error), &error, OG_LEDGER_ERROR_STATE);
  for (guint i = 0; i < N_LOTS; i++)
    {
      model->left_mg[i] -= model->weighed_mg[i];
      model->weighed_mg[i] = 0;
    }
  g_clear_pointer (&model->open, g_free);
  model->n_closed++;
}

static void
model_step (Shop  *shop,
            Model *model,
            GRand *rand)
{
  const guint i = (guint) g_rand_int_range (rand, 0, N_LOTS);
  const gint64 amount_mg = g_rand_int_range (rand, 1, 5000);
  g_autoptr (GError) error = NULL;

  switch (g_rand_int_range (rand, 0, 6))
    {
    case 0:
      shop_stock (shop->ledger, "castor-oil", model_codes[i], amount_mg);
      model->left_mg[i] += amount_mg;
      break;
    case 1:
      og_ledger_count (shop->ledger, NULL, model_codes[i], amount_mg, NULL, &error);
      model->left_mg[i] = amount_mg;
      break;
    case 2:
    case 3:
      model_take (shop, model, rand, i);
      break;
    case 4:
      model_weigh (shop, model, rand, i);
      break;
    default:
      model_close (shop, model);
      break;
    }
}

static void
assert_model (Shop        *shop,
              const Model *model)
{
  gint64 sum_mg = 0;

  for (guint i = 0; i < N_LOTS; i++)
    {
      g_autofree char *sql
        = g_strdup_printf ("SELECT sum (amount_mg) FROM journal JOIN lot ON lot.id = lot_id"
                           " WHERE code = '%s'", model_codes[i]);

      g_assert_cmpint (shop_left (shop->ledger, NULL, model_codes[i]), ==, model->left_mg[i]);
      g_assert_cmpint (shop_ask (shop->path, sql), ==, model->left_mg[i]);
      sum_mg += model->left_mg[i];
    }
  g_assert_cmpint (shop_ask (shop->path, "SELECT sum (amount_mg) FROM balance"), ==, sum_mg);
}

static void
test_random (void)
{
  Shop shop;
  Model model = { 0 };
  g_autoptr (GRand) rand = g_rand_new_with_seed (20260305);
  const guint n_steps = g_test_quick () ? N_STEPS : 4 * N_STEPS;

  shop_open (&shop);
  for (guint i = 0; i < N_LOTS; i++)
    {
      shop_stock (shop.ledger, "castor-oil", model_codes[i], 20000);
      model.left_mg[i] = 20000;
    }
  for (guint n = 0; n < n_steps; n++)
    {
      model_step (&shop, &model, rand);
      if (n % 100 == 0)
        assert_model (&shop, &model);
    }
  assert_model (&shop, &model);
  g_assert_cmpuint (model.n_closed, >, 20);
  g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM batch WHERE state = 'closed'"), ==,
                   model.n_closed);
  g_free (model.open);
  shop_close (&shop);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/ledger-batch/plan", test_plan);
  g_test_add_func ("/ledger-batch/planned-weights", test_planned_weights);
  g_test_add_func ("/ledger-batch/close", test_close);
  g_test_add_func ("/ledger-batch/close-short", test_close_short);
  g_test_add_func ("/ledger-batch/record-stays", test_record_stays);
  g_test_add_func ("/ledger-batch/weigh-refused", test_weigh_refused);
  g_test_add_func ("/ledger-batch/take-back", test_take_back);
  g_test_add_func ("/ledger-batch/abandon", test_abandon);
  g_test_add_func ("/ledger-batch/entries", test_entries);
  g_test_add_func ("/ledger-batch/release", test_release);
  g_test_add_func ("/ledger-batch/list", test_list);
  g_test_add_func ("/ledger-batch/shopping", test_shopping);
  g_test_add_func ("/ledger-batch/random", test_random);

  return g_test_run ();
}
