/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/** Runs everything that hangs in idles and frames, for a moment. */
void       settle        (void);
/** Returns: (transfer none): the widget number @n, from 0, of a type at or below @root, depth
 *  first; aborts the test if there is none */
GtkWidget *find          (GtkWidget  *root,
                          GType       type,
                          guint       n);
/** Returns: (transfer full): all visible text at or below @root, one label a line */
char      *visible_text  (GtkWidget  *root);
/** Fails the test unless @words are visible at or below @root. */
void       assert_says   (GtkWidget  *root,
                          const char *words);
/** Fails the test if @words are visible at or below @root. */
void       assert_silent (GtkWidget  *root,
                          const char *words);
/** Returns: the width that @widget asks for at least */
int        least_width   (GtkWidget  *widget);

G_END_DECLS
