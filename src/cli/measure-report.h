/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/readings.h"

G_BEGIN_DECLS

/** OgMeasureReport: a change to the readings of a file, and what it does to what was measured. */
typedef struct
{
  OgMeasurement *measurement;
  OgEstimate before;    /* mPa.s at the temperature and rate of the reading, before the change */
  OgEstimate after;
  double     surprise;  /* see OgLesson; NAN if nothing can be predicted */
  gboolean   used;      /* after the change */
  gboolean   contradicts;
  gboolean   removed;
  gboolean   written;   /* the file has been replaced */
} OgMeasureReport;

/**
 * og_measure_report_fill:
 * @measurement: taken over as a copy
 * @before, @after: (element-type OgMeasurement): all readings before and after the change
 * @index: where @measurement stands among @after, or among @before if it was @removed
 */
void og_measure_report_fill  (OgMeasureReport      *report,
                              const OgMeasurement  *measurement,
                              GPtrArray            *before,
                              GPtrArray            *after,
                              guint                 index,
                              gboolean              removed,
                              const OgCatalog      *catalog);
/** Frees what @report holds. */
void og_measure_report_clear (OgMeasureReport      *report);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgMeasureReport, og_measure_report_clear)

/** TRUE if the reading is set against the prediction and waits for a decision. */
gboolean og_measure_report_is_open (const OgMeasureReport *report);

/** Writes the report; @kept is the file it is about. */
void og_measure_report_put   (OgCall                *call,
                              const OgMeasureReport *report,
                              const OgKept          *kept);
/**
 * og_measure_list_put:
 * @all: (element-type OgMeasurement): readings of @kept first, then others
 *
 * Writes the readings of @kept and what became of them.
 */
void og_measure_list_put     (OgCall                *call,
                              const OgKept          *kept,
                              GPtrArray             *all);

G_END_DECLS
