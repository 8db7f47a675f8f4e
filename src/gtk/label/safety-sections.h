/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/label/colour.h"
#include "core/label/declaration.h"
#include "core/label/natural-origin.h"
#include "core/predict/keeping.h"
#include "gtk/parts/fact-section.h"

G_BEGIN_DECLS

/* What the sections of the room "Label" show: each takes everything out of its section and fills
 * it again. */

/** @findings: (element-type OgFinding); @list: a list box whose rows they become */
void og_section_show_findings (OgFactSection          *section,
                               GtkWidget              *list,
                               const GPtrArray        *findings);
void og_section_show_keeping  (OgFactSection          *section,
                               const OgKeeping        *keeping);
void og_section_show_tint     (OgFactSection          *section,
                               const OgTint           *tint,
                               double                  refractive_index);
/** @catalog: names the materials whose index is not known */
void og_section_show_origin   (OgFactSection          *section,
                               const OgNaturalOrigin  *origin,
                               const OgCatalog        *catalog);

G_END_DECLS
