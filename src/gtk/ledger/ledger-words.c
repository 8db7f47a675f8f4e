/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "core/base/number-text.h"
#include "gtk/ledger/ledger-words.h"

#define WHO_DATA "og-who"

char *
og_ledger_mg_to_number (gint64 mg)
{
  return og_number_fixed (og_ledger_mg_to_g (mg), mg % 10 == 0 ? 2 : 3);
}

char *
og_ledger_mg_to_text (gint64 mg)
{
  g_autofree char *number = og_ledger_mg_to_number (mg);

  /* Translators: %s is a mass in grams */
  return g_strdup_printf (_("%s g"), number);
}

char *
og_ledger_price_to_text (double      price,
                         const char *currency)
{
  g_autofree char *number = NULL;

  if (isnan (price))
    return g_strdup ("");
  number = og_number_fixed (price, 2);
  return currency != NULL ? g_strdup_printf ("%s %s", number, currency)
                          : g_steal_pointer (&number);
}

char *
og_ledger_moment_to_text (gint64 moment)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_local (moment);

  return time != NULL ? g_date_time_format (time, "%Y-%m-%d %H:%M") : g_strdup ("");
}

char *
og_ledger_optional_text (const char *text)
{
  return g_strdup (text != NULL ? text : "");
}

const char *
og_ledger_get_who (OgLedger *ledger)
{
  g_return_val_if_fail (OG_IS_LEDGER (ledger), NULL);

  return g_object_get_data (G_OBJECT (ledger), WHO_DATA);
}

void
og_ledger_set_who (OgLedger   *ledger,
                   const char *who)
{
  g_return_if_fail (OG_IS_LEDGER (ledger));

  g_object_set_data_full (G_OBJECT (ledger), WHO_DATA, g_strdup (who), g_free);
}
