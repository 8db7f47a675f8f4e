/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n.h>

#include "gtk/parts/labels.h"
#include "gtk/parts/work-bar.h"

#define PATIENCE_MS 200
#define FRAME_MS 100

struct _OgWorkBar
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkWidget *title_label;
  GtkWidget *progress;
  GtkWidget *stop_button;

  OgWork *work;
  OgWorkDone done;
  gpointer user_data;
  guint timeout;
};

G_DEFINE_FINAL_TYPE (OgWorkBar, og_work_bar, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_TITLE,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

static gboolean
on_frame (gpointer user_data)
{
  OgWorkBar *self = user_data;

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress),
                                 og_work_get_progress (self->work));
  return G_SOURCE_CONTINUE;
}

static gboolean
on_patience_over (gpointer user_data)
{
  OgWorkBar *self = user_data;

  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->progress), 0.0);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  self->timeout = g_timeout_add (FRAME_MS, on_frame, self);
  return G_SOURCE_REMOVE;
}

static void
rest (OgWorkBar *self)
{
  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->work, og_work_drop);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

static void
on_done (gpointer      answer,
         const GError *error,
         gpointer      user_data)
{
  OgWorkBar *self = user_data;

  rest (self);
  self->done (answer, error, self->user_data);
}

void
og_work_bar_run (OgWorkBar        *self,
                 const OgWorkKind *kind,
                 gpointer          request,
                 OgWorkDone        done,
                 gpointer          user_data)
{
  g_return_if_fail (OG_IS_WORK_BAR (self));

  g_clear_pointer (&self->work, og_work_drop);
  gtk_widget_set_sensitive (self->stop_button, TRUE);
  self->done = done;
  self->user_data = user_data;
  self->work = og_work_start (kind, request, on_done, self);
  if (self->timeout == 0)
    self->timeout = g_timeout_add (PATIENCE_MS, on_patience_over, self);
}

void
og_work_bar_drop (OgWorkBar *self)
{
  g_return_if_fail (OG_IS_WORK_BAR (self));

  rest (self);
}

void
og_work_bar_stop (OgWorkBar *self)
{
  g_return_if_fail (OG_IS_WORK_BAR (self));

  if (self->work == NULL)
    return;
  og_work_stop (self->work);
  gtk_widget_set_sensitive (self->stop_button, FALSE);
}

gboolean
og_work_bar_is_busy (OgWorkBar *self)
{
  g_return_val_if_fail (OG_IS_WORK_BAR (self), FALSE);

  return self->work != NULL;
}

void
og_work_bar_wait (OgWorkBar *self)
{
  g_return_if_fail (OG_IS_WORK_BAR (self));

  if (self->work != NULL)
    og_work_wait (self->work);
}

static void
og_work_bar_set_property (GObject      *object,
                          guint         id,
                          const GValue *value,
                          GParamSpec   *pspec)
{
  OgWorkBar *self = OG_WORK_BAR (object);

  switch (id)
    {
    case PROP_TITLE:
      gtk_label_set_label (GTK_LABEL (self->title_label), g_value_get_string (value));
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->progress),
                                      GTK_ACCESSIBLE_PROPERTY_LABEL, g_value_get_string (value),
                                      -1);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
og_work_bar_dispose (GObject *object)
{
  OgWorkBar *self = OG_WORK_BAR (object);

  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->work, og_work_drop);
  g_clear_pointer (&self->box, gtk_widget_unparent);

  G_OBJECT_CLASS (og_work_bar_parent_class)->dispose (object);
}

static void
og_work_bar_class_init (OgWorkBarClass *class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (class);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  object_class->set_property = og_work_bar_set_property;
  object_class->dispose = og_work_bar_dispose;

  properties[PROP_TITLE] =
    g_param_spec_string ("title", NULL, NULL, "",
                         G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "workbar");
}

static void
og_work_bar_init (OgWorkBar *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  self->box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->title_label = og_wrapping_label_new ("", "dim-label");
  self->progress = gtk_progress_bar_new ();
  self->stop_button = gtk_button_new_with_label (_("Cancel"));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (self->stop_button, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (words), self->title_label);
  gtk_box_append (GTK_BOX (words), self->progress);
  gtk_box_append (GTK_BOX (self->box), words);
  gtk_box_append (GTK_BOX (self->box), self->stop_button);
  g_signal_connect_swapped (self->stop_button, "clicked", G_CALLBACK (og_work_bar_stop), self);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

GtkWidget *
og_work_bar_new (void)
{
  return g_object_new (OG_TYPE_WORK_BAR, NULL);
}
