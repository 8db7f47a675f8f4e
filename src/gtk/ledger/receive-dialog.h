/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/catalog.h"
#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_TYPE_RECEIVE_DIALOG (og_receive_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgReceiveDialog, og_receive_dialog, OG, RECEIVE_DIALOG, GtkWindow)

/*
 * A delivery: material, lot, amount, and what is known of price, supplier and certificate. What is
 * wrong is told at its field, and nothing that was typed is lost. Signal: "received" (string:
 * material id, string: lot).
 */

/** @material_id: (nullable): the material to begin with */
GtkWidget *og_receive_dialog_new   (OgLedger        *ledger,
                                    OgCatalog       *catalog,
                                    const char      *material_id);
/** Fields that og_receive_dialog_type() reaches. */
typedef enum
{
  OG_RECEIVE_LOT,
  OG_RECEIVE_AMOUNT,
  OG_RECEIVE_SUPPLIER,
  OG_RECEIVE_RECEIVED,
  OG_RECEIVE_BEST_BEFORE,
  OG_RECEIVE_PRICE,
  OG_RECEIVE_CURRENCY,
  OG_RECEIVE_PACK,
  OG_RECEIVE_WHO,
  OG_RECEIVE_NOTE,
  OG_N_RECEIVE_FIELDS
} OgReceiveField;

/** Types into one of the fields. */
void       og_receive_dialog_type  (OgReceiveDialog *self,
                                    OgReceiveField   field,
                                    const char      *text);
/** Records it. Returns: FALSE, having said why at the fields, if it is refused */
gboolean   og_receive_dialog_apply (OgReceiveDialog *self);

G_END_DECLS
