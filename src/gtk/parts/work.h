/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * OgWork:
 *
 * One computation that runs in a thread, so that the window never waits for it. All calls belong to
 * the main thread, but for og_work_report().
 */
typedef struct _OgWork OgWork;

/** OgWorkKind: what is computed. Requests and answers are freed in the main thread. */
typedef struct
{
  /** Runs in the thread. Returns: (transfer full) (nullable): the answer, or %NULL with an error */
  gpointer     (*compute)      (gpointer   request,
                                OgWork    *work,
                                GError   **error);
  GDestroyNotify free_request;
  GDestroyNotify free_answer;
} OgWorkKind;

/** @answer: (transfer full) (nullable): %NULL if there is an @error */
typedef void (*OgWorkDone) (gpointer      answer,
                            const GError *error,
                            gpointer      user_data);

/**
 * og_work_start:
 * @request: (transfer full): nothing else may use it from now on
 * @done: called once, from the main loop, unless the work is dropped before
 *
 * Returns: (transfer full): to be given back by og_work_drop()
 */
OgWork    *og_work_start        (const OgWorkKind *kind,
                                 gpointer          request,
                                 OgWorkDone        done,
                                 gpointer          user_data);
/** Asks the thread to come to an end: @done is still called, with what was found so far. */
void       og_work_stop         (OgWork           *work);
/** Asks the thread to stop, and forgets about it: what it still finds out is thrown away. */
void       og_work_drop         (OgWork           *work);
/** Waits until @done was called. */
void       og_work_wait         (OgWork           *work);
/** From the thread: @done is 0 ... 1, NAN if it cannot be told. Returns: %FALSE to stop */
gboolean   og_work_report       (OgWork           *work,
                                 double            done);
/** The same for functions of the core that report with one number: @work is an OgWork */
gboolean   og_work_on_progress  (double            done,
                                 gpointer          work);
/** Returns: 0 ... 1, as last reported */
double     og_work_get_progress (OgWork           *work);

/**
 * og_work_copy_formula:
 *
 * Returns: (transfer full): a copy of @formula that shares nothing with it that counts its users
 * without locks, so that a thread may copy it further
 */
OgFormula *og_work_copy_formula (const OgFormula  *formula);

G_END_DECLS
