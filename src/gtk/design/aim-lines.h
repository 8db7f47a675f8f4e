/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/design/solve.h"
#include "core/material/catalog.h"

G_BEGIN_DECLS

#define OG_TYPE_AIM_LINES (og_aim_lines_get_type ())
G_DECLARE_FINAL_TYPE (OgAimLines, og_aim_lines, OG, AIM_LINES, GtkWidget)

/* The lines of a recipe, to be ticked if they may move, and between which bounds. Signal:
 * "changed": others are ticked now. */
GtkWidget *og_aim_lines_new        (void);
/** Shows the lines of @formula; what the reader ticked stays with its line. Returns: how many */
guint      og_aim_lines_show       (OgAimLines      *self,
                                    const OgFormula *formula,
                                    const OgCatalog *catalog);
/** Lets a line move between two bounds, or not. */
void       og_aim_lines_vary       (OgAimLines      *self,
                                    guint            line_id,
                                    gboolean         vary,
                                    OgPpm            low,
                                    OgPpm            high);
/** Returns: (transfer full) (element-type OgSolveRange): what is ticked and not held */
GArray    *og_aim_lines_get_ranges (OgAimLines      *self);
/** Takes what is being typed. Returns: FALSE if it is refused */
gboolean   og_aim_lines_commit     (OgAimLines      *self);

G_END_DECLS
