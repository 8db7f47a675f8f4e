/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/currency.h"
#include "model/ledger-private.h"

static gboolean
check_lot (const OgLot  *lot,
           GError      **error)
{
  if (!_og_ledger_check_text (_("material"), lot->material_id, TRUE, error)
      || !_og_ledger_check_text (_("name"), lot->material_name, FALSE, error)
      || !_og_ledger_check_text (_("lot"), lot->code, TRUE, error)
      || !_og_ledger_check_text (_("supplier"), lot->supplier, FALSE, error)
      || !_og_ledger_check_currency (lot->currency, error)
      || !_og_ledger_check_day (_("received"), lot->received, error)
      || !_og_ledger_check_day (_("best before"), lot->best_before, error))
    return FALSE;
  if (!isnan (lot->price) && !(lot->price >= 0 && lot->price <= 1e12))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("The price must be a number of 0 or more."));
      return FALSE;
    }

  return (lot->pack_mg == 0 || _og_ledger_check_mg (lot->pack_mg, 1, error))
         && _og_ledger_check_certificate (lot, error);
}

gboolean
_og_ledger_put_material (OgLedger    *self,
                         const char  *id,
                         const char  *name,
                         GError     **error)
{
  return _og_sql_run (self,
                      "INSERT INTO material (id, name) VALUES (?1, coalesce (?2, ?1))"
                      " ON CONFLICT (id) DO UPDATE SET name = coalesce (?2, name)",
                      OG_SQL_VALUES (og_sql_text (id), og_sql_text (name)),
                      error);
}

/* @pack_mg: what the price is for */
static gboolean
put_new_lot (OgLedger     *self,
             const OgLot  *lot,
             gint64        pack_mg,
             const char   *received,
             gint64       *lot_id,
             GError      **error)
{
  if (!_og_sql_run (self,
                    "INSERT INTO lot (material_id, code, supplier, received, best_before, price,"
                    " currency, pack_mg, override_json) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                    OG_SQL_VALUES (og_sql_text (lot->material_id), og_sql_text (lot->code),
                                   og_sql_text (lot->supplier), og_sql_text (received),
                                   og_sql_text (lot->best_before), og_sql_real (lot->price),
                                   og_sql_text (og_currency_find (lot->currency)),
                                   og_sql_int_or_null (pack_mg),
                                   og_sql_text (lot->override_json)),
                    error))
    return FALSE;
  *lot_id = sqlite3_last_insert_rowid (self->db);

  return TRUE;
}

/* What was left open before is filled in; what was said before stays. */
static gboolean
complete_lot (OgLedger     *self,
              gint64        lot_id,
              const OgLot  *lot,
              gint64        pack_mg,
              GError      **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "UPDATE lot SET supplier = coalesce (supplier, ?2),"
                     " best_before = coalesce (best_before, ?3),"
                     " currency = coalesce (currency, ?5),"
                     " pack_mg = CASE WHEN price IS NULL THEN ?6 ELSE pack_mg END,"
                     " price = coalesce (price, ?4),"
                     " override_json = coalesce (override_json, ?7)"
                     " WHERE id = ?1 AND coalesce (supplier = ?2, 1)"
                     " AND coalesce (best_before = ?3, 1) AND coalesce (currency = ?5, 1)"
                     " AND coalesce (abs (price / pack_mg - ?4 / ?6)"
                     "  <= 1e-9 * price / pack_mg, 1)"
                     " AND coalesce (override_json = ?7, 1)",
                     OG_SQL_VALUES (og_sql_int (lot_id), og_sql_text (lot->supplier),
                                    og_sql_text (lot->best_before), og_sql_real (lot->price),
                                    og_sql_text (og_currency_find (lot->currency)),
                                   og_sql_int_or_null (pack_mg),
                                    og_sql_text (lot->override_json)),
                     &row,
                     error);

  if (statement == NULL)
    return FALSE;
  if (sqlite3_changes (self->db) == 1)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
               _("Lot “%s” of %s is there already, with another supplier, best-before day or price."
                 " Give what came now a lot of its own."), lot->code, lot->material_id);

  return FALSE;
}

static gboolean
put_certificate (OgLedger     *self,
                 gint64        lot_id,
                 const OgLot  *lot,
                 GError      **error)
{
  for (guint i = 0; i < lot->certificate->len; i++)
    {
      const OgCertificateValue *value = &g_array_index (lot->certificate, OgCertificateValue, i);
      const char *nick = og_figure_id_to_nick (value->figure);
      gint64 same = 0;

      if (!_og_sql_run (self,
                        "INSERT INTO certificate (lot_id, figure, value, at_c) VALUES (?, ?, ?, ?)"
                        " ON CONFLICT DO NOTHING",
                        OG_SQL_VALUES (og_sql_int (lot_id), og_sql_text (nick),
                                       og_sql_real (value->value), og_sql_real (value->at_c)),
                        error)
          || !_og_sql_get (self,
                           "SELECT value = ?3 AND at_c IS ?4 FROM certificate"
                           " WHERE lot_id = ?1 AND figure = ?2",
                           OG_SQL_VALUES (og_sql_int (lot_id), og_sql_text (nick),
                                          og_sql_real (value->value), og_sql_real (value->at_c)),
                           &same,
                           error))
        return FALSE;
      if (same)
        continue;
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
                   /* Translators: lot, then the figure */
                   _("The certificate of lot “%s” is there already, with another value of “%s”."),
                   lot->code, og_figure_id_get_name (value->figure));
      return FALSE;
    }

  return TRUE;
}

static gboolean
put_lot (OgLedger     *self,
         const OgLot  *lot,
         gint64        amount_mg,
         const char   *day,
         gint64       *lot_id,
         GError      **error)
{
  const gint64 pack_mg = isnan (lot->price) ? lot->pack_mg
                         : lot->pack_mg > 0 ? lot->pack_mg
                                            : amount_mg;
  const char *received = lot->received != NULL ? lot->received : day;

  *lot_id = 0;

  return _og_ledger_put_material (self, lot->material_id, lot->material_name, error)
         && _og_sql_get (self,
                         "SELECT id FROM lot WHERE material_id = ? AND code = ?",
                         OG_SQL_VALUES (og_sql_text (lot->material_id), og_sql_text (lot->code)),
                         lot_id,
                         error)
         && (*lot_id == 0 ? put_new_lot (self, lot, pack_mg, received, lot_id, error)
                          : complete_lot (self, *lot_id, lot, pack_mg, error))
         && put_certificate (self, *lot_id, lot, error);
}

gint64
_og_ledger_receive (OgLedger       *self,
                    const OgLot    *lot,
                    gint64          amount_mg,
                    const OgNoted  *noted,
                    GError        **error)
{
  OgPosting posting = { OG_JOURNAL_RECEIPT, 0, amount_mg, -1, 0, 0, FALSE };

  if (!check_lot (lot, error) || !_og_ledger_check_mg (amount_mg, 1, error)
      || !put_lot (self, lot, amount_mg, noted->day, &posting.lot_id, error))
    return 0;

  return _og_ledger_post (self, &posting, noted, error);
}

gint64
og_ledger_receive (OgLedger            *self,
                   const OgLot         *lot,
                   gint64               amount_mg,
                   const OgLedgerNote  *note,
                   GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && lot != NULL, 0);

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return 0;
  id = _og_ledger_receive (self, lot, amount_mg, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

static gboolean
complete (OgLedger     *self,
          const OgLot  *lot,
          GError      **error)
{
  gint64 lot_id;

  return _og_ledger_find_lot (self, lot->material_id, lot->code, &lot_id, error)
         && complete_lot (self, lot_id, lot, lot->pack_mg, error)
         && put_certificate (self, lot_id, lot, error);
}

gboolean
og_ledger_complete_lot (OgLedger     *self,
                        const OgLot  *lot,
                        GError      **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self) && lot != NULL, FALSE);

  if (!check_lot (lot, error))
    return FALSE;
  if (!isnan (lot->price) && lot->pack_mg == 0)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("A price needs to say for how much it is."));
      return FALSE;
    }
  if (!_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, complete (self, lot, error), error);
}
