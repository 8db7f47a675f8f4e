/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/label/colour.h"

G_BEGIN_DECLS

#define OG_TYPE_SWATCH (og_swatch_get_type ())
G_DECLARE_FINAL_TYPE (OgSwatch, og_swatch, OG, SWATCH, GtkWidget)

/**
 * og_swatch_new:
 * @colour: what is shown
 * @ground: (nullable): what shows beside it, without the film
 * @name: what it is, for the caption and screen readers
 *
 * A piece of colour, approximate as screens are. Returns: (transfer floating)
 */
GtkWidget *og_swatch_new (const OgRgb *colour,
                          const OgRgb *ground,
                          const char  *name);

G_END_DECLS
