/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/sensitivity.h"
#include "gtk/parts/painted-view.h"

G_BEGIN_DECLS

#define OG_TYPE_LEVER_VIEW (og_lever_view_get_type ())
G_DECLARE_FINAL_TYPE (OgLeverView, og_lever_view, OG, LEVER_VIEW, OgPaintedView)

/** OgLeverKind: which effect of the lines is shown. */
typedef enum
{
  OG_LEVER_POURED, /* one more per cent of each, on the poured viscosity */
  OG_LEVER_REST,   /* the same on the viscosity at rest */
  OG_LEVER_LOTS,   /* from lot to lot of each, on the poured viscosity */
  OG_N_LEVER_KINDS
} OgLeverKind;

/* Bars of what each line does to the body, in the colours of the theme. */
GtkWidget  *og_lever_view_new             (void);
/** @levers: (nullable) (element-type OgLever): copied; names come from @catalog */
void        og_lever_view_set_levers      (OgLeverView     *self,
                                           const GArray    *levers,
                                           const OgCatalog *catalog);
void        og_lever_view_set_kind        (OgLeverView     *self,
                                           OgLeverKind      kind);
/** Returns: the number of bars */
guint       og_lever_view_get_n           (OgLeverView     *self);

G_END_DECLS
