/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/document-io.h"

#include <glib/gstdio.h>
#include <math.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/recipe/recipe-table.h"
#include "helpers.h"

static const char *program;

/* Waiting for what runs beside */

typedef struct
{
  gboolean done;
  gboolean ok;
  GError  *error;
} Outcome;

static void
on_loaded (GObject      *source,
           GAsyncResult *result,
           gpointer      user_data)
{
  Outcome *outcome = user_data;

  outcome->ok = og_document_load_finish (OG_DOCUMENT (source), result, &outcome->error);
  outcome->done = TRUE;
}

static void
on_saved (GObject      *source,
          GAsyncResult *result,
          gpointer      user_data)
{
  Outcome *outcome = user_data;

  outcome->ok = og_document_save_finish (OG_DOCUMENT (source), result, &outcome->error);
  outcome->done = TRUE;
}

static gboolean
is_done (gpointer outcome)
{
  return ((Outcome *) outcome)->done;
}

static gboolean
load (OgDocument  *document,
      GFile       *file,
      GError     **error)
{
  Outcome outcome = { FALSE, FALSE, NULL };

  og_document_load_async (document, file, NULL, on_loaded, &outcome);
  test_run_until (is_done, &outcome, 20);
  g_assert_cmpint (outcome.ok, ==, outcome.error == NULL);
  if (outcome.error != NULL)
    g_propagate_error (error, outcome.error);

  return outcome.ok;
}

static gboolean
save (OgDocument  *document,
      GFile       *file,
      gboolean     overwrite,
      GError     **error)
{
  Outcome outcome = { FALSE, FALSE, NULL };

  og_document_save_async (document, file, overwrite, NULL, on_saved, &outcome);
  test_run_until (is_done, &outcome, 20);
  g_assert_cmpint (outcome.ok, ==, outcome.error == NULL);
  if (outcome.error != NULL)
    g_propagate_error (error, outcome.error);

  return outcome.ok;
}

static void
must_load (OgDocument *document,
           GFile      *file)
{
  g_autoptr (GError) error = NULL;

  load (document, file, &error);
  g_assert_no_error (error);
}

static void
must_save (OgDocument *document,
           GFile      *file)
{
  g_autoptr (GError) error = NULL;

  save (document, file, FALSE, &error);
  g_assert_no_error (error);
}

static char *
read_text (GFile *file)
{
  g_autoptr (GError) error = NULL;
  char *text = NULL;

  g_file_load_contents (file, NULL, &text, NULL, NULL, &error);
  g_assert_no_error (error);

  return text;
}

static void
write_text (GFile      *file,
            const char *text)
{
  g_autoptr (GError) error = NULL;

  g_file_set_contents (g_file_peek_path (file), text, -1, &error);
  g_assert_no_error (error);
}

static void
assert_file_is (GFile      *file,
                const char *text)
{
  g_autofree char *found = read_text (file);

  g_assert_cmpstr (found, ==, text);
}

static guint
count_files (GFile *folder)
{
  g_autoptr (GDir) dir = g_dir_open (g_file_peek_path (folder), 0, NULL);
  guint n = 0;

  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;

  return n;
}

static gboolean
is_changed_on_disk (gpointer document)
{
  return og_document_get_changed_on_disk (document);
}

/* Files */

static void
test_load_again (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  OgDocument *other = test_document ();
  Outcome outcome = { FALSE, FALSE, NULL };

  must_save (document, file);
  og_document_set_title (document, "Mine");
  must_load (other, file);
  og_document_set_title (other, "Theirs");
  must_save (other, NULL);
  test_run_until (is_changed_on_disk, document, 20);

  og_document_load_again_async (document, NULL, on_loaded, &outcome);
  test_run_until (is_done, &outcome, 20);
  g_assert_no_error (outcome.error);
  g_assert_cmpstr (og_document_get_title (document), ==, "Theirs");
  g_assert_false (og_document_get_modified (document));
  g_assert_false (og_document_get_changed_on_disk (document));

  /* what was here is one step back, and may be saved: the other file was seen */
  og_document_undo (document);
  g_assert_cmpstr (og_document_get_title (document), ==, "Mine");
  g_assert_true (og_document_get_modified (document));
  must_save (document, NULL);
  og_document_undo (document);
  g_assert_cmpstr (og_document_get_title (document), ==, "");
  og_document_redo (document);
  og_document_redo (document);
  g_assert_cmpstr (og_document_get_title (document), ==, "Theirs");

  g_object_unref (document);
  g_object_unref (other);
  test_remove_folder (folder);
}

/* A file that cannot be read any more takes nothing away; one that says the same makes no step. */
static void
test_load_again_in_vain (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  Outcome same = { FALSE, FALSE, NULL };
  Outcome broken = { FALSE, FALSE, NULL };

  must_save (document, file);
  og_document_load_again_async (document, NULL, on_loaded, &same);
  test_run_until (is_done, &same, 20);
  g_assert_true (same.ok);
  g_assert_cmpstr (og_document_get_undo_label (document), !=, "Load again from disk");

  og_document_set_title (document, "Mine");
  write_text (file, "{ \"format\": ");
  og_document_load_again_async (document, NULL, on_loaded, &broken);
  test_run_until (is_done, &broken, 20);
  g_assert_false (broken.ok);
  g_assert_true (broken.error->domain == OG_STORAGE_ERROR);
  g_clear_error (&broken.error);
  g_assert_cmpstr (og_document_get_title (document), ==, "Mine");
  g_assert_true (og_document_get_modified (document));

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_round_trip (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "Lippenöl 1.oleograph");
  OgDocument *document = test_filled_document ();
  OgDocument *other = test_document ();
  g_autoptr (OgIngredient) material = test_own_material ("own-one", "<b>Own</b> & more");
  g_autofree char *text = NULL;
  g_autofree char *again = NULL;

  og_document_put_material (document, material);
  og_document_set_notes (document, "=1+1\n\"quoted\"");
  og_document_set_batch_g (document, 0.1 + 0.2);
  g_assert_null (og_document_get_file (document));
  g_assert_true (og_document_get_modified (document));
  must_save (document, file);
  g_assert_false (og_document_get_modified (document));
  g_assert_true (g_file_equal (og_document_get_file (document), file));
  g_assert_cmpuint (count_files (folder), ==, 1);
  text = test_serialise (document);
  assert_file_is (file, text);

  must_load (other, file);
  again = test_serialise (other);
  g_assert_cmpstr (again, ==, text);
  g_assert_false (og_document_get_modified (other));
  g_assert_false (og_document_can_undo (other));
  g_assert_true (g_file_equal (og_document_get_file (other), file));
  g_assert_cmpstr (og_catalog_get (og_document_get_catalog (other), "own-one")->name, ==,
                   "<b>Own</b> & more");

  /* what was loaded can be edited and saved where it came from */
  og_document_set_title (other, "Second");
  must_save (other, NULL);
  g_free (again);
  again = test_serialise (other);
  assert_file_is (file, again);

  test_finalize (document);
  test_finalize (other);
  test_remove_folder (folder);
}

static void
test_backup (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  g_autoptr (GFile) backup = g_file_get_child (folder, "a.oleograph~");
  OgDocument *document = test_filled_document ();
  g_autofree char *first = test_serialise (document);
  g_autofree char *second = NULL;

  must_save (document, file);
  g_assert_false (g_file_query_exists (backup, NULL));
  og_document_set_title (document, "Second");
  second = test_serialise (document);
  must_save (document, NULL);
  assert_file_is (file, second);
  assert_file_is (backup, first);
  og_document_set_title (document, "Third");
  must_save (document, NULL);
  assert_file_is (backup, second);
  g_assert_cmpuint (count_files (folder), ==, 2);

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_link (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) target = g_file_get_child (folder, "target.oleograph");
  g_autoptr (GFile) link = g_file_get_child (folder, "link.oleograph");
  OgDocument *document = test_filled_document ();
  g_autofree char *text = NULL;

  must_save (document, target);
  g_assert_cmpint (symlink ("target.oleograph", g_file_peek_path (link)), ==, 0);
  must_load (document, link);
  og_document_set_title (document, "Through a link");
  must_save (document, NULL);
  text = test_serialise (document);
  assert_file_is (target, text);
  g_assert_true (g_file_test (g_file_peek_path (link), G_FILE_TEST_IS_SYMLINK));
  g_assert_true (g_file_equal (og_document_get_file (document), link));
  test_run_for (300);
  g_assert_false (og_document_get_changed_on_disk (document));

  g_object_unref (document);
  test_remove_folder (folder);
}

/* Another name of the file goes on showing the previous version, whole; nothing is written over it. */
static void
test_second_name (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "gloss.oleograph");
  g_autoptr (GFile) other = g_file_get_child (folder, "other.oleograph");
  OgDocument *document = test_filled_document ();
  g_autofree char *before = test_serialise (document);
  g_autofree char *after = NULL;
  GStatBuf status;

  must_save (document, file);
  g_assert_cmpint (g_chmod (g_file_peek_path (file), 0640), ==, 0);
  g_assert_cmpint (link (g_file_peek_path (file), g_file_peek_path (other)), ==, 0);
  must_load (document, file);
  og_document_set_title (document, "By its first name");
  must_save (document, NULL);
  after = test_serialise (document);
  assert_file_is (file, after);
  assert_file_is (other, before);
  g_assert_cmpint (g_stat (g_file_peek_path (file), &status), ==, 0);
  g_assert_cmpuint (status.st_mode & 0777, ==, 0640);

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_table (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "Harbour gloss.csv");
  OgDocument *document = test_filled_document ();
  const OgFormula *formula;

  write_text (file, "\xef\xbb\xbfphase,ingredient,percent\r\n"
                    "A,Beeswax,5\r\nA,castor-oil,balance\r\n");
  must_load (document, file);
  formula = og_document_get_formula (document);
  g_assert_null (og_document_get_file (document));
  g_assert_cmpstr (og_document_get_title (document), ==, "Harbour gloss");
  g_assert_cmpint (og_formula_find_ingredient (formula, "castor-oil")->amount, ==, 950000);
  g_assert_false (og_document_can_undo (document));

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
assert_load_fails (OgDocument *document,
                   GFile      *file,
                   GQuark      domain,
                   int         code)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = test_serialise (document);
  g_autofree char *after = NULL;

  g_assert_false (load (document, file, &error));
  g_assert_error (error, domain, code);
  after = test_serialise (document);
  g_assert_cmpstr (after, ==, before);
  g_assert_true (og_document_can_undo (document));
  g_assert_null (og_document_get_file (document));
}

static void
test_load_errors (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) missing = g_file_get_child (folder, "missing.oleograph");
  g_autoptr (GFile) broken = g_file_get_child (folder, "broken.oleograph");
  g_autoptr (GFile) newer = g_file_get_child (folder, "newer.oleograph");
  g_autoptr (GFile) foreign = g_file_get_child (folder, "foreign.json");
  g_autoptr (GFile) empty = g_file_get_child (folder, "empty.csv");
  g_autoptr (GFile) huge = g_file_get_child (folder, "huge.oleograph");
  g_autoptr (GFile) zero = g_file_new_for_path ("/dev/zero");
  OgDocument *document = test_filled_document ();

  write_text (broken, "{ \"format\": \"oleograph-document\", ");
  write_text (newer, "{ \"batch_g\": 1, \"format\": \"oleograph-document\", \"phases\": [],"
                     " \"version\": 3 }");
  write_text (foreign, "[1, 2]");
  write_text (empty, "");
  write_text (huge, "");
  g_assert_cmpint (truncate (g_file_peek_path (huge), 65 * 1024 * 1024), ==, 0);

  assert_load_fails (document, missing, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  assert_load_fails (document, folder, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY);
  assert_load_fails (document, zero, G_IO_ERROR, G_IO_ERROR_NOT_REGULAR_FILE);
  assert_load_fails (document, broken, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX);
  assert_load_fails (document, newer, OG_STORAGE_ERROR, OG_STORAGE_ERROR_NEWER_VERSION);
  assert_load_fails (document, foreign, OG_STORAGE_ERROR, OG_STORAGE_ERROR_NOT_A_DOCUMENT);
  assert_load_fails (document, empty, OG_TABLE_ERROR, OG_TABLE_ERROR_HEADER);
  assert_load_fails (document, huge, OG_STORAGE_ERROR, OG_STORAGE_ERROR_TOO_LARGE);

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_conflict (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  g_autoptr (GFile) backup = g_file_get_child (folder, "a.oleograph~");
  OgDocument *document = test_filled_document ();
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  must_save (document, file);
  og_document_set_title (document, "Ours");
  g_usleep (20000);
  write_text (file, "theirs");

  g_assert_false (save (document, NULL, FALSE, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG);
  assert_file_is (file, "theirs");
  g_assert_true (og_document_get_modified (document));
  g_assert_cmpstr (og_document_get_title (document), ==, "Ours");
  g_clear_error (&error);

  g_assert_true (save (document, NULL, TRUE, &error));
  g_assert_no_error (error);
  text = test_serialise (document);
  assert_file_is (file, text);
  assert_file_is (backup, "theirs");
  g_assert_false (og_document_get_modified (document));

  /* and from then on it is ours again */
  og_document_set_title (document, "Still ours");
  must_save (document, NULL);

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
count (guint *counter)
{
  (*counter)++;
}

static void
test_changed_on_disk (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  g_autoptr (GError) error = NULL;
  guint n = 0;

  must_save (document, file);
  g_signal_connect_swapped (document, "notify::changed-on-disk", G_CALLBACK (count), &n);

  /* our own writing is no news */
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *title = g_strdup_printf ("%u", i);

      og_document_set_title (document, title);
      must_save (document, NULL);
      test_run_for (150);
    }
  g_assert_cmpuint (n, ==, 0);

  write_text (file, "theirs");
  test_run_until (is_changed_on_disk, document, 20);
  g_assert_cmpuint (n, ==, 1);

  g_assert_true (save (document, NULL, TRUE, &error));
  g_assert_no_error (error);
  g_assert_false (og_document_get_changed_on_disk (document));
  test_run_for (150);
  g_assert_false (og_document_get_changed_on_disk (document));

  g_assert_cmpint (g_unlink (g_file_peek_path (file)), ==, 0);
  test_run_until (is_changed_on_disk, document, 20);

  /* a file that is gone can be saved again */
  must_save (document, NULL);
  g_assert_false (og_document_get_changed_on_disk (document));
  test_finalize (document);
  test_remove_folder (folder);
}

static void
assert_save_fails (OgDocument *document,
                   GFile      *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *before = test_serialise (document);
  g_autofree char *after = NULL;

  g_assert_true (og_document_get_modified (document));
  g_assert_false (save (document, file, FALSE, &error));
  g_test_message ("%s", error->message);
  g_assert_cmpuint (strlen (error->message), >, 10);
  after = test_serialise (document);
  g_assert_cmpstr (after, ==, before);
  g_assert_true (og_document_get_modified (document));
  g_assert_true (og_document_can_undo (document));
}

static void
test_unwritable_place (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) plain = g_file_get_child (folder, "plain");
  g_autoptr (GFile) below = g_file_get_child (plain, "a.oleograph");
  g_autoptr (GFile) nowhere = g_file_resolve_relative_path (folder, "none/a.oleograph");
  OgDocument *document = test_filled_document ();

  write_text (plain, "not a folder");
  og_document_set_title (document, "Kept");
  assert_save_fails (document, below);
  assert_save_fails (document, nowhere);
  assert_save_fails (document, folder);
  g_assert_null (og_document_get_file (document));
  assert_file_is (plain, "not a folder");

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_read_only_folder (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  g_autofree char *text = test_serialise (document);

  if (geteuid () == 0)
    {
      g_test_skip ("Everything is writable for root");
      test_remove_folder (folder);
      g_object_unref (document);
      return;
    }

  must_save (document, file);
  og_document_set_title (document, "Kept");
  g_chmod (g_file_peek_path (folder), 0500);
  assert_save_fails (document, NULL);
  assert_file_is (file, text);
  g_chmod (g_file_peek_path (folder), 0700);
  must_save (document, NULL);

  g_object_unref (document);
  test_remove_folder (folder);
}

/* A limit on the size of files stands for a disk that fills up half way through. */
static void
limit_file_size (rlim_t bytes)
{
  struct rlimit limit;

  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  limit.rlim_cur = MIN (bytes, limit.rlim_max);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);
}

static void
test_full_disk (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  g_autoptr (GFile) other = g_file_get_child (folder, "b.oleograph");
  OgDocument *document = test_filled_document ();
  g_autofree char *before = test_serialise (document);
  g_autofree char *notes = g_strnfill (200000, 'n');
  g_autofree char *after = NULL;

  must_save (document, file);
  og_document_set_notes (document, notes);
  signal (SIGXFSZ, SIG_IGN);
  limit_file_size (65536);
  assert_save_fails (document, NULL);
  assert_save_fails (document, other);
  limit_file_size (RLIM_INFINITY);

  assert_file_is (file, before);
  g_assert_false (g_file_query_exists (other, NULL));
  g_assert_cmpuint (count_files (folder), <=, 2);
  g_assert_true (g_file_equal (og_document_get_file (document), file));

  must_save (document, NULL);
  after = test_serialise (document);
  assert_file_is (file, after);

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_edit_while_saving (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  Outcome outcome = { FALSE, FALSE, NULL };
  Outcome second = { FALSE, FALSE, NULL };
  g_autofree char *saved = NULL;

  og_document_set_title (document, "Sav");
  og_document_set_title (document, "Saved");
  saved = test_serialise (document);
  og_document_save_async (document, file, FALSE, NULL, on_saved, &outcome);
  og_document_set_title (document, "Saved and more");
  og_document_save_async (document, file, FALSE, NULL, on_saved, &second);
  test_run_until (is_done, &second, 20);
  g_assert_error (second.error, G_IO_ERROR, G_IO_ERROR_PENDING);
  g_clear_error (&second.error);
  test_run_until (is_done, &outcome, 20);
  g_assert_no_error (outcome.error);

  assert_file_is (file, saved);
  g_assert_true (og_document_get_modified (document));
  og_document_undo (document);
  g_assert_cmpstr (og_document_get_title (document), ==, "Saved");
  g_assert_false (og_document_get_modified (document));

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_cancelled (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  OgDocument *document = test_filled_document ();
  Outcome outcome = { FALSE, FALSE, NULL };
  g_autofree char *before = test_serialise (document);

  must_save (document, file);
  og_document_set_title (document, "Not yet");
  g_cancellable_cancel (cancellable);
  og_document_save_async (document, NULL, FALSE, cancellable, on_saved, &outcome);
  test_run_until (is_done, &outcome, 20);
  g_assert_error (outcome.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&outcome.error);
  assert_file_is (file, before);
  g_assert_true (og_document_get_modified (document));

  outcome.done = FALSE;
  og_document_load_async (document, file, cancellable, on_loaded, &outcome);
  test_run_until (is_done, &outcome, 20);
  g_assert_error (outcome.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&outcome.error);
  g_assert_cmpstr (og_document_get_title (document), ==, "Not yet");

  test_finalize (document);
  test_remove_folder (folder);
}

/* Drafts */

static guint
count_drafts (GFile *folder)
{
  g_autoptr (GDir) dir = g_dir_open (g_file_peek_path (folder), 0, NULL);
  const char *name;
  guint n = 0;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    n += g_str_has_suffix (name, ".draft");

  return n;
}

static gboolean
has_draft (gpointer folder)
{
  return count_drafts (folder) > 0;
}

static gboolean
has_two_drafts (gpointer folder)
{
  return count_drafts (folder) == 2;
}

static gboolean
has_no_draft (gpointer folder)
{
  return !has_draft (folder);
}

static void
assert_n_left_behind (GFile *folder,
                      guint  n)
{
  g_autoptr (GPtrArray) drafts = og_drafts_list (folder);

  g_assert_cmpuint (drafts->len, ==, n);
}

static void
test_draft_life (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) drafts = g_file_resolve_relative_path (folder, "data/drafts");
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();

  assert_n_left_behind (drafts, 0);
  must_save (document, file);
  og_document_keep_draft (document, drafts);
  test_run_for (100);
  g_assert_false (g_file_query_exists (drafts, NULL));

  /* within five seconds of the first change, however much is typed meanwhile */
  og_document_set_title (document, "a");
  test_run_for (1500);
  og_document_set_title (document, "ab");
  test_run_until (has_draft, drafts, 3);
  assert_n_left_behind (drafts, 0);

  /* gone after a good save */
  must_save (document, NULL);
  g_assert_cmpuint (count_files (drafts), ==, 0);

  /* gone when undo comes back to the saved point */
  og_document_set_title (document, "abc");
  test_run_until (has_draft, drafts, 5);
  og_document_undo (document);
  test_run_until (has_no_draft, drafts, 5);
  g_assert_cmpuint (count_files (drafts), ==, 0);

  /* gone after an orderly close, also when it was just being written */
  og_document_set_title (document, "abcd");
  test_run_until (has_draft, drafts, 5);
  og_document_drop_draft (document);
  g_assert_cmpuint (count_files (drafts), ==, 0);
  og_document_set_title (document, "abcde");
  test_run_for (2500);
  g_assert_cmpuint (count_files (drafts), ==, 0);

  test_finalize (document);
  test_remove_folder (folder);
}

static void
on_draft_failed (OgDocument *document,
                 GError     *error,
                 guint      *n)
{
  g_assert_nonnull (error);
  (*n)++;
}

static gboolean
is_positive (gpointer n)
{
  return *(guint *) n > 0;
}

static void
test_draft_fails (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) drafts = g_file_get_child (folder, "drafts");
  OgDocument *document = test_filled_document ();
  guint n = 0;

  write_text (drafts, "in the way");
  g_signal_connect (document, "draft-failed", G_CALLBACK (on_draft_failed), &n);
  og_document_keep_draft (document, drafts);
  og_document_set_title (document, "a");
  test_run_until (is_positive, &n, 5);

  /* said once; tried again until it works */
  test_run_for (2500);
  g_assert_cmpuint (n, ==, 1);
  g_assert_cmpint (g_unlink (g_file_peek_path (drafts)), ==, 0);
  test_run_until (has_draft, drafts, 5);
  g_assert_cmpuint (n, ==, 1);

  og_document_drop_draft (document);
  test_run_idle ();
  g_object_unref (document);
  test_remove_folder (folder);
}

static void
test_bad_drafts (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  static const char *const texts[] = {
    "", "\n", "nonsense", "{}\n{}", "{\"format\":\"oleograph-draft\"}\n",
    "{\"format\":\"oleograph-draft\",\"version\":2}\n{}",
    "{\"format\":\"oleograph-draft\",\"version\":1}\n{\"format\":\"oleograph-document\"",
    "{\"format\":\"oleograph-draft\",\"version\":1}", "[[[[", "\xff\xfe\n",
    "{\"format\":{},\"version\":1}\n{}", "{\"format\":\"oleograph-draft\",\"version\":[1]}\n{}"
  };
  OgDocument *document = test_filled_document ();
  g_autofree char *before = test_serialise (document);
  g_autoptr (GPtrArray) drafts = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autofree char *name = g_strdup_printf ("%u.draft", i);
      g_autoptr (GFile) draft = g_file_get_child (folder, name);

      write_text (draft, texts[i]);
    }

  drafts = og_drafts_list (folder);
  g_assert_cmpuint (drafts->len, ==, G_N_ELEMENTS (texts));
  for (guint i = 0; i < drafts->len; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;

      g_assert_null (og_draft_get_name (drafts->pdata[i], test_catalog (), &error));
      g_assert_true (error->domain == OG_STORAGE_ERROR);
      g_clear_error (&error);
      g_assert_false (og_document_adopt_draft (document, drafts->pdata[i], &error));
      g_assert_true (error->domain == OG_STORAGE_ERROR);
      after = test_serialise (document);
      g_assert_cmpstr (after, ==, before);
    }

  /* what cannot be read is not thrown away unasked */
  assert_n_left_behind (folder, G_N_ELEMENTS (texts));
  for (guint i = 0; i < drafts->len; i++)
    g_assert_true (og_draft_discard (drafts->pdata[i], NULL));
  g_assert_cmpuint (count_files (folder), ==, 0);

  g_object_unref (document);
  test_remove_folder (folder);
}

static void
leave_draft (OgDocument *document,
             GFile      *folder)
{
  og_document_keep_draft (document, folder);
  og_document_set_title (document, "Draft");
  test_run_until (has_draft, folder, 5);
  test_run_for (100);
  test_finalize (document);
}

static void
test_untitled (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GPtrArray) left = NULL;
  OgDocument *document = test_filled_document ();

  leave_draft (test_filled_document (), folder);
  left = og_drafts_list (folder);
  g_assert_cmpuint (left->len, ==, 1);

  /* adopting takes the place of a draft that the document kept till then */
  og_document_keep_draft (document, folder);
  og_document_set_title (document, "To be dropped");
  test_run_until (has_two_drafts, folder, 5);
  g_assert_true (og_document_adopt_draft (document, left->pdata[0], NULL));
  g_assert_cmpuint (count_drafts (folder), ==, 1);
  g_assert_null (og_document_get_file (document));
  g_assert_cmpstr (og_document_get_title (document), ==, "Draft");
  g_assert_true (og_document_get_modified (document));
  g_assert_false (og_document_can_undo (document));

  /* it stays while nothing is saved, whatever is undone */
  og_document_set_title (document, "More");
  og_document_undo (document);
  test_run_for (2300);
  g_assert_cmpuint (count_drafts (folder), ==, 1);

  og_document_drop_draft (document);
  g_assert_cmpuint (count_files (folder), ==, 0);
  g_object_unref (document);
  test_remove_folder (folder);
}

/* Programs that are killed: this one, started again with an argument. */

static GSubprocess *
start (const char *mode,
       GFile      *folder,
       GFile      *file)
{
  g_autoptr (GError) error = NULL;
  GSubprocess *child;

  child = g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE, &error, program, mode,
                            g_file_peek_path (folder), g_file_peek_path (file), NULL);
  g_assert_no_error (error);

  return child;
}

static void
wait_for_word (GSubprocess *child)
{
  char word[8];
  gsize n;
  g_autoptr (GError) error = NULL;

  g_input_stream_read_all (g_subprocess_get_stdout_pipe (child), word, 6, &n, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpmem (word, n, "ready\n", 6);
}

static void
kill_child (GSubprocess *child)
{
  g_autoptr (GError) error = NULL;

  g_subprocess_send_signal (child, SIGKILL);
  g_subprocess_wait (child, NULL, &error);
  g_assert_no_error (error);
  g_assert_true (g_subprocess_get_if_signaled (child));
}

G_NORETURN static void
edit_and_wait (GFile *folder,
               GFile *file)
{
  OgDocument *document = test_document ();

  must_load (document, file);
  og_document_keep_draft (document, folder);
  og_document_set_title (document, "Typed before the end");
  og_document_keep_version (document, "Kept before the end", "never saved", g_date_new_dmy (1, 4, 2026));
  g_print ("ready\n");
  for (;;)
    g_main_context_iteration (NULL, TRUE);
}

G_NORETURN static void
save_for_ever (GFile *folder,
               GFile *file)
{
  OgDocument *document = test_document ();

  must_load (document, file);
  g_print ("ready\n");
  for (guint i = 0;; i++)
    {
      g_autofree char *notes = g_strnfill (100000 + i % 7 * 30000, 'a' + (char) (i % 26));

      og_document_set_notes (document, notes);
      must_save (document, NULL);
    }
}

static void
test_killed (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) drafts = g_file_get_child (folder, "drafts");
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  OgDocument *other = test_document ();
  g_autoptr (GSubprocess) child = NULL;
  g_autoptr (GPtrArray) left = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *saved = NULL;
  g_autofree char *name = NULL;
  const GPtrArray *versions;

  must_save (document, file);
  saved = test_serialise (document);
  child = start ("--edit-and-wait", drafts, file);
  wait_for_word (child);
  test_run_for (5000);
  g_assert_true (has_draft (drafts));
  assert_n_left_behind (drafts, 0);
  kill_child (child);

  left = og_drafts_list (drafts);
  g_assert_cmpuint (left->len, ==, 1);
  assert_file_is (file, saved);

  name = og_draft_get_name (left->pdata[0], test_catalog (), &error);
  g_assert_no_error (error);
  g_assert_cmpstr (name, ==, "Typed before the end");
  g_assert_true (og_document_adopt_draft (other, left->pdata[0], &error));
  g_assert_no_error (error);
  g_assert_cmpstr (og_document_get_title (other), ==, "Typed before the end");
  versions = og_document_get_formula (other)->versions;
  g_assert_cmpuint (versions->len, ==, 1);
  g_assert_cmpstr (((const OgVersion *) versions->pdata[0])->name, ==, "Kept before the end");
  g_assert_true (og_document_get_modified (other));
  g_assert_true (g_file_equal (og_document_get_file (other), file));

  /* it is ours now, and stays until it is saved */
  assert_n_left_behind (drafts, 0);
  g_assert_false (og_document_adopt_draft (document, left->pdata[0], &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_BUSY);
  g_clear_error (&error);
  g_assert_false (og_draft_discard (left->pdata[0], &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_BUSY);
  g_assert_true (has_draft (drafts));

  must_save (other, NULL);
  g_assert_false (og_document_get_modified (other));
  g_assert_cmpuint (count_files (drafts), ==, 0);
  must_load (document, file);
  g_assert_cmpstr (og_document_get_title (document), ==, "Typed before the end");

  test_finalize (document);
  test_finalize (other);
  test_remove_folder (folder);
}

/* The file was changed after the program that left the draft had read it. */
static void
test_killed_then_changed (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) drafts = g_file_get_child (folder, "drafts");
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  OgDocument *other = test_document ();
  g_autoptr (GPtrArray) left = NULL;
  g_autoptr (GError) error = NULL;

  must_save (document, file);
  leave_draft (document, drafts);

  write_text (file, "theirs");
  left = og_drafts_list (drafts);
  g_assert_cmpuint (left->len, ==, 1);
  g_assert_true (og_document_adopt_draft (other, left->pdata[0], &error));
  test_run_until (is_changed_on_disk, other, 5);
  g_assert_false (save (other, NULL, FALSE, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_WRONG_ETAG);
  assert_file_is (file, "theirs");
  g_assert_true (has_draft (drafts));

  og_document_drop_draft (other);
  g_assert_cmpuint (count_files (drafts), ==, 0);
  g_object_unref (other);
  test_remove_folder (folder);
}

static void
test_killed_while_saving (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GFile) file = g_file_get_child (folder, "a.oleograph");
  OgDocument *document = test_filled_document ();
  GRand *rand = g_rand_new_with_seed (3);

  must_save (document, file);
  for (guint i = 0; i < 12; i++)
    {
      g_autoptr (GSubprocess) child = start ("--save-for-ever", folder, file);

      wait_for_word (child);
      g_usleep ((gulong) g_rand_int_range (rand, 1000, 60000));
      kill_child (child);
      must_load (document, file);
      g_assert_cmpuint (og_formula_get_n_lines (og_document_get_formula (document)), ==, 5);
    }

  g_rand_free (rand);
  g_object_unref (document);
  test_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  program = argv[0];
  if (argc == 4)
    {
      g_autoptr (GFile) folder = g_file_new_for_path (argv[2]);
      g_autoptr (GFile) file = g_file_new_for_path (argv[3]);

      if (g_str_equal (argv[1], "--edit-and-wait"))
        edit_and_wait (folder, file);
      save_for_ever (folder, file);
    }

  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/document-io/round-trip", test_round_trip);
  g_test_add_func ("/document-io/load-again", test_load_again);
  g_test_add_func ("/document-io/load-again-in-vain", test_load_again_in_vain);
  g_test_add_func ("/document-io/backup", test_backup);
  g_test_add_func ("/document-io/link", test_link);
  g_test_add_func ("/document-io/second-name", test_second_name);
  g_test_add_func ("/document-io/table", test_table);
  g_test_add_func ("/document-io/load-errors", test_load_errors);
  g_test_add_func ("/document-io/conflict", test_conflict);
  g_test_add_func ("/document-io/changed-on-disk", test_changed_on_disk);
  g_test_add_func ("/document-io/unwritable-place", test_unwritable_place);
  g_test_add_func ("/document-io/read-only-folder", test_read_only_folder);
  g_test_add_func ("/document-io/full-disk", test_full_disk);
  g_test_add_func ("/document-io/edit-while-saving", test_edit_while_saving);
  g_test_add_func ("/document-io/cancelled", test_cancelled);
  g_test_add_func ("/drafts/life", test_draft_life);
  g_test_add_func ("/drafts/failure", test_draft_fails);
  g_test_add_func ("/drafts/bad-drafts", test_bad_drafts);
  g_test_add_func ("/drafts/untitled", test_untitled);
  g_test_add_func ("/drafts/killed", test_killed);
  g_test_add_func ("/drafts/killed-then-changed", test_killed_then_changed);
  g_test_add_func ("/drafts/killed-while-saving", test_killed_while_saving);

  return g_test_run ();
}
