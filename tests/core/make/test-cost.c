/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prices are invented. */
#include "core/make/cost.h"

#include <math.h>

#include "common/fixture.h"

static OgCatalog *catalog;

static void
put_price (OgShelf    *shelf,
           const char *id,
           double      price_per_kg,
           const char *currency)
{
  og_shelf_put (shelf, &(OgShelfItem) { (char *) id, 1000, price_per_kg, (char *) currency, 0 });
}

static const OgCostTotal *
total_at (const OgCost *cost,
          guint         index)
{
  return g_ptr_array_index (cost->totals, index);
}

/* 200 g: castor 126 g at 12/kg 1.512, polyamide 3 g at 90/kg 0.27, sunflower 68 g at 8/kg 0.544. */
static void
test_sums (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  g_autoptr (OgCost) cost = NULL;

  put_price (shelf, "castor-oil", 12, "EUR");
  put_price (shelf, "polyamide-3", 90, "EUR");
  put_price (shelf, "sunflower-oil", 8, "EUR");
  put_price (shelf, "tocopherol", 100, "USD");
  g_ptr_array_add (formula->costs, og_cost_line_new ("Tube", 0.5, "EUR", OG_COST_PER_CONTAINER));
  g_ptr_array_add (formula->costs, og_cost_line_new ("Bench", 18, "EUR", OG_COST_PER_BATCH));
  cost = og_cost_new (formula, catalog, 200, NULL, shelf, 10);

  g_assert_cmpuint (cost->items->len, ==, 7);
  g_assert_cmpuint (cost->totals->len, ==, 2);
  g_assert_cmpstr (total_at (cost, 0)->currency, ==, "EUR");
  g_assert_cmpfloat_with_epsilon (total_at (cost, 0)->materials, 1.512 + 0.27 + 0.544, 1e-9);
  g_assert_cmpfloat_with_epsilon (total_at (cost, 0)->batch, 2.326 + 5 + 18, 1e-9);
  g_assert_cmpfloat_with_epsilon (total_at (cost, 0)->container, 2.5326, 1e-9);
  /* 2 g at 100/kg, never added to the other currency */
  g_assert_cmpstr (total_at (cost, 1)->currency, ==, "USD");
  g_assert_cmpfloat_with_epsilon (total_at (cost, 1)->batch, 0.2, 1e-9);
  /* the grind has no price: 1 g of it is unknown, not free */
  g_assert_cmpuint (cost->n_unknown, ==, 1);
  g_assert_cmpfloat_with_epsilon (cost->unknown_g, 1, 1e-9);
}

static void
test_nothing_known (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgCost) cost = NULL;

  g_ptr_array_add (formula->costs, og_cost_line_new ("Tube", 0.5, "EUR", OG_COST_PER_CONTAINER));
  cost = og_cost_new (formula, catalog, 200, NULL, NULL, 0);
  /* five lines without a price, a tube for nobody knows how many containers */
  g_assert_cmpuint (cost->n_unknown, ==, 6);
  g_assert_cmpuint (cost->totals->len, ==, 0);
}

/* What is weighed is what is paid for. */
static void
test_weighed (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  const double line_g[] = { 126.3, 3.1, 68.2, 1, 2 };
  g_autoptr (OgShelf) shelf = og_shelf_new ();
  g_autoptr (OgCost) cost = NULL;

  put_price (shelf, "castor-oil", 10, NULL);
  cost = og_cost_new (formula, catalog, 200, line_g, shelf, 0);
  g_assert_cmpuint (cost->totals->len, ==, 1);
  g_assert_null (total_at (cost, 0)->currency);
  g_assert_cmpfloat_with_epsilon (total_at (cost, 0)->batch, 1.263, 1e-9);
  g_assert_true (isnan (total_at (cost, 0)->container));
}

/* --- packs --------------------------------------------------------------- */

#define MOST_PACKS 8

/* Tries every count of every pack. */
static void
brute_force (const OgPackOffer *offers,
             guint              n,
             double             needed_g,
             double             price,
             double             bought_g,
             double            *best_price,
             double            *best_bought_g)
{
  if (n == 0)
    {
      if (bought_g < needed_g - 1e-9 || price > *best_price + 1e-9)
        return;
      if (price > *best_price - 1e-9 && bought_g >= *best_bought_g)
        return;
      *best_price = fmin (price, *best_price);
      *best_bought_g = bought_g;
      return;
    }
  for (guint count = 0; count <= MOST_PACKS; count++)
    brute_force (offers + 1, n - 1, needed_g, price + count * offers->price,
                 bought_g + count * offers->size_g, best_price, best_bought_g);
}

static void
test_cheapest_packs (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (61);

  for (guint r = 0; r < 150; r++)
    {
      guint n = (guint) g_rand_int_range (rand, 1, 5);
      OgPackOffer offers[4];
      double smallest = INFINITY, needed_g, price = INFINITY, bought_g = INFINITY;
      g_autoptr (GPtrArray) choices = NULL;
      const OgPackChoice *choice;

      for (guint i = 0; i < n; i++)
        {
          offers[i] = (OgPackOffer) { 25 * g_rand_int_range (rand, 1, 20),
                                      g_rand_int_range (rand, 1, 60) / 2.0, (char *) "EUR" };
          smallest = fmin (smallest, offers[i].size_g);
        }
      needed_g = g_rand_double_range (rand, 1, smallest * MOST_PACKS);
      brute_force (offers, n, needed_g, 0, 0, &price, &bought_g);
      choices = og_packs_choose (offers, n, needed_g);
      g_assert_cmpuint (choices->len, ==, 1);
      choice = g_ptr_array_index (choices, 0);
      g_assert_cmpfloat_with_epsilon (choice->price, price, 1e-6);
      g_assert_cmpfloat_with_epsilon (choice->bought_g, bought_g, 1e-6);
      g_assert_cmpfloat_with_epsilon (choice->left_g, bought_g - needed_g, 1e-6);
    }
}

/* Offers that nobody can take up are left alone; whatever is left is chosen from. */
static void
test_odd_offers (void)
{
  static const struct
  {
    double size_g, price;
  } odd[] = {
    { NAN, 1 }, { 0, 1 }, { -5, 1 }, { INFINITY, 1 }, { 1e-300, 1 }, { 1e300, 1 }, { 1e-9, 1 },
    { 100, NAN }, { 100, -1 }, { 100, INFINITY }, { 100, 1e300 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (odd); i++)
    {
      const OgPackOffer offers[] = { { odd[i].size_g, odd[i].price, (char *) "CHF" },
                                     { odd[i].size_g, odd[i].price, (char *) "EUR" },
                                     { 100, 4, (char *) "EUR" } };
      g_autoptr (GPtrArray) choices = og_packs_choose (offers, 3, 350);
      const OgPackChoice *choice;

      g_test_message ("%g g for %g", odd[i].size_g, odd[i].price);
      g_assert_cmpuint (choices->len, ==, 1);
      choice = g_ptr_array_index (choices, 0);
      g_assert_cmpstr (choice->currency, ==, "EUR");
      g_assert_cmpuint (choice->counts[1], ==, 0);
      g_assert_cmpuint (choice->counts[2], ==, 4);
    }
}

/* Each currency by itself; an exact fit leaves nothing. */
static void
test_currencies (void)
{
  const OgPackOffer offers[] = { { 100, 4, (char *) "EUR" }, { 250, 7, (char *) "EUR" },
                                 { 50, 1, (char *) "CHF" }, { 500, 8, NULL } };
  g_autoptr (GPtrArray) choices = og_packs_choose (offers, 4, 350);
  const OgPackChoice *choice;

  g_assert_cmpuint (choices->len, ==, 3);
  choice = g_ptr_array_index (choices, 0);
  g_assert_null (choice->currency);
  choice = g_ptr_array_index (choices, 1);
  g_assert_cmpstr (choice->currency, ==, "CHF");
  g_assert_cmpuint (choice->counts[2], ==, 7);
  g_assert_cmpuint (choice->counts[0], ==, 0);
  choice = g_ptr_array_index (choices, 2);
  g_assert_cmpfloat (choice->price, ==, 11);
  g_assert_cmpfloat (choice->left_g, ==, 0);
  g_assert_cmpuint (choice->counts[0], ==, 1);
  g_assert_cmpuint (choice->counts[1], ==, 1);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/cost/sums", test_sums);
  g_test_add_func ("/cost/nothing-known", test_nothing_known);
  g_test_add_func ("/cost/weighed", test_weighed);
  g_test_add_func ("/cost/cheapest-packs", test_cheapest_packs);
  g_test_add_func ("/cost/currencies", test_currencies);
  g_test_add_func ("/cost/odd-offers", test_odd_offers);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
