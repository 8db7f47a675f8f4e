/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/units.h"

gboolean
og_pct_to_ppm (double  pct,
               OgPpm  *ppm)
{
  g_return_val_if_fail (ppm != NULL, FALSE);

  if (!isfinite (pct) || pct < 0.0 || pct > 100.0)
    return FALSE;

  *ppm = (OgPpm) lround (pct * OG_PPM_PER_PERCENT);
  return TRUE;
}

gboolean
og_g_to_ppm (double  g,
             double  batch_g,
             OgPpm  *ppm)
{
  double fraction = g / batch_g;

  g_return_val_if_fail (ppm != NULL, FALSE);

  if (!isfinite (batch_g) || batch_g <= 0.0 || !(fraction >= 0.0 && fraction <= 1.0))
    return FALSE;

  *ppm = (OgPpm) lround (fraction * OG_PPM_WHOLE);
  return TRUE;
}

static const char *
skip_digits (const char *text)
{
  while (g_ascii_isdigit (*text))
    text++;
  return text;
}

/* Whether @text is SIGN? DIGITS MARK? DIGITS EXPONENT? with a digit before the exponent. */
static gboolean
is_plain_decimal (const char *text)
{
  const char *whole = *text == '+' || *text == '-' ? text + 1 : text;
  const char *mark = skip_digits (whole);
  const char *end = mark;
  gsize n_digits = (gsize) (mark - whole);

  if (*mark == '.' || *mark == ',')
    {
      end = skip_digits (mark + 1);
      n_digits += (gsize) (end - (mark + 1));
    }
  if (n_digits == 0)
    return FALSE;

  if (*end == 'e' || *end == 'E')
    {
      const char *exponent = end[1] == '+' || end[1] == '-' ? end + 2 : end + 1;

      end = skip_digits (exponent);
      if (end == exponent)
        return FALSE;
    }
  return *end == '\0';
}

gboolean
og_parse_number (const char *text,
                 double     *value)
{
  g_autofree char *stripped = NULL;
  double number;

  g_return_val_if_fail (text != NULL, FALSE);
  g_return_val_if_fail (value != NULL, FALSE);

  stripped = g_strstrip (g_strdup (text));
  if (!is_plain_decimal (stripped))
    return FALSE;

  number = g_ascii_strtod (g_strdelimit (stripped, ",", '.'), NULL);
  if (!isfinite (number))
    return FALSE;

  *value = number;
  return TRUE;
}

gboolean
og_number_equal (double a,
                 double b)
{
  return a == b || (isnan (a) && isnan (b));
}

gboolean
og_text_equal (const char *a,
               const char *b)
{
  return g_str_equal (a != NULL ? a : "", b != NULL ? b : "");
}
