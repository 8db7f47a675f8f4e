/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/recipe/storage.h"
#include "model/ledger-private.h"

#define MG_PER_KG 1e6

static const char *const journal_nicks[OG_N_JOURNAL_KINDS] = {
  "receipt", "use", "waste", "correction", "count"
};

/* --- words ------------------------------------------------------------------ */

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

void
og_journal_entry_free (OgJournalEntry *entry)
{
  g_free (entry->day);
  g_free (entry->material_id);
  g_free (entry->material_name);
  g_free (entry->lot);
  g_free (entry->batch);
  g_free (entry->who);
  g_free (entry->note);
  g_free (entry);
}

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

/* --- amounts and days ------------------------------------------------------- */

gboolean
og_ledger_g_to_mg (double  g,
                   gint64 *mg)
{
  if (!isfinite (g) || fabs (g * 1000.0) > (double) OG_LEDGER_MAX_MG)
    return FALSE;
  *mg = llround (g * 1000.0);

  return TRUE;
}

char *
_og_mg_to_text (gint64 mg)
{
  const gint64 size = ABS (mg);
  int fraction = (int) (size % 1000), digits = 3;

  if (fraction == 0)
    return g_strdup_printf ("%s%" G_GINT64_FORMAT, mg < 0 ? "-" : "", size / 1000);
  for (; fraction % 10 == 0; fraction /= 10)
    digits--;

  return g_strdup_printf ("%s%" G_GINT64_FORMAT ".%0*d", mg < 0 ? "-" : "", size / 1000, digits,
                          fraction);
}

gboolean
og_ledger_is_day (const char *text)
{
  int year, month, day;

  if (text == NULL || strlen (text) != strlen ("YYYY-MM-DD") || text[4] != '-' || text[7] != '-')
    return FALSE;
  for (guint i = 0; text[i] != '\0'; i++)
    {
      if (i != 4 && i != 7 && !g_ascii_isdigit (text[i]))
        return FALSE;
    }
  year = (int) g_ascii_strtoll (text, NULL, 10);
  month = (int) g_ascii_strtoll (text + 5, NULL, 10);
  day = (int) g_ascii_strtoll (text + 8, NULL, 10);

  return g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

char *
og_ledger_day (GDateTime *moment)
{
  g_return_val_if_fail (moment != NULL, NULL);

  return g_strdup_printf ("%04d-%02d-%02d", g_date_time_get_year (moment),
                          g_date_time_get_month (moment), g_date_time_get_day_of_month (moment));
}

/* --- checks ----------------------------------------------------------------- */

/* Writing one day or code into a message of one line must not make it several. */
static gboolean
has_controls (const char *text)
{
  for (const char *p = text; *p != '\0'; p++)
    {
      if (g_ascii_iscntrl (*p) && *p != '\n' && *p != '\t')
        return TRUE;
    }

  return FALSE;
}

gboolean
_og_ledger_check_text (const char  *what,
                       const char  *text,
                       gboolean     needed,
                       GError     **error)
{
  if (text == NULL && !needed)
    return TRUE;
  if (text == NULL || (needed && *text == '\0'))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   /* Translators: %s is the name of a field, "lot" */
                   _("%s: a text is needed."), what);
      return FALSE;
    }
  if (strlen (text) > OG_LEDGER_MAX_TEXT || !g_utf8_validate (text, -1, NULL)
      || has_controls (text))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("%s: the text is longer than %d bytes, not UTF-8, or holds control "
                     "characters."), what, OG_LEDGER_MAX_TEXT);
      return FALSE;
    }

  return TRUE;
}

gboolean
_og_ledger_check_day (const char  *what,
                      const char  *day,
                      GError     **error)
{
  if (day == NULL || og_ledger_is_day (day))
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               _("%s: this is not a day of the form YYYY-MM-DD."), what);

  return FALSE;
}

gboolean
_og_ledger_check_mg (gint64   mg,
                     gint64   low,
                     GError **error)
{
  if (mg >= low && mg <= OG_LEDGER_MAX_MG)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               low > 0 ? _("The amount must be at least 1 mg, and at most a thousand tonnes.")
                       : _("The amount is too large, or below 0."));

  return FALSE;
}

void
_og_noted_clear (OgNoted *noted)
{
  g_clear_pointer (&noted->day, g_free);
}

gboolean
_og_noted_init (OgNoted             *noted,
                const OgLedgerNote  *note,
                GError             **error)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  const char *day = note != NULL ? note->day : NULL;

  noted->now = g_date_time_to_unix (now);
  noted->day = day != NULL ? g_strdup (day) : og_ledger_day (now);
  noted->who = note != NULL ? note->who : NULL;
  noted->note = note != NULL ? note->note : NULL;

  return _og_ledger_check_day (_("date"), day, error)
         && _og_ledger_check_text (_("who"), noted->who, FALSE, error)
         && _og_ledger_check_text (_("note"), noted->note, FALSE, error);
}

/* --- lots ------------------------------------------------------------------- */

OgLot *
og_lot_new (void)
{
  OgLot *lot = g_new0 (OgLot, 1);

  lot->price = NAN;
  lot->certificate = g_array_new (FALSE, TRUE, sizeof (OgCertificateValue));

  return lot;
}

void
og_lot_free (OgLot *lot)
{
  g_free (lot->material_id);
  g_free (lot->material_name);
  g_free (lot->code);
  g_free (lot->supplier);
  g_free (lot->received);
  g_free (lot->best_before);
  g_free (lot->currency);
  g_free (lot->override_json);
  g_array_unref (lot->certificate);
  g_free (lot);
}

double
og_lot_get_price_per_kg (const OgLot *lot)
{
  g_return_val_if_fail (lot != NULL, NAN);

  return lot->pack_mg > 0 ? lot->price / ((double) lot->pack_mg / MG_PER_KG) : NAN;
}

OgLot *
_og_lot_read (sqlite3_stmt *statement)
{
  OgLot *lot = og_lot_new ();

  lot->id = sqlite3_column_int64 (statement, 0);
  lot->material_id = _og_sql_dup_text (statement, 1);
  lot->material_name = _og_sql_dup_text (statement, 2);
  lot->code = _og_sql_dup_text (statement, 3);
  lot->supplier = _og_sql_dup_text (statement, 4);
  lot->received = _og_sql_dup_text (statement, 5);
  lot->best_before = _og_sql_dup_text (statement, 6);
  lot->price = _og_sql_get_double (statement, 7);
  lot->currency = _og_sql_dup_text (statement, 8);
  lot->pack_mg = sqlite3_column_int64 (statement, 9);
  lot->override_json = _og_sql_dup_text (statement, 10);
  lot->left_mg = sqlite3_column_int64 (statement, 11);

  return lot;
}

static gboolean
read_certificate (OgLedger  *self,
                  OgLot     *lot,
                  GError   **error)
{
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_prepare (self,
                       "SELECT figure, value, at_c FROM certificate WHERE lot_id = ?"
                       " ORDER BY figure",
                       OG_SQL_VALUES (og_sql_int (lot->id)),
                       error);
  gboolean row = TRUE;

  if (statement == NULL)
    return FALSE;
  while (row)
    {
      OgCertificateValue value;

      if (!_og_sql_step (self, statement, &row, error))
        return FALSE;
      if (!row
          || !og_figure_id_from_nick ((const char *) sqlite3_column_text (statement, 0),
                                      &value.figure))
        continue;
      value.value = sqlite3_column_double (statement, 1);
      value.at_c = _og_sql_get_double (statement, 2);
      g_array_append_val (lot->certificate, value);
    }

  return TRUE;
}

gboolean
_og_ledger_find_lot (OgLedger    *self,
                     const char  *material_id,
                     const char  *code,
                     gint64      *lot_id,
                     GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT id, count (*) FROM lot"
                     " WHERE code = ?2 AND (?1 IS NULL OR material_id = ?1)",
                     OG_SQL_VALUES (og_sql_text (material_id), og_sql_text (code)),
                     &row,
                     error);
  int n;

  if (statement == NULL)
    return FALSE;
  n = row ? sqlite3_column_int (statement, 1) : 0;
  if (n == 1)
    {
      *lot_id = sqlite3_column_int64 (statement, 0);
      return TRUE;
    }

  if (n > 1)
    g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                 _("Several materials have a lot “%s”; say which one is meant."), code);
  else if (material_id != NULL)
    g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                 /* Translators: lot, then material */
                 _("There is no lot “%s” of %s in the ledger."), code, material_id);
  else
    g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                 _("There is no lot “%s” in the ledger."), code);

  return FALSE;
}

OgLot *
og_ledger_get_lot (OgLedger    *self,
                   const char  *material_id,
                   const char  *code,
                   GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autoptr (OgLot) lot = NULL;
  gint64 lot_id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && code != NULL, NULL);

  if (!_og_ledger_find_lot (self, material_id, code, &lot_id, error))
    return NULL;
  statement = _og_sql_first (self,
                             "SELECT " OG_LOT_COLUMNS " FROM lot"
                             " JOIN material ON material.id = lot.material_id"
                             " JOIN balance ON balance.lot_id = lot.id WHERE lot.id = ?",
                             OG_SQL_VALUES (og_sql_int (lot_id)),
                             &row,
                             error);
  if (statement == NULL)
    return NULL;
  g_return_val_if_fail (row, NULL);
  lot = _og_lot_read (statement);

  return read_certificate (self, lot, error) ? g_steal_pointer (&lot) : NULL;
}

/* --- a lot as a material ----------------------------------------------------- */

/* An id of the form that all materials have; what the form does not allow becomes a hyphen. */
static char *
lot_ingredient_id (const OgLot *lot)
{
  g_autofree char *code = g_ascii_strdown (lot->code, -1);
  gboolean exact = TRUE;

  for (char *p = code; *p != '\0'; p++)
    {
      if (g_ascii_isalnum (*p) || *p == '-')
        continue;
      *p = '-';
      exact = FALSE;
    }

  return exact ? g_strdup_printf ("%s-lot-%s", lot->material_id, code)
               : g_strdup_printf ("%s-lot-%s-%" G_GINT64_FORMAT, lot->material_id, code, lot->id);
}

static void
add_figures (JsonObject  *figures,
             const OgLot *lot)
{
  /* Translators: the source of a figure; %s is the lot */
  g_autofree char *source = g_strdup_printf (_("certificate of lot %s"), lot->code);

  for (guint i = 0; i < lot->certificate->len; i++)
    {
      const OgCertificateValue *value = &g_array_index (lot->certificate, OgCertificateValue, i);
      JsonObject *figure = json_object_new ();

      og_json_set_number (figure, "value", value->value);
      og_json_set_number (figure, "at_c", value->at_c);
      og_json_set_text (figure, "unit", og_figure_id_get_unit (value->figure));
      og_json_set_text (figure, "source", source);
      og_json_set_text (figure, "quality", og_quality_to_nick (OG_QUALITY_MEASURED));
      json_object_set_object_member (figures, og_figure_id_to_nick (value->figure), figure);
    }
}

/* Returns: (transfer full): the members a lot has otherwise; %NULL if the text is no object */
static JsonObject *
parse_override (const char  *text,
                const char  *code,
                GError     **error)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  JsonNode *root;

  if (text == NULL)
    return json_object_new ();
  if (!og_json_guard (text, strlen (text), code, error)
      || !json_parser_load_from_data (parser, text, -1, error))
    return NULL;
  root = json_parser_get_root (parser);
  if (root == NULL || !JSON_NODE_HOLDS_OBJECT (root))
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("Lot “%s”: what it has otherwise is no JSON object."), code);
      return NULL;
    }

  return og_json_begin (json_node_get_object (root));
}

/* Returns: (transfer full): the definition of the lot as a material derived from its own */
static JsonObject *
lot_definition (const OgLot  *lot,
                const char   *base_name,
                GError      **error)
{
  g_autoptr (JsonObject) object = parse_override (lot->override_json, lot->code, error);
  g_autofree char *id = lot_ingredient_id (lot);
  g_autofree char *name = NULL;
  JsonObject *figures;

  if (object == NULL)
    return NULL;
  /* Translators: a material, and which lot of it */
  name = g_strdup_printf (_("%s, lot %s"), base_name, lot->code);
  og_json_set_text (object, "id", id);
  og_json_set_text (object, "derived_from", lot->material_id);
  og_json_set_text (object, "name", name);
  og_json_set_text (object, "lot", lot->code);
  if (lot->certificate->len == 0)
    return g_steal_pointer (&object);
  figures = json_object_has_member (object, "figures")
                && JSON_NODE_HOLDS_OBJECT (json_object_get_member (object, "figures"))
              ? og_json_begin (json_object_get_object_member (object, "figures"))
              : json_object_new ();
  add_figures (figures, lot);
  json_object_set_object_member (object, "figures", figures);

  return g_steal_pointer (&object);
}

OgIngredient *
og_ledger_lot_to_ingredient (const OgLot        *lot,
                             const OgIngredient *base,
                             GError            **error)
{
  g_autoptr (JsonObject) object = NULL;

  g_return_val_if_fail (lot != NULL && base != NULL, NULL);
  g_return_val_if_fail (g_strcmp0 (lot->material_id, base->id) == 0, NULL);

  object = lot_definition (lot, base->name, error);

  return object != NULL ? og_ingredient_new_from_json (object, NULL, base, error) : NULL;
}

/* Returns: (transfer full): the least that a material may be */
static JsonObject *
plain_material (const char *id)
{
  static const char *const lists[] = { "roles", "uses", "tags" };
  static const char *const words[] = { "base", "lip", NULL };
  JsonObject *object = json_object_new ();

  json_object_set_string_member (object, "id", id);
  json_object_set_string_member (object, "name", id);
  json_object_set_string_member (object, "kind", og_kind_to_nick (OG_KIND_OIL));
  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    {
      JsonArray *list = json_array_new ();

      if (words[i] != NULL)
        json_array_add_string_element (list, words[i]);
      json_object_set_array_member (object, lists[i], list);
    }

  return object;
}

/* A certificate is checked by making a material of it, whatever the lot is of. */
static gboolean
check_certificate (const OgLot  *lot,
                   GError      **error)
{
  g_autoptr (JsonObject) object = NULL;
  g_autoptr (JsonObject) base_object = NULL;
  g_autoptr (OgIngredient) base = NULL;
  g_autoptr (OgIngredient) made = NULL;
  g_autoptr (GError) reason = NULL;

  if (lot->certificate->len == 0 && lot->override_json == NULL)
    return TRUE;
  base_object = plain_material (lot->material_id);
  base = og_ingredient_new_from_json (base_object, NULL, NULL, &reason);
  object = base != NULL ? lot_definition (lot, base->name, &reason) : NULL;
  made = object != NULL ? og_ingredient_new_from_json (object, NULL, base, &reason) : NULL;
  if (made != NULL)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               /* Translators: the second %s says what is wrong */
               _("The certificate of lot “%s” cannot be: %s"), lot->code, reason->message);

  return FALSE;
}

/* --- what comes -------------------------------------------------------------- */

static gboolean
check_lot (const OgLot  *lot,
           GError      **error)
{
  if (!_og_ledger_check_text (_("material"), lot->material_id, TRUE, error)
      || !_og_ledger_check_text (_("name"), lot->material_name, FALSE, error)
      || !_og_ledger_check_text (_("lot"), lot->code, TRUE, error)
      || !_og_ledger_check_text (_("supplier"), lot->supplier, FALSE, error)
      || !_og_ledger_check_text (_("currency"), lot->currency, FALSE, error)
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
         && check_certificate (lot, error);
}

static gboolean
put_material (OgLedger    *self,
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
                                   og_sql_text (lot->currency), og_sql_int_or_null (pack_mg),
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
                                    og_sql_text (lot->currency), og_sql_int_or_null (pack_mg),
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

  return put_material (self, lot->material_id, lot->material_name, error)
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

/* --- the journal ------------------------------------------------------------- */

static gboolean
refuse_shortage (OgLedger  *self,
                 gint64     lot_id,
                 gint64     left_mg,
                 gint64     missing_mg,
                 GError   **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT lot.code, material.name FROM lot"
                     " JOIN material ON material.id = lot.material_id WHERE lot.id = ?",
                     OG_SQL_VALUES (og_sql_int (lot_id)),
                     &row,
                     error);
  g_autofree char *code = NULL;
  g_autofree char *name = NULL;

  if (statement == NULL)
    return FALSE;
  code = _og_sql_dup_text (statement, 0);
  name = _og_sql_dup_text (statement, 1);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_SHORTAGE,
               /* Translators: material, lot, and two amounts in grams */
               _("%s, lot “%s”: %.12g g are there, %.12g g are missing."), name, code,
               og_ledger_mg_to_g (left_mg), og_ledger_mg_to_g (missing_mg));

  return FALSE;
}

/* @negative: (out): whether the entry takes the lot below nothing */
static gboolean
check_stock (OgLedger         *self,
             const OgPosting  *posting,
             gboolean         *negative,
             GError          **error)
{
  gint64 left_mg = 0;

  *negative = FALSE;
  if (posting->amount_mg >= 0)
    return TRUE;
  if (!_og_sql_get (self,
                    "SELECT amount_mg FROM balance WHERE lot_id = ?",
                    OG_SQL_VALUES (og_sql_int (posting->lot_id)),
                    &left_mg,
                    error))
    return FALSE;
  *negative = left_mg + posting->amount_mg < 0;

  return !*negative || posting->allow_negative
         || refuse_shortage (self, posting->lot_id, left_mg, -posting->amount_mg - left_mg, error);
}

gint64
_og_ledger_post (OgLedger         *self,
                 const OgPosting  *posting,
                 const OgNoted    *noted,
                 GError          **error)
{
  const char *kind = og_journal_kind_to_nick (posting->kind);
  gboolean negative;

  if (!check_stock (self, posting, &negative, error)
      || !_og_sql_run (self,
                       "INSERT INTO journal (day, entered_at, kind, lot_id, amount_mg, counted_mg,"
                       " who, note, batch_id, corrects, negative)"
                       " VALUES (?, ?, ?, ?, ?, nullif (?, -1), ?, ?, ?, ?, ?)",
                       OG_SQL_VALUES (og_sql_text (noted->day), og_sql_int (noted->now),
                                      og_sql_text (kind), og_sql_int (posting->lot_id),
                                      og_sql_int (posting->amount_mg),
                                      og_sql_int (posting->counted_mg), og_sql_text (noted->who),
                                      og_sql_text (noted->note),
                                      og_sql_int_or_null (posting->batch_id),
                                      og_sql_int_or_null (posting->corrects),
                                      og_sql_int (negative)),
                       error))
    return 0;

  return sqlite3_last_insert_rowid (self->db);
}

static gint64
post_to_lot (OgLedger            *self,
             OgPosting           *posting,
             const char          *material_id,
             const char          *lot,
             const OgLedgerNote  *note,
             GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id = 0;

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return 0;
  if (_og_ledger_find_lot (self, material_id, lot, &posting->lot_id, error))
    id = _og_ledger_post (self, posting, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

gint64
og_ledger_take (OgLedger            *self,
                OgJournalKind        kind,
                const char          *material_id,
                const char          *lot,
                gint64               amount_mg,
                gboolean             allow_negative,
                const OgLedgerNote  *note,
                GError             **error)
{
  OgPosting posting = { kind, 0, -amount_mg, -1, 0, 0, allow_negative };

  g_return_val_if_fail (OG_IS_LEDGER (self) && lot != NULL, 0);
  g_return_val_if_fail (kind == OG_JOURNAL_USE || kind == OG_JOURNAL_WASTE, 0);

  if (!_og_ledger_check_mg (amount_mg, 1, error))
    return 0;

  return post_to_lot (self, &posting, material_id, lot, note, error);
}

gint64
og_ledger_correct (OgLedger            *self,
                   const char          *material_id,
                   const char          *lot,
                   gint64               amount_mg,
                   gboolean             allow_negative,
                   const OgLedgerNote  *note,
                   GError             **error)
{
  OgPosting posting = { OG_JOURNAL_CORRECTION, 0, amount_mg, -1, 0, 0, allow_negative };

  g_return_val_if_fail (OG_IS_LEDGER (self) && lot != NULL, 0);

  if (!_og_ledger_check_mg (ABS (amount_mg), 1, error))
    return 0;

  return post_to_lot (self, &posting, material_id, lot, note, error);
}

static gint64
reverse (OgLedger       *self,
         gint64          id,
         gboolean        allow_negative,
         const OgNoted  *noted,
         GError        **error)
{
  gboolean row;
  OgPosting posting = { OG_JOURNAL_CORRECTION, 0, 0, -1, 0, id, allow_negative };
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT lot_id, -amount_mg, batch_id,"
                     " EXISTS (SELECT 1 FROM journal AS other WHERE other.corrects = journal.id)"
                     " FROM journal WHERE id = ?",
                     OG_SQL_VALUES (og_sql_int (id)),
                     &row,
                     error);

  if (statement == NULL)
    return 0;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("The journal has no entry %lld."), (long long) id);
      return 0;
    }
  if (sqlite3_column_int (statement, 3) != 0)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
                   _("Entry %lld has been countered before."), (long long) id);
      return 0;
    }
  posting.lot_id = sqlite3_column_int64 (statement, 0);
  posting.amount_mg = sqlite3_column_int64 (statement, 1);
  posting.batch_id = sqlite3_column_int64 (statement, 2);

  return _og_ledger_post (self, &posting, noted, error);
}

gint64
og_ledger_reverse (OgLedger            *self,
                   gint64               id,
                   gboolean             allow_negative,
                   const OgLedgerNote  *note,
                   GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 made;

  g_return_val_if_fail (OG_IS_LEDGER (self), 0);

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return 0;
  made = reverse (self, id, allow_negative, &noted, error);

  return _og_ledger_end (self, made != 0, error) ? made : 0;
}

static gint64
count_lot (OgLedger       *self,
           gint64          lot_id,
           gint64          counted_mg,
           const OgNoted  *noted,
           GError        **error)
{
  OgPosting posting = { OG_JOURNAL_COUNT, lot_id, 0, counted_mg, 0, 0, FALSE };
  gint64 left_mg = 0;

  if (!_og_sql_get (self,
                    "SELECT amount_mg FROM balance WHERE lot_id = ?",
                    OG_SQL_VALUES (og_sql_int (lot_id)),
                    &left_mg,
                    error))
    return 0;
  posting.amount_mg = counted_mg - left_mg;

  return _og_ledger_post (self, &posting, noted, error);
}

gint64
og_ledger_count (OgLedger            *self,
                 const char          *material_id,
                 const char          *lot,
                 gint64               counted_mg,
                 const OgLedgerNote  *note,
                 GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 lot_id, id = 0;

  g_return_val_if_fail (OG_IS_LEDGER (self) && lot != NULL, 0);

  if (!_og_ledger_check_mg (counted_mg, 0, error) || !_og_noted_init (&noted, note, error)
      || !_og_ledger_begin (self, error))
    return 0;
  if (_og_ledger_find_lot (self, material_id, lot, &lot_id, error))
    id = count_lot (self, lot_id, counted_mg, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

/* --- offers ------------------------------------------------------------------ */

static gboolean
check_offer (const OgOffer  *offer,
             GError        **error)
{
  if (!_og_ledger_check_text (_("material"), offer->material_id, TRUE, error)
      || !_og_ledger_check_text (_("name"), offer->material_name, FALSE, error)
      || !_og_ledger_check_text (_("supplier"), offer->supplier, TRUE, error)
      || !_og_ledger_check_text (_("currency"), offer->currency, FALSE, error)
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
  done = put_material (self, offer->material_id, offer->material_name, error)
         && _og_sql_run (self,
                         "INSERT INTO offer (material_id, supplier, pack_mg, price, currency, day)"
                         " VALUES (?, ?, ?, ?, ?, ?)",
                         OG_SQL_VALUES (og_sql_text (offer->material_id),
                                        og_sql_text (offer->supplier), og_sql_int (offer->pack_mg),
                                        og_sql_real (offer->price), og_sql_text (offer->currency),
                                        og_sql_text (noted.day)),
                         error);
  id = sqlite3_last_insert_rowid (self->db);

  return _og_ledger_end (self, done, error) ? id : 0;
}
