/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"

G_BEGIN_DECLS

/** OgBody: the recipe's body in words, by the bounds the formula carries (see OgBodyBounds). */
typedef enum
{
  OG_BODY_UNKNOWN,
  OG_BODY_DRY,
  OG_BODY_THIN,
  OG_BODY_LIGHT,
  OG_BODY_SUBSTANTIAL,
  OG_BODY_SYRUPY,
  OG_BODY_HEAVY,
  OG_BODY_SOFT_SET,
  OG_BODY_SET
} OgBody;

/** Returns: (transfer none): translated, "Substantial" */
const char *og_body_get_name  (OgBody       body);
/** Returns: its name as a value of a saying */
OgWord      og_body_word      (OgBody       body);
/** "substantial" */
const char *og_body_to_nick   (OgBody       body);
/** Returns: %FALSE if @nick names no body; "unknown" names none */
gboolean    og_body_from_nick (const char  *nick,
                               OgBody      *body);

G_END_DECLS
