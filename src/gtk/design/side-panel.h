/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_SIDE_PANEL (og_side_panel_get_type ())
G_DECLARE_FINAL_TYPE (OgSidePanel, og_side_panel, OG, SIDE_PANEL, OgDocumentPage)

/*
 * Pages Instead, Aim, Findings, Bench, Versions and Notes. Properties: "document" (OgDocument, nullable),
 * "ingredient-id" (string, nullable: the material of the line in hand). Signals: "show-line" (guint
 * line_id): the reader asked for the line of a finding; "message" (string, boolean): something was
 * done that the reader should be told, and whether it can be undone; "shelf-wanted": stock and
 * prices matter now.
 */
GtkWidget *og_side_panel_new          (void);
/** Turns to the page of replacements for "ingredient-id" and moves the keyboard focus there. */
void       og_side_panel_show_instead (OgSidePanel *self);
/** Turns to the page of targets and moves the keyboard focus there. */
void       og_side_panel_show_aim     (OgSidePanel *self);
void       og_side_panel_show_bench   (OgSidePanel *self);
/** Turns to the page of versions and asks for the name of a new one. */
void       og_side_panel_keep_version (OgSidePanel *self);
/** @shelf: (nullable): what is in stock, and prices */
void       og_side_panel_set_shelf    (OgSidePanel *self,
                                       OgShelf     *shelf);

G_END_DECLS
