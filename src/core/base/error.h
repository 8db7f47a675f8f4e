/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * OgCatalogError:
 * @OG_CATALOG_ERROR_SYNTAX: a catalog file is not JSON, or not a catalog
 * @OG_CATALOG_ERROR_VALUE: a member is missing or has a wrong type or an impossible value
 * @OG_CATALOG_ERROR_DUPLICATE: an id occurs twice
 * @OG_CATALOG_ERROR_REFERENCE: a source key or a material id is not defined
 * @OG_CATALOG_ERROR_EMPTY: no catalog file was found
 */
typedef enum
{
  OG_CATALOG_ERROR_SYNTAX,
  OG_CATALOG_ERROR_VALUE,
  OG_CATALOG_ERROR_DUPLICATE,
  OG_CATALOG_ERROR_REFERENCE,
  OG_CATALOG_ERROR_EMPTY
} OgCatalogError;

#define OG_CATALOG_ERROR (og_catalog_error_quark ())
/** The domain of #OgCatalogError. */
GQuark og_catalog_error_quark (void);

/**
 * OgProfileError:
 * @OG_PROFILE_ERROR_CODE: not an acid code such as C18:1 or C18:1-OH
 * @OG_PROFILE_ERROR_VALUE: a share is not a number, negative, above 100, or given twice
 * @OG_PROFILE_ERROR_EMPTY: no acid, or all shares are 0
 */
typedef enum
{
  OG_PROFILE_ERROR_CODE,
  OG_PROFILE_ERROR_VALUE,
  OG_PROFILE_ERROR_EMPTY
} OgProfileError;

#define OG_PROFILE_ERROR (og_profile_error_quark ())
/** The domain of #OgProfileError. */
GQuark og_profile_error_quark (void);

/**
 * OgTableError: problems of a recipe table. The message begins with "FILE:LINE: ".
 * @OG_TABLE_ERROR_HEADER: the first row does not name the needed columns
 * @OG_TABLE_ERROR_SYNTAX: a quote is not closed, or the text is not UTF-8
 * @OG_TABLE_ERROR_VALUE: an amount or temperature is not a number or out of range
 * @OG_TABLE_ERROR_INGREDIENT: an ingredient is not known, or the name fits several
 * @OG_TABLE_ERROR_BALANCE: several balance lines without shares, or a bad share
 * @OG_TABLE_ERROR_SUM: amounts do not make up 100 %
 * @OG_TABLE_ERROR_TOO_LARGE: the file, a row or the number of rows exceeds the cap
 */
typedef enum
{
  OG_TABLE_ERROR_HEADER,
  OG_TABLE_ERROR_SYNTAX,
  OG_TABLE_ERROR_VALUE,
  OG_TABLE_ERROR_INGREDIENT,
  OG_TABLE_ERROR_BALANCE,
  OG_TABLE_ERROR_SUM,
  OG_TABLE_ERROR_TOO_LARGE
} OgTableError;

#define OG_TABLE_ERROR (og_table_error_quark ())
/** The domain of #OgTableError. */
GQuark og_table_error_quark (void);

/**
 * OgStorageError: problems of a document file. The message names file, line if known, and reason.
 * @OG_STORAGE_ERROR_SYNTAX: not JSON, or not UTF-8
 * @OG_STORAGE_ERROR_NOT_A_DOCUMENT: JSON, but not an Oleograph document
 * @OG_STORAGE_ERROR_NEWER_VERSION: written by a newer format version
 * @OG_STORAGE_ERROR_VALUE: a member is missing or has a wrong type or an impossible value
 * @OG_STORAGE_ERROR_TOO_LARGE: larger than the cap
 * @OG_STORAGE_ERROR_TOO_DEEP: nested deeper than the cap
 */
typedef enum
{
  OG_STORAGE_ERROR_SYNTAX,
  OG_STORAGE_ERROR_NOT_A_DOCUMENT,
  OG_STORAGE_ERROR_NEWER_VERSION,
  OG_STORAGE_ERROR_VALUE,
  OG_STORAGE_ERROR_TOO_LARGE,
  OG_STORAGE_ERROR_TOO_DEEP
} OgStorageError;

#define OG_STORAGE_ERROR (og_storage_error_quark ())
/** The domain of #OgStorageError. */
GQuark og_storage_error_quark (void);

/**
 * OgRecipeError: a request about a recipe that cannot be met.
 * @OG_RECIPE_ERROR_NOT_IN_RECIPE: the material asked about is not in the recipe
 * @OG_RECIPE_ERROR_UNKNOWN_INGREDIENT: the material is not in the catalog
 * @OG_RECIPE_ERROR_DIFFERENT_JOBS: the materials cannot be replaced together
 */
typedef enum
{
  OG_RECIPE_ERROR_NOT_IN_RECIPE,
  OG_RECIPE_ERROR_UNKNOWN_INGREDIENT,
  OG_RECIPE_ERROR_DIFFERENT_JOBS
} OgRecipeError;

#define OG_RECIPE_ERROR (og_recipe_error_quark ())
/** The domain of #OgRecipeError. */
GQuark og_recipe_error_quark (void);

/**
 * OgSolveError: a target that cannot be worked on.
 * @OG_SOLVE_ERROR_RANGES: no recipe of 100 % lies within the bounds, or a bound is not a share
 * @OG_SOLVE_ERROR_NOTHING: nothing may move: the lines named are held or fixed by their bounds
 * @OG_SOLVE_ERROR_TARGET: not a viscosity, temperature, rate or word that can be aimed at
 * @OG_SOLVE_ERROR_NO_LIQUID: nothing flows within the bounds
 * @OG_SOLVE_ERROR_STOPPED: the caller asked to stop
 */
typedef enum
{
  OG_SOLVE_ERROR_RANGES,
  OG_SOLVE_ERROR_NOTHING,
  OG_SOLVE_ERROR_TARGET,
  OG_SOLVE_ERROR_NO_LIQUID,
  OG_SOLVE_ERROR_STOPPED
} OgSolveError;

#define OG_SOLVE_ERROR (og_solve_error_quark ())
/** The domain of #OgSolveError. */
GQuark og_solve_error_quark (void);

/**
 * OgBatchError:
 * @OG_BATCH_ERROR_RECIPE: the recipe is not 100 %
 * @OG_BATCH_ERROR_VALUE: an amount, loss, overfill or temperature is out of range, or a balance
 * @OG_BATCH_ERROR_PACKAGE: the recipe does not say what a container holds
 * @OG_BATCH_ERROR_DENSITY: the density is not known, but needed
 * @OG_BATCH_ERROR_WEIGHT: no weight, or one that is not above the tare
 */
typedef enum
{
  OG_BATCH_ERROR_RECIPE,
  OG_BATCH_ERROR_VALUE,
  OG_BATCH_ERROR_PACKAGE,
  OG_BATCH_ERROR_DENSITY,
  OG_BATCH_ERROR_WEIGHT
} OgBatchError;

#define OG_BATCH_ERROR (og_batch_error_quark ())
/** The domain of #OgBatchError. */
GQuark og_batch_error_quark (void);

G_END_DECLS
