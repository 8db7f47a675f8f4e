/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define OG_TYPE_NOTICE (og_notice_get_type ())
G_DECLARE_FINAL_TYPE (OgNotice, og_notice, OG, NOTICE, GtkWidget)

/*
 * A bar across the window that states something and offers two ways on. It stays until one is
 * taken.
 *
 * Properties: "first-label", "first-action", "second-label", "second-action" (strings).
 */
GtkWidget *og_notice_new  (void);
void       og_notice_show (OgNotice   *self,
                           const char *message);
void       og_notice_hide (OgNotice   *self);

G_END_DECLS
