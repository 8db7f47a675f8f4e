/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

typedef enum
{
  OG_ROW_PHASE,
  OG_ROW_LINE
} OgRowKind;

#define OG_TYPE_ROW (og_row_get_type ())
G_DECLARE_FINAL_TYPE (OgRow, og_row, OG, ROW, GObject)

/**
 * OgRow:
 *
 * One row of the grid: a phase header or a line. Properties mirror the document and notify; they
 * are read-only for views: "name" (string; the id of a material that is not known), "inci" (string,
 * nullable), "percent" (double, wt %; for a phase the sum of its lines), "grams" (double),
 * "temperature-c" (double, NAN: none), "balance-share" (uint), "held" (boolean), "note" (string,
 * nullable), "known" (boolean: the catalog has the material), "severity" (int: worst finding of the
 * line, -1 none), "finding-text" (string, nullable: the findings of the line, one on each line of
 * text).
 */

OgRowKind   og_row_get_kind          (OgRow *self);
guint       og_row_get_id            (OgRow *self); /* line id or phase id */
guint       og_row_get_phase_id      (OgRow *self);
const char *og_row_get_ingredient_id (OgRow *self); /* NULL for a phase */
const char *og_row_get_name          (OgRow *self);
const char *og_row_get_inci          (OgRow *self);
double      og_row_get_percent       (OgRow *self);
double      og_row_get_grams         (OgRow *self);
double      og_row_get_temperature_c (OgRow *self);
guint       og_row_get_balance_share (OgRow *self);
gboolean    og_row_get_held          (OgRow *self);
const char *og_row_get_note          (OgRow *self);
gboolean    og_row_get_known         (OgRow *self);
int         og_row_get_severity      (OgRow *self);
const char *og_row_get_finding_text  (OgRow *self);

G_END_DECLS
