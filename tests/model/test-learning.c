/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "helpers.h"

#define Q80 1.2816 /* an 80 % band reaches this many standard deviations to each side */

static OgDocument *
castor_document (void)
{
  OgDocument *document = test_document ();

  og_document_add_line (document, "castor-oil", 0, 0);
  og_document_set_line_ppm (document,
                            og_document_add_line (document, "jojoba-oil", 0, G_MAXUINT), 100000);
  og_document_mark_saved (document);

  return document;
}

static OgBenchStore *
store_in (GFile *folder)
{
  g_autoptr (GFile) file = g_file_get_child (folder, OG_BENCH_STORE_NAME);

  return og_bench_store_new (file);
}

static void
must_store (OgBenchStore  *store,
            OgMeasurement *measurement)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (og_bench_store_add (store, measurement, &error));
  g_assert_no_error (error);
}

static OgEstimate
poured (OgDocument *document)
{
  return og_document_get_result (document)->pour;
}

static double
ln_sd (const OgEstimate *estimate)
{
  return log (estimate->high80 / estimate->low80) / (2 * Q80);
}

static void
assert_same (const OgEstimate *a,
             const OgEstimate *b)
{
  g_assert_cmpfloat (a->value, ==, b->value);
  g_assert_cmpfloat (a->low80, ==, b->low80);
  g_assert_cmpfloat (a->high80, ==, b->high80);
}

static void
test_nothing_measured (void)
{
  OgDocument *document = castor_document ();
  const OgResult *result = og_document_get_result (document);

  g_assert_null (og_document_get_belief (document));
  g_assert_null (og_document_find_lesson (document, FALSE, "m1"));
  g_assert_null (result->belief);
  assert_same (&result->prior_pour, &result->pour);
  g_assert_null (result->curves[OG_CURVE_TEMPERATURE_C].prior_low80);
  g_object_unref (document);
}

/*
 * One reading of what is predicted: the conjugate update of a normal mean (Gelman et al., Bayesian
 * Data Analysis, section 2.5; recalled), in the logarithm.
 */
static void
test_prior_and_posterior (void)
{
  OgDocument *document = castor_document ();
  const OgEstimate before = poured (document);
  const OgResult *result;
  const OgMeasurement *reading;
  double prior_var, reading_var, expected;

  og_document_add_measurement (document, test_recipe_reading (document, 1.1 * before.value));
  result = og_document_get_result (document);
  reading = g_ptr_array_index (og_document_get_formula (document)->measurements, 0);
  assert_same (&result->prior_pour, &before);
  g_assert_true (result->belief == og_document_get_belief (document));
  g_assert_nonnull (result->curves[OG_CURVE_TEMPERATURE_C].prior_low80);

  prior_var = pow (ln_sd (&before), 2);
  reading_var = pow (reading->reduced.ln_sd, 2);
  expected = log (1.1) * prior_var / (prior_var + reading_var);
  g_assert_cmpfloat_with_epsilon (log (result->pour.value / before.value), expected, 0.005);
  expected = sqrt (prior_var * reading_var / (prior_var + reading_var));
  g_assert_cmpfloat_with_epsilon (ln_sd (&result->pour), expected, 0.005);

  g_assert_cmpuint (result->marks->len, ==, 1);
  g_assert_true (og_document_find_lesson (document, FALSE, "m1")->used);

  og_document_set_measurement_aside (document, "m1", TRUE);
  g_assert_false (og_document_find_lesson (document, FALSE, "m1")->used);
  result = og_document_get_result (document);
  g_assert_cmpfloat_with_epsilon (result->pour.value, before.value, 1e-9 * before.value);

  og_document_undo (document);
  og_document_undo (document);
  result = og_document_get_result (document);
  assert_same (&result->pour, &before);
  g_assert_null (og_document_get_belief (document));
  g_object_unref (document);
}

/* Learned once, and again only from something else. */
static void
test_kept (void)
{
  OgDocument *document = castor_document ();
  g_autoptr (OgIngredient) material = test_own_material ("own-one", "Quay oil");
  const guint line = og_formula_find_ingredient (og_document_get_formula (document),
                                                 "jojoba-oil")->id;
  g_autoptr (OgBelief) first = NULL;
  g_autoptr (OgBelief) second = NULL;
  g_autoptr (OgBelief) third = NULL;

  og_document_add_measurement (document, test_reading ("castor-oil", 700));
  first = og_belief_ref (og_document_get_belief (document));
  g_assert_true (og_document_get_result (document)->belief == first);

  og_document_set_title (document, "T");
  og_document_set_line_ppm (document, line, 200000);
  g_assert_true (og_document_get_result (document)->belief == first);
  og_document_undo (document);
  g_assert_true (og_document_get_belief (document) == first);

  og_document_add_measurement (document, test_reading ("jojoba-oil", 35));
  second = og_belief_ref (og_document_get_belief (document));
  g_assert_true (second != first);
  g_assert_cmpuint (og_belief_get_lessons (second)->len, ==, 2);

  og_document_put_material (document, material);
  third = og_belief_ref (og_document_get_belief (document));
  g_assert_true (third != second);
  g_assert_true (og_document_get_result (document)->belief == third);

  og_document_reset (document, og_formula_new ());
  g_assert_null (og_document_get_belief (document));
  g_object_unref (document);
}

static void
test_bench_store (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GError) error = NULL;
  OgBenchStore *store = store_in (folder);
  OgDocument *document = castor_document ();
  OgDocument *other = castor_document ();
  const OgEstimate before = poured (document);
  g_autoptr (OgBelief) belief = NULL;
  guint64 revision;

  og_document_set_bench_store (document, store);
  og_document_set_bench_store (other, store);
  g_assert_true (og_document_get_bench_store (document) == store);
  g_assert_null (og_document_get_belief (document));
  revision = og_document_get_revision (document);

  must_store (store, test_reading ("castor-oil", 780));
  g_assert_cmpfloat (poured (document).value, >, before.value);
  g_assert_cmpfloat (poured (other).value, ==, poured (document).value);
  g_assert_cmpuint (og_document_get_revision (document), ==, revision);
  g_assert_false (og_document_get_modified (document));
  g_assert_true (og_document_find_lesson (document, TRUE, "m1")->used);
  g_assert_null (og_document_find_lesson (document, FALSE, "m1"));
  belief = og_belief_ref (og_document_get_belief (document));
  og_document_set_title (document, "T");
  g_assert_true (og_document_get_belief (document) == belief);

  /* the same number in both logs */
  og_document_add_measurement (document, test_recipe_reading (document, before.value));
  g_assert_cmpuint (og_belief_get_lessons (og_document_get_belief (document))->len, ==, 2);
  g_assert_nonnull (og_document_find_lesson (document, TRUE, "m1"));
  g_assert_true (og_document_find_lesson (document, FALSE, "m1")
                 != og_document_find_lesson (document, TRUE, "m1"));
  og_document_undo (document);

  g_assert_true (og_bench_store_set_aside (store, "m1", TRUE, &error));
  g_assert_cmpfloat_with_epsilon (poured (document).value, before.value, 1e-9 * before.value);
  g_assert_true (og_bench_store_set_aside (store, "m1", FALSE, &error));
  og_document_set_bench_store (document, NULL);
  g_assert_null (og_document_get_belief (document));
  g_assert_cmpfloat (poured (document).value, ==, before.value);

  g_object_unref (document);
  g_object_unref (other);
  g_object_unref (store);
  test_remove_folder (folder);
}

/* A reading that contradicts is left alone until it is accepted. */
static void
test_accept (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (GError) error = NULL;
  OgBenchStore *store = store_in (folder);
  OgDocument *document = castor_document ();
  const double before = poured (document).value;

  og_document_set_bench_store (document, store);
  must_store (store, test_reading ("castor-oil", 7000));
  g_assert_true (og_document_find_lesson (document, TRUE, "m1")->contradicts);
  g_assert_false (og_document_find_lesson (document, TRUE, "m1")->used);
  g_assert_cmpfloat_with_epsilon (poured (document).value, before, 1e-9 * before);

  g_assert_true (og_bench_store_accept (store, "m1", TRUE, &error));
  g_assert_no_error (error);
  g_assert_true (og_document_find_lesson (document, TRUE, "m1")->used);
  g_assert_cmpfloat (poured (document).value, >, 2 * before);

  og_document_add_measurement (document, test_recipe_reading (document, before / 20));
  g_assert_false (og_document_find_lesson (document, FALSE, "m1")->used);
  og_document_accept_measurement (document, "m1", TRUE);
  g_assert_true (og_document_find_lesson (document, FALSE, "m1")->used);

  g_object_unref (document);
  g_object_unref (store);
  test_remove_folder (folder);
}

static void
must_record (OgDocument    *document,
             OgMeasurement *measurement)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (og_document_record_measurement (document, measurement, &error));
  g_assert_no_error (error);
}

static void
test_record (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (OgIngredient) material = test_own_material ("own-one", "Quay oil");
  g_autoptr (GError) error = NULL;
  OgBenchStore *store = store_in (folder);
  OgDocument *document = castor_document ();
  const GPtrArray *bench;

  must_record (document, test_reading ("castor-oil", 700));
  og_document_set_bench_store (document, store);
  og_document_put_material (document, material);
  must_record (document, test_reading ("jojoba-oil", 35));
  must_record (document, test_reading ("own-one", 700));
  must_record (document, test_recipe_reading (document, 400));

  bench = og_bench_store_get_measurements (store);
  g_assert_cmpuint (bench->len, ==, 1);
  g_assert_cmpstr (((OgMeasurement *) bench->pdata[0])->material_id, ==, "jojoba-oil");
  g_assert_cmpuint (og_document_get_formula (document)->measurements->len, ==, 3);
  g_assert_cmpstr (og_document_get_undo_label (document), ==, "Add measurement m3");

  g_assert_false (og_document_record_measurement (document, test_reading ("castor-oil", -1),
                                                  &error));
  g_assert_error (error, OG_BENCH_ERROR, OG_BENCH_ERROR_VALUE);
  g_clear_error (&error);
  g_assert_false (og_document_record_measurement (document, test_reading (NULL, 400), &error));
  g_assert_nonnull (error);

  g_object_unref (document);
  g_object_unref (store);
  test_remove_folder (folder);
}

/* A material of the recipe's own is another one than that of the library, whatever its id. */
static void
test_own_material_instead (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  g_autoptr (OgIngredient) material = test_own_material ("castor-oil", "Pale castor oil");
  OgBenchStore *store = store_in (folder);
  OgDocument *document = castor_document ();

  must_store (store, test_reading ("castor-oil", 780));
  must_store (store, test_reading ("jojoba-oil", 35));
  og_document_set_bench_store (document, store);
  g_assert_nonnull (og_document_find_lesson (document, TRUE, "m1"));

  og_document_put_material (document, material);
  g_assert_null (og_document_find_lesson (document, TRUE, "m1"));
  g_assert_nonnull (og_document_find_lesson (document, TRUE, "m2"));
  og_document_undo (document);
  g_assert_nonnull (og_document_find_lesson (document, TRUE, "m1"));

  g_object_unref (document);
  g_object_unref (store);
  test_remove_folder (folder);
}

static void
count (guint *counter)
{
  (*counter)++;
}

static void
test_notifications (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  OgBenchStore *store = store_in (folder);
  OgDocument *document = castor_document ();
  guint n_results = 0, n_formulas = 0;

  test_run_idle ();
  g_signal_connect_swapped (document, "result-changed", G_CALLBACK (count), &n_results);
  g_signal_connect_swapped (document, "formula-changed", G_CALLBACK (count), &n_formulas);
  og_document_set_bench_store (document, store);
  og_document_set_bench_store (document, store);
  test_run_idle ();
  g_assert_cmpuint (n_results, ==, 1);

  must_store (store, test_reading ("castor-oil", 780));
  must_store (store, test_reading ("jojoba-oil", 35));
  test_run_idle ();
  g_assert_cmpuint (n_results, ==, 2);
  g_assert_cmpuint (n_formulas, ==, 0);

  g_object_unref (document);
  g_object_unref (store);
  test_remove_folder (folder);
}

static void
test_end (void)
{
  g_autoptr (GFile) folder = test_make_folder ();
  OgBenchStore *store = store_in (folder);
  OgDocument *document = castor_document ();
  gpointer weak = store;

  og_document_set_bench_store (document, store);
  must_store (store, test_reading ("castor-oil", 780));
  og_document_get_result (document);
  g_assert_finalize_object (document);
  must_store (store, test_reading ("castor-oil", 760));

  document = castor_document ();
  og_document_set_bench_store (document, store);
  g_object_add_weak_pointer (G_OBJECT (store), &weak);
  g_object_unref (store);
  g_assert_nonnull (weak);
  g_assert_cmpuint (og_belief_get_lessons (og_document_get_belief (document))->len, ==, 2);
  g_assert_finalize_object (document);
  g_assert_null (weak);
  test_remove_folder (folder);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/learning/nothing-measured", test_nothing_measured);
  g_test_add_func ("/learning/prior-and-posterior", test_prior_and_posterior);
  g_test_add_func ("/learning/kept", test_kept);
  g_test_add_func ("/learning/bench-store", test_bench_store);
  g_test_add_func ("/learning/accept", test_accept);
  g_test_add_func ("/learning/record", test_record);
  g_test_add_func ("/learning/own-material-instead", test_own_material_instead);
  g_test_add_func ("/learning/notifications", test_notifications);
  g_test_add_func ("/learning/end", test_end);

  return g_test_run ();
}
