/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/comparison.h"

#include <math.h>

#include "common/fixture.h"
#include "core/base/saying.h"
#include "core/design/changes.h"
#include "core/recipe/bench.h"
#include "core/recipe/versions.h"

#define HEADER FIXTURE_HEADER
#define NOW HEADER "Hot,castor-oil,60\nHot,polyamide-3,2\nCool,sunflower-oil,37.5\nLast,tocopherol,0.5\n"

static OgCatalog *catalog;

static OgFormula *
recipe (const char *table)
{
  return fixture_recipe (table, catalog);
}

static void
keep (OgFormula  *now,
      const char *name,
      OgFormula  *formula)
{
  GDate date;

  g_date_set_dmy (&date, 1, 5, 2026);
  g_ptr_array_add (now->versions, og_version_new (name, "", &date, formula));
}

/* The first trial had less agent, and no tocopherol yet; the second squalane for sunflower oil. */
static OgFormula *
with_versions (void)
{
  OgFormula *now = recipe (NOW);
  OgFormula *first = og_formula_copy (now);
  OgFormula *second = og_formula_copy (now);

  og_formula_find_ingredient (first, "polyamide-3")->amount = 15000;
  og_formula_find_ingredient (first, "castor-oil")->amount = 610000;
  og_formula_remove_line (first, og_formula_find_ingredient (first, "tocopherol")->id);
  keep (now, "First", first);
  g_free (og_formula_find_ingredient (second, "sunflower-oil")->ingredient_id);
  ((OgFormulaLine *) ((OgFormulaPhase *) second->phases->pdata[1])->lines->pdata[0])->ingredient_id
    = g_strdup ("squalane");
  keep (now, "Second", second);
  return now;
}

static const OgCompared *
get (const OgComparison *comparison,
     guint               index)
{
  return g_ptr_array_index (comparison->recipes, index);
}

static const OgEffect *
find_effect (const GPtrArray *effects,
             OgEffectKind     kind)
{
  for (guint i = 0; i < effects->len; i++)
    if (((OgEffect *) g_ptr_array_index (effects, i))->kind == kind)
      return g_ptr_array_index (effects, i);
  g_assert_not_reached ();
}

/*
 * Independent errors add in squares; those of an agent that both share cancel, so that the band of the
 * ratio is narrower than two bands divided. The ratio itself is the quotient of the values.
 */
static void
test_ratios (void)
{
  static const char *const names[] = { "First", "Second", NULL };
  static const OgEffectKind kinds[] = { OG_EFFECT_REST, OG_EFFECT_POURED, OG_EFFECT_RUBBED };
  g_autoptr (OgFormula) now = with_versions ();
  g_autoptr (OgComparison) comparison = og_comparison_of_versions (now, catalog, "Now", names, NULL);
  const OgResult *own = get (comparison, 0)->result;

  g_assert_cmpuint (comparison->recipes->len, ==, 3);
  g_assert_cmpstr (get (comparison, 1)->name, ==, "First");
  for (guint s = 0; s < OG_COMPARISON_STATES; s++)
    g_assert_cmpfloat (get (comparison, 0)->ratios[s].high80, ==, 1);
  for (guint i = 1; i < 3; i++)
    {
      const OgCompared *version = get (comparison, i);
      const OgEstimate *ratio = &version->ratios[OG_COMPARISON_POUR];
      const double width = log (ratio->high80 / ratio->low80);
      const double apart = hypot (log (own->pour.high80 / own->pour.low80),
                                  log (version->result->pour.high80 / version->result->pour.low80));

      assert_within (ratio->value, version->result->pour.value / own->pour.value, 1e-6);
      g_assert_cmpfloat (width, >, 0);
      g_assert_cmpfloat (width, <, 0.7 * apart);
      for (guint s = 0; s < OG_COMPARISON_STATES; s++)
        g_assert_cmpfloat (version->ratios[s].low80, ==,
                           find_effect (version->effects, kinds[s])->ratio.low80);
    }
  /* less of the agent is thinner */
  g_assert_cmpfloat (get (comparison, 1)->ratios[OG_COMPARISON_POUR].high80, <, 1);
}

static const OgComparedLine *
find_line (const OgComparison *comparison,
           const char         *id)
{
  for (guint i = 0; i < comparison->lines->len; i++)
    if (g_str_equal (((OgComparedLine *) comparison->lines->pdata[i])->ingredient_id, id))
      return comparison->lines->pdata[i];
  g_assert_not_reached ();
}

static void
test_lines (void)
{
  static const char *const names[] = { "Second", "nobody kept this", "First", NULL };
  static const struct
  {
    const char  *id;
    OgLineChange second, first;
  } expected[] = {
    { "castor-oil", OG_LINE_SAME, OG_LINE_MORE },
    { "polyamide-3", OG_LINE_SAME, OG_LINE_LESS },
    { "sunflower-oil", OG_LINE_LOST, OG_LINE_SAME },
    { "tocopherol", OG_LINE_SAME, OG_LINE_LOST },
    { "squalane", OG_LINE_GAINED, OG_LINE_ABSENT },
  };
  g_autoptr (OgFormula) now = with_versions ();
  g_autoptr (OgComparison) comparison = og_comparison_of_versions (now, catalog, "Now", names, NULL);

  g_assert_cmpuint (comparison->recipes->len, ==, 3);
  g_assert_cmpuint (comparison->lines->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < G_N_ELEMENTS (expected); i++)
    {
      const OgComparedLine *line = find_line (comparison, expected[i].id);

      g_assert_true (comparison->lines->pdata[i] == line);
      g_assert_cmpint (line->changes[1], ==, expected[i].second);
      g_assert_cmpint (line->changes[2], ==, expected[i].first);
    }
  g_assert_cmpint (find_line (comparison, "castor-oil")->amounts[2], ==, 610000);
}

static void
assert_words (const GPtrArray   *words,
              const char *const *expected)
{
  for (guint i = 0; i < words->len; i++)
    g_assert_cmpstr (og_saying_text (words->pdata[i]), ==, expected[i]);
  g_assert_null (expected[words->len]);
}

static void
test_words (void)
{
  static const char *const names[] = { "First", "Second", NULL };
  g_autoptr (OgFormula) now = with_versions ();
  g_autoptr (OgComparison) comparison = og_comparison_of_versions (now, catalog, "Now", names, NULL);

  g_assert_cmpuint (get (comparison, 0)->changes->len, ==, 0);
  assert_words (get (comparison, 1)->changes,
                (const char *const[]) { "Castor oil: more, 61 % instead of 60 %.",
                                        "Polyamide-3: less, 1.5 % instead of 2 %.",
                                        "Tocopherol is gone; it was 0.5 %.", NULL });
  assert_words (get (comparison, 2)->changes,
                (const char *const[]) { "Squalane (37.5 %) stands in for Sunflower oil (37.5 %).",
                                        NULL });
}

/* Recipes of two files: ids mean nothing there. */
static void
test_words_of_strangers (void)
{
  g_autoptr (OgFormula) before = recipe (HEADER "A,castor-oil,60\nA,squalane,40\n");
  g_autoptr (OgFormula) after = recipe (HEADER "A,olive-oil,10\nA,castor-oil,60\nB,squalane,30\n");
  g_autoptr (GPtrArray) words = NULL;

  after->batch_g = 250;
  after->target_low_mpa_s = 300;
  after->target_high_mpa_s = 900;
  ((OgFormulaPhase *) after->phases->pdata[1])->temperature_c = 45;
  words = og_changes_in_words (before, after, catalog, catalog, FALSE);
  assert_words (words, (const char *const[]) { "Olive oil is new: 10 %.",
                                               "Squalane: less, 30 % instead of 40 %.",
                                               "Squalane: now in the phase “B”.",
                                               "The phase “B” is new.",
                                               "The batch is 250 g instead of 100 g.",
                                               "Wanted are 300 to 900 mPa·s.", NULL });
}

/* Every member that a version keeps is told, and nothing is told of one that is the same. */
static void
test_words_of_the_rest (void)
{
  g_autoptr (OgFormula) before = recipe (NOW);
  g_autoptr (OgFormula) after = og_formula_copy (before);
  g_autoptr (GPtrArray) none = og_changes_in_words (before, after, catalog, catalog, TRUE);
  g_autoptr (GPtrArray) words = NULL;

  g_assert_cmpuint (none->len, ==, 0);
  g_free (after->title);
  after->title = g_strdup ("Other");
  g_free (after->notes);
  after->notes = g_strdup ("Stirred longer.");
  after->product = OG_PRODUCT_BODY;
  after->package.nominal = 7;
  after->open_months = 12;
  after->body_bounds.from[OG_BODY_BOUND_THIN] = 40;
  g_ptr_array_add (after->costs, og_cost_line_new ("tube", 0.2, "EUR", (OgCostBasis) 0));
  words = og_changes_in_words (before, after, catalog, catalog, TRUE);
  g_assert_cmpuint (words->len, ==, 7);
}

static void
test_trials (void)
{
  static const char *const names[] = { "First", NULL };
  g_autoptr (OgFormula) now = with_versions ();
  g_autoptr (OgComparison) unread = og_comparison_of_versions (now, catalog, "Now", names, NULL);
  g_autoptr (OgComparison) read = NULL;
  OgMeasurement *reading = og_measurement_new ();

  g_free (reading->id);
  reading->id = g_strdup ("m1");
  og_measurement_set_recipe (reading, ((OgVersion *) now->versions->pdata[0])->recipe);
  reading->reading.method = OG_METHOD_ROTATIONAL;
  reading->reading.temperature_c = 25;
  reading->reading.mpa_s = get (unread, 1)->result->pour.value * 1.3;
  reading->reading.shear_rate_1_s = 10;
  g_assert_true (og_reading_reduce (&reading->reading, NAN, &reading->reduced, NULL));
  g_ptr_array_add (now->measurements, reading);
  read = og_comparison_of_versions (now, catalog, "Now", names, NULL);
  g_assert_cmpuint (get (read, 0)->trials->len, ==, 0);
  g_assert_cmpuint (get (read, 1)->trials->len, ==, 1);
  g_assert_cmpstr (((OgMeasurement *) get (read, 1)->trials->pdata[0])->id, ==, "m1");

  /* what was read of one version is learned for the other too */
  g_assert_cmpfloat (get (read, 0)->result->pour.value, >, get (unread, 0)->result->pour.value);
  g_assert_cmpfloat (get (read, 1)->result->pour.high80 / get (read, 1)->result->pour.low80, <,
                     get (unread, 1)->result->pour.high80 / get (unread, 1)->result->pour.low80);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/comparison/ratios", test_ratios);
  g_test_add_func ("/comparison/lines", test_lines);
  g_test_add_func ("/comparison/words", test_words);
  g_test_add_func ("/comparison/words-of-strangers", test_words_of_strangers);
  g_test_add_func ("/comparison/words-of-the-rest", test_words_of_the_rest);
  g_test_add_func ("/comparison/trials", test_trials);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
