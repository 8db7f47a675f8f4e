/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/saying.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"

struct _OgSaying
{
  gatomicrefcount references;
  const char     *message; /* of a list: what stands between its words; %NULL: the one word alone */
  const char     *plural;  /* nullable */
  gulong          count;
  gboolean        is_list;
  OgWord         *words;
  gsize           n_words;
  char           *sentence; /* set once */
};

static OgWord
copy_word (const OgWord *word)
{
  OgWord copy = *word;

  if (word->kind == OG_WORD_TEXT)
    copy.text = g_strdup (word->text);
  else if (word->kind == OG_WORD_SAYING)
    copy.saying = og_saying_ref (word->saying);
  return copy;
}

static void
clear_word (OgWord *word)
{
  if (word->kind == OG_WORD_TEXT)
    g_free ((char *) word->text);
  else if (word->kind == OG_WORD_SAYING)
    og_saying_unref ((OgSaying *) word->saying);
}

OgSaying *
og_saying_new_words (const char   *message,
                     const char   *plural,
                     gulong        count,
                     const OgWord *words,
                     gsize         n_words)
{
  OgSaying *saying = g_new0 (OgSaying, 1);

  g_atomic_ref_count_init (&saying->references);
  saying->message = message;
  saying->plural = plural;
  saying->count = count;
  saying->words = g_new (OgWord, n_words);
  saying->n_words = n_words;
  for (gsize i = 0; i < n_words; i++)
    saying->words[i] = copy_word (&words[i]);
  return saying;
}

OgSaying *
og_saying_of (OgWord word)
{
  return og_saying_new_words (NULL, NULL, 0, &word, 1);
}

OgSaying *
og_saying_verbatim (const char *text)
{
  return text != NULL ? og_saying_of (og_word_text (text)) : NULL;
}

OgSaying *
og_saying_list (const char *between,
                GPtrArray  *parts)
{
  g_autofree OgWord *words = g_new (OgWord, parts->len);
  OgSaying *saying;

  for (guint i = 0; i < parts->len; i++)
    words[i] = og_word_saying (g_ptr_array_index (parts, i));
  saying = og_saying_new_words (between, NULL, 0, words, parts->len);
  saying->is_list = TRUE;
  g_ptr_array_unref (parts);
  return saying;
}

GPtrArray *
og_sayings_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) og_saying_unref);
}

OgSaying *
og_saying_ref (const OgSaying *saying)
{
  if (saying != NULL)
    g_atomic_ref_count_inc (&((OgSaying *) saying)->references);
  return (OgSaying *) saying;
}

void
og_saying_unref (OgSaying *saying)
{
  if (saying == NULL || !g_atomic_ref_count_dec (&saying->references))
    return;
  for (gsize i = 0; i < saying->n_words; i++)
    clear_word (&saying->words[i]);
  g_free (saying->words);
  g_free (saying->sentence);
  g_free (saying);
}

/* --- the sentence --- */

static char *
text_or_unknown (char *text)
{
  return text != NULL ? text : og_number_fixed (NAN, 0);
}

static char *
word_to_text (const OgWord *word)
{
  const OgEstimate *number = &word->number;

  switch (word->kind)
    {
    case OG_WORD_TEXT:
      return g_strdup (word->text != NULL ? word->text : "");
    case OG_WORD_LABEL:
      return g_strdup (_(word->text));
    case OG_WORD_SAYING:
      return g_strdup (word->saying != NULL ? og_saying_text (word->saying) : "");
    case OG_WORD_COUNT:
      return og_number_fixed (number->value, 0);
    case OG_WORD_FIXED:
      return og_number_fixed (number->value, word->digits);
    case OG_WORD_TRIMMED:
      return og_number_trimmed (number->value, word->digits);
    case OG_WORD_SIGNIFICANT:
      return og_number_significant (number->value, word->digits);
    case OG_WORD_GIVEN:
      return og_number_as_given (number->value);
    case OG_WORD_SIGNED:
      return og_number_signed (number->value, word->digits);
    case OG_WORD_VISCOSITY:
      return og_number_viscosity (number->value);
    case OG_WORD_WITH_UNIT:
      return og_number_with_unit (number->value);
    case OG_WORD_BAND:
      return text_or_unknown (og_number_band (number));
    case OG_WORD_RANGE:
      return text_or_unknown (og_number_range (number));
    default:
      g_return_val_if_reached (NULL);
    }
}

static void
append_word (GString        *sentence,
             const OgSaying *saying,
             gsize           index)
{
  g_autofree char *text = NULL;

  g_return_if_fail (index < saying->n_words);

  text = word_to_text (&saying->words[index]);
  g_string_append (sentence, text);
}

/* Reads the digits of "%2$s" at @at; returns 0 if none are there. */
static gsize
place_of (const char  *at,
          const char **after)
{
  char *end;
  guint64 place = g_ascii_isdigit (*at) ? g_ascii_strtoull (at, &end, 10) : 0;

  if (place == 0 || *end != '$')
    return 0;
  *after = end + 1;
  return (gsize) place;
}

static char *
fill_in (const OgSaying *saying,
         const char     *message)
{
  GString *sentence = g_string_new (NULL);
  gsize next = 0;

  for (const char *at = message; *at != '\0'; at++)
    {
      const char *kind = at + 1;
      gsize place;

      if (*at != '%')
        {
          g_string_append_c (sentence, *at);
          continue;
        }
      place = place_of (at + 1, &kind);
      if (*kind == '%')
        g_string_append_c (sentence, '%');
      else if (*kind == 's')
        append_word (sentence, saying, place > 0 ? place - 1 : next++);
      else
        g_critical ("a message holds a value that is no %%s: %s", message);
      at = *kind != '\0' ? kind : kind - 1;
    }
  return g_string_free (sentence, FALSE);
}

static char *
join_words (const OgSaying *saying)
{
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < saying->n_words; i++)
    {
      if (i > 0)
        g_string_append (text, _(saying->message));
      append_word (text, saying, i);
    }
  return g_string_free (text, FALSE);
}

static char *
put_together (const OgSaying *saying)
{
  if (saying->is_list)
    return join_words (saying);
  if (saying->message == NULL)
    return word_to_text (&saying->words[0]);
  if (saying->plural != NULL)
    return fill_in (saying, g_dngettext (GETTEXT_PACKAGE, saying->message, saying->plural, saying->count));
  if (saying->n_words == 0)
    return g_strdup (_(saying->message));
  return fill_in (saying, _(saying->message));
}

const char *
og_saying_text (const OgSaying *saying)
{
  OgSaying *own = (OgSaying *) saying;
  char *sentence;

  if (saying == NULL)
    return NULL;
  sentence = g_atomic_pointer_get (&own->sentence);
  if (sentence != NULL)
    return sentence;
  sentence = put_together (saying);
  if (g_atomic_pointer_compare_and_exchange (&own->sentence, NULL, sentence))
    return sentence;
  g_free (sentence);
  return g_atomic_pointer_get (&own->sentence);
}

char *
og_saying_take_text (OgSaying *saying)
{
  char *text = g_strdup (og_saying_text (saying));

  og_saying_unref (saying);
  return text;
}

/* --- sameness --- */

static gboolean
same_value (double a,
            double b)
{
  return a == b || (isnan (a) && isnan (b));
}

/* Whether both would be written with the same digits. */
static gboolean
same_number (const OgWord *a,
             const OgWord *b)
{
  g_autofree char *one = NULL;
  g_autofree char *other = NULL;

  if (same_value (a->number.value, b->number.value) && same_value (a->number.low80, b->number.low80)
      && same_value (a->number.high80, b->number.high80))
    return TRUE;
  one = word_to_text (a);
  other = word_to_text (b);
  return g_str_equal (one, other);
}

static gboolean
same_word (const OgWord *a,
           const OgWord *b)
{
  if (a->kind != b->kind || a->digits != b->digits)
    return FALSE;
  if (a->kind == OG_WORD_SAYING)
    return og_saying_equal (a->saying, b->saying);
  if (a->kind == OG_WORD_TEXT || a->kind == OG_WORD_LABEL)
    return g_strcmp0 (a->text, b->text) == 0;
  return same_number (a, b);
}

gboolean
og_saying_equal (const OgSaying *a,
                 const OgSaying *b)
{
  if (a == b || a == NULL || b == NULL)
    return a == b;
  if (g_strcmp0 (a->message, b->message) != 0 || g_strcmp0 (a->plural, b->plural) != 0 || a->count != b->count
      || a->is_list != b->is_list || a->n_words != b->n_words)
    return FALSE;
  for (gsize i = 0; i < a->n_words; i++)
    if (!same_word (&a->words[i], &b->words[i]))
      return FALSE;
  return TRUE;
}
