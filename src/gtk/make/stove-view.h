/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/make/stove.h"

G_BEGIN_DECLS

#define OG_TYPE_STOVE_VIEW (og_stove_view_get_type ())
G_DECLARE_FINAL_TYPE (OgStoveView, og_stove_view, OG, STOVE_VIEW, GtkWidget)

/*
 * How the recipe is cooked: warnings first, the pot against time, steps in words, and the vessel
 * and room they hold for. A plan that comes near a flash or smoke point is shown only once the
 * reader has said so explicitly.
 *
 * Signals: "changed" (the setup is another one); "split" (guint: the oil that the step of this
 * index proposes is to be kept back).
 */

/** Takes room and vessel from @settings and keeps them there. @settings: (nullable) */
void og_stove_view_set_settings (OgStoveView       *self,
                                 GSettings         *settings);
/** @setup: (out): batch and temperature of filling are left alone */
void og_stove_view_get_setup    (OgStoveView       *self,
                                 OgStoveSetup      *setup);
/** Ends what the reader allowed for one recipe. */
void og_stove_view_forget       (OgStoveView       *self);
/** @plan: (nullable): lent until the next call. @result: (nullable): of the recipe */
void og_stove_view_show         (OgStoveView       *self,
                                 const OgStovePlan *plan,
                                 OgResult          *result);
/** Puts text that was refused away. */
void og_stove_view_revert       (OgStoveView       *self);

G_END_DECLS
