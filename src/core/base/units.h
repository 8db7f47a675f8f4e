/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

/**
 * OgPpm:
 *
 * A share of the formula mass in parts per million (0.0001 %). Integer, so that a sum of exactly
 * 100 % is a fact. Valid shares are 0 ... OG_PPM_WHOLE.
 */
typedef gint32 OgPpm;

#define OG_PPM_WHOLE 1000000 /* millionths of the formula: 100 % */
#define OG_PPM_PER_PERCENT 10000 /* millionths */

#define OG_KELVIN_OFFSET 273.15 /* K at 0 C: exact by definition */

static inline double
og_ppm_to_pct (OgPpm ppm)
{
  return (double) ppm / OG_PPM_PER_PERCENT;
}

static inline double
og_ppm_to_fraction (OgPpm ppm)
{
  return (double) ppm / OG_PPM_WHOLE;
}

/* Mass in grams of a share of a batch of @batch_g grams. */
static inline double
og_ppm_to_g (OgPpm  ppm,
             double batch_g)
{
  return batch_g * og_ppm_to_fraction (ppm);
}

static inline double
og_kelvin (double temperature_c)
{
  return temperature_c + OG_KELVIN_OFFSET;
}

/**
 * og_pct_to_ppm:
 * @pct: wt %
 * @ppm: (out): the nearest whole millionth
 *
 * Returns: %FALSE, leaving @ppm alone, if @pct is not finite or lies outside 0 ... 100.
 */
gboolean og_pct_to_ppm   (double  pct,
                          OgPpm  *ppm);

/**
 * og_g_to_ppm:
 * @g: grams of the line
 * @batch_g: grams of the whole batch, above 0
 * @ppm: (out): the nearest whole millionth
 *
 * Returns: %FALSE, leaving @ppm alone, if the share is not finite or lies outside 0 ... 100 %.
 */
gboolean og_g_to_ppm     (double  g,
                          double  batch_g,
                          OgPpm  *ppm);

/**
 * og_parse_number:
 * @text: text of a cell or file field
 * @value: (out): the number
 *
 * Reads a decimal number with either a point or a comma as the decimal mark and perhaps a decimal
 * exponent ("1e-3"), white space around it allowed. Refuses grouping marks, trailing text,
 * hexadecimal, NaN and infinity, also by overflow; then @value stays as it is.
 */
gboolean og_parse_number (const char *text,
                          double     *value);

/** Returns: whether two numbers are the same, or both unknown (NAN) */
gboolean og_number_equal (double      a,
                          double      b);
/** Returns: whether two texts are the same; a file does not tell one that is missing (%NULL) from
 * an empty one */
gboolean og_text_equal   (const char *a,
                          const char *b);

G_END_DECLS
