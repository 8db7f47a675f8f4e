/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** OgStep: one thing to do at the bench, in plain words. */
typedef struct
{
  OgSaying *text;
  OgSaying *caution;       /* nullable: belongs to this step */
  double    temperature_c; /* of the pot; NAN if it does not matter */
  guint     phase_id;      /* 0: no phase */
} OgStep;

/**
 * og_process_steps:
 *
 * The recipe as steps in phase order: weigh, heat until the gelling agent or wax is clear (direct
 * gentle heat or an oven where a water bath is not hot enough), bring down with the cooler phases
 * without chilling below the setting temperature, colours, heat-shy materials last, fill, judge the
 * body after hours at room temperature.
 *
 * Returns: (transfer full) (element-type OgStep)
 */
GPtrArray *og_process_steps (const OgFormula  *formula,
                             const OgResult   *result);

G_END_DECLS
