/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "core/material/catalog.h"
#include "core/recipe/shelf.h"
#include "model/bench-store.h"
#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_APPLICATION_ID "org.oleograph.Oleograph"

#define OG_TYPE_APPLICATION (og_application_get_type ())
G_DECLARE_FINAL_TYPE (OgApplication, og_application, OG, APPLICATION, GtkApplication)

/* Signal "shelf-changed": og_application_get_shelf() has another answer. */

OgApplication *og_application_new              (void);
/** Returns: (transfer none): the library of materials */
OgCatalog     *og_application_get_catalog      (OgApplication *self);
/** Returns: (nullable) (transfer none): NULL when the settings schema is not installed */
GSettings     *og_application_get_settings     (OgApplication *self);
/** Returns: (transfer none): where drafts of unsaved recipes are kept */
GFile         *og_application_get_draft_folder (OgApplication *self);
/** Returns: (transfer none): readings of materials that every recipe learns from */
OgBenchStore  *og_application_get_bench_store  (OgApplication *self);
/**
 * og_application_get_ledger:
 *
 * Opened, and made if there is none yet, at the first call. Returns: (nullable) (transfer none): NULL
 * when it cannot be opened; og_application_take_ledger_problem() says why
 */
OgLedger      *og_application_get_ledger       (OgApplication *self);
/** Returns: (transfer none): what is in stock and what it costs, a snapshot; empty as long as there
 * is no ledger */
OgShelf       *og_application_get_shelf        (OgApplication *self);
/** Returns: (nullable) (transfer full): a sentence about the ledger that nobody has been told yet */
char          *og_application_take_ledger_problem (OgApplication *self);
/** Returns: (nullable) (transfer full): the oldest draft of a crash that no window has taken yet */
GFile         *og_application_take_draft       (OgApplication *self);
guint          og_application_get_n_drafts     (OgApplication *self);
/**
 * og_application_open_file:
 * @window: (nullable): a window that may be used if nothing is in it yet
 *
 * Shows @file in the window that has it, or else in @window, or else in a new one.
 */
void           og_application_open_file        (OgApplication *self,
                                                GFile         *file,
                                                GtkWindow     *window);
/** Returns: (transfer none): a new, presented window without a recipe */
GtkWindow     *og_application_new_window       (OgApplication *self);

G_END_DECLS
