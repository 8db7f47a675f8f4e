/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/chemistry.h"
#include "gtk/parts/painted-view.h"

G_BEGIN_DECLS

#define OG_TYPE_PROFILE_VIEW (og_profile_view_get_type ())
G_DECLARE_FINAL_TYPE (OgProfileView, og_profile_view, OG, PROFILE_VIEW, OgPaintedView)

/* Bar of fatty-acid classes with its legend, in the colours of the theme. */
GtkWidget  *og_profile_view_new             (void);
/** @profile: (nullable): copied; %NULL or empty is said in words */
void        og_profile_view_set_profile     (OgProfileView   *self,
                                             const OgProfile *profile);

G_END_DECLS
