/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/parameters.h"

#include <glib/gi18n-lib.h>
#include <json-glib/json-glib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/json-file.h"

#define FORMAT "oleograph-parameters"
#define VERSION 1 /* of the format, see data/model/SCHEMA.md */

static gboolean
fail (const char *member,
      const char *reason,
      GError    **error)
{
  g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_VALUE, "%s: %s", member, reason);
  return FALSE;
}

static gboolean
get_number (JsonNode *node,
            double   *number)
{
  GType type = node != NULL && JSON_NODE_HOLDS_VALUE (node) ? json_node_get_value_type (node)
                                                            : G_TYPE_INVALID;

  if (type != G_TYPE_INT64 && type != G_TYPE_DOUBLE)
    return FALSE;

  *number = json_node_get_double (node);
  return isfinite (*number);
}

static gboolean
read_number (JsonObject  *object,
             const char  *member,
             double      *number,
             GError     **error)
{
  if (!get_number (json_object_get_member (object, member), number))
    return fail (member, _("must be a finite number"), error);
  return TRUE;
}

static gboolean
get_numbers (JsonNode *node,
             guint     n,
             double   *numbers)
{
  JsonArray *array;

  if (node == NULL || !JSON_NODE_HOLDS_ARRAY (node))
    return FALSE;

  array = json_node_get_array (node);
  if (json_array_get_length (array) != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!get_number (json_array_get_element (array, i), &numbers[i]))
      return FALSE;
  return TRUE;
}

static gboolean
read_vector (JsonObject  *object,
             const char  *member,
             guint        n,
             double      *numbers,
             GError     **error)
{
  if (!get_numbers (json_object_get_member (object, member), n, numbers))
    {
      g_set_error (error, OG_CATALOG_ERROR, OG_CATALOG_ERROR_VALUE,
                   _("%s: must be an array of %u finite numbers"), member, n);
      return FALSE;
    }
  return TRUE;
}

static gboolean
fail_square (const char *member,
             GError    **error)
{
  return fail (member, _("must be a square of finite numbers, as many rows as values"), error);
}

/* Reads a lower triangle, its diagonal not negative, into @numbers row by row. */
static gboolean
read_factor (JsonObject  *object,
             const char  *member,
             guint        n,
             double      *numbers,
             GError     **error)
{
  JsonNode *node = json_object_get_member (object, member);
  JsonArray *rows = NULL;

  if (node != NULL && JSON_NODE_HOLDS_ARRAY (node))
    rows = json_node_get_array (node);
  if (rows == NULL || json_array_get_length (rows) != n)
    return fail_square (member, error);

  for (guint i = 0; i < n; i++)
    {
      double *row = &numbers[i * n];

      if (!get_numbers (json_array_get_element (rows, i), n, row))
        return fail_square (member, error);
      if (row[i] < 0.0)
        return fail (member, _("must not be negative on the diagonal"), error);
      for (guint j = i + 1; j < n; j++)
        if (row[j] < 0.0 || row[j] > 0.0)
          return fail (member, _("must be 0 above the diagonal"), error);
    }
  return TRUE;
}

static gboolean
read_spread (JsonObject  *object,
             const char  *member,
             double      *number,
             GError     **error)
{
  if (!read_number (object, member, number, error))
    return FALSE;
  if (*number < 0.0)
    return fail (member, _("must not be negative"), error);
  return TRUE;
}

static gboolean
read_temperatures (JsonObject  *object,
                   const char  *low_member,
                   const char  *high_member,
                   double      *low_c,
                   double      *high_c,
                   GError     **error)
{
  if (!read_number (object, low_member, low_c, error) ||
      !read_number (object, high_member, high_c, error))
    return FALSE;
  if (*low_c >= *high_c)
    return fail (low_member, _("must be below the upper temperature"), error);
  return TRUE;
}

static gboolean
read_source (JsonObject  *object,
             char       **source,
             GError     **error)
{
  JsonNode *node = json_object_get_member (object, "source");

  if (node == NULL || !JSON_NODE_HOLDS_VALUE (node) ||
      json_node_get_value_type (node) != G_TYPE_STRING)
    return fail ("source", _("must be a text"), error);

  *source = json_node_dup_string (node);
  return TRUE;
}

static gboolean
read_parameters (JsonObject    *object,
                 OgParameters  *parameters,
                 GError       **error)
{
  return read_vector (object, "correction", OG_N_CORRECTIONS, parameters->correction, error) &&
         read_factor (object, "correction_factor", OG_N_CORRECTIONS,
                      &parameters->correction_factor[0][0], error) &&
         read_vector (object, "hydroxy", OG_N_HYDROXY, parameters->hydroxy, error) &&
         read_factor (object, "hydroxy_factor", OG_N_HYDROXY,
                      &parameters->hydroxy_factor[0][0], error) &&
         read_temperatures (object, "hydroxy_low_c", "hydroxy_high_c",
                            &parameters->hydroxy_low_c, &parameters->hydroxy_high_c, error) &&
         read_spread (object, "sample_sd", &parameters->sample_sd, error) &&
         read_spread (object, "sample_slope_sd", &parameters->sample_slope_sd, error) &&
         read_temperatures (object, "low_c", "high_c",
                            &parameters->low_c, &parameters->high_c, error) &&
         read_source (object, &parameters->source, error);
}

OgParameters *
og_parameters_load (const char  *path,
                    GError     **error)
{
  g_autoptr (OgParameters) parameters = NULL;
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *name = NULL;

  g_return_val_if_fail (path != NULL, NULL);

  root = og_json_file_load (path, FORMAT, VERSION, error);
  if (root == NULL)
    return NULL;

  parameters = g_new0 (OgParameters, 1);
  g_atomic_ref_count_init (&parameters->ref_count);
  for (guint i = 0; i < OG_N_GEL_FAMILIES; i++)
    og_gel_defaults_init (&parameters->gelling[i]);
  if (!read_parameters (json_node_get_object (root), parameters, error))
    {
      name = g_path_get_basename (path);
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  return g_steal_pointer (&parameters);
}

OgParameters *
og_parameters_ref (OgParameters *parameters)
{
  g_return_val_if_fail (parameters != NULL, NULL);

  g_atomic_ref_count_inc (&parameters->ref_count);
  return parameters;
}

void
og_parameters_unref (OgParameters *parameters)
{
  if (parameters == NULL || !g_atomic_ref_count_dec (&parameters->ref_count))
    return;

  g_free (parameters->source);
  g_free (parameters);
}
