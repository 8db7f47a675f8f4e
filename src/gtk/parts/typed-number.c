/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <langinfo.h>

#include "core/base/amount-text.h"
#include "gtk/parts/typed-number.h"

static char
decimal_mark (void)
{
  return *nl_langinfo (RADIXCHAR) == ',' ? ',' : '.';
}

char *
og_typed_number (const char *text,
                 double     *value)
{
  g_autoptr (OgSaying) problem = og_amount_read (text, decimal_mark (), value, NULL);

  return g_strdup (og_saying_text (problem));
}

char *
og_typed_amount (const char *text,
                 const char *unit,
                 const char *other,
                 double     *value,
                 gboolean   *is_other)
{
  g_autofree char *typed = NULL;
  double number;
  double factor = 1.0;
  g_autoptr (OgSaying) problem = og_amount_read (text, decimal_mark (), &number, &typed);

  if (problem != NULL)
    return g_strdup (og_saying_text (problem));
  *is_other = FALSE;
  if (*typed != '\0' && !og_amount_factor (typed, unit, &factor))
    {
      if (other == NULL || !og_amount_factor (typed, other, &factor))
        /* Translators: the first %s is what the user typed behind a number, the second the unit that is asked for */
        return g_strdup_printf (_("“%s” is no unit for this; it is %s."), typed, unit);
      *is_other = TRUE;
    }
  *value = number * factor;
  return NULL;
}
