/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "model/lines-model.h"

#include <math.h>
#include <string.h>

#include "helpers.h"

#define SEED 7
#define N_DOCUMENTS 60
#define N_EDITS 60

/* Shadow: what a view knows that goes by the signals alone. */
typedef struct
{
  OgDocument   *document;
  OgLinesModel *model;
  GPtrArray    *rows; /* of OgRow, kept alive */
  GHashTable   *seen; /* id -> OgRow while it is in the list */
  guint         n_signals;
  guint         position, removed, added; /* of the last signal */
} Shadow;

static void
on_items_changed (GListModel *model,
                  guint       position,
                  guint       removed,
                  guint       added,
                  Shadow     *shadow)
{
  shadow->n_signals++;
  shadow->position = position;
  shadow->removed = removed;
  shadow->added = added;

  g_assert_cmpuint (position + removed, <=, shadow->rows->len);
  g_assert_cmpuint (shadow->rows->len - removed + added, ==, g_list_model_get_n_items (model));
  if (removed > 0)
    g_ptr_array_remove_range (shadow->rows, position, removed);
  for (guint i = position; i < position + added; i++)
    g_ptr_array_insert (shadow->rows, (int) i, g_list_model_get_item (model, i));
}

static Shadow *
shadow_new (OgDocument *document)
{
  Shadow *shadow = g_new0 (Shadow, 1);

  shadow->document = g_object_ref (document);
  shadow->model = og_lines_model_new (document);
  shadow->rows = g_ptr_array_new_with_free_func (g_object_unref);
  shadow->seen = g_hash_table_new (NULL, NULL);
  on_items_changed (G_LIST_MODEL (shadow->model), 0, 0,
                    g_list_model_get_n_items (G_LIST_MODEL (shadow->model)), shadow);
  g_signal_connect (shadow->model, "items-changed", G_CALLBACK (on_items_changed), shadow);

  return shadow;
}

static void
shadow_free (Shadow *shadow)
{
  g_assert_finalize_object (shadow->model);
  g_object_unref (shadow->document);
  g_hash_table_unref (shadow->seen);
  g_ptr_array_unref (shadow->rows);
  g_free (shadow);
}

static void
assert_same_number (double a,
                    double b)
{
  if (!(isnan (a) && isnan (b)))
    g_assert_cmpfloat_with_epsilon (a, b, 1e-9 * (1 + fabs (b)));
}

static void
assert_line (Shadow               *shadow,
             OgRow                *row,
             const OgFormulaPhase *phase,
             const OgFormulaLine  *line)
{
  const OgIngredient *material
      = og_catalog_get (og_document_get_catalog (shadow->document), line->ingredient_id);
  const double batch_g = og_document_get_formula (shadow->document)->batch_g;

  g_assert_cmpint (og_row_get_kind (row), ==, OG_ROW_LINE);
  g_assert_cmpuint (og_row_get_id (row), ==, line->id);
  g_assert_cmpuint (og_row_get_phase_id (row), ==, phase->id);
  g_assert_cmpstr (og_row_get_ingredient_id (row), ==, line->ingredient_id);
  g_assert_cmpint (og_row_get_known (row), ==, material != NULL);
  g_assert_cmpstr (og_row_get_name (row), ==,
                   material != NULL ? material->name : line->ingredient_id);
  g_assert_cmpstr (og_row_get_inci (row), ==, material != NULL ? material->inci : NULL);
  assert_same_number (og_row_get_percent (row), line->amount / 10000.0);
  assert_same_number (og_row_get_grams (row), batch_g * line->amount / 1e6);
  assert_same_number (og_row_get_temperature_c (row), line->add_temperature_c);
  g_assert_cmpuint (og_row_get_balance_share (row), ==, line->balance_share);
  g_assert_cmpint (og_row_get_held (row), ==, line->held);
  g_assert_cmpstr (og_row_get_note (row), ==, line->note);
}

static void
assert_phase (Shadow               *shadow,
              OgRow                *row,
              const OgFormulaPhase *phase)
{
  double percent = 0;

  for (guint i = 0; i < phase->lines->len; i++)
    percent += ((OgFormulaLine *) phase->lines->pdata[i])->amount / 10000.0;

  g_assert_cmpint (og_row_get_kind (row), ==, OG_ROW_PHASE);
  g_assert_cmpuint (og_row_get_id (row), ==, phase->id);
  g_assert_null (og_row_get_ingredient_id (row));
  g_assert_cmpstr (og_row_get_name (row), ==, phase->name);
  g_assert_cmpstr (og_row_get_note (row), ==, phase->note);
  assert_same_number (og_row_get_percent (row), percent);
  assert_same_number (og_row_get_temperature_c (row), phase->temperature_c);
}

/* The object must be the one seen before for this id, and be found by it. */
static OgRow *
next_row (Shadow     *shadow,
          GHashTable *seen,
          guint       position,
          guint       id)
{
  g_autoptr (OgRow) row = g_list_model_get_item (G_LIST_MODEL (shadow->model), position);
  OgRow *before = g_hash_table_lookup (shadow->seen, GUINT_TO_POINTER (id));
  guint found = G_MAXUINT;

  g_assert_true (row == g_ptr_array_index (shadow->rows, position));
  g_assert_true (before == NULL || before == row);
  g_assert_true (og_lines_model_find (shadow->model, id, &found) == row);
  g_assert_cmpuint (found, ==, position);
  g_hash_table_insert (seen, GUINT_TO_POINTER (id), row);

  return row;
}

static void
assert_shadow (Shadow *shadow)
{
  const OgFormula *formula = og_document_get_formula (shadow->document);
  GHashTable *seen = g_hash_table_new (NULL, NULL);
  guint n = 0;

  for (guint i = 0; i < formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, i);

      assert_phase (shadow, next_row (shadow, seen, n++, phase->id), phase);
      for (guint j = 0; j < phase->lines->len; j++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, j);

          assert_line (shadow, next_row (shadow, seen, n++, line->id), phase, line);
        }
    }

  g_assert_cmpuint (n, ==, shadow->rows->len);
  g_assert_cmpuint (n, ==, g_list_model_get_n_items (G_LIST_MODEL (shadow->model)));
  g_assert_null (g_list_model_get_item (G_LIST_MODEL (shadow->model), n));
  g_hash_table_unref (shadow->seen);
  shadow->seen = seen;
}

static gboolean
random_step (GRand      *rand,
             OgDocument *document)
{
  switch (g_rand_int_range (rand, 0, 5))
    {
    case 0:
      og_document_undo (document);
      return TRUE;
    case 1:
      og_document_redo (document);
      return TRUE;
    default:
      return test_random_edit (rand, document);
    }
}

static void
test_replay (void)
{
  GRand *rand = g_rand_new_with_seed (SEED);

  for (guint i = 0; i < N_DOCUMENTS; i++)
    {
      OgDocument *document = i % 2 == 0 ? test_document () : test_filled_document ();
      Shadow *shadow = shadow_new (document);

      assert_shadow (shadow);
      for (guint j = 0; j < N_EDITS; j++)
        {
          const guint before = shadow->n_signals;

          random_step (rand, document);
          g_assert_cmpuint (shadow->n_signals - before, <=, 1);
          assert_shadow (shadow);
        }

      shadow_free (shadow);
      g_assert_finalize_object (document);
    }

  g_rand_free (rand);
}

static void
assert_span (const Shadow *shadow,
             guint         n_signals,
             guint         position,
             guint         removed,
             guint         added)
{
  g_assert_cmpuint (shadow->n_signals, ==, n_signals);
  g_assert_cmpuint (shadow->position, ==, position);
  g_assert_cmpuint (shadow->removed, ==, removed);
  g_assert_cmpuint (shadow->added, ==, added);
}

/* Rows: 0 Heated, 1 castor, 2 wax, 3 sunflower, 4 Cool, 5 unknown, 6 jojoba. */
static void
test_spans (void)
{
  OgDocument *document = test_filled_document ();
  Shadow *shadow = shadow_new (document);
  const guint wax = og_row_get_id (g_ptr_array_index (shadow->rows, 2));

  assert_span (shadow, 1, 0, 0, 7);

  og_document_set_line_ppm (document, wax, 60000);
  og_document_set_title (document, "T");
  og_document_rename_phase (document, 1, "Hot");
  assert_span (shadow, 1, 0, 0, 7);

  og_document_move_line (document, wax, 1, 2);
  assert_span (shadow, 2, 2, 2, 2);
  og_document_undo (document);
  assert_span (shadow, 3, 2, 2, 2);
  og_document_move_line (document, wax, 2, 0);
  assert_span (shadow, 4, 2, 3, 3);
  og_document_remove_line (document, wax);
  assert_span (shadow, 5, 4, 1, 0);
  og_document_add_line (document, "castor-oil", 1, 0);
  assert_span (shadow, 6, 1, 0, 1);
  og_document_remove_phase (document, 2);
  assert_span (shadow, 7, 4, 3, 0);

  shadow_free (shadow);
  g_object_unref (document);
}

static void
on_notify (OgRow      *row,
           GParamSpec *pspec,
           GPtrArray  *log)
{
  g_ptr_array_add (log, g_strdup_printf ("%s:%s", og_row_get_name (row), pspec->name));
}

static int
compare_text (gconstpointer a,
              gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* Forgets what was notified. @expected: sorted */
static void
assert_log (GPtrArray  *log,
            const char *expected)
{
  g_autofree char *text = NULL;

  g_ptr_array_sort (log, compare_text);
  g_ptr_array_add (log, NULL);
  text = g_strjoinv (", ", (char **) log->pdata);
  g_assert_cmpstr (text, ==, expected);
  g_ptr_array_set_size (log, 0);
}

static void
test_notifications (void)
{
  OgDocument *document = test_filled_document ();
  Shadow *shadow = shadow_new (document);
  g_autoptr (GPtrArray) log = g_ptr_array_new_with_free_func (g_free);
  const guint wax = og_row_get_id (g_ptr_array_index (shadow->rows, 2));
  const guint sunflower = og_row_get_id (g_ptr_array_index (shadow->rows, 3));

  for (guint i = 0; i < shadow->rows->len; i++)
    g_signal_connect (g_ptr_array_index (shadow->rows, i), "notify", G_CALLBACK (on_notify), log);

  og_document_set_line_note (document, wax, "pellets");
  assert_log (log, "Beeswax:note");
  og_document_set_line_held (document, wax, TRUE);
  assert_log (log, "Beeswax:held");

  /* the balance line gives what the wax takes; the phase keeps its sum */
  og_document_set_line_ppm (document, wax, 60000);
  assert_log (log, "Beeswax:grams, Beeswax:percent, Castor oil:grams, Castor oil:percent");

  og_document_set_line_ingredient (document, sunflower, "moon-oil");
  assert_log (log, "moon-oil:inci, moon-oil:known, moon-oil:name");

  og_document_set_title (document, "T");
  og_document_move_line (document, wax, 1, 2);
  assert_log (log, "");

  shadow_free (shadow);
  g_object_unref (document);
}

static char *
expected_finding (const OgResult *result,
                  guint           line_id,
                  int            *severity)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new ();

  *severity = -1;
  for (guint i = 0; i < result->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (result->findings, i);

      if (finding->line_id != line_id)
        continue;
      g_ptr_array_add (texts, (char *) og_saying_text (finding->text));
      *severity = MAX (*severity, (int) finding->severity);
    }
  g_ptr_array_add (texts, NULL);

  return texts->len > 1 ? g_strjoinv ("\n", (char **) texts->pdata) : NULL;
}

static guint
assert_findings (Shadow *shadow)
{
  const OgResult *result = og_document_get_result (shadow->document);
  guint n = 0;

  for (guint i = 0; i < shadow->rows->len; i++)
    {
      OgRow *row = g_ptr_array_index (shadow->rows, i);
      int severity;
      g_autofree char *text = expected_finding (result, og_row_get_id (row), &severity);

      g_assert_cmpint (og_row_get_severity (row), ==, severity);
      g_assert_cmpstr (og_row_get_finding_text (row), ==, text);
      n += severity >= 0;
    }

  return n;
}

static void
test_findings (void)
{
  OgDocument *document = test_filled_document ();
  Shadow *shadow = shadow_new (document);
  const guint unknown = og_row_get_id (g_ptr_array_index (shadow->rows, 5));
  OgRow *row = og_lines_model_find (shadow->model, unknown, NULL);

  g_assert_cmpuint (assert_findings (shadow), >, 0);
  g_assert_cmpint (og_row_get_severity (row), >=, 0);

  og_document_set_line_ingredient (document, unknown, "jojoba-oil");
  test_run_idle ();
  assert_findings (shadow);
  g_assert_cmpint (og_row_get_severity (row), ==, -1);

  og_document_undo (document);
  test_run_idle ();
  assert_findings (shadow);
  g_assert_cmpint (og_row_get_severity (row), >=, 0);

  shadow_free (shadow);
  g_object_unref (document);
}

static void
test_properties (void)
{
  OgDocument *document = test_filled_document ();
  OgLinesModel *model = og_lines_model_new (document);
  g_autoptr (OgRow) row = g_list_model_get_item (G_LIST_MODEL (model), 2);
  g_autofree char *name = NULL;
  g_autofree char *inci = NULL;
  g_autofree char *note = NULL;
  double percent, grams, temperature_c;
  gboolean held, known;
  guint share;

  g_assert_true (g_list_model_get_item_type (G_LIST_MODEL (model)) == OG_TYPE_ROW);
  og_document_set_batch_g (document, 200);
  g_object_get (row, "name", &name, "inci", &inci, "note", &note, "percent", &percent,
                "grams", &grams, "temperature-c", &temperature_c, "held", &held, "known", &known,
                "balance-share", &share, NULL);
  g_assert_cmpstr (name, ==, "Beeswax");
  g_assert_cmpstr (inci, ==, og_catalog_get (test_catalog (), "beeswax")->inci);
  g_assert_null (note);
  g_assert_cmpfloat_with_epsilon (percent, 5, 1e-9);
  g_assert_cmpfloat_with_epsilon (grams, 10, 1e-9);
  g_assert_true (isnan (temperature_c));
  g_assert_false (held);
  g_assert_true (known);
  g_assert_cmpuint (share, ==, 0);

  /* a row that a view still holds does not keep the model or the document */
  g_assert_finalize_object (model);
  g_assert_finalize_object (document);
  g_assert_cmpstr (og_row_get_name (row), ==, "Beeswax");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/lines-model/replay", test_replay);
  g_test_add_func ("/lines-model/spans", test_spans);
  g_test_add_func ("/lines-model/notifications", test_notifications);
  g_test_add_func ("/lines-model/findings", test_findings);
  g_test_add_func ("/lines-model/properties", test_properties);

  return g_test_run ();
}
