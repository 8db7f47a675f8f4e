/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/evaluate.h"
#include "core/substitution.h"

G_BEGIN_DECLS

#define OG_TYPE_DOCUMENT (og_document_get_type ())
G_DECLARE_FINAL_TYPE (OgDocument, og_document, OG, DOCUMENT, GObject)

/*
 * OgDocument owns the recipe, its history and its newest result, and is the only one that changes them. Every change is one
 * undoable step: history keeps whole recipes (they are small), so undo of everything is the same code path.
 *
 * Properties (all notify): "title" (string, read-only), "modified" (boolean: differs from the saved point), "result" (boxed or
 * pointer, read-only), "undo-label", "redo-label" (nullable string), "file" (GFile, nullable).
 * Signals: "formula-changed" (after every change of the recipe, before the new result), "result-changed".
 *
 * The result is recomputed in an idle of G_PRIORITY_HIGH_IDLE after a change; og_document_get_result() computes at once when it
 * is stale, so nobody ever sees an old one.
 */

OgDocument      *og_document_new                (OgCatalog        *library);

const OgFormula *og_document_get_formula        (OgDocument       *self);
OgCatalog       *og_document_get_catalog        (OgDocument       *self); /* library and own materials; (transfer none) */
OgResult        *og_document_get_result         (OgDocument       *self); /* (transfer none), with curves */
guint64          og_document_get_revision       (OgDocument       *self);
const char      *og_document_get_title          (OgDocument       *self);
gboolean         og_document_get_modified       (OgDocument       *self);
/** TRUE for a document nobody has put anything in yet: no phases and no lines */
gboolean         og_document_is_empty           (OgDocument       *self);

/** Replaces everything (a loaded file): clears history, counts as saved. Takes @formula. */
void             og_document_reset              (OgDocument       *self,
                                                 OgFormula        *formula);
void             og_document_mark_saved         (OgDocument       *self);

gboolean         og_document_can_undo           (OgDocument       *self);
gboolean         og_document_can_redo           (OgDocument       *self);
const char      *og_document_get_undo_label     (OgDocument       *self);
const char      *og_document_get_redo_label     (OgDocument       *self);
void             og_document_undo               (OgDocument       *self);
void             og_document_redo               (OgDocument       *self);

/* Edits. A call that would change nothing makes no history entry. Each returns the id of what it made, or whether it changed. */
gboolean         og_document_set_title          (OgDocument       *self, const char *title);
gboolean         og_document_set_purpose        (OgDocument       *self, const char *purpose);
gboolean         og_document_set_notes          (OgDocument       *self, const char *notes);
gboolean         og_document_set_batch_g        (OgDocument       *self, double batch_g);
gboolean         og_document_set_target         (OgDocument       *self, double low_mpa_s, double high_mpa_s);
guint            og_document_add_phase          (OgDocument       *self, const char *name, guint position);
gboolean         og_document_rename_phase       (OgDocument       *self, guint phase_id, const char *name);
gboolean         og_document_set_phase_temperature (OgDocument    *self, guint phase_id, double temperature_c);
gboolean         og_document_remove_phase       (OgDocument       *self, guint phase_id);
gboolean         og_document_move_phase         (OgDocument       *self, guint phase_id, guint position);
/** Adds a line of 0 % (or as a balance line if it is the first line of all); @phase_id 0: the last phase, made if there is none. */
guint            og_document_add_line           (OgDocument       *self, const char *ingredient_id, guint phase_id, guint position);
gboolean         og_document_remove_line        (OgDocument       *self, guint line_id);
gboolean         og_document_move_line          (OgDocument       *self, guint line_id, guint phase_id, guint position);
gboolean         og_document_set_line_ppm       (OgDocument       *self, guint line_id, OgPpm amount);
/** Grams at the present batch size; the share is derived. FALSE if out of range. */
gboolean         og_document_set_line_g         (OgDocument       *self, guint line_id, double g);
gboolean         og_document_set_line_balance   (OgDocument       *self, guint line_id, guint share);
gboolean         og_document_set_line_held      (OgDocument       *self, guint line_id, gboolean held);
gboolean         og_document_set_line_note      (OgDocument       *self, guint line_id, const char *note);
gboolean         og_document_set_line_temperature (OgDocument     *self, guint line_id, double temperature_c);
gboolean         og_document_set_line_ingredient (OgDocument      *self, guint line_id, const char *ingredient_id);
gboolean         og_document_normalise          (OgDocument       *self);
gboolean         og_document_apply_suggestion   (OgDocument       *self, const char *ingredient_id, const OgSuggestion *suggestion);
/** Adds or replaces an own material; undoable. */
gboolean         og_document_put_material       (OgDocument       *self, OgIngredient *material);
gboolean         og_document_remove_material    (OgDocument       *self, const char *id);
/** Replaces the whole recipe as one undoable step (a table dropped on the window). Takes @formula. */
gboolean         og_document_replace            (OgDocument       *self, OgFormula *formula, const char *label);

G_END_DECLS
