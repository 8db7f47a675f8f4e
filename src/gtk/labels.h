/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/**
 * og_wrapping_label_new:
 * @text: (nullable): plain text
 * @css_class: (nullable)
 *
 * Returns: (transfer floating): a label that starts at the reading side and wraps, inside words if
 *   it has to
 */
GtkWidget *og_wrapping_label_new    (const char *text,
                                     const char *css_class);
/** Returns: (transfer floating): an empty label that starts at the reading side and is cut at the
 *  other */
GtkWidget *og_ellipsizing_label_new (const char *css_class);
/** Returns: (transfer floating): the buttons of a list row, beside each other as far as they fit */
GtkWidget *og_acts_new              (void);
void       og_acts_append           (GtkWidget  *acts,
                                     GtkWidget  *button);
/** Shows @text, or hides the label if there is none. @text: (nullable) */
void       og_label_set_optional    (GtkWidget  *label,
                                     const char *text);
/**
 * og_beside_new:
 *
 * Returns: (transfer floating): @start and @end side by side, the one with hexpand in the room that
 *   the other leaves. Where labels wrap this takes the place of a GtkBox, which asks them in GTK 4.8
 *   for the width that suits its height and so lets some of them stick out.
 */
GtkWidget *og_beside_new            (GtkWidget  *start,
                                     GtkWidget  *end,
                                     int         spacing);

G_END_DECLS
