/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "core/predict/keeping.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "core/base/arrhenius.h"
#include "core/base/conditions.h"
#include "core/base/finding.h"
#include "core/base/nick.h"

/* What a polyunsaturated sunflower oil is commonly said to keep, and the COX value of the one that
 * AOCS Cd 1c-85 works through. Common practice, no published source. */
#define REFERENCE_COX 7.76
#define REFERENCE_LOW_MONTHS 6.0
#define REFERENCE_HIGH_MONTHS 12.0
/* Other blends by the root of COX: judgement. By COX itself olive oil would keep five years. */
#define COX_EXPONENT 0.5
#define LEAST_COX 0.3              /* below it something else than oxidation ends the life */
#define MOST_LOW_MONTHS 24.0       /* nothing longer is promised without a test: judgement */
#define MOST_HIGH_MONTHS 36.0
#define GUARD_GAIN 1.5             /* of an antioxidant, on the upper end: judgement */
#define UNKNOWN_COX 10.3           /* what is not known could be linoleic throughout */
#define MOST_UNKNOWN 0.1
#define TRIOLEIN_IODINE 86.0       /* g I2/100 g: oleic chains, COX 1 */
#define WEAK_COX 1.5               /* above it an antioxidant is usual: judgement */
#define NOTICEABLE_SHARE 0.3
#define EU_DURABILITY_MONTHS 30.0  /* Regulation (EC) 1223/2009, Article 19(1)(c) */

static const OgNick levels[OG_N_GUARD_LEVELS] = {
  [OG_GUARD_UNKNOWN] = { "unknown", N_("no common level on file") },
  [OG_GUARD_BELOW] = { "below", N_("below common practice") },
  [OG_GUARD_WITHIN] = { "within", N_("within common practice") },
  [OG_GUARD_ABOVE] = { "above", N_("above common practice") },
};
OG_DEFINE_TO_NICK (OgGuardLevel, og_guard_level, levels)
OG_DEFINE_NAMES (OgGuardLevel, og_guard_level, levels)

/* --- what oxidises --- */

/* Everything that is no oil and has no iodine value on file counts as saturated, unless its kind is
 * one whose materials often are not. */
static gboolean
is_taken_as_saturated (const OgIngredient *ingredient)
{
  switch (ingredient->kind)
    {
    case OG_KIND_WAX:
    case OG_KIND_ESTER:
    case OG_KIND_HYDROCARBON:
    case OG_KIND_SILICONE:
    case OG_KIND_ALCOHOL:
    case OG_KIND_GELLING_AGENT:
    case OG_KIND_ANTIOXIDANT:
    case OG_KIND_COLOUR:
    case OG_KIND_DISPERSION:
    case OG_KIND_PEARL:
    case OG_KIND_POWDER:
      return TRUE;

    case OG_KIND_OIL:
    case OG_KIND_BUTTER:
    case OG_KIND_WAX_ESTER:
    case OG_KIND_FLAVOUR:
    case OG_KIND_ESSENTIAL_OIL:
    case OG_KIND_VITAMIN:
    case OG_KIND_ACTIVE:
    case OG_N_KINDS:
    default:
      return FALSE;
    }
}

/* COX value of one material; NAN if it is not known. */
static double
material_cox (const OgIngredient *ingredient)
{
  double iodine;

  if (ingredient->profile != NULL && ingredient->profile->shares->len > 0)
    return og_profile_cox (ingredient->profile);
  iodine = og_ingredient_iodine_value (ingredient);
  if (isfinite (iodine))
    return iodine / TRIOLEIN_IODINE;

  return is_taken_as_saturated (ingredient) ? 0 : NAN;
}

static int
compare_parts (gconstpointer a,
               gconstpointer b)
{
  const OgKeepingPart *x = a, *y = b;

  if (x->cox != y->cox)
    return x->cox < y->cox ? 1 : -1;

  return g_strcmp0 (x->ingredient->id, y->ingredient->id);
}

static void
add_parts (OgKeeping       *self,
           const GPtrArray *contents)
{
  double whole = 0;

  self->cox = 0;
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      OgKeepingPart part = { .ingredient = content->ingredient, .pct = 100 * content->fraction };
      double cox = content->ingredient != NULL ? material_cox (content->ingredient) : NAN;

      whole += content->fraction;
      if (!isfinite (cox))
        continue;
      part.cox = content->fraction * cox;
      self->known_fraction += content->fraction;
      self->cox += part.cox;
      if (part.cox > 0)
        g_array_append_val (self->parts, part);
    }
  g_array_sort (self->parts, compare_parts);
  for (guint i = 0; i < self->parts->len; i++)
    {
      OgKeepingPart *part = &g_array_index (self->parts, OgKeepingPart, i);

      part->share = part->cox / self->cox;
    }
  self->known_fraction = whole > 0 ? self->known_fraction / whole : 0;
  if (self->known_fraction < 1 - MOST_UNKNOWN)
    self->cox = NAN;
}

/* --- antioxidants --- */

static OgGuardLevel
guard_level (const OgKeepingGuard *guard)
{
  if (guard->pct < guard->low_pct)
    return OG_GUARD_BELOW;
  if (guard->pct > guard->high_pct)
    return OG_GUARD_ABOVE;

  return isfinite (guard->low_pct) && isfinite (guard->high_pct) ? OG_GUARD_WITHIN
                                                                : OG_GUARD_UNKNOWN;
}

static void
add_guards (OgKeeping       *self,
            const GPtrArray *contents)
{
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);
      const OgIngredient *ingredient = content->ingredient;
      OgKeepingGuard guard = { .ingredient = ingredient, .pct = 100 * content->fraction };

      if (ingredient == NULL || content->fraction <= 0
          || !og_ingredient_has_role (ingredient, "antioxidant"))
        continue;
      guard.low_pct = ingredient->figures[OG_FIGURE_USUAL_LOW_PCT].value;
      guard.high_pct = ingredient->figures[OG_FIGURE_USUAL_HIGH_PCT].value;
      guard.level = guard_level (&guard);
      self->antioxidant_pct += guard.pct;
      g_array_append_val (self->guards, guard);
    }
}

static gboolean
has_guard (const OgKeeping *self,
           OgGuardLevel     level)
{
  for (guint i = 0; i < self->guards->len; i++)
    if (g_array_index (self->guards, OgKeepingGuard, i).level == level)
      return TRUE;

  return FALSE;
}

/* --- months --- */

static double
reference_months (double months,
                  double cox)
{
  return months * pow (REFERENCE_COX / MAX (cox, LEAST_COX), COX_EXPONENT);
}

static void
estimate_room (OgKeeping *self)
{
  double unknown = 1 - self->known_fraction;
  double worst = self->cox + unknown * UNKNOWN_COX;
  double gain = has_guard (self, OG_GUARD_WITHIN) ? GUARD_GAIN : 1;

  self->room = (OgKeepingSpan) { OG_TEMPERATURE_ROOM_C, 1, 1, NAN, NAN };
  if (!isfinite (self->cox))
    return;
  self->room.low_months
      = MIN (MOST_LOW_MONTHS, reference_months (REFERENCE_LOW_MONTHS, worst));
  self->room.high_months
      = MIN (MOST_HIGH_MONTHS, gain * reference_months (REFERENCE_HIGH_MONTHS, self->cox));
}

static void
add_span (OgKeeping *self,
          double     temperature_c)
{
  double weak
      = og_arrhenius_factor (OG_KEEPING_LOW_EA_KJ_MOL, OG_TEMPERATURE_ROOM_C, temperature_c);
  double strong
      = og_arrhenius_factor (OG_KEEPING_HIGH_EA_KJ_MOL, OG_TEMPERATURE_ROOM_C, temperature_c);
  OgKeepingSpan span = {
    .temperature_c = temperature_c,
    .factor_low = MIN (weak, strong),
    .factor_high = MAX (weak, strong),
  };

  if (!isfinite (self->room.low_months))
    span.low_months = span.high_months = NAN;
  else
    {
      span.low_months = MIN (MOST_LOW_MONTHS, self->room.low_months * span.factor_low);
      span.high_months = MIN (MOST_HIGH_MONTHS, self->room.high_months * span.factor_high);
    }
  g_array_append_val (self->spans, span);
}

/* Whole months from three on. */
static OgWord
months_word (double months)
{
  return og_word_fixed (months, months >= 3 ? 0 : 1);
}

OgSaying *
og_keeping_span_saying (const OgKeepingSpan *span)
{
  g_return_val_if_fail (span != NULL, NULL);

  if (!isfinite (span->low_months) || !isfinite (span->high_months))
    return og_saying_plain (N_ ("unknown"));
  /* Translators: a range of months, "6 to 12 months" */
  return og_saying_new_plural (NP_ ("%s to %s month", "%s to %s months"), (gulong) ceil (span->high_months),
                               months_word (span->low_months), months_word (span->high_months));
}

static OgSaying *
describe_basis (const OgKeeping *self)
{
  if (!isfinite (self->cox))
    return og_saying_plain (N_ ("How most of the recipe oxidises is not known, so no time can be named. "
                                "Give the fatty acids of the oils, or let a sample stand."));

  return og_saying_plain (N_ ("An estimate, not a test: set against sunflower oil, which is commonly said "
                              "to keep 6 to 12 months closed and dark, by the root of the COX value "
                              "(judgement). Other temperatures by an activation energy of 74 to 82 kJ/mol, "
                              "measured for rapeseed oil between 90 and 130 °C. Esters, waxes and "
                              "hydrocarbons without an iodine value count as saturated. Freshness of the "
                              "lots, metals, light and smell are not in it."));
}

/* --- lots --- */

static void
find_earliest_lot (OgKeeping       *self,
                   const OgFormula *formula,
                   const OgShelf   *shelf)
{
  for (guint p = 0; p < formula->phases->len; p++)
    {
      const OgFormulaPhase *phase = g_ptr_array_index (formula->phases, p);

      for (guint l = 0; l < phase->lines->len; l++)
        {
          const OgFormulaLine *line = g_ptr_array_index (phase->lines, l);
          const OgShelfItem *item = og_shelf_get (shelf, line->ingredient_id);

          if (line->amount <= 0 || item == NULL || item->best_before == 0
              || (self->best_before != 0 && item->best_before >= self->best_before))
            continue;
          self->best_before = item->best_before;
          g_free (self->best_before_id);
          self->best_before_id = g_strdup (line->ingredient_id);
        }
    }
}

static const char *
material_name (const OgResult *result,
               const char     *ingredient_id)
{
  const OgIngredient *ingredient = og_catalog_get (result->catalog, ingredient_id);

  return ingredient != NULL ? ingredient->name : ingredient_id;
}

static void
check_lots (OgKeeping      *self,
            const OgResult *result,
            gint64          now)
{
  g_autoptr (GDateTime) date = NULL;
  g_autofree char *text = NULL;
  const char *name;

  if (self->best_before == 0)
    return;
  date = g_date_time_new_from_unix_utc (self->best_before);
  if (date == NULL)
    return;
  text = g_date_time_format (date, "%Y-%m-%d");
  name = material_name (result, self->best_before_id);
  if (now != 0 && self->best_before < now)
    og_finding_list_add (self->findings, OG_SEVERITY_CAUTION, "keeping-lot-past", 0, NULL,
                         og_saying_new (N_ ("The lot of %s is past its best-before date, %s. Smell "
                                            "it and ask for a new certificate before you use it."),
                                        og_word_text (name), og_word_text (text)));
  else
    og_finding_list_add (self->findings, OG_SEVERITY_NOTE, "keeping-lot", 0, NULL,
                         og_saying_new (N_ ("The earliest best-before date of the lots is %s (%s). "
                                            "Do not promise more for the product."),
                                        og_word_text (text), og_word_text (name)));
}

static void
check_peroxides (OgKeeping              *self,
                 const OgResult         *result,
                 const OgKeepingOptions *options)
{
  for (guint i = 0; i < options->n_peroxides; i++)
    {
      const OgPeroxide *peroxide = &options->peroxides[i];
      gboolean high = peroxide->meq_kg > OG_PEROXIDE_VIRGIN_MEQ_KG;

      if (!(peroxide->meq_kg > OG_PEROXIDE_REFINED_MEQ_KG))
        continue;
      og_finding_list_add (self->findings, high ? OG_SEVERITY_CAUTION : OG_SEVERITY_NOTE, "keeping-peroxide", 0,
                           og_saying_plain (N_ ("Codex CXS 19-1981 and 210-1999, recalled")),
                           og_saying_new (high ? N_ ("The peroxide value of %s, %s meq/kg, is above 15, what even a "
                                                     "cold-pressed table oil stays within: the oil is turning.")
                                               : N_ ("The peroxide value of %s, %s meq/kg, is above 10, what a "
                                                     "refined table oil stays within."),
                                          og_word_text (material_name (result, peroxide->ingredient_id)),
                                          og_word_significant (peroxide->meq_kg, 3)));
    }
}

/* --- findings and advice --- */

static void
check_guards (OgKeeping *self)
{
  for (guint i = 0; i < self->guards->len; i++)
    {
      const OgKeepingGuard *guard = &g_array_index (self->guards, OgKeepingGuard, i);

      if (guard->level == OG_GUARD_BELOW)
        og_finding_list_add (self->findings, OG_SEVERITY_NOTE, "keeping-antioxidant-low", 0, og_common_practice_new (),
                             og_saying_new (N_ ("%s is at %s wt %%; from %s wt %% on is "
                                                "usual."),
                                            og_word_text (guard->ingredient->name), og_word_significant (guard->pct, 2),
                                            og_word_significant (guard->low_pct, 2)));
      else if (guard->level == OG_GUARD_ABOVE)
        og_finding_list_add (self->findings, OG_SEVERITY_NOTE, "keeping-antioxidant-high", 0, og_common_practice_new (),
                             og_saying_new (N_ ("%s is at %s wt %%; up to %s wt %% is usual. "
                                                "More may speed oxidation up instead of slowing "
                                                "it."),
                                            og_word_text (guard->ingredient->name), og_word_significant (guard->pct, 2),
                                            og_word_significant (guard->high_pct, 2)));
    }
  if (self->guards->len == 0 && self->cox > WEAK_COX)
    og_finding_list_add (self->findings, OG_SEVERITY_CAUTION, "keeping-no-antioxidant", 0, og_common_practice_new (),
                         og_saying_plain (N_ ("There is no antioxidant. An oil as unsaturated as this one "
                                              "usually gets one; put it in first, before the oil is "
                                              "warmed.")));
}

static void
check_weakest (OgKeeping *self)
{
  const OgKeepingPart *part;

  if (self->parts->len == 0 || !(self->cox > WEAK_COX))
    return;
  part = &g_array_index (self->parts, OgKeepingPart, 0);
  if (part->share < NOTICEABLE_SHARE)
    return;
  og_finding_list_add (self->findings, OG_SEVERITY_NOTE, "keeping-weakest", 0,
                       og_saying_plain (N_ ("COX value: Fatemi & Hammond 1980, recalled")),
                       og_saying_new (N_ ("%s oxidises first: at %s wt %% it brings %s %% of the oxidisability."),
                                      og_word_text (part->ingredient->name), og_word_significant (part->pct, 3),
                                      og_word_fixed (100 * part->share, 0)));
}

static void
check_drying (OgKeeping       *self,
              const GPtrArray *contents)
{
  for (guint i = 0; i < contents->len; i++)
    {
      const OgContent *content = g_ptr_array_index (contents, i);

      if (content->ingredient == NULL || content->fraction <= 0
          || !og_ingredient_has_tag (content->ingredient, "drying"))
        continue;
      og_finding_list_add (self->findings, OG_SEVERITY_CAUTION, "keeping-drying", 0, og_common_practice_new (),
                           og_saying_new (N_ ("%s dries in air: a film at the rim turns sticky, and cloths soaked "
                                              "with it can catch fire by themselves. Lay them flat to dry or keep "
                                              "them in a closed metal tin."),
                                          og_word_text (content->ingredient->name)));
    }
}

static void
check_claim (OgKeeping       *self,
             const OgFormula *formula)
{
  if (formula->open_months == 0 || !isfinite (self->room.low_months))
    return;
  if (formula->open_months > self->room.low_months)
    og_finding_list_add (self->findings,
                         formula->open_months > self->room.high_months ? OG_SEVERITY_CAUTION : OG_SEVERITY_NOTE,
                         "keeping-claim", 0, NULL,
                         og_saying_new_plural (NP_ ("The label claims %s month after opening; the estimate does not "
                                                    "bear that out without a test.",
                                                    "The label claims %s months after opening; the estimate does not "
                                                    "bear that out without a test."),
                                               formula->open_months, og_word_count (formula->open_months)));
  if (self->room.low_months <= EU_DURABILITY_MONTHS)
    og_finding_list_add (
        self->findings, OG_SEVERITY_NOTE, "keeping-durability", 0,
        og_saying_verbatim ("Regulation (EC) 1223/2009, Article 19(1)(c)"),
        og_saying_plain (N_ ("In the EU a period after opening alone is for products that keep for more than "
                             "30 months; others need a best-before date. Check your local rules.")));
}

static void
add_advice (OgKeeping *self)
{
  g_ptr_array_add (self->advice,
                   og_saying_plain (N_ ("Keep it cool and dark in full, closed containers; every 10 °C less "
                                        "about halves the pace of oxidation.")));
  if (self->cox > WEAK_COX)
    g_ptr_array_add (self->advice, og_saying_plain (N_ ("Use fresh oils, warm them no hotter and no longer than the "
                                                        "recipe asks, and note the date of opening on each bottle.")));
  /* ISO 29621 lets products with next to no water do without a preservative. */
  g_ptr_array_add (self->advice,
                   og_saying_plain (N_ ("There is no water in it and so no preservative: keep it dry. Dry "
                                        "the tools and containers, and tell users not to bring in water "
                                        "with wet fingers.")));
}

/* --- all of it --- */

OgKeeping *
og_keep (const OgFormula        *formula,
         const OgResult         *result,
         const OgKeepingOptions *options)
{
  static const OgKeepingOptions nothing = { 0 };
  OgKeeping *self;

  g_return_val_if_fail (formula != NULL && result != NULL, NULL);

  if (options == NULL)
    options = &nothing;
  self = g_new0 (OgKeeping, 1);
  self->oxidisability = result->oxidisability;
  self->peroxidisability = result->peroxidisability;
  self->parts = g_array_new (FALSE, FALSE, sizeof (OgKeepingPart));
  self->guards = g_array_new (FALSE, FALSE, sizeof (OgKeepingGuard));
  self->spans = g_array_new (FALSE, FALSE, sizeof (OgKeepingSpan));
  self->advice = og_sayings_new ();
  self->findings = og_finding_list_new ();

  add_parts (self, result->contents);
  add_guards (self, result->contents);
  estimate_room (self);
  for (guint i = 0; i < options->n_temperatures; i++)
    add_span (self, options->temperatures_c[i]);
  self->basis = describe_basis (self);
  find_earliest_lot (self, formula, options->shelf);

  check_lots (self, result, options->now);
  check_peroxides (self, result, options);
  check_guards (self);
  check_weakest (self);
  check_drying (self, result->contents);
  check_claim (self, formula);
  add_advice (self);
  og_finding_list_sort (self->findings);

  return self;
}

void
og_keeping_free (OgKeeping *keeping)
{
  if (keeping == NULL)
    return;

  g_array_unref (keeping->parts);
  g_array_unref (keeping->guards);
  g_array_unref (keeping->spans);
  g_ptr_array_unref (keeping->advice);
  g_ptr_array_unref (keeping->findings);
  og_saying_unref (keeping->basis);
  g_free (keeping->best_before_id);
  g_free (keeping);
}
