/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/labels.h"
#include "gtk/parts/make-rows.h"

#define ENTRY_CHARS 7
#define UNIT_CHARS 3

static GtkWidget *
line_new (const char *title)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *label = og_wrapping_label_new (title, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (line), label);
  return line;
}

GtkWidget *
og_field_line_new (const char   *title,
                   const char   *unit,
                   OgCellEntry **entry)
{
  GtkWidget *line = line_new (title);
  GtkWidget *field = og_cell_entry_new (TRUE);
  GtkWidget *label = gtk_label_new (unit);
  g_autofree char *name = unit != NULL ? g_strdup_printf ("%s, %s", title, unit)
                                       : g_strdup (title);

  g_object_set (field, "optional", TRUE, "unit", unit, NULL);
  gtk_editable_set_width_chars (GTK_EDITABLE (field), ENTRY_CHARS);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (field), ENTRY_CHARS);
  gtk_widget_set_valign (field, GTK_ALIGN_CENTER);
  og_cell_entry_set_label (OG_CELL_ENTRY (field), name);
  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_width_chars (GTK_LABEL (label), UNIT_CHARS);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (line), field);
  gtk_box_append (GTK_BOX (line), label);
  *entry = OG_CELL_ENTRY (field);
  return line;
}

GtkWidget *
og_choice_line_new (const char *title,
                    GtkWidget  *widget)
{
  GtkWidget *line = line_new (title);

  gtk_widget_set_valign (widget, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  -1);
  gtk_box_append (GTK_BOX (line), widget);
  return line;
}

GtkWidget *
og_caution_new (const char *text)
{
  GtkWidget *caution = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *image = gtk_image_new_from_icon_name ("dialog-warning-symbolic");
  GtkWidget *label = og_wrapping_label_new (text, NULL);

  gtk_widget_set_valign (image, GTK_ALIGN_START);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (caution, "caution");
  gtk_box_append (GTK_BOX (caution), image);
  gtk_box_append (GTK_BOX (caution), label);
  return caution;
}
