/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/ledger-request.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/json-file.h"
#include "core/base/json-guard.h"
#include "core/base/read-file.h"

/* "iodine_value=84.5", "density_g_ml=0.96@20" */
static gboolean
read_figure (OgLot       *lot,
             const char  *text,
             GError     **error)
{
  g_autofree char *nick = g_strdup (text);
  char *number = strchr (nick, '=');
  char *at = number != NULL ? strchr (number, '@') : NULL;
  OgCertificateValue value = { .at_c = NAN };

  if (number != NULL)
    *number++ = '\0';
  if (at != NULL)
    *at++ = '\0';
  if (number == NULL || !og_figure_id_from_nick (nick, &value.figure))
    return og_call_refuse (error,
                           _("--certificate: “%s” is not FIGURE=VALUE or FIGURE=VALUE@C"), text);
  if (!og_call_read_number ("--certificate", number, &value.value, error)
      || (at != NULL && !og_call_read_number ("--certificate", at, &value.at_c, error)))
    return FALSE;
  g_array_append_val (lot->certificate, value);

  return TRUE;
}

static gboolean
read_override (const char  *path,
               OgLot       *lot,
               GError     **error)
{
  g_autoptr (GBytes) bytes = og_read_file (path, OG_JSON_MAX_BYTES, error);
  g_autofree char *name = g_filename_display_name (path);
  g_autoptr (OgJsonFile) file = NULL;
  const char *text;
  gsize length;

  if (bytes == NULL)
    return FALSE;
  text = g_bytes_get_data (bytes, &length);
  file = og_json_file_parse (text, length, name, error);
  if (file == NULL)
    return FALSE;
  if (!JSON_NODE_HOLDS_OBJECT (file->root))
    {
      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE, _("%s: The file holds no JSON object."), name);
      return FALSE;
    }
  lot->override_json = g_strdup (text);

  return TRUE;
}

static gboolean
read_certificate (OgLedgerRequest  *request,
                  OgLot            *lot,
                  GError          **error)
{
  for (guint i = 0; request->certificate != NULL && request->certificate[i] != NULL; i++)
    {
      if (!og_call_check_text ("--certificate", request->certificate[i], error)
          || !read_figure (lot, request->certificate[i], error))
        return FALSE;
    }

  return request->text[OG_TEXT_OVERRIDE] == NULL
         || read_override (request->text[OG_TEXT_OVERRIDE], lot, error);
}

/* A material of the library, or one that is given a name. */
static gboolean
name_material (OgLedgerRequest  *request,
               const char       *text,
               OgLot            *lot,
               GError          **error)
{
  const OgIngredient *ingredient;

  if (request->text[OG_TEXT_NAME] != NULL)
    {
      lot->material_id = g_strdup (text);
      lot->material_name = g_strdup (request->text[OG_TEXT_NAME]);
      return TRUE;
    }
  ingredient = og_catalog_resolve (request->catalog, text, NULL);
  if (ingredient == NULL)
    return og_call_refuse (error, _("“%s” is not in the library; --name takes it in as it is"),
                           text);
  lot->material_id = g_strdup (ingredient->id);
  lot->material_name = g_strdup (ingredient->name);

  return TRUE;
}

gboolean
og_subject_receive (OgLedgerRequest  *request,
                    GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  g_autoptr (OgLot) lot = og_lot_new ();
  gint64 amount_mg;

  lot->code = g_strdup (request->text[OG_TEXT_LOT]);
  lot->supplier = g_strdup (request->text[OG_TEXT_SUPPLIER]);
  lot->received = g_strdup (request->text[OG_TEXT_RECEIVED]);
  lot->best_before = g_strdup (request->text[OG_TEXT_BEST_BEFORE]);
  lot->currency = g_strdup (request->text[OG_TEXT_CURRENCY]);
  if (!name_material (request, request->rest[0], lot, error)
      || !og_request_get_mg (request, OG_TEXT_GRAMS, &amount_mg, error)
      || !og_request_get_mg (request, OG_TEXT_PACK, &lot->pack_mg, error)
      || !og_request_get_number (request, OG_TEXT_PRICE, &lot->price, error)
      || !read_certificate (request, lot, error))
    return FALSE;

  return og_request_answer_entry (request,
                                  og_ledger_receive (request->ledger, lot, amount_mg, &note, error),
                                  lot->material_id, lot->code, error);
}

static gboolean
put_lot (OgLedgerRequest  *request,
         const char       *material_id,
         const char       *code,
         GError          **error)
{
  g_autoptr (OgLot) lot = og_ledger_get_lot (request->ledger, material_id, code, error);
  g_autoptr (OgIngredient) made = NULL;
  const OgIngredient *base;

  if (lot == NULL)
    return FALSE;
  base = og_catalog_get (request->catalog, lot->material_id);
  if (base != NULL)
    {
      made = og_ledger_lot_to_ingredient (lot, base, error);
      if (made == NULL)
        return FALSE;
    }
  og_report_put_lot (request->call, lot, made);

  return TRUE;
}

gboolean
og_subject_complete (OgLedgerRequest  *request,
                     GError          **error)
{
  g_autoptr (OgLot) lot = og_lot_new ();

  lot->material_id = g_strdup (og_request_get_material (request, request->rest[0]));
  lot->code = g_strdup (request->rest[1]);
  lot->supplier = g_strdup (request->text[OG_TEXT_SUPPLIER]);
  lot->best_before = g_strdup (request->text[OG_TEXT_BEST_BEFORE]);
  lot->currency = g_strdup (request->text[OG_TEXT_CURRENCY]);

  return og_request_get_mg (request, OG_TEXT_PACK, &lot->pack_mg, error)
         && og_request_get_number (request, OG_TEXT_PRICE, &lot->price, error)
         && read_certificate (request, lot, error)
         && og_ledger_complete_lot (request->ledger, lot, error)
         && put_lot (request, lot->material_id, lot->code, error);
}

static gboolean
run_take (OgLedgerRequest  *request,
          OgJournalKind     kind,
          GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  const char *material_id = og_request_get_material (request, request->rest[0]);
  const char *lot = request->text[OG_TEXT_LOT];
  gint64 amount_mg, entry;

  if (!og_request_get_mg (request, OG_TEXT_GRAMS, &amount_mg, error))
    return FALSE;
  entry = og_ledger_take (request->ledger, kind, material_id, lot, amount_mg,
                          request->flag[OG_FLAG_ALLOW_NEGATIVE], &note, error);

  return og_request_answer_entry (request, entry, material_id, lot, error);
}

gboolean
og_subject_use (OgLedgerRequest  *request,
                GError          **error)
{
  return run_take (request, OG_JOURNAL_USE, error);
}

gboolean
og_subject_waste (OgLedgerRequest  *request,
                  GError          **error)
{
  return run_take (request, OG_JOURNAL_WASTE, error);
}

gboolean
og_subject_correct (OgLedgerRequest  *request,
                    GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  const char *material_id = og_request_get_material (request, request->rest[0]);
  const char *lot = request->text[OG_TEXT_LOT];
  const gboolean set = request->text[OG_TEXT_SET_TO] != NULL;
  gint64 mg, entry;

  if (set == (request->text[OG_TEXT_BY] != NULL))
    return og_call_refuse (error, _("give --by, what is to be added or, below 0, taken away, or --set-to, what "
                                    "the lot really holds"));
  if (!og_request_get_mg (request, set ? OG_TEXT_SET_TO : OG_TEXT_BY, &mg, error))
    return FALSE;
  entry = set ? og_ledger_count (request->ledger, material_id, lot, mg, &note, error)
              : og_ledger_correct (request->ledger, material_id, lot, mg,
                                   request->flag[OG_FLAG_ALLOW_NEGATIVE], &note, error);

  return og_request_answer_entry (request, entry, material_id, lot, error);
}

gboolean
og_subject_reverse (OgLedgerRequest  *request,
                    GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  g_autoptr (GPtrArray) made = NULL;
  const OgJournalEntry *entry;
  gint64 id;

  if (!og_request_parse_whole (_("entry"), request->rest[0], 1, G_MAXINT64, &id, error))
    return FALSE;
  id = og_ledger_reverse (request->ledger, id, request->flag[OG_FLAG_ALLOW_NEGATIVE], &note, error);
  made = id != 0 ? og_ledger_list_journal (request->ledger, NULL, NULL, id + 1, 1, error) : NULL;
  if (made == NULL || made->len == 0)
    return FALSE;
  entry = g_ptr_array_index (made, 0);

  return og_request_answer_entry (request, id, entry->material_id, entry->lot, error);
}

gboolean
og_subject_count (OgLedgerRequest  *request,
                  GError          **error)
{
  const OgLedgerNote note = og_request_get_note (request);
  const char *material_id = og_request_get_material (request, request->rest[0]);
  gint64 counted_mg;

  if (!og_request_parse_mg (_("grams"), request->rest[2], &counted_mg, error))
    return FALSE;

  return og_request_answer_entry (request,
                                  og_ledger_count (request->ledger, material_id, request->rest[1],
                                                   counted_mg, &note, error),
                                  material_id, request->rest[1], error);
}

gboolean
og_subject_stock (OgLedgerRequest  *request,
                  GError          **error)
{
  return og_request_answer_list (request, OG_REPORT_STOCK,
                                 og_ledger_list_stock (request->ledger,
                                                       request->text[OG_TEXT_SEARCH], error));
}

gboolean
og_subject_lots (OgLedgerRequest  *request,
                 GError          **error)
{
  const char *material_id = og_request_get_material (request, request->rest[0]);

  return og_request_answer_list (request, OG_REPORT_LOTS,
                                 og_ledger_list_lots (request->ledger, material_id,
                                                      request->flag[OG_FLAG_ALL],
                                                      request->text[OG_TEXT_UNTIL], error));
}

gboolean
og_subject_lot (OgLedgerRequest  *request,
                GError          **error)
{
  const char *material_id = og_request_get_material (request, request->text[OG_TEXT_MATERIAL]);

  return put_lot (request, material_id, request->rest[0], error);
}

gboolean
og_subject_where (OgLedgerRequest  *request,
                  GError          **error)
{
  const char *material_id = og_request_get_material (request, request->text[OG_TEXT_MATERIAL]);

  return og_request_answer_list (request, OG_REPORT_USES,
                                 og_ledger_where_lot_went (request->ledger, material_id,
                                                           request->rest[0], error));
}

gboolean
og_subject_journal (OgLedgerRequest  *request,
                    GError          **error)
{
  const char *material_id = og_request_get_material (request, request->rest[0]);
  gint64 before;
  guint limit;

  if (!og_request_get_page (request, &before, &limit, error))
    return FALSE;

  return og_request_answer_list (request, OG_REPORT_JOURNAL,
                                 og_ledger_list_journal (request->ledger, material_id,
                                                         request->text[OG_TEXT_LOT], before, limit,
                                                         error));
}

gboolean
og_subject_offer (OgLedgerRequest  *request,
                  GError          **error)
{
  g_autoptr (OgLot) named = og_lot_new ();
  OgOffer offer = { .supplier = request->text[OG_TEXT_SUPPLIER],
                    .currency = request->text[OG_TEXT_CURRENCY],
                    .day = request->text[OG_TEXT_DATE] };

  if (!name_material (request, request->rest[0], named, error)
      || !og_request_get_mg (request, OG_TEXT_PACK, &offer.pack_mg, error)
      || !og_request_get_number (request, OG_TEXT_PRICE, &offer.price, error))
    return FALSE;
  offer.material_id = named->material_id;
  offer.material_name = named->material_name;
  if (og_ledger_add_offer (request->ledger, &offer, error) == 0)
    return FALSE;

  return og_request_answer_list (request, OG_REPORT_OFFERS,
                                 og_ledger_list_offers (request->ledger, named->material_id,
                                                        error));
}

gboolean
og_subject_offers (OgLedgerRequest  *request,
                   GError          **error)
{
  const char *material_id = og_request_get_material (request, request->rest[0]);

  return og_request_answer_list (request, OG_REPORT_OFFERS,
                                 og_ledger_list_offers (request->ledger, material_id, error));
}
