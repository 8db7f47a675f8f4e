/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/grid-drop.h"
#include "gtk/parts/drag-payload.h"

#define EDGE_PX 28.0
#define EDGE_STEP_PX 14.0

static void
set_mark (OgGridDrop *self,
          GtkWidget  *row,
          gboolean    below)
{
  if (self->marked != NULL)
    {
      gtk_widget_remove_css_class (self->marked, "drop-above");
      gtk_widget_remove_css_class (self->marked, "drop-below");
      g_object_remove_weak_pointer (G_OBJECT (self->marked), (gpointer *) &self->marked);
    }
  self->marked = row;
  if (row != NULL)
    {
      gtk_widget_add_css_class (row, below ? "drop-below" : "drop-above");
      g_object_add_weak_pointer (G_OBJECT (row), (gpointer *) &self->marked);
    }
}

/* The gap between rows under the pointer, as the position of the row after it. */
static guint
find_gap (OgGridDrop *self,
          double      y,
          GtkWidget **row_widget,
          gboolean   *below)
{
  guint n = og_grid_table_n_rows (self->table);
  guint gap = n;

  *row_widget = NULL;
  *below = TRUE;
  for (guint i = 0; i < n; i++)
    {
      OgRow *row = og_grid_table_get_row (self->table, i);
      GtkWidget *widget = og_grid_table_lookup_row (self->table, og_row_get_id (row));
      graphene_rect_t bounds;

      if (widget == NULL || !gtk_widget_get_mapped (widget)
          || !gtk_widget_compute_bounds (widget, self->table->view, &bounds))
        continue;
      *row_widget = widget;
      gap = i + 1;
      if (y < bounds.origin.y + bounds.size.height)
        {
          /* nothing stands above the first header */
          *below = i == 0 || y > bounds.origin.y + bounds.size.height / 2;
          return *below ? i + 1 : i;
        }
    }
  return gap;
}

static void
scroll_at_edge (OgGridDrop *self,
                double      y)
{
  GtkAdjustment *adjustment =
    gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  double step = 0.0;

  if (y > gtk_widget_get_height (self->table->view) - EDGE_PX)
    step = EDGE_STEP_PX;
  else if (y < 2 * EDGE_PX) /* the column titles stand above the rows */
    step = -EDGE_STEP_PX;
  if (step != 0.0)
    gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + step);
}

static GdkDragAction
on_motion (OgGridDrop *self,
           double      x,
           double      y)
{
  GtkWidget *row;
  gboolean below;

  scroll_at_edge (self, y);
  find_gap (self, y, &row, &below);
  set_mark (self, row, below);
  gtk_widget_add_css_class (self->grid, "dropping");
  return GDK_ACTION_COPY;
}

static void
on_leave (OgGridDrop *self)
{
  set_mark (self, NULL, FALSE);
  gtk_widget_remove_css_class (self->grid, "dropping");
}

static void
go_to (OgGridDrop   *self,
       guint         id,
       OgGridColumn  column)
{
  gtk_widget_activate_action (self->grid, "grid.go-to", "(uu)", id, (guint) column);
}

static gboolean
drop_line (OgGridDrop *self,
           guint       line_id,
           guint       gap)
{
  OgFormulaPhase *phase;
  guint from;
  guint index;
  guint phase_id = og_grid_table_get_place (self->table, gap, &index);

  if (og_formula_find_line (og_document_get_formula (self->table->document), line_id, &phase, &from)
      == NULL)
    return FALSE;
  if (phase->id == phase_id && from < index)
    index--; /* counts without the line itself */
  og_document_move_line (self->table->document, line_id, phase_id, index);
  go_to (self, line_id, OG_COLUMN_MATERIAL);
  return TRUE;
}

static gboolean
drop_phase (OgGridDrop *self,
            guint       phase_id,
            guint       gap)
{
  const OgFormula *formula = og_document_get_formula (self->table->document);
  guint from;
  guint to;
  guint index;
  guint over = og_grid_table_get_place (self->table, gap, &index);

  if (og_formula_find_phase (formula, phase_id, &from) == NULL
      || og_formula_find_phase (formula, over, &to) == NULL)
    return FALSE;
  og_document_move_phase (self->table->document, phase_id, to);
  go_to (self, phase_id, OG_COLUMN_MATERIAL);
  return TRUE;
}

static gboolean
drop_material (OgGridDrop *self,
               const char *ingredient_id,
               guint       gap)
{
  guint index;
  guint phase_id = og_grid_table_get_place (self->table, gap, &index);
  guint id = og_document_add_line (self->table->document, ingredient_id, phase_id, index);

  if (id != 0)
    go_to (self, id, OG_COLUMN_PERCENT);
  return id != 0;
}

static gboolean
on_drop (OgGridDrop   *self,
         const GValue *value,
         double        x,
         double        y)
{
  const OgIngredientDrag *drag = g_value_get_boxed (value);
  GtkWidget *row;
  gboolean below;
  guint gap = find_gap (self, y, &row, &below);

  on_leave (self);
  if (drag == NULL || self->table->document == NULL)
    return FALSE;
  if (drag->kind == OG_DRAG_LINE && drag->origin == self->table->document)
    return drop_line (self, drag->id, gap);
  if (drag->kind == OG_DRAG_PHASE)
    return drag->origin == self->table->document && drop_phase (self, drag->id, gap);
  return drag->ingredient_id != NULL && drop_material (self, drag->ingredient_id, gap);
}

void
og_grid_drop_init (OgGridDrop  *self,
                   GtkWidget   *grid,
                   GtkWidget   *scroller,
                   OgGridTable *table)
{
  GtkDropTarget *target = gtk_drop_target_new (OG_TYPE_INGREDIENT_DRAG, GDK_ACTION_COPY);

  *self = (OgGridDrop) { .grid = grid, .scroller = scroller, .table = table };
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (target), GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (target, "enter", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (target, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (target, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect_swapped (target, "drop", G_CALLBACK (on_drop), self);
  gtk_widget_add_controller (self->table->view, GTK_EVENT_CONTROLLER (target));
}
