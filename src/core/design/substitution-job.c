/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#define FROM_NATURE 0.5 /* ISO 16128-1: ingredients of natural origin have an index above it */

/* What can be weighed: large lines to 0.1 %, others to 0.01 %, traces, and colours and actives below 1 %, to 0.001 %. Of
 * 20 g, 0.01 % are 2 mg; common practice, no source. */
#define LARGE_PPM (5 * OG_PPM_PER_PERCENT)
#define TRACE_PPM (OG_PPM_PER_PERCENT / 10)
#define COARSE_STEP_PPM (OG_PPM_PER_PERCENT / 10)
#define STEP_PPM (OG_PPM_PER_PERCENT / 100)
#define FINE_STEP_PPM (OG_PPM_PER_PERCENT / 1000)

OgJob
og_job_of (const OgIngredient *ingredient)
{
  if (ingredient->gelling.family == OG_GEL_VISCOUS_LIQUID && ingredient->kind == OG_KIND_GELLING_AGENT)
    return OG_JOB_LIQUID_POLYMER;
  switch (ingredient->kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
    case OG_KIND_BUTTER:
      return OG_JOB_LIQUID;
    case OG_KIND_GELLING_AGENT:
      return OG_JOB_GELLING;
    case OG_KIND_WAX:
      return OG_JOB_STIFFENER;
    case OG_KIND_ANTIOXIDANT:
      return OG_JOB_ANTIOXIDANT;
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
      return OG_JOB_COLOUR;
    case OG_KIND_PEARL:
      return OG_JOB_SHIMMER;
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
      return OG_JOB_FLAVOUR;
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
      return OG_JOB_VITAMIN;
    case OG_KIND_POWDER:
      return OG_JOB_FILLER;
    case OG_N_KINDS:
    default:
      return OG_JOB_NONE;
    }
}

double
og_job_potency (OgJob               job,
                const OgIngredient *ingredient,
                const OgCatalog    *catalog,
                gboolean           *stated)
{
  double pct = 0.0;

  *stated = TRUE;
  if (job != OG_JOB_COLOUR && job != OG_JOB_ANTIOXIDANT)
    return 1.0;
  if (ingredient->composition->len == 0)
    {
      *stated = ingredient->kind != OG_KIND_DISPERSION && !og_ingredient_has_tag (ingredient, "grade-varies");
      return 1.0;
    }
  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (catalog, part->ingredient_id);

      if (held != NULL && (job == OG_JOB_COLOUR ? held->kind == OG_KIND_COLOUR || og_ingredient_is_suspended (held)
                                                : og_ingredient_has_role (held, "antioxidant")))
        pct += part->pct;
    }
  *stated = pct > 0.0;
  return pct > 0.0 ? pct / 100.0 : 1.0;
}

gboolean
og_ingredient_is_from_plants (const OgIngredient *ingredient)
{
  static const char *const others[] = { "animal-derived", "bee", "lanolin", "mineral", "silicone" };
  const OgFigure *index = &ingredient->figures[OG_FIGURE_NATURAL_ORIGIN_INDEX];

  for (guint i = 0; i < G_N_ELEMENTS (others); i++)
    if (og_ingredient_has_tag (ingredient, others[i]))
      return FALSE;
  return og_figure_is_known (index) && index->value > FROM_NATURE && ingredient->kind != OG_KIND_COLOUR
         && ingredient->kind != OG_KIND_PEARL && ingredient->kind != OG_KIND_POWDER
         && ingredient->gelling.family != OG_GEL_PARTICLE_NETWORK
         && ingredient->gelling.family != OG_GEL_PLATELET_NETWORK;
}

/* --- amounts --- */

OgPpm
og_weighable (double   ppm,
              gboolean finely)
{
  OgPpm step = ppm < TRACE_PPM || (finely && ppm < OG_PPM_PER_PERCENT) ? FINE_STEP_PPM : STEP_PPM;
  const OgPpm whole = (OgPpm) lround (ppm);

  if (whole % step == 0)
    return whole;
  if (ppm >= LARGE_PPM && !finely)
    step = COARSE_STEP_PPM;
  return step * (OgPpm) lround (ppm / step);
}

OgPpm
og_weighable_part (double ppm,
                   OgPpm  total)
{
  const OgPpm step = ppm >= LARGE_PPM ? COARSE_STEP_PPM : STEP_PPM;

  return total < TRACE_PPM ? og_weighable (ppm, FALSE) : step * (OgPpm) lround (ppm / step);
}

typedef struct
{
  const char *id;
  gint64 amount;
} Total;

static void
add_amount (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Total *total = user_data;

  total->amount += g_str_equal (line->ingredient_id, total->id) ? line->amount : 0;
}

gint64
og_amount_of (const OgFormula *formula,
              const char      *id)
{
  Total total = { id, 0 };

  og_formula_foreach_line (formula, add_amount, &total);
  return total.amount;
}

OgPpm
og_replacement_usual_room (const OgReplacement *replacement,
                           const OgIngredient  *ingredient)
{
  const OgFigure *usual = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];
  OgPpm most = OG_PPM_WHOLE;

  if (og_figure_is_known (usual))
    og_pct_to_ppm (usual->value, &most);
  return (OgPpm) MAX (0, most - og_amount_of (replacement->plain, ingredient->id));
}
