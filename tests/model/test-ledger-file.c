/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gstdio.h>
#include <math.h>
#include <signal.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "helpers.h"
#include "model/ledger-private.h"
#include "shop.h"

#define NOBODY 65534
#define N_EACH 200

#if defined(__SANITIZE_ADDRESS__)
#define N_CUTS 60
#define N_WOUNDS 20
#else
#define N_CUTS 500
#define N_WOUNDS 50
#endif

#define NTH(list, type, index) ((const type *) g_ptr_array_index ((list), (index)))

static GBytes *
read_bytes (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *text;
  gsize length;

  g_file_get_contents (path, &text, &length, &error);
  g_assert_no_error (error);

  return g_bytes_new_take (text, length);
}

static void
write_bytes (const char *path,
             GBytes     *bytes)
{
  gsize length;
  const char *data = g_bytes_get_data (bytes, &length);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, data, (gssize) length, &error);
  g_assert_no_error (error);
}

static void
assert_bytes (const char *path,
              GBytes     *bytes)
{
  g_autoptr (GBytes) found = read_bytes (path);

  g_assert_true (g_bytes_equal (found, bytes));
}

static gboolean
is_there (const char *path,
          const char *suffix)
{
  g_autofree char *name = g_strconcat (path, suffix, NULL);

  return g_file_test (name, G_FILE_TEST_EXISTS);
}

static void
assert_refused (const char    *path,
                OgLedgerFlags  flags,
                OgLedgerError  code,
                const char    *told)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgLedger) ledger = og_ledger_open (path, flags, NULL, &error);

  g_assert_null (ledger);
  g_assert_error (error, OG_LEDGER_ERROR, (int) code);
  if (strstr (error->message, told) == NULL)
    g_error ("%s", error->message);
  g_assert_nonnull (strstr (error->message, "ledger"));
}

/* --- a new file --------------------------------------------------------------------- */

static void
test_new (void)
{
  Shop shop;
  g_autofree char *deep = NULL;
  g_autoptr (OgLedger) ledger = NULL;
  struct stat status;

  shop_open (&shop);
  g_assert_null (og_ledger_get_set_aside (shop.ledger));
  g_assert_cmpstr (og_ledger_get_path (shop.ledger), ==, shop.path);
  deep = g_build_filename (g_file_peek_path (shop.folder), "a", "b", "own.sqlite", NULL);
  assert_refused (deep, OG_LEDGER_READ_ONLY, OG_LEDGER_ERROR_ACCESS, "own.sqlite");
  g_assert_false (is_there (deep, ""));
  ledger = shop_must_open (deep, OG_LEDGER_DEFAULT);
  shop_stock (ledger, "castor-oil", "A", 5);
  g_clear_object (&ledger);
  g_assert_false (is_there (deep, "-wal"));
  g_assert_cmpint (shop_ask (deep, "PRAGMA application_id"), ==, OG_LEDGER_APPLICATION_ID);
  g_assert_cmpint (shop_ask (deep, "PRAGMA user_version"), ==, OG_LEDGER_VERSION);
  g_assert_cmpint (shop_ask (deep, "SELECT count (*) FROM pragma_foreign_key_check"), ==, 0);
  g_assert_cmpint (stat (deep, &status), ==, 0);
  shop_close (&shop);
}

/* A program that was killed when it had only begun leaves a file without tables. */
static void
test_just_begun (void)
{
  Shop shop;
  g_autoptr (OgLedger) ledger = NULL;
  g_autofree char *path = NULL;

  shop_open (&shop);
  path = g_build_filename (g_file_peek_path (shop.folder), "begun.sqlite", NULL);
  g_assert_cmpint (shop_try (path, "PRAGMA journal_mode = WAL"), ==, SQLITE_OK);
  ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
  shop_stock (ledger, "castor-oil", "A", 5);
  g_assert_null (og_ledger_get_set_aside (ledger));
  g_clear_object (&ledger);
  shop_close (&shop);
}

/* --- earlier versions ----------------------------------------------------------------- */

/* What a file of each version may hold; ids as a new file would give them. */
static const char *const contents[OG_LEDGER_VERSION] = {
  "INSERT INTO material VALUES ('castor-oil', 'Castor oil'), ('jojoba-oil', 'Jojoba oil');"
  "INSERT INTO lot (material_id, code, best_before, price, currency, pack_mg) VALUES"
  " ('castor-oil', 'A', '2027-01-31', 9.5, 'EUR', 1000000), ('jojoba-oil', 'J', NULL, NULL, NULL,"
  " NULL), ('jojoba-oil', 'unused', NULL, NULL, NULL, NULL);"
  "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg, note) VALUES"
  " ('2025-01-01', 1, 'receipt', 1, 5000, 'one'), ('2025-01-02', 2, 'use', 1, -1500, NULL),"
  " ('2025-01-03', 3, 'receipt', 2, 70, NULL), ('2025-01-04', 4, 'waste', 2, -100, 'too much');",
  "INSERT INTO batch (number, title, document, planned_mg, day, state) VALUES"
  " ('2025-001', 'Old', '{}', 1000, '2025-01-05', 'running');"
  "INSERT INTO batch_line VALUES (1, 1, 2, 'A', 'castor-oil', 'castor-oil', 'Castor oil', 1000);"
  "INSERT INTO weighing (batch_id, line, lot_id, amount_mg, weighed_at) VALUES (1, 1, 1, 1000, 5),"
  " (1, 1, 1, 200, 6), (1, 1, 1, 200, 7), (1, 1, NULL, 200, 8), (1, 1, 1, -200, 9),"
  " (1, 1, 1, -200, 10), (1, 1, NULL, -200, 11), (1, 1, 1, 200, 12), (1, 1, 1, -150, 13),"
  " (1, 1, 1, -50, 14);",
  ("INSERT INTO offer (material_id, supplier, pack_mg, price, day) VALUES"
   " ('castor-oil', 'Pier', 1000000, 8, '2025-02-01');"),
  "INSERT INTO weighing (batch_id, line, lot_id, amount_mg, weighed_at, undoes) VALUES"
  " (1, 1, 1, 300, 15, NULL), (1, 1, 1, 300, 16, NULL), (1, 1, 1, -300, 17, 11),"
  " (1, 1, 1, -300, 18, 12);",
};

/* Makes a file that programs up to @version have written to in turn. */
static void
make_old (const char *path,
          int         version)
{
  g_autoptr (OgLedger) maker = g_object_new (OG_TYPE_LEDGER, NULL);
  g_autoptr (GError) error = NULL;

  maker->name = g_strdup (path);
  g_assert_cmpint (sqlite3_open (path, &maker->db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (maker->db, "PRAGMA journal_mode = WAL", NULL, NULL, NULL), ==,
                   SQLITE_OK);
  for (int i = 0; i < version; i++)
    {
      g_assert_true (_og_ledger_migrate (maker, i + 1, &error));
      g_assert_no_error (error);
      if (sqlite3_exec (maker->db, contents[i], NULL, NULL, NULL) != SQLITE_OK)
        g_error ("version %d: %s", version, sqlite3_errmsg (maker->db));
    }
}

/* Which one of the same amount was taken back last is what the pairs of brackets say. */
static void
assert_undone (const OgBatch *batch,
               int            version)
{
  static const gint64 undoes[] = { 0, 0, 0, 0, 3, 2, 4, 0, 0, 0, 0, 0, 11, 12 };

  g_assert_cmpuint (batch->weighings->len, ==, version < 4 ? 10 : G_N_ELEMENTS (undoes));
  for (guint i = 0; i < batch->weighings->len; i++)
    g_assert_cmpint (NTH (batch->weighings, OgWeighing, i)->undoes, ==, undoes[i]);
}

static void
assert_migrated (OgLedger *ledger,
                 int       version)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) journal = og_ledger_list_journal (ledger, NULL, NULL, 0, 100, &error);
  g_autoptr (OgShelf) shelf = og_ledger_get_shelf (ledger, &error);
  g_autoptr (OgBatch) batch = NULL;

  g_assert_no_error (error);
  g_assert_cmpuint (journal->len, ==, 4);
  g_assert_cmpint (NTH (journal, OgJournalEntry, 0)->amount_mg, ==, -100);
  g_assert_cmpstr (NTH (journal, OgJournalEntry, 0)->note, ==, "too much");
  g_assert_cmpint (shop_left (ledger, NULL, "A"), ==, 3500);
  g_assert_cmpint (shop_left (ledger, NULL, "J"), ==, -30);
  g_assert_cmpint (shop_left (ledger, NULL, "unused"), ==, 0);
  g_assert_cmpfloat (og_shelf_get (shelf, "castor-oil")->price_per_kg, ==, 9.5);
  if (version < 2)
    return;
  batch = og_ledger_get_batch (ledger, "2025-001", &error);
  g_assert_no_error (error);
  g_assert_cmpint (batch->weighed_mg, ==, 1000);
  assert_undone (batch, version);
}

static char *
schema_of (const char *path)
{
  sqlite3 *db = NULL;
  sqlite3_stmt *statement = NULL;
  char *schema;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT group_concat (sql, char (10)) FROM"
                                           " (SELECT sql FROM sqlite_schema ORDER BY name)", -1,
                                       &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  schema = g_strdup ((const char *) sqlite3_column_text (statement, 0));
  sqlite3_finalize (statement);
  sqlite3_close (db);

  return schema;
}

static void
test_migrations (void)
{
  Shop shop;
  g_autofree char *expected = NULL;
  g_autoptr (GError) error = NULL;

  shop_open (&shop);
  expected = schema_of (shop.path);
  for (int version = 1; version <= OG_LEDGER_VERSION; version++)
    {
      g_autofree char *path
        = g_strdup_printf ("%s/version-%d-ledger.sqlite", g_file_peek_path (shop.folder), version);
      g_autofree char *schema = NULL;
      g_autoptr (OgLedger) ledger = NULL;
      g_autoptr (GBytes) before = NULL;

      make_old (path, version);
      before = read_bytes (path);
      g_assert_cmpint (shop_ask (path, "PRAGMA user_version"), ==, version);

      ledger = shop_must_open (path, OG_LEDGER_READ_ONLY);
      assert_migrated (ledger, version);
      g_clear_object (&ledger);
      assert_bytes (path, before);

      ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
      assert_migrated (ledger, version);
      g_assert_cmpint (shop_ask (path, "PRAGMA user_version"), ==, OG_LEDGER_VERSION);
      if (version >= 2)
        {
          g_assert_true (og_ledger_close_batch (ledger, "2025-001", OG_CLOSE_DEFAULT, NULL,
                                                &error));
          g_assert_cmpint (shop_left (ledger, NULL, "A"), ==, 2500);
        }
      g_clear_object (&ledger);
      schema = schema_of (path);
      g_assert_cmpstr (schema, ==, expected);
    }
  shop_close (&shop);
}

/* --- what is not ours, or no longer whole ----------------------------------------------- */

static void
test_newer (void)
{
  static const OgLedgerFlags flags[] = { OG_LEDGER_DEFAULT, OG_LEDGER_READ_ONLY };
  Shop shop;
  g_autoptr (GBytes) before = NULL;
  sqlite3 *other = NULL;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A", 5);
  g_clear_object (&shop.ledger);
  g_assert_cmpint (shop_try (shop.path, "PRAGMA user_version = 5"), ==, SQLITE_OK);
  before = read_bytes (shop.path);
  for (guint i = 0; i < G_N_ELEMENTS (flags); i++)
    assert_refused (shop.path, flags[i], OG_LEDGER_ERROR_NEWER_VERSION, "newer");
  assert_bytes (shop.path, before);
  g_assert_false (is_there (shop.path, "-wal"));

  /* the newer version may still stand beside the file only */
  g_assert_cmpint (shop_try (shop.path, "PRAGMA user_version = 4"), ==, SQLITE_OK);
  g_clear_pointer (&before, g_bytes_unref);
  before = read_bytes (shop.path);
  g_assert_cmpint (sqlite3_open (shop.path, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "PRAGMA user_version = 5", NULL, NULL, NULL), ==,
                   SQLITE_OK);
  for (guint i = 0; i < G_N_ELEMENTS (flags); i++)
    assert_refused (shop.path, flags[i], OG_LEDGER_ERROR_NEWER_VERSION, "newer");
  assert_bytes (shop.path, before);
  g_assert_cmpint (sqlite3_exec (other, "PRAGMA user_version = 4", NULL, NULL, NULL), ==,
                   SQLITE_OK);
  sqlite3_close (other);
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  shop_close (&shop);
}

static void
test_other_database (void)
{
  Shop shop;
  g_autofree char *path = NULL;
  g_autoptr (GBytes) before = NULL;

  shop_open (&shop);
  path = g_build_filename (g_file_peek_path (shop.folder), "other-ledger.sqlite", NULL);
  g_assert_cmpint (shop_try (path, "CREATE TABLE sailor (name TEXT)"), ==, SQLITE_OK);
  before = read_bytes (path);
  assert_refused (path, OG_LEDGER_DEFAULT, OG_LEDGER_ERROR_NOT_A_LEDGER, "no ledger");
  assert_refused (path, OG_LEDGER_READ_ONLY, OG_LEDGER_ERROR_NOT_A_LEDGER, "no ledger");
  assert_bytes (path, before);
  shop_close (&shop);
}

/* Returns: a ledger of several pages */
static GBytes *
make_whole (Shop *shop)
{
  for (guint i = 0; i < 300; i++)
    {
      g_autofree char *code = g_strdup_printf ("lot-%u", i);

      shop_stock (shop->ledger, i % 2 ? "castor-oil" : "jojoba-oil", code, 1000 + i);
    }
  g_clear_object (&shop->ledger);

  return read_bytes (shop->path);
}

typedef GBytes *(*Damage) (GBytes *whole);

static GBytes *
damage_cut (GBytes *whole)
{
  return g_bytes_new_from_bytes (whole, 0, g_bytes_get_size (whole) / 2 + 100);
}

static GBytes *
damage_short (GBytes *whole)
{
  return g_bytes_new_from_bytes (whole, 0, 50);
}

static GBytes *
damage_overwritten (GBytes *whole)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (99);
  gsize length;
  g_autoptr (GBytes) copy = g_bytes_new (g_bytes_get_data (whole, NULL), g_bytes_get_size (whole));
  guint8 *data = g_bytes_unref_to_data (g_steal_pointer (&copy), &length);

  for (gsize i = 4096; i < 4 * 4096; i++)
    data[i] = (guint8) g_rand_int_range (rand, 0, 256);

  return g_bytes_new_take (data, length);
}

static GBytes *
damage_text (GBytes *whole)
{
  return g_bytes_new_static ("Castor oil: two drums\n", 22);
}

static void
test_damaged (void)
{
  static const Damage damages[] = { damage_cut, damage_short, damage_overwritten, damage_text };
  g_autoptr (GDateTime) now = g_date_time_new_local (2026, 3, 5, 14, 7, 9);
  Shop shop;
  g_autoptr (GBytes) whole = NULL;

  shop_open (&shop);
  whole = make_whole (&shop);
  for (guint i = 0; i < G_N_ELEMENTS (damages); i++)
    {
      g_autoptr (GBytes) damaged = damages[i] (whole);
      g_autofree char *name
        = i == 0 ? g_strdup ("ledger-damaged-2026-03-05-140709.sqlite")
                 : g_strdup_printf ("ledger-damaged-2026-03-05-140709-%u.sqlite", i + 1);
      g_autofree char *aside = g_build_filename (g_file_peek_path (shop.folder), name, NULL);
      g_autoptr (GError) error = NULL;

      write_bytes (shop.path, damaged);
      assert_refused (shop.path, OG_LEDGER_KEEP_DAMAGED, OG_LEDGER_ERROR_DAMAGED, "damaged");
      assert_bytes (shop.path, damaged);
      shop.ledger = og_ledger_open (shop.path, OG_LEDGER_DEFAULT, now, &error);
      g_assert_no_error (error);
      g_assert_cmpstr (og_ledger_get_set_aside (shop.ledger), ==, aside);
      assert_bytes (aside, damaged);
      g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM journal"), ==, 0);
      shop_stock (shop.ledger, "castor-oil", "A", 5);
      g_clear_object (&shop.ledger);
    }
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  shop_close (&shop);
}

/* What had not come into the file yet goes with it, and is not played into the new one. */
static void
test_damaged_wal (void)
{
  Shop shop;
  g_autoptr (GBytes) wal = NULL;
  g_autoptr (GBytes) text = damage_text (NULL);
  g_autofree char *wal_path = NULL;
  g_autofree char *wal_aside = NULL;

  shop_open (&shop);
  wal_path = g_strconcat (shop.path, "-wal", NULL);
  shop_stock (shop.ledger, "castor-oil", "A", 5);
  g_clear_object (&shop.ledger);
  g_assert_false (is_there (shop.path, "-wal"));
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  shop_stock (shop.ledger, "castor-oil", "A", 5);
  wal = read_bytes (wal_path);
  g_assert_cmpuint (g_bytes_get_size (wal), >, 0);
  g_clear_object (&shop.ledger);
  write_bytes (shop.path, text);
  write_bytes (wal_path, wal);
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  g_assert_cmpint (shop_ask (shop.path, "SELECT count (*) FROM journal"), ==, 0);
  assert_bytes (og_ledger_get_set_aside (shop.ledger), text);
  wal_aside = g_strconcat (og_ledger_get_set_aside (shop.ledger), "-wal", NULL);
  assert_bytes (wal_aside, wal);
  shop_close (&shop);
}

static void
ask_everything (OgLedger *ledger)
{
  g_autoptr (GPtrArray) stock = og_ledger_list_stock (ledger, "oil", NULL);
  g_autoptr (GPtrArray) lots = og_ledger_list_lots (ledger, NULL, TRUE, NULL, NULL);
  g_autoptr (GPtrArray) journal = og_ledger_list_journal (ledger, "castor-oil", NULL, 0, 100, NULL);
  g_autoptr (GPtrArray) batches = og_ledger_list_batches (ledger, "a", -1, 0, 100, NULL);
  g_autoptr (GPtrArray) where = og_ledger_where_lot_went (ledger, NULL, "lot-7", NULL);
  g_autofree char *table = og_ledger_export (ledger, OG_LEDGER_TABLE_JOURNAL, NULL);
  g_autoptr (OgLot) lot = og_ledger_get_lot (ledger, NULL, "lot-9", NULL);
}

/* Bytes anywhere: whatever is not noticed must do no harm. */
static void
test_wounds (void)
{
  Shop shop;
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  g_autoptr (GBytes) whole = NULL;
  guint n_noticed = 0;

  shop_open (&shop);
  whole = make_whole (&shop);
  for (guint n = 0; n < N_WOUNDS; n++)
    {
      gsize length = g_bytes_get_size (whole);
      g_autofree guint8 *data = g_memdup2 (g_bytes_get_data (whole, NULL), length);
      const gsize at = (gsize) g_rand_int_range (rand, 0, (gint32) length - 64);
      g_autoptr (GBytes) wounded = NULL;
      g_autoptr (OgLedger) ledger = NULL;
      g_autoptr (GError) error = NULL;

      for (gsize i = at; i < at + 64; i++)
        data[i] = (guint8) g_rand_int_range (rand, 0, 256);
      wounded = g_bytes_new (data, length);
      write_bytes (shop.path, wounded);
      ledger = og_ledger_open (shop.path, OG_LEDGER_DEFAULT, NULL, &error);
      if (ledger == NULL || og_ledger_get_set_aside (ledger) != NULL)
        n_noticed++;
      if (ledger == NULL)
        assert_bytes (shop.path, wounded);
      else if (og_ledger_get_set_aside (ledger) != NULL)
        assert_bytes (og_ledger_get_set_aside (ledger), wounded);
      else
        ask_everything (ledger);
    }
  g_test_message ("%u of %u noticed", n_noticed, N_WOUNDS);
  g_assert_cmpuint (n_noticed, >, N_WOUNDS / 10);
  write_bytes (shop.path, whole);
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  shop_close (&shop);
}

/* --- no way to write --------------------------------------------------------------------- */

static void
become (uid_t user)
{
  g_assert_cmpint (seteuid (user), ==, 0);
}

static void
test_read_only (void)
{
  Shop shop;
  const uid_t user = geteuid ();
  g_autofree char *other = NULL;
  g_autofree char *wal_path = NULL;
  g_autoptr (OgLedger) reader = NULL;
  g_autoptr (GBytes) before = NULL;
  g_autoptr (GError) error = NULL;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A", 5000);
  g_clear_object (&shop.ledger);
  before = read_bytes (shop.path);
  other = g_build_filename (g_file_peek_path (shop.folder), "new-ledger.sqlite", NULL);
  wal_path = g_strconcat (shop.path, "-wal", NULL);
  g_assert_cmpint (g_chmod (shop.path, 0444), ==, 0);
  g_assert_cmpint (g_chmod (g_file_peek_path (shop.folder), 0555), ==, 0);
  if (user == 0)
    become (NOBODY);

  assert_refused (shop.path, OG_LEDGER_DEFAULT, OG_LEDGER_ERROR_READ_ONLY, "read-only");
  assert_refused (other, OG_LEDGER_DEFAULT, OG_LEDGER_ERROR_READ_ONLY, "read-only");
  reader = shop_must_open (shop.path, OG_LEDGER_READ_ONLY);
  g_assert_true (og_ledger_is_read_only (reader));
  g_assert_cmpint (shop_left (reader, NULL, "A"), ==, 5000);
  g_assert_cmpint (og_ledger_take (reader, OG_JOURNAL_USE, NULL, "A", 1, FALSE, NULL, &error), ==,
                   0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_READ_ONLY);
  g_clear_object (&reader);
  assert_bytes (shop.path, before);

  if (user == 0)
    become (user);
  g_assert_cmpint (g_chmod (g_file_peek_path (shop.folder), 0755), ==, 0);
  write_bytes (wal_path, before);
  g_assert_cmpint (g_chmod (g_file_peek_path (shop.folder), 0555), ==, 0);
  if (user == 0)
    become (NOBODY);
  assert_refused (shop.path, OG_LEDGER_READ_ONLY, OG_LEDGER_ERROR_ACCESS, "last changes");
  if (user == 0)
    become (user);
  g_assert_cmpint (g_chmod (g_file_peek_path (shop.folder), 0755), ==, 0);
  g_assert_cmpint (g_unlink (wal_path), ==, 0);
  if (user == 0)
    become (NOBODY);
  assert_refused (shop.path, OG_LEDGER_DEFAULT, OG_LEDGER_ERROR_READ_ONLY, "read-only");
  if (user == 0)
    become (user);
  g_assert_cmpint (g_chmod (g_file_peek_path (shop.folder), 0700), ==, 0);
  g_assert_cmpint (g_chmod (shop.path, 0600), ==, 0);
  shop.ledger = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  shop_close (&shop);
}

/* SQLite is told that the disk ends here. */
static void
test_full (void)
{
  Shop shop;
  g_autoptr (GError) error = NULL;
  g_autofree char *note_text = g_strnfill (9000, 'n');
  const OgLedgerNote note = { NULL, NULL, note_text };
  gint64 n_entries;
  gint64 id = 1;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A", 5000);
  g_assert_cmpint (sqlite3_exec (shop.ledger->db, "PRAGMA max_page_count = 60", NULL, NULL, NULL),
                   ==, SQLITE_OK);
  for (guint i = 0; i < 100 && id != 0; i++)
    id = og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "A", 1, FALSE, &note, &error);
  g_assert_cmpint (id, ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_FULL);
  g_assert_nonnull (strstr (error->message, "full"));
  n_entries = shop_ask (shop.path, "SELECT count (*) FROM journal");
  g_assert_cmpint (shop_left (shop.ledger, NULL, "A"), ==, 5000 - (n_entries - 1));
  g_assert_cmpint (sqlite3_exec (shop.ledger->db, "PRAGMA max_page_count = 10000", NULL, NULL,
                                 NULL), ==, SQLITE_OK);
  g_clear_error (&error);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "A", 1, FALSE, &note,
                                   &error), >, 0);
  g_assert_no_error (error);
  shop_close (&shop);
}

static void
test_busy (void)
{
  Shop shop;
  sqlite3 *other = NULL;
  g_autoptr (GError) error = NULL;
  gint64 start;

  shop_open (&shop);
  shop_stock (shop.ledger, "castor-oil", "A", 5000);
  g_assert_cmpint (sqlite3_open (shop.path, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, "BEGIN IMMEDIATE", NULL, NULL, NULL), ==, SQLITE_OK);
  g_assert_cmpint (shop_left (shop.ledger, NULL, "A"), ==, 5000);
  start = g_get_monotonic_time ();
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "A", 1, FALSE, NULL, &error),
                   ==, 0);
  g_assert_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_BUSY);
  g_assert_cmpint (g_get_monotonic_time () - start, >, 4 * G_USEC_PER_SEC);
  g_assert_nonnull (strstr (error->message, "in use"));
  sqlite3_close (other);
  g_clear_error (&error);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "A", 1, FALSE, NULL, &error),
                   >, 0);
  g_assert_no_error (error);
  shop_close (&shop);
}

/* --- several at once ------------------------------------------------------------------------ */

static void
count (guint *counter)
{
  (*counter)++;
}

static gboolean
is_told (gpointer counter)
{
  return *(guint *) counter > 0;
}

static void
test_changed (void)
{
  Shop shop;
  g_autoptr (OgLedger) other = NULL;
  g_autoptr (GError) error = NULL;
  guint n_own = 0, n_other = 0;

  shop_open (&shop);
  other = shop_must_open (shop.path, OG_LEDGER_DEFAULT);
  g_signal_connect_swapped (shop.ledger, "changed", G_CALLBACK (count), &n_own);
  g_signal_connect_swapped (other, "changed", G_CALLBACK (count), &n_other);
  g_assert_false (og_ledger_refresh (other));
  shop_stock (shop.ledger, "castor-oil", "A", 5000);
  g_assert_cmpuint (n_own, ==, 1);
  g_assert_cmpint (og_ledger_take (shop.ledger, OG_JOURNAL_USE, NULL, "none", 1, FALSE, NULL,
                                   &error), ==, 0);
  g_assert_cmpuint (n_own, ==, 1);
  g_assert_false (og_ledger_refresh (shop.ledger));
  g_assert_true (og_ledger_refresh (other));
  g_assert_cmpuint (n_other, ==, 1);
  g_assert_false (og_ledger_refresh (other));

  og_ledger_watch (other);
  n_other = 0;
  shop_stock (shop.ledger, "castor-oil", "A", 5000);
  test_run_until (is_told, &n_other, 20);
  g_assert_cmpint (shop_left (other, NULL, "A"), ==, 10000);
  g_clear_object (&other);
  shop_close (&shop);
}

static void
write_many (const char *path,
            guint       who,
            guint       n)
{
  g_autoptr (OgLedger) ledger = shop_must_open (path, OG_LEDGER_DEFAULT);

  for (guint i = 0; i < n; i++)
    shop_stock (ledger, "castor-oil", i % 2 ? "odd" : "even", (gint64) (1 + who * 1000));
}

/* Both begin with no file at all. */
static void
test_two_programs (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autofree char *path = g_build_filename (g_file_peek_path (folder), "ledger.sqlite", NULL);
  pid_t children[2];

  for (guint i = 0; i < 2; i++)
    {
      children[i] = fork ();
      g_assert_cmpint (children[i], >=, 0);
      if (children[i] == 0)
        {
          write_many (path, i, N_EACH);
          _exit (0);
        }
    }
  for (guint i = 0; i < 2; i++)
    {
      int status;

      g_assert_cmpint (waitpid (children[i], &status, 0), ==, children[i]);
      g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
    }
  g_assert_cmpint (shop_ask (path, "SELECT count (*) FROM journal WHERE amount_mg = 1"), ==,
                   N_EACH);
  g_assert_cmpint (shop_ask (path, "SELECT count (*) FROM journal WHERE amount_mg = 1001"), ==,
                   N_EACH);
  g_assert_cmpint (shop_ask (path, "SELECT sum (amount_mg) FROM balance"), ==, N_EACH * 1002);
  test_remove_folder (folder);
}

static gpointer
run_thread (gpointer path)
{
  write_many (path, 0, N_EACH / 4);

  return NULL;
}

static void
test_two_threads (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autofree char *path = g_build_filename (g_file_peek_path (folder), "ledger.sqlite", NULL);
  GThread *threads[2];

  for (guint i = 0; i < 2; i++)
    threads[i] = g_thread_new ("writer", run_thread, path);
  for (guint i = 0; i < 2; i++)
    g_thread_join (threads[i]);
  g_assert_cmpint (shop_ask (path, "SELECT sum (amount_mg) FROM balance"), ==, N_EACH / 2);
  test_remove_folder (folder);
}

/* --- killed at any moment --------------------------------------------------------------------- */

/* What the writer says it has on the disk */
typedef struct
{
  gint64 entry;
  gint64 batch;
} Done;

static void
tell (int  fd,
      Done done)
{
  if (write (fd, &done, sizeof done) != sizeof done)
    _exit (1);
}

static void
write_batch (OgLedger *ledger,
             int       fd)
{
  g_autoptr (OgFormula) formula = shop_recipe ();
  g_autoptr (GError) error = NULL;
  g_autofree char *number
    = og_ledger_plan_batch (ledger, formula, NULL, 1000, NULL, NULL, &error);
  g_autoptr (OgBatch) batch = NULL;

  g_assert_no_error (error);
  shop_weigh (ledger, number, 1, "a", 400);
  shop_weigh (ledger, number, 1, "b", 200);
  g_assert_true (og_ledger_close_batch (ledger, number, OG_CLOSE_ALLOW_UNWEIGHED, NULL, &error));
  batch = og_ledger_get_batch (ledger, number, &error);
  g_assert_no_error (error);
  tell (fd, (Done) { 0, batch->id });
}

static void
write_until_killed (const char *path,
                    int         fd)
{
  g_autoptr (OgLedger) ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
  g_autoptr (GError) error = NULL;

  for (guint i = 0;; i++)
    {
      gint64 id = shop_receive (ledger, "castor-oil", i % 2 ? "a" : "b", 5000, NULL, NAN, &error);

      g_assert_no_error (error);
      tell (fd, (Done) { id, 0 });
      if (i % 4 == 3)
        write_batch (ledger, fd);
    }
}

static void
assert_whole (const char *path,
              const Done *last)
{
  gint64 n_wrong;

  n_wrong = shop_ask (path, "SELECT (SELECT integrity_check <> 'ok' FROM pragma_integrity_check)"
                            " + (SELECT count (*) FROM pragma_foreign_key_check)");
  g_assert_cmpint (n_wrong, ==, 0);
  /* nothing is missing between the first and the last entry, and the last said is there */
  g_assert_cmpint (shop_ask (path, "SELECT coalesce (max (id), 0) - count (*) FROM journal"), ==,
                   0);
  g_assert_cmpint (shop_ask (path, "SELECT coalesce (max (id), 0) FROM journal"), >=, last->entry);
  g_assert_cmpint (shop_ask (path, "SELECT coalesce (max (id), 0) FROM batch"
                                   " WHERE state = 'closed'"), >=, last->batch);
  /* a batch has taken all or nothing */
  g_assert_cmpint (shop_ask (path,
                             "SELECT count (*) FROM batch WHERE"
                             " coalesce ((SELECT sum (amount_mg) FROM journal"
                             "   WHERE batch_id = batch.id), 0)"
                             " <> CASE state WHEN 'closed' THEN -600 ELSE 0 END"), ==, 0);
  g_assert_cmpint (shop_ask (path,
                             "SELECT coalesce ((SELECT sum (amount_mg) FROM journal), 0)"
                             " - coalesce ((SELECT sum (amount_mg) FROM balance), 0)"), ==, 0);
}

/* Returns: whether the writer said anything more; @last: (inout): what was said so far */
static gboolean
hear (int   fd,
      Done *last)
{
  Done done;

  if (read (fd, &done, sizeof done) != sizeof done)
    return FALSE;
  last->entry = MAX (last->entry, done.entry);
  last->batch = MAX (last->batch, done.batch);

  return TRUE;
}

/* Kills the writer some time after it has said @n_said things. */
static void
cut_once (const char *path,
          guint       n_said,
          guint       after_us,
          Done       *last)
{
  int pipes[2];
  pid_t child;

  g_assert_cmpint (pipe (pipes), ==, 0);
  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      close (pipes[0]);
      write_until_killed (path, pipes[1]);
    }
  close (pipes[1]);
  for (guint i = 0; i < n_said; i++)
    g_assert_true (hear (pipes[0], last));
  g_usleep (after_us);
  kill (child, SIGKILL);
  g_assert_cmpint (waitpid (child, NULL, 0), ==, child);
  while (hear (pipes[0], last))
    continue;
  close (pipes[0]);
}

static void
test_cuts (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);
  g_autoptr (GFile) folder = NULL;
  g_autofree char *path = NULL;
  Done last = { 0 };
  gint64 n_entries = 0;

  for (guint n = 0; n < N_CUTS; n++)
    {
      g_autoptr (OgLedger) ledger = NULL;

      if (n % 50 == 0)
        {
          if (folder != NULL)
            test_remove_folder (folder);
          g_clear_object (&folder);
          g_clear_pointer (&path, g_free);
          folder = test_make_folder ();
          path = g_build_filename (g_file_peek_path (folder), "ledger.sqlite", NULL);
          n_entries += last.entry;
          last = (Done) { 0 };
        }
      cut_once (path, (guint) g_rand_int_range (rand, 0, 4),
                (guint) g_rand_int_range (rand, 0, 8000), &last);
      ledger = shop_must_open (path, OG_LEDGER_DEFAULT);
      g_assert_null (og_ledger_get_set_aside (ledger));
      assert_whole (path, &last);
    }
  g_test_message ("%" G_GINT64_FORMAT " entries said and found", n_entries + last.entry);
  g_assert_cmpint (n_entries + last.entry, >, N_CUTS);
  test_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/ledger-file/new", test_new);
  g_test_add_func ("/ledger-file/just-begun", test_just_begun);
  g_test_add_func ("/ledger-file/migrations", test_migrations);
  g_test_add_func ("/ledger-file/newer", test_newer);
  g_test_add_func ("/ledger-file/other-database", test_other_database);
  g_test_add_func ("/ledger-file/damaged", test_damaged);
  g_test_add_func ("/ledger-file/damaged-wal", test_damaged_wal);
  g_test_add_func ("/ledger-file/wounds", test_wounds);
  g_test_add_func ("/ledger-file/read-only", test_read_only);
  g_test_add_func ("/ledger-file/full", test_full);
  g_test_add_func ("/ledger-file/busy", test_busy);
  g_test_add_func ("/ledger-file/changed", test_changed);
  g_test_add_func ("/ledger-file/two-programs", test_two_programs);
  g_test_add_func ("/ledger-file/two-threads", test_two_threads);
  g_test_add_func ("/ledger-file/cuts", test_cuts);

  return g_test_run ();
}
