/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

#define OG_STORAGE_VERSION 1
#define OG_STORAGE_MAX_BYTES (64 * 1024 * 1024)
#define OG_STORAGE_MAX_DEPTH 64

/**
 * og_storage_parse:
 * @bytes: a whole document file
 * @name: file name for messages
 * @catalog: library materials that own materials may be derived from
 *
 * Reads the JSON of an Oleograph document. Unknown members of this version are kept. Amounts are
 * taken as they stand; the sum is not judged here. Ingredient ids the catalog does not know are
 * kept as they are.
 *
 * Returns: (transfer full): the recipe, or %NULL with an #OgStorageError
 */
OgFormula *og_storage_parse     (GBytes           *bytes,
                                 const char       *name,
                                 OgCatalog        *catalog,
                                 GError          **error);
/** Returns: (transfer full): UTF-8 JSON, keys sorted, C-locale numbers, trailing newline; same
 * recipe, same bytes */
GBytes    *og_storage_serialise (const OgFormula  *formula);

/** Refuses JSON text that is too large, nested too deep, or not UTF-8, before a parser sees it;
 * %OG_STORAGE_ERROR. */
gboolean   og_json_guard        (const char       *text,
                                 gsize             length,
                                 const char       *name,
                                 GError          **error);

/* Building blocks of every file the project writes. */

/** Returns: (transfer full): the text og_storage_serialise() would make of @object */
GBytes    *og_json_to_bytes    (JsonObject       *object);
/** Sets a number, whole ones as integers; leaves the member out if @value is NAN. */
void       og_json_set_number  (JsonObject       *object,
                                const char       *member,
                                double            value);
/** Sets a text; leaves the member out if @text is NULL or empty. */
void       og_json_set_text    (JsonObject       *object,
                                const char       *member,
                                const char       *text);
/** Returns: (transfer full): a new object with copies of the members of @extra (nullable) */
JsonObject *og_json_begin      (JsonObject       *extra);
/** Returns: (nullable) (transfer full): the members of @object that are not in @known, if any */
JsonObject *og_json_extra      (JsonObject        *object,
                                const char *const *known);

G_END_DECLS
