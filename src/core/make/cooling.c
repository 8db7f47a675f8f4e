/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/make/cooling.h"

#include <glib/gi18n-lib.h>

#include "core/base/nick.h"
#include "core/base/statistics.h"

#define READING_K 1.0                /* half of the 80 % band of a thermometer reading */
#define STILL_SHARE 0.75 /* of the heat that a stirred pot loses, unstirred; judgement */
/* Of the heat a bare surface loses, through the bottom on its stand; judgement. */
#define BOTTOM_SHARE 0.5
#define FULLEST 0.75 /* of a vessel that is chosen by itself, to leave room to stir; judgement */
#define MM_PER_CM 10.0 /* exact */
#define SECONDS_PER_MINUTE 60.0 /* exact */
#define CM2_PER_M2 1e4 /* exact */

/* Walls: judgement; densities and heat capacities: handbooks, recalled. */
static const struct
{
  OgNick     word;
  double     height_per_width;
  double     wall_mm;
  double     density_g_ml;
  double     kj_kg_k;
  double     slope_1_k;
  OgEstimate transfer_w_m2_k;
} kinds[OG_N_VESSELS] = {
  [OG_VESSEL_GLASS] = { { "glass", N_("Glass beaker") }, 1.3, 2.4, 2.23, 0.84, 0.001,
                        { 11, 7, 16 } },
  [OG_VESSEL_STEEL] = { { "steel", N_("Steel pot") }, 1.0, 0.8, 7.9, 0.50, 0.0002,
                        { 8, 5, 13 } },
};
OG_DEFINE_NICKS (OgVesselKind, og_vessel_kind, kinds)
OG_DEFINE_NAMES (OgVesselKind, og_vessel_kind, kinds)
OG_DEFINE_WORDS (OgVesselKind, og_vessel_kind, kinds)

static const double usual_sizes_ml[]
    = { 25, 50, 100, 150, 250, 400, 600, 800, 1000, 2000, 3000, 5000, 10000 };

static double
bottom_cm2 (const OgVessel *vessel)
{
  double radius_cm = vessel->diameter_mm / 2.0 / MM_PER_CM;

  return G_PI * radius_cm * radius_cm;
}

static double
wall_cm2 (const OgVessel *vessel,
          double          content_ml)
{
  double height_cm = content_ml / bottom_cm2 (vessel);

  return G_PI * vessel->diameter_mm / MM_PER_CM * height_cm;
}

void
og_vessel_init (OgVessel     *vessel,
                OgVesselKind  kind,
                double        size_ml)
{
  double width_cm;

  g_return_if_fail (vessel != NULL && kind < OG_N_VESSELS && size_ml > 0.0);

  width_cm = cbrt (4.0 * size_ml / (G_PI * kinds[kind].height_per_width));
  vessel->kind = kind;
  vessel->size_ml = size_ml;
  vessel->diameter_mm = width_cm * MM_PER_CM;
  vessel->mass_g = og_vessel_wet_g (vessel, size_ml);
}

double
og_vessel_wet_g (const OgVessel *vessel,
                 double          content_ml)
{
  g_return_val_if_fail (vessel != NULL && content_ml >= 0.0, NAN);

  return (bottom_cm2 (vessel) + wall_cm2 (vessel, fmin (content_ml, vessel->size_ml)))
         * kinds[vessel->kind].wall_mm / MM_PER_CM * kinds[vessel->kind].density_g_ml;
}

double
og_vessel_usual_size (double content_ml)
{
  g_return_val_if_fail (content_ml >= 0.0, NAN);

  for (guint i = 0; i < G_N_ELEMENTS (usual_sizes_ml); i++)
    if (content_ml <= FULLEST * usual_sizes_ml[i])
      return usual_sizes_ml[i];
  return content_ml / FULLEST;
}

void
og_vessel_heat_capacity (const OgVessel *vessel,
                         OgHeatCapacity *capacity)
{
  g_return_if_fail (vessel != NULL && capacity != NULL);

  *capacity = (OgHeatCapacity) { kinds[vessel->kind].kj_kg_k, kinds[vessel->kind].slope_1_k,
                                 OG_QUALITY_RECALLED, FALSE };
}

double
og_vessel_surface_cm2 (const OgVessel *vessel,
                       double          content_ml)
{
  g_return_val_if_fail (vessel != NULL && content_ml >= 0.0, NAN);

  return wall_cm2 (vessel, content_ml) + (1.0 + BOTTOM_SHARE) * bottom_cm2 (vessel);
}

void
og_cooling_init (OgCooling    *cooling,
                 OgVesselKind  kind,
                 gboolean      stirred)
{
  double share = stirred ? 1.0 : STILL_SHARE;
  const OgEstimate *usual;

  g_return_if_fail (cooling != NULL && kind < OG_N_VESSELS);

  usual = &kinds[kind].transfer_w_m2_k;
  cooling->calibrated = FALSE;
  cooling->transfer_w_m2_k
      = (OgEstimate) { share * usual->value, share * usual->low80, share * usual->high80 };
}

/* J/K of vessel and content. */
static double
capacity_of_both (const OgVessel   *vessel,
                  const OgHeatBody *content,
                  double            content_ml,
                  double            mean_c)
{
  OgHeatCapacity wall;

  og_vessel_heat_capacity (vessel, &wall);
  return og_heat_body_capacity (content, mean_c)
         + og_vessel_wet_g (vessel, content_ml) * og_heat_capacity_at (&wall, mean_c);
}

/* W/(m2 K) for each 1/min of the cooling constant. */
static double
transfer_per_rate (const OgVessel   *vessel,
                   const OgHeatBody *content,
                   double            content_ml,
                   double            mean_c)
{
  return capacity_of_both (vessel, content, content_ml, mean_c)
         / (SECONDS_PER_MINUTE * og_vessel_surface_cm2 (vessel, content_ml) / CM2_PER_M2);
}

gboolean
og_cooling_calibrate (OgCooling        *cooling,
                      const OgVessel   *vessel,
                      const OgHeatBody *content,
                      double            content_ml,
                      double            from_c,
                      double            to_c,
                      double            minutes,
                      double            room_c)
{
  double drop, sd, transfer;

  g_return_val_if_fail (cooling != NULL && vessel != NULL && content != NULL, FALSE);

  if (!(from_c - to_c >= 1.0 && to_c - room_c >= 1.0 && minutes > 0.0 && isfinite (from_c)
        && isfinite (minutes)))
    return FALSE;
  drop = log ((from_c - room_c) / (to_c - room_c));
  sd = READING_K / OG_HALF_BAND_SD * hypot (1.0 / (from_c - room_c), 1.0 / (to_c - room_c)) / drop;
  transfer
      = drop / minutes * transfer_per_rate (vessel, content, content_ml, (from_c + to_c) / 2.0);
  cooling->calibrated = TRUE;
  cooling->transfer_w_m2_k = (OgEstimate) { transfer, transfer * exp (-OG_HALF_BAND_SD * sd),
                                            transfer * exp (OG_HALF_BAND_SD * sd) };
  return TRUE;
}

OgEstimate
og_cooling_rate (const OgCooling  *cooling,
                 const OgVessel   *vessel,
                 const OgHeatBody *content,
                 double            content_ml,
                 double            mean_c)
{
  const OgEstimate unknown = { NAN, NAN, NAN };
  double per_rate;

  g_return_val_if_fail (cooling != NULL && vessel != NULL && content != NULL, unknown);

  per_rate = transfer_per_rate (vessel, content, content_ml, mean_c);
  return (OgEstimate) { cooling->transfer_w_m2_k.value / per_rate,
                        cooling->transfer_w_m2_k.low80 / per_rate,
                        cooling->transfer_w_m2_k.high80 / per_rate };
}

double
og_cooling_minutes (double k_1_min,
                    double from_c,
                    double to_c,
                    double room_c)
{
  if (isnan (k_1_min) || isnan (from_c) || isnan (to_c) || isnan (room_c))
    return NAN;
  if (to_c >= from_c)
    return 0.0;
  if (to_c <= room_c)
    return INFINITY;
  return log ((from_c - room_c) / (to_c - room_c)) / k_1_min;
}

double
og_cooling_temperature (double k_1_min,
                        double from_c,
                        double minutes,
                        double room_c)
{
  return room_c + (from_c - room_c) * exp (-k_1_min * minutes);
}
