/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_INSTEAD_PAGE (og_instead_page_get_type ())
G_DECLARE_FINAL_TYPE (OgInsteadPage, og_instead_page, OG, INSTEAD_PAGE, GtkWidget)

/*
 * What could take the place of a material of the recipe, nearest first, with what that would do to the body. Works it
 * out only while it is on screen, and not before the window has been drawn. Signal: "chosen" (string: the reader picked
 * this material of the recipe).
 */
GtkWidget  *og_instead_page_new               (void);
/** @document: (nullable) */
void        og_instead_page_set_document      (OgInsteadPage *self,
                                               OgDocument    *document);
/** @ingredient_id: (nullable): the material to replace */
void        og_instead_page_set_ingredient_id (OgInsteadPage *self,
                                               const char    *ingredient_id);
const char *og_instead_page_get_ingredient_id (OgInsteadPage *self);
/** Works the list out now instead of soon. Returns: the number of suggestions */
guint       og_instead_page_flush             (OgInsteadPage *self);
/** Puts suggestion @index of the list into the recipe. Returns: whether the recipe changed */
gboolean    og_instead_page_apply             (OgInsteadPage *self,
                                               guint          index);

/** Returns: (transfer full): what a change of viscosity means, with its band: "about 9 times thinner ..." */
char       *og_viscosity_change_to_text       (const OgEstimate *ratio);

G_END_DECLS
