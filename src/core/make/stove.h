/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/cooling.h"
#include "core/make/process.h"

G_BEGIN_DECLS

/** Rate at which a pot is stirred by hand or with a slow stirrer, 1/s. Judgement. */
#define OG_SHEAR_STIR 50.0

/** OgCooled: a pot somebody watched cooling. */
typedef struct
{
  double from_c, to_c, minutes; /* NAN: nothing was watched */
  double room_c;                /* NAN: as of the plan */
  double batch_g;               /* NAN: as of the plan */
} OgCooled;

/** OgStoveSetup: how the recipe is cooked. See og_stove_setup_init() for what is usual. */
typedef struct
{
  double       room_c;     /* of the room, and of what comes from the shelf */
  OgVesselKind vessel;
  double       vessel_ml;  /* NAN: the smallest usual size that fits */
  gboolean     stirred;    /* FALSE: the pot cools standing still */
  double       batch_g;    /* NAN: as the recipe says */
  double       start_c;    /* pot with the first charge; NAN: as the recipe and its materials ask */
  double       cool_to_c;  /* pot when it is filled; NAN: as the body asks */
  OgCooled     cooled;     /* one reading that tells how this pot cools */
  gboolean     override;   /* go on although the pot comes near a flash or smoke point */
  gboolean     with_series; /* fill OgStovePlan.series */
} OgStoveSetup;

/** A stirred glass vessel in a room of 25 C; batch, vessel and readings unknown (NAN). */
void         og_stove_setup_init (OgStoveSetup *setup);

/** OgStoveAct: what a step does. */
typedef enum
{
  OG_STOVE_PREPARE, /* weigh, stir jars, wet powders */
  OG_STOVE_BEGIN,   /* the first charge, cold */
  OG_STOVE_WARM,
  OG_STOVE_CLEAR,   /* hold until nothing solid is left */
  OG_STOVE_SHEAR,
  OG_STOVE_COOL,
  OG_STOVE_ADD,
  OG_STOVE_FILL,
  OG_STOVE_FINISH   /* rest, judge, label */
} OgStoveAct;

const char  *og_stove_act_to_nick (OgStoveAct act); /* "warm" */

/** OgStoveSplit: a part of a line that is kept back and goes into the pot cold. */
typedef struct
{
  guint  line_id;
  guint  before_phase_id; /* 0: after the last phase */
  OgPpm  amount;          /* of the cold part */
  double g;
  double share;           /* of its line, 0 to 1 */
  double from_c, to_c;    /* the pot, and what is asked for */
  double reached_c;       /* by the plan of the recipe so split */
  char  *name;            /* of the material */
} OgStoveSplit;

/** OgStoveStep: one thing to do, and the pot at it. NAN where it does not apply or is unknown. */
typedef struct
{
  OgStep      step;       /* words, caution, temperature, phase */
  OgStoveAct  act;
  double      before_c;   /* pot */
  double      after_c;    /* pot; of an addition: as it goes in, before it is warmed again */
  double      pot_g;      /* content afterwards */
  double      added_g;    /* ADD and BEGIN */
  double      added_c;    /* temperature the addition has when it goes in, the advice followed */
  double      cold_after_c; /* ADD: pot, were it added from the shelf */
  double      limit_c;    /* ADD: where something in the pot sets, and @limit_name */
  char       *limit_name; /* nullable */
  double      chill_k;    /* ADD: how far below @limit_c that would be; NAN if it is not */
  double      warm_first_c; /* ADD: warmed to this, the pot stays OG_STOVE_SET_MARGIN_K above */
  OgEstimate  minutes;    /* COOL: with range; INFINITY: never; WARM: at OG_STOVE_WARM_K_MIN */
  OgStoveSplit *split;    /* COOL, nullable: does it at once; see og_stove_find_splits() */
  double      heat_kj;    /* WARM: into pot and vessel */
} OgStoveStep;

/** Margin over a setting temperature, K. Judgement (5 to 10 is common practice). */
#define OG_STOVE_SET_MARGIN_K 5.0
/** Rate of gentle warming, K/min. Judgement. */
#define OG_STOVE_WARM_K_MIN 2.0

/** OgStovePoint: the pot at one moment. */
typedef struct
{
  double     minutes;       /* from the first warming, or the first cooling if nothing is warmed */
  double     temperature_c;
  OgEstimate viscosity_mpa_s; /* of what is in it then, at OG_SHEAR_STIR; NAN if nothing flows */
  guint      step;          /* index in OgStovePlan.steps */
} OgStovePoint;

/** OgStovePlan: from cold materials to filled containers. */
typedef struct
{
  GPtrArray *steps;       /* of OgStoveStep */
  GArray    *series;      /* of OgStovePoint; empty unless asked for */
  GPtrArray *findings;    /* of OgFinding, most severe first */
  gboolean   refused;     /* too near a flash or smoke point: not to be done like this */
  double     batch_g;
  double     room_c;
  double     hottest_c;   /* of the pot */
  OgVessel   vessel;
  OgCooling  cooling;
  OgEstimate rate_1_min;  /* cooling constant with everything in the pot */
  OgEstimate cooling_minutes; /* all cooling steps together */
} OgStovePlan;

/**
 * og_stove_plan:
 * @result: og_evaluate() of @formula, or at least its catalog and body
 * @setup: (nullable): %NULL for what is usual
 *
 * Heat balance of pot, vessel and every addition, with melting; Newton cooling between them; the
 * viscosity of the pot from the prediction for what is in it. The time of holding until clear is
 * not part of it, because nobody knows it beforehand.
 *
 * Returns: (transfer full): without steps for a recipe of 0 %
 */
OgStovePlan *og_stove_plan       (const OgFormula    *formula,
                                  const OgResult     *result,
                                  const OgStoveSetup *setup);
/** Frees @plan with all it holds. */
void         og_stove_plan_free  (OgStovePlan        *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgStovePlan, og_stove_plan_free)

G_END_DECLS
