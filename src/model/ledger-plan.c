/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>

#include "core/recipe/storage.h"
#include "model/ledger-private.h"

/* --- what a batch needs ------------------------------------------------------ */

static void
need_free (gpointer data)
{
  OgNeed *need = data;

  g_free (need->base_id);
  g_free (need->name);
  g_free (need);
}

/* Returns: (transfer none): the id that own materials derived from each other lead to; they may
 * lead in a circle */
static const char *
base_of (const OgFormula *formula,
         const char      *id)
{
  for (guint n = 0; n < formula->materials->len; n++)
    {
      const OgIngredient *own = og_formula_find_material (formula, id, NULL);

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
  const OgIngredient *ingredient = og_formula_find_material (formula, id, NULL);

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
