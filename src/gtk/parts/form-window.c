/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/form-window.h"
#include "gtk/parts/pieces.h"

#define MARGIN 18
#define SPACING 9
#define WIDTH 480

GtkWidget *
og_form_window_build (GtkWindow  *window,
                      const char *title,
                      const char *apply,
                      const char *action)
{
  GtkWidget *header = gtk_header_bar_new ();
  GtkWidget *button = og_action_button_new (apply, action);
  GtkWidget *scroller = gtk_scrolled_window_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, SPACING);

  gtk_header_bar_set_show_title_buttons (GTK_HEADER_BAR (header), FALSE);
  gtk_header_bar_pack_start (GTK_HEADER_BAR (header), og_action_button_new (_("Cancel"), "window.close"));
  gtk_header_bar_pack_end (GTK_HEADER_BAR (header), button);
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_widget_set_margin_start (box, MARGIN);
  gtk_widget_set_margin_end (box, MARGIN);
  gtk_widget_set_margin_top (box, MARGIN);
  gtk_widget_set_margin_bottom (box, MARGIN);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroller), TRUE);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), box);
  gtk_window_set_title (window, title);
  gtk_window_set_titlebar (window, header);
  gtk_window_set_child (window, scroller);
  gtk_window_set_default_widget (window, button);
  gtk_window_set_default_size (window, WIDTH, -1);
  gtk_window_set_modal (window, TRUE);
  gtk_window_set_destroy_with_parent (window, TRUE);
  return box;
}

void
og_form_window_init_class (GtkWidgetClass *class)
{
  gtk_widget_class_set_accessible_role (class, GTK_ACCESSIBLE_ROLE_DIALOG);
  gtk_widget_class_add_binding_action (class, GDK_KEY_Escape, 0, "window.close", NULL);
}

GtkWidget *
og_form_problem_new (void)
{
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL,
                                   "accessible-role", GTK_ACCESSIBLE_ROLE_ALERT,
                                   "xalign", 0.0f,
                                   "wrap", TRUE,
                                   "wrap-mode", PANGO_WRAP_WORD_CHAR,
                                   "visible", FALSE,
                                   NULL);

  gtk_widget_add_css_class (label, "problem");
  return label;
}
