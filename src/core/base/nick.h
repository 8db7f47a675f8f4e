/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"

G_BEGIN_DECLS

/** OgNick: what one value of an enumeration is called. A table holds one entry for each value, at
 * the value's own place. An entry is an OgNick, or a structure that begins with one and says more of
 * the value. */
typedef struct
{
  const char *nick; /* in files and on the command line; %NULL: the value has no word there */
  const char *name; /* marked with N_(); %NULL: never shown */
} OgNick;

/* @table: @n entries of @size bytes */

/** Returns: (nullable) (transfer none): the nick of @value */
const char *og_nick_get       (gconstpointer  table,
                               gsize          size,
                               guint          n,
                               int            value);
/** Returns: (nullable) (transfer none): the translated name of @value */
const char *og_nick_get_name  (gconstpointer  table,
                               gsize          size,
                               guint          n,
                               int            value);
/** Returns: the name of @value as a value of a saying; empty if it has none */
OgWord      og_nick_get_word  (gconstpointer  table,
                               gsize          size,
                               guint          n,
                               int            value);
/** Returns: the name of what is called @nick as a value of a saying; @nick itself if there is none */
OgWord      og_nick_find_word (gconstpointer  table,
                               gsize          size,
                               guint          n,
                               const char    *nick);
/** Returns: %FALSE if no value is called @nick (nullable); @value is left alone then */
gboolean    og_nick_find      (gconstpointer  table,
                               gsize          size,
                               guint          n,
                               const char    *nick,
                               int           *value);
/** Returns: (transfer none): the translated name of what is called @nick, @nick itself if there is
 * none */
const char *og_nick_translate (gconstpointer  table,
                               gsize          size,
                               guint          n,
                               const char    *nick);

/** The first three arguments of these functions for an array. */
#define OG_NICK_TABLE(table) (table), sizeof (table)[0], G_N_ELEMENTS (table)

/** Defines PREFIX_to_nick() of an enumeration by its table. */
#define OG_DEFINE_TO_NICK(Type, prefix, table)                          \
  const char *                                                          \
  prefix##_to_nick (Type value)                                         \
  {                                                                     \
    return og_nick_get (OG_NICK_TABLE (table), (int) value);            \
  }

/** Defines PREFIX_from_nick() of an enumeration by its table; what comes before @first is a state
 * that nobody can ask for. */
#define OG_DEFINE_FROM_NICK(Type, prefix, table, first)                 \
  gboolean                                                              \
  prefix##_from_nick (const char *nick,                                 \
                      Type       *value)                                \
  {                                                                     \
    int found;                                                          \
                                                                        \
    if (!og_nick_find (OG_NICK_TABLE (table), nick, &found)             \
        || found < (int) (first))                                       \
      return FALSE;                                                     \
    *value = (Type) found;                                              \
    return TRUE;                                                        \
  }

/** Defines PREFIX_to_nick() and PREFIX_from_nick() of an enumeration by its table. */
#define OG_DEFINE_NICKS(Type, prefix, table)                            \
  OG_DEFINE_TO_NICK (Type, prefix, table)                               \
                                                                        \
  OG_DEFINE_FROM_NICK (Type, prefix, table, 0)

/** Defines PREFIX_get_name() of an enumeration by its table. */
#define OG_DEFINE_NAMES(Type, prefix, table)                            \
  const char *                                                          \
  prefix##_get_name (Type value)                                        \
  {                                                                     \
    return og_nick_get_name (OG_NICK_TABLE (table), (int) value);       \
  }

/** Defines PREFIX_word() of an enumeration by its table: the name as a value of a saying. */
#define OG_DEFINE_WORDS(Type, prefix, table)                            \
  OgWord                                                                \
  prefix##_word (Type value)                                            \
  {                                                                     \
    return og_nick_get_word (OG_NICK_TABLE (table), (int) value);       \
  }

G_END_DECLS
