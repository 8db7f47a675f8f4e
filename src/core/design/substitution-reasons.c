/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/estimate.h"
#include "core/base/practice.h"
#include "core/base/saying.h"
#include "core/predict/belief.h"

#define SAME_ACIDS 0.1 /* share of the fatty acids that may differ; judgement */
#define WORTH_SAYING 0.25 /* of what a formulator notices */
#define CLEARLY 0.5 /* of what a formulator notices; judgement */

typedef struct
{
  double weight;
  OgSaying *text;
} Reason;

typedef struct
{
  const OgReplacement *replacement;
  const OgComponent *const *parts;
  const double *shares;
  guint n;
  OgMaterialTraits mixed;
  GArray *reasons; /* of Reason */
} Explanation;

static double
number_of (const OgMaterialTraits *traits,
           OgTrait                 trait)
{
  guint n;

  return traits->number[og_trait_get_numbers (trait, &n)];
}

static double
deviation (const Explanation *explanation,
           OgTrait            trait)
{
  return og_replacement_deviation (explanation->replacement, trait, &explanation->mixed);
}

/* What a state that is no number adds, over all parts. */
static double
added (const Explanation *explanation,
       OgTrait            trait)
{
  double sum = 0.0;

  for (guint i = 0; i < explanation->n; i++)
    sum += explanation->shares[i] * explanation->parts[i]->added[trait];
  return sum;
}

static void
say (Explanation *explanation,
     OgTrait      trait,
     double       distance,
     OgSaying    *text)
{
  Reason reason = { explanation->replacement->weight[trait] * distance, text };

  if (reason.weight > 0.0 || distance == 0.0)
    g_array_append_val (explanation->reasons, reason);
  else
    og_saying_unref (text);
}

static void
say_if_noticed (Explanation *explanation,
                OgTrait      trait,
                const char  *more,
                const char  *less)
{
  const double change = number_of (&explanation->mixed, trait)
                        - number_of (&explanation->replacement->target, trait);
  const double distance = deviation (explanation, trait);

  if (isfinite (distance) && distance >= CLEARLY)
    say (explanation, trait, distance, og_saying_plain (change > 0.0 ? more : less));
}

/* --- viscosity --- */

static OgEstimate
neat_viscosity (const OgReplacement      *replacement,
                const OgComponent *const *parts,
                const double             *shares,
                guint                     n)
{
  g_autoptr (GArray) list = g_array_new (FALSE, FALSE, sizeof (OgPart));
  g_autoptr (GPtrArray) contents = NULL;
  g_autoptr (OgBlend) blend = NULL;

  for (guint i = 0; i < n; i++)
    {
      const OgPart part = { parts[i]->ingredient->id, 100.0 * shares[i] };

      g_array_append_val (list, part);
    }
  contents = og_parts_contents (list, replacement->catalog);
  blend = og_blend_new (contents, og_catalog_get_parameters (replacement->catalog));
  if (replacement->before->belief != NULL)
    og_blend_set_belief (blend, replacement->before->belief);
  if (!og_blend_flows (blend) || og_blend_get_doubts (blend)->len > 0)
    return (OgEstimate) { NAN, NAN, NAN };
  return og_blend_viscosity (blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
}

static OgEstimate
old_viscosity (const OgReplacement *replacement)
{
  const guint n = replacement->old->len;
  g_autofree const OgComponent **parts = g_new (const OgComponent *, n);
  g_autofree double *shares = g_new (double, n);

  for (guint i = 0; i < n; i++)
    {
      parts[i] = &g_array_index (replacement->old, OgComponent, i);
      shares[i] = parts[i]->share;
    }
  return neat_viscosity (replacement, parts, shares, n);
}

static OgSaying *
times_text (double ratio)
{
  return ratio >= 1.0 ? og_saying_new (N_("%s times as thick"), og_word_fixed (ratio, 1))
                      : og_saying_new (N_("%s times thinner"), og_word_fixed (1.0 / ratio, 1));
}

static void
explain_viscosity (Explanation *explanation)
{
  const OgEstimate old = old_viscosity (explanation->replacement);
  const OgEstimate new = neat_viscosity (explanation->replacement, explanation->parts, explanation->shares,
                                         explanation->n);
  g_autoptr (OgSaying) times = NULL;
  const double ln_ratio = log (new.value / old.value);
  double distance = deviation (explanation, OG_TRAIT_VISCOSITY);

  if (!isfinite (old.value) && !isfinite (new.value))
    say (explanation, OG_TRAIT_VISCOSITY, 1.0, og_saying_plain (N_("The viscosity of neither is known.")));
  else if (!isfinite (new.value))
    say (explanation, OG_TRAIT_VISCOSITY, 1.0,
         og_saying_plain (N_("Its own viscosity is unknown: test it in a flow cup first.")));
  else if (!isfinite (old.value))
    say (explanation, OG_TRAIT_VISCOSITY, 1.0,
         og_saying_new (N_("On its own about %s mPa·s at 25 °C; that of the material it replaces is unknown."),
                        og_word_viscosity (new.value)));
  else if (fabs (ln_ratio) < OG_BODY_KEPT_LN)
    say (explanation, OG_TRAIT_VISCOSITY, distance,
         og_saying_new (N_("As thick on its own: %s mPa·s against %s at 25 °C."), og_word_viscosity (new.value),
                        og_word_viscosity (old.value)));
  else
    {
      times = times_text (exp (ln_ratio));
      say (explanation, OG_TRAIT_VISCOSITY, distance,
           og_saying_new (N_("On its own %s: %s mPa·s against %s at 25 °C."), og_word_saying (times),
                          og_word_viscosity (new.value), og_word_viscosity (old.value)));
    }
}

/* --- the others --- */

/* @most: the class of acids that changes most */
static OgSaying *
common_acids_text (double       common_pct,
                   OgAcidClass  most,
                   double       new_pct,
                   double       old_pct)
{
  if (100.0 - common_pct < 100.0 * SAME_ACIDS)
    return og_saying_new (N_("Nearly the same fatty acids: %s %% in common."), og_word_fixed (common_pct, 0));
  return og_saying_new (N_("%s %% of the fatty acids in common; most changed: %s, %s %% against %s %%."),
                        og_word_fixed (common_pct, 0), og_acid_class_word (most), og_word_fixed (new_pct, 0),
                        og_word_fixed (old_pct, 0));
}

static void
explain_acids (Explanation *explanation)
{
  const double *new = explanation->mixed.number, *old = explanation->replacement->target.number;
  const double distance = deviation (explanation, OG_TRAIT_ACIDS);
  guint most = 0;

  if (!isfinite (distance) || (new[OG_N_ACID_CLASSES] > 0.45 && old[OG_N_ACID_CLASSES] > 0.45))
    return;
  if (fabs (new[OG_N_ACID_CLASSES] - old[OG_N_ACID_CLASSES]) > 0.25)
    {
      say (explanation, OG_TRAIT_ACIDS, distance, og_saying_plain (N_("Of another chemical family.")));
      return;
    }
  for (guint i = 1; i < OG_N_ACID_CLASSES; i++)
    if (fabs (new[i] - old[i]) > fabs (new[most] - old[most]))
      most = i;
  say (explanation, OG_TRAIT_ACIDS, distance,
       common_acids_text (100.0 * (1.0 - distance * og_trait_get_noticed (OG_TRAIT_ACIDS)),
                          (OgAcidClass) most, 200.0 * new[most], 200.0 * old[most]));
}

static void
explain_keeping (Explanation *explanation)
{
  const double new = number_of (&explanation->mixed, OG_TRAIT_IODINE);
  const double old = number_of (&explanation->replacement->target, OG_TRAIT_IODINE);
  const double distance = deviation (explanation, OG_TRAIT_IODINE);

  if (isfinite (distance) && distance >= WORTH_SAYING)
    say (explanation, OG_TRAIT_IODINE, distance,
         og_saying_new (new < old ? N_("Slower to oxidise: iodine value %s against %s.")
                                  : N_("Quicker to oxidise: iodine value %s against %s."),
                        og_word_fixed (new, 0), og_word_fixed (old, 0)));
}

static void
explain_liquid (Explanation *explanation)
{
  explain_viscosity (explanation);
  explain_acids (explanation);
  explain_keeping (explanation);
  say_if_noticed (explanation, OG_TRAIT_GLOSS, N_("Glossier: a higher refractive index."),
                  N_("Less gloss: a lower refractive index."));
  say_if_noticed (explanation, OG_TRAIT_POLARITY, N_("More polar: it spreads and dissolves differently."),
                  N_("Less polar: it spreads and dissolves differently."));
  say_if_noticed (explanation, OG_TRAIT_SOLVENCY, N_("The gelling agent dissolves better in it."),
                  N_("The gelling agent dissolves less well in it."));
  say_if_noticed (explanation, OG_TRAIT_COLOUR, N_("It colours more."), N_("It colours less."));
}

static void
explain_melting (Explanation *explanation)
{
  say_if_noticed (explanation, OG_TRAIT_MELTING, N_("Melts higher: it stiffens and may grain the oil."),
                  N_("Melts lower: it does not stiffen as much."));
}

static void
explain_gelling (Explanation *explanation)
{
  const double other = added (explanation, OG_TRAIT_THICKENING);
  const double fit = number_of (&explanation->mixed, OG_TRAIT_SOLVENCY);

  if (other > 0.0)
    say (explanation, OG_TRAIT_THICKENING, other,
         og_saying_plain (N_("Thickens in another way: expect another feel and other heating.")));
  else
    say (explanation, OG_TRAIT_THICKENING, 0.0, og_saying_plain (N_("Thickens in the same way.")));
  if (!isfinite (fit))
    say (explanation, OG_TRAIT_SOLVENCY, 1.0,
         og_saying_plain (N_("Whether it dissolves in the main liquid here is unknown.")));
  else if (fit < 0.25)
    say (explanation, OG_TRAIT_SOLVENCY, 2.0, og_saying_plain (N_("Does not dissolve in the main liquid here.")));
  else if (fit < 0.75)
    say (explanation, OG_TRAIT_SOLVENCY, 1.0, og_saying_plain (N_("Suits the main liquid here only within limits.")));
}

static void
explain_colour (Explanation *explanation)
{
  const double distance = deviation (explanation, OG_TRAIT_SHADE);
  gboolean dry = FALSE, ground = FALSE;

  if (!isfinite (distance))
    say (explanation, OG_TRAIT_SHADE, 1.0, og_saying_plain (N_("How near the shade is, is unknown.")));
  else
    say (explanation, OG_TRAIT_SHADE, distance,
         og_saying_plain (distance < 0.4 ? N_("A similar shade (approximate mass tone).") : N_("Another shade.")));
  for (guint i = 0; i < explanation->n; i++)
    if (explanation->parts[i]->added[OG_TRAIT_FORM] > 0.0)
      {
        ground = ground || explanation->parts[i]->ingredient->kind == OG_KIND_DISPERSION;
        dry = dry || explanation->parts[i]->ingredient->kind == OG_KIND_COLOUR;
      }
  if (ground)
    say (explanation, OG_TRAIT_FORM, 1.0,
         og_saying_plain (N_("Already ground in oil; it brings less colour for its weight.")));
  if (dry)
    say (explanation, OG_TRAIT_FORM, 1.0, og_saying_plain (N_("A dry powder: it has to be ground in oil first.")));
}

static void
explain_level (Explanation *explanation)
{
  const double ln_ratio = number_of (&explanation->mixed, OG_TRAIT_LEVEL)
                          - number_of (&explanation->replacement->target, OG_TRAIT_LEVEL);
  const OgFigure *figures = explanation->parts[0]->ingredient->figures;

  say (explanation, OG_TRAIT_FORM, 0.0, og_saying_plain (N_("Does the same job.")));
  if (!isfinite (ln_ratio))
    say (explanation, OG_TRAIT_LEVEL, 1.0, og_saying_plain (N_("Its usual level is unknown.")));
  else if (fabs (ln_ratio) < 0.2)
    say (explanation, OG_TRAIT_LEVEL, 0.0, og_saying_plain (N_("Used at about the same level.")));
  else if (explanation->n == 1)
    say (explanation, OG_TRAIT_LEVEL, fabs (ln_ratio),
         og_saying_new (N_("Usually %s to %s %%: adjust the amount."),
                        og_word_significant (figures[OG_FIGURE_USUAL_LOW_PCT].value, 3),
                        og_word_significant (figures[OG_FIGURE_USUAL_HIGH_PCT].value, 3)));
}

static void
explain_grade (Explanation *explanation)
{
  for (guint i = 0; i < explanation->n; i++)
    if (explanation->parts[i]->added[OG_TRAIT_GRADE] > 0.0)
      say (explanation, OG_TRAIT_GRADE, explanation->shares[i],
           /* Translators: %s is a material */
           og_saying_new (N_("%s: materials of this name differ; counted as different until yours is measured "
                             "at the bench."),
                          og_word_text (explanation->parts[i]->ingredient->name)));
}

static void
explain_price (Explanation *explanation)
{
  const double ratio = number_of (&explanation->mixed, OG_TRAIT_PRICE);

  if (isfinite (ratio) && isfinite (explanation->replacement->price))
    say (explanation, OG_TRAIT_PRICE, ratio,
         og_saying_new (N_("Costs %s times as much as what it replaces."), og_word_fixed (ratio, 2)));
}

/* One sentence for all that is unknown and has no sentence of its own. */
static void
explain_unknown (Explanation *explanation)
{
  static const OgTrait named[] = { OG_TRAIT_ACIDS, OG_TRAIT_IODINE, OG_TRAIT_OXIDISABILITY, OG_TRAIT_GLOSS,
                                   OG_TRAIT_DENSITY, OG_TRAIT_POLARITY, OG_TRAIT_MELTING, OG_TRAIT_SOLID,
                                   OG_TRAIT_COLOUR, OG_TRAIT_THICKENING, OG_TRAIT_PRICE };
  g_autoptr (GPtrArray) names = og_sayings_new ();
  g_autoptr (OgSaying) list = NULL;
  double weight = 0.0;

  for (guint i = 0; i < G_N_ELEMENTS (named); i++)
    {
      if (!(explanation->replacement->weight[named[i]] > 0.0) || isfinite (deviation (explanation, named[i])))
        continue;
      g_ptr_array_add (names, og_saying_of (og_trait_word (named[i])));
      weight += explanation->replacement->weight[named[i]];
    }
  if (names->len > 0)
    {
      Reason reason = { .weight = weight };

      list = og_saying_list (N_(", "), g_steal_pointer (&names));
      /* Translators: %s are names of properties */
      reason.text = og_saying_new (N_("Not known, and so counted as different: %s."), og_word_saying (list));
      g_array_append_val (explanation->reasons, reason);
    }
}

static void
add_source_reasons (const Explanation *explanation,
                    GPtrArray         *reasons)
{
  static const struct
  {
    const char *tag;
    const char *text;
  } notice[] = {
    { "nut", N_("From a tree nut.") },
    { "peanut", N_("From peanuts.") },
    { "animal-derived", N_("Of animal origin.") },
    { "volatile", N_("Evaporates after a while.") },
    { "drying", N_("Hardens in air as it ages.") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (notice); i++)
    for (guint p = 0; p < explanation->n; p++)
      if (og_ingredient_has_tag (explanation->parts[p]->ingredient, notice[i].tag))
        {
          g_ptr_array_add (reasons, explanation->n == 1
                                        ? og_saying_plain (notice[i].text)
                                        /* Translators: the first %s is a material, the second a sentence about it */
                                        : og_saying_new (N_("%s: %s"),
                                                         og_word_text (explanation->parts[p]->ingredient->name),
                                                         og_word_label (notice[i].text)));
        }
}

static int
compare_reasons (gconstpointer a,
                 gconstpointer b)
{
  const Reason *one = a, *other = b;

  return (other->weight > one->weight) - (other->weight < one->weight);
}

void
og_replacement_explain (const OgReplacement      *replacement,
                        const OgComponent *const *components,
                        const double             *shares,
                        guint                     n,
                        OgSuggestion             *suggestion)
{
  g_autoptr (GArray) reasons = g_array_new (FALSE, FALSE, sizeof (Reason));
  Explanation explanation = { replacement, components, shares, n, { { 0 } }, reasons };

  og_traits_mix (&explanation.mixed, components, shares, n);
  switch (replacement->job)
    {
    case OG_JOB_LIQUID:
    case OG_JOB_LIQUID_POLYMER:
      explain_liquid (&explanation);
      explain_melting (&explanation);
      break;
    case OG_JOB_GELLING:
    case OG_JOB_STIFFENER:
      explain_gelling (&explanation);
      explain_melting (&explanation);
      break;
    case OG_JOB_COLOUR:
    case OG_JOB_SHIMMER:
      explain_colour (&explanation);
      break;
    case OG_JOB_NONE:
    case OG_JOB_ANTIOXIDANT:
    case OG_JOB_FLAVOUR:
    case OG_JOB_VITAMIN:
    case OG_JOB_FILLER:
    default:
      explain_level (&explanation);
      break;
    }
  say_if_noticed (&explanation, OG_TRAIT_SCENT, N_("It brings a scent or a taste."),
                  N_("It brings less scent or taste."));
  say_if_noticed (&explanation, OG_TRAIT_HEAT, N_("It bears more heat."), N_("It bears less heat: add it later."));
  explain_grade (&explanation);
  explain_price (&explanation);
  explain_unknown (&explanation);

  g_array_sort (reasons, compare_reasons);
  for (guint i = 0; i < reasons->len; i++)
    g_ptr_array_add (suggestion->reasons, g_array_index (reasons, Reason, i).text);
  add_source_reasons (&explanation, suggestion->reasons);
}
