/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/bench.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/* Versions of one recipe: what it was when somebody found it worth keeping. What was read at the bench
 * and the stability tests belong to the recipe and not to a version: a reading carries the lines it was
 * taken of. */

/** Returns: whether @name can name a version: UTF-8 of 1 ... %OG_RECIPE_MAX_VERSION_NAME characters on
 * one line, no blank at either end */
gboolean         og_versions_is_name    (const char         *name);
/** Returns: whether @recipe has at most %OG_RECIPE_MAX_VERSION_LINES lines and phases */
gboolean         og_versions_fit_recipe (const OgFormula    *recipe);
/** Returns: (nullable) (transfer none): the version called @name; @position (out) (optional): where it
 * stands */
const OgVersion *og_versions_find       (const GPtrArray    *versions,
                                         const char         *name,
                                         guint              *position);
/**
 * og_version_restore:
 * @version: one of @now, or of another state of the same recipe
 *
 * The recipe as it was kept, with everything that belongs to all versions as it is in @now. Own
 * materials are those of @now; one that @now has no more comes back as it was.
 *
 * Returns: (transfer full)
 */
OgFormula       *og_version_restore     (const OgVersion    *version,
                                         const OgFormula    *now);
/** Returns: whether @formula and @version say the same of everything that a version keeps */
gboolean         og_version_is_now      (const OgVersion    *version,
                                         const OgFormula    *formula);
/** Returns: whether @measurement was taken of a recipe of just these amounts, to 0.005 wt % of each
 * material */
gboolean         og_measurement_is_of   (const OgMeasurement *measurement,
                                         const OgFormula     *formula);

G_END_DECLS
