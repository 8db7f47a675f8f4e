/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/design/grid-columns.h"
#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_GRID_VIEW (og_grid_view_get_type ())
G_DECLARE_FINAL_TYPE (OgGridView, og_grid_view, OG, GRID_VIEW, OgDocumentPage)

/*
 * The recipe as a grid of phases and lines.
 *
 * Properties: "document" (OgDocument, nullable); "current-id" (uint: the line or phase in hand, 0
 * none); "problem" (string, nullable: why the text of a cell is refused); "rule" (string, nullable: what
 * decides the amount of the line in hand: "typed", "held", or "rest", "rest-2", "rest-3" by its parts of what is
 * missing to 100 %; setting it is an edit of the document). Signals: "leave"
 * (GtkDirectionType: Tab went past the last cell, Shift+Tab before the first one). Actions:
 * "grid.rule", which is the property; "grid.add-below", "grid.take" with the id of a row;
 * "grid.go-to" with an id and an #OgGridColumn.
 */
GtkWidget  *og_grid_view_new            (void);

/** Returns: (nullable) (transfer none): the line or phase in hand */
OgRow      *og_grid_view_get_current    (OgGridView   *self);
/** Makes a row the one in hand, shows it and gives the keyboard focus to one of its cells. */
void        og_grid_view_go_to          (OgGridView   *self,
                                         guint         id,
                                         OgGridColumn  column);
/** Returns: (nullable) (transfer none): the widget that shows a row, as long as it can be seen */
GtkWidget  *og_grid_view_lookup_row     (OgGridView   *self,
                                         guint         id);
/** Focuses the row in hand, or else the first cell. Returns: FALSE if there are no rows */
gboolean    og_grid_view_focus          (OgGridView   *self);
/** Returns: the id of the row that should be in hand once @id is gone; 0 if none is left */
guint       og_grid_view_get_neighbour  (OgGridView   *self,
                                         guint         id);
void        og_grid_view_toggle_balance (OgGridView   *self,
                                         guint         line_id);
void        og_grid_view_toggle_hold    (OgGridView   *self,
                                         guint         line_id);
/** Moves a line over its neighbour (across phases too), or a phase; @step is -1 or 1. */
gboolean    og_grid_view_move           (OgGridView   *self,
                                         guint         id,
                                         int           step);
/** Whether og_grid_view_move() would move anything. */
gboolean    og_grid_view_can_move       (OgGridView   *self,
                                         guint         id,
                                         int           step);
/** Adds a material after the row in hand, or at the end. Returns: the id of its line */
guint       og_grid_view_add_material   (OgGridView   *self,
                                         const char   *ingredient_id);
/** Brings every refused text back to what the recipe says. */
void        og_grid_view_revert         (OgGridView   *self);
/** Opens the menu of the row in hand. */
void        og_grid_view_popup_menu     (OgGridView   *self);

G_END_DECLS
