/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/chemistry.h"

G_BEGIN_DECLS

#define OG_TYPE_PROFILE_VIEW (og_profile_view_get_type ())
G_DECLARE_FINAL_TYPE (OgProfileView, og_profile_view, OG, PROFILE_VIEW, GtkWidget)

/* Bar of fatty-acid classes with its legend, in the colours of the theme. */
GtkWidget  *og_profile_view_new             (void);
/** @profile: (nullable): copied; %NULL or empty is said in words */
void        og_profile_view_set_profile     (OgProfileView   *self,
                                             const OgProfile *profile);
/** Returns: (transfer none): the same as a sentence */
const char *og_profile_view_get_description (OgProfileView   *self);

G_END_DECLS
