/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/grid-drop.h"
#include "gtk/design/grid-view.h"

#define GOAL_TRIES 30

struct _OgGridView
{
  OgDocumentPage parent_instance;

  /* template */
  GtkWidget *overlay;
  GtkWidget *scroller;
  GtkWidget *column_view;
  GtkWidget *placeholder;

  OgDocument *document; /* nullable, borrowed from the parent */
  OgGridTable table;
  OgGridDrop drop;
  GtkRoot *root;
  gulong focus_handler;
  char *problem;

  guint goal_id; /* where the focus is to go once the cell exists */
  OgGridColumn goal_column;
  guint goal_tick;
  guint goal_tries;

  GtkWidget *popover;
};

G_DEFINE_FINAL_TYPE (OgGridView, og_grid_view, OG_TYPE_DOCUMENT_PAGE)

enum
{
  PROP_0,
  PROP_CURRENT_ID,
  PROP_PROBLEM,
  PROP_RULE,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];
static guint leave_signal;

/* Rows */

static OgRow *
find_row (OgGridView *self,
          guint       id,
          guint      *position)
{
  if (self->table.lines == NULL || id == 0)
    return NULL;
  return og_lines_model_find (self->table.lines, id, position);
}

static gboolean
is_line (OgRow *row)
{
  return row != NULL && og_row_get_kind (row) == OG_ROW_LINE;
}

static void
mark_current (OgGridView *self,
              guint       id,
              gboolean    current)
{
  GtkWidget *row = id != 0 ? og_grid_table_lookup_row (&self->table, id) : NULL;

  if (row == NULL)
    return;
  if (current)
    gtk_widget_add_css_class (row, "current");
  else
    gtk_widget_remove_css_class (row, "current");
}

static void
set_current (OgGridView *self,
             guint       id)
{
  if (self->table.current_id == id)
    return;
  mark_current (self, self->table.current_id, FALSE);
  self->table.current_id = id;
  mark_current (self, id, TRUE);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_CURRENT_ID]);
}

static void
set_problem (gpointer    data,
             const char *problem)
{
  OgGridView *self = data;

  if (g_strcmp0 (problem, self->problem) == 0)
    return;
  g_free (self->problem);
  self->problem = g_strdup (problem);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PROBLEM]);
}

OgRow *
og_grid_view_get_current (OgGridView *self)
{
  g_return_val_if_fail (OG_IS_GRID_VIEW (self), NULL);

  return find_row (self, self->table.current_id, NULL);
}

GtkWidget *
og_grid_view_lookup_row (OgGridView *self,
                         guint       id)
{
  g_return_val_if_fail (OG_IS_GRID_VIEW (self), NULL);

  return og_grid_table_lookup_row (&self->table, id);
}

guint
og_grid_view_get_neighbour (OgGridView *self,
                            guint       id)
{
  OgRow *row;
  guint position;

  g_return_val_if_fail (OG_IS_GRID_VIEW (self), 0);

  if (find_row (self, id, &position) == NULL)
    return 0;
  row = og_grid_table_get_row (&self->table, position + 1);
  if (!is_line (row) && position > 0)
    row = og_grid_table_get_row (&self->table, position - 1);
  return row != NULL ? og_row_get_id (row) : 0;
}

static void
on_items_changed (OgGridView *self)
{
  gtk_widget_set_visible (self->placeholder, og_grid_table_n_rows (&self->table) == 0);
  if (self->table.current_id != 0 && find_row (self, self->table.current_id, NULL) == NULL)
    set_current (self, 0);
}

/* Focus */

static gboolean
try_goal (OgGridView *self)
{
  GtkWidget *target = og_grid_table_lookup (&self->table, self->goal_id, self->goal_column);

  if (target == NULL || !gtk_widget_get_mapped (target))
    return FALSE;
  return gtk_widget_grab_focus (target);
}

static gboolean
on_goal_tick (GtkWidget     *widget,
              GdkFrameClock *clock,
              gpointer       data)
{
  OgGridView *self = OG_GRID_VIEW (widget);

  if (!try_goal (self) && ++self->goal_tries < GOAL_TRIES)
    return G_SOURCE_CONTINUE;
  self->goal_tick = 0;
  return G_SOURCE_REMOVE;
}

static void
drop_goal (OgGridView *self)
{
  if (self->goal_tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->goal_tick);
  self->goal_tick = 0;
}

static GtkWidget *
get_list (OgGridView *self)
{
  for (GtkWidget *child = gtk_widget_get_first_child (self->column_view);
       child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      if (GTK_IS_LIST_VIEW (child))
        return child;
    }
  return NULL;
}

static void
show_position (OgGridView *self,
               guint       position)
{
  GtkWidget *list = get_list (self);

  if (list != NULL)
    gtk_widget_activate_action (list, "list.scroll-to-item", "u", position);
}

static void
aim (OgGridView   *self,
     guint         id,
     OgGridColumn  column)
{
  guint position;

  if (find_row (self, id, &position) == NULL)
    return;
  set_current (self, id);
  drop_goal (self);
  show_position (self, position);
  self->goal_id = id;
  self->goal_column = column;
  self->goal_tries = 0;
  self->goal_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_goal_tick, NULL, NULL);
}

void
og_grid_view_go_to (OgGridView   *self,
                    guint         id,
                    OgGridColumn  column)
{
  g_return_if_fail (OG_IS_GRID_VIEW (self));

  aim (self, id, column);
  if (self->goal_tick != 0 && self->goal_id == id && try_goal (self))
    drop_goal (self);
}

gboolean
og_grid_view_focus (OgGridView *self)
{
  OgRow *row;

  g_return_val_if_fail (OG_IS_GRID_VIEW (self), FALSE);

  row = og_grid_view_get_current (self);
  for (guint i = 0; row == NULL && i < og_grid_table_n_rows (&self->table); i++)
    if (is_line (og_grid_table_get_row (&self->table, i)))
      row = og_grid_table_get_row (&self->table, i);
  if (row == NULL)
    row = og_grid_table_get_row (&self->table, 0);
  if (row == NULL)
    return FALSE;
  og_grid_view_go_to (self, og_row_get_id (row), OG_COLUMN_MATERIAL);
  return TRUE;
}

/* The cells of a row in reading order; Tab halts at some of them, the arrow keys at all. */
typedef struct
{
  OgGridColumn column;
  gboolean     tab;
} Stop;

static const Stop line_stops[] = {
  { OG_COLUMN_MATERIAL, FALSE }, { OG_COLUMN_PERCENT, TRUE }, { OG_COLUMN_GRAMS, TRUE },
  { OG_COLUMN_RULE, TRUE },      { OG_COLUMN_MENU, FALSE },
};
static const Stop phase_stops[] = {
  { OG_COLUMN_MATERIAL, TRUE }, { OG_COLUMN_TEMPERATURE, TRUE },
  { OG_COLUMN_RULE, TRUE },     { OG_COLUMN_MENU, FALSE },
};

static const Stop *
get_stops (OgRow *row,
           int   *n)
{
  *n = is_line (row) ? G_N_ELEMENTS (line_stops) : G_N_ELEMENTS (phase_stops);
  return is_line (row) ? line_stops : phase_stops;
}

static int
find_stop (OgRow        *row,
           OgGridColumn  column)
{
  int n;
  const Stop *stops = get_stops (row, &n);

  for (int i = 0; i < n; i++)
    if (stops[i].column == column)
      return i;
  return 0;
}

/* The next cell of the same row. Returns: FALSE past either end */
static gboolean
go_beside (OgGridView   *self,
           OgRow        *row,
           OgGridColumn  column,
           int           step)
{
  int n;
  const Stop *stops = get_stops (row, &n);
  int i = find_stop (row, column) + step;

  if (i < 0 || i >= n)
    return FALSE;
  og_grid_view_go_to (self, og_row_get_id (row), stops[i].column);
  return TRUE;
}

/* The next cell for Tab, on or back along the rows of the model. Returns: FALSE past either end */
static gboolean
go_along (OgGridView   *self,
          OgRow        *row,
          OgGridColumn  column,
          int           step)
{
  guint position;
  int n;
  const Stop *stops = get_stops (row, &n);
  int i = find_stop (row, column) + step;

  if (find_row (self, og_row_get_id (row), &position) == NULL)
    return FALSE;
  while (TRUE)
    {
      for (; i >= 0 && i < n; i += step)
        if (stops[i].tab)
          {
            og_grid_view_go_to (self, og_row_get_id (row), stops[i].column);
            return TRUE;
          }
      if (i < 0 && position == 0)
        return FALSE;
      position = i < 0 ? position - 1 : position + 1;
      row = og_grid_table_get_row (&self->table, position);
      if (row == NULL)
        return FALSE;
      stops = get_stops (row, &n);
      i = i < 0 ? n - 1 : 0;
    }
}

/* The next row up or down that has this column. */
static gboolean
go_across (OgGridView   *self,
           OgRow        *row,
           OgGridColumn  column,
           int           step)
{
  guint position;

  if (find_row (self, og_row_get_id (row), &position) == NULL)
    return FALSE;
  while (step > 0 || position > 0)
    {
      position = (guint) ((int) position + step);
      row = og_grid_table_get_row (&self->table, position);
      if (row == NULL)
        return FALSE;
      if (is_line (row) || column == OG_COLUMN_MATERIAL || column == OG_COLUMN_MENU)
        {
          if (column == OG_COLUMN_TEMPERATURE)
            column = OG_COLUMN_PERCENT;
          og_grid_view_go_to (self, og_row_get_id (row), column);
          return TRUE;
        }
    }
  return FALSE;
}

static gboolean
on_enter (OgGridView   *self,
          OgRow        *row,
          OgGridColumn  column,
          OgCellEntry  *entry,
          int           step)
{
  if (entry == NULL)
    {
      if (column != OG_COLUMN_MATERIAL || !is_line (row))
        return GDK_EVENT_PROPAGATE;
      og_grid_view_go_to (self, og_row_get_id (row), OG_COLUMN_PERCENT);
      return GDK_EVENT_STOP;
    }
  if (!is_line (row))
    return GDK_EVENT_PROPAGATE;
  if (og_cell_entry_commit (entry) && !go_across (self, row, column, step))
    gtk_editable_select_region (GTK_EDITABLE (entry), 0, -1);
  return GDK_EVENT_STOP;
}

static gboolean
on_tab (OgGridView   *self,
        OgRow        *row,
        OgGridColumn  column,
        gboolean      back)
{
  gboolean handled = FALSE;

  if (go_along (self, row, column, back ? -1 : 1))
    return GDK_EVENT_STOP;
  g_signal_emit (self, leave_signal, 0,
                 back ? GTK_DIR_TAB_BACKWARD : GTK_DIR_TAB_FORWARD, &handled);
  return handled;
}

/* Whether the cursor of a text cannot go further to this side; one that was only just entered is all selected. */
static gboolean
is_at_end (OgCellEntry *entry,
           gboolean     left)
{
  GtkEditable *editable = GTK_EDITABLE (entry);
  const char *text = gtk_editable_get_text (editable);
  const int length = (int) g_utf8_strlen (text, -1);
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (entry), text);
  int start;
  int end;

  if (pango_layout_get_direction (layout, 0) == PANGO_DIRECTION_RTL)
    left = !left;
  if (!gtk_editable_get_selection_bounds (editable, &start, &end))
    return gtk_editable_get_position (editable) == (left ? 0 : length);
  return start == 0 && end == length;
}

static gboolean
on_side_key (OgGridView   *self,
             OgRow        *row,
             OgGridColumn  column,
             OgCellEntry  *entry,
             gboolean      left)
{
  gboolean rtl = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;

  if (entry != NULL && !is_at_end (entry, left))
    return GDK_EVENT_PROPAGATE;
  go_beside (self, row, column, left == rtl ? 1 : -1);
  return GDK_EVENT_STOP;
}

static gboolean
on_key_pressed (OgGridView      *self,
                guint            keyval,
                guint            keycode,
                GdkModifierType  state)
{
  GtkWidget *focus = self->root != NULL ? gtk_root_get_focus (self->root) : NULL;
  OgCellEntry *entry = og_cell_entry_focused (self->root);
  OgGridColumn column;
  OgRow *row = focus != NULL ? og_grid_table_locate (&self->table, focus, &column) : NULL;
  gboolean shift = (state & GDK_SHIFT_MASK) != 0;

  if (row == NULL || (state & (GDK_ALT_MASK | GDK_CONTROL_MASK)) != 0
      || gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) != NULL)
    return GDK_EVENT_PROPAGATE;

  switch (keyval)
    {
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
    case GDK_KEY_ISO_Left_Tab:
      return on_tab (self, row, column, shift || keyval == GDK_KEY_ISO_Left_Tab);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      return on_enter (self, row, column, entry, shift ? -1 : 1);
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      go_across (self, row, column, -1);
      return GDK_EVENT_STOP;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      go_across (self, row, column, 1);
      return GDK_EVENT_STOP;
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      return shift ? GDK_EVENT_PROPAGATE
                   : on_side_key (self, row, column, entry,
                                  keyval == GDK_KEY_Left || keyval == GDK_KEY_KP_Left);
    case GDK_KEY_Menu:
      og_grid_view_popup_menu (self);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

static void
on_focus_widget (OgGridView *self)
{
  GtkWidget *focus = gtk_root_get_focus (self->root);
  OgGridColumn column;
  OgRow *row = focus != NULL ? og_grid_table_locate (&self->table, focus, &column) : NULL;

  if (row != NULL)
    set_current (self, og_row_get_id (row));
}

/* A popover that closes gives the focus back to the widget it belongs to. */
static gboolean
og_grid_view_grab_focus (GtkWidget *widget)
{
  return og_grid_view_focus (OG_GRID_VIEW (widget));
}

static void
og_grid_view_root (GtkWidget *widget)
{
  OgGridView *self = OG_GRID_VIEW (widget);

  GTK_WIDGET_CLASS (og_grid_view_parent_class)->root (widget);
  self->root = gtk_widget_get_root (widget);
  self->focus_handler = g_signal_connect_swapped (self->root, "notify::focus-widget",
                                                  G_CALLBACK (on_focus_widget), self);
}

static void
og_grid_view_unroot (GtkWidget *widget)
{
  OgGridView *self = OG_GRID_VIEW (widget);

  drop_goal (self);
  g_clear_signal_handler (&self->focus_handler, self->root);
  self->root = NULL;
  GTK_WIDGET_CLASS (og_grid_view_parent_class)->unroot (widget);
}

/* Acts on rows */

/* What decides the amount of the line in hand, by the words of the menu; the rest by its parts. */
static const char *const rest_rules[] = { "rest", "rest-2", "rest-3" };

static const char *
get_rule (OgGridView *self)
{
  OgRow *row = og_grid_view_get_current (self);
  guint share;

  if (!is_line (row))
    return NULL;
  share = og_row_get_balance_share (row);
  if (share == 0)
    return og_row_get_held (row) ? "held" : "typed";
  return share <= G_N_ELEMENTS (rest_rules) ? rest_rules[share - 1] : NULL;
}

static void
set_rule (OgGridView *self,
          const char *rule)
{
  OgRow *row = og_grid_view_get_current (self);

  if (!is_line (row) || rule == NULL)
    return;
  if (g_str_equal (rule, "typed"))
    og_document_set_line_balance (self->document, og_row_get_id (row), 0);
  if (g_str_equal (rule, "held"))
    og_document_set_line_held (self->document, og_row_get_id (row), TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (rest_rules); i++)
    if (g_str_equal (rule, rest_rules[i]))
      og_document_set_line_balance (self->document, og_row_get_id (row), i + 1);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_RULE]);
}

void
og_grid_view_toggle_balance (OgGridView *self,
                             guint       line_id)
{
  OgRow *row;

  g_return_if_fail (OG_IS_GRID_VIEW (self));

  row = find_row (self, line_id, NULL);
  if (is_line (row))
    og_document_set_line_balance (self->document, line_id,
                                  og_row_get_balance_share (row) > 0 ? 0 : 1);
}

void
og_grid_view_toggle_hold (OgGridView *self,
                          guint       line_id)
{
  OgRow *row;

  g_return_if_fail (OG_IS_GRID_VIEW (self));

  row = find_row (self, line_id, NULL);
  if (is_line (row))
    og_document_set_line_held (self->document, line_id, !og_row_get_held (row));
}

/* Where a line goes when it takes one step: over the next line, or over a phase header into the
 * phase beyond. */
static guint
get_step_place (OgGridView *self,
                OgRow      *row,
                guint       position,
                int         step,
                guint      *index)
{
  OgRow *next;
  guint phase_id;

  if (step < 0 && position < 2)
    return 0; /* only the first header stands above */
  next = og_grid_table_get_row (&self->table, (guint) ((int) position + step));
  if (next == NULL)
    return 0;
  if (step < 0)
    return og_grid_table_get_place (&self->table, position - 1, index);
  phase_id = og_grid_table_get_place (&self->table, position + 2, index);
  if (is_line (next))
    (*index)--; /* counts without the line itself */
  return phase_id;
}

static gboolean
find_phase_step (OgGridView *self,
                 guint       phase_id,
                 int         step,
                 guint      *position)
{
  const OgFormula *formula = og_document_get_formula (self->document);

  if (og_formula_find_phase (formula, phase_id, position) == NULL)
    return FALSE;
  if (step < 0 ? *position == 0 : *position + 1 >= formula->phases->len)
    return FALSE;
  *position = (guint) ((int) *position + step);
  return TRUE;
}

gboolean
og_grid_view_can_move (OgGridView *self,
                       guint       id,
                       int         step)
{
  OgRow *row;
  guint position;
  guint index;

  g_return_val_if_fail (OG_IS_GRID_VIEW (self), FALSE);

  row = find_row (self, id, &position);
  if (row == NULL)
    return FALSE;
  if (!is_line (row))
    return find_phase_step (self, id, step, &index);
  return get_step_place (self, row, position, step, &index) != 0;
}

gboolean
og_grid_view_move (OgGridView *self,
                   guint       id,
                   int         step)
{
  GtkWidget *focus;
  OgGridColumn column = OG_COLUMN_MATERIAL;
  OgRow *row;
  guint position;
  guint phase_id;
  guint index;
  gboolean moved;

  g_return_val_if_fail (OG_IS_GRID_VIEW (self), FALSE);

  row = find_row (self, id, &position);
  if (row == NULL)
    return FALSE;
  focus = self->root != NULL ? gtk_root_get_focus (self->root) : NULL;
  if (focus != NULL)
    og_grid_table_locate (&self->table, focus, &column);

  if (!is_line (row))
    moved = find_phase_step (self, id, step, &index)
            && og_document_move_phase (self->document, id, index);
  else
    {
      phase_id = get_step_place (self, row, position, step, &index);
      moved = phase_id != 0 && og_document_move_line (self->document, id, phase_id, index);
    }
  if (moved)
    og_grid_view_go_to (self, id, column);
  return moved;
}

guint
og_grid_view_add_material (OgGridView *self,
                           const char *ingredient_id)
{
  OgRow *row;
  guint position;
  guint phase_id = 0;
  guint index = G_MAXUINT;
  guint id;

  g_return_val_if_fail (OG_IS_GRID_VIEW (self), 0);

  row = find_row (self, self->table.current_id, &position);
  if (row != NULL && is_line (row))
    phase_id = og_grid_table_get_place (&self->table, position + 1, &index);
  else if (row != NULL)
    phase_id = og_row_get_id (row);
  id = og_document_add_line (self->document, ingredient_id, phase_id, index);
  if (id != 0)
    aim (self, id, OG_COLUMN_PERCENT); /* the sender may still handle its own focus */
  return id;
}

static void
revert_cell (gpointer key,
             gpointer value,
             gpointer data)
{
  if (OG_IS_CELL_ENTRY (value))
    og_cell_entry_revert (value);
  else if (OG_IS_NAME_CELL (value))
    {
      og_cell_entry_revert (og_name_cell_get_phase_entry (value));
      og_cell_entry_revert (og_name_cell_get_temperature_entry (value));
    }
}

void
og_grid_view_revert (OgGridView *self)
{
  g_return_if_fail (OG_IS_GRID_VIEW (self));

  for (int i = 0; i < OG_N_COLUMNS; i++)
    g_hash_table_foreach (self->table.cells[i], revert_cell, NULL);
}

/* Menu */

static void
popup_at (OgGridView         *self,
          OgRow              *row,
          const GdkRectangle *place)
{
  g_autoptr (GMenuModel) menu = og_grid_table_build_menu (&self->table, row);

  if (self->popover == NULL)
    {
      self->popover = gtk_popover_menu_new_from_model (NULL);
      gtk_popover_set_has_arrow (GTK_POPOVER (self->popover), FALSE);
      gtk_widget_set_halign (self->popover, GTK_ALIGN_START);
      gtk_widget_set_parent (self->popover, GTK_WIDGET (self));
    }
  gtk_popover_menu_set_menu_model (GTK_POPOVER_MENU (self->popover), menu);
  gtk_popover_set_pointing_to (GTK_POPOVER (self->popover), place);
  gtk_popover_popup (GTK_POPOVER (self->popover));
}

void
og_grid_view_popup_menu (OgGridView *self)
{
  graphene_rect_t bounds;
  GtkWidget *row_widget;
  OgRow *row;

  g_return_if_fail (OG_IS_GRID_VIEW (self));

  row = og_grid_view_get_current (self);
  row_widget = og_grid_table_lookup_row (&self->table, self->table.current_id);
  if (row == NULL || row_widget == NULL
      || !gtk_widget_compute_bounds (row_widget, GTK_WIDGET (self), &bounds))
    return;
  popup_at (self, row,
            &(GdkRectangle) { (int) (bounds.origin.x + bounds.size.width / 4),
                              (int) (bounds.origin.y + bounds.size.height), 1, 1 });
}

static void
on_secondary_press (OgGridView      *self,
                    int              n_press,
                    double           x,
                    double           y,
                    GtkGestureClick *gesture)
{
  GtkWidget *hit = gtk_widget_pick (GTK_WIDGET (self), x, y, GTK_PICK_DEFAULT);
  OgGridColumn column;
  OgRow *row = hit != NULL ? og_grid_table_locate (&self->table, hit, &column) : NULL;

  if (row == NULL || gtk_widget_get_ancestor (hit, GTK_TYPE_TEXT) != NULL)
    return; /* text has a menu of its own */
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  set_current (self, og_row_get_id (row));
  popup_at (self, row, &(GdkRectangle) { (int) x, (int) y, 1, 1 });
}

/* Object */

static void
act_add_below (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  set_current (OG_GRID_VIEW (widget), g_variant_get_uint32 (parameter));
  gtk_widget_activate_action (widget, "win.find-material", NULL);
}

static void
act_take (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  set_current (OG_GRID_VIEW (widget), g_variant_get_uint32 (parameter));
}

static void
act_go_to (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  guint id;
  guint column;

  g_variant_get (parameter, "(uu)", &id, &column);
  og_grid_view_go_to (OG_GRID_VIEW (widget), id, (OgGridColumn) column);
}

static void
og_grid_view_follow (OgDocumentPage *page,
                     OgDocument     *document)
{
  OgGridView *self = OG_GRID_VIEW (page);
  g_autoptr (GtkSelectionModel) selection = NULL;

  self->document = document;
  self->table.document = document;
  g_clear_object (&self->table.lines);
  set_current (self, 0);
  if (document != NULL)
    {
      self->table.lines = og_lines_model_new (document);
      g_signal_connect_object (self->table.lines, "items-changed", G_CALLBACK (on_items_changed),
                               self, G_CONNECT_SWAPPED);
      selection = GTK_SELECTION_MODEL (
        gtk_no_selection_new (g_object_ref (G_LIST_MODEL (self->table.lines))));
    }
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->column_view), selection);
  on_items_changed (self);
}

static void
og_grid_view_get_property (GObject    *object,
                           guint       id,
                           GValue     *value,
                           GParamSpec *pspec)
{
  OgGridView *self = OG_GRID_VIEW (object);

  switch (id)
    {
    case PROP_CURRENT_ID:
      g_value_set_uint (value, self->table.current_id);
      break;
    case PROP_PROBLEM:
      g_value_set_string (value, self->problem);
      break;
    case PROP_RULE:
      g_value_set_string (value, get_rule (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_grid_view_set_property (GObject      *object,
                           guint         id,
                           const GValue *value,
                           GParamSpec   *pspec)
{
  switch (id)
    {
    case PROP_RULE:
      set_rule (OG_GRID_VIEW (object), g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_grid_view_dispose (GObject *object)
{
  OgGridView *self = OG_GRID_VIEW (object);
  GtkWidget *popover;

  og_grid_table_leave (&self->table);
  og_document_page_leave (OG_DOCUMENT_PAGE (self));
  self->document = NULL;
  g_clear_pointer (&self->popover, gtk_widget_unparent);
  gtk_widget_dispose_template (GTK_WIDGET (self), OG_TYPE_GRID_VIEW);
  while ((popover = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (popover);

  G_OBJECT_CLASS (og_grid_view_parent_class)->dispose (object);
}

static void
og_grid_view_finalize (GObject *object)
{
  OgGridView *self = OG_GRID_VIEW (object);

  og_grid_table_clear (&self->table);
  g_free (self->problem);

  G_OBJECT_CLASS (og_grid_view_parent_class)->finalize (object);
}

static void
og_grid_view_class_init (OgGridViewClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->get_property = og_grid_view_get_property;
  object_class->set_property = og_grid_view_set_property;
  object_class->dispose = og_grid_view_dispose;
  OG_DOCUMENT_PAGE_CLASS (class)->follow = og_grid_view_follow;
  object_class->finalize = og_grid_view_finalize;
  widget_class->grab_focus = og_grid_view_grab_focus;
  widget_class->root = og_grid_view_root;
  widget_class->unroot = og_grid_view_unroot;

  properties[PROP_CURRENT_ID] =
    g_param_spec_uint ("current-id", NULL, NULL, 0, G_MAXUINT, 0,
                       G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_PROBLEM] =
    g_param_spec_string ("problem", NULL, NULL, NULL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  properties[PROP_RULE] =
    g_param_spec_string ("rule", NULL, NULL, NULL,
                         G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  leave_signal =
    g_signal_new ("leave", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                  g_signal_accumulator_true_handled, NULL, NULL,
                  G_TYPE_BOOLEAN, 1, GTK_TYPE_DIRECTION_TYPE);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/org/oleograph/Oleograph/grid-view.ui");
  gtk_widget_class_bind_template_child (widget_class, OgGridView, overlay);
  gtk_widget_class_bind_template_child (widget_class, OgGridView, scroller);
  gtk_widget_class_bind_template_child (widget_class, OgGridView, column_view);
  gtk_widget_class_bind_template_child (widget_class, OgGridView, placeholder);

  gtk_widget_class_install_property_action (widget_class, "grid.rule", "rule");
  gtk_widget_class_install_action (widget_class, "grid.add-below", "u", act_add_below);
  gtk_widget_class_install_action (widget_class, "grid.take", "u", act_take);
  gtk_widget_class_install_action (widget_class, "grid.go-to", "(uu)", act_go_to);
}

static void
og_grid_view_init (OgGridView *self)
{
  GtkEventController *keys;
  GtkGesture *click;

  gtk_widget_init_template (GTK_WIDGET (self));
  og_grid_table_init (&self->table, self->column_view, set_problem, self);
  og_grid_drop_init (&self->drop, GTK_WIDGET (self), self->scroller, &self->table);

  keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (on_key_pressed), self);
  gtk_widget_add_controller (self->column_view, keys);

  click = gtk_gesture_click_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_SECONDARY);
  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (click), GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_secondary_press), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
og_grid_view_new (void)
{
  return g_object_new (OG_TYPE_GRID_VIEW, NULL);
}
