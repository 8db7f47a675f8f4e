/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_TABLE_EDITOR (og_table_editor_get_type ())
G_DECLARE_FINAL_TYPE (OgTableEditor, og_table_editor, OG, TABLE_EDITOR, GtkWidget)

/** OgTableColumn: what is typed or chosen in one column. */
typedef struct
{
  const char        *title;   /* translated, with the unit */
  gboolean           numeric;
  int                chars;   /* width in characters; 0: takes what is left */
  const char *const *choices; /* nullable, ends with NULL: translated; chosen, not typed */
} OgTableColumn;

/*
 * A small table whose rows can be typed, added and removed. Signal: "changed" (some text or choice
 * is another one, or a row came or went).
 */

/** @add_label: of the button below the rows. @columns: kept by reference */
GtkWidget  *og_table_editor_new           (const OgTableColumn *columns,
                                           guint                n_columns,
                                           const char          *add_label);
/** Adds an empty row and moves the focus into it. */
void        og_table_editor_add_row       (OgTableEditor       *self);
void        og_table_editor_remove_row    (OgTableEditor       *self,
                                           guint                row);
guint       og_table_editor_get_n_rows    (OgTableEditor       *self);
void        og_table_editor_set_text      (OgTableEditor       *self,
                                           guint                row,
                                           guint                column,
                                           const char          *text);
/** Returns: (transfer full): what is typed, without space around it */
char       *og_table_editor_get_text      (OgTableEditor       *self,
                                           guint                row,
                                           guint                column);
void        og_table_editor_set_choice    (OgTableEditor       *self,
                                           guint                row,
                                           guint                column,
                                           guint                choice);
guint       og_table_editor_get_choice    (OgTableEditor       *self,
                                           guint                row,
                                           guint                column);
/** Returns: whether nothing is typed in @row */
gboolean    og_table_editor_is_row_empty  (OgTableEditor       *self,
                                           guint                row);
/**
 * og_table_editor_set_problem:
 * @column: the cell that is wrong
 * @problem: (nullable): a translated sentence; %NULL takes those of the whole row away
 */
void        og_table_editor_set_problem   (OgTableEditor       *self,
                                           guint                row,
                                           guint                column,
                                           const char          *problem);

G_END_DECLS
