/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/comparison.h"
#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_SIDE_BY_SIDE (og_side_by_side_get_type ())
G_DECLARE_FINAL_TYPE (OgSideBySide, og_side_by_side, OG, SIDE_BY_SIDE, GObject)

/** Most versions beside the recipe. */
#define OG_SIDE_BY_SIDE_MOST (OG_COMPARISON_MAX - 1)

/**
 * OgSideBySide:
 *
 * The versions of a document that are laid beside the recipe as it stands, and how they compare. What
 * is beside is no part of the recipe: it is neither saved nor undone. A version stays beside when it is
 * renamed, and goes when it is removed.
 *
 * Signal "changed": other versions are beside, or they compare otherwise.
 */

/** Returns: (transfer none): what is beside @document; made at the first call, and lives as long */
OgSideBySide       *og_side_by_side_of             (OgDocument         *document);
/** Lays the version @name beside the recipe, or takes it away. Returns: %FALSE if there is no such version
 * or no room */
gboolean            og_side_by_side_set_beside     (OgSideBySide       *self,
                                                    const char         *name,
                                                    gboolean            beside);
/** Returns: whether the version @name is beside the recipe */
gboolean            og_side_by_side_is_beside      (OgSideBySide       *self,
                                                    const char         *name);
/** Returns: how many versions are beside the recipe */
guint               og_side_by_side_get_n          (OgSideBySide       *self);
/** @shelf: (nullable): prices */
void                og_side_by_side_set_shelf      (OgSideBySide       *self,
                                                    OgShelf            *shelf);
/** Returns: (transfer none) (nullable): the recipe and what is beside it, with curves, valid until the
 * next change; %NULL when nothing is beside */
const OgComparison *og_side_by_side_get_comparison (OgSideBySide       *self);

G_END_DECLS
