/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * og_recipe_table_parse:
 * @text: CSV (RFC 4180 quoting, LF or CRLF, optional UTF-8 mark) with the header
 * `phase,ingredient,percent` and optionally `add_temperature_c`, columns in any order
 * @length: bytes, or -1
 * @name: file name, used for messages and as the title without its suffix
 *
 * `ingredient` is an id, INCI name, common name or alias. `percent` is a number 0 ... 100, or
 * `balance`, or `balance N` with N whole parts when several lines share the remainder. Empty lines
 * and lines whose first field begins with # are skipped. Phases appear in order of first mention.
 *
 * Returns: (transfer full): a recipe of exactly 100 %, or %NULL with an #OgTableError ("FILE:LINE:
 * reason")
 */
OgFormula *og_recipe_table_parse (const char       *text,
                                  gssize            length,
                                  const char       *name,
                                  const OgCatalog  *catalog,
                                  GError          **error);
/** Returns: (transfer full): CSV that og_recipe_table_parse() reads back; names that a
 * spreadsheet would take for a formula (leading = + - @) are written with a leading apostrophe,
 * which reading removes */
char      *og_recipe_table_write (const OgFormula  *formula);

/** Returns: whether @text, which ends with a zero byte, begins like a document rather than a recipe table */
gboolean   og_recipe_is_document (const char       *text);
/**
 * og_recipe_load:
 * @path: a document or a recipe table, told apart by content
 *
 * Returns: (transfer full): the recipe, or %NULL with an #OgTableError, #OgStorageError or
 * #GFileError
 */
OgFormula *og_recipe_load        (const char       *path,
                                  OgCatalog        *catalog,
                                  GError          **error);

G_END_DECLS
