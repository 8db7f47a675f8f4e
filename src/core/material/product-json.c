/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/product-json.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/json-write.h"

static const char *const units[] = { [OG_NET_ML] = "ml", [OG_NET_G] = "g" };

/* A member that is left out leaves @value alone. */
static gboolean
read_number (JsonObject  *object,
             const char  *member,
             double      *value,
             GError     **error)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_VALUE (node)
      || (json_node_get_value_type (node) != G_TYPE_DOUBLE
          && json_node_get_value_type (node) != G_TYPE_INT64))
    {
      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE, _("“%s” must be a number."),
                   member);
      return FALSE;
    }
  *value = json_node_get_double (node);
  return TRUE;
}

static gboolean
read_text (JsonObject   *object,
           const char   *member,
           const char  **value,
           GError      **error)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL)
    return TRUE;
  if (!JSON_NODE_HOLDS_VALUE (node) || json_node_get_value_type (node) != G_TYPE_STRING)
    {
      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE, _("“%s” must be text."),
                   member);
      return FALSE;
    }
  *value = json_node_get_string (node);
  return TRUE;
}

static gboolean
fail_choice (GError     **error,
             const char  *member,
             const char  *text)
{
  g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE,
               /* Translators: the text found, then the name of the member it stands in */
               _("“%s” is no value of “%s”."), text, member);
  return FALSE;
}

static gboolean
read_unit (JsonObject  *object,
           OgNetUnit   *unit,
           GError     **error)
{
  const char *text = units[*unit];

  if (!read_text (object, "unit", &text, error))
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_str_equal (text, units[i]))
      {
        *unit = (OgNetUnit) i;
        return TRUE;
      }
  return fail_choice (error, "unit", text);
}

gboolean
og_package_from_json (JsonObject  *object,
                      OgPackage   *package,
                      GError     **error)
{
  g_return_val_if_fail (object != NULL && package != NULL, FALSE);

  og_package_init (package);
  if (!read_number (object, "nominal", &package->nominal, error)
      || !read_unit (object, &package->unit, error)
      || !read_number (object, "capacity_ml", &package->capacity_ml, error)
      || !read_number (object, "applicator_ml", &package->applicator_ml, error))
    return FALSE;
  if (!og_package_is_valid (package))
    {
      g_set_error_literal (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE,
                           _("The sizes of the container must be above 0, and the applicator must "
                             "fit into it."));
      return FALSE;
    }
  return TRUE;
}

JsonObject *
og_package_to_json (const OgPackage *package)
{
  JsonObject *object;

  g_return_val_if_fail (package != NULL, NULL);

  object = json_object_new ();
  og_json_set_number (object, "nominal", package->nominal);
  json_object_set_string_member (object, "unit", units[package->unit]);
  og_json_set_number (object, "capacity_ml", package->capacity_ml);
  og_json_set_number (object, "applicator_ml", package->applicator_ml);
  return object;
}

OgCostLine *
og_cost_line_from_json (JsonObject  *object,
                        GError     **error)
{
  const char *name = "";
  const char *currency = "";
  const char *basis_text = og_cost_basis_to_nick (OG_COST_PER_CONTAINER);
  double price = NAN;
  OgCostBasis basis;

  g_return_val_if_fail (object != NULL, NULL);

  if (!read_text (object, "name", &name, error)
      || !read_text (object, "currency", &currency, error)
      || !read_text (object, "per", &basis_text, error)
      || !read_number (object, "price", &price, error))
    return NULL;
  if (!og_cost_basis_from_nick (basis_text, &basis))
    {
      fail_choice (error, "per", basis_text);
      return NULL;
    }
  if (!(price >= 0.0 && price <= OG_COST_MAX_PRICE))
    {
      g_set_error (error, OG_STORAGE_ERROR, OG_STORAGE_ERROR_VALUE,
                   /* Translators: the name of a cost, such as packaging */
                   _("The price of “%s” must be 0 or more."), name);
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
