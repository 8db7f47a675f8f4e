/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/design/substitution.h"
#include "core/predict/belief.h"
#include "core/predict/evaluate.h"
#include "core/recipe/bench.h"
#include "model/bench-store.h"

G_BEGIN_DECLS

#define OG_TYPE_DOCUMENT (og_document_get_type ())
G_DECLARE_FINAL_TYPE (OgDocument, og_document, OG, DOCUMENT, GObject)

/**
 * OgDocument:
 *
 * Owns the recipe, its history and its newest result, and is the only one that changes them. Every
 * change is one undoable step: history keeps whole recipes (they are small), so undo of everything
 * is the same code path.
 *
 * Properties, all read-only, all notify: "title" (string), "modified" (boolean: differs from the
 * saved point), "result" (pointer to #OgResult), "undo-label" and "redo-label" (string, nullable:
 * %NULL when there is nothing to undo), "file" (#GFile, nullable), "changed-on-disk" (boolean: the
 * file is not what was loaded or saved here).
 *
 * Signals: "formula-changed" (after every change of the recipe, before the new result),
 * "result-changed" (once for any number of changes in a row), "draft-failed" (with a #GError: the
 * draft could not be written, the next try comes soon).
 *
 * The result is recomputed in an idle of %G_PRIORITY_HIGH_IDLE after a change;
 * og_document_get_result() computes at once when it is stale, so nobody ever sees an old one.
 *
 * A document is used by the main thread alone; files and drafts are read and written beside it.
 */

/**
 * @library: what own materials of the document lie over. Returns: (transfer full): an empty
 * document
 */
OgDocument      *og_document_new                   (OgCatalog          *library);

/** Returns: (transfer none): the recipe, valid until the next change */
const OgFormula *og_document_get_formula           (OgDocument         *self);
/** Returns: (transfer none): library and own materials, valid until the next change */
OgCatalog       *og_document_get_catalog           (OgDocument         *self);
/**
 * Returns: (transfer none): the result of the recipe as it stands, with curves, valid until the
 * next change
 */
OgResult        *og_document_get_result            (OgDocument         *self);
/** What the ids of the bench store's measurements begin with in the lessons of a belief. */
#define OG_DOCUMENT_BENCH_PREFIX "bench:"
/**
 * og_document_get_belief:
 *
 * What the recipe's own measurements taught together with those of the bench store; the result is
 * computed with it. A reading that the bench store has of a material which the recipe replaces by
 * one of its own is left out. Lessons come in the order of the recipe's measurements, then of the
 * store's; the latter have %OG_DOCUMENT_BENCH_PREFIX before their ids.
 *
 * Returns: (transfer none) (nullable): valid until the next change of recipe or store; %NULL when
 * nothing was measured
 */
OgBelief        *og_document_get_belief            (OgDocument         *self);
/**
 * og_document_find_lesson:
 * @bench: whether @id is one of the bench store's or of the recipe's own
 *
 * Returns: (transfer none) (nullable): what became of a measurement, valid as long as the belief;
 * %NULL for one that was left out
 */
const OgLesson  *og_document_find_lesson           (OgDocument         *self,
                                                    gboolean            bench,
                                                    const char         *id);
/** @store: (nullable): measurements that the recipe also learns from; "result-changed" follows */
void             og_document_set_bench_store       (OgDocument         *self,
                                                    OgBenchStore       *store);
/** Returns: (transfer none) (nullable) */
OgBenchStore    *og_document_get_bench_store       (OgDocument         *self);
/** Returns: a number that grows with every change of the recipe */
guint64          og_document_get_revision          (OgDocument         *self);
/** Returns: (transfer none): the title of the recipe, valid until the next change; may be "" */
const char      *og_document_get_title             (OgDocument         *self);
/** Returns: whether the recipe differs from the saved point */
gboolean         og_document_get_modified          (OgDocument         *self);
/** Returns: %TRUE for a document nobody has put anything in yet: no phases and no lines */
gboolean         og_document_is_empty              (OgDocument         *self);

/**
 * og_document_reset:
 * @formula: (transfer full): the recipe, taken as it stands
 *
 * Replaces everything (a loaded file): clears the history, counts as saved. The file stays.
 */
void             og_document_reset                 (OgDocument         *self,
                                                    OgFormula          *formula);
/** Makes the recipe as it stands the saved point. */
void             og_document_mark_saved            (OgDocument         *self);

/** Returns: whether og_document_undo() would take a step back */
gboolean         og_document_can_undo              (OgDocument         *self);
/** Returns: whether og_document_redo() would make a step again */
gboolean         og_document_can_redo              (OgDocument         *self);
/** Returns: (nullable) (transfer none): for instance "Change amount of Castor oil" */
const char      *og_document_get_undo_label        (OgDocument         *self);
/** Returns: (nullable) (transfer none): of the step that redo makes again, likewise */
const char      *og_document_get_redo_label        (OgDocument         *self);
/** Does nothing when there is nothing to undo. */
void             og_document_undo                  (OgDocument         *self);
/** Does nothing when nothing was undone since the last edit. */
void             og_document_redo                  (OgDocument         *self);

/*
 * Edits. A call that would change nothing, names a line or phase that is not there, or goes beyond
 * the limits of a recipe (core/recipe/recipe-limits.h) makes no step and returns FALSE or 0; else
 * TRUE or the id of what was made. Balance lines are solved again after each.
 *
 * Title, purpose, notes, warnings and batch size are typed: edits of the same one in a row are one
 * step, until og_document_end_typing(), a save, an undo or another edit.
 */
void             og_document_end_typing            (OgDocument         *self);
/** @title: UTF-8, of %OG_RECIPE_MAX_NAME characters at most */
gboolean         og_document_set_title             (OgDocument         *self,
                                                    const char         *title);
/** @purpose: UTF-8, of %OG_RECIPE_MAX_NAME characters at most; "" for none */
gboolean         og_document_set_purpose           (OgDocument         *self,
                                                    const char         *purpose);
/** @notes: UTF-8, of %OG_RECIPE_MAX_TYPED_TEXT characters at most; "" for none */
gboolean         og_document_set_notes             (OgDocument         *self,
                                                    const char         *notes);
/** @batch_g: above 0 and at most %OG_RECIPE_MAX_BATCH_G */
gboolean         og_document_set_batch_g           (OgDocument         *self,
                                                    double              batch_g);
/**
 * @is_sum: whether grams that are entered make the batch, every other line keeping its grams, or are a part of a batch
 * that stands
 */
gboolean         og_document_set_batch_is_sum      (OgDocument         *self,
                                                    gboolean            is_sum);
/** Both above 0 and in order, or both NAN for no target. */
gboolean         og_document_set_target            (OgDocument         *self,
                                                    double              low_mpa_s,
                                                    double              high_mpa_s);

/**
 * @name: (nullable): %NULL for the next free of "Phase A", "Phase B"...; @position: %G_MAXUINT
 * for last
 */
guint            og_document_add_phase             (OgDocument         *self,
                                                    const char         *name,
                                                    guint               position);
/** @name: UTF-8, of %OG_RECIPE_MAX_NAME characters at most; another phase may be called the same */
gboolean         og_document_rename_phase          (OgDocument         *self,
                                                    guint               phase_id,
                                                    const char         *name);
/** @temperature_c: NAN: not said */
gboolean         og_document_set_phase_temperature (OgDocument         *self,
                                                    guint               phase_id,
                                                    double              temperature_c);
/** @note: (nullable) */
gboolean         og_document_set_phase_note        (OgDocument         *self,
                                                    guint               phase_id,
                                                    const char         *note);
/** Removes a phase with all its lines. */
gboolean         og_document_remove_phase          (OgDocument         *self,
                                                    guint               phase_id);
/** @position: counts without the phase itself; %G_MAXUINT for last */
gboolean         og_document_move_phase            (OgDocument         *self,
                                                    guint               phase_id,
                                                    guint               position);

/**
 * og_document_add_line:
 * @phase_id: 0: the last phase, made if there is none
 * @position: in the phase; %G_MAXUINT: last
 *
 * Adds a line of 0 %, or a balance line if it is the first line of all and the batch is no sum.
 */
guint            og_document_add_line              (OgDocument         *self,
                                                    const char         *ingredient_id,
                                                    guint               phase_id,
                                                    guint               position);
/**
 * og_document_duplicate_line:
 *
 * The same once more, below the line: material, amount, what decides it, temperature and note.
 *
 * Returns: the id of the new line, 0 if there is no @line_id
 */
guint            og_document_duplicate_line        (OgDocument         *self,
                                                    guint               line_id);
/**
 * og_document_split_line:
 * @part: above 0 and below the amount of the line
 * @phase_id: where the part goes: last in another phase, or below the line in its own
 *
 * Makes two lines of one, such as a part of an oil that is kept back for a later phase; the whole stays as it was. The
 * part of a line that takes the rest is an amount as typed.
 *
 * Returns: the id of the line with the part, or 0
 */
guint            og_document_split_line            (OgDocument         *self,
                                                    guint               line_id,
                                                    OgPpm               part,
                                                    guint               phase_id);
/** Its share is not given to others, but for balance lines, and where the batch is the sum of the lines. */
gboolean         og_document_remove_line           (OgDocument         *self,
                                                    guint               line_id);
/** @position: counts without the line itself */
gboolean         og_document_move_line             (OgDocument         *self,
                                                    guint               line_id,
                                                    guint               phase_id,
                                                    guint               position);
/** A new amount makes a balance line an ordinary one. */
gboolean         og_document_set_line_ppm          (OgDocument         *self,
                                                    guint               line_id,
                                                    OgPpm               amount);
/** Grams of the batch, of which the share is derived; or of a batch that grows with them, see
 * og_document_set_batch_is_sum(). */
gboolean         og_document_set_line_g            (OgDocument         *self,
                                                    guint               line_id,
                                                    double              g);
/**
 * @share: parts of what is missing to 100 %, at most %OG_RECIPE_MAX_TYPED_SHARE; 0: an
 * ordinary line. Either way the line is not held any more.
 */
gboolean         og_document_set_line_balance      (OgDocument         *self,
                                                    guint               line_id,
                                                    guint               share);
/**
 * @held: its amount stays when a recipe is scaled to 100 % or solved for a target. Either way the line
 * takes no part of the rest any more: its amount stands as it is.
 */
gboolean         og_document_set_line_held         (OgDocument         *self,
                                                    guint               line_id,
                                                    gboolean            held);
/** @note: (nullable) */
gboolean         og_document_set_line_note         (OgDocument         *self,
                                                    guint               line_id,
                                                    const char         *note);
/** @temperature_c: NAN: as the phase */
gboolean         og_document_set_line_temperature  (OgDocument         *self,
                                                    guint               line_id,
                                                    double              temperature_c);
/**
 * @ingredient_id: not ""; one that the catalog does not know stays a line, with a finding. The
 * amount stays.
 */
gboolean         og_document_set_line_ingredient   (OgDocument         *self,
                                                    guint               line_id,
                                                    const char         *ingredient_id);

/**
 * og_document_keep_back:
 * @amount: of the new line, above 0 and below that of @line_id
 * @before_phase_id: 0 for a phase after the last
 * @name: (nullable): of the new phase, used if no phase has it; else the next free of "Phase A", "Phase B"...
 *
 * As og_document_split_line(), into a new phase that states no temperature. Returns: its id, 0 if nothing changed
 */
guint            og_document_keep_back             (OgDocument         *self,
                                                    guint               line_id,
                                                    OgPpm               amount,
                                                    guint               before_phase_id,
                                                    const char         *name);
/** See og_formula_normalise(). */
gboolean         og_document_normalise             (OgDocument         *self);
/** See og_substitution_apply(). */
gboolean         og_document_apply_suggestion      (OgDocument         *self,
                                                    const OgSuggestion *suggestion);
/** Adds an own material, or replaces the one of this id. */
gboolean         og_document_put_material          (OgDocument         *self,
                                                    OgIngredient       *material);
/** @id: of an own material; lines of it stay, as those of the library or as unknown ones */
gboolean         og_document_remove_material       (OgDocument         *self,
                                                    const char         *id);
/**
 * og_document_add_measurement:
 * @measurement: (transfer full): of the recipe, whose lines it already carries, or of a neat
 *   material; gets the next free id
 *
 * Refuses one that could not be read back from a file. Its viscosity is reduced again, from the
 * density in its reduction if it has none itself.
 */
gboolean         og_document_add_measurement       (OgDocument         *self,
                                                    OgMeasurement      *measurement);
/** @id: of one of the recipe's own measurements */
gboolean         og_document_remove_measurement    (OgDocument         *self,
                                                    const char         *id);
/** Keeps a measurement without learning from it, or takes it in again. */
gboolean         og_document_set_measurement_aside (OgDocument         *self,
                                                    const char         *id,
                                                    gboolean            set_aside);
/** Learns from a measurement although it contradicts the prediction, or not any more. */
gboolean         og_document_accept_measurement    (OgDocument         *self,
                                                    const char         *id,
                                                    gboolean            accepted);
/**
 * og_document_record_measurement:
 * @measurement: (transfer full): as for og_document_add_measurement()
 *
 * Puts a measurement where it belongs: one of a neat material into the bench store, if there is
 * one, unless the material is the recipe's own; any other into the recipe. Only the latter is a
 * step that can be undone.
 *
 * Returns: %FALSE with an error of og_bench_store_add()
 */
gboolean         og_document_record_measurement    (OgDocument         *self,
                                                    OgMeasurement      *measurement,
                                                    GError            **error);

/** Valid bounds only, of at most %OG_RECIPE_MAX_TARGET_MPA_S. */
gboolean         og_document_set_body_bounds       (OgDocument         *self,
                                                    const OgBodyBounds *bounds);

/** @product: what the recipe is to become, %OG_PRODUCT_UNSAID for not said */
gboolean         og_document_set_product           (OgDocument         *self,
                                                    OgProduct           product);
/** Valid packages only, see og_package_is_valid(). */
gboolean         og_document_set_package           (OgDocument         *self,
                                                    const OgPackage    *package);
/** @months: at most %OG_RECIPE_MAX_MONTHS; 0: not said */
gboolean         og_document_set_open_months       (OgDocument         *self,
                                                    guint               months);
/** Own words for the label; typed, like the notes. */
gboolean         og_document_set_warnings          (OgDocument         *self,
                                                    const char         *warnings);
/**
 * og_document_set_label:
 * @shades: ids of the colours of the other shades of the range
 * @nano: ids of materials used as nanomaterials
 * @gather_scents: one name on the label for flavours and essential oils
 */
gboolean         og_document_set_label             (OgDocument         *self,
                                                    const char *const  *shades,
                                                    const char *const  *nano,
                                                    gboolean            gather_scents);
/** @start: (nullable): %NULL for no stability tests; @months: at most %OG_RECIPE_MAX_MONTHS */
gboolean         og_document_set_stability_plan    (OgDocument         *self,
                                                    const GDate        *start,
                                                    guint               months);
/** @result: (transfer full) */
gboolean         og_document_add_stability_result  (OgDocument         *self,
                                                    OgStabilityResult  *result);
/** @index: in the formula's results */
gboolean         og_document_remove_stability_result (OgDocument       *self,
                                                    guint               index);
/** @costs: (element-type OgCostLine): copied; prices of 0 or more */
gboolean         og_document_set_costs             (OgDocument         *self,
                                                    const GPtrArray    *costs);

/*
 * Versions (core/recipe/versions.h). Names are those of og_versions_is_name(), and each is one version;
 * a recipe keeps %OG_RECIPE_MAX_VERSIONS.
 */
/** Keeps the recipe as it stands. @note: of %OG_RECIPE_MAX_VERSION_NOTE characters at most; "" for none;
 * @date: a valid date. FALSE also if the file would become too large. */
gboolean         og_document_keep_version          (OgDocument         *self,
                                                    const char         *name,
                                                    const char         *note,
                                                    const GDate        *date);
/** Makes the recipe what it was as the version @name, see og_version_restore(). */
gboolean         og_document_go_back               (OgDocument         *self,
                                                    const char         *name);
/** Gives the version @name another name, note or both. */
gboolean         og_document_set_version_name      (OgDocument         *self,
                                                    const char         *name,
                                                    const char         *new_name,
                                                    const char         *note);
/** Forgets a version; the recipe stays as it is. */
gboolean         og_document_remove_version        (OgDocument         *self,
                                                    const char         *name);
/** Returns: (transfer full): a name that no version has yet, translated: "Version 3" */
char            *og_document_propose_version_name  (OgDocument         *self);

/**
 * og_document_replace:
 * @formula: (transfer full): a whole recipe (a table dropped on the window)
 * @label: what this does, translated
 *
 * The versions stay those of the document, whatever @formula brings.
 */
gboolean         og_document_replace               (OgDocument         *self,
                                                    OgFormula          *formula,
                                                    const char         *label);

G_END_DECLS
