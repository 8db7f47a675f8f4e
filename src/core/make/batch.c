/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/conditions.h"
#include "core/base/error.h"
#include "core/base/finding.h"
#include "core/base/number-text.h"

#define LITTLE_ROOM_PCT 3.0  /* of the capacity; judgement */
#define MOST_G 1e7 /* ten tonnes: a slip of the keyboard */
#define MOST_OVERFILL_PCT 100.0 /* twice the content: a slip of the keyboard */
#define NOTICEABLE 0.02      /* change of the viscosity by rounding */
#define TINY 1e-9 /* rounding of doubles */
#define GRAM_DECIMALS 3 /* of an amount that is weighed: milligrams */

void
og_batch_options_init (OgBatchOptions  *options,
                       const OgFormula *formula)
{
  g_return_if_fail (options != NULL && formula != NULL);

  *options = (OgBatchOptions) {
    .aim = OG_BATCH_GRAMS,
    .amount = formula->batch_g,
    .fill_c = OG_TEMPERATURE_ROOM_C,
  };
}

static void
line_free (OgBatchWeighing *line)
{
  g_free (line->ingredient_id);
  g_free (line->name);
  g_free (line->carrier_name);
  g_free (line);
}

/* Most severe first; takes @source (nullable) and @text. */
static void
add_finding (OgBatchPlan *batch,
             OgSeverity   severity,
             const char  *code,
             guint        line_id,
             OgSaying    *source,
             OgSaying    *text)
{
  og_finding_list_add (batch->findings, severity, code, line_id, source, text);
  og_finding_list_sort (batch->findings);
}

/* --- input --------------------------------------------------------------- */

static gboolean
refuse (GError     **error,
        const char  *message)
{
  g_set_error_literal (error, OG_BATCH_ERROR, OG_BATCH_ERROR_VALUE, message);
  return FALSE;
}

static gboolean
check_options (const OgBatchOptions  *options,
               GError               **error)
{
  if (!(options->amount > 0.0 && options->amount <= MOST_G))
    return refuse (error, _("The size of the batch must be above 0 and at most 10 000 kg."));
  if (options->aim == OG_BATCH_CONTAINERS && options->amount != floor (options->amount))
    return refuse (error, _("Containers are counted whole."));
  if (!(options->loss_g >= 0.0 && options->loss_g <= MOST_G))
    return refuse (error, _("The loss must be 0 g or more."));
  if (!(options->loss_pct >= 0.0 && options->loss_pct < 100.0))
    return refuse (error, _("The loss must be at least 0 % and below 100 %."));
  if (!(options->overfill_pct >= 0.0 && options->overfill_pct <= MOST_OVERFILL_PCT))
    return refuse (error, _("The overfill must be 0 to 100 %."));
  if (!(options->fill_c >= OG_TEMPERATURE_LOWEST_C && options->fill_c <= OG_TEMPERATURE_HIGHEST_C))
    return refuse (error, _("The temperature of filling must be -20 to 200 °C."));
  for (guint i = 0; options->balances != NULL && i < options->balances->len; i++)
    {
      const OgBalance *balance = g_ptr_array_index (options->balances, i);

      if (og_balance_is_valid (balance))
        continue;
      g_set_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_VALUE,
                   _("Balance “%s”: the readability must be above 0 and at most a hundredth of the "
                     "capacity."), balance->name);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_recipe (const OgFormula  *formula,
              GError          **error)
{
  gint64 total = og_formula_total (formula);
  g_autofree char *pct = og_number_fixed ((double) total / OG_PPM_PER_PERCENT, 4);

  if (total == OG_PPM_WHOLE)
    return TRUE;
  g_set_error (error, OG_BATCH_ERROR, OG_BATCH_ERROR_RECIPE,
               _("The recipe adds up to %s %% instead of 100 %%: a batch of it has no size."),
               pct);
  return FALSE;
}

/* --- sizes --------------------------------------------------------------- */

static void
measure_content (OgBatchPlan          *batch,
                 const OgPackage      *package,
                 const OgBatchOptions *options)
{
  double filled = package->nominal * (1.0 + options->overfill_pct / 100.0);

  if (package->unit == OG_NET_G)
    {
      batch->content_g = filled;
      batch->content_ml_20 = filled / batch->density_20_g_ml;
    }
  else
    {
      batch->content_ml_20 = filled;
      batch->content_g = filled * batch->density_20_g_ml;
    }
  batch->fill_ml = batch->content_g / batch->density_fill_g_ml;
  og_net_limits_init (&batch->limits, package->nominal);
}

static gboolean
measure_size (OgBatchPlan           *batch,
              const OgBatchOptions  *options,
              GError               **error)
{
  switch (options->aim)
    {
    case OG_BATCH_ML:
      batch->batch_g = options->amount * batch->density_20_g_ml;
      if (isnan (batch->batch_g))
        g_set_error_literal (error, OG_BATCH_ERROR, OG_BATCH_ERROR_DENSITY,
                             _("The density of the recipe is not known, so that it can be made by "
                               "mass only."));
      return !isnan (batch->batch_g);

    case OG_BATCH_CONTAINERS:
      batch->batch_g = (options->amount * batch->content_g + options->loss_g)
                       / (1.0 - options->loss_pct / 100.0);
      if (isnan (batch->batch_g))
        g_set_error_literal (error, OG_BATCH_ERROR, OG_BATCH_ERROR_PACKAGE,
                             _("The recipe does not say what a container holds, or its density is "
                               "not known: containers cannot be counted."));
      return !isnan (batch->batch_g);

    case OG_BATCH_GRAMS:
    default:
      batch->batch_g = options->amount;
      return TRUE;
    }
}

static void
measure_yield (OgBatchPlan          *batch,
               const OgBatchOptions *options)
{
  double full;

  batch->lost_g = fmin (batch->batch_g * options->loss_pct / 100.0 + options->loss_g,
                        batch->batch_g);
  batch->fillable_g = batch->batch_g - batch->lost_g;
  batch->left_g = NAN;
  if (!(batch->content_g > 0.0))
    return;
  full = floor (batch->fillable_g / batch->content_g + TINY);
  batch->n_containers = (guint) fmin (full, G_MAXUINT);
  batch->left_g = fmax (batch->fillable_g - full * batch->content_g, 0.0);
}

static void
measure_fit (OgBatchPlan     *batch,
             const OgResult  *result,
             const OgPackage *package)
{
  const double temperatures_c[] = { OG_TEMPERATURE_ROOM_C, OG_TEMPERATURE_WARM_C };
  double applicator_ml = isnan (package->applicator_ml) ? 0.0 : package->applicator_ml;

  for (guint i = 0; i < G_N_ELEMENTS (temperatures_c); i++)
    {
      double density = og_contents_density (result->contents, temperatures_c[i], NULL);
      OgBatchFit *fit = &batch->fit[i];

      fit->temperature_c = temperatures_c[i];
      fit->content_ml = batch->content_g / density;
      fit->free_ml = package->capacity_ml - applicator_ml - fit->content_ml;
      fit->free_pct = 100.0 * fit->free_ml / package->capacity_ml;
    }
}

static void
tell_overflow (OgBatchPlan      *batch,
               const OgBatchFit *fit)
{
  add_finding (batch, OG_SEVERITY_BLOCKING, "batch-overflow", 0, NULL,
               og_saying_new (N_("At %s °C content and applicator need %s ml more than the container holds: "
                                 "take a larger one, or declare less."),
                              og_word_fixed (fit->temperature_c, 0), og_word_fixed (-fit->free_ml, 2)));
}

static void
judge_fit (OgBatchPlan     *batch,
           const OgPackage *package)
{
  for (guint i = 0; i < G_N_ELEMENTS (batch->fit); i++)
    {
      const OgBatchFit *fit = &batch->fit[i];

      if (!(fit->free_ml < 0.0))
        continue;
      tell_overflow (batch, fit);
      return;
    }
  if (batch->fit[1].free_pct < LITTLE_ROOM_PCT)
    add_finding (batch, OG_SEVERITY_CAUTION, "batch-little-room", 0, og_common_practice_new (),
                 og_saying_new (N_("At 40 °C only %s %% of the container stay free: it may leak when it gets warm."),
                                og_word_fixed (batch->fit[1].free_pct, 1)));
  if (!isnan (package->capacity_ml) && isnan (package->applicator_ml))
    add_finding (batch, OG_SEVERITY_NOTE, "batch-applicator", 0, NULL,
                 og_saying_plain (N_("How much room the applicator takes up is not said; none was allowed.")));
}

/* --- weighings ----------------------------------------------------------- */

/* A liquid that a little more or less of does not matter. */
static gboolean
is_liquid (const OgIngredient *ingredient)
{
  return ingredient != NULL
         && (ingredient->kind == OG_KIND_OIL || ingredient->kind == OG_KIND_ESTER
             || ingredient->kind == OG_KIND_WAX_ESTER || ingredient->kind == OG_KIND_HYDROCARBON
             || ingredient->kind == OG_KIND_SILICONE);
}

typedef struct
{
  OgBatchPlan     *batch;
  const OgFormula *formula;
  const OgResult  *result;
} Lines;

static void
add_line (OgFormulaPhase *phase,
          OgFormulaLine  *line,
          gpointer        user_data)
{
  Lines *lines = user_data;
  const OgIngredient *ingredient = og_catalog_get (lines->result->catalog, line->ingredient_id);
  OgBatchWeighing *added;

  if (line->amount == 0)
    return;
  added = g_new0 (OgBatchWeighing, 1);
  added->line_id = line->id;
  added->phase_id = phase->id;
  added->ingredient_id = g_strdup (line->ingredient_id);
  added->name = g_strdup (ingredient != NULL ? ingredient->name : line->ingredient_id);
  added->weighing.exact_g = og_ppm_to_g (line->amount, lines->batch->batch_g);
  added->tolerance = og_tolerance_find (lines->formula, lines->result, line);
  added->weighing.wanted_pct = added->tolerance.pct;
  added->weighing.takes_rest = is_liquid (ingredient);
  added->batch_needed_g = added->readability_needed_g = NAN;
  g_ptr_array_add (lines->batch->lines, added);
}

static void
weigh (OgBatchPlan     *batch,
       const GPtrArray *balances)
{
  g_autofree OgPlannedWeighing *weighings = g_new (OgPlannedWeighing, batch->lines->len);

  for (guint i = 0; i < batch->lines->len; i++)
    weighings[i] = ((OgBatchWeighing *) g_ptr_array_index (batch->lines, i))->weighing;
  batch->rounded_g = og_weighings_plan (weighings, batch->lines->len, balances);
  for (guint i = 0; i < batch->lines->len; i++)
    ((OgBatchWeighing *) g_ptr_array_index (batch->lines, i))->weighing = weighings[i];
}

/* Returns: (nullable): the liquid that there is most of */
static const OgBatchWeighing *
find_carrier (const OgBatchPlan     *batch,
              const OgCatalog       *catalog,
              const OgBatchWeighing *but)
{
  const OgBatchWeighing *best = NULL;

  for (guint i = 0; i < batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);

      if (line == but || line->weighing.too_small || !is_liquid (og_catalog_get (catalog, line->ingredient_id)))
        continue;
      if (best == NULL || line->weighing.exact_g > best->weighing.exact_g)
        best = line;
    }
  return best;
}

/* What is dissolved by heat lies at the bottom of a cold premix as it was. */
static gboolean
can_be_premixed (const OgCatalog       *catalog,
                 const OgBatchWeighing *line)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);

  return ingredient == NULL
         || (ingredient->kind != OG_KIND_WAX && ingredient->kind != OG_KIND_GELLING_AGENT);
}

/* As it is told, and not a gram too little. */
static double
round_up_to_two_digits (double g)
{
  const double unit = pow (10.0, floor (log10 (g)) - 1.0);

  return unit * ceil (g / unit - TINY);
}

static void
find_remedies (OgBatchPlan     *batch,
               OgBatchWeighing *line,
               const OgCatalog *catalog,
               const GPtrArray *balances)
{
  const OgPlannedWeighing *weighing = &line->weighing;
  const OgBatchWeighing *carrier = find_carrier (batch, catalog, line);
  double factor = og_batch_factor_needed (weighing->exact_g, weighing->wanted_pct, balances);

  if (carrier != NULL && can_be_premixed (catalog, line))
    line->has_premix = og_premix_find (weighing->exact_g, weighing->wanted_pct,
                                       carrier->weighing.exact_g, balances, &line->premix);
  if (line->has_premix)
    line->carrier_name = g_strdup (carrier->name);
  line->batch_needed_g = isfinite (factor) ? round_up_to_two_digits (batch->batch_g * factor) : NAN;
  line->readability_needed_g = og_readability_needed_g (weighing->exact_g, weighing->wanted_pct);
}

/* Takes @text. */
static OgSaying *
with_reason (const OgBatchWeighing *line,
             OgSaying              *text)
{
  OgSaying *reason = og_tolerance_explain (line->tolerance.reason);
  GPtrArray *both;

  if (reason == NULL)
    return text;
  both = og_sayings_new ();
  g_ptr_array_add (both, text);
  g_ptr_array_add (both, reason);
  return og_saying_list (" ", both);
}

static void
judge_line (OgBatchPlan           *batch,
            const OgBatchWeighing *line)
{
  const OgPlannedWeighing *weighing = &line->weighing;
  const OgWord name = og_word_text (line->name);
  const OgWord balance = og_word_text (weighing->balance != NULL ? weighing->balance->name : NULL);
  const OgWord exact = og_word_significant (weighing->exact_g, 4);

  if (weighing->balance != NULL && weighing->digits == 0)
    add_finding (batch, OG_SEVERITY_BLOCKING, "batch-not-weighable", line->line_id, NULL,
                 og_saying_new (N_("%s: %s g is less than the balance “%s” can show."), name, exact, balance));
  else if (weighing->too_small)
    add_finding (batch, OG_SEVERITY_CAUTION, "batch-weighing-small", line->line_id,
                 og_common_practice_new (),
                 with_reason (line, og_saying_new (N_("%s: %s g on the balance “%s” may be off by %s %%, more than "
                                                      "the %s %% that suit it."),
                                                   name, exact, balance, og_word_fixed (weighing->error_pct, 1),
                                                   og_word_fixed (weighing->wanted_pct, 1))));
  if (weighing->n_portions > 1)
    add_finding (batch, OG_SEVERITY_NOTE, "batch-portions", line->line_id, NULL,
                 og_saying_new_plural (NP_("%s: the balance “%s” takes it in %s portion.",
                                           "%s: the balance “%s” takes it in %s portions."),
                                       weighing->n_portions, name, balance, og_word_count (weighing->n_portions)));
}

static void
plan_weighings (OgBatchPlan     *batch,
                const OgResult  *result,
                const GPtrArray *balances)
{
  weigh (batch, balances);
  for (guint i = 0; i < batch->lines->len; i++)
    {
      OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);

      if (line->weighing.too_small)
        find_remedies (batch, line, result->catalog, balances);
      judge_line (batch, line);
    }
}

/* --- what rounding does -------------------------------------------------- */

typedef struct
{
  const OgBatchPlan *batch;
  guint          n;
} Rounding;

static void
round_line (OgFormulaPhase *phase,
            OgFormulaLine  *line,
            gpointer        user_data)
{
  Rounding *rounding = user_data;
  const OgBatchWeighing *weighed;

  if (line->amount == 0)
    return;
  weighed = g_ptr_array_index (rounding->batch->lines, rounding->n++);
  og_g_to_ppm (weighed->weighing.rounded_g, rounding->batch->rounded_g, &line->amount);
}

/* Evaluated again with what the balances show. */
static void
weigh_again (OgBatchPlan     *batch,
             const OgFormula *formula,
             const OgResult  *result)
{
  g_autoptr (OgFormula) rounded = og_formula_copy (formula);
  g_autoptr (OgResult) again = NULL;
  Rounding rounding = { batch, 0 };

  batch->pour_exact = batch->pour_rounded = result->pour;
  if (!(batch->rounded_g > 0.0))
    return;
  og_formula_foreach_line (rounded, round_line, &rounding);
  again = og_evaluate (rounded, result->catalog, &(OgConditions) { .belief = result->belief });
  batch->pour_rounded = again->pour;
  if (fabs (log (again->pour.value / result->pour.value)) > NOTICEABLE)
    add_finding (batch, OG_SEVERITY_CAUTION, "batch-rounding", 0, NULL,
                 og_saying_new (N_("Rounding to what the balances show changes the viscosity when poured by %s %%."),
                                og_word_signed (100.0 * (again->pour.value / result->pour.value - 1.0), 0)));
}

/* --- as a whole ---------------------------------------------------------- */

static double *
weighed_g (const OgBatchPlan *batch)
{
  double *line_g = g_new (double, batch->lines->len);

  for (guint i = 0; i < batch->lines->len; i++)
    line_g[i] = ((OgBatchWeighing *) g_ptr_array_index (batch->lines, i))->weighing.rounded_g;
  return line_g;
}

static void
judge_size (OgBatchPlan          *batch,
            const OgPackage      *package,
            const OgBatchOptions *options)
{
  if (batch->lost_g >= batch->batch_g)
    add_finding (batch, OG_SEVERITY_BLOCKING, "batch-all-lost", 0, NULL,
                 og_saying_plain (N_("Nothing is left to fill after the losses: make a larger batch.")));
  else if (batch->n_containers == 0 && batch->content_g > 0.0)
    add_finding (batch, OG_SEVERITY_CAUTION, "batch-no-container", 0, NULL,
                 og_saying_plain (N_("The batch does not fill one container.")));
  if (!isnan (package->nominal) && isnan (batch->limits.error))
    add_finding (batch, OG_SEVERITY_NOTE, "batch-net-content", 0,
                 og_saying_plain (N_("Directive 76/211/EEC, Annex I; recalled for quantities below 5 g or ml")),
                 og_saying_plain (N_("No European tolerance applies to this declared content: fill at least that "
                                     "much everywhere, and check your local rules.")));
  if (fabs (options->fill_c - OG_TEMPERATURE_VOLUME_C) > 5.0 && !isnan (batch->fill_ml))
    add_finding (batch, OG_SEVERITY_NOTE, "batch-fill-volume", 0, NULL,
                 og_saying_new (N_("At %s °C fill %s ml to leave %s ml when it has cooled to 20 °C."),
                                og_word_fixed (options->fill_c, 0), og_word_fixed (batch->fill_ml, 2),
                                og_word_fixed (batch->content_ml_20, 2)));
}

/* What a material needs in all its lines. */
static double
needed_g (const OgBatchPlan *batch,
          const char        *ingredient_id,
          guint             *first)
{
  double sum = 0.0;

  *first = batch->lines->len;
  for (guint i = batch->lines->len; i-- > 0;)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);

      if (!g_str_equal (line->ingredient_id, ingredient_id))
        continue;
      sum += line->weighing.rounded_g;
      *first = i;
    }
  return sum;
}

/* Whoever keeps no stock at all is short of nothing. */
static void
judge_stock (OgBatchPlan   *batch,
             const OgShelf *shelf)
{
  const gboolean keeps_stock = shelf != NULL && og_shelf_get_n_items (shelf) > 0;

  for (guint i = 0; keeps_stock && i < batch->lines->len; i++)
    {
      const OgBatchWeighing *line = g_ptr_array_index (batch->lines, i);
      const OgShelfItem *item = og_shelf_get (shelf, line->ingredient_id);
      const double there_g = item != NULL ? item->stock_g : 0.0;
      guint first;
      const double needs_g = needed_g (batch, line->ingredient_id, &first);

      if (first == i && needs_g > there_g + TINY)
        add_finding (batch, OG_SEVERITY_BLOCKING, "stock-short", line->line_id, NULL,
                     og_saying_new (N_("%s: the batch needs %s g, and %s g are in stock."),
                                    og_word_text (line->name), og_word_trimmed (needs_g, GRAM_DECIMALS),
                                    og_word_trimmed (there_g, GRAM_DECIMALS)));
    }
}

static void
judge_cost (OgBatchPlan *batch)
{
  if (batch->cost->n_unknown == 0)
    return;
  add_finding (batch, OG_SEVERITY_NOTE, "batch-cost-unknown", 0, NULL,
               og_saying_new_plural (NP_("%s cost is not known and not part of the total.",
                                         "%s costs are not known and not part of the total."),
                                     batch->cost->n_unknown, og_word_count (batch->cost->n_unknown)));
}

OgBatchPlan *
og_batch_plan_new (const OgFormula       *formula,
                   const OgResult        *result,
                   const OgBatchOptions  *options,
                   GError               **error)
{
  g_autoptr (OgBatchPlan) batch = NULL;
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  g_autofree double *line_g = NULL;
  Lines lines;

  g_return_val_if_fail (formula != NULL && result != NULL && options != NULL, NULL);

  if (!check_options (options, error) || !check_recipe (formula, error))
    return NULL;

  batch = g_new0 (OgBatchPlan, 1);
  batch->lines = g_ptr_array_new_with_free_func ((GDestroyNotify) line_free);
  batch->findings = og_finding_list_new ();
  batch->fill_c = options->fill_c;
  batch->density_20_g_ml = og_contents_density (result->contents, OG_TEMPERATURE_VOLUME_C, NULL);
  batch->density_fill_g_ml = og_contents_density (result->contents, options->fill_c, NULL);
  measure_content (batch, &formula->package, options);
  if (!measure_size (batch, options, error))
    return NULL;
  measure_yield (batch, options);
  measure_fit (batch, result, &formula->package);

  lines = (Lines) { batch, formula, result };
  og_formula_foreach_line (formula, add_line, &lines);
  judge_fit (batch, &formula->package);
  judge_size (batch, &formula->package, options);
  plan_weighings (batch, result, options->balances != NULL ? options->balances : none);
  weigh_again (batch, formula, result);
  line_g = weighed_g (batch);
  batch->cost = og_cost_new (formula, result->catalog, batch->batch_g, line_g, options->shelf,
                             batch->n_containers);
  judge_cost (batch);
  judge_stock (batch, options->shelf);
  og_finding_list_add_blocking (batch->findings, result->findings, NULL);
  og_finding_list_sort (batch->findings);
  return g_steal_pointer (&batch);
}

void
og_batch_plan_free (OgBatchPlan *batch)
{
  g_ptr_array_unref (batch->lines);
  g_ptr_array_unref (batch->findings);
  g_clear_pointer (&batch->cost, og_cost_free);
  g_free (batch);
}
