/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/ingredient.h"

G_BEGIN_DECLS

#define OG_TYPE_FIGURE_ROW (og_figure_row_get_type ())
G_DECLARE_FINAL_TYPE (OgFigureRow, og_figure_row, OG, FIGURE_ROW, GtkWidget)

/** OgFigureInput: what a reader says about a figure. */
typedef struct
{
  char      *text;   /* as typed, without space around it */
  double     value;  /* NAN for a row of text */
  double     at_c;   /* NAN for a row without temperature */
  OgQuality  quality;
  char      *source;
  guint      unit;   /* which of the units to choose from */
} OgFigureInput;

void       og_figure_input_clear      (OgFigureInput     *input);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgFigureInput, og_figure_input_clear)

/*
 * One figure to be given: its value and, once there is one, how it is known and where from. Signals: "changed",
 * "remove" (the reader wants the row gone; only of rows that show a button for it).
 */

/**
 * og_figure_row_new:
 * @title: with the unit
 * @inherited: (nullable): what holds while the row is empty
 * @numeric: the value is a number
 * @at_c: temperature to propose; NAN for a figure without one
 */
GtkWidget *og_figure_row_new          (const char          *title,
                                       const char          *inherited,
                                       gboolean             numeric,
                                       double               at_c);
/** Lets the reader choose among @units, and take the row away. */
void       og_figure_row_make_point   (OgFigureRow         *self,
                                       const char *const   *units);
void       og_figure_row_set_input    (OgFigureRow         *self,
                                       const OgFigureInput *input);
gboolean   og_figure_row_is_empty     (OgFigureRow         *self);
/** Returns: whether the row still says what was set last */
gboolean   og_figure_row_is_unchanged (OgFigureRow         *self);
/**
 * og_figure_row_read:
 * @input: (out): what the row says
 *
 * Returns: %FALSE, with the reason shown in the row, if that makes no sense
 */
gboolean   og_figure_row_read         (OgFigureRow         *self,
                                       OgFigureInput       *input);
/** @problem: (nullable): a sentence to show by the value */
void       og_figure_row_set_problem  (OgFigureRow         *self,
                                       const char          *problem);
const char *og_figure_row_get_problem (OgFigureRow         *self);

G_END_DECLS
