/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <math.h>

#include "gtk/parts/finding-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

#define LINE_ID "og-line-id"

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

/* Severity, and where it holds. */
static char *
head_text (const OgFinding *finding)
{
  const char *severity = og_severity_get_name (finding->severity);

  if (finding->jurisdiction == NULL)
    return g_strdup (severity);
  /* Translators: how severe a finding is, then the place whose rule it is: "Caution · EU" */
  return g_strdup_printf (_("%s · %s"), severity, og_jurisdiction_get_name (finding->jurisdiction));
}

static void
append_words (GtkWidget       *words,
              const OgFinding *finding)
{
  g_autofree char *head = head_text (finding);

  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (head, "finding-severity"));
  gtk_box_append (GTK_BOX (words), og_wrapping_label_new (og_saying_text (finding->text), NULL));
  if (finding->cure != NULL)
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (og_saying_text (finding->cure), "finding-cure"));
  if (finding->reference != NULL)
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (og_saying_text (finding->reference), "fact-origin"));
  if (finding->source != NULL)
    gtk_box_append (GTK_BOX (words), og_wrapping_label_new (og_saying_text (finding->source), "fact-origin"));
}

GtkWidget *
og_finding_content_new (const OgFinding *finding)
{
  GtkWidget *words;
  GtkWidget *image;

  g_return_val_if_fail (finding != NULL, NULL);

  words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  image = gtk_image_new_from_icon_name (severity_icon (finding->severity));
  gtk_widget_set_valign (image, GTK_ALIGN_START);
  gtk_widget_set_hexpand (words, TRUE);
  append_words (words, finding);
  return og_beside_new (image, words, 12);
}

char *
og_finding_to_speech (const OgFinding *finding)
{
  g_autofree char *head = NULL;
  const char *text;

  g_return_val_if_fail (finding != NULL, NULL);

  head = head_text (finding);
  text = og_saying_text (finding->text);
  return finding->cure != NULL ? g_strdup_printf ("%s: %s %s", head, text, og_saying_text (finding->cure))
                               : g_strdup_printf ("%s: %s", head, text);
}

GtkWidget *
og_finding_row_new (const OgFinding *finding)
{
  GtkWidget *row = gtk_list_box_row_new ();
  g_autofree char *spoken = og_finding_to_speech (finding);

  gtk_widget_add_css_class (row, og_severity_to_nick (finding->severity));
  if (finding->line_id != 0)
    gtk_widget_set_tooltip_text (row, _("Go to the line"));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), finding->line_id != 0);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), og_finding_content_new (finding));
  g_object_set_data (G_OBJECT (row), LINE_ID, GUINT_TO_POINTER (finding->line_id));
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  return row;
}

guint
og_finding_row_get_line_id (GtkListBoxRow *row)
{
  g_return_val_if_fail (GTK_IS_LIST_BOX_ROW (row), 0);

  return GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), LINE_ID));
}
