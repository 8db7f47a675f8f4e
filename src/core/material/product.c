/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/product.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/currency.h"
#include "core/base/nick.h"
#include "core/base/units.h"

#define MOST 1e6 /* ml or g of one container: a slip of the keyboard */

static const struct
{
  OgNick word;
  guint  sites;
} products[OG_N_PRODUCTS] = {
  [OG_PRODUCT_UNSAID] = { { "unsaid", N_("Not said") }, OG_SITE_LIPS | OG_SITE_SKIN },
  [OG_PRODUCT_LIP_APPLICATOR] = { { "lip-applicator", N_("Lip oil with applicator") }, OG_SITE_LIPS },
  [OG_PRODUCT_LIP_ROLL_ON] = { { "lip-roll-on", N_("Lip oil, roll-on") }, OG_SITE_LIPS },
  [OG_PRODUCT_SKIN_ROLL_ON] = { { "skin-roll-on", N_("Skin oil, roll-on") }, OG_SITE_SKIN },
  [OG_PRODUCT_BODY] = { { "body", N_("Body oil") }, OG_SITE_SKIN },
  [OG_PRODUCT_MASSAGE] = { { "massage", N_("Massage oil") }, OG_SITE_SKIN },
};
OG_DEFINE_NICKS (OgProduct, og_product, products)
OG_DEFINE_NAMES (OgProduct, og_product, products)
OG_DEFINE_WORDS (OgProduct, og_product, products)

static const OgNick cost_bases[OG_N_COST_BASES] = {
  [OG_COST_PER_CONTAINER] = { "container", NULL },
  [OG_COST_PER_BATCH] = { "batch", NULL },
};
OG_DEFINE_NICKS (OgCostBasis, og_cost_basis, cost_bases)

guint
og_product_get_sites (OgProduct product)
{
  g_return_val_if_fail (product < OG_N_PRODUCTS, 0);

  return products[product].sites;
}

void
og_package_init (OgPackage *package)
{
  g_return_if_fail (package != NULL);

  *package = (OgPackage) { NAN, OG_NET_ML, NAN, NAN };
}

gboolean
og_package_equal (const OgPackage *a,
                  const OgPackage *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return og_number_equal (a->nominal, b->nominal) && a->unit == b->unit
         && og_number_equal (a->capacity_ml, b->capacity_ml)
         && og_number_equal (a->applicator_ml, b->applicator_ml);
}

gboolean
og_package_is_valid (const OgPackage *package)
{
  g_return_val_if_fail (package != NULL, FALSE);

  return (isnan (package->nominal) || (package->nominal > 0.0 && package->nominal < MOST))
         && (isnan (package->capacity_ml)
             || (package->capacity_ml > 0.0 && package->capacity_ml < MOST))
         && (isnan (package->applicator_ml)
             || (package->applicator_ml >= 0.0 && package->applicator_ml < MOST))
         && !(package->applicator_ml >= package->capacity_ml);
}

OgCostLine *
og_cost_line_new (const char  *name,
                  double       price,
                  const char  *currency,
                  OgCostBasis  basis)
{
  OgCostLine *line;

  g_return_val_if_fail (name != NULL && currency != NULL && basis < OG_N_COST_BASES, NULL);

  line = g_new0 (OgCostLine, 1);
  line->name = g_strdup (name);
  line->price = price;
  line->currency = g_strdup (og_currency_find (currency) != NULL ? og_currency_find (currency) : currency);
  line->basis = basis;
  return line;
}

OgCostLine *
og_cost_line_copy (const OgCostLine *line)
{
  g_return_val_if_fail (line != NULL, NULL);

  return og_cost_line_new (line->name, line->price, line->currency, line->basis);
}

void
og_cost_line_free (OgCostLine *line)
{
  if (line == NULL)
    return;
  g_free (line->name);
  g_free (line->currency);
  g_free (line);
}

gboolean
og_cost_line_equal (gconstpointer a,
                    gconstpointer b)
{
  const OgCostLine *x = a, *y = b;

  return g_str_equal (x->name, y->name) && x->price == y->price
         && g_str_equal (x->currency, y->currency) && x->basis == y->basis;
}
