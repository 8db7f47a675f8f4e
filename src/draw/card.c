/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/base/number-text.h"
#include "core/label/colour.h"
#include "core/label/declaration.h"
#include "core/label/natural-origin.h"
#include "core/predict/belief.h"
#include "core/predict/keeping.h"
#include "draw/text.h"

#define MOST_BASE_MATERIALS 3
#define MOST_SUGGESTIONS 3
#define MOST_REASONS 2
#define SMALLEST_BASE_PPM (5 * OG_PPM_PER_PERCENT)
#define SAME_VISCOSITY 0.03 /* relative change that nobody feels: judgement */

/* --- blocks --- */

static void
row_free (gpointer data)
{
  OgCardRow *row = data;

  g_free (row->label);
  g_free (row->text);
  g_free (row->detail);
  g_free (row->pct);
  g_free (row->g);
  g_free (row->notes);
  g_strfreev (row->cells);
  g_free (row);
}

static void
block_free (gpointer data)
{
  OgCardBlock *block = data;

  g_free (block->text);
  g_free (block->detail);
  g_ptr_array_unref (block->rows);
  g_clear_pointer (&block->columns, g_array_unref);
  g_free (block);
}

OgCardBlock *
og_card_add_block (OgCard      *card,
                   OgBlockKind  kind,
                   char        *text,
                   char        *detail)
{
  OgCardBlock *block = g_new0 (OgCardBlock, 1);

  block->kind = kind;
  block->text = text;
  block->detail = detail;
  block->rows = g_ptr_array_new_with_free_func (row_free);
  g_ptr_array_add (card->blocks, block);

  return block;
}

OgCardRow *
og_card_add_row (OgCardBlock *block,
                 OgRowKind    kind,
                 char        *text,
                 char        *detail)
{
  OgCardRow *row = g_new0 (OgCardRow, 1);

  row->kind = kind;
  row->text = text;
  row->detail = detail;
  g_ptr_array_add (block->rows, row);

  return row;
}

/* --- words --- */

/* Adds a remark after those before it; skips blank ones. */
static void
add_remark (GString    *remarks,
            const char *remark)
{
  if (og_text_is_blank (remark))
    return;
  if (remarks->len > 0)
    g_string_append (remarks, C_("between remarks", "; "));
  g_string_append (remarks, remark);
}

/* Returns: the remarks, or NULL if there are none; frees @remarks */
static char *
finish_remarks (GString *remarks)
{
  return remarks->len > 0 ? g_string_free (remarks, FALSE)
                          : (g_string_free (remarks, TRUE), NULL);
}

static const char *
material_name (const OgCard *card,
               const char   *ingredient_id)
{
  const OgIngredient *ingredient = og_catalog_get (card->result->catalog, ingredient_id);

  return ingredient != NULL ? ingredient->name : ingredient_id;
}

static char *
estimate_text (const OgEstimate *estimate)
{
  g_autofree char *value = og_number_with_unit (estimate->value);
  g_autofree char *range = og_number_range (estimate);

  if (!og_estimate_is_known (estimate) || range == NULL)
    return g_steal_pointer (&value);

  /* Translators: a viscosity with its unit, then the range around it */
  return g_strdup_printf (C_("viscosity", "%s (%s)"), value, range);
}

/* --- title and headline --- */

static void
add_title (OgCard          *card,
           const OgFormula *formula)
{
  og_card_add_block (card, OG_BLOCK_TITLE, g_strdup (card->title),
             og_text_is_blank (formula->purpose) ? NULL : g_strdup (formula->purpose));
}

static char *
headline_figure (const OgResult *result)
{
  g_autofree char *value = NULL;
  g_autofree char *band = NULL;
  g_autofree char *temperature = NULL;

  if (!og_estimate_is_known (&result->pour))
    return NULL;

  value = og_number_with_unit (result->pour.value);
  band = og_number_band (&result->pour);
  temperature = og_number_trimmed (OG_TEMPERATURE_ROOM_C, 1);
  if (band == NULL)
    return g_strdup_printf (_("about %s when poured at %s °C"), value, temperature);

  /* Translators: viscosity, temperature, then "80 % between 400 and 1 800" */
  return g_strdup_printf (_("about %s when poured at %s °C, %s"), value, temperature, band);
}

static char *
target_sentence (const OgFormula *formula,
                 const OgResult  *result)
{
  OgEstimate target = { NAN, formula->target_low_mpa_s, formula->target_high_mpa_s };
  g_autofree char *range = og_number_range (&target);

  if (range == NULL || !og_estimate_is_known (&result->pour))
    return NULL;
  if (result->pour.value < target.low80)
    return g_strdup_printf (_("Below the target of %s mPa·s."), range);
  if (result->pour.value > target.high80)
    return g_strdup_printf (_("Above the target of %s mPa·s."), range);

  return g_strdup_printf (_("Within the target of %s mPa·s."), range);
}

static gboolean
has_learned (const OgResult *result)
{
  return result->belief != NULL && og_belief_get_n_variables (result->belief) > 0;
}

static void
add_headline (OgCard          *card,
              const OgFormula *formula)
{
  const OgResult *result = card->result;
  OgCardBlock *block = og_card_add_block (card, OG_BLOCK_HEADLINE, g_strdup (og_body_get_name (result->body)),
                                  headline_figure (result));
  char *target = target_sentence (formula, result);

  if (!og_text_is_blank (result->body_text))
    og_card_add_row (block, OG_ROW_ITEM, g_strdup (result->body_text), NULL);
  if (target != NULL)
    og_card_add_row (block, OG_ROW_ITEM, target, NULL);
  if (og_estimate_is_known (&result->pour))
    og_card_add_row (block, OG_ROW_ITEM,
             g_strdup (has_learned (result)
                         ? _("Predicted from the composition and corrected by bench readings.")
                         : _("Predicted from the composition, not measured. Make a small batch first.")),
             NULL);
}

gboolean
og_card_has_chart (const OgCard *card)
{
  return card->chart.n_curves > 0;
}

static void
add_chart (OgCard          *card,
           const OgFormula *formula)
{
  static const OgCurveAxis order[] = { OG_CURVE_AGENT_PCT, OG_CURVE_TEMPERATURE_C };
  const OgCurve *agent = &card->result->curves[OG_CURVE_AGENT_PCT];

  card->chart = (OgChart) {
    .target_low_mpa_s = formula->target_low_mpa_s,
    .target_high_mpa_s = formula->target_high_mpa_s,
    .cursor_x = NAN,
    .marks = card->result->marks,
    .marks_agent_pct = agent->n > 0 ? agent->own_x : NAN,
  };
  for (guint i = 0; i < G_N_ELEMENTS (order) && card->chart.n_curves == 0; i++)
    if (card->result->curves[order[i]].n > 0)
      {
        card->chart.curves[0] = &card->result->curves[order[i]];
        card->chart.n_curves = 1;
      }
  if (og_card_has_chart (card))
    og_card_add_block (card, OG_BLOCK_CHART, og_chart_describe (&card->chart), NULL);
}

/* --- recipe table --- */

const char *const *
og_card_column_titles (void)
{
  static const char *titles[5];

  titles[0] = _("Ingredient");
  titles[1] = _("wt %");
  titles[2] = C_("grams", "g");
  titles[3] = _("Remarks");

  return titles;
}

/* digits after the mark that the shares of this recipe need, so that the column lines up */
static int
share_decimals (const OgFormula *formula)
{
  int decimals = 1;

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);
          int needed = 4;

          for (OgPpm ppm = line->amount; needed > 0 && ppm % 10 == 0; ppm /= 10)
            needed--;
          decimals = MAX (decimals, needed);
        }
    }

  return decimals;
}

static int
gram_decimals (double batch_g)
{
  return batch_g >= 1000 ? 1 : batch_g >= 100 ? 2 : 3;
}

static char *
line_remarks (const OgFormulaLine *line)
{
  GString *remarks = g_string_new (NULL);

  /* xgettext:no-c-format */
  if (line->balance_share > 0)
    add_remark (remarks, _("makes up to 100 %"));
  if (line->held)
    add_remark (remarks, C_("recipe line", "held"));
  if (isfinite (line->add_temperature_c))
    {
      g_autofree char *number = og_number_trimmed (line->add_temperature_c, 1);
      g_autofree char *text = g_strdup_printf (_("add at %s °C"), number);

      add_remark (remarks, text);
    }
  add_remark (remarks, line->note);

  return finish_remarks (remarks);
}

static char *
phase_remarks (const OgFormulaPhase *phase)
{
  GString *remarks = g_string_new (NULL);

  if (isfinite (phase->temperature_c))
    {
      g_autofree char *number = og_number_trimmed (phase->temperature_c, 1);
      g_autofree char *text = g_strdup_printf (_("%s °C"), number);

      add_remark (remarks, text);
    }
  add_remark (remarks, phase->note);

  return finish_remarks (remarks);
}

static void
add_line (OgCard              *card,
          OgCardBlock         *block,
          const OgFormulaLine *line,
          double               batch_g,
          int                  decimals)
{
  const OgIngredient *ingredient = og_catalog_get (card->result->catalog, line->ingredient_id);
  const char *name = material_name (card, line->ingredient_id);
  const char *inci = ingredient != NULL && g_strcmp0 (ingredient->inci, name) != 0 ? ingredient->inci : NULL;
  OgCardRow *row = og_card_add_row (block, OG_ROW_LINE, g_strdup (name), g_strdup (inci));

  row->pct = og_number_fixed (og_ppm_to_pct (line->amount), decimals);
  row->g = og_number_fixed (og_ppm_to_g (line->amount, batch_g), gram_decimals (batch_g));
  row->notes = line_remarks (line);
}

static void
add_recipe_table (OgCard          *card,
                  const OgFormula *formula)
{
  g_autofree char *batch = og_number_trimmed (formula->batch_g, 2);
  gint64 total = og_formula_total (formula);
  int decimals = share_decimals (formula);
  OgCardBlock *block;
  OgCardRow *row;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup_printf (_("Recipe for %s g"), batch), NULL);
  if (og_formula_get_n_lines (formula) == 0)
    {
      og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (_("There is nothing in this recipe yet.")), NULL);
      return;
    }

  block = og_card_add_block (card, OG_BLOCK_TABLE, NULL, NULL);
  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      og_card_add_row (block, OG_ROW_PHASE, g_strdup (og_text_is_blank (phase->name) ? _("Phase") : phase->name),
               phase_remarks (phase));
      for (guint l = 0; l < phase->lines->len; l++)
        add_line (card, block, g_ptr_array_index (phase->lines, l), formula->batch_g, decimals);
    }
  row = og_card_add_row (block, OG_ROW_TOTAL, g_strdup (_("Total")), NULL);
  row->pct = og_number_fixed ((double) total / OG_PPM_PER_PERCENT, decimals);
  row->g = og_number_fixed (formula->batch_g * (double) total / OG_PPM_WHOLE, gram_decimals (formula->batch_g));
  row->caution = total != OG_PPM_WHOLE;
  /* xgettext:no-c-format */
  if (row->caution)
    row->notes = g_strdup (_("not 100 %"));
}

/* --- steps --- */

static void
add_steps (OgCard          *card,
           const OgFormula *formula)
{
  g_autoptr (GPtrArray) steps = og_process_steps (formula, card->result);
  OgCardBlock *block;

  if (steps->len == 0)
    return;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Making it")), NULL);
  block = og_card_add_block (card, OG_BLOCK_STEPS, NULL, NULL);
  for (guint i = 0; i < steps->len; i++)
    {
      const OgStep *step = g_ptr_array_index (steps, i);

      og_card_add_row (block, OG_ROW_ITEM, g_strdup (step->text),
               og_text_is_blank (step->caution) ? NULL : g_strdup (step->caution));
    }
}

/* --- figures --- */

/* takes @text */
static void
add_fact (OgCardBlock *block,
          const char  *label,
          char        *text)
{
  og_card_add_row (block, OG_ROW_ITEM, text, NULL)->label = g_strdup (label);
}

static char *
quantity_text (const char *number,
               const char *unit)
{
  /* Translators: a number and its unit */
  return g_strdup_printf (C_("quantity", "%s %s"), number, unit);
}

static void
add_quantity (OgCardBlock *block,
              const char  *label,
              double       value,
              int          decimals,
              const char  *unit)
{
  g_autofree char *number = og_number_fixed (value, decimals);

  add_fact (block, label, isfinite (value) && unit != NULL ? quantity_text (number, unit)
                                                           : g_strdup (number));
}

static void
add_yield_stress (OgCardBlock      *block,
                  const OgEstimate *yield)
{
  g_autofree char *value = NULL;
  g_autofree char *range = NULL;

  if (!og_estimate_is_known (yield) || yield->value <= 0)
    return;

  value = og_number_significant (yield->value, 2);
  range = og_number_range (yield);
  add_fact (block, _("Yield stress"),
            range != NULL ? g_strdup_printf (_("%s Pa (%s)"), value, range)
                          : g_strdup_printf (_("%s Pa"), value));
}

static void
add_origin_and_tint (OgCardBlock    *block,
                     const OgResult *result)
{
  g_autoptr (OgNaturalOrigin) origin = og_natural_origin_sum (result->contents);
  OgTint tint;

  if (result->contents->len == 0)
    return;
  og_tint_predict (result->contents, OG_TINT_FILM_UM, &tint);
  add_fact (block, _("Natural origin"), og_natural_origin_to_text (origin));
  add_fact (block, _("Tint"), og_tint_describe (&tint));
}

static void
add_figures (OgCard *card)
{
  const OgResult *result = card->result;
  g_autofree char *room = og_number_trimmed (OG_TEMPERATURE_ROOM_C, 1);
  g_autofree char *skin = og_number_trimmed (OG_TEMPERATURE_SKIN_C, 1);
  g_autofree char *at_rest = g_strdup_printf (_("At rest, %s °C"), room);
  g_autofree char *poured = g_strdup_printf (_("Poured, %s °C"), room);
  g_autofree char *rubbed = g_strdup_printf (_("Rubbed, %s °C"), room);
  g_autofree char *on_skin = g_strdup_printf (_("Rubbed on the skin, %s °C"), skin);
  g_autofree char *density = g_strdup_printf (_("Density at %s °C"), room);
  g_autofree char *index = g_strdup_printf (_("Refractive index at %s °C"), room);
  OgCardBlock *block;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Fatty acids and figures")), NULL);
  if (result->profile != NULL && result->profile->shares->len > 0)
    og_card_add_block (card, OG_BLOCK_PROFILE, og_profile_chart_describe (result->profile), NULL);
  block = og_card_add_block (card, OG_BLOCK_FACTS, NULL, NULL);
  add_fact (block, at_rest, estimate_text (&result->rest));
  add_fact (block, poured, estimate_text (&result->pour));
  add_fact (block, rubbed, estimate_text (&result->rub));
  add_fact (block, on_skin, estimate_text (&result->skin));
  add_yield_stress (block, &result->yield_stress_pa);
  add_quantity (block, density, result->density_g_ml, 3, _("g/ml"));
  add_quantity (block, _("Iodine value"), result->iodine_value, 0, _("g I₂ per 100 g"));
  add_quantity (block, _("Saponification value"), result->saponification_value, 0, _("mg KOH per g"));
  add_quantity (block, index, result->refractive_index, 3, NULL);
  add_quantity (block, _("Oxidisability"), result->oxidisability, 2, NULL);
  add_origin_and_tint (block, result);
}

/* --- substitutions --- */

typedef struct
{
  const OgIngredient *ingredient;
  gint64              amount;
} Candidate;

static void
add_candidate (GArray             *candidates,
               const OgIngredient *ingredient,
               OgPpm               amount)
{
  Candidate candidate = { ingredient, amount };

  for (guint i = 0; i < candidates->len; i++)
    if (g_array_index (candidates, Candidate, i).ingredient == ingredient)
      {
        g_array_index (candidates, Candidate, i).amount += amount;
        return;
      }
  g_array_append_val (candidates, candidate);
}

static int
compare_candidates (gconstpointer a,
                    gconstpointer b)
{
  const Candidate *x = a, *y = b;

  if (x->amount != y->amount)
    return x->amount < y->amount ? 1 : -1;

  return strcmp (x->ingredient->id, y->ingredient->id);
}

static gboolean
is_agent (const OgIngredient *ingredient)
{
  return ingredient->gelling.family != OG_GEL_NONE &&
         og_ingredient_has_role (ingredient, "gelling-agent");
}

/* the largest base materials and every gelling agent, most first */
static GArray *
collect_candidates (const OgCard    *card,
                    const OgFormula *formula,
                    gboolean         agents)
{
  GArray *candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));

  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);
          const OgIngredient *ingredient = og_catalog_get (card->result->catalog, line->ingredient_id);

          if (ingredient != NULL && line->amount > 0 && is_agent (ingredient) == agents)
            add_candidate (candidates, ingredient, line->amount);
        }
    }

  if (!agents)
    for (guint i = candidates->len; i-- > 0;)
      {
        const Candidate *candidate = &g_array_index (candidates, Candidate, i);

        if (candidate->amount < SMALLEST_BASE_PPM ||
            !(og_ingredient_is_triglyceride (candidate->ingredient) ||
              og_ingredient_has_role (candidate->ingredient, "base")))
          g_array_remove_index (candidates, i);
      }
  g_array_sort (candidates, compare_candidates);
  if (!agents && candidates->len > MOST_BASE_MATERIALS)
    g_array_set_size (candidates, MOST_BASE_MATERIALS);

  return candidates;
}

static char *
viscosity_change (const OgEstimate *ratio)
{
  double change = ratio->value - 1;
  g_autofree char *percent = NULL;
  g_autofree char *times = NULL;

  if (!og_estimate_is_known (ratio))
    return g_strdup (_("how the body changes is not known"));
  if (fabs (change) < SAME_VISCOSITY)
    return g_strdup (_("body as before"));
  if (ratio->value >= 3)
    {
      times = og_number_significant (ratio->value, 2);
      return g_strdup_printf (_("%s times as thick when poured"), times);
    }

  percent = og_number_trimmed (100 * fabs (change), 0);
  return change > 0 ? g_strdup_printf (_("thicker by %s %% when poured"), percent)
                    : g_strdup_printf (_("thinner by %s %% when poured"), percent);
}

static void
add_suggestion (OgCardBlock        *block,
                const OgSuggestion *suggestion,
                gint64              amount)
{
  const OgSuggestedPart *part = og_suggestion_get_part (suggestion, 0);
  GString *remarks = g_string_new (NULL);
  g_autofree char *change = viscosity_change (&suggestion->viscosity_ratio);
  OgCardRow *row;

  if (part->amount != amount)
    {
      g_autofree char *number = og_number_trimmed (og_ppm_to_pct (part->amount), 2);
      g_autofree char *text = g_strdup_printf (_("at %s wt %%"), number);

      add_remark (remarks, text);
    }
  add_remark (remarks, change);
  row = og_card_add_row (block, OG_ROW_ITEM, finish_remarks (remarks), NULL);
  row->label = og_suggestion_get_title (suggestion);

  remarks = g_string_new (NULL);
  for (guint i = 0; i < MIN (suggestion->reasons->len, MOST_REASONS); i++)
    {
      if (i > 0)
        g_string_append_c (remarks, ' ');
      g_string_append (remarks, g_ptr_array_index (suggestion->reasons, i));
    }
  row->detail = finish_remarks (remarks);
}

static void
add_substitutions_for (OgCard          *card,
                       const OgFormula *formula,
                       const Candidate *candidate)
{
  OgSubstitutionOptions options = { .most = MOST_SUGGESTIONS, .belief = card->result->belief };
  const char *const ids[] = { candidate->ingredient->id, NULL };
  g_autofree char *number = og_number_trimmed ((double) candidate->amount / OG_PPM_PER_PERCENT, 2);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) suggestions = og_substitute (formula, card->result->catalog,
                                                     ids, &options, &error);
  OgCardBlock *block;

  og_card_add_block (card, OG_BLOCK_SUBHEADING,
             g_strdup_printf (_("Instead of %s (%s wt %%)"), candidate->ingredient->name, number), NULL);
  block = og_card_add_block (card, OG_BLOCK_LIST, NULL, NULL);
  if (suggestions == NULL)
    og_card_add_row (block, OG_ROW_ITEM, g_strdup (error->message), NULL);
  else if (suggestions->len == 0)
    og_card_add_row (block, OG_ROW_ITEM, g_strdup (_("Nothing in the library does the same job.")), NULL);
  else
    for (guint i = 0; i < MIN (suggestions->len, MOST_SUGGESTIONS); i++)
      add_suggestion (block, g_ptr_array_index (suggestions, i), candidate->amount);
}

static void
add_substitutions (OgCard          *card,
                   const OgFormula *formula)
{
  g_autoptr (GArray) bases = collect_candidates (card, formula, FALSE);
  g_autoptr (GArray) agents = collect_candidates (card, formula, TRUE);

  if (bases->len + agents->len == 0)
    return;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("When something is missing")), NULL);
  for (guint i = 0; i < bases->len; i++)
    add_substitutions_for (card, formula, &g_array_index (bases, Candidate, i));
  for (guint i = 0; i < agents->len; i++)
    add_substitutions_for (card, formula, &g_array_index (agents, Candidate, i));
}

/* --- cautions and notes --- */

/* What it is, what would cure it, and what it rests on. */
static void
add_finding (OgCardBlock     *block,
             const OgFinding *finding)
{
  const char *origin = finding->reference != NULL ? finding->reference : finding->source;
  OgCardRow *row = og_card_add_row (block, OG_ROW_ITEM,
                                    finding->cure != NULL
                                      ? g_strdup_printf ("%s %s", finding->text, finding->cure)
                                      : g_strdup (finding->text),
                                    og_text_is_blank (origin) ? NULL : g_strdup (origin));

  row->label = g_strdup (og_severity_get_name (finding->severity));
  row->caution = finding->severity != OG_SEVERITY_NOTE;
}

static void
add_findings (OgCard *card)
{
  const GPtrArray *findings = card->result->findings;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Cautions")), NULL);
  if (findings->len > 0)
    {
      OgCardBlock *block = og_card_add_block (card, OG_BLOCK_LIST, NULL, NULL);

      for (guint i = 0; i < findings->len; i++)
        add_finding (block, g_ptr_array_index (findings, i));
    }
  og_card_add_block (card, OG_BLOCK_PARAGRAPH,
             g_strdup (_("Check your local rules on ingredients, colours and labels before you sell or give away "
                         "what you make.")),
             NULL);
}

static void
add_notes (OgCard          *card,
           const OgFormula *formula)
{
  if (og_text_is_blank (formula->notes))
    return;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Notes")), NULL);
  og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (formula->notes), NULL);
}

/* --- label and keeping --- */

/* Findings from cautions on: notes would fill the card with what the reader did not ask. */
void
og_card_add_severe_findings (OgCard          *card,
                             const GPtrArray *findings)
{
  OgCardBlock *block = NULL;

  for (guint i = 0; i < findings->len; i++)
    {
      const OgFinding *finding = g_ptr_array_index (findings, i);

      if (finding->severity == OG_SEVERITY_NOTE)
        continue;
      if (block == NULL)
        block = og_card_add_block (card, OG_BLOCK_LIST, NULL, NULL);
      add_finding (block, finding);
    }
}

void
og_card_add_declaration (OgCard          *card,
                         const OgFormula *formula)
{
  g_autoptr (OgDeclaration) declaration = NULL;

  if (card->result->contents->len == 0)
    return;
  declaration = og_declare (formula, card->result->catalog, OG_MARKET_EU, NULL);
  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Ingredients on the label (EU)")), NULL);
  og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (declaration->text), NULL);
  og_card_add_severe_findings (card, declaration->findings);
}

static void
add_guards (OgCardBlock     *block,
            const OgKeeping *keeping)
{
  for (guint i = 0; i < keeping->guards->len; i++)
    {
      const OgKeepingGuard *guard = &g_array_index (keeping->guards, OgKeepingGuard, i);
      g_autofree char *number = og_number_trimmed (guard->pct, 3);

      /* Translators: antioxidant, its share, how that compares: "Tocopherol, 0.5 wt %, within …" */
      add_fact (block, _("Antioxidant"),
                g_strdup_printf (_("%s, %s wt %%, %s"), guard->ingredient->name, number,
                                 og_guard_level_get_name (guard->level)));
    }
}

void
og_card_add_keeping (OgCard          *card,
                     const OgFormula *formula)
{
  g_autoptr (OgKeeping) keeping = NULL;
  OgCardBlock *block;

  if (card->result->contents->len == 0)
    return;
  keeping = og_keep (formula, card->result, NULL);
  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Keeping")), NULL);
  block = og_card_add_block (card, OG_BLOCK_FACTS, NULL, NULL);
  add_fact (block, _("Closed, dark, room temperature"), og_keeping_span_to_text (&keeping->room));
  add_quantity (block, _("COX value"), keeping->cox, 2, NULL);
  add_guards (block, keeping);
  og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (keeping->basis), NULL);
  og_card_add_severe_findings (card, keeping->findings);
}

/* --- card --- */

OgCard *
og_card_new_empty (const OgFormula *formula,
                   OgResult        *result)
{
  OgCard *card = g_new0 (OgCard, 1);

  card->result = og_result_ref (result);
  card->title = g_strdup (og_text_is_blank (formula->title) ? _("Untitled recipe") : formula->title);
  card->blocks = g_ptr_array_new_with_free_func (block_free);

  return card;
}

OgCard *
og_card_new (const OgFormula *formula,
             OgResult        *result)
{
  OgCard *card;

  g_return_val_if_fail (formula != NULL && result != NULL, NULL);

  card = og_card_new_empty (formula, result);
  add_title (card, formula);
  add_headline (card, formula);
  add_chart (card, formula);
  add_recipe_table (card, formula);
  add_steps (card, formula);
  add_figures (card);
  og_card_add_declaration (card, formula);
  og_card_add_keeping (card, formula);
  add_substitutions (card, formula);
  add_findings (card);
  add_notes (card, formula);

  return card;
}

void
og_card_free (OgCard *card)
{
  if (card == NULL)
    return;

  og_card_clear_layout (card);
  g_ptr_array_unref (card->blocks);
  og_result_unref (card->result);
  g_free (card->title);
  g_free (card);
}
