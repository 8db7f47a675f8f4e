/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/nick.h"

static const OgNick intents[OG_N_SUBSTITUTION_INTENTS] = {
  [OG_SUBSTITUTION_BALANCED] = { "balanced", N_("A bit of everything") },
  [OG_SUBSTITUTION_SAME_FEEL] = { "same-feel", N_("Same feel") },
  [OG_SUBSTITUTION_SAME_KEEPING] = { "same-keeping", N_("Same keeping") },
  [OG_SUBSTITUTION_SAME_SHINE] = { "same-shine", N_("Same shine") },
  [OG_SUBSTITUTION_CHEAPER] = { "cheaper", N_("Cheaper") },
};
OG_DEFINE_NICKS (OgSubstitutionIntent, og_substitution_intent, intents)
OG_DEFINE_NAMES (OgSubstitutionIntent, og_substitution_intent, intents)

static const OgSubstitutionWeights balanced = { {
    [OG_TRAIT_ACIDS] = 1.0,
    [OG_TRAIT_VISCOSITY] = 1.0,
    [OG_TRAIT_SKIN_VISCOSITY] = 0.5,
    [OG_TRAIT_IODINE] = 0.75,
    [OG_TRAIT_OXIDISABILITY] = 0.5,
    [OG_TRAIT_GLOSS] = 0.5,
    [OG_TRAIT_DENSITY] = 0.5,
    [OG_TRAIT_POLARITY] = 0.75,
    [OG_TRAIT_SOLVENCY] = 0.75,
    [OG_TRAIT_MELTING] = 0.75,
    [OG_TRAIT_SOLID] = 0.25,
    [OG_TRAIT_SCENT] = 0.5,
    [OG_TRAIT_COLOUR] = 0.5,
    [OG_TRAIT_SHADE] = 2.0,
    [OG_TRAIT_THICKENING] = 2.0,
    [OG_TRAIT_LEVEL] = 0.5,
    [OG_TRAIT_FORM] = 0.5,
    [OG_TRAIT_GRADE] = 0.5,
    [OG_TRAIT_HEAT] = 0.25,
    [OG_TRAIT_PRICE] = 0.0,
} };

/* What an intent weighs otherwise. */
static const struct
{
  OgSubstitutionIntent intent;
  OgTrait trait;
  double weight;
} changes[] = {
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_VISCOSITY, 2.0 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_SKIN_VISCOSITY, 2.0 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_MELTING, 1.5 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_POLARITY, 1.5 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_SOLID, 1.0 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_ACIDS, 0.5 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_IODINE, 0.25 },
  { OG_SUBSTITUTION_SAME_FEEL, OG_TRAIT_OXIDISABILITY, 0.0 },
  { OG_SUBSTITUTION_SAME_KEEPING, OG_TRAIT_IODINE, 2.5 },
  { OG_SUBSTITUTION_SAME_KEEPING, OG_TRAIT_OXIDISABILITY, 2.5 },
  { OG_SUBSTITUTION_SAME_KEEPING, OG_TRAIT_ACIDS, 1.5 },
  { OG_SUBSTITUTION_SAME_KEEPING, OG_TRAIT_VISCOSITY, 0.5 },
  { OG_SUBSTITUTION_SAME_KEEPING, OG_TRAIT_SKIN_VISCOSITY, 0.25 },
  { OG_SUBSTITUTION_SAME_SHINE, OG_TRAIT_GLOSS, 3.0 },
  { OG_SUBSTITUTION_SAME_SHINE, OG_TRAIT_COLOUR, 1.0 },
  { OG_SUBSTITUTION_SAME_SHINE, OG_TRAIT_ACIDS, 0.5 },
  { OG_SUBSTITUTION_CHEAPER, OG_TRAIT_PRICE, 4.0 },
};

void
og_substitution_weights_init (OgSubstitutionWeights *weights,
                              OgSubstitutionIntent   intent)
{
  *weights = balanced;
  for (gsize i = 0; i < G_N_ELEMENTS (changes); i++)
    if (changes[i].intent == intent)
      weights->weight[changes[i].trait] = changes[i].weight;
}
