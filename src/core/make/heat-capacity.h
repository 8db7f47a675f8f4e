/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/material/catalog.h"

G_BEGIN_DECLS

/** OgHeatCapacity: specific heat as a straight line in the temperature. */
typedef struct
{
  double    at_25_c;   /* kJ/(kg K) */
  double    slope_1_k; /* kJ/(kg K) for each kelvin */
  OgQuality quality;
  gboolean  by_kind;   /* no figure of its own: the usual one of its kind */
} OgHeatCapacity;

/**
 * og_heat_capacity_init:
 * @ingredient: (nullable): %NULL for a material that the catalog does not know
 * @catalog: where the parts of a mixture are looked up
 *
 * The figure of the material, else that of its parts by mass, else of its kind: triglycerides
 * 1.981 + 0.00147 T (Choi & Okos 1986 for fat, recalled, the quadratic term left out),
 * hydrocarbons (1.685 + 0.0034 T)/sqrt (d) (Cragoe 1929, NBS Misc. Publ. 97, recalled), all others
 * judgement.
 */
void     og_heat_capacity_init     (OgHeatCapacity       *capacity,
                                    const OgIngredient   *ingredient,
                                    const OgCatalog      *catalog);
/** kJ/(kg K) at @temperature_c */
double   og_heat_capacity_at       (const OgHeatCapacity *capacity,
                                    double                temperature_c);

/**
 * OgHeatBody:
 *
 * Something that takes up heat: masses at one temperature, and what melts in them. Temperatures are
 * in C, heats in J.
 */
typedef struct
{
  double  g;
  double  c0_j_k;  /* heat capacity at 0 C */
  double  c1_j_k2; /* its rise for each kelvin */
  GArray *melts;   /* nullable: of what melts, by temperature */
} OgHeatBody;

/** Makes @body an empty one: nothing in it, no heat. */
void     og_heat_body_init         (OgHeatBody           *body);
/** Frees what @body holds, not @body itself. */
void     og_heat_body_clear        (OgHeatBody           *body);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgHeatBody, og_heat_body_clear)
/** Adds @g grams of @capacity. */
void     og_heat_body_add          (OgHeatBody           *body,
                                    const OgHeatCapacity *capacity,
                                    double                g);
/** Something in @body takes up @heat_j, more than 0, on melting at @melts_c and gives it back on
 * setting there. */
void     og_heat_body_add_melt     (OgHeatBody           *body,
                                    double                melts_c,
                                    double                heat_j);
/** Adds all of @other. */
void     og_heat_body_join         (OgHeatBody           *body,
                                    const OgHeatBody     *other);
/** J/K at @temperature_c, without melting */
double   og_heat_body_capacity     (const OgHeatBody     *body,
                                    double                temperature_c);
/** Heat in J that takes @body from @from_c to @to_c, melting included; negative on cooling. */
double   og_heat_body_heat         (const OgHeatBody     *body,
                                    double                from_c,
                                    double                to_c);
/**
 * og_heat_mix:
 *
 * Temperature at which @pot at @pot_c and @added at @added_c meet without loss. Where the heat ends
 * in the middle of melting, it is the melting temperature.
 */
double   og_heat_mix               (const OgHeatBody     *pot,
                                    double                pot_c,
                                    const OgHeatBody     *added,
                                    double                added_c);
/**
 * og_heat_warm_first:
 *
 * Temperature that @added must have so that both meet at @target_c; the reverse of og_heat_mix().
 * Returns: NAN if no temperature would do, or @added has no heat capacity
 */
double   og_heat_warm_first        (const OgHeatBody     *pot,
                                    double                pot_c,
                                    const OgHeatBody     *added,
                                    double                target_c);
/**
 * og_heat_of_fusion:
 * @melts_c: (out): melting point, C
 *
 * Returns: J/g; NAN if the material melts above room temperature but its heat of fusion is not
 * known; 0, leaving @melts_c NAN, for what is liquid or stays solid
 */
double   og_heat_of_fusion         (const OgIngredient   *ingredient,
                                    double               *melts_c);

G_END_DECLS
