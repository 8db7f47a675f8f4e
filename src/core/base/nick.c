/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/nick.h"

#include <glib/gi18n-lib.h>

const char *
og_nick_get (const OgNick *table,
             guint         n,
             int           value)
{
  g_return_val_if_fail (value >= 0 && (guint) value < n, NULL);

  return table[value].nick;
}

const char *
og_nick_get_name (const OgNick *table,
                  guint         n,
                  int           value)
{
  g_return_val_if_fail (value >= 0 && (guint) value < n, NULL);

  return table[value].name != NULL ? _(table[value].name) : NULL;
}

gboolean
og_nick_find (const OgNick *table,
              guint         n,
              const char   *nick,
              int          *value)
{
  for (guint i = 0; nick != NULL && i < n; i++)
    if (g_strcmp0 (table[i].nick, nick) == 0)
      {
        *value = (int) i;
        return TRUE;
      }
  return FALSE;
}
