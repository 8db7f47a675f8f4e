/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "common/random-recipe.h"
#include "core/material/catalog.h"
#include "core/recipe/bench.h"
#include "core/recipe/formula.h"

#define SEED 20240607
#define N_RANDOM 10000

static OgCatalog *library;

static void
set_up_library (void)
{
  g_autoptr (GError) error = NULL;

  library = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);
}

static double
fraction_of (GPtrArray  *contents,
             const char *id)
{
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (g_str_equal (content->ingredient_id, id))
        return content->fraction;
    }
  return 0;
}

static double
sum_of (GPtrArray *contents)
{
  double sum = 0;

  for (guint i = 0; i < contents->len; i++)
    sum += ((OgContent *) g_ptr_array_index (contents, i))->fraction;
  return sum;
}

static const char *
id_at (GPtrArray *contents,
       guint      index)
{
  return ((OgContent *) g_ptr_array_index (contents, index))->ingredient_id;
}

static void
assert_close (double a,
              double b)
{
  g_assert_cmpfloat_with_epsilon (a, b, 1e-12);
}

/* --- the check example --------------------------------------------------- */

typedef struct
{
  const char *id;
  OgPpm       amount;
  double      g; /* in 20 g */
} CheckLine;

/* Common practice, no source: a faintly tinted lip oil for a 20 g trial. */
static const CheckLine check_lines[] = {
  { "castor-oil", 630000, 12.6 },
  { "sunflower-oil", 340000, 6.8 },
  { "polyamide-3", 15000, 0.3 },
  { "red-iron-oxide-in-castor-oil", 5000, 0.1 },
  { "tocopherol", 10000, 0.2 },
};

static OgFormula *
check_example (void)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "All", NAN, G_MAXUINT);

  formula->batch_g = 20;
  for (guint i = 0; i < G_N_ELEMENTS (check_lines); i++)
    og_formula_add_line (formula, phase, check_lines[i].id, check_lines[i].amount, G_MAXUINT);
  return formula;
}

static void
test_check_example (void)
{
  g_autoptr (OgFormula) formula = check_example ();
  g_autoptr (GPtrArray) contents = og_formula_contents (formula, library);
  double sum_g = 0;

  g_assert_cmpint (og_formula_total (formula), ==, OG_PPM_WHOLE);
  for (guint i = 0; i < G_N_ELEMENTS (check_lines); i++)
    {
      const OgFormulaLine *line = og_formula_find_ingredient (formula, check_lines[i].id);

      assert_close (og_ppm_to_g (line->amount, formula->batch_g), check_lines[i].g);
      sum_g += og_ppm_to_g (line->amount, formula->batch_g);
    }
  assert_close (sum_g, 20);

  g_assert_cmpuint (contents->len, ==, 5);
  assert_close (20 * fraction_of (contents, "red-iron-oxide"), 0.05);
  assert_close (20 * fraction_of (contents, "castor-oil"), 12.65);
  assert_close (20 * fraction_of (contents, "sunflower-oil"), 6.8);
  assert_close (20 * fraction_of (contents, "red-iron-oxide-in-castor-oil"), 0);
  assert_close (sum_of (contents), 1);
  /* first appearance */
  g_assert_cmpstr (id_at (contents, 0), ==, "castor-oil");
  g_assert_cmpstr (id_at (contents, 3), ==, "red-iron-oxide");
}

/* --- amounts ------------------------------------------------------------- */

static OgFormula *
three_lines (OgPpm a,
             OgPpm b,
             OgPpm c)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (formula, "All", NAN, G_MAXUINT);

  og_formula_add_line (formula, phase, "castor-oil", a, G_MAXUINT);
  og_formula_add_line (formula, phase, "sunflower-oil", b, G_MAXUINT);
  og_formula_add_line (formula, phase, "polyamide-3", c, G_MAXUINT);
  return formula;
}

static OgFormulaLine *
line_at (const OgFormula *formula,
         guint            index)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);

  return g_ptr_array_index (lines, index);
}

static void
assert_amounts (const OgFormula *formula,
                OgPpm            a,
                OgPpm            b,
                OgPpm            c)
{
  g_assert_cmpint (line_at (formula, 0)->amount, ==, a);
  g_assert_cmpint (line_at (formula, 1)->amount, ==, b);
  g_assert_cmpint (line_at (formula, 2)->amount, ==, c);
}

static void
test_balance (void)
{
  g_autoptr (OgFormula) one = three_lines (600000, 1, 15000);
  g_autoptr (OgFormula) two = three_lines (0, 7, 15000);
  g_autoptr (OgFormula) over = three_lines (990000, 10, 15000);
  g_autoptr (OgFormula) none = three_lines (1, 2, 3);

  line_at (one, 1)->balance_share = 3;
  g_assert_cmpint (og_formula_balance (one), ==, OG_PPM_WHOLE);
  assert_amounts (one, 600000, 385000, 15000);

  /* 985 000 in five parts, 2 : 3 */
  line_at (two, 0)->balance_share = 2;
  line_at (two, 1)->balance_share = 3;
  g_assert_cmpint (og_formula_balance (two), ==, OG_PPM_WHOLE);
  assert_amounts (two, 394000, 591000, 15000);

  line_at (over, 1)->balance_share = 1;
  g_assert_cmpint (og_formula_balance (over), ==, 1005000);
  assert_amounts (over, 990000, 0, 15000);

  g_assert_cmpint (og_formula_balance (none), ==, 6);
  assert_amounts (none, 1, 2, 3);
}

static void
test_balance_remainder (void)
{
  g_autoptr (OgFormula) formula = three_lines (0, 0, 0);

  for (guint i = 0; i < 3; i++)
    line_at (formula, i)->balance_share = 1;
  g_assert_cmpint (og_formula_balance (formula), ==, OG_PPM_WHOLE);
  assert_amounts (formula, 333334, 333333, 333333);
}

static void
test_normalise (void)
{
  g_autoptr (OgFormula) thirds = three_lines (1, 1, 1);
  g_autoptr (OgFormula) held = three_lines (600000, 100000, 300000);
  g_autoptr (OgFormula) nothing = three_lines (0, 0, 0);
  g_autoptr (OgFormula) full = three_lines (1000000, 1, 1);

  g_assert_true (og_formula_normalise (thirds));
  assert_amounts (thirds, 333334, 333333, 333333);

  /* 400 000 for 1 : 3 */
  line_at (held, 0)->held = TRUE;
  g_assert_true (og_formula_normalise (held));
  assert_amounts (held, 600000, 100000, 300000);
  line_at (held, 1)->amount = 200000;
  line_at (held, 2)->amount = 600000;
  g_assert_true (og_formula_normalise (held));
  assert_amounts (held, 600000, 100000, 300000);

  g_assert_false (og_formula_normalise (nothing));
  assert_amounts (nothing, 0, 0, 0);

  line_at (full, 0)->held = TRUE;
  line_at (full, 1)->held = TRUE;
  g_assert_false (og_formula_normalise (full));
  assert_amounts (full, 1000000, 1, 1);
}

/* --- edits --------------------------------------------------------------- */

static void
test_edits (void)
{
  g_autoptr (OgFormula) formula = og_formula_new ();
  OgFormulaPhase *oils = og_formula_add_phase (formula, "Oils", NAN, G_MAXUINT);
  OgFormulaPhase *heated = og_formula_add_phase (formula, "Heated", 95, 0);
  OgFormulaLine *b = og_formula_add_line (formula, oils, "sunflower-oil", 20, G_MAXUINT);
  OgFormulaLine *a = og_formula_add_line (formula, oils, "castor-oil", 10, 0);
  OgFormulaPhase *phase = NULL;
  guint position = 99;

  g_assert_cmpfloat (formula->batch_g, ==, 100);
  g_assert_true (isnan (formula->target_low_mpa_s) && isnan (formula->target_high_mpa_s));
  g_assert_true (isnan (a->add_temperature_c) && isnan (oils->temperature_c));
  g_assert_true (g_ptr_array_index (formula->phases, 0) == heated);
  g_assert_true (og_formula_find_phase (formula, oils->id, &position) == oils);
  g_assert_cmpuint (position, ==, 1);
  g_assert_null (og_formula_find_phase (formula, 4711, NULL));
  g_assert_true (og_formula_find_line (formula, b->id, &phase, &position) == b);
  g_assert_true (phase == oils);
  g_assert_cmpuint (position, ==, 1);
  g_assert_null (og_formula_find_line (formula, oils->id, NULL, NULL));
  g_assert_true (og_formula_find_ingredient (formula, "castor-oil") == a);
  g_assert_null (og_formula_find_ingredient (formula, "olive-oil"));
  g_assert_cmpuint (og_formula_get_n_lines (formula), ==, 2);

  og_formula_move_line (formula, a->id, oils->id, 1);
  g_assert_true (g_ptr_array_index (oils->lines, 1) == a);
  og_formula_move_line (formula, a->id, heated->id, 0);
  g_assert_true (g_ptr_array_index (heated->lines, 0) == a);
  g_assert_cmpuint (oils->lines->len, ==, 1);

  og_formula_remove_line (formula, a->id);
  g_assert_cmpuint (og_formula_get_n_lines (formula), ==, 1);
  og_formula_remove_phase (formula, oils->id);
  g_assert_cmpuint (og_formula_get_n_lines (formula), ==, 0);
  g_assert_cmpuint (formula->phases->len, ==, 1);
}

static JsonObject *
some_members (const char *member)
{
  JsonObject *object = json_object_new ();

  json_object_set_int_member (object, member, 1);
  return object;
}

static void
add_measurement (OgFormula *formula)
{
  OgMeasurement *measurement = og_measurement_new ();

  g_free (measurement->id);
  measurement->id = og_measurements_next_id (formula->measurements);
  measurement->reading.method = OG_METHOD_ROTATIONAL;
  measurement->reading.temperature_c = 25;
  measurement->reading.mpa_s = 800;
  og_measurement_set_recipe (measurement, formula);
  g_ptr_array_add (formula->measurements, measurement);
}

/* Changes one thing of a measurement; FALSE when there is none left. */
static gboolean
change_measurement (OgMeasurement *measurement,
                    guint          what)
{
  char **texts[] = { &measurement->id, &measurement->material_id, &measurement->date,
                     &measurement->lot, &measurement->note };
  double *numbers[] = { &measurement->reading.temperature_c, &measurement->reading.mpa_s,
                        &measurement->reading.shear_rate_1_s, &measurement->reading.density_g_ml,
                        &g_array_index (measurement->lines, OgPart, 0).pct };
  gboolean *flags[] = { &measurement->set_aside, &measurement->accepted };

  if (what < G_N_ELEMENTS (texts))
    {
      g_free (*texts[what]);
      *texts[what] = g_strdup ("changed");
      return TRUE;
    }
  what -= G_N_ELEMENTS (texts);
  if (what < G_N_ELEMENTS (numbers))
    {
      *numbers[what] = 77.25;
      return TRUE;
    }
  what -= G_N_ELEMENTS (numbers);
  if (what < G_N_ELEMENTS (flags))
    {
      *flags[what] = TRUE;
      return TRUE;
    }
  if (what > G_N_ELEMENTS (flags))
    return FALSE;
  measurement->extra = some_members ("changed");
  return TRUE;
}

/* Changes one thing of the recipe; FALSE when there is none left. */
static gboolean
change (OgFormula *formula,
        guint      what)
{
  OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  OgFormulaLine *line = g_ptr_array_index (phase->lines, 0);
  char **texts[] = { &formula->title, &formula->purpose, &formula->notes, &phase->name,
                     &phase->note, &line->ingredient_id, &line->note };
  double *numbers[] = { &formula->batch_g, &formula->target_low_mpa_s, &formula->target_high_mpa_s,
                        &phase->temperature_c, &line->add_temperature_c };
  guint *counts[] = { &phase->id, &line->id, &line->balance_share, (guint *) &line->held,
                      (guint *) &line->amount };
  JsonObject **extras[] = { &formula->extra, &phase->extra, &line->extra };

  if (what < G_N_ELEMENTS (texts))
    {
      g_free (*texts[what]);
      *texts[what] = g_strdup ("changed");
      return TRUE;
    }
  what -= G_N_ELEMENTS (texts);
  if (what < G_N_ELEMENTS (numbers))
    {
      *numbers[what] = 77.25;
      return TRUE;
    }
  what -= G_N_ELEMENTS (numbers);
  if (what < G_N_ELEMENTS (counts))
    {
      *counts[what] += 1;
      return TRUE;
    }
  what -= G_N_ELEMENTS (counts);
  if (what < G_N_ELEMENTS (extras))
    {
      g_clear_pointer (extras[what], json_object_unref);
      *extras[what] = some_members ("changed");
      return TRUE;
    }
  what -= G_N_ELEMENTS (extras);
  switch (what)
    {
    case 0:
      og_formula_move_line (formula, line->id, phase->id, 1);
      return TRUE;

    case 1:
      og_formula_remove_line (formula, line->id);
      return TRUE;

    case 2:
      og_formula_add_phase (formula, "One more", NAN, G_MAXUINT);
      return TRUE;

    case 3:
      g_ptr_array_add (formula->materials,
                       og_ingredient_ref ((gpointer) og_catalog_get (library, "castor-oil")));
      return TRUE;

    case 4:
      add_measurement (formula);
      return TRUE;

    case 5:
      g_ptr_array_set_size (formula->measurements, 0);
      return TRUE;

    default:
      return change_measurement (g_ptr_array_index (formula->measurements, 0), what - 6);
    }
}

static void
test_equal (void)
{
  g_autoptr (OgFormula) formula = three_lines (1, 2, 3);
  OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  guint what;

  formula->extra = some_members ("a");
  phase->extra = some_members ("b");
  line_at (formula, 0)->extra = some_members ("c");
  add_measurement (formula);
  for (what = 0; TRUE; what++)
    {
      g_autoptr (OgFormula) copy = og_formula_copy (formula);

      g_assert_true (og_formula_equal (formula, copy));
      if (!change (copy, what))
        break;
      g_assert_false (og_formula_equal (formula, copy));
      g_assert_false (og_formula_equal (copy, formula));
    }
  g_assert_cmpuint (what, ==, 39);
}

/* --- contents ------------------------------------------------------------ */

/* A material made of @parts, for instance "[{\"ingredient\": \"a\", \"pct\": 100}]". */
static OgIngredient *
mixture (const char *id,
         const char *parts)
{
  g_autofree char *text = NULL;
  g_autoptr (JsonNode) node = NULL;
  g_autoptr (GError) error = NULL;
  OgIngredient *ingredient;

  text = g_strdup_printf ("{ \"id\": \"%s\", \"name\": \"%s\", \"kind\": \"dispersion\", "
                          "\"roles\": [\"colour\"], \"uses\": [\"lip\"], \"tags\": [], "
                          "\"composition\": %s }", id, id, parts);
  node = json_from_string (text, &error);
  g_assert_no_error (error);
  ingredient = og_ingredient_new_from_json (json_node_get_object (node), NULL, NULL, &error);
  g_assert_no_error (error);
  return ingredient;
}

static OgFormula *
single (const char *id)
{
  OgFormula *formula = og_formula_new ();

  og_formula_add_line (formula, og_formula_add_phase (formula, "All", NAN, 0), id, OG_PPM_WHOLE, 0);
  return formula;
}

static void
test_nested_mixture (void)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (OgFormula) formula = single ("half");
  g_autoptr (OgCatalog) catalog = NULL;
  g_autoptr (GPtrArray) contents = NULL;

  g_ptr_array_add (own, mixture ("half",
                                 "[{\"ingredient\": \"red-iron-oxide-in-castor-oil\", "
                                 "\"pct\": 50}, "
                                 "{\"ingredient\": \"castor-oil\", \"pct\": 30}, "
                                 "{\"ingredient\": \"not-there\", \"pct\": 20}]"));
  catalog = og_catalog_new_overlay (library, own);
  contents = og_formula_contents (formula, catalog);
  g_assert_cmpuint (contents->len, ==, 3);
  assert_close (fraction_of (contents, "red-iron-oxide"), 0.25);
  assert_close (fraction_of (contents, "castor-oil"), 0.55);
  assert_close (fraction_of (contents, "not-there"), 0.2);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      g_assert_true (content->ingredient == og_catalog_get (catalog, content->ingredient_id));
    }
}

/* Two mixtures that hold each other must not run for ever, nor lose mass. */
static void
test_circular_mixture (void)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (OgFormula) formula = single ("ebb");
  g_autoptr (OgCatalog) catalog = NULL;
  g_autoptr (GPtrArray) contents = NULL;

  g_ptr_array_add (own, mixture ("ebb", "[{\"ingredient\": \"flood\", \"pct\": 60}, "
                                        "{\"ingredient\": \"castor-oil\", \"pct\": 40}]"));
  g_ptr_array_add (own, mixture ("flood", "[{\"ingredient\": \"ebb\", \"pct\": 50}, "
                                          "{\"ingredient\": \"castor-oil\", \"pct\": 50}]"));
  catalog = og_catalog_new_overlay (library, own);
  contents = og_formula_contents (formula, catalog);
  assert_close (fraction_of (contents, "castor-oil"), 0.7);
  assert_close (fraction_of (contents, "ebb"), 0.3);
  assert_close (sum_of (contents), 1);
}

/* Each mixture holds the one below twice: taken apart naively this would take 2^n steps. */
static void
test_deep_mixture (void)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (OgFormula) shallow = single ("m40");
  g_autoptr (OgFormula) deep = single ("m5000");
  g_autoptr (OgCatalog) catalog = NULL;
  g_autoptr (GPtrArray) contents = NULL;
  g_autoptr (GPtrArray) deep_contents = NULL;

  for (guint i = 1; i <= 5000; i++)
    {
      g_autofree char *id = g_strdup_printf ("m%u", i);
      g_autofree char *below = i == 1 ? g_strdup ("castor-oil") : g_strdup_printf ("m%u", i - 1);
      g_autofree char *parts = g_strdup_printf ("[{\"ingredient\": \"%s\", \"pct\": 50}, "
                                                "{\"ingredient\": \"%s\", \"pct\": 50}]",
                                                below, below);

      g_ptr_array_add (own, mixture (id, parts));
    }
  catalog = og_catalog_new_overlay (library, own);
  contents = og_formula_contents (shallow, catalog);
  g_assert_cmpuint (contents->len, ==, 1);
  assert_close (fraction_of (contents, "castor-oil"), 1);

  deep_contents = og_formula_contents (deep, catalog);
  assert_close (sum_of (deep_contents), 1);
}

/* --- properties ---------------------------------------------------------- */

static gint64
sum_fixed (GPtrArray *lines,
           gboolean   count_held)
{
  gint64 sum = 0;

  for (guint i = 0; i < lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (lines, i);

      if (count_held ? line->held || line->balance_share > 0 : line->balance_share == 0)
        sum += line->amount;
    }
  return sum;
}

static void
test_random_balance (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);
  guint n_whole = 0, n_over = 0;

  for (guint n = 0; n < N_RANDOM; n++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, n % 2 == 0 ? 40000 : 500000);
      g_autoptr (OgFormula) before = og_formula_copy (formula);
      g_autoptr (GPtrArray) lines = lines_of (formula);
      gint64 fixed = sum_fixed (lines, FALSE), total = og_formula_balance (formula), shares = 0;
      gint64 missing = MAX (OG_PPM_WHOLE - fixed, 0);

      for (guint i = 0; i < lines->len; i++)
        shares += ((OgFormulaLine *) g_ptr_array_index (lines, i))->balance_share;
      g_assert_cmpint (total, ==, og_formula_total (formula));
      if (shares == 0)
        {
          g_assert_true (og_formula_equal (formula, before));
          continue;
        }
      g_assert_cmpint (total, ==, MAX (fixed, OG_PPM_WHOLE));
      n_whole += total == OG_PPM_WHOLE;
      n_over += total > OG_PPM_WHOLE;
      for (guint i = 0; i < lines->len; i++)
        {
          const OgFormulaLine *line = g_ptr_array_index (lines, i);
          double exact = (double) missing * line->balance_share / (double) shares;

          if (line->balance_share > 0)
            g_assert_cmpfloat (fabs (line->amount - exact), <=, 1);
          else
            g_assert_cmpint (line->amount, ==, line_at (before, i)->amount);
        }
    }
  g_assert_cmpuint (n_whole, >, N_RANDOM / 3);
  g_assert_cmpuint (n_over, >, N_RANDOM / 10);
}

static void
test_random_normalise (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED + 1);
  guint n_done = 0, n_refused = 0;

  for (guint n = 0; n < N_RANDOM; n++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, n % 2 == 0 ? 100000 : OG_PPM_WHOLE);
      g_autoptr (OgFormula) before = og_formula_copy (formula);
      g_autoptr (GPtrArray) old = lines_of (before);
      g_autoptr (GPtrArray) lines = lines_of (formula);
      gint64 kept = sum_fixed (old, TRUE), free = og_formula_total (before) - kept;
      gboolean done = og_formula_normalise (formula);

      g_assert_cmpint (done, ==, free > 0 && kept <= OG_PPM_WHOLE);
      n_done += done;
      n_refused += !done;
      if (!done)
        {
          g_assert_true (og_formula_equal (formula, before));
          continue;
        }
      g_assert_cmpint (og_formula_total (formula), ==, OG_PPM_WHOLE);
      for (guint i = 0; i < lines->len; i++)
        {
          const OgFormulaLine *line = g_ptr_array_index (lines, i);
          const OgFormulaLine *was = g_ptr_array_index (old, i);
          double exact = (double) was->amount * (double) (OG_PPM_WHOLE - kept) / (double) free;

          if (was->held || was->balance_share > 0)
            g_assert_cmpint (line->amount, ==, was->amount);
          else
            g_assert_cmpfloat (fabs (line->amount - exact), <, 1);
        }
    }
  g_assert_cmpuint (n_done, >, N_RANDOM / 3);
  g_assert_cmpuint (n_refused, >, N_RANDOM / 10);
}

static void
shuffle (GRand     *rand,
         OgFormula *formula)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);

  for (guint i = 0; i < lines->len; i++)
    {
      guint target = (guint) g_rand_int_range (rand, 0, (gint32) formula->phases->len);
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, target);
      const OgFormulaLine *line = g_ptr_array_index (lines, i);

      og_formula_move_line (formula, line->id, phase->id, (guint) g_rand_int_range (rand, 0, 20));
    }
}

static void
test_random_contents (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED + 2);

  for (guint n = 0; n < N_RANDOM; n++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, OG_PPM_WHOLE);
      g_autoptr (OgFormula) other = og_formula_copy (formula);
      g_autoptr (GPtrArray) a = og_formula_contents (formula, library);
      g_autoptr (GPtrArray) b = NULL;

      shuffle (rand, other);
      b = og_formula_contents (other, library);
      g_assert_cmpuint (a->len, ==, b->len);
      for (guint i = 0; i < a->len; i++)
        {
          const OgContent *content = g_ptr_array_index (a, i);

          assert_close (content->fraction, fraction_of (b, content->ingredient_id));
        }
      g_assert_cmpfloat_with_epsilon (sum_of (a) * OG_PPM_WHOLE,
                                      (double) og_formula_total (formula), 1e-3);
    }
}

static void
move_there_and_back (GRand     *rand,
                     OgFormula *formula)
{
  g_autoptr (GPtrArray) lines = lines_of (formula);
  guint n_phases = formula->phases->len;
  OgFormulaPhase *home = NULL, *phase;
  guint position = 0;
  guint id;

  if (lines->len > 0)
    {
      position = (guint) g_rand_int_range (rand, 0, (gint32) lines->len);
      id = ((OgFormulaLine *) g_ptr_array_index (lines, position))->id;
      og_formula_find_line (formula, id, &home, &position);
      phase = g_ptr_array_index (formula->phases, g_rand_int_range (rand, 0, (gint32) n_phases));
      og_formula_move_line (formula, id, phase->id, (guint) g_rand_int_range (rand, 0, 20));
      og_formula_move_line (formula, id, home->id, position);
    }
  if (n_phases > 0)
    {
      position = (guint) g_rand_int_range (rand, 0, (gint32) n_phases);
      id = ((OgFormulaPhase *) g_ptr_array_index (formula->phases, position))->id;
      og_formula_move_phase (formula, id, (guint) g_rand_int_range (rand, 0, 10));
      og_formula_move_phase (formula, id, position);
    }
}

static void
test_random_moves (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED + 3);

  for (guint n = 0; n < N_RANDOM; n++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, OG_PPM_WHOLE);
      g_autoptr (OgFormula) copy = og_formula_copy (formula);

      g_assert_true (og_formula_equal (formula, copy));
      g_assert_cmpint (og_formula_total (formula), ==, og_formula_total (copy));
      move_there_and_back (rand, copy);
      g_assert_true (og_formula_equal (formula, copy));
    }
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  set_up_library ();
  g_test_add_func ("/formula/check-example", test_check_example);
  g_test_add_func ("/formula/balance", test_balance);
  g_test_add_func ("/formula/balance-remainder", test_balance_remainder);
  g_test_add_func ("/formula/normalise", test_normalise);
  g_test_add_func ("/formula/edits", test_edits);
  g_test_add_func ("/formula/equal", test_equal);
  g_test_add_func ("/formula/nested-mixture", test_nested_mixture);
  g_test_add_func ("/formula/circular-mixture", test_circular_mixture);
  g_test_add_func ("/formula/deep-mixture", test_deep_mixture);
  g_test_add_func ("/formula/random-balance", test_random_balance);
  g_test_add_func ("/formula/random-normalise", test_random_normalise);
  g_test_add_func ("/formula/random-contents", test_random_contents);
  g_test_add_func ("/formula/random-moves", test_random_moves);
  status = g_test_run ();
  og_catalog_unref (library);
  return status;
}
