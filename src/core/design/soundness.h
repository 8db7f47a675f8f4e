/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/**
 * OgSoundness:
 *
 * What forbids a recipe: the blocking findings of the program's own check and of its own stove plan, with that plan
 * made as is usual.
 */
typedef struct _OgSoundness OgSoundness;

/**
 * og_soundness_new:
 * @formula: any recipe
 * @result: og_evaluate() of it
 *
 * Returns: (transfer full)
 */
OgSoundness *og_soundness_new  (const OgFormula   *formula,
                                const OgResult    *result);
/** Frees @soundness (nullable) with all it holds. */
void         og_soundness_free (OgSoundness       *soundness);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgSoundness, og_soundness_free)
/** Returns: %TRUE if nothing forbids @soundness that did not forbid @before (nullable: a sound recipe) already, and
 * nothing is farther beyond its limit than it was there */
gboolean     og_soundness_holds (const OgSoundness *soundness,
                                 const OgSoundness *before);

G_END_DECLS
