/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/make/stove.h"

G_BEGIN_DECLS

#define OG_TYPE_STOVE_CHART_VIEW (og_stove_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (OgStoveChartView, og_stove_chart_view, OG, STOVE_CHART_VIEW, GtkWidget)

/*
 * The pot against time in the colours of the theme. The pointer reads it; so do the arrow keys
 * while it has the focus (with Ctrl in larger steps, Home and End, Escape puts the reading away).
 */
GtkWidget  *og_stove_chart_view_new             (void);
/** @plan: (nullable): lent until the next call. @result: (nullable): whose agents set and clear */
void        og_stove_chart_view_show            (OgStoveChartView  *self,
                                                 const OgStovePlan *plan,
                                                 OgResult          *result);
/** Returns: (transfer none): what screen readers are told about the chart */
const char *og_stove_chart_view_get_description (OgStoveChartView  *self);

G_END_DECLS
