/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/recipe/versions.h"

#include <string.h>

#include "common/fixture.h"
#include "common/random-recipe.h"
#include "core/recipe/recipe-limits.h"
#include "core/recipe/storage.h"

#define SEED 20261130

static OgCatalog *catalog;

static OgVersion *
keep (const char      *name,
      const OgFormula *formula)
{
  GDate date;

  g_date_set_dmy (&date, 9, 3, 2026);
  return og_version_new (name, "as\nit was", &date, og_formula_copy (formula));
}

static OgFormula *
again (const OgFormula *formula)
{
  g_autoptr (GBytes) bytes = og_storage_serialise (formula);
  g_autoptr (GError) error = NULL;
  OgFormula *read = og_storage_parse (bytes, "x", catalog, &error);

  g_assert_no_error (error);
  return read;
}

/* The file says what is in memory, whatever was kept; a version holds no versions. */
static void
test_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);

  for (guint i = 0; i < 200; i++)
    {
      g_autoptr (OgFormula) formula = random_recipe (rand, OG_PPM_WHOLE);
      g_autoptr (OgFormula) other = random_recipe (rand, OG_PPM_WHOLE);
      g_autoptr (OgFormula) read = NULL;
      g_autoptr (OgFormula) copy = NULL;
      g_autoptr (OgFormula) restored = NULL;

      g_ptr_array_add (formula->versions, keep ("One", other));
      g_ptr_array_add (formula->versions, keep ("Two", formula));
      read = again (formula);
      g_assert_true (og_formula_equal (formula, read));
      g_assert_cmpuint (read->next_id, >=, other->next_id);
      copy = og_formula_copy (read);
      g_assert_true (og_formula_equal (read, copy));
      g_ptr_array_remove_index (copy->versions, 0);
      g_assert_false (og_formula_equal (read, copy));
      g_assert_cmpuint (((OgVersion *) read->versions->pdata[1])->recipe->versions->len, ==, 0);

      restored = og_version_restore (read->versions->pdata[1], read);
      g_assert_true (og_formula_equal (read, restored));
      g_assert_true (og_version_is_now (read->versions->pdata[1], read));
    }
}

/* Programs of before read what they wrote, byte for byte, until a version is kept. */
static void
test_format (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (GBytes) plain = og_storage_serialise (formula);
  g_autoptr (GBytes) versioned = NULL;

  g_assert_nonnull (g_strstr_len (g_bytes_get_data (plain, NULL), (gssize) g_bytes_get_size (plain),
                                  "\"version\": 1\n"));
  g_assert_null (g_strstr_len (g_bytes_get_data (plain, NULL), (gssize) g_bytes_get_size (plain),
                               "\"versions\""));
  g_ptr_array_add (formula->versions, keep ("One", formula));
  versioned = og_storage_serialise (formula);
  g_assert_nonnull (g_strstr_len (g_bytes_get_data (versioned, NULL),
                                  (gssize) g_bytes_get_size (versioned), "\"version\": 2,\n"));
}

static void
test_names (void)
{
  g_autofree char *longest = g_strnfill (OG_RECIPE_MAX_VERSION_NAME, 'n');
  g_autofree char *longer = g_strnfill (OG_RECIPE_MAX_VERSION_NAME + 1, 'n');

  g_assert_true (og_versions_is_name ("Näher am Ziel 2"));
  g_assert_true (og_versions_is_name (longest));
  g_assert_false (og_versions_is_name (longer));
  g_assert_false (og_versions_is_name (""));
  g_assert_false (og_versions_is_name (" "));
  g_assert_false (og_versions_is_name ("One "));
  g_assert_false (og_versions_is_name ("One\nTwo"));
  g_assert_false (og_versions_is_name ("\xff"));
}

static void
test_limits (void)
{
  g_autoptr (OgFormula) formula = fixture_recipe (FIXTURE_LIP_OIL, catalog);
  g_autoptr (OgFormula) long_one = og_formula_new ();
  OgFormulaPhase *phase = og_formula_add_phase (long_one, "A", NAN, G_MAXUINT);

  for (guint i = 0; i < OG_RECIPE_MAX_VERSIONS; i++)
    {
      g_autofree char *name = g_strdup_printf ("V%u", i);

      g_ptr_array_add (formula->versions, keep (name, formula));
    }
  g_assert_true (og_formula_is_within_limits (formula));
  g_ptr_array_add (formula->versions, keep ("One more", formula));
  g_assert_false (og_formula_is_within_limits (formula));

  g_ptr_array_set_size (formula->versions, 1);
  g_ptr_array_add (formula->versions, keep ("V0", formula));
  g_assert_false (og_formula_is_within_limits (formula));

  for (guint i = 0; i < OG_RECIPE_MAX_VERSION_LINES - 1; i++)
    og_formula_add_line (long_one, phase, "castor-oil", 1, G_MAXUINT);
  g_ptr_array_set_size (formula->versions, 0);
  g_ptr_array_add (formula->versions, keep ("Long", long_one));
  g_assert_true (og_formula_is_within_limits (formula));
  og_formula_add_line (long_one, phase, "castor-oil", 1, G_MAXUINT);
  g_ptr_array_add (formula->versions, keep ("Too long", long_one));
  g_assert_false (og_formula_is_within_limits (formula));
}

/* An own material that is gone comes back with the version that used it; one that is there stays. */
static void
test_materials (void)
{
  static const char *const text
    = "{\"batch_g\": 100, \"format\": \"oleograph-document\", \"version\": 1, \"materials\": ["
      "{\"id\": \"quay-oil\", \"derived_from\": \"castor-oil\", \"name\": \"Quay oil\"},"
      "{\"id\": \"pier-oil\", \"derived_from\": \"quay-oil\", \"name\": \"Pier oil\"}],"
      "\"phases\": [{\"id\": 1, \"lines\": [{\"id\": 2, \"ingredient\": \"pier-oil\", \"amount\": 1000000}]}]}";
  g_autoptr (GBytes) bytes = g_bytes_new_static (text, strlen (text));
  g_autoptr (GError) error = NULL;
  g_autoptr (OgFormula) formula = og_storage_parse (bytes, "x", catalog, &error);
  g_autoptr (OgFormula) read = NULL;
  g_autoptr (OgFormula) restored = NULL;

  g_assert_no_error (error);
  g_ptr_array_add (formula->versions, keep ("One", formula));
  g_ptr_array_remove_index (formula->materials, 1);
  read = again (formula);
  g_assert_true (og_formula_equal (formula, read));
  restored = og_version_restore (read->versions->pdata[0], read);
  g_assert_cmpuint (restored->materials->len, ==, 2);
  g_assert_true (restored->materials->pdata[0] == read->materials->pdata[0]);
  g_assert_cmpstr (((OgIngredient *) restored->materials->pdata[1])->name, ==, "Pier oil");
}

static void
test_readings (void)
{
  g_autoptr (OgFormula) a = fixture_recipe (FIXTURE_HEADER "A,castor-oil,98\nA,polyamide-3,2\n", catalog);
  g_autoptr (OgFormula) b
    = fixture_recipe (FIXTURE_HEADER "A,castor-oil,98.5\nA,polyamide-3,1.5\n", catalog);
  g_autoptr (OgFormula) split
    = fixture_recipe (FIXTURE_HEADER "B,castor-oil,50\nA,polyamide-3,2\nA,castor-oil,48\n", catalog);
  g_autoptr (OgFormula) more
    = fixture_recipe (FIXTURE_HEADER "A,castor-oil,97\nA,polyamide-3,2\nA,tocopherol,1\n", catalog);
  g_autoptr (OgMeasurement) reading = og_measurement_new ();
  g_autoptr (OgMeasurement) neat = og_measurement_new ();

  og_measurement_set_recipe (reading, a);
  neat->material_id = g_strdup ("castor-oil");
  g_assert_true (og_measurement_is_of (reading, a));
  g_assert_true (og_measurement_is_of (reading, split));
  g_assert_false (og_measurement_is_of (reading, b));
  g_assert_false (og_measurement_is_of (reading, more));
  g_assert_false (og_measurement_is_of (neat, a));
  og_measurement_set_recipe (reading, more);
  g_assert_false (og_measurement_is_of (reading, a));
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  catalog = fixture_catalog ();
  g_test_add_func ("/versions/round-trip", test_round_trip);
  g_test_add_func ("/versions/format", test_format);
  g_test_add_func ("/versions/names", test_names);
  g_test_add_func ("/versions/limits", test_limits);
  g_test_add_func ("/versions/materials", test_materials);
  g_test_add_func ("/versions/readings", test_readings);
  return g_test_run ();
}
