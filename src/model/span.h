/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * og_span_announce:
 * @before: the items as they were, as pointers
 * @after: the items as they are
 *
 * Emits items-changed on @model over the smallest single span in which the two differ; nothing if
 * they do not.
 */
void og_span_announce (GListModel      *model,
                       const GPtrArray *before,
                       const GPtrArray *after);

G_END_DECLS
