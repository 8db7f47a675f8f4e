/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/nick.h"
#include "model/ledger.h"

/* What the file, the command line and the screen call things. Nicks stand in files: they stay. */

static const OgNick journal_kinds[OG_N_JOURNAL_KINDS] = {
  [OG_JOURNAL_RECEIPT] = { "receipt", N_("Receipt") },
  [OG_JOURNAL_USE] = { "use", N_("Use") },
  [OG_JOURNAL_WASTE] = { "waste", N_("Waste") },
  [OG_JOURNAL_CORRECTION] = { "correction", N_("Correction") },
  [OG_JOURNAL_COUNT] = { "count", N_("Stock take") },
};

static const OgNick batch_states[OG_N_BATCH_STATES] = {
  [OG_BATCH_PLANNED] = { "planned", N_("Planned") },
  [OG_BATCH_RUNNING] = { "running", N_("Running") },
  [OG_BATCH_CLOSED] = { "closed", N_("Closed") },
  [OG_BATCH_ABANDONED] = { "abandoned", N_("Abandoned") },
};

static const OgNick entry_kinds[OG_N_BATCH_ENTRY_KINDS] = {
  [OG_BATCH_ENTRY_PROCESS] = { "process", N_("Process") },
  [OG_BATCH_ENTRY_DEVIATION] = { "deviation", N_("Deviation") },
  [OG_BATCH_ENTRY_PHOTO] = { "photo", N_("Photo") },
  [OG_BATCH_ENTRY_SAMPLE] = { "sample", N_("Retained sample") },
  [OG_BATCH_ENTRY_MEASUREMENT] = { "measurement", N_("Measurement") },
  [OG_BATCH_ENTRY_FILLING] = { "filling", N_("Filled weight") },
};

static const OgNick tables[OG_N_LEDGER_TABLES] = {
  [OG_LEDGER_TABLE_JOURNAL] = { "journal", NULL },
  [OG_LEDGER_TABLE_STOCK] = { "stock", NULL },
  [OG_LEDGER_TABLE_BATCHES] = { "batches", NULL },
  [OG_LEDGER_TABLE_LOTS] = { "lots", NULL },
};

OG_DEFINE_NICKS (OgJournalKind, og_journal_kind, journal_kinds)
OG_DEFINE_NAMES (OgJournalKind, og_journal_kind, journal_kinds)
OG_DEFINE_NICKS (OgBatchState, og_batch_state, batch_states)
OG_DEFINE_NAMES (OgBatchState, og_batch_state, batch_states)
OG_DEFINE_NICKS (OgBatchEntryKind, og_batch_entry_kind, entry_kinds)
OG_DEFINE_NAMES (OgBatchEntryKind, og_batch_entry_kind, entry_kinds)
OG_DEFINE_NICKS (OgLedgerTable, og_ledger_table, tables)
