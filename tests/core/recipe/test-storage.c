/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON by RFC 8259; where that leaves a choice, or the project is stricter, the check says so. */
#include <locale.h>
#include <math.h>
#include <string.h>

#include "common/random-recipe.h"
#include "core/base/error.h"
#include "core/base/json-guard.h"
#include "core/material/catalog.h"
#include "core/recipe/bench.h"
#include "core/recipe/storage.h"

#define SEED 20240608
#define MEBIBYTE (1024 * 1024)

static OgCatalog *library;

static void
set_up_library (void)
{
  g_autoptr (GError) error = NULL;

  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);
}

static OgFormula *
parse (const char  *text,
       gssize       length,
       GError     **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, length < 0 ? strlen (text) : (gsize) length);

  return og_storage_parse (bytes, "x", library, error);
}

static char *
text_of (const OgFormula *formula)
{
  g_autoptr (GBytes) bytes = og_storage_serialise (formula);

  return g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
}

static void
assert_guard (const char     *text,
              gsize           length,
              OgStorageError  code,
              const char     *message)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (og_json_guard (text, length, "x", &error));
  g_assert_error (error, OG_STORAGE_ERROR, (int) code);
  g_assert_cmpstr (error->message, ==, message);
}

static void
assert_passes (const char *text)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (og_json_guard (text, strlen (text), "x", &error));
  g_assert_no_error (error);
}

/* --- guard --------------------------------------------------------------- */

static char *
nested (guint depth)
{
  char *text = g_malloc0 (2 * depth + 1);

  memset (text, '[', depth);
  memset (text + depth, ']', depth);
  return text;
}

static void
test_depth (void)
{
  g_autofree char *most = nested (OG_JSON_MAX_DEPTH);
  g_autofree char *more = nested (OG_JSON_MAX_DEPTH + 1);
  g_autofree char *tower = nested (10000);
  g_autofree char *quoted = g_strconcat ("[\"\\\"", tower, "\\\\\", \"", tower, "\"]", NULL);

  assert_passes (most);
  assert_passes (quoted);
  assert_guard (more, strlen (more), OG_STORAGE_ERROR_TOO_DEEP,
                "x:1: The file is nested deeper than 64 levels.");
  assert_guard (tower, strlen (tower), OG_STORAGE_ERROR_TOO_DEEP,
                "x:1: The file is nested deeper than 64 levels.");
}

static void
test_size (void)
{
  gsize length = OG_JSON_MAX_BYTES;
  g_autofree char *text = g_malloc (length + 1);

  memset (text, ' ', length + 1);
  memcpy (text, "{}", 2);
  g_assert_true (og_json_guard (text, length, "x", NULL));
  assert_guard (text, length + 1, OG_STORAGE_ERROR_TOO_LARGE, "x: The file is larger than 64 MiB.");
  assert_guard ("", 0, OG_STORAGE_ERROR_SYNTAX, "x:1: The file is empty.");
}

static void
test_guard_text (void)
{
  assert_guard ("{\n\"a\": \"\xc3\x28\"}", 12, OG_STORAGE_ERROR_SYNTAX,
                "x:2: The text is not valid UTF-8.");
  assert_guard ("{\n\n\"a\": \"\0\"}", 12, OG_STORAGE_ERROR_SYNTAX,
                "x:3: The text holds a zero byte.");
  /* RFC 8259 section 7: control characters must be escaped. */
  assert_guard ("[\"a\tb\"]", 7, OG_STORAGE_ERROR_SYNTAX,
                "x:1: A quotation mark is not closed on its line.");
  assert_passes ("[\"a\\tb \\u0001 \\/\"]");
  /* Section 8.1: a parser may ignore a byte order mark. */
  assert_passes ("\xef\xbb\xbf{}");
  /* Section 2: any value may stand alone, with white space around it. */
  assert_passes (" \t\r\n\"text\"\n");
  assert_passes ("null");
  assert_guard ("1 2", 3, OG_STORAGE_ERROR_SYNTAX,
                "x:1: There is text after the end of the JSON value.");
  assert_guard ("\"a\"\n\"b\"", 7, OG_STORAGE_ERROR_SYNTAX,
                "x:2: There is text after the end of the JSON value.");
  assert_guard ("]", 1, OG_STORAGE_ERROR_SYNTAX, "x:1: A bracket is closed that was never opened.");
}

/* RFC 8259 section 6, with the numbers of its grammar and near misses. */
static void
test_guard_numbers (void)
{
  static const char *const good[] = {
    "0", "-0", "10", "-1.5", "0.5", "1e5", "1E+05", "1.25e-3",
    "9223372036854775807", "-9223372036854775808", "1e308"
  };
  static const char *const bad[] = {
    "01", "-", "1.", "1e", "1e+", "--1", "0x10", "1a", "NaN", "-Infinity", "TRUE", "1.5.5"
  };
  /* Allowed by the grammar; section 6 lets a reader set limits, and these would be misread. */
  static const char *const large[] = { "1e999", "-1e400", "9223372036854775808" };

  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    assert_passes (good[i]);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    assert_guard (bad[i], strlen (bad[i]), OG_STORAGE_ERROR_SYNTAX,
                  "x:1: There is a word that is neither a number nor true, false or null.");
  for (guint i = 0; i < G_N_ELEMENTS (large); i++)
    assert_guard (large[i], strlen (large[i]), OG_STORAGE_ERROR_SYNTAX,
                  "x:1: A number is too large.");
}

/* --- documents ----------------------------------------------------------- */

static const char small_document[] =
  "{\n"
  "  \"batch_g\": 33.3,\n"
  "  \"format\": \"oleograph-document\",\n"
  "  \"notes\": \"\",\n"
  "  \"phases\": [\n"
  "    {\n"
  "      \"id\": 1,\n"
  "      \"lines\": [\n"
  "        {\n"
  "          \"add_temperature_c\": 82.5,\n"
  "          \"amount\": 630000,\n"
  "          \"balance_share\": 1,\n"
  "          \"held\": true,\n"
  "          \"id\": 2,\n"
  "          \"ingredient\": \"castor-oil\",\n"
  "          \"note\": \"the best lot\"\n"
  "        },\n"
  "        {\n"
  "          \"amount\": 0,\n"
  "          \"id\": 7,\n"
  "          \"ingredient\": \"polyamide-3\"\n"
  "        }\n"
  "      ],\n"
  "      \"name\": \"Heated\",\n"
  "      \"note\": \"slowly\",\n"
  "      \"temperature_c\": 95\n"
  "    },\n"
  "    {\n"
  "      \"id\": 3,\n"
  "      \"lines\": [],\n"
  "      \"name\": \"\"\n"
  "    }\n"
  "  ],\n"
  "  \"purpose\": \"substantial\",\n"
  "  \"target\": {\n"
  "    \"high_mpa_s\": 1200,\n"
  "    \"low_mpa_s\": 300\n"
  "  },\n"
  "  \"title\": \"Dock gloss\",\n"
  "  \"version\": 1\n"
  "}\n";

static void
test_read (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (small_document, -1, &error);
  const OgFormulaPhase *phase;
  const OgFormulaLine *line;

  g_assert_no_error (error);
  g_assert_cmpstr (formula->title, ==, "Dock gloss");
  g_assert_cmpstr (formula->purpose, ==, "substantial");
  g_assert_cmpfloat (formula->batch_g, ==, 33.3);
  g_assert_cmpfloat (formula->target_low_mpa_s, ==, 300);
  g_assert_cmpfloat (formula->target_high_mpa_s, ==, 1200);
  g_assert_cmpuint (formula->phases->len, ==, 2);
  g_assert_cmpuint (formula->next_id, ==, 8);
  g_assert_null (formula->extra);

  phase = g_ptr_array_index (formula->phases, 0);
  g_assert_cmpuint (phase->id, ==, 1);
  g_assert_cmpfloat (phase->temperature_c, ==, 95);
  g_assert_cmpstr (phase->note, ==, "slowly");
  line = g_ptr_array_index (phase->lines, 0);
  g_assert_cmpuint (line->id, ==, 2);
  g_assert_cmpint (line->amount, ==, 630000);
  g_assert_cmpuint (line->balance_share, ==, 1);
  g_assert_true (line->held);
  g_assert_cmpfloat (line->add_temperature_c, ==, 82.5);
  line = g_ptr_array_index (phase->lines, 1);
  g_assert_false (line->held);
  g_assert_true (isnan (line->add_temperature_c));
  g_assert_cmpuint (line->balance_share, ==, 0);
  g_assert_null (line->note);
}

/* Sorted keys, two-space indent, C-locale numbers, trailing newline: byte for byte. */
static void
test_write (void)
{
  g_autoptr (OgFormula) formula = parse (small_document, -1, NULL);
  g_autofree char *text = text_of (formula);

  g_assert_cmpstr (text, ==, small_document);
}

static void
test_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (guint i = 0; i < 2000; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, OG_PPM_WHOLE);
      g_autoptr (GError) error = NULL;
      g_autofree char *text = text_of (formula);
      g_autoptr (OgFormula) again = parse (text, -1, &error);
      g_autofree char *text_again = NULL;

      g_assert_no_error (error);
      g_assert_true (og_formula_equal (formula, again));
      text_again = text_of (again);
      g_assert_cmpstr (text, ==, text_again);
    }
}

/* The shortest decimal that reads back as the same double. */
static void
test_numbers (void)
{
  static const struct { double value; const char *text; } cases[] = {
    { 0.1, "\"batch_g\": 0.1," },
    { 33.3, "\"batch_g\": 33.3," },
    { 0.1 + 0.2, "\"batch_g\": 0.30000000000000004," },
    { 1e9, "\"batch_g\": 1000000000," },
    { 1e-7, "\"batch_g\": 1e-07," },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (OgFormula) formula = og_formula_new ();
      g_autofree char *text = NULL;

      formula->batch_g = cases[i].value;
      text = text_of (formula);
      g_assert_nonnull (strstr (text, cases[i].text));
    }
}

static gboolean
set_comma_locale (void)
{
  static const char *const names[] = {
    "de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8", "it_IT.UTF-8", "es_ES.UTF-8"
  };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      if (setlocale (LC_ALL, names[i]) != NULL && g_str_equal (localeconv ()->decimal_point, ","))
        return TRUE;
    }
  return FALSE;
}

static void
test_locale (void)
{
  if (!set_comma_locale ())
    {
      g_test_skip ("no locale with a decimal comma is installed");
      return;
    }
  test_read ();
  test_write ();
  test_numbers ();
  test_round_trip ();
  test_guard_numbers ();
  setlocale (LC_ALL, "C");
}

/* --- what this version does not know ------------------------------------- */

static const char document_start[] =
  "{ \"format\": \"oleograph-document\", \"version\": 1, \"batch_g\": 100, ";

static void
test_unknown_members (void)
{
  g_autofree char *text = g_strconcat (document_start,
    "\"zebra\": {\"b\": [1, 2.5, 3.0, 1e300, null, true, \"\\u0001\"], \"a\": {}},"
    "\"phases\": [{\"id\": 1, \"name\": \"P\", \"stirrer\": \"oak\", \"lines\": ["
    "{\"id\": 2, \"ingredient\": \"castor-oil\", \"amount\": 5, \"drum\": 17}]}]}", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (text, -1, &error);
  g_autoptr (OgFormula) copy = NULL;
  g_autoptr (OgFormula) again = NULL;
  g_autofree char *written = NULL;
  const OgFormulaPhase *phase;
  const OgFormulaLine *line;

  g_assert_no_error (error);
  copy = og_formula_copy (formula);
  written = text_of (copy);
  g_assert_nonnull (strstr (written, "  \"zebra\": {\n"
                                     "    \"a\": {},\n"
                                     "    \"b\": [\n"
                                     "      1,\n"
                                     "      2.5,\n"
                                     "      3.0,\n"
                                     "      1e+300,\n"
                                     "      null,\n"
                                     "      true,\n"
                                     "      \"\\u0001\"\n"
                                     "    ]\n"
                                     "  }\n"));
  again = parse (written, -1, &error);
  g_assert_no_error (error);
  g_assert_true (og_formula_equal (formula, again));
  phase = g_ptr_array_index (again->phases, 0);
  line = g_ptr_array_index (phase->lines, 0);
  g_assert_cmpstr (json_object_get_string_member (phase->extra, "stirrer"), ==, "oak");
  g_assert_cmpint (json_object_get_int_member (line->extra, "drum"), ==, 17);
  g_assert_cmpuint (json_object_get_size (line->extra), ==, 1);
}

static void
test_newer_version (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (parse ("{ \"format\": \"oleograph-document\", \"version\": 3 }", -1, &error));
  g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_NEWER_VERSION);
  g_assert_cmpstr (error->message, ==,
                   "x:1: The file was written by a newer Oleograph "
                   "(format 3; this program reads up to 2).");
}

/* --- text ---------------------------------------------------------------- */

/* The escaped character of RFC 8259 section 7 is U+1D11E. */
static void
test_text (void)
{
  g_autofree char *text = g_strconcat (document_start,
    "\"title\": \"\\uD834\\uDD1E <b>&amp;\\\\ =1+1 \\n\\u202e\", \"phases\": []}", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (text, -1, &error);
  g_autoptr (OgFormula) again = NULL;
  g_autofree char *written = NULL;

  g_assert_no_error (error);
  g_assert_cmpstr (formula->title, ==, "\xf0\x9d\x84\x9e <b>&amp;\\ =1+1 \n\xe2\x80\xae");
  written = text_of (formula);
  again = parse (written, -1, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (again->title, ==, formula->title);
}

static OgFormula *
parse_titled (guint    n,
              GError **error)
{
  g_autoptr (GString) text = g_string_new (document_start);

  g_string_append (text, "\"phases\": [], \"title\": \"");
  for (guint i = 0; i < n; i++)
    g_string_append (text, "é");
  g_string_append (text, "\"}");
  return parse (text->str, (gssize) text->len, error);
}

static void
test_long_names (void)
{
  g_autoptr (OgFormula) longest = parse_titled (10000, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) huge_error = NULL;

  g_assert_nonnull (longest);
  g_assert_null (parse_titled (10001, &error));
  g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
  g_assert_cmpstr (error->message, ==, "x:1: title: is longer than 10000 characters");
  g_assert_null (parse_titled (5 * MEBIBYTE, &huge_error));
  g_assert_error (huge_error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
}

/* --- own materials ------------------------------------------------------- */

static void
test_materials (void)
{
  g_autofree char *text = g_strconcat (document_start,
    "\"materials\": ["
    "{\"id\": \"castor-oil\", \"derived_from\": \"castor-oil\", \"name\": \"Castor oil, lot 7\"},"
    "{\"id\": \"castor-filtered\", \"derived_from\": \"castor-oil\", \"cas\": \"8001-79-4\"}],"
    "\"phases\": []}", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (text, -1, &error);
  g_autoptr (OgFormula) again = NULL;
  g_autofree char *written = NULL;
  g_autofree char *written_again = NULL;
  const OgIngredient *base = og_catalog_get (library, "castor-oil");
  const OgIngredient *lot, *filtered;

  g_assert_no_error (error);
  g_assert_cmpuint (formula->materials->len, ==, 2);
  lot = g_ptr_array_index (formula->materials, 0);
  filtered = g_ptr_array_index (formula->materials, 1);
  g_assert_cmpstr (lot->name, ==, "Castor oil, lot 7");
  g_assert_cmpstr (lot->inci, ==, base->inci);
  g_assert_cmpfloat (og_ingredient_density (lot, 25), ==, og_ingredient_density (base, 25));
  /* built on the earlier own material, not on the one of the library that it hides */
  g_assert_cmpstr (filtered->name, ==, "Castor oil, lot 7");

  written = text_of (formula);
  again = parse (written, -1, &error);
  g_assert_no_error (error);
  g_assert_true (og_formula_equal (formula, again));
  written_again = text_of (again);
  g_assert_cmpstr (written, ==, written_again);
  g_assert_null (strstr (written, "profile"));
}

/* --- damaged files ------------------------------------------------------- */

/* Whatever a file holds, it is read or refused with a reason. */
static void
assert_read_or_refused (const char *text,
                        gsize       length)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (text, (gssize) length, &error);

  g_assert_true ((formula != NULL) != (error != NULL));
  if (error == NULL)
    return;
  g_assert_true (error->domain == OG_STORAGE_ERROR);
  g_assert_true (g_str_has_prefix (error->message, "x:"));
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
}

static void
test_cut_off (void)
{
  g_autoptr (GError) error = NULL;

  for (gsize length = 0; length + 2 < sizeof small_document; length++)
    {
      g_clear_error (&error);
      g_assert_null (parse (small_document, (gssize) length, &error));
      g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_SYNTAX);
    }
}

static void
test_damaged (void)
{
  static const char marks[] = "{}[]\",:0123456789.-+eE\\u ntf\n\xc3\x80";
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED + 1);

  for (guint i = 0; i < 20000; i++)
    {
      char text[sizeof small_document];
      guint n = (guint) g_rand_int_range (rand, 1, 4);

      memcpy (text, small_document, sizeof text);
      for (guint j = 0; j < n; j++)
        text[g_rand_int_range (rand, 0, sizeof text - 1)] = marks[g_rand_int_range (rand, 0,
                                                                                    sizeof marks)];
      assert_read_or_refused (text, sizeof text - 1);
    }
}

/* --- measurements -------------------------------------------------------- */

/* Written in key order, so that the file comes back byte for byte. */
static const char measured_document[] =
  "{\n"
  "  \"batch_g\": 100,\n"
  "  \"format\": \"oleograph-document\",\n"
  "  \"measurements\": [\n"
  "    {\n"
  "      \"cup\": \"iso-5\",\n"
  "      \"density_used_g_ml\": 0.9431,\n"
  "      \"id\": \"m1\",\n"
  "      \"lines\": [\n"
  "        {\n"
  "          \"ingredient\": \"castor-oil\",\n"
  "          \"pct\": 66.6667\n"
  "        },\n"
  "        {\n"
  "          \"ingredient\": \"sunflower-oil\",\n"
  "          \"pct\": 33.3333\n"
  "        }\n"
  "      ],\n"
  "      \"method\": \"cup\",\n"
  "      \"seconds\": [\n"
  "        88.5\n"
  "      ],\n"
  "      \"spindle\": \"none\",\n"
  "      \"temperature_c\": 24.5\n"
  "    },\n"
  "    {\n"
  "      \"accepted\": true,\n"
  "      \"date\": \"2024-06-11\",\n"
  "      \"id\": \"m3\",\n"
  "      \"like\": \"olive-oil\",\n"
  "      \"material\": \"sunflower-oil\",\n"
  "      \"method\": \"pours-like\",\n"
  "      \"set_aside\": true,\n"
  "      \"temperature_c\": 20\n"
  "    }\n"
  "  ],\n"
  "  \"notes\": \"\",\n"
  "  \"phases\": [],\n"
  "  \"purpose\": \"\",\n"
  "  \"title\": \"\",\n"
  "  \"version\": 1\n"
  "}\n";

static void
test_measurements (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (measured_document, -1, &error);
  g_autoptr (OgFormula) copy = NULL;
  g_autofree char *text = NULL;
  g_autofree char *bare_text = NULL;
  const OgMeasurement *first;

  g_assert_no_error (error);
  g_assert_null (formula->extra);
  g_assert_cmpuint (formula->measurements->len, ==, 2);
  first = g_ptr_array_index (formula->measurements, 0);
  /* By hand: 3.28 t - 220/t at 88.5 s is 287.8 mm2/s, times 0.9431. */
  g_assert_cmpfloat_with_epsilon (first->reduced.mpa_s, 271.4, 0.1);

  copy = og_formula_copy (formula);
  text = text_of (copy);
  g_assert_cmpstr (text, ==, measured_document);

  g_ptr_array_set_size (copy->measurements, 0);
  bare_text = text_of (copy);
  g_assert_null (strstr (bare_text, "measurements"));
}

static void
test_measurements_refused (void)
{
  static const struct { const char *list, *message; } cases[] = {
    { "{}", "x:1: measurements: must be an array" },
    { "[7]", "x:1: measurements[0]: must be an object" },
    { "[\n{\"id\": \"m1\", \"material\": \"a\", \"method\": \"cup\"}]",
      "x:2: Measurement “m1”: cup: is missing" },
    { "[{\"id\": \"m1\", \"material\": \"a\", \"method\": \"pours-like\", \"like\": \"honey\", "
      "\"temperature_c\": 300}]",
      "x:1: Measurement “m1”: Temperature: 300 °C is outside −10 to 120 °C. "
      "Measure within this range." },
    { "[{\"id\": \"m1\", \"material\": \"a\", \"method\": \"pours-like\", \"like\": \"honey\", "
      "\"temperature_c\": 20},\n{\"id\": \"m1\", \"material\": \"b\", \"method\": \"pours-like\", "
      "\"like\": \"honey\", \"temperature_c\": 20}]",
      "x:2: The measurement “m1” occurs twice." },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strconcat (document_start, "\"phases\": [], \"measurements\": ",
                                           cases[i].list, "}", NULL);
      g_autoptr (GError) error = NULL;

      g_assert_null (parse (text, -1, &error));
      g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
      g_assert_cmpstr (error->message, ==, cases[i].message);
    }
}

static void
test_handover (void)
{
  g_autofree char *text = g_strconcat (document_start,
    "\"phases\": [], \"batch_is_sum\": true, \"product\": \"lip-applicator\", \"open_months\": 12, \"warnings\": \"Not for eyes\","
    "\"package\": {\"nominal\": 6, \"unit\": \"ml\", \"capacity_ml\": 8.1, \"applicator_ml\": 0.9},"
    "\"costs\": [{\"name\": \"Tube\", \"price\": 0.42, \"currency\": \"EUR\", \"per\": \"container\"}]}",
    NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = parse (text, -1, &error);
  g_autoptr (OgFormula) copy = NULL;
  g_autoptr (OgFormula) bare = NULL;
  g_autofree char *bare_text = NULL;
  const OgCostLine *cost;

  g_assert_no_error (error);
  g_assert_null (formula->extra);
  g_assert_cmpint (formula->product, ==, OG_PRODUCT_LIP_APPLICATOR);
  g_assert_cmpuint (formula->open_months, ==, 12);
  g_assert_true (formula->batch_is_sum);
  g_assert_cmpstr (formula->warnings, ==, "Not for eyes");
  g_assert_cmpfloat (formula->package.capacity_ml, ==, 8.1);
  cost = g_ptr_array_index (formula->costs, 0);
  g_assert_cmpfloat (cost->price, ==, 0.42);

  copy = og_formula_copy (formula);
  g_assert_true (og_formula_equal (formula, copy));
  g_ptr_array_set_size (copy->costs, 0);
  g_assert_false (og_formula_equal (formula, copy));

  bare = og_formula_new ();
  bare_text = text_of (bare);
  g_assert_null (strstr (bare_text, "package"));
  g_assert_null (strstr (bare_text, "batch_is_sum"));
  g_assert_null (strstr (bare_text, "product"));
  g_assert_null (strstr (bare_text, "warnings"));
}

static void
test_handover_refused (void)
{
  static const struct { const char *members, *message; } cases[] = {
    { "\"product\": \"soap\"", "x:1: product: “soap” is not one of the words allowed" },
    { "\"product\": 3", "x:1: product: must be a text that is not empty" },
    { "\"open_months\": -1", "x:1: open_months: -1 is outside 0 to 1200" },
    { "\"package\": []", "x:1: package: must be an object" },
    { "\"package\":\n{\"unit\": \"pint\"}", "x:2: package.unit: “pint” is not one of the words allowed" },
    { "\"package\": {\"nominal\": \"6\"}", "x:1: package.nominal: must be a finite number" },
    { "\"package\": {\"nominal\": 0}",
      "x:1: The sizes of the container must be above 0, and the applicator must fit into it." },
    { "\"package\": {\"capacity_ml\": 5, \"applicator_ml\": 5}",
      "x:1: The sizes of the container must be above 0, and the applicator must fit into it." },
    { "\"costs\": [{\"name\": \"Tube\", \"price\": -1}]",
      "x:1: The price of “Tube” must be 0 or more." },
    { "\"costs\": [{\"name\": \"Tube\"}]", "x:1: The price of “Tube” must be 0 or more." },
    { "\"label\": 1", "x:1: label: must be an object" },
    { "\"label\": {\"shades\": \"red\"}", "x:1: label.shades: must be an array" },
    { "\"label\": {\"nano\": [\"zinc-oxide\", 2]}", "x:1: label.nano[1]: must be a text" },
    { "\"stability\": {\"start\": \"2026-02-30\"}",
      "x:1: stability.start: “2026-02-30” is no date: year-month-day is needed." },
    { "\"costs\": [{\"price\": 1, \"per\": \"moon\"}]", "x:1: costs[0].per: “moon” is not one of the words allowed" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strconcat (document_start, "\"phases\": [], ", cases[i].members, "}",
                                           NULL);
      g_autoptr (GError) error = NULL;

      g_assert_null (parse (text, -1, &error));
      g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
      g_assert_cmpstr (error->message, ==, cases[i].message);
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  set_up_library ();
  g_test_add_func ("/storage/guard/depth", test_depth);
  g_test_add_func ("/storage/guard/size", test_size);
  g_test_add_func ("/storage/guard/text", test_guard_text);
  g_test_add_func ("/storage/guard/numbers", test_guard_numbers);
  g_test_add_func ("/storage/read", test_read);
  g_test_add_func ("/storage/write", test_write);
  g_test_add_func ("/storage/round-trip", test_round_trip);
  g_test_add_func ("/storage/numbers", test_numbers);
  g_test_add_func ("/storage/locale", test_locale);
  g_test_add_func ("/storage/unknown-members", test_unknown_members);
  g_test_add_func ("/storage/newer-version", test_newer_version);
  g_test_add_func ("/storage/text", test_text);
  g_test_add_func ("/storage/long-names", test_long_names);
  g_test_add_func ("/storage/materials", test_materials);
  g_test_add_func ("/storage/measurements", test_measurements);
  g_test_add_func ("/storage/measurements-refused", test_measurements_refused);
  g_test_add_func ("/storage/handover", test_handover);
  g_test_add_func ("/storage/handover-refused", test_handover_refused);
  g_test_add_func ("/storage/cut-off", test_cut_off);
  g_test_add_func ("/storage/damaged", test_damaged);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
