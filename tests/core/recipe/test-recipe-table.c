/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quoting and line ends by RFC 4180; where the project is stricter or wider, the check says so. */
#include <math.h>
#include <string.h>

#include <glib/gstdio.h>

#include "common/csv.h"
#include "common/random-recipe.h"
#include "core/base/error.h"
#include "core/material/catalog.h"
#include "core/recipe/recipe-table.h"
#include "core/recipe/storage.h"

#define SEED 20240609
#define HEADER "phase,ingredient,percent\n"

static OgCatalog *library;

static void
set_up_library (void)
{
  g_autoptr (GError) error = NULL;

  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);
}

static OgFormula *
parse (const char *text)
{
  g_autoptr (GError) error = NULL;
  OgFormula *formula = og_recipe_table_parse (text, -1, "dir/Trial 7.csv", library, &error);

  g_assert_no_error (error);
  return formula;
}

static void
assert_refused (const char   *text,
                gssize        length,
                OgTableError  code,
                const char   *message)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (og_recipe_table_parse (text, length, "x.csv", library, &error));
  g_assert_error (error, OG_TABLE_ERROR, (int) code);
  g_assert_cmpstr (error->message, ==, message);
}

static const OgFormulaPhase *
phase_at (const OgFormula *formula,
          guint            index)
{
  g_assert_cmpuint (index, <, formula->phases->len);
  return g_ptr_array_index (formula->phases, index);
}

static const OgFormulaLine *
line_at (const OgFormula *formula,
         guint            index)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);

  g_assert_cmpuint (index, <, lines->len);
  return g_ptr_array_index (lines, index);
}

/* --- reading ------------------------------------------------------------- */

/* Common practice, no source: the trial lip oil of test-formula.c. */
static void
test_check_example (void)
{
  g_autoptr (OgFormula) formula = parse (HEADER
                                         "Heated,castor-oil,63.0\n"
                                         "Oils,sunflower-oil,34.0\n"
                                         "Heated,polyamide-3,1.5\n"
                                         "Colour,red-iron-oxide-in-castor-oil,0.5\n"
                                         "Cool-down,tocopherol,1.0\n");

  g_assert_cmpint (og_formula_total (formula), ==, OG_PPM_WHOLE);
  g_assert_cmpstr (formula->title, ==, "Trial 7");
  g_assert_cmpfloat (formula->batch_g, ==, 100);
  g_assert_cmpuint (formula->phases->len, ==, 4);
  g_assert_cmpstr (phase_at (formula, 0)->name, ==, "Heated");
  g_assert_cmpstr (phase_at (formula, 3)->name, ==, "Cool-down");
  g_assert_cmpuint (phase_at (formula, 0)->lines->len, ==, 2);
  g_assert_true (isnan (phase_at (formula, 0)->temperature_c));
  g_assert_cmpstr (line_at (formula, 1)->ingredient_id, ==, "polyamide-3");
  g_assert_cmpint (line_at (formula, 1)->amount, ==, 15000);
}

static void
test_balance (void)
{
  g_autoptr (OgFormula) one = parse (HEADER "A,castor-oil,Balance\nA,polyamide-3,1.5\n");
  g_autoptr (OgFormula) two = parse (HEADER "A,castor-oil,balance 2\nA,polyamide-3,1.5\n"
                                     "B,sunflower-oil,balance 3\n");

  g_assert_cmpint (line_at (one, 0)->amount, ==, 985000);
  g_assert_cmpuint (line_at (one, 0)->balance_share, ==, 1);
  g_assert_cmpuint (line_at (one, 1)->balance_share, ==, 0);
  g_assert_cmpint (line_at (two, 0)->amount, ==, 394000);
  g_assert_cmpint (line_at (two, 2)->amount, ==, 591000);
  g_assert_cmpuint (line_at (two, 2)->balance_share, ==, 3);
}

/* RFC 4180 section 2: rules 1 and 2 (line ends), 5, 6 and 7 (quotation marks). */
static void
test_rfc4180 (void)
{
  g_autoptr (OgFormula) formula = parse ("\"phase\",\"ingredient\",\"percent\"\r\n"
                                         "\"b \"\"bb\"\"\",castor-oil,\"50\"\r\n"
                                         "\"b\r\nbb, c\",\"sunflower-oil\",50");

  g_assert_cmpuint (formula->phases->len, ==, 2);
  g_assert_cmpstr (phase_at (formula, 0)->name, ==, "b \"bb\"");
  g_assert_cmpstr (phase_at (formula, 1)->name, ==, "b\r\nbb, c");
}

/* A line in quotation marks counts as the file's lines, so that later messages point right. */
static void
test_line_numbers (void)
{
  assert_refused (HEADER "\"two\nlines\",castor-oil,50\nB,sunflower-oil,x\n", -1,
                  OG_TABLE_ERROR_VALUE,
                  "x.csv:4: The percent “x” is neither a number nor “balance”.");
  assert_refused ("# comment\r\n\r\nphase,ingredient,percent\r\nB,sunflower-oil,x\r\n", -1,
                  OG_TABLE_ERROR_VALUE,
                  "x.csv:4: The percent “x” is neither a number nor “balance”.");
}

/* Spreadsheets of a locale with a decimal comma separate by semicolons. */
static void
test_semicolons (void)
{
  g_autoptr (OgFormula) formula = parse ("# one, two, three\n"
                                         "phase;ingredient;percent;add_temperature_c\n"
                                         "A, first;castor-oil;98,5;95,5\n"
                                         "A, first;polyamide-3;1.5;95.5\n");

  g_assert_cmpstr (phase_at (formula, 0)->name, ==, "A, first");
  g_assert_cmpint (line_at (formula, 0)->amount, ==, 985000);
  g_assert_cmpfloat (phase_at (formula, 0)->temperature_c, ==, 95.5);
}

static void
test_temperatures (void)
{
  g_autoptr (OgFormula) formula = parse ("phase,ingredient,percent,add_temperature_c\n"
                                         "A,castor-oil,50,95\nA,polyamide-3,1.5,95\n"
                                         "B,sunflower-oil,40,80\nB,tocopherol,8.5,\n");

  g_assert_cmpfloat (phase_at (formula, 0)->temperature_c, ==, 95);
  g_assert_true (isnan (line_at (formula, 0)->add_temperature_c));
  g_assert_true (isnan (phase_at (formula, 1)->temperature_c));
  g_assert_cmpfloat (line_at (formula, 2)->add_temperature_c, ==, 80);
  g_assert_true (isnan (line_at (formula, 3)->add_temperature_c));
}

static void
test_rounding (void)
{
  g_autoptr (OgFormula) thirds = parse (HEADER "A,castor-oil,33.3333333\n"
                                        "A,sunflower-oil,33.3333333\n"
                                        "A,polyamide-3,33.3333334\n");
  g_autoptr (OgFormula) exact = parse (HEADER "A,castor-oil,12.6\nA,sunflower-oil,87.3999\n"
                                       "A,polyamide-3,0.0001\n");

  g_assert_cmpint (og_formula_total (thirds), ==, OG_PPM_WHOLE);
  g_assert_cmpint (line_at (thirds, 0)->amount, ==, 333333);
  g_assert_cmpint (line_at (thirds, 2)->amount, ==, 333334);
  g_assert_cmpint (line_at (exact, 0)->amount, ==, 126000);
  g_assert_cmpint (line_at (exact, 1)->amount, ==, 873999);
  g_assert_cmpint (line_at (exact, 2)->amount, ==, 1);
}

/* --- refusals beyond the corpus ------------------------------------------ */

static void
test_large (void)
{
  g_autoptr (GString) row = g_string_new (HEADER "A,");
  g_autoptr (GString) quoted = g_string_new (HEADER "A,\"");
  g_autoptr (GString) comment = g_string_new (HEADER "#");
  g_autoptr (GString) rows = g_string_new (HEADER);
  gsize length = 10 * 1024 * 1024;

  g_string_set_size (row, length);
  memset (row->str + strlen (HEADER "A,"), 'x', length - strlen (HEADER "A,"));
  assert_refused (row->str, (gssize) length, OG_TABLE_ERROR_TOO_LARGE,
                  "x.csv:2: The row is longer than 64 KiB.");
  g_string_set_size (quoted, length);
  memset (quoted->str + strlen (HEADER "A,\""), 'x', length - strlen (HEADER "A,\""));
  assert_refused (quoted->str, (gssize) length, OG_TABLE_ERROR_TOO_LARGE,
                  "x.csv:2: The row is longer than 64 KiB.");
  g_string_set_size (comment, length);
  memset (comment->str + strlen (HEADER "#"), ',', length - strlen (HEADER "#"));
  assert_refused (comment->str, (gssize) length, OG_TABLE_ERROR_TOO_LARGE,
                  "x.csv:2: The row is longer than 64 KiB.");
  for (guint i = 0; i <= 10000; i++)
    g_string_append (rows, "A,castor-oil,0\n");
  assert_refused (rows->str, -1, OG_TABLE_ERROR_TOO_LARGE,
                  "x.csv:10002: The table has more than 10000 rows.");
}

static void
test_long_cells (void)
{
  g_autoptr (GString) phase = g_string_new (HEADER);
  g_autoptr (GString) percent = g_string_new (HEADER "A,castor-oil,");

  for (guint i = 0; i < 10001; i++)
    {
      g_string_append_c (phase, 'p');
      g_string_append_c (percent, 'p');
    }
  g_string_append (phase, ",castor-oil,100\n");
  assert_refused (phase->str, -1, OG_TABLE_ERROR_VALUE,
                  "x.csv:2: The name of the phase is longer than 10000 characters.");
  assert_refused (percent->str, -1, OG_TABLE_ERROR_VALUE,
                  "x.csv:2: The percent “pppppppppppppppppppppppppppppppppppppppp…” "
                  "is neither a number nor “balance”.");
}

/* --- writing ------------------------------------------------------------- */

static void
test_write (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "=SUM(A1)", 95, G_MAXUINT);
  OgFormulaPhase *twin = og_formula_add_phase (formula, "=SUM(A1)", NAN, G_MAXUINT);
  OgFormulaPhase *spaced = og_formula_add_phase (formula, " a \"b\"; c ", NAN, G_MAXUINT);
  OgFormulaLine *line;
  g_autofree char *text = NULL;

  og_formula_add_line (formula, phase, "castor-oil", 630000, G_MAXUINT);
  line = og_formula_add_line (formula, phase, "polyamide-3", 15000, G_MAXUINT);
  line->add_temperature_c = 110.5;
  og_formula_add_line (formula, twin, "sunflower-oil", 300001, G_MAXUINT);
  line = og_formula_add_line (formula, spaced, "tocopherol", 54999, G_MAXUINT);
  line->balance_share = 1;
  text = og_recipe_table_write (formula);
  g_assert_cmpstr (text, ==,
                   "phase,ingredient,percent,add_temperature_c\n"
                   "'=SUM(A1),castor-oil,63,95\n"
                   "'=SUM(A1),polyamide-3,1.5,110.5\n"
                   "'=SUM(A1) (2),sunflower-oil,30.0001,\n"
                   "\" a \"\"b\"\"; c \",tocopherol,balance,\n");
}

/* Names that a spreadsheet, or this format, would read as something else come back unchanged. */
static void
test_names_survive (void)
{
  static const char *const names[] = {
    "=1+1", "+1", "-1", "@x", "'", "''", "'=x", "'tis", "#1", "'#1", "\"", ",", ";", " ", " x",
    "x\n", "\r", "\t=x", "", "balance", "phase", "Größe \xf0\x9d\x84\x9e", "<b>&amp;",
    "\xe2\x80\xae"
  };
  g_autoptr (OgFormula) formula = og_formula_new ();
  g_autoptr (OgFormula) again = NULL;
  g_autofree char *text = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    og_formula_add_line (formula, og_formula_add_phase (formula, names[i], NAN, G_MAXUINT),
                         "castor-oil", i == 0 ? OG_PPM_WHOLE : 0, G_MAXUINT);
  text = og_recipe_table_write (formula);
  again = parse (text);
  g_assert_cmpuint (again->phases->len, ==, G_N_ELEMENTS (names));
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    g_assert_cmpstr (phase_at (again, i)->name, ==, names[i]);
}

static void
make_whole (OgFormula *formula)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);

  for (guint i = 0; i < lines->len; i++)
    {
      OgFormulaLine *line = g_ptr_array_index (lines, i);

      line->held = FALSE;
      if (g_str_equal (line->ingredient_id, "no-such-material"))
        {
          g_free (line->ingredient_id);
          line->ingredient_id = g_strdup ("olive-oil");
        }
    }
  if (og_formula_balance (formula) != OG_PPM_WHOLE)
    og_formula_normalise (formula);
}

static void
assert_same_table (const OgFormula *a,
                   const OgFormula *b)
{
  g_autoptr (GPtrArray) lines_a = lines_of (a);
  g_autoptr (GPtrArray) lines_b = lines_of (b);

  g_assert_cmpuint (lines_a->len, ==, lines_b->len);
  for (guint i = 0; i < lines_a->len; i++)
    {
      const OgFormulaLine *x = g_ptr_array_index (lines_a, i);
      const OgFormulaLine *y = g_ptr_array_index (lines_b, i);

      g_assert_cmpstr (x->ingredient_id, ==, y->ingredient_id);
      g_assert_cmpint (x->amount, ==, y->amount);
      g_assert_cmpuint (x->balance_share, ==, y->balance_share);
    }
}

static void
test_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);
  guint n_whole = 0;

  for (guint i = 0; i < 5000; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, i % 2 == 0 ? 40000 : OG_PPM_WHOLE);
      g_autoptr (OgFormula) again = NULL;
      g_autofree char *text = NULL;
      g_autofree char *text_again = NULL;

      make_whole (formula);
      if (og_formula_total (formula) != OG_PPM_WHOLE)
        continue;
      n_whole++;
      text = og_recipe_table_write (formula);
      again = parse (text);
      assert_same_table (formula, again);
      text_again = og_recipe_table_write (again);
      g_assert_cmpstr (text, ==, text_again);
    }
  g_assert_cmpuint (n_whole, >, 2000);
}

/* --- files --------------------------------------------------------------- */

static GQuark
domain_from_nick (const char *nick)
{
  return g_str_equal (nick, "storage") ? OG_STORAGE_ERROR : OG_TABLE_ERROR;
}

static int
code_from_nick (const char *domain,
                const char *nick)
{
  static const char *const storage[] = {
    "syntax", "not-a-document", "newer-version", "value", "too-large", "too-deep", NULL
  };
  static const char *const table[] = {
    "header", "syntax", "value", "ingredient", "balance", "sum", "too-large", NULL
  };
  const char *const *nicks = g_str_equal (domain, "storage") ? storage : table;

  for (int i = 0; nicks[i] != NULL; i++)
    {
      if (g_str_equal (nicks[i], nick))
        return i;
    }
  g_error ("no error code %s", nick);
  return -1;
}

/* FILE:LINE: reason */
static void
assert_message_form (const char *message,
                     const char *path)
{
  const char *place = message + strlen (path);
  char *end = NULL;

  g_assert_true (g_str_has_prefix (message, path));
  g_assert_cmpint (*place, ==, ':');
  g_assert_cmpuint (g_ascii_strtoull (place + 1, &end, 10), >, 0);
  g_assert_true (g_str_has_prefix (end, ": "));
  g_assert_cmpuint (strlen (end), >, 10);
}

static guint
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  g_assert_nonnull (dir);
  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
test_bad_files (void)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", "files", NULL);
  g_autofree char *bad = g_build_filename (folder, "bad", NULL);
  g_autoptr (CsvTable) expected = csv_table_load (folder, "expected.csv");

  g_assert_cmpuint (csv_table_len (expected), ==, count_files (bad));
  for (guint i = 0; i < csv_table_len (expected); i++)
    {
      const char *domain = csv_table_text (expected, i, "domain");
      const char *fragment = csv_table_text (expected, i, "fragment");
      g_autofree char *path = g_build_filename (bad, csv_table_text (expected, i, "file"), NULL);
      g_autoptr (GError) error = NULL;

      g_assert_null (og_recipe_load (path, library, &error));
      g_test_message ("%s", error->message);
      g_assert_error (error, domain_from_nick (domain),
                      code_from_nick (domain, csv_table_text (expected, i, "code")));
      assert_message_form (error->message, path);
      g_assert_nonnull (strstr (error->message + strlen (path), fragment));
    }
}

/* Saving and reading again changes nothing, whichever way a file came in. */
static void
assert_keeps (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = og_recipe_load (path, library, &error);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GBytes) bytes_again = NULL;
  g_autoptr (OgFormula) again = NULL;

  g_assert_no_error (error);
  bytes = og_storage_serialise (formula);
  again = og_storage_parse (bytes, "again", library, &error);
  g_assert_no_error (error);
  g_assert_true (og_formula_equal (formula, again));
  bytes_again = og_storage_serialise (again);
  g_assert_true (g_bytes_equal (bytes, bytes_again));
}

static void
test_kept_files (gconstpointer data)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", "files", data, NULL);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  g_assert_nonnull (dir);
  for (; (name = g_dir_read_name (dir)) != NULL; n++)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      g_test_message ("%s", path);
      assert_keeps (path);
    }
  g_assert_cmpuint (n, >, 5);
}

static OgFormula *
load (const char *kind,
      const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "files", kind, name, NULL);
  g_autoptr (GError) error = NULL;
  OgFormula *formula = og_recipe_load (path, library, &error);

  g_assert_no_error (error);
  return formula;
}

static void
test_odd_files (void)
{
  g_autoptr (OgFormula) comments = load ("odd", "comments.csv");
  g_autoptr (OgFormula) spaces = load ("odd", "spaces.csv");
  g_autoptr (OgFormula) returns = load ("odd", "carriage-returns.csv");
  g_autoptr (OgFormula) marked = load ("odd", "mark.csv");
  g_autoptr (OgFormula) quotations = load ("odd", "quotations.csv");
  g_autoptr (OgFormula) apostrophes = load ("odd", "apostrophes.csv");
  g_autoptr (OgFormula) zero = load ("odd", "zero-line.csv");
  static const char *const names[] = { "=Heated", "'tis warm", "'tis cold", "#1" };

  g_assert_cmpuint (og_formula_get_n_lines (comments), ==, 2);
  g_assert_cmpuint (og_formula_get_n_lines (returns), ==, 2);
  g_assert_cmpuint (og_formula_get_n_lines (marked), ==, 2);
  g_assert_cmpuint (spaces->phases->len, ==, 1);
  g_assert_cmpstr (phase_at (spaces, 0)->name, ==, "Heated");
  g_assert_cmpuint (quotations->phases->len, ==, 1);
  g_assert_cmpstr (phase_at (quotations, 0)->name, ==, "Heated, \"slowly\"\nand long");
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    g_assert_cmpstr (phase_at (apostrophes, i)->name, ==, names[i]);
  g_assert_cmpuint (og_formula_get_n_lines (zero), ==, 2);
  g_assert_cmpint (line_at (zero, 1)->amount, ==, 0);
}

/* The same recipe, written by two kinds of spreadsheet. */
static void
test_good_files (void)
{
  g_autoptr (OgFormula) comma = load ("good", "check-example.csv");
  g_autoptr (OgFormula) semicolon = load ("good", "semicolon.csv");
  g_autoptr (OgFormula) names = load ("good", "names.csv");

  assert_same_table (comma, semicolon);
  g_assert_cmpfloat (phase_at (semicolon, 0)->temperature_c, ==, 110);
  g_assert_cmpstr (line_at (names, 0)->ingredient_id, ==, "castor-oil");
  g_assert_cmpstr (line_at (names, 1)->ingredient_id, ==, "polyamide-3");
  g_assert_cmpint (line_at (names, 0)->amount, ==, 645000);
}

static void
test_missing_file (void)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", "files", NULL);
  g_autofree char *missing = g_build_filename (folder, "no-such-file.csv", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_null (og_recipe_load (missing, library, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_assert_true (g_str_has_prefix (error->message, missing));
  g_clear_error (&error);
  g_assert_null (og_recipe_load (folder, library, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_ISDIR);
}

/* A device without end is refused before it is read. */
static void
test_endless_file (void)
{
  g_autoptr (GError) error = NULL;

  if (!g_file_test ("/dev/zero", G_FILE_TEST_EXISTS))
    {
      g_test_skip ("no /dev/zero");
      return;
    }
  g_assert_null (og_recipe_load ("/dev/zero", library, &error));
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_INVAL);
}

/* --- damage -------------------------------------------------------------- */

static void
test_damaged (void)
{
  static const char whole[] = "phase,ingredient,percent,add_temperature_c\r\n"
                              "# comment\n"
                              "\"Heated, \"\"slowly\"\"\",castor-oil,balance 2,95\n"
                              "Heated,polyamide-3,\"1,5\",95\n"
                              "'=x,Sunflower oil,balance 1,\n";
  static const char marks[] = "\",;\r\n#'=0159-. balncex\xc3\x80";
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED + 1);
  guint n_read = 0;

  for (guint i = 0; i < 5000; i++)
    {
      char text[sizeof whole];
      gsize length = i < sizeof whole ? i : sizeof whole - 1;
      guint n = i < sizeof whole ? 0 : (guint) g_rand_int_range (rand, 1, 4);
      g_autoptr (GError) error = NULL;
      g_autoptr (OgFormula) formula = NULL;

      memcpy (text, whole, sizeof text);
      for (guint j = 0; j < n; j++)
        text[g_rand_int_range (rand, 0, sizeof text - 1)] = marks[g_rand_int_range (rand, 0,
                                                                                    sizeof marks)];
      formula = og_recipe_table_parse (text, (gssize) length, "x", library, &error);
      g_assert_true ((formula != NULL) != (error != NULL));
      if (formula != NULL)
        g_assert_cmpint (og_formula_total (formula), ==, OG_PPM_WHOLE);
      else
        g_assert_true (error->domain == OG_TABLE_ERROR);
      n_read += formula != NULL;
    }
  g_assert_cmpuint (n_read, >, 100);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  set_up_library ();
  g_test_add_func ("/recipe-table/check-example", test_check_example);
  g_test_add_func ("/recipe-table/balance", test_balance);
  g_test_add_func ("/recipe-table/rfc4180", test_rfc4180);
  g_test_add_func ("/recipe-table/line-numbers", test_line_numbers);
  g_test_add_func ("/recipe-table/semicolons", test_semicolons);
  g_test_add_func ("/recipe-table/temperatures", test_temperatures);
  g_test_add_func ("/recipe-table/rounding", test_rounding);
  g_test_add_func ("/recipe-table/large", test_large);
  g_test_add_func ("/recipe-table/long-cells", test_long_cells);
  g_test_add_func ("/recipe-table/write", test_write);
  g_test_add_func ("/recipe-table/names-survive", test_names_survive);
  g_test_add_func ("/recipe-table/round-trip", test_round_trip);
  g_test_add_func ("/recipe-table/files/bad", test_bad_files);
  g_test_add_data_func ("/recipe-table/files/good-kept", "good", test_kept_files);
  g_test_add_data_func ("/recipe-table/files/odd-kept", "odd", test_kept_files);
  g_test_add_func ("/recipe-table/files/good", test_good_files);
  g_test_add_func ("/recipe-table/files/odd", test_odd_files);
  g_test_add_func ("/recipe-table/files/missing", test_missing_file);
  g_test_add_func ("/recipe-table/files/endless", test_endless_file);
  g_test_add_func ("/recipe-table/damaged", test_damaged);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
