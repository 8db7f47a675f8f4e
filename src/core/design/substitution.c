/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/design/substitution-private.h"
#include "core/predict/belief.h"
#include "core/predict/solvents.h"

#define DEFAULT_MOST 12 /* suggestions: a page of them; judgement */
#define MOST_TRIED 6 /* times the suggestions asked for: mixtures that are looked at; keeps the search quick */
#define MOST_LOOKS 40 /* farther ones that are looked at for a kind that is missing: keeps the search quick */
#define MOST_NAMED 6 /* names in a sentence */
#define NEAR_COPY 0.3 /* of a mixture that another one shares with it; judgement */
#define DEFAULT_LEAST_SHARE 0.05 /* of a mixture: less is not worth a weighing; judgement */

/* --- the search --- */

/* Liquids that part again do not make a blend. Returns: (transfer full): a table, see OgMixtureProblem */
static guint8 *
pairs_apart (const OgReplacement *replacement)
{
  const guint n = replacement->candidates->len;
  guint8 *apart = g_new0 (guint8, (gsize) n * n + 1);

  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < i; j++)
      {
        const OgIngredient *one = g_array_index (replacement->candidates, OgComponent, i).ingredient;
        const OgIngredient *other = g_array_index (replacement->candidates, OgComponent, j).ingredient;

        apart[(gsize) i * n + j] = apart[(gsize) j * n + i] = !og_liquids_mix (one, other);
      }
  return apart;
}

static GArray *
search (const OgReplacement *replacement,
        guint                most_parts,
        guint                most)
{
  const OgSubstitutionOptions *options = replacement->options;
  const guint n = replacement->candidates->len;
  g_autofree double *deviation = g_new0 (double, (gsize) n * OG_N_TRAIT_NUMBERS + 1);
  g_autofree double *cost = g_new0 (double, n + 1);
  g_autofree double *most_share = g_new (double, n + 1);
  const double least_share = options->least_share > 0.0 ? options->least_share : DEFAULT_LEAST_SHARE;
  g_autofree guint8 *apart = pairs_apart (replacement);
  gboolean scarce = FALSE;
  OgMixtureProblem problem = {
    .n = n,
    .m = OG_N_TRAIT_NUMBERS,
    .deviation = deviation,
    .cost = cost,
    .apart = apart,
    .most_parts = most_parts,
    .least_share = fmin (least_share, 1.0 / most_parts),
    .most = most,
    .progress = most_parts == MAX (options->most_parts, 1) ? options->progress : NULL,
    .progress_data = options->progress_data,
  };

  for (guint j = 0; j < n; j++)
    {
      const OgComponent *candidate = &g_array_index (replacement->candidates, OgComponent, j);
      double *row = deviation + (gsize) j * OG_N_TRAIT_NUMBERS;

      most_share[j] = candidate->most_share;
      scarce = scarce || candidate->most_share < 1.0;
      for (guint t = 0; t < OG_N_TRAITS; t++)
        {
          const double weight = replacement->weight[t];
          guint numbers;
          const guint first = og_trait_get_numbers ((OgTrait) t, &numbers);

          if (!(weight > 0.0))
            continue;
          cost[j] += weight * og_replacement_added (replacement, (OgTrait) t, candidate);
          if (!isfinite (og_replacement_deviation (replacement, (OgTrait) t, &candidate->traits)))
            continue;
          for (guint i = first; i < first + numbers; i++)
            row[i] = weight * (candidate->traits.number[i] - replacement->target.number[i])
                     / og_trait_get_noticed ((OgTrait) t);
        }
    }
  if (scarce)
    problem.most_share = most_share;
  return og_mixture_search (&problem);
}

/* --- what it does to the recipe --- */

typedef struct
{
  const OgReplacement *replacement;
  GHashTable *change; /* id -> double *, ppm */
  double sign;
} Balance;

static void
count_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Balance *balance = user_data;
  double *change = g_hash_table_lookup (balance->change, line->ingredient_id);

  if (change == NULL)
    {
      change = g_new0 (double, 1);
      g_hash_table_insert (balance->change, g_strdup (line->ingredient_id), change);
    }
  *change += balance->sign * line->amount;
}

/* Of everything whose share changes; NAN if one of it has no price in the currency of the old. */
static double
price_change (const OgReplacement *replacement,
              const OgFormula     *changed)
{
  g_autoptr (GHashTable) change = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_autoptr (GList) ids = NULL;
  Balance balance = { replacement, change, 1.0 };
  double sum = 0.0;

  if (replacement->currency == NULL)
    return NAN;
  og_formula_foreach_line (changed, count_line, &balance);
  balance.sign = -1.0;
  og_formula_foreach_line (replacement->formula, count_line, &balance);
  ids = g_list_sort (g_hash_table_get_keys (change), (GCompareFunc) g_strcmp0);
  for (const GList *id = ids; id != NULL; id = id->next)
    {
      const double ppm = *(double *) g_hash_table_lookup (change, id->data);

      if (ppm != 0.0)
        sum += ppm / OG_PPM_WHOLE * og_replacement_price (replacement, id->data);
    }
  return sum;
}

/* Returns: %FALSE if something forbids it */
static gboolean
foresee (const OgReplacement *replacement,
         OgSuggestion        *suggestion)
{
  g_autoptr (OgFormula) changed = og_substitution_apply (replacement->plain, suggestion);
  OgConditions conditions = { .belief = replacement->before->belief };
  g_autoptr (OgResult) after = og_evaluate (changed, replacement->catalog, &conditions);
  g_autoptr (OgSoundness) sound = og_soundness_new (changed, after);
  g_autoptr (OgBlend) blend
      = og_blend_new (after->contents, og_catalog_get_parameters (replacement->catalog));

  if (!og_soundness_holds (sound, replacement->sound))
    return FALSE;
  if (replacement->before->belief != NULL)
    og_blend_set_belief (blend, replacement->before->belief);
  if (!og_replacement_is_guess (replacement, blend))
    {
      suggestion->viscosity_ratio
          = og_blend_ratio (blend, replacement->blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
      suggestion->rest_before_mpa_s = replacement->before->rest.value;
      suggestion->rest_after_mpa_s = after->rest.value;
    }
  suggestion->iodine_change = after->iodine_value - replacement->before->iodine_value;
  suggestion->density_change_g_ml = after->density_g_ml - replacement->before->density_g_ml;
  suggestion->price_change_per_kg = price_change (replacement, changed);
  suggestion->currency = g_strdup (replacement->currency);
  return TRUE;
}

/* The largest part first. Returns: (nullable): %NULL if the recipe cannot take it up, or something forbids it */
static OgSuggestion *
suggest (const OgReplacement *replacement,
         const OgMixture     *mixture)
{
  g_autoptr (OgSuggestion) suggestion = og_suggestion_new (replacement->ids);
  const OgComponent *parts[OG_MIXTURE_MOST_PARTS];
  double shares[OG_MIXTURE_MOST_PARTS];

  for (guint p = 0; p < mixture->n_parts; p++)
    {
      guint i = p;

      for (; i > 0 && shares[i - 1] < mixture->share[p]; i--)
        {
          shares[i] = shares[i - 1];
          parts[i] = parts[i - 1];
        }
      shares[i] = mixture->share[p];
      parts[i] = &g_array_index (replacement->candidates, OgComponent, mixture->candidate[p]);
    }
  suggestion->distance = mixture->distance;
  suggestion->bound = mixture->bound;
  suggestion->optimal = mixture->optimal;
  if (!og_replacement_fill (replacement, parts, shares, mixture->n_parts, suggestion)
      || !og_replacement_settle (replacement, shares, suggestion) || !foresee (replacement, suggestion))
    return NULL;
  og_replacement_judge (replacement, parts, shares, mixture->n_parts, suggestion);
  og_replacement_explain (replacement, parts, shares, mixture->n_parts, suggestion);
  return g_steal_pointer (&suggestion);
}

/* --- which are shown --- */

/* Share of a mixture that @other holds as well. */
static double
common_share (const OgMixture *one,
              const OgMixture *other)
{
  double common = 0.0;

  for (guint i = 0; i < one->n_parts; i++)
    for (guint j = 0; j < other->n_parts; j++)
      if (one->candidate[i] == other->candidate[j])
        common += fmin (one->share[i], other->share[j]);
  return common;
}

/* A mixture, and what becomes of it. */
typedef struct
{
  OgMixture mixture;
  OgSuggestion *suggestion; /* NULL once it is known to be none */
  gboolean looked_at;
} Choice;

typedef struct
{
  const OgReplacement *replacement;
  GArray *choices;          /* of Choice, nearest first */
  GPtrArray *taken;         /* of Choice */
  guint kinds;              /* of those taken */
} Choosing;

static void
choice_clear (gpointer data)
{
  g_clear_pointer (&((Choice *) data)->suggestion, og_suggestion_free);
}

static const OgSuggestion *
look_at (const Choosing *choosing,
         Choice         *choice)
{
  if (!choice->looked_at)
    choice->suggestion = suggest (choosing->replacement, &choice->mixture);
  choice->looked_at = TRUE;
  return choice->suggestion;
}

static gboolean
is_near_copy (const Choosing *choosing,
              const Choice   *choice)
{
  for (guint i = 0; i < choosing->taken->len; i++)
    {
      const OgMixture *other = &((Choice *) g_ptr_array_index (choosing->taken, i))->mixture;
      const gboolean mixed = choice->mixture.n_parts > 1 && other->n_parts > 1;

      if (common_share (&choice->mixture, other) >= (mixed ? NEAR_COPY : 1.0))
        return TRUE;
    }
  return FALSE;
}

static void
take (Choosing *choosing,
      Choice   *choice)
{
  g_ptr_array_add (choosing->taken, choice);
  choosing->kinds |= choice->suggestion->kinds;
}

static void
take_nearest (Choosing *choosing,
              guint     most)
{
  for (guint i = 0; i < choosing->choices->len && choosing->taken->len < most; i++)
    {
      Choice *choice = &g_array_index (choosing->choices, Choice, i);

      if (!is_near_copy (choosing, choice) && look_at (choosing, choice) != NULL)
        take (choosing, choice);
    }
}

/* Kinds that there can be at all. */
static guint
possible_kinds (const OgReplacement *replacement)
{
  guint kinds = 1u << OG_SUGGESTION_SAME_BODY | 1u << OG_SUGGESTION_PLANT;

  if (replacement->job == OG_JOB_LIQUID)
    kinds |= 1u << OG_SUGGESTION_SAME_PROFILE;
  if (replacement->options->shelf != NULL)
    kinds |= 1u << OG_SUGGESTION_STOCKED;
  if (replacement->currency != NULL)
    kinds |= 1u << OG_SUGGESTION_CHEAPER;
  return kinds;
}

/* Where a kind is missing, its nearest takes the place of the farthest that adds no kind itself. */
static void
take_missing_kinds (Choosing *choosing,
                    guint     most)
{
  const guint possible = possible_kinds (choosing->replacement);
  guint last = choosing->taken->len, looks = 0;

  for (guint i = 0; i < choosing->choices->len && last > 1 && looks < MOST_LOOKS && (possible & ~choosing->kinds) != 0;
       i++)
    {
      Choice *choice = &g_array_index (choosing->choices, Choice, i);

      if (choice->looked_at || is_near_copy (choosing, choice))
        continue;
      looks++;
      if (look_at (choosing, choice) == NULL || (choice->suggestion->kinds & ~choosing->kinds) == 0)
        continue;
      if (choosing->taken->len >= most)
        g_ptr_array_remove_index (choosing->taken, --last);
      take (choosing, choice);
    }
}

static int
compare_choices (gconstpointer a,
                 gconstpointer b)
{
  const Choice *one = *(const Choice *const *) a, *other = *(const Choice *const *) b;

  return (one->mixture.distance > other->mixture.distance) - (one->mixture.distance < other->mixture.distance);
}

static void
add_choices (GArray       *choices,
             const GArray *mixtures)
{
  for (guint i = 0; i < mixtures->len; i++)
    {
      Choice choice = { .mixture = g_array_index (mixtures, OgMixture, i) };

      g_array_append_val (choices, choice);
    }
}

/* Mixtures first, then single materials; what passes the checks, no two nearly the same, and all kinds there are. */
static GPtrArray *
choose (const OgReplacement *replacement)
{
  const OgSubstitutionOptions *options = replacement->options;
  const guint most = options->most > 0 ? options->most : DEFAULT_MOST;
  const guint most_parts = CLAMP (options->most_parts, 1, OG_SUBSTITUTION_MOST_PARTS);
  GPtrArray *suggestions = g_ptr_array_new_with_free_func ((GDestroyNotify) og_suggestion_free);
  g_autoptr (GArray) choices = g_array_new (FALSE, FALSE, sizeof (Choice));
  g_autoptr (GPtrArray) taken = g_ptr_array_new ();
  Choosing choosing = { replacement, choices, taken, 0 };

  g_array_set_clear_func (choices, choice_clear);
  if (most_parts > 1)
    {
      g_autoptr (GArray) mixtures = search (replacement, most_parts, MIN (most, DEFAULT_MOST) * MOST_TRIED);

      add_choices (choices, mixtures);
    }
  if (most_parts == 1 || choices->len > 0)
    {
      g_autoptr (GArray) singles = search (replacement, 1, replacement->candidates->len);

      add_choices (choices, singles);
    }
  take_nearest (&choosing, most);
  take_missing_kinds (&choosing, most);
  g_ptr_array_sort (taken, compare_choices);
  for (guint i = 0; i < taken->len; i++)
    g_ptr_array_add (suggestions, g_steal_pointer (&((Choice *) g_ptr_array_index (taken, i))->suggestion));
  return suggestions;
}

/* --- who is left out --- */

static gboolean
is_suggested (const GPtrArray    *suggestions,
              const OgIngredient *ingredient)
{
  for (guint i = 0; i < suggestions->len; i++)
    {
      const OgSuggestion *suggestion = g_ptr_array_index (suggestions, i);

      for (guint p = 0; p < suggestion->parts->len; p++)
        if (og_suggestion_get_part (suggestion, p)->ingredient == ingredient)
          return TRUE;
    }
  return FALSE;
}

/* As the old ones do: a gloss ester for an oil that shines, a thickener for one that thickens. */
static gboolean
shares_role (const OgReplacement *replacement,
             const OgIngredient  *ingredient)
{
  static const char *const roles[] = { "thickener", "gloss" };

  for (guint o = 0; o < replacement->old->len; o++)
    for (guint r = 0; r < G_N_ELEMENTS (roles); r++)
      if (og_ingredient_has_role (ingredient, roles[r])
          && og_ingredient_has_role (g_array_index (replacement->old, OgComponent, o).ingredient, roles[r]))
        return TRUE;
  return FALSE;
}

static gboolean
is_unmeasured (const OgComponent *candidate)
{
  return candidate->ingredient->viscosity->len == 0 && !candidate->traits.learned
         && !og_ingredient_is_triglyceride (candidate->ingredient);
}

/* Of @unmeasured candidates, or of those that may not be as much as is needed. Returns: (transfer full) (nullable) */
static OgSaying *
tell_candidates (const OgReplacement *replacement,
                 const GPtrArray     *suggestions,
                 gboolean             unmeasured,
                 const char          *message)
{
  g_autoptr (GPtrArray) names = og_sayings_new ();
  g_autoptr (OgSaying) list = NULL;

  for (guint i = 0; i < replacement->candidates->len && names->len < MOST_NAMED; i++)
    {
      const OgComponent *candidate = &g_array_index (replacement->candidates, OgComponent, i);

      if (is_unmeasured (candidate) == unmeasured && (unmeasured || candidate->most_share < 1.0)
          && shares_role (replacement, candidate->ingredient) && !is_suggested (suggestions, candidate->ingredient))
        g_ptr_array_add (names, og_saying_verbatim (candidate->ingredient->name));
    }
  if (names->len == 0)
    return NULL;
  list = og_saying_list (N_(", "), g_steal_pointer (&names));
  return og_saying_new (message, og_word_saying (list));
}

static GPtrArray *
tell_left_out (const OgReplacement *replacement,
               const GPtrArray     *suggestions)
{
  /* Translators: %s lists materials */
  OgSaying *unmeasured = tell_candidates (replacement, suggestions, TRUE,
                                          N_("Not compared, because nobody has told their viscosity: %s."));
  OgSaying *scarce = tell_candidates (replacement, suggestions, FALSE,
                                      N_("Not alone, because so much of them is not usual: %s."));
  GPtrArray *told = og_sayings_new ();

  if (unmeasured != NULL)
    g_ptr_array_add (told, unmeasured);
  if (scarce != NULL)
    g_ptr_array_add (told, scarce);
  return told;
}

GPtrArray *
og_substitute (const OgFormula             *formula,
               OgCatalog                   *catalog,
               const char *const           *ingredient_ids,
               const OgSubstitutionOptions *options,
               GError                     **error)
{
  static const OgSubstitutionOptions ordinary = { 0 };
  OgReplacement replacement = {
    .formula = formula,
    .catalog = catalog,
    .options = options != NULL ? options : &ordinary,
    .ids = ingredient_ids,
  };
  GPtrArray *suggestions = NULL;

  g_return_val_if_fail (formula != NULL && catalog != NULL, NULL);
  g_return_val_if_fail (ingredient_ids != NULL && ingredient_ids[0] != NULL, NULL);

  if (og_replacement_init (&replacement, error))
    suggestions = choose (&replacement);
  if (suggestions != NULL && replacement.options->left_out != NULL)
    *replacement.options->left_out = tell_left_out (&replacement, suggestions);
  og_replacement_clear (&replacement);
  return suggestions;
}
