/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** OgNick: what one value of an enumeration is called. A table holds one entry for each value, at
 * the value's own place. */
typedef struct
{
  const char *nick; /* in files and on the command line; %NULL: the value has no word there */
  const char *name; /* marked with N_(); %NULL: never shown */
} OgNick;

/** Returns: (nullable) (transfer none): the nick of @value */
const char *og_nick_get      (const OgNick  *table,
                              guint          n,
                              int            value);
/** Returns: (nullable) (transfer none): the translated name of @value */
const char *og_nick_get_name (const OgNick  *table,
                              guint          n,
                              int            value);
/** Returns: %FALSE if no value is called @nick (nullable); @value is left alone then */
gboolean    og_nick_find     (const OgNick  *table,
                              guint          n,
                              const char    *nick,
                              int           *value);

/** Defines PREFIX_to_nick() and PREFIX_from_nick() of an enumeration by its table. */
#define OG_DEFINE_NICKS(Type, prefix, table)                            \
  const char *                                                          \
  prefix##_to_nick (Type value)                                         \
  {                                                                     \
    return og_nick_get (table, G_N_ELEMENTS (table), (int) value);      \
  }                                                                     \
                                                                        \
  gboolean                                                              \
  prefix##_from_nick (const char *nick,                                 \
                      Type       *value)                                \
  {                                                                     \
    int found;                                                          \
                                                                        \
    if (!og_nick_find (table, G_N_ELEMENTS (table), nick, &found))      \
      return FALSE;                                                     \
    *value = (Type) found;                                              \
    return TRUE;                                                        \
  }

/** Defines PREFIX_get_name() of an enumeration by its table. */
#define OG_DEFINE_NAMES(Type, prefix, table)                            \
  const char *                                                          \
  prefix##_get_name (Type value)                                        \
  {                                                                     \
    return og_nick_get_name (table, G_N_ELEMENTS (table), (int) value); \
  }

G_END_DECLS
