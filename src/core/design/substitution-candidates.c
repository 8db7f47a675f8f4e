/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/substitution-private.h"
#include "core/predict/solvents.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/predict/belief.h"

#define MOST_APART 0.1 /* of the recipe that a new liquid may not mix with: judgement */

/* Distances that are no difference of numbers: judgement. */
#define UNKNOWN_DISTANCE 1.0
#define OTHER_FORM 1.0
#define OTHER_GRADE 1.0
#define OTHER_THICKENING 1.0
#define LOSES_BODY 2.0

#define TRAIT(trait) (1u << OG_TRAIT_##trait)
#define ALWAYS (TRAIT (FORM) | TRAIT (GRADE) | TRAIT (HEAT) | TRAIT (PRICE))
#define LIQUID                                                                                     \
  (TRAIT (ACIDS) | TRAIT (VISCOSITY) | TRAIT (SKIN_VISCOSITY) | TRAIT (IODINE)                     \
   | TRAIT (OXIDISABILITY) | TRAIT (GLOSS) | TRAIT (DENSITY) | TRAIT (POLARITY) | TRAIT (SOLVENCY) \
   | TRAIT (MELTING) | TRAIT (SOLID) | TRAIT (SCENT) | TRAIT (COLOUR) | TRAIT (GRADE)              \
   | TRAIT (HEAT) | TRAIT (PRICE))
#define GELLING (TRAIT (THICKENING) | TRAIT (SOLVENCY) | TRAIT (MELTING) | ALWAYS)
#define ADDITIVE (TRAIT (LEVEL) | TRAIT (SCENT) | TRAIT (COLOUR) | ALWAYS)

static const guint compared[] = {
  [OG_JOB_NONE] = ADDITIVE,
  [OG_JOB_LIQUID] = LIQUID,
  [OG_JOB_GELLING] = GELLING,
  [OG_JOB_LIQUID_POLYMER] = (LIQUID & ~TRAIT (ACIDS)),
  [OG_JOB_STIFFENER] = GELLING,
  [OG_JOB_ANTIOXIDANT] = ADDITIVE,
  [OG_JOB_COLOUR] = TRAIT (SHADE) | ALWAYS,
  [OG_JOB_SHIMMER] = TRAIT (SHADE) | ALWAYS,
  [OG_JOB_FLAVOUR] = ADDITIVE,
  [OG_JOB_VITAMIN] = ADDITIVE,
  [OG_JOB_FILLER] = ADDITIVE,
};

/* --- who may come --- */

static gboolean
is_listed (const char *const *list,
           const char        *text)
{
  return list != NULL && g_strv_contains (list, text);
}

static gboolean
has_any_tag (const OgReplacement *replacement,
             const OgIngredient  *ingredient)
{
  const OgSubstitutionOptions *options = replacement->options;
  const gboolean lips = (og_product_get_sites (replacement->formula->product) & OG_SITE_LIPS) != 0;

  for (guint i = 0; options->without_tags != NULL && options->without_tags[i] != NULL; i++)
    if (og_ingredient_has_tag (ingredient, options->without_tags[i]))
      return TRUE;
  for (guint i = 0; lips && options->markets != NULL && options->markets[i] != NULL; i++)
    {
      g_autofree char *tag = g_strconcat ("not-for-lips-", options->markets[i], NULL);

      if (og_ingredient_has_tag (ingredient, tag))
        return TRUE;
    }
  return FALSE;
}

/* Also what a mixture holds; taken apart, so that one which leads back to itself ends. */
static gboolean
is_excluded (const OgReplacement *replacement,
             const OgIngredient  *ingredient)
{
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  const OgPart whole = { ingredient->id, 100.0 };
  g_autoptr (GPtrArray) contents = NULL;

  if (is_listed (replacement->options->without_ids, ingredient->id) || has_any_tag (replacement, ingredient))
    return TRUE;
  if (ingredient->composition->len == 0)
    return FALSE;
  g_array_append_val (parts, whole);
  contents = og_parts_contents (parts, replacement->catalog);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient != NULL
          && (has_any_tag (replacement, content->ingredient)
              || is_listed (replacement->options->without_ids, content->ingredient_id)))
        return TRUE;
    }
  return FALSE;
}

/* Where the product is to stay; where that is not said, at least where the old materials may. */
static gboolean
serves_uses (const OgReplacement *replacement,
             const OgIngredient  *ingredient)
{
  static const struct
  {
    const char *use;
    OgSite site;
  } uses[] = { { "lip", OG_SITE_LIPS }, { "skin", OG_SITE_SKIN } };
  const OgProduct product = replacement->formula->product;

  for (guint i = 0; i < G_N_ELEMENTS (uses); i++)
    {
      gboolean needed = product != OG_PRODUCT_UNSAID && (og_product_get_sites (product) & uses[i].site);

      for (guint o = 0; product == OG_PRODUCT_UNSAID && o < replacement->old->len; o++)
        needed = needed || og_ingredient_has_use (g_array_index (replacement->old, OgComponent, o).ingredient,
                                                  uses[i].use);
      if (needed && !og_ingredient_has_use (ingredient, uses[i].use))
        return FALSE;
    }
  return TRUE;
}

static gboolean
bears_heat (const OgReplacement *replacement,
            const OgIngredient  *ingredient)
{
  return !isfinite (replacement->heat_c)
         || og_ingredient_takes_heat (ingredient, replacement->heat_c);
}

/* Share of what stays in the recipe that @ingredient does not mix with. */
static double
share_apart (const OgReplacement *replacement,
             const OgIngredient  *ingredient)
{
  const GPtrArray *contents = replacement->before->contents;
  double apart = 0.0;

  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient != NULL && !is_listed (replacement->ids, content->ingredient_id)
          && !og_liquids_mix (ingredient, content->ingredient))
        apart += content->fraction;
    }
  return apart;
}

/* Mixes with what stays, or at least no worse than what it takes the place of. */
static gboolean
mixes (const OgReplacement *replacement,
       const OgIngredient  *ingredient)
{
  double allowed = MOST_APART;

  for (guint o = 0; o < replacement->old->len; o++)
    allowed = fmax (allowed, share_apart (replacement,
                                          g_array_index (replacement->old, OgComponent, o).ingredient));
  return share_apart (replacement, ingredient) <= allowed;
}

/* An agent that does not dissolve in the recipe's main liquid thickens nothing, whatever the model says of its
 * share. */
static gboolean
dissolves (const OgReplacement *replacement,
           const OgIngredient  *ingredient)
{
  const char *medium;

  return replacement->job != OG_JOB_GELLING
         || og_solvent_fit (replacement->before->contents, &ingredient->gelling, &medium) != OG_SOLVENT_NO;
}

static gboolean
may_come (const OgReplacement *replacement,
          const OgIngredient  *ingredient)
{
  return !is_listed (replacement->ids, ingredient->id) && og_job_of (ingredient) == replacement->job
         && serves_uses (replacement, ingredient) && bears_heat (replacement, ingredient)
         && (!replacement->options->from_plants || og_ingredient_is_from_plants (ingredient))
         && !is_excluded (replacement, ingredient) && mixes (replacement, ingredient)
         && dissolves (replacement, ingredient);
}

typedef struct
{
  const OgReplacement *replacement;
  const char *id;
  gint64 amount; /* ppm of the lines that stay */
} Kept;

static void
add_kept (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  Kept *kept = user_data;

  if (g_str_equal (line->ingredient_id, kept->id))
    kept->amount += line->amount;
}

/* Largest share of what counts that the stock allows, beside the lines that stay. */
static double
share_in_stock (const OgReplacement *replacement,
                const OgComponent   *component)
{
  const OgShelfItem *item = og_shelf_get (replacement->options->shelf, component->ingredient->id);
  Kept kept = { replacement, component->ingredient->id, 0 };
  double left_g, needed_g;

  if (!replacement->options->stocked)
    return 1.0;
  if (item == NULL || item->stock_g <= 0.0)
    return 0.0;
  og_formula_foreach_line (replacement->formula, add_kept, &kept);
  left_g = item->stock_g - (double) kept.amount / OG_PPM_WHOLE * replacement->formula->batch_g;
  needed_g = replacement->counted / component->potency / OG_PPM_WHOLE * replacement->formula->batch_g;
  return needed_g > 0.0 ? CLAMP (left_g / needed_g, 0.0, 1.0) : 1.0;
}

/* Largest share of what counts within the usual amounts. The body says how much of an agent comes, and additives
 * are held to their usual most. */
static double
share_in_use (const OgReplacement *replacement,
              const OgComponent   *component)
{
  const double needed = replacement->counted / component->potency;

  if (replacement->job != OG_JOB_LIQUID && replacement->job != OG_JOB_LIQUID_POLYMER
      && replacement->job != OG_JOB_STIFFENER && replacement->job != OG_JOB_COLOUR
      && replacement->job != OG_JOB_SHIMMER)
    return 1.0;
  return needed > 0.0 ? CLAMP (og_replacement_usual_room (replacement, component->ingredient) / needed, 0.0, 1.0) : 1.0;
}

/* --- comparing --- */

static gboolean
are_kin (const OgIngredient *one,
         const OgIngredient *other)
{
  const char *root = one->derived_from != NULL ? one->derived_from : one->id;
  const char *other_root = other->derived_from != NULL ? other->derived_from : other->id;

  return g_str_equal (root, other_root);
}

/* What is sold under one name but differs is never equal, unless it was measured. */
static gboolean
is_doubtful_grade (const OgReplacement *replacement,
                   const OgComponent   *component)
{
  if (component->traits.learned)
    return FALSE;
  if (og_ingredient_has_tag (component->ingredient, "grade-varies"))
    return TRUE;
  for (guint o = 0; o < replacement->old->len; o++)
    if (are_kin (component->ingredient, g_array_index (replacement->old, OgComponent, o).ingredient))
      return TRUE;
  return FALSE;
}

static void
compare_states (const OgReplacement *replacement,
                OgComponent         *component)
{
  gboolean same_kind = FALSE, same_family = FALSE;

  for (guint o = 0; o < replacement->old->len; o++)
    {
      const OgIngredient *old = g_array_index (replacement->old, OgComponent, o).ingredient;

      same_kind = same_kind || old->kind == component->ingredient->kind;
      same_family = same_family || old->gelling.family == component->ingredient->gelling.family;
    }
  component->added[OG_TRAIT_FORM] = same_kind ? 0.0 : OTHER_FORM;
  component->added[OG_TRAIT_GRADE] = is_doubtful_grade (replacement, component) ? OTHER_GRADE : 0.0;
  component->added[OG_TRAIT_THICKENING] = same_family ? 0.0 : OTHER_THICKENING;
  if (replacement->job == OG_JOB_GELLING && replacement->weight[OG_TRAIT_THICKENING] > 0.0
      && !og_replacement_keeps_body (replacement, component))
    component->added[OG_TRAIT_THICKENING] += LOSES_BODY;
}

double
og_replacement_price (const OgReplacement *replacement,
                      const char          *ingredient_id)
{
  const OgShelfItem *item = og_shelf_get (replacement->options->shelf, ingredient_id);

  if (item == NULL || item->currency == NULL || g_strcmp0 (item->currency, replacement->currency) != 0)
    return NAN;
  return item->price_per_kg;
}

static void
set_price (const OgReplacement *replacement,
           OgComponent         *component)
{
  guint n;

  component->traits.number[og_trait_get_numbers (OG_TRAIT_PRICE, &n)]
      = og_replacement_price (replacement, component->ingredient->id) / component->potency
        / replacement->price;
}

void
og_traits_mix (OgMaterialTraits         *mixed,
               const OgComponent *const *components,
               const double             *shares,
               guint                     n)
{
  *mixed = (OgMaterialTraits) { .learned = TRUE };
  for (guint c = 0; c < n; c++)
    {
      const OgMaterialTraits *traits = &components[c]->traits;

      for (guint i = 0; i < OG_N_TRAIT_NUMBERS; i++)
        mixed->number[i] += shares[c] * traits->number[i];
      for (guint t = 0; t < OG_N_TRAITS; t++)
        mixed->doubt[t] += shares[c] * traits->doubt[t];
      mixed->learned = mixed->learned && traits->learned;
    }
}

double
og_replacement_deviation (const OgReplacement    *replacement,
                          OgTrait                 trait,
                          const OgMaterialTraits *traits)
{
  double deviation = 0.0;
  guint n;
  const guint first = og_trait_get_numbers (trait, &n);

  for (guint i = first; i < first + n; i++)
    deviation += fabs (traits->number[i] - replacement->target.number[i]);
  return deviation / og_trait_get_noticed (trait);
}

static gboolean
has_numbers (OgTrait trait)
{
  return trait != OG_TRAIT_FORM && trait != OG_TRAIT_GRADE;
}

double
og_replacement_added (const OgReplacement *replacement,
                      OgTrait              trait,
                      const OgComponent   *component)
{
  double added = component->added[trait] + component->traits.doubt[trait] + replacement->target.doubt[trait];

  if (has_numbers (trait) && !isfinite (og_replacement_deviation (replacement, trait, &component->traits)))
    added += UNKNOWN_DISTANCE;
  return added;
}

/* --- the old --- */

typedef struct
{
  OgReplacement *replacement;
  const char *id;
  gint64 amount;
} Counting;

static void
count_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Counting *counting = user_data;
  OgReplacement *replacement = counting->replacement;
  const double line_c = isfinite (line->add_temperature_c) ? line->add_temperature_c : phase->temperature_c;

  if (!g_str_equal (line->ingredient_id, counting->id))
    return;
  counting->amount += line->amount;
  if (isfinite (line_c))
    replacement->heat_c = isfinite (replacement->heat_c) ? fmax (replacement->heat_c, line_c) : line_c;
}

static gboolean
add_old (OgReplacement *replacement,
         const char    *id,
         GError       **error)
{
  OgComponent component = { .ingredient = og_catalog_get (replacement->catalog, id), .most_share = 1.0 };
  Counting counting = { replacement, id, 0 };
  gboolean stated;

  if (component.ingredient == NULL)
    {
      g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_UNKNOWN_INGREDIENT,
                   _("“%s” is not in the catalog"), id);
      return FALSE;
    }
  if (og_formula_find_ingredient (replacement->formula, id) == NULL)
    {
      g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE, _("%s is not in the recipe"),
                   component.ingredient->name);
      return FALSE;
    }
  for (guint i = 0; i < replacement->old->len; i++)
    if (g_array_index (replacement->old, OgComponent, i).ingredient == component.ingredient)
      return TRUE;
  if (replacement->old->len == 0)
    replacement->job = og_job_of (component.ingredient);
  else if (replacement->job != og_job_of (component.ingredient))
    {
      g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_DIFFERENT_JOBS,
                   _("%s and %s do different jobs: replace one after the other"),
                   g_array_index (replacement->old, OgComponent, 0).ingredient->name,
                   component.ingredient->name);
      return FALSE;
    }
  og_formula_foreach_line (replacement->formula, count_line, &counting);
  component.potency = og_job_potency (replacement->job, component.ingredient, replacement->catalog, &stated);
  component.share = component.potency * (double) counting.amount;
  replacement->amount += counting.amount;
  replacement->counted += component.share;
  g_array_append_val (replacement->old, component);
  return TRUE;
}

/* The price of the old mixture, if all of it has one of the same currency. */
static void
find_old_price (OgReplacement *replacement)
{
  replacement->price = 0.0;
  for (guint i = 0; i < replacement->old->len; i++)
    {
      const OgComponent *old = &g_array_index (replacement->old, OgComponent, i);
      const OgShelfItem *item = og_shelf_get (replacement->options->shelf, old->ingredient->id);

      if (replacement->currency == NULL && item != NULL)
        replacement->currency = g_strdup (item->currency);
      replacement->price += old->share * og_replacement_price (replacement, old->ingredient->id) / old->potency;
    }
  if (!(replacement->price > 0.0))
    replacement->price = NAN;
}

static void
find_target (OgReplacement *replacement)
{
  const guint n = replacement->old->len;
  g_autofree const OgComponent **old = g_new (const OgComponent *, n);
  g_autofree double *shares = g_new (double, n);
  guint numbers;
  const guint price = og_trait_get_numbers (OG_TRAIT_PRICE, &numbers);

  for (guint i = 0; i < n; i++)
    {
      OgComponent *component = &g_array_index (replacement->old, OgComponent, i);

      component->share = replacement->counted > 0.0 ? component->share / replacement->counted : 1.0 / n;
      old[i] = component;
      shares[i] = component->share;
      og_material_traits_init (&component->traits, component->ingredient, &replacement->context);
    }
  og_traits_mix (&replacement->target, old, shares, n);
  find_old_price (replacement);
  /* nothing is cheaper than free: a price counts in full, as a share of the old one */
  replacement->target.number[price] = isfinite (replacement->price) ? 0.0 : NAN;
}

static void
find_weights (OgReplacement *replacement)
{
  OgSubstitutionWeights weights;
  double sum = 0.0;

  og_substitution_weights_init (&weights, OG_SUBSTITUTION_BALANCED);
  if (replacement->options->weights != NULL)
    weights = *replacement->options->weights;
  for (guint t = 0; t < OG_N_TRAITS; t++)
    {
      if (!(compared[replacement->job] & (1u << t))
          || (t == OG_TRAIT_SOLVENCY && replacement->context.gelling == NULL
              && (compared[replacement->job] & TRAIT (ACIDS))))
        weights.weight[t] = 0.0;
      sum += weights.weight[t];
    }
  for (guint t = 0; t < OG_N_TRAITS; t++)
    replacement->weight[t] = sum > 0.0 ? weights.weight[t] / sum : 0.0;
}

/* JSON objects count their references for one thread alone, so that a copy with what later versions
 * wrote must not be made in a thread of the search. */
static OgFormula *
plain_copy (const OgFormula *formula)
{
  OgFormula *plain = og_formula_new ();

  plain->batch_g = formula->batch_g;
  plain->product = formula->product;
  plain->body_bounds = formula->body_bounds;
  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);
      OgFormulaPhase *copy = og_formula_add_phase (plain, phase->name, phase->temperature_c, G_MAXUINT);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);
          OgFormulaLine *line_copy
              = og_formula_add_line (plain, copy, line->ingredient_id, line->amount, G_MAXUINT);

          line_copy->id = line->id;
          line_copy->held = line->held;
          line_copy->balance_share = line->balance_share;
          line_copy->add_temperature_c = line->add_temperature_c;
        }
      copy->id = phase->id;
    }
  plain->next_id = formula->next_id;
  return plain;
}

static void
find_context (OgReplacement *replacement)
{
  OgConditions conditions = { .belief = replacement->options->belief };
  const OgIngredient *agent = NULL;
  const char *agent_id;

  replacement->plain = plain_copy (replacement->formula);
  replacement->before = og_evaluate (replacement->formula, replacement->catalog, &conditions);
  replacement->sound = og_soundness_new (replacement->formula, replacement->before);
  replacement->blend = og_blend_new (replacement->before->contents,
                                     og_catalog_get_parameters (replacement->catalog));
  if (replacement->before->belief != NULL)
    og_blend_set_belief (replacement->blend, replacement->before->belief);
  agent_id = og_blend_get_main_agent (replacement->blend);
  if (agent_id != NULL)
    agent = og_catalog_get (replacement->catalog, agent_id);
  replacement->context = (OgTraitContext) {
    .catalog = replacement->catalog,
    .gelling = agent != NULL && agent->gelling.family != OG_GEL_NONE ? &agent->gelling : NULL,
    .contents = replacement->before->contents,
    .belief = replacement->before->belief,
  };
}

static void
find_candidates (OgReplacement *replacement)
{
  for (guint i = 0; i < og_catalog_get_n_items (replacement->catalog); i++)
    {
      OgComponent component = { .ingredient = og_catalog_get_item (replacement->catalog, i), .share = 1.0 };
      gboolean stated;

      if (!may_come (replacement, component.ingredient))
        continue;
      component.potency
          = og_job_potency (replacement->job, component.ingredient, replacement->catalog, &stated);
      component.most_share
          = fmin (share_in_stock (replacement, &component), share_in_use (replacement, &component));
      if (component.most_share <= 0.0
          || (og_formula_total (replacement->plain) == OG_PPM_WHOLE
              && !og_replacement_has_room (replacement, &component)))
        continue;
      og_material_traits_init (&component.traits, component.ingredient, &replacement->context);
      set_price (replacement, &component);
      compare_states (replacement, &component);
      g_array_append_val (replacement->candidates, component);
    }
}

gboolean
og_replacement_init (OgReplacement *replacement,
                     GError       **error)
{
  replacement->heat_c = NAN;
  replacement->old = g_array_new (FALSE, FALSE, sizeof (OgComponent));
  replacement->candidates = g_array_new (FALSE, FALSE, sizeof (OgComponent));
  for (guint i = 0; replacement->ids[i] != NULL; i++)
    if (!add_old (replacement, replacement->ids[i], error))
      return FALSE;
  find_context (replacement);
  find_target (replacement);
  find_weights (replacement);
  find_candidates (replacement);
  return TRUE;
}

void
og_replacement_clear (OgReplacement *replacement)
{
  g_clear_pointer (&replacement->plain, og_formula_free);
  g_clear_pointer (&replacement->sound, og_soundness_free);
  g_clear_pointer (&replacement->blend, og_blend_free);
  g_clear_pointer (&replacement->before, og_result_unref);
  g_clear_pointer (&replacement->old, g_array_unref);
  g_clear_pointer (&replacement->candidates, g_array_unref);
  g_clear_pointer (&replacement->currency, g_free);
}
