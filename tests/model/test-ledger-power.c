/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "helpers.h"
#include "model/ledger-private.h"
#include "power-disk.h"
#include "shop.h"

#if defined(__SANITIZE_ADDRESS__)
#define N_CUTS 80
#else
#define N_CUTS 500
#endif

/* One after the other, up to the power cut. Returns: how many were acknowledged */
static guint
write_until_dark (OgLedger *ledger,
                  GRand    *rand,
                  guint     n_before)
{
  guint n = n_before;

  while (!power_disk_is_dead () && n < n_before + 60)
    {
      g_autofree char *text = g_strdup_printf ("%u", n + 1);
      g_autofree char *padding = g_strnfill ((gsize) g_rand_int_range (rand, 0, 3000), 'p');
      g_autofree char *note_text = g_strconcat (text, " ", padding, NULL);
      const OgLedgerNote note = { "2026-03-01", "Ada", note_text };
      g_autoptr (GError) error = NULL;
      const gint64 id = og_ledger_correct (ledger, "castor-oil", "A", 1, FALSE, &note, &error);

      if (id == 0)
        break;
      g_assert_cmpint (id, ==, n + 2);
      n++;
    }

  return n;
}

/* The ledger is whole and holds what was acknowledged, and at most one entry more. */
static guint
assert_lit (OgLedger *ledger,
            guint     n_said)
{
  g_autoptr (GError) error = NULL;
  gint64 n = -1, wrong = -1, left_mg = -1, in_order = -1;

  g_assert_true (_og_sql_get (ledger,
                              "SELECT integrity_check <> 'ok' FROM pragma_integrity_check",
                              OG_SQL_NO_VALUES,
                              &wrong,
                              &error));
  g_assert_cmpint (wrong, ==, 0);
  g_assert_true (_og_sql_get (ledger,
                              "SELECT count (*) FROM journal WHERE kind = 'correction'",
                              OG_SQL_NO_VALUES,
                              &n,
                              &error));
  g_assert_true (_og_sql_get (ledger,
                              "SELECT count (*) FROM journal WHERE kind = 'correction'"
                              " AND CAST (note AS INTEGER) = id - 1",
                              OG_SQL_NO_VALUES,
                              &in_order,
                              &error));
  g_assert_true (_og_sql_get (ledger,
                              "SELECT amount_mg FROM balance",
                              OG_SQL_NO_VALUES,
                              &left_mg,
                              &error));
  g_assert_no_error (error);
  g_assert_cmpint (n, >=, n_said);
  g_assert_cmpint (n, <=, n_said + 1);
  g_assert_cmpint (in_order, ==, n);
  g_assert_cmpint (left_mg, ==, 1000 + n);

  return (guint) n;
}

static void
test_power (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1871);
  g_autoptr (GFile) folder = test_make_folder ();
  g_autofree char *path = g_build_filename (g_file_peek_path (folder), "ledger.sqlite", NULL);
  guint n = 0, n_total = 0;

  for (guint round = 0; round < N_CUTS; round++)
    {
      g_autoptr (OgLedger) ledger = NULL;

      if (round % 20 == 0)
        {
          n_total += n;
          n = 0;
          power_disk_clear ();
          ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
          shop_stock (ledger, "castor-oil", "A", 1000);
          g_clear_object (&ledger);
        }
      ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
      power_disk_cut_after ((guint) g_rand_int_range (rand, 0, 400));
      n = write_until_dark (ledger, rand, n);
      g_clear_object (&ledger);
      power_disk_restore (rand);
      ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
      g_assert_null (og_ledger_get_set_aside (ledger));
      n = assert_lit (ledger, n);
    }
  g_test_message ("%u entries over %u cuts", n_total + n, (guint) N_CUTS);
  g_assert_cmpuint (n_total + n, >, 5 * N_CUTS);
  power_disk_clear ();
  test_remove_folder (folder);
}

/* The power goes while the file is made or brought up to date. */
static void
test_power_first (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1872);
  g_autoptr (GFile) folder = test_make_folder ();
  g_autofree char *path = g_build_filename (g_file_peek_path (folder), "ledger.sqlite", NULL);

  for (guint n_writes = 0; n_writes < 120; n_writes++)
    {
      g_autoptr (OgLedger) ledger = NULL;

      power_disk_clear ();
      power_disk_cut_after (n_writes);
      ledger = og_ledger_open (path, OG_LEDGER_KEEP_DAMAGED, NULL, NULL);
      g_clear_object (&ledger);
      power_disk_restore (rand);
      ledger = shop_must_open (path, OG_LEDGER_KEEP_DAMAGED);
      shop_stock (ledger, "castor-oil", "A", 1000);
    }
  power_disk_clear ();
  test_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  power_disk_install ();

  g_test_add_func ("/ledger-power/writing", test_power);
  g_test_add_func ("/ledger-power/beginning", test_power_first);

  return g_test_run ();
}
