/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/estimate.h"

#include <math.h>

gboolean
og_estimate_is_known (const OgEstimate *estimate)
{
  return isfinite (estimate->value);
}
