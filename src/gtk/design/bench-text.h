/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/belief.h"

G_BEGIN_DECLS

/*
 * Readings in words, in the reader's locale. All return (transfer full).
 */

/** "ISO 2431 cup, 4 mm: 62 s, mean of 3" */
char *og_bench_method_to_text    (const OgReading  *reading);
/** "620 mPa·s ± 6 %": the reading and its standard deviation */
char *og_bench_value_to_text     (const OgReduced  *reduced);
/** "80 % between 570 and 680" */
char *og_bench_spread_to_text    (const OgReduced  *reduced);
/** How a reading stands to the prediction that knows none: "It agrees: 0.4 standard ..." */
char *og_bench_agreement_to_text (const OgLesson   *lesson);
/** What a reading that contradicts says, what was expected, and what became of it. */
char *og_bench_conflict_to_text  (const OgReduced  *reduced,
                                  const OgLesson   *lesson);
/**
 * og_bench_effect_to_text:
 * @without: prediction of a recipe from all other readings
 * @with: the same with the reading
 *
 * "moves the prediction from 510 to 640 mPa·s; band 45 % narrower"
 */
char *og_bench_effect_to_text    (const OgEstimate *without,
                                  const OgEstimate *with);

G_END_DECLS
