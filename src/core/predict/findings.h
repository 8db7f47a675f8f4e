/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/blend.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/**
 * og_findings_collect:
 * @formula: the recipe
 * @result: its evaluation so far; findings are appended to it, most severe first
 * @blend: its viscosity model
 */
void og_findings_collect (const OgFormula *formula,
                          OgResult        *result,
                          OgBlend         *blend);

G_END_DECLS
