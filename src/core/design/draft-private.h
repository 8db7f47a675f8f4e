/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/draft.h"
#include "core/predict/gellant.h"

G_BEGIN_DECLS

/* What the files of the draft share; nobody else includes it. */

/* What a material is in the draft for. */
typedef enum
{
  OG_PART_AGENT,
  OG_PART_THICK_OIL, /* takes the agent and the heat */
  OG_PART_OIL,
  OG_PART_COLOUR,
  OG_PART_ANTIOXIDANT,
  OG_PART_SCENT,
  OG_N_PARTS
} OgDraftPart;

/* A material that may be taken, with what speaks against it: 0 nothing, about 1 a good reason. */
typedef struct
{
  const OgIngredient *ingredient;
  double against;
  double ln_eta;      /* liquids: neat at 25 C */
  double low, high;   /* mass fraction */
  double alone;       /* liquids: the most without another one */
} OgChoice;

/* One material of the recipe to be. */
typedef struct
{
  const OgIngredient *ingredient;
  OgDraftPart part;
  double fraction;
  double low, high;
  double ln_eta;
} OgPick;

/* A set of materials with rough amounts. */
typedef struct
{
  GArray *picks;      /* of OgPick */
  double against;
  double miss;        /* by how much the wanted viscosity is missed, in ln, by the linear rule */
} OgPlan;

typedef struct
{
  const OgBrief *brief;
  OgCatalog *catalog;
  OgBody body;
  OgBodyBounds bounds;
  guint sites;
  double mean_price;  /* NAN: none known */
  GArray *liquids;    /* of OgChoice, the least against first */
  GArray *agents;
  GArray *colours;
  GArray *antioxidants;
  GArray *scents;
} OgMarketplace;

/* Classes of liquids of which the trade takes only so much. */
typedef enum
{
  OG_DRAFT_HYDROCARBON,
  OG_DRAFT_TACKY,       /* hydrocarbons that thicken, such as polybutene */
  OG_N_DRAFT_CLASSES
} OgDraftClass;

/** Returns: whether @ingredient is one of @class */
gboolean   og_draft_class_holds     (OgDraftClass         class,
                                     const OgIngredient  *ingredient);
/** Returns: most of @class in a recipe of the brief, mass fraction; common practice, no source */
double     og_marketplace_most_of_class (const OgMarketplace *market,
                                     OgDraftClass         class);

/** Returns: %TRUE for a body that stands by itself at rest */
gboolean   og_body_is_set           (OgBody               body);
/** ln mPa.s in the middle of what the word means. */
double     og_body_middle           (const OgBodyBounds  *bounds,
                                     OgBody               body);
/** Temperature the agent needs to clear, C; NAN if it wants no heat. */
double     og_agent_clears_c        (const OgIngredient  *agent);

/** Sets out what @brief allows of @catalog, by job; both are borrowed and must outlive @market.
 * Free with og_marketplace_clear(). */
void       og_marketplace_init      (OgMarketplace       *market,
                                     const OgBrief       *brief,
                                     OgCatalog           *catalog);
/** Frees the lists of @market, not what they point to. */
void       og_marketplace_clear     (OgMarketplace       *market);
/** Returns: (transfer full) (element-type OgPlan): plans with at most @slots oils and agents that
 * leave @extras, mass fraction, for the rest; the best first */
GPtrArray *og_marketplace_plan      (const OgMarketplace *market,
                                     guint                slots,
                                     double               extras);

G_END_DECLS
