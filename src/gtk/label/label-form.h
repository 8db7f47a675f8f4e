/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "draw/label.h"
#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_LABEL_FORM (og_label_form_get_type ())
G_DECLARE_FINAL_TYPE (OgLabelForm, og_label_form, OG, LABEL_FORM, GtkWidget)

/*
 * What a label says beyond the recipe's list of materials. Net content, period after opening,
 * warnings, shades and the like belong to the recipe; who answers for the product belongs to the
 * workshop and is kept in the settings; batch code and best before are for this label alone.
 *
 * Signal: "changed" (something that is not in the recipe; the recipe has signals of its own).
 */
GtkWidget  *og_label_form_new          (void);
/** @document: (nullable): shown with og_label_form_update() */
void        og_label_form_set_document (OgLabelForm  *self,
                                        OgDocument   *document);
/** Shows what the document says now: whoever shows this widget knows when. */
void        og_label_form_update       (OgLabelForm  *self);
/** @settings: (nullable): where name and address are kept */
void        og_label_form_set_settings (OgLabelForm  *self,
                                        GSettings    *settings);
OgMarket    og_label_form_get_market   (OgLabelForm  *self);
/** @text: (out): strings stay the form's, until it changes */
void        og_label_form_get_text     (OgLabelForm  *self,
                                        OgLabelText  *text);

G_END_DECLS
