/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/json-read.h"

#include <math.h>
#include <string.h>

#include "core/base/error.h"

/* RFC 8259 tells a member that is left out from one that is null, and a number from a text; what
 * each of them means is what the comments of json-read.h say. */

typedef struct
{
  OgJsonFile   *file;
  GError       *error;
  OgJsonContext context;
  OgJsonReader  reader;
} Fixture;

static void
set_up (Fixture    *fixture,
        const char *text)
{
  fixture->error = NULL;
  fixture->file = og_json_file_parse (text, strlen (text), "f", &fixture->error);
  g_assert_no_error (fixture->error);
  fixture->context = (OgJsonContext) {
    .file = fixture->file,
    .domain = OG_STORAGE_ERROR,
    .code = OG_STORAGE_ERROR_VALUE,
    .error = &fixture->error,
  };
  fixture->reader = (OgJsonReader) {
    .context = &fixture->context,
    .object = json_node_get_object (fixture->file->root),
  };
}

static void
tear_down (Fixture    *fixture,
           const char *message)
{
  if (message == NULL)
    {
      g_assert_no_error (fixture->error);
    }
  else
    {
      g_assert_error (fixture->error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
      g_assert_cmpstr (fixture->error->message, ==, message);
    }
  g_clear_error (&fixture->error);
  g_clear_pointer (&fixture->file, og_json_file_free);
}

static gboolean
read_inner (const OgJsonReader *reader,
            gpointer            user_data)
{
  OgJsonReader labelled = *reader;
  OgJsonReader inner;
  const char *label = user_data;

  labelled.label = label;
  return og_json_read_object (&labelled, "inner", OG_JSON_REQUIRED, &inner) == OG_JSON_FOUND
         && og_json_fail (&inner, "last", "wrong");
}

static void
test_way (void)
{
  const char *text = "{\"list\": [\n{\"inner\": {}},\n{\"inner\":\n{\"last\": 1}}]}";
  Fixture fixture;

  set_up (&fixture, text);
  g_assert_false (og_json_read_each (&fixture.reader, "list", OG_JSON_REQUIRED, read_inner, NULL));
  tear_down (&fixture, "f:2: list[0].inner.last: wrong");

  /* What has a name of its own begins the way anew. */
  set_up (&fixture, text);
  g_assert_false (og_json_read_each (&fixture.reader, "list", OG_JSON_REQUIRED, read_inner,
                                     (gpointer) "one"));
  tear_down (&fixture, "f:2: one: inner.last: wrong");
}

static void
test_null (void)
{
  static const struct { OgJsonNull nulls; double expected; const char *message; } cases[] = {
    { OG_JSON_NULL_REFUSED, 7, "f:1: x: must be a finite number" },
    { OG_JSON_NULL_ABSENT, 7, NULL },
    { OG_JSON_NULL_REMOVES, NAN, NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double x = 7;
      Fixture fixture;

      set_up (&fixture, "{\"x\": null}");
      fixture.reader.nulls = cases[i].nulls;
      g_assert_true (og_json_read_number (&fixture.reader, "x", OG_JSON_OPTIONAL, 0, 1, &x)
                     == (cases[i].message == NULL));
      g_assert_true (isnan (cases[i].expected) ? isnan (x) : x == cases[i].expected);
      tear_down (&fixture, cases[i].message);

      /* What is needed is never null. */
      set_up (&fixture, "{\"x\": null}");
      fixture.reader.nulls = cases[i].nulls;
      g_assert_false (og_json_read_number (&fixture.reader, "x", OG_JSON_REQUIRED, 0, 1, &x));
      tear_down (&fixture, "f:1: x: must be a finite number");
    }
}

static void
test_absent (void)
{
  g_autofree char *text = g_strdup ("before");
  g_auto (GStrv) texts = NULL;
  gboolean flag = TRUE;
  gint64 integer = 3;
  Fixture fixture;

  set_up (&fixture, "{}");
  g_assert_true (og_json_read_text (&fixture.reader, "t", OG_JSON_OPTIONAL, &text));
  g_assert_true (og_json_read_note (&fixture.reader, "t", 3, &text));
  g_assert_true (og_json_read_flag (&fixture.reader, "f", &flag));
  g_assert_true (og_json_read_integer (&fixture.reader, "i", OG_JSON_OPTIONAL, 0, 1, &integer));
  g_assert_true (og_json_read_texts (&fixture.reader, "l", OG_JSON_OPTIONAL, 1, NULL, &texts));
  g_assert_cmpstr (text, ==, "before");
  g_assert_true (flag);
  g_assert_cmpint (integer, ==, 3);
  g_assert_true (texts != NULL && texts[0] == NULL);
  g_assert_false (og_json_read_integer (&fixture.reader, "i", OG_JSON_REQUIRED, 0, 1, &integer));
  tear_down (&fixture, "f:1: i: is missing");
}

static void
test_refused (void)
{
  static const char *const known[] = { "a", NULL };
  double numbers[2];
  guint n;
  Fixture fixture;

  set_up (&fixture, "{\"a\": 1, \"b\": 2}");
  g_assert_false (og_json_check_members (&fixture.reader, known));
  tear_down (&fixture, "f:1: b: is not a member of the format");

  set_up (&fixture, "{\"a\": [1, \"2\"]}");
  g_assert_false (og_json_read_numbers (&fixture.reader, "a", 1, 2, numbers, &n));
  tear_down (&fixture, "f:1: a: must be an array of 1 to 2 finite numbers");

  set_up (&fixture, "{\"a\": 1.0}");
  g_assert_false (og_json_read_integer (&fixture.reader, "a", OG_JSON_REQUIRED, 0, 9,
                                        &(gint64) { 0 }));
  tear_down (&fixture, "f:1: a: must be a whole number");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/json-read/way", test_way);
  g_test_add_func ("/json-read/null", test_null);
  g_test_add_func ("/json-read/absent", test_absent);
  g_test_add_func ("/json-read/refused", test_refused);

  return g_test_run ();
}
