/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/make/weighing.h"

#include <math.h>

#include "common/fixture.h"

static GPtrArray *
balances_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) og_balance_free);
}

static GPtrArray *
one_balance (double readability_g,
             double capacity_g)
{
  GPtrArray *balances = balances_new ();

  g_ptr_array_add (balances, og_balance_new ("bench", readability_g, NAN, capacity_g));
  return balances;
}

/* --- rules --------------------------------------------------------------- */

/* Half a digit: 20 d 2.5 %, 50 d 1.0 %, 100 d 0.5 %, 820 d 0.06 % (arithmetic). */
static void
test_rounding_error (void)
{
  g_assert_cmpfloat_with_epsilon (og_rounding_error_pct (0.2, 0.01), 2.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_rounding_error_pct (0.5, 0.01), 1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_rounding_error_pct (10, 0.1), 0.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_rounding_error_pct (8.2, 0.01), 0.06, 0.002);
}

/* USP <41>: the least net weight is 820 d at best (read on a balance maker's page); above it 2000
 * times the repeatability. */
static void
test_least_weight (void)
{
  OgBalance plain = { (char *) "a", 0.001, NAN, 200 };
  OgBalance quiet = { (char *) "a", 0.001, 0.0002, 200 };
  OgBalance noisy = { (char *) "a", 0.001, 0.002, 200 };

  g_assert_cmpfloat_with_epsilon (og_balance_least_g (&plain), 0.820, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_balance_least_g (&quiet), 0.820, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_balance_least_g (&noisy), 4.0, 1e-12);
  /* half a digit and 2 s in 1 g */
  g_assert_cmpfloat_with_epsilon (og_balance_error_pct (&noisy, 1), 0.45, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_balance_error_pct (&plain, 1), 0.05, 1e-12);
}

static void
test_validity (void)
{
  static const struct
  {
    double   d, s, max;
    gboolean valid;
  } balances[] = {
    { 0.01, NAN, 500, TRUE },  { 0.01, 0.01, 500, TRUE },      { 0, NAN, 500, FALSE },
    { -0.1, NAN, 500, FALSE }, { 1, NAN, 50, FALSE },          { NAN, NAN, 500, FALSE },
    { 0.01, 0, 500, FALSE },   { 0.01, NAN, INFINITY, FALSE }, { 0.01, NAN, NAN, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (balances); i++)
    {
      g_autofree char *name = g_strdup ("bench");
      OgBalance balance = { name, balances[i].d, balances[i].s, balances[i].max };

      g_assert_cmpint (og_balance_is_valid (&balance), ==, balances[i].valid);
    }
}

/* --- choice -------------------------------------------------------------- */

static void
test_best_balance (void)
{
  g_autoptr (GPtrArray) balances = balances_new ();
  OgPlannedWeighing weighings[] = {
    { .exact_g = 0.5, .wanted_pct = 0.5 }, { .exact_g = 150, .wanted_pct = 2.5 },
    { .exact_g = 900, .wanted_pct = 2.5 }, { .exact_g = 4500, .wanted_pct = 2.5 },
    { .exact_g = 0, .wanted_pct = 2.5 },
  };

  g_ptr_array_add (balances, og_balance_new ("kitchen", 1, NAN, 3000));
  g_ptr_array_add (balances, og_balance_new ("bench", 0.1, NAN, 1000));
  g_ptr_array_add (balances, og_balance_new ("fine", 0.001, NAN, 200));
  og_weighings_plan (weighings, G_N_ELEMENTS (weighings), balances);

  g_assert_cmpstr (weighings[0].balance->name, ==, "fine");
  g_assert_cmpstr (weighings[1].balance->name, ==, "fine");
  /* in one go, and accurate enough, rather than in five on the fine one */
  g_assert_cmpstr (weighings[2].balance->name, ==, "bench");
  g_assert_cmpuint (weighings[2].n_portions, ==, 1);
  g_assert_cmpstr (weighings[3].balance->name, ==, "kitchen");
  g_assert_cmpuint (weighings[3].n_portions, ==, 2);
  g_assert_cmpfloat_with_epsilon (weighings[0].error_pct, 0.1, 1e-12);
  g_assert_null (weighings[4].balance);
  g_assert_false (weighings[4].too_small);
}

static void
test_without_balance (void)
{
  g_autoptr (GPtrArray) balances = balances_new ();
  OgPlannedWeighing weighing = { .exact_g = 1.23456, .wanted_pct = 0.5 };

  g_assert_cmpfloat (og_weighings_plan (&weighing, 1, balances), ==, 1.23456);
  g_assert_null (weighing.balance);
  g_assert_true (isnan (weighing.error_pct));
  g_assert_cmpfloat (og_planned_portion_g (&weighing, 0), ==, 1.23456);
}

/* Exactly 20 digits are enough for 2.5 %, 19 are not. */
static void
test_too_small (void)
{
  g_autoptr (GPtrArray) balances = one_balance (0.01, 500);
  OgPlannedWeighing weighings[] = { { .exact_g = 0.20, .wanted_pct = 2.5 },
                                    { .exact_g = 0.19, .wanted_pct = 2.5 },
                                    { .exact_g = 1.00, .wanted_pct = 0.5 },
                                    { .exact_g = 0.99, .wanted_pct = 0.5 } };

  og_weighings_plan (weighings, 4, balances);
  g_assert_false (weighings[0].too_small);
  g_assert_true (weighings[1].too_small);
  g_assert_false (weighings[2].too_small);
  g_assert_true (weighings[3].too_small);
}

static void
test_portions (void)
{
  g_autoptr (GPtrArray) balances = one_balance (0.1, 200);
  OgPlannedWeighing weighing = { .exact_g = 500.1, .wanted_pct = 2.5 };
  double sum = 0;

  og_weighings_plan (&weighing, 1, balances);
  g_assert_cmpuint (weighing.n_portions, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat (og_planned_portion_g (&weighing, i), <=, 200);
      sum += og_planned_portion_g (&weighing, i);
    }
  g_assert_cmpfloat_with_epsilon (sum, 500.1, 1e-9);
}

/* --- rounding ------------------------------------------------------------ */

/* Three thirds of 1 g on 0.1 g: each nearest to 0.3, and one takes the rest. */
static void
test_rest_of_equals (void)
{
  g_autoptr (GPtrArray) balances = one_balance (0.1, 100);
  OgPlannedWeighing weighings[] = { { .exact_g = 1.0 / 3, .wanted_pct = 50 },
                                    { .exact_g = 1.0 / 3, .wanted_pct = 50 },
                                    { .exact_g = 1.0 / 3, .wanted_pct = 50 } };

  g_assert_cmpfloat (og_weighings_plan (weighings, 3, balances), ==, 1.0);
  g_assert_cmpint (weighings[0].digits, ==, 4);
  g_assert_cmpint (weighings[1].digits, ==, 3);
  g_assert_cmpint (weighings[2].digits, ==, 3);
  g_assert_cmpfloat (weighings[1].rounded_g, ==, 0.3);
}

/* 20 g with 0.24 g of a colour on 0.1 g: the colour is 0.2 g, the nearest there is, and not 0.3 g so that the sum
 * comes out; an oil makes up the sum. By hand: 0.2 g are planned for 0.24 g, half a digit is 0.05 g, together
 * 0.09 / 0.24 = 37.5 %; with a repeatability of 0.02 g another 0.04 g, 54.2 %. */
static void
test_rest_goes_to_a_liquid (void)
{
  static const double repeatabilities_g[] = { NAN, 0.02 }, errors_pct[] = { 37.5, 100 * 0.13 / 0.24 };

  for (guint i = 0; i < G_N_ELEMENTS (repeatabilities_g); i++)
    {
      g_autoptr (GPtrArray) balances = balances_new ();
      OgPlannedWeighing weighings[] = {
        { .exact_g = 0.24, .wanted_pct = 5 },
        { .exact_g = 10.38, .wanted_pct = 5 },
        { .exact_g = 9.38, .wanted_pct = 5, .takes_rest = TRUE },
      };

      g_ptr_array_add (balances, og_balance_new ("bench", 0.1, repeatabilities_g[i], 500));
      g_assert_cmpfloat (og_weighings_plan (weighings, 3, balances), ==, 20.0);
      g_assert_cmpfloat (weighings[0].rounded_g, ==, 0.2);
      g_assert_cmpfloat (weighings[1].rounded_g, ==, 10.4);
      g_assert_cmpfloat (weighings[2].rounded_g, ==, 9.4);
      g_assert_cmpfloat_with_epsilon (weighings[0].error_pct, errors_pct[i], 1e-9);
      g_assert_true (weighings[0].too_small);
      g_assert_false (weighings[2].too_small);
    }
}

/* Ten weighings of half a digit round up to one each, which is five too many; none is taken below nothing. */
static void
test_rest_never_below_nothing (void)
{
  g_autoptr (GPtrArray) balances = one_balance (0.1, 500);
  OgPlannedWeighing weighings[10];

  for (guint i = 0; i < G_N_ELEMENTS (weighings); i++)
    weighings[i] = (OgPlannedWeighing) { .exact_g = 0.05, .wanted_pct = 5, .takes_rest = i == 3 };
  g_assert_cmpfloat (og_weighings_plan (weighings, G_N_ELEMENTS (weighings), balances), ==, 0.5);
  for (guint i = 0; i < G_N_ELEMENTS (weighings); i++)
    g_assert_cmpint (weighings[i].digits, >=, 0);
}

static void
random_balances (GRand     *rand,
                 GPtrArray *balances)
{
  static const double readabilities[] = { 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.001, 0.0001 };
  int n = g_rand_int_range (rand, 1, 4);

  for (int i = 0; i < n; i++)
    {
      double d = readabilities[g_rand_int_range (rand, 0, G_N_ELEMENTS (readabilities))];

      g_ptr_array_add (balances, og_balance_new ("b", d, NAN,
                                                 d * g_rand_double_range (rand, 1000, 100000)));
    }
}

/* Digits of everything on @balance, and what they should add up to. */
static void
assert_sum_kept (const OgPlannedWeighing *weighings,
                 guint                    n,
                 const OgBalance         *balance)
{
  gint64 digits = 0;
  guint n_others = 0;
  double exact = 0;

  for (guint i = 0; i < n; i++)
    {
      if (weighings[i].balance != balance)
        continue;
      digits += weighings[i].digits;
      exact += weighings[i].exact_g / balance->readability_g;
      n_others += fabs (weighings[i].rounded_g - weighings[i].exact_g) > 0.5 * balance->readability_g * (1 + 1e-9);
    }
  /* all are the nearest there is but those that take the rest: one, if it is large enough */
  g_assert_cmpuint (n_others, <=, n / 2 + 1);
  g_assert_cmpint (digits, ==, llround (exact));
}

static void
test_sum_kept (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (41);

  for (guint r = 0; r < 10000; r++)
    {
      g_autoptr (GPtrArray) balances = balances_new ();
      OgPlannedWeighing weighings[24];
      guint n = (guint) g_rand_int_range (rand, 1, G_N_ELEMENTS (weighings) + 1);
      double total, sum = 0;

      random_balances (rand, balances);
      for (guint i = 0; i < n; i++)
        weighings[i] = (OgPlannedWeighing) {
          .exact_g
          = g_rand_int_range (rand, 0, 6) == 0 ? 0 : exp (g_rand_double_range (rand, -6, 7)),
          .wanted_pct = 1,
        };
      total = og_weighings_plan (weighings, n, balances);
      for (guint i = 0; i < balances->len; i++)
        assert_sum_kept (weighings, n, g_ptr_array_index (balances, i));
      for (guint i = 0; i < n; i++)
        sum += weighings[i].rounded_g;
      g_assert_cmpfloat_with_epsilon (total, sum, 1e-9 * (1 + sum));
    }
}

/* On one balance the sum is the whole batch rounded once. */
static void
test_sum_of_batch (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (43);

  for (guint n = 0; n < 1000; n++)
    {
      g_autoptr (GPtrArray) balances = one_balance (0.01, 5000);
      OgPlannedWeighing weighings[10];
      double batch_g = g_rand_double_range (rand, 5, 900), left = 1;

      for (guint i = 0; i < 10; i++)
        {
          double share = i == 9 ? left : left * g_rand_double (rand);

          weighings[i] = (OgPlannedWeighing) { .exact_g = batch_g * share, .wanted_pct = 1 };
          left -= share;
        }
      g_assert_cmpfloat_with_epsilon (og_weighings_plan (weighings, 10, balances),
                                      round (batch_g * 100) / 100, 1e-9);
    }
}

/* --- remedies ------------------------------------------------------------ */

/* By hand, d = 0.01 g, 0.5 % wanted: 0.1 g alone is off by 5 %. In 1:9, 1 g is off by 0.5 % already;
 * in 1:19, 2 g by 0.25 %, and 2 g of the material itself by 0.25 %: together 0.5 %. */
static void
test_premix (void)
{
  g_autoptr (GPtrArray) balances = one_balance (0.01, 200);
  OgPremix premix;

  g_assert_true (og_premix_find (0.1, 0.5, 50, balances, &premix));
  g_assert_cmpuint (premix.parts, ==, 19);
  g_assert_cmpfloat_with_epsilon (premix.material_g, 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (premix.carrier_g, 38, 1e-9);
  g_assert_cmpfloat_with_epsilon (premix.take_g, 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (premix.carrier_in_it_g, 1.9, 1e-9);
  g_assert_cmpfloat_with_epsilon (premix.error_pct, 0.5, 1e-9);
  /* the recipe has no 1.9 g of carrier to spare */
  g_assert_false (og_premix_find (0.1, 0.5, 1.0, balances, &premix));
}

/* What is taken holds the wanted amount, up to half a digit. */
static void
test_premix_amounts (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (47);
  guint found = 0;

  for (guint i = 0; i < 1000; i++)
    {
      g_autoptr (GPtrArray) balances = one_balance (0.01, 300);
      double g = exp (g_rand_double_range (rand, -5, 0)),
             wanted = g_rand_double_range (rand, 0.3, 3);
      OgPremix premix;

      if (!og_premix_find (g, wanted, 500, balances, &premix))
        continue;
      found++;
      g_assert_cmpfloat (premix.error_pct, <=, wanted * (1 + 1e-9));
      g_assert_cmpfloat (fabs (premix.take_g / (premix.parts + 1) - g) / g, <=, wanted / 100);
      g_assert_cmpfloat_with_epsilon (premix.carrier_g / premix.material_g, premix.parts, 1e-9);
      g_assert_cmpfloat (premix.material_g, >=, g - 1e-9);
    }
  g_assert_cmpuint (found, >, 500);
}

static void
test_other_remedies (void)
{
  g_autoptr (GPtrArray) balances = one_balance (0.01, 200);

  /* 0.1 g is a whole number of 0.001 g: half a digit is 0.5 %. 0.099 g on the same falls on a digit as well, but half
   * a digit of it is more. Wherever it falls, rounding is half a digit more: 200 d, twenty times the batch. */
  g_assert_cmpfloat_with_epsilon (og_readability_needed_g (0.1, 0.5), 0.001, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_readability_needed_g (0.09, 0.5), 0.0001, 1e-12);
  g_assert_cmpfloat_with_epsilon (og_batch_factor_needed (0.1, 0.5, balances), 20, 1e-9);
  g_assert_cmpfloat (og_batch_factor_needed (5, 0.5, balances), ==, 1);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/weighing/rounding-error", test_rounding_error);
  g_test_add_func ("/weighing/least-weight", test_least_weight);
  g_test_add_func ("/weighing/validity", test_validity);
  g_test_add_func ("/weighing/best-balance", test_best_balance);
  g_test_add_func ("/weighing/without-balance", test_without_balance);
  g_test_add_func ("/weighing/too-small", test_too_small);
  g_test_add_func ("/weighing/portions", test_portions);
  g_test_add_func ("/weighing/rest-of-equals", test_rest_of_equals);
  g_test_add_func ("/weighing/rest-goes-to-a-liquid", test_rest_goes_to_a_liquid);
  g_test_add_func ("/weighing/rest-never-below-nothing", test_rest_never_below_nothing);
  g_test_add_func ("/weighing/sum-kept", test_sum_kept);
  g_test_add_func ("/weighing/sum-of-batch", test_sum_of_batch);
  g_test_add_func ("/weighing/premix", test_premix);
  g_test_add_func ("/weighing/premix-amounts", test_premix_amounts);
  g_test_add_func ("/weighing/other-remedies", test_other_remedies);
  return g_test_run ();
}
