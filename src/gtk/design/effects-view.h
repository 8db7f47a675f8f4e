/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/design/effects.h"

G_BEGIN_DECLS

#define OG_TYPE_EFFECTS_VIEW (og_effects_view_get_type ())
G_DECLARE_FINAL_TYPE (OgEffectsView, og_effects_view, OG, EFFECTS_VIEW, GtkWidget)

/* What a change brings, row by row: what it was, what it becomes, and in words whether that is
 * better or worse. What stays as it is shows on request. */
GtkWidget *og_effects_view_new   (void);
/** @effects: (nullable) (element-type OgEffect): only read */
void       og_effects_view_set   (OgEffectsView   *self,
                                  const GPtrArray *effects);
/** Returns: the number of rows that change */
guint      og_effects_view_get_n_changed (OgEffectsView *self);

G_END_DECLS
