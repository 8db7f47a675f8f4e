/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/material-traits.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const struct
{
  const char *nick;
  const char *name;
  double noticed; /* judgement */
} rules[OG_N_TRAITS] = {
  [OG_TRAIT_ACIDS] = { "acids", N_ ("Fatty acids"), 0.4 },
  [OG_TRAIT_VISCOSITY] = { "viscosity", N_ ("Viscosity at 25 °C"), 0.7 },
  [OG_TRAIT_SKIN_VISCOSITY] = { "skin-viscosity", N_ ("Viscosity on the skin"), 0.7 },
  [OG_TRAIT_IODINE] = { "iodine", N_ ("Iodine value"), 40.0 },
  [OG_TRAIT_OXIDISABILITY] = { "oxidisability", N_ ("Oxidisability"), 0.35 },
  [OG_TRAIT_GLOSS] = { "gloss", N_ ("Gloss"), 0.010 },
  [OG_TRAIT_DENSITY] = { "density", N_ ("Density"), 0.03 },
  [OG_TRAIT_POLARITY] = { "polarity", N_ ("Polarity"), 0.3 },
  [OG_TRAIT_SOLVENCY] = { "solvency", N_ ("Goes with the gelling agent"), 0.5 },
  [OG_TRAIT_MELTING] = { "melting", N_ ("Melting"), 15.0 },
  [OG_TRAIT_SOLID] = { "solid", N_ ("Solid share at 25 °C"), 0.2 },
  [OG_TRAIT_SCENT] = { "scent", N_ ("Scent"), 0.5 },
  [OG_TRAIT_COLOUR] = { "colour", N_ ("Own colour"), 0.25 },
  [OG_TRAIT_SHADE] = { "shade", N_ ("Shade"), 0.25 },
  [OG_TRAIT_THICKENING] = { "thickening", N_ ("Way of thickening"), 2.0 },
  [OG_TRAIT_LEVEL] = { "level", N_ ("Usual level"), 1.0 },
  [OG_TRAIT_FORM] = { "form", N_ ("Form"), 1.0 },
  [OG_TRAIT_GRADE] = { "grade", N_ ("Grade"), 1.0 },
  [OG_TRAIT_HEAT] = { "heat", N_ ("Highest temperature"), 20.0 },
  [OG_TRAIT_PRICE] = { "price", N_ ("Price"), 1.0 },
};

const char *
og_trait_to_nick (OgTrait trait)
{
  g_return_val_if_fail (trait < OG_N_TRAITS, NULL);

  return rules[trait].nick;
}

gboolean
og_trait_from_nick (const char *nick,
                    OgTrait    *trait)
{
  for (int i = 0; i < OG_N_TRAITS; i++)
    if (strcmp (rules[i].nick, nick) == 0)
      {
        *trait = (OgTrait) i;
        return TRUE;
      }
  return FALSE;
}

const char *
og_trait_get_name (OgTrait trait)
{
  g_return_val_if_fail (trait < OG_N_TRAITS, NULL);

  return _ (rules[trait].name);
}

double
og_trait_get_noticed (OgTrait trait)
{
  g_return_val_if_fail (trait < OG_N_TRAITS, NAN);

  return rules[trait].noticed;
}
