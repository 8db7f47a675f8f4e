/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gtk/ledger/ledger-page.h"

G_BEGIN_DECLS

#define OG_TYPE_LEDGER_JOURNAL_PAGE (og_ledger_journal_page_get_type ())
G_DECLARE_FINAL_TYPE (OgLedgerJournalPage, og_ledger_journal_page, OG, LEDGER_JOURNAL_PAGE,
                      OgLedgerPage)

/* Every amount that came or went, newest first, a page at a time. Actions "journal.more" and
 * "journal.counter". */
GtkWidget *og_ledger_journal_page_new (void);

G_END_DECLS
