/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/app/application.h"
#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_WINDOW (og_window_get_type ())
G_DECLARE_FINAL_TYPE (OgWindow, og_window, OG, WINDOW, GtkApplicationWindow)

/* One recipe: materials, grid and prediction beside each other. A window keeps one document for its
 * whole life. */
OgWindow   *og_window_new          (OgApplication *application);
OgDocument *og_window_get_document (OgWindow      *self);
/** Whether a recipe may be loaded here without putting anything away. */
gboolean    og_window_is_free      (OgWindow      *self);
/** Loads @file; says so in the window when that fails. */
void        og_window_load         (OgWindow      *self,
                                    GFile         *file);
/** Tells the reader something, such as what was done; @undoable: offers to undo it. */
void        og_window_say          (OgWindow      *self,
                                    const char    *text,
                                    gboolean       undoable);
/** Leaves the welcome page for an empty recipe. */
void        og_window_start_empty  (OgWindow      *self);

G_END_DECLS
