/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/solvents.h"

#include <glib/gi18n-lib.h>

/* Hydroxy acids of all acids, from which an oil dissolves like castor oil; judgement. */
#define CASTOR_LIKE_PCT 50.0

enum
{
  MEDIUM_CASTOR,
  MEDIUM_TRIGLYCERIDE,
  MEDIUM_ESTER,
  MEDIUM_HYDROCARBON,
  MEDIUM_SILICONE,
  N_MEDIA
};

/* -1 for what is not a carrying liquid. */
static int
medium_of (const OgIngredient *ingredient)
{
  double class_pct[OG_N_ACID_CLASSES];

  if (og_ingredient_is_triglyceride (ingredient))
    {
      og_profile_class_shares (ingredient->profile, class_pct);
      return class_pct[OG_ACID_CLASS_HYDROXY] > CASTOR_LIKE_PCT ? MEDIUM_CASTOR
                                                                : MEDIUM_TRIGLYCERIDE;
    }
  if (ingredient->kind == OG_KIND_HYDROCARBON)
    return MEDIUM_HYDROCARBON;
  if (ingredient->kind == OG_KIND_SILICONE)
    return MEDIUM_SILICONE;
  if (ingredient->kind == OG_KIND_ESTER || ingredient->kind == OG_KIND_ALCOHOL
      || ingredient->kind == OG_KIND_WAX_ESTER)
    return MEDIUM_ESTER;
  return -1;
}

/* Not translated. */
static const char *
medium_name (int medium)
{
  switch (medium)
    {
    case MEDIUM_CASTOR:
      return N_ ("castor oil");
    case MEDIUM_TRIGLYCERIDE:
      return N_ ("ordinary oils");
    case MEDIUM_ESTER:
      return N_ ("esters");
    case MEDIUM_HYDROCARBON:
      return N_ ("hydrocarbons");
    default:
      return N_ ("silicones");
    }
}

OgSolventFit
og_solvent_fit (GPtrArray       *contents,
                const OgGelling *gelling,
                const char     **medium)
{
  const OgSolventFit fit[N_MEDIA] = { gelling->castor, gelling->triglyceride, gelling->ester,
                                      gelling->hydrocarbon, gelling->silicone };
  double share[N_MEDIA] = { 0.0 };
  int most = 0;

  *medium = NULL;
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      int of = content->ingredient != NULL ? medium_of (content->ingredient) : -1;

      if (of >= 0)
        share[of] += content->fraction;
    }
  for (int i = 1; i < N_MEDIA; i++)
    if (share[i] > share[most])
      most = i;
  if (share[most] <= 0.0)
    return OG_SOLVENT_UNKNOWN;
  *medium = medium_name (most);
  return fit[most];
}

gboolean
og_liquids_mix (const OgIngredient *a,
                const OgIngredient *b)
{
  int one = MIN (medium_of (a), medium_of (b));
  int other = MAX (medium_of (a), medium_of (b));

  if (one == MEDIUM_CASTOR)
    return other != MEDIUM_HYDROCARBON && other != MEDIUM_SILICONE;
  return one != MEDIUM_TRIGLYCERIDE || other != MEDIUM_SILICONE;
}
