/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/nick.h"

#include <glib/gi18n-lib.h>

static const OgNick *
get_entry (gconstpointer table,
           gsize         size,
           guint         index)
{
  return (const OgNick *) ((const char *) table + size * index);
}

const char *
og_nick_get (gconstpointer table,
             gsize         size,
             guint         n,
             int           value)
{
  g_return_val_if_fail (value >= 0 && (guint) value < n, NULL);

  return get_entry (table, size, (guint) value)->nick;
}

const char *
og_nick_get_name (gconstpointer table,
                  gsize         size,
                  guint         n,
                  int           value)
{
  const OgNick *entry;

  g_return_val_if_fail (value >= 0 && (guint) value < n, NULL);

  entry = get_entry (table, size, (guint) value);
  return entry->name != NULL ? _(entry->name) : NULL;
}

OgWord
og_nick_get_word (gconstpointer table,
                  gsize         size,
                  guint         n,
                  int           value)
{
  const OgNick *entry;

  g_return_val_if_fail (value >= 0 && (guint) value < n, og_word_text (NULL));

  entry = get_entry (table, size, (guint) value);
  return entry->name != NULL ? og_word_label (entry->name) : og_word_text (NULL);
}

gboolean
og_nick_find (gconstpointer table,
              gsize         size,
              guint         n,
              const char   *nick,
              int          *value)
{
  for (guint i = 0; nick != NULL && i < n; i++)
    if (g_strcmp0 (get_entry (table, size, i)->nick, nick) == 0)
      {
        *value = (int) i;
        return TRUE;
      }
  return FALSE;
}

const char *
og_nick_translate (gconstpointer table,
                   gsize         size,
                   guint         n,
                   const char   *nick)
{
  int value;

  g_return_val_if_fail (nick != NULL, NULL);

  return og_nick_find (table, size, n, nick, &value) ? og_nick_get_name (table, size, n, value)
                                                     : nick;
}

OgWord
og_nick_find_word (gconstpointer table,
                   gsize         size,
                   guint         n,
                   const char   *nick)
{
  int value;

  if (!og_nick_find (table, size, n, nick, &value) || get_entry (table, size, (guint) value)->name == NULL)
    return og_word_text (nick);
  return og_nick_get_word (table, size, n, value);
}
