/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/make/net-content.h"

G_BEGIN_DECLS

#define OG_TYPE_NET_CHECK_DIALOG (og_net_check_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgNetCheckDialog, og_net_check_dialog, OG, NET_CHECK_DIALOG, GtkWindow)

/* Judges the weights of filled containers against the declared content, while they are typed. */

/** @density_20_g_ml: NAN if it is not known */
GtkWidget *og_net_check_dialog_new         (const OgPackage  *package,
                                            double            density_20_g_ml);
/** Types a tare and weights, one a line or with other space between. */
void       og_net_check_dialog_type        (OgNetCheckDialog *self,
                                            const char       *tare,
                                            const char       *weights);
/** Returns: (transfer none): the verdict, or why there is none */
const char *og_net_check_dialog_get_verdict (OgNetCheckDialog *self);

G_END_DECLS
