/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/labels.h"
#include "gtk/parts/text-field.h"
#include "gtk/parts/text-undo.h"
#include "model/ledger.h"

#define TITLE_CHARS 20
#define SPACING 12

struct _OgTextField
{
  GtkBox parent_instance;

  GtkWidget *title_label;
  GtkWidget *entry;
  GtkWidget *problem_label;
};

G_DEFINE_FINAL_TYPE (OgTextField, og_text_field, GTK_TYPE_BOX)

enum
{
  CHANGED,
  ACTIVATE,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

char *
og_text_field_get_text (OgTextField *self)
{
  g_autofree char *text = NULL;

  g_return_val_if_fail (OG_IS_TEXT_FIELD (self), NULL);

  text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))));
  return *text != '\0' ? g_steal_pointer (&text) : NULL;
}

void
og_text_field_set_text (OgTextField *self,
                        const char  *text)
{
  g_return_if_fail (OG_IS_TEXT_FIELD (self));

  og_editable_show (GTK_EDITABLE (self->entry), text != NULL ? text : "");
}

void
og_text_field_set_problem (OgTextField *self,
                           const char  *problem)
{
  g_return_if_fail (OG_IS_TEXT_FIELD (self));

  og_label_set_optional (self->problem_label, problem);
  if (problem != NULL)
    gtk_widget_add_css_class (self->entry, "error");
  else
    gtk_widget_remove_css_class (self->entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry),
                               GTK_ACCESSIBLE_STATE_INVALID,
                               problem != NULL ? GTK_ACCESSIBLE_INVALID_TRUE
                                               : GTK_ACCESSIBLE_INVALID_FALSE,
                               -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  problem != NULL ? problem : "",
                                  -1);
}

gboolean
og_text_field_check_day (OgTextField *self)
{
  g_autofree char *text = NULL;
  gboolean good;

  g_return_val_if_fail (OG_IS_TEXT_FIELD (self), FALSE);

  text = og_text_field_get_text (self);
  good = text == NULL || og_ledger_is_day (text);
  og_text_field_set_problem (self, good ? NULL
                                        : _("This is no day: write year, month and day as "
                                            "2026-03-01."));
  return good;
}

void
og_text_field_join (OgTextField  *self,
                    GtkSizeGroup *titles)
{
  g_return_if_fail (OG_IS_TEXT_FIELD (self));

  gtk_size_group_add_widget (titles, self->title_label);
}

static void
on_entry_changed (OgTextField *self)
{
  og_text_field_set_problem (self, NULL);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
on_entry_activate (OgTextField *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static gboolean
og_text_field_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (OG_TEXT_FIELD (widget)->entry);
}

static void
og_text_field_class_init (OgTextFieldClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  widget_class->grab_focus = og_text_field_grab_focus;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATE] = g_signal_new ("activate", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                    NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_css_name (widget_class, "textfield");
}

static void
og_text_field_init (OgTextField *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, SPACING);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 3);
  self->title_label = og_wrapping_label_new (NULL, NULL);
  gtk_label_set_max_width_chars (GTK_LABEL (self->title_label), TITLE_CHARS);
  self->entry = gtk_entry_new ();
  gtk_entry_set_activates_default (GTK_ENTRY (self->entry), TRUE);
  gtk_widget_set_hexpand (self->entry, TRUE);
  self->problem_label = og_wrapping_label_new (NULL, "field-problem");
  gtk_widget_add_css_class (self->problem_label, "error");
  gtk_widget_set_visible (self->problem_label, FALSE);
  gtk_box_append (GTK_BOX (line), self->title_label);
  gtk_box_append (GTK_BOX (line), self->entry);
  gtk_box_append (GTK_BOX (self), line);
  gtk_box_append (GTK_BOX (self), self->problem_label);
  g_signal_connect_swapped (self->entry, "changed", G_CALLBACK (on_entry_changed), self);
  g_signal_connect_swapped (self->entry, "activate", G_CALLBACK (on_entry_activate), self);
}

GtkWidget *
og_text_field_new (const char *title,
                   const char *hint)
{
  OgTextField *self = g_object_new (OG_TYPE_TEXT_FIELD, NULL);

  gtk_label_set_label (GTK_LABEL (self->title_label), title);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), hint);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, title,
                                  -1);
  return GTK_WIDGET (self);
}
