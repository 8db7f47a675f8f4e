/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/make/weighing.h"

G_BEGIN_DECLS

#define OG_TYPE_BALANCE_DIALOG (og_balance_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgBalanceDialog, og_balance_dialog, OG, BALANCE_DIALOG, GtkWindow)

/*
 * Asks for the balances of the workshop. Signal: "applied" (GPtrArray of OgBalance, lent): these
 * are to be used.
 */
GtkWidget *og_balance_dialog_new   (const GPtrArray *balances);
/** Returns: FALSE, saying why in the rows, if some balance makes no sense */
gboolean   og_balance_dialog_apply (OgBalanceDialog *self);

G_END_DECLS
