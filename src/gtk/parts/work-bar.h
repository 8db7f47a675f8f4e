/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "gtk/parts/work.h"

G_BEGIN_DECLS

#define OG_TYPE_WORK_BAR (og_work_bar_get_type ())
G_DECLARE_FINAL_TYPE (OgWorkBar, og_work_bar, OG, WORK_BAR, GtkWidget)

/*
 * Runs one computation at a time. If it takes longer than an eye notices, the bar comes up with how
 * far it is and a way to stop it. Property: "title" (string: what is being done).
 */
GtkWidget *og_work_bar_new     (void);
/** As og_work_start(); drops what runs already. */
void       og_work_bar_run     (OgWorkBar        *self,
                                const OgWorkKind *kind,
                                gpointer          request,
                                OgWorkDone        done,
                                gpointer          user_data);
/** Drops what runs, if anything does. */
void       og_work_bar_drop    (OgWorkBar        *self);
/** What the reader does who has waited long enough: the answer comes soon, as far as it got. */
void       og_work_bar_stop    (OgWorkBar        *self);
gboolean   og_work_bar_is_busy (OgWorkBar        *self);
/** Waits for what runs. */
void       og_work_bar_wait    (OgWorkBar        *self);

G_END_DECLS
