/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_EXPOSURE_SECTION (og_exposure_section_get_type ())
G_DECLARE_FINAL_TYPE (OgExposureSection, og_exposure_section, OG, EXPOSURE_SECTION, GtkWidget)

/* How much of one substance of the recipe reaches the body in a day, and the margin below a
 * reference value that the reader brings. */
GtkWidget *og_exposure_section_new          (void);
/** @document: (nullable): shown with og_exposure_section_update() */
void       og_exposure_section_set_document (OgExposureSection *self,
                                             OgDocument        *document);
/** Shows what the document says now: whoever shows this widget knows when. */
void       og_exposure_section_update       (OgExposureSection *self);

G_END_DECLS
