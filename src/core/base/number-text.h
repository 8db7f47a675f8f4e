/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/estimate.h"

G_BEGIN_DECLS

/*
 * Numbers for readers: the decimal mark of the user's locale, groups of three set off by a narrow no-break space, a
 * true minus sign. A number that is not finite becomes the translated word "unknown". All return (transfer full).
 */

/** @decimals digits after the mark, 0 ... 12, all of them kept. */
char *og_number_fixed        (double             value,
                              int                decimals);
/** At most @decimals digits after the mark; trailing zeros go. */
char *og_number_trimmed      (double             value,
                              int                decimals);
/** Rounded to @digits significant digits, 1 ... 12; from ten million on, and below a ten-thousandth, as 1.5 × 10⁹. */
char *og_number_significant  (double             value,
                              int                digits);
/** A number that a reader or a file gave, or a limit it is held to: at most six significant digits. */
char *og_number_as_given     (double             value);
/** As og_number_fixed(), with a plus before what is above zero: "+12", "−3". */
char *og_number_signed       (double             value,
                              int                decimals);
/** Two significant digits, never more than the prediction can bear: "850", "12 000", "3.4". */
char *og_number_viscosity    (double             mpa_s);
/** The value followed by its unit, "850 mPa·s". */
char *og_number_with_unit    (double             mpa_s);
/** "80 % between 400 and 1 800"; %NULL if the band is not known */
char *og_number_band         (const OgEstimate  *estimate);
/** "400–1 800"; %NULL if the band is not known */
char *og_number_range        (const OgEstimate  *estimate);

G_END_DECLS
