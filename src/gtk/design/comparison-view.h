/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/design/comparison.h"

G_BEGIN_DECLS

#define OG_TYPE_COMPARISON_VIEW (og_comparison_view_get_type ())
G_DECLARE_FINAL_TYPE (OgComparisonView, og_comparison_view, OG, COMPARISON_VIEW, GtkBox)

/* Recipes side by side, each in a column, what is told of them above the columns, so that four of them
 * fit a panel. Changed lines bear a sign and a colour. */
GtkWidget *og_comparison_view_new  (void);
/** @comparison: (nullable): only read now */
void       og_comparison_view_show (OgComparisonView   *self,
                                    const OgComparison *comparison);

G_END_DECLS
