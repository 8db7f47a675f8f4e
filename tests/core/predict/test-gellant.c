/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/gellant.h"

#include "common/fixture.h"

#include "core/material/catalog.h"

static OgCatalog *catalog;
static OgGelKnobs typical;

static OgGellant
gellant_of (const char *id)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, id);
  OgGellant gellant;

  g_assert_nonnull (ingredient);
  og_gellant_init (&gellant, ingredient, og_catalog_get_parameters (catalog));
  return gellant;
}

/* Krieger & Dougherty 1959 (recalled) with phi_m 0.64: worked by hand. */
static void
test_suspension (void)
{
  static const double table[][2] = { { 0.0, 1.0 }, { 0.01, 1.026 }, { 0.05, 1.139 }, { 0.10, 1.312 }, { 0.20, 1.82 } };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    assert_within (og_krieger_dougherty (table[i][0]), table[i][1], 0.001);
  /* Einstein's limit 1 + 2.5 phi. */
  assert_within ((og_krieger_dougherty (1e-5) - 1.0) / 1e-5, 2.5, 0.001);
}

/* Martin with [eta] 0.6 dL/g and k 0.2 at 0.5, 1, 2, 4 g/dL (recalled form, worked by hand):
 * 1.32, 1.68, 2.53, 4.88. */
static void
test_martin (void)
{
  static const double table[][2] = { { 0.5, 1.32 }, { 1.0, 1.68 }, { 2.0, 2.53 }, { 4.0, 4.88 } };
  OgGellant polymer = { .family = OG_GEL_POLYMER_SOLUTION, .gel_point = 1.0, .intrinsic_dl_g = 0.6,
                        .sets_c = NAN, .melting_k = NAN };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      OgGelResponse response;

      og_gellant_respond (&polymer, table[i][0] / 100.0, 25.0, 1.0, &typical, &response);
      assert_within (response.thickening, table[i][1], 0.005);
      g_assert_cmpfloat (response.yield_pa, ==, 0.0);
    }
}

/* Percolation with w* 2 % and t 2: yield at 3, 4, 6, 10 % in the ratio 0.25 : 1 : 4 : 16 (worked
 * by hand). */
static void
test_percolation (void)
{
  static const double table[][2] = { { 0.03, 0.25 }, { 0.04, 1.0 }, { 0.06, 4.0 }, { 0.10, 16.0 } };
  OgGellant agent = { .family = OG_GEL_PHYSICAL_POLYMER, .gel_point = 0.02, .yield_pa = 1.0, .exponent = 2.0,
                      .intrinsic_dl_g = 0.5, .sets_c = NAN, .melting_k = NAN };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    {
      OgGelResponse response;

      og_gellant_respond (&agent, table[i][0], 25.0, 0.92, &typical, &response);
      assert_within (response.yield_pa, table[i][1], 1e-9);
    }
}

/* Rice bran wax, 190.5 J/g and 78 C (Dassanayake et al. 2009, abstract), 780 g/mol assumed: the
 * ideal law clears 1, 2, 5 and 10 % at 49.6, 53.6, 59.2 and 63.5 C (worked by hand). */
static void
test_solubility (void)
{
  static const double table[][2] = { { 49.6, 1.0 }, { 53.6, 2.0 }, { 59.2, 5.0 }, { 63.5, 10.0 } };
  OgGellant wax = { .family = OG_GEL_CRYSTAL_NETWORK, .melting_k = 78.0 + 273.15,
                    .enthalpy_j_mol = 190.5 * 780.0, .molar_mass_g_mol = 780.0 };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    assert_within (100.0 * og_gellant_solubility (&wax, table[i][0], 0.0), table[i][1], 0.02);
  g_assert_cmpfloat (og_gellant_solubility (&wax, 80.0, 0.0), ==, 1.0);
}

/* Herschel-Bulkley with yield 2 Pa, K 1.5 Pa.s^n, n 0.5 (worked by hand): 3500 mPa.s at 1 1/s,
 * 674 at 10, 170 at 100. */
static void
test_flow_curve (void)
{
  assert_within (og_gel_flow (0.0, 0.0, 2.0, 0.5, 1.0), 3500.0, 0.001);
  assert_within (og_gel_flow (0.0, 0.0, 2.0, 0.5, 10.0), 674.0, 0.001);
  assert_within (og_gel_flow (0.0, 0.0, 2.0, 0.5, 100.0), 170.0, 0.001);
  /* The liquid is a floor. */
  g_assert_cmpfloat (og_gel_flow (50.0, 0.0, 2.0, 0.5, 1e5), >, 50.0);
  assert_within (og_gel_flow (50.0, 0.0, 0.0, 0.5, 3.0), 50.0, 1e-12);
}

/* Gel points of the catalog against published ones (tests/data/gelling_observations.csv):
 * Dassanayake 2009 and Blake 2014 rice bran 1 %, candelilla 2 %, carnauba 4 %; Toprasri 2012
 * silica dimethyl silylate 7 % in mineral oil. */
static void
test_published_gel_points (void)
{
  static const struct
  {
    const char *id;
    double pct;
  } table[] = { { "rice-bran-wax", 1.0 }, { "candelilla-wax", 2.0 }, { "carnauba-wax", 4.0 },
                { "silica-dimethyl-silylate", 7.0 } };

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    assert_within (100.0 * gellant_of (table[i].id).gel_point, table[i].pct, 0.01);
}

/* No agent, no change; more agent, never thinner; no yield below the gel point; hot, no network.
 * For every agent there is. */
static void
test_limits (void)
{
  guint n = 0;

  for (guint i = 0; i < og_catalog_get_n_items (catalog); i++)
    {
      const OgIngredient *ingredient = og_catalog_get_item (catalog, i);
      OgGellant gellant;
      OgGelResponse response;
      double last_thickening = 1.0, last_yield = 0.0;

      if (ingredient->gelling.family == OG_GEL_NONE || ingredient->gelling.family == OG_GEL_VISCOUS_LIQUID)
        continue;
      n++;
      og_gellant_init (&gellant, ingredient, og_catalog_get_parameters (catalog));
      og_gellant_respond (&gellant, 0.0, 25.0, 0.92, &typical, &response);
      g_assert_cmpfloat (response.thickening, ==, 1.0);
      g_assert_cmpfloat (response.yield_pa, ==, 0.0);
      for (int step = 1; step <= 60; step++)
        {
          double w = step * 0.005;

          og_gellant_respond (&gellant, w, 25.0, 0.92, &typical, &response);
          g_assert_cmpfloat (response.thickening, >=, last_thickening);
          g_assert_cmpfloat (response.yield_pa, >=, last_yield);
          if (w <= gellant.gel_point)
            g_assert_cmpfloat (response.yield_pa, ==, 0.0);
          last_thickening = response.thickening;
          last_yield = response.yield_pa;
        }
      if (gellant.family == OG_GEL_CRYSTAL_NETWORK || gellant.family == OG_GEL_PHYSICAL_POLYMER)
        {
          og_gellant_respond (&gellant, 2.0 * gellant.gel_point, 200.0, 0.85, &typical, &response);
          g_assert_cmpfloat (response.yield_pa, <, 0.02 * gellant.yield_pa + 1e-9);
        }
    }
  g_assert_cmpuint (n, >=, 30);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  og_gellant_turn (&(OgGellant) { 0 }, NULL, &typical);

  g_test_add_func ("/gellant/suspension", test_suspension);
  g_test_add_func ("/gellant/martin", test_martin);
  g_test_add_func ("/gellant/percolation", test_percolation);
  g_test_add_func ("/gellant/solubility", test_solubility);
  g_test_add_func ("/gellant/flow-curve", test_flow_curve);
  g_test_add_func ("/gellant/published-gel-points", test_published_gel_points);
  g_test_add_func ("/gellant/limits", test_limits);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
