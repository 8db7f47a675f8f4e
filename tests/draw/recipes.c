/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "recipes.h"

#include <math.h>

#include "core/recipe/recipe-table.h"

OgCatalog *
test_catalog_load (void)
{
  g_autoptr (GError) error = NULL;
  OgCatalog *catalog = og_catalog_load (g_getenv ("OLEOGRAPH_DATA_DIR"), &error);

  g_assert_no_error (error);
  return catalog;
}

OgFormula *
test_recipe_new (OgCatalog *catalog)
{
  static const char table[] = "phase,ingredient,percent\n"
                              "Melt,castor-oil,42\n"
                              "Melt,sunflower-oil-high-oleic,balance\n"
                              "Melt,polyamide-3,2.25\n"
                              "Last,tocopherol,0.5\n";
  g_autoptr (GError) error = NULL;
  OgFormula *formula = og_recipe_table_parse (table, -1, "test.csv", catalog, &error);
  OgFormulaPhase *melt;

  g_assert_no_error (error);
  g_free (formula->title);
  formula->title = g_strdup ("Affluent µ-office fluid");
  g_free (formula->purpose);
  formula->purpose = g_strdup ("For the ferry's office staff");
  formula->batch_g = 200;
  formula->target_low_mpa_s = 300;
  formula->target_high_mpa_s = 1200;
  melt = g_ptr_array_index (formula->phases, 0);
  melt->temperature_c = 110;
  ((OgFormulaLine *) g_ptr_array_index (melt->lines, 0))->held = TRUE;

  return formula;
}

OgFormula *
test_recipe_new_long (guint n_lines)
{
  OgFormula *formula = og_formula_new ();
  OgFormulaPhase *phase = NULL;

  g_free (formula->title);
  formula->title = g_strdup ("A long one");
  for (guint i = 0; i < n_lines; i++)
    {
      g_autofree char *name = g_strdup_printf ("Stage %03u", i / 10 + 1);
      OgFormulaLine *line;

      if (i % 10 == 0)
        phase = og_formula_add_phase (formula, name, NAN, G_MAXUINT);
      line = og_formula_add_line (formula, phase, i % 2 == 0 ? "castor-oil" : "sunflower-oil-high-oleic", 1000,
                                  G_MAXUINT);
      line->note = g_strdup_printf ("remark-%04u", i + 1);
      if (i == 0)
        line->balance_share = 1;
    }
  og_formula_balance (formula);

  return formula;
}

OgResult *
test_evaluate (const OgFormula *formula,
               OgCatalog       *catalog)
{
  OgConditions conditions = { .curves = TRUE };

  return og_evaluate (formula, catalog, &conditions);
}
