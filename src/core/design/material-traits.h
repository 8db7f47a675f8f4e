/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/** OgTrait: what materials are compared by. */
typedef enum
{
  OG_TRAIT_ACIDS,          /* shares of the classes of fatty acids */
  OG_TRAIT_VISCOSITY,      /* ln viscosity at 25 C */
  OG_TRAIT_SKIN_VISCOSITY, /* ln viscosity at 32 C */
  OG_TRAIT_IODINE,
  OG_TRAIT_OXIDISABILITY,
  OG_TRAIT_GLOSS,          /* refractive index */
  OG_TRAIT_DENSITY,
  OG_TRAIT_POLARITY,
  OG_TRAIT_SOLVENCY,       /* how the recipe's gelling agent dissolves in it, or it in the recipe's liquid */
  OG_TRAIT_MELTING,
  OG_TRAIT_SOLID,          /* solid fraction at 25 C */
  OG_TRAIT_SCENT,
  OG_TRAIT_COLOUR,         /* strength of its colour */
  OG_TRAIT_SHADE,
  OG_TRAIT_THICKENING,     /* gel point and way of thickening */
  OG_TRAIT_LEVEL,          /* usual level of use */
  OG_TRAIT_FORM,           /* kind of material: dry or ground in oil, powder or liquid */
  OG_TRAIT_GRADE,          /* sold under one name, but not one material */
  OG_TRAIT_HEAT,           /* highest usual temperature */
  OG_TRAIT_PRICE,
  OG_N_TRAITS
} OgTrait;

/** Numbers that make up the traits: most have one, acids and shade several. */
#define OG_N_TRAIT_NUMBERS (OG_N_TRAITS + OG_N_ACID_CLASSES + 2)

/**
 * OgMaterialTraits:
 *
 * One material (or mixture) as numbers that add up by mass. NAN: unknown, or without meaning for
 * this kind of material.
 */
typedef struct
{
  double number[OG_N_TRAIT_NUMBERS];
  double doubt[OG_N_TRAITS]; /* what is guessed or varies, as a distance of that trait; 0 if nothing */
  gboolean learned;          /* a measurement says how this very material flows */
} OgMaterialTraits;

/** OgTraitContext: what some traits refer to. */
typedef struct
{
  const OgCatalog *catalog;
  const OgGelling *gelling;       /* nullable: the recipe's gelling agent */
  GPtrArray       *contents;      /* nullable, of OgContent: the recipe */
  struct _OgBelief *belief;       /* nullable: what measurements taught */
} OgTraitContext;

/** Returns: name for programs, "viscosity" */
const char *og_trait_to_nick       (OgTrait                trait);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_trait_from_nick     (const char            *nick,
                                    OgTrait               *trait);
const char *og_trait_get_name      (OgTrait                trait); /* translated: "Viscosity at 25 °C" */
OgWord      og_trait_word          (OgTrait                trait); /* the name as a value of a saying */
/** Returns: first of the @n (out) numbers of @trait in OgMaterialTraits */
guint       og_trait_get_numbers   (OgTrait                trait,
                                    guint                 *n);
/** Difference of each of its numbers that a formulator notices and that makes a distance of 1:
 * judgement. */
double      og_trait_get_noticed   (OgTrait                trait);

/**
 * og_material_traits_init:
 * @ingredient: any material
 * @context: what it is compared for
 *
 * Fills @traits. ln viscosity is taken as additive by mass here: chains per gram of ordinary oils
 * differ by less than a tenth, and only what is linear can be searched to a proven optimum; what a
 * mixture really does is computed afterwards by chain-mole fractions (core/blend.h). Form, grade and
 * price compare two materials and are left to the caller.
 */
void        og_material_traits_init (OgMaterialTraits      *traits,
                                     const OgIngredient    *ingredient,
                                     const OgTraitContext  *context);
/** Where on a scale from 0 (silicone, hydrocarbon) to 1 (hydroxy oil such as castor) a liquid
 * stands: judgement. NAN for what is no liquid. */
double      og_ingredient_polarity  (const OgIngredient    *ingredient);

G_END_DECLS
