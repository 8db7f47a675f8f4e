/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/design/grid-cells.h"
#include "gtk/design/grid-view.h"
#include "model/lines-model.h"

G_BEGIN_DECLS

struct _OgGridView
{
  GtkWidget parent_instance;

  /* template */
  GtkWidget *overlay;
  GtkWidget *scroller;
  GtkWidget *column_view;
  GtkWidget *placeholder;

  OgDocument *document;
  OgLinesModel *lines;
  GHashTable *cells[OG_N_COLUMNS]; /* row id -> bound child of the column */
  GtkRoot *root;
  gulong focus_handler;
  guint current_id;
  char *problem;

  guint goal_id; /* where the focus is to go once the cell exists */
  OgGridColumn goal_column;
  guint goal_tick;
  guint goal_tries;

  GtkWidget *drop_row;
  GtkWidget *popover;
};

/* grid-columns.c */
void          og_grid_view_add_columns    (OgGridView   *self);
/** Returns: (nullable) (transfer full): why @temperature_c, in °C, cannot be set; NAN can */
char         *og_grid_temperature_problem (double        temperature_c);
GMenuModel   *og_grid_view_build_menu     (OgGridView   *self,
                                           OgRow        *row);
/** The row and column that @widget lies in. Returns: NULL outside every cell */
OgRow        *og_grid_view_locate         (OgGridView   *self,
                                           GtkWidget    *widget,
                                           OgGridColumn *column);
/** The widget of a bound cell that takes the focus, or NULL. */
GtkWidget    *og_grid_view_lookup         (OgGridView   *self,
                                           guint         id,
                                           OgGridColumn  column);
/** The row widget that holds a bound cell, or NULL. */
GtkWidget    *og_grid_view_lookup_row     (OgGridView   *self,
                                           guint         id);

/* grid-drop.c */
void          og_grid_view_add_drop       (OgGridView   *self);
void          og_grid_view_add_drag       (OgGridView   *self,
                                           GtkWidget    *child);

/* grid-view.c */
void          og_grid_view_set_current    (OgGridView   *self,
                                           guint         id);
void          og_grid_view_set_problem    (OgGridView   *self,
                                           const char   *problem);
OgRow        *og_grid_view_get_row        (OgGridView   *self,
                                           guint         position);
/**
 * Turns "before the row at @position" into a place in a phase. Returns: phase id, 0 when there is
 * no phase yet
 */
guint         og_grid_view_get_place      (OgGridView   *self,
                                           guint         position,
                                           guint        *index);

G_END_DECLS
