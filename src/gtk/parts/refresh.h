/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/**
 * OgRefresh: what a widget shows is worked out anew, once in an idle after it was asked for, and
 * only while the widget can be seen. A member of the widget; initialise with og_refresh_init().
 */
typedef struct
{
  GtkWidget *widget;
  void     (*func) (GtkWidget *widget);
  int        priority;
  guint      idle;
  gboolean   due;
} OgRefresh;

/**
 * og_refresh_init:
 * @self: a member of @widget
 * @priority: of the idle
 * @func: shows what there is now
 */
void     og_refresh_init (OgRefresh  *self,
                          GtkWidget  *widget,
                          int         priority,
                          void      (*func) (GtkWidget *widget));
/** Asks for one refresh. */
void     og_refresh_ask  (OgRefresh  *self);
/** Refreshes at once if that is due. */
void     og_refresh_now  (OgRefresh  *self);
/** Nothing is due any more. To be called when @widget is disposed of. */
void     og_refresh_drop (OgRefresh  *self);

G_END_DECLS
