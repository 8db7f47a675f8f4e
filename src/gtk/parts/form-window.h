/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/**
 * og_form_window_build:
 * @apply: label of the button that takes what was typed
 * @action: of the class of @window; also what Enter does
 *
 * Makes a modal form of @window: cancel and apply in the header, Escape closes.
 *
 * Returns: (transfer none): a vertical box for the fields
 */
GtkWidget *og_form_window_build (GtkWindow  *window,
                                 const char *title,
                                 const char *apply,
                                 const char *action);
/** What every class of such a form does in its class_init. */
void       og_form_window_init_class (GtkWidgetClass *class);
/** Returns: (transfer floating): a label for what is wrong with the form as a whole; empty */
GtkWidget *og_form_problem_new  (void);

G_END_DECLS
