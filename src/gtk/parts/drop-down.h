/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/** Lets a drop-down of strings be narrower than its longest one: the choice is cut at its end, the
 * list shows all of it, and the screen reader hears it. */
void og_drop_down_ellipsize   (GtkDropDown       *drop_down);
/** @names: NULL-terminated, translated */
void og_drop_down_set_strings (GtkDropDown       *drop_down,
                               const char *const *names);
/** Names a drop-down for screen readers, and with it the button inside that takes the focus. */
void og_drop_down_set_name    (GtkWidget         *drop_down,
                               const char        *name);

G_END_DECLS
