/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/stove-private.h"

#include "core/base/conditions.h"
#include "core/base/physics.h"

#define WARM_POINTS 6   /* of the series, for each step */
#define COOL_POINTS 12 /* of the series, for each cooling, which is a curve */

/* Held: an item of the pot. */
typedef struct
{
  OgStoveItem item;
  gboolean    melted; /* since it was last above its melting point; it sets later than it melts */
} Held;

double
og_stove_pot_ml (const OgStovePot *pot,
                 double            g)
{
  return g / pot->density_g_ml;
}

static double
density_of (const OgFormula *formula,
            const OgCatalog *catalog)
{
  g_autoptr (GPtrArray) contents = og_formula_contents (formula, catalog);
  double density = og_contents_density (contents, OG_TEMPERATURE_ROOM_C, NULL);

  return isfinite (density) ? density : OG_ASSUMED_DENSITY_G_ML;
}

/* --- heat ---------------------------------------------------------------- */

static void
add_item (OgHeatBody        *body,
          const OgStoveItem *item,
          const OgCatalog   *catalog,
          gboolean           melted)
{
  OgHeatCapacity capacity;
  double melts_c, fusion_j_g = og_heat_of_fusion (item->ingredient, &melts_c);

  og_heat_capacity_init (&capacity, item->ingredient, catalog);
  og_heat_body_add (body, &capacity, item->g);
  if (!(fusion_j_g > 0.0) || !(item->g > 0.0))
    return;
  if (melted && og_figure_is_known (&item->ingredient->gelling.sets_c))
    melts_c = fmin (melts_c, item->ingredient->gelling.sets_c.value);
  og_heat_body_add_melt (body, melts_c, fusion_j_g * item->g);
}

void
og_stove_pot_charge_body (const OgStovePot    *pot,
                          const OgStoveCharge *charge,
                          OgHeatBody          *body)
{
  for (guint i = 0; i < charge->items->len; i++)
    add_item (body, &g_array_index (charge->items, OgStoveItem, i), pot->result->catalog, FALSE);
}

static void
add_vessel (const OgStovePot *pot,
            OgHeatBody       *body)
{
  OgHeatCapacity capacity;

  og_vessel_heat_capacity (&pot->plan->vessel, &capacity);
  og_heat_body_add (body, &capacity, og_vessel_wet_g (&pot->plan->vessel,
                                                  og_stove_pot_ml (pot, pot->g)));
}

/* What was above its melting point stays liquid until it sets. */
static void
update_state (OgStovePot *pot)
{
  og_heat_body_clear (&pot->content);
  og_heat_body_clear (&pot->both);
  og_heat_body_init (&pot->content);
  og_heat_body_init (&pot->both);
  for (guint i = 0; i < pot->items->len; i++)
    {
      Held *held = &g_array_index (pot->items, Held, i);
      const OgIngredient *ingredient = held->item.ingredient;
      double melts_c;

      og_heat_of_fusion (ingredient, &melts_c);
      if (pot->c > melts_c)
        held->melted = TRUE;
      else if (ingredient != NULL && pot->c <= ingredient->gelling.sets_c.value)
        held->melted = FALSE;
      add_item (&pot->content, &held->item, pot->result->catalog, held->melted);
    }
  og_heat_body_join (&pot->both, &pot->content);
  add_vessel (pot, &pot->both);
}

/* --- vessel -------------------------------------------------------------- */

/* The whole recipe, as it is once everything is in. */
static void
init_whole (const OgStovePot *pot,
            double            batch_g,
            OgHeatBody       *body)
{
  for (guint i = 0; i < pot->formula->phases->len; i++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (pot->formula->phases, i);

      for (guint j = 0; j < phase->lines->len; j++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, j);
          OgHeatCapacity capacity;

          og_heat_capacity_init (&capacity,
                                 og_catalog_get (pot->result->catalog, line->ingredient_id),
                                 pot->result->catalog);
          og_heat_body_add (body, &capacity, og_ppm_to_g (line->amount, batch_g));
        }
    }
}

static void
init_cooling (OgStovePot *pot)
{
  const OgCooled *cooled = &pot->setup.cooled;
  double batch_g = isnan (cooled->batch_g) ? pot->plan->batch_g : cooled->batch_g;
  double room_c = isnan (cooled->room_c) ? pot->plan->room_c : cooled->room_c;
  g_auto (OgHeatBody) whole = { 0 };

  og_cooling_init (&pot->plan->cooling, pot->setup.vessel, pot->setup.stirred);
  if (isnan (cooled->minutes))
    return;
  init_whole (pot, batch_g, &whole);
  og_cooling_calibrate (&pot->plan->cooling, &pot->plan->vessel, &whole,
                        og_stove_pot_ml (pot, batch_g), cooled->from_c, cooled->to_c,
                        cooled->minutes, room_c);
}

void
og_stove_pot_init (OgStovePot         *pot,
                   OgStovePlan        *plan,
                   const OgFormula    *formula,
                   const OgResult     *result,
                   const OgStoveSetup *setup)
{
  double size_ml = setup->vessel_ml;

  *pot = (OgStovePot) {
    .formula = formula,
    .result = result,
    .setup = *setup,
    .plan = plan,
    .density_g_ml = density_of (formula, result->catalog),
    .c = setup->room_c,
    .items = g_array_new (FALSE, FALSE, sizeof (Held)),
  };
  plan->room_c = plan->hottest_c = setup->room_c;
  plan->batch_g = isnan (setup->batch_g) ? formula->batch_g : setup->batch_g;
  if (isnan (size_ml))
    size_ml = og_vessel_usual_size (og_stove_pot_ml (pot, plan->batch_g));
  og_vessel_init (&plan->vessel, setup->vessel, size_ml);
  init_cooling (pot);
  update_state (pot);
}

void
og_stove_pot_clear (OgStovePot *pot)
{
  og_heat_body_clear (&pot->content);
  og_heat_body_clear (&pot->both);
  g_clear_pointer (&pot->items, g_array_unref);
  g_clear_pointer (&pot->blend, og_blend_free);
}

OgEstimate
og_stove_pot_rate (const OgStovePot *pot,
                   double            mean_c)
{
  return og_cooling_rate (&pot->plan->cooling, &pot->plan->vessel, &pot->content,
                          og_stove_pot_ml (pot, pot->g), mean_c);
}

/* --- series -------------------------------------------------------------- */

static OgBlend *
blend_of (const OgStovePot *pot)
{
  g_autoptr (GArray) parts = g_array_new (FALSE, FALSE, sizeof (OgPart));
  g_autoptr (GPtrArray) contents = NULL;
  OgBlend *blend;

  for (guint i = 0; i < pot->items->len; i++)
    {
      const Held *held = &g_array_index (pot->items, Held, i);
      OgPart part = { (char *) held->item.ingredient_id, 100.0 * held->item.g / pot->g };

      g_array_append_val (parts, part);
    }
  contents = og_parts_contents (parts, pot->result->catalog);
  blend = og_blend_new (contents, og_catalog_get_parameters (pot->result->catalog));
  if (pot->result->belief != NULL)
    og_blend_set_belief (blend, pot->result->belief);
  return blend;
}

static void
add_point (OgStovePot *pot,
           double      minutes,
           double      temperature_c)
{
  OgStovePoint point = { minutes, temperature_c, { NAN, NAN, NAN }, pot->plan->steps->len - 1 };

  if (!pot->setup.with_series || isnan (temperature_c) || !isfinite (minutes))
    return;
  if (pot->blend == NULL && pot->g > 0.0)
    pot->blend = blend_of (pot);
  if (pot->blend != NULL && og_blend_flows (pot->blend)
      && temperature_c >= OG_TEMPERATURE_LOWEST_C && temperature_c <= OG_TEMPERATURE_HIGHEST_C)
    point.viscosity_mpa_s = og_blend_viscosity (pot->blend, temperature_c, OG_SHEAR_STIR);
  g_array_append_val (pot->plan->series, point);
}

/* --- what happens to it -------------------------------------------------- */

void
og_stove_pot_take (OgStovePot          *pot,
                   const OgStoveCharge *charge,
                   double               after_c)
{
  for (guint i = 0; i < charge->items->len; i++)
    {
      Held held = { g_array_index (charge->items, OgStoveItem, i), FALSE };

      g_array_append_val (pot->items, held);
      pot->g += held.item.g;
    }
  pot->c = after_c;
  g_clear_pointer (&pot->blend, og_blend_free);
  update_state (pot);
  add_point (pot, pot->minutes, pot->c);
}

static void
set_temperature (OgStovePot *pot,
                 double      to_c)
{
  pot->c = to_c;
  pot->plan->hottest_c = fmax (pot->plan->hottest_c, to_c);
  update_state (pot);
}

void
og_stove_pot_warm (OgStovePot  *pot,
                   OgStoveStep *step,
                   double       to_c)
{
  double minutes = (to_c - pot->c) / OG_STOVE_WARM_K_MIN;

  step->minutes = (OgEstimate) { minutes, NAN, NAN };
  step->heat_kj = og_heat_body_heat (&pot->both, pot->c, to_c) / 1000.0;
  for (int i = 1; i <= WARM_POINTS && isfinite (minutes); i++)
    add_point (pot, pot->minutes + minutes * i / WARM_POINTS,
               pot->c + (to_c - pot->c) * i / WARM_POINTS);
  if (isfinite (minutes))
    pot->minutes += minutes;
  set_temperature (pot, to_c);
}

static double
range_minutes (const OgStovePot *pot,
               double            k_1_min,
               double            to_c)
{
  return og_cooling_minutes (k_1_min, pot->c, to_c, pot->plan->room_c);
}

void
og_stove_pot_cool (OgStovePot  *pot,
                   OgStoveStep *step,
                   double       to_c)
{
  OgEstimate k = og_stove_pot_rate (pot, (pot->c + to_c) / 2.0);
  OgEstimate *total = &pot->plan->cooling_minutes;

  step->minutes = (OgEstimate) { range_minutes (pot, k.value, to_c),
                                 range_minutes (pot, k.high80, to_c),
                                 range_minutes (pot, k.low80, to_c) };
  for (int i = 1; i <= COOL_POINTS && isfinite (step->minutes.value); i++)
    {
      double minutes = step->minutes.value * i / COOL_POINTS;

      add_point (pot, pot->minutes + minutes,
                 og_cooling_temperature (k.value, pot->c, minutes, pot->plan->room_c));
    }
  total->value += step->minutes.value;
  total->low80 += step->minutes.low80;
  total->high80 += step->minutes.high80;
  if (isfinite (step->minutes.value))
    pot->minutes += step->minutes.value;
  set_temperature (pot, to_c);
}

/* --- limits -------------------------------------------------------------- */

/* Everything in the pot and the charge as one charge, equal materials added up. */
static OgStoveCharge *
together (const OgStovePot    *pot,
          const OgStoveCharge *charge)
{
  OgStoveCharge *all = og_stove_charge_new (0, NAN);

  for (guint i = 0; i < pot->items->len + charge->items->len; i++)
    {
      const OgStoveItem *item
          = i < pot->items->len ? &g_array_index (pot->items, Held, i).item
                                : &g_array_index (charge->items, OgStoveItem, i - pot->items->len);
      guint at = 0;

      while (at < all->items->len
             && !g_str_equal (g_array_index (all->items, OgStoveItem, at).ingredient_id,
                              item->ingredient_id))
        at++;
      if (at == all->items->len)
        g_array_append_vals (all->items, item, 1);
      else
        g_array_index (all->items, OgStoveItem, at).g += item->g;
    }
  return all;
}

void
og_stove_pot_main_limits (const OgStovePot    *pot,
                          const OgStoveCharge *charge,
                          double               least_share,
                          OgStoveLimits       *limits)
{
  g_autoptr (OgStoveCharge) all = together (pot, charge);
  double least_g = least_share * og_stove_charge_g (all);

  for (guint i = all->items->len; i-- > 0;)
    if (g_array_index (all->items, OgStoveItem, i).g < least_g)
      g_array_remove_index (all->items, i);
  og_stove_charge_limits (all, limits);
}

static double
setting_c (const OgIngredient *ingredient,
           double              share)
{
  OgGellant gellant;

  if (og_figure_is_known (&ingredient->gelling.sets_c))
    {
      og_gellant_init (&gellant, ingredient, NULL); /* its own figures alone tell where it sets */
      return og_gellant_sets_c (&gellant, share);
    }
  if (ingredient->kind == OG_KIND_WAX && !og_stove_sets (ingredient))
    return ingredient->figures[OG_FIGURE_MELTING_C].value;
  return NAN;
}

OgStoveLimit
og_stove_pot_sets (const OgStovePot *pot,
                   double            all_g)
{
  OgStoveLimit highest = OG_STOVE_NO_LIMIT;

  for (guint i = 0; i < pot->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (pot->items, Held, i).item;
      double sets_c = NAN;

      if (item->ingredient != NULL)
        sets_c = setting_c (item->ingredient, item->g / all_g);
      if (sets_c > highest.temperature_c || (isnan (highest.temperature_c) && !isnan (sets_c)))
        highest = (OgStoveLimit) { sets_c, item->name };
    }
  return highest;
}

OgStoveLimit
og_stove_pot_melts (const OgStovePot *pot)
{
  OgStoveLimit highest = OG_STOVE_NO_LIMIT;

  for (guint i = 0; i < pot->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (pot->items, Held, i).item;
      double melts_c = NAN;

      if (item->ingredient != NULL && item->ingredient->kind == OG_KIND_WAX)
        melts_c = item->ingredient->figures[OG_FIGURE_MELTING_C].value;
      if (melts_c > highest.temperature_c || (isnan (highest.temperature_c) && !isnan (melts_c)))
        highest = (OgStoveLimit) { melts_c, item->name };
    }
  return highest;
}

const char *
og_stove_pot_sets_somewhere (const OgStovePot *pot)
{
  for (guint i = 0; i < pot->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (pot->items, Held, i).item;

      if (item->ingredient != NULL && (og_stove_sets (item->ingredient) || item->ingredient->kind == OG_KIND_WAX)
          && isnan (setting_c (item->ingredient, item->g / pot->g)))
        return item->name;
    }
  return NULL;
}
