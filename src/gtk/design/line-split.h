/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/design/grid-view.h"

G_BEGIN_DECLS

/**
 * og_line_split_show:
 * @row: a line of the recipe
 *
 * A popover at @row that asks which part of the line goes into which phase, and makes two lines of one.
 */
void og_line_split_show (OgGridView *grid,
                         OgDocument *document,
                         OgRow      *row);

G_END_DECLS
