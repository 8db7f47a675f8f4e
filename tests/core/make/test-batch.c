/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/make/batch.h"

#include <math.h>
#include <string.h>

#include "common/csv.h"
#include "common/fixture.h"
#include "common/random-recipe.h"
#include "core/base/error.h"

static OgCatalog *catalog;

static OgBatchPlan *
plan_with (OgFormula            *formula,
           const OgBatchOptions *options)
{
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  g_autoptr (GError) error = NULL;
  OgBatchPlan *batch = og_batch_plan_new (formula, result, options, &error);

  g_assert_no_error (error);
  return batch;
}

static gboolean
has_finding (const OgBatchPlan *batch,
             const char        *code)
{
  for (guint i = 0; i < batch->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (batch->findings, i);

      /* no limit of law is spoken of: unknown, not 0 */
      g_assert_true (isnan (finding->amount_pct) && isnan (finding->limit_pct));
      if (strcmp (finding->code, code) == 0)
        return TRUE;
    }
  return FALSE;
}

static const OgBatchWeighing *
line_at (const OgBatchPlan *batch,
         guint              index)
{
  return g_ptr_array_index (batch->lines, index);
}

/* --- sizes --------------------------------------------------------------- */

static void
test_by_mass (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgBatchPlan) batch = NULL;
  OgBatchOptions options;

  og_batch_options_init (&options, formula);
  options.amount = 250;
  options.loss_g = 3;
  options.loss_pct = 2;
  batch = plan_with (formula, &options);
  g_assert_cmpfloat (batch->batch_g, ==, 250);
  g_assert_cmpfloat_with_epsilon (batch->lost_g, 3 + 5, 1e-9);
  g_assert_cmpfloat_with_epsilon (batch->fillable_g, 242, 1e-9);
  g_assert_cmpuint (batch->n_containers, ==, 0);
  g_assert_true (isnan (batch->content_g));
  g_assert_cmpfloat_with_epsilon (batch->rounded_g, 250, 1e-9);
  g_assert_cmpfloat_with_epsilon (line_at (batch, 0)->weighing.exact_g, 157.5, 1e-9);
  g_assert_cmpuint (batch->lines->len, ==, 5);
}

/* Containers and losses, then the same batch by mass gives the same containers back. */
static void
test_by_containers (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (71);
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);

  for (guint i = 0; i < 50; i++)
    {
      g_autoptr (OgBatchPlan) batch = NULL;
      g_autoptr (OgBatchPlan) again = NULL;
      OgBatchOptions options;
      guint n = (guint) g_rand_int_range (rand, 1, 400);

      formula->package.nominal = g_rand_double_range (rand, 3, 200);
      formula->package.unit = g_rand_boolean (rand) ? OG_NET_G : OG_NET_ML;
      og_batch_options_init (&options, formula);
      options.aim = OG_BATCH_CONTAINERS;
      options.amount = n;
      options.loss_g = g_rand_double_range (rand, 0, 20);
      options.loss_pct = g_rand_double_range (rand, 0, 20);
      options.overfill_pct = g_rand_double_range (rand, 0, 5);
      batch = plan_with (formula, &options);
      g_assert_cmpuint (batch->n_containers, ==, n);
      g_assert_cmpfloat_with_epsilon (batch->left_g, 0, 1e-6);
      g_assert_cmpfloat_with_epsilon (batch->batch_g, batch->lost_g + n * batch->content_g, 1e-6);
      options.aim = OG_BATCH_GRAMS;
      options.amount = batch->batch_g;
      again = plan_with (formula, &options);
      g_assert_cmpuint (again->n_containers, ==, n);
    }
}

static void
test_by_volume (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgBatchPlan) batch = NULL;
  OgBatchOptions options;

  og_batch_options_init (&options, formula);
  options.aim = OG_BATCH_ML;
  options.amount = 100;
  batch = plan_with (formula, &options);
  g_assert_cmpfloat_with_epsilon (batch->batch_g, 100 * batch->density_20_g_ml, 1e-9);
  /* castor about 0.96, sunflower about 0.92 g/ml at 20 °C (handbooks) */
  g_assert_cmpfloat (batch->density_20_g_ml, >, 0.93);
  g_assert_cmpfloat (batch->density_20_g_ml, <, 0.97);
}

/* --- hot filling --------------------------------------------------------- */

static const struct
{
  const char *name;
  const char *id;
} named[] = {
  { "castor oil", "castor-oil" },          { "corn oil", "corn-oil" },
  { "soybean oil", "soybean-oil" },        { "coconut oil", "coconut-oil" },
  { "cotton seed oil", "cottonseed-oil" }, { "rapeseed oil", "rapeseed-oil-high-erucic" },
  { "crambe oil", "abyssinian-oil" },
};

static const char *
id_of (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (named); i++)
    if (strcmp (name, named[i].name) == 0)
      return named[i].id;
  return NULL;
}

static double
fill_ratio (const char *id,
            double      from_c,
            double      to_c)
{
  g_autofree char *table = g_strdup_printf (FIXTURE_HEADER "A,%s,100\n", id);
  g_autoptr (OgFormula) formula = fixture_recipe (table, catalog);
  g_autoptr (OgBatchPlan) cool = NULL;
  g_autoptr (OgBatchPlan) hot = NULL;
  OgBatchOptions options;

  formula->package.nominal = 10;
  og_batch_options_init (&options, formula);
  options.fill_c = from_c;
  cool = plan_with (formula, &options);
  options.fill_c = to_c;
  hot = plan_with (formula, &options);
  return hot->fill_ml / cool->fill_ml;
}

/* Measured densities of one sample at two temperatures (Noureddini et al. 1992 and others, see
 * tests/data/SOURCES.md) give the same growth of the volume within 0.5 %. */
static void
test_hot_volume (void)
{
  g_autofree char *folder = g_test_build_filename (G_TEST_DIST, "data", NULL);
  g_autoptr (CsvTable) series = csv_table_load (folder, "density_series.csv");
  guint compared = 0;

  for (guint i = 0; i + 1 < csv_table_len (series); i++)
    {
      const char *id = id_of (csv_table_text (series, i, "oil"));
      double from_c = csv_table_number (series, i, "temperature_c");
      double to_c = csv_table_number (series, i + 1, "temperature_c");

      if (id == NULL || to_c < from_c + 5 || to_c > 120
          || strcmp (csv_table_text (series, i, "id"), csv_table_text (series, i + 1, "id")) != 0
          || csv_table_text (series, i, "note")[0] != '\0'
          || csv_table_text (series, i + 1, "note")[0] != '\0')
        continue;
      assert_within (fill_ratio (id, from_c, to_c),
                     csv_table_number (series, i, "density_g_ml")
                       / csv_table_number (series, i + 1, "density_g_ml"),
                     0.005);
      compared++;
    }
  g_test_message ("%u pairs of densities", compared);
  g_assert_cmpuint (compared, >=, 20);
}

/* --- containers ---------------------------------------------------------- */

/* By hand: 10 ml at 20 °C and 0.0007/K about 10.04 ml at 25 °C and 10.15 ml at 40 °C beside 1 ml of
 * wand: 12 ml hold it, 11.1 ml only at 25 °C, 11 ml not at all. */
static void
test_fit (void)
{
  static const struct
  {
    double   capacity_ml;
    gboolean at_25, at_40;
  } containers[] = { { 12, TRUE, TRUE }, { 11.1, TRUE, FALSE }, { 11, FALSE, FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (containers); i++)
    {
      g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
      g_autoptr (OgBatchPlan) batch = NULL;
      OgBatchOptions options;

      formula->package = (OgPackage) { 10, OG_NET_ML, containers[i].capacity_ml, 1 };
      og_batch_options_init (&options, formula);
      batch = plan_with (formula, &options);
      g_assert_cmpfloat_with_epsilon (batch->fit[0].content_ml, 10.04, 0.02);
      g_assert_cmpfloat_with_epsilon (batch->fit[1].content_ml, 10.15, 0.03);
      g_assert_cmpint (batch->fit[0].free_ml > 0, ==, containers[i].at_25);
      g_assert_cmpint (batch->fit[1].free_ml > 0, ==, containers[i].at_40);
      g_assert_cmpint (has_finding (batch, "batch-overflow"), ==, !containers[i].at_40);
    }
}

static void
test_net_content (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgBatchPlan) ten = NULL;
  g_autoptr (OgBatchPlan) four = NULL;
  OgBatchOptions options;

  formula->package.nominal = 10;
  og_batch_options_init (&options, formula);
  ten = plan_with (formula, &options);
  formula->package.nominal = 4;
  four = plan_with (formula, &options);
  g_assert_cmpfloat_with_epsilon (ten->limits.t1, 9.1, 1e-9);
  g_assert_true (isnan (four->limits.t1));
  g_assert_true (has_finding (four, "batch-net-content"));
  g_assert_false (has_finding (ten, "batch-net-content"));
}

/* --- weighing ------------------------------------------------------------ */

static void
test_rounding (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (GPtrArray) coarse = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (GPtrArray) fine = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (OgBatchPlan) rough = NULL;
  g_autoptr (OgBatchPlan) exact = NULL;
  OgBatchOptions options;

  g_ptr_array_add (coarse, og_balance_new ("kitchen", 1, NAN, 5000));
  g_ptr_array_add (fine, og_balance_new ("fine", 0.001, NAN, 500));
  og_batch_options_init (&options, formula);
  options.balances = coarse;
  rough = plan_with (formula, &options);
  options.balances = fine;
  exact = plan_with (formula, &options);

  /* 63, 1.5, 34, 0.5, 1 g on whole grams: 2, 1 and 1 are nearest, and the castor oil makes up the sum with 62 */
  g_assert_cmpfloat (rough->rounded_g, ==, 100);
  g_assert_cmpfloat (line_at (rough, 0)->weighing.rounded_g, ==, 62);
  g_assert_cmpfloat (line_at (rough, 1)->weighing.rounded_g, ==, 2);
  g_assert_cmpfloat (line_at (rough, 3)->weighing.rounded_g, ==, 1);
  g_assert_true (has_finding (rough, "batch-weighing-small"));
  /* a third more gelling agent pours thicker */
  g_assert_cmpfloat (rough->pour_rounded.value, >, 1.02 * rough->pour_exact.value);
  g_assert_true (has_finding (rough, "batch-rounding"));
  assert_within (exact->pour_rounded.value, exact->pour_exact.value, 1e-6);
  g_assert_false (has_finding (exact, "batch-rounding"));
  g_assert_false (has_finding (exact, "batch-weighing-small"));
}

/* 0.3 g of the colour is less than half a digit of whole grams. */
static void
test_not_weighable (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (GPtrArray) balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (OgBatchPlan) batch = NULL;
  OgBatchOptions options;

  g_ptr_array_add (balances, og_balance_new ("kitchen", 1, NAN, 5000));
  og_batch_options_init (&options, formula);
  options.amount = 60;
  options.balances = balances;
  batch = plan_with (formula, &options);
  g_assert_cmpfloat (line_at (batch, 3)->weighing.rounded_g, ==, 0);
  g_assert_true (has_finding (batch, "batch-not-weighable"));
}

/* What is proposed is held to the plan itself: the larger batch and the finer balance do. */
static void
test_remedies_do (void)
{
  static const double readabilities_g[] = { 0.1, 0.01, 0.5 };
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);

  for (guint i = 0; i < G_N_ELEMENTS (readabilities_g); i++)
    {
      g_autoptr (GPtrArray) balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
      g_autoptr (OgBatchPlan) batch = NULL;
      OgBatchOptions options;

      g_ptr_array_add (balances, og_balance_new ("bench", readabilities_g[i], NAN, 1e5));
      og_batch_options_init (&options, formula);
      options.amount = 20.7;
      options.balances = balances;
      batch = plan_with (formula, &options);
      for (guint j = 0; j < batch->lines->len; j++)
        {
          const OgBatchWeighing *line = line_at (batch, j);
          g_autoptr (OgBatchPlan) larger = NULL;
          g_autoptr (OgBatchPlan) finer = NULL;

          if (!line->weighing.too_small)
            continue;
          options.amount = line->batch_needed_g;
          larger = plan_with (formula, &options);
          g_assert_false (line_at (larger, j)->weighing.too_small);
          options.amount = 20.7;
          g_ptr_array_add (balances, og_balance_new ("finer", line->readability_needed_g, NAN, 1e5));
          finer = plan_with (formula, &options);
          g_assert_false (line_at (finer, j)->weighing.too_small);
          g_ptr_array_set_size (balances, 1);
        }
    }
}

/* The bench recipe: 20 g on a balance of 0.1 g. A premix is the remedy for 0.1 g of a colour, and what it takes and
 * leaves out adds up: 1 g in 9 g of carrier, of which 1 g is taken with 0.9 g of carrier in it. */
static void
test_premix_of_the_bench (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (GPtrArray) balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (OgBatchPlan) batch = NULL;
  const OgBatchWeighing *colour;
  OgBatchOptions options;

  g_ptr_array_add (balances, og_balance_new ("kitchen", 0.1, NAN, 500));
  og_batch_options_init (&options, formula);
  options.amount = 20;
  options.balances = balances;
  batch = plan_with (formula, &options);
  colour = line_at (batch, 3);
  g_assert_cmpfloat (colour->weighing.exact_g, ==, 0.1);
  g_assert_true (colour->has_premix);
  g_assert_cmpfloat_with_epsilon (colour->premix.material_g, 1.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (colour->premix.carrier_g, 9.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (colour->premix.take_g, 1.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (colour->premix.carrier_in_it_g, 0.9, 1e-9);
}

/* A thickener that moves the body much is weighed closer than one that hardly does. */
static void
test_tolerance_follows_the_body (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, 0);
  const OgFormulaLine *agent = g_ptr_array_index (phase->lines, 1);
  g_autoptr (OgFormula) changed = og_formula_copy (formula);
  OgFormulaLine *more = og_formula_find_line (changed, agent->id, NULL, NULL);
  OgFormulaLine *oil = og_formula_find_line (changed, ((OgFormulaLine *) g_ptr_array_index (phase->lines, 0))->id,
                                             NULL, NULL);
  const OgTolerance tolerance = og_tolerance_find (formula, result, agent);
  const OgPpm step = (OgPpm) llround ((double) agent->amount * tolerance.pct / 100.0);
  g_autoptr (OgResult) again = NULL;

  g_assert_cmpint (tolerance.reason, ==, OG_TOLERANCE_BODY);
  more->amount += step;
  oil->amount -= step;
  again = og_evaluate (changed, catalog, NULL);
  g_assert_cmpfloat (fabs (log (again->pour.value / result->pour.value)), <, 0.13);
}

static void
test_remedies (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (GPtrArray) balances = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
  g_autoptr (OgBatchPlan) batch = NULL;
  const OgBatchWeighing *saver;
  OgBatchOptions options;

  g_ptr_array_add (balances, og_balance_new ("bench", 0.01, NAN, 500));
  og_batch_options_init (&options, formula);
  options.amount = 20;
  options.balances = balances;
  batch = plan_with (formula, &options);
  saver = line_at (batch, 4);
  /* 0.2 g of tocopherol: half a digit is 2.5 % of it, which is enough for what it does */
  g_assert_false (saver->weighing.too_small);
  g_assert_cmpfloat_with_epsilon (saver->weighing.error_pct, 2.5, 1e-9);
  g_assert_false (line_at (batch, 0)->weighing.too_small);
  g_assert_true (isnan (line_at (batch, 0)->batch_needed_g));

  /* on 0.1 g it is 25 % instead of 10 %: with as much for rounding 1 g is needed, five times the batch */
  g_ptr_array_set_size (balances, 0);
  g_ptr_array_add (balances, og_balance_new ("kitchen", 0.1, NAN, 5000));
  g_clear_pointer (&batch, og_batch_plan_free);
  batch = plan_with (formula, &options);
  saver = line_at (batch, 4);
  g_assert_true (saver->weighing.too_small);
  g_assert_cmpfloat_with_epsilon (saver->weighing.error_pct, 25, 1e-9);
  g_assert_cmpfloat_with_epsilon (saver->batch_needed_g, 100, 1e-9);
  g_assert_cmpfloat_with_epsilon (saver->readability_needed_g, 0.01, 1e-12);
  g_assert_true (saver->has_premix);
  g_assert_cmpstr (saver->carrier_name, ==, line_at (batch, 0)->name);
  g_assert_cmpfloat (saver->premix.error_pct, <=, 10 + 1e-9);

  /* 0.3 g of a gelling agent, which no cold oil dissolves (common practice, no source) */
  g_assert_cmpstr (line_at (batch, 1)->ingredient_id, ==, "polyamide-3");
  g_assert_true (line_at (batch, 1)->weighing.too_small);
  g_assert_false (line_at (batch, 1)->has_premix);
}

static void
test_refusals (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgResult) result = og_evaluate (formula, catalog, NULL);
  g_autoptr (GError) error = NULL;
  OgBatchOptions options;

  og_batch_options_init (&options, formula);
  options.aim = OG_BATCH_CONTAINERS;
  g_assert_null (og_batch_plan_new (formula, result, &options, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_PACKAGE);
  g_clear_error (&error);

  options.amount = 2.5;
  g_assert_null (og_batch_plan_new (formula, result, &options, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_VALUE);
  g_clear_error (&error);
  options.amount = NAN;
  g_assert_null (og_batch_plan_new (formula, result, &options, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_VALUE);
  g_clear_error (&error);

  options.amount = 10;
  options.loss_pct = 100;
  g_assert_null (og_batch_plan_new (formula, result, &options, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_VALUE);
  g_clear_error (&error);

  og_batch_options_init (&options, formula);
  og_formula_find_ingredient (formula, "castor-oil")->amount -= 1;
  g_assert_null (og_batch_plan_new (formula, result, &options, &error));
  g_assert_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_RECIPE);
}

/* Any recipe of 100 %, any balances: the batch is planned, its weighings make it up, and what it
 * costs is the sum of its items. */
static void
test_any_recipe (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (101);
  guint planned = 0;

  for (guint i = 0; i < 300; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, 200000);
      g_autoptr (GPtrArray) balances
          = g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
      g_autoptr (OgBatchPlan) batch = NULL;
      OgBatchOptions options;
      double sum = 0;

      if (!og_formula_normalise (formula))
        continue;
      planned++;
      g_ptr_array_add (balances, og_balance_new ("fine", 0.001, NAN, 200));
      g_ptr_array_add (balances, og_balance_new ("bench", 0.1, 0.1, 5000));
      og_batch_options_init (&options, formula);
      options.balances = balances;
      batch = plan_with (formula, &options);
      for (guint j = 0; j < batch->lines->len; j++)
        sum += line_at (batch, j)->weighing.rounded_g;
      g_assert_cmpfloat_with_epsilon (sum, batch->rounded_g, 1e-9 * (1 + sum));
      g_assert_cmpfloat_with_epsilon (batch->rounded_g, batch->batch_g, 0.0505 + 1e-9 * sum);
    }
  g_assert_cmpuint (planned, >, 30);
}

static void
test_all_lost (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgBatchPlan) batch = NULL;
  OgBatchOptions options;

  og_batch_options_init (&options, formula);
  options.amount = 5;
  options.loss_g = 6;
  batch = plan_with (formula, &options);
  g_assert_cmpfloat (batch->fillable_g, ==, 0);
  g_assert_true (has_finding (batch, "batch-all-lost"));
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/batch/by-mass", test_by_mass);
  g_test_add_func ("/batch/by-containers", test_by_containers);
  g_test_add_func ("/batch/by-volume", test_by_volume);
  g_test_add_func ("/batch/hot-volume", test_hot_volume);
  g_test_add_func ("/batch/fit", test_fit);
  g_test_add_func ("/batch/net-content", test_net_content);
  g_test_add_func ("/batch/rounding", test_rounding);
  g_test_add_func ("/batch/not-weighable", test_not_weighable);
  g_test_add_func ("/batch/remedies-do", test_remedies_do);
  g_test_add_func ("/batch/premix-of-the-bench", test_premix_of_the_bench);
  g_test_add_func ("/batch/tolerance-follows-the-body", test_tolerance_follows_the_body);
  g_test_add_func ("/batch/remedies", test_remedies);
  g_test_add_func ("/batch/refusals", test_refusals);
  g_test_add_func ("/batch/any-recipe", test_any_recipe);
  g_test_add_func ("/batch/all-lost", test_all_lost);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
