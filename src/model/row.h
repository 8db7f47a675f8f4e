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

/** Returns: whether the row is a phase or a line */
OgRowKind   og_row_get_kind          (OgRow *self);
guint       og_row_get_id            (OgRow *self); /* line id or phase id */
/** Returns: id of the phase that the line stands in; for a phase its own */
guint       og_row_get_phase_id      (OgRow *self);
const char *og_row_get_ingredient_id (OgRow *self); /* NULL for a phase */
/**
 * Returns: (transfer none): name of the phase or material; the id of a material that is not known
 */
const char *og_row_get_name          (OgRow *self);
/** Returns: (transfer none) (nullable): INCI name of the material; %NULL for a phase */
const char *og_row_get_inci          (OgRow *self);
/** Returns: wt % of the recipe; for a phase the sum of its lines */
double      og_row_get_percent       (OgRow *self);
/** Returns: g at the present batch size, likewise */
double      og_row_get_grams         (OgRow *self);
/** Returns: °C of the phase, or at which the line is added; NAN if not said */
double      og_row_get_temperature_c (OgRow *self);
/** Returns: parts of what is missing to 100 %; 0 for an ordinary line or a phase */
guint       og_row_get_balance_share (OgRow *self);
/** Returns: whether the amount stays when the recipe is scaled or solved */
gboolean    og_row_get_held          (OgRow *self);
/** Returns: (transfer none) (nullable) */
const char *og_row_get_note          (OgRow *self);
/** Returns: whether the catalog has the material; %TRUE for a phase */
gboolean    og_row_get_known         (OgRow *self);
/** Returns: #OgSeverity of the worst finding of the line; -1 without one */
int         og_row_get_severity      (OgRow *self);
/**
 * Returns: (transfer none) (nullable): the findings of the line, translated, one on each line of
 * text
 */
const char *og_row_get_finding_text  (OgRow *self);

G_END_DECLS
