/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

/** OgEstimate: a predicted number with its 80 % band. NAN throughout when it cannot be said. */
typedef struct
{
  double value;
  double low80;
  double high80;
} OgEstimate;

/** The estimate of what cannot be said. */
#define OG_ESTIMATE_UNKNOWN ((OgEstimate) { NAN, NAN, NAN })

/** Returns: %TRUE if something can be said: the value is a number */
gboolean og_estimate_is_known (const OgEstimate *estimate);
/**
 * og_viscosity_to_text:
 * @mpa_s: viscosity
 *
 * Two significant digits, never more than the prediction can bear, in the C locale; "unknown"
 * (translated) for NAN.
 * Returns: (transfer full): for instance "850", "12000", "3.4"
 */
char    *og_viscosity_to_text (double            mpa_s);

G_END_DECLS
