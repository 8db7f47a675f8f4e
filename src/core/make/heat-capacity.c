/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/heat-capacity.h"

#include "core/base/conditions.h"
#include "core/predict/evaluate.h"

#define MELT_MARGIN_C 5.0 /* what melts this little above the room counts as liquid already */
#define DEEPEST 8         /* mixtures within mixtures */

/* Choi & Okos 1986, fat, -40 to 150 C: 1.9842 + 1.4733e-3 T - 4.8008e-6 T^2; recalled. */
#define FAT_AT_25 2.018
#define FAT_SLOPE 0.00147

/* Cragoe 1929: (1.685 + 0.0034 T)/sqrt (relative density at 15.6 C); recalled. */
#define PETROLEUM_AT_25 1.770
#define PETROLEUM_SLOPE 0.0034
#define PETROLEUM_ASSUMED_DENSITY 0.85

/* Melt: a heat of fusion at one temperature. */
typedef struct
{
  double melts_c;
  double heat_j;
} Melt;

/* --- one material -------------------------------------------------------- */

static double
petroleum_root (const OgIngredient *ingredient)
{
  double density = og_ingredient_density (ingredient, 15.6);

  return sqrt (isfinite (density) ? density : PETROLEUM_ASSUMED_DENSITY);
}

/* Usual values; judgement where the defines above name no source. */
static void
init_by_kind (OgHeatCapacity     *capacity,
              const OgIngredient *ingredient)
{
  double at_25_c = 1.9, slope = 0.0025;

  switch (ingredient != NULL ? ingredient->kind : OG_N_KINDS)
    {
    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
      at_25_c = FAT_AT_25;
      slope = FAT_SLOPE;
      break;
    case OG_KIND_HYDROCARBON:
      at_25_c = PETROLEUM_AT_25 / petroleum_root (ingredient);
      slope = PETROLEUM_SLOPE / petroleum_root (ingredient);
      break;
    case OG_KIND_ESTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_VITAMIN:
      at_25_c = 2.0;
      break;
    case OG_KIND_WAX:
      at_25_c = 2.2;
      break;
    case OG_KIND_ALCOHOL:
      at_25_c = 2.3;
      break;
    case OG_KIND_SILICONE:
      at_25_c = 1.5;
      slope = 0.0015;
      break;
    case OG_KIND_COLOUR:
    case OG_KIND_PEARL:
    case OG_KIND_POWDER:
      at_25_c = 0.8;
      slope = 0.001;
      break;
    case OG_KIND_GELLING_AGENT:
    case OG_KIND_DISPERSION:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_ACTIVE:
    case OG_N_KINDS:
    default:
      break;
    }
  *capacity = (OgHeatCapacity) { at_25_c, slope, OG_QUALITY_ESTIMATED, TRUE };
}

static void init_capacity (OgHeatCapacity     *capacity,
                           const OgIngredient *ingredient,
                           const OgCatalog    *catalog,
                           guint               depth);

static void
init_from_parts (OgHeatCapacity     *capacity,
                 const OgIngredient *ingredient,
                 const OgCatalog    *catalog,
                 guint               depth)
{
  *capacity = (OgHeatCapacity) { 0.0, 0.0, OG_QUALITY_ESTIMATED, FALSE };
  for (guint i = 0; i < ingredient->composition->len; i++)
    {
      const OgPart *part = &g_array_index (ingredient->composition, OgPart, i);
      OgHeatCapacity own;

      init_capacity (&own, og_catalog_get (catalog, part->ingredient_id), catalog, depth + 1);
      capacity->at_25_c += part->pct / 100.0 * own.at_25_c;
      capacity->slope_1_k += part->pct / 100.0 * own.slope_1_k;
      capacity->by_kind |= own.by_kind;
    }
}

static void
init_capacity (OgHeatCapacity     *capacity,
               const OgIngredient *ingredient,
               const OgCatalog    *catalog,
               guint               depth)
{
  const OgFigure *figure;

  init_by_kind (capacity, ingredient);
  if (ingredient == NULL)
    return;
  figure = &ingredient->figures[OG_FIGURE_HEAT_CAPACITY_KJ_KG_K];
  if (og_figure_is_known (figure))
    {
      double at_c = isfinite (figure->at_c) ? figure->at_c : OG_TEMPERATURE_TABLE_C;

      capacity->at_25_c = figure->value + capacity->slope_1_k * (OG_TEMPERATURE_TABLE_C - at_c);
      capacity->quality = figure->quality;
      capacity->by_kind = FALSE;
    }
  else if (ingredient->composition->len > 0 && depth < DEEPEST)
    init_from_parts (capacity, ingredient, catalog, depth);
}

void
og_heat_capacity_init (OgHeatCapacity     *capacity,
                       const OgIngredient *ingredient,
                       const OgCatalog    *catalog)
{
  g_return_if_fail (capacity != NULL && catalog != NULL);

  init_capacity (capacity, ingredient, catalog, 0);
}

double
og_heat_capacity_at (const OgHeatCapacity *capacity,
                     double                temperature_c)
{
  g_return_val_if_fail (capacity != NULL, NAN);

  return capacity->at_25_c + capacity->slope_1_k * (temperature_c - OG_TEMPERATURE_TABLE_C);
}

/* Solid at the room and liquid at the stove; the rest stays what it is. */
static gboolean
melts_at_stove (OgKind kind)
{
  return kind == OG_KIND_WAX || kind == OG_KIND_BUTTER || kind == OG_KIND_WAX_ESTER
         || kind == OG_KIND_ALCOHOL || kind == OG_KIND_ESTER || kind == OG_KIND_HYDROCARBON
         || kind == OG_KIND_GELLING_AGENT;
}

double
og_heat_of_fusion (const OgIngredient *ingredient,
                   double             *melts_c)
{
  const OgFigure *melting;

  g_return_val_if_fail (melts_c != NULL, NAN);

  *melts_c = NAN;
  if (ingredient == NULL || !melts_at_stove (ingredient->kind))
    return 0.0;
  melting = &ingredient->figures[OG_FIGURE_MELTING_C];
  if (!og_figure_is_known (melting))
    return ingredient->kind == OG_KIND_WAX || ingredient->kind == OG_KIND_BUTTER ? NAN : 0.0;
  if (melting->value <= OG_TEMPERATURE_ROOM_C + MELT_MARGIN_C)
    return 0.0;
  *melts_c = melting->value;
  return ingredient->gelling.melting_enthalpy_j_g.value;
}

/* --- bodies -------------------------------------------------------------- */

void
og_heat_body_init (OgHeatBody *body)
{
  g_return_if_fail (body != NULL);

  *body = (OgHeatBody) { 0 };
}

void
og_heat_body_clear (OgHeatBody *body)
{
  g_return_if_fail (body != NULL);

  g_clear_pointer (&body->melts, g_array_unref);
}

void
og_heat_body_add (OgHeatBody           *body,
                  const OgHeatCapacity *capacity,
                  double                g)
{
  g_return_if_fail (body != NULL && capacity != NULL && g >= 0.0);

  body->g += g;
  body->c0_j_k += g * og_heat_capacity_at (capacity, 0.0);
  body->c1_j_k2 += g * capacity->slope_1_k;
}

void
og_heat_body_add_melt (OgHeatBody *body,
                       double      melts_c,
                       double      heat_j)
{
  const Melt melt = { melts_c, heat_j };
  guint at = 0;

  g_return_if_fail (body != NULL && isfinite (melts_c) && heat_j > 0.0);

  if (body->melts == NULL)
    body->melts = g_array_new (FALSE, FALSE, sizeof (Melt));
  while (at < body->melts->len && g_array_index (body->melts, Melt, at).melts_c <= melts_c)
    at++;
  g_array_insert_val (body->melts, at, melt);
}

void
og_heat_body_join (OgHeatBody       *body,
                   const OgHeatBody *other)
{
  g_return_if_fail (body != NULL && other != NULL && body != other);

  body->g += other->g;
  body->c0_j_k += other->c0_j_k;
  body->c1_j_k2 += other->c1_j_k2;
  for (guint i = 0; other->melts != NULL && i < other->melts->len; i++)
    {
      const Melt *melt = &g_array_index (other->melts, Melt, i);

      og_heat_body_add_melt (body, melt->melts_c, melt->heat_j);
    }
}

double
og_heat_body_capacity (const OgHeatBody *body,
                       double            temperature_c)
{
  g_return_val_if_fail (body != NULL, NAN);

  return body->c0_j_k + body->c1_j_k2 * temperature_c;
}

/* Heat since 0 C without melting. */
static double
sensible (const OgHeatBody *body,
          double            temperature_c)
{
  return (body->c0_j_k + body->c1_j_k2 / 2.0 * temperature_c) * temperature_c;
}

/* Heat since everything was solid at 0 C. */
static double
content (const OgHeatBody *body,
         double            temperature_c)
{
  double heat_j = sensible (body, temperature_c);

  for (guint i = 0; body->melts != NULL && i < body->melts->len; i++)
    {
      const Melt *melt = &g_array_index (body->melts, Melt, i);

      if (temperature_c > melt->melts_c)
        heat_j += melt->heat_j;
    }
  return heat_j;
}

double
og_heat_body_heat (const OgHeatBody *body,
                   double            from_c,
                   double            to_c)
{
  g_return_val_if_fail (body != NULL, NAN);

  return content (body, to_c) - content (body, from_c);
}

/* The root of c1/2 T^2 + c0 T = heat that lies on the branch of positive heat capacity; NAN for
 * less heat than there is. */
static double
sensible_temperature (const OgHeatBody *body,
                      double            heat_j)
{
  double root = body->c0_j_k * body->c0_j_k + 2.0 * body->c1_j_k2 * heat_j;

  return 2.0 * heat_j / (body->c0_j_k + sqrt (root));
}

/* Reverse of content(); within melting, the melting temperature. */
static double
temperature_of (const OgHeatBody *body,
                double            heat_j)
{
  double temperature_c = sensible_temperature (body, heat_j);

  for (guint i = 0; body->melts != NULL && i < body->melts->len; i++)
    {
      const Melt *melt = &g_array_index (body->melts, Melt, i);

      if (temperature_c <= melt->melts_c)
        break;
      heat_j -= melt->heat_j;
      temperature_c = sensible_temperature (body, heat_j);
      if (temperature_c < melt->melts_c)
        return melt->melts_c;
    }
  return temperature_c;
}

double
og_heat_mix (const OgHeatBody *pot,
             double            pot_c,
             const OgHeatBody *added,
             double            added_c)
{
  g_auto (OgHeatBody) both = { 0 };

  g_return_val_if_fail (pot != NULL && added != NULL, NAN);

  if (isnan (pot_c) || isnan (added_c))
    return NAN;
  og_heat_body_join (&both, pot);
  og_heat_body_join (&both, added);
  return temperature_of (&both, content (pot, pot_c) + content (added, added_c));
}

double
og_heat_warm_first (const OgHeatBody *pot,
                    double            pot_c,
                    const OgHeatBody *added,
                    double            target_c)
{
  g_return_val_if_fail (pot != NULL && added != NULL, NAN);

  if (isnan (pot_c) || isnan (target_c) || !(added->c0_j_k > 0.0))
    return NAN;
  return temperature_of (added, content (added, target_c)
                                - og_heat_body_heat (pot, target_c, pot_c));
}
