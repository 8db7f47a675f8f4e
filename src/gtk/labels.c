/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/labels.h"

GtkWidget *
og_wrapping_label_new (const char *text,
                       const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

GtkWidget *
og_ellipsizing_label_new (const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (label, css_class);
  return label;
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

void
og_label_set_optional (GtkWidget  *label,
                       const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
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
