/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_EMPTY_STATE (og_empty_state_get_type ())
G_DECLARE_FINAL_TYPE (OgEmptyState, og_empty_state, OG, EMPTY_STATE, GtkWidget)

/* What a window without a recipe shows: how to begin, and the recipes worked on last. */
GtkWidget *og_empty_state_new (void);

G_END_DECLS
