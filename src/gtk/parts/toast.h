/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_TOAST (og_toast_get_type ())
G_DECLARE_FINAL_TYPE (OgToast, og_toast, OG, TOAST, GtkWidget)

/*
 * A short message at the bottom of the window, with at most one button. It goes away by itself, but
 * not while the pointer or the keyboard focus is on it.
 */
GtkWidget *og_toast_new  (void);
/** @label, @action: (nullable): a button and the action it activates */
void       og_toast_show (OgToast    *self,
                          const char *message,
                          const char *label,
                          const char *action);
void       og_toast_hide (OgToast    *self);

G_END_DECLS
