/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_INSTEAD_PAGE (og_instead_page_get_type ())
G_DECLARE_FINAL_TYPE (OgInsteadPage, og_instead_page, OG, INSTEAD_PAGE, OgDocumentPage)

/*
 * What could take the place of one or several materials of the recipe, nearest first, with what
 * that would do to the body. Searches only while it is on screen, in a thread; what was found for a
 * recipe that has changed since is thrown away. Signals: "chosen" (string: the reader picked this
 * material of the recipe), "applied" (string, what was done: the recipe changed), "shelf-wanted"
 * (stock and prices matter now).
 */
GtkWidget  *og_instead_page_new               (void);
/** @shelf: (nullable): what is in stock, and prices */
void        og_instead_page_set_shelf         (OgInsteadPage *self,
                                               OgShelf       *shelf);
/** @ingredient_id: (nullable): the material to replace, alone */
void        og_instead_page_set_ingredient_id (OgInsteadPage *self,
                                               const char    *ingredient_id);
const char *og_instead_page_get_ingredient_id (OgInsteadPage *self);
/** Replaces another material of the recipe together with it, or not any more. */
void        og_instead_page_set_together      (OgInsteadPage *self,
                                               const char    *ingredient_id,
                                               gboolean       together);
/** @most: 1 ... %OG_SUBSTITUTION_MOST_PARTS materials in a suggestion */
void        og_instead_page_set_most_parts    (OgInsteadPage *self,
                                               guint          most);
void        og_instead_page_set_intent        (OgInsteadPage *self,
                                               OgSubstitutionIntent intent);
/** Never suggests this material, or again. */
void        og_instead_page_leave_out         (OgInsteadPage *self,
                                               const char    *ingredient_id,
                                               gboolean       out);
/** Searches now instead of soon, and waits. Returns: the number of suggestions */
guint       og_instead_page_flush             (OgInsteadPage *self);
/** Returns: (transfer none) (nullable): suggestion @index of the list */
const OgSuggestion *og_instead_page_get_suggestion (OgInsteadPage *self,
                                                    guint          index);
/** Puts suggestion @index of the list into the recipe. Returns: whether the recipe changed */
gboolean    og_instead_page_apply             (OgInsteadPage *self,
                                               guint          index);
/** Shows what suggestion @index does beside the recipe as it is. Returns: (transfer none)
 * (nullable): the dialog */
GtkWidget  *og_instead_page_compare           (OgInsteadPage *self,
                                               guint          index);

G_END_DECLS
