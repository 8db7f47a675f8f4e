/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/saying.h"

G_BEGIN_DECLS

/**
 * OgProduct: what a recipe is to become. It decides which limits, daily amounts and containers
 * apply.
 */
typedef enum
{
  OG_PRODUCT_UNSAID,
  OG_PRODUCT_LIP_APPLICATOR, /* lip oil in a tube with a wand */
  OG_PRODUCT_LIP_ROLL_ON,
  OG_PRODUCT_SKIN_ROLL_ON,
  OG_PRODUCT_BODY,
  OG_PRODUCT_MASSAGE,
  OG_N_PRODUCTS
} OgProduct;

/** OgSite: where a product stays. What is not said counts as both. */
typedef enum
{
  OG_SITE_LIPS = 1 << 0,
  OG_SITE_SKIN = 1 << 1
} OgSite;

const char *og_product_to_nick   (OgProduct    product); /* "lip-applicator" */
const char *og_product_get_name  (OgProduct    product); /* translated: "Lip oil with applicator" */
OgWord      og_product_word      (OgProduct    product); /* the name as a value of a saying */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_product_from_nick (const char  *nick,
                                  OgProduct   *product);
/** Returns: one or both flags of #OgSite */
guint       og_product_get_sites (OgProduct    product);

/** OgNetUnit: how the content of a container is declared. */
typedef enum
{
  OG_NET_ML,
  OG_NET_G
} OgNetUnit;

/** OgPackage: the container. NAN: not said. */
typedef struct
{
  double    nominal;       /* declared content, in @unit, above 0 */
  OgNetUnit unit;
  double    capacity_ml;   /* filled to the brim without the applicator */
  double    applicator_ml; /* what wand or ball take up inside */
} OgPackage;

/** Makes @package unknown: sizes NAN, nominal content in ml. */
void        og_package_init      (OgPackage        *package);
/** Returns: %TRUE if all members agree; unknown equals unknown */
gboolean    og_package_equal     (const OgPackage  *a,
                                  const OgPackage  *b);
/** TRUE if every number said is finite, above 0 (the applicator may be 0) and below 1e6, and the
 * applicator is smaller than the container. */
gboolean    og_package_is_valid  (const OgPackage  *package);

/** OgCostBasis: what a cost that is no material is counted by. */
typedef enum
{
  OG_COST_PER_CONTAINER,
  OG_COST_PER_BATCH,
  OG_N_COST_BASES
} OgCostBasis;

/** Highest price of one cost, in its currency. */
#define OG_COST_MAX_PRICE 1e9

/** OgCostLine: packaging, labour and the like. */
typedef struct
{
  char       *name;
  double      price;    /* 0 to OG_COST_MAX_PRICE */
  char       *currency; /* code of ISO 4217, or what an older file says; "" if not said; never converted */
  OgCostBasis basis;
} OgCostLine;

const char *og_cost_basis_to_nick   (OgCostBasis        basis); /* "container" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_cost_basis_from_nick (const char        *nick,
                                     OgCostBasis       *basis);
/** Returns: (transfer full): a cost of @price in @currency, 0 or more, for what @basis says; texts
 * are copied */
OgCostLine *og_cost_line_new        (const char        *name,
                                     double             price,
                                     const char        *currency,
                                     OgCostBasis        basis);
/** Returns: (transfer full): a copy that shares nothing with its original */
OgCostLine *og_cost_line_copy       (const OgCostLine  *line);
/** Frees @line with all it holds. */
void        og_cost_line_free       (OgCostLine        *line);
/** A #GEqualFunc over #OgCostLine. */
gboolean    og_cost_line_equal      (gconstpointer      a,
                                     gconstpointer      b);

G_END_DECLS
