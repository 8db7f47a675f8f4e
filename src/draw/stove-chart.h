/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/stove.h"
#include "draw/style.h"

G_BEGIN_DECLS

/** OgStoveChart: the pot against time. Borrowed pointers, which live as long as the drawing. */
typedef struct
{
  const OgStovePlan *plan;   /* nullable; with its series */
  const OgResult    *result; /* nullable: whose agents set and clear */
  int                cursor; /* point of the series that is read out; -1: none */
} OgStoveChart;

/**
 * og_stove_chart_draw:
 * @cr: target; the chart fills @width x @height from the current origin
 *
 * Two panels with one time axis: temperature of the pot with the wrist-warm band and the lines at
 * which agents set and clear, and below it its viscosity with the 80 % band. Additions and the
 * filling are marked with the number of their step, in shapes that need no colour. A plan that is
 * refused, or without a series, is said in words.
 */
void     og_stove_chart_draw     (cairo_t            *cr,
                                  double              width,
                                  double              height,
                                  const OgStoveChart *chart,
                                  const OgDrawStyle  *style);
/** Returns: the point of the series nearest to @x_px; -1 if that lies beside the panels */
int      og_stove_chart_pick     (double              width,
                                  double              height,
                                  const OgStoveChart *chart,
                                  const OgDrawStyle  *style,
                                  double              x_px,
                                  double              y_px);
/** Returns: (transfer full): translated sentences that say what the chart shows */
char    *og_stove_chart_describe (const OgStoveChart *chart);
/** Returns: (transfer full) (nullable): the point under the cursor as a sentence */
char    *og_stove_chart_read     (const OgStoveChart *chart);

G_END_DECLS
