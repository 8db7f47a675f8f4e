/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/label/exposure.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/error.h"
#include "core/base/nick.h"

static const struct
{
  OgNick        word;
  OgDailyAmount amount;
} daily_amounts[] = {
  { { NULL, N_("as lip salve") }, { 0.057, 0.90, 100.0 } },
  { { NULL, N_("as body lotion") }, { 7.82, 123.20, 0.0 } },
};

static int
daily_index (OgSite site)
{
  return site == OG_SITE_LIPS ? 0 : 1;
}

const OgDailyAmount *
og_daily_amount_get (OgSite site)
{
  return &daily_amounts[daily_index (site)].amount;
}

const char *
og_daily_amount_get_name (OgSite site)
{
  return og_nick_get_name (OG_NICK_TABLE (daily_amounts), daily_index (site));
}

OgSaying *
og_daily_amount_source (void)
{
  return og_saying_plain (
      N_ ("SCCS Notes of Guidance, 12th revision (SCCS/1647/22), Table 3A, read in a summary; formulas recalled"));
}

void
og_reference_point_init (OgReferencePoint *point)
{
  g_return_if_fail (point != NULL);

  *point = (OgReferencePoint) { NAN, OG_SKIN_ABSORPTION_PCT, OG_ORAL_BIOAVAILABILITY_PCT };
}

/* mg of the substance that reach the body, for a kilogram a day */
static double
dose_from (OgSite                  site,
           double                  pct,
           const OgReferencePoint *point)
{
  const OgDailyAmount *daily = og_daily_amount_get (site);
  double swallowed = daily->swallowed_pct / 100.0;
  double absorbed = swallowed + (1.0 - swallowed) * point->absorption_pct / 100.0;

  return daily->mg_kg_day * pct / 100.0 * absorbed;
}

static double
dose_of (guint                   sites,
         double                  pct,
         const OgReferencePoint *point)
{
  double dose = 0.0;

  if ((sites & OG_SITE_LIPS) != 0)
    dose += dose_from (OG_SITE_LIPS, pct, point);
  if ((sites & OG_SITE_SKIN) != 0)
    dose += dose_from (OG_SITE_SKIN, pct, point);
  return dose;
}

void
og_exposure_compute (guint                   sites,
                     double                  pct,
                     double                  high_pct,
                     const OgReferencePoint *point,
                     OgExposure             *exposure)
{
  double departure;

  g_return_if_fail (point != NULL && exposure != NULL);

  departure = point->noael_mg_kg_day * point->bioavailability_pct / 100.0;
  exposure->dose_mg_kg_day = dose_of (sites, pct, point);
  exposure->high_dose_mg_kg_day = dose_of (sites, high_pct, point);
  exposure->margin = exposure->dose_mg_kg_day > 0.0 ? departure / exposure->dose_mg_kg_day : NAN;
  exposure->low_margin
      = exposure->high_dose_mg_kg_day > 0.0 ? departure / exposure->high_dose_mg_kg_day : NAN;
}

typedef struct
{
  const OgCatalog    *catalog;
  const OgIngredient *material; /* nullable: the one that the text names */
  const char         *folded;
  const char         *cas;      /* nullable */
  OgSubstanceAmount  *amount;
} Search;

static gboolean
is_called (const Search *search,
           const char   *text)
{
  g_autofree char *folded = text != NULL ? og_search_fold (text) : NULL;

  return folded != NULL && g_str_equal (folded, search->folded);
}

static gboolean
is_meant (const Search *search,
          const char   *name,
          const char   *cas)
{
  if (cas != NULL && search->cas != NULL && g_str_equal (cas, search->cas))
    return TRUE;
  return is_called (search, name) || is_called (search, cas);
}

static void
count_content (Search             *search,
               const OgIngredient *ingredient,
               double              pct)
{
  OgSubstanceAmount *amount = search->amount;

  if (ingredient == search->material || is_meant (search, ingredient->inci, ingredient->cas)
      || is_called (search, ingredient->name) || is_called (search, ingredient->id))
    {
      amount->pct += pct;
      amount->high_pct += pct;
      if (amount->name == NULL)
        amount->name = g_strdup (ingredient->name);
      return;
    }
  for (guint i = 0; i < ingredient->constituents->len; i++)
    {
      const OgConstituent *constituent = &g_array_index (ingredient->constituents, OgConstituent, i);
      double high = isfinite (constituent->pct.high) ? constituent->pct.high
                                                     : constituent->pct.value;

      if (!is_meant (search, constituent->name, constituent->cas))
        continue;
      amount->pct += pct * constituent->pct.value / 100.0;
      amount->high_pct += pct * high / 100.0;
      if (amount->name == NULL)
        amount->name = g_strdup (constituent->name);
    }
  if (!ingredient->constituents_known
      && (ingredient->kind == OG_KIND_FLAVOUR || ingredient->kind == OG_KIND_ESSENTIAL_OIL
          || og_ingredient_has_tag (ingredient, "fragrance")))
    amount->complete = FALSE;
}

OgFinding *
og_exposure_find_margin (const OgExposure *exposure,
                         const char       *name)
{
  g_return_val_if_fail (exposure != NULL && name != NULL, NULL);

  if (!(exposure->low_margin < OG_USUAL_MARGIN))
    return NULL;
  return og_finding_new (OG_SEVERITY_CAUTION, "exposure-margin",
                         /* Translators: substance, its margin of safety, and the usual one */
                         og_saying_new (N_("%s: the margin of safety is %s, below the %s from which on an assessor "
                                           "usually has no concern. A qualified assessor decides."),
                                        og_word_text (name), og_word_significant (exposure->low_margin, 3),
                                        og_word_fixed (OG_USUAL_MARGIN, 0)),
                         og_daily_amount_source ());
}

gboolean
og_substance_find (const OgFormula    *formula,
                   const OgCatalog    *catalog,
                   const char         *text,
                   OgSubstanceAmount  *amount,
                   GError            **error)
{
  g_autoptr (GPtrArray) contents = NULL;
  g_autofree char *folded = NULL;
  g_autofree char *stripped = NULL;
  Search search = { .catalog = catalog, .amount = amount };

  g_return_val_if_fail (formula != NULL && catalog != NULL && text != NULL && amount != NULL, FALSE);

  *amount = (OgSubstanceAmount) { NULL, 0.0, 0.0, TRUE };
  stripped = g_strstrip (g_strdup (text));
  search.folded = folded = og_search_fold (stripped);
  search.material = og_catalog_resolve (catalog, stripped, NULL);
  search.cas = search.material != NULL ? search.material->cas : NULL;
  contents = og_formula_contents (formula, catalog);
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient != NULL && content->fraction > 0.0)
        count_content (&search, content->ingredient, 100.0 * content->fraction);
    }
  if (amount->name != NULL)
    return TRUE;
  g_set_error (error, OG_RECIPE_ERROR, OG_RECIPE_ERROR_NOT_IN_RECIPE,
               _("the recipe holds no “%s”, as far as its materials say"), stripped);
  return FALSE;
}

void
og_substance_amount_clear (OgSubstanceAmount *amount)
{
  g_clear_pointer (&amount->name, g_free);
}
