/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/labels.h"

GtkWidget *
og_word_wrapping_label_new (const char *text,
                            const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

GtkWidget *
og_wrapping_label_new (const char *text,
                       const char *css_class)
{
  GtkWidget *label = og_word_wrapping_label_new (text, css_class);

  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
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

void
og_label_set_optional (GtkWidget  *label,
                       const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

static void
name_button (GtkWidget  *button,
             const char *name)
{
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
}

void
og_menu_button_show (GtkWidget  *button,
                     const char *word,
                     const char *name)
{
  gtk_menu_button_set_label (GTK_MENU_BUTTON (button), word);
  name_button (button, name);
  name_button (gtk_widget_get_first_child (button), name);
}
