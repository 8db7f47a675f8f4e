/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/dates.h"

#include <string.h>

#define MONTH_AT strlen ("0000-")
#define DAY_AT strlen ("0000-00-")

/* @pattern: 0 for a digit, everything else as it stands */
static gboolean
is_like (const char *text,
         const char *pattern)
{
  if (text == NULL || strlen (text) != strlen (pattern))
    return FALSE;
  for (guint i = 0; pattern[i] != '\0'; i++)
    if (pattern[i] == '0' ? !g_ascii_isdigit (text[i]) : text[i] != pattern[i])
      return FALSE;

  return TRUE;
}

static guint
number_at (const char *text,
           gsize       at)
{
  return (guint) g_ascii_strtoull (text + at, NULL, 10);
}

gboolean
og_date_parse (const char *text,
               GDate      *date)
{
  GDateYear year;
  GDateMonth month;
  GDateDay day;

  if (!is_like (text, "0000-00-00"))
    return FALSE;
  year = (GDateYear) number_at (text, 0);
  month = (GDateMonth) number_at (text, MONTH_AT);
  day = (GDateDay) number_at (text, DAY_AT);
  if (!g_date_valid_dmy (day, month, year))
    return FALSE;
  g_date_set_dmy (date, day, month, year);

  return TRUE;
}

gboolean
og_month_parse (const char *text,
                guint      *year,
                guint      *month)
{
  if (!is_like (text, "0000-00")
      || !g_date_valid_month ((GDateMonth) number_at (text, MONTH_AT)))
    return FALSE;
  *year = number_at (text, 0);
  *month = number_at (text, MONTH_AT);

  return TRUE;
}

char *
og_date_to_text (const GDate *date)
{
  return g_strdup_printf ("%04u-%02u-%02u", g_date_get_year (date), (guint) g_date_get_month (date),
                          (guint) g_date_get_day (date));
}
