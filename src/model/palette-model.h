/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/catalog.h"

G_BEGIN_DECLS

#define OG_TYPE_MATERIAL (og_material_get_type ())
G_DECLARE_FINAL_TYPE (OgMaterial, og_material, OG, MATERIAL, GObject)

/* GObject around a catalog entry. Properties: "id", "name", "inci" (strings), "kind-name" (string). */
const OgIngredient *og_material_get_ingredient (OgMaterial *self);

#define OG_TYPE_PALETTE_MODEL (og_palette_model_get_type ())
G_DECLARE_FINAL_TYPE (OgPaletteModel, og_palette_model, OG, PALETTE_MODEL, GObject)

/* GListModel of OgMaterial in catalog order, filtered by words, kind and excluded/required tags. */
OgPaletteModel *og_palette_model_new         (OgCatalog      *catalog);
void            og_palette_model_set_catalog (OgPaletteModel *self, OgCatalog *catalog);
void            og_palette_model_set_words   (OgPaletteModel *self, const char *words);
/** @kind_nick: (nullable): NULL for all kinds */
void            og_palette_model_set_kind    (OgPaletteModel *self, const char *kind_nick);
/** @tags: (nullable): materials bearing any of these are left out */
void            og_palette_model_set_without (OgPaletteModel *self, const char *const *tags);

G_END_DECLS
