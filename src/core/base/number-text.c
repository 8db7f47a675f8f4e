/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/number-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define GROUP_SPACE "\u202f"
#define MINUS "\u2212"
#define MAX_DECIMALS 12 /* after the mark: a double tells no more of what is shown */
#define GIVEN_DIGITS 6 /* of a figure as it was given: what a certificate tells at most */

static char *
unknown_text (void)
{
  return g_strdup (C_("number", "unknown"));
}

/* @digits: a plain positive number as printf writes it, mark of the locale included */
static char *
group_digits (const char *digits,
              gboolean    negative)
{
  GString *text = g_string_new (negative ? MINUS : NULL);
  size_t whole = strspn (digits, "0123456789");

  for (size_t i = 0; i < whole; i++)
    {
      if (i > 0 && (whole - i) % 3 == 0)
        g_string_append (text, GROUP_SPACE);
      g_string_append_c (text, digits[i]);
    }
  g_string_append (text, digits + whole);

  return g_string_free (text, FALSE);
}

static void
trim_zeros (char *digits)
{
  size_t whole = strspn (digits, "0123456789");
  size_t end = strlen (digits);

  if (end == whole)
    return;

  while (end > whole && digits[end - 1] == '0')
    end--;
  /* what is left of a mark without decimals, which may be several bytes long */
  if (end > whole && !g_ascii_isdigit (digits[end - 1]))
    end = whole;
  digits[end] = '\0';
}

static gboolean
is_zero_text (const char *digits)
{
  return strpbrk (digits, "123456789") == NULL;
}

static char *
plain_number (double   value,
              int      decimals,
              gboolean trimmed)
{
  g_autofree char *digits = NULL;

  decimals = CLAMP (decimals, 0, MAX_DECIMALS);
  digits = g_strdup_printf ("%.*f", decimals, fabs (value));
  if (trimmed)
    trim_zeros (digits);

  return group_digits (digits, value < 0 && !is_zero_text (digits));
}

char *
og_number_fixed (double value,
                 int    decimals)
{
  return isfinite (value) ? plain_number (value, decimals, FALSE) : unknown_text ();
}

char *
og_number_trimmed (double value,
                   int    decimals)
{
  return isfinite (value) ? plain_number (value, decimals, TRUE) : unknown_text ();
}

static char *
power_of_ten (int exponent)
{
  static const char *const raised[] = { "⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹" };
  g_autofree char *digits = g_strdup_printf ("%d", ABS (exponent));
  GString *text = g_string_new ("10");

  if (exponent < 0)
    g_string_append (text, "⁻");
  for (const char *p = digits; *p != '\0'; p++)
    g_string_append (text, raised[*p - '0']);

  return g_string_free (text, FALSE);
}

static char *
scientific_number (double value,
                   int    exponent,
                   int    digits)
{
  double mantissa = value / pow (10, exponent);
  g_autofree char *power = power_of_ten (exponent);
  g_autofree char *factor = plain_number (mantissa, digits - 1, TRUE);

  if (strcmp (factor, "1") == 0)
    return g_steal_pointer (&power);

  return g_strdup_printf ("%s\u202f×\u202f%s", factor, power);
}

char *
og_number_significant (double value,
                       int    digits)
{
  g_autofree char *rounded_text = NULL;
  double rounded;
  int exponent;

  if (!isfinite (value))
    return unknown_text ();
  if (value == 0)
    return g_strdup ("0");

  digits = CLAMP (digits, 1, MAX_DECIMALS);
  rounded_text = g_malloc0 (G_ASCII_DTOSTR_BUF_SIZE);
  g_ascii_formatd (rounded_text, G_ASCII_DTOSTR_BUF_SIZE,
                   ((const char *[]) { "%.0e", "%.1e", "%.2e", "%.3e", "%.4e", "%.5e",
                                       "%.6e", "%.7e", "%.8e", "%.9e", "%.10e", "%.11e" })[digits - 1],
                   value);
  rounded = g_ascii_strtod (rounded_text, NULL);
  exponent = (int) floor (log10 (fabs (rounded)) + 1e-9);
  if (exponent >= 7 || exponent < -4)
    return scientific_number (rounded, exponent, digits);

  return plain_number (rounded, MAX (0, digits - 1 - exponent), TRUE);
}

char *
og_number_as_given (double value)
{
  return og_number_significant (value, GIVEN_DIGITS);
}

char *
og_number_signed (double value,
                  int    decimals)
{
  g_autofree char *number = og_number_fixed (value, decimals);

  return value > 0 && isfinite (value) ? g_strconcat ("+", number, NULL)
                                       : g_steal_pointer (&number);
}

char *
og_number_viscosity (double mpa_s)
{
  return og_number_significant (mpa_s, 2);
}

char *
og_number_with_unit (double mpa_s)
{
  g_autofree char *number = NULL;

  if (!isfinite (mpa_s))
    return unknown_text ();

  number = og_number_viscosity (mpa_s);
  /* Translators: a viscosity with its unit */
  return g_strdup_printf (_("%s mPa·s"), number);
}

char *
og_number_band (const OgEstimate *estimate)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!isfinite (estimate->low80) || !isfinite (estimate->high80))
    return NULL;

  low = og_number_viscosity (estimate->low80);
  high = og_number_viscosity (estimate->high80);
  /* Translators: the range that holds the value with a probability of 80 % */
  return g_strdup_printf (_("80 %% between %s and %s"), low, high);
}

char *
og_number_range (const OgEstimate *estimate)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!isfinite (estimate->low80) || !isfinite (estimate->high80))
    return NULL;

  low = og_number_viscosity (estimate->low80);
  high = og_number_viscosity (estimate->high80);
  /* Translators: a range of numbers, the lower one first; in right-to-left scripts put
   * left-to-right marks (U+200E) on both sides of the dash, or it shows the wrong way round. */
  return g_strdup_printf (_("%s–%s"), low, high);
}
