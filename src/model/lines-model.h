/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/row.h"

G_BEGIN_DECLS

#define OG_TYPE_LINES_MODEL (og_lines_model_get_type ())
G_DECLARE_FINAL_TYPE (OgLinesModel, og_lines_model, OG, LINES_MODEL, GObject)

/**
 * OgLinesModel:
 *
 * #GListModel of #OgRow: every phase header followed by its lines, in order. Row objects live as
 * long as their line or phase, also through moves and undo; a change is told by one items-changed
 * over the smallest span that holds it. At that moment all rows show the new recipe already; their
 * notifications follow.
 */

/** Returns: (transfer full): a list of #OgRow, phases and lines in the order of the recipe, that follows
 * @document, on which it holds a reference */
OgLinesModel *og_lines_model_new           (OgDocument   *document);
/**
 * og_lines_model_find:
 * @position: (out) (optional): where it stands
 *
 * Returns: (nullable) (transfer none): the row of a line or phase id
 */
OgRow        *og_lines_model_find          (OgLinesModel *self,
                                            guint         id,
                                            guint        *position);

G_END_DECLS
