/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/style.h"

G_BEGIN_DECLS

/** OgLeverBar: what one line does to the viscosity, as a change in %. */
typedef struct
{
  const char *name;     /* plain text */
  double      low_pct;  /* NAN: unknown */
  double      high_pct; /* the same as @low_pct where one number tells it all */
} OgLeverBar;

typedef struct
{
  const char       *title; /* translated: what the changes are of */
  const OgLeverBar *bars;
  guint             n_bars;
} OgLeverChart;

/**
 * og_lever_chart_draw:
 * @cr: target; the chart fills @width x @height from the current origin
 *
 * Horizontal bars on one common scale through 0, each below its name and its number. What makes
 * thinner is hatched. An unknown change has no bar and says so.
 */
void   og_lever_chart_draw     (cairo_t            *cr,
                                double              width,
                                double              height,
                                const OgLeverChart *chart,
                                const OgDrawStyle  *style);
/** Returns: height that all bars need */
double og_lever_chart_height   (const OgLeverChart *chart,
                                const OgDrawStyle  *style);
/** Returns: (transfer full): the same as a sentence */
char  *og_lever_chart_describe (const OgLeverChart *chart);

G_END_DECLS
