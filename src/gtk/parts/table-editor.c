/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/cell-entry.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/table-editor.h"
#include "gtk/parts/text-undo.h"

#define SPACING 6

/* One row: a cell for each column, a button that takes it away, and what is wrong with it. */
typedef struct
{
  GtkWidget  *box;
  GtkWidget **cells;
  GtkWidget  *problem_label;
} Row;

struct _OgTableEditor
{
  GtkWidget parent_instance;

  GtkWidget *rows_box;
  GtkWidget *add_button;
  const OgTableColumn *columns;
  guint n_columns;
  GPtrArray *groups; /* of GtkSizeGroup: one for each column and one for the button */
  GPtrArray *rows;   /* of Row */
};

G_DEFINE_FINAL_TYPE (OgTableEditor, og_table_editor, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
row_free (Row *row)
{
  g_free (row->cells);
  g_free (row);
}

static Row *
get_row (OgTableEditor *self,
         guint          row)
{
  return g_ptr_array_index (self->rows, row);
}

static void
emit_changed (OgTableEditor *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

guint
og_table_editor_get_n_rows (OgTableEditor *self)
{
  g_return_val_if_fail (OG_IS_TABLE_EDITOR (self), 0);

  return self->rows->len;
}

void
og_table_editor_set_text (OgTableEditor *self,
                          guint          row,
                          guint          column,
                          const char    *text)
{
  g_return_if_fail (OG_IS_TABLE_EDITOR (self));
  g_return_if_fail (row < self->rows->len && column < self->n_columns);

  og_editable_show (GTK_EDITABLE (get_row (self, row)->cells[column]), text);
}

char *
og_table_editor_get_text (OgTableEditor *self,
                          guint          row,
                          guint          column)
{
  g_return_val_if_fail (OG_IS_TABLE_EDITOR (self), NULL);
  g_return_val_if_fail (row < self->rows->len && column < self->n_columns, NULL);

  return g_strstrip (
    g_strdup (gtk_editable_get_text (GTK_EDITABLE (get_row (self, row)->cells[column]))));
}

void
og_table_editor_set_choice (OgTableEditor *self,
                            guint          row,
                            guint          column,
                            guint          choice)
{
  g_return_if_fail (OG_IS_TABLE_EDITOR (self));
  g_return_if_fail (row < self->rows->len && column < self->n_columns);

  gtk_drop_down_set_selected (GTK_DROP_DOWN (get_row (self, row)->cells[column]), choice);
}

guint
og_table_editor_get_choice (OgTableEditor *self,
                            guint          row,
                            guint          column)
{
  g_return_val_if_fail (OG_IS_TABLE_EDITOR (self), 0);
  g_return_val_if_fail (row < self->rows->len && column < self->n_columns, 0);

  return gtk_drop_down_get_selected (GTK_DROP_DOWN (get_row (self, row)->cells[column]));
}

gboolean
og_table_editor_is_row_empty (OgTableEditor *self,
                              guint          row)
{
  g_return_val_if_fail (OG_IS_TABLE_EDITOR (self), TRUE);

  for (guint i = 0; i < self->n_columns; i++)
    {
      g_autofree char *text = NULL;

      if (self->columns[i].choices != NULL)
        continue;
      text = og_table_editor_get_text (self, row, i);
      if (*text != '\0')
        return FALSE;
    }
  return TRUE;
}

static void
mark_cell (GtkWidget *cell,
           gboolean   wrong)
{
  if (wrong)
    gtk_widget_add_css_class (cell, "error");
  else
    gtk_widget_remove_css_class (cell, "error");
  if (GTK_IS_ENTRY (cell))
    gtk_accessible_update_state (GTK_ACCESSIBLE (cell),
                                 GTK_ACCESSIBLE_STATE_INVALID,
                                 wrong ? GTK_ACCESSIBLE_INVALID_TRUE
                                       : GTK_ACCESSIBLE_INVALID_FALSE,
                                 -1);
}

void
og_table_editor_set_problem (OgTableEditor *self,
                             guint          row,
                             guint          column,
                             const char    *problem)
{
  g_return_if_fail (OG_IS_TABLE_EDITOR (self));
  g_return_if_fail (row < self->rows->len && column < self->n_columns);

  for (guint i = 0; i < self->n_columns; i++)
    mark_cell (get_row (self, row)->cells[i], problem != NULL && i == column);
  og_label_set_optional (get_row (self, row)->problem_label, problem);
}

void
og_table_editor_remove_row (OgTableEditor *self,
                            guint          row)
{
  g_return_if_fail (OG_IS_TABLE_EDITOR (self));
  g_return_if_fail (row < self->rows->len);

  gtk_box_remove (GTK_BOX (self->rows_box), get_row (self, row)->box);
  g_ptr_array_remove_index (self->rows, row);
  if (row < self->rows->len)
    gtk_widget_grab_focus (get_row (self, row)->cells[0]);
  else
    gtk_widget_grab_focus (self->add_button);
  emit_changed (self);
}

static void
on_remove (OgTableEditor *self,
           GtkWidget     *button)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      if (gtk_widget_is_ancestor (button, get_row (self, i)->box))
        {
          og_table_editor_remove_row (self, i);
          return;
        }
    }
}

static GtkWidget *
make_cell (OgTableEditor       *self,
           const OgTableColumn *column)
{
  GtkWidget *cell;

  if (column->choices != NULL)
    {
      cell = gtk_drop_down_new_from_strings (column->choices);
      g_signal_connect_swapped (cell, "notify::selected", G_CALLBACK (emit_changed), self);
    }
  else
    {
      cell = gtk_entry_new ();
      gtk_entry_set_activates_default (GTK_ENTRY (cell), TRUE);
      gtk_editable_set_width_chars (GTK_EDITABLE (cell), column->chars > 0 ? column->chars : 12);
      if (column->chars > 0)
        gtk_editable_set_max_width_chars (GTK_EDITABLE (cell), column->chars);
      if (column->numeric)
        {
          gtk_widget_add_css_class (cell, "numeric");
          og_align_number (GTK_EDITABLE (cell));
        }
      g_signal_connect_swapped (cell, "changed", G_CALLBACK (emit_changed), self);
    }
  gtk_widget_set_hexpand (cell, column->chars == 0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (cell),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, column->title,
                                  -1);
  return cell;
}

static GtkWidget *
make_remove_button (OgTableEditor *self)
{
  GtkWidget *button = gtk_button_new_from_icon_name ("list-remove-symbolic");

  gtk_widget_set_tooltip_text (button, _("Remove this line"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Remove this line"),
                                  -1);
  gtk_widget_add_css_class (button, "flat");
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (on_remove), self);
  return button;
}

void
og_table_editor_add_row (OgTableEditor *self)
{
  Row *row = g_new0 (Row, 1);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, SPACING);
  GtkWidget *button = make_remove_button (self);

  g_return_if_fail (OG_IS_TABLE_EDITOR (self));

  row->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  row->cells = g_new0 (GtkWidget *, self->n_columns);
  row->problem_label = og_wrapping_label_new (NULL, "field-problem");
  gtk_widget_set_visible (row->problem_label, FALSE);
  gtk_widget_add_css_class (row->problem_label, "error");
  for (guint i = 0; i < self->n_columns; i++)
    {
      row->cells[i] = make_cell (self, &self->columns[i]);
      gtk_size_group_add_widget (g_ptr_array_index (self->groups, i), row->cells[i]);
      gtk_box_append (GTK_BOX (line), row->cells[i]);
    }
  gtk_size_group_add_widget (g_ptr_array_index (self->groups, self->n_columns), button);
  gtk_box_append (GTK_BOX (line), button);
  gtk_box_append (GTK_BOX (row->box), line);
  gtk_box_append (GTK_BOX (row->box), row->problem_label);
  gtk_box_append (GTK_BOX (self->rows_box), row->box);
  g_ptr_array_add (self->rows, row);
  gtk_widget_grab_focus (row->cells[0]);
  emit_changed (self);
}

/* Titles stand over their columns; the last cell keeps the place of the buttons. */
static void
add_titles (OgTableEditor *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, SPACING);

  for (guint i = 0; i <= self->n_columns; i++)
    {
      GtkSizeGroup *group = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
      GtkWidget *label =
        og_wrapping_label_new (i < self->n_columns ? self->columns[i].title : NULL, "caption");

      gtk_label_set_max_width_chars (GTK_LABEL (label), 1);
      gtk_widget_set_hexpand (label, i < self->n_columns && self->columns[i].chars == 0);
      gtk_widget_set_valign (label, GTK_ALIGN_END);
      gtk_size_group_add_widget (group, label);
      g_ptr_array_add (self->groups, group);
      gtk_box_append (GTK_BOX (line), label);
    }
  gtk_widget_set_parent (line, GTK_WIDGET (self));
}

static void
og_table_editor_dispose (GObject *object)
{
  GtkWidget *child;

  g_ptr_array_set_size (OG_TABLE_EDITOR (object)->rows, 0);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (og_table_editor_parent_class)->dispose (object);
}

static void
og_table_editor_finalize (GObject *object)
{
  OgTableEditor *self = OG_TABLE_EDITOR (object);

  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->groups);

  G_OBJECT_CLASS (og_table_editor_parent_class)->finalize (object);
}

static void
og_table_editor_class_init (OgTableEditorClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->dispose = og_table_editor_dispose;
  object_class->finalize = og_table_editor_finalize;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "tableeditor");
}

static void
og_table_editor_init (OgTableEditor *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), SPACING);
  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) row_free);
  self->groups = g_ptr_array_new_with_free_func (g_object_unref);
}

GtkWidget *
og_table_editor_new (const OgTableColumn *columns,
                     guint                n_columns,
                     const char          *add_label)
{
  OgTableEditor *self = g_object_new (OG_TYPE_TABLE_EDITOR, NULL);

  self->columns = columns;
  self->n_columns = n_columns;
  add_titles (self);
  self->rows_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, SPACING);
  gtk_widget_set_parent (self->rows_box, GTK_WIDGET (self));
  self->add_button = gtk_button_new_with_label (add_label);
  gtk_widget_set_halign (self->add_button, GTK_ALIGN_START);
  g_signal_connect_swapped (self->add_button, "clicked", G_CALLBACK (og_table_editor_add_row),
                            self);
  gtk_widget_set_parent (self->add_button, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}
