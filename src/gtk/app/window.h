/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "gtk/app/workshop.h"
#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_WINDOW (og_window_get_type ())

typedef struct _OgWindow OgWindow;
typedef struct _OgWindowClass OgWindowClass;

struct _OgWindowClass
{
  GtkApplicationWindowClass parent_class;

  /* Says which actions can be taken now; called after everything that may change it. */
  void (*update_actions) (OgWindow *self);
};

GType       og_window_get_type     (void);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgWindow, g_object_unref)
#define OG_WINDOW(object) (G_TYPE_CHECK_INSTANCE_CAST ((object), OG_TYPE_WINDOW, OgWindow))
#define OG_WINDOW_CLASS(class) (G_TYPE_CHECK_CLASS_CAST ((class), OG_TYPE_WINDOW, OgWindowClass))
#define OG_IS_WINDOW(object) (G_TYPE_CHECK_INSTANCE_TYPE ((object), OG_TYPE_WINDOW))

/*
 * One recipe: materials, grid and prediction beside each other. A window keeps one document for its
 * whole life. Property: "workshop" (#OgWorkshop, construct only). What can be done in it is added
 * by #OgRecipeWindow.
 */
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
/** The action of the program that shows a file, "(su)": its URI, the id of a window that may be
 * used if nothing is in it yet. */
#define OG_WINDOW_OPEN_FILE "open-file"
/** Leaves the welcome page for an empty recipe. */
void        og_window_start_empty  (OgWindow      *self);

G_END_DECLS
