/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/call.h"
#include "core/make/batch.h"

G_BEGIN_DECLS

/** OgPack: an offer and the material it is of. */
typedef struct
{
  const OgIngredient *ingredient;
  OgPackOffer         offer;
} OgPack;

/** OgBatchSheet: everything that is told about a batch. */
typedef struct
{
  OgRecipe     recipe;
  OgBatchPlan *batch;
  OgNetCheck  *filled; /* nullable */
  OgShelf     *shelf;  /* nullable */
  GArray      *packs;  /* of OgPack */
} OgBatchSheet;

/** Appends the sheet as one JSON object. */
void og_batch_sheet_put_json (OgCall             *call,
                              const OgBatchSheet *sheet);
/** Appends the sheet as tables and sentences. */
void og_batch_sheet_put_text (OgCall             *call,
                              const OgBatchSheet *sheet);

G_END_DECLS
