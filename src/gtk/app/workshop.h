/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "core/material/catalog.h"
#include "core/recipe/formula.h"
#include "core/recipe/shelf.h"
#include "model/bench-store.h"
#include "model/ledger.h"

G_BEGIN_DECLS

#define OG_PROGRAM_ID "org.oleograph.Oleograph"

#define OG_TYPE_WORKSHOP (og_workshop_get_type ())
G_DECLARE_FINAL_TYPE (OgWorkshop, og_workshop, OG, WORKSHOP, GObject)

/*
 * What all windows of the program share: materials, settings, drafts, readings, the ledger. Knows
 * no window. Signal "shelf-changed": og_workshop_get_shelf() has another answer.
 */

OgWorkshop   *og_workshop_new              (void);
/** Returns: (nullable): a sentence that says why there are no materials and nothing can be done */
const char   *og_workshop_get_failure      (OgWorkshop       *self);
/** Returns: (nullable): a sentence that says why the reader's own rules are left out */
const char   *og_workshop_get_own_fault    (OgWorkshop       *self);
/** Returns: (transfer none): the library of materials */
OgCatalog    *og_workshop_get_catalog      (OgWorkshop       *self);
/** Returns: (nullable) (transfer none): NULL when the settings schema is not installed */
GSettings    *og_workshop_get_settings     (OgWorkshop       *self);
/** Returns: (transfer none): where drafts of unsaved recipes are kept */
GFile        *og_workshop_get_draft_folder (OgWorkshop       *self);
/** Returns: (transfer none): readings of materials that every recipe learns from */
OgBenchStore *og_workshop_get_bench_store  (OgWorkshop       *self);
/**
 * og_workshop_get_ledger:
 *
 * Opened, and made if there is none yet, at the first call. Returns: (nullable) (transfer none):
 * NULL when it cannot be opened; og_workshop_take_ledger_problem() says why
 */
OgLedger     *og_workshop_get_ledger       (OgWorkshop       *self);
/** Returns: (transfer none): what is in stock and what it costs, a snapshot; empty as long as there
 * is no ledger */
OgShelf      *og_workshop_get_shelf        (OgWorkshop       *self);
/** Returns: (nullable) (transfer full): a sentence about the ledger that nobody was told yet */
char         *og_workshop_take_ledger_problem (OgWorkshop    *self);
/** Returns: (nullable) (transfer full): the oldest draft of a crash that no window has taken yet */
GFile        *og_workshop_take_draft       (OgWorkshop       *self);
guint         og_workshop_get_n_drafts     (OgWorkshop       *self);
/** Returns: (transfer full): what the recipes of these drafts are called, oldest first, %NULL-terminated */
char        **og_workshop_name_drafts      (OgWorkshop       *self);
/**
 * og_workshop_plan_batch:
 * @catalog: names what the recipe is made of
 * @batch_g: g
 *
 * Plans a batch in the ledger, by whoever is at work. Returns: (transfer full): its number; NULL
 * with an #OgLedgerError
 */
char         *og_workshop_plan_batch       (OgWorkshop       *self,
                                            const OgFormula  *formula,
                                            OgCatalog        *catalog,
                                            double            batch_g,
                                            GError          **error);

G_END_DECLS
