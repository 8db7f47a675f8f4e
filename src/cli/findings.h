/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"

G_BEGIN_DECLS

/** Appends findings as an indented list, or a sentence that there is none. */
void   og_findings_put      (GString          *out,
                             const GPtrArray  *findings);
/** Adds the member "findings". */
void   og_findings_add_json (JsonBuilder      *builder,
                             const GPtrArray  *findings);
/** Returns: %OG_EXIT_FOUND if a finding is blocking, else %OG_EXIT_DONE */
OgExit og_findings_status   (const GPtrArray  *findings);

G_END_DECLS
