/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"

G_BEGIN_DECLS

/** Materials of the library, searched and filtered. */
OgExit og_verb_ingredients (OgCall  *call,
                            GError **error);
/** Neat oil from its fatty acids. */
OgExit og_verb_oil         (OgCall  *call,
                            GError **error);
/** Everything that follows from a recipe. */
OgExit og_verb_evaluate    (OgCall  *call,
                            GError **error);
/** What can stand in for one material of a recipe. */
OgExit og_verb_substitute  (OgCall  *call,
                            GError **error);
/** Amounts that reach a target. */
OgExit og_verb_solve       (OgCall  *call,
                            GError **error);
/** What each line does to the body. */
OgExit og_verb_levers      (OgCall  *call,
                            GError **error);
/** First recipe from a brief. */
OgExit og_verb_draft       (OgCall  *call,
                            GError **error);
/** The work at the stove, step by step. */
OgExit og_verb_stove       (OgCall  *call,
                            GError **error);
/** Weights, containers and cost of a batch. */
OgExit og_verb_batch       (OgCall  *call,
                            GError **error);
/** How long a recipe keeps, and how to test it. */
OgExit og_verb_keep        (OgCall  *call,
                            GError **error);
/** Ingredient list of a label, and its sketch. */
OgExit og_verb_declare     (OgCall  *call,
                            GError **error);
/** Recipe card into a file. */
OgExit og_verb_card        (OgCall  *call,
                            GError **error);
/** Viscosity chart into a file. */
OgExit og_verb_chart       (OgCall  *call,
                            GError **error);
/** Reading at the bench, and what it teaches. */
OgExit og_verb_measure     (OgCall  *call,
                            GError **error);
/** Recipes side by side. */
OgExit og_verb_compare     (OgCall  *call,
                            GError **error);
/** Versions that a recipe keeps. */
OgExit og_verb_versions    (OgCall  *call,
                            GError **error);
/** Findings of a recipe, or a check of the library. */
OgExit og_verb_check       (OgCall  *call,
                            GError **error);

/** Stock, lots and batches of the workshop. */
OgExit og_verb_ledger      (OgCall  *call,
                            GError **error);

G_END_DECLS
