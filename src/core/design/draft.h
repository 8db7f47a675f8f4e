/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/solve.h"
#include "core/predict/evaluate.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

/** OgBrief: what is wished for. */
typedef struct
{
  OgProduct          product;       /* %OG_PRODUCT_UNSAID: for lips and skin */
  OgBody             body;          /* %OG_BODY_UNKNOWN: as is usual for the product */
  const char *const *without_tags;  /* nullable, NULL-terminated; also holds within mixtures */
  OgShelf           *shelf;         /* nullable: prices, and what is in stock */
  gboolean           stocked_only;  /* from the shelf alone */
  guint              most;          /* materials; 0: no bound, else 1 or more */
  gboolean           tint;          /* a colour ground in oil, on lips */
  gboolean           scent;         /* flavour on lips, fragrance on skin */
  gboolean           cheap;         /* prefer low prices, as far as they are known */
  OgSolveProgress    progress;      /* nullable */
  gpointer           user_data;
} OgBrief;

/** OgDraftReason: why a line is there. */
typedef struct
{
  guint     line_id;
  OgSaying *text;
} OgDraftReason;

/** OgDraftPhase: what a phase is called and how it is worked. */
typedef struct
{
  guint     phase_id;
  OgSaying *name;
  OgSaying *note;    /* nullable */
} OgDraftPhase;

typedef struct
{
  OgFormula *formula;  /* exactly 100 %, phases from hot to cool; empty if nothing fits at all. Without
                          words: they stand in the next three, until og_draft_write_words() */
  OgSaying  *title;    /* nullable: nothing fits */
  OgSaying  *notes;    /* nullable: nothing fits */
  GArray    *phases;   /* of OgDraftPhase, in the order of the phases */
  GArray    *reasons;  /* of OgDraftReason, in the order of the lines */
  GPtrArray *findings; /* of OgFinding: what of the brief could not be met, and why; what to mind */
  gboolean   met;      /* the predicted body is the word wanted, and nothing was left out */
} OgDraft;

/**
 * og_draft:
 * @catalog: the library; the draft brings no own materials along
 *
 * A first recipe for the brief. Materials are chosen by rules of the trade and by score: role and
 * use, a viscosity that is known, oxidation, whether the agent suits the liquid, usual levels,
 * price. An integer program picks the set, and og_solve() the amounts. All of it is a starting
 * point for a small batch, not a tested formula.
 *
 * Returns: (transfer full): %NULL with an #OgSolveError when stopped
 */
OgDraft    *og_draft              (const OgBrief  *brief,
                                 OgCatalog      *catalog,
                                 GError        **error);
/** Frees @draft with all it holds. */
void        og_draft_free         (OgDraft        *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgDraft, og_draft_free)
/** Body that is usual for the product (judgement). */
OgBody      og_product_usual_body (OgProduct     product);
/** Returns: (nullable) (transfer none): why the line is there */
const OgSaying *og_draft_get_reason (const OgDraft *draft,
                                     guint          line_id);

G_END_DECLS
