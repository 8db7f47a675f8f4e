/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/exposure.h"

#include <math.h>

#include "common/fixture.h"
#include "core/base/error.h"

static OgCatalog *catalog;

/* Daily amounts of SCCS/1647/22, Table 3A (read in a summary). */
static void
test_daily_amounts (void)
{
  const OgDailyAmount *lips = og_daily_amount_get (OG_SITE_LIPS);
  const OgDailyAmount *skin = og_daily_amount_get (OG_SITE_SKIN);

  g_assert_cmpfloat (lips->g_day, ==, 0.057);
  g_assert_cmpfloat (lips->mg_kg_day, ==, 0.90);
  g_assert_cmpfloat (lips->swallowed_pct, ==, 100.0);
  g_assert_cmpfloat (skin->g_day, ==, 7.82);
  g_assert_cmpfloat (skin->mg_kg_day, ==, 123.20);
  g_assert_cmpfloat (skin->swallowed_pct, ==, 0.0);
}

/* Worked by hand for an invented substance, 0.50 wt %, NOAEL 100 mg/(kg day), bioavailability 50 %:
 * 123.20 x 0.005 x 0.50 = 0.3080 and 50 / 0.3080 = 162.3; 0.90 x 0.005 = 0.0045 and 11 111; both
 * together 0.3125 and 160. */
static void
test_worked (void)
{
  OgReferencePoint point;
  OgExposure exposure;

  og_reference_point_init (&point);
  point.noael_mg_kg_day = 100.0;
  og_exposure_compute (OG_SITE_SKIN, 0.50, 0.50, &point, &exposure);
  g_assert_cmpfloat_with_epsilon (exposure.dose_mg_kg_day, 0.3080, 1e-6);
  g_assert_cmpfloat_with_epsilon (exposure.margin, 162.3, 0.05);
  og_exposure_compute (OG_SITE_LIPS, 0.50, 1.00, &point, &exposure);
  g_assert_cmpfloat_with_epsilon (exposure.dose_mg_kg_day, 0.0045, 1e-9);
  g_assert_cmpfloat_with_epsilon (exposure.margin, 11111.0, 0.5);
  g_assert_cmpfloat_with_epsilon (exposure.high_dose_mg_kg_day, 0.0090, 1e-9);
  g_assert_cmpfloat_with_epsilon (exposure.low_margin, 5555.5, 0.5);
  og_exposure_compute (OG_SITE_LIPS | OG_SITE_SKIN, 0.50, 0.50, &point, &exposure);
  g_assert_cmpfloat_with_epsilon (exposure.dose_mg_kg_day, 0.3125, 1e-6);
  g_assert_cmpfloat_with_epsilon (exposure.margin, 160.0, 1e-6);
}

/* A margin is never made up. */
static void
test_unknown (void)
{
  OgReferencePoint point;
  OgExposure exposure;

  og_reference_point_init (&point);
  g_assert_true (isnan (point.noael_mg_kg_day));
  og_exposure_compute (OG_SITE_SKIN, 0.50, 0.50, &point, &exposure);
  g_assert_cmpfloat (exposure.dose_mg_kg_day, >, 0.0);
  g_assert_true (isnan (exposure.margin) && isnan (exposure.low_margin));
  point.noael_mg_kg_day = 100.0;
  og_exposure_compute (OG_SITE_SKIN, 0.0, 0.0, &point, &exposure);
  g_assert_true (isnan (exposure.margin));
}

/* Menthol as such and within peppermint oil: 0.2 + 0.5 x 41 %, up to 0.2 + 0.5 x 49 % (ISO 856,
 * recalled). */
static void
test_amounts (void)
{
  g_autoptr (OgFormula) formula =
    fixture_recipe (FIXTURE_HEADER "A,sunflower-oil,99.3\nA,menthol,0.2\nA,peppermint-oil,0.5\n",
                    catalog);
  static const char *const names[] = { "menthol", "MENTHOL", " l-menthol ", "2216-51-5" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_auto (OgSubstanceAmount) amount = { NULL };
      g_autoptr (GError) error = NULL;

      g_assert_true (og_substance_find (formula, catalog, names[i], &amount, &error));
      g_assert_no_error (error);
      g_assert_cmpstr (amount.name, ==, "Menthol");
      g_assert_cmpfloat_with_epsilon (amount.pct, 0.405, 1e-9);
      g_assert_cmpfloat_with_epsilon (amount.high_pct, 0.445, 1e-9);
      g_assert_true (amount.complete);
    }
}

static void
test_amounts_unknown (void)
{
  g_autoptr (OgFormula) formula =
    fixture_recipe (FIXTURE_HEADER "A,red-iron-oxide-in-castor-oil,98\nA,menthol,1\n"
                                   "A,flavour-oil-soluble,1\n", catalog);
  g_auto (OgSubstanceAmount) menthol = { NULL };
  g_auto (OgSubstanceAmount) castor = { NULL };
  g_auto (OgSubstanceAmount) none = { NULL };
  g_autoptr (GError) error = NULL;

  g_assert_true (og_substance_find (formula, catalog, "menthol", &menthol, &error));
  g_assert_false (menthol.complete);
  g_assert_true (og_substance_find (formula, catalog, "castor-oil", &castor, &error));
  g_assert_cmpfloat (castor.pct, >, 10.0);
  g_assert_cmpfloat (castor.pct, <, 98.0);
  g_assert_false (og_substance_find (formula, catalog, "camphor", &none, &error));
  g_assert_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE);
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/exposure/daily-amounts", test_daily_amounts);
  g_test_add_func ("/exposure/worked", test_worked);
  g_test_add_func ("/exposure/unknown", test_unknown);
  g_test_add_func ("/exposure/amounts", test_amounts);
  g_test_add_func ("/exposure/amounts-unknown", test_amounts_unknown);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
