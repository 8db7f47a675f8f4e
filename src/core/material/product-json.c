/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/product-json.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/json-write.h"
#include "core/base/nick.h"

static const OgNick units[] = {
  [OG_NET_ML] = { "ml", NULL },
  [OG_NET_G] = { "g", NULL },
};

static gboolean
net_unit_from_nick (const char *nick,
                    OgNetUnit  *unit)
{
  int found;

  if (!og_nick_find (OG_NICK_TABLE (units), nick, &found))
    return FALSE;
  *unit = (OgNetUnit) found;
  return TRUE;
}

OG_JSON_DEFINE_CHOICE (OgNetUnit, net_unit)
OG_JSON_DEFINE_CHOICE (OgCostBasis, og_cost_basis)

static gboolean
read_number (const OgJsonReader *reader,
             const char         *member,
             double             *out)
{
  return og_json_read_number (reader, member, OG_JSON_OPTIONAL, -INFINITY, INFINITY, out);
}

gboolean
og_package_read (const OgJsonReader *reader,
                 OgPackage          *package)
{
  g_return_val_if_fail (reader != NULL && package != NULL, FALSE);

  og_package_init (package);
  if (!read_number (reader, "nominal", &package->nominal)
      || !net_unit_read (reader, "unit", OG_JSON_OPTIONAL, &package->unit)
      || !read_number (reader, "capacity_ml", &package->capacity_ml)
      || !read_number (reader, "applicator_ml", &package->applicator_ml))
    return FALSE;
  return og_package_is_valid (package)
         || og_json_fail (reader, NULL, "%s",
                          _("The sizes of the container must be above 0, and the applicator must "
                            "fit into it."));
}

JsonObject *
og_package_to_json (const OgPackage *package)
{
  JsonObject *object;

  g_return_val_if_fail (package != NULL, NULL);

  object = json_object_new ();
  og_json_set_number (object, "nominal", package->nominal);
  json_object_set_string_member (object, "unit", units[package->unit].nick);
  og_json_set_number (object, "capacity_ml", package->capacity_ml);
  og_json_set_number (object, "applicator_ml", package->applicator_ml);
  return object;
}

OgCostLine *
og_cost_line_read (const OgJsonReader *reader)
{
  g_autofree char *name = g_strdup ("");
  g_autofree char *currency = g_strdup ("");
  OgCostBasis basis = OG_COST_PER_CONTAINER;
  double price = NAN;

  g_return_val_if_fail (reader != NULL, NULL);

  if (!og_json_read_note (reader, "name", G_MAXLONG, &name)
      || !og_json_read_note (reader, "currency", G_MAXLONG, &currency)
      || !og_cost_basis_read (reader, "per", OG_JSON_OPTIONAL, &basis)
      || !read_number (reader, "price", &price))
    return NULL;
  if (!(price >= 0.0 && price <= OG_COST_MAX_PRICE))
    {
      /* Translators: the name of a cost, such as packaging */
      og_json_fail (reader, NULL, _("The price of “%s” must be 0 or more."), name);
      return NULL;
    }
  return og_cost_line_new (name, price, currency, basis);
}

JsonObject *
og_cost_line_to_json (const OgCostLine *line)
{
  JsonObject *object;

  g_return_val_if_fail (line != NULL, NULL);

  object = json_object_new ();
  json_object_set_string_member (object, "name", line->name);
  json_object_set_string_member (object, "currency", line->currency);
  json_object_set_string_member (object, "per", og_cost_basis_to_nick (line->basis));
  og_json_set_number (object, "price", line->price);
  return object;
}
