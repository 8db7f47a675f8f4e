/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/stability.h"

#include <math.h>
#include <string.h>

#include "core/base/dates.h"
#include "core/base/error.h"

static void
test_dates (void)
{
  static const char *const bad[] = { "",           "2026-02-29", "2026-13-01",  "2026-3-01",
                                     "2026/03/01", "2026-03-01x", " 2026-03-01", "20260301",
                                     "0000-01-01", "2026-00-10",  NULL };
  static const char *const bad_months[] = { "", "2027-13", "2027-00", "2027-8", "2027-08x", "2027/08",
                                            "20270-8", NULL };
  GDate date;
  guint year, month;
  g_autofree char *text = NULL;

  for (guint i = 0; bad_months[i] != NULL; i++)
    g_assert_false (og_month_parse (bad_months[i], &year, &month));
  g_assert_false (og_month_parse (NULL, &year, &month));
  g_assert_true (og_month_parse ("2027-08", &year, &month));
  g_assert_cmpuint (year, ==, 2027);
  g_assert_cmpuint (month, ==, 8);

  g_date_clear (&date, 1);
  for (guint i = 0; bad[i] != NULL; i++)
    g_assert_false (og_date_parse (bad[i], &date));
  g_assert_false (og_date_parse (NULL, &date));
  g_assert_true (og_date_parse ("2024-02-29", &date));
  text = og_date_to_text (&date);
  g_assert_cmpstr (text, ==, "2024-02-29");
}

static GArray *
plan_from (const char *start,
           guint       months)
{
  GDate date;

  g_date_clear (&date, 1);
  g_assert_true (og_date_parse (start, &date));

  return og_stability_plan (&date, months);
}

static gboolean
is_due (const GArray    *plan,
        const char      *date,
        OgStabilityTest  test)
{
  for (guint i = 0; i < plan->len; i++)
    {
      const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);
      g_autofree char *text = og_date_to_text (&due->date);

      if (due->test == test && strcmp (text, date) == 0)
        return TRUE;
    }

  return FALSE;
}

/* Common practice, no source: 40 C for three months, five cycles of two days, light for twelve
 * weeks, a centrifuge, and a shelf for as long as is claimed. The calendar by hand. */
static void
test_plan (void)
{
  g_autoptr (GArray) plan = plan_from ("2026-11-30", 12);
  const OgStabilityDue *first = &g_array_index (plan, OgStabilityDue, 0);
  const OgStabilityDue *last = &g_array_index (plan, OgStabilityDue, plan->len - 1);

  g_assert_cmpuint (first->day, ==, 0);
  g_assert_cmpuint (last->day, ==, 365);
  g_assert_true (is_due (plan, "2027-02-28", OG_STABILITY_WARM));
  g_assert_true (is_due (plan, "2026-12-10", OG_STABILITY_CYCLE));
  g_assert_true (is_due (plan, "2027-02-22", OG_STABILITY_LIGHT));
  g_assert_true (is_due (plan, "2027-11-30", OG_STABILITY_ROOM));
  g_assert_true (is_due (plan, "2027-11-30", OG_STABILITY_COLD));
  for (guint i = 1; i < plan->len; i++)
    {
      const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);

      g_assert_cmpuint (due->day, >=, g_array_index (plan, OgStabilityDue, i - 1).day);
      g_assert_cmpuint (due->readings, !=, 0);
    }
}

static void
test_plan_lengths (void)
{
  for (guint months = 1; months <= 60; months++)
    {
      g_autoptr (GArray) plan = plan_from ("2026-03-01", months);
      guint shelf = 0;
      GDate end;

      g_date_clear (&end, 1);
      g_date_set_dmy (&end, 1, G_DATE_MARCH, 2026);
      g_date_add_months (&end, months);
      for (guint i = 0; i < plan->len; i++)
        {
          const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);

          if (due->test == OG_STABILITY_ROOM)
            {
              g_assert_cmpint (g_date_compare (&due->date, &end), <=, 0);
              shelf++;
            }
        }
      g_assert_cmpuint (shelf, >=, 2);
    }
}

static void
test_csv (void)
{
  g_autoptr (GArray) plan = plan_from ("2026-03-01", 6);
  g_autofree char *csv = og_stability_plan_to_csv (plan);
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);

  g_assert_cmpstr (lines[0], ==, "date,day,test,setting,reading,value,note");
  g_assert_true (g_str_has_prefix (lines[1], "2026-03-01,0,room,\""));
  g_assert_true (g_str_has_suffix (lines[1], ",look,,"));
  for (guint i = 1; lines[i + 1] != NULL; i++)
    g_assert_true (g_str_has_suffix (lines[i], ",,"));
}

/* 40 C for 3 months against 25 C with a factor of 2 for 10 C: 2^1.5 x 3 = 8.5. */
static void
test_supported (void)
{
  g_assert_cmpfloat_with_epsilon (og_stability_supported_months (3, 40, 25), 8.49, 0.01);
  g_assert_cmpfloat (og_stability_supported_months (3, 25, 25), ==, 3);
}

static void
test_names (void)
{
  for (guint i = 0; i < OG_N_STABILITY_TESTS; i++)
    {
      OgStabilityTest test;

      g_assert_true (
        og_stability_test_from_nick (og_stability_test_to_nick ((OgStabilityTest) i), &test));
      g_assert_cmpint (test, ==, i);
    }
  for (guint i = 0; i < OG_N_STABILITY_READINGS; i++)
    {
      OgStabilityReading reading;

      g_assert_true (og_stability_reading_from_nick (
        og_stability_reading_to_nick ((OgStabilityReading) i), &reading));
      g_assert_cmpint (reading, ==, i);
    }
}

static gboolean
keep_result (const OgJsonReader *reader,
             gpointer            user_data)
{
  OgStabilityResult **result = user_data;

  *result = og_stability_result_read (reader);
  return *result != NULL;
}

/* Reads @node as the one entry of a list of results. */
static OgStabilityResult *
read_result (JsonNode  *node,
             GError   **error)
{
  g_autoptr (JsonObject) object = json_object_new ();
  JsonArray *array = json_array_new ();
  OgJsonContext context = { .domain = OG_STORAGE_ERROR, .code = OG_STORAGE_ERROR_VALUE,
                            .error = error };
  OgJsonReader reader = { .context = &context, .object = object };
  OgStabilityResult *result = NULL;

  json_array_add_element (array, json_node_copy (node));
  json_object_set_array_member (object, "results", array);
  og_json_read_each (&reader, "results", OG_JSON_REQUIRED, keep_result, &result);
  return result;
}

static void
test_round_trip (void)
{
  static const double values[] = { 0, 3.5, NAN };
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 31, G_DATE_DECEMBER, 2026);
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    {
      g_autoptr (OgStabilityResult) result = og_stability_result_new (
        &date, OG_STABILITY_WARM, OG_READING_PEROXIDE_MEQ_KG, values[i], i == 0 ? NULL : "“rim”, ok");
      g_autoptr (OgStabilityResult) copy = og_stability_result_copy (result);
      g_autoptr (JsonObject) object = og_stability_result_to_json (result);
      g_autoptr (JsonNode) node = json_node_init_object (json_node_alloc (), object);
      g_autoptr (GError) error = NULL;
      g_autoptr (OgStabilityResult) again = read_result (node, &error);

      g_assert_no_error (error);
      g_assert_true (og_stability_result_equal (result, copy));
      g_assert_true (og_stability_result_equal (result, again));
      copy->value = 99;
      g_assert_false (og_stability_result_equal (result, copy));
    }
}

static void
test_refused (void)
{
  static const char *const bad[] = {
    "[]",
    "{}",
    "{\"date\":\"2026-02-30\",\"test\":\"warm\",\"reading\":\"look\"}",
    "{\"date\":7,\"test\":\"warm\",\"reading\":\"look\"}",
    "{\"date\":\"2026-02-01\",\"test\":\"oven\",\"reading\":\"look\"}",
    "{\"date\":\"2026-02-01\",\"test\":\"warm\",\"reading\":\"taste\"}",
    "{\"date\":\"2026-02-01\",\"test\":\"warm\",\"reading\":\"look\",\"value\":\"3\"}",
    "{\"date\":\"2026-02-01\",\"test\":\"warm\",\"reading\":\"look\",\"value\":true}",
    "{\"date\":\"2026-02-01\",\"test\":\"warm\",\"reading\":\"look\",\"note\":[]}",
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (JsonNode) node = json_from_string (bad[i], NULL);
      g_autoptr (GError) error = NULL;

      g_assert_null (read_result (node, &error));
      g_assert_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/stability/dates", test_dates);
  g_test_add_func ("/stability/plan", test_plan);
  g_test_add_func ("/stability/plan-lengths", test_plan_lengths);
  g_test_add_func ("/stability/csv", test_csv);
  g_test_add_func ("/stability/supported", test_supported);
  g_test_add_func ("/stability/names", test_names);
  g_test_add_func ("/stability/round-trip", test_round_trip);
  g_test_add_func ("/stability/refused", test_refused);

  return g_test_run ();
}
