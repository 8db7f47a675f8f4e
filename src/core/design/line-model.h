/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"
#include "core/predict/blend.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * OgLineModel:
 *
 * The viscosity model of a recipe as a function of the amounts of its lines: mixtures are taken
 * apart once, so that another set of amounts costs one #OgBlend alone.
 */
typedef struct _OgLineModel OgLineModel;

/**
 * og_line_model_new:
 * @formula: its lines, in order; kept as long as the model
 * @belief: (nullable): %NULL learns from the measurements of @formula alone
 *
 * Returns: (transfer full)
 */
OgLineModel   *og_line_model_new          (const OgFormula    *formula,
                                           const OgCatalog    *catalog,
                                           OgBelief           *belief);
/** Frees @model with all it holds. */
void           og_line_model_free         (OgLineModel        *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgLineModel, og_line_model_free)
/** Returns: the number of lines that the model blends */
guint          og_line_model_get_n_lines  (const OgLineModel  *model);
/** Returns: (transfer none): a line of the formula the model was made from; @index below the
 * number of lines */
OgFormulaLine *og_line_model_get_line     (const OgLineModel  *model,
                                           guint               index);
/** Returns: (nullable) (transfer none): what the model has learned from */
OgBelief      *og_line_model_get_belief   (const OgLineModel  *model);
/** Returns: (transfer full): the recipe with @fractions, 0 ... 1, of its lines */
OgBlend       *og_line_model_blend        (const OgLineModel  *model,
                                           const double       *fractions);
/** Returns: whether @ingredient (nullable) is what recipes are made of and may make room in them, as against what they
 * hold a little of: colours, actives, antioxidants, scents, powders, waxes and agents */
gboolean       og_ingredient_makes_room   (const OgIngredient *ingredient);
/** Typical ln eta, ln(mPa.s), of that recipe; NAN if nothing in it flows. */
double         og_line_model_ln_viscosity (const OgLineModel  *model,
                                           const double       *fractions,
                                           double              temperature_c,
                                           double              shear_rate_1_s);

G_END_DECLS
