/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material/parameters.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/json-read.h"

#define FORMAT "oleograph-parameters"
#define VERSION 1 /* of the format, see data/model/SCHEMA.md */

static gboolean
read_vector (const OgJsonReader *reader,
             const char         *member,
             guint               n,
             double             *numbers)
{
  return og_json_read_numbers (reader, member, n, n, numbers, &n);
}

/* Reads a lower triangle, its diagonal not negative, into @numbers row by row. */
static gboolean
read_factor (const OgJsonReader *reader,
             const char         *member,
             guint               n,
             double             *numbers)
{
  JsonArray *rows;

  if (og_json_read_array (reader, member, OG_JSON_REQUIRED, &rows) != OG_JSON_FOUND)
    return FALSE;

  for (guint i = 0; i < n; i++)
    {
      double *row = &numbers[i * n];

      if (json_array_get_length (rows) != n
          || !og_json_get_numbers (json_array_get_element (rows, i), n, row))
        return og_json_fail (reader, member, "%s",
                             _("must be a square of finite numbers, as many rows as values"));
      if (row[i] < 0.0)
        return og_json_fail (reader, member, "%s", _("must not be negative on the diagonal"));
      for (guint j = i + 1; j < n; j++)
        if (row[j] < 0.0 || row[j] > 0.0)
          return og_json_fail (reader, member, "%s", _("must be 0 above the diagonal"));
    }
  return TRUE;
}

static gboolean
read_number (const OgJsonReader *reader,
             const char         *member,
             double              low,
             double             *number)
{
  return og_json_read_number (reader, member, OG_JSON_REQUIRED, low, INFINITY, number);
}

static gboolean
read_temperatures (const OgJsonReader *reader,
                   const char         *low_member,
                   const char         *high_member,
                   double             *low_c,
                   double             *high_c)
{
  if (!read_number (reader, low_member, -INFINITY, low_c) ||
      !read_number (reader, high_member, -INFINITY, high_c))
    return FALSE;
  if (*low_c >= *high_c)
    return og_json_fail (reader, low_member, "%s", _("must be below the upper temperature"));
  return TRUE;
}

static gboolean
read_parameters (const OgJsonReader *reader,
                 OgParameters       *parameters)
{
  return read_vector (reader, "correction", OG_N_CORRECTIONS, parameters->correction) &&
         read_factor (reader, "correction_factor", OG_N_CORRECTIONS,
                      &parameters->correction_factor[0][0]) &&
         read_vector (reader, "hydroxy", OG_N_HYDROXY, parameters->hydroxy) &&
         read_factor (reader, "hydroxy_factor", OG_N_HYDROXY, &parameters->hydroxy_factor[0][0]) &&
         read_temperatures (reader, "hydroxy_low_c", "hydroxy_high_c",
                            &parameters->hydroxy_low_c, &parameters->hydroxy_high_c) &&
         read_number (reader, "sample_sd", 0.0, &parameters->sample_sd) &&
         read_number (reader, "sample_slope_sd", 0.0, &parameters->sample_slope_sd) &&
         read_temperatures (reader, "low_c", "high_c", &parameters->low_c, &parameters->high_c) &&
         og_json_read_text (reader, "source", OG_JSON_REQUIRED, &parameters->source);
}

OgParameters *
og_parameters_load (const char  *path,
                    GError     **error)
{
  g_autoptr (OgParameters) parameters = NULL;
  g_autoptr (OgJsonFile) file = NULL;
  OgJsonContext context = { .domain = OG_CATALOG_ERROR, .code = OG_CATALOG_ERROR_VALUE,
                            .error = error };
  OgJsonReader reader = { .context = &context };

  g_return_val_if_fail (path != NULL, NULL);

  file = og_json_file_load_data (path, FORMAT, VERSION, error);
  if (file == NULL)
    return NULL;

  context.file = file;
  reader.object = json_node_get_object (file->root);
  parameters = g_new0 (OgParameters, 1);
  g_atomic_ref_count_init (&parameters->ref_count);
  for (guint i = 0; i < OG_N_GEL_FAMILIES; i++)
    og_gel_defaults_init (&parameters->gelling[i]);
  return read_parameters (&reader, parameters) ? g_steal_pointer (&parameters) : NULL;
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
