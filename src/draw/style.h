/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <pango/pangocairo.h>

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

typedef struct
{
  double r, g, b, a;
} OgColour;

/**
 * OgDrawStyle:
 *
 * Everything a painter needs to know about looks. Screen fills it from the theme, paper from og_draw_style_paper().
 */
typedef struct
{
  OgColour    background;
  OgColour    foreground;
  OgColour    dim;       /* secondary text, axes */
  OgColour    grid;
  OgColour    accent;    /* the recipe's own curve */
  OgColour    series[4]; /* overlays; told apart by dash and marker too */
  OgColour    caution;
  gboolean    high_contrast;
  gboolean    rtl;       /* mirrors legend side and alignment, never the x axis */
  const char *font;      /* Pango description without size, e.g. "Sans" */
  double      font_size; /* in units of the target: points on paper, pixels on screen */
} OgDrawStyle;

/** Black on white for paper and exported pictures, size 9 pt. */
void og_draw_style_paper (OgDrawStyle *style);
/** Light grey on near-black. */
void og_draw_style_dark  (OgDrawStyle *style);

G_END_DECLS
