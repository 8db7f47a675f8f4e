/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"
#include "core/recipe/formula.h"
#include "model/bench-store.h"

G_BEGIN_DECLS

/* OgLearning: what a document learned from measurements, and what it learned that from. */
typedef struct _OgLearning OgLearning;

/* Returns: (transfer full): nothing learned yet */
OgLearning *_og_learning_new        (void);
/* Frees the belief too. */
void        _og_learning_free       (OgLearning       *learning);
/* Recipe, catalog or bench store may be other ones now. */
void        _og_learning_outdate    (OgLearning       *learning);
/*
 * Learns anew only if there is something else to learn from than the last time.
 * @bench_store: (nullable). Returns: (transfer none) (nullable): %NULL when nothing was measured
 */
OgBelief   *_og_learning_get_belief (OgLearning       *learning,
                                     const OgFormula  *formula,
                                     OgCatalog        *catalog,
                                     OgBenchStore     *bench_store);
/* Returns: (transfer full): what a measurement of the bench store is called in a belief */
char       *_og_learning_bench_id   (const char       *id);

G_END_DECLS
