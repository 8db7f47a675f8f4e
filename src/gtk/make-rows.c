/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/labels.h"
#include "gtk/make-rows.h"

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
og_plain_list_new (const char *name)
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

void
og_plain_list_clear (GtkWidget *list)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (list), GTK_WIDGET (row));
}

GtkWidget *
og_plain_list_add (GtkWidget  *list,
                   GtkWidget  *child,
                   const char *spoken)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), child);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (list), row);
  return row;
}

void
og_plain_list_add_fact (GtkWidget  *list,
                        const char *title,
                        const char *value,
                        const char *remark)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = line_new (title);
  GtkWidget *label = og_wrapping_label_new (value, "tile-value");
  g_autofree char *fact = g_strdup_printf ("%s: %s", title, value);
  g_autofree char *spoken = remark != NULL ? g_strdup_printf ("%s. %s", fact, remark)
                                           : g_strdup (fact);

  gtk_label_set_xalign (GTK_LABEL (label), 1.0f);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_RIGHT);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (box), line);
  if (remark != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (remark, "fact-origin"));
  og_plain_list_add (list, box, spoken);
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

static const char *
severity_icon (OgSeverity severity)
{
  switch (severity)
    {
    case OG_SEVERITY_BLOCKING:
      return "dialog-error-symbolic";
    case OG_SEVERITY_CAUTION:
      return "dialog-warning-symbolic";
    case OG_SEVERITY_NOTE:
    default:
      return "dialog-information-symbolic";
    }
}

void
og_plain_list_add_finding (GtkWidget       *list,
                           const OgFinding *finding)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 9);
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  GtkWidget *image = gtk_image_new_from_icon_name (severity_icon (finding->severity));
  const char *severity = og_severity_get_name (finding->severity);
  g_autofree char *spoken = g_strdup_printf ("%s: %s", severity, finding->text);
  GtkWidget *row;

  gtk_widget_set_valign (image, GTK_ALIGN_START);
  gtk_widget_set_hexpand (words, TRUE);
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (severity, "finding-severity"));
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (finding->text, NULL));
  if (finding->source != NULL)
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (finding->source, "fact-origin"));
  gtk_box_append (GTK_BOX (line), image);
  gtk_box_append (GTK_BOX (line), words);
  row = og_plain_list_add (list, line, spoken);
  gtk_widget_add_css_class (row, og_severity_to_nick (finding->severity));
}
