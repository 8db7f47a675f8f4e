/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/drop-down.h"

static const char *
item_text (GtkListItem *item)
{
  return gtk_string_object_get_string (GTK_STRING_OBJECT (gtk_list_item_get_item (item)));
}

/* The choice itself */

static void
setup_choice (GtkListItemFactory *factory,
              GtkListItem        *item)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_list_item_set_child (item, label);
}

static void
bind_choice (GtkListItemFactory *factory,
             GtkListItem        *item)
{
  GtkWidget *label = gtk_list_item_get_child (item);

  gtk_label_set_label (GTK_LABEL (label), item_text (item));
  gtk_widget_set_tooltip_text (label, item_text (item));
}

/* The list, in which the choice is ticked */

static void
show_tick (GtkDropDown *drop_down,
           GParamSpec  *property,
           GtkListItem *item)
{
  GtkWidget *tick = gtk_widget_get_last_child (gtk_list_item_get_child (item));
  const gboolean chosen =
    gtk_drop_down_get_selected_item (drop_down) == gtk_list_item_get_item (item);

  gtk_widget_set_opacity (tick, chosen ? 1.0 : 0.0);
}

static void
setup_row (GtkListItemFactory *factory,
           GtkListItem        *item)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (box), label);
  gtk_box_append (GTK_BOX (box), gtk_image_new_from_icon_name ("object-select-symbolic"));
  gtk_list_item_set_child (item, box);
}

static void
bind_row (GtkListItemFactory *factory,
          GtkListItem        *item,
          GtkDropDown        *drop_down)
{
  GtkWidget *label = gtk_widget_get_first_child (gtk_list_item_get_child (item));

  gtk_label_set_label (GTK_LABEL (label), item_text (item));
  g_signal_connect (drop_down, "notify::selected-item", G_CALLBACK (show_tick), item);
  show_tick (drop_down, NULL, item);
}

static void
unbind_row (GtkListItemFactory *factory,
            GtkListItem        *item,
            GtkDropDown        *drop_down)
{
  g_signal_handlers_disconnect_by_data (drop_down, item);
}

/* The button in a drop-down, which takes the focus, has no name of its own. */
static void
name_choice (GtkDropDown *drop_down)
{
  GtkWidget *button = gtk_widget_get_first_child (GTK_WIDGET (drop_down));
  GtkStringObject *chosen = gtk_drop_down_get_selected_item (drop_down);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  chosen != NULL ? gtk_string_object_get_string (chosen) : "",
                                  -1);
}

void
og_drop_down_ellipsize (GtkDropDown *drop_down)
{
  g_autoptr(GtkListItemFactory) choice = gtk_signal_list_item_factory_new ();
  g_autoptr(GtkListItemFactory) rows = gtk_signal_list_item_factory_new ();

  g_return_if_fail (GTK_IS_DROP_DOWN (drop_down));

  g_signal_connect (choice, "setup", G_CALLBACK (setup_choice), NULL);
  g_signal_connect (choice, "bind", G_CALLBACK (bind_choice), NULL);
  g_signal_connect (rows, "setup", G_CALLBACK (setup_row), NULL);
  g_signal_connect_object (rows, "bind", G_CALLBACK (bind_row), drop_down, 0);
  g_signal_connect_object (rows, "unbind", G_CALLBACK (unbind_row), drop_down, 0);
  gtk_drop_down_set_factory (drop_down, choice);
  gtk_drop_down_set_list_factory (drop_down, rows);
  g_signal_connect (drop_down, "notify::selected-item", G_CALLBACK (name_choice), NULL);
  name_choice (drop_down);
}

void
og_drop_down_set_strings (GtkDropDown       *drop_down,
                          const char *const *names)
{
  g_autoptr(GtkStringList) list = gtk_string_list_new (names);

  g_return_if_fail (GTK_IS_DROP_DOWN (drop_down));

  gtk_drop_down_set_model (drop_down, G_LIST_MODEL (list));
}

void
og_drop_down_set_name (GtkWidget  *drop_down,
                       const char *name)
{
  GtkWidget *button;

  g_return_if_fail (GTK_IS_DROP_DOWN (drop_down) && name != NULL);

  button = gtk_widget_get_first_child (drop_down);
  gtk_accessible_update_property (GTK_ACCESSIBLE (drop_down),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  -1);
}
