/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "gtk/parts/cell-entry.h"
#include "model/row.h"

G_BEGIN_DECLS

#define OG_TYPE_NAME_CELL (og_name_cell_get_type ())
G_DECLARE_FINAL_TYPE (OgNameCell, og_name_cell, OG, NAME_CELL, GtkWidget)

/*
 * First cell of a grid row: the material of a line, or the name and temperature of a phase. It only
 * shows; the entries of a phase ask through their own signals.
 */
GtkWidget   *og_name_cell_new             (void);
/** @row: (nullable) */
void         og_name_cell_set_row         (OgNameCell *self,
                                           OgRow      *row);
OgCellEntry *og_name_cell_get_phase_entry (OgNameCell *self);
OgCellEntry *og_name_cell_get_temperature_entry (OgNameCell *self);

#define OG_TYPE_CHOICE_CELL (og_choice_cell_get_type ())
G_DECLARE_FINAL_TYPE (OgChoiceCell, og_choice_cell, OG, CHOICE_CELL, GtkWidget)

/*
 * Cell that says in a word what decides the amount of a line and opens the choice, a GtkMenuButton; on a
 * phase row it holds a button instead.
 */
GtkWidget *og_choice_cell_new        (void);
GtkWidget *og_choice_cell_get_choice (OgChoiceCell *self);
GtkWidget *og_choice_cell_get_button (OgChoiceCell *self);

G_END_DECLS
