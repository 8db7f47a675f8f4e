/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/app/print.h"
#include "gtk/app/recipe-window.h"
#include "gtk/app/shortcuts.h"
#include "gtk/app/window-private.h"
#include "gtk/design/bench-dialog.h"
#include "gtk/design/draft-dialog.h"
#include "gtk/design/line-details.h"
#include "gtk/design/line-split.h"
#include "gtk/design/words-dialog.h"
#include "gtk/parts/compat.h"
#include "gtk/parts/pieces.h"
#include "model/document-io.h"

struct _OgRecipeWindow
{
  OgWindow parent_instance;
};

G_DEFINE_FINAL_TYPE (OgRecipeWindow, og_recipe_window, OG_TYPE_WINDOW)

static OgRow *
get_line (OgWindow *self)
{
  OgRow *row = og_grid_view_get_current (self->grid);

  return row != NULL && og_row_get_kind (row) == OG_ROW_LINE ? row : NULL;
}

static void
og_recipe_window_update_actions (OgWindow *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  const OgFormula *formula = og_document_get_formula (self->document);
  gboolean designing = og_window_is_designing (self);
  OgRow *row = designing ? og_grid_view_get_current (self->grid) : NULL;
  guint id = row != NULL ? og_row_get_id (row) : 0;
  gboolean line = designing && get_line (self) != NULL;
  gboolean filled = og_formula_get_n_lines (formula) > 0;

  gtk_widget_action_set_enabled (widget, "win.undo", og_document_can_undo (self->document));
  gtk_widget_action_set_enabled (widget, "win.redo", og_document_can_redo (self->document));
  gtk_widget_action_set_enabled (widget, "win.save", self->started && !self->saving);
  gtk_widget_action_set_enabled (widget, "win.save-as", self->started && !self->saving);
  gtk_widget_action_set_enabled (widget, "win.export-card", filled);
  gtk_widget_action_set_enabled (widget, "win.print", filled);
  gtk_widget_action_set_enabled (widget, "win.record-reading", filled);
  gtk_widget_action_set_enabled (widget, "win.keep-version", filled && designing);
  gtk_widget_action_set_enabled (widget, "win.show-room", self->started);
  gtk_widget_action_set_enabled (widget, "win.edit-words", self->started);
  gtk_widget_action_set_enabled (widget, "win.add-phase", designing);
  gtk_widget_action_set_enabled (widget, "win.find-material", designing);
  gtk_widget_action_set_enabled (widget, "win.go-to-recipe", designing);
  gtk_widget_action_set_enabled (widget, "win.show-palette", designing);
  gtk_widget_action_set_enabled (widget, "win.show-panel", designing);
  gtk_widget_action_set_enabled (widget, "win.raise-advice", designing);
  gtk_widget_action_set_enabled (widget, "win.aim", designing && filled);
  gtk_widget_action_set_enabled (widget, "win.normalise",
                                 designing && filled
                                   && og_formula_total (formula) != OG_PPM_WHOLE);
  gtk_widget_action_set_enabled (widget, "win.remove-line", id != 0);
  gtk_widget_action_set_enabled (widget, "win.move-line-up",
                                 og_grid_view_can_move (self->grid, id, -1));
  gtk_widget_action_set_enabled (widget, "win.move-line-down",
                                 og_grid_view_can_move (self->grid, id, 1));
  gtk_widget_action_set_enabled (widget, "win.move-to-phase", line);
  gtk_widget_action_set_enabled (widget, "win.toggle-balance", line);
  gtk_widget_action_set_enabled (widget, "win.toggle-hold", line);
  gtk_widget_action_set_enabled (widget, "win.edit-line-note", line);
  gtk_widget_action_set_enabled (widget, "win.duplicate-line", line);
  gtk_widget_action_set_enabled (widget, "win.split-line", line);
  gtk_widget_action_set_enabled (widget, "win.replace-material", line);
}

static void
act_show_room (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  GtkWidget *room = gtk_stack_get_child_by_name (GTK_STACK (self->rooms),
                                                 g_variant_get_string (parameter, NULL));

  if (room == NULL || !og_window_commit_text (self))
    return;
  gtk_stack_set_visible_child (GTK_STACK (self->rooms), room);
  if (gtk_widget_get_focus_child (room) == NULL)
    gtk_widget_child_focus (room, GTK_DIR_TAB_FORWARD);
}

/* Undo */

/* Text that is refused does not outlive an undo: the entry would contradict the recipe. */
static void
revert_text (OgWindow *self)
{
  og_grid_view_revert (self->grid);
  og_cell_entry_revert (self->recipe_title_entry);
  og_cell_entry_revert (self->purpose_entry);
  og_cell_entry_revert (self->batch_entry);
  og_cell_entry_revert (self->target_low_entry);
  og_cell_entry_revert (self->target_high_entry);
  og_make_view_revert (self->make_view);
}

static void
act_undo (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  og_window_commit_text (self);
  revert_text (self);
  og_document_undo (self->document);
}

static void
act_redo (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  revert_text (self);
  og_document_redo (self->document);
}

/* Lines and phases */

static void
act_add_phase (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = og_grid_view_get_current (self->grid);
  guint position = G_MAXUINT;
  guint id;

  if (row != NULL
      && og_formula_find_phase (og_document_get_formula (self->document),
                                og_row_get_phase_id (row), &position) != NULL)
    position++;
  id = og_document_add_phase (self->document, NULL, position);
  og_grid_view_go_to (self->grid, id, OG_COLUMN_MATERIAL);
}

static void
act_remove_line (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = og_grid_view_get_current (self->grid);
  g_autofree char *text = NULL;
  guint neighbour;
  guint id;

  if (row == NULL)
    return;
  id = og_row_get_id (row);
  neighbour = og_grid_view_get_neighbour (self->grid, id);
  /* Translators: %s is a phase or material that was taken out of the recipe */
  text = g_strdup_printf (_("%s was removed"), og_row_get_name (row));
  if (og_row_get_kind (row) == OG_ROW_LINE)
    og_document_remove_line (self->document, id);
  else
    og_document_remove_phase (self->document, id);
  og_grid_view_go_to (self->grid, neighbour, OG_COLUMN_MATERIAL);
  og_toast_show (self->toast, text, _("Undo"), "win.undo");
}

static void
act_move_line_up (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = og_grid_view_get_current (self->grid);

  og_window_commit_text (self);
  if (row != NULL)
    og_grid_view_move (self->grid, og_row_get_id (row), -1);
}

static void
act_move_line_down (GtkWidget  *widget,
                    const char *name,
                    GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = og_grid_view_get_current (self->grid);

  og_window_commit_text (self);
  if (row != NULL)
    og_grid_view_move (self->grid, og_row_get_id (row), 1);
}

static void
act_move_to_phase (GtkWidget  *widget,
                   const char *name,
                   GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = get_line (self);

  if (row != NULL
      && og_document_move_line (self->document, og_row_get_id (row),
                                g_variant_get_uint32 (parameter), G_MAXUINT))
    og_grid_view_go_to (self->grid, og_row_get_id (row), OG_COLUMN_MATERIAL);
}

static void
act_toggle_balance (GtkWidget  *widget,
                    const char *name,
                    GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = get_line (self);

  og_window_commit_text (self);
  if (row != NULL)
    og_grid_view_toggle_balance (self->grid, og_row_get_id (row));
}

static void
act_toggle_hold (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = get_line (self);

  og_window_commit_text (self);
  if (row != NULL)
    og_grid_view_toggle_hold (self->grid, og_row_get_id (row));
}

static void
act_edit_line_note (GtkWidget  *widget,
                    const char *name,
                    GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = get_line (self);

  if (row != NULL)
    og_line_details_show (self->grid, self->document, row);
}

static void
act_duplicate_line (GtkWidget  *widget,
                    const char *name,
                    GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = get_line (self);
  guint id;

  og_window_commit_text (self);
  id = row != NULL ? og_document_duplicate_line (self->document, og_row_get_id (row)) : 0;
  if (id != 0)
    og_grid_view_go_to (self->grid, id, OG_COLUMN_PERCENT);
}

static void
act_split_line (GtkWidget  *widget,
                const char *name,
                GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  OgRow *row = get_line (self);

  og_window_commit_text (self);
  if (row != NULL)
    og_line_split_show (self->grid, self->document, row);
}

static void
act_replace_material (GtkWidget  *widget,
                      const char *name,
                      GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  gtk_widget_set_visible (self->panel_pane, TRUE);
  og_side_panel_show_instead (self->side_panel);
}

static void
act_aim (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  gtk_widget_set_visible (self->panel_pane, TRUE);
  og_side_panel_show_aim (self->side_panel);
}

static void
act_normalise (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  og_window_commit_text (self);
  if (!og_document_normalise (self->document))
    og_toast_show (self->toast,
                   _("There is nothing to scale: every line is held or makes up to 100 %"), NULL,
                   NULL);
}

/* Bench */

static void
on_recorded (OgWindow *self,
             gboolean  in_recipe)
{
  gtk_widget_set_visible (self->panel_pane, TRUE);
  og_side_panel_show_bench (self->side_panel);
  og_window_say (self, in_recipe ? _("The reading was recorded")
                                 : _("The reading was recorded for all recipes"), in_recipe);
}

static void
act_record_reading (GtkWidget  *widget,
                    const char *name,
                    GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  GtkWidget *dialog;

  if (!og_window_commit_text (self))
    return;
  dialog = og_bench_dialog_new (self->document);
  g_signal_connect_object (dialog, "recorded", G_CALLBACK (on_recorded), self, G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

static void
act_keep_version (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  if (og_window_commit_text (self))
    og_side_panel_keep_version (self->side_panel);
}

static void
on_words_applied (OgWindow *self)
{
  og_window_say (self, _("The words for the body have other bounds"), TRUE);
}

static void
act_edit_words (GtkWidget  *widget,
                const char *name,
                GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  GtkWidget *dialog = og_words_dialog_new (self->document);

  g_signal_connect_object (dialog, "applied", G_CALLBACK (on_words_applied), self,
                           G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

/* Moving about */

static void
act_find_material (GtkWidget  *widget,
                   const char *name,
                   GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  gtk_widget_set_visible (GTK_WIDGET (self->palette), TRUE);
  og_palette_view_focus_search (self->palette);
}

static void
act_go_to_recipe (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  if (!og_grid_view_focus (self->grid))
    gtk_widget_grab_focus (GTK_WIDGET (self->recipe_title_entry));
}

static void
act_show_palette (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  GtkWidget *palette = GTK_WIDGET (OG_WINDOW (widget)->palette);

  gtk_widget_set_visible (palette, !gtk_widget_get_visible (palette));
}

static void
act_show_panel (GtkWidget  *widget,
                const char *name,
                GVariant   *parameter)
{
  GtkWidget *panel = OG_WINDOW (widget)->panel_pane;

  gtk_widget_set_visible (panel, !gtk_widget_get_visible (panel));
}

static void
act_raise_advice (GtkWidget  *widget,
                  const char *name,
                  GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  gtk_widget_set_visible (self->panel_pane, TRUE);
  og_window_raise_advice (self);
}

static void
act_show_menu (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  gtk_menu_button_popup (GTK_MENU_BUTTON (OG_WINDOW (widget)->menu_button));
}

static void
act_show_shortcuts (GtkWidget  *widget,
                    const char *name,
                    GVariant   *parameter)
{
  g_autofree char *ui = og_shortcuts_to_ui ();

  og_compat_show_shortcuts (GTK_WINDOW (widget), ui);
}

static void
act_about (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  gtk_show_about_dialog (GTK_WINDOW (widget),
                         "program-name", _("Oleograph"),
                         "logo-icon-name", OG_PROGRAM_ID,
                         "version", OG_VERSION,
                         "license-type", GTK_LICENSE_GPL_3_0,
                         "comments", _("Designs lip and body oils and predicts their body before "
                                       "they are cooked"),
                         NULL);
}

/* Files */

static void
act_new (GtkWidget  *widget,
         const char *name,
         GVariant   *parameter)
{
  gtk_widget_activate_action (widget, "app.new-window", NULL);
}

static void
act_open (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  og_window_choose_and_open (OG_WINDOW (widget));
}

static void
act_open_recent (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  og_window_open_file (OG_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

static void
act_open_demo (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  og_window_open_demo (OG_WINDOW (widget));
}

static void
act_start_empty (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  og_window_start_empty (OG_WINDOW (widget));
}

/* The recipe of a window that nobody has used yet, or of a new one. */
static void
on_draft_start (OgWindow  *self,
                OgFormula *formula)
{
  OgWindow *target = self;

  if (!og_document_is_empty (self->document))
    {
      target = og_window_new_like (self);
      gtk_window_present (GTK_WINDOW (target));
    }
  og_window_start_empty (target);
  og_document_replace (target->document, og_formula_copy (formula), _("Start from a brief"));
  og_grid_view_focus (target->grid);
}

static void
act_draft (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  GtkWidget *dialog = og_draft_dialog_new (og_workshop_get_catalog (self->workshop),
                                           og_workshop_get_shelf (self->workshop));

  g_signal_connect_object (dialog, "start", G_CALLBACK (on_draft_start), self, G_CONNECT_SWAPPED);
  og_present_over (widget, dialog);
}

/* Plans a batch of so many grams and shows its record. */
static void
act_start_batch (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);
  g_autoptr (GError) error = NULL;
  g_autofree char *number =
    og_workshop_plan_batch (self->workshop, og_document_get_formula (self->document),
                            og_document_get_catalog (self->document),
                            g_variant_get_double (parameter), &error);

  if (number == NULL)
    og_window_say (self, error->message, FALSE);
  else
    gtk_widget_activate_action (widget, "app.batch-record", "s", number);
}

static void
act_save (GtkWidget  *widget,
          const char *name,
          GVariant   *parameter)
{
  og_window_save (OG_WINDOW (widget), FALSE);
}

static void
act_save_as (GtkWidget  *widget,
             const char *name,
             GVariant   *parameter)
{
  og_window_save_as (OG_WINDOW (widget), FALSE);
}

static void
act_reload (GtkWidget  *widget,
            const char *name,
            GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  if (og_document_get_file (self->document) == NULL)
    return;
  og_window_commit_text (self);
  og_notice_hide (self->disk_notice);
  og_window_load_again (self);
}

static void
act_keep_mine (GtkWidget  *widget,
               const char *name,
               GVariant   *parameter)
{
  og_notice_hide (OG_WINDOW (widget)->disk_notice);
}

static void
act_export_card (GtkWidget  *widget,
                 const char *name,
                 GVariant   *parameter)
{
  og_window_export (OG_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

static void
on_print_failed (GtkWindow    *window,
                 const GError *error,
                 gpointer      data)
{
  og_window_show_message (OG_WINDOW (window), _("The recipe card could not be printed"), error);
}

static void
act_print (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  OgWindow *self = OG_WINDOW (widget);

  og_window_commit_text (self);
  og_print_card (GTK_WINDOW (self), self->document, on_print_failed, NULL);
}

static void
act_restore_draft (GtkWidget  *widget,
                   const char *name,
                   GVariant   *parameter)
{
  og_window_restore_draft (OG_WINDOW (widget));
}

static void
act_discard_draft (GtkWidget  *widget,
                   const char *name,
                   GVariant   *parameter)
{
  og_window_discard_drafts (OG_WINDOW (widget));
}

static void
act_close (GtkWidget  *widget,
           const char *name,
           GVariant   *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static const struct
{
  const char *name;
  const char *parameter;
  GtkWidgetActionActivateFunc activate;
} actions[] = {
  { "win.undo", NULL, act_undo },
  { "win.redo", NULL, act_redo },
  { "win.add-phase", NULL, act_add_phase },
  { "win.remove-line", NULL, act_remove_line },
  { "win.move-line-up", NULL, act_move_line_up },
  { "win.move-line-down", NULL, act_move_line_down },
  { "win.move-to-phase", "u", act_move_to_phase },
  { "win.toggle-balance", NULL, act_toggle_balance },
  { "win.toggle-hold", NULL, act_toggle_hold },
  { "win.edit-line-note", NULL, act_edit_line_note },
  { "win.duplicate-line", NULL, act_duplicate_line },
  { "win.split-line", NULL, act_split_line },
  { "win.replace-material", NULL, act_replace_material },
  { "win.aim", NULL, act_aim },
  { "win.normalise", NULL, act_normalise },
  { "win.record-reading", NULL, act_record_reading },
  { "win.keep-version", NULL, act_keep_version },
  { "win.edit-words", NULL, act_edit_words },
  { "win.find-material", NULL, act_find_material },
  { "win.go-to-recipe", NULL, act_go_to_recipe },
  { "win.show-palette", NULL, act_show_palette },
  { "win.show-panel", NULL, act_show_panel },
  { "win.raise-advice", NULL, act_raise_advice },
  { "win.show-menu", NULL, act_show_menu },
  { "win.show-shortcuts", NULL, act_show_shortcuts },
  { "win.show-room", "s", act_show_room },
  { "win.about", NULL, act_about },
  { "win.new", NULL, act_new },
  { "win.open", NULL, act_open },
  { "win.open-recent", "s", act_open_recent },
  { "win.open-demo", NULL, act_open_demo },
  { "win.start-empty", NULL, act_start_empty },
  { "win.draft", NULL, act_draft },
  { "win.start-batch", "d", act_start_batch },
  { "win.save", NULL, act_save },
  { "win.save-as", NULL, act_save_as },
  { "win.reload", NULL, act_reload },
  { "win.keep-mine", NULL, act_keep_mine },
  { "win.export-card", "s", act_export_card },
  { "win.print", NULL, act_print },
  { "win.restore-draft", NULL, act_restore_draft },
  { "win.discard-draft", NULL, act_discard_draft },
  { "win.close", NULL, act_close },
};

static void
og_recipe_window_constructed (GObject *object)
{
  G_OBJECT_CLASS (og_recipe_window_parent_class)->constructed (object);

  og_window_offer_draft (OG_WINDOW (object));
}

static gboolean
og_recipe_window_close_request (GtkWindow *window)
{
  OgWindow *self = OG_WINDOW (window);

  if (!self->close_confirmed && og_window_ask_before_close (self))
    return TRUE;
  return GTK_WINDOW_CLASS (og_recipe_window_parent_class)->close_request (window);
}

static void
og_recipe_window_class_init (OgRecipeWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->constructed = og_recipe_window_constructed;
  GTK_WINDOW_CLASS (class)->close_request = og_recipe_window_close_request;
  OG_WINDOW_CLASS (class)->update_actions = og_recipe_window_update_actions;

  og_window_bind_template (widget_class);
  for (guint i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (widget_class, actions[i].name, actions[i].parameter,
                                     actions[i].activate);
  gtk_widget_class_install_property_action (widget_class, "win.batch-rule", "batch-rule");
  og_shortcuts_install_window (widget_class);
}

static void
og_recipe_window_init (OgRecipeWindow *self)
{
  og_window_build (OG_WINDOW (self));
}

OgWindow *
og_recipe_window_new (GtkApplication *application,
                      OgWorkshop     *workshop)
{
  g_return_val_if_fail (GTK_IS_APPLICATION (application) && OG_IS_WORKSHOP (workshop), NULL);

  return g_object_new (OG_TYPE_RECIPE_WINDOW,
                       "application", application,
                       "workshop", workshop,
                       NULL);
}
