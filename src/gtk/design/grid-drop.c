/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/grid-view-private.h"
#include "gtk/parts/drag-payload.h"

#define EDGE_PX 28.0
#define EDGE_STEP_PX 14.0

static void
set_mark (OgGridView *self,
          GtkWidget  *row,
          gboolean    below)
{
  if (self->drop_row != NULL)
    {
      gtk_widget_remove_css_class (self->drop_row, "drop-above");
      gtk_widget_remove_css_class (self->drop_row, "drop-below");
      g_object_remove_weak_pointer (G_OBJECT (self->drop_row), (gpointer *) &self->drop_row);
    }
  self->drop_row = row;
  if (row != NULL)
    {
      gtk_widget_add_css_class (row, below ? "drop-below" : "drop-above");
      g_object_add_weak_pointer (G_OBJECT (row), (gpointer *) &self->drop_row);
    }
}

/* The gap between rows under the pointer, as the position of the row after it. */
static guint
find_gap (OgGridView *self,
          double      y,
          GtkWidget **row_widget,
          gboolean   *below)
{
  guint n = self->lines != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->lines)) : 0;
  guint gap = n;

  *row_widget = NULL;
  *below = TRUE;
  for (guint i = 0; i < n; i++)
    {
      OgRow *row = og_grid_view_get_row (self, i);
      GtkWidget *widget = og_grid_view_lookup_row (self, og_row_get_id (row));
      graphene_rect_t bounds;

      if (widget == NULL || !gtk_widget_get_mapped (widget)
          || !gtk_widget_compute_bounds (widget, self->column_view, &bounds))
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
scroll_at_edge (OgGridView *self,
                double      y)
{
  GtkAdjustment *adjustment =
    gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  double step = 0.0;

  if (y > gtk_widget_get_height (self->column_view) - EDGE_PX)
    step = EDGE_STEP_PX;
  else if (y < 2 * EDGE_PX) /* the column titles stand above the rows */
    step = -EDGE_STEP_PX;
  if (step != 0.0)
    gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + step);
}

static GdkDragAction
on_motion (OgGridView *self,
           double      x,
           double      y)
{
  GtkWidget *row;
  gboolean below;

  scroll_at_edge (self, y);
  find_gap (self, y, &row, &below);
  set_mark (self, row, below);
  gtk_widget_add_css_class (GTK_WIDGET (self), "dropping");
  return GDK_ACTION_COPY;
}

static void
on_leave (OgGridView *self)
{
  set_mark (self, NULL, FALSE);
  gtk_widget_remove_css_class (GTK_WIDGET (self), "dropping");
}

static gboolean
drop_line (OgGridView *self,
           guint       line_id,
           guint       gap)
{
  OgFormulaPhase *phase;
  guint from;
  guint index;
  guint phase_id = og_grid_view_get_place (self, gap, &index);

  if (og_formula_find_line (og_document_get_formula (self->document), line_id, &phase, &from)
      == NULL)
    return FALSE;
  if (phase->id == phase_id && from < index)
    index--; /* counts without the line itself */
  og_document_move_line (self->document, line_id, phase_id, index);
  og_grid_view_go_to (self, line_id, OG_COLUMN_MATERIAL);
  return TRUE;
}

static gboolean
drop_phase (OgGridView *self,
            guint       phase_id,
            guint       gap)
{
  const OgFormula *formula = og_document_get_formula (self->document);
  guint from;
  guint to;
  guint index;
  guint over = og_grid_view_get_place (self, gap, &index);

  if (og_formula_find_phase (formula, phase_id, &from) == NULL
      || og_formula_find_phase (formula, over, &to) == NULL)
    return FALSE;
  og_document_move_phase (self->document, phase_id, to);
  og_grid_view_go_to (self, phase_id, OG_COLUMN_MATERIAL);
  return TRUE;
}

static gboolean
drop_material (OgGridView *self,
               const char *ingredient_id,
               guint       gap)
{
  guint index;
  guint phase_id = og_grid_view_get_place (self, gap, &index);
  guint id = og_document_add_line (self->document, ingredient_id, phase_id, index);

  if (id != 0)
    og_grid_view_go_to (self, id, OG_COLUMN_PERCENT);
  return id != 0;
}

static gboolean
on_drop (OgGridView   *self,
         const GValue *value,
         double        x,
         double        y)
{
  const OgIngredientDrag *drag = g_value_get_boxed (value);
  GtkWidget *row;
  gboolean below;
  guint gap = find_gap (self, y, &row, &below);

  on_leave (self);
  if (drag == NULL || self->document == NULL)
    return FALSE;
  if (drag->kind == OG_DRAG_LINE && drag->origin == self->document)
    return drop_line (self, drag->id, gap);
  if (drag->kind == OG_DRAG_PHASE)
    return drag->origin == self->document && drop_phase (self, drag->id, gap);
  return drag->ingredient_id != NULL && drop_material (self, drag->ingredient_id, gap);
}

void
og_grid_view_add_drop (OgGridView *self)
{
  GtkDropTarget *target = gtk_drop_target_new (OG_TYPE_INGREDIENT_DRAG, GDK_ACTION_COPY);

  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (target), GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (target, "enter", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (target, "motion", G_CALLBACK (on_motion), self);
  g_signal_connect_swapped (target, "leave", G_CALLBACK (on_leave), self);
  g_signal_connect_swapped (target, "drop", G_CALLBACK (on_drop), self);
  gtk_widget_add_controller (GTK_WIDGET (self->column_view), GTK_EVENT_CONTROLLER (target));
}

static OgRow *
get_dragged_row (GtkDragSource  *source,
                 OgGridView    **grid)
{
  GtkWidget *widget = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (source));
  OgGridColumn column;

  *grid = OG_GRID_VIEW (gtk_widget_get_ancestor (widget, OG_TYPE_GRID_VIEW));
  return *grid != NULL ? og_grid_view_locate (*grid, widget, &column) : NULL;
}

static GdkContentProvider *
on_drag_prepare (GtkDragSource *source,
                 double         x,
                 double         y,
                 gpointer       data)
{
  OgGridView *self;
  OgRow *row = get_dragged_row (source, &self);

  if (row == NULL)
    return NULL;
  return og_ingredient_drag_for_row (og_row_get_kind (row) == OG_ROW_PHASE ? OG_DRAG_PHASE
                                                                           : OG_DRAG_LINE,
                                     og_row_get_id (row),
                                     og_row_get_ingredient_id (row),
                                     self->document);
}

static void
on_drag_begin (GtkDragSource *source,
               GdkDrag       *drag,
               gpointer       data)
{
  OgGridView *self;
  OgRow *row = get_dragged_row (source, &self);
  GtkWidget *label;

  if (row == NULL)
    return;
  label = gtk_label_new (og_row_get_name (row));
  gtk_widget_add_css_class (label, "drag-label");
  gtk_drag_icon_set_child (GTK_DRAG_ICON (gtk_drag_icon_get_for_drag (drag)), label);
}

void
og_grid_view_add_drag (OgGridView *self,
                       GtkWidget  *child)
{
  GtkDragSource *source = gtk_drag_source_new ();

  gtk_drag_source_set_actions (source, GDK_ACTION_COPY);
  g_signal_connect (source, "prepare", G_CALLBACK (on_drag_prepare), NULL);
  g_signal_connect (source, "drag-begin", G_CALLBACK (on_drag_begin), NULL);
  gtk_widget_add_controller (child, GTK_EVENT_CONTROLLER (source));
}
