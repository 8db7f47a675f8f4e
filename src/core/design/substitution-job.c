/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

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
