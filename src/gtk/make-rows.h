/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/evaluate.h"
#include "gtk/cell-entry.h"

G_BEGIN_DECLS

/* Lines of the room where a recipe is made: numbers to give, facts that follow, warnings. */

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
/** Returns: (transfer floating): a list of lines that are only read */
GtkWidget *og_plain_list_new    (const char       *name);
void       og_plain_list_clear  (GtkWidget        *list);
/** Adds a row that holds @child and is read out as @spoken. Returns: (transfer none): the row */
GtkWidget *og_plain_list_add    (GtkWidget        *list,
                                 GtkWidget        *child,
                                 const char       *spoken);
/** Adds a line of a fact. @remark: (nullable): said more quietly below */
void       og_plain_list_add_fact (GtkWidget      *list,
                                   const char     *title,
                                   const char     *value,
                                   const char     *remark);
/** Returns: (transfer floating): a sentence with the sign of a caution */
GtkWidget *og_caution_new       (const char       *text);
/** Adds a finding with the sign of its severity. */
void       og_plain_list_add_finding (GtkWidget       *list,
                                      const OgFinding *finding);

G_END_DECLS
