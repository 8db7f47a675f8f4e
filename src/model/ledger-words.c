/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "model/ledger-private.h"

int
_og_nick_index (const char *const *nicks,
                guint              n_nicks,
                const char        *nick)
{
  for (guint i = 0; i < n_nicks; i++)
    {
      if (g_strcmp0 (nicks[i], nick) == 0)
        return (int) i;
    }

  return -1;
}

/* --- kinds of journal entries -------------------------------------------------- */

static const char *const journal_nicks[OG_N_JOURNAL_KINDS] = {
  "receipt", "use", "waste", "correction", "count"
};

const char *
og_journal_kind_to_nick (OgJournalKind kind)
{
  g_return_val_if_fail (kind < OG_N_JOURNAL_KINDS, NULL);

  return journal_nicks[kind];
}

gboolean
og_journal_kind_from_nick (const char    *nick,
                           OgJournalKind *kind)
{
  const int i = _og_nick_index (journal_nicks, OG_N_JOURNAL_KINDS, nick);

  if (i >= 0)
    *kind = (OgJournalKind) i;

  return i >= 0;
}

const char *
og_journal_kind_get_name (OgJournalKind kind)
{
  static const char *const names[OG_N_JOURNAL_KINDS] = {
    N_("Receipt"), N_("Use"), N_("Waste"), N_("Correction"), N_("Stock take")
  };

  g_return_val_if_fail (kind < OG_N_JOURNAL_KINDS, NULL);

  return _(names[kind]);
}

/* --- states of batches ------------------------------------------------------- */

static const char *const state_nicks[OG_N_BATCH_STATES] = {
  "planned", "running", "closed", "abandoned"
};

const char *
og_batch_state_to_nick (OgBatchState state)
{
  g_return_val_if_fail (state < OG_N_BATCH_STATES, NULL);

  return state_nicks[state];
}

const char *
og_batch_state_get_name (OgBatchState state)
{
  static const char *const names[OG_N_BATCH_STATES] = {
    N_("Planned"), N_("Running"), N_("Closed"), N_("Abandoned")
  };

  g_return_val_if_fail (state < OG_N_BATCH_STATES, NULL);

  return _(names[state]);
}

gboolean
og_batch_state_from_nick (const char   *nick,
                          OgBatchState *state)
{
  const int i = _og_nick_index (state_nicks, OG_N_BATCH_STATES, nick);

  if (i >= 0)
    *state = (OgBatchState) i;

  return i >= 0;
}

/* --- kinds of entries in a record --------------------------------------------- */

static const char *const entry_nicks[OG_N_BATCH_ENTRY_KINDS] = {
  "process", "deviation", "photo", "sample", "measurement", "filling"
};

const char *
og_batch_entry_kind_to_nick (OgBatchEntryKind kind)
{
  g_return_val_if_fail (kind < OG_N_BATCH_ENTRY_KINDS, NULL);

  return entry_nicks[kind];
}

const char *
og_batch_entry_kind_get_name (OgBatchEntryKind kind)
{
  static const char *const names[OG_N_BATCH_ENTRY_KINDS] = {
    N_("Process"), N_("Deviation"), N_("Photo"), N_("Retained sample"), N_("Measurement"),
    N_("Filled weight")
  };

  g_return_val_if_fail (kind < OG_N_BATCH_ENTRY_KINDS, NULL);

  return _(names[kind]);
}

gboolean
og_batch_entry_kind_from_nick (const char       *nick,
                               OgBatchEntryKind *kind)
{
  const int i = _og_nick_index (entry_nicks, OG_N_BATCH_ENTRY_KINDS, nick);

  if (i >= 0)
    *kind = (OgBatchEntryKind) i;

  return i >= 0;
}

/* --- tables ------------------------------------------------------------------ */

static const char *const table_nicks[OG_N_LEDGER_TABLES] = {
  "journal", "stock", "batches", "lots"
};

const char *
og_ledger_table_to_nick (OgLedgerTable table)
{
  g_return_val_if_fail (table < OG_N_LEDGER_TABLES, NULL);

  return table_nicks[table];
}

gboolean
og_ledger_table_from_nick (const char    *nick,
                           OgLedgerTable *table)
{
  const int i = _og_nick_index (table_nicks, OG_N_LEDGER_TABLES, nick);

  if (i >= 0)
    *table = (OgLedgerTable) i;

  return i >= 0;
}
