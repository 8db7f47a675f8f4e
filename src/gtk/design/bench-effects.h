/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "model/document.h"

G_BEGIN_DECLS

/**
 * OgBenchEffects: what each reading does to the prediction of a recipe, found by leaving it out.
 * Remembers what was learned without it until there is something else to learn from.
 */
typedef struct _OgBenchEffects OgBenchEffects;

OgBenchEffects *og_bench_effects_new     (OgDocument       *document);
void            og_bench_effects_free    (OgBenchEffects   *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBenchEffects, og_bench_effects_free)
/**
 * og_bench_effects_find:
 * @bench: whether @id is one of the bench store's or of the recipe's own
 * @without: (out): viscosity of the recipe as it is, poured at 25 C, mPa.s, from all other readings
 * @with: (out): the same with this one
 *
 * Returns: %FALSE if nothing is learned from the reading
 */
gboolean        og_bench_effects_find    (OgBenchEffects   *self,
                                          gboolean          bench,
                                          const char       *id,
                                          OgEstimate       *without,
                                          OgEstimate       *with);

G_END_DECLS
