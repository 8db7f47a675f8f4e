/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "core/base/finding.h"
#include "core/material/catalog.h"
#include "core/material/product.h"
#include "core/recipe/formula.h"

G_BEGIN_DECLS

/**
 * OgDailyAmount: how much of a product adults put on in a day.
 *
 * SCCS Notes of Guidance, 12th revision (SCCS/1647/22), Table 3A. Lip and body oils have no line of
 * their own: lip salve and body lotion stand for them (choice of this project). The amount for a
 * kilogram of body weight is the survey's own 90th percentile, not @g_day over a body weight.
 */
typedef struct
{
  double g_day;
  double mg_kg_day;     /* stays on, mg for a kilogram of body weight a day */
  double swallowed_pct; /* share that is swallowed: lips all of it (recalled, conservative practice) */
} OgDailyAmount;

/** Share of a substance that skin lets through where nothing is known, % (recalled, Notes of
 * Guidance). */
#define OG_SKIN_ABSORPTION_PCT 50.0
/** Share of a swallowed dose that reaches the body where nothing is known, % (recalled, Notes of
 * Guidance). */
#define OG_ORAL_BIOAVAILABILITY_PCT 50.0
/** Margin from which on an assessor usually has no concern (recalled, Notes of Guidance). */
#define OG_USUAL_MARGIN 100.0

/** OgReferencePoint: what the reader knows of a substance. */
typedef struct
{
  double noael_mg_kg_day;     /* NAN: not said; it is never guessed */
  double absorption_pct;      /* through the skin, 0 ... 100 */
  double bioavailability_pct; /* of the swallowed dose of the study, above 0 ... 100 */
} OgReferencePoint;

/** OgExposure: dose from one site, and the margin below the reference value; NAN where unknown. */
typedef struct
{
  double dose_mg_kg_day;      /* systemic exposure dosage */
  double high_dose_mg_kg_day; /* with constituents at the upper end of their ranges */
  double margin;
  double low_margin;          /* at the high dose */
} OgExposure;

/** OgSubstanceAmount: how much of one substance a recipe holds. */
typedef struct
{
  char    *name;
  double   pct;
  double   high_pct;
  gboolean complete; /* FALSE: a scent of unknown composition may bring more */
} OgSubstanceAmount;

/** @site: one of both. Returns: (transfer none) */
const OgDailyAmount *og_daily_amount_get      (OgSite                   site);
/** Returns: translated name of the line of the table that stands for @site */
const char          *og_daily_amount_get_name (OgSite                   site);
/** Returns: (transfer full): where the amounts used a day are from */
OgSaying            *og_daily_amount_source   (void);

/** Makes @point unknown, with the default absorption through skin and gut in per cent. */
void                 og_reference_point_init  (OgReferencePoint        *point);

/**
 * og_exposure_compute:
 * @sites: one or both flags of #OgSite; doses of both add up
 * @pct: wt % of the substance in the product; @high_pct: at most
 *
 * SED = E x C / 100 x DA / 100, MoS = POD x bioavailability / SED (SCCS Notes of Guidance:
 * recalled). What is swallowed counts as absorbed whole.
 */
void                 og_exposure_compute      (guint                    sites,
                                               double                   pct,
                                               double                   high_pct,
                                               const OgReferencePoint  *point,
                                               OgExposure              *exposure);

/** Returns: (transfer full) (nullable): the caution "exposure-margin" if the margin of @name at the high dose is known
 * and below %OG_USUAL_MARGIN */
OgFinding           *og_exposure_find_margin  (const OgExposure        *exposure,
                                               const char              *name);

/**
 * og_substance_find:
 * @text: id, name, INCI name or CAS number of a material, or name or CAS number of a constituent
 *
 * What the recipe holds of it, in mixtures and in the constituents of essential oils and flavours.
 *
 * Returns: %FALSE with %OG_RECIPE_ERROR_NOT_IN_RECIPE
 */
gboolean             og_substance_find        (const OgFormula         *formula,
                                               const OgCatalog         *catalog,
                                               const char              *text,
                                               OgSubstanceAmount       *amount,
                                               GError                 **error);
/** Frees what @amount holds, not @amount itself. */
void                 og_substance_amount_clear (OgSubstanceAmount      *amount);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (OgSubstanceAmount, og_substance_amount_clear)

G_END_DECLS
