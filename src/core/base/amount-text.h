/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"

G_BEGIN_DECLS

#define OG_AMOUNT_LONGEST 200 /* bytes of a typed amount: more than anybody writes on one line */
#define OG_AMOUNT_DEEPEST 16 /* brackets within brackets, so that no text exhausts the stack */

/**
 * og_amount_read:
 * @text: what a person typed, UTF-8
 * @decimal_mark: '.' or ',': the mark this person writes decimals with
 * @value: (out): the number, finite; left alone when the text is refused
 * @unit: (out) (optional) (transfer full): what stands behind the number, "" for nothing; %NULL: nothing may
 *
 * Reads a number as people write it: with a point or a comma, with groups of three set off by spaces, apostrophes, or
 * the other mark, with a decimal exponent ("1e-3"), or as a sum to be worked out with + − × ÷ * / and brackets
 * ("0.2/20*100").
 *
 * A point or comma stands for decimals whoever writes it, but for one case: where the mark that is not @decimal_mark
 * stands alone before exactly three digits and after one to three that do not begin with 0 ("1,000" where a point is
 * the decimal mark), it may as well set off thousands. That is refused with both readings, and never read as either.
 *
 * Returns: (transfer full) (nullable): %NULL if the text was read, or else why not
 */
OgSaying *og_amount_read   (const char  *text,
                            char         decimal_mark,
                            double      *value,
                            char       **unit);

/**
 * og_amount_factor:
 * @unit: as typed behind a number
 * @wanted: the unit that is asked for: "g", "%", "°C" or any other
 * @factor: (out): what to multiply the number with; 1 for the same unit
 *
 * Grams may come as mg or kg; letters count in either case but for those of the prefix.
 *
 * Returns: whether an amount in @unit is one in @wanted
 */
gboolean  og_amount_factor (const char  *unit,
                            const char  *wanted,
                            double      *factor);

G_END_DECLS
