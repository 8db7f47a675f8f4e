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

/** What the items of a #OgPaletteModel stand under. */
typedef enum
{
  OG_PALETTE_SECTION_PINNED,
  OG_PALETTE_SECTION_RECENT,
  OG_PALETTE_SECTION_KIND,  /* the catalog by kind */
  OG_PALETTE_SECTION_FOUND, /* what answers the words */
  OG_PALETTE_SECTION_NEAR   /* what is only near them */
} OgPaletteSection;

#define OG_TYPE_PALETTE_MODEL (og_palette_model_get_type ())
G_DECLARE_FINAL_TYPE (OgPaletteModel, og_palette_model, OG, PALETTE_MODEL, GObject)

/**
 * OgPaletteModel:
 *
 * #GListModel of #OgMaterial, filtered by words, kind and excluded tags, each once. Without words it
 * has what is pinned, what was used lately, then the catalog in its order; with words, the best answers
 * first. A catalog entry keeps its object as long as the catalog has it; each change of a filter is told by at most
 * one items-changed.
 */

/** Returns: (transfer full): a list of all materials of @catalog, on which it holds a reference */
OgPaletteModel     *og_palette_model_new         (OgCatalog          *catalog);
/** @catalog: what is shown from now on; the filters stay */
void                og_palette_model_set_catalog (OgPaletteModel     *self,
                                                  OgCatalog          *catalog);
/** @words: (nullable): as og_catalog_search() takes them */
void                og_palette_model_set_words   (OgPaletteModel     *self,
                                                  const char         *words);
/** @kind_nick: (nullable): %NULL for all kinds */
void                og_palette_model_set_kind    (OgPaletteModel     *self,
                                                  const char         *kind_nick);
/** @tags: (nullable): materials bearing any of these are left out */
void                og_palette_model_set_without (OgPaletteModel     *self,
                                                  const char *const  *tags);
/** @pinned, @recent: (nullable): ids of materials that stand first, those used last first; of two
 * answers to a search that are equally good too. What the catalog does not have is passed over. */
void                og_palette_model_set_first   (OgPaletteModel     *self,
                                                  const char *const  *pinned,
                                                  const char *const  *recent);
/** @position: of an item. Returns: why it stands there */
OgPaletteSection    og_palette_model_get_section (OgPaletteModel     *self,
                                                  guint               position);
/** Returns: (nullable) (transfer none): og_hits_get_sure() of what is shown; %NULL without words */
const OgIngredient *og_palette_model_get_sure    (OgPaletteModel     *self);

G_END_DECLS
