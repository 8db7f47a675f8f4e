/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/material-traits.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/conditions.h"
#include "core/base/nick.h"
#include "core/base/physics.h"
#include "core/label/colour.h"
#include "core/predict/belief.h"
#include "core/predict/blend.h"
#include "core/predict/solvents.h"
#include "core/predict/viscosity-law.h"
#include "core/predict/viscosity.h"

#define SOLID_FROM_C 45.0        /* a wax that melts above is solid at 25 C: judgement */
#define BORNE_UNLESS_SAID_C 100.0 /* a material bears it unless its figures say less; judgement */
#define HEAT_DOUBT 0.25 /* of a heat that nobody stated; judgement */
#define AGENT_DOUBT 0.2 /* of how an agent thickens that no reading has taught; judgement */
#define GUESS_DOUBT 1.0          /* at least, of a viscosity that is guessed */

static const struct
{
  OgNick word;
  double noticed; /* judgement */
} rules[OG_N_TRAITS] = {
  [OG_TRAIT_ACIDS] = { { "acids", N_("Fatty acids") }, 0.4 },
  [OG_TRAIT_VISCOSITY] = { { "viscosity", N_("Viscosity at 25 °C") }, 0.7 },
  [OG_TRAIT_SKIN_VISCOSITY] = { { "skin-viscosity", N_("Viscosity on the skin") }, 0.7 },
  [OG_TRAIT_IODINE] = { { "iodine", N_("Iodine value") }, 40.0 },
  [OG_TRAIT_OXIDISABILITY] = { { "oxidisability", N_("Oxidisability") }, 0.35 },
  [OG_TRAIT_GLOSS] = { { "gloss", N_("Gloss") }, 0.010 },
  [OG_TRAIT_DENSITY] = { { "density", N_("Density") }, 0.03 },
  [OG_TRAIT_POLARITY] = { { "polarity", N_("Polarity") }, 0.3 },
  [OG_TRAIT_SOLVENCY] = { { "solvency", N_("Goes with the gelling agent") }, 0.5 },
  [OG_TRAIT_MELTING] = { { "melting", N_("Melting") }, 15.0 },
  [OG_TRAIT_SOLID] = { { "solid", N_("Solid share at 25 °C") }, 0.2 },
  [OG_TRAIT_SCENT] = { { "scent", N_("Scent") }, 0.5 },
  [OG_TRAIT_COLOUR] = { { "colour", N_("Own colour") }, 0.25 },
  [OG_TRAIT_SHADE] = { { "shade", N_("Shade") }, 0.25 },
  [OG_TRAIT_THICKENING] = { { "thickening", N_("Way of thickening") }, 2.0 },
  [OG_TRAIT_LEVEL] = { { "level", N_("Usual level") }, 1.0 },
  [OG_TRAIT_FORM] = { { "form", N_("Form") }, 1.0 },
  [OG_TRAIT_GRADE] = { { "grade", N_("Grade") }, 1.0 },
  [OG_TRAIT_HEAT] = { { "heat", N_("Highest temperature") }, 20.0 },
  [OG_TRAIT_PRICE] = { { "price", N_("Price") }, 1.0 },
};
OG_DEFINE_NICKS (OgTrait, og_trait, rules)
OG_DEFINE_NAMES (OgTrait, og_trait, rules)
OG_DEFINE_WORDS (OgTrait, og_trait, rules)

double
og_trait_get_noticed (OgTrait trait)
{
  g_return_val_if_fail (trait < OG_N_TRAITS, NAN);

  return rules[trait].noticed;
}

guint
og_trait_get_numbers (OgTrait trait,
                      guint  *n)
{
  guint first = 0;

  for (int t = 0;; t++)
    {
      *n = t == OG_TRAIT_ACIDS ? OG_N_ACID_CLASSES + 1 : t == OG_TRAIT_SHADE ? 3 : 1;
      if (t == (int) trait)
        return first;
      first += *n;
    }
}

static void
set (OgMaterialTraits *traits,
     OgTrait           trait,
     double            value)
{
  guint n;

  traits->number[og_trait_get_numbers (trait, &n)] = value;
}

/* Half of each share, so that the differences add up to what has to move from class to class. What
 * has no fatty acids counts as a class of its own. */
static void
set_acids (OgMaterialTraits   *traits,
           const OgIngredient *ingredient)
{
  double *number = traits->number;
  double pct[OG_N_ACID_CLASSES];

  if (ingredient->profile == NULL
      && (ingredient->kind == OG_KIND_OIL || ingredient->kind == OG_KIND_BUTTER))
    return;
  for (guint i = 0; i <= OG_N_ACID_CLASSES; i++)
    number[i] = 0.0;
  if (ingredient->profile == NULL)
    {
      number[OG_N_ACID_CLASSES] = 0.5;
      return;
    }
  og_profile_class_shares (ingredient->profile, pct);
  for (guint i = 0; i < OG_N_ACID_CLASSES; i++)
    number[i] = 0.5 * pct[i] / 100.0;
}

static OgBlend *
neat_blend (const OgIngredient   *ingredient,
            const OgTraitContext *context)
{
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  const OgPart part = { ingredient->id, 100.0 };
  g_autoptr (GPtrArray) contents = NULL;
  OgBlend *blend;

  g_array_append_val (parts, part);
  contents = og_parts_contents (parts, context->catalog);
  blend = og_blend_new (contents, og_catalog_get_parameters (context->catalog));
  if (context->belief != NULL)
    og_blend_set_belief (blend, context->belief);
  return blend;
}

static void
set_viscosity (OgMaterialTraits     *traits,
               OgTrait               trait,
               const OgIngredient   *ingredient,
               const OgTraitContext *context,
               OgBlend              *blend,
               double                temperature_c)
{
  OgEstimate estimate = og_ingredient_viscosity (ingredient, og_catalog_get_parameters (context->catalog),
                                                 temperature_c);
  OgViscosityLaw law;

  if (traits->learned && og_blend_flows (blend))
    set (traits, trait, og_blend_ln_viscosity (blend, temperature_c, OG_SHEAR_POUR, NULL));
  else if (isfinite (estimate.value))
    set (traits, trait, log (estimate.value));
  else if (og_blend_flows (blend))
    {
      og_viscosity_law_fit (ingredient, &law);
      set (traits, trait, og_viscosity_law_ln (&law, temperature_c));
      traits->doubt[trait]
          = fmax (GUESS_DOUBT, og_viscosity_law_sd (&law, temperature_c) / og_trait_get_noticed (trait));
    }
}

static double
refraction (const OgIngredient *ingredient)
{
  const OgFigure *figure = &ingredient->figures[OG_FIGURE_REFRACTIVE_INDEX];

  if (!og_figure_is_known (figure))
    return NAN;
  return isfinite (figure->at_c) ? figure->value + OG_REFRACTION_SLOPE_1_K * (OG_TEMPERATURE_ROOM_C - figure->at_c)
                                 : figure->value;
}

/* Ester groups by mass, and hydroxyl groups on top. */
double
og_ingredient_polarity (const OgIngredient *ingredient)
{
  static const OgAcid ricinoleic = { 18, 1, 1 };
  double saponification, hydroxy = 0.0;

  switch ((int) ingredient->kind)
    {
    case OG_KIND_HYDROCARBON:
      return 0.0;
    case OG_KIND_SILICONE:
      return 0.1;
    case OG_KIND_ALCOHOL:
      return 0.7;
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
      break;
    default:
      return NAN;
    }
  saponification = og_ingredient_saponification (ingredient);
  if (!isfinite (saponification))
    return 0.5;
  if (ingredient->profile != NULL)
    hydroxy = og_profile_get (ingredient->profile, ricinoleic) / 100.0;
  return fmin (0.85, 0.2 + 0.4 * saponification / 190.0) + 0.35 * hydroxy;
}

static double
solvency (const OgIngredient   *ingredient,
          const OgTraitContext *context)
{
  g_autoptr (GPtrArray) neat = g_ptr_array_new ();
  OgContent content = { ingredient, ingredient->id, 1.0 };
  OgSolventFit fit = OG_SOLVENT_UNKNOWN;
  const char *medium;

  g_ptr_array_add (neat, &content);
  if (ingredient->gelling.family != OG_GEL_NONE && context->contents != NULL)
    fit = og_solvent_fit (context->contents, &ingredient->gelling, &medium);
  else if (context->gelling != NULL)
    fit = og_solvent_fit (neat, context->gelling, &medium);
  return fit == OG_SOLVENT_YES ? 1.0 : fit == OG_SOLVENT_LIMITED ? 0.5 : fit == OG_SOLVENT_NO ? 0.0 : NAN;
}

/* What is liquid at room temperature counts as melting there. */
static double
melting_felt_c (const OgIngredient *ingredient)
{
  const OgFigure *melting = &ingredient->figures[OG_FIGURE_MELTING_C];

  if (!og_figure_is_known (melting))
    return ingredient->kind == OG_KIND_BUTTER || ingredient->kind == OG_KIND_WAX ? NAN : OG_TEMPERATURE_ROOM_C;
  return fmax (melting->value, OG_TEMPERATURE_ROOM_C);
}

static double
solid_fraction (const OgIngredient *ingredient)
{
  const double melting_c = melting_felt_c (ingredient);

  if (melting_c <= OG_TEMPERATURE_ROOM_C)
    return 0.0;
  return ingredient->kind != OG_KIND_BUTTER && melting_c >= SOLID_FROM_C ? 1.0 : NAN;
}

static gboolean
is_scented (const OgIngredient *ingredient)
{
  return ingredient->kind == OG_KIND_ESSENTIAL_OIL || ingredient->kind == OG_KIND_FLAVOUR
         || og_ingredient_has_role (ingredient, "flavour") || og_ingredient_has_role (ingredient, "fragrance");
}

static gboolean
find_mass_tone (const OgIngredient *ingredient,
                const OgCatalog    *catalog,
                OgRgb              *tone)
{
  if (og_rgb_from_hex (ingredient->hex, tone))
    return TRUE;
  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      const OgIngredient *held = og_catalog_get (catalog, part->ingredient_id);

      if (held != NULL && held != ingredient && held->hex != NULL
          && find_mass_tone (held, catalog, tone))
        return TRUE;
    }
  return FALSE;
}

static void
set_colour (OgMaterialTraits   *traits,
            const OgIngredient *ingredient,
            const OgCatalog    *catalog)
{
  double channels[3], squares = 0.0;
  OgRgb tone;
  guint n;
  const guint first = og_trait_get_numbers (OG_TRAIT_SHADE, &n);

  if (!find_mass_tone (ingredient, catalog, &tone))
    {
      if (!og_ingredient_has_role (ingredient, "colour"))
        set (traits, OG_TRAIT_COLOUR, 0.0);
      return;
    }
  channels[0] = tone.red;
  channels[1] = tone.green;
  channels[2] = tone.blue;
  for (guint i = 0; i < G_N_ELEMENTS (channels); i++)
    {
      traits->number[first + i] = channels[i] / 3.0;
      squares += (1.0 - channels[i]) * (1.0 - channels[i]);
    }
  set (traits, OG_TRAIT_COLOUR, sqrt (squares / 3.0));
}

static double
ln_usual_level (const OgIngredient *ingredient)
{
  const OgFigure *low = &ingredient->figures[OG_FIGURE_USUAL_LOW_PCT];
  const OgFigure *high = &ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT];

  if (!og_figure_is_known (low) || !og_figure_is_known (high))
    return NAN;
  return 0.5 * log (low->value * high->value);
}

static void
set_heat (OgMaterialTraits   *traits,
          const OgIngredient *ingredient)
{
  const OgFigure *most = &ingredient->figures[OG_FIGURE_MAX_HEAT_C];

  if (og_figure_is_known (most))
    {
      set (traits, OG_TRAIT_HEAT, fmin (most->value, BORNE_UNLESS_SAID_C));
      return;
    }
  set (traits, OG_TRAIT_HEAT, BORNE_UNLESS_SAID_C);
  traits->doubt[OG_TRAIT_HEAT] = HEAT_DOUBT;
}

void
og_material_traits_init (OgMaterialTraits     *traits,
                         const OgIngredient   *ingredient,
                         const OgTraitContext *context)
{
  g_autoptr (OgBlend) blend = neat_blend (ingredient, context);
  const OgFigure *gel_point = &ingredient->gelling.gel_point_pct;

  *traits = (OgMaterialTraits) { 0 };
  for (guint i = 0; i < OG_N_TRAIT_NUMBERS; i++)
    traits->number[i] = NAN;
  traits->learned = context->belief != NULL && og_blend_is_learned (blend);

  set_acids (traits, ingredient);
  set_viscosity (traits, OG_TRAIT_VISCOSITY, ingredient, context, blend, OG_TEMPERATURE_ROOM_C);
  set_viscosity (traits, OG_TRAIT_SKIN_VISCOSITY, ingredient, context, blend, OG_TEMPERATURE_SKIN_C);
  set (traits, OG_TRAIT_IODINE, og_ingredient_iodine_value (ingredient));
  if (ingredient->profile != NULL)
    set (traits, OG_TRAIT_OXIDISABILITY, og_profile_oxidisability (ingredient->profile));
  set (traits, OG_TRAIT_GLOSS, refraction (ingredient));
  set (traits, OG_TRAIT_DENSITY, og_ingredient_density (ingredient, OG_TEMPERATURE_ROOM_C));
  set (traits, OG_TRAIT_POLARITY, og_ingredient_polarity (ingredient));
  set (traits, OG_TRAIT_SOLVENCY, solvency (ingredient, context));
  set (traits, OG_TRAIT_MELTING, melting_felt_c (ingredient));
  set (traits, OG_TRAIT_SOLID, solid_fraction (ingredient));
  set (traits, OG_TRAIT_SCENT, is_scented (ingredient) ? 1.0 : 0.0);
  set_colour (traits, ingredient, context->catalog);
  if (ingredient->gelling.family != OG_GEL_NONE && og_figure_is_known (gel_point))
    set (traits, OG_TRAIT_THICKENING, log (gel_point->value));
  traits->doubt[OG_TRAIT_THICKENING] = traits->learned ? 0.0 : AGENT_DOUBT;
  set (traits, OG_TRAIT_LEVEL, ln_usual_level (ingredient));
  set_heat (traits, ingredient);
}
