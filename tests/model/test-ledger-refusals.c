/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "helpers.h"
#include "model/ledger.h"
#include "shop.h"

/* What people type and files hold, and the ledger cannot keep: an error each, and nothing kept. */

static const char invalid_utf8[] = "A\xff";
static const char control[] = "A\x01";

static void
assert_refused (GError        **error,
                OgLedgerError   code)
{
  g_assert_error (*error, OG_LEDGER_ERROR, (int) code);
  g_assert_true (g_utf8_validate ((*error)->message, -1, NULL));
  g_clear_error (error);
}

static void
assert_untouched (Shop *shop)
{
  g_assert_cmpint (shop_ask (shop->path, "SELECT count (*) FROM journal"), ==, 1);
  g_assert_cmpint (shop_left (shop->ledger, "castor-oil", "A"), ==, 1000);
}

static void
shop_open_stocked (Shop *shop)
{
  shop_open (shop);
  shop_stock (shop->ledger, "castor-oil", "A", 1000);
}

static gint64
take (Shop        *shop,
      const char  *material_id,
      const char  *lot,
      gint64       amount_mg,
      GError     **error)
{
  return og_ledger_take (shop->ledger, OG_JOURNAL_USE, material_id, lot, amount_mg, FALSE, NULL,
                         error);
}

static void
test_lot_unknown (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  g_assert_cmpint (take (&shop, "castor-oil", "B", 1, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_cmpint (take (&shop, NULL, "B", 1, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_cmpint (og_ledger_correct (shop.ledger, "beeswax", "A", 1, FALSE, NULL, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_cmpint (og_ledger_count (shop.ledger, NULL, "B", 1, NULL, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_null (og_ledger_get_lot (shop.ledger, NULL, "B", &error));
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_null (og_ledger_where_lot_went (shop.ledger, NULL, "B", &error));
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  g_assert_cmpint (og_ledger_reverse (shop.ledger, 99, FALSE, NULL, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
  assert_untouched (&shop);
  shop_close (&shop);
}

static void
test_lot_unsaid (void)
{
  static const char *const codes[] = { NULL, "", invalid_utf8, control };
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      g_assert_cmpint (take (&shop, NULL, codes[i], 1, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      g_assert_cmpint (og_ledger_correct (shop.ledger, NULL, codes[i], 1, FALSE, NULL, &error), ==,
                       0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      g_assert_cmpint (og_ledger_count (shop.ledger, NULL, codes[i], 1, NULL, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      g_assert_null (og_ledger_get_lot (shop.ledger, NULL, codes[i], &error));
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      g_assert_null (og_ledger_where_lot_went (shop.ledger, NULL, codes[i], &error));
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  g_assert_cmpint (take (&shop, invalid_utf8, "A", 1, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  assert_untouched (&shop);
  shop_close (&shop);
}

/* G_MININT64 has no opposite. */
static void
test_amount (void)
{
  static const gint64 amounts[] = { 0, -1, OG_LEDGER_MAX_MG + 1, G_MAXINT64, G_MININT64 };
  static const double grams[] = { NAN, INFINITY, -INFINITY, 1e10, -1e10 };
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (amounts); i++)
    {
      g_assert_cmpint (take (&shop, NULL, "A", amounts[i], &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      g_assert_cmpint (shop_receive (shop.ledger, "castor-oil", "A", amounts[i], NULL, NAN, &error),
                       ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      if (amounts[i] == 0)
        continue;
      g_assert_cmpint (og_ledger_count (shop.ledger, NULL, "A", amounts[i], NULL, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      if (amounts[i] == -1)
        continue;
      g_assert_cmpint (og_ledger_correct (shop.ledger, NULL, "A", amounts[i], TRUE, NULL, &error),
                       ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  for (guint i = 0; i < G_N_ELEMENTS (grams); i++)
    {
      gint64 mg = 7;

      g_assert_false (og_ledger_g_to_mg (grams[i], &mg));
      g_assert_cmpint (mg, ==, 7);
    }
  assert_untouched (&shop);
  shop_close (&shop);
}

static void
test_price (void)
{
  static const double prices[] = { -1, INFINITY, -INFINITY, 1e13 };
  static const char *const currencies[] = { invalid_utf8, control };
  Shop shop;
  g_autoptr (GError) error = NULL;
  OgOffer offer = { .material_id = (char *) "castor-oil", .supplier = (char *) "Harbour stores",
                    .pack_mg = 1000, .day = (char *) "2026-03-01" };

  shop_open_stocked (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (prices); i++)
    {
      g_assert_cmpint (shop_receive (shop.ledger, "castor-oil", "B", 1, NULL, prices[i], &error),
                       ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      offer.price = prices[i];
      g_assert_cmpint (og_ledger_add_offer (shop.ledger, &offer, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  offer.price = NAN;
  g_assert_cmpint (og_ledger_add_offer (shop.ledger, &offer, &error), ==, 0);
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  offer.price = 1;
  for (guint i = 0; i < G_N_ELEMENTS (currencies); i++)
    {
      g_autoptr (OgLot) lot = og_lot_new ();

      lot->material_id = g_strdup ("castor-oil");
      lot->code = g_strdup ("B");
      lot->currency = g_strdup (currencies[i]);
      g_assert_cmpint (og_ledger_receive (shop.ledger, lot, 1, NULL, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      offer.currency = (char *) currencies[i];
      g_assert_cmpint (og_ledger_add_offer (shop.ledger, &offer, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  assert_untouched (&shop);
  shop_close (&shop);
}

static void
test_day (void)
{
  static const char *const days[] = { "", "0000-01-01", "2026-02-30", "10000-01-01", "-001-01-01",
                                      "2026-1-1", "tomorrow", invalid_utf8 };
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (days); i++)
    {
      const OgLedgerNote note = { .day = days[i] };

      g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "A", 1, FALSE, &note,
                                       &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      g_assert_cmpint (shop_receive (shop.ledger, "castor-oil", "B", 1, days[i], NAN, &error), ==,
                       0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  assert_untouched (&shop);
  shop_close (&shop);
}

/* The last moment that is kept is the end of the year 9999. */
static void
test_moment (void)
{
  static const gint64 moments[] = { -1, G_GINT64_CONSTANT (253402300800), G_MAXINT64, G_MININT64 };
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) recipe = shop_recipe ();
  g_autofree char *number = NULL;

  shop_open_stocked (&shop);
  number = og_ledger_plan_batch (shop.ledger, recipe, NULL, 1000, NULL, NULL, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (moments); i++)
    {
      const OgWeighing weighing = { .line = 1, .amount_mg = 600, .weighed_at = moments[i] };
      g_autoptr (OgBatchEntry) entry = og_batch_entry_new (OG_BATCH_ENTRY_PROCESS);

      entry->text = g_strdup ("heated");
      g_assert_cmpint (og_ledger_weigh (shop.ledger, number, &weighing, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
      entry->ended_at = MAX (moments[i], 0);
      entry->started_at = MIN (moments[i], 0);
      g_assert_cmpint (og_ledger_add_batch_entry (shop.ledger, number, entry, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  g_assert_cmpint (shop_ask (shop.path, "SELECT (SELECT count (*) FROM weighing)"
                                        " + (SELECT count (*) FROM batch_entry)"), ==, 0);
  shop_close (&shop);
}

static void
test_batch (void)
{
  static const char *const numbers[] = { "", "no such", };
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) recipe = shop_recipe ();
  g_autofree char *number = NULL;

  shop_open_stocked (&shop);
  number = og_ledger_plan_batch (shop.ledger, recipe, NULL, 1000, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_false (og_ledger_set_batch_output (shop.ledger, number, -2, NULL, &error));
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  g_assert_false (og_ledger_release_batch (shop.ledger, number, NULL, &error));
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  g_assert_null (og_ledger_plan_batch (shop.ledger, recipe, NULL, 1000, "", NULL, &error));
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  for (guint i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      g_assert_null (og_ledger_get_batch (shop.ledger, numbers[i], &error));
      assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
      g_assert_false (og_ledger_close_batch (shop.ledger, numbers[i], OG_CLOSE_DEFAULT, NULL,
                                             &error));
      assert_refused (&error, OG_LEDGER_ERROR_NOT_FOUND);
    }
  g_assert_null (og_ledger_get_batch (shop.ledger, invalid_utf8, &error));
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  g_assert_false (og_ledger_close_batch (shop.ledger, invalid_utf8, OG_CLOSE_DEFAULT, NULL,
                                         &error));
  assert_refused (&error, OG_LEDGER_ERROR_VALUE);
  shop_close (&shop);
}

static void
test_certificate (void)
{
  static const double values[] = { NAN, INFINITY, -INFINITY };
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      const OgCertificateValue value = { .figure = (OgFigureId) 0, .value = values[i],
                                         .at_c = NAN };
      g_autoptr (OgLot) lot = og_lot_new ();

      lot->material_id = g_strdup ("castor-oil");
      lot->code = g_strdup ("B");
      g_array_append_val (lot->certificate, value);
      g_assert_cmpint (og_ledger_receive (shop.ledger, lot, 1, NULL, &error), ==, 0);
      assert_refused (&error, OG_LEDGER_ERROR_VALUE);
    }
  assert_untouched (&shop);
  shop_close (&shop);
}

/* A table is the one place where a text can hold NUL. */
static void
test_nul (void)
{
  static const char table[] = "ingredient,lot,grams\ncastor-oil,B\0C,5\n";
  OgCatalog *catalog = test_catalog ();
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  g_assert_false (og_ledger_import_receipts (shop.ledger, table, sizeof table - 1, "t.csv", catalog,
                                             NULL, NULL, &error));
  g_assert_error (error, OG_TABLE_ERROR, OG_TABLE_ERROR_SYNTAX);
  assert_untouched (&shop);
  shop_close (&shop);
}

/* Somebody else's hand in the file: a lot whose balance is gone. */
static void
test_damage (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;

  shop_open_stocked (&shop);
  g_assert_cmpint (shop_try (shop.path, "DELETE FROM balance"), ==, 0);
  g_assert_null (og_ledger_get_lot (shop.ledger, "castor-oil", "A", &error));
  assert_refused (&error, OG_LEDGER_ERROR_DAMAGED);
  shop_close (&shop);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/ledger-refusals/lot-unknown", test_lot_unknown);
  g_test_add_func ("/ledger-refusals/lot-unsaid", test_lot_unsaid);
  g_test_add_func ("/ledger-refusals/amount", test_amount);
  g_test_add_func ("/ledger-refusals/price", test_price);
  g_test_add_func ("/ledger-refusals/day", test_day);
  g_test_add_func ("/ledger-refusals/moment", test_moment);
  g_test_add_func ("/ledger-refusals/batch", test_batch);
  g_test_add_func ("/ledger-refusals/certificate", test_certificate);
  g_test_add_func ("/ledger-refusals/nul", test_nul);
  g_test_add_func ("/ledger-refusals/damage", test_damage);

  return g_test_run ();
}
