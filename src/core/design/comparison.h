/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/effects.h"
#include "core/label/declaration.h"
#include "core/predict/keeping.h"

G_BEGIN_DECLS

/** Most recipes side by side: what a reader can hold in view. */
#define OG_COMPARISON_MAX 4

/** OgComparisonState: a way of flowing at 25 C whose ratio is told. */
typedef enum
{
  OG_COMPARISON_REST,
  OG_COMPARISON_POUR,
  OG_COMPARISON_RUB,
  OG_COMPARISON_STATES
} OgComparisonState;

/** OgCompared: one of the recipes, and how it stands to the first. */
typedef struct
{
  char          *name;
  OgFormula     *formula;
  OgCatalog     *catalog;     /* library and own materials of the recipe */
  OgResult      *result;
  OgBlend       *blend;
  OgEstimate     ratios[OG_COMPARISON_STATES]; /* times as thick as the first; shared errors cancel; 1 for the first */
  GPtrArray     *effects;     /* of OgEffect, from the first to this; empty for the first */
  GPtrArray     *changes;     /* of OgSaying, likewise */
  OgKeeping     *keeping;
  OgDeclaration *declaration; /* EU */
  double         price;       /* of a kilogram of materials; NAN: unknown */
  char          *currency;    /* nullable */
  GPtrArray     *trials;      /* of OgMeasurement: borrowed from @formula: readings of just these amounts */
} OgCompared;

/** OgLineChange: how an amount stands to that of the first recipe. */
typedef enum
{
  OG_LINE_SAME,
  OG_LINE_MORE,
  OG_LINE_LESS,
  OG_LINE_GAINED,
  OG_LINE_LOST,   /* the first has it, this one has not */
  OG_LINE_ABSENT, /* neither has it */
  OG_N_LINE_CHANGES
} OgLineChange;

const char *og_line_change_to_nick  (OgLineChange  change); /* "more" */
const char *og_line_change_get_name (OgLineChange  change); /* translated */

/** OgComparedLine: one material in all recipes. */
typedef struct
{
  char        *ingredient_id;
  char        *name;
  OgPpm        amounts[OG_COMPARISON_MAX]; /* of all lines of it together */
  OgLineChange changes[OG_COMPARISON_MAX];
} OgComparedLine;

typedef struct
{
  GPtrArray *recipes; /* of OgCompared */
  GPtrArray *lines;   /* of OgComparedLine, in the order of the recipes */
} OgComparison;

/** OgComparisonOptions: zeroed memory asks for nothing. */
typedef struct
{
  OgBelief      *belief;   /* nullable: what all of them have learned */
  const OgShelf *shelf;    /* nullable: prices */
  gboolean       curves;   /* also for charts */
  gboolean       same_ids; /* see og_changes_in_words() */
} OgComparisonOptions;

/** Returns: (transfer full): to be handed to og_comparison_new(). @formula: (transfer full) */
OgCompared   *og_compared_new     (const char                 *name,
                                   OgFormula                  *formula,
                                   OgCatalog                  *catalog);
/** Frees @compared with all it holds. */
void          og_compared_free    (OgCompared                 *compared);
/**
 * og_comparison_new:
 * @recipes: (transfer full) (element-type OgCompared): 1 ... %OG_COMPARISON_MAX of them
 *
 * Sets recipes side by side, each against the first, at 25 C. The ratios come from the covariance of
 * both blends (og_blend_ratio()), not from their bands.
 *
 * Returns: (transfer full)
 */
OgComparison *og_comparison_new   (GPtrArray                  *recipes,
                                   const OgComparisonOptions  *options);
/**
 * og_comparison_of_versions:
 * @now: the recipe as it stands
 * @catalog: its materials, own ones included
 * @now_name: what it is called beside its versions
 * @names: %NULL-terminated: versions of @now, at most %OG_COMPARISON_MAX - 1; others are passed over
 * @options: (nullable): without a belief all learn from the readings of @now
 *
 * The recipe as it stands, and versions of it as og_version_restore() brings them back, against it.
 *
 * Returns: (transfer full)
 */
OgComparison *og_comparison_of_versions (const OgFormula           *now,
                                         OgCatalog                 *catalog,
                                         const char                *now_name,
                                         const char *const         *names,
                                         const OgComparisonOptions *options);
/** Frees @comparison with all it holds. */
void          og_comparison_free  (OgComparison               *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgComparison, og_comparison_free)

G_END_DECLS
