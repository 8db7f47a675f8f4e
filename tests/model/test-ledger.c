/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <math.h>

#include "helpers.h"
#include "model/ledger.h"

/* The folder of a test, the file in it, and the ledger that it is. */
typedef struct
{
  GFile    *folder;
  char     *path;
  OgLedger *ledger;
} Shop;

static OgLedger *
must_open (const char    *path,
           OgLedgerFlags  flags)
{
  g_autoptr (GError) error = NULL;
  OgLedger *ledger = og_ledger_open (path, flags, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (ledger);

  return ledger;
}

static void
shop_open (Shop *shop)
{
  shop->folder = test_make_folder ();
  shop->path = g_build_filename (g_file_peek_path (shop->folder), "ledger.sqlite", NULL);
  shop->ledger = must_open (shop->path, OG_LEDGER_DEFAULT);
}

static void
shop_close (Shop *shop)
{
  g_assert_finalize_object (shop->ledger);
  test_remove_folder (shop->folder);
  g_object_unref (shop->folder);
  g_free (shop->path);
}

static gint64
receive (OgLedger    *ledger,
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
  lot->currency = g_strdup ("EUR");
  lot->pack_mg = isnan (price) ? 0 : 1000000;

  return og_ledger_receive (ledger, lot, amount_mg, &note, error);
}

static void
must_receive (OgLedger   *ledger,
              const char *material_id,
              const char *code,
              gint64      amount_mg,
              const char *best_before,
              double      price)
{
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (receive (ledger, material_id, code, amount_mg, best_before, price, &error), >, 0);
  g_assert_no_error (error);
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

  reader = must_open (shop.path, OG_LEDGER_READ_ONLY);
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

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/ledger/shelf", test_shelf);

  return g_test_run ();
}
