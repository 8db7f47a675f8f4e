/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/palette-item.h"

#include <glib/gi18n.h>

#include "gtk/parts/labels.h"

struct _OgPaletteItem
{
  GtkBox parent_instance;

  GtkWidget *heading;
  GtkWidget *content;
  GtkWidget *name;
  GtkWidget *inci;
  GtkWidget *own;
  GtkWidget *pin;
};

G_DEFINE_FINAL_TYPE (OgPaletteItem, og_palette_item, GTK_TYPE_BOX)

static gboolean
is_cut (GtkWidget *label)
{
  return gtk_widget_get_visible (label)
         && pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (label)));
}

/* Only what cannot be read is said again: a tooltip covers the material below. */
static gboolean
on_query_tooltip (OgPaletteItem *self,
                  int            x,
                  int            y,
                  gboolean       by_keyboard,
                  GtkTooltip    *tooltip)
{
  const char *inci = gtk_label_get_label (GTK_LABEL (self->inci));
  g_autofree char *text = NULL;

  if (!is_cut (self->name) && !is_cut (self->inci))
    return FALSE;
  text = g_strjoin (*inci != '\0' ? "\n" : "", gtk_label_get_label (GTK_LABEL (self->name)), inci, NULL);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

void
og_palette_item_show (OgPaletteItem      *self,
                      const OgIngredient *ingredient,
                      gboolean            own,
                      gboolean            pinned)
{
  GtkWidget *row;
  const char *inci;

  g_return_if_fail (OG_IS_PALETTE_ITEM (self) && ingredient != NULL);

  row = gtk_widget_get_parent (GTK_WIDGET (self));
  inci = ingredient->inci != NULL ? ingredient->inci : "";
  gtk_label_set_label (GTK_LABEL (self->name), ingredient->name);
  gtk_label_set_label (GTK_LABEL (self->inci), inci);
  gtk_widget_set_visible (self->inci, ingredient->inci != NULL);
  gtk_widget_set_visible (self->own, own);
  gtk_widget_set_visible (self->pin, pinned);
  if (row != NULL)
    gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                    ingredient->name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, inci, -1);
}

void
og_palette_item_set_heading (OgPaletteItem *self,
                             const char    *heading)
{
  g_return_if_fail (OG_IS_PALETTE_ITEM (self));

  gtk_widget_set_visible (self->heading, heading != NULL);
  gtk_label_set_label (GTK_LABEL (self->heading), heading != NULL ? heading : "");
}

GtkWidget *
og_palette_item_get_content (OgPaletteItem *self)
{
  g_return_val_if_fail (OG_IS_PALETTE_ITEM (self), NULL);

  return self->content;
}

static void
og_palette_item_class_init (OgPaletteItemClass *class)
{
}

static void
og_palette_item_init (OgPaletteItem *self)
{
  GtkWidget *names = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->heading = og_ellipsizing_label_new ("shelf-heading");
  self->content = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->name = og_ellipsizing_label_new ("material-name");
  self->inci = og_ellipsizing_label_new ("material-inci");
  self->own = og_ellipsizing_label_new ("own-mark");
  self->pin = gtk_image_new_from_icon_name ("view-pin-symbolic");
  gtk_label_set_label (GTK_LABEL (self->own), C_("material", "own"));
  gtk_widget_set_valign (self->own, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->pin), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_("material", "pinned"), -1);
  gtk_widget_set_hexpand (names, TRUE);
  gtk_widget_add_css_class (self->content, "shelf-item");
  gtk_box_append (GTK_BOX (names), self->name);
  gtk_box_append (GTK_BOX (names), self->inci);
  gtk_box_append (GTK_BOX (self->content), names);
  gtk_box_append (GTK_BOX (self->content), self->own);
  gtk_box_append (GTK_BOX (self->content), self->pin);
  gtk_box_append (GTK_BOX (self), self->heading);
  gtk_box_append (GTK_BOX (self), self->content);
  gtk_widget_set_has_tooltip (self->content, TRUE);
  g_signal_connect_swapped (self->content, "query-tooltip", G_CALLBACK (on_query_tooltip), self);
}

GtkWidget *
og_palette_item_new (void)
{
  return g_object_new (OG_TYPE_PALETTE_ITEM, NULL);
}
