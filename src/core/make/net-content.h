/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/error.h"
#include "core/base/saying.h"
#include "core/material/product.h"

G_BEGIN_DECLS

/** OgNetLimits: Directive 76/211/EEC, Annex I 2.4, in the unit of the nominal quantity. NAN
 * throughout below 5 and above 10 000, where it sets none. */
typedef struct
{
  double error; /* tolerable negative error; percentages rounded up to the next 0.1 */
  double t1;    /* nominal less the error: few may hold less */
  double t2;    /* nominal less twice the error: none may hold less */
} OgNetLimits;

/** @nominal: g or ml */
void            og_net_limits_init   (OgNetLimits     *limits,
                                      double           nominal);

typedef enum
{
  OG_NET_RULE_NONE,  /* no rule of the Directive for this quantity */
  OG_NET_RULE_PASS,
  OG_NET_RULE_FAIL
} OgNetVerdict;

/** OgNetCheck: what filled containers hold. Quantities are in the unit of the package. */
typedef struct
{
  guint        n;
  double       nominal;
  OgNetUnit    unit;
  OgNetLimits  limits;
  double       mean, sd;     /* sd NAN for a single one */
  double       least, most;
  guint        n_below_t1;
  guint        n_below_t2;
  guint        n_below_nominal;
  gboolean     mean_passes;  /* mean not below the nominal quantity */
  gboolean     few_passes;   /* at most one in forty below T1 */
  gboolean     none_passes;  /* none below T2 */
  OgNetVerdict packer;       /* the three together */
  double       sample_mean_needed; /* Annex II 2.3: mean that a sample of this size needs, nominal -
                                      t(0.995) sd/sqrt (n); NAN unless n is 20, 30 or 50 */
  OgNetVerdict sample;       /* mean of the sample by that; NONE for other sizes */
  gboolean     every_full;   /* each holds the nominal at least: the minimum system */
  OgSaying    *text;         /* which rule it is, and that local law decides */
} OgNetCheck;

/**
 * og_net_check:
 * @gross_g: (array length=n): weights of filled containers, each above @tare_g
 * @tare_g: of an empty container with its closure, 0 or more
 * @density_20_g_ml: only used if the package is in ml
 *
 * Rules for packers of Annex I of Directive 76/211/EEC; that "few" means at most 2.5 % is common
 * practice, recalled. Volume is meant at 20 C.
 *
 * Returns: (transfer full): %NULL with %OG_BATCH_ERROR_PACKAGE, %OG_BATCH_ERROR_WEIGHT or
 * %OG_BATCH_ERROR_DENSITY
 */
OgNetCheck     *og_net_check         (const OgPackage *package,
                                      const double    *gross_g,
                                      guint            n,
                                      double           tare_g,
                                      double           density_20_g_ml,
                                      GError         **error);
/** Frees @check with all it holds. */
void            og_net_check_free    (OgNetCheck      *check);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (OgNetCheck, og_net_check_free)

G_END_DECLS
