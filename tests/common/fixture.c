/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "common/fixture.h"

#include "core/base/init.h"
#include "core/recipe/recipe-table.h"

OgCatalog *
fixture_catalog (void)
{
  g_autoptr (GError) error = NULL;
  OgCatalog *catalog;

  og_core_init ();
  catalog = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);
  g_assert_no_error (error);
  return catalog;
}

OgFormula *
fixture_recipe (const char      *table,
                const OgCatalog *catalog)
{
  g_autoptr (GError) error = NULL;
  OgFormula *formula = og_recipe_table_parse (table, -1, "test.csv", catalog, &error);

  g_assert_no_error (error);
  return formula;
}

void
assert_within (double value,
               double expected,
               double relative)
{
  if (!(fabs (value / expected - 1.0) <= relative))
    g_error ("%g is not within %g %% of %g", value, 100.0 * relative, expected);
}
