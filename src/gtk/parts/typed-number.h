/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** og_amount_read() with the decimal mark of the reader's locale. Returns: (transfer full) (nullable): a translated
 * sentence that says why the text is no number; then @value stays as it is */
char *og_typed_number (const char  *text,
                       double      *value);
/**
 * og_typed_amount:
 * @unit: the unit that is asked for
 * @other: (nullable): another unit that will do
 * @is_other: (out): whether the number is one of @other
 *
 * The same for a number that may be followed by its unit, in which @value then is.
 */
char *og_typed_amount (const char  *text,
                       const char  *unit,
                       const char  *other,
                       double      *value,
                       gboolean    *is_other);

G_END_DECLS
