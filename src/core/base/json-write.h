/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* Building blocks of every file the project writes. */

/** Returns: (transfer full): @object as UTF-8 JSON, keys sorted, C-locale numbers, a trailing
 * newline; the same object gives the same bytes */
GBytes     *og_json_to_bytes   (JsonObject        *object);
/** Sets a number, whole ones as integers; leaves the member out if @value is NAN. An infinite
 * @value is a bug of the caller. */
void        og_json_set_number (JsonObject        *object,
                                const char        *member,
                                double             value);
/** Sets a text; leaves the member out if @text is %NULL or empty. */
void        og_json_set_text   (JsonObject        *object,
                                const char        *member,
                                const char        *text);
/** Returns: (transfer full): a new object with copies of the members of @extra (nullable) */
JsonObject *og_json_begin      (JsonObject        *extra);
/** Returns: (nullable) (transfer full): the members of @object that are not in @known, a list that
 * ends in %NULL, if there are any */
JsonObject *og_json_extra      (JsonObject        *object,
                                const char *const *known);
/** Returns: whether @a and @b (nullable) hold the same */
gboolean    og_json_equal      (JsonObject        *a,
                                JsonObject        *b);

G_END_DECLS
