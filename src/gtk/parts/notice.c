/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/notice.h"

struct _OgNotice
{
  GtkWidget parent_instance;

  GtkWidget *revealer;
  GtkWidget *label;
  GtkWidget *first;
  GtkWidget *second;
};

G_DEFINE_FINAL_TYPE (OgNotice, og_notice, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_FIRST_LABEL,
  PROP_FIRST_ACTION,
  PROP_SECOND_LABEL,
  PROP_SECOND_ACTION,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

void
og_notice_show (OgNotice   *self,
                const char *message)
{
  g_return_if_fail (OG_IS_NOTICE (self));

  gtk_label_set_label (GTK_LABEL (self->label), message);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self),
                                  GTK_ACCESSIBLE_PROPERTY_LABEL, message,
                                  -1);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), TRUE);
}

void
og_notice_hide (OgNotice *self)
{
  g_return_if_fail (OG_IS_NOTICE (self));

  gtk_revealer_set_reveal_child (GTK_REVEALER (self->revealer), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

static void
og_notice_get_property (GObject    *object,
                        guint       id,
                        GValue     *value,
                        GParamSpec *pspec)
{
  OgNotice *self = OG_NOTICE (object);

  switch (id)
    {
    case PROP_FIRST_LABEL:
      g_value_set_string (value, gtk_button_get_label (GTK_BUTTON (self->first)));
      break;
    case PROP_FIRST_ACTION:
      g_value_set_string (value, gtk_actionable_get_action_name (GTK_ACTIONABLE (self->first)));
      break;
    case PROP_SECOND_LABEL:
      g_value_set_string (value, gtk_button_get_label (GTK_BUTTON (self->second)));
      break;
    case PROP_SECOND_ACTION:
      g_value_set_string (value, gtk_actionable_get_action_name (GTK_ACTIONABLE (self->second)));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
set_label (GtkWidget    *button,
           const GValue *value)
{
  gtk_button_set_label (GTK_BUTTON (button), g_value_get_string (value));
}

static void
set_action (GtkWidget    *button,
            const GValue *value)
{
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), g_value_get_string (value));
}

static void
og_notice_set_property (GObject      *object,
                        guint         id,
                        const GValue *value,
                        GParamSpec   *pspec)
{
  OgNotice *self = OG_NOTICE (object);

  switch (id)
    {
    case PROP_FIRST_LABEL:
      set_label (self->first, value);
      break;
    case PROP_FIRST_ACTION:
      set_action (self->first, value);
      break;
    case PROP_SECOND_LABEL:
      set_label (self->second, value);
      break;
    case PROP_SECOND_ACTION:
      set_action (self->second, value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_notice_dispose (GObject *object)
{
  OgNotice *self = OG_NOTICE (object);

  g_clear_pointer (&self->revealer, gtk_widget_unparent);

  G_OBJECT_CLASS (og_notice_parent_class)->dispose (object);
}

static void
og_notice_class_init (OgNoticeClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);
  static const char *const names[N_PROPS] = {
    [PROP_FIRST_LABEL] = "first-label",
    [PROP_FIRST_ACTION] = "first-action",
    [PROP_SECOND_LABEL] = "second-label",
    [PROP_SECOND_ACTION] = "second-action",
  };

  object_class->get_property = og_notice_get_property;
  object_class->set_property = og_notice_set_property;
  object_class->dispose = og_notice_dispose;

  for (guint i = PROP_0 + 1; i < N_PROPS; i++)
    properties[i] = g_param_spec_string (names[i], NULL, NULL, NULL,
                                         G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ALERT);
}

static void
og_notice_init (OgNotice *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  self->label = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->label), 0.0f);
  gtk_widget_set_hexpand (self->label, TRUE);
  self->first = gtk_button_new ();
  self->second = gtk_button_new ();
  gtk_widget_set_valign (self->first, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (self->second, GTK_ALIGN_CENTER);

  gtk_widget_add_css_class (box, "notice");
  gtk_box_append (GTK_BOX (box), self->label);
  gtk_box_append (GTK_BOX (box), self->first);
  gtk_box_append (GTK_BOX (box), self->second);

  self->revealer = gtk_revealer_new ();
  gtk_revealer_set_child (GTK_REVEALER (self->revealer), box);
  gtk_widget_set_parent (self->revealer, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
og_notice_new (void)
{
  return g_object_new (OG_TYPE_NOTICE, NULL);
}
