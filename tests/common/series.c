/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "common/series.h"

#include <string.h>

#define ROUNDING_SD 0.28867513459481287 /* of a number rounded to whole units: 1/sqrt(12) */
#define RECALLED_SD 0.03
#define LOW_WEIGHT_SD 0.10
#define PROFILE_SD 0.03 /* a typical profile stands for that of the sample */

static void
point_free (gpointer data)
{
  SeriesPoint *point = data;

  g_free (point->series);
  g_free (point->source);
  og_chains_free (point->chains);
  og_profile_free (point->profile);
  g_free (point);
}

gboolean
series_same_source (const SeriesPoint *a,
                    const SeriesPoint *b)
{
  return g_str_equal (a->source, b->source);
}

gboolean
series_same_sample (const SeriesPoint *a,
                    const SeriesPoint *b)
{
  return g_str_equal (a->series, b->series);
}

static OgProfile *
sample_profile (const CsvTable *profiles,
                const char     *series)
{
  OgProfile *profile = og_profile_new ();

  for (guint i = 0; i < csv_table_len (profiles); i++)
    {
      g_autoptr (GError) error = NULL;
      OgAcid acid;

      if (!g_str_equal (csv_table_text (profiles, i, "id"), series))
        continue;
      if (!og_acid_parse (csv_table_text (profiles, i, "fatty_acid"), &acid, &error))
        g_error ("%s: %s", series, error->message);
      og_profile_add (profile, acid, csv_table_number (profiles, i, "wt_percent"));
    }
  og_profile_normalise (profile);
  return profile;
}

static int
find_sample (const CsvTable *samples,
             const char     *series)
{
  for (guint i = 0; i < csv_table_len (samples); i++)
    if (g_str_equal (csv_table_text (samples, i, "series"), series))
      return (int) i;
  return -1;
}

static double
data_error_sd (const CsvTable *series,
               guint           row)
{
  const char *text = csv_table_text (series, row, "value");
  double variance = 0.0;

  if (strchr (text, '.') == NULL)
    {
      double relative = ROUNDING_SD / g_ascii_strtod (text, NULL);

      variance += relative * relative;
    }
  if (g_str_equal (csv_table_text (series, row, "flag"), "recalled"))
    variance += RECALLED_SD * RECALLED_SD;
  if (strstr (csv_table_text (series, row, "note"), "low weight") != NULL)
    variance += LOW_WEIGHT_SD * LOW_WEIGHT_SD;
  return sqrt (variance);
}

static SeriesPoint *
point_new (const CsvTable  *series,
           guint            row,
           const OgProfile *profile)
{
  SeriesPoint *point = g_new0 (SeriesPoint, 1);
  const char *source = csv_table_text (series, row, "source");
  double value = csv_table_number (series, row, "value");

  point->series = g_strdup (csv_table_text (series, row, "id"));
  point->source = g_strndup (source, strcspn (source, ","));
  point->temperature_c = csv_table_number (series, row, "temperature_c");
  if (g_str_equal (csv_table_text (series, row, "unit"), "mm2/s"))
    {
      double density = csv_table_number (series, row, "density_g_ml");

      value *= isfinite (density) ? density : og_profile_density (profile, point->temperature_c);
    }
  point->ln_eta = log (value);
  point->error_sd = data_error_sd (series, row);
  point->profile = og_profile_copy (profile);
  point->chains = og_chains_new (profile);
  return point;
}

static OgProfile *
typical_profile (const CsvTable  *samples,
                 guint            row,
                 const OgCatalog *catalog)
{
  const char *text = csv_table_text (samples, row, "profile");
  const char *material_id = csv_table_text (samples, row, "material_id");
  const OgIngredient *material;

  if (*text != '\0')
    return og_profile_parse (text, NULL);
  material = og_catalog_get (catalog, material_id);
  if (material == NULL)
    g_error ("%s is not in the catalog", material_id);
  return og_profile_copy (material->profile);
}

SeriesPoints *
series_points_load (const char      *tests_folder,
                    const OgCatalog *catalog)
{
  g_autofree char *data = g_build_filename (tests_folder, "data", NULL);
  g_autofree char *here = g_build_filename (tests_folder, "fit", NULL);
  g_autoptr (CsvTable) series = csv_table_load (data, "viscosity_series.csv");
  g_autoptr (CsvTable) profiles = csv_table_load (data, "sample_profiles.csv");
  g_autoptr (CsvTable) samples = csv_table_load (here, "samples.csv");
  SeriesPoints *points = g_new (SeriesPoints, 1);

  points->fit = g_ptr_array_new_with_free_func (point_free);
  points->hydroxy = g_ptr_array_new_with_free_func (point_free);
  points->check = g_ptr_array_new_with_free_func (point_free);
  for (guint i = 0; i < csv_table_len (series); i++)
    {
      const char *id = csv_table_text (series, i, "id");
      g_autoptr (OgProfile) profile = sample_profile (profiles, id);
      gboolean own_profile = profile->shares->len > 0;
      int sample = find_sample (samples, id);
      const char *use = sample >= 0 ? csv_table_text (samples, (guint) sample, "use") : "fit";
      SeriesPoint *point;

      if (strstr (csv_table_text (series, i, "note"), "SUSPECT") != NULL || (sample < 0 && !own_profile))
        continue;
      if (!own_profile)
        {
          og_profile_free (profile);
          profile = typical_profile (samples, (guint) sample, catalog);
        }
      point = point_new (series, i, profile);
      if (!own_profile && g_str_equal (use, "check"))
        point->error_sd = hypot (point->error_sd, PROFILE_SD);
      g_ptr_array_add (g_str_equal (use, "fit")       ? points->fit
                       : g_str_equal (use, "hydroxy") ? points->hydroxy
                                                      : points->check,
                       point);
    }
  return points;
}

void
series_points_free (SeriesPoints *points)
{
  g_ptr_array_unref (points->fit);
  g_ptr_array_unref (points->hydroxy);
  g_ptr_array_unref (points->check);
  g_free (points);
}
