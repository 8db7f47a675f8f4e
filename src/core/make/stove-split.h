/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/stove.h"

G_BEGIN_DECLS

/** How near the plan of a split recipe must come to the temperature it was made for, K: what a bench thermometer
 * reads. Judgement. */
#define OG_STOVE_SPLIT_NEAR_K 1.0

/**
 * og_stove_find_splits:
 * @plan: og_stove_plan() of @formula with the same @result and @setup
 *
 * Fills OgStoveStep.split of every cooling step: the part of one liquid line that, kept back as a phase of its own
 * and added from the shelf, cools the pot at once. A split is one only if og_stove_plan() of the recipe so split
 * reaches the temperature within OG_STOVE_SPLIT_NEAR_K, without a caution that @plan has not, and if what is left
 * in the pot still dissolves its waxes and agents. Cooling within a phase has none, because there is no place for
 * another phase.
 */
void         og_stove_find_splits       (OgStovePlan        *plan,
                                         const OgFormula    *formula,
                                         const OgResult     *result,
                                         const OgStoveSetup *setup);
/**
 * og_stove_split_apply:
 * @name: (nullable): of the new phase, %NULL for the name of the material
 *
 * Returns: (transfer full): @formula with the line of @split in two, the cold part in a phase of its own
 */
OgFormula   *og_stove_split_apply       (const OgFormula    *formula,
                                         const OgStoveSplit *split,
                                         const char         *name);
/** Returns: (transfer full): the sentence that proposes @split */
OgSaying    *og_stove_split_proposal    (const OgStoveSplit *split);
/** Returns: (transfer full): a name for the phase of the cold part */
OgSaying    *og_stove_split_phase_name  (const OgStoveSplit *split);

G_END_DECLS
