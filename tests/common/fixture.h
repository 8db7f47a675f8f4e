/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

#define FIXTURE_HEADER "phase,ingredient,percent\n"

/* Common practice, no source: a poured lip oil of castor, a seed oil and a little polyamide. */
#define FIXTURE_LIP_OIL                                                                            \
  FIXTURE_HEADER "Hot,castor-oil,63.0\nHot,polyamide-3,1.5\nCool,sunflower-oil,34.0\n"             \
                 "Colour,red-iron-oxide-in-castor-oil,0.5\nLast,tocopherol,1.0\n"

/** Returns: (transfer full): the real library; aborts the test if it cannot be read */
OgCatalog *fixture_catalog (void);
/** Returns: (transfer full): the recipe of a table; aborts the test if it is refused */
OgFormula *fixture_recipe  (const char      *table,
                            const OgCatalog *catalog);
/** Aborts the test unless @value lies within a share @relative of @expected. */
void       assert_within   (double           value,
                            double           expected,
                            double           relative);

G_END_DECLS
