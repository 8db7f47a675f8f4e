/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_VERSIONS_PAGE (og_versions_page_get_type ())
G_DECLARE_FINAL_TYPE (OgVersionsPage, og_versions_page, OG, VERSIONS_PAGE, OgDocumentPage)

/**
 * OgVersionsPage:
 *
 * The versions that the recipe keeps, the newest first, and those that are ticked side by side with the
 * recipe as it stands.
 *
 * Signals: "message" (string: what was done; boolean: it can be undone), "shelf-wanted" (prices would be
 * of use).
 */
GtkWidget *og_versions_page_new   (void);
/** Asks for the name of a new version. */
void       og_versions_page_keep  (OgVersionsPage *self);
/** @shelf: (nullable): prices */
void       og_versions_page_set_shelf (OgVersionsPage *self,
                                       OgShelf        *shelf);

G_END_DECLS
