/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/bench-log.h"
#include "model/bench-store.h"

G_BEGIN_DECLS

/* What the bench store does with its file (bench-store-file.c). */

/* OgBenchVersion: the file as it was once read. */
typedef struct
{
  OgBenchLog *log;   /* nullable */
  GBytes     *bytes; /* nullable: no file */
  char       *etag;  /* nullable: no file */
} OgBenchVersion;

/* Frees what @version holds, not @version itself. */
void     _og_bench_version_clear (OgBenchVersion  *version);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgBenchVersion, _og_bench_version_clear)
/* A missing file is an empty log. */
gboolean _og_bench_version_read  (GFile           *file,
                                  OgBenchVersion  *version,
                                  GError         **error);
/* @version: what was read, with its log changed since; %G_IO_ERROR_WRONG_ETAG if somebody else
 * wrote meanwhile */
gboolean _og_bench_version_write (GFile           *file,
                                  OgBenchVersion  *version,
                                  GError         **error);
/* Moves a broken file out of the way, and adds to @reason where it is now. */
gboolean _og_bench_keep_aside    (GFile           *file,
                                  GError         **reason);
/* Both nullable: no file */
gboolean _og_bench_same_bytes    (GBytes          *a,
                                  GBytes          *b);

G_END_DECLS
