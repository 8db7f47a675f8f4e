/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/painted-view.h"

G_BEGIN_DECLS

#define OG_TYPE_SERIES_SWATCH (og_series_swatch_get_type ())
G_DECLARE_FINAL_TYPE (OgSeriesSwatch, og_series_swatch, OG, SERIES_SWATCH, OgPaintedView)

/** Returns: (transfer floating): a piece of the line that curve @index has in the charts; only for the eye */
GtkWidget *og_series_swatch_new (guint index);

G_END_DECLS
