/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * og_solvent_fit:
 * @contents: (element-type OgContent): what the recipe holds
 * @gelling: a gelling agent's block
 * @medium: (out) (transfer none) (nullable): name of the main liquid, to be translated by og_word_label(); %NULL if
 * there is none
 *
 * How the agent suits the liquid class with the largest share: castor-like (over half hydroxy acids),
 * ordinary triglycerides, esters and alcohols, hydrocarbons, or silicones.
 */
OgSolventFit og_solvent_fit (GPtrArray        *contents,
                             const OgGelling  *gelling,
                             const char      **medium);

/**
 * og_liquids_mix:
 *
 * Returns: %FALSE for two liquids that are known to part again: castor-like oils and hydrocarbons
 * or silicones, ordinary oils and silicones (common practice, no source); what is no carrying
 * liquid mixes with everything
 */
gboolean     og_liquids_mix (const OgIngredient *a,
                             const OgIngredient *b);

G_END_DECLS
