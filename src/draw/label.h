/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/label/declaration.h"
#include "draw/export.h"
#include "draw/style.h"

G_BEGIN_DECLS

/** OgLabelText: what a label says besides the recipe. Strings are plain text and may be %NULL: a
 * line to write on takes their place. */
typedef struct
{
  const char *batch_code;
  const char *best_before;  /* "YYYY-MM"; instead of a period after opening */
  const char *responsible;  /* name and address of who answers for the product */
  const char *country;      /* of origin */
} OgLabelText;

/** OgLabel: the text of a label, ready to paint. */
typedef struct _OgLabel OgLabel;

/**
 * og_label_new:
 * @formula: the recipe; title, purpose or product, package, open_months and warnings are printed
 * @result: its evaluation; the cautions that labels must bear come from it
 * @declaration: the ingredients
 * @text: (nullable)
 *
 * Returns: (transfer full)
 */
OgLabel *og_label_new      (const OgFormula      *formula,
                            const OgResult       *result,
                            const OgDeclaration  *declaration,
                            const OgLabelText    *text);
/** @label: (nullable) */
void     og_label_free     (OgLabel              *label);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgLabel, og_label_free)

/** Returns: height in units of the target that the label needs at @width */
double   og_label_measure  (const OgLabel        *label,
                            double                width,
                            const OgDrawStyle    *style);
/** Paints the label into @width, from the top: its text in order, no finished design. */
void     og_label_draw     (const OgLabel        *label,
                            cairo_t              *cr,
                            double                width,
                            const OgDrawStyle    *style);
/** Returns: (transfer full): the same as plain text */
char    *og_label_describe (const OgLabel        *label);
/** Writes a PNG, SVG or PDF. Returns: %FALSE with a #GIOError or #GFileError */
gboolean og_export_label   (const OgLabel        *label,
                            const char           *path,
                            OgExportFormat        format,
                            GError              **error);

G_END_DECLS
