/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/draft.h"

G_BEGIN_DECLS

/** Writes title, notes, and names and notes of the phases into the recipe of @draft, in the reader's language, so
 * that it can become a document. */
void og_draft_write_words (OgDraft *draft);

G_END_DECLS
