/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_VERSION_DIALOG (og_version_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgVersionDialog, og_version_dialog, OG, VERSION_DIALOG, GtkWindow)

/**
 * og_version_dialog_new:
 * @name: (nullable): the version that gets another name or note; %NULL keeps the recipe as a new one
 *
 * Signal: "applied" (string: the name).
 */
GtkWidget *og_version_dialog_new   (OgDocument      *document,
                                    const char      *name);
/** Types into the fields. @note: (nullable) */
void       og_version_dialog_type  (OgVersionDialog *self,
                                    const char      *name,
                                    const char      *note);
/** Returns: %FALSE if the name is refused; the dialog then says why */
gboolean   og_version_dialog_apply (OgVersionDialog *self);

G_END_DECLS
