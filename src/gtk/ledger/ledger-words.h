/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/ledger.h"

G_BEGIN_DECLS

/* What the windows of the ledger have in common. Texts are (transfer full) and translated. */

/** Returns: "1 250.00 g"; with the third decimal only where it says something */
char       *og_ledger_mg_to_text    (gint64       mg);
/** Returns: the number alone, for a column that names the unit */
char       *og_ledger_mg_to_number  (gint64       mg);
/** Returns: "12.40 EUR"; "" if it is not said */
char       *og_ledger_price_to_text (double       price,
                                     const char  *currency);
/** Returns: date and time of day of a moment here, "2026-03-01 14:05" */
char       *og_ledger_moment_to_text (gint64      moment);
/** Returns: (transfer full): @text, or "" for %NULL */
char       *og_ledger_optional_text (const char  *text);
/** Returns: (transfer none) (nullable): who wrote last in this run of the program */
const char *og_ledger_get_who       (OgLedger    *ledger);
/** @who: (nullable) */
void        og_ledger_set_who       (OgLedger    *ledger,
                                     const char  *who);

G_END_DECLS
