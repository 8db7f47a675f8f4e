/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** Returns: (transfer full) (element-type OgFinding): an empty list that frees its findings */
GPtrArray *og_finding_list_new   (void);
/**
 * og_finding_list_add:
 * @code: a literal
 * @line_id: 0 for the recipe as a whole
 * @source: (nullable): what it rests on
 * @text: (transfer full): a translated sentence
 */
void       og_finding_list_add   (GPtrArray   *list,
                                  OgSeverity   severity,
                                  const char  *code,
                                  guint        line_id,
                                  const char  *source,
                                  char        *text);
/** Puts the most severe first; those of one severity keep their order. */
void       og_finding_list_sort  (GPtrArray   *list);
/** Returns: %OG_SEVERITY_NOTE if there is no finding */
OgSeverity og_finding_list_worst (const GPtrArray *list);

G_END_DECLS
