/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/base/currency.h"
#include "model/ledger-private.h"

void
og_offer_free (OgOffer *offer)
{
  g_free (offer->material_id);
  g_free (offer->material_name);
  g_free (offer->supplier);
  g_free (offer->currency);
  g_free (offer->day);
  g_free (offer);
}

static gboolean
check_offer (const OgOffer  *offer,
             GError        **error)
{
  if (!_og_ledger_check_text (_("material"), offer->material_id, TRUE, error)
      || !_og_ledger_check_text (_("name"), offer->material_name, FALSE, error)
      || !_og_ledger_check_text (_("supplier"), offer->supplier, TRUE, error)
      || !_og_ledger_check_currency (offer->currency, error)
      || !_og_ledger_check_day (_("date"), offer->day, error)
      || !_og_ledger_check_mg (offer->pack_mg, 1, error))
    return FALSE;
  if (offer->price >= 0 && offer->price <= 1e12)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               _("The price must be a number of 0 or more."));

  return FALSE;
}

gint64
og_ledger_add_offer (OgLedger       *self,
                     const OgOffer  *offer,
                     GError        **error)
{
  const OgLedgerNote note = { offer != NULL ? offer->day : NULL, NULL, NULL };
  g_auto (OgNoted) noted = { 0 };
  gboolean done;
  gint64 id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && offer != NULL, 0);

  if (!check_offer (offer, error) || !_og_noted_init (&noted, &note, error)
      || !_og_ledger_begin (self, error))
    return 0;
  done = _og_ledger_put_material (self, offer->material_id, offer->material_name, error)
         && _og_sql_run (self,
                         "INSERT INTO offer (material_id, supplier, pack_mg, price, currency, day)"
                         " VALUES (?, ?, ?, ?, ?, ?)",
                         OG_SQL_VALUES (og_sql_text (offer->material_id),
                                        og_sql_text (offer->supplier), og_sql_int (offer->pack_mg),
                                        og_sql_real (offer->price),
                                        og_sql_text (og_currency_find (offer->currency)),
                                        og_sql_text (noted.day)),
                         error);
  id = sqlite3_last_insert_rowid (self->db);

  return _og_ledger_end (self, done, error) ? id : 0;
}

static gpointer
read_offer (sqlite3_stmt *statement)
{
  OgOffer *offer = g_new0 (OgOffer, 1);

  offer->id = sqlite3_column_int64 (statement, 0);
  offer->material_id = _og_sql_dup_text (statement, 1);
  offer->material_name = _og_sql_dup_text (statement, 2);
  offer->supplier = _og_sql_dup_text (statement, 3);
  offer->pack_mg = sqlite3_column_int64 (statement, 4);
  offer->price = sqlite3_column_double (statement, 5);
  offer->currency = _og_sql_dup_currency (statement, 6);
  offer->day = _og_sql_dup_text (statement, 7);

  return offer;
}

GPtrArray *
og_ledger_list_offers (OgLedger    *self,
                       const char  *material_id,
                       GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self), NULL);

  return _og_sql_list (self,
                       "SELECT offer.id, material_id, name, supplier, pack_mg,"
                       " price, currency, day FROM offer"
                       " JOIN material ON material.id = offer.material_id"
                       " WHERE ?1 IS NULL OR material_id = ?1"
                       " ORDER BY day DESC, offer.id DESC",
                       OG_SQL_VALUES (og_sql_text (material_id)),
                       read_offer,
                       (GDestroyNotify) og_offer_free,
                       error);
}
