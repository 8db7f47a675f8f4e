/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/mixture-search.h"
#include "core/design/soundness.h"
#include "core/design/substitution.h"
#include "core/predict/blend.h"

G_BEGIN_DECLS

/** OgJob: what a material can be replaced for: it has to do the same. */
typedef enum
{
  OG_JOB_NONE,
  OG_JOB_LIQUID,
  OG_JOB_GELLING,
  OG_JOB_LIQUID_POLYMER, /* thickens by being viscous */
  OG_JOB_STIFFENER,
  OG_JOB_ANTIOXIDANT,
  OG_JOB_COLOUR,
  OG_JOB_SHIMMER,
  OG_JOB_FLAVOUR,
  OG_JOB_VITAMIN,
  OG_JOB_FILLER
} OgJob;

/** OgComponent: one material that goes or may come. */
typedef struct
{
  const OgIngredient *ingredient;
  double              share;      /* of what counts: 1 for a candidate */
  double              potency;    /* what counts of it: pigment of a dispersion, active of an antioxidant; else 1 */
  OgMaterialTraits    traits;
  double              added[OG_N_TRAITS]; /* distance of a trait that is no number: form, grade, thickening */
  double              most_share; /* in stock; 1 if that does not matter */
} OgComponent;

/** OgReplacement: everything about one search. */
typedef struct
{
  const OgFormula             *formula;
  OgFormula                   *plain;   /* its lines alone, for trying: shares nothing with @formula */
  OgCatalog                   *catalog;
  const OgSubstitutionOptions *options; /* never NULL */
  const char *const           *ids;
  OgJob                        job;
  OgResult                    *before;
  OgSoundness                 *sound;   /* what forbids the recipe already */
  OgBlend                     *blend;
  OgTraitContext               context;
  gint64                       amount;  /* replaced, ppm */
  double                       counted; /* what counts of it, ppm */
  GArray                      *old;     /* of OgComponent */
  OgMaterialTraits             target;  /* of the old mixture */
  char                        *currency; /* nullable: of the old prices */
  double                       price;    /* of the old mixture, per kg of what counts; NAN */
  double                       weight[OG_N_TRAITS]; /* make up 1 over the traits that apply to the job */
  double                       heat_c;  /* highest temperature of the replaced lines; NAN if not said */
  GArray                      *candidates; /* of OgComponent */
} OgReplacement;

/** Returns: what @ingredient does in a recipe, by its kind and by how it gels */
OgJob    og_job_of                     (const OgIngredient    *ingredient);
/** Finds the old components and the candidates. FALSE with an #OgRecipeError. */
gboolean og_replacement_init           (OgReplacement         *replacement,
                                        GError               **error);
/** Frees what @replacement holds, not @replacement itself. */
void     og_replacement_clear          (OgReplacement         *replacement);
/** Share of what counts for @job in @ingredient, 0 ... 1. @stated: (out): whether that is known */
double   og_job_potency                (OgJob                  job,
                                        const OgIngredient    *ingredient,
                                        const OgCatalog       *catalog,
                                        gboolean              *stated);
/** Distance of one trait of a mixture from what is replaced: of its @numbers, and what is unknown or
 * added. */
double   og_replacement_deviation      (const OgReplacement   *replacement,
                                        OgTrait                trait,
                                        const OgMaterialTraits *traits);
/** Returns: what the doubt about @trait of @component and of the target adds to the distance
 * between them, in noticed differences; an unknown number counts as one such difference */
double   og_replacement_added          (const OgReplacement   *replacement,
                                        OgTrait                trait,
                                        const OgComponent     *component);
/** Price per kg, in the currency of the old ones; NAN. */
double   og_replacement_price          (const OgReplacement   *replacement,
                                        const char            *ingredient_id);
/** The traits of @n components mixed by @share; what one of them does not know stays unknown. */
void     og_traits_mix                 (OgMaterialTraits      *mixed,
                                        const OgComponent *const *components,
                                        const double          *shares,
                                        guint                  n);
/** Amounts for the shares of what counts, and carriers that move. Returns: %FALSE if the recipe takes none of a
 * part */
gboolean og_replacement_fill           (const OgReplacement   *replacement,
                                        const OgComponent *const *components,
                                        const double          *shares,
                                        guint                  n,
                                        OgSuggestion          *suggestion);
/** Puts the oil that came along with the old materials, or comes with the new ones, on its own line or elsewhere. */
void     og_replacement_move_carriers  (const OgReplacement   *replacement,
                                        OgSuggestion          *suggestion);
/** Keeps the body as far as it goes, makes the recipe whole, and notes which lines move. Returns: %FALSE if the recipe
 * cannot take it up: no line may be below 0 or above 100 %, and a whole recipe stays one */
gboolean og_replacement_settle         (const OgReplacement   *replacement,
                                        const double          *shares,
                                        OgSuggestion          *suggestion);
/** Returns: whether the viscosity of much of what @after is new in is a guess, so that nobody knows its body */
gboolean og_replacement_is_guess       (const OgReplacement   *replacement,
                                        const OgBlend         *after);
/** Returns: what the recipe may take of @ingredient beside the lines that stay, within its usual amounts, ppm */
OgPpm    og_replacement_usual_room     (const OgReplacement   *replacement,
                                        const OgIngredient    *ingredient);
/** Returns: @ppm as it can be weighed: to 0.1 % from 5 % on, to 0.01 % below; @finely to 0.01 %, and to 0.001 % below
 * 1 %; as it is if it can be weighed to 0.01 % already */
OgPpm    og_weighable                  (double                 ppm,
                                        gboolean               finely);
/** Returns: @ppm of a mixture of @total, as it can be weighed: to 0.1 % from 5 % on, else to 0.01 %; of traces finer */
OgPpm    og_weighable_part             (double                 ppm,
                                        OgPpm                  total);
/** Returns: what all lines of @formula hold of the material @id, ppm */
gint64   og_amount_of                  (const OgFormula       *formula,
                                        const char            *id);
/** Returns: (transfer full): @formula with parts, carriers and moves of @suggestion, its balance lines balanced and
 * nothing else */
OgFormula *og_substitution_place       (const OgFormula       *formula,
                                        const OgSuggestion    *suggestion);
/** Sets the kinds of @suggestion and tells what is lost with it. */
void     og_replacement_judge          (const OgReplacement   *replacement,
                                        const OgComponent *const *components,
                                        const double          *shares,
                                        guint                  n,
                                        OgSuggestion          *suggestion);
/** Returns: whether the recipe takes @component alone, at the amount that counts as much as what it replaces */
gboolean og_replacement_has_room       (const OgReplacement   *replacement,
                                        const OgComponent     *component);
/** TRUE if some share of the gelling agent keeps the body of the recipe. */
gboolean og_replacement_keeps_body     (const OgReplacement   *replacement,
                                        const OgComponent     *component);
/** Sentences about the difference, those that tell most first. */
void     og_replacement_explain        (const OgReplacement   *replacement,
                                        const OgComponent *const *components,
                                        const double          *shares,
                                        guint                  n,
                                        OgSuggestion          *suggestion);

G_END_DECLS
