/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "gtk/parts/refresh.h"

static void
stop (OgRefresh *self)
{
  g_clear_handle_id (&self->idle, g_source_remove);
}

void
og_refresh_drop (OgRefresh *self)
{
  stop (self);
  self->due = FALSE;
}

void
og_refresh_now (OgRefresh *self)
{
  stop (self);
  if (!self->due)
    return;
  self->due = FALSE;
  self->func (self->widget);
}

static gboolean
on_idle (gpointer data)
{
  OgRefresh *self = data;

  self->idle = 0;
  og_refresh_now (self);
  return G_SOURCE_REMOVE;
}

static void
schedule (OgRefresh *self)
{
  if (self->due && self->idle == 0 && gtk_widget_get_mapped (self->widget))
    self->idle = g_idle_add_full (self->priority, on_idle, self, NULL);
}

void
og_refresh_ask (OgRefresh *self)
{
  self->due = TRUE;
  schedule (self);
}

void
og_refresh_init (OgRefresh  *self,
                 GtkWidget  *widget,
                 int         priority,
                 void      (*func) (GtkWidget *widget))
{
  *self = (OgRefresh) { .widget = widget, .func = func, .priority = priority };
  g_signal_connect_swapped (widget, "map", G_CALLBACK (schedule), self);
  g_signal_connect_swapped (widget, "unmap", G_CALLBACK (stop), self);
}
