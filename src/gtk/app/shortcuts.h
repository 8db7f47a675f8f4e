/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/*
 * The one table of keys. It installs them and describes them in the shortcuts window.
 *
 * Most are accelerators of the application. Keys that mean something to a text entry as well are
 * bound to the window and reach it only when the focused widget leaves them alone.
 */
void  og_shortcuts_install_app    (GtkApplication *application);
void  og_shortcuts_install_window (GtkWidgetClass *class);
/** Returns: (transfer full): description of the shortcuts window for GtkBuilder */
char *og_shortcuts_to_ui          (void);

G_END_DECLS
