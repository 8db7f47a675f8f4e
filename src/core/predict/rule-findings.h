/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/blend.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/**
 * og_rule_findings_collect:
 * @result: its rulings are there; findings are appended
 * @blend: its viscosity model
 *
 * What the rules say that the reader should know: limits passed or perhaps passed, prohibitions,
 * what the label must name (one finding for each jurisdiction), notices, and materials whose
 * composition nobody has said. A recipe whose product is not said is held to lips and skin; what
 * holds for one of them only does not block.
 */
void og_rule_findings_collect (const OgFormula *formula,
                               OgResult        *result,
                               OgBlend         *blend);

G_END_DECLS
