/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/estimate.h"

G_BEGIN_DECLS

/**
 * OgSaying: what the program has to tell a reader, as a message that is not translated yet and the values that belong
 * into it. The core makes sayings; they become sentences where the reader's language is known, by og_saying_text().
 * Counted by reference and never changed.
 */
typedef struct _OgSaying OgSaying;

/* How a value is to be written; the numbers are those of number-text.h. */
typedef enum
{
  OG_WORD_TEXT,
  OG_WORD_LABEL,
  OG_WORD_SAYING,
  OG_WORD_COUNT,
  OG_WORD_FIXED,
  OG_WORD_TRIMMED,
  OG_WORD_SIGNIFICANT,
  OG_WORD_GIVEN,
  OG_WORD_SIGNED,
  OG_WORD_VISCOSITY,
  OG_WORD_WITH_UNIT,
  OG_WORD_BAND,
  OG_WORD_RANGE
} OgWordKind;

/** OgWord: one value of a saying; made by the functions below, which own nothing. */
typedef struct
{
  OgWordKind      kind;
  const char     *text;
  const OgSaying *saying;
  OgEstimate      number; /* a single number is its value */
  int             digits;
} OgWord;

/** @text as it is, in whatever language it stands: a name, a formula, what a reader wrote; %NULL is empty. */
static inline OgWord
og_word_text (const char *text)
{
  return (OgWord) { .kind = OG_WORD_TEXT, .text = text };
}

/** @label is marked with N_() where it stands, lives for ever, and is translated when it is read. */
static inline OgWord
og_word_label (const char *label)
{
  return (OgWord) { .kind = OG_WORD_LABEL, .text = label };
}

/** Takes its own reference when a saying is made of it; %NULL is empty. */
static inline OgWord
og_word_saying (const OgSaying *saying)
{
  return (OgWord) { .kind = OG_WORD_SAYING, .saying = saying };
}

static inline OgWord
og_word_number (OgWordKind kind,
                double     value,
                int        digits)
{
  return (OgWord) { .kind = kind, .number = { value, value, value }, .digits = digits };
}

/** A whole number. */
static inline OgWord
og_word_count (guint count)
{
  return og_word_number (OG_WORD_COUNT, count, 0);
}

/** As og_number_fixed(). */
static inline OgWord
og_word_fixed (double value,
               int    decimals)
{
  return og_word_number (OG_WORD_FIXED, value, decimals);
}

/** As og_number_trimmed(). */
static inline OgWord
og_word_trimmed (double value,
                 int    decimals)
{
  return og_word_number (OG_WORD_TRIMMED, value, decimals);
}

/** As og_number_significant(). */
static inline OgWord
og_word_significant (double value,
                     int    digits)
{
  return og_word_number (OG_WORD_SIGNIFICANT, value, digits);
}

/** As og_number_as_given(). */
static inline OgWord
og_word_given (double value)
{
  return og_word_number (OG_WORD_GIVEN, value, 0);
}

/** As og_number_signed(). */
static inline OgWord
og_word_signed (double value,
                int    decimals)
{
  return og_word_number (OG_WORD_SIGNED, value, decimals);
}

/** As og_number_viscosity(). */
static inline OgWord
og_word_viscosity (double mpa_s)
{
  return og_word_number (OG_WORD_VISCOSITY, mpa_s, 0);
}

/** As og_number_with_unit(). */
static inline OgWord
og_word_with_unit (double mpa_s)
{
  return og_word_number (OG_WORD_WITH_UNIT, mpa_s, 0);
}

/** As og_number_band(); "unknown" if the band is not known. */
static inline OgWord
og_word_band (OgEstimate estimate)
{
  return (OgWord) { .kind = OG_WORD_BAND, .number = estimate };
}

/** As og_number_range(); "unknown" if the band is not known. */
static inline OgWord
og_word_range (OgEstimate estimate)
{
  return (OgWord) { .kind = OG_WORD_RANGE, .number = estimate };
}

/** Returns: (transfer full): a message without values, in which a per cent sign stands for itself. @message is marked
 * with N_() and lives for ever. */
#define og_saying_plain(message) og_saying_new_words ((message), NULL, 0, NULL, 0)

/**
 * og_saying_new:
 * @message: marked with N_(); "%s", or "%1$s" and so on, stand for the values, "%%" for a per cent sign
 * @...: an OgWord for each value
 *
 * Returns: (transfer full): the message with copies of its values
 */
#define og_saying_new(message, ...)                                                      \
  og_saying_new_words ((message), NULL, 0, ((const OgWord[]) { __VA_ARGS__ }),           \
                       sizeof ((const OgWord[]) { __VA_ARGS__ }) / sizeof (OgWord))

/** As og_saying_new(), in the form that the reader's language has for @count things; @messages are NP_() of both. */
#define og_saying_new_plural(messages, count, ...)                                       \
  og_saying_new_words (messages, (count), ((const OgWord[]) { __VA_ARGS__ }),            \
                       sizeof ((const OgWord[]) { __VA_ARGS__ }) / sizeof (OgWord))

/** Marks the two forms of a message for the translators. */
#define NP_(one, many) one, many

/** What og_saying_new() and its like stand for. */
OgSaying   *og_saying_new_words (const char      *message,
                                 const char      *plural,
                                 gulong           count,
                                 const OgWord    *words,
                                 gsize            n_words);
/** Returns: (transfer full): a value alone */
OgSaying   *og_saying_of        (OgWord           word);
/** Returns: (transfer full) (nullable): @text as it is, in whatever language it stands; %NULL of %NULL */
OgSaying   *og_saying_verbatim  (const char      *text);
/**
 * og_saying_list:
 * @between: what stands between two of them, marked with N_(): ", ", or " "
 * @parts: (transfer full) (element-type OgSaying): becomes the saying's own
 *
 * Returns: (transfer full): one after the other
 */
OgSaying   *og_saying_list      (const char      *between,
                                 GPtrArray       *parts);
/** Returns: (transfer full) (element-type OgSaying): an empty list that lets go of its sayings */
GPtrArray  *og_sayings_new      (void);
/** Returns: (transfer full): @saying itself; %NULL of %NULL */
OgSaying   *og_saying_ref       (const OgSaying  *saying);
/** Lets go of @saying (nullable). */
void        og_saying_unref     (OgSaying        *saying);
/** Returns: whether both (nullable) read the same: one message, and values that round to the same digits */
gboolean    og_saying_equal     (const OgSaying  *a,
                                 const OgSaying  *b);
/**
 * og_saying_text:
 * @saying: (nullable)
 *
 * Puts the sentence together in the reader's language, at the first call; from any thread.
 *
 * Returns: (transfer none) (nullable): lives as long as @saying; %NULL of %NULL
 */
const char *og_saying_text      (const OgSaying  *saying);

/** As og_saying_text(), and lets go of @saying (nullable). Returns: (transfer full) (nullable) */
char       *og_saying_take_text (OgSaying        *saying);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgSaying, og_saying_unref)

G_END_DECLS
