/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/** OgAxis: maps values to 0 ... 1, linear or logarithmic, with "nice" ticks. */
typedef struct
{
  double   low;
  double   high;
  gboolean logarithmic;
} OgAxis;

typedef struct
{
  double   value;
  gboolean major;
} OgTick;

/** Widens the range to hold @value, unless that is not finite; both bounds are NAN while it holds nothing. */
void     og_axis_extend   (double        value,
                           double       *low,
                           double       *high);
/** Range widened to nice bounds; a degenerate range (equal, NaN, non-positive on a log axis) becomes a usable one around it. */
OgAxis   og_axis_nice     (double        low,
                           double        high,
                           gboolean      logarithmic);
/** Returns: 0 ... 1 inside; may lie outside; NAN for a value with no place */
double   og_axis_map      (const OgAxis *axis,
                           double        value);
/** Returns: the value at @position, the reverse of og_axis_map() */
double   og_axis_unmap    (const OgAxis *axis,
                           double        position);
/** Returns: (transfer full) (element-type OgTick): at most @most major ticks */
GArray  *og_axis_ticks    (const OgAxis *axis,
                           guint         most);
/** Returns: (transfer full): label of a tick in the user's locale without needless digits, "10 000" with a thin space */
char    *og_axis_label    (const OgAxis *axis,
                           double        value);

G_END_DECLS
