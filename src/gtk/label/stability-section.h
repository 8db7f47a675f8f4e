/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_STABILITY_SECTION (og_stability_section_get_type ())
G_DECLARE_FINAL_TYPE (OgStabilitySection, og_stability_section, OG, STABILITY_SECTION, GtkWidget)

/* Plans the stability tests of a recipe and keeps what was read; both belong to the document. */
GtkWidget *og_stability_section_new          (void);
/** @document: (nullable): shown with og_stability_section_update() */
void       og_stability_section_set_document (OgStabilitySection *self,
                                              OgDocument         *document);
/** Shows what the document says now: whoever shows this widget knows when. */
void       og_stability_section_update       (OgStabilitySection *self);

G_END_DECLS
