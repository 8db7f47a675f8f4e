/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

#include "core/base/json-file.h"

G_BEGIN_DECLS

/* The one reader of every JSON object that the core takes in. A reader stands on an object; each
 * function takes one member, and says what is wrong as
 * "FILE:LINE: LABEL: way.to[0].the.member: reason". */

/** OgJsonContext: what holds for the whole of one reading. */
typedef struct
{
  const OgJsonFile *file; /* nullable: messages begin with the label then */
  GQuark            domain;
  int               code;           /* of an error that names no other */
  int               reference_code; /* of a key or an id that is not defined, or not used */
  GError          **error;
  JsonObject       *sources;      /* nullable: citations by key; without it a source is its text */
  GHashTable       *used_sources; /* nullable: keys that were read */
} OgJsonContext;

/**
 * OgJsonNull: what `null` says in place of an optional member.
 * @OG_JSON_NULL_REFUSED: nothing; files that leave out what they do not know
 * @OG_JSON_NULL_ABSENT: the same as if the member were left out
 * @OG_JSON_NULL_REMOVES: what is there already is cleared; members that are needed may be left out
 */
typedef enum
{
  OG_JSON_NULL_REFUSED,
  OG_JSON_NULL_ABSENT,
  OG_JSON_NULL_REMOVES
} OgJsonNull;

/** OgJsonReader: an object and the way to it. A plain value that owns nothing. */
typedef struct _OgJsonReader OgJsonReader;
struct _OgJsonReader
{
  const OgJsonContext *context;
  JsonObject          *object;
  OgJsonNull           nulls;
  const char          *label;  /* nullable: what the object is called; its path begins anew then */
  const OgJsonReader  *parent; /* nullable */
  const char          *member; /* of @parent */
  int                  index;  /* in the array @member, or -1 */
};

/** OgJsonNeed: whether a member may be left out. */
typedef enum
{
  OG_JSON_OPTIONAL,
  OG_JSON_REQUIRED
} OgJsonNeed;

/**
 * OgJsonFound:
 * @OG_JSON_FAULT: the error is set
 * @OG_JSON_ABSENT: leave what is there
 * @OG_JSON_REMOVED: clear what is there
 * @OG_JSON_FOUND: a value
 */
typedef enum
{
  OG_JSON_FAULT,
  OG_JSON_ABSENT,
  OG_JSON_REMOVED,
  OG_JSON_FOUND
} OgJsonFound;

/**
 * og_json_begin_document:
 * @format: what the member `format` must say
 * @version: highest that the member `version` may have
 * @other: the message about a file of another format
 * @context: (out): for #OgStorageError
 * @reader: (out): stands on the object of the file; both are used while @file lives
 */
gboolean    og_json_begin_document (const OgJsonFile   *file,
                                    const char         *format,
                                    int                 version,
                                    const char         *other,
                                    OgJsonContext      *context,
                                    OgJsonReader       *reader,
                                    GError            **error);

/** Sets the error about @member, or about the object itself if that is %NULL. Returns: %FALSE */
gboolean    og_json_fail          (const OgJsonReader  *reader,
                                   const char          *member,
                                   const char          *format,
                                   ...) G_GNUC_PRINTF (3, 4);
/** The same with another @code than that of the context. */
gboolean    og_json_fail_code     (const OgJsonReader  *reader,
                                   const char          *member,
                                   int                  code,
                                   const char          *format,
                                   ...) G_GNUC_PRINTF (4, 5);
/** The same about a @word that @member does not know. */
gboolean    og_json_fail_word     (const OgJsonReader  *reader,
                                   const char          *member,
                                   const char          *word);

/** Refuses members that are not in @known, which ends in %NULL: a slip must not pass as unknown. */
gboolean    og_json_check_members (const OgJsonReader  *reader,
                                   const char *const   *known);
/** @node: (out) (transfer none): the member, whatever it holds */
OgJsonFound og_json_find          (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   JsonNode           **node);

/* These leave @out alone where the member is absent, and return %FALSE with the error set. What is
 * removed becomes %NULL, NAN or %FALSE. */

/** @out: (transfer none): a text that is not blank */
gboolean    og_json_peek_text     (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   const char         **out);
/** @out: (transfer full): a text that is not blank; the old one is freed */
gboolean    og_json_read_text     (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   char               **out);
/** The same of 1 ... @max_length characters, blanks among them. */
gboolean    og_json_read_name     (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   glong                max_length,
                                   char               **out);
/** An optional text that may be empty, of at most @max_length characters, or %G_MAXLONG. */
gboolean    og_json_read_note     (const OgJsonReader  *reader,
                                   const char          *member,
                                   glong                max_length,
                                   char               **out);
/** A finite number of @low ... @high in the unit of the member; the bounds may be infinite. */
gboolean    og_json_read_number   (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   double               low,
                                   double               high,
                                   double              *out);
/** A whole number of @low ... @high. */
gboolean    og_json_read_integer  (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   gint64               low,
                                   gint64               high,
                                   gint64              *out);
/** An optional boolean. */
gboolean    og_json_read_flag     (const OgJsonReader  *reader,
                                   const char          *member,
                                   gboolean            *out);
/** A date as text, year-month-day. */
gboolean    og_json_read_date     (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   GDate               *out);
/** @out: (transfer full): the citation that the member `source` stands for */
gboolean    og_json_read_source   (const OgJsonReader  *reader,
                                   OgJsonNeed           need,
                                   char               **out);
/** Whether each of the citations is a text. */
gboolean    og_json_check_sources (const OgJsonReader  *sources);
/** Whether each of the citations was read. */
gboolean    og_json_check_used    (const OgJsonReader  *sources);
/**
 * og_json_read_texts:
 * @least: fewest texts, 0 or 1; none may be blank
 * @is_known: (nullable): whether a word is allowed
 * @out: (inout) (transfer full): replaced; never %NULL afterwards
 */
gboolean    og_json_read_texts    (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   guint                least,
                                   gboolean           (*is_known) (const char *text),
                                   char              ***out);
/** The same for optional texts that may be empty. */
gboolean    og_json_read_notes    (const OgJsonReader  *reader,
                                   const char          *member,
                                   char              ***out);
/** @numbers: room for @most; @n: how many there are, @least ... @most. The member is needed. */
gboolean    og_json_read_numbers  (const OgJsonReader  *reader,
                                   const char          *member,
                                   guint                least,
                                   guint                most,
                                   double              *numbers,
                                   guint               *n);
/** Returns: whether @node is an array of @n finite numbers; @numbers is filled then */
gboolean    og_json_get_numbers   (JsonNode            *node,
                                   guint                n,
                                   double              *numbers);

/** @child: (out): stands on the object @member, if that is found; use it while @reader lives */
OgJsonFound og_json_read_object   (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   OgJsonReader        *child);
/** @array: (out) (transfer none): %NULL unless it is found */
OgJsonFound og_json_read_array    (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   JsonArray          **array);

/** Reads one object of an array. What it leaves out is not taken from another. Returns: %FALSE with the error set */
typedef gboolean (*OgJsonReadEntry) (const OgJsonReader *entry,
                                     gpointer            user_data);

/** Reads each object of @array (nullable), which is @member; anything else in it is refused. */
gboolean    og_json_read_entries  (const OgJsonReader  *reader,
                                   const char          *member,
                                   JsonArray           *array,
                                   OgJsonReadEntry      read,
                                   gpointer             user_data);
/** Reads each object of the array @member. */
gboolean    og_json_read_each     (const OgJsonReader  *reader,
                                   const char          *member,
                                   OgJsonNeed           need,
                                   OgJsonReadEntry      read,
                                   gpointer             user_data);

/** Defines PREFIX_read(), which reads one of the words of PREFIX_from_nick(). */
#define OG_JSON_DEFINE_CHOICE(Type, prefix)                             \
  static gboolean                                                       \
  prefix##_read (const OgJsonReader *reader,                            \
                 const char         *member,                            \
                 OgJsonNeed          need,                              \
                 Type               *out)                               \
  {                                                                     \
    const char *word = NULL;                                            \
                                                                        \
    if (!og_json_peek_text (reader, member, need, &word))               \
      return FALSE;                                                     \
    return word == NULL || prefix##_from_nick (word, out)               \
           || og_json_fail_word (reader, member, word);                 \
  }

G_END_DECLS
