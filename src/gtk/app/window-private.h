/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/app/window.h"
#include "gtk/design/body-panel.h"
#include "gtk/design/grid-view.h"
#include "gtk/design/palette-view.h"
#include "gtk/design/side-panel.h"
#include "gtk/label/label-view.h"
#include "gtk/make/make-view.h"
#include "gtk/parts/cell-entry.h"
#include "gtk/parts/notice.h"
#include "gtk/parts/toast.h"

G_BEGIN_DECLS

struct _OgWindow
{
  GtkApplicationWindow parent_instance;

  /* template */
  GtkWidget *title_label;
  GtkWidget *subtitle_label;
  GtkWidget *undo_button;
  GtkWidget *redo_button;
  GtkWidget *menu_button;
  GtkWidget *card_button;
  GMenu *recent_menu;
  OgNotice *draft_notice;
  OgNotice *disk_notice;
  OgToast *toast;
  GtkWidget *pages;
  GtkWidget *empty_state;
  GtkWidget *rooms;
  GtkWidget *room_switcher;
  GtkWidget *outer_pane;
  GtkWidget *inner_pane;
  GtkWidget *panel_pane;
  OgPaletteView *palette;
  OgCellEntry *recipe_title_entry;
  GtkWidget *product_drop_down;
  OgCellEntry *purpose_entry;
  OgCellEntry *batch_entry;
  GtkWidget *batch_button;
  OgCellEntry *target_low_entry;
  OgCellEntry *target_high_entry;
  OgGridView *grid;
  GtkWidget *total_bar;
  GtkWidget *total_meter;
  GtkWidget *total_label;
  GtkWidget *problem_label;
  OgBodyPanel *body_panel;
  OgSidePanel *side_panel;
  OgMakeView *make_view;
  GtkWidget *label_room;

  OgLabelView *label_view; /* nullable: not before somebody looks into its room */
  OgWorkshop *workshop;
  OgDocument *document;
  GCancellable *cancellable;
  gboolean filling;         /* the drop-down shows a product, nobody has chosen it */
  gboolean started;         /* past the welcome page */
  gboolean advice_priced;   /* the advice wants to know stock and prices */
  gboolean placed;          /* panes have their first positions */
  gboolean saving;
  gboolean asking;          /* a question of the close flow is open */
  gboolean close_confirmed; /* nothing more to ask */
};

/* window.c */

/**
 * The template belongs to the class that has the actions, so that what is built finds them: to be
 * called in its class_init().
 */
void     og_window_bind_template     (GtkWidgetClass *class);
/** Builds the window from the template: to be called in the init() of that class. */
void     og_window_build             (OgWindow     *self);
void     og_window_show_message      (OgWindow     *self,
                                      const char   *heading,
                                      const GError *error);
void     og_window_update_pages      (OgWindow     *self);
void     og_window_update_actions    (OgWindow     *self);
/** Commits the text being typed. Returns: FALSE if it is refused; it then stays where it is */
gboolean og_window_commit_text       (OgWindow     *self);
/** Shows the file in the window that has it, or here if nothing is in it yet, or in a new one. */
void     og_window_open_file         (OgWindow     *self,
                                      const char   *uri);
/** Loads the file of the recipe anew; undo brings back what was here. */
void     og_window_load_again        (OgWindow     *self);
/** Returns: (transfer none): a new window of the same kind, not presented yet */
OgWindow *og_window_new_like         (OgWindow     *self);

/** Gives the advice the room of the chart, or takes it back. */
void     og_window_raise_advice      (OgWindow     *self);
/** TRUE while the recipe can be seen and edited. */
gboolean og_window_is_designing      (OgWindow     *self);

/* window-files.c */
/** @then_close: close the window once the recipe is saved */
void     og_window_save              (OgWindow       *self,
                                      gboolean        then_close);
void     og_window_save_as           (OgWindow       *self,
                                      gboolean        then_close);
void     og_window_choose_and_open   (OgWindow       *self);
void     og_window_open_demo         (OgWindow       *self);
void     og_window_export            (OgWindow       *self,
                                      const char     *format);
void     og_window_restore_draft     (OgWindow       *self);
void     og_window_discard_drafts    (OgWindow       *self);
void     og_window_offer_draft       (OgWindow       *self);
/** Returns: TRUE to keep the window open for now */
gboolean og_window_ask_before_close  (OgWindow       *self);

G_END_DECLS
