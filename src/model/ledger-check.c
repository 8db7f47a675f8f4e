/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/currency.h"
#include "model/ledger-private.h"

#define LAST_MOMENT G_GINT64_CONSTANT (253402300799) /* 9999-12-31T23:59:59Z */

/* --- amounts and days ------------------------------------------------------- */

gboolean
og_ledger_g_to_mg (double  g,
                   gint64 *mg)
{
  if (!isfinite (g) || fabs (g * 1000.0) > (double) OG_LEDGER_MAX_MG)
    return FALSE;
  *mg = llround (g * 1000.0);

  return TRUE;
}

char *
_og_mg_to_text (gint64 mg)
{
  const gint64 size = ABS (mg);
  int fraction = (int) (size % 1000), digits = 3;

  if (fraction == 0)
    return g_strdup_printf ("%s%" G_GINT64_FORMAT, mg < 0 ? "-" : "", size / 1000);
  for (; fraction % 10 == 0; fraction /= 10)
    digits--;

  return g_strdup_printf ("%s%" G_GINT64_FORMAT ".%0*d", mg < 0 ? "-" : "", size / 1000, digits,
                          fraction);
}

gboolean
og_ledger_is_day (const char *text)
{
  int year, month, day;

  if (text == NULL || strlen (text) != strlen ("YYYY-MM-DD") || text[4] != '-' || text[7] != '-')
    return FALSE;
  for (guint i = 0; text[i] != '\0'; i++)
    {
      if (i != 4 && i != 7 && !g_ascii_isdigit (text[i]))
        return FALSE;
    }
  year = (int) g_ascii_strtoll (text, NULL, 10);
  month = (int) g_ascii_strtoll (text + 5, NULL, 10);
  day = (int) g_ascii_strtoll (text + 8, NULL, 10);

  return g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

char *
og_ledger_day (GDateTime *moment)
{
  g_return_val_if_fail (moment != NULL, NULL);

  return g_strdup_printf ("%04d-%02d-%02d", g_date_time_get_year (moment),
                          g_date_time_get_month (moment), g_date_time_get_day_of_month (moment));
}

/* --- what people and files say ------------------------------------------------ */

/* Writing one day or code into a message of one line must not make it several. */
static gboolean
has_controls (const char *text)
{
  for (const char *p = text; *p != '\0'; p++)
    {
      if (g_ascii_iscntrl (*p) && *p != '\n' && *p != '\t')
        return TRUE;
    }

  return FALSE;
}

gboolean
_og_ledger_check_text (const char  *what,
                       const char  *text,
                       gboolean     needed,
                       GError     **error)
{
  if (text == NULL && !needed)
    return TRUE;
  if (text == NULL || (needed && *text == '\0'))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   /* Translators: %s is the name of a field, "lot" */
                   _("%s: a text is needed."), what);
      return FALSE;
    }
  if (strlen (text) > OG_LEDGER_MAX_TEXT || !g_utf8_validate (text, -1, NULL)
      || has_controls (text))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("%s: the text is longer than %d bytes, not UTF-8, or holds control "
                     "characters."), what, OG_LEDGER_MAX_TEXT);
      return FALSE;
    }

  return TRUE;
}

gboolean
_og_ledger_check_currency (const char  *text,
                           GError     **error)
{
  if (!_og_ledger_check_text (_("currency"), text, FALSE, error))
    return FALSE;
  if (text == NULL || og_currency_find (text) != NULL)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               /* Translators: %s is what the reader wrote */
               _("“%s” is not a currency code of three letters (ISO 4217), such as EUR."), text);

  return FALSE;
}

gboolean
_og_ledger_check_day (const char  *what,
                      const char  *day,
                      GError     **error)
{
  if (day == NULL || og_ledger_is_day (day))
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               _("%s: this is not a day of the form YYYY-MM-DD."), what);

  return FALSE;
}

gboolean
_og_ledger_check_mg (gint64   mg,
                     gint64   low,
                     GError **error)
{
  if (mg >= low && mg <= OG_LEDGER_MAX_MG)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               low > 0 ? _("The amount must be at least 1 mg, and at most a thousand tonnes.")
                       : _("The amount is too large, or below 0."));

  return FALSE;
}

gboolean
_og_ledger_check_change (gint64   mg,
                         GError **error)
{
  return (mg < 0 && mg >= -OG_LEDGER_MAX_MG) || _og_ledger_check_mg (mg, 1, error);
}

gboolean
_og_ledger_check_moment (gint64   moment,
                         GError **error)
{
  if (moment >= 0 && moment <= LAST_MOMENT)
    return TRUE;
  g_set_error_literal (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                       _("A moment must lie in the years 1970 to 9999."));

  return FALSE;
}

void
_og_noted_clear (OgNoted *noted)
{
  g_clear_pointer (&noted->day, g_free);
}

gboolean
_og_noted_init (OgNoted             *noted,
                const OgLedgerNote  *note,
                GError             **error)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  const char *day = note != NULL ? note->day : NULL;

  noted->now = g_date_time_to_unix (now);
  noted->day = day != NULL ? g_strdup (day) : og_ledger_day (now);
  noted->who = note != NULL ? note->who : NULL;
  noted->note = note != NULL ? note->note : NULL;

  return _og_ledger_check_day (_("date"), day, error)
         && _og_ledger_check_text (_("who"), noted->who, FALSE, error)
         && _og_ledger_check_text (_("note"), noted->note, FALSE, error);
}
