/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/stove.h"
#include "gtk/parts/painted-view.h"

G_BEGIN_DECLS

#define OG_TYPE_STOVE_CHART_VIEW (og_stove_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (OgStoveChartView, og_stove_chart_view, OG, STOVE_CHART_VIEW, OgPaintedView)

/*
 * The pot against time in the colours of the theme. The pointer reads it; so do the arrow keys
 * while it has the focus (with Ctrl in larger steps, Home and End, Escape puts the reading away).
 */
GtkWidget  *og_stove_chart_view_new             (void);
/** @plan: (nullable): lent until the next call. @result: (nullable): whose agents set and clear */
void        og_stove_chart_view_show            (OgStoveChartView  *self,
                                                 const OgStovePlan *plan,
                                                 OgResult          *result);

G_END_DECLS
