/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "common/csv.h"
#include "core/material/catalog.h"
#include "core/predict/triglyceride.h"

G_BEGIN_DECLS

/** SeriesPoint: one published viscosity of a triglyceride oil and the acids of the sample, or of
 * its kind. */
typedef struct
{
  char *series;
  char *source; /* the citation up to its first comma: stands for the laboratory */
  double temperature_c;
  double ln_eta;     /* mPa.s */
  double error_sd;   /* of ln eta: rounding, memory, low weight */
  OgProfile *profile;
  OgChains *chains;
} SeriesPoint;

/** SeriesPoints: the usable rows of tests/data/viscosity_series.csv by the use that
 * tests/fit/samples.csv gives them. */
typedef struct
{
  GPtrArray *fit;     /* samples with their own acid profile, and simple triglycerides */
  GPtrArray *hydroxy; /* castor oil */
  GPtrArray *check;   /* never fitted; the typical profile of the catalog */
} SeriesPoints;

/** Returns: (transfer full): aborts if a file cannot be read */
SeriesPoints *series_points_load  (const char         *tests_folder,
                                   const OgCatalog    *catalog);
void          series_points_free  (SeriesPoints       *points);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SeriesPoints, series_points_free)

gboolean      series_same_source  (const SeriesPoint  *a,
                                   const SeriesPoint  *b);
gboolean      series_same_sample  (const SeriesPoint  *a,
                                   const SeriesPoint  *b);

G_END_DECLS
