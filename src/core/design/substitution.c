/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/design/substitution-private.h"
#include "core/predict/belief.h"
#include "core/predict/solvents.h"

#define DEFAULT_MOST 12 /* suggestions: a page of them; judgement */
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
search (const OgReplacement *replacement)
{
  const OgSubstitutionOptions *options = replacement->options;
  const guint n = replacement->candidates->len;
  g_autofree double *deviation = g_new0 (double, (gsize) n * OG_N_TRAIT_NUMBERS + 1);
  g_autofree double *cost = g_new0 (double, n + 1);
  g_autofree double *most_share = g_new (double, n + 1);
  const guint most_parts = CLAMP (options->most_parts, 1, OG_SUBSTITUTION_MOST_PARTS);
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
    .most = options->most > 0 ? options->most : DEFAULT_MOST,
    .progress = options->progress,
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

static void
foresee (const OgReplacement *replacement,
         OgSuggestion        *suggestion)
{
  g_autoptr (OgFormula) changed = og_substitution_apply (replacement->plain, suggestion);
  OgConditions conditions = { .belief = replacement->before->belief };
  g_autoptr (OgResult) after = og_evaluate (changed, replacement->catalog, &conditions);
  g_autoptr (OgBlend) blend
      = og_blend_new (after->contents, og_catalog_get_parameters (replacement->catalog));

  if (replacement->before->belief != NULL)
    og_blend_set_belief (blend, replacement->before->belief);
  suggestion->viscosity_ratio
      = og_blend_ratio (blend, replacement->blend, OG_TEMPERATURE_ROOM_C, OG_SHEAR_POUR);
  suggestion->iodine_change = after->iodine_value - replacement->before->iodine_value;
  suggestion->density_change_g_ml = after->density_g_ml - replacement->before->density_g_ml;
  suggestion->price_change_per_kg = price_change (replacement, changed);
  suggestion->currency = g_strdup (replacement->currency);
}

/* The largest part first. Returns: (nullable): %NULL if the recipe cannot take it up */
static OgSuggestion *
suggest (const OgReplacement *replacement,
         const OgMixture     *mixture)
{
  OgSuggestion *suggestion = og_suggestion_new (replacement->ids);
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
  og_replacement_fill (replacement, parts, shares, mixture->n_parts, suggestion);
  if (!og_replacement_takes (replacement, suggestion))
    {
      og_suggestion_free (suggestion);
      return NULL;
    }
  foresee (replacement, suggestion);
  og_replacement_explain (replacement, parts, shares, mixture->n_parts, suggestion);
  return suggestion;
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
    {
      g_autoptr (GArray) mixtures = search (&replacement);

      suggestions = g_ptr_array_new_with_free_func ((GDestroyNotify) og_suggestion_free);
      for (guint i = 0; i < mixtures->len; i++)
        {
          OgSuggestion *suggestion = suggest (&replacement, &g_array_index (mixtures, OgMixture, i));

          if (suggestion != NULL)
            g_ptr_array_add (suggestions, suggestion);
        }
    }
  og_replacement_clear (&replacement);
  return suggestions;
}
