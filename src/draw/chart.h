/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/bench.h"
#include "draw/style.h"

G_BEGIN_DECLS

#define OG_CHART_MAX_CURVES 5

/**
 * OgChart: what the viscosity chart shows. Borrowed pointers; the caller keeps them alive while drawing.
 */
typedef struct
{
  const OgCurve *curves[OG_CHART_MAX_CURVES]; /* [0] the recipe's own; the rest overlays on the same axis */
  const char    *names[OG_CHART_MAX_CURVES];  /* plain text, for the legend; nullable for a single curve */
  guint          n_curves;
  double         target_low_mpa_s;            /* NAN: no target band */
  double         target_high_mpa_s;
  double         cursor_x;                    /* NAN: no cursor */
  const GArray  *marks;                       /* nullable: of OgMark; those that fit the axis are shown */
  double         marks_agent_pct;             /* the recipe's own share of their agent; NAN without one */
  const OgCup   *cup;                         /* nullable: also tell the viscosity in seconds of this cup */
  double         density_g_ml;                /* for @cup; NAN: unknown */
} OgChart;

/** OgChartReading: the own curve under the cursor. */
typedef struct
{
  double     x;
  OgEstimate viscosity;
} OgChartReading;

/**
 * og_chart_draw:
 * @cr: target; the chart fills @width x @height from the current origin
 *
 * Log viscosity axis, 80 % band, target band, hatching outside validity, gel-point or setting and clearing
 * mark, the band before any measurement, bench readings, the recipe's own point with its value, legend, cursor
 * read-out; on the right the seconds of a cup where its range covers. A curve that does not exist is said in words.
 */
void     og_chart_draw    (cairo_t           *cr,
                           double             width,
                           double             height,
                           const OgChart     *chart,
                           const OgDrawStyle *style);
/** Returns: whether @x_px, @y_px lies over the plot; then the own curve's reading there */
gboolean og_chart_pick    (double             width,
                           double             height,
                           const OgChart     *chart,
                           const OgDrawStyle *style,
                           double             x_px,
                           double             y_px,
                           OgChartReading    *reading);
/** Returns: (transfer full): one translated sentence that says what the chart shows, for screen readers */
char    *og_chart_describe (const OgChart    *chart);

/** Bar of acid classes with their shares and a legend; for profile panel, popover and card. Shares are taken as parts
 *  of their sum. A profile that is %NULL or empty is said in words. */
void     og_profile_chart_draw (cairo_t           *cr,
                                double             width,
                                double             height,
                                const OgProfile   *profile,
                                const OgDrawStyle *style);
/** Returns: height that bar and whole legend need at @width */
double   og_profile_chart_height (double             width,
                                  const OgProfile   *profile,
                                  const OgDrawStyle *style);
/** Returns: (transfer full): the same as a sentence */
char    *og_profile_chart_describe (const OgProfile *profile);

G_END_DECLS
