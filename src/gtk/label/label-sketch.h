/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/label.h"
#include "gtk/parts/painted-view.h"

G_BEGIN_DECLS

#define OG_TYPE_LABEL_SKETCH (og_label_sketch_get_type ())
G_DECLARE_FINAL_TYPE (OgLabelSketch, og_label_sketch, OG, LABEL_SKETCH, OgPaintedView)

/* A label as it would be printed: black on paper in every theme. */
GtkWidget     *og_label_sketch_new       (void);
/** @label: (transfer full) (nullable) */
void           og_label_sketch_set_label (OgLabelSketch *self,
                                          OgLabel       *label);
/** Returns: (transfer none) (nullable) */
const OgLabel *og_label_sketch_get_label (OgLabelSketch *self);

G_END_DECLS
