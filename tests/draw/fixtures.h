/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/chart.h"

/* Invented curves for the painters; no physics in them. */

/** A curve of @n points between @low_x and @high_x (evenly in ln on the shear axis), straight in ln viscosity from
 *  @first to @last, with the band @spread times up and down. */
OgCurve         *test_curve_new      (OgCurveAxis        axis,
                                      guint              n,
                                      double             low_x,
                                      double             high_x,
                                      double             first,
                                      double             last,
                                      double             spread);
/** Puts the own point on the curve at point @index. */
void             test_curve_set_own  (OgCurve           *curve,
                                      guint              index);
void             test_curve_free     (OgCurve           *curve);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgCurve, test_curve_free)

/** A chart of one curve without target and cursor. */
OgChart          test_chart          (const OgCurve     *own);

cairo_surface_t *test_paint_chart    (int                width,
                                      int                height,
                                      const OgChart     *chart,
                                      const OgDrawStyle *style);
/** 0xrrggbb of a pixel of an image surface */
guint32          test_pixel          (cairo_surface_t   *surface,
                                      int                x,
                                      int                y);
guint32          test_colour         (const OgColour    *colour);
/** Largest difference of a channel between two 0xrrggbb. */
int              test_difference     (guint32            a,
                                      guint32            b);
/** Asserts that the outermost @border pixels hold nothing but @colour. */
void             test_assert_border  (cairo_surface_t   *surface,
                                      int                border,
                                      guint32            colour);
/** Returns: (transfer full): number of pixels that differ from @colour */
guint            test_count_ink      (cairo_surface_t   *surface,
                                      guint32            colour);
/** Fails the test unless @text holds @part. */
void             test_assert_has     (const char        *text,
                                      const char        *part);
void             test_assert_has_not (const char        *text,
                                      const char        *part);
/** Returns: (nullable) (transfer full): text of a PDF file; %NULL if no `pdftotext` is installed */
char            *test_pdf_to_text    (const char        *path);
/** Returns: (transfer full): a new folder below the temporary one; test_folder_remove() removes it and all in it. */
char            *test_folder_new     (void);
guint            test_folder_count   (const char        *folder);
void             test_folder_remove  (char              *folder);
