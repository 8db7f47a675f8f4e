/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/batch.h"

G_BEGIN_DECLS

/* A batch in words. All texts are (transfer full) and translated. */

/** Returns: @g with the decimals of a balance, or with two at least: "12.40 g" */
char *og_batch_grams_to_text    (double             g,
                                 const OgBalance   *balance);
/** Returns: "3.20 ml (12 % of the container)"; "unknown" */
char *og_batch_fit_to_text      (const OgBatchFit  *fit);
/** Returns: "12.30 EUR" */
char *og_batch_money_to_text    (double             amount,
                                 const char        *currency);
/** Returns: (nullable): what can be done about a line that is too small to be weighed, each way in
 * a line of its own; NULL for one that is not */
char *og_batch_remedy_to_text   (const OgBatchWeighing *line);
/** Returns: (nullable): what the rounding of the weights does to the body */
char *og_batch_rounding_to_text (const OgBatchPlan     *batch);

G_END_DECLS
