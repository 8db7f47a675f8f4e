/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/estimate.h"
#include "core/base/finding.h"
#include "core/material/catalog.h"
#include "core/predict/body.h"
#include "core/predict/rulings.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/** OgCurveAxis: what a curve runs along. */
typedef enum
{
  OG_CURVE_AGENT_PCT,    /* wt % of the gelling agent in the recipe */
  OG_CURVE_TEMPERATURE_C,
  OG_CURVE_SHEAR_RATE_1_S,
  OG_N_CURVES
} OgCurveAxis;

/** OgCurve: viscosity in mPa.s along one axis. @n is 0 when the curve does not exist (no gelling
 * agent). */
typedef struct
{
  OgCurveAxis axis;
  guint       n;
  double     *x;
  double     *value;
  double     *low80;
  double     *high80;
  double     *prior_low80;  /* before any measurement; NULL when nothing was measured */
  double     *prior_high80;
  double      own_x;         /* where the recipe itself lies; NAN if nowhere */
  OgEstimate  own;           /* its viscosity there */
  double      mark_x;        /* agent: gel point; temperature: setting point; NAN if none */
  double      clear_x;       /* temperature: clearing point; between both it depends on whether it warms or cools */
  double      valid_low_x;   /* below it the prediction is extrapolated; NAN if no bound */
  double      valid_high_x;
  double      temperature_c; /* held constant; NAN on the temperature axis */
  double      shear_rate_1_s; /* held constant; NAN on the shear axis */
  char       *ingredient_id; /* the agent of %OG_CURVE_AGENT_PCT; nullable */
} OgCurve;

/** Frees what @curve holds and leaves a curve that does not exist. */
void og_curve_clear (OgCurve *curve);

typedef struct
{
  double     temperature_c;
  double     shear_rate_1_s;
  OgEstimate viscosity_mpa_s;
} OgViscosityPoint;

/** OgMark: one measurement of a whole recipe, to be shown on the curves. */
typedef struct
{
  char  *measurement_id;
  double temperature_c;
  double shear_rate_1_s;
  double agent_pct; /* share of this recipe's main agent in what was measured; NAN without an agent */
  double mpa_s;
  double ln_sd;
} OgMark;

/** OgAgentState: one gelling agent or wax as it is in the recipe. NAN where unknown. */
typedef struct
{
  char    *ingredient_id;
  double   share_pct;     /* wt % of the recipe */
  double   gel_point_pct; /* as believed, wt % of oil and agent */
  double   clears_c;      /* on warming, at its share */
  double   sets_c;        /* on cooling, at its share */
  double   network;       /* share in the network over the gel point, at 25 C: 1 at the gel point */
} OgAgentState;

struct _OgBelief;

/**
 * OgResult:
 *
 * Everything the program knows about one recipe. Immutable, reference counted.
 */
typedef struct
{
  gatomicrefcount ref_count;

  gint64      total_ppm;
  GPtrArray  *contents;      /* of OgContent, see og_formula_contents(); ingredients borrowed from @catalog */
  OgCatalog  *catalog;       /* what the recipe was evaluated with */

  OgProfile  *profile;       /* of the triglyceride part; empty if there is none */
  double      triglyceride_fraction;
  double      density_g_ml;  /* at 25 C; NAN if a main component has none */
  double      density_known_fraction; /* mass fraction whose density is known */
  double      iodine_value;  /* mass-weighted over what has one; NAN if nothing has */
  double      saponification_value;
  double      refractive_index; /* at 25 C by volume (Lorentz-Lorenz); NAN if unknown */
  double      cox, oxidisability, peroxidisability; /* of @profile, times triglyceride_fraction */

  OgEstimate  rest, pour, rub;   /* mPa.s at 25 C and the three rates above */
  OgEstimate  skin;              /* mPa.s at 32 C when rubbed */
  OgEstimate  liquid;            /* mPa.s at 25 C of the liquid without gelling agents and powders */
  OgEstimate  yield_stress_pa;   /* at 25 C; 0 below the gel point */
  double      gel_probability;   /* 0 ... 1: that there is a yield stress above 0.5 Pa at 25 C */
  struct _OgBelief *belief;      /* nullable: the measurements the prediction has learned from */
  OgEstimate  prior_pour;        /* as pour, before any measurement */
  GArray     *marks;             /* of OgMark: measurements of recipes, of the formula */
  GArray     *agents;            /* of OgAgentState */
  GArray     *settling;          /* of OgSettling (core/settling.h), at 25 C */
  OgBody      body;
  OgSaying   *body_text;         /* names body, rest and rub */

  GArray     *viscosity;     /* of OgViscosityPoint: temperatures (slow index) x shear rates asked for */
  OgCurve     curves[OG_N_CURVES];
  GPtrArray  *rulings;       /* of OgRuling: every rule that concerns the recipe, kept or not */
  GPtrArray  *findings;      /* of OgFinding, most severe first */
} OgResult;

/** Takes a reference. Returns: its argument */
OgResult   *og_result_ref        (OgResult        *result);
/** Gives a reference back; the last one frees. */
void        og_result_unref      (OgResult        *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgResult, og_result_unref)
/** Returns: (transfer full) (nullable): what to show once beside the findings of @result, if one of them speaks of a law
 * or guide */
OgSaying   *og_result_get_advice (const OgResult  *result);
/** Returns: %OG_SEVERITY_NOTE if there is no finding */
OgSeverity  og_result_worst      (const OgResult  *result);

G_END_DECLS
