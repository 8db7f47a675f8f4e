/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "model/document.h"

G_BEGIN_DECLS

#define OG_TYPE_BENCH_DIALOG (og_bench_dialog_get_type ())
G_DECLARE_FINAL_TYPE (OgBenchDialog, og_bench_dialog, OG, BENCH_DIALOG, GtkWindow)

/*
 * Asks for one reading of the recipe as it is, or of one of its materials, and says at once what
 * it means: the viscosity with its spread, what was predicted, and whether both agree. Can be
 * saved only while the reading is valid.
 *
 * Signal: "recorded" (boolean: it went into the recipe, where it can be undone, and not into the
 * bench store).
 */
GtkWidget  *og_bench_dialog_new         (OgDocument    *document);
/** Chooses one of the materials of the recipe, or with %NULL the recipe itself. */
void        og_bench_dialog_set_target  (OgBenchDialog *self,
                                         const char    *material_id);
void        og_bench_dialog_set_method  (OgBenchDialog *self,
                                         OgMethod       method);
/** Returns: (transfer none): what the dialog says about the reading as it stands */
const char *og_bench_dialog_get_message (OgBenchDialog *self);
/** Records the reading. Returns: FALSE if it is not valid or could not be kept; the dialog says
 * why */
gboolean    og_bench_dialog_save        (OgBenchDialog *self);

G_END_DECLS
