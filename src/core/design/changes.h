/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"
#include "core/material/catalog.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * og_changes_in_words:
 * @before, @after: two recipes
 * @old_catalog, @new_catalog: materials of each, own ones included
 * @same_ids: whether lines and phases with the same id are the same, as in versions of one recipe; else
 *   they are told apart by what they are called
 *
 * What somebody did to @before to get @after: materials that came, went, stand in for another, or have
 * another amount or place; phases; batch, wanted viscosity and what is said for the label. What a
 * recipe learned and how it was tested is no part of it.
 *
 * Returns: (transfer full) (element-type OgSaying): a sentence each, in reading order; empty if nothing
 *   changed
 */
GPtrArray *og_changes_in_words (const OgFormula  *before,
                                const OgFormula  *after,
                                OgCatalog        *old_catalog,
                                OgCatalog        *new_catalog,
                                gboolean          same_ids);

G_END_DECLS
