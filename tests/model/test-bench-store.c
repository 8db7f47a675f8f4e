/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/recipe/bench-log.h"
#include "core/recipe/storage.h"
#include "helpers.h"
#include "racing-file.h"

#define N_PROGRAMS 4
#define N_EACH 10
#define NOBODY 65534

/* The folder of a test, the file in it, and a store on that. */
typedef struct
{
  GFile        *folder;
  GFile        *file;
  OgBenchStore *store;
} Bench;

static void
bench_open (Bench *bench)
{
  bench->folder = test_make_folder ();
  bench->file = g_file_get_child (bench->folder, OG_BENCH_STORE_NAME);
  bench->store = og_bench_store_new (bench->file);
}

static void
bench_close (Bench *bench)
{
  g_assert_finalize_object (bench->store);
  test_remove_folder (bench->folder);
  g_object_unref (bench->file);
  g_object_unref (bench->folder);
}

static void
must_add (OgBenchStore *store,
          const char   *material_id,
          double        mpa_s)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (og_bench_store_add (store, test_reading (material_id, mpa_s), &error));
  g_assert_no_error (error);
}

static guint
count_in (OgBenchStore *store)
{
  return og_bench_store_get_measurements (store)->len;
}

static const OgMeasurement *
find (OgBenchStore *store,
      const char   *id)
{
  return og_measurements_find (og_bench_store_get_measurements (store), id, NULL);
}

static char *
read_file (GFile *file)
{
  g_autoptr (GError) error = NULL;
  char *text;

  g_assert_true (g_file_load_contents (file, NULL, &text, NULL, NULL, &error));
  g_assert_no_error (error);

  return text;
}

static void
write_file (GFile      *file,
            const char *text)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents (g_file_peek_path (file), text, -1, &error));
  g_assert_no_error (error);
}

static GFile *
beside (const Bench *bench,
        const char  *name)
{
  return g_file_get_child (bench->folder, name);
}

static gboolean
is_there (const Bench *bench,
          const char  *name)
{
  g_autoptr (GFile) file = beside (bench, name);

  return g_file_query_exists (file, NULL);
}

static void
assert_store_error (OgBenchStore *store,
                    GQuark        domain,
                    int           code)
{
  g_autoptr (GError) error = og_bench_store_dup_error (store);

  g_assert_error (error, domain, code);
}

static void
assert_no_store_error (OgBenchStore *store)
{
  g_autoptr (GError) error = og_bench_store_dup_error (store);

  g_assert_no_error (error);
}

static void
count (guint *counter)
{
  (*counter)++;
}

static void
test_missing (void)
{
  Bench bench;
  g_autoptr (GFile) deep = NULL;
  OgBenchStore *store;

  bench_open (&bench);
  g_assert_cmpuint (count_in (bench.store), ==, 0);
  assert_no_store_error (bench.store);
  g_assert_true (og_bench_store_get_file (bench.store) == bench.file);
  g_assert_false (is_there (&bench, OG_BENCH_STORE_NAME));

  deep = g_file_resolve_relative_path (bench.folder, "a/b/" OG_BENCH_STORE_NAME);
  store = og_bench_store_new (deep);
  assert_no_store_error (store);
  g_assert_false (is_there (&bench, "a"));
  must_add (store, "castor-oil", 700);
  g_assert_true (g_file_query_exists (deep, NULL));
  g_assert_finalize_object (store);
  bench_close (&bench);
}

static OgMeasurement *
cup_reading (void)
{
  OgMeasurement *measurement = og_measurement_new ();

  measurement->material_id = g_strdup ("jojoba-oil");
  measurement->reading.temperature_c = 24.5;
  measurement->reading.method = OG_METHOD_CUP;
  measurement->reading.cup = OG_CUP_ISO_3;
  measurement->reading.seconds[0] = 44.5;
  measurement->reading.seconds[1] = 45.25;
  measurement->reading.n_seconds = 2;
  measurement->reduced.density_g_ml = 0.865;
  g_free (measurement->note);
  measurement->note = g_strdup ("Pier 3, \"küche\"\n");

  return measurement;
}

static void
test_round_trip (void)
{
  Bench bench;
  OgBenchStore *again;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GBytes) bytes_again = NULL;
  g_autoptr (OgBenchLog) log = NULL;
  const OgMeasurement *cup;
  guint n_changes = 0;

  bench_open (&bench);
  g_signal_connect_swapped (bench.store, "changed", G_CALLBACK (count), &n_changes);
  must_add (bench.store, "castor-oil", 700);
  g_assert_true (og_bench_store_add (bench.store, cup_reading (), &error));
  must_add (bench.store, "castor-oil", 720);
  g_assert_true (og_bench_store_set_aside (bench.store, "m1", TRUE, &error));
  g_assert_true (og_bench_store_accept (bench.store, "m2", TRUE, &error));
  g_assert_true (og_bench_store_remove (bench.store, "m3", &error));
  g_assert_no_error (error);
  g_assert_cmpuint (n_changes, ==, 6);

  again = og_bench_store_new (bench.file);
  g_assert_cmpuint (count_in (again), ==, 2);
  g_assert_true (find (again, "m1")->set_aside);
  g_assert_false (find (again, "m1")->accepted);
  cup = find (again, "m2");
  g_assert_true (cup->accepted);
  g_assert_cmpstr (cup->note, ==, "Pier 3, \"küche\"\n");
  g_assert_cmpfloat (cup->reading.seconds[1], ==, 45.25);
  g_assert_cmpfloat (cup->reduced.mpa_s, ==, find (bench.store, "m2")->reduced.mpa_s);
  g_object_unref (again);

  text = read_file (bench.file);
  bytes = g_bytes_new_static (text, strlen (text));
  log = og_bench_log_parse (bytes, "log", &error);
  g_assert_no_error (error);
  bytes_again = og_bench_log_serialise (log);
  g_assert_true (g_bytes_equal (bytes, bytes_again));

  g_assert_true (og_bench_store_set_aside (bench.store, "m1", FALSE, &error));
  g_assert_true (og_bench_store_accept (bench.store, "m2", FALSE, &error));
  g_assert_false (find (bench.store, "m1")->set_aside);
  g_assert_false (find (bench.store, "m2")->accepted);
  bench_close (&bench);
}

static void
test_refusals (void)
{
  Bench bench;
  g_autoptr (GError) error = NULL;
  OgMeasurement *fast = cup_reading ();

  bench_open (&bench);
  fast->reading.seconds[0] = 1;
  g_assert_false (og_bench_store_add (bench.store, fast, &error));
  g_assert_error (error, OG_BENCH_ERROR, OG_BENCH_ERROR_RANGE);
  g_clear_error (&error);
  g_assert_false (og_bench_store_add (bench.store, test_reading ("", 700), &error));
  g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
  g_clear_error (&error);
  g_assert_false (og_bench_store_remove (bench.store, "m1", &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_false (og_bench_store_set_aside (bench.store, "m1", TRUE, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_assert_false (og_bench_store_accept (bench.store, "m1", TRUE, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_cmpuint (count_in (bench.store), ==, 0);
  g_assert_false (is_there (&bench, OG_BENCH_STORE_NAME));
  bench_close (&bench);
}

/* No main loop runs in between: neither has heard of what the other did. */
static void
test_two_stores (void)
{
  Bench bench;
  OgBenchStore *other;
  g_autoptr (GError) error = NULL;

  bench_open (&bench);
  other = og_bench_store_new (bench.file);
  for (guint i = 0; i < 20; i++)
    {
      must_add (bench.store, "castor-oil", 700 + i);
      must_add (other, "jojoba-oil", 35 + i);
    }

  g_assert_cmpuint (count_in (other), ==, 40);
  g_assert_cmpuint (count_in (bench.store), ==, 39);
  g_assert_true (og_bench_store_remove (bench.store, "m40", &error));
  g_assert_true (og_bench_store_set_aside (other, "m1", TRUE, &error));
  g_assert_false (og_bench_store_remove (other, "m40", &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_cmpuint (count_in (other), ==, 39);
  for (guint i = 0; i < 39; i++)
    {
      g_autofree char *id = g_strdup_printf ("m%u", i + 1);

      g_assert_cmpstr (find (other, id)->material_id, ==, i % 2 == 0 ? "castor-oil" : "jojoba-oil");
    }
  g_object_unref (other);
  bench_close (&bench);
}

static gboolean
has_two (gpointer store)
{
  return count_in (store) == 2;
}

static gboolean
has_none (gpointer store)
{
  return count_in (store) == 0;
}

static gboolean
has_error (gpointer store)
{
  g_autoptr (GError) error = og_bench_store_dup_error (store);

  return error != NULL;
}

static gboolean
has_no_error (gpointer store)
{
  return !has_error (store);
}

static void
test_outside_changes (void)
{
  Bench bench;
  OgBenchStore *other;
  guint n_changes = 0;

  bench_open (&bench);
  g_signal_connect_swapped (bench.store, "changed", G_CALLBACK (count), &n_changes);
  other = og_bench_store_new (bench.file);
  must_add (other, "castor-oil", 700);
  must_add (other, "castor-oil", 710);
  test_run_until (has_two, bench.store, 20);
  g_assert_cmpuint (n_changes, <=, 2);
  g_assert_cmpfloat (find (bench.store, "m2")->reduced.mpa_s, ==, 710);

  /* what it wrote itself is no news */
  test_run_for (300);
  n_changes = 0;
  must_add (bench.store, "castor-oil", 720);
  g_assert_cmpuint (n_changes, ==, 1);
  test_run_for (300);
  g_assert_cmpuint (n_changes, ==, 1);

  g_assert_cmpint (g_unlink (g_file_peek_path (bench.file)), ==, 0);
  test_run_until (has_none, bench.store, 20);
  assert_no_store_error (bench.store);
  g_object_unref (other);
  bench_close (&bench);
}

/* Many windows at once are as many programs. */
static int
run_program (const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (OgBenchStore) store = og_bench_store_new (file);

  for (guint i = 0; i < N_EACH; i++)
    must_add (store, "castor-oil", 700 + i);

  return 0;
}

static void
test_many_programs (void)
{
  Bench bench;
  GSubprocess *programs[N_PROGRAMS];
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBenchStore) again = NULL;

  bench_open (&bench);
  for (guint i = 0; i < N_PROGRAMS; i++)
    {
      programs[i] = g_subprocess_new (G_SUBPROCESS_FLAGS_NONE, &error, "/proc/self/exe", "--write",
                                      g_file_peek_path (bench.file), NULL);
      g_assert_no_error (error);
    }
  for (guint i = 0; i < N_PROGRAMS; i++)
    {
      g_assert_true (g_subprocess_wait_check (programs[i], NULL, &error));
      g_assert_no_error (error);
      g_object_unref (programs[i]);
    }

  again = og_bench_store_new (bench.file);
  assert_no_store_error (again);
  g_assert_cmpuint (count_in (again), ==, N_PROGRAMS * N_EACH);
  g_clear_object (&again);
  bench_close (&bench);
}

/* A program that knows of no lock writes between reading and writing. */
static void
write_in_between (RacingFile *racing,
                  gpointer    user_data)
{
  g_autoptr (OgBenchStore) other = og_bench_store_new (user_data);

  /* versions are told apart by time, in steps of the kernel's clock */
  g_usleep (20 * 1000);
  must_add (other, "jojoba-oil", 35);
}

static void
test_no_lock (void)
{
  Bench bench;
  RacingFile *racing;
  OgBenchStore *store;
  g_autoptr (GError) error = NULL;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  racing = racing_file_new (bench.file, write_in_between, bench.file);
  store = og_bench_store_new (G_FILE (racing));
  g_assert_cmpuint (count_in (store), ==, 1);

  racing->n_races = 2;
  must_add (store, "castor-oil", 720);
  g_assert_cmpuint (racing->n_races, ==, 0);
  g_assert_cmpuint (count_in (store), ==, 4);
  g_assert_cmpfloat (find (store, "m4")->reduced.mpa_s, ==, 720);

  /* it does not try for ever */
  racing->n_races = 100;
  g_assert_false (og_bench_store_add (store, test_reading ("castor-oil", 730), &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG);
  g_clear_error (&error);
  racing->n_races = 0;
  must_add (store, "castor-oil", 740);
  g_assert_cmpuint (count_in (store), ==, 10);

  g_assert_finalize_object (store);
  test_run_for (300);
  g_assert_finalize_object (racing);
  bench_close (&bench);
}

/* Nor is a file written over that came up just then. */
static void
test_no_lock_no_file (void)
{
  Bench bench;
  RacingFile *racing;
  OgBenchStore *store;

  bench_open (&bench);
  racing = racing_file_new (bench.file, write_in_between, bench.file);
  store = og_bench_store_new (G_FILE (racing));
  test_run_for (300);
  racing->nth_look = 2;
  must_add (store, "castor-oil", 720);
  g_assert_cmpuint (racing->nth_look, ==, 0);
  g_assert_cmpuint (count_in (store), ==, 2);
  g_object_unref (store);
  g_object_unref (racing);
  bench_close (&bench);
}

static void
test_busy (void)
{
  Bench bench;
  g_autoptr (GError) error = NULL;
  OgBenchStore *late;
  int fd;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  fd = g_open (g_file_peek_path (bench.folder), O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);
  g_assert_cmpint (flock (fd, LOCK_EX | LOCK_NB), ==, 0);
  g_assert_false (og_bench_store_add (bench.store, test_reading ("castor-oil", 710), &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_BUSY);
  g_assert_cmpuint (count_in (bench.store), ==, 1);

  late = og_bench_store_new (bench.file);
  assert_store_error (late, G_IO_ERROR, G_IO_ERROR_BUSY);
  close (fd);
  must_add (bench.store, "castor-oil", 710);
  test_run_until (has_two, late, 20);
  assert_no_store_error (late);
  g_object_unref (late);
  bench_close (&bench);
}

static void
assert_broken_is (const Bench *bench,
                  const char  *name,
                  const char  *text)
{
  g_autoptr (GFile) file = beside (bench, name);
  g_autofree char *found = read_file (file);

  g_assert_cmpstr (found, ==, text);
}

static void
reopen (Bench *bench)
{
  g_assert_finalize_object (bench->store);
  bench->store = og_bench_store_new (bench->file);
}

static void
test_broken (void)
{
  Bench bench;
  g_autoptr (GError) error = NULL;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  write_file (bench.file, "{ oops");
  reopen (&bench);
  g_assert_cmpuint (count_in (bench.store), ==, 0);
  error = og_bench_store_dup_error (bench.store);
  g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX);
  g_assert_nonnull (strstr (error->message, OG_BENCH_STORE_NAME ".broken"));
  g_assert_false (is_there (&bench, OG_BENCH_STORE_NAME));
  assert_broken_is (&bench, OG_BENCH_STORE_NAME ".broken", "{ oops");
  test_run_for (300);
  assert_store_error (bench.store, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX);

  must_add (bench.store, "castor-oil", 710);
  assert_no_store_error (bench.store);
  assert_broken_is (&bench, OG_BENCH_STORE_NAME ".broken", "{ oops");

  write_file (bench.file, "[]");
  reopen (&bench);
  assert_store_error (bench.store, OG_STORAGE_ERROR, OG_STORAGE_ERROR_NOT_A_DOCUMENT);
  assert_broken_is (&bench, OG_BENCH_STORE_NAME ".broken", "{ oops");
  assert_broken_is (&bench, OG_BENCH_STORE_NAME ".broken-2", "[]");
  bench_close (&bench);
}

/* It may be half written only: it stays until something has to be written, and nothing is lost. */
static void
test_broken_meanwhile (void)
{
  Bench bench;
  g_autofree char *text = NULL;
  guint n_changes = 0;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  test_run_for (300);
  text = read_file (bench.file);
  g_signal_connect_swapped (bench.store, "changed", G_CALLBACK (count), &n_changes);

  write_file (bench.file, "{ oo");
  test_run_until (has_error, bench.store, 20);
  g_assert_cmpuint (n_changes, ==, 1);
  g_assert_cmpuint (count_in (bench.store), ==, 1);
  assert_broken_is (&bench, OG_BENCH_STORE_NAME, "{ oo");

  write_file (bench.file, text);
  test_run_until (has_no_error, bench.store, 20);
  g_assert_cmpuint (count_in (bench.store), ==, 1);
  g_assert_false (is_there (&bench, OG_BENCH_STORE_NAME ".broken"));

  write_file (bench.file, "{ ooops");
  must_add (bench.store, "castor-oil", 710);
  assert_store_error (bench.store, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX);
  g_assert_cmpuint (count_in (bench.store), ==, 2);
  assert_broken_is (&bench, OG_BENCH_STORE_NAME ".broken", "{ ooops");
  reopen (&bench);
  g_assert_cmpuint (count_in (bench.store), ==, 2);
  bench_close (&bench);
}

static void
assert_stuck (Bench  *bench,
              GQuark  domain,
              int     code)
{
  g_autoptr (GError) error = NULL;

  reopen (bench);
  assert_store_error (bench->store, domain, code);
  g_assert_cmpuint (count_in (bench->store), ==, 0);
  g_assert_false (og_bench_store_add (bench->store, test_reading ("castor-oil", 700), &error));
  g_assert_error (error, domain, code);
  g_assert_false (is_there (bench, OG_BENCH_STORE_NAME ".broken"));
}

/* What is not broken but out of reach stays where it is. */
static void
test_out_of_reach (void)
{
  const char newer[] = "{\"format\": \"oleograph-bench-log\", \"version\": 2}";
  Bench bench;

  bench_open (&bench);
  write_file (bench.file, newer);
  assert_stuck (&bench, OG_STORAGE_ERROR, OG_STORAGE_ERROR_NEWER_VERSION);
  assert_broken_is (&bench, OG_BENCH_STORE_NAME, newer);

  g_assert_cmpint (g_unlink (g_file_peek_path (bench.file)), ==, 0);
  g_assert_cmpint (g_mkdir (g_file_peek_path (bench.file), 0700), ==, 0);
  assert_stuck (&bench, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY);

  g_assert_cmpint (g_rmdir (g_file_peek_path (bench.file)), ==, 0);
  g_assert_cmpint (mkfifo (g_file_peek_path (bench.file), 0600), ==, 0);
  assert_stuck (&bench, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE);
  bench_close (&bench);
}

static void
test_folder_is_a_file (void)
{
  Bench bench;
  g_autoptr (GFile) below = NULL;
  g_autoptr (OgBenchStore) store = NULL;
  g_autoptr (GError) error = NULL;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  below = g_file_get_child (bench.file, OG_BENCH_STORE_NAME);
  store = og_bench_store_new (below);
  g_assert_false (og_bench_store_add (store, test_reading ("castor-oil", 700), &error));
  g_assert_nonnull (error);
  g_assert_cmpuint (count_in (store), ==, 0);
  g_clear_object (&store);
  reopen (&bench);
  g_assert_cmpuint (count_in (bench.store), ==, 1);
  bench_close (&bench);
}

/* Root may write everywhere, so that another user has to try. */
static void
become (uid_t user)
{
  g_assert_cmpint (seteuid (user), ==, 0);
}

static void
test_read_only_folder (void)
{
  const uid_t user = geteuid ();
  Bench bench;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  before = read_file (bench.file);
  g_assert_cmpint (g_chmod (g_file_peek_path (bench.file), 0666), ==, 0);
  g_assert_cmpint (g_chmod (g_file_peek_path (bench.folder), 0555), ==, 0);
  if (user == 0)
    become (NOBODY);

  reopen (&bench);
  assert_no_store_error (bench.store);
  g_assert_cmpuint (count_in (bench.store), ==, 1);
  g_assert_false (og_bench_store_add (bench.store, test_reading ("castor-oil", 710), &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANT_CREATE_BACKUP);
  g_assert_nonnull (strstr (error->message, OG_BENCH_STORE_NAME));
  g_clear_error (&error);
  g_assert_false (og_bench_store_remove (bench.store, "m1", &error));
  g_assert_nonnull (error);
  g_assert_cmpuint (count_in (bench.store), ==, 1);
  after = read_file (bench.file);
  g_assert_cmpstr (after, ==, before);

  /* a broken file that cannot be moved is not written over either */
  if (user == 0)
    become (user);
  write_file (bench.file, "{ oops");
  g_assert_cmpint (g_chmod (g_file_peek_path (bench.file), 0666), ==, 0);
  if (user == 0)
    become (NOBODY);
  assert_stuck (&bench, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX);
  assert_broken_is (&bench, OG_BENCH_STORE_NAME, "{ oops");

  if (user == 0)
    become (user);
  g_assert_cmpint (g_chmod (g_file_peek_path (bench.folder), 0700), ==, 0);
  bench_close (&bench);
}

static void
test_link (void)
{
  Bench bench;
  g_autoptr (GFile) link = NULL;
  OgBenchStore *store;

  bench_open (&bench);
  must_add (bench.store, "castor-oil", 700);
  link = beside (&bench, "link.json");
  g_assert_cmpint (symlink (g_file_peek_path (bench.file), g_file_peek_path (link)), ==, 0);
  store = og_bench_store_new (link);
  must_add (store, "castor-oil", 710);
  g_assert_true (g_file_test (g_file_peek_path (link), G_FILE_TEST_IS_SYMLINK));
  g_object_unref (store);
  reopen (&bench);
  g_assert_cmpuint (count_in (bench.store), ==, 2);
  bench_close (&bench);
}

/* Nothing that is still to come holds a store, or comes to one that is gone. */
static void
test_end (void)
{
  Bench bench;
  OgBenchStore *other;

  bench_open (&bench);
  other = og_bench_store_new (bench.file);
  must_add (other, "castor-oil", 700);
  for (guint i = 0; i < 20; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_finalize_object (other);
  bench_close (&bench);
  test_run_for (200);
}

int
main (int    argc,
      char **argv)
{
  if (argc == 3 && g_str_equal (argv[1], "--write"))
    return run_program (argv[2]);

  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/bench-store/missing", test_missing);
  g_test_add_func ("/bench-store/round-trip", test_round_trip);
  g_test_add_func ("/bench-store/refusals", test_refusals);
  g_test_add_func ("/bench-store/two-stores", test_two_stores);
  g_test_add_func ("/bench-store/outside-changes", test_outside_changes);
  g_test_add_func ("/bench-store/many-programs", test_many_programs);
  g_test_add_func ("/bench-store/no-lock", test_no_lock);
  g_test_add_func ("/bench-store/no-lock-no-file", test_no_lock_no_file);
  g_test_add_func ("/bench-store/busy", test_busy);
  g_test_add_func ("/bench-store/broken", test_broken);
  g_test_add_func ("/bench-store/broken-meanwhile", test_broken_meanwhile);
  g_test_add_func ("/bench-store/out-of-reach", test_out_of_reach);
  g_test_add_func ("/bench-store/folder-is-a-file", test_folder_is_a_file);
  g_test_add_func ("/bench-store/read-only-folder", test_read_only_folder);
  g_test_add_func ("/bench-store/link", test_link);
  g_test_add_func ("/bench-store/end", test_end);

  return g_test_run ();
}
