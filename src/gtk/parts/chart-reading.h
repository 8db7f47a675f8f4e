/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* How a chart is read: by the pointer, or with the arrow keys while it has the focus. */

/** Points that the arrow keys pass over with Ctrl. Home and End ask for more than that. */
#define OG_CHART_LARGE_STEP 10

/** OgChartReader: what a chart does; each is called with the chart. */
typedef struct
{
  void (*point_at)    (GtkWidget *chart, double x, double y); /* the pointer moved there */
  void (*point_away)  (GtkWidget *chart);                     /* the pointer left */
  void (*focus_leave) (GtkWidget *chart);
} OgChartReader;

/**
 * og_chart_reading_init_class:
 * @move: gets points to move by, an int; Home and End give the largest there are
 * @end: puts the reading away
 *
 * Keys, role and style name of a class of charts.
 */
void og_chart_reading_init_class (GtkWidgetClass      *class,
                                  GtkShortcutFunc      move,
                                  GtkShortcutFunc      end);

/** @reader: kept by reference. Lets @chart take the focus, also by a click, and be pointed at. */
void og_chart_reading_init       (GtkWidget           *chart,
                                  const OgChartReader *reader);

G_END_DECLS
