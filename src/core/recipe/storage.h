/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

#define OG_STORAGE_FORMAT "oleograph-document"
#define OG_STORAGE_VERSION 2   /* of the format: the newest that is read */
#define OG_STORAGE_VERSIONED 2 /* the first that keeps versions; a recipe without any is written as 1 */

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

G_END_DECLS
