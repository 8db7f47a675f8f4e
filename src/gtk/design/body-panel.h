/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_BODY_PANEL (og_body_panel_get_type ())
G_DECLARE_FINAL_TYPE (OgBodyPanel, og_body_panel, OG, BODY_PANEL, OgDocumentPage)

/*
 * The predicted body of the recipe: headline, chart, profile, figures. Properties: "document"
 * (OgDocument, nullable), "chart-axis" (int, an OgCurveAxis) and "axis-cup" (string, nick of a
 * cup whose seconds the chart also shows, "" for none); both notify when the reader picks
 * another one.
 */
GtkWidget *og_body_panel_new (void);

G_END_DECLS
