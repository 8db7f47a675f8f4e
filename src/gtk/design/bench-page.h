/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_BENCH_PAGE (og_bench_page_get_type ())
G_DECLARE_FINAL_TYPE (OgBenchPage, og_bench_page, OG, BENCH_PAGE, OgDocumentPage)

/*
 * Readings of the recipe and of the materials it holds, and what each of them taught. What a
 * reading does to the prediction is worked out bit by bit while the page is on screen.
 *
 * Properties: "n-readings" (uint, read-only, notifies), "n-open" (uint, read-only: readings that
 * contradict and wait for a decision). Signal: "message" (string: what was done or failed;
 * boolean: it can be undone).
 */
GtkWidget *og_bench_page_new          (void);
/** Works everything out now instead of soon. Returns: the number of readings */
guint      og_bench_page_flush        (OgBenchPage *self);

G_END_DECLS
