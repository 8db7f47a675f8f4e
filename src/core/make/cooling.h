/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/make/heat-capacity.h"
#include "core/predict/evaluate.h"

G_BEGIN_DECLS

typedef enum
{
  OG_VESSEL_GLASS, /* laboratory beaker */
  OG_VESSEL_STEEL, /* pot of stainless steel */
  OG_N_VESSELS
} OgVesselKind;

/** OgVessel: what the recipe is cooked in: an upright cylinder, open at the top. */
typedef struct
{
  OgVesselKind kind;
  double       size_ml;     /* to the brim */
  double       diameter_mm; /* inside */
  double       mass_g;      /* empty */
} OgVessel;

const char  *og_vessel_kind_to_nick   (OgVesselKind     kind); /* "glass" */
const char  *og_vessel_kind_get_name  (OgVesselKind     kind); /* translated */
OgWord       og_vessel_kind_word      (OgVesselKind     kind); /* the name as a value of a saying */
/** Returns: %FALSE if nothing is called @nick; the value is left alone then */
gboolean     og_vessel_kind_from_nick (const char      *nick,
                                       OgVesselKind    *kind);
/**
 * og_vessel_init:
 * @size_ml: above 0
 *
 * Usual shape: as high as 1.3 times its width (beaker) or as wide as high (pot); walls of 2.4 mm
 * glass or 0.8 mm steel. Judgement.
 */
void         og_vessel_init           (OgVessel        *vessel,
                                       OgVesselKind     kind,
                                       double           size_ml);
/** Smallest usual size that @content_ml fills to three quarters at most, ml. */
double       og_vessel_usual_size     (double           content_ml);
/** Heat capacity of the vessel: glass 0.84, stainless steel 0.50 kJ/(kg K), handbook values
 * recalled. */
void         og_vessel_heat_capacity  (const OgVessel  *vessel,
                                       OgHeatCapacity  *capacity);
/** Mass of bottom and wall up to the filling, which are as warm as the content, g. */
double       og_vessel_wet_g          (const OgVessel  *vessel,
                                       double           content_ml);
/** Surface that loses heat, cm2: wall up to the filling, the open top and half of the bottom, which
 * stands on something. */
double       og_vessel_surface_cm2    (const OgVessel  *vessel,
                                       double           content_ml);

/** OgCooling: how readily a vessel gives off heat, W/(m2 K) with an 80 % range. */
typedef struct
{
  OgEstimate transfer_w_m2_k;
  gboolean   calibrated;      /* from a reading, not from a usual value */
} OgCooling;

/**
 * og_cooling_init:
 *
 * Free convection and radiation to a still room: 11 (7 to 16) for glass, 8 (5 to 13) for steel, of
 * which a pot that is not stirred loses three quarters. Judgement.
 */
void         og_cooling_init          (OgCooling        *cooling,
                                       OgVesselKind      kind,
                                       gboolean          stirred);
/**
 * og_cooling_calibrate:
 * @content: what was in @vessel, without the vessel
 * @content_ml: its volume
 *
 * From one reading: @from_c fell to @to_c in @minutes in a room of @room_c. Each temperature is
 * taken to be known to 1 K (80 %).
 *
 * Returns: %FALSE, leaving @cooling alone, unless from > to > room, by a kelvin each, and time
 * passed
 */
gboolean     og_cooling_calibrate     (OgCooling        *cooling,
                                       const OgVessel   *vessel,
                                       const OgHeatBody *content,
                                       double            content_ml,
                                       double            from_c,
                                       double            to_c,
                                       double            minutes,
                                       double            room_c);
/**
 * og_cooling_rate:
 *
 * Constant k of Newton's law dT/dt = -k (T - room) for @content in @vessel, 1/min: surface times
 * transfer over the heat capacity of both at @mean_c. low80 is the slow end, high80 the fast one.
 */
OgEstimate   og_cooling_rate          (const OgCooling  *cooling,
                                       const OgVessel   *vessel,
                                       const OgHeatBody *content,
                                       double            content_ml,
                                       double            mean_c);
/** Minutes from @from_c to @to_c: ln ((from - room)/(to - room))/k; INFINITY if @to_c is not above
 * the room, 0 if it is reached already. */
double       og_cooling_minutes       (double            k_1_min,
                                       double            from_c,
                                       double            to_c,
                                       double            room_c);
/** Temperature after @minutes. */
double       og_cooling_temperature   (double            k_1_min,
                                       double            from_c,
                                       double            minutes,
                                       double            room_c);

G_END_DECLS
