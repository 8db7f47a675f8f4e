/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"

#include <glib/gi18n-lib.h>

#include "core/base/saying.h"

/* All judgement. */
#define SAME_ACIDS 0.1   /* share of the fatty acids that may differ */
#define SAME_POUR_LN 0.1 /* hardly seen */
#define SAME_REST_LN 0.2
#define NOTICED 0.5      /* of what a formulator notices */
#define OTHER_ACIDS 0.3  /* share of the fatty acids that is worth a word */
#define TIMES_FROM 2.0   /* a factor is told as such from here on */

typedef struct
{
  const OgReplacement *replacement;
  const OgComponent *const *parts;
  guint n;
  OgMaterialTraits mixed;
  OgSuggestion *suggestion;
} Judgement;

static void
lose (Judgement *judgement,
      OgSaying  *text)
{
  g_ptr_array_add (judgement->suggestion->losses, text);
}

/* How much more of @trait there is, in what a formulator notices; 0 if unknown or not compared. */
static double
more_of (const Judgement *judgement,
         OgTrait          trait)
{
  const OgReplacement *replacement = judgement->replacement;
  const double distance = og_replacement_deviation (replacement, trait, &judgement->mixed);
  guint n;
  const guint first = og_trait_get_numbers (trait, &n);

  if (!isfinite (distance) || replacement->job == OG_JOB_COLOUR || replacement->job == OG_JOB_SHIMMER)
    return 0.0;
  return judgement->mixed.number[first] > replacement->target.number[first] ? distance : -distance;
}

/* Share of the fatty acids that is another; NAN if one of them has none. */
static double
other_acids (const Judgement *judgement)
{
  if (judgement->replacement->job != OG_JOB_LIQUID)
    return NAN;
  return 0.5 * og_trait_get_noticed (OG_TRAIT_ACIDS)
         * og_replacement_deviation (judgement->replacement, OG_TRAIT_ACIDS, &judgement->mixed);
}

/* --- kinds --- */

static gboolean
all_from_plants (const OgComponent *const *parts,
                 guint                     n)
{
  for (guint i = 0; i < n; i++)
    if (!og_ingredient_is_from_plants (parts[i]->ingredient))
      return FALSE;
  return TRUE;
}

static gboolean
was_from_plants (const OgReplacement *replacement)
{
  for (guint i = 0; i < replacement->old->len; i++)
    if (!og_ingredient_is_from_plants (g_array_index (replacement->old, OgComponent, i).ingredient))
      return FALSE;
  return TRUE;
}

static gboolean
is_stocked (const Judgement *judgement)
{
  for (guint i = 0; i < judgement->suggestion->parts->len; i++)
    {
      const OgSuggestedPart *part = og_suggestion_get_part (judgement->suggestion, i);
      const OgShelfItem *item = og_shelf_get (judgement->replacement->options->shelf, part->ingredient->id);

      if (item == NULL || item->stock_g < og_ppm_to_g (part->amount, judgement->replacement->formula->batch_g))
        return FALSE;
    }
  return TRUE;
}

static void
set_kind (Judgement        *judgement,
          OgSuggestionKind  kind,
          gboolean          holds)
{
  if (holds)
    judgement->suggestion->kinds |= 1u << kind;
}

static void
find_kinds (Judgement *judgement)
{
  const OgSuggestion *suggestion = judgement->suggestion;
  const double ln_rest = log (suggestion->rest_after_mpa_s / suggestion->rest_before_mpa_s);

  set_kind (judgement, OG_SUGGESTION_SAME_PROFILE, other_acids (judgement) <= SAME_ACIDS);
  set_kind (judgement, OG_SUGGESTION_SAME_BODY,
            fabs (log (suggestion->viscosity_ratio.value)) <= SAME_POUR_LN && fabs (ln_rest) <= SAME_REST_LN);
  set_kind (judgement, OG_SUGGESTION_PLANT, all_from_plants (judgement->parts, judgement->n));
  set_kind (judgement, OG_SUGGESTION_CHEAPER, suggestion->price_change_per_kg < 0.0);
  set_kind (judgement, OG_SUGGESTION_STOCKED, judgement->replacement->options->shelf != NULL && is_stocked (judgement));
}

/* --- losses --- */

static void
tell_body (Judgement *judgement)
{
  const double ratio = judgement->suggestion->viscosity_ratio.value;

  if (!isfinite (ratio))
    lose (judgement, og_saying_plain (N_("nobody knows what becomes of the body")));
  else if (ratio >= TIMES_FROM)
    lose (judgement, og_saying_new (N_("%s times as thick when poured"), og_word_significant (ratio, 2)));
  else if (log (ratio) > SAME_POUR_LN)
    lose (judgement, og_saying_new (N_("thicker by %s %% when poured"), og_word_fixed (100.0 * (ratio - 1.0), 0)));
  else if (log (ratio) < -SAME_POUR_LN)
    lose (judgement, og_saying_new (N_("thinner by %s %% when poured"), og_word_fixed (100.0 * (1.0 - ratio), 0)));
}

static void
tell_rest (Judgement *judgement)
{
  const OgSuggestion *suggestion = judgement->suggestion;
  const double ratio = suggestion->rest_after_mpa_s / suggestion->rest_before_mpa_s;

  if (ratio >= TIMES_FROM && suggestion->viscosity_ratio.value < TIMES_FROM)
    lose (judgement, og_saying_new (N_("%s times as thick at rest"), og_word_significant (ratio, 2)));
  else if (ratio <= 1.0 / TIMES_FROM && suggestion->viscosity_ratio.value > 1.0 / TIMES_FROM)
    lose (judgement, og_saying_new (N_("%s times thinner at rest"), og_word_significant (1.0 / ratio, 2)));
}

static void
tell_traits (Judgement *judgement)
{
  static const struct
  {
    OgTrait trait;
    double sign; /* of what is worse */
    const char *text;
  } worse[] = {
    { OG_TRAIT_OXIDISABILITY, 1.0, N_("turns rancid sooner") },
    { OG_TRAIT_GLOSS, -1.0, N_("less shine") },
    { OG_TRAIT_POLARITY, -1.0, N_("less polar: wets pigment and skin otherwise") },
    { OG_TRAIT_POLARITY, 1.0, N_("more polar: wets pigment and skin otherwise") },
    { OG_TRAIT_MELTING, 1.0, N_("may cloud or grain in the cold") },
    { OG_TRAIT_SCENT, 1.0, N_("a scent or taste comes with it") },
    { OG_TRAIT_COLOUR, 1.0, N_("a colour of its own comes with it") },
    { OG_TRAIT_HEAT, -1.0, N_("bears less heat") },
  };
  const double acids = other_acids (judgement);

  if (acids > OTHER_ACIDS)
    lose (judgement, og_saying_new (N_("%s %% of the fatty acids are others"), og_word_fixed (100.0 * acids, 0)));
  for (guint i = 0; i < G_N_ELEMENTS (worse); i++)
    if (worse[i].sign * more_of (judgement, worse[i].trait) >= NOTICED)
      lose (judgement, og_saying_plain (worse[i].text));
}

static gboolean
had_tag (const OgReplacement *replacement,
         const char          *tag)
{
  for (guint i = 0; i < replacement->old->len; i++)
    if (og_ingredient_has_tag (g_array_index (replacement->old, OgComponent, i).ingredient, tag))
      return TRUE;
  return FALSE;
}

static void
tell_sources (Judgement *judgement)
{
  static const struct
  {
    const char *tag;
    const char *text;
  } sources[] = {
    { "nut", N_("from tree nuts") },
    { "peanut", N_("from peanuts") },
    { "soy", N_("from soya") },
    { "sesame", N_("from sesame") },
    { "gluten-source", N_("from a gluten source") },
    { "animal-derived", N_("from animals") },
    { "palm", N_("palm may be its source") },
    { "volatile", N_("evaporates after a while") },
    { "drying", N_("hardens in air as it ages") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (sources); i++)
    for (guint p = 0; p < judgement->n; p++)
      if (og_ingredient_has_tag (judgement->parts[p]->ingredient, sources[i].tag)
          && !had_tag (judgement->replacement, sources[i].tag))
        {
          lose (judgement, og_saying_plain (sources[i].text));
          break;
        }
  if (was_from_plants (judgement->replacement) && !(judgement->suggestion->kinds & 1u << OG_SUGGESTION_PLANT))
    lose (judgement, og_saying_plain (N_("no longer known to be of plant origin")));
}

static void
tell_price (Judgement *judgement)
{
  if (judgement->suggestion->price_change_per_kg > 0.0)
    lose (judgement, og_saying_new (N_("%s %s more a kilogram of the recipe"),
                                    og_word_fixed (judgement->suggestion->price_change_per_kg, 2),
                                    og_word_text (judgement->suggestion->currency)));
}

void
og_replacement_judge (const OgReplacement      *replacement,
                      const OgComponent *const *components,
                      const double             *shares,
                      guint                     n,
                      OgSuggestion             *suggestion)
{
  Judgement judgement = { replacement, components, n, { { 0 } }, suggestion };

  og_traits_mix (&judgement.mixed, components, shares, n);
  find_kinds (&judgement);
  tell_body (&judgement);
  tell_rest (&judgement);
  tell_traits (&judgement);
  tell_sources (&judgement);
  tell_price (&judgement);
}
