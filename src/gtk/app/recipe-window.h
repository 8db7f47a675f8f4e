/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/app/window.h"

G_BEGIN_DECLS

#define OG_TYPE_RECIPE_WINDOW (og_recipe_window_get_type ())
G_DECLARE_FINAL_TYPE (OgRecipeWindow, og_recipe_window, OG, RECIPE_WINDOW, OgWindow)

/* An #OgWindow with its actions, "win.*", and the keys that lead to them; it asks before it
 * closes. */
OgWindow *og_recipe_window_new (GtkApplication *application,
                                OgWorkshop     *workshop);

G_END_DECLS
