/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"
#include "core/recipe/formula.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

/** OgCostItem: what one line of the recipe, or one cost line, costs in the whole batch. */
typedef struct
{
  guint  line_id;       /* 0: packaging, labour and the like */
  char  *name;
  double g;             /* NAN for what is no material */
  double price_per_kg;  /* NAN for what is no material, or unknown */
  double amount;        /* for the batch; NAN if unknown */
  char  *currency;      /* nullable: not said */
} OgCostItem;

/** OgCostTotal: the sum of one currency. */
typedef struct
{
  char  *currency;      /* nullable: prices whose currency nobody said */
  double batch;
  double container;     /* batch over the number of containers; NAN without one */
  double materials;     /* of @batch: the lines of the recipe alone */
} OgCostTotal;

/** OgCost: what a batch costs, as far as prices are known. */
typedef struct
{
  GPtrArray *items;     /* of OgCostItem, lines of the recipe in order, then cost lines */
  GPtrArray *totals;    /* of OgCostTotal, by currency; never added up or converted */
  guint      n_unknown; /* items without a price: not part of any total */
  double     unknown_g; /* of materials without a price */
} OgCost;

/**
 * og_cost_new:
 * @line_g: (nullable): grams of each line that is not 0, in order; %NULL: as the recipe says for
 * @batch_g
 * @shelf: (nullable): prices
 * @n_containers: 0 if nobody knows; costs per container then have no amount
 *
 * Returns: (transfer full)
 */
OgCost         *og_cost_new          (const OgFormula   *formula,
                                      const OgCatalog   *catalog,
                                      double             batch_g,
                                      const double      *line_g,
                                      const OgShelf     *shelf,
                                      guint              n_containers);
/** Frees @cost with all it holds. */
void            og_cost_free         (OgCost            *cost);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgCost, og_cost_free)

/** OgPackOffer: a pack that can be bought. One that is outside of its ranges, or of which it would take
 * more than 1e9, is never bought. */
typedef struct
{
  double size_g;   /* above 0 */
  double price;    /* 0 or more */
  char  *currency;
} OgPackOffer;

/** OgPackChoice: the cheapest way to buy at least what is needed in one currency. */
typedef struct
{
  char  *currency;
  guint *counts;   /* of each offer; 0 for those in other currencies */
  guint  n_offers;
  double price;
  double bought_g;
  double left_g;   /* over what is needed */
} OgPackChoice;

/**
 * og_packs_choose:
 * @offers: (array length=n_offers)
 * @needed_g: above 0
 *
 * Exact integer program (GLPK): least price, of equal prices the least left over.
 *
 * Returns: (transfer full) (element-type OgPackChoice): one for each currency in which there is an
 * answer, by currency
 */
GPtrArray      *og_packs_choose      (const OgPackOffer *offers,
                                      guint              n_offers,
                                      double             needed_g);

G_END_DECLS
