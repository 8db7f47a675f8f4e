/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/body.h"

#include <glib/gi18n-lib.h>

#include "core/base/nick.h"

static const OgNick bodies[] = {
  [OG_BODY_UNKNOWN] = { "unknown", N_("Unknown") },
  [OG_BODY_DRY] = { "dry", N_("Dry") },
  [OG_BODY_THIN] = { "thin", N_("Thin") },
  [OG_BODY_LIGHT] = { "light", N_("Light") },
  [OG_BODY_SUBSTANTIAL] = { "substantial", N_("Substantial") },
  [OG_BODY_SYRUPY] = { "syrupy", N_("Syrupy") },
  [OG_BODY_HEAVY] = { "heavy", N_("Heavy") },
  [OG_BODY_SOFT_SET] = { "softly-set", N_("Softly set") },
  [OG_BODY_SET] = { "set", N_("Set") },
};
OG_DEFINE_TO_NICK (OgBody, og_body, bodies)
OG_DEFINE_FROM_NICK (OgBody, og_body, bodies, OG_BODY_UNKNOWN + 1)
OG_DEFINE_NAMES (OgBody, og_body, bodies)
OG_DEFINE_WORDS (OgBody, og_body, bodies)
