/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/parameters.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/json-file.h"
#include "core/material/ingredient-private.h"

#define FORMAT "oleograph-gelling"
#define VERSION 1 /* of the format, see data/model/SCHEMA.md */

/* What a figure of each name must satisfy; the ranges are those of the catalog where it has one. */
static const struct
{
  const char *name;
  const char *unit;
  double lowest, highest;
  gsize offset;
} rules[] = {
#define RULE(name, unit, lowest, highest) \
  { #name, unit, lowest, highest, G_STRUCT_OFFSET (OgGelDefaults, name) }
  RULE (gel_point_pct, "wt %", 0.001, 100.0),
  RULE (yield_at_twice_gel_point_pa, "Pa", 0.0, 1e8),
  RULE (gel_exponent, "1", 0.01, 20.0),
  RULE (intrinsic_viscosity_dl_g, "dL/g", 0.0, 1000.0),
  RULE (association, "1", 0.0, 1e6),
  RULE (flow_index, "1", 0.01, 2.0),
  RULE (density_g_ml, "g/ml", 0.05, 25.0),
  RULE (gel_point_ln_sd, "1", 0.0, 5.0),
  RULE (yield_ln_sd, "1", 0.0, 5.0),
  RULE (thickening_ln_sd, "1", 0.0, 5.0),
  RULE (association_ln_sd, "1", 0.0, 5.0),
  RULE (gel_exponent_ln_sd, "1", 0.0, 5.0),
  RULE (temperature_sd_k, "K", 0.0, 100.0),
#undef RULE
};

/* Where in the file something is read. */
typedef struct
{
  JsonObject *sources;
  const char *family;
  const char *name; /* nullable: the family itself */
  GError    **error;
} Place;

static gboolean G_GNUC_PRINTF (3, 4)
fail (const Place   *place,
      OgCatalogError code,
      const char    *format,
      ...)
{
  g_autofree char *reason = NULL;
  va_list arguments;

  va_start (arguments, format);
  reason = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (place->name != NULL)
    g_set_error (place->error, OG_CATALOG_ERROR, code, "%s.%s: %s", place->family, place->name,
                 reason);
  else
    g_set_error (place->error, OG_CATALOG_ERROR, code, "%s: %s", place->family, reason);
  return FALSE;
}

/* Returns: (nullable): the member's text */
static const char *
get_text (JsonObject *object,
          const char *member)
{
  JsonNode *node = json_object_get_member (object, member);

  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node)
      || json_node_get_value_type (node) != G_TYPE_STRING)
    return NULL;
  return json_node_get_string (node);
}

static JsonObject *
get_object (JsonObject *object,
            const char *member)
{
  JsonNode *node = json_object_get_member (object, member);

  return node != NULL && JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
}

static gboolean
check_members (const Place       *place,
               JsonObject        *object,
               const char *const *known)
{
  g_autoptr (GList) members = json_object_get_members (object);

  for (GList *l = members; l != NULL; l = l->next)
    if (!g_strv_contains (known, l->data))
      return fail (place, OG_CATALOG_ERROR_VALUE, "%s: %s", (const char *) l->data,
                   _("is not a member of the format"));
  return TRUE;
}

/* Unit, quality and source must be said, although nothing is computed from them. */
static gboolean
check_origin (const Place *place,
              JsonObject  *figure,
              const char  *unit)
{
  const char *given = get_text (figure, "unit");
  const char *quality = get_text (figure, "quality");
  const char *source = get_text (figure, "source");
  OgQuality known;

  if (given == NULL || quality == NULL || source == NULL)
    return fail (place, OG_CATALOG_ERROR_VALUE, "%s: %s",
                 given == NULL ? "unit" : quality == NULL ? "quality" : "source",
                 _("must be a text that is not empty"));
  if (!g_str_equal (given, unit))
    return fail (place, OG_CATALOG_ERROR_VALUE, _("“%s” is not the unit “%s”"), given, unit);
  if (!og_quality_from_nick (quality, &known))
    return fail (place, OG_CATALOG_ERROR_VALUE, _("“%s” is not one of the words allowed"), quality);
  if (get_text (place->sources, source) == NULL)
    return fail (place, OG_CATALOG_ERROR_REFERENCE, _("source “%s” is not defined"), source);
  return TRUE;
}

static gboolean
read_figure (const Place *place,
             JsonObject  *family,
             guint        rule,
             double      *value)
{
  static const char *const known[] = { "value", "unit", "source", "quality", "note", NULL };
  JsonObject *figure = get_object (family, rules[rule].name);
  JsonNode *node;
  GType type;

  if (figure == NULL)
    return fail (place, OG_CATALOG_ERROR_VALUE, "%s", _("must be an object"));
  if (!check_members (place, figure, known) || !check_origin (place, figure, rules[rule].unit))
    return FALSE;

  node = json_object_get_member (figure, "value");
  type = node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node)
                                                      : G_TYPE_INVALID;
  if ((type != G_TYPE_INT64 && type != G_TYPE_DOUBLE) || !isfinite (json_node_get_double (node)))
    return fail (place, OG_CATALOG_ERROR_VALUE, "%s", _("must be a finite number"));
  *value = json_node_get_double (node);
  if (*value < rules[rule].lowest || *value > rules[rule].highest)
    return fail (place, OG_CATALOG_ERROR_VALUE, _("%g is outside %g to %g"), *value,
                 rules[rule].lowest, rules[rule].highest);
  return TRUE;
}

static gboolean
read_family (JsonObject     *root,
             JsonObject     *families,
             OgGelFamily     id,
             OgGelDefaults  *defaults,
             GError        **error)
{
  const char *names[G_N_ELEMENTS (rules) + 1] = { NULL };
  Place place = { get_object (root, "sources"), og_gel_family_to_nick (id), NULL, error };
  JsonObject *family = get_object (families, place.family);

  if (family == NULL)
    return fail (&place, OG_CATALOG_ERROR_VALUE, "%s", _("must be an object"));
  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    names[i] = rules[i].name;
  if (!check_members (&place, family, names))
    return FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    {
      place.name = rules[i].name;
      if (!read_figure (&place, family, i,
                        (double *) G_STRUCT_MEMBER_P (defaults, rules[i].offset)))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_families (JsonObject    *root,
               OgParameters  *parameters,
               GError       **error)
{
  const char *nicks[OG_N_GEL_FAMILIES] = { NULL };
  JsonObject *families = get_object (root, "families");
  Place place = { NULL, "families", NULL, error };

  if (families == NULL)
    return fail (&place, OG_CATALOG_ERROR_VALUE, "%s", _("must be an object"));
  if (get_object (root, "sources") == NULL)
    {
      place.family = "sources";
      return fail (&place, OG_CATALOG_ERROR_VALUE, "%s", _("must be an object"));
    }
  for (OgGelFamily id = OG_GEL_NONE + 1; id < OG_N_GEL_FAMILIES; id++)
    nicks[id - 1] = og_gel_family_to_nick (id);
  if (!check_members (&place, families, nicks))
    return FALSE;

  for (OgGelFamily id = OG_GEL_NONE + 1; id < OG_N_GEL_FAMILIES; id++)
    if (!read_family (root, families, id, &parameters->gelling[id], error))
      return FALSE;
  return TRUE;
}

void
og_gel_defaults_init (OgGelDefaults *defaults)
{
  for (guint i = 0; i < G_N_ELEMENTS (rules); i++)
    *(double *) G_STRUCT_MEMBER_P (defaults, rules[i].offset) = NAN;
}

gboolean
og_parameters_load_gelling (OgParameters  *parameters,
                            const char    *path,
                            GError       **error)
{
  g_autoptr (JsonNode) root = NULL;

  g_return_val_if_fail (parameters != NULL, FALSE);
  g_return_val_if_fail (path != NULL, FALSE);

  root = og_json_file_load (path, FORMAT, VERSION, error);
  if (root == NULL)
    return FALSE;
  if (!read_families (json_node_get_object (root), parameters, error))
    {
      g_autofree char *name = g_path_get_basename (path);

      g_prefix_error (error, "%s: ", name);
      return FALSE;
    }
  return TRUE;
}
