/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/work-list.h"

GtkWidget *
og_work_list_new (const char *name)
{
  GtkWidget *list = gtk_list_box_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "panel-list");
  gtk_widget_add_css_class (list, "make-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  return list;
}

GtkWidget *
og_work_list_add (GtkWidget  *list,
                  GtkWidget  *child,
                  const char *spoken)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), child);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (list), row);
  return row;
}
