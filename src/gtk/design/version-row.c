/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/design/version-row.h"

#include <glib/gi18n.h>

#include "core/base/dates.h"
#include "gtk/parts/labels.h"
#include "gtk/parts/pieces.h"

struct _OgVersionRow
{
  GtkListBoxRow parent_instance;

  char *name;
  GtkWidget *tick;
  gboolean setting; /* the tick is being set, not clicked */
};

G_DEFINE_FINAL_TYPE (OgVersionRow, og_version_row, GTK_TYPE_LIST_BOX_ROW)

const char *
og_version_row_get_name (OgVersionRow *self)
{
  g_return_val_if_fail (OG_IS_VERSION_ROW (self), NULL);

  return self->name;
}

void
og_version_row_set_beside (OgVersionRow *self,
                           gboolean      beside,
                           gboolean      possible)
{
  g_return_if_fail (OG_IS_VERSION_ROW (self));

  self->setting = TRUE;
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->tick), beside);
  self->setting = FALSE;
  gtk_widget_set_sensitive (self->tick, possible);
}

void
og_version_row_focus (OgVersionRow *self)
{
  g_return_if_fail (OG_IS_VERSION_ROW (self));

  gtk_widget_grab_focus (self->tick);
}

static void
on_toggled (OgVersionRow *self)
{
  if (!self->setting)
    gtk_widget_activate_action (GTK_WIDGET (self), "version.beside", "s", self->name);
}

static GtkWidget *
make_tick (OgVersionRow *self)
{
  GtkWidget *label = og_wrapping_label_new (self->name, "reading-name");
  /* Translators: %s is the name of a version */
  g_autofree char *spoken = g_strdup_printf (_("Lay “%s” beside the recipe"), self->name);

  self->tick = gtk_check_button_new ();
  gtk_check_button_set_child (GTK_CHECK_BUTTON (self->tick), label);
  gtk_widget_set_tooltip_text (self->tick, _("Lay it beside the recipe, here and in the chart"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->tick), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_signal_connect_object (self->tick, "toggled", G_CALLBACK (on_toggled), self, G_CONNECT_SWAPPED);
  return self->tick;
}

static void
append_item (GMenu      *menu,
             const char *text,
             const char *action,
             const char *name)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (text, NULL);

  g_menu_item_set_action_and_target (item, action, "s", name);
  g_menu_append_item (menu, item);
}

static GtkWidget *
make_menu_button (OgVersionRow *self)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  GtkWidget *button = gtk_menu_button_new ();
  /* Translators: %s is the name of a version */
  g_autofree char *spoken = g_strdup_printf (_("Actions for the version “%s”"), self->name);

  append_item (menu, _("Rename…"), "version.rename", self->name);
  append_item (menu, _("Remove"), "version.remove", self->name);
  gtk_menu_button_set_icon_name (GTK_MENU_BUTTON (button), "view-more-symbolic");
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (button), FALSE);
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (button), G_MENU_MODEL (menu));
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (button, _("Actions for this version"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  return button;
}

static GtkWidget *
make_back_button (OgVersionRow *self,
                  gboolean      is_now)
{
  GtkWidget *button = gtk_button_new_with_label (_("Go back"));
  /* Translators: %s is the name of a version */
  g_autofree char *spoken = g_strdup_printf (_("Go back to “%s”"), self->name);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "version.go-back");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", self->name);
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  gtk_widget_set_visible (button, !is_now);
  gtk_widget_set_tooltip_text (button, _("Make the recipe what it was; undo brings back what it is now"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  return button;
}

static GtkWidget *
make_words (OgVersionRow    *self,
            const OgVersion *version,
            gboolean         is_now)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *date = og_date_to_text (&version->date);
  /* Translators: %s is a date; the recipe is just what the version was */
  g_autofree char *origin = is_now ? g_strdup_printf (_("%s · as it stands"), date) : g_steal_pointer (&date);

  gtk_widget_set_hexpand (box, TRUE);
  gtk_box_append (GTK_BOX (box), make_tick (self));
  gtk_box_append (GTK_BOX (box), og_wrapping_label_new (origin, "reading-origin"));
  if (*version->note != '\0')
    gtk_box_append (GTK_BOX (box), og_wrapping_label_new (version->note, "reading-origin"));
  return box;
}

static void
og_version_row_finalize (GObject *object)
{
  g_free (OG_VERSION_ROW (object)->name);

  G_OBJECT_CLASS (og_version_row_parent_class)->finalize (object);
}

static void
og_version_row_class_init (OgVersionRowClass *class)
{
  G_OBJECT_CLASS (class)->finalize = og_version_row_finalize;
}

static void
og_version_row_init (OgVersionRow *self)
{
}

GtkWidget *
og_version_row_new (const OgVersion *version,
                    gboolean         is_now,
                    gboolean         beside)
{
  OgVersionRow *self;
  GtkWidget *acts = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 3);

  g_return_val_if_fail (version != NULL, NULL);

  self = g_object_new (OG_TYPE_VERSION_ROW, "activatable", FALSE, "focusable", FALSE, NULL);
  self->name = g_strdup (version->name);
  gtk_box_append (GTK_BOX (acts), make_back_button (self, is_now));
  gtk_box_append (GTK_BOX (acts), make_menu_button (self));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self),
                              og_beside_new (make_words (self, version, is_now), acts, 6));
  og_version_row_set_beside (self, beside, TRUE);
  return GTK_WIDGET (self);
}
