/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/base/estimate.h"

#include <glib/gi18n-lib.h>
#include <math.h>

gboolean
og_estimate_is_known (const OgEstimate *estimate)
{
  return isfinite (estimate->value);
}

char *
og_viscosity_to_text (double mpa_s)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double step;

  if (!isfinite (mpa_s) || mpa_s <= 0.0)
    return g_strdup (_("unknown"));
  step = pow (10.0, floor (log10 (mpa_s)) - 1.0);
  if (step >= 1.0)
    g_ascii_formatd (text, sizeof text, "%.0f", round (mpa_s / step) * step);
  else
    g_ascii_formatd (text, sizeof text, "%.2g", mpa_s);
  return g_strdup (text);
}
