/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/recipe/formula.h"

G_BEGIN_DECLS

#define OG_TYPE_VERSION_ROW (og_version_row_get_type ())
G_DECLARE_FINAL_TYPE (OgVersionRow, og_version_row, OG, VERSION_ROW, GtkListBoxRow)

/**
 * og_version_row_new:
 * @is_now: whether the recipe is just this
 * @beside: whether it is laid beside the recipe
 *
 * A version with what can be done with it: the actions "version.beside", "version.go-back",
 * "version.rename" and "version.remove" of a widget around it, each with the name.
 */
GtkWidget  *og_version_row_new      (const OgVersion *version,
                                     gboolean         is_now,
                                     gboolean         beside);
/** Returns: (transfer none): the name of the version */
const char *og_version_row_get_name (OgVersionRow    *self);
/** Shows whether the version is beside the recipe, and whether it could be. */
void        og_version_row_set_beside (OgVersionRow  *self,
                                       gboolean       beside,
                                       gboolean       possible);
/** Lets the tick of the row have the focus. */
void        og_version_row_focus    (OgVersionRow    *self);

G_END_DECLS
