/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "gtk/design/grid-cells.h"
#include "model/lines-model.h"

G_BEGIN_DECLS

typedef enum
{
  OG_COLUMN_HANDLE,
  OG_COLUMN_MATERIAL,
  OG_COLUMN_PERCENT,
  OG_COLUMN_GRAMS,
  OG_COLUMN_RULE, /* what decides the amount */
  OG_COLUMN_MENU,
  OG_N_COLUMNS,
  OG_COLUMN_TEMPERATURE = OG_N_COLUMNS /* the second entry in the material cell of a phase row */
} OgGridColumn;

/**
 * OgGridTable: the rows of a grid and the cells that show them, a member of the grid.
 * @problem: told why the text of a cell is refused; NULL once none is
 *
 * A cell that takes the row in hand asks the grid with the action "grid.take" and the id of the
 * row.
 */
typedef struct
{
  GtkWidget    *view;                /* GtkColumnView */
  OgDocument   *document;            /* nullable, borrowed */
  OgLinesModel *lines;               /* nullable */
  GHashTable   *cells[OG_N_COLUMNS]; /* row id -> bound child of the column */
  guint         current_id;          /* of the row in hand; 0 if there is none */
  void        (*problem) (gpointer data, const char *problem);
  gpointer      data;                /* of @problem */
} OgGridTable;

/** Adds the columns to @view. */
void          og_grid_table_init       (OgGridTable  *self,
                                        GtkWidget    *view,
                                        void        (*problem) (gpointer data, const char *problem),
                                        gpointer      data);
/** Takes the rows away: from now on the cells know no table. */
void          og_grid_table_leave      (OgGridTable  *self);
/** Frees what is in @self, which must have been left. */
void          og_grid_table_clear      (OgGridTable  *self);
/** Returns: (nullable) (transfer full): why @temperature_c, in °C, cannot be set; NAN can */
char         *og_grid_temperature_problem (double     temperature_c);
GMenuModel   *og_grid_table_build_menu (OgGridTable  *self,
                                        OgRow        *row);
/** The row and column that @widget lies in. Returns: NULL outside every cell */
OgRow        *og_grid_table_locate     (OgGridTable  *self,
                                        GtkWidget    *widget,
                                        OgGridColumn *column);
/** The widget of a bound cell that takes the focus, or NULL. */
GtkWidget    *og_grid_table_lookup     (OgGridTable  *self,
                                        guint         id,
                                        OgGridColumn  column);
/** The row widget that holds a bound cell, or NULL. */
GtkWidget    *og_grid_table_lookup_row (OgGridTable  *self,
                                        guint         id);
guint         og_grid_table_n_rows     (OgGridTable  *self);
/** Returns: (nullable) (transfer none) */
OgRow        *og_grid_table_get_row    (OgGridTable  *self,
                                        guint         position);
/**
 * Turns "before the row at @position" into a place in a phase. Returns: phase id, 0 when there is
 * no phase yet
 */
guint         og_grid_table_get_place  (OgGridTable  *self,
                                        guint         position,
                                        guint        *index);

G_END_DECLS
