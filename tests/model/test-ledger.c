/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "core/base/csv.h"
#include "helpers.h"
#include "shop.h"

/* What comes out of a list by its place */
#define NTH(list, type, index) ((const type *) g_ptr_array_index ((list), (index)))

static void
must_receive (OgLedger   *ledger,
              const char *material_id,
              const char *code,
              gint64      amount_mg,
              const char *best_before,
              double      price)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (shop_receive (ledger, material_id, code, amount_mg, best_before, price, &error),
                   >, 0);
  g_assert_no_error (error);
}

static void
test_amounts (void)
{
  gint64 mg = 7;

  g_assert_true (og_ledger_g_to_mg (0.1, &mg));
  g_assert_cmpint (mg, ==, 100);
  g_assert_true (og_ledger_g_to_mg (-12.3456, &mg));
  g_assert_cmpint (mg, ==, -12346);
  g_assert_true (og_ledger_g_to_mg (1e9, &mg));
  g_assert_cmpint (mg, ==, OG_LEDGER_MAX_MG);
  g_assert_false (og_ledger_g_to_mg (NAN, &mg));
  g_assert_false (og_ledger_g_to_mg (INFINITY, &mg));
  g_assert_false (og_ledger_g_to_mg (1e300, &mg));
  g_assert_false (og_ledger_g_to_mg (1.0000001e9, &mg));
  g_assert_cmpint (mg, ==, OG_LEDGER_MAX_MG);
}

/* ISO 8601 calendar dates; 2024 was a leap year, 2100 will be none */
static void
test_days (void)
{
  static const char *const wrong[] = { NULL, "", "2026-1-1", "2026-13-01", "2026-02-30",
                                       "2100-02-29", "26-01-01", "2026-01-01 ", "2026/01/01",
                                       "0000-01-01", "+026-01-01", "2026-01-0x" };

  g_assert_true (og_ledger_is_day ("2024-02-29"));
  g_assert_true (og_ledger_is_day ("9999-12-31"));
  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    g_assert_false (og_ledger_is_day (wrong[i]));
}

static void
test_shelf (void)
{
  Shop shop;
  g_autoptr (OgShelf) shelf = NULL;
  g_autoptr (OgLedger) reader = NULL;
  g_autoptr (GError) error = NULL;
  const OgShelfItem *item;

  shop_open (&shop);
  must_receive (shop.ledger, "castor-oil", "B", 500000, "2027-09-30", 9.0);
  must_receive (shop.ledger, "castor-oil", "A", 250500, "2027-01-31", 7.5);
  must_receive (shop.ledger, "jojoba-oil", "J1", 1, NULL, NAN);

  reader = shop_must_open (shop.path, OG_LEDGER_READ_ONLY);
  shelf = og_ledger_get_shelf (reader, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (og_shelf_get_n_items (shelf), ==, 2);
  item = og_shelf_get (shelf, "castor-oil");
  g_assert_cmpfloat (item->stock_g, ==, 750.5);
  g_assert_cmpfloat (item->price_per_kg, ==, 7.5);
  g_assert_cmpstr (item->currency, ==, "EUR");
  g_assert_cmpint (item->best_before, ==, 1801353600); /* date -u -d 2027-01-31 +%s */
  item = og_shelf_get (shelf, "jojoba-oil");
  g_assert_cmpfloat (item->stock_g, ==, 0.001);
  g_assert_true (isnan (item->price_per_kg));
  g_assert_cmpint (item->best_before, ==, 0);
  g_clear_object (&reader);
  shop_close (&shop);
}

/* The price follows the lot in use, and the newest offer once nothing is left. */
static void
test_next_lot (void)
{
  static const OgOffer offers[] = {
    { 0, (char *) "castor-oil", NULL, (char *) "Harbour stores", 5000000, 40, (char *) "EUR",
      (char *) "2026-01-10" },
    { 0, (char *) "castor-oil", NULL, (char *) "Harbour stores", 5000000, 50, (char *) "EUR",
      (char *) "2026-02-10" },
    { 0, (char *) "castor-oil", NULL, (char *) "Pier sundries", 1000000, 8, (char *) "GBP",
      (char *) "2026-01-20" },
  };
  static const struct { const char *lot; double price; } steps[] = { { "A", 9 }, { "B", 10 } };
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) stock = NULL;
  g_autoptr (GPtrArray) list = NULL;

  shop_open (&shop);
  must_receive (shop.ledger, "castor-oil", "B", 500000, "2027-09-30", 9.0);
  must_receive (shop.ledger, "castor-oil", "A", 250500, "2027-01-31", 7.5);
  for (guint i = 0; i < G_N_ELEMENTS (offers); i++)
    g_assert_cmpint (og_ledger_add_offer (shop.ledger, &offers[i], &error), >, 0);
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      const gint64 left_mg = shop_left (shop.ledger, NULL, steps[i].lot);

      g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, steps[i].lot, left_mg,
                                       FALSE, NULL, &error), >, 0);
      g_clear_pointer (&stock, g_ptr_array_unref);
      stock = og_ledger_list_stock (shop.ledger, "CASTOR", &error);
      g_assert_cmpuint (stock->len, ==, 1);
      g_assert_cmpfloat (NTH (stock, OgStock, 0)->price_per_kg, ==, steps[i].price);
    }
  g_assert_no_error (error);
  g_assert_cmpint (NTH (stock, OgStock, 0)->left_mg, ==, 0);
  g_assert_cmpuint (NTH (stock, OgStock, 0)->n_lots, ==, 0);
  g_assert_null (NTH (stock, OgStock, 0)->best_before);
  list = og_ledger_list_offers (shop.ledger, "castor-oil", &error);
  g_assert_cmpuint (list->len, ==, 3);
  g_assert_cmpfloat (NTH (list, OgOffer, 0)->price, ==, 50);
  shop_close (&shop);
}

static void
test_journal (void)
{
  Shop shop;
  const OgLedgerNote note = { "2026-03-02", "Ada", "spilt, \"pier 3\"" };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GPtrArray) rest = NULL;
  gint64 waste;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A", 1000000);
  shop_stock (shop.ledger, "jojoba-oil", "A", 5000);
  waste = og_ledger_take (shop.ledger, OG_JOURNAL_WASTE, "castor-oil", "A", 12345, FALSE, &note,
                          &error);
  g_assert_cmpint (waste, ==, 3);
  g_assert_cmpint (shop_left (shop.ledger, "castor-oil", "A"), ==, 987655);
  g_assert_cmpint (og_ledger_correct (shop.ledger, "castor-oil", "A", -655, FALSE, NULL, &error),
                   >, 0);
  g_assert_cmpint (og_ledger_count (shop.ledger, "castor-oil", "A", 986000, NULL, &error), >, 0);
  g_assert_cmpint (og_ledger_count (shop.ledger, "castor-oil", "A", 986000, NULL, &error), >, 0);
  g_assert_cmpint (shop_left (shop.ledger, "castor-oil", "A"), ==, 986000);
  g_assert_cmpint (og_ledger_reverse (shop.ledger, waste, FALSE, NULL, &error), >, 0);
  g_assert_no_error (error);
  g_assert_cmpint (shop_left (shop.ledger, "castor-oil", "A"), ==, 998345);
  g_assert_cmpint (og_ledger_reverse (shop.ledger, waste, FALSE, NULL, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS);
  g_clear_error (&error);
  g_assert_cmpint (og_ledger_reverse (shop.ledger, 999, FALSE, NULL, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND);
  g_clear_error (&error);

  list = og_ledger_list_journal (shop.ledger, "castor-oil", NULL, 0, 4, &error);
  g_assert_cmpuint (list->len, ==, 4);
  g_assert_cmpint (NTH (list, OgJournalEntry, 0)->corrects, ==, waste);
  g_assert_cmpint (NTH (list, OgJournalEntry, 0)->amount_mg, ==, 12345);
  g_assert_cmpint (NTH (list, OgJournalEntry, 1)->kind, ==, OG_JOURNAL_COUNT);
  g_assert_cmpint (NTH (list, OgJournalEntry, 1)->amount_mg, ==, 0);
  g_assert_cmpint (NTH (list, OgJournalEntry, 2)->amount_mg, ==, -1000);
  g_assert_cmpint (NTH (list, OgJournalEntry, 2)->counted_mg, ==, 986000);
  rest = og_ledger_list_journal (shop.ledger, "castor-oil", "A", NTH (list, OgJournalEntry, 3)->id,
                                 4, &error);
  g_assert_cmpuint (rest->len, ==, 2);
  g_assert_cmpstr (NTH (rest, OgJournalEntry, 0)->note, ==, "spilt, \"pier 3\"");
  g_assert_cmpstr (NTH (rest, OgJournalEntry, 0)->who, ==, "Ada");
  g_assert_cmpstr (NTH (rest, OgJournalEntry, 0)->day, ==, "2026-03-02");
  g_assert_cmpint (NTH (rest, OgJournalEntry, 1)->kind, ==, OG_JOURNAL_RECEIPT);
  shop_close (&shop);
}

/* The file itself refuses it, whoever asks. */
static void
test_append_only (void)
{
  static const char *const statements[] = {
    "UPDATE journal SET amount_mg = 5",
    "UPDATE journal SET note = 'x'",
    "DELETE FROM journal",
    "REPLACE INTO journal SELECT id, day, entered_at, kind, lot_id, 5, counted_mg, who, note,"
    " batch_id, corrects, negative FROM journal",
    "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg)"
    " VALUES ('2026-01-01', 0, 'use', 1, -2000000)",
    "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg)"
    " VALUES ('2026-01-01', 0, 'use', 1, 5)",
    "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg)"
    " VALUES ('2026-01-01', 0, 'gift', 1, 5)",
    "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg)"
    " VALUES ('2026-01-01', 0, 'receipt', 1, 1.5)",
  };
  Shop shop;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A", 1000000);
  for (guint i = 0; i < G_N_ELEMENTS (statements); i++)
    {
      const int result = shop_try (shop.path, statements[i]);

      if (result != SQLITE_CONSTRAINT)
        g_error ("%s: %d", statements[i], result);
    }
  g_assert_cmpint (shop_left (shop.ledger, NULL, "A"), ==, 1000000);
  shop_close (&shop);
}

static void
test_shortage (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (OgShelf) shelf = NULL;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A17", 1000);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, "castor-oil", "A17", 3500, FALSE,
                                   NULL, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE);
  g_assert_nonnull (strstr (error->message, "A17"));
  g_assert_nonnull (strstr (error->message, "castor-oil"));
  g_assert_nonnull (strstr (error->message, "2.5 g are missing"));
  g_clear_error (&error);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "A17"), ==, 1000);

  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, "castor-oil", "A17", 3500, TRUE,
                                   NULL, &error), >, 0);
  g_assert_no_error (error);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "A17"), ==, -2500);
  list = og_ledger_list_journal (shop.ledger, NULL, NULL, 0, 1, &error);
  g_assert_true (NTH (list, OgJournalEntry, 0)->negative);
  shelf = og_ledger_get_shelf (shop.ledger, &error);
  g_assert_cmpfloat (og_shelf_get (shelf, "castor-oil")->stock_g, ==, 0);
  g_assert_false (og_shelf_has (shelf, "castor-oil"));
  shop_close (&shop);
}

static void
test_refusals (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autofree char *longer = g_strnfill (OG_LEDGER_MAX_TEXT + 1, 'x');
  const struct { const char *material, *code; gint64 mg; const char *day; double price; } cases[]
    = {
    { "", "A", 5, NULL, NAN }, { "castor-oil", "", 5, NULL, NAN },
    { "castor-oil", "A", 0, NULL, NAN }, { "castor-oil", "A", -5, NULL, NAN },
    { "castor-oil", "A", OG_LEDGER_MAX_MG + 1, NULL, NAN },
    { "castor-oil", "A", 5, "31.1.2027", NAN }, { "castor-oil", "A", 5, "2027-02-29", NAN },
    { "castor-oil", "A", 5, NULL, -1 }, { "castor-oil", "A", 5, NULL, INFINITY },
    { "castor-oil", "\xff", 5, NULL, NAN }, { "castor-oil", "A\x01", 5, NULL, NAN },
    { "castor-oil", longer, 5, NULL, NAN },
  };

  shop_open (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (shop_receive (shop.ledger, cases[i].material, cases[i].code, cases[i].mg,
                                     cases[i].day, cases[i].price, &error), ==, 0);
      g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE);
      g_clear_error (&error);
    }
  g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM lot"), ==, 0);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, "castor-oil", "A", 5, FALSE, NULL,
                                   &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND);
  g_clear_error (&error);
  shop_stock (shop.ledger, "castor-oil", "A", 5);
  shop_stock (shop.ledger, "jojoba-oil", "A", 5);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "A", 5, FALSE, NULL, &error),
                   ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE);
  shop_close (&shop);
}

/* What a second delivery leaves open is no contradiction, and what it adds is kept. */
static void
test_same_lot (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (OgLot) lot = NULL;

  shop_open (&shop);
  must_receive (shop.ledger, "castor-oil", "A", 1000, NULL, NAN);
  must_receive (shop.ledger, "castor-oil", "A", 2000, "2027-01-31", 8);
  must_receive (shop.ledger, "castor-oil", "A", 4000, NULL, NAN);
  must_receive (shop.ledger, "castor-oil", "A", 8000, "2027-01-31", 8);
  g_assert_cmpint (shop_receive (shop.ledger, "castor-oil", "A", 1, "2027-02-28", NAN, &error), ==,
                   0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS);
  g_clear_error (&error);
  g_assert_cmpint (shop_receive (shop.ledger, "castor-oil", "A", 1, NULL, 8.5, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS);
  g_clear_error (&error);
  lot = og_ledger_get_lot (shop.ledger, "castor-oil", "A", &error);
  g_assert_no_error (error);
  g_assert_cmpint (lot->left_mg, ==, 15000);
  g_assert_cmpstr (lot->best_before, ==, "2027-01-31");
  g_assert_cmpstr (lot->received, ==, "2026-03-01");
  g_assert_cmpfloat (og_lot_get_price_per_kg (lot), ==, 8);
  shop_close (&shop);
}

static void
test_expiring (void)
{
  static const struct { const char *until; guint n; } cases[]
    = { { "2026-12-31", 0 }, { "2027-01-31", 1 }, { "2027-05-01", 2 }, { NULL, 4 } };
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) all = NULL;
  g_autoptr (GPtrArray) castor = NULL;

  shop_open (&shop);
  must_receive (shop.ledger, "jojoba-oil", "J", 10, NULL, NAN);
  must_receive (shop.ledger, "castor-oil", "C2", 10, "2027-05-01", NAN);
  must_receive (shop.ledger, "castor-oil", "C1", 10, "2027-01-31", NAN);
  must_receive (shop.ledger, "castor-oil", "C3", 10, NULL, NAN);
  must_receive (shop.ledger, "castor-oil", "C0", 10, "2026-06-30", NAN);
  g_assert_cmpint (og_ledger_count (shop.ledger, NULL, "C0", 0, NULL, &error), >, 0);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) lots
        = og_ledger_list_lots (shop.ledger, NULL, FALSE, cases[i].until, &error);

      g_assert_cmpuint (lots->len, ==, cases[i].n);
    }
  castor = og_ledger_list_lots (shop.ledger, "castor-oil", TRUE, NULL, &error);
  g_assert_cmpuint (castor->len, ==, 4);
  for (guint i = 0; i < castor->len; i++)
    {
      g_autofree char *code = g_strdup_printf ("C%u", i);

      g_assert_cmpstr (NTH (castor, OgLot, i)->code, ==, code);
    }
  all = og_ledger_list_lots (shop.ledger, NULL, TRUE, "soon", &error);
  g_assert_null (all);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE);
  shop_close (&shop);
}

/* A certificate overrides the figure of the library, and only that. */
static void
test_certificate (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;
  const OgIngredient *castor = og_catalog_get (test_catalog (), "castor-oil");
  const OgCertificateValue values[] = { { OG_FIGURE_IODINE_VALUE, 84.5, NAN },
                                        { OG_FIGURE_DENSITY_G_ML, 0.9605, 20 } };
  const OgCertificateValue wrong = { OG_FIGURE_IODINE_VALUE, -4, NAN };
  const OgCertificateValue other = { OG_FIGURE_IODINE_VALUE, 85, NAN };
  g_autoptr (OgLot) lot = og_lot_new ();
  g_autoptr (OgLot) kept = NULL;
  g_autoptr (OgIngredient) made = NULL;

  shop_open (&shop);
  lot->material_id = g_strdup ("castor-oil");
  lot->code = g_strdup ("K/7 b");
  lot->override_json = g_strdup ("{\"profile\": {\"unit\": \"wt % of fatty acids\", \"source\": "
                                 "\"certificate\", \"quality\": \"measured\", \"acids\": "
                                 "{\"C18:1-OH\": {\"value\": 90}, \"C18:1\": {\"value\": 10}}}}");
  g_array_append_vals (lot->certificate, values, G_N_ELEMENTS (values));
  g_assert_cmpint (og_ledger_receive (shop.ledger, lot, 1000, NULL, &error), >, 0);
  g_assert_no_error (error);
  kept = og_ledger_get_lot (shop.ledger, NULL, "K/7 b", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (kept->certificate->len, ==, 2);

  made = og_ledger_lot_to_ingredient (kept, castor, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (made->derived_from, ==, "castor-oil");
  g_assert_cmpstr (made->name, ==, "Castor oil, lot K/7 b");
  g_assert_cmpstr (made->inci, ==, castor->inci);
  g_assert_cmpfloat (made->figures[OG_FIGURE_IODINE_VALUE].value, ==, 84.5);
  g_assert_cmpint (made->figures[OG_FIGURE_IODINE_VALUE].quality, ==, OG_QUALITY_MEASURED);
  g_assert_cmpfloat (made->figures[OG_FIGURE_DENSITY_G_ML].at_c, ==, 20);
  g_assert_cmpfloat (made->figures[OG_FIGURE_SAPONIFICATION_VALUE].value, ==,
                     castor->figures[OG_FIGURE_SAPONIFICATION_VALUE].value);
  g_assert_cmpint (made->profile_quality, ==, OG_QUALITY_MEASURED);
  g_assert_cmpstr (json_object_get_string_member (made->definition, "lot"), ==, "K/7 b");

  g_array_set_size (lot->certificate, 0);
  g_array_append_val (lot->certificate, wrong);
  g_assert_cmpint (og_ledger_receive (shop.ledger, lot, 1000, NULL, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE);
  g_clear_error (&error);
  g_array_set_size (lot->certificate, 0);
  g_array_append_val (lot->certificate, other);
  g_assert_cmpint (og_ledger_receive (shop.ledger, lot, 1000, NULL, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS);
  g_clear_error (&error);
  g_free (lot->override_json);
  lot->override_json = g_strdup ("[1, 2]");
  g_assert_cmpint (og_ledger_receive (shop.ledger, lot, 1000, NULL, &error), ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "K/7 b"), ==, 1000);
  shop_close (&shop);
}

/* --- tables -------------------------------------------------------------------- */

static void
test_import (void)
{
  static const char table[] = "\xef\xbb\xbf"
                              "ingredient;lot;grams;price;currency;best_before;supplier\r\n"
                              "# from the pier\r\n"
                              "Castor oil;A-1;2500,5;22,50;EUR;2027-01-31;Harbour stores\r\n"
                              "jojoba-oil;J9;0.001;;;;\r\n"
                              "castor-oil;A-1;100;;;;\r\n";
  Shop shop;
  OgCatalog *catalog = test_catalog ();
  g_autoptr (GError) error = NULL;
  g_autoptr (OgLot) lot = NULL;
  const OgLedgerNote note = { "2026-03-04", NULL, NULL };
  guint n = 0;

  shop_open (&shop);
  g_assert_true (og_ledger_import_receipts (shop.ledger, table, -1, "pier.csv", catalog, &note, &n,
                                            &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n, ==, 3);
  lot = og_ledger_get_lot (shop.ledger, "castor-oil", "A-1", &error);
  g_assert_cmpint (lot->left_mg, ==, 2600500);
  g_assert_cmpint (lot->pack_mg, ==, 2500500);
  g_assert_cmpfloat (lot->price, ==, 22.5);
  g_assert_cmpstr (lot->supplier, ==, "Harbour stores");
  g_assert_cmpstr (lot->received, ==, "2026-03-04");
  g_assert_cmpint (shop_left (shop.ledger, "jojoba-oil", "J9"), ==, 1);
  shop_close (&shop);
}

static void
test_import_refused (void)
{
  static const struct { const char *row, *told; } cases[] = {
    { "castor-oil,B,much,,\n", "t.csv:3: grams" },
    { "castor-oil,B,-1,,\n", "t.csv:3: grams" },
    { "castor-oil,B,nan,,\n", "t.csv:3: grams" },
    { "castor-oil,B,1e308,,\n", "t.csv:3: grams" },
    { "castor-oil,B,,,\n", "t.csv:3:" },
    { "castor-oil,,5,,\n", "t.csv:3: lot" },
    { ",B,5,,\n", "t.csv:3: The row names no ingredient" },
    { "moonshine,B,5,,\n", "moonshine" },
    { "castor-oil,B,5,cheap,\n", "t.csv:3: price" },
    { "castor-oil,B,5,,31.1.27\n", "t.csv:3: best before" },
    { "castor-oil,B,5,,,more\n", "t.csv:3: The row has more cells" },
    { "castor-oil,A,5,,2027-12-31\n", "t.csv:3: Lot “A”" },
    { "castor-oil,\"B,5,,\n", "t.csv:3: A quotation mark" },
    { "castor-oil,B\xff,5,,\n", "UTF-8" },
  };
  Shop shop;
  OgCatalog *catalog = test_catalog ();
  g_autoptr (GError) error = NULL;

  shop_open (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *table
        = g_strconcat ("ingredient,lot,grams,price,best_before\ncastor-oil,A,5,,2027-01-31\n",
                       cases[i].row, NULL);

      g_assert_false (og_ledger_import_receipts (shop.ledger, table, -1, "t.csv", catalog, NULL,
                                                 NULL, &error));
      if (error->domain != OG_TABLE_ERROR || strstr (error->message, cases[i].told) == NULL)
        g_error ("%s: %s", cases[i].row, error->message);
      g_clear_error (&error);
    }
  g_assert_false (og_ledger_import_receipts (shop.ledger, "lot,grams\nA,5\n", -1, "t.csv", catalog,
                                             NULL, NULL, &error));
  g_assert_error (error, OG_TABLE_ERROR, OG_TABLE_ERROR_HEADER);
  g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM material"), ==, 0);
  shop_close (&shop);
}

/* @table, read back, names the lots @texts. */
static void
assert_lots (const char        *table,
             const char *const *texts,
             guint              n_texts)
{
  static const char *const names[] = { "lot", "ingredient", "name", "left_g", "received",
                                       "best_before", "supplier", "price", "currency", "pack_g" };
  int columns[G_N_ELEMENTS (names)];
  g_autoptr (GError) error = NULL;
  gboolean found;
  OgCsv csv;

  og_csv_init (&csv, table, -1, "table");
  og_csv_read_header (&csv, names, G_N_ELEMENTS (names), G_N_ELEMENTS (names), columns, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < n_texts; i++)
    {
      og_csv_next (&csv, &found, &error);
      g_assert_no_error (error);
      g_assert_true (found);
      g_assert_cmpstr (og_csv_unescape (og_csv_get_cell (&csv, columns[0])), ==, texts[i]);
    }
  og_csv_next (&csv, &found, &error);
  g_assert_false (found);
  og_csv_clear (&csv);
}

/* Names that a spreadsheet would work out, a table would split, or a page would take for markup */
static void
test_nasty_names (void)
{
  static const char *const codes[] = { "=1+1", "+5", "-5", "@SUM(A1)", "'quoted", "a,b", "a;b",
                                       "say \"x\"", "two\nlines", "<b>bold</b>", "ü€漢字", " lead" };
  Shop shop;
  OgCatalog *catalog = test_catalog ();
  g_autoptr (GString) receipts = g_string_new ("ingredient,lot,grams,supplier\n");
  g_autoptr (GError) error = NULL;
  g_autofree char *lots = NULL;

  shop_open (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_string_append (receipts, "castor-oil,");
      og_csv_put_text (receipts, codes[i]);
      g_string_append_printf (receipts, ",%u,", i + 1);
      og_csv_put_text (receipts, codes[i]);
      g_string_append_c (receipts, '\n');
    }
  g_assert_true (og_ledger_import_receipts (shop.ledger, receipts->str, -1, "t.csv", catalog, NULL,
                                            NULL, &error));
  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_autoptr (OgLot) lot = og_ledger_get_lot (shop.ledger, "castor-oil", codes[i], &error);

      g_assert_no_error (error);
      g_assert_cmpint (lot->left_mg, ==, (i + 1) * 1000);
      g_assert_cmpstr (lot->supplier, ==, codes[i]);
    }

  lots = og_ledger_export (shop.ledger, OG_LEDGER_TABLE_LOTS, &error);
  g_assert_no_error (error);
  g_assert_nonnull (strstr (lots, ",'=1+1,1,"));
  g_assert_nonnull (strstr (lots, ",'+5,2,"));
  g_assert_nonnull (strstr (lots, ",'-5,3,"));
  g_assert_nonnull (strstr (lots, ",'@SUM(A1),4,"));
  g_assert_nonnull (strstr (lots, ",\"say \"\"x\"\"\",8,"));
  assert_lots (lots, codes, G_N_ELEMENTS (codes));
  shop_close (&shop);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/ledger/amounts", test_amounts);
  g_test_add_func ("/ledger/days", test_days);
  g_test_add_func ("/ledger/shelf", test_shelf);
  g_test_add_func ("/ledger/next-lot", test_next_lot);
  g_test_add_func ("/ledger/journal", test_journal);
  g_test_add_func ("/ledger/append-only", test_append_only);
  g_test_add_func ("/ledger/shortage", test_shortage);
  g_test_add_func ("/ledger/refusals", test_refusals);
  g_test_add_func ("/ledger/same-lot", test_same_lot);
  g_test_add_func ("/ledger/expiring", test_expiring);
  g_test_add_func ("/ledger/certificate", test_certificate);
  g_test_add_func ("/ledger/import", test_import);
  g_test_add_func ("/ledger/import-refused", test_import_refused);
  g_test_add_func ("/ledger/nasty-names", test_nasty_names);

  return g_test_run ();
}
