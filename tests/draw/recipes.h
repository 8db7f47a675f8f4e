/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/predict/evaluate.h"

/** Returns: (transfer full): the catalog of the source tree, as OLEOGRAPH_DATA_DIR names it */
OgCatalog *test_catalog_load    (void);
/** Returns: (transfer full): an invented lip oil with a held line, a balance line and two phases */
OgFormula *test_recipe_new      (OgCatalog       *catalog);
/** Returns: (transfer full): @n_lines lines in phases of ten, each with the remark "remark-0001" and so on */
OgFormula *test_recipe_new_long (guint            n_lines);
OgResult  *test_evaluate        (const OgFormula *formula,
                                 OgCatalog       *catalog);
