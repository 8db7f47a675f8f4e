/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/bench.h"

G_BEGIN_DECLS

/**
 * OgBenchLog:
 *
 * Measurements of neat materials that every recipe learns from. A plain value; reading and writing
 * the file itself is left to others.
 */
typedef struct
{
  GPtrArray  *measurements; /* of OgMeasurement, of neat materials, in order of entry */
  JsonObject *extra;        /* nullable: members of the file that this version does not know */
} OgBenchLog;

#define OG_BENCH_LOG_VERSION 1 /* of the format */

/** Returns: (transfer full): an empty log */
OgBenchLog *og_bench_log_new       (void);
/** Returns: (transfer full): a copy; unknown members are shared by reference */
OgBenchLog *og_bench_log_copy      (const OgBenchLog  *log);
/** Frees @log with all it holds. */
void        og_bench_log_free      (OgBenchLog        *log);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBenchLog, og_bench_log_free)

/**
 * og_bench_log_append:
 * @measurement: (transfer full): of a neat material; gets the next free id of the log
 *
 * Returns: (transfer none): @measurement
 */
OgMeasurement *og_bench_log_append (OgBenchLog        *log,
                                    OgMeasurement     *measurement);
/** Returns: %FALSE if the log holds no measurement called @id */
gboolean    og_bench_log_remove    (OgBenchLog        *log,
                                    const char        *id);

/**
 * og_bench_log_parse:
 * @bytes: a whole file
 * @name: file name for messages
 *
 * Returns: (transfer full): the log, or %NULL with an #OgStorageError
 */
OgBenchLog *og_bench_log_parse     (GBytes            *bytes,
                                    const char        *name,
                                    GError           **error);
/**
 * Returns: (transfer full): UTF-8 JSON, keys sorted, C-locale numbers, trailing newline; same log,
 * same bytes
 */
GBytes     *og_bench_log_serialise (const OgBenchLog  *log);

G_END_DECLS
