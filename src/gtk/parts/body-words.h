/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** Returns: (transfer full): what a word for the body stands for, "300–1 200 mPa·s"; "" for
 * %OG_BODY_UNKNOWN */
char   *og_body_interval_to_text (const OgBodyBounds *bounds,
                                  OgBody              body);
/**
 * og_body_words_fill:
 * @unknown: (nullable): what to call %OG_BODY_UNKNOWN; %NULL leaves it out
 *
 * Lets @drop_down offer all words with what they stand for. The choice is set to the first.
 */
void    og_body_words_fill       (GtkDropDown        *drop_down,
                                  const OgBodyBounds *bounds,
                                  const char         *unknown);
/** The choice of a drop-down that was filled with a name for %OG_BODY_UNKNOWN, or without. */
OgBody  og_body_words_get        (GtkDropDown        *drop_down,
                                  gboolean            with_unknown);
void    og_body_words_set        (GtkDropDown        *drop_down,
                                  OgBody              body,
                                  gboolean            with_unknown);

G_END_DECLS
