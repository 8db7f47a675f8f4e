/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON by RFC 8259; the rest is the project's own format. */
#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/recipe/bench-log.h"

#define SEED 20240612

static const char small_log[] =
  "{\n"
  "  \"format\": \"oleograph-bench-log\",\n"
  "  \"measurements\": [\n"
  "    {\n"
  "      \"cup\": \"iso-6\",\n"
  "      \"density_g_ml\": 0.96,\n"
  "      \"id\": \"m1\",\n"
  "      \"lot\": \"K 7\",\n"
  "      \"material\": \"castor-oil\",\n"
  "      \"method\": \"cup\",\n"
  "      \"seconds\": [\n"
  "        98.5,\n"
  "        99.0\n"
  "      ],\n"
  "      \"temperature_c\": 25\n"
  "    },\n"
  "    {\n"
  "      \"id\": \"m4\",\n"
  "      \"material\": \"sunflower-oil\",\n"
  "      \"method\": \"rotational\",\n"
  "      \"mpa_s\": 52.5,\n"
  "      \"shear_rate_1_s\": 10,\n"
  "      \"temperature_c\": 23.5\n"
  "    }\n"
  "  ],\n"
  "  \"version\": 1\n"
  "}\n";

static OgBenchLog *
parse (const char  *text,
       gssize       length,
       GError     **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, length < 0 ? strlen (text) : (gsize) length);

  return og_bench_log_parse (bytes, "x", error);
}

static char *
text_of (const OgBenchLog *log)
{
  g_autoptr (GBytes) bytes = og_bench_log_serialise (log);

  return g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
}

static OgMeasurement *
new_measurement (const char *material_id)
{
  OgMeasurement *measurement = og_measurement_new ();

  measurement->material_id = g_strdup (material_id);
  measurement->reading.method = OG_METHOD_POURS_LIKE;
  measurement->reading.temperature_c = 21;
  g_assert_true (og_reading_reduce (&measurement->reading, NAN, &measurement->reduced, NULL));
  return measurement;
}

static void
test_read (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBenchLog) log = parse (small_log, -1, &error);
  g_autofree char *text = NULL;
  const OgMeasurement *first;

  g_assert_no_error (error);
  g_assert_cmpuint (log->measurements->len, ==, 2);
  first = g_ptr_array_index (log->measurements, 0);
  g_assert_cmpstr (first->material_id, ==, "castor-oil");
  g_assert_cmpuint (first->reading.n_seconds, ==, 2);
  /* By hand: 6.90 t - 570/t at 98.75 s is 675.6 mm2/s, times 0.96. */
  g_assert_cmpfloat_with_epsilon (first->reduced.mpa_s, 648.6, 0.1);
  text = text_of (log);
  g_assert_cmpstr (text, ==, small_log);
}

static void
test_edits (void)
{
  g_autoptr (OgBenchLog) log = parse (small_log, -1, NULL);
  g_autoptr (OgBenchLog) copy = og_bench_log_copy (log);
  g_autoptr (OgBenchLog) again = NULL;
  g_autofree char *text = NULL;
  g_autofree char *text_again = NULL;
  g_autofree char *copy_text = NULL;

  g_assert_cmpstr (og_bench_log_append (log, new_measurement ("jojoba-oil"))->id, ==, "m5");
  g_assert_true (og_bench_log_remove (log, "m1"));
  g_assert_false (og_bench_log_remove (log, "m1"));
  g_assert_cmpuint (log->measurements->len, ==, 2);
  g_assert_cmpstr (og_bench_log_append (log, new_measurement ("jojoba-oil"))->id, ==, "m6");

  text = text_of (log);
  again = parse (text, -1, NULL);
  text_again = text_of (again);
  g_assert_cmpstr (text, ==, text_again);
  copy_text = text_of (copy);
  g_assert_cmpstr (copy_text, ==, small_log);
}

static void
test_empty (void)
{
  g_autoptr (OgBenchLog) log = og_bench_log_new ();
  g_autoptr (OgBenchLog) again = NULL;
  g_autofree char *text = text_of (log);

  again = parse (text, -1, NULL);
  g_assert_cmpuint (again->measurements->len, ==, 0);
  g_assert_cmpstr (og_bench_log_append (again, new_measurement ("castor-oil"))->id, ==, "m1");
}

/* A byte order mark is passed over; members of a later version are kept. */
static void
test_unknown_members (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBenchLog) log
    = parse ("\xef\xbb\xbf{\"format\": \"oleograph-bench-log\", \"version\": 1,"
             "\"measurements\": [], \"bench\": {\"place\": \"quay\"}}", -1, &error);
  g_autoptr (OgBenchLog) copy = NULL;
  g_autofree char *text = NULL;

  g_assert_no_error (error);
  copy = og_bench_log_copy (log);
  g_clear_pointer (&log, og_bench_log_free);
  text = text_of (copy);
  g_assert_nonnull (strstr (text, "\"place\": \"quay\""));
}

#define START "{\"format\": \"oleograph-bench-log\", \"version\": 1, "
#define LIKE "\"method\": \"pours-like\", \"like\": \"honey\", \"temperature_c\": 20"

static void
test_refused (void)
{
  static const struct { const char *text; OgStorageError code; const char *message; } cases[] = {
    { "", OG_STORAGE_ERROR_SYNTAX, "x:1: The file is empty." },
    { "[", OG_STORAGE_ERROR_SYNTAX, "x:1: The file ends before the last bracket is closed." },
    { "[]", OG_STORAGE_ERROR_NOT_A_DOCUMENT,
      "x:1: The file is JSON, but not an Oleograph bench log." },
    { "{\"format\": \"oleograph-document\", \"version\": 1}", OG_STORAGE_ERROR_NOT_A_DOCUMENT,
      "x:1: The file is JSON, but not an Oleograph bench log." },
    { "{\"format\": \"oleograph-bench-log\"}", OG_STORAGE_ERROR_VALUE,
      "x:1: version: is missing" },
    { "{\"format\": \"oleograph-bench-log\", \"version\": 7}", OG_STORAGE_ERROR_NEWER_VERSION,
      "x:1: The file was written by a newer Oleograph (format 7; this program reads up to 1)." },
    { START "\"measurements\": {}}", OG_STORAGE_ERROR_VALUE, "x:1: measurements: must be an array" },
    { START "\"title\": \"\"}", OG_STORAGE_ERROR_VALUE, "x:1: measurements: is missing" },
    { START "\"measurements\": [1]}", OG_STORAGE_ERROR_VALUE,
      "x:1: measurements[0]: must be an object" },
    { START "\"measurements\": [{\"id\": \"a\", \"lines\": [], " LIKE "}]}", OG_STORAGE_ERROR_VALUE,
      "x:1: The measurement “a” is not of a neat material." },
    { START "\"measurements\": [{\"id\": \"a\", \"material\": \"m\", " LIKE "},"
      "{\"id\": \"a\", \"material\": \"n\", " LIKE "}]}", OG_STORAGE_ERROR_VALUE,
      "x:1: The measurement “a” occurs twice." },
    { START "\"measurements\": [{\"id\": \"a\", \"material\": \"m\", \"method\": \"sieve\"}]}",
      OG_STORAGE_ERROR_VALUE,
      "x:1: Measurement “a”: method: “sieve” is not one of the words allowed" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (parse (cases[i].text, -1, &error));
      g_assert_error (error, OG_STORAGE_ERROR, (int) cases[i].code);
      g_assert_cmpstr (error->message, ==, cases[i].message);
    }
}

static void
assert_read_or_refused (const char *text,
                        gsize       length)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (OgBenchLog) log = parse (text, (gssize) length, &error);
  g_autofree char *written = NULL;

  g_assert_true ((log == NULL) == (error != NULL));
  if (log == NULL)
    {
      g_assert_cmpuint (error->domain, ==, OG_STORAGE_ERROR);
      return;
    }
  written = text_of (log);
  g_clear_pointer (&log, og_bench_log_free);
  log = parse (written, -1, &error);
  g_assert_no_error (error);
}

static void
test_damaged (void)
{
  static const char marks[] = "{}[]\",:0159-.eE\\u\n \x01\xff" "atrueflsn";
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (gsize length = 0; length < sizeof small_log; length++)
    assert_read_or_refused (small_log, length);
  for (guint i = 0; i < 5000; i++)
    {
      char text[sizeof small_log];
      guint n = (guint) g_rand_int_range (rand, 1, 4);

      memcpy (text, small_log, sizeof text);
      for (guint j = 0; j < n; j++)
        text[g_rand_int_range (rand, 0, sizeof text - 1)] = marks[g_rand_int_range (rand, 0,
                                                                                    sizeof marks)];
      assert_read_or_refused (text, sizeof text - 1);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bench-log/read", test_read);
  g_test_add_func ("/bench-log/edits", test_edits);
  g_test_add_func ("/bench-log/empty", test_empty);
  g_test_add_func ("/bench-log/unknown-members", test_unknown_members);
  g_test_add_func ("/bench-log/refused", test_refused);
  g_test_add_func ("/bench-log/damaged", test_damaged);
  return g_test_run ();
}
