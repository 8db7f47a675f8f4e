/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/comparison.h"
#include "core/recipe/bench.h"
#include "gtk/parts/painted-view.h"

G_BEGIN_DECLS

#define OG_TYPE_CHART_VIEW (og_chart_view_get_type ())
G_DECLARE_FINAL_TYPE (OgChartView, og_chart_view, OG, CHART_VIEW, OgPaintedView)

/*
 * The viscosity chart of a recipe in the colours of the theme. The pointer reads the curve; so do the arrow keys while
 * the chart has the focus (with Ctrl in larger steps, Home and End, Escape puts the reading away).
 */
GtkWidget  *og_chart_view_new             (void);
/**
 * og_chart_view_show:
 * @result: (nullable): an evaluation with curves; %NULL for nothing
 * @target_low_mpa_s: NAN for no target band
 */
void        og_chart_view_show            (OgChartView *self,
                                           OgResult    *result,
                                           OgCurveAxis  axis,
                                           double       target_low_mpa_s,
                                           double       target_high_mpa_s);
/** @comparison: (nullable): recipes whose curves are drawn beside that of the first, each in its own dash
 * with its name; only read now */
void        og_chart_view_set_beside      (OgChartView        *self,
                                           const OgComparison *comparison);
/** @cup: (nullable): also tells the viscosity in seconds of this cup */
void        og_chart_view_set_cup         (OgChartView *self,
                                           const OgCup *cup);
/**
 * og_chart_view_get_reading:
 *
 * Returns: whether a place on the curve is being read; then its viscosity
 */
gboolean    og_chart_view_get_reading     (OgChartView *self,
                                           double      *x,
                                           OgEstimate  *viscosity);

G_END_DECLS
