/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/ledger-request.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "cli/findings.h"
#include "core/recipe/recipe-table.h"

/* Returns: (transfer full): what the record asks to be looked at; %NULL with an error */
static GPtrArray *
list_findings (OgLedgerRequest  *request,
               const char       *number,
               GError          **error)
{
  GPtrArray *findings = og_ledger_list_batch_findings (request->ledger, number,
                                                       request->text[OG_TEXT_DATE], error);

  if (findings != NULL)
    request->status = og_findings_status (findings);

  return findings;
}

static gboolean
put_batch (OgLedgerRequest  *request,
           const char       *number,
           GError          **error)
{
  g_autoptr (OgBatch) batch = og_ledger_get_batch (request->ledger, number, error);
  g_autoptr (GPtrArray) lots
    = batch != NULL ? og_ledger_list_batch_lots (request->ledger, number, error) : NULL;
  g_autoptr (GPtrArray) findings = lots != NULL ? list_findings (request, number, error) : NULL;

  if (findings == NULL)
    return FALSE;
  og_report_put_batch (request->call, batch, lots, findings);

  return TRUE;
}

gboolean
og_subject_batch (OgLedgerRequest  *request,
                  GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  g_auto (OgRecipe) recipe = { 0 };
  g_autofree char *number = NULL;
  gint64 batch_mg;

  if (!og_recipe_read (&recipe, request->rest[0], error))
    return FALSE;
  if (!og_ledger_g_to_mg (recipe.formula->batch_g, &batch_mg))
    batch_mg = 0;
  if (request->text[OG_TEXT_GRAMS] != NULL
      && !og_request_get_mg (request, OG_TEXT_GRAMS, &batch_mg, error))
    return FALSE;
  number = og_ledger_plan_batch (request->ledger, recipe.formula, recipe.catalog, batch_mg,
                                 request->text[OG_TEXT_NUMBER], &note, error);

  return number != NULL && put_batch (request, number, error);
}

gboolean
og_subject_weigh (OgLedgerRequest  *request,
                  GError          **error)
{
  g_autoptr (GPtrArray) lots = NULL;
  g_autoptr (GPtrArray) findings = NULL;
  OgWeighing weighing = { .lot = request->text[OG_TEXT_LOT],
                          .balance = request->text[OG_TEXT_BALANCE],
                          .who = request->text[OG_TEXT_WHO] };
  gint64 line;

  if (!og_request_parse_whole (_("line"), request->rest[1], 1, G_MAXINT32, &line, error)
      || !og_request_get_mg (request, OG_TEXT_GRAMS, &weighing.amount_mg, error)
      || !og_request_get_moment (request, OG_TEXT_STARTED, &weighing.weighed_at, error))
    return FALSE;
  weighing.line = (guint) line;

  if (og_ledger_weigh (request->ledger, request->rest[0], &weighing, error) == 0)
    return FALSE;

  lots = og_ledger_list_batch_lots (request->ledger, request->rest[0], error);
  findings = lots != NULL ? list_findings (request, request->rest[0], error) : NULL;
  if (findings == NULL)
    return FALSE;
  og_report_put_weighed (request->call, lots, findings);

  return TRUE;
}

static const char *
entry_kind_word (guint index)
{
  return og_batch_entry_kind_to_nick ((OgBatchEntryKind) index);
}

static gboolean
read_entry (OgLedgerRequest  *request,
            OgBatchEntry     *entry,
            GError          **error)
{
  gint64 count = 0;

  entry->text = g_strdup (request->text[OG_TEXT_WHAT]);
  entry->phase = g_strdup (request->text[OG_TEXT_PHASE]);
  entry->decision = g_strdup (request->text[OG_TEXT_DECISION]);
  entry->value = g_strdup (request->text[OG_TEXT_VALUE]);
  entry->until = g_strdup (request->text[OG_TEXT_UNTIL]);
  entry->who = g_strdup (request->text[OG_TEXT_WHO]);
  entry->note = g_strdup (request->text[OG_TEXT_NOTE]);
  if (!og_request_get_number (request, OG_TEXT_TEMPERATURE, &entry->temperature_c, error)
      || !og_request_get_moment (request, OG_TEXT_STARTED, &entry->started_at, error)
      || !og_request_get_moment (request, OG_TEXT_ENDED, &entry->ended_at, error)
      || !og_request_get_whole (request, OG_TEXT_COUNT, 1, G_MAXINT32, &count, error)
      || !og_request_get_mg (request, OG_TEXT_GRAMS, &entry->amount_mg, error))
    return FALSE;
  entry->count = (guint) count;

  return TRUE;
}

gboolean
og_subject_record (OgLedgerRequest  *request,
                   GError          **error)
{
  g_autoptr (OgBatchEntry) entry = NULL;
  g_autofree char *known = og_call_list_words (OG_N_BATCH_ENTRY_KINDS, entry_kind_word);
  OgBatchEntryKind kind;

  if (!og_batch_entry_kind_from_nick (request->rest[1], &kind))
    return og_call_refuse (error, _("“%s” is none of: %s"), request->rest[1], known);
  entry = og_batch_entry_new (kind);

  return read_entry (request, entry, error)
         && og_ledger_add_batch_entry (request->ledger, request->rest[0], entry, error) != 0
         && put_batch (request, request->rest[0], error);
}

gboolean
og_subject_output (OgLedgerRequest  *request,
                   GError          **error)
{
  gint64 units = -1;

  return og_request_get_whole (request, OG_TEXT_UNITS, 0, G_MAXINT32, &units, error)
         && og_ledger_set_batch_output (request->ledger, request->rest[0], (int) units,
                                        request->text[OG_TEXT_LABEL], error)
         && put_batch (request, request->rest[0], error);
}

static OgCloseFlags
close_flags (const OgLedgerRequest *request)
{
  return (request->flag[OG_FLAG_ALLOW_NEGATIVE] ? OG_CLOSE_ALLOW_NEGATIVE : 0)
         | (request->flag[OG_FLAG_ALLOW_UNWEIGHED] ? OG_CLOSE_ALLOW_UNWEIGHED : 0);
}

gboolean
og_subject_close (OgLedgerRequest  *request,
                  GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);

  return og_ledger_close_batch (request->ledger, request->rest[0], close_flags (request), &note,
                                error)
         && put_batch (request, request->rest[0], error);
}

gboolean
og_subject_abandon (OgLedgerRequest  *request,
                    GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);

  return og_ledger_abandon_batch (request->ledger, request->rest[0], request->flag[OG_FLAG_WASTED],
                                  close_flags (request), &note, error)
         && put_batch (request, request->rest[0], error);
}

gboolean
og_subject_release (OgLedgerRequest  *request,
                    GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);

  return og_ledger_release_batch (request->ledger, request->rest[0], &note, error)
         && put_batch (request, request->rest[0], error);
}

gboolean
og_subject_batch_show (OgLedgerRequest  *request,
                       GError          **error)
{
  return put_batch (request, request->rest[0], error);
}

gboolean
og_subject_batches (OgLedgerRequest  *request,
                    GError          **error)
{
  gint64 before;
  guint limit;
  OgBatchState state = OG_BATCH_PLANNED;
  const char *nick = request->text[OG_TEXT_STATE];

  if (nick != NULL && !og_batch_state_from_nick (nick, &state))
    return og_call_refuse (error,
                           _("--state: “%s” is none of: planned, running, closed, abandoned"), nick);
  if (!og_request_get_page (request, &before, &limit, error))
    return FALSE;

  return og_request_answer_list (request, OG_REPORT_BATCHES,
                                 og_ledger_list_batches (request->ledger,
                                                         request->text[OG_TEXT_SEARCH],
                                                         nick != NULL ? (int) state : -1, before,
                                                         limit, error));
}

/* "FILE=GRAMS"; a name may hold "=" itself */
static gboolean
read_plan (OgLedgerRequest  *request,
           const char       *text,
           OgPlannedBatch   *plan,
           GError          **error)
{
  const char *sign = strrchr (text, '=');
  g_autofree char *path = sign != NULL ? g_strndup (text, (gsize) (sign - text)) : NULL;

  if (path == NULL)
    return og_call_refuse (error, _("“%s” is not FILE=GRAMS"), text);
  if (!og_request_parse_mg (_("grams"), sign + 1, &plan->batch_mg, error))
    return FALSE;
  plan->formula = og_recipe_load (path, request->catalog, error);

  return plan->formula != NULL;
}

gboolean
og_subject_shopping (OgLedgerRequest  *request,
                     GError          **error)
{
  const guint n = g_strv_length (request->rest);
  g_autofree OgPlannedBatch *plans = g_new0 (OgPlannedBatch, n);
  gboolean done = TRUE;

  for (guint i = 0; i < n && done; i++)
    done = read_plan (request, request->rest[i], &plans[i], error);
  done = done
         && og_request_answer_list (request, OG_REPORT_SHOPPING,
                                    og_ledger_list_shopping (request->ledger, plans, n,
                                                             request->catalog, error));
  for (guint i = 0; i < n; i++)
    g_clear_pointer ((OgFormula **) &plans[i].formula, og_formula_free);

  return done;
}
