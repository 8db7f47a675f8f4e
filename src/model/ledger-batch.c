/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/recipe/storage.h"
#include "model/ledger-private.h"

static const char *const state_nicks[OG_N_BATCH_STATES] = {
  "planned", "running", "closed", "abandoned"
};

/* --- words ------------------------------------------------------------------ */

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

OgBatchEntry *
og_batch_entry_new (OgBatchEntryKind kind)
{
  OgBatchEntry *entry = g_new0 (OgBatchEntry, 1);

  entry->kind = kind;
  entry->temperature_c = NAN;

  return entry;
}

void
og_batch_entry_free (OgBatchEntry *entry)
{
  g_free (entry->text);
  g_free (entry->phase);
  g_free (entry->decision);
  g_free (entry->value);
  g_free (entry->until);
  g_free (entry->who);
  g_free (entry->note);
  g_free (entry);
}

/* --- what a batch needs ------------------------------------------------------ */

static void
need_free (gpointer data)
{
  OgNeed *need = data;

  g_free (need->base_id);
  g_free (need->name);
  g_free (need);
}

static const OgIngredient *
find_own (const OgFormula *formula,
          const char      *id)
{
  for (guint i = 0; i < formula->materials->len; i++)
    {
      const OgIngredient *own = g_ptr_array_index (formula->materials, i);

      if (g_strcmp0 (own->id, id) == 0)
        return own;
    }

  return NULL;
}

/* Returns: (transfer none): the id that own materials derived from each other lead to; they may
 * lead in a circle */
static const char *
base_of (const OgFormula *formula,
         const char      *id)
{
  for (guint n = 0; n < formula->materials->len; n++)
    {
      const OgIngredient *own = find_own (formula, id);

      if (own == NULL || own->derived_from == NULL)
        break;
      id = own->derived_from;
    }

  return id;
}

static const char *
name_of (const OgFormula *formula,
         const OgCatalog *catalog,
         const char      *id)
{
  const OgIngredient *ingredient = find_own (formula, id);

  if (ingredient == NULL && catalog != NULL)
    ingredient = og_catalog_get (catalog, id);

  return ingredient != NULL ? ingredient->name : id;
}

static int
compare_rest (gconstpointer a,
              gconstpointer b)
{
  const OgNeed *x = *(OgNeed *const *) a, *y = *(OgNeed *const *) b;

  if (x->rest != y->rest)
    return x->rest < y->rest ? 1 : -1;

  return x->place < y->place ? -1 : 1;
}

/* Whole mg that add up to the batch: the largest remainders are rounded up. */
static void
share_out (GPtrArray *needs,
           gint64     batch_mg)
{
  g_autoptr (GPtrArray) by_rest = g_ptr_array_new ();
  gint64 left_mg = batch_mg;

  for (guint i = 0; i < needs->len; i++)
    {
      OgNeed *need = g_ptr_array_index (needs, i);
      const gint64 exact = need->line->amount * batch_mg;

      need->amount_mg = exact / OG_PPM_WHOLE;
      need->rest = exact % OG_PPM_WHOLE;
      left_mg -= need->amount_mg;
      g_ptr_array_add (by_rest, need);
    }
  g_ptr_array_sort (by_rest, compare_rest);
  for (guint i = 0; i < by_rest->len && left_mg > 0; i++, left_mg--)
    ((OgNeed *) g_ptr_array_index (by_rest, i))->amount_mg++;
}

GPtrArray *
_og_ledger_needs (const OgFormula  *formula,
                  const OgCatalog  *catalog,
                  gint64            batch_mg,
                  GError          **error)
{
  g_autoptr (GPtrArray) needs = g_ptr_array_new_with_free_func (need_free);

  if (!_og_ledger_check_mg (batch_mg, 1, error))
    return NULL;
  if (og_formula_total (formula) != OG_PPM_WHOLE)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
                   _("The recipe does not make up 100 %%: a batch of it cannot be weighed."));
      return NULL;
    }
  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      for (guint j = 0; j < phase->lines->len; j++)
        {
          OgNeed *need = g_new0 (OgNeed, 1);

          need->line = g_ptr_array_index (phase->lines, j);
          need->phase = phase->name;
          need->place = needs->len + 1;
          need->base_id = g_strdup (base_of (formula, need->line->ingredient_id));
          need->name = g_strdup (name_of (formula, catalog, need->line->ingredient_id));
          g_ptr_array_add (needs, need);
        }
    }
  share_out (needs, batch_mg);

  return g_steal_pointer (&needs);
}

/* --- planning ---------------------------------------------------------------- */

/* Returns: (transfer full): the year of @day and the next number in it */
static char *
next_number (OgLedger    *self,
             const char  *day,
             GError     **error)
{
  g_autofree char *from = g_strdup_printf ("%.4s-", day);
  g_autofree char *to = g_strdup_printf ("%.4s.", day); /* "." comes next to "-" */
  gint64 last = 0;

  if (!_og_sql_get (self,
                    "SELECT max (CAST (substr (number, 6) AS INTEGER)) FROM batch"
                    " WHERE number >= ? AND number < ? AND length (number) BETWEEN 8 AND 14",
                    OG_SQL_VALUES (og_sql_text (from), og_sql_text (to)),
                    &last,
                    error))
    return NULL;

  return g_strdup_printf ("%s%03" G_GINT64_FORMAT, from, last + 1);
}

static gboolean
put_lines (OgLedger   *self,
           gint64      batch_id,
           GPtrArray  *needs,
           GError    **error)
{
  for (guint i = 0; i < needs->len; i++)
    {
      const OgNeed *need = g_ptr_array_index (needs, i);

      if (!_og_sql_run (self,
                        "INSERT INTO batch_line (batch_id, line, formula_line, phase,"
                        " ingredient_id, material_id, name, planned_mg)"
                        " SELECT ?1, ?2, ?3, ?4, ?5,"
                        "  CASE WHEN EXISTS (SELECT 1 FROM material WHERE id = ?5)"
                        "  THEN ?5 ELSE ?6 END, ?7, ?8",
                        OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (need->place),
                                       og_sql_int (need->line->id), og_sql_text (need->phase),
                                       og_sql_text (need->line->ingredient_id),
                                       og_sql_text (need->base_id), og_sql_text (need->name),
                                       og_sql_int (need->amount_mg)),
                        error))
        return FALSE;
    }

  return TRUE;
}

static gboolean
put_batch (OgLedger         *self,
           const OgFormula  *formula,
           GPtrArray        *needs,
           gint64            batch_mg,
           const char       *number,
           const OgNoted    *noted,
           GError          **error)
{
  g_autoptr (GBytes) bytes = og_storage_serialise (formula);
  g_autofree char *document
    = g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  gint64 taken = 0;

  if (!_og_sql_get (self,
                    "SELECT 1 FROM batch WHERE number = ?",
                    OG_SQL_VALUES (og_sql_text (number)),
                    &taken,
                    error))
    return FALSE;
  if (taken)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
                   _("There is a batch “%s” already."), number);
      return FALSE;
    }

  return _og_sql_run (self,
                      "INSERT INTO batch (number, title, document, planned_mg, day, state, who,"
                      " note) VALUES (?, ?, ?, ?, ?, 'planned', ?, ?)",
                      OG_SQL_VALUES (og_sql_text (number), og_sql_text (formula->title),
                                     og_sql_text (document), og_sql_int (batch_mg),
                                     og_sql_text (noted->day), og_sql_text (noted->who),
                                     og_sql_text (noted->note)),
                      error)
         && put_lines (self, sqlite3_last_insert_rowid (self->db), needs, error);
}

char *
og_ledger_plan_batch (OgLedger            *self,
                      const OgFormula     *formula,
                      const OgCatalog     *catalog,
                      gint64               batch_mg,
                      const char          *number,
                      const OgLedgerNote  *note,
                      GError             **error)
{
  g_autoptr (GPtrArray) needs = NULL;
  g_auto (OgNoted) noted = { 0 };
  g_autofree char *chosen = NULL;
  gboolean done;

  g_return_val_if_fail (OG_IS_LEDGER (self) && formula != NULL, NULL);

  needs = _og_ledger_needs (formula, catalog, batch_mg, error);
  if (needs == NULL
      || (number != NULL && !_og_ledger_check_text (_("batch"), number, TRUE, error))
      || !_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return NULL;
  chosen = number != NULL ? g_strdup (number) : next_number (self, noted.day, error);
  done = chosen != NULL && put_batch (self, formula, needs, batch_mg, chosen, &noted, error);

  return _og_ledger_end (self, done, error) ? g_steal_pointer (&chosen) : NULL;
}

/* --- the record --------------------------------------------------------------- */

typedef struct
{
  gint64       id;
  OgBatchState state;
  gboolean     released;
} Found;

static gboolean
find_batch (OgLedger    *self,
            const char  *number,
            Found       *found,
            GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT id, state, released_by IS NOT NULL FROM batch WHERE number = ?",
                     OG_SQL_VALUES (og_sql_text (number)),
                     &row,
                     error);

  if (statement == NULL)
    return FALSE;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("There is no batch “%s” in the ledger."), number);
      return FALSE;
    }
  found->id = sqlite3_column_int64 (statement, 0);
  og_batch_state_from_nick ((const char *) sqlite3_column_text (statement, 1), &found->state);
  found->released = sqlite3_column_int (statement, 2) != 0;

  return TRUE;
}

static gboolean
is_open (const Found *found)
{
  return found->state == OG_BATCH_PLANNED || found->state == OG_BATCH_RUNNING;
}

static gboolean
find_open (OgLedger    *self,
           const char  *number,
           Found       *found,
           GError     **error)
{
  if (!find_batch (self, number, found, error))
    return FALSE;
  if (is_open (found))
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
               found->state == OG_BATCH_CLOSED ? _("Batch “%s” has been closed before.")
                                               : _("Batch “%s” has been abandoned."), number);

  return FALSE;
}

/* @lot_id: (out): 0 for a weighing without a lot */
static gboolean
find_weighed_lot (OgLedger          *self,
                  gint64             batch_id,
                  const OgWeighing  *weighing,
                  gint64            *lot_id,
                  GError           **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT material_id FROM batch_line WHERE batch_id = ? AND line = ?",
                     OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line)),
                     &row,
                     error);
  g_autofree char *material_id = NULL;

  *lot_id = 0;
  if (statement == NULL)
    return FALSE;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("The batch has no line %u."), weighing->line);
      return FALSE;
    }
  material_id = _og_sql_dup_text (statement, 0);

  return weighing->lot == NULL
         || _og_ledger_find_lot (self, material_id, weighing->lot, lot_id, error);
}

static gboolean
check_taken_back (OgLedger          *self,
                  gint64             batch_id,
                  const OgWeighing  *weighing,
                  gint64             lot_id,
                  GError           **error)
{
  gint64 sum_mg = 0;

  if (weighing->amount_mg > 0)
    return TRUE;
  if (!_og_sql_get (self,
                    "SELECT sum (amount_mg) FROM weighing"
                    " WHERE batch_id = ? AND line = ? AND lot_id IS ?",
                    OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line),
                                   og_sql_int_or_null (lot_id)),
                    &sum_mg,
                    error))
    return FALSE;
  if (sum_mg + weighing->amount_mg >= 0)
    return TRUE;
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE,
               _("More is taken back than was weighed: %.12g g."), og_ledger_mg_to_g (sum_mg));

  return FALSE;
}

/* @undoes: (out): the last weighing of the same line, lot and amount that is not taken back yet; 0
 * if there is none */
static gboolean
find_undone (OgLedger          *self,
             gint64             batch_id,
             const OgWeighing  *weighing,
             gint64             lot_id,
             gint64            *undoes,
             GError           **error)
{
  *undoes = 0;

  return weighing->amount_mg > 0
         || _og_sql_get (self,
                         "SELECT max (id) FROM weighing WHERE batch_id = ? AND line = ?"
                         " AND lot_id IS ? AND amount_mg = ? AND NOT EXISTS"
                         " (SELECT 1 FROM weighing AS other WHERE other.undoes = weighing.id)",
                         OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line),
                                        og_sql_int_or_null (lot_id),
                                        og_sql_int (-weighing->amount_mg)),
                         undoes,
                         error);
}

/* Returns: the id; 0 with an error */
static gint64
put_weighing (OgLedger          *self,
              gint64             batch_id,
              const OgWeighing  *weighing,
              gint64             lot_id,
              gint64             undoes,
              const OgNoted     *noted,
              GError           **error)
{
  const gint64 moment = weighing->weighed_at != 0 ? weighing->weighed_at : noted->now;

  if (!check_taken_back (self, batch_id, weighing, lot_id, error)
      || !_og_sql_run (self,
                       "INSERT INTO weighing (batch_id, line, lot_id, amount_mg, balance, who,"
                       " weighed_at, undoes) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
                       OG_SQL_VALUES (og_sql_int (batch_id), og_sql_int (weighing->line),
                                      og_sql_int_or_null (lot_id),
                                      og_sql_int (weighing->amount_mg),
                                      og_sql_text (weighing->balance), og_sql_text (weighing->who),
                                      og_sql_int (moment), og_sql_int_or_null (undoes)),
                       error))
    return 0;

  return sqlite3_last_insert_rowid (self->db);
}

static gint64
weigh (OgLedger          *self,
       const char        *number,
       const OgWeighing  *weighing,
       const OgNoted     *noted,
       GError           **error)
{
  Found found;
  gint64 lot_id;
  gint64 undoes;
  gint64 id;

  if (!find_open (self, number, &found, error)
      || !find_weighed_lot (self, found.id, weighing, &lot_id, error)
      || !find_undone (self, found.id, weighing, lot_id, &undoes, error))
    return 0;
  id = put_weighing (self, found.id, weighing, lot_id, undoes, noted, error);
  if (id == 0
      || !_og_sql_run (self,
                       "UPDATE batch SET state = 'running' WHERE id = ? AND state = 'planned'",
                       OG_SQL_VALUES (og_sql_int (found.id)),
                       error))
    return 0;

  return id;
}

gint64
og_ledger_weigh (OgLedger          *self,
                 const char        *number,
                 const OgWeighing  *weighing,
                 GError           **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL && weighing != NULL, 0);

  if (!_og_ledger_check_mg (ABS (weighing->amount_mg), 1, error)
      || !_og_ledger_check_text (_("balance"), weighing->balance, FALSE, error)
      || !_og_ledger_check_text (_("who"), weighing->who, FALSE, error)
      || !_og_noted_init (&noted, NULL, error) || !_og_ledger_begin (self, error))
    return 0;
  id = weigh (self, number, weighing, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

static gint64
take_back (OgLedger       *self,
           const char     *number,
           gint64          id,
           const char     *who,
           const OgNoted  *noted,
           GError        **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autofree char *balance = NULL;
  OgWeighing weighing = { .who = (char *) who };
  Found found;
  gboolean row;

  if (!find_open (self, number, &found, error))
    return 0;
  statement = _og_sql_first (self,
                             "SELECT line, -amount_mg, balance, lot_id, EXISTS"
                             " (SELECT 1 FROM weighing AS other WHERE other.undoes = weighing.id)"
                             " FROM weighing WHERE id = ? AND batch_id = ? AND amount_mg > 0",
                             OG_SQL_VALUES (og_sql_int (id), og_sql_int (found.id)),
                             &row,
                             error);
  if (statement == NULL)
    return 0;
  if (!row)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_NOT_FOUND,
                   _("Batch “%s” has no weighing %lld."), number, (long long) id);
      return 0;
    }
  if (sqlite3_column_int (statement, 4) != 0)
    {
      g_set_error_literal (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_EXISTS,
                           _("This weighing has been taken back before."));
      return 0;
    }
  balance = _og_sql_dup_text (statement, 2);
  weighing.line = (guint) sqlite3_column_int (statement, 0);
  weighing.amount_mg = sqlite3_column_int64 (statement, 1);
  weighing.balance = balance;

  return put_weighing (self, found.id, &weighing, sqlite3_column_int64 (statement, 3), id, noted,
                       error);
}

gint64
og_ledger_take_back (OgLedger    *self,
                     const char  *number,
                     gint64       id,
                     const char  *who,
                     GError     **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 made;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, 0);

  if (!_og_ledger_check_text (_("who"), who, FALSE, error)
      || !_og_noted_init (&noted, NULL, error) || !_og_ledger_begin (self, error))
    return 0;
  made = take_back (self, number, id, who, &noted, error);

  return _og_ledger_end (self, made != 0, error) ? made : 0;
}

static gboolean
refuse_entry (const char  *reason,
              GError     **error)
{
  g_set_error_literal (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_VALUE, reason);

  return FALSE;
}

static gboolean
check_entry (const OgBatchEntry  *entry,
             GError             **error)
{
  const OgBatchEntryKind kind = entry->kind;

  if (!_og_ledger_check_text (_("text"), entry->text, kind != OG_BATCH_ENTRY_FILLING, error)
      || !_og_ledger_check_text (_("value"), entry->value, kind == OG_BATCH_ENTRY_MEASUREMENT,
                                 error)
      || !_og_ledger_check_text (_("phase"), entry->phase, FALSE, error)
      || !_og_ledger_check_text (_("decision"), entry->decision, FALSE, error)
      || !_og_ledger_check_text (_("who"), entry->who, FALSE, error)
      || !_og_ledger_check_text (_("note"), entry->note, FALSE, error)
      || !_og_ledger_check_day (_("until"), entry->until, error)
      || !_og_ledger_check_mg (entry->amount_mg, kind == OG_BATCH_ENTRY_FILLING ? 1 : 0, error))
    return FALSE;
  if (kind == OG_BATCH_ENTRY_SAMPLE && entry->count == 0)
    return refuse_entry (_("At least one sample must be kept."), error);
  if (entry->ended_at != 0 && entry->ended_at < entry->started_at)
    return refuse_entry (_("The end lies before the beginning."), error);
  if (isinf (entry->temperature_c))
    return refuse_entry (_("The temperature is not a number."), error);

  return TRUE;
}

static gint64
add_entry (OgLedger            *self,
           const char          *number,
           const OgBatchEntry  *entry,
           const OgNoted       *noted,
           GError             **error)
{
  Found found;

  if (!find_batch (self, number, &found, error)
      || !_og_sql_run (self,
                       "INSERT INTO batch_entry (batch_id, kind, text, phase, decision, value,"
                       " until, temperature_c, started_at, ended_at, count, amount_mg, who, note,"
                       " entered_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
                       OG_SQL_VALUES (og_sql_int (found.id),
                                      og_sql_text (og_batch_entry_kind_to_nick (entry->kind)),
                                      og_sql_text (entry->text), og_sql_text (entry->phase),
                                      og_sql_text (entry->decision), og_sql_text (entry->value),
                                      og_sql_text (entry->until),
                                      og_sql_real (entry->temperature_c),
                                      og_sql_int_or_null (entry->started_at),
                                      og_sql_int_or_null (entry->ended_at),
                                      og_sql_int_or_null (entry->count),
                                      og_sql_int_or_null (entry->amount_mg),
                                      og_sql_text (entry->who), og_sql_text (entry->note),
                                      og_sql_int (noted->now)),
                       error))
    return 0;

  return sqlite3_last_insert_rowid (self->db);
}

gint64
og_ledger_add_batch_entry (OgLedger            *self,
                           const char          *number,
                           const OgBatchEntry  *entry,
                           GError             **error)
{
  g_auto (OgNoted) noted = { 0 };
  gint64 id;

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL && entry != NULL, 0);
  g_return_val_if_fail (entry->kind < OG_N_BATCH_ENTRY_KINDS, 0);

  if (!check_entry (entry, error) || !_og_noted_init (&noted, NULL, error)
      || !_og_ledger_begin (self, error))
    return 0;
  id = add_entry (self, number, entry, &noted, error);

  return _og_ledger_end (self, id != 0, error) ? id : 0;
}

static gboolean
refuse_released (const char  *number,
                 GError     **error)
{
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
               _("Batch “%s” has been released before."), number);

  return FALSE;
}

static gboolean
set_output (OgLedger    *self,
            const char  *number,
            int          units_made,
            const char  *label_version,
            GError     **error)
{
  Found found;

  if (!find_batch (self, number, &found, error))
    return FALSE;
  if (found.released)
    return refuse_released (number, error);

  return _og_sql_run (self,
                      "UPDATE batch SET units_made = coalesce (nullif (?2, -1), units_made),"
                      " label_version = coalesce (?3, label_version) WHERE id = ?1",
                      OG_SQL_VALUES (og_sql_int (found.id), og_sql_int (units_made),
                                     og_sql_text (label_version)),
                      error);
}

gboolean
og_ledger_set_batch_output (OgLedger    *self,
                            const char  *number,
                            int          units_made,
                            const char  *label_version,
                            GError     **error)
{
  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL && units_made >= -1, FALSE);

  if (!_og_ledger_check_text (_("label version"), label_version, FALSE, error)
      || !_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, set_output (self, number, units_made, label_version, error), error);
}

/* --- the end of a batch -------------------------------------------------------- */

static gboolean
check_weighed (OgLedger    *self,
               gint64       batch_id,
               GError     **error)
{
  gboolean row;
  g_autoptr (sqlite3_stmt) statement
    = _og_sql_first (self,
                     "SELECT line, name FROM batch_line WHERE batch_id = ?1 AND planned_mg > 0"
                     " AND coalesce ((SELECT sum (amount_mg) FROM weighing"
                     "  WHERE weighing.batch_id = ?1"
                     "  AND weighing.line = batch_line.line), 0) <= 0"
                     " ORDER BY line LIMIT 1",
                     OG_SQL_VALUES (og_sql_int (batch_id)),
                     &row,
                     error);
  g_autofree char *name = NULL;

  if (statement == NULL)
    return FALSE;
  if (!row)
    return TRUE;
  name = _og_sql_dup_text (statement, 1);
  g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
               /* Translators: number of a line and its material */
               _("Line %d, %s, has not been weighed."), sqlite3_column_int (statement, 0), name);

  return FALSE;
}

static gpointer
read_posting (sqlite3_stmt *statement)
{
  OgPosting *posting = g_new0 (OgPosting, 1);

  posting->lot_id = sqlite3_column_int64 (statement, 0);
  posting->amount_mg = -sqlite3_column_int64 (statement, 1);
  posting->counted_mg = -1;

  return posting;
}

/* All that was weighed, one entry for each lot */
static gboolean
take_weighed (OgLedger       *self,
              gint64          batch_id,
              OgJournalKind   kind,
              gboolean        allow_negative,
              const OgNoted  *noted,
              GError        **error)
{
  g_autoptr (GPtrArray) postings
    = _og_sql_list (self,
                    "SELECT lot_id, sum (amount_mg) FROM weighing"
                    " WHERE batch_id = ? AND lot_id IS NOT NULL GROUP BY lot_id"
                    " HAVING sum (amount_mg) <> 0 ORDER BY min (line)",
                    OG_SQL_VALUES (og_sql_int (batch_id)),
                    read_posting,
                    g_free,
                    error);

  if (postings == NULL)
    return FALSE;
  for (guint i = 0; i < postings->len; i++)
    {
      OgPosting *posting = g_ptr_array_index (postings, i);

      posting->kind = kind;
      posting->batch_id = batch_id;
      posting->allow_negative = allow_negative;
      if (_og_ledger_post (self, posting, noted, error) == 0)
        return FALSE;
    }

  return TRUE;
}

typedef struct
{
  OgBatchState  state;
  gboolean      take;
  OgJournalKind kind;
  OgCloseFlags  flags;
} Ending;

static gboolean
end_batch (OgLedger       *self,
           const char     *number,
           const Ending   *ending,
           const OgNoted  *noted,
           GError        **error)
{
  const gboolean allow_negative = (ending->flags & OG_CLOSE_ALLOW_NEGATIVE) != 0;
  Found found;

  if (!find_open (self, number, &found, error)
      || ((ending->flags & OG_CLOSE_ALLOW_UNWEIGHED) == 0
          && !check_weighed (self, found.id, error))
      || (ending->take
          && !take_weighed (self, found.id, ending->kind, allow_negative, noted, error)))
    return FALSE;

  return _og_sql_run (self,
                      "UPDATE batch SET state = ?2, closed_at = ?3 WHERE id = ?1",
                      OG_SQL_VALUES (og_sql_int (found.id),
                                     og_sql_text (og_batch_state_to_nick (ending->state)),
                                     og_sql_int (noted->now)),
                      error);
}

static gboolean
end_in_transaction (OgLedger            *self,
                    const char          *number,
                    const Ending        *ending,
                    const OgLedgerNote  *note,
                    GError             **error)
{
  g_auto (OgNoted) noted = { 0 };

  if (!_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, end_batch (self, number, ending, &noted, error), error);
}

gboolean
og_ledger_close_batch (OgLedger            *self,
                       const char          *number,
                       OgCloseFlags         flags,
                       const OgLedgerNote  *note,
                       GError             **error)
{
  const Ending ending = { OG_BATCH_CLOSED, TRUE, OG_JOURNAL_USE, flags };

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, FALSE);

  return end_in_transaction (self, number, &ending, note, error);
}

gboolean
og_ledger_abandon_batch (OgLedger            *self,
                         const char          *number,
                         gboolean             wasted,
                         OgCloseFlags         flags,
                         const OgLedgerNote  *note,
                         GError             **error)
{
  const Ending ending
    = { OG_BATCH_ABANDONED, wasted, OG_JOURNAL_WASTE, flags | OG_CLOSE_ALLOW_UNWEIGHED };

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL, FALSE);

  return end_in_transaction (self, number, &ending, note, error);
}

static gboolean
release (OgLedger       *self,
         const char     *number,
         const OgNoted  *noted,
         GError        **error)
{
  Found found;

  if (!find_batch (self, number, &found, error))
    return FALSE;
  if (found.released)
    return refuse_released (number, error);
  if (found.state != OG_BATCH_CLOSED)
    {
      g_set_error (error, OG_LEDGER_ERROR, OG_LEDGER_ERROR_STATE,
                   _("Batch “%s” is not closed: only a closed batch can be released."), number);
      return FALSE;
    }

  return _og_sql_run (self,
                      "UPDATE batch SET released_by = ?2, released_on = ?3, release_note = ?4"
                      " WHERE id = ?1",
                      OG_SQL_VALUES (og_sql_int (found.id), og_sql_text (noted->who),
                                     og_sql_text (noted->day), og_sql_text (noted->note)),
                      error);
}

gboolean
og_ledger_release_batch (OgLedger            *self,
                         const char          *number,
                         const OgLedgerNote  *note,
                         GError             **error)
{
  g_auto (OgNoted) noted = { 0 };

  g_return_val_if_fail (OG_IS_LEDGER (self) && number != NULL && note != NULL, FALSE);

  if (!_og_ledger_check_text (_("who"), note->who, TRUE, error)
      || !_og_noted_init (&noted, note, error) || !_og_ledger_begin (self, error))
    return FALSE;

  return _og_ledger_end (self, release (self, number, &noted, error), error);
}
