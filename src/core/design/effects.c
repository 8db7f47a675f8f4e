/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/design/effects.h"

#include <glib/gi18n-lib.h>

#include "core/base/conditions.h"
#include "core/base/estimate.h"
#include "core/base/nick.h"
#include "core/design/solve.h"
#include "core/label/declaration.h"
#include "core/material/chemistry.h"
#include "core/predict/blend.h"
#include "core/predict/keeping.h"

/* Smaller changes cannot be told apart at the bench or by the eye. Judgement. */
#define NOTICED_LN_VISCOSITY 0.05
#define NOTICED_ACIDS_PCT 1.0
#define NOTICED_IODINE 2.0
#define NOTICED_OXIDISABILITY 0.1 /* relative */
#define NOTICED_REFRACTION 0.001
#define NOTICED_DENSITY_G_ML 0.002
#define NOTICED_COST 0.01         /* relative */

static const OgEstimate unknown = { NAN, NAN, NAN };

typedef struct
{
  OgEffectsSide before;
  OgEffectsSide after;
  const OgShelf *shelf;
  GPtrArray *rows;
} Comparison;

static void
effect_free (gpointer data)
{
  OgEffect *effect = data;

  og_saying_unref (effect->label);
  og_saying_unref (effect->before);
  og_saying_unref (effect->after);
  g_free (effect);
}

static const OgNick senses[] = {
  [OG_SENSE_NEUTRAL] = { "neutral", NULL },
  [OG_SENSE_BETTER] = { "better", NULL },
  [OG_SENSE_WORSE] = { "worse", NULL },
};
OG_DEFINE_TO_NICK (OgSense, og_sense, senses)

static OgEffect *
add_row (Comparison   *comparison,
         OgEffectKind  kind,
         const char   *nick,
         OgWord        label,
         OgSaying     *before,
         OgSaying     *after)
{
  OgEffect *effect = g_new0 (OgEffect, 1);

  effect->kind = kind;
  effect->nick = nick;
  effect->label = og_saying_of (label);
  effect->before = before;
  effect->after = after;
  effect->before_value = effect->after_value = NAN;
  effect->ratio = unknown;
  g_ptr_array_add (comparison->rows, effect);
  return effect;
}

static OgSaying *
number_saying (double      value,
               int         decimals,
               const char *unit)
{
  if (!isfinite (value) || unit[0] == '\0')
    return og_saying_of (og_word_fixed (value, decimals));
  /* Translators: a number and its unit */
  return og_saying_new (N_("%s %s"), og_word_fixed (value, decimals), og_word_text (unit));
}

/* A plain figure of either side. @noticed: the least change that counts. */
static OgEffect *
add_number (Comparison   *comparison,
            OgEffectKind  kind,
            const char   *nick,
            OgWord        label,
            double        before,
            double        after,
            int           decimals,
            const char   *unit,
            double        noticed)
{
  OgEffect *effect = add_row (comparison, kind, nick, label, number_saying (before, decimals, unit),
                              number_saying (after, decimals, unit));

  effect->before_value = before;
  effect->after_value = after;
  effect->changed = isfinite (before) != isfinite (after) || fabs (after - before) > noticed;
  return effect;
}

static void
judge (OgEffect *effect,
       gboolean  lower_is_better)
{
  if (!effect->changed || !isfinite (effect->before_value) || !isfinite (effect->after_value))
    return;
  effect->sense = (effect->after_value < effect->before_value) == lower_is_better ? OG_SENSE_BETTER
                                                                                  : OG_SENSE_WORSE;
}

/* --- body ------------------------------------------------------------------ */

static void
add_body (Comparison *comparison)
{
  const OgResult *before = comparison->before.result, *after = comparison->after.result;
  OgEffect *effect = add_row (comparison, OG_EFFECT_BODY, "body", og_word_label (N_("Body")),
                              og_saying_of (og_body_word (before->body)),
                              og_saying_of (og_body_word (after->body)));

  effect->changed = before->body != after->body;
}

/* 0 within the target, else how far off in ln; NAN without a target. */
static double
off_target (const OgFormula  *formula,
            const OgEstimate *pour)
{
  double low = formula->target_low_mpa_s, high = formula->target_high_mpa_s;

  if (!isfinite (low) || !isfinite (high) || !isfinite (pour->value))
    return NAN;
  return fmax (0.0, fmax (log (low / pour->value), log (pour->value / high)));
}

static OgEffect *
add_viscosity (Comparison       *comparison,
               OgEffectKind      kind,
               const char       *nick,
               OgWord            label,
               const OgEstimate *before,
               const OgEstimate *after,
               double            shear_rate_1_s)
{
  OgEffect *effect = add_row (comparison, kind, nick, label,
                              og_saying_of (og_word_with_unit (before->value)),
                              og_saying_of (og_word_with_unit (after->value)));

  effect->before_value = before->value;
  effect->after_value = after->value;
  effect->ratio = og_blend_ratio (comparison->after.blend, comparison->before.blend,
                                  OG_TEMPERATURE_ROOM_C, shear_rate_1_s);
  effect->changed = isfinite (before->value) != isfinite (after->value)
                    || fabs (log (after->value / before->value)) > NOTICED_LN_VISCOSITY;
  return effect;
}

static void
add_viscosities (Comparison *comparison)
{
  const OgResult *before = comparison->before.result, *after = comparison->after.result;
  OgEffect *poured = add_viscosity (comparison, OG_EFFECT_POURED, "poured", og_word_label (N_("Poured")),
                                    &before->pour, &after->pour, OG_SHEAR_POUR);
  double was_off = off_target (comparison->before.formula, &before->pour);
  double is_off = off_target (comparison->before.formula, &after->pour);

  if (isfinite (was_off) && isfinite (is_off) && fabs (is_off - was_off) > NOTICED_LN_VISCOSITY)
    poured->sense = is_off < was_off ? OG_SENSE_BETTER : OG_SENSE_WORSE;
  add_viscosity (comparison, OG_EFFECT_REST, "rest", og_word_label (N_("At rest")), &before->rest, &after->rest,
                 OG_SHEAR_REST);
  add_viscosity (comparison, OG_EFFECT_RUBBED, "rubbed", og_word_label (N_("Rubbed")), &before->rub, &after->rub,
                 OG_SHEAR_RUB);
  if (before->yield_stress_pa.value > 0.0 || after->yield_stress_pa.value > 0.0)
    add_number (comparison, OG_EFFECT_YIELD, "yield", og_word_label (N_("Yield stress")),
                before->yield_stress_pa.value,
                after->yield_stress_pa.value, 1, "Pa", 0.1);
}

/* --- chemistry ------------------------------------------------------------- */

static void
add_acids (Comparison *comparison)
{
  static const char *const nick[OG_N_ACID_CLASSES]
      = { "acids/short-saturated", "acids/saturated", "acids/monounsaturated",
          "acids/diunsaturated", "acids/polyunsaturated", "acids/hydroxy" };
  double before[OG_N_ACID_CLASSES], after[OG_N_ACID_CLASSES];

  og_profile_class_shares (comparison->before.result->profile, before);
  og_profile_class_shares (comparison->after.result->profile, after);
  for (int i = 0; i < OG_N_ACID_CLASSES; i++)
    if (before[i] > 0.0 || after[i] > 0.0)
      add_number (comparison, OG_EFFECT_ACIDS, nick[i], og_acid_class_word ((OgAcidClass) i),
                  before[i],
                  after[i], 1, "%", NOTICED_ACIDS_PCT);
}

/* Middle of a range of months, by ratio. */
static double
middle_months (const OgKeeping *keeping)
{
  return sqrt (keeping->room.low_months * keeping->room.high_months);
}

static void
add_keeping (Comparison *comparison)
{
  g_autoptr (OgKeeping) before = og_keep (comparison->before.formula, comparison->before.result,
                                          NULL);
  g_autoptr (OgKeeping) after = og_keep (comparison->after.formula, comparison->after.result, NULL);
  OgEffect *effect = add_row (comparison, OG_EFFECT_KEEPING, "keeping", og_word_label (N_("Keeps, closed and dark")),
                              og_keeping_span_saying (&before->room),
                              og_keeping_span_saying (&after->room));

  effect->before_value = middle_months (before);
  effect->after_value = middle_months (after);
  effect->changed = !og_saying_equal (effect->before, effect->after);
  judge (effect, FALSE);
}

static gboolean
is_for_lips (const OgFormula *formula)
{
  return (og_product_get_sites (formula->product) & OG_SITE_LIPS) != 0;
}

static void
add_figures (Comparison *comparison)
{
  const OgResult *before = comparison->before.result, *after = comparison->after.result;
  OgEffect *gloss;

  add_number (comparison, OG_EFFECT_IODINE, "iodine", og_word_label (N_("Iodine value")), before->iodine_value,
              after->iodine_value, 0, "g I₂/100 g", NOTICED_IODINE);
  judge (add_number (comparison, OG_EFFECT_OXIDISABILITY, "oxidisability", og_word_label (N_("Oxidisability")),
                     before->oxidisability, after->oxidisability, 2, "",
                     NOTICED_OXIDISABILITY * fabs (before->oxidisability)),
         TRUE);
  add_keeping (comparison);
  gloss = add_number (comparison, OG_EFFECT_GLOSS, "gloss", og_word_label (N_("Gloss (refractive index)")),
                      before->refractive_index, after->refractive_index, 4, "", NOTICED_REFRACTION);
  if (is_for_lips (comparison->before.formula))
    judge (gloss, FALSE);
  add_number (comparison, OG_EFFECT_DENSITY, "density", og_word_label (N_("Density")), before->density_g_ml,
              after->density_g_ml, 3, "g/ml", NOTICED_DENSITY_G_ML);
}

/* --- cost ------------------------------------------------------------------ */

static void
add_cost (Comparison *comparison)
{
  const OgShelf *shelf = comparison->shelf;
  const char *currency_before = NULL, *currency_after = NULL, *currency;
  double before, after;

  if (shelf == NULL)
    return;
  before = og_formula_price (comparison->before.formula, shelf, &currency_before);
  after = og_formula_price (comparison->after.formula, shelf, &currency_after);
  if (isfinite (before) && isfinite (after) && g_strcmp0 (currency_before, currency_after) != 0)
    before = after = NAN;
  currency = currency_before != NULL ? currency_before : currency_after;
  judge (add_number (comparison, OG_EFFECT_COST, "cost", og_word_label (N_("Materials, a kilogram")), before, after,
                     2, currency != NULL ? currency : "", NOTICED_COST * fabs (before)),
         TRUE);
}

/* --- names and findings ---------------------------------------------------- */

static gboolean
declares (const OgDeclaration *declaration,
          const char          *name)
{
  for (guint i = 0; i < declaration->entries->len; i++)
    if (g_str_equal (((OgDeclarationEntry *) g_ptr_array_index (declaration->entries, i))->name,
                     name))
      return TRUE;
  return FALSE;
}

static void
add_names (Comparison          *comparison,
           const OgDeclaration *one,
           const OgDeclaration *other,
           gboolean             gained)
{
  for (guint i = 0; i < one->entries->len; i++)
    {
      const OgDeclarationEntry *entry = g_ptr_array_index (one->entries, i);
      OgEffect *effect;

      if (declares (other, entry->name))
        continue;
      if (gained)
        effect = add_row (comparison, OG_EFFECT_NAME_GAINED, "name-gained", og_word_label (N_("Declares now")),
                          NULL, og_saying_verbatim (entry->name));
      else
        effect = add_row (comparison, OG_EFFECT_NAME_LOST, "name-lost", og_word_label (N_("Declares no more")),
                          og_saying_verbatim (entry->name), NULL);
      effect->changed = TRUE;
    }
}

static void
add_declaration (Comparison *comparison)
{
  g_autoptr (OgDeclaration) before = og_declare (comparison->before.formula,
                                                 comparison->before.catalog, OG_MARKET_EU, NULL);
  g_autoptr (OgDeclaration) after = og_declare (comparison->after.formula,
                                                comparison->after.catalog, OG_MARKET_EU, NULL);

  add_names (comparison, after, before, TRUE);
  add_names (comparison, before, after, FALSE);
}

static gboolean
finds (const OgResult  *result,
       const OgFinding *finding)
{
  for (guint i = 0; i < result->findings->len; i++)
    {
      const OgFinding *other = g_ptr_array_index (result->findings, i);

      if (g_str_equal (other->code, finding->code) && og_saying_equal (other->text, finding->text))
        return TRUE;
    }
  return FALSE;
}

static void
add_findings (Comparison     *comparison,
              const OgResult *one,
              const OgResult *other,
              gboolean        gained)
{
  for (guint i = 0; i < one->findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (one->findings, i);
      OgEffect *effect;

      if (finds (other, finding))
        continue;
      effect = gained ? add_row (comparison, OG_EFFECT_FINDING_GAINED, "finding-gained", og_word_label (N_("New")),
                                 NULL, og_saying_ref (finding->text))
                      : add_row (comparison, OG_EFFECT_FINDING_LOST, "finding-lost", og_word_label (N_("No more")),
                                 og_saying_ref (finding->text), NULL);
      effect->changed = TRUE;
      effect->severity = finding->severity;
      if (finding->severity != OG_SEVERITY_NOTE)
        effect->sense = gained ? OG_SENSE_WORSE : OG_SENSE_BETTER;
    }
}

/* --- all of it ------------------------------------------------------------- */

GPtrArray *
og_effects_between (const OgEffectsSide *before,
                    const OgEffectsSide *after,
                    const OgShelf       *shelf)
{
  Comparison comparison = { .shelf = shelf };

  g_return_val_if_fail (before != NULL && after != NULL, NULL);

  comparison.before = *before;
  comparison.after = *after;
  comparison.rows = g_ptr_array_new_with_free_func (effect_free);
  add_body (&comparison);
  add_viscosities (&comparison);
  add_acids (&comparison);
  add_figures (&comparison);
  add_cost (&comparison);
  add_declaration (&comparison);
  add_findings (&comparison, after->result, before->result, TRUE);
  add_findings (&comparison, before->result, after->result, FALSE);
  return comparison.rows;
}

static void
side_init (OgEffectsSide   *side,
           const OgFormula *formula,
           OgCatalog       *catalog,
           OgBelief        *belief)
{
  side->formula = formula;
  side->catalog = catalog;
  side->result = og_evaluate (formula, catalog, &(OgConditions) { .belief = belief });
  side->blend = og_blend_new (side->result->contents, og_catalog_get_parameters (catalog));
  if (belief != NULL)
    og_blend_set_belief (side->blend, belief);
}

static void
side_clear (OgEffectsSide *side)
{
  og_result_unref (side->result);
  og_blend_free (side->blend);
}

GPtrArray *
og_effects (const OgFormula        *before,
            const OgFormula        *after,
            OgCatalog              *catalog,
            const OgEffectsOptions *options)
{
  g_autoptr (OgBelief) belief = NULL;
  OgEffectsSide was, is;
  GPtrArray *rows;

  g_return_val_if_fail (before != NULL && after != NULL && catalog != NULL, NULL);

  if (options != NULL && options->belief != NULL)
    belief = og_belief_ref (options->belief);
  else
    belief = og_belief_learn (before->measurements, catalog);
  side_init (&was, before, catalog, belief);
  side_init (&is, after, catalog, belief);
  rows = og_effects_between (&was, &is, options != NULL ? options->shelf : NULL);
  side_clear (&was);
  side_clear (&is);
  return rows;
}
