/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/solve.h"
#include "gtk/parts/document-page.h"

G_BEGIN_DECLS

#define OG_TYPE_AIM_PAGE (og_aim_page_get_type ())
G_DECLARE_FINAL_TYPE (OgAimPage, og_aim_page, OG, AIM_PAGE, OgDocumentPage)

/*
 * Which body the recipe is to get, and which lines may move for it; below, what each line does to
 * the body. Works in threads; an answer for a recipe that has changed since is thrown away.
 * Signals: "applied" (string, what was done: the recipe changed), "shelf-wanted" (prices matter
 * now).
 */
GtkWidget *og_aim_page_new           (void);
/** @shelf: (nullable): prices */
void       og_aim_page_set_shelf     (OgAimPage  *self,
                                      OgShelf    *shelf);
/** Aims at a word for the body. */
void       og_aim_page_set_body      (OgAimPage  *self,
                                      OgBody      body);
/** Aims at a viscosity at a temperature, when poured. */
void       og_aim_page_set_viscosity (OgAimPage  *self,
                                      double      mpa_s,
                                      double      temperature_c);
/** Lets a line of the recipe move between two bounds, or not. */
void       og_aim_page_vary          (OgAimPage  *self,
                                      guint       line_id,
                                      gboolean    vary,
                                      OgPpm       low,
                                      OgPpm       high);
/** Starts to solve. Returns: whether the page says all that is needed */
gboolean   og_aim_page_solve         (OgAimPage  *self);
/** Waits for what is being worked out. Returns: the number of answers */
guint      og_aim_page_flush         (OgAimPage  *self);
/** Returns: (transfer none) (nullable): what was found for the recipe as it stands */
const OgSolveReport *og_aim_page_get_report (OgAimPage *self);
/** Puts answer @index into the recipe. Returns: whether it changed */
gboolean   og_aim_page_apply         (OgAimPage  *self,
                                      guint       index);
void       og_aim_page_focus         (OgAimPage  *self);

G_END_DECLS
