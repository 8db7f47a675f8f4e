/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Small things that pages and dialogs are made of. */

/** Takes everything out of @box. */
void       og_box_clear               (GtkWidget   *box);
/** Takes every row out of a list box; what it shows while it is empty stays. */
void       og_list_clear              (GtkWidget   *list);
/**
 * og_beside_new:
 *
 * Returns: (transfer floating): @start and @end side by side, the one with hexpand in the room that
 *   the other leaves. Where labels wrap this takes the place of a GtkBox, which asks them in GTK 4.8
 *   for the width that suits its height and so lets some of them stick out.
 */
GtkWidget *og_beside_new              (GtkWidget   *start,
                                       GtkWidget   *end,
                                       int          spacing);
/** Returns: (transfer floating): the buttons of a list row, beside each other as far as they fit */
GtkWidget *og_acts_new                (void);
void       og_acts_append             (GtkWidget   *acts,
                                       GtkWidget   *button);
/** @action: of the widget it is put into, or of one around it. Returns: (transfer floating) */
GtkWidget *og_action_button_new       (const char  *label,
                                       const char  *action);
/**
 * og_row_button_new:
 * @spoken: what it does and with which row, for screen readers
 * @index: of the row, see og_row_button_get_index()
 * @clicked: of the signal of this name, called with @data
 *
 * Returns: (transfer floating)
 */
GtkWidget *og_row_button_new          (const char  *label,
                                       const char  *spoken,
                                       guint        index,
                                       GCallback    clicked,
                                       gpointer     data);
guint      og_row_button_get_index    (GtkButton   *button);
/** Shows @dialog in front of the window that @widget is in. */
void       og_present_over            (GtkWidget   *widget,
                                       GtkWidget   *dialog);
/** Shows the page @name of @stack and lets it have the focus. */
void       og_stack_show_page         (GtkWidget   *stack,
                                       const char  *name);
/** Lets Control and a number activate @action with one of @pages: names, NULL at the end. */
void       og_class_add_page_keys     (GtkWidgetClass    *class,
                                       const char        *action,
                                       const char *const *pages);
/** Lets a search entry have the focus after a click on the icon that clears it. */
void       og_search_entry_keep_focus (GtkWidget   *entry);
/** Returns: (transfer floating): @child, scrolled up and down in all the room that there is */
GtkWidget *og_scroller_new            (GtkWidget   *child);
/** Returns: whether two arrays of char * hold the same texts */
gboolean   og_same_texts              (const GPtrArray *a,
                                       const GPtrArray *b);
/** Says in a dialog what takes more than a line, such as the place of a mistake in a file. @parent:
 * (nullable) */
void       og_show_error              (GtkWindow    *parent,
                                       const char   *heading,
                                       const GError *error);

G_END_DECLS
