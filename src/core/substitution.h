/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/evaluate.h"

G_BEGIN_DECLS

/** OgSuggestion: one material that may take the place of another in a recipe. */
typedef struct
{
  const OgIngredient *ingredient;  /* borrowed from the catalog */
  OgPpm       amount;              /* share in the formula, the replaced line's unless the role rescales it */
  double      distance;            /* 0 identical; about 1 clearly different */
  OgEstimate  viscosity_ratio;     /* new over old when poured at 25 C; NAN if unknown */
  double      iodine_change;       /* of the whole recipe; NAN if unknown */
  double      density_change_g_ml; /* of the whole recipe; NAN if unknown */
  GPtrArray  *reasons;             /* of char*: translated sentences, most telling first */
} OgSuggestion;

typedef struct
{
  const char *const *without_tags; /* nullable, NULL-terminated */
  guint              most;         /* 0: 12 */
  struct _OgBelief  *belief;       /* nullable: what measurements taught; %NULL learns from those of the formula alone */
} OgSubstitutionOptions;

/**
 * og_substitute:
 * @formula: the recipe
 * @ingredient_id: a material of the recipe
 *
 * One-for-one replacements that can play the same role, nearest first. The distance compares
 * fatty-acid classes, ln viscosity at 25 C, iodine value, refractive index, density and melting,
 * each divided by a difference that a formulator notices (judgement), and is explained in the
 * reasons.
 *
 * Returns: (transfer full) (element-type OgSuggestion): may be empty; %NULL with an #OgRecipeError
 */
GPtrArray *og_substitute       (const OgFormula              *formula,
                                OgCatalog                    *catalog,
                                const char                   *ingredient_id,
                                const OgSubstitutionOptions  *options,
                                GError                      **error);
/**
 * og_substitution_apply:
 *
 * Returns: (transfer full): a copy of @formula in which the lines of @ingredient_id hold
 * @suggestion instead (scaled in proportion when the amount differs), balanced again
 */
OgFormula *og_substitution_apply (const OgFormula            *formula,
                                  const char                 *ingredient_id,
                                  const OgSuggestion         *suggestion);

G_END_DECLS
