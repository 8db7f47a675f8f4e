/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/ledger-request.h"

#include <glib/gi18n-lib.h>

#include "core/base/json-guard.h"
#include "core/base/read-file.h"

static const char *
table_word (guint index)
{
  return og_ledger_table_to_nick ((OgLedgerTable) index);
}

gboolean
og_subject_export (OgLedgerRequest  *request,
                   GError          **error)
{
  g_autofree char *known = og_call_list_words (OG_N_LEDGER_TABLES, table_word);
  g_autofree char *csv = NULL;
  OgLedgerTable table;

  if (!og_ledger_table_from_nick (request->rest[0], &table))
    return og_call_refuse (error, _("“%s” is none of: %s"), request->rest[0], known);
  csv = og_ledger_export (request->ledger, table, error);
  if (csv == NULL)
    return FALSE;
  if (request->call->json)
    og_request_answer_member (request, "csv", csv, 0);
  else
    g_string_append (request->call->out, csv);

  return TRUE;
}

gboolean
og_subject_import (OgLedgerRequest  *request,
                   GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  g_autofree char *name = g_filename_display_name (request->rest[0]);
  g_autoptr (GBytes) bytes = og_read_file (request->rest[0], OG_JSON_MAX_BYTES, error);
  const char *text;
  gsize length;
  guint n;

  if (bytes == NULL)
    return FALSE;
  text = g_bytes_get_data (bytes, &length);
  if (!og_ledger_import_receipts (request->ledger, text, (gssize) length, name,
                                     request->catalog, &note, &n, error))
    return FALSE;
  if (request->call->json)
    og_request_answer_member (request, "receipts", NULL, n);
  else
    g_string_append_printf (request->call->out,
                            ngettext ("%u receipt recorded\n", "%u receipts recorded\n", n), n);

  return TRUE;
}
