/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/finding-row.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"
#include "gtk/parts/plain-list.h"

struct _OgPlainList
{
  GtkWidget parent_instance;

  GtkWidget *list;
  int refocus; /* index of the row that had the focus when the list was cleared; -1: none */
};

G_DEFINE_FINAL_TYPE (OgPlainList, og_plain_list, GTK_TYPE_WIDGET)

void
og_plain_list_clear (OgPlainList *self)
{
  GtkWidget *focused = gtk_widget_get_focus_child (self->list);

  if (focused != NULL)
    self->refocus = gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (focused));
  og_list_clear (self->list);
}

GtkWidget *
og_plain_list_add (OgPlainList *self,
                   GtkWidget  *child,
                   const char *spoken)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), child);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
  if (gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row)) == self->refocus)
    {
      self->refocus = -1;
      gtk_widget_grab_focus (row);
    }
  return row;
}

void
og_plain_list_add_fact (OgPlainList *self,
                        const char *title,
                        const char *value,
                        const char *remark)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *title_label = og_wrapping_label_new (title, NULL);
  GtkWidget *label = og_wrapping_label_new (value, "tile-value");
  g_autofree char *fact = g_strdup_printf ("%s: %s", title, value);
  g_autofree char *spoken = remark != NULL ? g_strdup_printf ("%s. %s", fact, remark)
                                           : g_strdup (fact);

  gtk_widget_set_hexpand (title_label, TRUE);
  gtk_box_append (GTK_BOX (line), title_label);
  gtk_label_set_xalign (GTK_LABEL (label), 1.0f);
  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_RIGHT);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (box), line);
  if (remark != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (remark, "fact-origin"));
  og_plain_list_add (self, box, spoken);
}

void
og_plain_list_add_finding (OgPlainList     *self,
                           const OgFinding *finding)
{
  g_autofree char *spoken = og_finding_to_speech (finding);
  GtkWidget *row = og_plain_list_add (self, og_finding_content_new (finding), spoken);

  gtk_widget_add_css_class (row, og_severity_to_nick (finding->severity));
}

/* GTK would stop at every row; that keeps a reader with a keyboard long away from what follows. */
static gboolean
og_plain_list_focus (GtkWidget        *widget,
                     GtkDirectionType  direction)
{
  if (gtk_widget_get_focus_child (widget) != NULL
      && (direction == GTK_DIR_TAB_FORWARD || direction == GTK_DIR_TAB_BACKWARD))
    return FALSE;
  return gtk_widget_child_focus (OG_PLAIN_LIST (widget)->list, direction);
}

static gboolean
og_plain_list_grab_focus (GtkWidget *widget)
{
  return gtk_widget_child_focus (OG_PLAIN_LIST (widget)->list, GTK_DIR_TAB_FORWARD);
}

static void
og_plain_list_dispose (GObject *object)
{
  g_clear_pointer (&OG_PLAIN_LIST (object)->list, gtk_widget_unparent);

  G_OBJECT_CLASS (og_plain_list_parent_class)->dispose (object);
}

static void
og_plain_list_class_init (OgPlainListClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_plain_list_dispose;
  widget_class->focus = og_plain_list_focus;
  widget_class->grab_focus = og_plain_list_grab_focus;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "plainlist");
}

static void
og_plain_list_init (OgPlainList *self)
{
  self->refocus = -1;
  self->list = gtk_list_box_new ();
  gtk_list_box_set_selection_mode (GTK_LIST_BOX (self->list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (self->list, "panel-list");
  gtk_widget_add_css_class (self->list, "make-list");
  gtk_widget_set_parent (self->list, GTK_WIDGET (self));
}

GtkWidget *
og_plain_list_new (const char *name)
{
  OgPlainList *self = g_object_new (OG_TYPE_PLAIN_LIST, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  return GTK_WIDGET (self);
}
