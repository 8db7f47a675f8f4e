/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/blend.h"
#include "core/recipe/bench.h"

G_BEGIN_DECLS

/**
 * OgBelief:
 *
 * What measurements have taught about the named variables of the viscosity model: a normal
 * distribution over those that any measurement touched. All others are independent standard normal,
 * as before any measurement. Immutable, reference counted.
 */
typedef struct _OgBelief OgBelief;

/** OgLesson: what became of one measurement. */
typedef struct
{
  char    *measurement_id;
  char    *material_id;   /* nullable: of a neat material */
  OgEstimate predicted;   /* before learning from any measurement, mPa.s */
  double   surprise;      /* distance from that prediction in standard deviations of both, signed;
                            NAN if nothing could be predicted */
  gboolean used;
  gboolean contradicts;   /* |surprise| above 3: flagged, and not learned from unless accepted */
} OgLesson;

/**
 * og_belief_learn:
 * @measurements: (element-type OgMeasurement): in any order
 * @catalog: materials they refer to
 *
 * Gaussian update by iterated linearisation (Gauss-Newton) of ln eta in the variables, each
 * measurement one row with its own standard deviation. Same measurements in another order, same
 * belief.
 *
 * Returns: (transfer full)
 */
OgBelief    *og_belief_learn          (GPtrArray        *measurements,
                                       const OgCatalog  *catalog);
/** Takes a reference. Returns: its argument */
OgBelief    *og_belief_ref            (OgBelief         *belief);
/** Gives a reference back; the last one frees. */
void         og_belief_unref          (OgBelief         *belief);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgBelief, og_belief_unref)

/** Returns: (transfer none) (element-type OgLesson): one for each measurement, in the order
 * given */
const GArray *og_belief_get_lessons   (const OgBelief   *belief);
/** Returns: the number of variables that any measurement touched */
guint        og_belief_get_n_variables (const OgBelief  *belief);
/** Returns: index of the variable called @name, or -1 */
int          og_belief_find           (const OgBelief   *belief,
                                       const char       *name);
/** Returns: the mean of variable @index, in standard deviations of its prior */
double       og_belief_get_mean       (const OgBelief   *belief,
                                       guint             index);
/** Returns: the covariance of two variables, in units of their priors: the unit matrix if nothing
 * was learned */
double       og_belief_get_covariance (const OgBelief   *belief,
                                       guint             i,
                                       guint             j);

G_END_DECLS
