/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

#include "core/material/ingredient.h"

G_BEGIN_DECLS

/** OgFigureField: one figure of a material, as the reader meets it: of the material itself or of its gelling block. */
typedef struct
{
  const char *nick;     /* member name in a file */
  const char *unit;     /* as files spell it */
  const char *title;    /* untranslated, of a gelling figure; NULL: og_figure_id_get_name() of @id */
  OgFigureId  id;       /* of a figure of the material itself */
  gsize       offset;   /* in OgIngredient */
  gboolean    gelling;  /* belongs to the gelling block */
  gboolean    main;     /* worth saying that it is unknown */
  gboolean    editable; /* a figure that a bench or a certificate gives */
  double      at_c;     /* temperature it is told at unless said otherwise; NAN: needs none */
} OgFigureField;

/** Returns: (array length=n_fields): all fields, in the order to show them */
const OgFigureField *og_figure_fields          (guint               *n_fields);
/** Returns: whether @field can apply to @ingredient at all */
gboolean             og_figure_field_applies   (const OgFigureField *field,
                                                const OgIngredient  *ingredient);
/** Returns: (transfer none): translated, with the unit: "Density, g/ml" */
const char          *og_figure_field_get_title (const OgFigureField *field);
const OgFigure      *og_figure_field_get       (const OgFigureField *field,
                                                const OgIngredient  *ingredient);

/** Returns: (transfer full): "0.957 (0.95 to 0.963) at 20 °C" in the reader's locale, "unknown" for an unknown one */
char                *og_figure_to_text         (const OgFigure      *figure);
/** Returns: (transfer full): "measured · citation"; "" for an unknown figure */
char                *og_figure_origin_to_text  (const OgFigure      *figure);
/** Returns: (transfer none): a unit of a file as readers write it, "mPa·s" for "mPa.s" */
const char          *og_unit_to_text           (const char          *unit);

G_END_DECLS
