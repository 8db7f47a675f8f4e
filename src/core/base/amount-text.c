/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/amount-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define GROUP 3 /* digits between two group marks */
#define PER_KILO 1000.0 /* grams in a kilogram, milligrams in a gram: exact by definition */

typedef struct
{
  const char *text; /* all of it, for what is said about it */
  const char *at;
  char        decimal_mark;
  guint       depth;
  OgSaying   *problem; /* the first one; nothing is read after it */
} Reader;

static gboolean read_sum (Reader *reader,
                          double *value);

static gboolean
refuse (Reader   *reader,
        OgSaying *problem)
{
  if (reader->problem == NULL)
    reader->problem = problem;
  else
    og_saying_unref (problem);
  return FALSE;
}

static gboolean
refuse_text (Reader     *reader,
             const char *message)
{
  return refuse (reader, og_saying_new (message, og_word_text (reader->text)));
}

static gboolean
refuse_number (Reader *reader)
{
  return refuse_text (reader, N_("“%s” is not a number."));
}

static void
skip_space (Reader *reader)
{
  while (*reader->at != '\0' && g_unichar_isspace (g_utf8_get_char (reader->at)))
    reader->at = g_utf8_next_char (reader->at);
}

/* Takes one of several signs that mean the same. */
static gboolean
take (Reader     *reader,
      const char *signs)
{
  gunichar sign;

  skip_space (reader);
  sign = g_utf8_get_char (reader->at);
  if (sign == 0 || g_utf8_strchr (signs, -1, sign) == NULL)
    return FALSE;
  reader->at = g_utf8_next_char (reader->at);
  return TRUE;
}

/* --- one number -------------------------------------------------------------- */

/* The digits of a number with its marks, in the order they were written. */
typedef struct
{
  GString *digits;  /* all of them, without marks */
  gsize    runs[OG_AMOUNT_LONGEST]; /* digits before the first mark, between marks, behind the last one */
  gunichar marks[OG_AMOUNT_LONGEST];
  guint    n_marks;
} Written;

static gboolean
is_silent_mark (gunichar mark)
{
  return mark == ' ' || mark == 0x00a0 || mark == 0x2009 || mark == 0x202f /* spaces: usual, narrow, thin */
         || mark == '\'' || mark == 0x2019;
}

/* Whether @at is a mark of a number, which a digit has to follow but for a point or comma at the end. */
static gboolean
is_mark (const char *at,
         gboolean    silent_too)
{
  gunichar mark = g_utf8_get_char (at);

  if (mark == '.' || mark == ',')
    return TRUE;
  return silent_too && is_silent_mark (mark) && g_ascii_isdigit (*g_utf8_next_char (at));
}

static void
write_digits (Reader  *reader,
              Written *written)
{
  gsize run = 0;

  for (;;)
    {
      if (g_ascii_isdigit (*reader->at))
        {
          g_string_append_c (written->digits, *reader->at++);
          run++;
        }
      else if (is_mark (reader->at, run > 0))
        {
          written->runs[written->n_marks] = run;
          written->marks[written->n_marks++] = g_utf8_get_char (reader->at);
          reader->at = g_utf8_next_char (reader->at);
          run = 0;
        }
      else
        break;
    }
  written->runs[written->n_marks] = run;
}

/* Whether the first @n_marks marks set off thousands: all the same, one to three digits first, then threes. */
static gboolean
are_groups (const Written *written,
            guint          n_marks)
{
  if (n_marks == 0)
    return TRUE;
  if (written->runs[0] == 0 || written->runs[0] > GROUP || written->digits->str[0] == '0')
    return FALSE;
  for (guint i = 1; i <= n_marks; i++)
    if (written->runs[i] != GROUP || written->marks[i - 1] != written->marks[0])
      return FALSE;
  return TRUE;
}

static double
value_of (const Written *written,
          gsize          decimals)
{
  g_autoptr (GString) number = g_string_new (written->digits->str);

  g_string_insert_c (number, (gssize) (number->len - decimals), '.');
  return g_ascii_strtod (number->str, NULL);
}

/* Whether a single mark may be one of decimals as well as one of thousands, for this writer. */
static gboolean
is_ambiguous (const Reader  *reader,
              const Written *written)
{
  return written->n_marks == 1 && (written->marks[0] == '.' || written->marks[0] == ',')
         && written->marks[0] != (gunichar) reader->decimal_mark && are_groups (written, 1);
}

static gboolean
understand (Reader        *reader,
            const Written *written,
            double        *value)
{
  const guint n = written->n_marks;
  const gunichar last = n > 0 ? written->marks[n - 1] : 0;
  gboolean decimals = n > 0 && !is_silent_mark (last);

  if (is_ambiguous (reader, written))
    return refuse (reader,
                   og_saying_new (N_("“%s” can mean %s or %s: write the number without a mark for thousands."),
                                  og_word_text (reader->text),
                                  og_word_given (value_of (written, GROUP)),
                                  og_word_given (value_of (written, 0))));
  if (decimals && n > 1 && written->marks[n - 2] == last)
    decimals = FALSE; /* the same mark twice: thousands */
  if (!are_groups (written, decimals ? n - 1 : n))
    return refuse_number (reader);
  *value = value_of (written, decimals ? written->runs[n] : 0);
  return TRUE;
}

/* "e-3" behind a number; an e that no digits follow belongs to what comes next. */
static void
take_exponent (Reader *reader,
               double *value)
{
  const char *digits = reader->at + 1;
  char *end;
  gint64 exponent;

  if (*reader->at != 'e' && *reader->at != 'E')
    return;
  if (*digits == '+' || *digits == '-')
    digits++;
  if (!g_ascii_isdigit (*digits))
    return;
  exponent = g_ascii_strtoll (reader->at + 1, &end, 10);
  reader->at = end;
  *value *= pow (10.0, (double) exponent);
}

static gboolean
read_number (Reader *reader,
             double *value)
{
  g_autoptr (GString) digits = g_string_new (NULL);
  Written written = { .digits = digits };

  write_digits (reader, &written);
  if (digits->len == 0)
    return refuse_number (reader);
  if (!understand (reader, &written, value))
    return FALSE;
  take_exponent (reader, value);
  return TRUE;
}

/* --- sums -------------------------------------------------------------------- */

static gboolean
read_bracket (Reader *reader,
              double *value)
{
  if (++reader->depth > OG_AMOUNT_DEEPEST)
    return refuse_text (reader, N_("“%s” has too many brackets."));
  if (!read_sum (reader, value))
    return FALSE;
  reader->depth--;
  if (!take (reader, ")"))
    return refuse_text (reader, N_("In “%s” a bracket is not closed."));
  return TRUE;
}

static gboolean
read_factor (Reader *reader,
             double *value)
{
  gboolean negative = FALSE;

  while (take (reader, "+-−"))
    negative ^= *g_utf8_prev_char (reader->at) != '+';
  if (take (reader, "(") ? !read_bracket (reader, value) : !read_number (reader, value))
    return FALSE;
  if (negative)
    *value = -*value;
  return TRUE;
}

static gboolean
read_product (Reader *reader,
              double *value)
{
  double factor;

  if (!read_factor (reader, value))
    return FALSE;
  for (;;)
    {
      if (take (reader, "*×·"))
        {
          if (!read_factor (reader, &factor))
            return FALSE;
          *value *= factor;
        }
      else if (take (reader, "/÷"))
        {
          if (!read_factor (reader, &factor))
            return FALSE;
          if (factor == 0.0)
            return refuse_text (reader, N_("“%s” divides by zero."));
          *value /= factor;
        }
      else
        return TRUE;
    }
}

static gboolean
read_sum (Reader *reader,
          double *value)
{
  double term;

  if (!read_product (reader, value))
    return FALSE;
  for (;;)
    {
      gboolean plus = take (reader, "+");

      if (!plus && !take (reader, "-−"))
        return TRUE;
      if (!read_product (reader, &term))
        return FALSE;
      *value += plus ? term : -term;
    }
}

static gboolean
read_all (Reader  *reader,
          double  *value,
          char   **unit)
{
  double number;

  skip_space (reader);
  if (*reader->at == '\0')
    return refuse (reader, og_saying_plain (N_("A number is missing here.")));
  if (!read_sum (reader, &number))
    return FALSE;
  skip_space (reader);
  if (*reader->at == ')' || (unit == NULL && *reader->at != '\0'))
    return refuse_number (reader);
  if (!isfinite (number))
    return refuse_text (reader, N_("“%s” is too large a number."));
  *value = number;
  if (unit != NULL)
    *unit = g_strchomp (g_strdup (reader->at));
  return TRUE;
}

OgSaying *
og_amount_read (const char  *text,
                char         decimal_mark,
                double      *value,
                char       **unit)
{
  Reader reader = { .text = text, .at = text, .decimal_mark = decimal_mark };

  g_return_val_if_fail (text != NULL && value != NULL, NULL);
  g_return_val_if_fail (decimal_mark == '.' || decimal_mark == ',', NULL);

  if (!g_utf8_validate (text, -1, NULL) || strlen (text) >= OG_AMOUNT_LONGEST)
    return og_saying_plain (N_("This is too long for a number, or no text at all."));
  read_all (&reader, value, unit);
  return reader.problem;
}

gboolean
og_amount_factor (const char *unit,
                  const char *wanted,
                  double     *factor)
{
  g_return_val_if_fail (unit != NULL && wanted != NULL && factor != NULL, FALSE);

  *factor = 1.0;
  if (g_ascii_strcasecmp (unit, wanted) == 0 || (g_str_equal (wanted, "°C") && g_ascii_strcasecmp (unit, "C") == 0))
    return TRUE;
  if (!g_str_equal (wanted, "g"))
    return FALSE;
  if (g_str_equal (unit, "kg"))
    *factor = PER_KILO;
  else if (g_str_equal (unit, "mg"))
    *factor = 1.0 / PER_KILO;
  return *factor != 1.0;
}
