/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/colour.h"

#include <string.h>

#include "common/fixture.h"

#define EPSILON 1e-9

static OgCatalog *catalog;

static void
predict (const char *table,
         double      film_um,
         OgTint     *tint)
{
  g_autoptr (OgFormula) formula = fixture_recipe (table, catalog);
  g_autoptr (GPtrArray) contents = og_formula_contents (formula, catalog);

  og_tint_predict (contents, film_um, tint);
}

static void
predict_share (const char *id,
               double      pct,
               double      film_um,
               OgTint     *tint)
{
  g_autofree char *table
      = g_strdup_printf (FIXTURE_HEADER "A,castor-oil,balance\nB,%s,%.4f\n", id, pct);

  predict (table, film_um, tint);
}

/* Limits of the relation of Kubelka & Munk: Beer's law twice through without scattering, the ground
 * without a film, R/(1 - R) growing with the thickness without absorption, and the opaque layer
 * with K/S = (1 - R)^2/2R. */
static void
test_film_limits (void)
{
  g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (0.8, 0.5, 0), 0.8 * exp (-1), EPSILON);
  g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (0.8, 0.5, 1e-12), 0.8 * exp (-1), 1e-6);
  g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (0.37, 0, 0), 0.37, EPSILON);
  for (double scattering = 0.01; scattering < 20; scattering *= 3)
    {
      g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (0, 0, scattering),
                                      scattering / (1 + scattering), 1e-6);
      g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (1, 0, scattering), 1, 1e-6);
    }
  for (double reflectance = 0.02; reflectance < 0.99; reflectance += 0.07)
    {
      double ratio = og_kubelka_munk_ratio (reflectance);

      g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (0, 1000 * ratio, 1000), reflectance,
                                      1e-4);
      g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (1, 1000 * ratio, 1000), reflectance,
                                      1e-4);
      /* the opaque layer is the one that a film of it leaves unchanged */
      g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (reflectance, 0.3 * ratio, 0.3),
                                      reflectance, EPSILON);
    }
}

/* Two films on each other are one of both thicknesses: the relation is additive. */
static void
test_film_additive (void)
{
  for (double ground = 0; ground <= 1; ground += 0.25)
    {
      double lower = og_kubelka_munk_film (ground, 0.2, 0.5);

      g_assert_cmpfloat_with_epsilon (og_kubelka_munk_film (lower, 0.4, 1),
                                      og_kubelka_munk_film (ground, 0.6, 1.5), EPSILON);
    }
}

static void
test_no_pigment (void)
{
  OgTint tint;
  OgRgb lips;
  g_autofree char *text = NULL;

  og_tint_lip_ground (&lips);
  predict (FIXTURE_HEADER "A,castor-oil,98\nA,tocopherol,2\n", OG_TINT_FILM_UM, &tint);
  g_assert_cmpint (tint.depth, ==, OG_TINT_NONE);
  g_assert_cmpfloat_with_epsilon (tint.over_white.red, 1, EPSILON);
  g_assert_cmpfloat_with_epsilon (tint.over_white.blue, 1, EPSILON);
  g_assert_cmpfloat_with_epsilon (tint.over_lips.green, lips.green, EPSILON);
  g_assert_cmpfloat_with_epsilon (tint.hiding, 0, EPSILON);
  g_assert_true (isnan (tint.mass_tone.red));
  text = og_saying_take_text (og_tint_describe (&tint));
  g_assert_nonnull (strstr (text, "no colour"));
}

/* So thick that nothing shows through, the film is the mass tone, on white as on lips. */
static void
test_opaque (void)
{
  static const char *const ids[]
      = { "red-iron-oxide", "yellow-iron-oxide", "red-7-lake", "carmine" };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      OgTint tint;
      char hex[8], mass[8], lips[8];

      predict_share (ids[i], 50, 1e5, &tint);
      og_rgb_to_hex (&tint.over_white, hex);
      og_rgb_to_hex (&tint.over_lips, lips);
      og_rgb_to_hex (&tint.mass_tone, mass);
      g_assert_cmpstr (hex, ==, mass);
      g_assert_cmpstr (lips, ==, mass);
      g_assert_cmpfloat_with_epsilon (tint.hiding, 1, 1e-3);
    }
}

/* A mass tone on file comes back as it is, within the step of 1/255 and the darkest reflectance. */
static void
test_mass_tone (void)
{
  OgTint tint;
  char hex[8];

  predict_share ("red-iron-oxide", 10, OG_TINT_FILM_UM, &tint);
  og_rgb_to_hex (&tint.mass_tone, hex);
  g_assert_cmpstr (hex, ==, og_catalog_get (catalog, "red-iron-oxide")->hex);
}

static void
test_monotone (void)
{
  static const char *const ids[] = { "red-iron-oxide", "red-7-lake", "black-iron-oxide" };

  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      double green = 1, hiding = 0;
      OgTintDepth depth = OG_TINT_NONE;

      for (double pct = 0.001; pct < 5; pct *= 1.7)
        {
          OgTint tint;

          predict_share (ids[i], pct, OG_TINT_FILM_UM, &tint);
          g_assert_cmpfloat (tint.over_white.green, <, green);
          g_assert_cmpfloat (tint.hiding, >, hiding);
          g_assert_cmpint (tint.depth, >=, depth);
          green = tint.over_white.green;
          hiding = tint.hiding;
          depth = tint.depth;
        }
      g_assert_cmpint (depth, ==, OG_TINT_FULL);
    }
}

/* Some 10 g/m2 of red iron oxide hide black from white (recalled): 0.98 of the contrast goes between
 * a third and three times as much. A film of 100 um of this recipe weighs about 95 g/m2. */
static void
test_hiding_power (void)
{
  OgTint thin, thick;

  predict_share ("red-iron-oxide", 100 * 3.3 / 95, 100, &thin);
  predict_share ("red-iron-oxide", 100 * 30.0 / 95, 100, &thick);
  g_assert_cmpfloat (thin.hiding, <, 0.98);
  g_assert_cmpfloat (thick.hiding, >, 0.98);
}

/* A colour ground in oil counts by what it holds. */
static void
test_dispersion (void)
{
  OgTint paste, powder;

  predict_share ("red-iron-oxide-in-castor-oil", 2, OG_TINT_FILM_UM, &paste);
  predict_share ("red-iron-oxide", 1, OG_TINT_FILM_UM, &powder);
  g_assert_cmpfloat_with_epsilon (paste.pigment_pct, 1, EPSILON);
  g_assert_cmpfloat_with_epsilon (paste.over_white.blue, powder.over_white.blue, EPSILON);
}

/* White pigment hides: over lips it shows, over white it does not. */
static void
test_white (void)
{
  OgTint tint;
  OgRgb lips;

  og_tint_lip_ground (&lips);
  predict_share ("titanium-dioxide", 5, OG_TINT_FILM_UM, &tint);
  g_assert_cmpfloat (tint.over_white.green, >, 0.95);
  g_assert_cmpfloat (tint.over_lips.green, >, lips.green + 0.1);
  g_assert_cmpfloat (tint.hiding, >, 0.3);
  g_assert_cmpint (tint.depth, >=, OG_TINT_SHEER);
}

static void
test_unknown_mass_tone (void)
{
  static const char text[]
      = "{\"id\":\"plain-colour\",\"name\":\"Plain colour\",\"kind\":\"colour\",\"roles\":[\"colour\"],"
        "\"uses\":[\"lip\"],\"tags\":[]}";
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GPtrArray) materials
      = g_ptr_array_new_with_free_func ((GDestroyNotify) og_ingredient_unref);
  g_autoptr (OgCatalog) own = NULL;
  g_autoptr (OgFormula) formula = NULL;
  g_autoptr (GPtrArray) contents = NULL;
  OgIngredient *ingredient;
  OgTint tint;

  g_assert_true (json_parser_load_from_data (parser, text, -1, NULL));
  ingredient = og_ingredient_new_from_json (json_node_get_object (json_parser_get_root (parser)),
                                            NULL, NULL, NULL);
  g_ptr_array_add (materials, ingredient);
  own = og_catalog_new_overlay (catalog, materials);
  formula = fixture_recipe (FIXTURE_HEADER "A,castor-oil,99\nB,plain-colour,1\n", own);
  contents = og_formula_contents (formula, own);
  og_tint_predict (contents, OG_TINT_FILM_UM, &tint);
  g_assert_cmpint (tint.depth, ==, OG_TINT_UNKNOWN);
  g_assert_cmpfloat_with_epsilon (tint.unknown_pct, 1, EPSILON);
}

static void
test_hex (void)
{
  const OgRgb colour = { 0.2, 1.5, -0.1 }, unknown = { NAN, 0, 0 };
  char hex[8];

  og_rgb_to_hex (&colour, hex);
  g_assert_cmpstr (hex, ==, "#33ff00");
  og_rgb_to_hex (&unknown, hex);
  g_assert_cmpstr (hex, ==, "");
}

int
main (int    argc,
      char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();

  g_test_add_func ("/colour/film-limits", test_film_limits);
  g_test_add_func ("/colour/film-additive", test_film_additive);
  g_test_add_func ("/colour/no-pigment", test_no_pigment);
  g_test_add_func ("/colour/opaque", test_opaque);
  g_test_add_func ("/colour/mass-tone", test_mass_tone);
  g_test_add_func ("/colour/monotone", test_monotone);
  g_test_add_func ("/colour/hiding-power", test_hiding_power);
  g_test_add_func ("/colour/dispersion", test_dispersion);
  g_test_add_func ("/colour/white", test_white);
  g_test_add_func ("/colour/unknown-mass-tone", test_unknown_mass_tone);
  g_test_add_func ("/colour/hex", test_hex);
  status = g_test_run ();
  og_catalog_unref (catalog);
  return status;
}
