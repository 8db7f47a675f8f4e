/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/conditions.h"
#include "core/material/product.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/*
 * How far the members of a recipe go: for its files and tables, for the document that is edited,
 * and for the fields on screen. All of them are judgement: far beyond what a workshop makes, and
 * near enough that whatever is added, multiplied or drawn from them stays a number.
 */

/** Longest title, purpose, name or id, in characters: what fits on a line, however wide. */
#define OG_RECIPE_MAX_NAME 10000
/** Longest notes, warnings or note of a line that are typed, in characters: a book. A file may hold
 * longer ones, up to its own size (OG_JSON_MAX_BYTES). */
#define OG_RECIPE_MAX_TYPED_TEXT 1000000
/** Largest batch, in g: a thousand tonnes, as in the ledger. The least is anything above 0. */
#define OG_RECIPE_MAX_BATCH_G 1e9
/** Largest viscosity of a target or a bound of the body, in mPa·s: a million times that of wax. */
#define OG_RECIPE_MAX_TARGET_MPA_S 1e12
/** Most parts of a balance line in files and tables: times a whole in millionths it stays exact. */
#define OG_RECIPE_MAX_BALANCE_SHARE 1000000
/** Most parts that are typed: parts are counted on fingers, more is a slip. */
#define OG_RECIPE_MAX_TYPED_SHARE 1000
/** Longest period after opening or of a stability plan, in months: a hundred years. */
#define OG_RECIPE_MAX_MONTHS 1200
/** Highest price of a cost line, in its currency. */
#define OG_RECIPE_MAX_PRICE OG_COST_MAX_PRICE
/** Highest id of a line or phase in files: later ones need ids above it. */
#define OG_RECIPE_MAX_ID 1000000000
/** Temperatures of lines and phases in files and tables, in °C: below any freezing point of an oil,
 * above any flash point. */
#define OG_RECIPE_LOWEST_C OG_TEMPERATURE_FILE_LOWEST_C
#define OG_RECIPE_HIGHEST_C OG_TEMPERATURE_FILE_HIGHEST_C
/** The same as typed, in °C: from a freezer to where oils smoke, more is a slip. */
#define OG_RECIPE_LOWEST_TYPED_C (-20.0)
#define OG_RECIPE_HIGHEST_TYPED_C 300.0
/** Most versions of a recipe: a trial a week for more than a year. */
#define OG_RECIPE_MAX_VERSIONS 64
/** Most lines and phases together of one version: ten times the longest recipe of the trade. */
#define OG_RECIPE_MAX_VERSION_LINES 1000
/** Longest name of a version, in characters: what stands over a column. */
#define OG_RECIPE_MAX_VERSION_NAME 80
/** Longest note of a version, in characters: some pages. */
#define OG_RECIPE_MAX_VERSION_NOTE 10000
/** Last year of a date: files write four digits. */
#define OG_RECIPE_LAST_YEAR 9999

/**
 * og_formula_is_within_limits:
 *
 * Whether a file of @formula would be read back as the same recipe: every text is UTF-8, and every
 * member lies within the limits above. Own materials and measurements were read from JSON and are
 * not looked into.
 */
gboolean og_formula_is_within_limits (const OgFormula *formula);

G_END_DECLS
