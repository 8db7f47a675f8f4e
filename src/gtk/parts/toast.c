/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/toast.h"

#define SHOW_SECONDS 7

struct _OgToast
{
  GtkWidget parent_instance;

  GtkWidget *revealer;
  GtkWidget *label;
  GtkWidget *button;
  guint timeout;
  gboolean hovered;
};

G_DEFINE_FINAL_TYPE (OgToast, og_toast, GTK_TYPE_WIDGET)

static void start_timeout (OgToast *self);

static gboolean
on_timeout (gpointer data)
{
  OgToast *self = data;

  self->timeout = 0;
  if (self->hovered || gtk_widget_get_focus_child (GTK_WIDGET (self)) != NULL)
    start_timeout (self);
  else
    og_toast_hide (self);
  return G_SOURCE_REMOVE;
}

static void
start_timeout (OgToast *self)
{
  g_clear_handle_id (&self->timeout, g_source_remove);
  self->timeout = g_timeout_add_seconds (SHOW_SECONDS, on_timeout, self);
}

void
og_toast_show (OgToast    *self,
               const char *message,
               const char *label,
               const char *action)
{
  g_return_if_fail (OG_IS_TOAST (self));
  g_return_if_fail (message != NULL);

  gtk_label_set_label (GTK_LABEL (self->label), message);
  gtk_widget_set_visible (self->button, label != NULL);
  if (label != NULL)
    {
      gtk_button_set_label (GTK_BUTTON (self->button), label);
      gtk_actionable_set_action_name (GTK_ACTIONABLE (self->button), action);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, message,
                                  -1);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), TRUE);
  start_timeout (self);
}

void
og_toast_hide (OgToast *self)
{
  g_return_if_fail (OG_IS_TOAST (self));

  g_clear_handle_id (&self->timeout, g_source_remove);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), FALSE);
}

static void
on_child_revealed (OgToast *self)
{
  if (!gtk_revealer_get_child_revealed (GTK_REVEALER (self->revealer))
      && !gtk_revealer_get_reveal_child (GTK_REVEALER (self->revealer)))
    gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

static void
on_enter (OgToast *self)
{
  self->hovered = TRUE;
}

static void
on_leave (OgToast *self)
{
  self->hovered = FALSE;
}

static void
og_toast_dispose (GObject *object)
{
  OgToast *self = OG_TOAST (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->revealer, gtk_widget_unparent);

  G_OBJECT_CLASS (og_toast_parent_class)->dispose (object);
}

static void
og_toast_class_init (OgToastClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = og_toast_dispose;

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ALERT);
}

static void
og_toast_init (OgToast *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *close = gtk_button_new_from_icon_name ("window-close-symbolic");
  GtkEventController *motion = gtk_event_controller_motion_new ();

  self->label = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->label), 0.0f);
  gtk_label_set_max_width_chars (GTK_LABEL (self->label), 60);
  self->button = gtk_button_new ();
  gtk_widget_set_valign (self->button, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (close, "flat");
  gtk_widget_add_css_class (close, "circular");
  gtk_widget_set_valign (close, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (close, _("Hide this message"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (close),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, _("Hide this message"),
                                  -1);
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (og_toast_hide), self);

  gtk_widget_add_css_class (box, "toast");
  gtk_box_append (GTK_BOX (box), self->label);
  gtk_box_append (GTK_BOX (box), self->button);
  gtk_box_append (GTK_BOX (box), close);

  self->revealer = gtk_revealer_new ();
  gtk_revealer_set_transition_type (GTK_REVEALER (self->revealer),
                                    GTK_REVEALER_TRANSITION_TYPE_SLIDE_UP);
  gtk_revealer_set_child (GTK_REVEALER (self->revealer), box);
  gtk_widget_set_parent (self->revealer, GTK_WIDGET (self));
  g_signal_connect_swapped (self->revealer, "notify::child-revealed",
                            G_CALLBACK (on_child_revealed), self);

  g_signal_connect_swapped (motion, "enter", G_CALLBACK (on_enter), self);
  g_signal_connect_swapped (motion, "leave", G_CALLBACK (on_leave), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);

  gtk_widget_set_halign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_END);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
og_toast_new (void)
{
  return g_object_new (OG_TYPE_TOAST, NULL);
}
