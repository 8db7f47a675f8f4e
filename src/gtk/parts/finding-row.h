/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/predict/evaluate.h"

G_BEGIN_DECLS

/** Returns: (transfer floating): an image of how grave a finding is, beside what it says */
GtkWidget *og_finding_content_new     (const OgFinding  *finding);
/** Returns: (transfer full): the same for screen readers */
char      *og_finding_to_speech       (const OgFinding  *finding);
/**
 * og_finding_row_new:
 *
 * Returns: (transfer floating): a list box row that can be activated if the finding belongs to a
 *   line
 */
GtkWidget *og_finding_row_new         (const OgFinding  *finding);
/** Returns: the line a row belongs to; 0: the recipe as a whole */
guint      og_finding_row_get_line_id (GtkListBoxRow    *row);

G_END_DECLS
