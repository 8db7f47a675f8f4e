/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * OgHistory:
 *
 * A line of whole recipes, one of them current. Each but the first carries the label of the edit
 * that made it. The oldest go when there are too many or when they take too much memory; the newest
 * step can always be undone.
 */
typedef struct _OgHistory OgHistory;

#define OG_HISTORY_MAX_STEPS 1000
#define OG_HISTORY_MAX_BYTES (64 * 1024 * 1024)

/** Takes @formula, which counts as saved. */
OgHistory       *og_history_new            (OgFormula       *formula);
/** Frees all recipes too. */
void             og_history_free           (OgHistory       *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgHistory, og_history_free)

/** Begins anew with @formula, which it takes and which counts as saved; serial numbers go on. */
void             og_history_reset          (OgHistory       *history,
                                            OgFormula       *formula);

/** Changes the caps, of %OG_HISTORY_MAX_STEPS and %OG_HISTORY_MAX_BYTES at first. */
void             og_history_set_limits     (OgHistory       *history,
                                            guint            steps,
                                            gsize            bytes);

/** Returns: (transfer none): the current recipe, valid until the next push, undo, redo or reset */
const OgFormula *og_history_get_current    (const OgHistory *history);
/**
 * Returns: number of the current recipe; no two recipes of one history share a number, and it is
 * never 0
 */
guint64          og_history_get_serial     (const OgHistory *history);

/**
 * og_history_push:
 * @formula: (transfer full): the recipe after the edit
 * @label: what the edit does, for people
 * @key: (nullable): names the text being typed in
 *
 * Makes @formula the current recipe; what had been undone is forgotten. Goes into the current step
 * when that step has the same @key, is not the saved point and nothing else happened since; a step
 * that thereby comes back to where it began vanishes.
 */
void             og_history_push           (OgHistory       *history,
                                            OgFormula       *formula,
                                            const char      *label,
                                            const char      *key);
/** Lets the next push begin a step of its own, whatever its key. */
void             og_history_seal           (OgHistory       *history);

/** Returns: whether there was a step to undo */
gboolean         og_history_undo           (OgHistory       *history);
/** Returns: whether there was an undone step to make again */
gboolean         og_history_redo           (OgHistory       *history);
/**
 * Returns: (nullable) (transfer none): label of the step that undo takes back, %NULL if there is
 * none
 */
const char      *og_history_get_undo_label (const OgHistory *history);
/** Returns: (nullable) (transfer none): label of the step that redo makes again, likewise */
const char      *og_history_get_redo_label (const OgHistory *history);
/** Returns: how many steps can be undone */
guint            og_history_get_n_undo     (const OgHistory *history);

/**
 * og_history_mark_saved:
 * @serial: of the recipe that was saved, current or not; 0: none is
 *
 * Does nothing for a recipe from before og_history_reset().
 */
void             og_history_mark_saved     (OgHistory       *history,
                                            guint64          serial);
/** Returns: whether the current recipe is the saved one */
gboolean         og_history_is_saved       (const OgHistory *history);

G_END_DECLS
