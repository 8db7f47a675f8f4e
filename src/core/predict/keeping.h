/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

/** Activation energies of the oxidation of rapeseed oil, kJ/mol, over all oils of the source:
 * accelerated oxidation, 90 ... 130 C (Symoniuk, Ratusz & Krygier, Italian Journal of Food Science,
 * abstract figures; 74.24 ... 77.56 cold-pressed, 76.43 ... 82.44 refined). */
#define OG_KEEPING_LOW_EA_KJ_MOL 74.24
#define OG_KEEPING_HIGH_EA_KJ_MOL 82.44

/** Peroxide values that oils for the table stay within, meq O2/kg: refined, and virgin or
 * cold-pressed (Codex CXS 19-1981 and 210-1999, recalled). */
#define OG_PEROXIDE_REFINED_MEQ_KG 10.0
#define OG_PEROXIDE_VIRGIN_MEQ_KG 15.0

/** OgKeepingPart: what one material adds to the oxidisability of the recipe. */
typedef struct
{
  const OgIngredient *ingredient; /* borrowed from the catalog */
  double              pct;        /* wt % of the recipe */
  double              cox;        /* what it adds to the COX value of the whole */
  double              share;      /* of that value, 0 ... 1 */
} OgKeepingPart;

typedef enum
{
  OG_GUARD_UNKNOWN, /* no common use level on file */
  OG_GUARD_BELOW,
  OG_GUARD_WITHIN,
  OG_GUARD_ABOVE,
  OG_N_GUARD_LEVELS
} OgGuardLevel;

const char *og_guard_level_to_nick  (OgGuardLevel level); /* "within" */
const char *og_guard_level_get_name (OgGuardLevel level); /* translated: "within common practice" */

/** OgKeepingGuard: one antioxidant of the recipe against its common use level. */
typedef struct
{
  const OgIngredient *ingredient;
  double              pct;
  double              low_pct, high_pct; /* common use level; NAN if unknown */
  OgGuardLevel        level;
} OgKeepingGuard;

/** OgKeepingSpan: how long the recipe may keep, closed, full and dark, at one temperature. */
typedef struct
{
  double temperature_c;
  double factor_low;  /* how many times as long as at 25 C */
  double factor_high;
  double low_months;  /* NAN if unknown; never above 24 */
  double high_months; /* never above 36: nothing longer is promised without a test (judgement) */
} OgKeepingSpan;

/** OgPeroxide: peroxide value of a lot, as its certificate says. */
typedef struct
{
  const char *ingredient_id;
  double      meq_kg; /* meq O2 per kg */
} OgPeroxide;

/** OgKeepingOptions: zeroed memory asks for room temperature alone. */
typedef struct
{
  const double     *temperatures_c;
  guint             n_temperatures;
  OgShelf          *shelf;     /* nullable: whose lots are used */
  gint64            now;       /* Unix time in s; 0: not said */
  const OgPeroxide *peroxides; /* of the lots */
  guint             n_peroxides;
} OgKeepingOptions;

/** OgKeeping: what is known about how long a recipe keeps. Numbers are NAN where unknown. */
typedef struct
{
  double        cox;             /* of everything in the recipe */
  double        oxidisability;   /* of its triglycerides, see core/chemistry.h */
  double        peroxidisability;
  double        known_fraction;  /* of the mass whose oxidation is known or taken as none */
  GArray       *parts;           /* of OgKeepingPart, weakest first */
  GArray       *guards;          /* of OgKeepingGuard, in the recipe's order */
  double        antioxidant_pct; /* all of them */
  OgKeepingSpan room;            /* 25 C */
  GArray       *spans;           /* of OgKeepingSpan: the temperatures asked for */
  OgSaying     *basis;           /* what the range rests on and leaves out */
  gint64        best_before;     /* earliest lot of its materials, Unix time in s; 0: not said */
  char         *best_before_id;  /* nullable: the material it belongs to */
  GPtrArray    *advice;          /* of OgSaying */
  GPtrArray    *findings;        /* of OgFinding, most severe first */
} OgKeeping;

/**
 * og_keep:
 * @formula: the recipe
 * @result: its evaluation
 * @options: (nullable)
 *
 * Indices, antioxidants and an honest, wide range in months. The range is a judgement: a
 * polyunsaturated sunflower oil is commonly said to keep 6 to 12 months closed and dark at room
 * temperature (common practice, no source), and other blends are set against it by the root of
 * their COX values, which agrees with what is commonly said from linseed to olive oil. It is
 * unknown if the oxidation of more than a tenth of the recipe is. Other temperatures follow by
 * Arrhenius' law.
 *
 * Returns: (transfer full): never %NULL; ingredients are borrowed from the catalog of @result
 */
OgKeeping *og_keep         (const OgFormula         *formula,
                            const OgResult          *result,
                            const OgKeepingOptions  *options);
/** Frees @keeping with all it holds. */
void       og_keeping_free (OgKeeping               *keeping);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgKeeping, og_keeping_free)

/** Returns: (transfer full): "6 to 12 months", "unknown" */
OgSaying  *og_keeping_span_saying (const OgKeepingSpan *span);

G_END_DECLS
