/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/design/grid-columns.h"

G_BEGIN_DECLS

/**
 * OgGridDrop: what can be dropped on a grid: materials, lines, phases. A member of the grid, which
 * is asked with the action "grid.go-to" for the row that was dropped: its id, then an
 * #OgGridColumn.
 */
typedef struct
{
  GtkWidget   *grid;
  GtkWidget   *scroller;
  OgGridTable *table;
  GtkWidget   *marked; /* nullable: row widget beside which it would be dropped */
} OgGridDrop;

void og_grid_drop_init (OgGridDrop  *self,
                        GtkWidget   *grid,
                        GtkWidget   *scroller,
                        OgGridTable *table);

G_END_DECLS
