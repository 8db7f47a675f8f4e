/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/**
 * og_work_list_new:
 * @name: for screen readers
 *
 * A list of rows that are worked in: the focus goes from control to control, not from row to row.
 *
 * Returns: (transfer floating)
 */
GtkWidget *og_work_list_new (const char *name);
/** Adds a row that holds @child and is named @spoken. Returns: (transfer none): the row */
GtkWidget *og_work_list_add (GtkWidget  *list,
                             GtkWidget  *child,
                             const char *spoken);

G_END_DECLS
