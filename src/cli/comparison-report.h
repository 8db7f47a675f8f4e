/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"
#include "core/design/comparison.h"

G_BEGIN_DECLS

/** Puts out a comparison for programs. @files: those that were named; one, if @versions of it are compared */
void og_comparison_put_json (OgCall              *call,
                             const OgComparison  *comparison,
                             char               **files,
                             gboolean             versions);
/** Puts out a comparison for readers. @belief: (nullable): what all recipes have learned */
void og_comparison_put_text (OgCall              *call,
                             const OgComparison  *comparison,
                             char               **files,
                             OgBelief            *belief);

G_END_DECLS
