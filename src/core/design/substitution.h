/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/design/material-traits.h"
#include "core/predict/evaluate.h"
#include "core/recipe/shelf.h"

G_BEGIN_DECLS

/** Most materials that one suggestion may be made of. */
#define OG_SUBSTITUTION_MOST_PARTS 4

/** OgSubstitutionWeights: how much each trait counts; 0 or more, only their ratios matter. */
typedef struct
{
  double weight[OG_N_TRAITS];
} OgSubstitutionWeights;

/** OgSubstitutionIntent: named sets of weights. */
typedef enum
{
  OG_SUBSTITUTION_BALANCED,
  OG_SUBSTITUTION_SAME_FEEL,
  OG_SUBSTITUTION_SAME_KEEPING,
  OG_SUBSTITUTION_SAME_SHINE,
  OG_SUBSTITUTION_CHEAPER,
  OG_N_SUBSTITUTION_INTENTS
} OgSubstitutionIntent;

const char *og_substitution_intent_to_nick   (OgSubstitutionIntent   intent); /* "same-feel" */
const char *og_substitution_intent_get_name  (OgSubstitutionIntent   intent); /* translated: "Same feel" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_substitution_intent_from_nick (const char            *nick,
                                              OgSubstitutionIntent  *intent);
/** Fills @weights with those of @intent: judgement. */
void        og_substitution_weights_init     (OgSubstitutionWeights *weights,
                                              OgSubstitutionIntent   intent);

/** OgSuggestedPart: one material of a suggestion. */
typedef struct
{
  const OgIngredient *ingredient; /* borrowed from the catalog */
  OgPpm               amount;     /* share in the formula */
} OgSuggestedPart;

/** OgCarrierMove: oil that a pre-dispersed material brought or will bring, and that another line
 * makes up for, so that what counts stays as it was. */
typedef struct
{
  const OgIngredient *ingredient; /* borrowed from the catalog */
  OgPpm               change;     /* of its own line; below 0: taken away */
  gboolean            own_line;   /* FALSE: the balance, or all others in proportion, take it up */
} OgCarrierMove;

/** OgLineMove: a line beside the replaced ones that shrinks or grows with a suggestion. */
typedef struct
{
  guint               line_id;
  const OgIngredient *ingredient; /* borrowed from the catalog */
  OgPpm               before;
  OgPpm               after;
  gboolean            follows;    /* by itself: a balance line, or a carrier's own */
} OgLineMove;

/** OgSuggestionKind: what a suggestion is good for; several may hold, as bits 1 << kind. */
typedef enum
{
  OG_SUGGESTION_SAME_PROFILE, /* nine tenths of the fatty acids in common */
  OG_SUGGESTION_SAME_BODY,    /* pours and stands as before */
  OG_SUGGESTION_PLANT,        /* of plant origin, see og_ingredient_is_from_plants() */
  OG_SUGGESTION_CHEAPER,      /* the recipe costs less by the shelf */
  OG_SUGGESTION_STOCKED,      /* the shelf has enough for the batch */
  OG_N_SUGGESTION_KINDS
} OgSuggestionKind;

const char *og_suggestion_kind_to_nick   (OgSuggestionKind  kind); /* "same-body" */
const char *og_suggestion_kind_get_name  (OgSuggestionKind  kind); /* translated: "Same body" */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean    og_suggestion_kind_from_nick (const char       *nick,
                                          OgSuggestionKind *kind);

/** OgSuggestion: what may take the place of one or several materials of a recipe. */
typedef struct
{
  char      **replaced;            /* ids of what it takes the place of, NULL-terminated */
  GArray     *parts;               /* of OgSuggestedPart, largest first; one or more */
  GArray     *carriers;            /* of OgCarrierMove; mostly empty */
  GArray     *moves;               /* of OgLineMove, in the order of the recipe: all other lines that change */
  double      distance;            /* 0: the same in all that counts; 1: on average all that counts
                                      differs by as much as a formulator notices */
  double      bound;               /* proven: no other suggestion of this place or later is nearer */
  gboolean    optimal;             /* @bound is @distance, but for 1e-6 */
  OgEstimate  viscosity_ratio;     /* new over old when poured at 25 C, all moves made; NAN if unknown */
  double      rest_before_mpa_s;   /* at rest, 25 C; NAN if unknown */
  double      rest_after_mpa_s;
  double      iodine_change;       /* of the whole recipe; NAN if unknown */
  double      density_change_g_ml; /* of the whole recipe; NAN if unknown */
  double      price_change_per_kg; /* of the whole recipe; NAN if a price is missing or of another currency */
  char       *currency;            /* of that price; nullable */
  guint       kinds;               /* bits of OgSuggestionKind */
  GPtrArray  *losses;              /* of OgSaying: what the formulator gives up; empty: nothing that is known */
  GPtrArray  *reasons;             /* of OgSaying, most telling first */
} OgSuggestion;

/** Returns: (transfer full): a suggestion without parts, everything else unknown
 * @ingredient_ids: NULL-terminated: what it would take the place of */
OgSuggestion *og_suggestion_new      (const char *const  *ingredient_ids);
/** Adds @amount, in millionths of the recipe, of @ingredient, which is borrowed from the catalog. */
void          og_suggestion_add_part (OgSuggestion       *suggestion,
                                      const OgIngredient *ingredient,
                                      OgPpm               amount);
/** Frees @suggestion with all it holds. */
void          og_suggestion_free     (OgSuggestion       *suggestion);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgSuggestion, og_suggestion_free)
/** Returns: (transfer none): part @index, or %NULL behind the last */
const OgSuggestedPart *og_suggestion_get_part (const OgSuggestion *suggestion,
                                               guint               index);
/** Returns: (transfer full): names of the parts in one line: "A", "A and B", "A, B and C" */
OgSaying     *og_suggestion_get_title (const OgSuggestion *suggestion);
/** Returns: (transfer full) (nullable): the lines that shrink or grow with it, with their amounts */
OgSaying     *og_suggestion_tell_moves (const OgSuggestion *suggestion);
/** Returns: (transfer full) (nullable): how it stands at rest, where that changes otherwise than it pours */
OgSaying     *og_suggestion_tell_rest  (const OgSuggestion *suggestion);
/** Returns: (transfer full): what the formulator loses, in one line */
OgSaying     *og_suggestion_tell_losses (const OgSuggestion *suggestion);

/** Returns: whether @ingredient is of natural origin by ISO 16128 (index above 0.5) and neither mineral nor from
 * animals; %FALSE where the index is unknown */
gboolean      og_ingredient_is_from_plants (const OgIngredient *ingredient);

/**
 * OgSubstitutionProgress:
 * @done: share of the search that is behind, 0 ... 1, as far as can be told
 * @best: distance of the nearest found so far; NAN before the first
 * @bound: no answer that is still missing is nearer than this
 *
 * Called now and then by a search, in its thread. Returns: %FALSE to stop it
 */
typedef gboolean (*OgSubstitutionProgress) (double done, double best, double bound, gpointer user_data);

/** OgSubstitutionOptions: zeroed memory asks for one-for-one replacements from the whole library. */
typedef struct
{
  const char *const *without_tags; /* nullable, NULL-terminated; also what a mixture holds */
  const char *const *without_ids;  /* nullable, NULL-terminated: single materials */
  const char *const *markets;      /* nullable, NULL-terminated: "eu", "us": nothing tagged as not for lips there,
                                      where the formula's product goes on lips */
  guint              most;         /* 0: 12 */
  guint              most_parts;   /* 1 ... OG_SUBSTITUTION_MOST_PARTS; 0: 1 */
  double             least_share;  /* smallest share of a part in what is replaced; 0: 0.05 */
  const OgSubstitutionWeights *weights; /* nullable: balanced */
  const OgShelf     *shelf;        /* nullable: prices and stock */
  gboolean           from_plants;  /* only og_ingredient_is_from_plants() */
  gboolean           stocked;      /* only what @shelf has enough of for the formula's batch */
  struct _OgBelief  *belief;       /* nullable: what measurements taught; %NULL learns from those of the formula alone */
  GPtrArray        **left_out;     /* (out) (transfer full) (nullable) of OgSaying: materials of the same role that are
                                      not suggested although a formulator would look for them, and why */
  OgSubstitutionProgress progress; /* nullable */
  gpointer           progress_data;
} OgSubstitutionOptions;

/**
 * og_substitute:
 * @formula: the recipe
 * @ingredient_ids: NULL-terminated: one or several materials of the recipe, which do the same job
 * and are replaced together
 * @options: (nullable)
 *
 * What can play the same role, nearest first: single materials or mixtures of up to
 * @options->most_parts. The distance is the weighted mean over all traits that count of absolute
 * differences, each divided by one that a formulator notices; an unknown trait costs a stated
 * distance and is named in the reasons. Liquids that part again (og_liquids_mix()) are neither mixed
 * nor added to a recipe that holds much of the other; an agent that does not dissolve in the recipe is left out.
 *
 * The body is kept as far as it goes: by the share of a new agent, else by that of the recipe's own agent within its
 * usual amounts, else by less or more of the new liquid against the largest other one. Amounts are rounded to what
 * can be weighed, 0.1 % from 5 % on and 0.01 % below; the balance, or else the largest oil, takes the last digit.
 * Colours, actives, antioxidants, scents and powders never move. Usual amounts bound every part. Nothing is
 * suggested that og_evaluate() or og_stove_plan() forbids and did not forbid before.
 *
 * Of those that pass, each is proven to be the nearest that does not hold all parts of an earlier one, unless the
 * search was stopped: then it carries its gap. Mixtures that share a third of what they are made of with a nearer
 * one are left out; the last places go to the nearest of each kind (#OgSuggestionKind) that would be missing.
 *
 * Safe to call from any thread; @formula, @catalog and @options must stay as they are meanwhile. (A
 * thread of its own wants a copy of the formula that is made and freed where the original lives, and
 * the belief of its result in @options.)
 *
 * Returns: (transfer full) (element-type OgSuggestion): may be empty; %NULL with an #OgRecipeError
 */
GPtrArray *og_substitute       (const OgFormula              *formula,
                                OgCatalog                    *catalog,
                                const char *const            *ingredient_ids,
                                const OgSubstitutionOptions  *options,
                                GError                      **error);
/**
 * og_substitution_apply:
 *
 * In every phase, the parts take the place of the replaced lines in proportion: the first part that
 * of the first line (or of the balance line, if that is replaced), with its note and hold, the others
 * follow. A part that the phase holds already is added to that line. Carriers and the lines of @suggestion->moves
 * move, then the recipe is balanced; what is missing to 100 % without a balance line, in a recipe that the
 * suggestion was not made for, is made up by the lines that are not held.
 *
 * Returns: (transfer full): a copy of @formula that holds @suggestion
 */
OgFormula *og_substitution_apply (const OgFormula            *formula,
                                  const OgSuggestion         *suggestion);

G_END_DECLS
