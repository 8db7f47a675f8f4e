/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/json-guard.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/error.h"

typedef struct
{
  const char *text;
  gsize       length;
  gsize       at;
  guint       line;
  guint       depth;
  gboolean    closed; /* the outermost value is complete */
  const char *name;
} Guard;

static gboolean
guard_fail (const Guard    *guard,
            OgStorageError  code,
            const char     *reason,
            GError        **error)
{
  g_set_error (error, OG_STORAGE_ERROR, (gint) code, "%s:%u: %s", guard->name, guard->line, reason);
  return FALSE;
}

static gboolean
guard_utf8 (Guard   *guard,
            GError **error)
{
  const char *end = NULL;

  if (g_utf8_validate_len (guard->text, guard->length, &end))
    return TRUE;

  for (const char *p = guard->text; p < end; p++)
    guard->line += *p == '\n';

  if (*end == '\0')
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX, _("The text holds a zero byte."), error);
  return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX, _("The text is not valid UTF-8."), error);
}

/* The code unit of the \uXXXX that begins @at, or -1. */
static int
guard_code_unit (const Guard *guard,
                 gsize        at)
{
  int unit = 0;

  if (at + 6 > guard->length || guard->text[at] != '\\' || guard->text[at + 1] != 'u')
    return -1;
  for (gsize i = at + 2; i < at + 6; i++)
    {
      if (!g_ascii_isxdigit (guard->text[i]))
        return -1;
      unit = unit * 16 + g_ascii_xdigit_value (guard->text[i]);
    }
  return unit;
}

/* RFC 8259 lets a string escape half a surrogate pair, and a zero; neither can be kept as text. */
static gboolean
guard_escape (Guard   *guard,
              GError **error)
{
  int unit, next;

  if (guard->at + 1 >= guard->length)
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX, _("A quotation mark is not closed."), error);
  if (guard->text[guard->at + 1] != 'u')
    {
      if (strchr ("\"\\/bfnrt", guard->text[guard->at + 1]) == NULL)
        return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                           _("A backslash is followed by a character that JSON does not know."),
                           error);
      guard->at += 2;
      return TRUE;
    }

  unit = guard_code_unit (guard, guard->at);
  if (unit <= 0 || (unit >= 0xdc00 && unit <= 0xdfff))
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                       _("An escaped character does not stand for any text."), error);
  guard->at += 6;
  if (unit < 0xd800 || unit > 0xdbff)
    return TRUE;

  next = guard_code_unit (guard, guard->at);
  if (next < 0xdc00 || next > 0xdfff)
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                       _("An escaped character does not stand for any text."), error);
  guard->at += 6;
  return TRUE;
}

static gboolean
guard_string (Guard   *guard,
              GError **error)
{
  guard->at++;
  while (guard->at < guard->length)
    {
      guchar c = (guchar) guard->text[guard->at];

      if (c == '"')
        {
          guard->at++;
          guard->closed = guard->depth == 0;
          return TRUE;
        }
      if (c < 0x20)
        return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                           _("A quotation mark is not closed on its line."), error);
      if (c != '\\')
        guard->at++;
      else if (!guard_escape (guard, error))
        return FALSE;
    }
  return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX, _("A quotation mark is not closed."), error);
}

static gsize
count_digits (const char *text)
{
  gsize n = 0;

  while (g_ascii_isdigit (text[n]))
    n++;
  return n;
}

/* RFC 8259 section 6: integer part without leading zeros, then fraction and exponent if wanted. */
static gboolean
is_json_number (const char *text,
                gboolean   *whole)
{
  gsize digits;

  text += *text == '-';
  digits = count_digits (text);
  if (digits == 0 || (digits > 1 && *text == '0'))
    return FALSE;
  text += digits;
  *whole = *text == '\0';
  if (*text == '.')
    {
      digits = count_digits (++text);
      if (digits == 0)
        return FALSE;
      text += digits;
    }
  if (*text == 'e' || *text == 'E')
    {
      text++;
      text += *text == '+' || *text == '-';
      digits = count_digits (text);
      if (digits == 0)
        return FALSE;
      text += digits;
    }
  return *text == '\0';
}

/* The parser would turn numbers beyond its types into others, so they are refused here. */
static gboolean
guard_word (Guard   *guard,
            GError **error)
{
  g_autofree char *word = NULL;
  gsize start = guard->at;
  gboolean whole = FALSE, fits;

  while (guard->at < guard->length
         && (g_ascii_isalnum (guard->text[guard->at])
             || strchr ("+-.", guard->text[guard->at]) != NULL))
    guard->at++;
  word = g_strndup (guard->text + start, guard->at - start);

  guard->closed = guard->depth == 0;
  if (g_str_equal (word, "true") || g_str_equal (word, "false") || g_str_equal (word, "null"))
    return TRUE;
  if (!is_json_number (word, &whole))
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                       _("There is a word that is neither a number nor true, false or null."),
                       error);

  fits = whole ? g_ascii_string_to_signed (word, 10, G_MININT64, G_MAXINT64, NULL, NULL)
               : isfinite (g_ascii_strtod (word, NULL));
  if (!fits)
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX, _("A number is too large."), error);
  return TRUE;
}

static gboolean
guard_mark (Guard   *guard,
            GError **error)
{
  g_autofree char *reason = NULL;

  switch (guard->text[guard->at++])
    {
    case '{':
    case '[':
      if (++guard->depth <= OG_JSON_MAX_DEPTH)
        return TRUE;
      reason = g_strdup_printf (_("The file is nested deeper than %d levels."),
                                OG_JSON_MAX_DEPTH);
      return guard_fail (guard, OG_STORAGE_ERROR_TOO_DEEP, reason, error);

    case '}':
    case ']':
      if (guard->depth == 0)
        return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                           _("A bracket is closed that was never opened."), error);
      guard->closed = --guard->depth == 0;
      return TRUE;

    case ',':
    case ':':
      return TRUE;

    default:
      return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                         _("There is a character that JSON knows only in quotation marks."),
                         error);
    }
}

static gboolean
guard_token (Guard   *guard,
             GError **error)
{
  char c = guard->text[guard->at];

  if (guard->closed)
    return guard_fail (guard, OG_STORAGE_ERROR_SYNTAX,
                       _("There is text after the end of the JSON value."), error);
  if (c == '"')
    return guard_string (guard, error);
  if (c == '-' || g_ascii_isalnum (c))
    return guard_word (guard, error);
  return guard_mark (guard, error);
}

gboolean
og_json_guard (const char  *text,
               gsize        length,
               const char  *name,
               GError     **error)
{
  Guard guard = { .text = text, .length = length, .line = 1, .name = name };

  g_return_val_if_fail (text != NULL || length == 0, FALSE);
  g_return_val_if_fail (name != NULL, FALSE);

  if (length > OG_JSON_MAX_BYTES)
    {
      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_TOO_LARGE,
                   _("%s: The file is larger than %d MiB."),
                   name, OG_JSON_MAX_BYTES / (1024 * 1024));
      return FALSE;
    }
  if (length == 0)
    return guard_fail (&guard, OG_STORAGE_ERROR_SYNTAX, _("The file is empty."), error);
  if (!guard_utf8 (&guard, error))
    return FALSE;

  if (g_str_has_prefix (text, "\xef\xbb\xbf"))
    guard.at = 3;
  while (guard.at < length)
    {
      char c = text[guard.at];

      guard.line += c == '\n';
      if (c == ' ' || c == '\t' || c == '\r' || c == '\n')
        guard.at++;
      else if (!guard_token (&guard, error))
        return FALSE;
    }

  if (guard.depth > 0)
    return guard_fail (&guard, OG_STORAGE_ERROR_SYNTAX,
                       _("The file ends before the last bracket is closed."), error);
  return TRUE;
}
