/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/dates.h"

#include <string.h>

#define PATTERN "0000-00-00"

gboolean
og_date_parse (const char *text,
               GDate      *date)
{
  guint year, month, day;

  if (text == NULL || strlen (text) != strlen (PATTERN))
    return FALSE;
  for (guint i = 0; PATTERN[i] != '\0'; i++)
    if (PATTERN[i] == '0' ? !g_ascii_isdigit (text[i]) : text[i] != PATTERN[i])
      return FALSE;

  year = (guint) g_ascii_strtoull (text, NULL, 10);
  month = (guint) g_ascii_strtoull (text + strlen ("0000-"), NULL, 10);
  day = (guint) g_ascii_strtoull (text + strlen ("0000-00-"), NULL, 10);
  if (!g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return FALSE;
  g_date_set_dmy (date, (GDateDay) day, (GDateMonth) month, (GDateYear) year);

  return TRUE;
}

char *
og_date_to_text (const GDate *date)
{
  return g_strdup_printf ("%04u-%02u-%02u", g_date_get_year (date), (guint) g_date_get_month (date),
                          (guint) g_date_get_day (date));
}
