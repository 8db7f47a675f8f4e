/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>
#include <string.h>

#include "gtk/parts/tag-filter.h"

static const struct
{
  const char *tag;
  const char *name;
} choices[] = {
  { "nut", N_("Without tree nuts") },
  { "peanut", N_("Without peanut") },
  { "sesame", N_("Without sesame") },
  { "soy", N_("Without soya") },
  { "gluten-source", N_("Without gluten sources") },
  { "animal-derived", N_("Without animal-derived materials") },
  { "bee", N_("Without bee products") },
  { "lanolin", N_("Without lanolin") },
  { "palm", N_("Without palm") },
  { "mineral", N_("Without mineral oil") },
  { "silicone", N_("Without silicones") },
  { "fragrance", N_("Without fragrance") },
  { "allergen", N_("Without known allergens") },
  { "drying", N_("Without oils that dry in air") },
  { "grade-varies", N_("Without grades that vary by source") },
  { "not-for-lips-us", N_("Only what may go on lips (US)") },
  { "not-for-lips-eu", N_("Only what may go on lips (EU)") },
};

struct _OgTagFilter
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkWidget *checks[G_N_ELEMENTS (choices)];
  const char *tags[G_N_ELEMENTS (choices) + 1];
  guint n_tags;
  gboolean clearing;
};

G_DEFINE_FINAL_TYPE (OgTagFilter, og_tag_filter, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

static void
on_toggled (OgTagFilter *self)
{
  if (self->clearing)
    return;
  self->n_tags = 0;
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      if (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->checks[i])))
        self->tags[self->n_tags++] = choices[i].tag;
    }
  self->tags[self->n_tags] = NULL;
  g_signal_emit (self, signals[CHANGED], 0);
}

const char *const *
og_tag_filter_get_tags (OgTagFilter *self)
{
  g_return_val_if_fail (OG_IS_TAG_FILTER (self), NULL);

  return self->n_tags > 0 ? self->tags : NULL;
}

guint
og_tag_filter_get_n (OgTagFilter *self)
{
  g_return_val_if_fail (OG_IS_TAG_FILTER (self), 0);

  return self->n_tags;
}

gboolean
og_tag_filter_set (OgTagFilter *self,
                   const char  *tag,
                   gboolean     without)
{
  g_return_val_if_fail (OG_IS_TAG_FILTER (self), FALSE);

  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      if (strcmp (choices[i].tag, tag) == 0)
        {
          gtk_check_button_set_active (GTK_CHECK_BUTTON (self->checks[i]), without);
          return TRUE;
        }
    }
  return FALSE;
}

void
og_tag_filter_clear (OgTagFilter *self)
{
  g_return_if_fail (OG_IS_TAG_FILTER (self));

  if (self->n_tags == 0)
    return;
  self->clearing = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->checks[i]), FALSE);
  self->clearing = FALSE;
  on_toggled (self);
}

static void
og_tag_filter_dispose (GObject *object)
{
  OgTagFilter *self = OG_TAG_FILTER (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);

  G_OBJECT_CLASS (og_tag_filter_parent_class)->dispose (object);
}

static void
og_tag_filter_class_init (OgTagFilterClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_tag_filter_dispose;

  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (class), G_SIGNAL_RUN_LAST, 0,
                                   NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "tagfilter");
}

static void
og_tag_filter_init (OgTagFilter *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  for (guint i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      self->checks[i] = gtk_check_button_new_with_label (_(choices[i].name));
      g_signal_connect_swapped (self->checks[i], "toggled", G_CALLBACK (on_toggled), self);
      gtk_box_append (GTK_BOX (self->box), self->checks[i]);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("What to do without"),
                                  -1);
}

GtkWidget *
og_tag_filter_new (void)
{
  return g_object_new (OG_TYPE_TAG_FILTER, NULL);
}
