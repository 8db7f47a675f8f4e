/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/design/substitution.h"

G_BEGIN_DECLS

#define OG_TYPE_WEIGHTS_EDITOR (og_weights_editor_get_type ())
G_DECLARE_FINAL_TYPE (OgWeightsEditor, og_weights_editor, OG, WEIGHTS_EDITOR, GtkWidget)

/* How much each trait counts when materials are compared: a list of sliders. Signal: "changed": the
 * reader moved one. */
GtkWidget                   *og_weights_editor_new (void);
/** Shows @weights; nobody is told. */
void                         og_weights_editor_set (OgWeightsEditor             *self,
                                                    const OgSubstitutionWeights *weights);
/** Returns: (transfer none) */
const OgSubstitutionWeights *og_weights_editor_get (OgWeightsEditor             *self);

G_END_DECLS
