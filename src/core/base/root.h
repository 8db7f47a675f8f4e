/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** A function of one variable, in the units of whoever asks; not finite where it has no value. */
typedef double (*OgRootFunction) (double   x,
                                  gpointer user_data);

/**
 * og_find_root:
 * @function: called at both ends first, the lower one before the upper one, and then between them
 * @low: lower end of the bracket, finite
 * @high: upper end, above @low
 * @tolerance: how wide the bracket may be that is left, above 0, in the units of @low and @high
 *
 * Where a function goes through 0, by Brent's method (Brent 1973, Algorithms for Minimization
 * without Derivatives, chapter 4; GSL's). An end at which the function is 0 is the root. Of several
 * roots any one is found, and a jump over 0 counts as a root: whoever fears one looks at the value
 * there.
 *
 * Returns: the root; NAN, which is "not reached" or "unknown", if the values at the ends do not
 * differ in sign, the function or an end is not finite, or the bracket does not close within 200
 * steps. Nothing ends the process.
 */
double og_find_root (OgRootFunction function,
                     gpointer       user_data,
                     double         low,
                     double         high,
                     double         tolerance);

G_END_DECLS
