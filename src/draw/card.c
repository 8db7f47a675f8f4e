/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "draw/card-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/number-text.h"
#include "core/label/colour.h"
#include "core/label/natural-origin.h"
#include "core/predict/belief.h"
#include "draw/text.h"

/* --- words --- */

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

  if (result->body_text != NULL)
    og_card_add_row (block, OG_ROW_ITEM, g_strdup (og_saying_text (result->body_text)), NULL);
  if (target != NULL)
    og_card_add_row (block, OG_ROW_ITEM, target, NULL);
  if (og_estimate_is_known (&result->pour))
    og_card_add_row (block, OG_ROW_ITEM,
             g_strdup (has_learned (result)
                         ? _("Predicted from the composition and corrected by bench readings.")
                         : _("Predicted from the composition, not measured. Make a small batch first.")),
             NULL);
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
    og_remarks_add (remarks, _("makes up to 100 %"));
  if (line->held)
    og_remarks_add (remarks, C_("recipe line", "held"));
  if (isfinite (line->add_temperature_c))
    {
      g_autofree char *number = og_number_trimmed (line->add_temperature_c, 1);
      g_autofree char *text = g_strdup_printf (_("add at %s °C"), number);

      og_remarks_add (remarks, text);
    }
  og_remarks_add (remarks, line->note);

  return og_remarks_finish (remarks);
}

static char *
phase_remarks (const OgFormulaPhase *phase)
{
  GString *remarks = g_string_new (NULL);

  if (isfinite (phase->temperature_c))
    {
      g_autofree char *number = og_number_trimmed (phase->temperature_c, 1);
      g_autofree char *text = g_strdup_printf (_("%s °C"), number);

      og_remarks_add (remarks, text);
    }
  og_remarks_add (remarks, phase->note);

  return og_remarks_finish (remarks);
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

      og_card_add_row (block, OG_ROW_ITEM, g_strdup (og_saying_text (step->text)),
                       g_strdup (og_saying_text (step->caution)));
    }
}

/* --- figures --- */

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
  og_card_add_fact (block, _("Yield stress"),
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
  og_card_add_fact (block, _ ("Natural origin"), og_saying_take_text (og_natural_origin_saying (origin)));
  og_card_add_fact (block, _ ("Tint"), og_saying_take_text (og_tint_describe (&tint)));
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
  og_card_add_fact (block, at_rest, estimate_text (&result->rest));
  og_card_add_fact (block, poured, estimate_text (&result->pour));
  og_card_add_fact (block, rubbed, estimate_text (&result->rub));
  og_card_add_fact (block, on_skin, estimate_text (&result->skin));
  add_yield_stress (block, &result->yield_stress_pa);
  og_card_add_quantity (block, density, result->density_g_ml, 3, _("g/ml"));
  og_card_add_quantity (block, _("Iodine value"), result->iodine_value, 0, _("g I₂ per 100 g"));
  og_card_add_quantity (block, _("Saponification value"), result->saponification_value, 0, _("mg KOH per g"));
  og_card_add_quantity (block, index, result->refractive_index, 3, NULL);
  og_card_add_quantity (block, _("Oxidisability"), result->oxidisability, 2, NULL);
  add_origin_and_tint (block, result);
}

/* --- notes --- */

static void
add_notes (OgCard          *card,
           const OgFormula *formula)
{
  if (og_text_is_blank (formula->notes))
    return;

  og_card_add_block (card, OG_BLOCK_HEADING, g_strdup (_("Notes")), NULL);
  og_card_add_block (card, OG_BLOCK_PARAGRAPH, g_strdup (formula->notes), NULL);
}

/* --- card --- */

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
  og_card_add_substitutions (card, formula);
  og_card_add_findings (card);
  add_notes (card, formula);

  return card;
}
