/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/predict/belief.h"

G_BEGIN_DECLS

#define OG_TYPE_BENCH_ROW (og_bench_row_get_type ())
G_DECLARE_FINAL_TYPE (OgBenchRow, og_bench_row, OG, BENCH_ROW, GtkListBoxRow)

/** OgBenchEntry: one reading and all that its row tells. Borrowed pointers. */
typedef struct
{
  const OgMeasurement *measurement;
  const OgLesson      *lesson; /* nullable: the recipe does not look at it */
  const char          *name;   /* what was measured */
  gboolean             bench;  /* from the bench store, not from the recipe */
} OgBenchEntry;

/*
 * A reading with what became of it. Its menu and buttons activate "reading.use", "reading.take-out",
 * "reading.accept", "reading.refuse" and "reading.delete" with the target (bs): whether it is one
 * of the bench store's, and its id.
 */
GtkWidget  *og_bench_row_new        (const OgBenchEntry *entry);
gboolean    og_bench_row_get_bench  (OgBenchRow         *self);
const char *og_bench_row_get_id     (OgBenchRow         *self);
/** @effect: (nullable): what the reading does to the prediction */
void        og_bench_row_set_effect (OgBenchRow         *self,
                                     const char         *effect);

G_END_DECLS
