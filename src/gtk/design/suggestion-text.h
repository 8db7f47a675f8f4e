/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/substitution.h"

G_BEGIN_DECLS

/* A suggestion in the words of the reader. All return (transfer full). */

/** What a change of viscosity means, with its band: "about 9 times thinner ..." */
char *og_viscosity_change_to_text    (const OgEstimate   *ratio);
/** "A", or each part with its share of what is replaced: "60 % A + 40 % B" */
char *og_suggestion_parts_to_text    (const OgSuggestion *suggestion);
/** How near it is, and what is proven about that */
char *og_suggestion_distance_to_text (const OgSuggestion *suggestion);
/** The most telling reasons, one a line; may be "" */
char *og_suggestion_reasons_to_text  (const OgSuggestion *suggestion);
/** (nullable): the lines that shrink or grow with it */
char *og_suggestion_moves_to_text    (const OgSuggestion *suggestion);
/** (nullable): how it stands at rest, where that changes otherwise than it pours */
char *og_suggestion_rest_to_text     (const OgSuggestion *suggestion);
/** What the formulator gives up */
char *og_suggestion_losses_to_text   (const OgSuggestion *suggestion);
/** (nullable): what it is good for: "Same body · Plant origin" */
char *og_suggestion_kinds_to_text    (const OgSuggestion *suggestion);

G_END_DECLS
