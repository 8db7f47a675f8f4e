/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/recipe/bench.h"

G_BEGIN_DECLS

#define OG_TYPE_BENCH_STORE (og_bench_store_get_type ())
G_DECLARE_FINAL_TYPE (OgBenchStore, og_bench_store, OG, BENCH_STORE, GObject)

/** What the file of the bench store is called; in which folder is the caller's choice. */
#define OG_BENCH_STORE_NAME "bench-log.json"

/**
 * OgBenchStore:
 *
 * The measurements of neat materials that all recipes learn from, and the one file they are kept
 * in. Every change is written at once. Before it, the file is read again under a lock, so that
 * windows and programs that share the file lose nothing to each other; what others write is picked
 * up by itself.
 *
 * A file that cannot be understood is never written over. When the store opens, or when a change is
 * to be written, it is moved to "NAME.broken" ("NAME.broken-2" and so on if that is taken). A file
 * of a newer version, or one that cannot be read at all, stays where it is, and every change fails.
 *
 * Signal "changed": the measurements or the error are other ones.
 */

/**
 * @file: may be missing, its folder too; both are made with the first change. Returns: (transfer
 * full): what the file holds, which is read now
 */
OgBenchStore    *og_bench_store_new              (GFile          *file);
/** Returns: (transfer none) */
GFile           *og_bench_store_get_file         (OgBenchStore   *self);
/**
 * Returns: (transfer full) (nullable): what was wrong with the file when it was last looked at, an
 * #OgStorageError or #GIOErrorEnum; %NULL when all is well. The measurements are then those known
 * from before, or none.
 */
GError          *og_bench_store_dup_error        (OgBenchStore   *self);
/**
 * Returns: (transfer none) (element-type OgMeasurement): in order of entry, valid until the next
 * change
 */
const GPtrArray *og_bench_store_get_measurements (OgBenchStore   *self);

/*
 * Changes. Each returns FALSE, with nothing changed, if the measurement is not there any more
 * (%G_IO_ERROR_NOT_FOUND), the file cannot be read or written (#OgStorageError, #GIOErrorEnum,
 * #GFileError), or somebody else keeps it busy (%G_IO_ERROR_BUSY, %G_IO_ERROR_WRONG_ETAG).
 */

/**
 * og_bench_store_add:
 * @measurement: (transfer full): of a neat material; gets the next free id
 *
 * Also FALSE, with an #OgBenchError or #OgStorageError, if @measurement could not be read back from
 * a file. Its viscosity is reduced again, from the density in its reduction if it has none itself.
 */
gboolean         og_bench_store_add              (OgBenchStore   *self,
                                                  OgMeasurement  *measurement,
                                                  GError        **error);
/** Takes the measurement @id out of the file, for good. */
gboolean         og_bench_store_remove           (OgBenchStore   *self,
                                                  const char     *id,
                                                  GError        **error);
/** Keeps a measurement without learning from it, or takes it in again. */
gboolean         og_bench_store_set_aside        (OgBenchStore   *self,
                                                  const char     *id,
                                                  gboolean        set_aside,
                                                  GError        **error);
/** Learns from a measurement although it contradicts the prediction, or not any more. */
gboolean         og_bench_store_accept           (OgBenchStore   *self,
                                                  const char     *id,
                                                  gboolean        accepted,
                                                  GError        **error);

G_END_DECLS
