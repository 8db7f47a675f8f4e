/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/solve.h"

G_BEGIN_DECLS

typedef struct
{
  gboolean         vary_agents; /* the gelling agents may move, up to their usual level */
  OgBelief        *belief;      /* nullable: %NULL learns from the measurements of @before alone */
  OgSolveProgress  progress;    /* nullable */
  gpointer         user_data;
} OgRebalanceOptions;

/**
 * og_rebalance:
 * @before: the recipe whose poured viscosity at 25 C is to stay
 * @after: the same after a swap
 * @catalog: materials, own ones of both included
 * @options: (nullable)
 *
 * Moves the split between the balance lines of @after; where there are fewer than two, the lines
 * whose material is not the one in @before, against the balance line or, without one, all other
 * oils. The parts of several balance lines are written anew, so that they stay balance lines.
 *
 * Returns: (transfer full): as og_solve(); %NULL with an #OgSolveError, %OG_SOLVE_ERROR_NOTHING
 * when no line can move
 */
OgSolveReport *og_rebalance (const OgFormula           *before,
                             const OgFormula           *after,
                             OgCatalog                 *catalog,
                             const OgRebalanceOptions  *options,
                             GError                   **error);

G_END_DECLS
