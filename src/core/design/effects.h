/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"
#include "core/predict/blend.h"
#include "core/predict/evaluate.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

typedef enum
{
  OG_EFFECT_BODY,
  OG_EFFECT_POURED,
  OG_EFFECT_REST,
  OG_EFFECT_RUBBED,
  OG_EFFECT_YIELD,
  OG_EFFECT_ACIDS,       /* one row for each class of acids that either recipe has */
  OG_EFFECT_IODINE,
  OG_EFFECT_OXIDISABILITY,
  OG_EFFECT_KEEPING,     /* months at room temperature; the values are the middles of the ranges */
  OG_EFFECT_GLOSS,       /* refractive index */
  OG_EFFECT_DENSITY,
  OG_EFFECT_COST,        /* of a kilogram of materials */
  OG_EFFECT_NAME_GAINED, /* INCI name that the ingredient list gains */
  OG_EFFECT_NAME_LOST,
  OG_EFFECT_FINDING_GAINED,
  OG_EFFECT_FINDING_LOST,
  OG_N_EFFECTS
} OgEffectKind;

typedef enum
{
  OG_SENSE_NEUTRAL,
  OG_SENSE_BETTER,
  OG_SENSE_WORSE
} OgSense;

/** OgEffect: one line of a comparison. */
typedef struct
{
  OgEffectKind kind;
  const char  *nick;         /* stable, for programs: "poured", "acids/monounsaturated", "finding-gained" */
  OgSaying    *label;
  OgSaying    *before;       /* nullable: %NULL for what is gained */
  OgSaying    *after;        /* nullable: %NULL for what is lost */
  double       before_value; /* NAN: not a number, or unknown */
  double       after_value;
  OgEstimate   ratio;        /* viscosities: after over before with its own band, shared errors cancel; else NAN */
  OgSense      sense;        /* for the body: in or out of the target range of @before */
  OgSeverity   severity;     /* of findings */
  gboolean     changed;      /* by more than can be told apart */
} OgEffect;

typedef struct
{
  OgBelief *belief; /* nullable: %NULL learns from the measurements of @before alone */
  OgShelf  *shelf;  /* nullable */
} OgEffectsOptions;

/**
 * og_effects:
 * @before, @after: two recipes, at 25 C
 * @catalog: materials, own ones of both included
 * @options: (nullable)
 *
 * Returns: (transfer full) (element-type OgEffect): rows in reading order
 */
GPtrArray  *og_effects           (const OgFormula         *before,
                                  const OgFormula         *after,
                                  OgCatalog               *catalog,
                                  const OgEffectsOptions  *options);
/** OgEffectsSide: a recipe and what was computed of it, with the belief that the other side has too. */
typedef struct
{
  const OgFormula *formula;
  OgCatalog       *catalog;
  OgResult        *result;
  OgBlend         *blend; /* learned what @result learned */
} OgEffectsSide;

/** The same as og_effects() of what is computed already. @shelf: (nullable) */
GPtrArray  *og_effects_between   (const OgEffectsSide     *before,
                                  const OgEffectsSide     *after,
                                  const OgShelf           *shelf);
const char *og_sense_to_nick     (OgSense                  sense); /* "better" */

G_END_DECLS
