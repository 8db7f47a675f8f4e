/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "gtk/parts/cell-entry.h"

G_BEGIN_DECLS

/* Lines of the room where a recipe is made: numbers to give, and warnings. */

/**
 * og_field_line_new:
 * @unit: (nullable)
 * @entry: (out): where the number is typed; it may be left empty
 *
 * Returns: (transfer floating): title, entry and unit side by side
 */
GtkWidget *og_field_line_new    (const char       *title,
                                 const char       *unit,
                                 OgCellEntry     **entry);
/** Returns: (transfer floating): title and widget side by side; @widget is named after the title */
GtkWidget *og_choice_line_new   (const char       *title,
                                 GtkWidget        *widget);
/** Returns: (transfer floating): a sentence with the sign of a caution */
GtkWidget *og_caution_new       (const char       *text);

G_END_DECLS
