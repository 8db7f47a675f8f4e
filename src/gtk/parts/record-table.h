/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_RECORD (og_record_get_type ())
G_DECLARE_FINAL_TYPE (OgRecord, og_record, OG, RECORD, GObject)

/**
 * og_record_new:
 * @cells: (transfer full): the text of each column, NULL-terminated
 * @key: (nullable): what the row is known by
 * @id: number of the entry, or 0
 */
OgRecord   *og_record_new     (char       **cells,
                               const char  *key,
                               gint64       id);
const char *og_record_get_key (OgRecord    *self);
gint64      og_record_get_id  (OgRecord    *self);

/** OgRecordColumn: one column of a table that is only read. */
typedef struct
{
  const char *title;   /* not yet translated */
  gboolean    numeric;
  gboolean    expand;  /* takes what is left of the width; its text may be cut */
} OgRecordColumn;

#define OG_TYPE_RECORD_TABLE (og_record_table_get_type ())
G_DECLARE_FINAL_TYPE (OgRecordTable, og_record_table, OG, RECORD_TABLE, GtkWidget)

/*
 * A long table of which only the rows on the screen cost anything. Signals: "selected" (another
 * row, or none), "activated" (a row is to be opened).
 */

/** @columns: (array length=n_columns): kept by reference */
GtkWidget  *og_record_table_new          (const char           *name,
                                          const OgRecordColumn *columns,
                                          guint                 n_columns);
/**
 * og_record_table_show:
 * @records: (element-type OgRecord)
 *
 * Puts @records in place of all rows; the row of the same key and id stays selected.
 */
void        og_record_table_show         (OgRecordTable        *self,
                                          GPtrArray            *records);
/** Puts @records (element-type OgRecord) below the rows that are there. */
void        og_record_table_append       (OgRecordTable        *self,
                                          GPtrArray            *records);
guint       og_record_table_get_n_rows   (OgRecordTable        *self);
/** Returns: (nullable) (transfer none): the row that is selected */
OgRecord   *og_record_table_get_selected (OgRecordTable        *self);
/** Returns: whether there is such a row. @key: (nullable): none */
gboolean    og_record_table_select       (OgRecordTable        *self,
                                          const char           *key);

G_END_DECLS
