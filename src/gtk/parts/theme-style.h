/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "draw/style.h"

G_BEGIN_DECLS

/**
 * og_theme_style_init:
 * @style: (out): how to paint for @widget
 *
 * Takes ground, text, font and direction from the theme that @widget is shown in, and curve colours that can be told
 * from that ground. The recipe's own curve takes `accent_color` where the theme names one, else the program's own ink.
 * Ask again for every frame: themes and text sizes change while the program runs.
 */
void     og_theme_style_init         (OgDrawStyle *style,
                                      GtkWidget   *widget);
/** Returns: whether the theme in use is made for high contrast */
gboolean og_theme_is_high_contrast   (GtkWidget   *widget);

G_END_DECLS
