/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"
#include "core/predict/belief.h"
#include "core/recipe/bench-log.h"
#include "model/document.h"

G_BEGIN_DECLS

/**
 * OgKept:
 *
 * A file that keeps readings: a document, or a bench log. Exactly one of @document and @log is
 * there; both are changed in memory first, see og_kept_write().
 */
typedef struct
{
  char       *path;
  OgDocument *document;  /* nullable */
  OgBenchLog *log;       /* nullable */
  OgCatalog  *catalog;   /* library, and own materials of the recipe */
  gboolean    existed;   /* the file was there */
} OgKept;

/** OgKeptChange: one change of the readings of a file. */
typedef enum
{
  OG_KEPT_ADD,
  OG_KEPT_REMOVE,
  OG_KEPT_SET_ASIDE,
  OG_KEPT_USE,    /* no longer set aside */
  OG_KEPT_ACCEPT  /* no longer set aside, and learned from whatever the prediction says */
} OgKeptChange;

/** Frees what @kept holds; what was not written is lost. */
void             og_kept_clear            (OgKept               *kept);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgKept, og_kept_clear)
/** Reads a document or a recipe table. */
gboolean         og_kept_read_recipe      (OgKept               *kept,
                                           const char           *path,
                                           GError              **error);
/** Reads a bench log; one that is not there is empty if @may_be_missing. */
gboolean         og_kept_read_log         (OgKept               *kept,
                                           const char           *path,
                                           gboolean              may_be_missing,
                                           GError              **error);
/** TRUE for a recipe table, which cannot keep readings. */
gboolean         og_kept_is_table         (const OgKept         *kept);
/** Returns: (transfer none) (element-type OgMeasurement): valid until the next change */
const GPtrArray *og_kept_get_measurements (const OgKept         *kept);
/**
 * og_kept_change:
 * @measurement: what to add, which gets the next free id; else the reading of this id
 *
 * Changes the readings in memory. Returns: %FALSE with an #OgBenchError or #OgStorageError if what
 * is to be added could not be read back from the file
 */
gboolean         og_kept_change           (OgKept               *kept,
                                           OgKeptChange          change,
                                           const OgMeasurement  *measurement,
                                           GError              **error);
/**
 * og_kept_write:
 * @change, @measurement: the one change that was made; what is added gets the id that is free by
 *   now
 * @written: (out): %FALSE if there was nothing to write
 *
 * Brings the change into the file, which is replaced as a whole; its previous version is kept as
 * "NAME~". If somebody else wrote the document since it was read, the change is made to what it holds now.
 *
 * Returns: %FALSE with a #GIOErrorEnum, #GFileError or #OgStorageError; nothing is kept then
 */
gboolean         og_kept_write            (OgKept               *kept,
                                           OgKeptChange          change,
                                           OgMeasurement        *measurement,
                                           gboolean             *written,
                                           GError              **error);

/** Returns: (transfer full): an empty list that frees its #OgMeasurement */
GPtrArray       *og_readings_new          (void);
/** Adds copies of @measurements to @all, their ids led by @prefix (nullable). */
void             og_readings_add          (GPtrArray            *all,
                                           const GPtrArray      *measurements,
                                           const char           *prefix);
/**
 * og_readings_add_log:
 * @path: (nullable): a bench log, which must be there
 * @own: (element-type OgIngredient): own materials of recipes
 *
 * Adds the readings of the log to @all, their ids led by %OG_DOCUMENT_BENCH_PREFIX. Those of a
 * material that a recipe has replaced by one of its own are left out.
 */
gboolean         og_readings_add_log      (GPtrArray            *all,
                                           const char           *path,
                                           const GPtrArray      *own,
                                           GError              **error);
/**
 * og_readings_learn:
 * @path: (nullable): a bench log, which must be there
 * @belief: (out) (nullable): what the readings of @recipe and of the log teach; %NULL for none
 */
gboolean         og_readings_learn        (const OgRecipe       *recipe,
                                           const char           *path,
                                           OgBelief            **belief,
                                           GError              **error);

G_END_DECLS
