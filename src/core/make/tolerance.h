/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgToleranceReason: what sets how exactly a material must be weighed. */
typedef enum
{
  OG_TOLERANCE_ROUTINE, /* nothing in particular */
  OG_TOLERANCE_BODY,    /* a tenth of the viscosity when poured */
  OG_TOLERANCE_SHADE,   /* a difference of shade that is seen side by side */
  OG_TOLERANCE_EFFECT,  /* what an antioxidant, an active or a scent does */
  OG_TOLERANCE_LIMIT    /* the limit of a rule would be passed */
} OgToleranceReason;

/** OgTolerance: what a line of the recipe may be off by. */
typedef struct
{
  double            pct; /* wt % of the line, 0.5 to 10 */
  OgToleranceReason reason;
} OgTolerance;

/**
 * og_tolerance_find:
 * @result: og_evaluate() of @formula
 * @line: of @formula
 *
 * Thickeners, waxes and powders: by the predicted change of the body, computed with the line five per cent larger.
 * Colours, antioxidants, actives, scents and other liquids: common practice, no source. A limit that is nearer than
 * that wins.
 */
OgTolerance og_tolerance_find        (const OgFormula     *formula,
                                      const OgResult      *result,
                                      const OgFormulaLine *line);
/** Returns: (transfer full) (nullable): a sentence; %NULL for %OG_TOLERANCE_ROUTINE */
OgSaying   *og_tolerance_explain     (OgToleranceReason    reason);

G_END_DECLS
