/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_RELEASE_DIALOG (og_release_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgReleaseDialog, og_release_dialog, OG, RELEASE_DIALOG, GtkWindow)

/* The signature that lets a closed batch go, by somebody who had no hand in it. Signal: "released". */
GtkWidget *og_release_dialog_new   (OgLedger        *ledger,
                                    const char      *number);
/** Types the name of who signs. */
void       og_release_dialog_type  (OgReleaseDialog *self,
                                    const char      *who);
/** Signs. Returns: FALSE, having said why, if it is refused */
gboolean   og_release_dialog_apply (OgReleaseDialog *self);

G_END_DECLS
