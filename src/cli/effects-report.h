/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"

G_BEGIN_DECLS

/** Appends what a change brings as a table, rows that stay the same left out. @effects:
 * (element-type OgEffect) */
void og_effects_put      (GString          *out,
                          const GPtrArray  *effects);
/** Adds the member "effects", all rows. */
void og_effects_add_json (JsonBuilder      *builder,
                          const GPtrArray  *effects);

G_END_DECLS
