/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/blend.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** Samples of each curve. */
#define OG_CURVE_POINTS 43

/** Fills the three curves from @blend; leaves it at the recipe's own share of the main agent.
 * With @prior (nullable: the same recipe without measurements) the band before any measurement
 * comes along. */
void og_curves_fill  (OgCurve  curves[OG_N_CURVES],
                      OgBlend *blend,
                      OgBlend *prior);

G_END_DECLS
