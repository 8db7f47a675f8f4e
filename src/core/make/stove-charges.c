/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "core/base/conditions.h"
#include "core/make/stove-private.h"

#define MELT_MARGIN_C 5.0 /* over the melting point, for a melt without crystals; judgement */

OgWord
og_stove_grams (double g)
{
  return og_word_trimmed (g, g >= 100 ? 1 : g >= 10 ? 2 : 3);
}

/* --- reading the recipe -------------------------------------------------- */

void
og_stove_charge_free (OgStoveCharge *charge)
{
  g_array_unref (charge->items);
  g_free (charge);
}

OgStoveCharge *
og_stove_charge_new (guint  phase_id,
                     double stated_c)
{
  OgStoveCharge *charge = g_new0 (OgStoveCharge, 1);

  charge->phase_id = phase_id;
  charge->stated_c = stated_c;
  charge->recipe_c = NAN;
  charge->items = g_array_new (FALSE, FALSE, sizeof (OgStoveItem));
  return charge;
}

static gboolean carries (const OgStoveItem *item);

static gboolean
same_temperature (double a,
                  double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static OgStoveCharge *
find_charge (GPtrArray *charges,
             guint      phase_id,
             double     stated_c)
{
  OgStoveCharge *charge;

  for (guint i = 0; i < charges->len; i++)
    {
      charge = g_ptr_array_index (charges, i);
      if (charge->phase_id == phase_id && same_temperature (charge->stated_c, stated_c))
        return charge;
    }
  charge = og_stove_charge_new (phase_id, stated_c);
  g_ptr_array_add (charges, charge);
  return charge;
}

/* Within a phase: from hot to cool, then what has no temperature. */
static int
compare_charges (gconstpointer a,
                 gconstpointer b)
{
  const OgStoveCharge *x = *(OgStoveCharge *const *) a, *y = *(OgStoveCharge *const *) b;

  if (isnan (x->stated_c) || isnan (y->stated_c))
    return isnan (x->stated_c) - isnan (y->stated_c);
  return (x->stated_c < y->stated_c) - (x->stated_c > y->stated_c);
}

static OgStoveItem
item_of (const OgFormulaLine *line,
         const OgCatalog     *catalog,
         double               batch_g)
{
  const OgIngredient *ingredient = og_catalog_get (catalog, line->ingredient_id);

  return (OgStoveItem) {
    .name = ingredient != NULL ? ingredient->name : line->ingredient_id,
    .ingredient = ingredient,
    .ingredient_id = line->ingredient_id,
    .line_id = line->id,
    .g = og_ppm_to_g (line->amount, batch_g),
  };
}

/* What lines without a temperature inherit; NAN where no line has one. */
static double
shared_temperature (const OgFormulaPhase *phase,
                    const OgCatalog      *catalog)
{
  double of_liquid_c = NAN, of_any_c = NAN;

  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);
      const OgStoveItem item = item_of (line, catalog, 1.0);

      if (line->amount == 0)
        continue;
      of_any_c = fmax (of_any_c, line->add_temperature_c);
      if (og_stove_is_carrier (&item))
        of_liquid_c = fmax (of_liquid_c, line->add_temperature_c);
    }
  return isnan (of_liquid_c) ? of_any_c : of_liquid_c;
}

static GPtrArray *
phase_charges (const OgFormulaPhase *phase,
               const OgCatalog      *catalog,
               double                batch_g)
{
  GPtrArray *charges = g_ptr_array_new_with_free_func ((GDestroyNotify) og_stove_charge_free);
  double shared_c = isnan (phase->temperature_c) ? shared_temperature (phase, catalog) : NAN;

  for (guint i = 0; i < phase->lines->len; i++)
    {
      const OgFormulaLine *line = g_ptr_array_index (phase->lines, i);
      double stated_c = isnan (line->add_temperature_c) ? phase->temperature_c : line->add_temperature_c;
      OgStoveItem item = item_of (line, catalog, batch_g);

      if (line->amount == 0)
        continue;
      if (isnan (stated_c) && !og_stove_is_gentle (&item) && !og_stove_is_shy_at (&item, shared_c))
        stated_c = shared_c;
      item.inherited = isnan (line->add_temperature_c) && isnan (phase->temperature_c) && !isnan (stated_c);
      g_array_append_val (find_charge (charges, phase->id, stated_c)->items, item);
    }
  g_ptr_array_sort (charges, compare_charges);
  return charges;
}

/* Puts all of @dry into @wet, at the higher temperature of both. */
static void
join_charge (OgStoveCharge *wet,
             OgStoveCharge *dry)
{
  for (guint i = 0; i < dry->items->len; i++)
    {
      OgStoveItem item = g_array_index (dry->items, OgStoveItem, i);

      item.joined = TRUE;
      g_array_append_val (wet->items, item);
    }
  g_array_set_size (dry->items, 0);
  wet->stated_c = fmax (wet->stated_c, dry->stated_c);
}

/* What would be heated alone at the beginning goes into the first liquid. */
static void
join_dry (GPtrArray *phases)
{
  g_autoptr (GPtrArray) dry = g_ptr_array_new ();
  OgStoveCharge *wet = NULL;

  for (guint i = 0; i < phases->len && wet == NULL; i++)
    {
      GPtrArray *charges = g_ptr_array_index (phases, i);

      for (guint j = 0; j < charges->len && wet == NULL; j++)
        {
          OgStoveCharge *charge = g_ptr_array_index (charges, j);

          if (!og_stove_charge_is_wet (charge))
            g_ptr_array_add (dry, charge);
          else if (og_stove_charge_has (charge, carries))
            wet = charge;
        }
    }
  for (guint i = 0; wet != NULL && i < dry->len; i++)
    join_charge (wet, g_ptr_array_index (dry, i));
}

GPtrArray *
og_stove_charges_read (const OgFormula *formula,
                       const OgCatalog *catalog,
                       double           batch_g)
{
  GPtrArray *phases = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);

  for (guint i = 0; i < formula->phases->len; i++)
    g_ptr_array_add (phases, phase_charges (g_ptr_array_index (formula->phases, i), catalog,
                                            batch_g));
  join_dry (phases);
  return phases;
}

/* --- materials ----------------------------------------------------------- */

gboolean
og_stove_is_gentle (const OgStoveItem *item)
{
  if (item->ingredient == NULL)
    return FALSE;
  return item->ingredient->kind == OG_KIND_ANTIOXIDANT
         || item->ingredient->kind == OG_KIND_VITAMIN
         || item->ingredient->kind == OG_KIND_FLAVOUR
         || item->ingredient->kind == OG_KIND_ESSENTIAL_OIL
         || og_ingredient_has_role (item->ingredient, "antioxidant");
}

gboolean
og_stove_is_dusty (const OgStoveItem *item)
{
  return item->ingredient != NULL
         && (og_ingredient_is_suspended (item->ingredient)
             || og_ingredient_has_tag (item->ingredient, "powder"));
}

gboolean
og_stove_is_suspended (const OgStoveItem *item)
{
  return item->ingredient != NULL && og_ingredient_is_suspended (item->ingredient);
}

gboolean
og_stove_is_dispersion (const OgStoveItem *item)
{
  return item->ingredient != NULL && item->ingredient->kind == OG_KIND_DISPERSION;
}

gboolean
og_stove_is_sheared (const OgStoveItem *item)
{
  return item->ingredient != NULL && item->ingredient->gelling.needs_shear;
}

gboolean
og_stove_is_inherited (const OgStoveItem *item)
{
  return item->inherited;
}

gboolean
og_stove_is_joined (const OgStoveItem *item)
{
  return item->joined;
}

gboolean
og_stove_is_shy_at (const OgStoveItem *item,
                    double             temperature_c)
{
  return item->ingredient != NULL
         && temperature_c > item->ingredient->figures[OG_FIGURE_MAX_HEAT_C].value;
}

gboolean
og_stove_is_any (const OgStoveItem *item)
{
  return TRUE;
}

gboolean
og_stove_charge_has (const OgStoveCharge *charge,
                     OgStoveItemFunc      func)
{
  for (guint i = 0; i < charge->items->len; i++)
    {
      if (func (&g_array_index (charge->items, OgStoveItem, i)))
        return TRUE;
    }
  return FALSE;
}

OgSaying *
og_stove_charge_list (const OgStoveCharge *charge,
                      OgStoveItemFunc      func,
                      gboolean             with_grams)
{
  GPtrArray *names = og_sayings_new ();

  for (guint i = 0; i < charge->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (charge->items, OgStoveItem, i);

      if (!func (item))
        continue;
      if (with_grams)
        /* Translators: a material and its weight, as in "Castor oil (12.6 g)". */
        g_ptr_array_add (names, og_saying_new (N_("%s (%s g)"), og_word_text (item->name),
                                               og_stove_grams (item->g)));
      else
        g_ptr_array_add (names, og_saying_verbatim (item->name));
    }
  /* Translators: stands between the materials of a list. */
  return og_saying_list (N_(", "), names);
}

double
og_stove_charge_g (const OgStoveCharge *charge)
{
  double g = 0;

  for (guint i = 0; i < charge->items->len; i++)
    g += g_array_index (charge->items, OgStoveItem, i).g;
  return g;
}

/* --- temperatures -------------------------------------------------------- */

static gboolean
melts_in_oil (OgKind kind)
{
  switch (kind)
    {
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
    case OG_KIND_WAX:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
    case OG_KIND_GELLING_AGENT:
      return TRUE;

    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
    case OG_KIND_PEARL:
    case OG_KIND_POWDER:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
    case OG_N_KINDS:
    default:
      return FALSE;
    }
}

gboolean
og_stove_sets (const OgIngredient *ingredient)
{
  switch (ingredient->gelling.family)
    {
    case OG_GEL_PHYSICAL_POLYMER:
    case OG_GEL_POLYMER_SOLUTION:
    case OG_GEL_CRYSTAL_NETWORK:
      return TRUE;

    case OG_GEL_NONE:
    case OG_GEL_PARTICLE_NETWORK:
    case OG_GEL_PLATELET_NETWORK:
    case OG_GEL_VISCOUS_LIQUID:
    default:
      return FALSE;
    }
}

static gboolean
dissolves_hot (const OgIngredient *ingredient)
{
  return og_stove_sets (ingredient)
         || ingredient->kind == OG_KIND_WAX
         || ingredient->kind == OG_KIND_BUTTER;
}

static void
heat_raise (OgStoveHeat *heat,
            double       temperature_c,
            double       low_c,
            double       high_c)
{
  if (heat->temperature_c >= temperature_c)
    return;
  heat->temperature_c = temperature_c;
  heat->low_c = low_c;
  heat->high_c = high_c;
}

static void
heat_add (OgStoveHeat       *heat,
          const OgStoveItem *item)
{
  const OgFigure *dissolves, *melting;

  if (item->ingredient == NULL)
    return;
  dissolves = &item->ingredient->gelling.dissolves_c;
  melting = &item->ingredient->figures[OG_FIGURE_MELTING_C];
  if (og_figure_is_known (dissolves))
    heat_raise (heat, dissolves->value, dissolves->low, dissolves->high);
  else if (og_figure_is_known (melting) && melts_in_oil (item->ingredient->kind))
    {
      if (melting->value <= OG_TEMPERATURE_ROOM_C - MELT_MARGIN_C)
        return;
      heat_raise (heat, melting->value + MELT_MARGIN_C, NAN, NAN);
    }
  else if (dissolves_hot (item->ingredient))
    heat->unknown = TRUE;
  else
    return;
  g_ptr_array_add (heat->names, (gpointer) item->name);
}

void
og_stove_heat_init (OgStoveHeat         *heat,
                    const OgStoveCharge *charge)
{
  *heat = (OgStoveHeat) { .temperature_c = NAN, .low_c = NAN, .high_c = NAN };
  heat->names = g_ptr_array_new ();
  for (guint i = 0; i < charge->items->len; i++)
    heat_add (heat, &g_array_index (charge->items, OgStoveItem, i));
}

void
og_stove_heat_clear (OgStoveHeat *heat)
{
  g_clear_pointer (&heat->names, g_ptr_array_unref);
}

OgSaying *
og_stove_heat_names (const OgStoveHeat *heat)
{
  GPtrArray *names = og_sayings_new ();

  for (guint i = 0; i < heat->names->len; i++)
    g_ptr_array_add (names, og_saying_verbatim (g_ptr_array_index (heat->names, i)));
  return og_saying_list (N_(", "), names);
}

/* --- what carries, and what must be carried ------------------------------ */

gboolean
og_stove_is_solid (const OgStoveItem *item)
{
  if (item->ingredient == NULL)
    return FALSE;
  return item->ingredient->kind == OG_KIND_WAX || item->ingredient->kind == OG_KIND_GELLING_AGENT
         || og_stove_is_dusty (item);
}

gboolean
og_stove_is_carrier (const OgStoveItem *item)
{
  g_autoptr (OgStoveCharge) alone = NULL;
  g_auto (OgStoveHeat) heat = { 0 };

  if (item->ingredient == NULL || !melts_in_oil (item->ingredient->kind) || og_stove_is_solid (item)
      || og_stove_is_gentle (item) || item->ingredient->kind == OG_KIND_BUTTER)
    return FALSE;
  alone = og_stove_charge_new (0, NAN);
  g_array_append_vals (alone->items, item, 1);
  og_stove_heat_init (&heat, alone);
  return heat.names->len == 0;
}

/* What solids can lie in; what nobody knows may be a liquid, and a butter melts before them. */
static gboolean
carries (const OgStoveItem *item)
{
  return item->ingredient == NULL || item->ingredient->kind == OG_KIND_BUTTER || og_stove_is_carrier (item);
}

gboolean
og_stove_charge_is_wet (const OgStoveCharge *charge)
{
  return !og_stove_charge_has (charge, og_stove_is_solid) || og_stove_charge_has (charge, carries);
}

static void
limit_lower (OgStoveLimit *limit,
             double        temperature_c,
             const char   *name)
{
  if (isnan (temperature_c) || limit->temperature_c <= temperature_c)
    return;
  *limit = (OgStoveLimit) { temperature_c, name };
}

void
og_stove_charge_limits (const OgStoveCharge *charge,
                        OgStoveLimits       *limits)
{
  for (guint i = 0; i < charge->items->len; i++)
    {
      const OgStoveItem *item = &g_array_index (charge->items, OgStoveItem, i);
      const OgFigure *figures;

      if (item->ingredient == NULL)
        continue;
      figures = item->ingredient->figures;
      limit_lower (&limits->flash, figures[OG_FIGURE_FLASH_POINT_C].value, item->name);
      limit_lower (&limits->smoke, figures[OG_FIGURE_SMOKE_POINT_C].value, item->name);
      limit_lower (&limits->shy, figures[OG_FIGURE_MAX_HEAT_C].value, item->name);
    }
}
