/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/work-list.h"

/* A list box would keep the focus to its rows; boxes let it into them, and look the same. */
static GtkWidget *
make_box (const char        *css_name,
          GtkAccessibleRole  role,
          const char        *name)
{
  GtkWidget *box = g_object_new (GTK_TYPE_BOX,
                                 "css-name", css_name,
                                 "accessible-role", role,
                                 "orientation", GTK_ORIENTATION_VERTICAL,
                                 NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (box),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  return box;
}

GtkWidget *
og_work_list_new (const char *name)
{
  GtkWidget *list = make_box ("list", GTK_ACCESSIBLE_ROLE_LIST, name);

  gtk_widget_add_css_class (list, "panel-list");
  gtk_widget_add_css_class (list, "make-list");
  return list;
}

GtkWidget *
og_work_list_add (GtkWidget  *list,
                  GtkWidget  *child,
                  const char *spoken)
{
  GtkWidget *row = make_box ("row", GTK_ACCESSIBLE_ROLE_LIST_ITEM, spoken);

  gtk_box_append (GTK_BOX (row), child);
  gtk_box_append (GTK_BOX (list), row);
  return row;
}
