/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/compat.h"
#include "gtk/parts/pieces.h"

#define INDEX "og-index"

void
og_box_clear (GtkWidget *box)
{
  GtkWidget *child;

  g_return_if_fail (GTK_IS_BOX (box));

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

void
og_list_clear (GtkWidget *list)
{
  GtkListBoxRow *row;

  g_return_if_fail (GTK_IS_LIST_BOX (list));

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list), GTK_WIDGET (row));
}

GtkWidget *
og_beside_new (GtkWidget *start,
               GtkWidget *end,
               int        spacing)
{
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), spacing);
  gtk_grid_attach (GTK_GRID (grid), start, 0, 0, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), end, 1, 0, 1, 1);
  return grid;
}

GtkWidget *
og_acts_new (void)
{
  GtkWidget *acts = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (acts), GTK_SELECTION_NONE);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (acts), 6);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (acts), 3);
  gtk_widget_add_css_class (acts, "row-acts");
  return acts;
}

void
og_acts_append (GtkWidget *acts,
                GtkWidget *button)
{
  gtk_flow_box_insert (GTK_FLOW_BOX (acts), button, -1);
  gtk_widget_set_focusable (gtk_widget_get_parent (button), FALSE);
}

GtkWidget *
og_action_button_new (const char *label,
                      const char *action)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  return button;
}

GtkWidget *
og_row_button_new (const char *label,
                   const char *spoken,
                   guint       index,
                   GCallback   clicked,
                   gpointer    data)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  g_object_set_data (G_OBJECT (button), INDEX, GUINT_TO_POINTER (index));
  g_signal_connect (button, "clicked", clicked, data);
  return button;
}

guint
og_row_button_get_index (GtkButton *button)
{
  g_return_val_if_fail (GTK_IS_BUTTON (button), 0);

  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), INDEX));
}

void
og_present_over (GtkWidget *widget,
                 GtkWidget *dialog)
{
  GtkRoot *root = gtk_widget_get_root (widget);

  if (GTK_IS_WINDOW (root))
    gtk_window_set_transient_for (GTK_WINDOW (dialog), GTK_WINDOW (root));
  gtk_window_present (GTK_WINDOW (dialog));
}

void
og_show_error (GtkWindow    *parent,
               const char   *heading,
               const GError *error)
{
  const OgAnswer answer = { _("Close"), OG_ANSWER_PLAIN };

  og_compat_ask (parent, heading, error->message, &answer, 1, NULL, NULL);
}

void
og_stack_show_page (GtkWidget  *stack,
                    const char *name)
{
  g_return_if_fail (GTK_IS_STACK (stack));

  gtk_stack_set_visible_child_name (GTK_STACK (stack), name);
  gtk_widget_grab_focus (gtk_stack_get_visible_child (GTK_STACK (stack)));
}

void
og_class_add_page_keys (GtkWidgetClass    *class,
                        const char        *action,
                        const char *const *pages)
{
  for (guint i = 0; pages[i] != NULL; i++)
    gtk_widget_class_add_binding_action (class, GDK_KEY_1 + i, GDK_CONTROL_MASK, action, "s",
                                         pages[i]);
}

static void
on_search_pressed (GtkWidget *entry)
{
  gtk_widget_grab_focus (entry);
}

void
og_search_entry_keep_focus (GtkWidget *entry)
{
  GtkGesture *click = gtk_gesture_click_new ();

  g_return_if_fail (GTK_IS_SEARCH_ENTRY (entry));

  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (click), GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (on_search_pressed), entry);
  gtk_widget_add_controller (entry, GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
og_scroller_new (GtkWidget *child)
{
  GtkWidget *scroller = gtk_scrolled_window_new ();

  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), child);
  gtk_widget_set_vexpand (scroller, TRUE);
  return scroller;
}

gboolean
og_same_texts (const GPtrArray *a,
               const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      if (!g_str_equal (g_ptr_array_index (a, i), g_ptr_array_index (b, i)))
        return FALSE;
    }
  return TRUE;
}
