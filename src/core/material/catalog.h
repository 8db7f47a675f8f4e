/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/ingredient.h"
#include "core/material/parameters.h"
#include "core/material/rules.h"
#include "core/material/search.h"

G_BEGIN_DECLS

/**
 * OgCatalog:
 *
 * All known materials by id, with the parameters of the prediction and the rules. Immutable, reference counted. A
 * catalog may lie over another one: its own materials hide those of the same id below.
 */
typedef struct _OgCatalog OgCatalog;

/**
 * og_catalog_load:
 * @data_dir: folder that holds `catalog/`, `model/parameters.json`,
 * `model/gelling.json` and perhaps `rules/`
 *
 * Reads every catalog file and every rules file, in name order. Refuses whatever
 * data/catalog/SCHEMA.md and data/rules/SCHEMA.md do not allow; the message names file, id and
 * member.
 *
 * Returns: (transfer full): the catalog, or %NULL with an #OgCatalogError or a #GFileError
 */
OgCatalog          *og_catalog_load             (const char          *data_dir,
                                                 GError             **error);
/**
 * og_catalog_new_from_json:
 * @text: one catalog file; @length bytes, or -1
 * @name: file name for messages
 * @parameters: (nullable): parameters to carry
 *
 * Returns: (transfer full): the catalog, or %NULL with an #OgCatalogError; compositions may name
 * its own materials only
 */
OgCatalog          *og_catalog_new_from_json    (const char          *text,
                                                 gssize               length,
                                                 const char          *name,
                                                 OgParameters        *parameters,
                                                 GError             **error);
/**
 * og_catalog_new_overlay:
 * @base: the catalog below
 * @materials: (element-type OgIngredient): own materials, each taking precedence over @base; of two
 * with one id the first counts. Their compositions are not checked: they may name unknown materials
 * or lead back to themselves.
 *
 * Returns: (transfer full)
 */
OgCatalog          *og_catalog_new_overlay      (OgCatalog           *base,
                                                 GPtrArray           *materials);
/**
 * og_catalog_new_with_rules:
 * @base: the catalog below
 * @own: rules to add to those of @base; of the same id, @own counts
 *
 * Returns: (transfer full): or %NULL with %OG_CATALOG_ERROR_DUPLICATE
 */
OgCatalog          *og_catalog_new_with_rules   (OgCatalog           *base,
                                                 OgRules             *own,
                                                 GError             **error);
/** Takes a reference. Returns: its argument */
OgCatalog          *og_catalog_ref              (OgCatalog           *catalog);
/** Gives a reference back; the last one frees. */
void                og_catalog_unref            (OgCatalog           *catalog);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgCatalog, og_catalog_unref)

/** Returns: (nullable) (transfer none): the material with this id */
const OgIngredient *og_catalog_get              (const OgCatalog     *catalog,
                                                 const char          *id);
/** Returns: number of materials, hidden ones not counted */
guint               og_catalog_get_n_items      (const OgCatalog     *catalog);
/** Returns: (transfer none): material at @index in order of kind, then name (case-folded,
 * without accents) */
const OgIngredient *og_catalog_get_item         (const OgCatalog     *catalog,
                                                 guint                index);
/** Returns: (transfer none): the fitted parameters that were read with the catalog */
const OgParameters *og_catalog_get_parameters   (const OgCatalog     *catalog);
/** Returns: (nullable) (transfer none): limits, prohibitions, declarations and notices */
const OgRules      *og_catalog_get_rules        (const OgCatalog     *catalog);
/** Returns: (nullable) (transfer none) (element-type OgRuleShare): og_rules_match() of a material of
 * @catalog, computed when the catalog was made */
const GArray       *og_catalog_get_rule_shares  (const OgCatalog     *catalog,
                                                 const OgIngredient  *ingredient);

/**
 * og_catalog_resolve:
 * @text: id, INCI name, common name or alias; case and surrounding space do not matter
 *
 * An id wins over a name, a name over an alias, an alias over an INCI name.
 *
 * Returns: (transfer none): the one material meant, or %NULL with %OG_TABLE_ERROR_INGREDIENT; the
 * message lists up to three candidates if several share the name, or near spellings if none fits
 */
const OgIngredient *og_catalog_resolve          (const OgCatalog     *catalog,
                                                 const char          *text,
                                                 GError             **error);
/**
 * og_catalog_search:
 * @typed: (nullable): as og_search_index_find() takes it
 *
 * The one rule of every place that finds materials by what somebody types.
 *
 * Returns: (transfer full) (element-type OgHit): best first; all in catalog order for nothing but
 * blanks
 */
GArray             *og_catalog_search           (const OgCatalog     *catalog,
                                                 const char          *typed);

G_END_DECLS
