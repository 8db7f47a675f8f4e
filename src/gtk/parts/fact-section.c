/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/fact-section.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

struct _OgFactSection
{
  GtkWidget parent_instance;

  GtkWidget *expander;
  GtkWidget *title_label;
  GtkWidget *summary_label;
  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (OgFactSection, og_fact_section, GTK_TYPE_WIDGET)

void
og_fact_section_set_summary (OgFactSection *self,
                             const char    *summary)
{
  g_autofree char *spoken = NULL;

  g_return_if_fail (OG_IS_FACT_SECTION (self));

  og_label_set_optional (self->summary_label, summary);
  spoken = g_strdup_printf ("%s: %s", gtk_label_get_label (GTK_LABEL (self->title_label)),
                            summary != NULL ? summary : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->expander),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, spoken,
                                  -1);
}

void
og_fact_section_set_alert (OgFactSection *self,
                           gboolean       alert)
{
  g_return_if_fail (OG_IS_FACT_SECTION (self));

  if (alert)
    gtk_widget_add_css_class (self->summary_label, "error");
  else
    gtk_widget_remove_css_class (self->summary_label, "error");
}

void
og_fact_section_set_open (OgFactSection *self,
                          gboolean       open)
{
  g_return_if_fail (OG_IS_FACT_SECTION (self));

  gtk_expander_set_expanded (GTK_EXPANDER (self->expander), open);
}

GtkWidget *
og_fact_section_get_box (OgFactSection *self)
{
  g_return_val_if_fail (OG_IS_FACT_SECTION (self), NULL);

  return self->box;
}

void
og_fact_section_clear (OgFactSection *self)
{
  g_return_if_fail (OG_IS_FACT_SECTION (self));

  og_box_clear (self->box);
}

void
og_facts_append_heading (GtkWidget  *box,
                         const char *text)
{
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (text, "fact-heading"));
}

void
og_facts_append (GtkWidget  *box,
                 const char *name,
                 const char *value,
                 const char *remark)
{
  GtkWidget *name_label = og_wrapping_label_new (name, "dim-label");
  GtkWidget *value_label = og_wrapping_label_new (value, "numeric");

  gtk_widget_set_hexpand (name_label, TRUE);
  gtk_widget_set_valign (name_label, GTK_ALIGN_START);
  gtk_label_set_xalign (GTK_LABEL (value_label), 1.0f);
  gtk_box_append (GTK_BOX (box), og_beside_new (name_label, value_label, 12));
  if (remark != NULL)
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (remark, "fact-origin"));
}

void
og_facts_append_text (GtkWidget  *box,
                      const char *text,
                      const char *css_class)
{
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (text, css_class));
}

static void
og_fact_section_dispose (GObject *object)
{
  g_clear_pointer (&OG_FACT_SECTION (object)->expander, gtk_widget_unparent);

  G_OBJECT_CLASS (og_fact_section_parent_class)->dispose (object);
}

static void
og_fact_section_class_init (OgFactSectionClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_fact_section_dispose;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "factsection");
}

static void
og_fact_section_init (OgFactSection *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  self->title_label = og_wrapping_label_new (NULL, "heading");
  self->summary_label = og_wrapping_label_new (NULL, NULL);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->expander = gtk_expander_new (NULL);
  gtk_widget_add_css_class (self->box, "fact-box");
  gtk_box_append (GTK_BOX (head), self->title_label);
  gtk_box_append (GTK_BOX (head), self->summary_label);
  gtk_expander_set_label_widget (GTK_EXPANDER (self->expander), head);
  gtk_expander_set_child (GTK_EXPANDER (self->expander), self->box);
  gtk_widget_set_parent (self->expander, GTK_WIDGET (self));
}

GtkWidget *
og_fact_section_new (const char *title)
{
  OgFactSection *self;

  g_return_val_if_fail (title != NULL, NULL);

  self = g_object_new (OG_TYPE_FACT_SECTION, NULL);
  gtk_label_set_label (GTK_LABEL (self->title_label), title);
  return GTK_WIDGET (self);
}
