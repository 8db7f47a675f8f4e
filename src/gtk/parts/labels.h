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
/** The same, but words stay whole. */
GtkWidget *og_word_wrapping_label_new (const char *text,
                                       const char *css_class);
/** Returns: (transfer floating): an empty label that starts at the reading side and is cut at the
 *  other */
GtkWidget *og_ellipsizing_label_new (const char *css_class);
/** Shows @text, or hides the label if there is none. @text: (nullable) */
void       og_label_set_optional    (GtkWidget  *label,
                                     const char *text);
/**
 * og_menu_button_show:
 * @button: a #GtkMenuButton
 * @word: what stands on it
 * @name: what a screen reader calls it, and the button within it, which has the focus
 */
void       og_menu_button_show     (GtkWidget  *button,
                                    const char *word,
                                    const char *name);

G_END_DECLS
