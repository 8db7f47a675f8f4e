/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/material/catalog.h"

G_BEGIN_DECLS

#define OG_TYPE_MATERIAL (og_material_get_type ())
G_DECLARE_FINAL_TYPE (OgMaterial, og_material, OG, MATERIAL, GObject)

/**
 * OgMaterial:
 *
 * GObject around a catalog entry. Properties, read-only and constant: "id", "name", "inci"
 * (strings, the last nullable), "kind-name" (string, translated).
 */

/** Returns: (transfer none) */
const OgIngredient *og_material_get_ingredient   (OgMaterial         *self);

#define OG_TYPE_PALETTE_MODEL (og_palette_model_get_type ())
G_DECLARE_FINAL_TYPE (OgPaletteModel, og_palette_model, OG, PALETTE_MODEL, GObject)

/**
 * OgPaletteModel:
 *
 * #GListModel of #OgMaterial in catalog order, filtered by words, kind and excluded tags. A catalog
 * entry keeps its object as long as the catalog has it; each change of a filter is told by at most
 * one items-changed.
 */

/** Returns: (transfer full): a list of all materials of @catalog, on which it holds a reference */
OgPaletteModel     *og_palette_model_new         (OgCatalog          *catalog);
/** @catalog: what is shown from now on; the filters stay */
void                og_palette_model_set_catalog (OgPaletteModel     *self,
                                                  OgCatalog          *catalog);
/** @words: (nullable): as og_ingredient_matches() takes them */
void                og_palette_model_set_words   (OgPaletteModel     *self,
                                                  const char         *words);
/** @kind_nick: (nullable): %NULL for all kinds */
void                og_palette_model_set_kind    (OgPaletteModel     *self,
                                                  const char         *kind_nick);
/** @tags: (nullable): materials bearing any of these are left out */
void                og_palette_model_set_without (OgPaletteModel     *self,
                                                  const char *const  *tags);

G_END_DECLS
