/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/cost.h"
#include "core/make/net-content.h"
#include "core/make/tolerance.h"
#include "core/make/weighing.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgBatchAim: what the size of the batch is told by. */
typedef enum
{
  OG_BATCH_GRAMS,      /* mass made */
  OG_BATCH_ML,         /* volume made, at 20 C */
  OG_BATCH_CONTAINERS  /* containers filled, losses made up for */
} OgBatchAim;

/** OgBatchOptions: see og_batch_options_init(). */
typedef struct
{
  OgBatchAim       aim;
  double           amount;       /* above 0 */
  double           loss_g;       /* stays in vessel and funnel whatever the size */
  double           loss_pct;     /* of the batch, below 100 */
  double           overfill_pct; /* over the nominal quantity */
  double           fill_c;       /* temperature at which it is filled */
  const GPtrArray *balances;     /* (nullable) (element-type OgBalance) */
  const OgShelf   *shelf;        /* nullable: prices */
} OgBatchOptions;

/** The batch of @formula by mass, without losses, filled at 25 C, exact weights. */
void     og_batch_options_init (OgBatchOptions  *options,
                                const OgFormula *formula);

/** OgBatchWeighing: one weighing of the batch sheet. */
typedef struct
{
  guint       line_id;
  guint       phase_id;
  char       *ingredient_id;
  char       *name;
  OgPlannedWeighing  weighing;      /* balance borrowed from the options */
  OgTolerance        tolerance;
  gboolean    has_premix;    /* too small, and a carrier of the recipe helps */
  OgPremix    premix;
  char       *carrier_name;  /* nullable: of the premix */
  double      batch_needed_g;       /* too small: a batch of this size would do; else NAN */
  double      readability_needed_g; /* too small: a balance that shows this would do; else NAN */
} OgBatchWeighing;

/** OgBatchFit: one temperature of the closed container. NAN where the package does not say. */
typedef struct
{
  double   temperature_c;
  double   content_ml;
  double   free_ml;      /* left beside content and applicator; negative: it does not fit */
  double   free_pct;     /* of the capacity */
} OgBatchFit;

/** OgBatchPlan: a batch from scales to shelf, as it is to be made. NAN where unknown. */
typedef struct
{
  double      batch_g;       /* to be made */
  double      rounded_g;     /* what the weighings add up to */
  double      density_20_g_ml;
  double      density_fill_g_ml;
  double      fill_c;
  double      lost_g;
  double      fillable_g;    /* what is left to fill */
  guint       n_containers;  /* full ones; 0 if the package does not say */
  double      left_g;        /* after them */
  double      content_g;     /* of one container, overfill included */
  double      content_ml_20; /* the same at 20 C */
  double      fill_ml;       /* the same at the temperature of filling: what to fill by volume */
  OgNetLimits limits;        /* in the unit of the package */
  OgBatchFit  fit[2];        /* at 25 and 40 C */
  GPtrArray  *lines;         /* of OgBatchWeighing */
  OgEstimate  pour_exact;    /* mPa.s at 25 C and 10 1/s of the recipe */
  OgEstimate  pour_rounded;  /* as weighed */
  OgCost     *cost;
  GPtrArray  *findings;      /* of OgFinding, most severe first */
} OgBatchPlan;

/**
 * og_batch_plan_new:
 * @result: og_evaluate() of @formula
 *
 * Returns: (transfer full): %NULL with an #OgBatchError
 */
OgBatchPlan *og_batch_plan_new  (const OgFormula       *formula,
                                 const OgResult        *result,
                                 const OgBatchOptions  *options,
                                 GError               **error);
/** Frees @batch with all it holds. */
void         og_batch_plan_free (OgBatchPlan           *batch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBatchPlan, og_batch_plan_free)

G_END_DECLS
