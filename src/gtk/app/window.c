/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "core/recipe/recipe-limits.h"
#include "gtk/app/empty-state.h"
#include "gtk/app/window-private.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/drop-down.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/recent.h"
#include "model/document-io.h"

#define LEAST_RECIPE_WIDTH 480
#define LEAST_ADVICE_HEIGHT 170
#define CHART_HEIGHT 540 /* of the body panel with a chart that can be read */
#define HEADLINE_HEIGHT 140 /* of the body panel with its first lines alone */
#define RECENT_IN_MENU 8
#define SAME_WIDTH 12 /* px, room for the handles of the panes */

G_DEFINE_ABSTRACT_TYPE (OgWindow, og_window, GTK_TYPE_APPLICATION_WINDOW)

enum
{
  PROP_0,
  PROP_WORKSHOP,
  PROP_BATCH_RULE,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

OgDocument *
og_window_get_document (OgWindow *self)
{
  g_return_val_if_fail (OG_IS_WINDOW (self), NULL);

  return self->document;
}

void
og_window_update_actions (OgWindow *self)
{
  ((OgWindowClass *) G_OBJECT_GET_CLASS (self))->update_actions (self);
}

gboolean
og_window_commit_text (OgWindow *self)
{
  OgCellEntry *entry = og_cell_entry_focused (GTK_ROOT (self));

  return entry == NULL || og_cell_entry_commit (entry);
}

void
og_window_say (OgWindow   *self,
               const char *text,
               gboolean    undoable)
{
  og_toast_show (self->toast, text, undoable ? _("Undo") : NULL, undoable ? "win.undo" : NULL);
}

gboolean
og_window_is_free (OgWindow *self)
{
  g_return_val_if_fail (OG_IS_WINDOW (self), FALSE);

  return og_document_is_empty (self->document) && !og_document_get_modified (self->document)
         && og_document_get_file (self->document) == NULL;
}

/* Header */

static char *
get_place (OgWindow *self)
{
  GFile *file = og_document_get_file (self->document);
  g_autofree char *name = NULL;

  if (file == NULL)
    return g_strdup (self->started ? _("Not saved yet") : "");
  name = g_file_get_basename (file);
  return g_filename_display_name (name);
}

static void
update_title (OgWindow *self)
{
  const char *title = og_document_get_title (self->document);
  g_autofree char *place = get_place (self);
  g_autofree char *shown = NULL;
  g_autofree char *window_title = NULL;

  if (*title == '\0')
    title = self->started ? _("Untitled recipe") : _("Oleograph");
  shown = og_document_get_modified (self->document) ? g_strdup_printf ("• %s", title)
                                                    : g_strdup (title);
  gtk_label_set_label (GTK_LABEL (self->title_label), shown);
  gtk_label_set_label (GTK_LABEL (self->subtitle_label), place);
  gtk_widget_set_visible (self->subtitle_label, *place != '\0');
  gtk_widget_set_tooltip_text (self->title_label,
                               og_document_get_modified (self->document) ? _("Has unsaved changes")
                                                                         : NULL);
  /* Translators: title of a window: the recipe, then the program */
  window_title = self->started ? g_strdup_printf (_("%s – Oleograph"), shown) : g_strdup (shown);
  gtk_window_set_title (GTK_WINDOW (self), window_title);
}

static void
name_history_button (GtkWidget  *button,
                     const char *plain,
                     const char *act)
{
  const char *text = act != NULL ? act : plain;

  gtk_widget_set_tooltip_text (button, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, plain,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  -1);
}

static void
update_history (OgWindow *self)
{
  const char *undo = og_document_get_undo_label (self->document);
  const char *redo = og_document_get_redo_label (self->document);
  /* Translators: %s names an act, such as "Add Castor oil" */
  g_autofree char *undo_text = undo != NULL ? g_strdup_printf (_("Undo: %s"), undo) : NULL;
  /* Translators: %s names an act, such as "Add Castor oil" */
  g_autofree char *redo_text = redo != NULL ? g_strdup_printf (_("Redo: %s"), redo) : NULL;

  name_history_button (self->undo_button, _("Undo"), undo_text);
  name_history_button (self->redo_button, _("Redo"), redo_text);
  og_window_update_actions (self);
}

/* Recipe head */

static void
show_batch_rule (OgWindow *self,
                 gboolean  is_sum)
{
  const char *text = is_sum ? _("The batch is the sum of the lines: grams that you enter make it larger or smaller")
                            : _("The batch is fixed: grams that you enter are a part of it");

  /* Translators: unit of the batch size, in grams; the second one where the lines add up to it */
  og_menu_button_show (self->batch_button, is_sum ? _("g, sum") : _("g"), text);
  gtk_widget_set_tooltip_text (self->batch_button, text);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_BATCH_RULE]);
}

static void
update_head (OgWindow *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);

  og_cell_entry_set_value (self->recipe_title_entry, formula->title);
  og_cell_entry_set_value (self->purpose_entry, formula->purpose);
  self->filling = TRUE;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->product_drop_down), formula->product);
  self->filling = FALSE;
  og_cell_entry_set_number (self->batch_entry, formula->batch_g, 0, 3);
  show_batch_rule (self, formula->batch_is_sum);
  og_cell_entry_set_number (self->target_low_entry, formula->target_low_mpa_s, 0, 1);
  og_cell_entry_set_number (self->target_high_entry, formula->target_high_mpa_s, 0, 1);
}

static char *
refuse_long (const char *text)
{
  return g_utf8_strlen (text, -1) > OG_RECIPE_MAX_NAME ? g_strdup (_("This is too long.")) : NULL;
}

static char *
on_title (OgWindow   *self,
          const char *text)
{
  og_document_set_title (self->document, text);
  og_document_end_typing (self->document);
  return refuse_long (text);
}

static char *
on_purpose (OgWindow   *self,
            const char *text)
{
  og_document_set_purpose (self->document, text);
  og_document_end_typing (self->document);
  return refuse_long (text);
}

static void
on_product (OgWindow *self)
{
  const guint product = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->product_drop_down));

  if (!self->filling && product < OG_N_PRODUCTS)
    og_document_set_product (self->document, (OgProduct) product);
}

static void
fill_products (OgWindow *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  gtk_string_list_append (names, _("Product not said"));
  for (guint i = OG_PRODUCT_UNSAID + 1; i < OG_N_PRODUCTS; i++)
    gtk_string_list_append (names, og_product_get_name ((OgProduct) i));
  self->filling = TRUE;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->product_drop_down), G_LIST_MODEL (names));
  self->filling = FALSE;
  og_drop_down_set_name (self->product_drop_down, _("Product"));
}

static char *
on_batch (OgWindow *self,
          double    value)
{
  if (!(value > 0.0 && value <= OG_RECIPE_MAX_BATCH_G))
    return g_strdup (_("A batch is larger than 0 g and at most a thousand tonnes."));
  og_document_set_batch_g (self->document, value);
  og_document_end_typing (self->document);
  return NULL;
}

static char *
set_target (OgWindow *self,
            double    low,
            double    high)
{
  if (!isnan (low) && !(low > 0.0 && high <= OG_RECIPE_MAX_TARGET_MPA_S))
    return g_strdup (_("A target viscosity is larger than 0 mPa·s."));
  if (low > high)
    return g_strdup (_("The lower end of the target lies above the upper end."));
  og_document_set_target (self->document, low, high);
  return NULL;
}

/* One end alone makes a band of one value; clearing one end clears the target. */
static char *
on_target_low (OgWindow *self,
               double    value)
{
  double high = og_document_get_formula (self->document)->target_high_mpa_s;

  return set_target (self, value, isnan (value) || isnan (high) ? value : high);
}

static char *
on_target_high (OgWindow *self,
                double    value)
{
  double low = og_document_get_formula (self->document)->target_low_mpa_s;

  return set_target (self, isnan (value) || isnan (low) ? value : low, value);
}

/* Total */

static gboolean
has_balance (const OgFormula *formula)
{
  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      for (guint j = 0; j < phase->lines->len; j++)
        if (((OgFormulaLine *) g_ptr_array_index (phase->lines, j))->balance_share > 0)
          return TRUE;
    }
  return FALSE;
}

static char *
describe_total (const OgFormula *formula,
                gint64           total)
{
  g_autofree char *off = og_number_to_text (ABS (total - OG_PPM_WHOLE)
                                              / (double) OG_PPM_PER_PERCENT, 1, 4);

  if (og_formula_get_n_lines (formula) == 0)
    return g_strdup (_("Nothing in it yet"));
  if (total == OG_PPM_WHOLE)
    return g_strdup (_("100 % – complete"));
  if (total < OG_PPM_WHOLE)
    /* Translators: %s is a number */
    return g_strdup_printf (_("%s %% missing – let a line make up to 100 %% or add to one"), off);
  if (has_balance (formula))
    /* Translators: %s is a number */
    return g_strdup_printf (_("%s %% too much – nothing is left for the q.s. line"), off);
  /* Translators: %s is a number */
  return g_strdup_printf (_("%s %% too much – take from a line or scale to 100 %%"), off);
}

static void
update_total (OgWindow *self)
{
  const OgFormula *formula = og_document_get_formula (self->document);
  gint64 total = og_formula_total (formula);
  g_autofree char *text = describe_total (formula, total);
  double pct = (double) total / OG_PPM_PER_PERCENT;

  gtk_level_bar_set_value (GTK_LEVEL_BAR (self->total_meter), CLAMP (pct, 0.0, 100.0));
  gtk_label_set_label (GTK_LABEL (self->total_label), text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->total_meter),
                                  GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, text,
                                  -1);
  gtk_widget_remove_css_class (self->total_meter, "short");
  gtk_widget_remove_css_class (self->total_meter, "over");
  if (total != OG_PPM_WHOLE)
    gtk_widget_add_css_class (self->total_meter, total < OG_PPM_WHOLE ? "short" : "over");
}

/* Why some text is refused: that of the recipe head first, then that of the grid. */
static char *
get_problem (OgWindow *self)
{
  OgCellEntry *entries[] = { self->recipe_title_entry, self->purpose_entry, self->batch_entry,
                             self->target_low_entry, self->target_high_entry };
  char *problem;

  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    if (og_cell_entry_get_problem (entries[i]) != NULL)
      return g_strdup (og_cell_entry_get_problem (entries[i]));
  g_object_get (self->grid, "problem", &problem, NULL);
  return problem;
}

static void
on_problem (OgWindow *self)
{
  g_autofree char *problem = get_problem (self);

  gtk_label_set_label (GTK_LABEL (self->problem_label), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem_label, problem != NULL);
}

/* Rooms */

gboolean
og_window_is_designing (OgWindow *self)
{
  return self->started
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->rooms)), "design") == 0;
}

/* Prices and dates of lots are looked up once somebody wants to see them. */
static void
update_shelf (OgWindow *self)
{
  g_autofree char *problem = NULL;

  if (gtk_window_get_application (GTK_WINDOW (self)) == NULL || !self->started)
    return;
  if (self->advice_priced)
    og_side_panel_set_shelf (self->side_panel, og_workshop_get_shelf (self->workshop));
  if (og_window_is_designing (self))
    return;
  og_make_view_set_shelf (self->make_view, og_workshop_get_shelf (self->workshop));
  if (self->label_view != NULL)
    og_label_view_set_shelf (self->label_view, og_workshop_get_shelf (self->workshop));
  problem = og_workshop_take_ledger_problem (self->workshop);
  if (problem != NULL)
    og_window_say (self, problem, FALSE);
}

static void
on_shelf_wanted (OgWindow *self)
{
  self->advice_priced = TRUE;
  update_shelf (self);
}

/* Document */

void
og_window_update_pages (OgWindow *self)
{
  if (!og_window_is_free (self))
    self->started = TRUE;
  gtk_stack_set_visible_child_name (GTK_STACK (self->pages), self->started ? "recipe" : "empty");
  gtk_widget_set_visible (self->room_switcher, self->started);
  update_title (self);
  og_window_update_actions (self);
}

void
og_window_start_empty (OgWindow *self)
{
  g_return_if_fail (OG_IS_WINDOW (self));

  self->started = TRUE;
  og_window_update_pages (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->recipe_title_entry));
}

static void
on_formula_changed (OgWindow *self)
{
  update_head (self);
  update_total (self);
  og_window_update_pages (self);
}

static void
on_current (OgWindow *self)
{
  OgRow *row = og_grid_view_get_current (self->grid);

  if (row != NULL && og_row_get_kind (row) == OG_ROW_LINE)
    g_object_set (self->side_panel, "ingredient-id", og_row_get_ingredient_id (row), NULL);
  og_window_update_actions (self);
}

static void
on_changed_on_disk (OgWindow *self)
{
  if (!og_document_get_changed_on_disk (self->document))
    og_notice_hide (self->disk_notice);
  else if (og_document_get_modified (self->document))
    og_notice_show (self->disk_notice,
                    _("Another program changed this file. After loading it again, undo brings back "
                      "what you changed here."));
  else
    og_notice_show (self->disk_notice, _("Another program changed this file."));
}

static void
on_draft_failed (OgWindow     *self,
                 const GError *error)
{
  g_autofree char *text = g_strdup_printf (_("No draft could be kept: %s"), error->message);

  og_toast_show (self->toast, text, NULL, NULL);
}

static void
connect_document (OgWindow *self)
{
  g_signal_connect_object (self->document, "formula-changed", G_CALLBACK (on_formula_changed), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "notify::title", G_CALLBACK (update_title), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "notify::modified", G_CALLBACK (update_title), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "notify::file", G_CALLBACK (og_window_update_pages),
                           self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "notify::undo-label", G_CALLBACK (update_history), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "notify::redo-label", G_CALLBACK (update_history), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "notify::changed-on-disk",
                           G_CALLBACK (on_changed_on_disk), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->document, "draft-failed", G_CALLBACK (on_draft_failed), self,
                           G_CONNECT_SWAPPED);
}

void
og_window_show_message (OgWindow     *self,
                        const char   *heading,
                        const GError *error)
{
  const OgAnswer answers[] = { { _("_Close"), OG_ANSWER_PLAIN } };

  og_compat_ask (GTK_WINDOW (self), heading, error->message, answers, G_N_ELEMENTS (answers), NULL,
                 NULL);
}

static void
on_loaded (GObject      *document,
           GAsyncResult *result,
           gpointer      data)
{
  g_autoptr (OgWindow) self = data;
  g_autoptr (GError) error = NULL;
  GFile *file;

  if (!og_document_load_finish (OG_DOCUMENT (document), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        og_window_show_message (self, _("The recipe could not be opened"), error);
      return;
    }
  file = og_document_get_file (self->document);
  if (file != NULL)
    og_recent_add (file);
  self->started = TRUE;
  og_window_update_pages (self);
  og_grid_view_focus (self->grid);
}

void
og_window_load (OgWindow *self,
                GFile    *file)
{
  g_return_if_fail (OG_IS_WINDOW (self));
  g_return_if_fail (G_IS_FILE (file));

  og_document_load_async (self->document, file, self->cancellable, on_loaded, g_object_ref (self));
}

static void
on_loaded_again (GObject      *document,
                 GAsyncResult *result,
                 gpointer      data)
{
  g_autoptr (OgWindow) self = data;
  g_autoptr (GError) error = NULL;

  if (og_document_load_finish (OG_DOCUMENT (document), result, &error))
    og_toast_show (self->toast, _("Loaded again"), _("Undo"), "win.undo");
  else if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    og_window_show_message (self, _("The recipe could not be opened"), error);
}

void
og_window_load_again (OgWindow *self)
{
  og_document_load_again_async (self->document, self->cancellable, on_loaded_again,
                                g_object_ref (self));
}

/* Places */

static int
propose_palette_width (int width)
{
  return CLAMP (width * 20 / 100, 200, 320);
}

static int
propose_panel_width (int width)
{
  return CLAMP (width * 31 / 100, 300, 600);
}

static int
get_width (OgWindow   *self,
           const char *key,
           int         proposed)
{
  GSettings *settings = og_workshop_get_settings (self->workshop);
  g_autoptr (GVariant) chosen = settings != NULL ? g_settings_get_user_value (settings, key) : NULL;

  return chosen != NULL ? g_variant_get_int32 (chosen) : proposed;
}

/* A width that nobody changed is not stored: a window of another size proposes another one. */
static void
store_width (GSettings  *settings,
             const char *key,
             int         width,
             int         proposed)
{
  if (ABS (width - proposed) > SAME_WIDTH)
    g_settings_set_int (settings, key, width);
  else
    g_settings_reset (settings, key);
}

/* The chart first; the advice below it can be scrolled. */
static int
propose_chart_height (int height)
{
  return MAX (height * 58 / 100, MIN (height - LEAST_ADVICE_HEIGHT, CHART_HEIGHT));
}

void
og_window_raise_advice (OgWindow *self)
{
  const int now = gtk_paned_get_position (GTK_PANED (self->panel_pane));
  const int chart = propose_chart_height (gtk_widget_get_height (self->panel_pane));

  gtk_paned_set_position (GTK_PANED (self->panel_pane),
                          now > (HEADLINE_HEIGHT + chart) / 2 ? HEADLINE_HEIGHT : chart);
}

/* Widths chosen by the reader, or else good ones for this window; the recipe keeps the room it
 * needs. */
static void
place_panes (OgWindow *self)
{
  int width = gtk_widget_get_width (self->outer_pane);
  int height = gtk_widget_get_height (self->outer_pane);
  int palette = get_width (self, "palette-width", propose_palette_width (width));
  int panel = get_width (self, "panel-width", propose_panel_width (width));
  int excess = palette + panel + LEAST_RECIPE_WIDTH - width;

  if (excess > 0)
    {
      int both = palette + panel;

      palette -= excess * palette / both;
      panel -= excess * panel / both;
    }
  gtk_paned_set_position (GTK_PANED (self->outer_pane), palette);
  gtk_paned_set_position (GTK_PANED (self->inner_pane), width - palette - panel);
  gtk_paned_set_position (GTK_PANED (self->panel_pane), propose_chart_height (height));
}

static gboolean
on_first_frame (GtkWidget     *widget,
                GdkFrameClock *clock,
                gpointer       data)
{
  OgWindow *self = OG_WINDOW (widget);

  if (gtk_widget_get_width (self->outer_pane) <= 0)
    return G_SOURCE_CONTINUE;
  place_panes (self);
  self->placed = TRUE;
  return G_SOURCE_REMOVE;
}

static void
restore_size (OgWindow *self)
{
  GSettings *settings = og_workshop_get_settings (self->workshop);

  if (settings == NULL)
    return;
  gtk_window_set_default_size (GTK_WINDOW (self),
                               g_settings_get_int (settings, "window-width"),
                               g_settings_get_int (settings, "window-height"));
  if (g_settings_get_boolean (settings, "window-maximized"))
    gtk_window_maximize (GTK_WINDOW (self));
  g_object_set (self->body_panel, "chart-axis", g_settings_get_enum (settings, "chart-axis"), NULL);
  g_settings_bind (settings, "axis-cup", self->body_panel, "axis-cup", G_SETTINGS_BIND_DEFAULT);
}

static void
store_size (OgWindow *self)
{
  GSettings *settings = og_workshop_get_settings (self->workshop);
  gboolean maximized = gtk_window_is_maximized (GTK_WINDOW (self));
  int width;
  int height;
  int axis;

  if (settings == NULL)
    return;
  gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
  g_settings_set_boolean (settings, "window-maximized", maximized);
  if (!maximized && width > 0 && height > 0)
    {
      g_settings_set_int (settings, "window-width", width);
      g_settings_set_int (settings, "window-height", height);
    }
  g_object_get (self->body_panel, "chart-axis", &axis, NULL);
  g_settings_set_enum (settings, "chart-axis", axis);
  width = gtk_widget_get_width (self->outer_pane);
  if (self->placed && self->started && width > 0)
    {
      store_width (settings, "palette-width",
                   gtk_paned_get_position (GTK_PANED (self->outer_pane)),
                   propose_palette_width (width));
      store_width (settings, "panel-width",
                   gtk_widget_get_width (self->inner_pane)
                     - gtk_paned_get_position (GTK_PANED (self->inner_pane)),
                   propose_panel_width (width));
    }
}

static gboolean
og_window_close_request (GtkWindow *window)
{
  OgWindow *self = OG_WINDOW (window);

  store_size (self);
  og_document_drop_draft (self->document);
  return GTK_WINDOW_CLASS (og_window_parent_class)->close_request (window);
}

/* Template callbacks */

static void
on_add_material (OgWindow   *self,
                 const char *ingredient_id)
{
  og_grid_view_add_material (self->grid, ingredient_id);
}

static void
on_show_line (OgWindow *self,
              guint     line_id)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->rooms), "design");
  og_grid_view_go_to (self->grid, line_id, OG_COLUMN_PERCENT);
}

static void
build_label_room (OgWindow *self)
{
  self->label_view = OG_LABEL_VIEW (og_label_view_new ());
  gtk_widget_set_hexpand (GTK_WIDGET (self->label_view), TRUE);
  g_signal_connect_swapped (self->label_view, "show-line", G_CALLBACK (on_show_line), self);
  g_signal_connect_swapped (self->label_view, "message", G_CALLBACK (og_window_say), self);
  og_label_view_set_settings (self->label_view, og_workshop_get_settings (self->workshop));
  g_object_set (self->label_view, "document", self->document, NULL);
  gtk_box_append (GTK_BOX (self->label_room), GTK_WIDGET (self->label_view));
}

static void
on_room (OgWindow *self)
{
  if (self->document == NULL)
    return;
  if (self->label_view == NULL
      && gtk_stack_get_visible_child (GTK_STACK (self->rooms)) == self->label_room)
    build_label_room (self);
  og_window_update_actions (self);
  update_shelf (self);
}

static gboolean
on_grid_leave (OgWindow         *self,
               GtkDirectionType  direction)
{
  if (direction != GTK_DIR_TAB_BACKWARD)
    return gtk_widget_child_focus (self->total_bar, GTK_DIR_TAB_FORWARD);
  return gtk_widget_grab_focus (GTK_WIDGET (self->target_high_entry));
}

void
og_window_open_file (OgWindow   *self,
                     const char *uri)
{
  const guint id = gtk_application_window_get_id (GTK_APPLICATION_WINDOW (self));

  gtk_widget_activate_action (GTK_WIDGET (self), "app." OG_WINDOW_OPEN_FILE, "(su)", uri, id);
}

static gboolean
on_file_drop (OgWindow     *self,
              const GValue *value)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));

  for (GSList *l = files; l != NULL; l = l->next)
    {
      g_autofree char *uri = g_file_get_uri (l->data);

      og_window_open_file (self, uri);
    }
  return files != NULL;
}

static void
on_recent_changed (OgWindow *self)
{
  og_recent_fill (self->recent_menu, RECENT_IN_MENU);
}

/* Object */

static void
og_window_get_property (GObject    *object,
                        guint       id,
                        GValue     *value,
                        GParamSpec *pspec)
{
  OgWindow *self = OG_WINDOW (object);

  if (id == PROP_BATCH_RULE)
    g_value_set_string (value, self->document != NULL /* menus ask before there is one */
                                   && og_document_get_formula (self->document)->batch_is_sum ? "sum" : "fixed");
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
og_window_set_property (GObject      *object,
                        guint         id,
                        const GValue *value,
                        GParamSpec   *pspec)
{
  OgWindow *self = OG_WINDOW (object);

  switch (id)
    {
    case PROP_WORKSHOP:
      self->workshop = g_value_dup_object (value);
      break;
    case PROP_BATCH_RULE:
      if (og_window_commit_text (self))
        og_document_set_batch_is_sum (self->document,
                                      g_strcmp0 (g_value_get_string (value), "sum") == 0);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

/* A limit of the reader's own must not be passed over in silence. */
static void
og_window_constructed (GObject *object)
{
  OgWindow *self = OG_WINDOW (object);
  const char *own_fault = og_workshop_get_own_fault (self->workshop);

  G_OBJECT_CLASS (og_window_parent_class)->constructed (object);

  self->document = og_document_new (og_workshop_get_catalog (self->workshop));
  og_document_keep_draft (self->document, og_workshop_get_draft_folder (self->workshop));
  og_document_set_bench_store (self->document, og_workshop_get_bench_store (self->workshop));
  og_palette_view_set_settings (self->palette, og_workshop_get_settings (self->workshop));
  g_object_set (self->palette, "document", self->document, NULL);
  g_object_set (self->grid, "document", self->document, NULL);
  g_object_set (self->body_panel, "document", self->document, NULL);
  g_object_set (self->side_panel, "document", self->document, NULL);
  og_make_view_set_settings (self->make_view, og_workshop_get_settings (self->workshop));
  g_object_set (self->make_view, "document", self->document, NULL);
  g_signal_connect_object (self->workshop, "shelf-changed", G_CALLBACK (update_shelf), self,
                           G_CONNECT_SWAPPED);
  connect_document (self);
  restore_size (self);
  on_formula_changed (self);
  update_history (self);
  gtk_widget_grab_focus (self->empty_state);
  if (own_fault != NULL)
    og_window_say (self, own_fault, FALSE);
}

static void
og_window_dispose (GObject *object)
{
  OgWindow *self = OG_WINDOW (object);

  g_cancellable_cancel (self->cancellable);
  if (self->grid != NULL)
    {
      g_object_set (self->grid, "document", NULL, NULL);
      g_object_set (self->palette, "document", NULL, NULL);
      g_object_set (self->body_panel, "document", NULL, NULL);
      g_object_set (self->side_panel, "document", NULL, NULL);
      g_object_set (self->make_view, "document", NULL, NULL);
      if (self->label_view != NULL)
        g_object_set (self->label_view, "document", NULL, NULL);
      self->label_view = NULL;
      self->grid = NULL;
    }
  gtk_widget_dispose_template (GTK_WIDGET (self), G_OBJECT_TYPE (self));
  g_clear_object (&self->recent_menu);

  G_OBJECT_CLASS (og_window_parent_class)->dispose (object);
}

static void
og_window_finalize (GObject *object)
{
  OgWindow *self = OG_WINDOW (object);

  g_clear_object (&self->document);
  g_clear_object (&self->workshop);
  g_clear_object (&self->cancellable);

  G_OBJECT_CLASS (og_window_parent_class)->finalize (object);
}

void
og_window_bind_template (GtkWidgetClass *class)
{
  g_type_ensure (OG_TYPE_BODY_PANEL);
  g_type_ensure (OG_TYPE_CELL_ENTRY);
  g_type_ensure (OG_TYPE_EMPTY_STATE);
  g_type_ensure (OG_TYPE_GRID_VIEW);
  g_type_ensure (OG_TYPE_MAKE_VIEW);
  g_type_ensure (OG_TYPE_NOTICE);
  g_type_ensure (OG_TYPE_PALETTE_VIEW);
  g_type_ensure (OG_TYPE_SIDE_PANEL);
  g_type_ensure (OG_TYPE_TOAST);

  gtk_widget_class_set_template_from_resource (class, "/org/oleograph/Oleograph/window.ui");
  gtk_widget_class_bind_template_child (class, OgWindow, title_label);
  gtk_widget_class_bind_template_child (class, OgWindow, subtitle_label);
  gtk_widget_class_bind_template_child (class, OgWindow, undo_button);
  gtk_widget_class_bind_template_child (class, OgWindow, redo_button);
  gtk_widget_class_bind_template_child (class, OgWindow, menu_button);
  gtk_widget_class_bind_template_child (class, OgWindow, card_button);
  gtk_widget_class_bind_template_child (class, OgWindow, draft_notice);
  gtk_widget_class_bind_template_child (class, OgWindow, disk_notice);
  gtk_widget_class_bind_template_child (class, OgWindow, toast);
  gtk_widget_class_bind_template_child (class, OgWindow, pages);
  gtk_widget_class_bind_template_child (class, OgWindow, empty_state);
  gtk_widget_class_bind_template_child (class, OgWindow, rooms);
  gtk_widget_class_bind_template_child (class, OgWindow, room_switcher);
  gtk_widget_class_bind_template_child (class, OgWindow, outer_pane);
  gtk_widget_class_bind_template_child (class, OgWindow, inner_pane);
  gtk_widget_class_bind_template_child (class, OgWindow, panel_pane);
  gtk_widget_class_bind_template_child (class, OgWindow, palette);
  gtk_widget_class_bind_template_child (class, OgWindow, recipe_title_entry);
  gtk_widget_class_bind_template_child (class, OgWindow, product_drop_down);
  gtk_widget_class_bind_template_child (class, OgWindow, purpose_entry);
  gtk_widget_class_bind_template_child (class, OgWindow, batch_entry);
  gtk_widget_class_bind_template_child (class, OgWindow, batch_button);
  gtk_widget_class_bind_template_child (class, OgWindow, target_low_entry);
  gtk_widget_class_bind_template_child (class, OgWindow, target_high_entry);
  gtk_widget_class_bind_template_child (class, OgWindow, grid);
  gtk_widget_class_bind_template_child (class, OgWindow, total_bar);
  gtk_widget_class_bind_template_child (class, OgWindow, total_meter);
  gtk_widget_class_bind_template_child (class, OgWindow, total_label);
  gtk_widget_class_bind_template_child (class, OgWindow, problem_label);
  gtk_widget_class_bind_template_child (class, OgWindow, body_panel);
  gtk_widget_class_bind_template_child (class, OgWindow, side_panel);
  gtk_widget_class_bind_template_child (class, OgWindow, make_view);
  gtk_widget_class_bind_template_child (class, OgWindow, label_room);
  gtk_widget_class_bind_template_callback (class, on_title);
  gtk_widget_class_bind_template_callback (class, on_purpose);
  gtk_widget_class_bind_template_callback (class, on_product);
  gtk_widget_class_bind_template_callback (class, on_room);
  gtk_widget_class_bind_template_callback (class, on_batch);
  gtk_widget_class_bind_template_callback (class, on_target_low);
  gtk_widget_class_bind_template_callback (class, on_target_high);
  gtk_widget_class_bind_template_callback (class, on_add_material);
  gtk_widget_class_bind_template_callback (class, on_show_line);
  gtk_widget_class_bind_template_callback (class, on_grid_leave);
  gtk_widget_class_bind_template_callback (class, on_current);
  gtk_widget_class_bind_template_callback (class, on_problem);
}

static void
og_window_class_init (OgWindowClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);

  object_class->constructed = og_window_constructed;
  object_class->get_property = og_window_get_property;
  object_class->set_property = og_window_set_property;
  object_class->dispose = og_window_dispose;
  object_class->finalize = og_window_finalize;
  GTK_WINDOW_CLASS (class)->close_request = og_window_close_request;

  properties[PROP_WORKSHOP] =
    g_param_spec_object ("workshop", NULL, NULL, OG_TYPE_WORKSHOP,
                         G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS);
  properties[PROP_BATCH_RULE] =
    g_param_spec_string ("batch-rule", NULL, NULL, "fixed",
                         G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS | G_PARAM_EXPLICIT_NOTIFY);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
add_menus (OgWindow *self)
{
  g_autoptr (GtkBuilder) builder =
    gtk_builder_new_from_resource ("/org/oleograph/Oleograph/menus.ui");

  self->recent_menu = g_object_ref (G_MENU (gtk_builder_get_object (builder, "recent_menu")));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->menu_button),
                                  G_MENU_MODEL (gtk_builder_get_object (builder, "main_menu")));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->batch_button),
                                  G_MENU_MODEL (gtk_builder_get_object (builder, "batch_menu")));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->card_button),
                                  G_MENU_MODEL (gtk_builder_get_object (builder, "card_menu")));
  g_signal_connect_object (gtk_recent_manager_get_default (), "changed",
                           G_CALLBACK (on_recent_changed), self, G_CONNECT_SWAPPED);
  on_recent_changed (self);
}

static void
og_window_init (OgWindow *self)
{
}

void
og_window_build (OgWindow *self)
{
  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  self->cancellable = g_cancellable_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
  add_menus (self);
  fill_products (self);
  g_signal_connect_swapped (self->side_panel, "message", G_CALLBACK (og_window_say), self);
  g_signal_connect_swapped (self->side_panel, "shelf-wanted", G_CALLBACK (on_shelf_wanted), self);
  g_signal_connect_swapped (self->make_view, "message", G_CALLBACK (og_window_say), self);

  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (target), GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (target, "drop", G_CALLBACK (on_file_drop), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
  gtk_widget_add_tick_callback (GTK_WIDGET (self), on_first_frame, NULL, NULL);
}

OgWindow *
og_window_new_like (OgWindow *self)
{
  return g_object_new (G_OBJECT_TYPE (self),
                       "application", gtk_window_get_application (GTK_WINDOW (self)),
                       "workshop", self->workshop,
                       NULL);
}
