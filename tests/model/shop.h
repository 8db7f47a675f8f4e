/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <sqlite3.h>

#include "model/ledger.h"

G_BEGIN_DECLS

/** Shop: the folder of a test, the file in it, and the ledger that it is. */
typedef struct
{
  GFile    *folder;
  char     *path;
  OgLedger *ledger;
} Shop;

void       shop_open      (Shop          *shop);
/** The ledger must be let go by everybody else. */
void       shop_close     (Shop          *shop);
/** Opens @path, which must work. Returns: (transfer full) */
OgLedger  *shop_must_open (const char    *path,
                           OgLedgerFlags  flags);
/** Receives @amount_mg of a lot on 2026-03-01; @price (or NAN) in EUR for 1 kg. Returns: as
 * og_ledger_receive() */
gint64     shop_receive   (OgLedger      *ledger,
                           const char    *material_id,
                           const char    *code,
                           gint64         amount_mg,
                           const char    *best_before,
                           double         price,
                           GError       **error);
/** The same, which must work. */
void       shop_stock     (OgLedger      *ledger,
                           const char    *material_id,
                           const char    *code,
                           gint64         amount_mg);
/** Returns: mg left of a lot, which must be there */
gint64     shop_left      (OgLedger      *ledger,
                           const char    *material_id,
                           const char    *code);
/** Returns: (transfer full): 60 % castor oil, 37 % sunflower oil, 3 % polyamide-3 in two phases */
OgFormula *shop_recipe    (void);
/** Weighs for a line of a batch, which must work. */
void       shop_weigh     (OgLedger      *ledger,
                           const char    *number,
                           guint          line,
                           const char    *lot,
                           gint64         amount_mg);
/** Returns: the first cell of the first row of @sql on the file itself, which must work */
gint64     shop_ask       (const char    *path,
                           const char    *sql);
/** Returns: what SQLite says to statements on the file itself, SQLITE_OK if it takes them */
int        shop_try       (const char    *path,
                           const char    *sql);

G_END_DECLS
