/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

/*
 * How the files of edits change a document: a copy of the recipe, changed, and committed as one
 * step of the history. A commit takes the copy and its label, solves the balance lines, and makes
 * no step, returning FALSE, if the recipe would be the same or beyond what a file of it would be
 * read back from (core/recipe/recipe-limits.h).
 */

/* Returns: (transfer full): a copy of the recipe */
OgFormula  *_og_document_edit          (OgDocument    *self);
/* For edits that give out ids: one that was used is not used again, not even after undo. */
OgFormula  *_og_document_edit_to_add   (OgDocument    *self);

/* @formula: (transfer full); @label: (transfer full): what this does, translated */
gboolean    _og_document_commit        (OgDocument    *self,
                                        OgFormula     *formula,
                                        char          *label);
/* @key: (nullable): see og_history_push() */
gboolean    _og_document_commit_typed  (OgDocument    *self,
                                        OgFormula     *formula,
                                        char          *label,
                                        const char    *key);
/* @slot: the text in @formula that becomes @text, of OG_RECIPE_MAX_TYPED_TEXT at most */
gboolean    _og_document_commit_text   (OgDocument    *self,
                                        OgFormula     *formula,
                                        char         **slot,
                                        const char    *text,
                                        char          *label,
                                        const char    *key);

/* document-phases.c: @name: (nullable): %NULL for the next free one. Returns: (transfer none) */
OgFormulaPhase *_og_insert_phase       (OgFormula     *formula,
                                        const char    *name,
                                        guint          position);

/* Returns: %FALSE for %NULL and for what is not UTF-8 */
gboolean    _og_is_text                (const char    *text);
/* °C that may be typed for a step of a recipe; NAN for not said */
gboolean    _og_is_step_temperature    (double         temperature_c);

/* Returns: (transfer none): what the catalog calls @ingredient_id, or @ingredient_id */
const char *_og_document_name_material (OgDocument    *self,
                                        const char    *ingredient_id);

G_END_DECLS
