/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/nick.h"
#include "core/material/ingredient.h"

G_BEGIN_DECLS

/** OgFigureRule: what a figure of one name must satisfy. */
typedef struct
{
  OgNick      word;     /* member name in the file; no name for gelling figures */
  const char *unit;     /* the one unit allowed */
  double      lowest;   /* smallest number that can be meant */
  double      highest;  /* largest number that can be meant */
  gboolean    at_c;     /* says nothing without its temperature */
} OgFigureRule;

/** OgGelFigureRule: the same for a figure of the gelling block, and where it is kept. */
typedef struct
{
  OgFigureRule rule;
  gsize        offset; /* in OgGelling */
} OgGelFigureRule;

extern const OgFigureRule og_figure_rules[OG_N_FIGURES];

#define OG_N_GEL_FIGURES 10 /* of OgGelling, see og_gel_figure_rules */
extern const OgGelFigureRule og_gel_figure_rules[OG_N_GEL_FIGURES];

/** Returns: (transfer none): the figure of @gelling that @index of og_gel_figure_rules describes */
OgFigure     *og_gelling_get_figure      (OgGelling           *gelling,
                                          guint                index);

/** Makes @figure unknown: all numbers NAN, no source. */
void          og_figure_init             (OgFigure            *figure);
/** Frees the texts of @figure, not @figure itself. */
void          og_figure_clear            (OgFigure            *figure);

/** Returns: (transfer full) (element-type OgViscosityFigure): an empty array that clears its
 * elements */
GArray       *og_viscosity_array_new     (void);
/** Returns: (transfer full): an empty array of substances that a material brings along, which
 * clears its elements */
GArray       *og_constituent_array_new   (void);

/** Returns: (transfer full): a material that knows nothing yet */
OgIngredient *og_ingredient_new          (void);
/** Returns: (transfer full): a deep copy, with its own reference on the definition */
OgIngredient *og_ingredient_copy         (const OgIngredient  *ingredient);
/** Fills the search text from everything else. */
void          og_ingredient_index        (OgIngredient        *ingredient);

/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_quality_from_nick       (const char          *nick,
                                          OgQuality           *quality);
/** Returns: (transfer none) (nullable): "crystal-network"; %NULL for %OG_GEL_NONE */
const char   *og_gel_family_to_nick      (OgGelFamily          family);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_gel_family_from_nick    (const char          *nick,
                                          OgGelFamily         *family);
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean      og_solvent_fit_from_nick   (const char          *nick,
                                          OgSolventFit        *fit);
/** Returns: %TRUE if data/catalog/SCHEMA.md lists the role */
gboolean      og_role_is_known           (const char          *role);
/** Returns: %TRUE if data/catalog/SCHEMA.md lists the use */
gboolean      og_use_is_known            (const char          *use);
/** Returns: %TRUE if data/catalog/SCHEMA.md lists the tag */
gboolean      og_tag_is_known            (const char          *tag);

G_END_DECLS
