/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/formula.h"

#include "core/base/nick.h"

static const struct
{
  OgNick word;
  double from;
} bound[OG_N_BODY_BOUNDS] = {
  [OG_BODY_BOUND_THIN] = { { "thin_mpa_s", NULL }, 30.0 },
  [OG_BODY_BOUND_LIGHT] = { { "light_mpa_s", NULL }, 120.0 },
  [OG_BODY_BOUND_SUBSTANTIAL] = { { "substantial_mpa_s", NULL }, 300.0 },
  [OG_BODY_BOUND_SYRUPY] = { { "syrupy_mpa_s", NULL }, 1200.0 },
  [OG_BODY_BOUND_HEAVY] = { { "heavy_mpa_s", NULL }, 5000.0 },
  [OG_BODY_BOUND_SOFT_SET] = { { "soft_set_pa", NULL }, 5.0 },
  [OG_BODY_BOUND_SET] = { { "set_pa", NULL }, 100.0 },
};
OG_DEFINE_TO_NICK (OgBodyBound, og_body_bound, bound)

void
og_body_bounds_init (OgBodyBounds *bounds)
{
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    bounds->from[i] = bound[i].from;
}

gboolean
og_body_bounds_are_valid (const OgBodyBounds *bounds)
{
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    {
      gboolean first = i == OG_BODY_BOUND_THIN || i == OG_BODY_BOUND_SOFT_SET;

      if (!isfinite (bounds->from[i]) || bounds->from[i] <= 0.0
          || (!first && bounds->from[i] <= bounds->from[i - 1]))
        return FALSE;
    }
  return TRUE;
}

gboolean
og_body_bounds_equal (const OgBodyBounds *a,
                      const OgBodyBounds *b)
{
  for (int i = 0; i < OG_N_BODY_BOUNDS; i++)
    if (a->from[i] != b->from[i])
      return FALSE;
  return TRUE;
}
