/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/csv.h"
#include "core/base/units.h"
#include "model/ledger-private.h"

#define MAX_RECEIPTS 10000

/* --- writing ---------------------------------------------------------------- */

/* A statement for each table; columns named "..._g" hold mg. The names are the header. */
static const char *const table_sql[OG_N_LEDGER_TABLES] = {
  [OG_LEDGER_TABLE_JOURNAL]
    = "SELECT journal.id AS entry, journal.day AS date, kind, lot.material_id AS ingredient,"
      " material.name AS name, lot.code AS lot, journal.amount_mg AS amount_g,"
      " journal.counted_mg AS counted_g, batch.number AS batch, corrects,"
      " CASE negative WHEN 1 THEN 'yes' END AS below_nothing, journal.who AS who,"
      " journal.note AS note"
      " FROM journal JOIN lot ON lot.id = journal.lot_id"
      " JOIN material ON material.id = lot.material_id"
      " LEFT JOIN batch ON batch.id = journal.batch_id ORDER BY journal.id",
  [OG_LEDGER_TABLE_STOCK]
    = "SELECT material.id AS ingredient, material.name AS name, sum (amount_mg) AS left_g,"
      " count (*) FILTER (WHERE amount_mg > 0) AS lots,"
      " min (best_before) FILTER (WHERE amount_mg > 0) AS best_before"
      " FROM material JOIN lot ON lot.material_id = material.id"
      " JOIN balance ON balance.lot_id = lot.id GROUP BY material.id ORDER BY material.id",
  [OG_LEDGER_TABLE_BATCHES]
    = "SELECT number AS batch, title, day AS date, state, planned_mg AS planned_g,"
      " (SELECT sum (amount_mg) FROM weighing WHERE batch_id = batch.id) AS weighed_g,"
      " units_made, label_version, who, released_by, released_on, note FROM batch ORDER BY id",
  [OG_LEDGER_TABLE_LOTS]
    = "SELECT lot.material_id AS ingredient, material.name AS name, lot.code AS lot,"
      " balance.amount_mg AS left_g, lot.received AS received, lot.best_before AS best_before,"
      " lot.supplier AS supplier, lot.price AS price, lot.currency AS currency,"
      " lot.pack_mg AS pack_g FROM lot JOIN material ON material.id = lot.material_id"
      " JOIN balance ON balance.lot_id = lot.id ORDER BY lot.material_id, lot.id",
};

static void
put_whole (GString      *out,
           sqlite3_stmt *statement,
           int           column)
{
  const gint64 value = sqlite3_column_int64 (statement, column);
  g_autofree char *text = g_str_has_suffix (sqlite3_column_name (statement, column), "_g")
                            ? _og_mg_to_text (value)
                            : g_strdup_printf ("%" G_GINT64_FORMAT, value);

  g_string_append (out, text);
}

static void
put_cell (GString      *out,
          sqlite3_stmt *statement,
          int           column)
{
  g_autofree char *text = NULL;

  switch (sqlite3_column_type (statement, column))
    {
    case SQLITE_INTEGER:
      put_whole (out, statement, column);
      break;
    case SQLITE_FLOAT:
      og_csv_put_number (out, sqlite3_column_double (statement, column));
      break;
    case SQLITE_NULL:
      break;
    default:
      text = _og_sql_dup_text (statement, column);
      og_csv_put_text (out, text);
      break;
    }
}

static void
put_row (GString      *out,
         sqlite3_stmt *statement)
{
  for (int i = 0; i < sqlite3_column_count (statement); i++)
    {
      if (i > 0)
        g_string_append_c (out, ',');
      put_cell (out, statement, i);
    }
  g_string_append_c (out, '\n');
}

static void
put_header (GString      *out,
            sqlite3_stmt *statement)
{
  for (int i = 0; i < sqlite3_column_count (statement); i++)
    g_string_append_printf (out, "%s%s", i > 0 ? "," : "", sqlite3_column_name (statement, i));
  g_string_append_c (out, '\n');
}

char *
og_ledger_export (OgLedger       *self,
                  OgLedgerTable   table,
                  GError        **error)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (sqlite3_stmt) statement = NULL;
  gboolean row = TRUE;

  g_return_val_if_fail (OG_IS_LEDGER (self) && table < OG_N_LEDGER_TABLES, NULL);

  statement = _og_sql_prepare (self, table_sql[table], OG_SQL_NO_VALUES, error);
  if (statement == NULL)
    return NULL;
  put_header (out, statement);
  while (row)
    {
      if (!_og_sql_step (self, statement, &row, error))
        return NULL;
      if (row)
        put_row (out, statement);
    }

  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* --- reading receipts --------------------------------------------------------- */

typedef enum
{
  COLUMN_INGREDIENT,
  COLUMN_LOT,
  COLUMN_GRAMS,
  COLUMN_PRICE,
  COLUMN_CURRENCY,
  COLUMN_BEST_BEFORE,
  COLUMN_SUPPLIER,
  COLUMN_PACK_G,
  COLUMN_RECEIVED,
  N_COLUMNS
} Column;

#define N_NEEDED (COLUMN_GRAMS + 1)

static const char *const column_names[N_COLUMNS] = {
  "ingredient", "lot", "grams", "price", "currency", "best_before", "supplier", "pack_g",
  "received"
};

typedef struct
{
  OgCsv            csv;
  int              columns[N_COLUMNS];
  guint            width;
  const OgCatalog *catalog;
  const OgNoted   *noted;
  guint            n_receipts;
} Import;

static void
import_clear (Import *import)
{
  og_csv_clear (&import->csv);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Import, import_clear)

/* Returns: (transfer full) (nullable): a cell that says something */
static char *
dup_cell (const Import *import,
          Column        column)
{
  const char *cell = og_csv_unescape (og_csv_get_cell (&import->csv, import->columns[column]));

  return *cell != '\0' ? g_strdup (cell) : NULL;
}

static gboolean
read_number (const Import  *import,
             Column         column,
             double        *number,
             GError       **error)
{
  g_autofree char *text
    = g_strstrip (g_strdup (og_csv_get_cell (&import->csv, import->columns[column])));
  g_autofree char *shown = og_csv_shown (text);

  *number = NAN;
  if (*text == '\0' || og_parse_number (text, number))
    return TRUE;

  return og_csv_fail (&import->csv, OG_TABLE_ERROR_VALUE, error,
                      /* Translators: name of a column, then what stands there */
                      _("%s: “%s” is not a number."), column_names[column], shown);
}

/* @mg: (out): 0 if nothing is said */
static gboolean
read_grams (const Import  *import,
            Column         column,
            gint64        *mg,
            GError       **error)
{
  double g;

  *mg = 0;
  if (!read_number (import, column, &g, error))
    return FALSE;
  if (isnan (g))
    return TRUE;
  if (og_ledger_g_to_mg (g, mg) && *mg > 0)
    return TRUE;

  return og_csv_fail (&import->csv, OG_TABLE_ERROR_VALUE, error,
                      _("%s: the amount must be at least 1 mg, and at most a thousand tonnes."),
                      column_names[column]);
}

static gboolean
read_receipt (const Import  *import,
              OgLot         *lot,
              gint64        *amount_mg,
              GError       **error)
{
  g_autofree char *name = dup_cell (import, COLUMN_INGREDIENT);
  g_autoptr (GError) reason = NULL;
  const OgIngredient *ingredient;

  if (name == NULL)
    return og_csv_fail (&import->csv, OG_TABLE_ERROR_INGREDIENT, error,
                        _("The row names no ingredient."));
  ingredient = og_catalog_resolve (import->catalog, name, &reason);
  if (ingredient == NULL)
    return og_csv_fail (&import->csv, OG_TABLE_ERROR_INGREDIENT, error, "%s", reason->message);

  lot->material_id = g_strdup (ingredient->id);
  lot->material_name = g_strdup (ingredient->name);
  lot->code = dup_cell (import, COLUMN_LOT);
  lot->currency = dup_cell (import, COLUMN_CURRENCY);
  lot->best_before = dup_cell (import, COLUMN_BEST_BEFORE);
  lot->supplier = dup_cell (import, COLUMN_SUPPLIER);
  lot->received = dup_cell (import, COLUMN_RECEIVED);

  return read_number (import, COLUMN_PRICE, &lot->price, error)
         && read_grams (import, COLUMN_PACK_G, &lot->pack_mg, error)
         && read_grams (import, COLUMN_GRAMS, amount_mg, error);
}

static gboolean
import_row (OgLedger      *self,
            const Import  *import,
            GError       **error)
{
  g_autoptr (OgLot) lot = og_lot_new ();
  g_autoptr (GError) reason = NULL;
  gint64 amount_mg;

  if (!og_csv_check_width (&import->csv, import->width, error)
      || !read_receipt (import, lot, &amount_mg, error))
    return FALSE;
  if (_og_ledger_receive (self, lot, amount_mg, import->noted, &reason) != 0)
    return TRUE;

  /* What the row says is the row's fault; the rest is the ledger's. */
  if (g_error_matches (reason, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE)
      || g_error_matches (reason, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS))
    return og_csv_fail (&import->csv, OG_TABLE_ERROR_VALUE, error, "%s", reason->message);
  g_propagate_error (error, g_steal_pointer (&reason));

  return FALSE;
}

static gboolean
import_rows (OgLedger  *self,
             Import    *import,
             GError   **error)
{
  gboolean found = TRUE;

  if (!og_csv_read_header (&import->csv, column_names, N_COLUMNS, N_NEEDED, import->columns,
                           error))
    return FALSE;
  import->width = import->csv.cells->len;
  while (found)
    {
      if (!og_csv_next (&import->csv, &found, error))
        return FALSE;
      if (!found)
        break;
      if (++import->n_receipts > MAX_RECEIPTS)
        return og_csv_fail (&import->csv, OG_TABLE_ERROR_TOO_LARGE, error,
                            _("The table has more than %d rows."), MAX_RECEIPTS);
      if (!import_row (self, import, error))
        return FALSE;
    }

  return TRUE;
}

gboolean
og_ledger_import_receipts (OgLedger            *self,
                           const char          *text,
                           gssize               length,
                           const char          *name,
                           const OgCatalog     *catalog,
                           const OgLedgerNote  *note,
                           guint               *n_receipts,
                           GError             **error)
{
  g_auto (Import) import = { .catalog = catalog };
  g_auto (OgNoted) noted = { 0 };
  g_autoptr (GError) reason = NULL;

  g_return_val_if_fail (OG_IS_LEDGER (self) && text != NULL && name != NULL, FALSE);
  g_return_val_if_fail (catalog != NULL, FALSE);

  og_csv_init (&import.csv, text, length, name);
  import.noted = &noted;
  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return FALSE;
  if (!_og_ledger_end (self, import_rows (self, &import, &reason), &reason))
    {
      g_propagate_error (error, g_steal_pointer (&reason));
      return FALSE;
    }
  if (n_receipts != NULL)
    *n_receipts = import.n_receipts;

  return TRUE;
}
