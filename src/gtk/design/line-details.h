/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/design/grid-view.h"

G_BEGIN_DECLS

/**
 * og_line_details_show:
 * @row: a line of the recipe
 *
 * A popover at @row for what the grid has no column for: the note of the line and a temperature of
 * its own.
 */
void og_line_details_show (OgGridView *grid,
                           OgDocument *document,
                           OgRow      *row);

G_END_DECLS
