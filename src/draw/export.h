/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/card.h"
#include "draw/chart.h"

G_BEGIN_DECLS

typedef enum
{
  OG_EXPORT_PDF,
  OG_EXPORT_PNG,
  OG_EXPORT_SVG,
  OG_EXPORT_HTML,
  OG_EXPORT_MARKDOWN,
  OG_EXPORT_CSV,
  OG_EXPORT_JSON
} OgExportFormat;

/** Format by suffix (.pdf .png .svg .html .md .csv .json); FALSE if there is none or another. */
gboolean og_export_format_from_path (const char      *path,
                                     OgExportFormat  *format);
/**
 * og_export_card:
 *
 * Writes the card of @formula. CSV is the recipe table, JSON the evaluation together with the recipe.
 *
 * The file is replaced only once it is whole.
 * Returns: %FALSE with a #GFileError or #GIOErrorEnum
 */
gboolean og_export_card             (const OgFormula *formula,
                                     OgResult        *result,
                                     const char      *path,
                                     OgExportFormat   format,
                                     GError         **error);
/** Writes @sheet, such as a batch sheet, as PDF, PNG, SVG, HTML or Markdown; as og_export_card(). */
gboolean og_export_sheet            (OgCard          *sheet,
                                     const char      *path,
                                     OgExportFormat   format,
                                     GError         **error);
/** Writes a chart 900 x 600 (PNG at 2 pixels a point) as PNG, SVG or PDF. */
gboolean og_export_chart            (const OgChart   *chart,
                                     const char      *path,
                                     OgExportFormat   format,
                                     GError         **error);

/** Paints @data into @width x @height of @cr. */
typedef void (*OgPaintFunc) (cairo_t           *cr,
                             double             width,
                             double             height,
                             gconstpointer      data,
                             const OgDrawStyle *style);

/** Writes what @paint paints, in the paper look at @font_size, as PNG (2 pixels a point), SVG or PDF. */
gboolean og_export_painting         (OgPaintFunc      paint,
                                     gconstpointer    data,
                                     double           width,
                                     double           height,
                                     double           font_size,
                                     const char      *path,
                                     OgExportFormat   format,
                                     GError         **error);
/** The paper look in the reading direction of the user's language, as exports use it. */
void     og_export_style            (OgDrawStyle     *style);

/** Returns: (transfer full): the `evaluate` object of the command line: totals, profile, viscosity, findings */
JsonNode *og_result_to_json         (const OgResult  *result);

G_END_DECLS
