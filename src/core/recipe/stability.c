/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/stability.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/arrhenius.h"
#include "core/base/dates.h"
#include "core/base/nick.h"
#include "core/base/units.h"

#define USUAL_Q10 2.0 /* common practice, no published source */
#define MOST_MONTHS 60 /* that may be claimed: nobody tests longer; judgement */

#define BIT(reading) (1u << (reading))
#define SENSES (BIT (OG_READING_LOOK) | BIT (OG_READING_ODOUR) | BIT (OG_READING_COLOUR))
#define FULL                                                                                       \
  (SENSES | BIT (OG_READING_VISCOSITY_MPA_S) | BIT (OG_READING_PEROXIDE_MEQ_KG)                    \
   | BIT (OG_READING_WEIGHT_LOSS_PCT) | BIT (OG_READING_LEAK) | BIT (OG_READING_SEPARATION))

/* --- names --- */

static const OgNick tests[OG_N_STABILITY_TESTS] = {
  [OG_STABILITY_COLD] = { "cold", N_("Cold") },
  [OG_STABILITY_ROOM] = { "room", N_("Room") },
  [OG_STABILITY_WARM] = { "warm", N_("Warm") },
  [OG_STABILITY_CYCLE] = { "cycle", N_("Freeze and thaw") },
  [OG_STABILITY_LIGHT] = { "light", N_("Light") },
  [OG_STABILITY_CENTRIFUGE] = { "centrifuge", N_("Centrifuge") },
};
OG_DEFINE_NICKS (OgStabilityTest, og_stability_test, tests)
OG_DEFINE_NAMES (OgStabilityTest, og_stability_test, tests)
OG_JSON_DEFINE_CHOICE (OgStabilityTest, og_stability_test)

static const OgNick readings[OG_N_STABILITY_READINGS] = {
  [OG_READING_LOOK] = { "look", N_("Look") },
  [OG_READING_ODOUR] = { "odour", N_("Odour") },
  [OG_READING_COLOUR] = { "colour", N_("Colour") },
  [OG_READING_VISCOSITY_MPA_S] = { "viscosity_mpa_s", N_("Viscosity, mPa·s") },
  [OG_READING_PEROXIDE_MEQ_KG] = { "peroxide_meq_kg", N_("Peroxide value, meq/kg") },
  [OG_READING_WEIGHT_LOSS_PCT] = { "weight_loss_pct", N_("Weight loss, %") },
  [OG_READING_LEAK] = { "leak", N_("Leaks") },
  [OG_READING_SEPARATION] = { "separation", N_("Separated oil or settled colour") },
};
OG_DEFINE_NICKS (OgStabilityReading, og_stability_reading, readings)
OG_DEFINE_NAMES (OgStabilityReading, og_stability_reading, readings)
OG_JSON_DEFINE_CHOICE (OgStabilityReading, og_stability_reading)

const char *
og_stability_test_describe (OgStabilityTest test)
{
  static const OgNick settings[OG_N_STABILITY_TESTS] = {
    [OG_STABILITY_COLD] = { NULL, N_("4 °C, dark: the reference for the others") },
    [OG_STABILITY_ROOM] = { NULL, N_("20 to 25 °C, dark, for the whole time claimed") },
    [OG_STABILITY_WARM] = { NULL, N_("40 °C, dark, three months") },
    [OG_STABILITY_CYCLE] = { NULL, N_("Five times 24 hours at -10 °C and 24 hours at 40 °C") },
    [OG_STABILITY_LIGHT] = { NULL, N_("At a window, beside a twin wrapped in foil, 12 weeks") },
    [OG_STABILITY_CENTRIFUGE] = { NULL, N_("3000 rpm, 30 minutes") },
  };

  return og_nick_get_name (OG_NICK_TABLE (settings), (int) test);
}

/* --- the plan --- */

/* Appointment: a reading of one test so many days after the start. */
typedef struct
{
  OgStabilityTest test;
  guint           day;
  guint           readings;
} Appointment;

/* Common practice, no published source. */
static const Appointment appointments[] = {
  { OG_STABILITY_ROOM, 0, FULL },
  { OG_STABILITY_CENTRIFUGE, 1, BIT (OG_READING_SEPARATION) },
  { OG_STABILITY_CYCLE, 2, SENSES | BIT (OG_READING_SEPARATION) },
  { OG_STABILITY_CYCLE, 6, SENSES | BIT (OG_READING_SEPARATION) },
  { OG_STABILITY_CYCLE, 10, FULL & ~BIT (OG_READING_PEROXIDE_MEQ_KG) },
  { OG_STABILITY_WARM, 14, SENSES | BIT (OG_READING_SEPARATION) | BIT (OG_READING_LEAK) },
  { OG_STABILITY_WARM, 28, FULL },
  { OG_STABILITY_LIGHT, 28, SENSES },
  { OG_STABILITY_WARM, 56, FULL },
  { OG_STABILITY_LIGHT, 56, SENSES },
  { OG_STABILITY_LIGHT, 84, SENSES | BIT (OG_READING_PEROXIDE_MEQ_KG) },
};

#define WARM_MONTHS 3 /* of the warm test: common practice, no source */

/* Months at which the shelf is visited, besides the last one claimed. */
static const guint shelf_months[] = { 1, 3, 6, 9, 12, 18, 24, 30, 36, 48 };

static void
add_due (GArray          *plan,
         const GDate     *start,
         const GDate     *date,
         OgStabilityTest  test,
         guint            bits)
{
  OgStabilityDue due = {
    .date = *date,
    .test = test,
    .day = (guint) g_date_days_between (start, date),
    .readings = bits,
  };

  g_array_append_val (plan, due);
}

static void
add_month (GArray          *plan,
           const GDate     *start,
           guint            months,
           OgStabilityTest  test,
           guint            bits)
{
  GDate date = *start;

  g_date_add_months (&date, months);
  add_due (plan, start, &date, test, bits);
}

static void
add_shelf (GArray      *plan,
           const GDate *start,
           guint        months)
{
  add_month (plan, start, months, OG_STABILITY_COLD, SENSES | BIT (OG_READING_SEPARATION));
  add_month (plan, start, months, OG_STABILITY_ROOM, FULL);
}

static int
compare_due (gconstpointer a,
             gconstpointer b)
{
  const OgStabilityDue *x = a, *y = b;
  int order = g_date_compare (&x->date, &y->date);

  return order != 0 ? order : (int) x->test - (int) y->test;
}

GArray *
og_stability_plan (const GDate *start,
                   guint        claimed_months)
{
  GArray *plan;

  g_return_val_if_fail (start != NULL && g_date_valid (start), NULL);
  g_return_val_if_fail (claimed_months >= 1 && claimed_months <= MOST_MONTHS, NULL);

  plan = g_array_new (FALSE, FALSE, sizeof (OgStabilityDue));
  for (guint i = 0; i < G_N_ELEMENTS (appointments); i++)
    {
      GDate date = *start;

      g_date_add_days (&date, appointments[i].day);
      add_due (plan, start, &date, appointments[i].test, appointments[i].readings);
    }
  add_month (plan, start, WARM_MONTHS, OG_STABILITY_WARM, FULL);
  for (guint i = 0; i < G_N_ELEMENTS (shelf_months) && shelf_months[i] < claimed_months; i++)
    add_shelf (plan, start, shelf_months[i]);
  add_shelf (plan, start, claimed_months);
  g_array_sort (plan, compare_due);

  return plan;
}

static void
append_quoted (GString    *csv,
               const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, "\"", -1);
  g_autofree char *doubled = g_strjoinv ("\"\"", parts);

  g_string_append_printf (csv, "\"%s\"", doubled);
}

char *
og_stability_plan_to_csv (const GArray *plan)
{
  GString *csv;

  g_return_val_if_fail (plan != NULL, NULL);

  csv = g_string_new ("date,day,test,setting,reading,value,note\n");
  for (guint i = 0; i < plan->len; i++)
    {
      const OgStabilityDue *due = &g_array_index (plan, OgStabilityDue, i);
      g_autofree char *date = og_date_to_text (&due->date);

      for (guint reading = 0; reading < OG_N_STABILITY_READINGS; reading++)
        {
          if ((due->readings & BIT (reading)) == 0)
            continue;
          g_string_append_printf (csv, "%s,%u,%s,", date, due->day,
                                  og_stability_test_to_nick (due->test));
          append_quoted (csv, og_stability_test_describe (due->test));
          g_string_append_printf (csv, ",%s,,\n",
                                  og_stability_reading_to_nick ((OgStabilityReading) reading));
        }
    }

  return g_string_free (csv, FALSE);
}

double
og_stability_supported_months (double test_months,
                               double test_c,
                               double store_c)
{
  return test_months * og_q10_factor (USUAL_Q10, test_c, store_c);
}

/* --- results --- */

OgStabilityResult *
og_stability_result_new (const GDate        *date,
                         OgStabilityTest     test,
                         OgStabilityReading  reading,
                         double              value,
                         const char         *note)
{
  OgStabilityResult *result;

  g_return_val_if_fail (date != NULL && g_date_valid (date), NULL);

  result = g_new0 (OgStabilityResult, 1);
  result->date = *date;
  result->test = test;
  result->reading = reading;
  result->value = value;
  result->note = g_strdup (note);

  return result;
}

OgStabilityResult *
og_stability_result_copy (const OgStabilityResult *result)
{
  return og_stability_result_new (&result->date, result->test, result->reading, result->value,
                                  result->note);
}

void
og_stability_result_free (OgStabilityResult *result)
{
  if (result == NULL)
    return;

  g_free (result->note);
  g_free (result);
}

gboolean
og_stability_result_equal (gconstpointer a,
                           gconstpointer b)
{
  const OgStabilityResult *x = a, *y = b;

  return g_date_compare (&x->date, &y->date) == 0 && x->test == y->test && x->reading == y->reading
         && og_number_equal (x->value, y->value)
         && g_strcmp0 (x->note, y->note) == 0;
}

JsonObject *
og_stability_result_to_json (const OgStabilityResult *result)
{
  g_autofree char *date = og_date_to_text (&result->date);
  JsonObject *object = json_object_new ();

  json_object_set_string_member (object, "date", date);
  if (result->note != NULL)
    json_object_set_string_member (object, "note", result->note);
  json_object_set_string_member (object, "reading", og_stability_reading_to_nick (result->reading));
  json_object_set_string_member (object, "test", og_stability_test_to_nick (result->test));
  if (isfinite (result->value))
    json_object_set_double_member (object, "value", result->value);
  return object;
}

OgStabilityResult *
og_stability_result_read (const OgJsonReader *reader)
{
  g_autofree char *note = NULL;
  OgStabilityTest test = OG_STABILITY_COLD;
  OgStabilityReading reading = OG_READING_LOOK;
  GDate date;
  double value = NAN;

  g_date_clear (&date, 1);
  if (!og_json_read_date (reader, "date", OG_JSON_REQUIRED, &date)
      || !og_stability_test_read (reader, "test", OG_JSON_REQUIRED, &test)
      || !og_stability_reading_read (reader, "reading", OG_JSON_REQUIRED, &reading)
      || !og_json_read_note (reader, "note", G_MAXLONG, &note)
      || !og_json_read_number (reader, "value", OG_JSON_OPTIONAL, -INFINITY, INFINITY, &value))
    return NULL;
  return og_stability_result_new (&date, test, reading, value, note);
}
