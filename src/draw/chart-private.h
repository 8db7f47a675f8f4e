/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/chart.h"
#include "draw/plot.h"

G_BEGIN_DECLS

/* The viscosity chart in parts, for chart*.c only. Viscosities are in mPa.s, places on the x axis
 * in the unit of the curve's axis, lengths in units of the target. */

#define OG_MARKER_RADIUS 3.0 /* this and the next two at mark scale 1 */
#define OG_LEGEND_SWATCH 22.0
#define OG_LEGEND_SPACE 5.0 /* between swatch and words */

/* --- chart-series.c: what there is to show --- */

/** Returns: (nullable): the recipe's own curve */
const OgCurve *og_chart_get_own          (const OgChart *chart);
/** Returns: the axis of all curves of the chart */
OgCurveAxis    og_chart_get_axis         (const OgChart *chart);
/** Whether @x can lie on the axis of @curve. */
gboolean       og_chart_is_place         (const OgCurve *curve,
                                          double         x);
/** Whether a logarithmic axis has a place for it. */
gboolean       og_chart_is_viscosity     (double         mpa_s);
/** Whether point @index of @curve can be drawn. */
gboolean       og_chart_has_point        (const OgCurve *curve,
                                          guint          index);
/** @curve: (nullable). Whether there is anything to draw of it. */
gboolean       og_chart_has_points       (const OgCurve *curve);
/** @curve: (nullable). Whether its band before any measurement is known. */
gboolean       og_chart_has_prior        (const OgCurve *curve);
/** Whether any curve has something to draw. */
gboolean       og_chart_has_any          (const OgChart *chart);
/** @curve: (nullable). Whether it goes on beyond where it is valid, within @x. */
gboolean       og_chart_is_extrapolated  (const OgCurve *curve,
                                          const OgAxis  *x);
/** @curve: (nullable). Returns: value and band at @x, straight in ln viscosity between points;
 * NAN outside */
OgEstimate     og_chart_read_curve       (const OgCurve *curve,
                                          double         x);
/** Whether there is a target band to draw. */
gboolean       og_chart_has_target       (const OgChart *chart);
/** Returns: how many readings it was given, fitting or not */
guint          og_chart_get_n_marks      (const OgChart *chart);
/** Returns: where on the x axis the reading belongs; NAN if it was taken under other conditions
 * than the curve's */
double         og_chart_place_mark       (const OgChart *chart,
                                          const OgMark  *mark);
/** Whether any reading belongs on the chart. */
gboolean       og_chart_has_marks        (const OgChart *chart);
/** Returns: seconds in the chart's cup; NAN without one and where it does not cover @mpa_s */
double         og_chart_to_seconds       (const OgChart *chart,
                                          double         mpa_s);
/** Returns: the viscosity; the chart must have a cup and a density */
double         og_chart_from_seconds     (const OgChart *chart,
                                          double         seconds);

/* --- chart-words.c: all translated; char * is (transfer full) --- */

/** "Temperature, °C" */
const char    *og_chart_axis_title       (OgCurveAxis    axis);
/** What is said in place of a curve. */
const char    *og_chart_missing_text     (const OgChart *chart);
/** "2.5 wt %", "25 °C" */
char          *og_chart_place_text       (OgCurveAxis    axis,
                                          double         x);
/** Returns: (nullable): what @curve holds constant; %NULL if nothing */
char          *og_chart_conditions_text  (const OgCurve *curve);
/** "850 mPa·s", with the seconds of the chart's cup where it covers that */
char          *og_chart_value_text       (const OgChart *chart,
                                          double         mpa_s);
/** @covered: whether the cup covers any of the viscosity axis. The chart must have a cup. */
char          *og_chart_cup_title        (const OgChart *chart,
                                          gboolean       covered);

/* --- chart-frame.c: where everything goes --- */

typedef enum
{
  OG_LEGEND_CURVE,
  OG_LEGEND_BAND,
  OG_LEGEND_PRIOR,
  OG_LEGEND_MEASURED,
  OG_LEGEND_EXTRAPOLATED,
  OG_N_LEGEND_KINDS
} OgLegendKind;

typedef struct
{
  OgLegendKind kind;
  guint        curve; /* of %OG_LEGEND_CURVE */
  double       x, y, width;
  PangoLayout *layout;
} OgLegendItem;

/* Every curve, and once what else there is. */
typedef struct
{
  OgLegendItem items[OG_CHART_MAX_CURVES + OG_N_LEGEND_KINDS - 1];
  guint        n;
} OgChartLegend;

/* The seconds of a cup on the right. */
typedef struct
{
  OgAxis  seconds; /* the part of the viscosity axis that the cup covers */
  GArray *ticks;   /* nullable: it covers nothing */
  double  top;     /* of the line that names the cup; 0: no such line */
} OgChartCup;

typedef struct
{
  OgCanvas      canvas;
  OgPlot        plot;
  GArray       *x_ticks, *y_ticks;
  OgChartLegend legend;
  OgChartCup    cup;
  gboolean      title_wanted, x_title_wanted;
} OgChartFrame;

/** @cr: (nullable): %NULL measures only. Returns: %FALSE if there is nothing to plot or no room
 * for it */
gboolean og_chart_frame_init  (OgChartFrame      *frame,
                               cairo_t           *cr,
                               double             width,
                               double             height,
                               const OgChart     *chart,
                               const OgDrawStyle *style);
/** Frees what og_chart_frame_init() made, also after it failed. */
void     og_chart_frame_clear (OgChartFrame      *frame);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgChartFrame, og_chart_frame_clear)

/* --- chart-layers.c: target, grid, titles, legend --- */

/** The band aimed at, if there is one. */
void og_chart_draw_target      (const OgCanvas      *canvas,
                                const OgPlot        *plot,
                                const OgChart       *chart);
/** Lines at the ticks, and the lower edge of the plot. */
void og_chart_draw_grid        (const OgCanvas      *canvas,
                                const OgPlot        *plot,
                                const GArray        *x_ticks,
                                const GArray        *y_ticks);
/** Numbers below and left of the plot. */
void og_chart_draw_tick_labels (const OgCanvas      *canvas,
                                const OgPlot        *plot,
                                const GArray        *x_ticks,
                                const GArray        *y_ticks);
/** Ticks and seconds on the right, and the line that names the cup. */
void og_chart_draw_cup         (const OgCanvas      *canvas,
                                const OgPlot        *plot,
                                const OgChart       *chart,
                                const OgChartCup    *cup);
/** What is shown, and what the own curve holds constant. */
void og_chart_draw_title       (const OgCanvas      *canvas,
                                const OgChart       *chart);
/** What the x axis stands for, below its numbers. */
void og_chart_draw_x_title     (const OgCanvas      *canvas,
                                const OgPlot        *plot,
                                const OgChart       *chart);
/** Swatches and words, where og_chart_frame_init() put them. */
void og_chart_draw_legend      (const OgCanvas      *canvas,
                                const OgChartLegend *legend);

/* --- chart-curves.c: what lies within the plot --- */

/** Curves with band and markers, hatching where they are extrapolated, bench readings. */
void og_chart_draw_curves      (const OgCanvas      *canvas,
                                const OgPlot        *plot,
                                const OgChart       *chart);
/** Colour, width and dash of the band before any measurement. */
void og_chart_set_prior_line   (const OgCanvas      *canvas);
/** The mark of a bench reading. */
void og_chart_draw_cross       (const OgCanvas      *canvas,
                                double               x,
                                double               y);

/* --- chart-labels.c: what finds its own place --- */

/* What labels keep clear of: the edge of the plot, a curve, and what was placed before. */
typedef struct
{
  const OgPlot  *plot;
  const OgCurve *curve; /* nullable: the own one */
  OgRect         taken[16];
  guint          n;
} OgChartRoom;

/** The two ends of the target band in words, if there is one and room for it. */
void     og_chart_draw_target_label (const OgCanvas *canvas,
                                     OgChartRoom    *room,
                                     const OgChart  *chart);
/** Gel point, or where it sets and clears. */
void     og_chart_draw_marks        (const OgCanvas *canvas,
                                     OgChartRoom    *room);
/** @own: (nullable). Whether the recipe itself lies within the axes. */
gboolean og_chart_has_own_point     (const OgPlot   *plot,
                                     const OgCurve  *own);
/** These two: only where there is an own point. */
void     og_chart_draw_own_ring     (const OgCanvas *canvas,
                                     OgChartRoom    *room);
/* Writes the recipe's own value beside its point, where @room still has space. */
void     og_chart_draw_own_label    (const OgCanvas *canvas,
                                     OgChartRoom    *room);
/** Says that the own recipe has no curve where others have one. */
void     og_chart_draw_own_missing  (const OgCanvas *canvas,
                                     const OgPlot   *plot,
                                     const OgChart  *chart);
/** Line, point and read-out under the cursor, if there is one. */
void     og_chart_draw_cursor       (const OgCanvas *canvas,
                                     OgChartRoom    *room,
                                     const OgChart  *chart);

G_END_DECLS
