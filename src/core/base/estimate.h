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

G_END_DECLS
