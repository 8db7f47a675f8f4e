/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/base/number-text.h"
#include "core/recipe/recipe-limits.h"
#include "gtk/design/grid-columns.h"
#include "gtk/parts/drag-payload.h"
#include "gtk/parts/labels.h"

/* The columns of the grid: what a cell is made of, how it shows a row, and what it asks of the
 * document. */

#define ROW_KEY "og-row"
#define COLUMN_KEY "og-column"
#define HANDLER_KEY "og-handler"
#define TABLE_KEY "og-table"

typedef void (*ShowFunc) (OgGridTable *self, GtkWidget *child, OgRow *row);

static OgRow *
get_bound_row (GtkWidget *child)
{
  return g_object_get_data (G_OBJECT (child), ROW_KEY);
}

static guint
get_bound_id (GtkWidget *child)
{
  OgRow *row = get_bound_row (child);

  return row != NULL ? og_row_get_id (row) : 0;
}

/* Returns: (nullable): NULL for a cell that does not lie in the grid any more */
static OgGridTable *
get_table (GtkWidget *child)
{
  GtkWidget *view = gtk_widget_get_ancestor (child, GTK_TYPE_COLUMN_VIEW);

  return view != NULL ? g_object_get_data (G_OBJECT (view), TABLE_KEY) : NULL;
}

static gboolean
is_phase (OgRow *row)
{
  return og_row_get_kind (row) == OG_ROW_PHASE;
}

/* Rows */

guint
og_grid_table_n_rows (OgGridTable *self)
{
  return self->lines != NULL ? g_list_model_get_n_items (G_LIST_MODEL (self->lines)) : 0;
}

OgRow *
og_grid_table_get_row (OgGridTable *self,
                       guint        position)
{
  g_autoptr (OgRow) row = NULL;

  if (self->lines == NULL)
    return NULL;
  row = g_list_model_get_item (G_LIST_MODEL (self->lines), position);
  return row; /* the model keeps it alive */
}

guint
og_grid_table_get_place (OgGridTable *self,
                         guint        position,
                         guint       *index)
{
  const guint n = og_grid_table_n_rows (self);
  guint i = MIN (position, n);

  *index = 0;
  while (i > 0)
    {
      OgRow *row = og_grid_table_get_row (self, --i);

      if (is_phase (row))
        return og_row_get_id (row);
      (*index)++;
    }
  return n > 0 ? og_row_get_id (og_grid_table_get_row (self, 0)) : 0;
}

/* Cells */

OgRow *
og_grid_table_locate (OgGridTable  *self,
                     GtkWidget    *widget,
                     OgGridColumn *column)
{
  for (GtkWidget *inner = widget;
       inner != NULL && inner != self->view;
       inner = gtk_widget_get_parent (inner))
    {
      OgRow *row = get_bound_row (inner);
      OgCellEntry *entry;

      if (row == NULL)
        continue;
      *column = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (inner), COLUMN_KEY));
      if (!OG_IS_NAME_CELL (inner))
        return row;
      entry = og_name_cell_get_temperature_entry (OG_NAME_CELL (inner));
      if (widget == GTK_WIDGET (entry) || gtk_widget_is_ancestor (widget, GTK_WIDGET (entry)))
        *column = OG_COLUMN_TEMPERATURE;
      return row;
    }
  return NULL;
}

static GtkWidget *
get_cell (OgGridTable  *self,
          guint         id,
          OgGridColumn  column)
{
  return g_hash_table_lookup (self->cells[column], GUINT_TO_POINTER (id));
}

static GtkWidget *
get_visible_button (OgChoiceCell *cell)
{
  GtkWidget *choice = og_choice_cell_get_choice (cell);

  return gtk_widget_get_visible (choice) ? choice : og_choice_cell_get_button (cell);
}

GtkWidget *
og_grid_table_lookup (OgGridTable  *self,
                     guint         id,
                     OgGridColumn  column)
{
  GtkWidget *child =
    get_cell (self, id, column == OG_COLUMN_TEMPERATURE ? OG_COLUMN_MATERIAL : column);

  if (child == NULL)
    return NULL;
  if (OG_IS_CHOICE_CELL (child))
    return get_visible_button (OG_CHOICE_CELL (child));
  if (!OG_IS_NAME_CELL (child) || !is_phase (get_bound_row (child)))
    return child;
  return GTK_WIDGET (column == OG_COLUMN_TEMPERATURE
                       ? og_name_cell_get_temperature_entry (OG_NAME_CELL (child))
                       : og_name_cell_get_phase_entry (OG_NAME_CELL (child)));
}

static GtkWidget *
get_row_widget (GtkWidget *child)
{
  GtkWidget *cell = gtk_widget_get_parent (child);

  return cell != NULL ? gtk_widget_get_parent (cell) : NULL;
}

GtkWidget *
og_grid_table_lookup_row (OgGridTable *self,
                         guint       id)
{
  GtkWidget *child = get_cell (self, id, OG_COLUMN_MATERIAL);

  return child != NULL ? get_row_widget (child) : NULL;
}

/* What is dragged */

static GdkContentProvider *
on_drag_prepare (GtkDragSource *source,
                 double         x,
                 double         y,
                 GtkWidget     *child)
{
  OgGridTable *table = get_table (child);
  OgRow *row = get_bound_row (child);

  if (table == NULL || row == NULL)
    return NULL;
  return og_ingredient_drag_for_row (is_phase (row) ? OG_DRAG_PHASE : OG_DRAG_LINE,
                                     og_row_get_id (row),
                                     og_row_get_ingredient_id (row),
                                     table->document);
}

static void
on_drag_begin (GtkDragSource *source,
               GdkDrag       *drag,
               GtkWidget     *child)
{
  OgRow *row = get_bound_row (child);
  GtkWidget *label;

  if (row == NULL)
    return;
  label = gtk_label_new (og_row_get_name (row));
  gtk_widget_add_css_class (label, "drag-label");
  gtk_drag_icon_set_child (GTK_DRAG_ICON (gtk_drag_icon_get_for_drag (drag)), label);
}

static void
add_drag (GtkWidget *child)
{
  GtkDragSource *source = gtk_drag_source_new ();

  gtk_drag_source_set_actions (source, GDK_ACTION_COPY);
  g_signal_connect (source, "prepare", G_CALLBACK (on_drag_prepare), child);
  g_signal_connect (source, "drag-begin", G_CALLBACK (on_drag_begin), child);
  gtk_widget_add_controller (child, GTK_EVENT_CONTROLLER (source));
}

/* Material */

static char *
on_phase_name (GtkWidget  *cell,
               const char *text)
{
  g_autofree char *name = g_strstrip (g_strdup (text));

  if (*name == '\0')
    return g_strdup (_("A phase needs a name."));
  og_document_rename_phase (get_table (cell)->document, get_bound_id (cell), name);
  return NULL;
}

char *
og_grid_temperature_problem (double temperature_c)
{
  g_autofree char *low = og_number_fixed (OG_RECIPE_LOWEST_TYPED_C, 0);
  g_autofree char *high = og_number_fixed (OG_RECIPE_HIGHEST_TYPED_C, 0);

  if (isnan (temperature_c)
      || (temperature_c >= OG_RECIPE_LOWEST_TYPED_C && temperature_c <= OG_RECIPE_HIGHEST_TYPED_C))
    return NULL;
  return g_strdup_printf (_("A temperature lies between %s and %s °C."), low, high);
}

static char *
on_phase_temperature (GtkWidget *cell,
                      double     value)
{
  char *problem = og_grid_temperature_problem (value);

  if (problem != NULL)
    return problem;
  og_document_set_phase_temperature (get_table (cell)->document, get_bound_id (cell), value);
  return NULL;
}

static const char *
get_cell_problem (GtkWidget *child)
{
  const char *problem;

  if (OG_IS_CELL_ENTRY (child))
    return og_cell_entry_get_problem (OG_CELL_ENTRY (child));
  if (!OG_IS_NAME_CELL (child))
    return NULL;
  problem = og_cell_entry_get_problem (og_name_cell_get_phase_entry (OG_NAME_CELL (child)));
  return problem != NULL
           ? problem
           : og_cell_entry_get_problem (og_name_cell_get_temperature_entry (OG_NAME_CELL (child)));
}

static const char *
find_problem (OgGridTable *self)
{
  for (int i = 0; i < OG_N_COLUMNS; i++)
    {
      GHashTableIter iter;
      gpointer child;

      g_hash_table_iter_init (&iter, self->cells[i]);
      while (g_hash_table_iter_next (&iter, NULL, &child))
        if (get_cell_problem (child) != NULL)
          return get_cell_problem (child);
    }
  return NULL;
}

/* The newest problem is told, or else any that is left. */
static void
on_problem (OgCellEntry *entry)
{
  OgGridTable *table = get_table (GTK_WIDGET (entry));
  const char *problem = og_cell_entry_get_problem (entry);

  if (table != NULL)
    table->problem (table->data, problem != NULL ? problem : find_problem (table));
}

static GtkWidget *
make_material (OgGridTable *self)
{
  GtkWidget *child = og_name_cell_new ();
  OgCellEntry *name = og_name_cell_get_phase_entry (OG_NAME_CELL (child));
  OgCellEntry *temperature = og_name_cell_get_temperature_entry (OG_NAME_CELL (child));

  g_signal_connect_swapped (name, "submit-text", G_CALLBACK (on_phase_name), child);
  g_signal_connect_swapped (temperature, "submit-number", G_CALLBACK (on_phase_temperature), child);
  g_signal_connect (name, "notify::problem", G_CALLBACK (on_problem), NULL);
  g_signal_connect (temperature, "notify::problem", G_CALLBACK (on_problem), NULL);
  add_drag (child);
  return child;
}

static void
show_material (OgGridTable *self,
               GtkWidget  *child,
               OgRow      *row)
{
  GtkWidget *row_widget = get_row_widget (child);

  og_name_cell_set_row (OG_NAME_CELL (child), row);
  if (row_widget == NULL)
    return;
  gtk_widget_remove_css_class (row_widget, "phase");
  gtk_widget_remove_css_class (row_widget, "current");
  if (row != NULL && is_phase (row))
    gtk_widget_add_css_class (row_widget, "phase");
  if (row != NULL && og_row_get_id (row) == self->current_id)
    gtk_widget_add_css_class (row_widget, "current");
  if (row != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (row_widget),
                                    GTK_ACCESSIBLE_PROPERTY_LABEL, og_row_get_name (row),
                                    -1);
}

/* Amounts */

static char *
on_percent (GtkWidget *cell,
            double     value)
{
  OgPpm ppm;

  if (!og_pct_to_ppm (value, &ppm))
    return g_strdup (_("A share lies between 0 and 100 %."));
  og_document_set_line_ppm (get_table (cell)->document, get_bound_id (cell), ppm);
  return NULL;
}

static char *
on_grams (GtkWidget *cell,
          double     value)
{
  OgDocument *document = get_table (cell)->document;
  const OgFormula *formula = og_document_get_formula (document);
  double batch_g = formula->batch_is_sum ? OG_RECIPE_MAX_BATCH_G : formula->batch_g;
  g_autofree char *batch = NULL;

  if (og_document_set_line_g (document, get_bound_id (cell), value)
      || (value >= 0.0 && value <= batch_g)) /* the same as before */
    return NULL;
  batch = og_number_to_text (batch_g, 0, 3);
  /* Translators: %s is the size of the batch in grams */
  return g_strdup_printf (_("An amount lies between 0 g and the whole batch of %s g."), batch);
}

static GtkWidget *
make_amount (const char *unit,
             GCallback   submit,
             const char *other_unit,
             GCallback   submit_other)
{
  GtkWidget *child = og_cell_entry_new (TRUE);

  g_object_set (child, "unit", unit, "other-unit", other_unit, NULL);
  gtk_entry_set_has_frame (GTK_ENTRY (child), FALSE);
  gtk_editable_set_width_chars (GTK_EDITABLE (child), 6);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (child), 8);
  gtk_widget_set_valign (child, GTK_ALIGN_CENTER);
  g_signal_connect (child, "submit-number", submit, NULL);
  g_signal_connect (child, "submit-other", submit_other, NULL);
  g_signal_connect (child, "notify::problem", G_CALLBACK (on_problem), NULL);
  return child;
}

static GtkWidget *
make_percent (OgGridTable *self)
{
  return make_amount ("%", G_CALLBACK (on_percent), "g", G_CALLBACK (on_grams));
}

static GtkWidget *
make_grams (OgGridTable *self)
{
  return make_amount ("g", G_CALLBACK (on_grams), "%", G_CALLBACK (on_percent));
}

static void
show_amount (GtkWidget  *child,
             OgRow      *row,
             double      value,
             guint       most,
             const char *label)
{
  gboolean computed = row != NULL && (is_phase (row) || og_row_get_balance_share (row) > 0);

  gtk_editable_set_editable (GTK_EDITABLE (child), row != NULL && !is_phase (row));
  gtk_widget_set_can_focus (child, row != NULL && !is_phase (row));
  if (computed)
    gtk_widget_add_css_class (child, "computed");
  else
    gtk_widget_remove_css_class (child, "computed");
  og_cell_entry_set_label (OG_CELL_ENTRY (child), label);
  og_cell_entry_set_number (OG_CELL_ENTRY (child), value, 2, most);
}

static void
show_percent (OgGridTable *self,
              GtkWidget  *child,
              OgRow      *row)
{
  g_autofree char *label = NULL;

  if (row == NULL)
    return;
  /* Translators: accessible name of an amount; %s is a phase or material */
  label = g_strdup_printf (is_phase (row) ? _("Sum of phase %s, wt %%") : _("%s, wt %%"),
                           og_row_get_name (row));
  show_amount (child, row, og_row_get_percent (row), 4, label);
}

static void
show_grams (OgGridTable *self,
            GtkWidget  *child,
            OgRow      *row)
{
  g_autofree char *label = NULL;

  if (row == NULL)
    return;
  /* Translators: accessible name of an amount; %s is a phase or material */
  label = g_strdup_printf (is_phase (row) ? _("Sum of phase %s, g") : _("%s, g"),
                           og_row_get_name (row));
  show_amount (child, row, og_row_get_grams (row), 3, label);
}

/* What decides an amount */

static void
set_target (GtkWidget  *button,
            const char *action,
            guint       id)
{
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "u", id);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
}

static void
name_button (GtkWidget  *button,
             const char *label,
             const char *tooltip)
{
  gtk_widget_set_tooltip_text (button, tooltip);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
}

static void
append_item (GMenu      *menu,
             const char *label,
             const char *action,
             const char *accel)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (label, action);

  if (accel != NULL)
    g_menu_item_set_attribute (item, "accel", "s", accel);
  g_menu_append_item (menu, item);
}

static void
append_section (GMenu *menu,
                GMenu *section)
{
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
}

/* What the amount of a line rests on, as the document says it. */
static char *
describe_rule (OgRow *row)
{
  const guint share = og_row_get_balance_share (row);

  if (share > 1)
    return g_strdup_printf (_("%u q.s."), share);
  if (share == 1)
    return g_strdup (_("q.s."));
  /* Translators: in the recipe, in one word: this amount is kept when others are changed to reach something */
  return g_strdup (og_row_get_held (row) ? C_("amount", "held")
                                         /* Translators: in the recipe, in one word: the amount is what was typed */
                                         : C_("amount", "typed"));
}

/* Translators: accessible names of a button; %s is a material */
static char *
name_rule (OgRow *row)
{
  if (og_row_get_balance_share (row) > 0)
    return g_strdup_printf (_("%s takes the rest to 100 %%"), og_row_get_name (row));
  return g_strdup_printf (og_row_get_held (row) ? _("Amount of %s: held") : _("Amount of %s: as typed"),
                          og_row_get_name (row));
}

static const char *
explain_rule (OgRow *row)
{
  if (og_row_get_balance_share (row) > 0)
    return _("q.s.: this line takes what is missing to 100 %");
  return og_row_get_held (row) ? _("Held: scaling and solving leave this amount alone")
                               : _("As typed: scaling and solving may change this amount");
}

static GMenu *
build_rule_menu (void)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  g_autoptr (GMenu) own = g_menu_new ();
  g_autoptr (GMenu) rest = g_menu_new ();

  g_menu_append (own, _("As typed"), "grid.rule::typed");
  g_menu_append (own, _("Held: scaling and solving leave it"), "grid.rule::held");
  g_menu_append (rest, _("The rest to 100 % (q.s.)"), "grid.rule::rest");
  g_menu_append (rest, _("Two parts of the rest"), "grid.rule::rest-2");
  g_menu_append (rest, _("Three parts of the rest"), "grid.rule::rest-3");
  append_section (menu, own);
  append_section (menu, rest);
  return g_steal_pointer (&menu);
}

static void
create_rule_popup (GtkMenuButton *button,
                   gpointer       data)
{
  GtkWidget *cell = gtk_widget_get_parent (GTK_WIDGET (button));
  g_autoptr (GMenu) menu = build_rule_menu ();

  gtk_widget_activate_action (cell, "grid.take", "u", get_bound_id (cell));
  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
}

static GtkWidget *
make_rule (OgGridTable *self)
{
  GtkWidget *child = og_choice_cell_new ();
  GtkWidget *choice = og_choice_cell_get_choice (OG_CHOICE_CELL (child));

  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (choice), create_rule_popup, NULL, NULL);
  gtk_button_set_icon_name (GTK_BUTTON (og_choice_cell_get_button (OG_CHOICE_CELL (child))),
                            "list-add-symbolic");
  return child;
}

static void
show_add_button (GtkWidget *button,
                 OgRow     *row)
{
  g_autofree char *label = NULL;

  /* Translators: accessible name of a button; %s is the name of a phase */
  label = g_strdup_printf (_("Add a material to phase %s"), og_row_get_name (row));
  name_button (button, label, label);
  set_target (button, "grid.add-below", og_row_get_id (row));
}

static void
show_rule (OgGridTable *self,
           GtkWidget   *child,
           OgRow       *row)
{
  GtkWidget *choice = og_choice_cell_get_choice (OG_CHOICE_CELL (child));
  GtkWidget *button = og_choice_cell_get_button (OG_CHOICE_CELL (child));
  g_autofree char *word = NULL;
  g_autofree char *label = NULL;

  gtk_widget_set_visible (choice, row != NULL && !is_phase (row));
  gtk_widget_set_visible (button, row != NULL && is_phase (row));
  if (row == NULL)
    return;
  if (is_phase (row))
    {
      show_add_button (button, row);
      return;
    }
  word = describe_rule (row);
  label = name_rule (row);
  og_menu_button_show (choice, word, label);
  gtk_widget_set_tooltip_text (choice, explain_rule (row));
  if (og_row_get_balance_share (row) > 0 || og_row_get_held (row))
    gtk_widget_add_css_class (choice, "decided");
  else
    gtk_widget_remove_css_class (choice, "decided");
}

/* Menu */

static GMenu *
build_move_section (OgGridTable *self,
                    OgRow      *row)
{
  g_autoptr (GMenu) section = g_menu_new ();
  g_autoptr (GMenu) phases = g_menu_new ();
  const OgFormula *formula = og_document_get_formula (self->document);

  append_item (section, _("Move up"), "win.move-line-up", "<Alt>Up");
  append_item (section, _("Move down"), "win.move-line-down", "<Alt>Down");
  for (guint i = 0; !is_phase (row) && i < formula->phases->len; i++)
    {
      OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);
      g_autofree char *action = g_strdup_printf ("win.move-to-phase(uint32 %u)", phase->id);

      if (phase->id != og_row_get_phase_id (row))
        g_menu_append (phases, phase->name, action);
    }
  if (g_menu_model_get_n_items (G_MENU_MODEL (phases)) > 0)
    g_menu_append_submenu (section, _("Move to phase"), G_MENU_MODEL (phases));
  return g_steal_pointer (&section);
}

static void
build_line_menu (OgRow *row,
                 GMenu *menu)
{
  g_autoptr (GMenu) use = g_menu_new ();
  g_autoptr (GMenu) rule = build_rule_menu ();

  append_item (use, _("Use instead…"), "win.replace-material", NULL);
  g_menu_append_submenu (use, _("The amount is"), G_MENU_MODEL (rule));
  append_item (use, _("Note…"), "win.edit-line-note", NULL);
  append_item (use, _("Duplicate"), "win.duplicate-line", NULL);
  append_item (use, _("Split: a part into another phase…"), "win.split-line", NULL);
  append_section (menu, use);
}

GMenuModel *
og_grid_table_build_menu (OgGridTable *self,
                         OgRow      *row)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  g_autoptr (GMenu) move = build_move_section (self, row);
  g_autoptr (GMenu) add = g_menu_new ();
  g_autoptr (GMenu) end = g_menu_new ();

  if (!is_phase (row))
    build_line_menu (row, menu);
  append_item (add, _("Add material"), "win.find-material", NULL);
  append_item (add, _("Add phase"), "win.add-phase", NULL);
  append_section (menu, add);
  append_section (menu, move);
  append_item (end, is_phase (row) ? _("Remove phase") : _("Remove line"), "win.remove-line",
               "<Alt>Delete");
  append_section (menu, end);
  return G_MENU_MODEL (g_steal_pointer (&menu));
}

static void
create_popup (GtkMenuButton *button,
              gpointer       data)
{
  OgGridTable *table = get_table (GTK_WIDGET (button));
  OgRow *row = get_bound_row (GTK_WIDGET (button));
  g_autoptr (GMenuModel) menu = NULL;

  if (table == NULL || row == NULL)
    return;
  gtk_widget_activate_action (GTK_WIDGET (button), "grid.take", "u", og_row_get_id (row));
  menu = og_grid_table_build_menu (table, row);
  gtk_menu_button_set_menu_model (button, menu);
}

static GtkWidget *
make_menu (OgGridTable *self)
{
  GtkWidget *child = gtk_menu_button_new ();

  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (child), "view-more-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (child), FALSE);
  gtk_menu_button_set_create_popup_func (GTK_MENU_BUTTON (child), create_popup, NULL, NULL);
  gtk_widget_add_css_class (child, "row-menu");
  gtk_widget_set_valign (child, GTK_ALIGN_CENTER);
  return child;
}

static void
show_menu (OgGridTable *self,
           GtkWidget  *child,
           OgRow      *row)
{
  g_autofree char *label = NULL;

  if (row == NULL)
    return;
  /* Translators: accessible name of a menu; %s is a phase or material */
  label = g_strdup_printf (_("Actions for %s"), og_row_get_name (row));
  name_button (child, label, label);
}

/* Handle */

static GtkWidget *
make_handle (OgGridTable *self)
{
  GtkWidget *child = gtk_image_new_from_icon_name ("list-drag-handle-symbolic");

  gtk_widget_add_css_class (child, "drag-handle");
  gtk_widget_set_cursor_from_name (child, "grab");
  add_drag (child);
  return child;
}

static void
show_handle (OgGridTable *self,
             GtkWidget  *child,
             OgRow      *row)
{
  g_autofree char *label = NULL;

  if (row == NULL)
    return;
  /* Translators: accessible name of a handle; %s is a phase or material */
  label = g_strdup_printf (_("Drag to move %s"), og_row_get_name (row));
  gtk_widget_set_tooltip_text (child, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (child),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
}

/* Columns */

typedef struct
{
  const char *title;
  gboolean    expand; /* takes the room that is left */
  GtkWidget *(*make) (OgGridTable *self);
  ShowFunc    show;
  GtkAlign    title_align;
} Column;

static const Column columns[OG_N_COLUMNS] = {
  [OG_COLUMN_HANDLE] = { "", FALSE, make_handle, show_handle },
  [OG_COLUMN_MATERIAL] = { N_("Material"), TRUE, make_material, show_material },
  [OG_COLUMN_PERCENT] = { N_("wt %"), FALSE, make_percent, show_percent, GTK_ALIGN_END },
  [OG_COLUMN_GRAMS] = { N_("g"), FALSE, make_grams, show_grams, GTK_ALIGN_END },
  [OG_COLUMN_RULE] = { N_("Amount is"), FALSE, make_rule, show_rule, GTK_ALIGN_START },
  [OG_COLUMN_MENU] = { "", FALSE, make_menu, show_menu },
};

static OgGridColumn
get_column (GtkWidget *child)
{
  return (OgGridColumn) GPOINTER_TO_INT (g_object_get_data (G_OBJECT (child), COLUMN_KEY));
}

static void
on_row_notify (OgRow      *row,
               GParamSpec *pspec,
               GtkWidget  *child)
{
  OgGridTable *table = get_table (child);

  if (table != NULL)
    columns[get_column (child)].show (table, child, row);
}

static void
on_setup (OgGridTable              *self,
          GtkListItem              *item,
          GtkSignalListItemFactory *factory)
{
  gpointer key = g_object_get_data (G_OBJECT (factory), COLUMN_KEY);
  GtkWidget *child = columns[GPOINTER_TO_INT (key)].make (self);

  g_object_set_data (G_OBJECT (child), COLUMN_KEY, key);
  gtk_list_item_set_activatable (item, FALSE);
  gtk_list_item_set_selectable (item, FALSE);
  gtk_list_item_set_child (item, child);
}

static void
on_bind (OgGridTable *self,
         GtkListItem *item)
{
  GtkWidget *child = gtk_list_item_get_child (item);
  OgRow *row = gtk_list_item_get_item (item);
  OgGridColumn column = get_column (child);

  g_object_set_data_full (G_OBJECT (child), ROW_KEY, g_object_ref (row), g_object_unref);
  g_hash_table_insert (self->cells[column], GUINT_TO_POINTER (og_row_get_id (row)), child);
  g_object_set_data (G_OBJECT (child), HANDLER_KEY,
                     GSIZE_TO_POINTER (g_signal_connect (row, "notify",
                                                         G_CALLBACK (on_row_notify), child)));
  columns[column].show (self, child, row);
}

static void
on_unbind (OgGridTable *self,
           GtkListItem *item)
{
  GtkWidget *child = gtk_list_item_get_child (item);
  OgRow *row = get_bound_row (child);
  OgGridColumn column = get_column (child);
  gpointer key = GUINT_TO_POINTER (og_row_get_id (row));

  g_signal_handler_disconnect (
    row, GPOINTER_TO_SIZE (g_object_steal_data (G_OBJECT (child), HANDLER_KEY)));
  if (g_hash_table_lookup (self->cells[column], key) == child)
    g_hash_table_remove (self->cells[column], key);
  if (OG_IS_CELL_ENTRY (child))
    og_cell_entry_revert (OG_CELL_ENTRY (child));
  columns[column].show (self, child, NULL);
  g_object_set_data (G_OBJECT (child), ROW_KEY, NULL);
}

/* Titles stand over their cells; the column itself has no setting for that. */
static void
align_titles (OgGridTable *self)
{
  GtkWidget *header = gtk_widget_get_first_child (self->view);
  GtkWidget *title = header != NULL ? gtk_widget_get_first_child (header) : NULL;

  for (int i = 0; i < OG_N_COLUMNS && title != NULL; i++)
    {
      GtkWidget *content = gtk_widget_get_first_child (title);

      if (content != NULL && columns[i].title_align != GTK_ALIGN_FILL)
        {
          gtk_widget_set_hexpand (content, TRUE);
          gtk_widget_set_halign (content, columns[i].title_align);
        }
      title = gtk_widget_get_next_sibling (title);
    }
}

static void
add_columns (OgGridTable *self)
{
  for (int i = 0; i < OG_N_COLUMNS; i++)
    {
      GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
      g_autoptr (GtkColumnViewColumn) column = NULL;
      const char *title = columns[i].title;

      g_object_set_data (G_OBJECT (factory), COLUMN_KEY, GINT_TO_POINTER (i));
      g_signal_connect_swapped (factory, "setup", G_CALLBACK (on_setup), self);
      g_signal_connect_swapped (factory, "bind", G_CALLBACK (on_bind), self);
      g_signal_connect_swapped (factory, "unbind", G_CALLBACK (on_unbind), self);
      column = gtk_column_view_column_new (*title != '\0' ? _(title) : NULL, factory);
      gtk_column_view_column_set_expand (column, columns[i].expand);
      gtk_column_view_append_column (GTK_COLUMN_VIEW (self->view), column);
    }
  align_titles (self);
}

void
og_grid_table_init (OgGridTable  *self,
                    GtkWidget    *view,
                    void        (*problem) (gpointer data, const char *problem),
                    gpointer      data)
{
  *self = (OgGridTable) { .view = view, .problem = problem, .data = data };
  for (int i = 0; i < OG_N_COLUMNS; i++)
    self->cells[i] = g_hash_table_new (NULL, NULL);
  g_object_set_data (G_OBJECT (view), TABLE_KEY, self);
  add_columns (self);
}

void
og_grid_table_leave (OgGridTable *self)
{
  if (self->view == NULL)
    return;
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->view), NULL);
  g_object_set_data (G_OBJECT (self->view), TABLE_KEY, NULL);
  self->view = NULL;
  self->document = NULL;
  g_clear_object (&self->lines);
}

void
og_grid_table_clear (OgGridTable *self)
{
  for (int i = 0; i < OG_N_COLUMNS; i++)
    g_clear_pointer (&self->cells[i], g_hash_table_unref);
}
